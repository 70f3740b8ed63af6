"""Joining held against what it takes: quarantine, the day they enter, other species, room for young."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from loamwright.engine.findings import Cause, Finding, State, held_against
from loamwright.engine.life.breeding import Breeding
from loamwright.engine.life.gait import SNAKES
from loamwright.engine.life.moving import CYCLE, QUARANTINE, Moving
from loamwright.engine.life.plants_findings import settle_days
from loamwright.engine.life.plants_year import latest_planted
from loamwright.engine.life.space import by_species
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Existing, Group
from loamwright.habitat.sources import Source, SourceKind

ENGINE = "animals"
DAY = 86_400.0

LONGER = 60
"""Least days of quarantine for snakes and amphibians; from memory."""

AZA = Source("30 days at least under a veterinarian: AZA, as others restate it",
             SourceKind.PUBLISHED)  # fmt: skip
LONG = Source("60 to 90 days with repeated tests for snakes and amphibians",
              SourceKind.FROM_MEMORY)  # fmt: skip
WAITED = Source("quarantine has ended, the habitat has stood planted for 4 weeks and its plants have "
                "rooted", SourceKind.COMMON_PRACTICE)  # fmt: skip
ALONE = Source("kept by species unless somebody who knows both has judged it",
               SourceKind.COMMON_PRACTICE)  # fmt: skip
JUDGED = Source("judged by the builder, in the habitat file", SourceKind.BUILDER)
HOLDS = Source("the strictest space standard that counts so many animals", SourceKind.CALCULATED)

_made = partial(held_against, ENGINE)


def _unknown(
    code: str, about: str, quantity: str, source: Source, *causes: Cause,
    value: float | None = None, low: float | None = None, site: str = "",
) -> Finding:  # fmt: skip
    return Finding(need=code, engine=ENGINE, about=about, quantity=quantity, state=State.NOT_KNOWN,
                   source=source, value=value, low=low, site=site, causes=causes)  # fmt: skip


def mixed_findings(habitat: Habitat) -> list[Finding]:
    """Several species in one box: whether they bear each other is judged by nobody here."""
    found = by_species(habitat)
    if len(found) < 2:
        return []
    allowed = {g.species.key: {c for x in groups for c in x.companions}
               for groups in found for g in groups[:1]}  # fmt: skip
    keys = list(allowed)
    left = [(a, b) for i, a in enumerate(keys) for b in keys[i + 1 :]
            if b not in allowed[a] and a not in allowed[b]]  # fmt: skip
    count = float(len(keys))
    if left:
        causes = tuple(Cause("not_judged_together", f"{a}|{b}") for a, b in left[:3])
        return [_unknown("mixed-species", "habitat", "count", ALONE, *causes, value=count)]
    return [Finding(need="mixed-species", engine=ENGINE, about="habitat", quantity="count",
                    state=State.MET, source=JUDGED, value=count)]  # fmt: skip


def _slow_to_tell(species: Species | None) -> bool:
    """True for snakes and amphibians, whose diseases take longer to show."""
    return species is not None and (species.animal_class == "Amphibia" or species.family in SNAKES)


def _quarantine(habitat: Habitat, old: Existing) -> Finding:
    """Days the animals of one old habitat are kept apart before they join others."""
    inside = [x.species for x in habitat.pedigree if x.name in old.animals]
    longer = any(_slow_to_tell(s) for s in inside)
    least = (LONGER if longer else QUARANTINE[0]) * DAY
    source = LONG if longer else AZA
    if old.quarantined is None:
        return _unknown("quarantine", "habitat", "time", source, Cause("no_quarantine", old.name),
                        low=least, site=old.name)  # fmt: skip
    made = _made("quarantine", "habitat", "time", old.quarantined, (least, None), 0.0, source)
    return replace(made, site=old.name)


@dataclass(frozen=True, slots=True)
class Waiting:
    """When animals may enter: the earliest ``day`` of the plan and what it waits for, each with its own
    earliest day."""

    day: float
    parts: tuple[tuple[str, float], ...]


def waiting_of(habitat: Habitat, moving: Moving | None) -> Waiting:
    """The day from which animals may enter, counted from the first old habitat taken down, or from
    planting where there is none."""
    parts: list[tuple[str, float]] = []
    built = 0.0
    if moving is not None:
        steps = {what: (first, last) for what, first, last in moving.steps}
        built = float(steps["cycle"][0])
        if "quarantine" in steps:
            parts.append(("quarantine", float(steps["quarantine"][1])))
        parts.append(("cycle", float(steps["cycle"][1])))
    else:
        parts.append(("cycle", float(CYCLE[0])))
    if habitat.plants:
        latest = latest_planted(habitat.plants)
        longest = max(settle_days(p, latest) for p in habitat.plants)
        parts.append(("roots", built + longest))
    return Waiting(max(day for _, day in parts), tuple(parts))


def enter_findings(habitat: Habitat, moving: Moving | None) -> list[Finding]:
    """The day each group enters against the earliest."""
    wait = waiting_of(habitat, moving)
    told = tuple(Cause(f"enter_{what}", "", day) for what, day in wait.parts)
    out = []
    for groups in by_species(habitat):
        key = groups[0].species.key
        days = [g.enters for g in groups if g.enters is not None]
        if not days:
            out.append(_unknown("enter-day", key, "time", WAITED, Cause("no_day"), *told,
                                low=wait.day * DAY))  # fmt: skip
        else:
            out.append(_made("enter-day", key, "time", min(days), (wait.day * DAY, None), 0.0,
                             WAITED, "", told))  # fmt: skip
    return out


def young_findings(groups: list[Group], breeding: Breeding) -> list[Finding]:
    """Room for the young of one clutch of each female, where they are to stay."""
    key = groups[0].species.key
    wishes = {g.offspring for g in groups if g.offspring}
    if not breeding.breeds or wishes == {"leave"}:
        return []
    here = float(sum(g.count for g in groups))
    closed = [c for c in breeding.rooms if not c.open]
    causes: list[Cause] = []
    if breeding.clutches is not None:
        least, most = breeding.clutches
        causes.append(Cause("too_many_at", str(most), float(least)))
    if breeding.young is None or not closed:
        lacks = Cause("no_room_rule") if not closed else Cause("no_number", "clutch")
        return [_unknown("young-room", key, "count", HOLDS, lacks, *causes,
                         value=float(closed[0].animals) if closed else None)]  # fmt: skip
    least_young, most_young = breeding.young
    room, wanted = float(closed[0].animals), here + 0.5 * (least_young + most_young)
    if not wishes:
        causes.insert(0, Cause("young_undecided"))
        return [_unknown("young-room", key, "count", HOLDS, *causes, value=room, low=wanted)]
    return [_made("young-room", key, "count", room, (wanted, None),
                  0.5 * (most_young - least_young), HOLDS, "", tuple(causes))]  # fmt: skip


def joining_findings(habitat: Habitat, moving: Moving | None) -> list[Finding]:
    """Other species, quarantine and the day of entering."""
    out = mixed_findings(habitat)
    for down in moving.downs if moving else ():
        if down.named or down.counted:
            out.append(_quarantine(habitat, down.old))
    return out + enter_findings(habitat, moving)
