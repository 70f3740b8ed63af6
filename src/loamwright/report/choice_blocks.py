"""Ways and choices as tables, and as rows of CSV."""

from __future__ import annotations

import csv
import io

from loamwright.engine.life.choice import SPOT, Choice
from loamwright.engine.life.climbing import Climb
from loamwright.engine.life.gait import NONE, SMOOTH
from loamwright.engine.life.study import Animals, Residents
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.climate_words import SEASONS
from loamwright.report.plain import clean
from loamwright.report.system_words import in_system
from loamwright.report.words import source_words

WALLS = {SMOOTH: "glass and backgrounds", NONE: "none"}
"""The walls an animal climbs, in words."""


CARRYING = "from memory: woody stems, animals of up to 100 g; else the file (carries:)"
"""Where it comes from that a plant carries an animal."""


def way_tables(one: Residents, system: str) -> list[Table]:
    """Where a species gets to, the ways off the ground, and the dead ends."""
    if one.climb is None:
        return []
    out = [_gait(one.climb, system)]
    if one.climb.ways:
        out.append(_ways(one.climb, system))
    if one.climb.dead_ends:
        out.append(_dead_ends(one.climb, system))
    return out


def _gait(climb: Climb, system: str) -> Table:
    gait = climb.gait
    jump = quantities.length(gait.jump, system) if gait.jump else "not known, taken as none"
    rows = (
        (
            "bridges a gap of",
            quantities.length(gait.reach, system),
            source_words(gait.reach_source, system),
        ),
        ("jumps", jump, "the habitat file" if gait.jump else ""),
        (
            "walls it climbs",
            WALLS.get(gait.walls, "backgrounds"),
            source_words(gait.holds_source, system),
        ),
        ("places within reach", ", ".join(map(clean, climb.reached)) or "none", "calculated"),
        ("out of reach", ", ".join(map(clean, climb.beyond)) or "none", "calculated"),
        (
            "plants that carry it",
            ", ".join(map(clean, climb.plants)) or "none",
            in_system(CARRYING, system),
        ),
        ("plants left out", ", ".join(map(clean, climb.left_out)) or "none", ""),
    )
    return Table("How it gets about", ("what", "", "from"), rows)


def _ways(climb: Climb, system: str) -> Table:
    rows = tuple(
        (clean(w.start, 24), clean(w.end, 24),
         quantities.length(w.length, system) if w.length < float("inf") else "none")
        for w in climb.ways
    )  # fmt: skip
    return Table("Ways to shelter that never touch the ground", ("from", "to", "length"), rows,
                 right=frozenset({2}))  # fmt: skip


def _dead_ends(climb: Climb, system: str) -> Table:
    rows = tuple(
        (clean(d.piece, 24), quantities.place(d.at, system).strip("[]"),
         quantities.length(max(d.height, 0.0), system))
        for d in climb.dead_ends
    )  # fmt: skip
    return Table("Dead ends, where one animal can corner another", ("piece", "x, y, z",
                 "above the ground"), rows, right=frozenset({2}))  # fmt: skip


def choice_tables(one: Residents, system: str) -> list[Table]:
    """What can be had at once through the day, by season, and each place at midday."""
    if not one.choices:
        return []
    return [_shares(one, system), *(_midday(c, system) for c in one.choices.values())]


def _share(value: float | None) -> str:
    return "not known" if value is None else quantities.percent(value)


def _shares(one: Residents, system: str) -> Table:
    named = (
        ("a place as warm as it prefers", "warm"), ("UV in its band", "uv"),
        ("both at one place", "both"), ("a cool and dark shelter", "cool"),
        ("air of the right damp", "damp"), ("all in the same hour", "together"),
    )  # fmt: skip
    choices = list(one.choices.values())
    rows = [(words, *(_share(getattr(c.shares, name)) for c in choices)) for words, name in named]
    far = [
        "not known"
        if c.quality is None
        else quantities.worded_difference("temperature", c.quality, system)
        for c in choices
    ]
    rows.append(("its places are off the preferred band by, mean", *far))
    return Table(
        f"Share of the day in which {clean(one.species.label)} can have",
        ("what", *(SEASONS.get(c.season, c.season) for c in choices)), tuple(rows),
        right=frozenset(range(1, len(choices) + 1)),
    )  # fmt: skip


def _midday(choice: Choice, system: str) -> Table:
    hours = [h for h in range(len(choice.day)) if choice.day[h]]
    noon = hours[len(hours) // 2] if hours else 0
    rows = []
    named = any(role != SPOT for role in choice.roles)
    for i, name in enumerate(choice.sites):
        if named and choice.roles[i] == SPOT:
            continue
        body = "not known"
        if choice.operative is not None:
            body = quantities.worded(
                "operative_temperature", float(choice.operative[noon, i]), system
            )
        rows.append(
            (clean(name, 24), choice.roles[i],
             quantities.number("uvi", float(choice.uvi[noon, i])), body,
             quantities.worded("humidity", float(choice.humidity[noon, i]), system))
        )  # fmt: skip
    return Table(
        f"Its choice at {noon}:00, {SEASONS.get(choice.season, choice.season)}",
        ("place", "role", "UVI", "body takes", "humidity"), tuple(rows),
        right=frozenset({2, 3, 4}), note=_spots_told(choice, noon, system) if named else "",
    )  # fmt: skip


def _spots_told(choice: Choice, noon: int, system: str) -> str:
    """How far the spots without a name reach beyond the named places."""
    spots = [i for i, role in enumerate(choice.roles) if role == SPOT]
    if not spots:
        return ""
    uvi = choice.uvi[noon, spots]
    told = (f"Beside them {len(spots)} spots on pieces and ground: UVI "
            f"{quantities.number('uvi', float(uvi.min()))} to "
            f"{quantities.number('uvi', float(uvi.max()))}")  # fmt: skip
    if choice.operative is None:
        return f"{told}."
    body = choice.operative[noon, spots]
    ends = [quantities.worded("operative_temperature", float(v), system)
            for v in (body.min(), body.max())]  # fmt: skip
    return f"{told}, a body takes {ends[0]} to {ends[1]}, resting on nothing."


def choice_csv(habitat: Habitat, animals: Animals, system: str) -> str:
    """Every hour at every place of every species, units in the header."""
    degree = quantities.unit("operative_temperature", system)
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["species", "season", "hour", "day", "place", "role", "uvi",
                     f"body [{degree}]", "humidity [%]"])  # fmt: skip
    for one in animals.residents:
        for choice in one.choices.values():
            for hour in range(len(choice.day)):
                for i, name in enumerate(choice.sites):
                    body = ""
                    if choice.operative is not None:
                        value = float(choice.operative[hour, i])
                        body = f"{quantities.shown('operative_temperature', value, system):.2f}"
                    writer.writerow(
                        [one.species.key, choice.season, hour, int(choice.day[hour]), name,
                         choice.roles[i], f"{choice.uvi[hour, i]:.3f}", body,
                         f"{100 * choice.humidity[hour, i]:.1f}"]
                    )  # fmt: skip
    return out.getvalue()
