"""The tasks of a build: what is done, how long it takes, what it waits for.

Hours of work are those of common practice for a box of this kind and have no source; a workshop puts
its own in their place by its price for labour and its people. Cure times are of sealants and
adhesives of their kind: the maker's sheet decides.
"""

from __future__ import annotations

from dataclasses import replace

from loamwright.engine.ground.quantities import COVERS
from loamwright.engine.life.moving import PLANTS
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import doors_slide
from loamwright.plan.glass_front import is_glass, later_glass
from loamwright.plan.joining import sealed_later, sealed_length
from loamwright.plan.laying_work import laying_tasks
from loamwright.plan.mortar import in_mortar
from loamwright.plan.quantities_box import spans
from loamwright.plan.resting import on_ground
from loamwright.plan.runner_carrier import carrier_of
from loamwright.plan.task import APART, DELIVERY, OWN, PRACTICE, Task, in_minutes
from loamwright.plan.task_keys import kind_of
from loamwright.plan.task_words import (
    drainage_words,
    fixed_words,
    from_behind,
    joined_words,
    laid_words,
    leak_words,
    place_words,
    wall_words,
)
from loamwright.plan.tasks_life import life_tasks
from loamwright.plan.tasks_old import old_tasks, wanted_ground

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

SETS = f"a day, then sealed; the adhesive maker's sheet decides; {PRACTICE}"
"""How long an adhesive sets before what it joins is sealed."""

LEAK_TEST = 1
"""Days the filled floor stands before it counts as tight [d]: a day and a night; common practice."""

SECOND_HAND_KG = 25.0
"""Mass from which two lift together [kg]; common practice, local rules on lifting decide."""


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
        *life_tasks(habitat, ready),
    ]  # fmt: skip
    there = {t.key for t in made}
    usual: dict[str, int] = {}
    for t in made:
        usual[kind_of(t.key)] = usual.get(kind_of(t.key), 0) + t.minutes
    return tuple(_own(t, habitat, there, usual) for t in made)


def _own(task: Task, habitat: Habitat, there: set[str], usual: dict[str, int]) -> Task:
    """A task with the builder's own times, waiting only for tasks that are there. A kind of which there
    are several shares the builder's time for it as it would its ``usual`` minutes."""
    work, waits = dict(habitat.workshop.work), dict(habitat.workshop.waits)
    kind = kind_of(task.key)
    share = task.minutes / usual[kind] if usual[kind] else 1.0
    return replace(
        task,
        before=tuple(b for b in task.before if b in there),
        minutes=round(work[kind] * share / 60.0) if kind in work else task.minutes,
        wait=waits.get(kind, task.wait),
        source=OWN if kind in work or kind in waits else task.source,
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
        out += old_tasks(habitat)
    if habitat.plants:
        out.append(Task(
            "order-plants", "order the plants, to come in time to be kept apart", minutes=30,
            wait=habitat.workshop.delivery, waits_for="delivery", source=DELIVERY, late=True,
        ))  # fmt: skip
        out.append(Task(
            "plants-apart", "plants: wash off nursery soil, keep apart, look for pests",
            ("order-plants",), minutes=in_minutes(0.2 * len(habitat.plants)), wait=PLANTS[0],
            waits_for="pests to show", source=APART, late=True,
        ))  # fmt: skip
    return out


def _box(habitat: Habitat) -> list[Task]:
    box = habitat.enclosure
    cut = [p for p in box.panels if not is_glass(p.material.key)]
    heavy = _heaviest_panel(habitat) >= SECOND_HAND_KG
    later = later_glass(habitat)
    silicone, cures = CURES["silicone"]
    sealing = 0.25 * sealed_length(habitat)
    light = "the sealant to take a light load"
    apart = sealed_later(habitat)
    out = [
        Task("cut", "cut the panels and the openings", ("order",),
             minutes=in_minutes(0.5 * len(cut) + 0.5 * len(box.openings) + 0.25 * len(habitat.fans))),
        Task("glue", joined_words(habitat), ("cut",),
             minutes=in_minutes(1.0 + (0.0 if apart else sealing)), crew=2 if heavy else 1, wait=1,
             waits_for="the adhesive to set" if apart else light, source=SETS if apart else cures),
    ]  # fmt: skip
    if apart:
        out.append(Task(
            "seal", "seal the corners of the box, once its adhesive has set", ("glue",),
            minutes=in_minutes(sealing), wait=1, waits_for=light, source=cures,
        ))  # fmt: skip
    out.append(Task("cure", "let the sealant cure", ("glue", "seal"), wait=silicone - 1,
                    waits_for="the sealant to cure", source=cures, away=True))  # fmt: skip
    # Sliding doors fit between the runners, which lie on the strip: they are measured once it is in.
    doors = later.panes - 1 if later.strip and doors_slide(habitat) else 0
    if later.there:
        what = later.strip if doors else later.what
        out.append(Task(
            "glass", f"measure the {later.where} and order the glass: {what}", ("glue",),
            minutes=in_minutes(0.5 + 0.25 * (later.panes - doors)), wait=habitat.workshop.delivery,
            waits_for="the glass to come", source=DELIVERY,
        ))  # fmt: skip
    if later.strip:
        carried = ""
        if doors:
            carried = ", its runner carrier" if carrier_of(habitat) is not None else ""
            carried += " and both runners"
        out.append(Task(
            "strip", f"bed the {later.strip}{carried} in sealant", ("glue", "seal", "glass"),
            minutes=in_minutes(1.0),
            crew=2, wait=silicone, waits_for="its sealant to cure", source=cures,
        ))  # fmt: skip
    if doors:
        out.append(Task(
            "door-glass", "measure between the runners and order the glass: "
            + ("1 door" if doors == 1 else f"{doors} doors"), ("strip",),
            minutes=in_minutes(0.25 + 0.25 * doors), wait=habitat.workshop.delivery,
            waits_for="the glass to come", source=DELIVERY,
        ))  # fmt: skip
    out.append(Task("leak", leak_words(habitat), ("cure", "strip"), minutes=in_minutes(0.5),
                    wait=LEAK_TEST, waits_for="a leak to show"))  # fmt: skip
    if box.stand is not None:
        out.append(Task("stand", "set up and level the stand", ("order",), minutes=in_minutes(1.5)))
    out.append(Task("place", place_words(habitat), ("stand", "leak"),
                    minutes=in_minutes(0.5), crew=2))  # fmt: skip
    return out


def _background_words(habitat: Habitat) -> str:
    """Fixing the background: the leak test is over, and its lowest screws pierce the panel where the
    ground's water stands."""
    pierced = any(
        x.screws or "screw" in x.fixing
        for x in habitat.enclosure.linings if x.side not in ("top", "floor")
    )  # fmt: skip
    told = "fix and finish the background"
    if pierced and habitat.ground.depth > 0.0:
        told += ", screws below the ground's top set in sealant"
    return told


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
            "background", _background_words(habitat), ("leak",), minutes=in_minutes(2.5 * area),
            wait=longest[0], waits_for="the background's adhesive and coating to cure",
            source=longest[1],
        ))  # fmt: skip
    if habitat.enclosure.openings:
        out.append(Task("meshes", "fit meshes and covers over the openings", ("leak",),
                        minutes=in_minutes(0.5 * len(habitat.enclosure.openings))))  # fmt: skip
    if any(p.doors for p in habitat.enclosure.panels):
        doors = sum(p.doors for p in habitat.enclosure.panels)
        # Where the fixed strip is no glass, nothing before has bedded the runners.
        fits = doors_slide(habitat) and not later_glass(habitat).strip
        runners = "bed both runners in sealant a day before, " if fits else ""
        out.append(Task("doors", f"{runners}hang the doors, fit the locks",
                        ("place", "background", "glass", "door-glass"),
                        minutes=in_minutes(0.75 * doors), crew=2))  # fmt: skip
    loads = len(habitat.lamps) + len(habitat.fans) + len(habitat.controls)
    if loads:
        out.append(Task(
            "wiring", "mount lamps, fans, controls and probes; wire and test, protection first",
            # Probes sit on branches.
            ("place", "background", "meshes", "anchor"), minutes=in_minutes(0.5 * loads + 1.0),
        ))  # fmt: skip
    if habitat.mist is not None and habitat.mist.nozzles:
        out.append(Task(
            "mist", "lay the misting line, test it under pressure",
            ("place", "background", "meshes"),
            minutes=in_minutes(1.0 + 0.5 * len(habitat.mist.nozzles)),
        ))  # fmt: skip
    lies = on_ground(habitat)
    fixed = [p for p in habitat.hardscape if p.fixing and p not in lies]
    if fixed:
        out.append(Task("anchor", fixed_words(fixed), ("place", "background", "drainage"),
                        minutes=in_minutes(0.5 * len(fixed))))  # fmt: skip
        sticks = [CURES[kind] for kind, held in (
            ("grout", any(in_mortar(p) for p in fixed)), ("silicone", any(p.glued for p in fixed)),
        ) if held]  # fmt: skip
        if sticks:
            days, source = max(sticks)
            out.append(Task("pieces-cure", "let what holds the pieces cure", ("anchor",), wait=days,
                            waits_for="mortar and glue of the pieces to cure", source=source,
                            away=True))  # fmt: skip
    return out


