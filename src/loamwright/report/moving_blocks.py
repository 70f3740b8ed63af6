"""Moving in as tables, and as a part of the ``animals`` document."""

from __future__ import annotations

from datetime import date
from typing import Any

from loamwright.engine.life.moving import PORTION, READINGS, Down, Moving
from loamwright.plan.order import OrderOfWork
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.ground_blocks import volume
from loamwright.report.ground_words import VERDICTS
from loamwright.report.json_out import finite, object_schema
from loamwright.report.moving_dates import dates_of
from loamwright.report.order_blocks import day_words
from loamwright.report.plain import clean

STEPS: dict[str, tuple[str, str]] = {
    "quarantine": ("animals in quarantine, in bare boxes", "AZA, as restated: 30 days at least"),
    "plants": ("plants in quarantine, their roots rinsed", "common practice: 2 to 4 weeks"),
    "cycle": ("the new habitat stands planted, without animals",
              "common practice: 4 weeks at least, 6 to 8 usual"),
    "readings": (f"readings inside all limits, {READINGS} days on end", "common practice"),
}  # fmt: skip
"""Steps of the plan in words, and where their days come from."""

GATES = (
    "Animals enter together, on one day, once the quarantine of the last has ended, the readings are "
    "inside their limits, nothing that concerns them is missed, every habitat's count agrees, and its "
    "ground was looked through for eggs. No smell of ammonia is a good sign, and so are springtails on "
    "bait within a day where any live in the ground (common practice)."
)
"""When animals may enter."""


def moving_tables(
    moving: Moving | None, system: str, order: OrderOfWork | None = None, start: date | None = None
) -> list[Table]:
    """The order in which habitats come down, the search for eggs, and the days until animals enter.

    Parameters
    ----------
    moving : Moving or None
        The plan of moving in; no tables without one.
    system : str
        Units people are shown.
    order : OrderOfWork, optional
        The order of work, whose days are told where it is planned; else days are counted from the
        first habitat taken down.
    start : date, optional
        The day it begins.
    """
    if moving is None:
        return []
    out = [_order(moving, system)]
    if any(d.plants for d in moving.downs):
        out.append(_plants(moving))
    if any(d.search is not None for d in moving.downs):
        out.append(_search(moving, system))
    return [*out, _days(moving) if order is None else _dates(moving, order, start)]


def _order(moving: Moving, system: str) -> Table:
    rows = []
    for number, down in enumerate(moving.downs, 1):
        counted = "not yet" if down.counted is None else str(down.counted)
        ground = "; ".join(
            f"{volume(v, system)} into {clean(layer, 16)}" for layer, v in down.carried
        )
        rows.append(
            (str(number), clean(down.old.name, 20), str(down.named), counted,
             VERDICTS[down.sheet.verdict] if down.old.ground_volume else "none",
             ground or "nothing", clean(", ".join(down.old.plants)) or "none")
        )  # fmt: skip
    return Table(
        "Taking old habitats down, in this order",
        ("", "habitat", "named", "counted", "its ground", "ground and decomposers\ncarried over",
         "plants"),
        tuple(rows), right=frozenset({2, 3}), tight=True,
        note="What lives in the ground comes along with it; take leaf litter and wood from the same "
        "habitats. Ground is looked through for eggs and young before it is carried over.",
    )  # fmt: skip


NO_PLACE = (
    "no place in the new habitat: keep it elsewhere or give it away, once it is sound; never outdoors "
    "or into other ground, as pests go with it"
)
"""What becomes of an old plant that no new one is alike."""


def _plants(moving: Moving) -> Table:
    """What becomes of each plant of the old habitats."""
    rows = []
    for down in moving.downs:
        for plant in down.plants:
            named = " or ".join(f"'{clean(x, 24)}'" for x in plant.may)
            told = f"may stand for {named}: then buy one less" if plant.may else NO_PLACE
            rows.append((clean(down.old.name, 20), clean(plant.words, 40), told))
    return Table(
        "Plants of old habitats", ("habitat", "plant", "what becomes of it"), tuple(rows),
        note="Matched by the words of the file alone: look whether kind and size are right and the "
        "plant is sound. The shopping list buys every plant that is drawn.",
    )  # fmt: skip


def _search(moving: Moving, system: str) -> Table:
    rows = []
    for down in moving.downs:
        found = down.search
        if found is None:
            continue
        rows.append(
            (clean(down.old.name, 20), str(found.portions),
             "?" if found.expected is None else f"{found.expected:.1f}",
             f"{found.found} in {found.searches}",
             "?" if found.detection is None else quantities.percent(found.detection),
             "?" if found.missed is None else quantities.percent(found.missed),
             "?" if found.left is None else f"{found.left:.1f}",
             "?" if found.needed is None else str(found.needed))
        )  # fmt: skip
    portion = volume(PORTION, system).replace(".0 ", " ")
    return Table(
        "Search for eggs and young",
        ("habitat", f"portions\nof {portion}", "expected\neggs", "found, in\nsearches",
         "a search\nfinds", "chance one\nis missed", "eggs left", "searches\nneeded"),
        tuple(rows), right=frozenset(range(1, 8)), tight=True,
        note="Look through the ground a portion at a time, spread thin, each numbered and marked off; "
        "then litter, roots, hollow pieces and leaf axils. Needed: until the chance is 5 % at most; "
        "?: not known. Clutches are laid or not by chance; each egg is found or not on its own.",
    )  # fmt: skip


