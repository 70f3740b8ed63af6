"""Build: what to buy and what it costs, cuts, wiring, water and strength, the order of work, the
handover sheet and the pack."""

from __future__ import annotations

import base64
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from nicegui import ui

from loamwright.errors import InputError
from loamwright.report.plain import clean
from loamwright.web import build_parts, forms, wording
from loamwright.web.base import Page
from loamwright.web.desk import set_value
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.web.parts import FindingsList, FormSheet, LifeHead
from loamwright.web.shell import View, later
from loamwright.web.tables import shown

if TYPE_CHECKING:
    from loamwright.plan.whole import Plan
    from loamwright.report.blocks import Table

PARTS = (("shopping", "Shopping and quote"), ("cuts", "Cuts"), ("feeds", "Wiring, water, strength"),
         ("order", "Order of work"), ("handover", "Handover and pack"))  # fmt: skip
"""Parts of the page, and what they are called."""

DRAWN_ON = ("cuts", "feeds")

WAITED = ("light", "climate", "ground", "life", "plan")
"""Work that this page's results come of."""

TITLES = {"money": "Money", "build": "Who builds, and when"}


class BuildPage:
    """What is shown: a part, a season of the handover, drawings once they are made."""

    def __init__(self, view: View) -> None:
        self.view, self.desk = view, view.desk
        self.part, self.season, self.hourly = "shopping", "winter", False
        self.drawn: dict[str, list[tuple[str, str]]] = {}
        self.drawn_of: Any = None
        self.sheets: dict[str, FormSheet] = {}
        self.give: Callable[[], None] = lambda: None
        self.asked_for_pack = False
        self.desk.building.wanted_system(view.system)
        self.head = LifeHead(head=self._head())
        self.head.hear("ask", self.ask)
        with ui.element("div").classes("life-body"):
            main = ui.element("div").classes("life-main")
            self.main = main.props('id=build-part role=tabpanel aria-labelledby="tab-shopping"')
            with ui.element("div").classes("life-side"):
                self.findings = FindingsList(**self._findings())
        self.findings.hear("pick", self._pick)
        for what in ("build", "draft"):
            view.on(what, self._fresh)
        for what in ("findings", "busy"):
            view.on(what, self._fresh_words)
        self._open("shopping")

    # -- what is shown -----------------------------------------------------------------------

    @property
    def plan(self) -> Plan | None:
        """The plan of the build, as far as it is known."""
        return self.desk.building.planned.plan

    def wait(self) -> str:
        """Why there is nothing to show."""
        for key in WAITED:
            if key in self.desk.troubles:
                return f"Nothing could be worked out: {self.desk.troubles[key]}"
        return "It is being worked out."

    def shown(self, tables: list[Table]) -> list[dict[str, Any]]:
        """Tables of the report as the page shows them."""
        habitat = self.desk.building.planned.habitat or self.desk.habitat
        assert habitat is not None
        return [shown(t, habitat) for t in tables]

    def _head(self) -> dict[str, Any]:
        desk = self.desk
        old = desk.building.planned.habitat
        return {
            "name": "build", "title": PAGE.title, "parts": [list(p) for p in PARTS], "part": self.part,
            "busy": [t for k, t in desk.busy.items() if k in WAITED],
            "trouble": next((t for k in WAITED if (t := desk.troubles.get(k))), ""),
            "old": old is not None and old is not desk.habitat and bool(desk.busy),
        }  # fmt: skip

    def _findings(self) -> dict[str, Any]:
        desk = self.desk
        assert desk.habitat is not None
        found = [f for f in desk.findings if f.engine == "build"]
        before = [f for f in desk.before or () if f.engine == "build"]
        report = wording.report(desk.habitat, found, before, self.view.system)
        return {"report": report, "busy": {}, "troubles": {}, "stale": sorted(desk.stale)}

    def form_of(self, section: str) -> FormSheet:
        """The form of a section of the file, changed here."""
        sheet = FormSheet(form=build_parts.form(self, section), title=TITLES[section])
        sheet.hear("set", self._set)
        self.sheets[section] = sheet
        return sheet

    def _open(self, part: str) -> None:
        """Show another part."""
        self.part = part
        self.main.clear()
        self.sheets = {}
        with self.main:
            self.give = build_parts.BUILDERS[part](self)
        self.main.props(f'aria-labelledby="tab-{part}"')
        self._fresh_words()

    # -- being told --------------------------------------------------------------------------

    def _fresh(self) -> None:
        if self.desk.habitat is None:
            ui.run_javascript("location.reload()")
            return
        self.give()
        self.draw()
        if self.asked_for_pack and self.desk.building.packed is not None and (
            "pack" not in self.desk.busy
        ):  # fmt: skip
            self.asked_for_pack = False
            if "pack" not in self.desk.troubles:
                ui.run_javascript("document.querySelector('[data-take=pack]')?.click()")
        self._fresh_words()

    def _fresh_words(self) -> None:
        if self.desk.habitat is None:
            return
        self.head.give(head=self._head())
        self.findings.give(**self._findings())
        if self.part == "handover":
            self.give()

    # -- what a person does ------------------------------------------------------------------

    def ask(self, said: Any) -> None:
        """Another part or season."""
        said = said if isinstance(said, dict) else {}
        if said.get("part") in {p[0] for p in PARTS}:
            self._open(said["part"])
        elif said.get("season") in ("winter", "summer"):
            self.season = said["season"]
            self._open(self.part)
        elif "hourly" in said:
            self.hourly = bool(said["hourly"])
            self._open(self.part)

    def _pick(self, ident: Any) -> None:
        """A finding's place, on the page that has the scene."""
        ui.navigate.to(f"{self.view.address('habitat')}&pick={clean(str(ident), 80)}")

    async def _set(self, said: Any) -> None:
        """A field of one of the forms."""
        try:
            loc = tuple(said["loc"])
            sheet = self.sheets[loc[0]]
            field = next(f for f in sheet._given["form"]["fields"] if tuple(f["loc"]) == loc)
            node = forms.node_at(self.desk.draft, loc)
            value = forms.typed_value(field, str(said["value"])[:2000], str(said["before"]),
                                      self.view.system, node)  # fmt: skip
        except (KeyError, IndexError, TypeError, StopIteration):
            return
        except InputError as error:
            self.view.say(error.problems[0].message)
            return
        try:
            await self.desk.edit(set_value(self.desk, loc, value))
        except InputError:
            self.give()

    async def price(self, said: Any) -> None:
        """A price that was typed: into the price list with it."""
        plan, draft = self.plan, self.desk.draft
        if plan is None or not isinstance(said, dict):
            return
        line = next((b.line for b in plan.money.bought if b.line.key == said.get("key")), None)
        if line is None:
            return
        pack, price, date = (str(said.get(k, ""))[:60] for k in ("pack", "price", "date"))
        try:
            await self.desk.edit(
                lambda: draft.set_price(line.key, pack, price, name=line.name[:120], date=date)
            )
        except InputError as error:
            problem = error.problems[0]
            if problem.file and not problem.field:
                self.view.say(str(problem))
        with self.view.client:
            self.give()

    async def time(self, said: Any) -> None:
        """An own time of a task: its work, or the wait after it."""
        plan = self.plan
        if (
            plan is None
            or not isinstance(said, dict)
            or said.get("section") not in ("work", "waits")
        ):
            return
        key = said.get("key")
        if key not in {s.task.key for s in plan.order.steps}:
            return
        value = str(said.get("value", "")).strip()[:40]
        if value.isdigit():
            value += " h" if said["section"] == "work" else " d"
        try:
            await self.desk.edit(
                set_value(self.desk, ("build", said["section"], key), value or None)
            )
        except InputError:
            self.give()

    def make_pack(self, said: Any) -> None:
        """Make the pack, and take it away when it is there."""
        from loamwright.web.build_desk import day_of

        said = said if isinstance(said, dict) else {}
        date, paper = day_of(str(said.get("date"))), said.get("paper")
        if date is None or paper not in ("a4", "letter"):
            self.view.say("That is no day; write it as 2027-03-01 (from 1980 on).")
            return
        self.asked_for_pack = True
        self.desk.building.packed = None
        self.desk.building.pack(paper, date, self.view.system)

    def stop_pack(self, _: Any) -> None:
        """Let go of a pack that is being made."""
        self.asked_for_pack = False
        self.desk.building.stop_pack()

    def draw(self) -> None:
        """Have the drawings made where the part shows some, and they are of something older."""
        if self.part in DRAWN_ON and self.plan is not None and self.drawn_of != self._drawing():
            later(self._draw())

    def _drawing(self) -> Any:
        plan, habitat = self.plan, self.desk.building.planned.habitat
        if plan is None or habitat is None:
            return None
        return plan.cuts, plan.build, self.view.system

    async def _draw(self) -> None:
        plan, habitat = self.plan, self.desk.building.planned.habitat
        if plan is None or habitat is None:
            return
        wanted = self._drawing()
        self.drawn_of = wanted
        try:
            found = await self.desk.engines.run(
                self.desk.id, "plan_drawings", slot=f"drawn {id(self)}", habitat=habitat, plan=plan,
                system=self.view.system,
            )  # fmt: skip
        except (JobStoppedError, JobFailedError):
            if self.drawn_of == wanted:
                self.drawn_of = None
            return
        kind = "data:image/svg+xml;base64,"
        self.drawn = {
            part: [(_called(name), kind + base64.b64encode(content).decode("ascii"))
                   for name, content in drawn]
            for part, drawn in found.items()
        }  # fmt: skip
        with self.view.client:
            self.give()


def _called(name: str) -> str:
    """What a drawing is called, from its file's name."""
    return clean(name.rsplit(".", 1)[0].replace("-", " "), 60)


def build(view: View) -> None:
    """Lay the page out."""
    BuildPage(view)


PAGE = Page("build", "Build", 5, build)
