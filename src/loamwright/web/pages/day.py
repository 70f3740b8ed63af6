"""The Day page: a typical day by the hour at chosen places, what it uses, and what can fail."""

from __future__ import annotations

from typing import Any

from nicegui import ui

from loamwright.report import drill_report
from loamwright.report.plain import clean
from loamwright.web import day_data
from loamwright.web.base import Page
from loamwright.web.desk import SEASONS
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.web.parts import DayCharts, DaySheet
from loamwright.web.shell import View, later


class _Day:
    """What is chosen on the page: places and season."""

    def __init__(self, view: View) -> None:
        self.view, self.desk = view, view.desk
        assert self.desk.habitat is not None
        self.chosen = day_data.chosen(self.desk.habitat)
        self.light: Any = None
        self.light_of: Any = None
        self.sheet = DaySheet(sheet=self._sheet())
        with ui.element("section").classes("panel").props('aria-label="Curves of the day"'):
            self.charts = DayCharts(charts=[], night=[], old=False, hour=-1)
        self.below = DaySheet(sheet=self._below())
        self.sheet.hear("ask", self._ask)
        self.below.hear("ask", self._ask)
        view.on("days", self._fresh)
        view.on("draft", self._fresh_head)
        view.on("busy", self._fresh_head)
        view.on("values", self._fresh_light)
        view.on("drills", self._fresh_below)
        self._fresh()

    def _run(self) -> Any:
        run = self.desk.days.get(self.desk.season)
        habitat = self.desk.habitat
        if (
            run is None
            or habitat is None
            or tuple(run.sites) != tuple(s.name for s in habitat.sites)
        ):
            return None
        return run

    def _sheet(self) -> dict[str, Any]:
        desk, habitat = self.desk, self.desk.habitat
        run = self._run()
        cards = (
            day_data.cards(habitat, run, self.view.system) if run is not None and habitat else []
        )
        return {
            "kind": "head", "seasons": list(SEASONS), "season": desk.season,
            "hours": day_data.hours_words(habitat, desk.season) if habitat else "",
            "sites": [[clean(s.name, 40), s.name in self.chosen, s.name]
                      for s in (habitat.sites if habitat else ())],
            "cards": cards, "busy": [t for k, t in desk.busy.items() if k in ("light", "climate")],
            "trouble": desk.troubles.get("climate", ""),
            "old": desk.season in desk.old_days, "settling": desk.season in desk.settling,
        }  # fmt: skip

    def _below(self) -> dict[str, Any]:
        desk, habitat = self.desk, self.desk.habitat
        run = self._run()
        bars = (
            day_data.bars(run, self.view.system) if run is not None else {"energy": [], "water": []}
        )
        drills = None
        if desk.drills is not None and habitat is not None:
            told = [drill_report.told(habitat, d, self.view.system) for d in desk.drills]
            drills = [{"heading": t.heading, "passed": t.passed, "lines": [list(x) for x in t.lines]}
                      for t in told]  # fmt: skip
        return {
            "kind": "below", "bars": bars, "drills": drills, "running": desk.busy.get("drills", ""),
            "ready": desk.study is not None, "trouble": desk.troubles.get("drills", ""),
        }  # fmt: skip

    def _fresh(self) -> None:
        self._fresh_head()
        self._fresh_charts()
        self._fresh_below()
        later(self._light())

    def _fresh_head(self) -> None:
        if self.desk.habitat is None:
            ui.run_javascript("location.reload()")
            return
        names = {s.name for s in self.desk.habitat.sites}
        self.chosen = [n for n in self.chosen if n in names]
        self.sheet.give(sheet=self._sheet())
        if "drills" in self.desk.busy or self.below._given["sheet"]["running"]:
            self._fresh_below()

    def _fresh_below(self) -> None:
        self.below.give(sheet=self._below())

    def _fresh_charts(self) -> None:
        run, habitat = self._run(), self.desk.habitat
        if run is None or habitat is None:
            self.charts.give(charts=[], night=[])
            return
        light = self.light if self.light_of == (self.desk.season, id(run)) else None
        made = day_data.charts(habitat, run, self.chosen, light, self.view.system)
        self.charts.give(charts=made, night=day_data.nights(run),
                         old=self.desk.season in self.desk.old_days)  # fmt: skip

    def _fresh_light(self) -> None:
        later(self._light())

    async def _light(self) -> None:
        """Light at the places through the day, from the lamps as the day ran them."""
        run, habitat = self._run(), self.desk.habitat
        if run is None or habitat is None or len(run.lamp_names) != len(habitat.lamps):
            return
        # A row of a run tells the time since the one before it.
        shares = run.lamps.copy()
        shares[:-1] = run.lamps[1:]
        try:
            self.light = await self.desk.engines.run(
                self.desk.id, "hours", slot=f"hours {id(self)}", habitat=habitat, shares=shares
            )
        except (JobStoppedError, JobFailedError):
            return
        self.light_of = (self.desk.season, id(run))
        with self.view.client:
            self._fresh_charts()

    async def _ask(self, said: Any) -> None:
        said = said if isinstance(said, dict) else {}
        desk = self.desk
        if said.get("season") in SEASONS:
            await desk.show_season(said["season"])
            with self.view.client:
                self._fresh()
        elif "site" in said and desk.habitat is not None:
            name = said["site"]
            if name in self.chosen:
                self.chosen.remove(name)
            elif name in {s.name for s in desk.habitat.sites}:
                self.chosen.append(name)
            self._fresh_head()
            self._fresh_charts()
        elif said.get("drills") == "run":
            later(desk.run_drills())
        elif said.get("drills") == "stop":
            desk.stop("drills")


def build(view: View) -> None:
    """Lay the page out."""
    _Day(view)


PAGE = Page("day", "Day", 2, build)
