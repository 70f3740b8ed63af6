"""Decomposers as tables: who is let in, their year, matter by month, what is left to do by hand."""

from __future__ import annotations

from loamwright import units
from loamwright.engine.life.decomposers_run import HUNTED_SHARE, hunters_of
from loamwright.engine.life.decomposers_study import NITRATE_LIMIT, WAYS, Found
from loamwright.engine.life.matter import LEAF_CARBON
from loamwright.habitat.habitat import Habitat
from loamwright.physics import populations as pop
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.decomposers_words import MATTER
from loamwright.report.plain import clean

DRY = (
    "Nothing of this ground is moist, so nothing in it rots: take all waste out by hand. Name what you "
    "let in under decomposers: to follow it all the same."
)

ALWAYS = (
    ("dung on branches, leaves, panes and in the water", "daily; it never reaches the ground"),
    ("food left over, dead feeder animals", "daily; they rot where they lie"),
    ("a dead animal, shed eggs, mouldy food", "at once"),
    ("shed skin", "when seen; it lies for months"),
    ("bowls", "scrub weekly"),
)
"""What no ground does by itself; common practice, no source."""


def decomposers_tables(habitat: Habitat, found: Found | None, system: str) -> list[Table]:
    """Everything the terminal shows of what lives in the ground."""
    if found is None:
        return [Table(f"{clean(habitat.name)}: what lives in the ground", ("", ""), (), note=DRY)]
    return [
        _let_in(habitat, found, system), _year(found, system), _pools(found, system),
        _answers(habitat, found, system), *_risks(found), _by_hand(found),
    ]  # fmt: skip


def _many(value: float) -> str:
    """A count to three figures."""
    return quantities.number("density", value) if value >= 100 else f"{value:.0f}"


def _span(values: list[float]) -> str:
    low, middle, high = (_many(x) for x in (min(values), values[1], max(values)))
    return middle if low == high else f"{middle} ({low} – {high})"


def _let_in(habitat: Habitat, found: Found, system: str) -> Table:
    rows = []
    for x, count, per in zip(
        found.community.species, found.counts(), found.community.starters, strict=True
    ):
        rows.append((clean(x.label, 26), clean(x.role, 90), _many(count),
                     quantities.worded("density", per, system)))  # fmt: skip
    for x in found.unfollowed:
        rows.append((clean(x.label, 26), clean(x.role, 90), "as named", "not followed"))
    note = "Computed: the fewest usual starters with which the ground is ready in eight weeks."
    if not found.computed:
        note = "As the file says."
    if found.unfollowed:
        note += " Of those not followed too little is known (loamwright show decomposers NAME)."
    return Table(f"{clean(habitat.name)}: let into the ground",
                 ("what", "what it does", "number", "on an area"), tuple(rows),
                 right=frozenset({2, 3}), note=note)  # fmt: skip


def _year(found: Found, system: str) -> Table:
    """Numbers by species at some days after the residents move in, middle and range."""
    rows = []
    for row, x in enumerate(found.community.species):
        cells = []
        for after in (0, 91, 182, 365):
            ends = [
                float(r.numbers(row)[day + after]) * found.area
                for r, day in zip(found.runs, found.moved_in, strict=True)
            ]
            cells.append(_span(ends))
        rows.append((clean(x.label, 22), *cells))
    hunted = [clean(x.label) for x, taken in zip(
        found.community.species, hunters_of(found.community, HUNTED_SHARE).takes, strict=True
    ) if taken]  # fmt: skip
    note = (
        "Without eggs; the middle of what the sources give, in brackets the least and the greatest of "
        "three runs that day: with the slowest, the middle and the quickest growth."
    )
    if hunted:
        note += (
            f" The residents hunt {' and '.join(hunted)}: a tenth of their food is taken to come from "
            "them (from memory)."
        )
    return Table("Numbers on the whole floor, days after the residents move in",
                 ("what", "0", "91", "182", "365"), tuple(rows), right=frozenset({1, 2, 3, 4}),
                 note=note, tight=True)  # fmt: skip


PERIOD = 56
"""Days from row to row of the table of matter [d]."""


