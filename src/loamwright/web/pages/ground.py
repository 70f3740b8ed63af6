"""The Ground page: layers as a column, quantities and bags, water by depth over weeks, findings."""

from __future__ import annotations

import asyncio
import base64
from typing import TYPE_CHECKING, Any

from loamwright.engine.findings import worst_first
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.plain import clean
from loamwright.web import wording
from loamwright.web.base import Page
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.web.parts import GroundColumn
from loamwright.web.scene_data import LAYER_COLORS
from loamwright.web.shell import View, later
from loamwright.web.tables import shown

if TYPE_CHECKING:
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.engine.ground.quantities import Quantities


def column(habitat: Habitat, system: str) -> dict[str, Any]:
    """The layers from the floor up, as they are drawn."""
    drawn, base = [], 0.0
    for layer in habitat.ground.layers:
        drawn.append({"name": clean(layer.name, 40), "from": base, "to": base + layer.depth,
                      "color": LAYER_COLORS.get(layer.kind, "#5a4a3a")})  # fmt: skip
        base += layer.depth
    whole = quantities.length(habitat.enclosure.inside[2], system)
    return {
        "layers": drawn, "depth": base,
        "of": f"{quantities.length(base, system)} of {whole} inside height",
        "none": "" if drawn else "This habitat has no ground.",
    }  # fmt: skip


def tables(
    habitat: Habitat, amount: Quantities, water: Coupled | None, system: str
) -> list[dict[str, Any]]:
    """What the engine says of the ground, as tables for the page."""
    # With it comes the ground's engine, which the first page must not wait for.
    from loamwright.report.ground_blocks import ground_tables

    return [shown(t, habitat) for t in ground_tables(habitat, amount, water, system)]


class _Ground:
    """What is shown: quantities at once, water when the engine has followed it."""

    def __init__(self, view: View) -> None:
        self.view, self.desk = view, view.desk
        self.tables: list[dict[str, Any]] = []
        self.charts: list[str] = []
        self.part = GroundColumn(ground=self._shown())
        view.on("draft", self._fresh)
        view.on("ground", self._fresh)
        view.on("findings", self._give)
        view.on("busy", self._give)
        self._fresh()

    def _shown(self) -> dict[str, Any]:
        habitat, desk = self.desk.habitat, self.desk
        assert habitat is not None
        found = worst_first(desk.ground_findings)
        return {
            **column(habitat, self.view.system), "tables": self.tables, "charts": self.charts,
            "busy": desk.busy.get("ground") or desk.busy.get("climate") or desk.busy.get("light", ""),
            "trouble": desk.troubles.get("ground", ""),
            "report": wording.report(habitat, found, None, self.view.system),
            "habitat": self.view.address("habitat"),
        }  # fmt: skip

    def _give(self) -> None:
        if self.desk.habitat is not None:
            self.part.give(ground=self._shown())

    def _fresh(self) -> None:
        later(self._read())

    async def _read(self) -> None:
        from loamwright.engine.ground.quantities import ground_quantities

        habitat, water, system = self.desk.habitat, self.desk.ground, self.view.system
        if habitat is None or not habitat.ground.layers:
            return
        amount = await asyncio.to_thread(ground_quantities, habitat, us=system == "us")
        if habitat is not self.desk.habitat:
            return
        # Water of the ground before a change is not shown with the quantities after it.
        now = water if "ground" not in self.desk.busy else None
        self.tables = tables(habitat, amount, now, system)
        self.charts = [] if now is None else self.charts
        with self.view.client:
            self._give()
        if now is None:
            return
        try:
            drawn = await self.desk.engines.run(
                self.desk.id, "ground_charts", slot=f"ground {id(self)}", habitat=habitat,
                water=now, system=system,
            )  # fmt: skip
        except (JobStoppedError, JobFailedError):
            return
        kind = "data:image/svg+xml;base64,"
        self.charts = [kind + base64.b64encode(d).decode("ascii") for d in drawn]
        with self.view.client:
            self._give()


def build(view: View) -> None:
    """Lay the page out."""
    _Ground(view)


PAGE = Page("ground", "Ground", 3, build)
