"""The tasks of a build: what is done, how long it takes, what it waits for.

Hours of work are those of common practice for a box of this kind and have no source; a workshop puts
its own in their place by its price for labour and its people. Cure times are of sealants and
adhesives of their kind: the maker's sheet decides.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from loamwright.engine.ground.study import is_arid
from loamwright.engine.life.decomposers_study import WAIT
from loamwright.engine.life.moving import CYCLE, PLANTS, QUARANTINE, READINGS
from loamwright.engine.life.plants_findings import settle_days
from loamwright.engine.life.plants_year import latest_planted
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.plan.glass_front import is_glass, later_glass
from loamwright.plan.joining import sealed_length
from loamwright.plan.quantities_box import spans
from loamwright.plan.task_words import (
    drainage_words,
    from_behind,
    joined_words,
    leak_words,
    place_words,
    wall_words,
)

PRACTICE = "common practice, no source"
CURES = {
    "silicone": (7, "neutral silicone: light use after a day, full cure up to 7 days; makers' sheets "
                 "as restated, and 7 days before animals"),
    "coated-pu-foam": (14, "two-part resin or coating: the maker's full cure, 7 to 21 days, then air; "
                       "from memory"),
    "clay-background": (14, "a clay face dries for one to two weeks; common practice, no source"),
    "grout": (14, "cement grout hardens and is rinsed for two weeks; common practice, no source"),
    "concrete": (28, "concrete reaches its strength in 28 days; common practice"),
}  # fmt: skip
"""Days until something cured may get wet, by material [d], and where that is from."""

LEAK_TEST = 1
"""Days the filled floor stands before it counts as tight [d]: a day and a night; common practice."""

SECOND_HAND_KG = 25.0
"""Mass from which two lift together [kg]; common practice, local rules on lifting decide."""


@dataclass(frozen=True, slots=True)
class Task:
    """One task: ``key`` and ``name``; ``before`` keys of the tasks that must be done first;
    ``minutes`` of work by each of its ``crew``; ``wait`` whole days that pass after the work before the
    next may begin [d] and ``waits_for`` in words; ``source`` of the times; ``away`` True where it goes
    on apart from the build and takes none of its hands. ``late`` True where it is done no sooner than
    what waits for it asks: live goods keep badly; its work is done before that of the tasks
    ``ahead_of`` which it stands."""

    key: str
    name: str
    before: tuple[str, ...] = ()
    minutes: int = 0
    crew: int = 1
    wait: int = 0
    waits_for: str = ""
    source: str = PRACTICE
    away: bool = False
    late: bool = False
    ahead_of: tuple[str, ...] = ()


def _hours(hours: float) -> int:
    """Hours as minutes of work, to a quarter of an hour."""
    return max(15, round(hours * 4.0) * 15)


OWN = "the builder's own"
"""Source of a time that the file gives."""

DELIVERY = "the file's own, or common practice"
"""Source of the time that ordered goods take."""

APART = f"{PLANTS[0]} to {PLANTS[1]} days; common practice, from memory"
"""Source of the time that plants are kept apart."""


def tasks_of(habitat: Habitat, ready: int | None = None, moist: float = 0.0) -> tuple[Task, ...]:
    """Every task of a habitat's build, in an order in which they can be done; times that the file's
    workshop gives stand in for those here.

    Parameters
    ----------
    ready : int, optional
        Days after planting by which the ground's decomposers are ready, as the engine says; None: not
        known, or never within a year: the usual wait stands in.
    moist : float
        Mass of the moist ground [kg], for how long it takes to fill.
    """
    made = [
        *_goods(habitat), *_box(habitat), *_fitting(habitat), *_ground(habitat, moist),
        *_life(habitat, ready),
    ]  # fmt: skip
    there = {t.key for t in made}
    return tuple(_own(t, habitat, there) for t in made)


def _own(task: Task, habitat: Habitat, there: set[str]) -> Task:
    """A task with the builder's own times, waiting only for tasks that are there."""
    work, waits = dict(habitat.workshop.work), dict(habitat.workshop.waits)
    return replace(
        task,
        before=tuple(b for b in task.before if b in there),
        minutes=round(work[task.key] / 60.0) if task.key in work else task.minutes,
        wait=waits.get(task.key, task.wait),
        source=OWN if task.key in work or task.key in waits else task.source,
    )


def _goods(habitat: Habitat) -> list[Task]:
    lives = habitat.plants or habitat.animals
    apart = ["glass that is measured later"] if later_glass(habitat).there else []
    apart += ["what lives"] if lives else []
    out = [
        Task("order", "order the goods" + (f", all but {' and '.join(apart)}" if apart else ""),
             minutes=60, wait=habitat.workshop.delivery, waits_for="delivery", source=DELIVERY),
    ]  # fmt: skip
    if habitat.existing:
        out += _old(habitat)
    if habitat.plants:
        out.append(Task(
            "order-plants", "order the plants, to come in time to be kept apart", minutes=30,
            wait=habitat.workshop.delivery, waits_for="delivery", source=DELIVERY, late=True,
        ))  # fmt: skip
        out.append(Task(
            "plants-apart", "plants: wash off nursery soil, keep apart, look for pests",
            ("order-plants",), minutes=_hours(0.2 * len(habitat.plants)), wait=PLANTS[0],
            waits_for="pests to show", source=APART, late=True,
        ))  # fmt: skip
    return out


