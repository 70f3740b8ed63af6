"""What all pages have in common: the head, the draft's state, and being told of changes."""

from __future__ import annotations

import difflib
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from fastapi import Request
from nicegui import app as framework
from nicegui import background_tasks, ui

from loamwright import editing
from loamwright.errors import InputError
from loamwright.report.plain import clean
from loamwright.web import access
from loamwright.web.desk import Desk
from loamwright.web.parts import Night, TextSheet, TopBar
from loamwright.web.prefs import Prefs

if TYPE_CHECKING:
    from loamwright.web.base import Page, Workbench

ICON = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32">'
    '<rect width="32" height="32" rx="6" fill="#2f6b4f"/><path d="M5 24h22v3H5z" fill="#c9a06a"/>'
    '<path d="M16 24V11M16 16c-5 0-7-3-7-7 5 0 7 3 7 7zm0 2c5 0 7-3 7-7-5 0-7 3-7 7z" '
    'stroke="#eaf3e6" stroke-width="2" fill="none"/></svg>'
)

SHOWN = 0.15
"""Seconds after its connection until a page is on the screen."""

HERE = Path(__file__).parent

Said = Callable[[], Awaitable[Any] | Any]


def head() -> None:
    """Style of a page."""
    ui.add_head_html('<link rel="stylesheet" href="/look.css">')


framework.add_static_file(local_file=HERE / "look.css", url_path="/look.css", max_cache_age=0)


class View:
    """One window on a desk: what a page builds on.

    ``heard`` maps what a desk tells (``draft``, ``values``, ``findings``, ``days``, ``drills``,
    ``life``, ``busy``) to what the page does then; ``picked`` what the address asks to be picked.
    """

    def __init__(
        self, bench: Workbench, desk: Desk, person: Prefs, page: Page, name: str, picked: str = ""
    ) -> None:
        self.bench, self.desk, self.person, self.page, self.name = bench, desk, person, page, name
        self.picked = picked
        self.heard: dict[str, list[Callable[[], None]]] = {}
        self.client = ui.context.client
        self.said = ""
        self.bar = TopBar(bar=self._bar())
        self.bar.hear("do", self._do)
        self.main = ui.element("main").props("id=main").classes(f"page page-{page.path}")
        self._sheet: Any = None

    def address(self, page: str) -> str:
        """Where another page shows this file."""
        return f"/{page}?file={quote(self.name)}"

    @property
    def system(self) -> str:
        """The units this person is shown."""
        chosen = self.person.values["system"]
        habitat = self.desk.habitat
        return chosen or (habitat.units if habitat else "metric")

    def on(self, what: str, do: Callable[[], None]) -> None:
        """Do something when the desk tells of a change."""
        self.heard.setdefault(what, []).append(do)

    def tell(self, what: str) -> None:
        """The desk tells of a change."""
        if self.client.is_deleted:
            self.desk.leave(self.tell)
            return
        with self.client:
            if what in ("draft", "busy"):
                self.bar.give(bar=self._bar())
            for do in self.heard.get(what, ()):
                do()

    async def edit(self, action: Callable[[], Any], guess: Any = None) -> bool:
        """Change the draft; whether it was taken. What is wrong is said at the field it is in, or
        in the head where there is none."""
        try:
            await self.desk.edit(action, guess=guess)
        except InputError as error:
            self.say("; ".join(p.message for p in error.problems[:3]))
            return False
        self.said = ""
        return True

    def say(self, text: str) -> None:
        """Say something once, in the head."""
        self.said = clean(text, 400)
        with self.client:
            self.bar.give(bar=self._bar())

    def _bar(self) -> dict[str, Any]:
        draft = self.desk.draft
        state = draft.on_disk()
        conflict = ""
        if state == editing.CHANGED:
            conflict = (
                "Your draft is kept; nothing is written over until you choose."
                if draft.dirty else "You have changed nothing here yet."
            )  # fmt: skip
        file = quote(self.name)
        name = draft.value(("name",))
        return {
            "home": "/", "file": clean(self.name, 80),
            "name": clean(name if isinstance(name, str) else self.name, 60),
            "pages": [{"path": f"/{p.path}?file={file}", "title": p.title,
                       "here": p.path == self.page.path} for p in self.bench.pages],
            "undo": draft.done[-1][0] if draft.done else "",
            "redo": draft.undone[-1][0] if draft.undone else "",
            "dirty": draft.dirty, "system": self.system,
            "downloads": [
                {"title": "page to print", "href": f"/get/print?file={file}", "open": True},
                {"title": "findings (CSV)", "href": f"/get/findings.csv?file={file}"},
                {"title": "findings (JSON)", "href": f"/get/findings.json?file={file}"},
                {"title": "light at the sites (CSV)", "href": f"/get/sites.csv?file={file}"},
                {"title": "days by hour (CSV)", "href": f"/get/days.csv?file={file}"},
                {"title": "pictures (ZIP)", "href": f"/get/pictures.zip?file={file}"},
                {"title": "fields of light (NetCDF)", "href": f"/get/fields.nc?file={file}"},
                {"title": "the file", "href": f"/get/habitat.yaml?file={file}"},
            ],
            "conflict": conflict, "said": self.said,
        }  # fmt: skip

    async def _do(self, what: str) -> None:
        draft = self.desk.draft
        if what == "undo":
            await self.edit(draft.undo)
        elif what == "redo":
            await self.edit(draft.redo)
        elif what == "save":
            if await self.edit(draft.save):
                self.say(f"Saved in {self.name}, comments kept.")
        elif what == "disk":
            await self.edit(draft.take_disk)
        elif what == "mine":
            await self.edit(draft.keep_mine)
        elif what == "heard":
            self.say("")
        elif what == "text":
            self._text()
        elif what == "compare":
            self._compare()
        elif what in ("dark:on", "dark:off"):
            self.person.set("dark", what == "dark:on")
            ui.run_javascript("location.reload()")
        elif what.startswith("units:"):
            self.person.set("system", what.removeprefix("units:"))
            ui.run_javascript("location.reload()")

    def _text(self) -> None:
        """Show the file as text, to be changed by hand."""
        if self._sheet is not None:
            self._sheet.delete()
            self._sheet = None
            return
        with self.main:
            self._sheet = TextSheet(text=self.desk.draft.text, problems=problems(self.desk),
                                    shut=True)  # fmt: skip
        self._sheet.move(target_index=0)
        self._sheet.hear("shut", lambda _: self._text())
        self._sheet.hear("write", self._write)
        self.on("draft", self._fresh_text)

    def _fresh_text(self) -> None:
        if self._sheet is not None:
            self._sheet.give(text=self.desk.draft.text, problems=problems(self.desk))

    async def _write(self, text: str) -> None:
        await write(self, text)

    def _compare(self) -> None:
        """Show what differs between the draft and the disk, as text."""
        try:
            there = self.desk.draft.path.read_text("utf-8").splitlines()
        except (OSError, ValueError):
            self.say("The file on disk cannot be read.")
            return
        mine = self.desk.draft.text.splitlines()
        lines = list(difflib.unified_diff(there, mine, "on disk", "mine", lineterm="", n=1))
        with self.main:
            box = ui.element("pre").classes("differs").props('tabindex=0 aria-label="What differs"')
            box._text = "\n".join(lines[:400]) or "Nothing differs."
        box.move(target_index=0)


