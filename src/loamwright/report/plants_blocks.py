"""Plants as tables: what each gets and needs, its year, pruning, the planting plan."""

from __future__ import annotations

import math

from loamwright.engine.ground.quantities import ground_area
from loamwright.engine.life.plants_findings import settle_days
from loamwright.engine.life.plants_year import Planting, latest_planted, least_light, lit_time
from loamwright.habitat.habitat import Habitat
from loamwright.physics.crowns import plants_to_close
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.plain import clean


def plants_tables(habitat: Habitat, planting: Planting, system: str) -> list[Table]:
    """Everything the terminal shows of the plants."""
    return [_today(habitat, planting, system), _year(habitat, planting, system),
            _shade(habitat, planting), _plan(habitat, system)]  # fmt: skip


def _shade(habitat: Habitat, planting: Planting) -> Table:
    """Which plant shades which a year on, and what it keeps off today."""
    rows = []
    for p in habitat.plants:
        year = planting.middle.get(p.name)
        if year is None:
            continue
        first, last = float(year.light[0]), float(year.light[-1])
        for name, kept in year.shaded:
            rows.append((clean(name, 16), clean(p.name, 16), quantities.percent(kept),
                         _dli(first), _dli(last)))  # fmt: skip
    none = () if rows else (("none", "none", "–", "–", "–"),)
    return Table("Which plant shades which, a year on",
                 ("crown of", "keeps light\noff", "share", "its light now\nmol/m²/d", "then"),
                 (*rows, *none), right=frozenset({2, 3, 4}), tight=True,
                 note="Plants whose growth is not known are taken to stay as they are.")  # fmt: skip


def _dli(value: float | None) -> str:
    return "–" if value is None else quantities.number("dli", value)


def _today(habitat: Habitat, planting: Planting, system: str) -> Table:
    rows = []
    lit = lit_time(habitat, "middle")
    for p in habitat.plants:
        need = least_light(p.type, lit)
        warm = planting.warmth.get(p.name)
        low, high = p.type.temperature
        air = "–" if warm is None else " / ".join(
            f"{quantities.shown('air_temperature', t, system):.0f}" for t in warm
        )  # fmt: skip
        good = "–" if low is None or high is None else " – ".join(
            f"{quantities.shown('air_temperature', t, system):.0f}" for t in (low, high)
        )  # fmt: skip
        rows.append((clean(p.name, 16), clean(p.type.label, 20), _dli(planting.light.get(p.name)),
                     _dli(need), air, good))  # fmt: skip
    unit = quantities.unit("air_temperature", system)
    return Table(f"{clean(habitat.name)}: plants as planted",
                 ("plant", "what", "light\nmol/m²/d", "needs", f"air, winter /\nsummer, {unit}",
                  f"grows well\n{unit}"), tuple(rows), right=frozenset({2, 3, 4, 5}), tight=True,
                 note="Roots, damp and cold nights: see check.")  # fmt: skip


def _year(habitat: Habitat, planting: Planting, system: str) -> Table:
    rows = []
    latest = latest_planted(habitat.plants)
    for p in habitat.plants:
        years = [y.get(p.name) for y in planting.years]
        if p.name in planting.unknown or None in years:
            rows.append((clean(p.name, 16), quantities.length(p.height, system), "not known", "–", "–",
                         f"{settle_days(p, latest):.0f}"))  # fmt: skip
            continue
        slow, middle, quick = years
        assert slow is not None and middle is not None and quick is not None  # noqa: PT018
        low, high = (quantities.length(float(y.height[-1]), system) for y in (slow, quick))
        grown = low if middle.pruned else f"{quantities.length(float(middle.height[-1]), system)}"
        told = "pruned" if middle.pruned else f"{grown} ({low} – {high})"
        days = ", ".join(str(d) for d in middle.pruned[:3]) + (
            " …" if len(middle.pruned) > 3 else ""
        )
        light = float(middle.light[-30:].mean())
        rows.append((clean(p.name, 16), quantities.length(p.height, system), told, days or "none",
                     _dli(light), f"{settle_days(p, latest):.0f}"))  # fmt: skip
    return Table("A year of the plants",
                 ("plant", "height now", "height a year on", "prune on day", "light then\nmol/m²/d",
                  "bears animals\nafter, days"), tuple(rows), right=frozenset({1, 4, 5}), tight=True,
                 note="In brackets from the slowest to the quickest growth of its pace; a "
                 "plant that reaches the top of its room is cut back to two thirds of it.")  # fmt: skip


def plan_rows(habitat: Habitat) -> list[tuple[str, int, float, float, float | None]]:
    """By species: label, plants there, their crowns' share of the floor [1], and how many close a
    square metre at the size they have and when grown."""
    area = ground_area(habitat)
    out = []
    for key in dict.fromkeys(p.type.key for p in habitat.plants):
        mine = [p for p in habitat.plants if p.type.key == key]
        spread = sum(p.spread for p in mine) / len(mine)
        grown = mine[0].type.mature_spread
        covered = sum(math.pi / 4.0 * p.spread**2 for p in mine) / area
        out.append((mine[0].type.label, len(mine), covered, plants_to_close(1.0, spread),
                    plants_to_close(1.0, grown) if grown else None))  # fmt: skip
    return out


def _plan(habitat: Habitat, system: str) -> Table:
    size = 0.09290304 if system == "us" else 1.0
    unit = "sq ft" if system == "us" else "m²"
    rows = [
        (clean(label, 26), str(count), quantities.percent(covered),
         "–" if now is None else f"{now * size:.1f}", "–" if grown is None else f"{grown * size:.1f}")
        for label, count, covered, now, grown in plan_rows(habitat)
    ]  # fmt: skip
    whole = sum(covered for _, _, covered, _, _ in plan_rows(habitat))
    return Table("Planting plan", ("what", "plants", "of the floor", f"close 1 {unit}\nas planted",
                                   f"close 1 {unit}\nwhen grown"), tuple(rows),
                 right=frozenset({1, 2, 3, 4}), tight=True,
                 note=f"Crowns together are as large as {quantities.percent(whole)} of the floor; "
                 "those on branches count too.")  # fmt: skip