def _old(habitat: Habitat) -> list[Task]:
    """Old habitats taken down, and the plants in them kept apart like bought ones."""
    hours = sum(2.0 + 0.02 * 1000.0 * x.ground_volume for x in habitat.existing)
    # Living ground is not kept in buckets for weeks; animals that move must be apart in time.
    moves = any(g.origins for g in habitat.animals)
    out = [Task("take-down", "take down the old habitat: catch, count, search its ground",
                () if moves else ("place", "background"), minutes=_hours(hours))]  # fmt: skip
    plants = sum(len(x.plants) for x in habitat.existing)
    if plants and habitat.plants:
        out.append(Task(
            "old-plants", "take the old habitat's plants out, rinse their roots, keep them apart",
            ("take-down",) if moves else (), minutes=_hours(0.25 * plants), wait=PLANTS[0],
            waits_for="pests to show", source=APART, late=True,
            ahead_of=() if moves else ("take-down",),
        ))  # fmt: skip
    return out


def _box(habitat: Habitat) -> list[Task]:
    box = habitat.enclosure
    cut = [p for p in box.panels if not is_glass(p.material.key)]
    heavy = _heaviest_panel(habitat) >= SECOND_HAND_KG
    later = later_glass(habitat)
    silicone, cures = CURES["silicone"]
    out = [
        Task("cut", "cut the panels and the openings", ("order",),
             minutes=_hours(0.5 * len(cut) + 0.5 * len(box.openings) + 0.25 * len(habitat.fans))),
        Task("glue", joined_words(habitat), ("cut",),
             minutes=_hours(1.0 + 0.25 * sealed_length(habitat)), crew=2 if heavy else 1,
             wait=1, waits_for="the sealant to take a light load", source=cures),
        Task("cure", "let the sealant cure", ("glue",), wait=silicone - 1,
             waits_for="the sealant to cure", source=cures, away=True),
    ]  # fmt: skip
    if later.there:
        out.append(Task(
            "glass", f"measure the {later.where} and order the glass: {later.what}", ("glue",),
            minutes=_hours(0.5 + 0.25 * later.panes), wait=habitat.workshop.delivery,
            waits_for="the glass to come", source=DELIVERY,
        ))  # fmt: skip
    if later.strip:
        out.append(Task(
            "strip", f"bed the {later.strip} in sealant", ("glue", "glass"), minutes=_hours(1.0),
            crew=2, wait=silicone, waits_for="its sealant to cure", source=cures,
        ))  # fmt: skip
    out.append(Task("leak", leak_words(habitat), ("cure", "strip"), minutes=_hours(0.5), wait=LEAK_TEST,
                    waits_for="a leak to show"))  # fmt: skip
    if box.stand is not None:
        out.append(Task("stand", "set up and level the stand", ("order",), minutes=_hours(1.5)))
    out.append(Task("place", place_words(habitat), ("stand", "leak"),
                    minutes=_hours(0.5), crew=2))  # fmt: skip
    return out


def _heaviest_panel(habitat: Habitat) -> float:
    """Mass of the heaviest panel [kg]; a door counts by itself."""
    return max(
        (
            wide * high * p.thickness * (p.material.density or 0.0) / max(1, p.doors)
            for p in habitat.enclosure.panels
            for wide, high in [spans(habitat)[p.side]]
        ),
        default=0.0,
    )


def _fitting(habitat: Habitat) -> list[Task]:
    out = []
    linings = habitat.enclosure.linings
    if linings:
        area = sum(spans(habitat)[x.side][0] * spans(habitat)[x.side][1] for x in linings)
        longest = max(
            (CURES.get(x.material.key, CURES["silicone"]) for x in linings), key=lambda c: c[0]
        )
        out.append(Task(
            "background", "fix and finish the background", ("leak",), minutes=_hours(2.5 * area),
            wait=longest[0], waits_for="the background's adhesive and coating to cure",
            source=longest[1],
        ))  # fmt: skip
    if habitat.enclosure.openings:
        out.append(Task("meshes", "fit meshes and covers over the openings", ("leak",),
                        minutes=_hours(0.5 * len(habitat.enclosure.openings))))  # fmt: skip
    if any(p.doors for p in habitat.enclosure.panels):
        doors = sum(p.doors for p in habitat.enclosure.panels)
        out.append(Task("doors", "hang the doors, fit the locks", ("place", "background", "glass"),
                        minutes=_hours(0.75 * doors), crew=2))  # fmt: skip
    loads = len(habitat.lamps) + len(habitat.fans) + len(habitat.controls)
    if loads:
        out.append(Task(
            "wiring", "mount lamps, fans, controls and probes; wire and test, protection first",
            # Probes sit on branches.
            ("place", "background", "meshes", "anchor"), minutes=_hours(0.5 * loads + 1.0),
        ))  # fmt: skip
    if habitat.mist is not None and habitat.mist.nozzles:
        out.append(Task(
            "mist", "lay the misting line, test it under pressure",
            ("place", "background", "meshes"), minutes=_hours(1.0 + 0.5 * len(habitat.mist.nozzles)),
        ))  # fmt: skip
    fixed = [p for p in habitat.hardscape if p.fixing]
    if fixed:
        out.append(Task("anchor", "anchor what is screwed or glued: branches, tubes",
                        ("place", "background", "drainage"),
                        minutes=_hours(0.5 * len(fixed))))  # fmt: skip
    return out


