"""Plants and sites: from what the file says to places in the box."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from loamwright.files.build_context import COMMON_PRACTICE, Build, unit_vector
from loamwright.files.build_hardscape import GROUND_WORDS, Placed, lifted, place_on
from loamwright.files.build_solids import CLEAR, Solid, plus
from loamwright.files.document import Loc
from loamwright.files.schema_inside import PlantPart, SitePart
from loamwright.files.schema_values import Quantity, words
from loamwright.habitat.enclosure import Enclosure, Vec3
from loamwright.habitat.planting import Plant
from loamwright.habitat.sites import Site

YOUNG = 0.6
"""Share of the mature size a plant is taken to have where no size is given."""
ABOVE_CROWN = 0.005
"""How far above a plant its crown's site lies [m]."""

_UP = (0.0, 0.0, 1.0)
_WAYS: dict[str, Vec3] = {
    "up": _UP,
    "down": (0.0, 0.0, -1.0),
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
    "front": (0.0, -1.0, 0.0),
    "back": (0.0, 1.0, 0.0),
}


def build_plants(
    build: Build,
    parts: Sequence[PlantPart],
    solids: Mapping[str, Solid],
    box: Enclosure,
    ground: float,
) -> list[tuple[Loc, Plant]]:
    """The plants, each with its place in the file."""
    made: list[tuple[Loc, Plant]] = []
    entries = build.entries("plants", parts)
    taken = {part.name for _, part in entries if part.name}
    for loc, part in entries:
        name = part.name or _free_name(part.species, taken)
        taken.add(name)
        where = f"plants[{name}]"
        if part.name is None:
            build.default(f"{where}.name", name, "after its species")
        kind = build.plant(part.species, (*loc, "species"))
        placed = _surface(build, loc, part, solids, ground, where)
        if kind is None or placed is None:
            build.lost_names.update((name, f"{name} crown"))
            continue
        foot = placed[0]
        sizes: list[float] = []
        limits = (0.9 * (box.inside[2] - foot[2]), min(box.inside[:2]))
        for key, limit in zip(("height", "spread"), limits, strict=True):
            given: Quantity | None = getattr(part, key)
            mature: float | None = getattr(kind, f"mature_{key}")
            if given is not None:
                sizes.append(float(given))
            elif mature is None:
                build.say((*loc, key), f"is needed: the catalogue has no mature {key} of it")
            else:
                size = min(YOUNG * mature, limit) if build.box_known else YOUNG * mature
                why = f"{YOUNG:.0%} of its mature {key} of {build.show(mature)}"
                if size < YOUNG * mature:
                    why += ", no more than the box allows"
                build.default(f"{where}.{key}", build.show(size), f"{why}; {COMMON_PRACTICE}")
                sizes.append(max(size, 0.01))
        if len(sizes) < 2:
            build.lost_names.update((name, f"{name} crown"))
            continue
        on = "" if part.on is None or part.on in GROUND_WORDS else part.on
        growth = None if part.growth is None else float(part.growth)
        made.append(
            (
                loc,
                Plant(name, kind, foot, sizes[0], sizes[1], on, growth, part.planted, part.carries),
            )
        )
    return made


def _free_name(species: str, taken: set[str]) -> str:
    number, name = 1, species
    while name in taken:
        number += 1
        name = f"{species} {number}"
    return name


def _surface(
    build: Build,
    loc: Loc,
    part: PlantPart | SitePart,
    solids: Mapping[str, Solid],
    ground: float,
    where: str,
    side: Vec3 | None = None,
) -> Placed | None:
    """The surface a plant or a site is on, or its point in the air facing up."""
    if part.on is not None and part.on not in GROUND_WORDS:
        if part.on not in solids:
            build.unknown_name((*loc, "on"), part.on, "piece", [*solids, *GROUND_WORDS])
            return None
        return place_on(build, loc, solids[part.on], part.at, part.along, where, side)
    if part.along is not None:
        build.say((*loc, "along"), "needs 'on' with the branch or tube it is on", key=True)
        return None
    if part.at is None:
        build.say((*loc, "at"), "is needed: [x, y, z], [x, y] on the ground, or 'on' with a piece")
        return None
    x, y = float(part.at[0]), float(part.at[1])
    if len(part.at) == 2:
        return (x, y, ground), _UP
    if part.on is not None:
        build.say((*loc, "at"), f"has a height, and it is on the {part.on}; give [x, y]")
        return None
    return (x, y, float(part.at[2])), _UP


