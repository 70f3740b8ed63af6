"""Ways and choices held against what residents need."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loamwright.engine.findings import Cause, Finding, State, judge, worst_first
from loamwright.engine.life import places
from loamwright.engine.life.choice import Choice
from loamwright.engine.life.climbing import Climb
from loamwright.habitat.catalogue import Species
from loamwright.habitat.sources import PRACTICE

ENGINE = "animals"


LEAST_TOGETHER = 3600.0
"""Least time a day in which everything can be had in the same hour [s]: one of the hours looked at;
common practice, no source."""

HOUR_SPREAD = 1800.0
"""Standard uncertainty of a time counted in full hours [s]."""


def way_findings(species: Species, climb: Climb | None, animals: int = 1) -> list[Finding]:
    """Which places are reached, whether a way from the lamps to shelter keeps off the ground, and, for
    more ``animals`` than one, ends of branches where one can corner another."""
    if climb is None:
        return [
            Finding(need="sites-beyond", engine=ENGINE, about=species.key, quantity="count",
                    state=State.NOT_KNOWN, source=PRACTICE, high=0.0,
                    causes=(Cause("no_length", "snout-vent"),))
        ]  # fmt: skip
    gait: tuple[Cause, ...] = (
        Cause("gait_reach", "", climb.gait.reach), Cause("gait_jump", "", climb.gait.jump),
        Cause("gait_walls", climb.gait.walls),
    )  # fmt: skip
    out = []
    value = float(len(climb.beyond))
    state, margin = judge(value, None, 0.0, 0.0)
    out.append(
        Finding(need="sites-beyond", engine=ENGINE, about=species.key, quantity="count",
                state=state, source=climb.gait.reach_source, value=value, high=0.0, uncertainty=0.0,
                margin=margin, causes=(*(Cause("beyond", n) for n in climb.beyond), *gait))
    )  # fmt: skip
    if places.climbs(species) and climb.ways:
        ways = [w for w in climb.ways if w.length < float("inf")]
        shortest = climb.shortest
        causes = gait
        if shortest is not None:
            told = Cause("dry_way", f"{shortest.start}|{shortest.end}", shortest.length)
            causes = (told, *gait)
        state, margin = judge(float(len(ways)), 1.0, None, 0.0)
        out.append(
            Finding(need="way-off-ground", engine=ENGINE, about=species.key, quantity="count",
                    state=state, source=PRACTICE, value=float(len(ways)), low=1.0, uncertainty=0.0,
                    margin=margin, causes=causes)
        )  # fmt: skip
    if animals > 1 and climb.gait.rods:
        out.append(_dead_ends(species, climb))
    return out


def _dead_ends(species: Species, climb: Climb) -> Finding:
    """Ends of branches with nothing in reach; a tube's end is a hide's. How many a group bears nobody
    has measured, so any number is only close."""
    ends = [d for d in climb.dead_ends if d.branch]
    value = float(len(ends))
    state, margin = judge(value, None, 0.0, value + 1.0 if ends else 0.0)
    causes = tuple(Cause("dead_end", d.piece, max(d.height, 0.0)) for d in ends[:4])
    return Finding(need="dead-ends", engine=ENGINE, about=species.key, quantity="count", state=state,
                   source=PRACTICE, value=value, high=0.0, uncertainty=value + 1.0 if ends else 0.0,
                   margin=margin, causes=causes)  # fmt: skip


def choice_findings(species: Species, choices: Mapping[str, Choice]) -> list[Finding]:
    """Time in which all a species prefers can be had in the same hour, the worst season of it."""
    if not choices or species.activity.startswith("nocturnal"):
        return []
    found: list[Finding] = []
    for choice in choices.values():
        value = choice.together_time
        missing = unknown_bands(choice)
        causes: list[Cause] = [Cause("no_number", field) for field in missing]
        for kind, share in (
            ("share_warm", choice.shares.warm), ("share_uv", choice.shares.uv),
            ("share_both", choice.shares.both), ("share_cool", choice.shares.cool),
            ("share_damp", choice.shares.damp),
        ):  # fmt: skip
            if share is not None:
                causes.append(Cause(kind, "", share))
        state, margin = judge(value, LEAST_TOGETHER, None, HOUR_SPREAD)
        found.append(
            Finding(need="choice-together", engine=ENGINE, about=species.key, quantity="time",
                    state=state, source=PRACTICE, value=value, low=LEAST_TOGETHER,
                    uncertainty=HOUR_SPREAD if value is not None else None, margin=margin,
                    when=f"typical {choice.season} day", causes=tuple(causes))
        )  # fmt: skip
    return worst_first(found)[:1]


def unknown_bands(choice: Choice) -> Sequence[str]:
    """Fields of the catalogue without which the choice cannot be judged."""
    out = []
    if choice.body_band[0] is None:
        out.append("preferred_body")
    if choice.operative is None:
        out.append("mass")
    if choice.uvi_source is None:
        out.append("ferguson_zone")
    if choice.damp_band == (None, None):
        out.append("humidity_day")
    return out