def _ground(habitat: Habitat, moist: float) -> list[Task]:
    out = []
    drainage, wall = drainage_words(habitat), wall_words(habitat)
    ready = ("place", "background", "wiring", "mist", "anchor")
    if drainage:
        # What stands in the ground stands on it.
        wide, deep, _ = habitat.enclosure.inside
        out.append(Task("drainage", drainage, ("place", "background"),
                        minutes=_hours(0.25 + 0.5 * wide * deep)))  # fmt: skip
    if wall:
        out.append(Task("wall", wall, ready, minutes=_hours(0.25 if not from_behind(habitat) else 0.5),
                        crew=2))  # fmt: skip
    held = (*ready, "drainage", "wall")
    loose = [p for p in habitat.hardscape if not p.fixing]
    if loose:
        out.append(Task("stones", "set stones and what rests on the floor, each so that digging cannot "
                        "move it", held, minutes=_hours(0.25 * len(loose))))  # fmt: skip
    if habitat.ground.layers:
        # About 60 kg an hour: sieved, mixed, moistened, carried and tamped by hand.
        higher = any(x.kind not in DRAINING for x in habitat.ground.layers)
        above = " above its drainage" if drainage and higher else ""
        out.append(Task("ground", f"mix, moisten and fill the ground{above}, layer by layer",
                        (*held, "stones", "take-down"),
                        minutes=_hours(1.0 + moist / 60.0)))  # fmt: skip
    return out


def _life(habitat: Habitat, ready: int | None) -> list[Task]:
    out = []
    groups = habitat.animals
    if groups:
        names = ", ".join(dict.fromkeys(g.species.label for g in groups))
        bought = any(not g.origins for g in groups)
        if bought:
            # Not put off: a sick or a new animal starts the quarantine again.
            out.append(Task(
                "order-animals", f"agree on the animals with who bred them ({names}): they go into "
                "quarantine on the day they come", minutes=_hours(0.5),
            ))  # fmt: skip
        out.append(Task(
            "quarantine", f"quarantine of the animals ({names}), by themselves and under a "
            "veterinarian", ("order-animals",) if bought else ("take-down",),
            wait=QUARANTINE[0] if not bought
            else QUARANTINE[1],
            waits_for="the quarantine to end" if bought else "the health check of your own animals",
            source=f"at least {QUARANTINE[0]} days under a veterinarian, AZA, as restated; "
            f"{QUARANTINE[1]} for bought animals, from memory; a new animal starts it again",
            away=True,
        ))  # fmt: skip
    last = ("ground", "doors", "wiring", "mist", "stones")
    if habitat.plants:
        out.append(Task("planting", "plant, water in", (*last, "plants-apart", "old-plants"),
                        minutes=_hours(0.4 * len(habitat.plants))))  # fmt: skip
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
        out.append(Task("starters", "let in the decomposers, strew the litter",
                        ("planting", "ground", "order-decomposers"), minutes=_hours(0.5)))  # fmt: skip
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
            "establish", "let the plants root, lamps and mist running", ("planting", "starters"),
            wait=max(CYCLE[0], rooted),
            waits_for=f"'{slowest.name}' to bear animals" if rooted > CYCLE[0]
            else "the plants to root",
            source=f"{CYCLE[0]} days at least; 8 to 12 weeks with trees, 4 to 8 with others; "
            f"{PRACTICE}", away=True,
        ))  # fmt: skip
    run = ("planting", "starters", *last)
    out.append(Task(
        "dry-run", "run the climate without animals, write down the readings", run,
        minutes=_hours(1.0), wait=READINGS, waits_for="readings inside their limits, day after day",
        source=f"{READINGS} days on end; {PRACTICE}",
    ))  # fmt: skip
    out.append(Task(
        "handover", "measure every place of the handover sheet",
        ("dry-run", "establish", "decomposers"),
        minutes=_hours(2.0),
    ))  # fmt: skip
    if groups:
        out.append(Task(
            "animals", "animals in", ("handover", "quarantine"),
            minutes=_hours(0.5 * len(groups)),
        ))  # fmt: skip
    return out