def problems(desk: Desk) -> list[dict[str, Any]]:
    """What is wrong with a file, for the sheet of its text."""
    return [
        {"line": p.line, "field": clean(p.field), "message": clean(p.message, 500)}
        for p in desk.draft.problems
    ]


async def write(view: View, text: str) -> None:
    """Put another text in the place of the file's."""
    if not isinstance(text, str) or len(text) > 2_000_000:
        view.say("That text is too long for a habitat file.")
        return
    taken = await view.edit(lambda: view.desk.draft.write(text))
    if taken and view.desk.habitat is not None:
        ui.run_javascript("location.reload()")


def register(bench: Workbench, page: Page) -> None:
    """Make a page reachable under its path."""

    @ui.page(f"/{page.path}", title=f"{page.title} · loamwright", favicon=ICON, dark=None)
    def show(request: Request, file: str = "", pick: str = "") -> None:
        head()
        owner = request.scope.get(access.OWNER, "")
        person = Prefs(bench.settings.state, owner)
        Night(value=person.values["dark"])
        try:
            desk = bench.desk(owner, file)
        except InputError as error:
            trouble(error)
            return
        view = View(bench, desk, person, page, bench.name_of(desk.draft.path), pick)
        desk.watch(view.tell)
        view.client.on_connect(lambda: ui.timer(SHOWN, bench.engines.release, once=True))
        view.client.on_delete(lambda: desk.leave(view.tell))
        with view.main:
            if desk.habitat is None:
                mend(view)
            else:
                page.build(view)
        watch_disk(view)


def watch_disk(view: View) -> None:
    """Look now and then whether the file has changed on disk."""
    last = {"state": view.desk.draft.on_disk()}

    def look() -> None:
        state = view.desk.draft.on_disk()
        if state != last["state"]:
            last["state"] = state
            view.tell("draft")

    ui.timer(2.0, look)


def mend(view: View) -> None:
    """A file with mistakes: what is wrong, and its text."""
    ui.element("h1")._text = "This file has mistakes in it"
    sheet = TextSheet(text=view.desk.draft.text, problems=problems(view.desk), shut=False)

    async def taken(text: str) -> None:
        await write(view, text)
        sheet.give(problems=problems(view.desk))

    sheet.hear("write", taken)


def trouble(error: InputError) -> None:
    """A file that cannot be opened."""
    TopBar(bar={"home": "/", "file": "", "system": "metric", "dark": False})
    with ui.element("main").props("id=main").classes("page"):
        ui.element("h1")._text = "This file cannot be opened"
        for problem in error.problems:
            ui.element("p")._text = clean(str(problem), 400)
        link = ui.element("a").props('href="/"')
        link._text = "to the start"


def later(work: Awaitable[Any]) -> None:
    """Let something go on without waiting for it."""
    background_tasks.create(work)