def _pools(found: Found, system: str) -> Table:
    run, area = found.middle, found.area
    name, size = MATTER[system]

    def dry(value: float) -> str:
        told = area * value / size
        return f"{told:.2f}" if system == "us" and told < 9.995 else f"{told:.0f}"

    rows = []
    last = len(run.days) - 1
    # No row for a few days more than the one before.
    for day in [*(d for d in range(0, last, PERIOD) if last - d >= PERIOD / 2), last]:
        state = run.state[day]
        rows.append((
            f"{day}", dry(run.litter()[day]),
            dry(state[pop.WASTE] / LEAF_CARBON),
            dry(state[pop.HUMUS] / LEAF_CARBON),
            f"{1000 * area * run.mineral()[day]:.1f}", f"{1000 * area * state[pop.TAKEN]:.1f}",
        ))  # fmt: skip
    return Table(
        "Matter on the whole floor, the middle of all ranges",
        # Nitrogen in grams in both systems: there are hundredths of an ounce of it.
        ("day", f"leaves\n{name}", f"dung and\ndead, {name}", f"humus\n{name}",
         "mineral\nnitrogen, g", "nitrogen in\nplants, g"),
        tuple(rows), right=frozenset(range(6)),
        note=f"Days after planting; the residents are taken to move in on day "
        f"{found.moved_in[1]}, when the ground is ready; the order of work has the day that "
        "is planned. Leaves, dung and humus dry. The mix itself is taken to be inert.",
    )  # fmt: skip


def _answers(habitat: Habitat, found: Found, system: str) -> Table:
    def days(values: list[float | None]) -> str:
        told = ["never" if v is None else f"{min(v, 3650.0):.0f}" for v in values]
        if told[0] == told[1] == told[2]:
            return told[1]
        return f"{told[1]} ({told[2]} – {told[0]})"

    rows = [("ready for its residents, day", days([None if d is None else float(d)
                                                  for d in found.ready]))]  # fmt: skip
    weather = found.community.weather
    warm = [quantities.worded("surface_temperature", t, system) for t in weather.temperature]
    wet = [quantities.percent(s) for s in weather.saturation]
    rows.append(("ground in winter, in summer", f"{warm[0]} and {wet[0]} of the pores wet, "
                 f"{warm[1]} and {wet[1]}"))  # fmt: skip
    if found.carries is not None:
        bears = [quantities.worded("waste", c, system) for c in sorted(found.carries)]
        rows.append(
            (
                "dry waste of the residents",
                quantities.worded("waste", found.waste, system) + ", within a factor of 1.7",
            )
        )
        rows.append(("dry waste the ground can carry",
                     f"{quantities.worded('waste', found.carries[1], system)} "
                     f"({bears[0]} – {bears[-1]})"))  # fmt: skip
        rows.append(("of it to take out by hand", quantities.percent(found.by_hand or 0.0)))
    if found.unknown:
        labels = {g.species.key: g.species.label for g in habitat.animals}
        names = ", ".join(clean(labels.get(k, k)) for k in found.unknown)
        rows.append(("waste not known, left out", names))
    rows.append(("half of a dropping is gone after",
                 quantities.duration(86400.0 * found.dung_half_life())))  # fmt: skip
    lasts = [found.litter_lasts(i) for i in range(len(WAYS))]
    if lasts[1] is not None:
        floor = found.community.floor
        start = floor.litter
        more = start - (0.5 * start if start < 0.3 else 0.15)
        rows.append(("leaves laid anew after, days", days(lasts)))
        told = units.show(more * found.area, "mass", system)
        named = f" of '{clean(floor.leaf_name)}'" if floor.leaf_name else ""
        rows.append(("then so many dry leaves", f"{told}{named}"))
    return Table("", ("what the ground does", ""), tuple(rows), note=(
        f"In brackets from the quickest to the slowest growth and decay of the sources. Carried "
        f"is what keeps mineral nitrogen below {1000 * NITRATE_LIMIT:.0f} mg/L of the "
        "soaked ground's water through the first year."
    ))  # fmt: skip


def _risks(found: Found) -> list[Table]:
    rows = [(clean(x.label), clean(x.risk)) for x in (*found.community.species, *found.unfollowed)
            if x.risk]  # fmt: skip
    return [Table("Beware", ("what", "of what"), tuple(rows))] if rows else []


def _by_hand(found: Found) -> Table:
    rows = list(ALWAYS)
    if found.by_hand:
        rows.insert(
            0,
            (
                "dung on the ground",
                f"{quantities.percent(found.by_hand)} of it: more than the ground carries",
            ),
        )
    return Table("By hand all the same", ("what", "when"), tuple(rows),
                 note="Common practice, no source, where nothing else is said.")  # fmt: skip
