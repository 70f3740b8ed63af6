"""Hardscape: from what the file says to placed pieces, each standing on what it names."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from pathlib import Path

from loamwright.errors import InputError
from loamwright.files.build_context import Build, in_unit_of
from loamwright.files.build_solids import CLEAR, Solid, plus
from loamwright.files.document import Loc
from loamwright.files.paths import inside
from loamwright.files.schema_inside import (
    BlockPart,
    BranchPart,
    MeshPart,
    RockPart,
    TubePart,
)
from loamwright.files.schema_values import Quantity
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.hardscape import Piece

GROUND_WORDS = ("ground", "floor")
"""Words for the surface of the ground; no piece may be named so."""

AnyPart = BranchPart | TubePart | BlockPart | RockPart | MeshPart
Placed = tuple[Vec3, Vec3]
"""A place on a surface and the way the surface faces."""

USUAL_MATERIAL = {
    "branch": "hardwood",
    "tube": "cork",
    "block": "sandstone",
    "rock": "sandstone",
    "mesh": "hardwood",
}


def build_hardscape(
    build: Build, parts: Sequence[AnyPart], ground: float, root: Path
) -> dict[str, Solid]:
    """The pieces by name, in the order of the file."""
    entries = build.entries("hardscape", parts)
    for loc, part in entries:
        if part.name in GROUND_WORDS:
            build.say((*loc, "name"), f"{part.name!r} is a word of its own; choose another name")
    maker = _Maker(build, {part.name: (loc, part) for loc, part in entries}, ground, root)
    for _, part in entries:
        maker.solid(part.name)
    return {part.name: maker.done[part.name] for _, part in entries if part.name in maker.done}


class _Maker:
    """Places pieces, first the one that another stands on."""

    def __init__(
        self,
        build: Build,
        parts: Mapping[str, tuple[tuple[str | int, ...], AnyPart]],
        ground: float,
        root: Path,
    ) -> None:
        self.build, self.parts, self.ground, self.root = build, parts, ground, root
        self.done: dict[str, Solid] = {}
        self.tried: set[str] = set()

    def solid(self, name: str) -> Solid | None:
        """The placed piece, or None where it cannot be placed (a problem is then told)."""
        chain = [name]
        while True:  # walk down to what stands on the ground, without recursion
            below = getattr(self.parts[chain[-1]][1], "on", None)
            if below is None or below not in self.parts or below in self.tried:
                break
            if below in chain:
                loc = self.parts[chain[-1]][0]
                round_ = " on ".join(repr(n) for n in [*chain[chain.index(below) :], below])
                self.build.say((*loc, "on"), f"pieces stand in a circle: {round_}")
                self.tried.update(chain)
                self.build.lost_names.update(chain)
                return None
            chain.append(below)
        for one in reversed(chain):
            if one in self.tried:
                continue
            self.tried.add(one)
            made = self._make(*self.parts[one])
            if made is None:
                self.build.lost_names.add(one)
            else:
                self.done[one] = Solid(made)
        return self.done.get(name)

    def _make(self, loc: tuple[str | int, ...], part: AnyPart) -> Piece | None:
        shape = part.shape or "mesh"
        key = part.material
        if key is None:
            key = USUAL_MATERIAL[shape]
            self.build.default(f"hardscape[{part.name}].material", key, f"usual for a {shape}")
        material = self.build.material(key, (*loc, "material"))
        fixing = part.fixing or ""
        glued = None if part.glued is None else float(part.glued)
        if isinstance(part, BranchPart | TubePart):
            start, end = _vec(part.start), _vec(part.to)
            if math.dist(start, end) < 1e-3:
                self.build.say((*loc, "to"), "is the same place as 'from': it has no length")
                return None
            wall = self._wall(loc, part) if isinstance(part, TubePart) else 0.0
            if wall is None:
                return None
            diameter = float(part.diameter)
            return Piece(
                part.name, shape, material, start, end, diameter, wall, fixing=fixing,
                screws=part.screws, glued=glued,
            )  # fmt: skip
        at = self._foot(loc, part)
        if at is None:
            return None
        if isinstance(part, MeshPart):
            mesh = self._mesh(loc, part, at)
            if mesh is None:
                return None
            vertices, faces = mesh
            return Piece(
                part.name, shape, material, at=at, vertices=vertices, faces=faces, fixing=fixing,
                screws=part.screws, glued=glued, footing=part.footing or "",
            )  # fmt: skip
        return Piece(
            part.name, shape, material, at=at, size=_vec(part.size), fixing=fixing,
            screws=part.screws, glued=glued, footing=part.footing or "",
        )  # fmt: skip

    def _wall(self, loc: tuple[str | int, ...], part: TubePart) -> float | None:
        if part.wall is None:
            usual = float(part.diameter) / 10
            self.build.default(f"hardscape[{part.name}].wall", self.build.show(usual))
            return usual
        if part.wall >= part.diameter / 2:
            half = in_unit_of(part.diameter / 2, part.wall)
            message = f"a wall of {part.wall.text} leaves no hollow: half the diameter is {half}"
            self.build.say((*loc, "wall"), message)
            return None
        return float(part.wall)

    def _foot(
        self, loc: tuple[str | int, ...], part: BlockPart | RockPart | MeshPart
    ) -> Vec3 | None:
        x, y = float(part.at[0]), float(part.at[1])
        if len(part.at) == 3:
            if part.on is not None:
                self.build.say(
                    (*loc, "at"), "has a height, and 'on' says what it stands on; keep one of them"
                )
                return None
            return (x, y, float(part.at[2]))
        if part.on is None:
            self.build.default(f"hardscape[{part.name}].on", "ground", "only [x, y] is given")
            return (x, y, self.ground)
        if part.on in GROUND_WORDS:
            return (x, y, self.ground)
        if part.on not in self.done:
            if part.on not in self.parts:
                self.build.unknown_name(
                    (*loc, "on"), part.on, "piece", [*self.parts, *GROUND_WORDS]
                )
            return None
        found = on_top(self.build, loc, self.done[part.on], part.at)
        return found[0] if found else None

    def _mesh(
        self, loc: tuple[str | int, ...], part: MeshPart, at: Vec3
    ) -> tuple[tuple[Vec3, ...], tuple[tuple[int, int, int], ...]] | None:
        from loamwright.files.meshes import default_unit, load_mesh, report_on, scale_and_place

        try:
            path = inside(self.root, part.mesh)
            vertices, faces = load_mesh(path)
        except InputError as error:
            self.build.pass_on((*loc, "mesh"), error)
            return None
        where = f"hardscape[{part.name}]"
        unit = default_unit(path)
        if part.unit is None:
            why = "scans are mostly in millimetres"
            if unit == 1.0:
                why = "glTF is in metres by its standard"
            self.build.default(f"{where}.unit", "1 m" if unit == 1.0 else "1 mm", why)
        else:
            unit = float(part.unit)
        found = report_on(vertices, faces)
        if not found.watertight:
            holes = f"{found.holes} hole{'' if found.holes == 1 else 's'}"
            why = "it shades as it is; what lies inside of it may not be known"
            self.build.default(f"{where}.mesh", f"not closed ({holes})", why)
        placed = scale_and_place(vertices, unit, at, float(part.turn or 0.0))
        corners = tuple((int(f[0]), int(f[1]), int(f[2])) for f in faces.tolist())
        return tuple((p[0], p[1], p[2]) for p in placed.tolist()), corners


def on_top(build: Build, loc: Loc, solid: Solid, at: Sequence[Quantity]) -> Placed | None:
    """The place on the upper side of a block, rock or mesh at [x, y]."""
    name = solid.piece.name
    if solid.round:
        build.say(
            (*loc, "on"), f"{name!r} is a {solid.piece.shape}: nothing stands on it by [x, y]"
        )
        return None
    top = solid.top(float(at[0]), float(at[1]))
    if top is None:
        low, high = solid.extent()
        x = f"{in_unit_of(low[0], at[0])} to {in_unit_of(high[0], at[0])}"
        y = f"{in_unit_of(low[1], at[1])} to {in_unit_of(high[1], at[1])}"
        here = f"[{at[0].text}, {at[1].text}]"
        build.say((*loc, "at"), f"{here} is not over {name!r}, which reaches x {x}, y {y}")
        return None
    return (float(at[0]), float(at[1]), top[0]), top[1]


def place_on(
    build: Build,
    loc: Loc,
    solid: Solid,
    at: Sequence[Quantity] | None,
    along: Quantity | None,
    where: str,
    side: Vec3 | None = None,
) -> Placed | None:
    """A place on the surface of a piece, as sites and plants say it."""
    piece = solid.piece
    if solid.round:
        if at is not None:
            build.say((*loc, "at"), f"a place on a {piece.shape} is given by 'along'", key=True)
            return None
        if along is None:
            build.default(f"{where}.along", "0.5", f"the middle of the {piece.shape}")
        return solid.along(0.5 if along is None else float(along), side)
    if along is not None:
        message = f"{piece.name!r} is a {piece.shape}: give 'at: [x, y]' instead of 'along'"
        build.say((*loc, "along"), message, key=True)
        return None
    if at is None:
        middle = solid.middle
        top = solid.top(middle[0], middle[1])
        if top is None:
            build.say(
                (*loc, "on"), f"there is nothing over the middle of {piece.name!r}: give 'at'"
            )
            return None
        build.default(f"{where}.at", "its middle", f"the middle of {piece.name!r}")
        return (middle[0], middle[1], top[0]), top[1]
    if len(at) == 3:
        build.say((*loc, "at"), "has a height, and 'on' says what it is on; give [x, y]")
        return None
    return on_top(build, loc, solid, at)


def lifted(placed: Placed) -> Vec3:
    """A point in the air just above a surface."""
    return plus(placed[0], placed[1], CLEAR)


def _vec(at: Sequence[float]) -> Vec3:
    return (float(at[0]), float(at[1]), float(at[2]))