def _days(moving: Moving) -> Table:
    rows = [(STEPS[what][0], f"{_day(first)} to {_day(last)}", STEPS[what][1])
            for what, first, last in moving.steps]  # fmt: skip
    rows.append(("animals may enter", f"day {moving.enter[0]} at the earliest, day {moving.enter[1]} "
                 "by the longer of these times", "calculated"))  # fmt: skip
    return Table("Days from the first habitat taken down", ("what", "when", "from"), tuple(rows),
                 note=f"{COUNTED} {GATES}")  # fmt: skip


def _day(day: int) -> str:
    """A day counted from the first habitat taken down; what is done before it has none of its own."""
    return f"day {day}" if day >= 0 else f"{-day} days before"


COUNTED = (
    "Days count from the first habitat taken down; plants come out of it before. The order of work "
    "of the build has the dates; where it says later, the later holds."
)
"""What is said of days where no order of work is at hand."""

PLANNED = (
    "The days are those of the order of work; where a step of moving in asks for longer, the longer "
    "is told."
)
"""What is said of days that an order of work gives."""


def _dates(moving: Moving, order: OrderOfWork, start: date | None) -> Table:
    """The same steps on the days of the order of work."""
    found = dates_of(moving, order)
    rows = [
        (STEPS[what][0] if what in STEPS else what,
         day_words(first, start) if first == last
         else f"{day_words(first, start)} – {day_words(last, start)}",
         STEPS[what][1] if what in STEPS else "order of work")
        for what, first, last in found.steps
    ]  # fmt: skip
    if found.enter is not None:
        least, most = (day_words(day, start) for day in found.enter)
        told = (
            least
            if least == most
            else (f"{least} at the earliest, {most} by the longer of these times")
        )
        rows.append(("animals may enter", told, "the latest of all"))
    return Table("Days of moving in, by the order of work", ("what", "when", "from"), tuple(rows),
                 note=f"{PLANNED} {GATES}")  # fmt: skip


# -- for the machine -------------------------------------------------------------------------------


def moving_document(moving: Moving | None) -> dict[str, Any] | None:
    """The plan of moving in; None where no habitat is taken down."""
    if moving is None:
        return None
    return {
        "order": [_down(d) for d in moving.downs],
        "steps": [{"what": w, "first_day": a, "last_day": b} for w, a, b in moving.steps],
        "enter_from_day": list(moving.enter),
    }


def _down(down: Down) -> dict[str, Any]:
    found = down.search
    return {
        "name": down.old.name,
        "named": down.named,
        "counted": down.counted,
        "verdict": down.sheet.verdict,
        "carried_l": {layer: finite(1000 * v) for layer, v in down.carried},
        "plants": list(down.old.plants),
        "plants_may_stand_for": [list(p.may) for p in down.plants],
        "search": None
        if found is None
        else {
            "portions": found.portions,
            "expected_eggs": finite(found.expected),
            "found": found.found,
            "searches": found.searches,
            "detection": finite(found.detection),
            "chance_missed": finite(found.missed),
            "eggs_left": finite(found.left),
            "searches_needed": found.needed,
        },
    }


def moving_schema() -> dict[str, Any]:
    """Schema of the plan of moving in."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}
    count = {"type": "integer", "minimum": 0}
    maybe = {"type": ["integer", "null"]}
    search = object_schema(
        {
            "portions": count,
            "expected_eggs": number,
            "found": count,
            "searches": count,
            "detection": number,
            "chance_missed": number,
            "eggs_left": number,
            "searches_needed": maybe,
        }
    )
    down = object_schema(
        {
            "name": text,
            "named": count,
            "counted": maybe,
            "verdict": text,
            "carried_l": {"type": "object", "additionalProperties": number},
            "plants": {"type": "array", "items": text},
            "plants_may_stand_for": {"type": "array", "items": {"type": "array", "items": text}},
            "search": {"anyOf": [{"type": "null"}, search]},
        }
    )
    day = {"type": "integer"}  # below 0: before the first habitat comes down
    step = object_schema({"what": text, "first_day": day, "last_day": day})
    return object_schema(
        {
            "order": {"type": "array", "items": down},
            "steps": {"type": "array", "items": step},
            "enter_from_day": {"type": "array", "items": count, "minItems": 2, "maxItems": 2},
        }
    )
