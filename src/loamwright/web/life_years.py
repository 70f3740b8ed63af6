"""Plants and the ground's small life through a year, as the page draws them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.report import quantities
from loamwright.report.decomposers_blocks import DRY, decomposers_tables
from loamwright.report.plain import clean
from loamwright.report.plants_blocks import plants_tables
from loamwright.report.terminal import SYMBOLS
from loamwright.report.words import FIELDS, STATES
from loamwright.web.tables import shown

if TYPE_CHECKING:
    from loamwright.engine.findings import Finding
    from loamwright.engine.life.decomposers_study import Found
    from loamwright.engine.life.plants_year import Planting
    from loamwright.habitat.habitat import Habitat
    from loamwright.habitat.planting import Plant

EVERY = 3
"""Days between two points of a curve."""

LOOKS = (("c2", ""), ("c0", "d1"), ("c1", "d2"), ("c3", "d3"), ("c4", "d4"))
"""Colour and dashes of curves."""


# -- plants --------------------------------------------------------------------------------------------


def plants(
    habitat: Habitat, values: Mapping[str, Any] | None, planting: Planting | None, system: str,
    findings: Sequence[Finding] = (),
) -> list[dict[str, Any]]:  # fmt: skip
    """Each plant: light at its crown now against what it needs, pruning days and who shades it. Its
    state is that of the finding, where there is one for the value shown."""
    from loamwright.engine.life.plants_year import least_light, lit_time

    lit = lit_time(habitat, "middle")
    out = []
    for n, plant in enumerate(habitat.plants):
        light = _light(habitat, values, plant)
        need = least_light(plant.type, lit)
        year = planting.middle.get(plant.name) if planting is not None else None
        known = planting is not None and plant.name not in planting.unknown
        field = "" if planting is None else planting.unknown.get(plant.name, "")
        lacks = FIELDS.get(field, field.replace("_", " "))
        out.append({
            "id": f"plants/{n}", "name": clean(plant.name, 30), "label": clean(plant.type.label, 40),
            "size": f"{quantities.length(plant.height, system)} high, "
                    f"{quantities.length(plant.spread, system)} across",
            **light_words(light, need, _state(plant, light, findings)),
            "pruned": [int(d) for d in year.pruned] if year is not None and known else [],
            "grows": "…" if planting is None else "" if known else f"not known: its {lacks}",
            "shaded": [[clean(who, 30), quantities.percent(share)] for who, share in year.shaded]
            if year is not None else [],
        })  # fmt: skip
    return out


def _light(habitat: Habitat, values: Mapping[str, Any] | None, plant: Plant) -> float | None:
    row = next((i for i, s in enumerate(habitat.sites) if s.plant == plant.name), None)
    found = values["up"]["dli"] if values is not None else []
    return found[row] if row is not None and row < len(found) else None


def _state(plant: Plant, light: float | None, findings: Sequence[Finding]) -> str:
    """How a finding calls this light; empty where there is none of it."""
    for f in findings:
        if f.need == "plant-light" and f.about == plant.name and f.quantity == "dli":
            same = light is not None and f.value is not None and abs(light - f.value) < 0.005
            return f.state.value if same else ""
    return ""


def light_words(light: float | None, need: float | None, found: str = "") -> dict[str, Any]:
    """A plant's light beside what it needs: words, state, and the share of twice the need."""
    told = "…" if light is None else quantities.number("dli", light)
    asks = "not known" if need is None else quantities.number("dli", need)
    state = found or "" if light is None or found else "not_known" if need is None else (
        "met" if light >= need else "missed")  # fmt: skip
    return {
        "light": told, "need": asks, "state": state,
        "sign": SYMBOLS[state] if state else "", "word": STATES[state] if state else "",  # type: ignore[index]
        "share": None if light is None or not need else min(light / need, 2.0) / 2.0,
    }  # fmt: skip


def plant_charts(
    habitat: Habitat, planting: Planting, name: str, system: str
) -> list[dict[str, Any]]:
    """A plant's height with its range and its room, and its light with its need, by day."""
    from loamwright.engine.life.plants_year import least_light, lit_time

    plant = next((p for p in habitat.plants if p.name == name), None)
    if plant is None or name not in planting.middle:
        return []
    edge, size = quantities.edge(system)
    years = [y[name] for y in planting.years]
    known = name not in planting.unknown
    each = [y.height / size for y in years]
    height = _line("height", each[1], 0, each if known else None)
    room = years[1].room / size
    limits = [_limit(room, "its room")] if room < 3.0 * float(np.max(each)) else []
    need = least_light(plant.type, lit_time(habitat, "middle"))
    wanted = [] if need is None else [_limit(need, "needed")]
    marks = [{"day": int(d), "words": "prune"} for d in years[1].pruned] if known else []
    label = clean(name, 30)
    unit = quantities.unit("dli", system)
    return [
        _chart("height", f"{label}: height [{edge}]", edge, 1, [height], limits, marks,
               "" if known else "Its growth is not known, so its height stays as it is."),
        _chart("light", f"{label}: light at its crown [{unit}]", unit, 1,
               [_line("light", years[1].light, 2, digits=2)], wanted, marks),
    ]  # fmt: skip


def plant_words(habitat: Habitat, planting: Planting, system: str) -> list[dict[str, Any]]:
    """The plants' tables."""
    return [shown(t, habitat) for t in plants_tables(habitat, planting, system)]


# -- what lives in the ground --------------------------------------------------------------------------