def _ground(habitat: Habitat, moist: float) -> list[Task]:
    out = []
    drainage, wall = drainage_words(habitat), wall_words(habitat)
    ready = ("place", "background", "wiring", "mist", "anchor")
    if drainage:
        # What stands in the ground stands on it.
        wide, deep, _ = habitat.enclosure.inside
        out.append(Task("drainage", drainage, ("place", "background"),
                        minutes=in_minutes(0.25 + 0.5 * wide * deep)))  # fmt: skip
    if wall:
        out.append(Task("wall", wall, ready, crew=2,
                        minutes=in_minutes(0.5 if from_behind(habitat) else 0.25)))  # fmt: skip
    # Ground presses against pieces, and its water gets into mortar that is not hard.
    held = (*ready, "pieces-cure", "drainage", "wall")
    lies = on_ground(habitat)
    loose = [p for p in habitat.hardscape if not p.fixing and p not in lies]
    if loose:
        out.append(Task("stones", "set stones and what rests on the floor, each so that digging cannot "
                        "move it", held, minutes=in_minutes(0.25 * len(loose))))  # fmt: skip
    if habitat.ground.layers:
        # About 60 kg an hour: sieved, mixed, moistened, carried and tamped by hand.
        higher = any(x.kind not in DRAINING for x in habitat.ground.layers)
        above = " above its drainage" if drainage and higher else ""
        # Before what lies on it is set; plants are put in through it.
        last = ", its litter last" if habitat.ground.layers[-1].kind in COVERS else ""
        out.append(Task("ground", f"mix, moisten and fill the ground{above}, layer by layer{last}",
                        (*held, "stones", *wanted_ground(habitat)),
                        minutes=in_minutes(1.0 + moist / 60.0)))  # fmt: skip
    if lies or habitat.water:
        # Ground is not tamped under what lies on it, nor a bowl filled with it.
        out.append(Task("on-ground", laid_words(lies, habitat.water), (*held, "stones", "ground"),
                        minutes=in_minutes(0.25 * (len(lies) + len(habitat.water)))))  # fmt: skip
    return [*out, *laying_tasks(habitat)]
