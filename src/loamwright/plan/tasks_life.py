"""The tasks of what lives: decomposers, planting, rooting, dry run, handover and the animals."""

from __future__ import annotations

import math

from loamwright.engine.ground.quantities import COVERS
from loamwright.engine.ground.study import is_arid
from loamwright.engine.life.decomposers_study import WAIT
from loamwright.engine.life.moving import CYCLE, READINGS
from loamwright.engine.life.plants_findings import settle_days
from loamwright.engine.life.plants_year import latest_planted
from loamwright.habitat.habitat import Habitat
from loamwright.plan.laying_work import laying_tasks
from loamwright.plan.task import DELIVERY, OWN, PRACTICE, Task, in_minutes
from loamwright.plan.tasks_old import quarantines, take_downs

DAY = 86_400.0
"""A day [s]."""


def life_tasks(habitat: Habitat, ready: int | None) -> list[Task]:
    """Tasks of what lives; ``ready`` as for `tasks.tasks_of`."""
    out = []
    groups = habitat.animals
    out += quarantines(habitat)
    laying = tuple(t.key for t in laying_tasks(habitat))
    last = ("ground", "doors", "wiring", "mist", "stones", "on-ground", *laying)
    if habitat.plants:
        litter = habitat.ground.layers and habitat.ground.layers[-1].kind in COVERS
        words = (
            "draw the litter aside, plant, lay it back, water in" if litter else "plant, water in"
        )
        out.append(Task("planting", words, (*last, "plants-apart", "old-plants"),
                        minutes=in_minutes(0.4 * len(habitat.plants))))  # fmt: skip
    settled = ready is not None or not is_arid(habitat)
    if habitat.decomposers and (settled or any(x.named for x in habitat.decomposers)):
        said = "computed by the engine of the ground's small life"
        if ready is None:
            said = (
                "not told by the computation; 8 to 12 weeks are usual, common practice, no source"
            )
        out.append(Task(
            "order-decomposers", "order the decomposers, to come on the day they are let in",
            minutes=15, wait=habitat.workshop.delivery, waits_for="delivery", source=DELIVERY,
            late=True,
        ))  # fmt: skip
        out.append(Task(
            "starters", "let in the decomposers",
            ("planting", "ground", "order-decomposers"), minutes=in_minutes(0.5),
        ))  # fmt: skip
        out.append(Task(
            "decomposers", "let the decomposers settle", ("starters",),
            wait=WAIT if ready is None else ready,
            waits_for="the ground's decomposers to keep up with its waste", source=said, away=True,
        ))  # fmt: skip
    if habitat.plants:
        latest = latest_planted(habitat.plants)
        slowest = max(habitat.plants, key=lambda p: settle_days(p, latest))
        rooted = math.ceil(settle_days(slowest, latest))
        out.append(Task(
            "establish", _root_words(habitat), ("planting", "starters"),
            wait=max(CYCLE[0], rooted),
            waits_for=f"'{slowest.name}' to bear animals" if rooted > CYCLE[0]
            else "the plants to root",
            source=f"{CYCLE[0]} days at least; 8 to 12 weeks with trees, 4 to 8 with others; "
            f"{PRACTICE}", away=True,
        ))  # fmt: skip
    run = ("planting", "starters", *last)
    out.append(Task(
        "dry-run", "run the climate without animals, data loggers out, write down the readings", run,
        minutes=in_minutes(1.0), wait=READINGS, waits_for="readings inside their limits, day after day",
        source=f"{READINGS} days on end; {PRACTICE}",
        # What the animals move into is read just before they do, not months before.
        late=bool(groups),
    ))  # fmt: skip
    out.append(Task(
        "handover", "measure every place of the handover sheet, read out the loggers that have "
        "lain there for a day and a night",
        ("dry-run", "establish", "decomposers"),
        minutes=in_minutes(2.0), late=bool(groups),
    ))  # fmt: skip
    if groups:
        entry = _enters(habitat)
        out += entry
        out.append(Task(
            "animals", "animals in",
            ("handover", "quarantine", "quarantine-own", *(t.key for t in entry)),
            minutes=in_minutes(0.5 * len(groups)),
        ))  # fmt: skip
    return out


def _root_words(habitat: Habitat) -> str:
    """Plants root; what runs meanwhile is what the habitat has."""
    misted = habitat.mist is not None and habitat.mist.nozzles
    runs = [*(["lamps"] if habitat.lamps else []), *(["mist"] if misted else [])]
    return "let the plants root" + (f", {' and '.join(runs)} running" if runs else "")


def _enters(habitat: Habitat) -> list[Task]:
    """The wait until the day that the file sets for moving in, the latest where groups differ: it
    counts from the first old habitat taken down, or from planting."""
    told = [g.enters for g in habitat.animals if g.enters is not None]
    if not told:
        return []
    days = math.ceil(max(told) / DAY - 1e-9)
    downs = take_downs(habitat)
    since, words = (
        ((downs[0][0],), f"taking down '{downs[0][1].name}'") if downs
        else (("planting",), "planting") if habitat.plants
        else (("ground",), "filling the ground")
    )  # fmt: skip
    return [Task(
        "enters", f"wait for the day you set for moving in, counted from {words}", since,
        wait=days, waits_for="'enters' in the file", source=OWN, away=True,
    )]  # fmt: skip