def small(habitat: Habitat, found: Found | None, system: str) -> dict[str, Any]:
    """Numbers, matter and nitrogen through the year, the answers, and the tables."""
    if found is None:
        return {"why": DRY, "cards": [], "charts": [], "tables": []}
    tables = [shown(t, habitat) for t in decomposers_tables(habitat, found, system)]
    return {"why": "", "cards": _cards(found, system), "charts": _charts(found),
            "tables": tables}  # fmt: skip


def _cards(found: Found, system: str) -> list[list[str]]:
    """Starters, day of readiness, what it carries, and when leaves are laid anew."""
    from loamwright.engine.life.decomposers_study import WAIT

    out = []
    for x, count in zip(found.community.species, found.counts(), strict=True):
        out.append([f"let in: {clean(x.label, 30)}", quantities.number("density", float(count)),
                    "computed" if found.computed else "as the file says"])  # fmt: skip
    low, middle, high = found.ready[2], found.ready[1], found.ready[0]
    span = "" if low == middle == high else f"from {_day(low)} to {_day(high)}; "
    out.append(["ready for residents", f"day {middle}" if middle is not None else "not in a year",
                f"{span}usual: within {WAIT} days"])  # fmt: skip
    if found.carries is not None:
        out.append(
            [
                "waste it can carry",
                quantities.worded("waste", found.carries[1], system),
                f"the residents leave {quantities.worded('waste', found.waste, system)}",
            ]
        )
        out.append(["by hand", quantities.percent(found.by_hand or 0.0), "of the waste"])
    lasts = [found.litter_lasts(i) for i in range(len(found.runs))]
    if lasts[1] is not None:
        ends = sorted(min(v, 3650.0) for v in lasts if v is not None)
        out.append(["lay leaves anew after", f"{min(lasts[1], 3650.0):.0f} days",
                    f"from {ends[0]:.0f} to {ends[-1]:.0f}"])  # fmt: skip
    return out


def _day(value: int | None) -> str:
    return "never" if value is None else f"day {value}"


def _charts(found: Found) -> list[dict[str, Any]]:
    from loamwright.engine.life.decomposers_study import NITRATE_LIMIT
    from loamwright.engine.life.matter import LEAF_CARBON, TOP_UP_BELOW
    from loamwright.physics import populations as pop

    run, area = found.middle, found.area
    marks = [{"day": int(found.moved_in[1]), "words": "residents move in"}]
    lines = []
    for row, x in enumerate(found.community.species):
        each = [r.numbers(row) * area for r in found.runs]
        lines.append(_line(clean(x.label, 24), each[1], row, each, digits=0))
    floor = found.community.floor
    least = 1000 * area * min(TOP_UP_BELOW, 0.5 * floor.litter)
    laid = [{"day": int(d), "words": "leaves laid"} for d, _ in run.topped]
    grams = 1000 * area
    matter = [
        _line("leaves", grams * run.litter(), 1),
        _line("dung and dead", grams * run.state[:, pop.WASTE] / LEAF_CARBON, 2),
        _line("humus", grams * run.state[:, pop.HUMUS] / LEAF_CARBON, 0),
    ]
    nitrogen = [
        _line("ammonium, nitrate", grams * run.mineral(), 2, digits=2),
        _line("in plants", grams * run.state[:, pop.TAKEN], 0, digits=2),
    ]
    limit = grams * NITRATE_LIMIT * floor.pore_water
    most = max(float(run.mineral().max()), float(run.state[:, pop.TAKEN].max())) * grams
    bears = [_limit(limit, "more than plants bear")] if 0.0 < limit < 4.0 * most else []
    out = [
        _chart("matter", "Dry matter on the whole floor [g]", "g", 0, matter,
               [_limit(least, "lay leaves anew")] if floor.litter > 0 else [], [*marks, *laid]),
        _chart("nitrogen", "Nitrogen on the whole floor [g]", "g", 2, nitrogen, bears, marks),
    ]  # fmt: skip
    if lines:
        told = "Without eggs; shaded from the slowest to the quickest growth of the sources."
        out.insert(0, {**_chart("numbers", "Animals on the whole floor", "", 0, lines, [], marks,
                                told), "log": True})  # fmt: skip
    return out


# -- curves --------------------------------------------------------------------------------------------


def _line(
    name: str, values: Any, look: int, each: Sequence[Any] | None = None, digits: int = 1
) -> dict[str, Any]:
    """A curve by day, thinned out, with its range where there are several ways."""
    color, dash = LOOKS[look % len(LOOKS)]

    def thin(row: Any) -> list[float]:
        return [round(float(v), digits) for v in np.asarray(row)[::EVERY]]

    out: dict[str, Any] = {"name": name, "look": color, "dash": dash, "values": thin(values),
                           "low": None, "high": None}  # fmt: skip
    if each is not None:
        short = min(len(e) for e in each)
        rows = np.array([np.asarray(e)[:short] for e in each])
        out["low"], out["high"] = thin(rows.min(axis=0)), thin(rows.max(axis=0))
    return out


def _limit(value: float, words: str) -> dict[str, Any]:
    return {"value": round(value, 2), "words": words}


def _chart(
    key: str, title: str, unit: str, digits: int, lines: list[dict[str, Any]],
    limits: list[dict[str, Any]], marks: list[dict[str, Any]], told: str = "",
) -> dict[str, Any]:  # fmt: skip
    ends = [v for line in lines for row in (line["values"], line["high"] or []) for v in row]
    top = max([*ends, *(x["value"] for x in limits), 1e-6])
    return {
        "key": key, "title": title, "unit": unit, "digits": digits, "lines": lines,
        "limits": limits, "marks": marks, "every": EVERY, "range": [0.0, 1.12 * top],
        "log": False, "told": told,
    }  # fmt: skip
