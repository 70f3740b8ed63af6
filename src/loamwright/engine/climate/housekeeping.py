"""Findings about the box itself: fresh air, wet panels and leaves, hot things, the tank."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import numpy as np

from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.sums import WET_PANEL
from loamwright.engine.climate.windows import Rows, day
from loamwright.engine.findings import Cause, Finding
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import PRACTICE, Source, SourceKind
from loamwright.physics import burns

BURNS = Source(
    "ISO 13732-1, burn thresholds of human skin; none is known for reptiles or amphibians",
    SourceKind.FROM_MEMORY,
)

LEAST_CHANGES = 0.5 / 3600.0
"""Air changes by day that keep a box fresh [1/s]; common practice, no source."""

MOST_WET_PANEL = 6 * 3600.0
"""How long a day a pane may stay blurred [s]; common practice, no source."""

WET_LEAF, MOST_WET_LEAF = 0.02, 12 * 3600.0
"""Film of a wet leaf [kg/m2 of both faces], and how long on end leaves may stay wet [s]; common
practice, no source."""

LEAST_TANK = 3 * 86400.0
"""Time a tank should last [s]: a long weekend; common practice, no source."""

TOUCH, REST = 1.0, 600.0
"""Contact [s] with a lamp touched by chance, and with what an animal lies on."""

KINDS = {
    "aluminium": burns.BARE_METAL, "stainless-steel": burns.BARE_METAL,
    "galvanised-steel": burns.BARE_METAL, "sandstone": burns.STONE, "slate": burns.STONE,
    "lava-rock": burns.STONE, "granite": burns.STONE, "limestone": burns.STONE,
    "ceramic": burns.STONE, "terracotta": burns.STONE, "concrete": burns.STONE,
    "float-glass": burns.STONE,
    "toughened-glass": burns.STONE,
}  # fmt: skip
"""Kind of surface for burns by material; the others burn least, as wood does."""

Make = Callable[..., Finding]


def housekeeping(
    make: Make, habitat: Habitat, built: Built, runs: Mapping[str, ClimateRun]
) -> list[Finding]:
    """Findings of the box, the worst season of each; ``make`` is `findings.Climate.finding`."""
    found = [
        _changes(make, runs), _panes(make, habitat, runs), _leaves(make, habitat, runs),
        _hot_lamps(make, habitat, built, runs), _hot_places(make, habitat, built, runs),
        _tank(make, habitat, runs),
    ]  # fmt: skip
    return [f for group in found for f in group]


def _worst(candidates: list[Finding]) -> list[Finding]:
    return (
        [min(candidates, key=lambda f: f.margin if f.margin is not None else 0.0)]
        if candidates
        else []
    )


def _changes(make: Make, runs: Mapping[str, ClimateRun]) -> list[Finding]:
    found = []
    for run in runs.values():
        value = float(run.changes[day(run)].mean())
        found.append(
            make("air-changes", "habitat", "air_changes", value, (LEAST_CHANGES, None),
                 0.3 * value, PRACTICE, f"{run.season} day")
        )  # fmt: skip
    return _worst(found)


def longest(rows: Rows, step: float) -> float:
    """Longest unbroken time in a day that repeats itself [s]; ``step`` seconds a row."""
    on = rows[:-1]
    if on.all():
        return len(on) * step
    best = run = 0
    for value in np.concatenate([on, on]):
        run = run + 1 if value else 0
        best = max(best, run)
    return min(best, len(on)) * step


def _panes(make: Make, habitat: Habitat, runs: Mapping[str, ClimateRun]) -> list[Finding]:
    out: list[Finding] = []
    for panel in habitat.enclosure.panels:
        if not panel.material.clear or panel.side in ("top", "floor"):
            continue
        found = []
        for run in runs.values():
            mine = np.array(run.surface_owner) == panel.side
            if not mine.any():
                continue
            area = run.surface_area[mine]
            wet = (run.films[:-1][:, mine] > WET_PANEL) @ area / area.sum()
            step = 86400.0 / (len(run.hours) - 1)
            value = float(wet.sum()) * step
            found.append(
                make("wet-pane", "habitat", "condensation_time", value, (None, MOST_WET_PANEL),
                     0.3 * value + 600.0, PRACTICE, f"{run.season} day", where=panel.side)
            )  # fmt: skip
        out += _worst(found)
    return out


def _leaves(make: Make, habitat: Habitat, runs: Mapping[str, ClimateRun]) -> list[Finding]:
    """The plant whose leaves stay wet for longest; mosses and other plants of wet places are let be."""
    plants = {p.name: p for p in habitat.plants}
    found = []
    for run in runs.values():
        step = 86400.0 / (len(run.hours) - 1)
        best: tuple[float, str] | None = None
        for a, owner in enumerate(run.surface_owner):
            plant = plants.get(owner)
            if (
                plant is None
                or plant.type.water == "wet"
                or plant.type.form in ("moss", "liverwort")
            ):
                continue
            value = longest(run.films[:, a] > WET_LEAF, step)
            if best is None or value > best[0]:
                best = (value, owner)
        if best is not None:
            found.append(
                make("wet-leaves", "habitat", "wet_time", best[0], (None, MOST_WET_LEAF),
                     0.3 * best[0] + 600.0, PRACTICE, f"{run.season} day", where=best[1],
                     causes=(Cause("air_changes", "", float(run.changes.mean())),))
            )  # fmt: skip
    return _worst(found)


def _hot_lamps(
    make: Make, habitat: Habitat, built: Built, runs: Mapping[str, ClimateRun]
) -> list[Finding]:
    out: list[Finding] = []
    for k, lamp in enumerate(habitat.lamps):
        inside = built.net.plume_from[k] >= 0.0
        if not inside or lamp.guard is not None:
            continue
        value = max(float(run.bodies[:, k].max()) for run in runs.values())
        limit = burns.burn_threshold(burns.STONE, TOUCH)
        out.append(
            make("hot-lamp", lamp.name, "surface_temperature", value, (None, limit),
                 0.25 * max(value - 298.0, 0.0), BURNS, "lamps on", where=lamp.name,
                 causes=(Cause("no_guard", lamp.name),))
        )  # fmt: skip
    return out


def _hot_places(
    make: Make, habitat: Habitat, built: Built, runs: Mapping[str, ClimateRun]
) -> list[Finding]:
    """The hottest place an animal lies on, held against a rest of ten minutes."""
    best: tuple[float, int, str, float] | None = None
    for run in runs.values():
        for z in range(len(habitat.sites)):
            if built.site_group[z] < 0:
                continue
            value = float(np.nanmax(run.surface[:, z]))
            if best is None or value > best[0]:
                row = int(np.nanargmax(run.surface[:, z]))
                best = (value, z, run.season, float(run.clock[row]))
    if best is None:
        return []
    value, z, season, hour = best
    owner = built.groups[int(built.site_group[z])].owner
    piece = next((p for p in habitat.hardscape if p.name == owner), None)
    kind = KINDS.get(piece.material.key, burns.WOOD) if piece else burns.WOOD
    time = burns.burn_time(kind, value)
    causes = [Cause("hour", "", hour)]
    if math.isfinite(time):
        causes.append(Cause("burn_after", owner, time))
    return [
        make("hot-surface", "habitat", "surface_temperature", value,
             (None, burns.burn_threshold(kind, REST)), 0.15 * max(value - 298.0, 0.0) + 1.0,
             BURNS, f"{season}, hottest hour", site=z, causes=tuple(causes))
    ]  # fmt: skip


def _tank(make: Make, habitat: Habitat, runs: Mapping[str, ClimateRun]) -> list[Finding]:
    if habitat.mist is None:
        return []
    found = []
    for run in runs.values():
        used = run.water["mist"]
        if used <= 0.0:
            continue
        value = 1000.0 * habitat.mist.tank / used * 86400.0
        found.append(
            make("tank", "habitat", "tank_time", value, (LEAST_TANK, None), 0.1 * value, PRACTICE,
                 f"{run.season} day")
        )  # fmt: skip
    return _worst(found)
