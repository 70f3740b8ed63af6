"""The tasks of old habitats: each taken down when its ground is wanted, its plants and animals apart in
time.

Living ground is not kept in buckets for weeks, so that a habitat whose ground goes in comes down when
the new box is ready for it. Its plants come out of it before, while all else stays.
"""

from __future__ import annotations

import math

from loamwright.engine.life.moving import PLANTS, QUARANTINE, comes_first
from loamwright.engine.life.old_plants import old_plants
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Existing
from loamwright.plan.task import APART, OWN, Task, in_minutes, numbered

READY = ("place", "background", "wiring", "mist", "anchor", "drainage")
"""What is done before old ground can go in, as far as the box has it."""

DAY = 86_400.0
"""A day [s]."""

AZA = f"at least {QUARANTINE[0]} days under a veterinarian, AZA, as restated"

COVER = "; leave the animals cover"
"""Said where plants are taken out of a habitat that is lived in."""


def take_downs(habitat: Habitat) -> tuple[tuple[str, Existing], ...]:
    """The key of the task that takes down each old habitat, in the order in which they come down."""
    found = comes_first(habitat)
    return tuple(zip(numbered("take-down", len(found)), found, strict=True))


def wanted_ground(habitat: Habitat) -> tuple[str, ...]:
    """Keys of the tasks that give old ground to the new one."""
    carried = {name for layer in habitat.ground.layers for name, _ in layer.reuse}
    return tuple(key for key, old in take_downs(habitat) if old.name in carried)


def moved_from(habitat: Habitat) -> tuple[str, ...]:
    """Keys of the tasks that take down the habitats which the new residents leave."""
    left = {name for g in habitat.animals for name in g.origins}
    return tuple(key for key, old in take_downs(habitat) if old.name in left)


def old_tasks(habitat: Habitat) -> list[Task]:
    """Old habitats taken down one after the other, and those of their plants that have a place kept
    apart like bought ones."""
    downs = take_downs(habitat)
    left = {name for g in habitat.animals for name in g.origins}
    out = [
        Task(key, _words(old, old.name in left), READY if k == 0 else (*READY, downs[k - 1][0]),
             minutes=in_minutes(2.0 + 0.02 * 1000.0 * old.ground_volume))
        for k, (key, old) in enumerate(downs)
    ]  # fmt: skip
    taken = [(key, old, [p for p in old_plants(habitat, old) if p.may]) for key, old in downs]
    taken = [x for x in taken if x[2]]
    if taken:
        count = sum(len(found) for _, _, found in taken)
        lived_in = any(old.animals or old.counted or old.name in left for _, old, _ in taken)
        names = [f"'{old.name}'" for _, old, _ in taken]
        where = " and ".join(names) if len(names) < 3 else f"{len(names)} old habitats"
        out.append(Task(
            "old-plants", f"take the plants that move out of {where}, rinse their roots, keep them "
            f"apart{COVER if lived_in else ''}", (), minutes=in_minutes(0.25 * count), wait=PLANTS[0],
            waits_for="pests to show", source=APART, late=True,
            ahead_of=tuple(key for key, _, _ in taken),
        ))  # fmt: skip
    return out


def _words(old: Existing, left: bool) -> str:
    """What is done where one old habitat is taken down."""
    what = ["catch and count its animals"] if left or old.animals or old.counted else []
    what += ["search its ground"] if old.ground_volume else []
    return f"take down '{old.name}'" + (f": {', '.join(what)}" if what else "")


def quarantines(habitat: Habitat) -> list[Task]:
    """The quarantine of bought animals, which begins as soon as they are agreed on, and of those that
    move, which begins when the last of their habitats has come down."""
    bought = [g for g in habitat.animals if not g.origins]
    moved = [g for g in habitat.animals if g.origins]
    again = "a new animal starts it again"
    out = []
    if bought:
        names = ", ".join(dict.fromkeys(g.species.label for g in bought))
        # Not put off: a sick or a new animal starts the quarantine again.
        out.append(Task(
            "order-animals", f"agree on the animals with who bred them ({names}): they go into "
            "quarantine on the day they come", minutes=in_minutes(0.5),
        ))  # fmt: skip
        out.append(Task(
            "quarantine", f"quarantine of the animals ({names}), by themselves and under a "
            "veterinarian", ("order-animals",), wait=QUARANTINE[1],
            waits_for="the quarantine to end",
            source=f"{AZA}; {QUARANTINE[1]} for bought animals, from memory; {again}", away=True,
        ))  # fmt: skip
    if moved:
        names = ", ".join(dict.fromkeys(g.species.label for g in moved))
        left = {name for g in moved for name in g.origins}
        said = [x.quarantined for x in habitat.existing if x.name in left and x.quarantined]
        days = max(QUARANTINE[0], math.ceil(max(said, default=0.0) / DAY - 1e-9))
        out.append(Task(
            "quarantine-own" if bought else "quarantine", "quarantine of the animals that move "
            f"({names}), in bare boxes and under a veterinarian", moved_from(habitat),
            wait=days, waits_for="the health check of your own animals",
            source=f"{OWN}; {AZA}" if days > QUARANTINE[0] else f"{AZA}; {again}", away=True,
        ))  # fmt: skip
    return out
