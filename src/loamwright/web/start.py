"""The start page: examples, files, and a first habitat from a few questions."""

from __future__ import annotations

import asyncio
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from fastapi import Request
from nicegui import ui

from loamwright import editing, workflow
from loamwright.editing import Wish
from loamwright.errors import InputError, Problem
from loamwright.report.plain import clean
from loamwright.web import access, prefs, shell
from loamwright.web.parts import Night, StartSheet, TopBar
from loamwright.web.prefs import Prefs

if TYPE_CHECKING:
    from loamwright.web.base import Workbench

EXAMPLES = {
    "forest-edge": ("Forest edge", "a tall planted habitat for giant day geckos"),
    "dry-rock": ("Dry rock", "hot stones, cool cracks and little water"),
    "rain-glass": ("Rain glass", "a small wet glass box for frogs"),
    "school-meadow": ("School meadow", "a first habitat behind glass, for a classroom"),
}


def file_name(name: str, folder: Path) -> Path:
    """A file name for a habitat's name that is not taken yet."""
    plain = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "habitat"
    path, number = folder / f"{plain}.yaml", 2
    while path.exists():
        path, number = folder / f"{plain}-{number}.yaml", number + 1
    return path


def register(bench: Workbench) -> None:
    """Make the start page reachable."""

    @ui.page("/", title="loamwright", favicon=shell.ICON, dark=None)
    def show(request: Request) -> None:
        shell.head()
        person = Prefs(bench.settings.state, request.scope.get(access.OWNER, ""))
        Night(value=person.values["dark"])
        bar = TopBar(bar=_bar(person))

        def turn(what: str) -> None:
            if what in ("dark:on", "dark:off"):
                person.set("dark", what == "dark:on")
            elif what.startswith("units:"):
                person.set("system", what.removeprefix("units:"))
            ui.run_javascript("location.reload()")

        bar.hear("do", turn)
        with ui.element("main").props("id=main").classes("page page-start"):
            sheet = StartSheet(start=_start(bench, person), problems={}, busy="")
        sheet.hear("example", lambda key: _example(bench, key))
        sheet.hear("make", lambda wish: _make(bench, sheet, wish))


def _bar(person: Prefs) -> dict[str, Any]:
    return {"home": "/", "file": "", "system": person.values["system"] or "metric",
            "dark": bool(person.values["dark"])}  # fmt: skip


def _start(bench: Workbench, person: Prefs) -> dict[str, Any]:
    system = person.values["system"] or "metric"
    us = system == "us"
    known = [p for p in prefs.recent(bench.settings.state)
             if bench.settings.phrase is None or p.is_relative_to(bench.settings.root)]  # fmt: skip
    recent = [p for p in known if p.resolve() in bench.known
              or p.resolve().is_relative_to(bench.settings.root.resolve())]  # fmt: skip
    files = [p for p in bench.habitat_files() if p not in recent]
    animals = editing.choices("animals")
    return {
        "system": system,
        "examples": [{"key": k, "title": t, "about": a} for k, (t, a) in EXAMPLES.items()],
        "recent": [_entry(bench, p) for p in recent[:8]],
        "files": [_entry(bench, p) for p in files[:12]],
        "animals": animals,
        "likes": {
            "size": ["48 in", "24 in", "36 in"] if us else ["120 cm", "60 cm", "90 cm"],
            "winter": ["68 degF", "62 degF", "35 %"] if us else ["20 degC", "17 degC", "35 %"],
            "summer": ["79 degF", "72 degF", "55 %"] if us else ["26 degC", "22 degC", "55 %"],
        },
    }  # fmt: skip


def _entry(bench: Workbench, path: Path) -> dict[str, str]:
    name = bench.name_of(path)
    return {"title": clean(path.stem.replace("-", " "), 60), "name": clean(name, 90),
            "href": f"/habitat?file={quote(name)}"}  # fmt: skip


async def _example(bench: Workbench, key: Any) -> None:
    if key not in EXAMPLES:
        return
    path = file_name(str(key), bench.settings.root)
    try:
        await asyncio.to_thread(workflow.new, path, example=str(key))
    except InputError:
        # A mesh or price list beside it is there already, perhaps changed by now: it is kept.
        await asyncio.to_thread(lambda: workflow.new(path, example=str(key), keep=True))
    ui.navigate.to(f"/habitat?file={quote(bench.name_of(path))}")


async def _make(bench: Workbench, sheet: StartSheet, asked: Any) -> None:
    try:
        wish = _wish(asked)
    except (KeyError, TypeError, ValueError):
        sheet.give(problems={"name": ["the form could not be read"]}, busy="")
        return
    path = file_name(wish.name, bench.settings.root)
    sheet.give(problems={}, busy="placing ground, branches, plants and lamps")
    try:
        text = await asyncio.to_thread(editing.first_habitat, wish, path)
        await asyncio.to_thread(workflow.write_file, path, text)
    except InputError as error:
        sheet.give(problems=_by_field(error.problems), busy="")
        return
    ui.navigate.to(f"/habitat?file={quote(bench.name_of(path))}")


def _by_field(problems: list[Problem]) -> dict[str, list[str]]:
    out: dict[str, list[str]] = {}
    for p in problems:
        out.setdefault(p.field or "name", []).append(clean(p.message, 300))
    return out


def _with_unit(text: str, unit: str) -> str:
    """A text with its unit: a bare number is in the one that the form shows."""
    return f"{text.strip()} {unit}" if re.fullmatch(r"\s*\d+(\.\d+)?\s*", text) else text


def _wish(asked: dict[str, Any]) -> Wish:
    """The form as typed; anything of another kind raises."""

    def words(value: Any) -> str:
        if not isinstance(value, str) or len(value) > 200:
            raise ValueError("not a text")
        return value

    def count(value: Any) -> int:
        return max(0, min(int(value or 0), 500))

    us = asked["system"] == "us"
    degree = "degF" if us else "degC"
    usual = {"day": degree, "night": degree, "humidity": "%"}
    size = [_with_unit(words(t), "in" if us else "cm") for t in asked["size"]]
    room = {
        season: {k: _with_unit(words(v), usual[k]) for k, v in asked[season].items() if k in usual
                 and v.strip()}
        for season in ("winter", "summer")
    }  # fmt: skip
    return Wish(
        name=words(asked["name"]),
        units="us" if us else "metric",
        size=(size[0], size[1], size[2]),
        animals=tuple(
            (words(a["species"]), count(a["males"]), count(a["females"]), count(a["young"]))
            for a in asked["animals"][:20]
        ),
        room=room,
        altitude=words(asked.get("altitude", "")),
    )