def build_sites(
    build: Build, parts: Sequence[SitePart], solids: Mapping[str, Solid], ground: float
) -> list[tuple[Loc, Site]]:
    """The sites of the file, each with its place in it."""
    made: list[tuple[Loc, Site]] = []
    entries = build.entries("sites", parts)
    for loc, part in entries:
        where = f"sites[{part.name}]"
        species = words(part.species)
        for i, key in enumerate(species):
            place = (*loc, "for", i) if isinstance(part.species, list) else (*loc, "for")
            build.species(key, place)
        if part.role is None:
            build.default(f"{where}.role", "probe", "a place to know the values of")
        side = _normal(build, loc, part)
        found = _site_place(build, loc, part, solids, ground, where, side)
        if found is None:
            build.lost_names.add(part.name)
            continue
        at, normal = found
        role = part.role or "probe"
        made.append((loc, Site(part.name, at, side or normal, role, tuple(species))))
    return made


def _site_place(
    build: Build,
    loc: Loc,
    part: SitePart,
    solids: Mapping[str, Solid],
    ground: float,
    where: str,
    side: Vec3 | None,
) -> Placed | None:
    """The point in the air of a site, and the way the surface below it faces."""
    if part.inside:
        solid = solids.get(part.on or "")
        if solid is not None and solid.piece.shape == "tube" and part.at is None:
            if part.along is None:
                build.default(f"{where}.along", "0.5", "the middle of the tube")
            placed = solid.within(0.5 if part.along is None else float(part.along))
            return lifted(placed), placed[1]
        if part.on is None:
            build.say((*loc, "inside"), "needs 'on' with the tube it is inside of", key=True)
        elif solid is None and part.on not in GROUND_WORDS:
            build.unknown_name((*loc, "on"), part.on, "piece", [*solids, *GROUND_WORDS])
        else:
            message = f"{part.on!r} is no tube that holds a place given by 'along'"
            build.say((*loc, "inside"), message, key=True)
        return None
    placed_on = _surface(build, loc, part, solids, ground, where, side)
    if placed_on is None:
        return None
    in_the_air = part.on is None and part.at is not None and len(part.at) == 3
    return (placed_on[0], placed_on[1]) if in_the_air else (lifted(placed_on), placed_on[1])


def _normal(build: Build, loc: Loc, part: SitePart) -> Vec3 | None:
    """The way a site faces where the file says so."""
    if part.normal is None:
        return None
    if isinstance(part.normal, str):
        if part.normal in _WAYS:
            return _WAYS[part.normal]
        build.say((*loc, "normal"), f"{part.normal!r} is not one of: {', '.join(_WAYS)}, a vector")
        return None
    vector = unit_vector(part.normal)
    if vector is None:
        build.say((*loc, "normal"), "has no direction: one of its numbers must differ from 0")
    return vector


def crown_sites(
    plants: Sequence[tuple[Loc, Plant]], box: Enclosure, solids: Mapping[str, Solid]
) -> list[tuple[Loc, Site]]:
    """A site at the top of each plant's crown, inside the box and clear of pieces."""
    made: list[tuple[Loc, Site]] = []
    margin = CLEAR
    for loc, plant in plants:
        centre, half = plant.crown
        best: Vec3 | None = None
        for lean in (0.0, 0.35, 0.7):
            for turn in range(8 if lean else 1):
                a = turn * math.pi / 4
                way = (lean * math.cos(a), lean * math.sin(a), math.sqrt(1.0 - lean * lean))
                point = plus(
                    (centre[0] + half[0] * way[0], centre[1] + half[1] * way[1],
                     centre[2] + half[2] * way[2]), _UP, ABOVE_CROWN,
                )  # fmt: skip
                clipped = [
                    min(max(c, margin), size - margin)
                    for c, size in zip(point, box.inside, strict=True)
                ]
                here = (clipped[0], clipped[1], clipped[2])
                best = best or here
                if not any(s.contains(here) for s in solids.values()):
                    best = here
                    break
            else:
                continue
            break
        if best is not None:
            made.append((loc, Site(f"{plant.name} crown", best, role="crown", plant=plant.name)))
    return made
