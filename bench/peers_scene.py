"""Made-up habitats that the judge and the speed bench look at.

Nothing here stands for a real habitat: sizes are round, reflectances are of the order of bark, leaf
and painted panel, every lamp sends one watt in every band.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.catalogue import Cover, LampType, Material, PlantType
from loamwright.habitat.enclosure import PANELS, Enclosure, Opening, Panel
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.planting import Plant
from loamwright.habitat.sources import Source, SourceKind

Floats = NDArray[np.float64]

_SOURCES = {"*": Source("made up for the comparison", SourceKind.BUILDER)}


def material(name: str, uv: float, par: float, nir: float) -> Material:
    """A diffuse grey of three bands."""
    return Material(name, name, _SOURCES, uv, par, nir)


PAINT = material("panel", 0.10, 0.50, 0.60)
BARK = material("bark", 0.05, 0.25, 0.45)
LEAF = material("leaf", 0.05, 0.10, 0.45)


def lamp(name: str, shape: str, at: tuple[float, float, float], **shape_of: float) -> Lamp:
    """A lamp of one watt in each band that shines straight down."""
    kind = LampType(
        name, name, _SOURCES, shape=shape, power=5.0, band_watts=(1.0,) * 5,
        per_watt=dict.fromkeys(("uvi", "actinic", "ppfd", "lux"), (1.0,) * 5), **shape_of,
    )  # fmt: skip
    return Lamp(name, kind, at)


def aimed(one: Lamp, toward: tuple[float, float, float]) -> Lamp:
    """The same lamp turned to shine at a point [m]."""
    way = np.array(toward) - np.array(one.at)
    way /= np.linalg.norm(way)
    along = np.cross(way, [0.0, 1.0, 0.0])
    along /= np.linalg.norm(along)
    aim, side = (tuple(float(v) for v in w) for w in (way, along))
    return Lamp(one.name, one.type, one.at, aim, side)  # type: ignore[arg-type]


def six_lamps(width: float, depth: float, height: float) -> tuple[Lamp, ...]:
    """A bare tube, a tube in a reflector, two bars and two spots under the top of a box [m]."""
    w, d, top = width, depth, height - 0.06
    # All shine from one plane: Radiance lets no light pass the shining side of another lamp.
    return (
        lamp("tube", "tube", (w * 0.5, d * 0.25, top), length=0.85, diameter=0.016),
        lamp("strip", "tube", (w * 0.5, d * 0.5, top), length=0.85, diameter=0.016,
             reflector_width=0.05),
        lamp("bar", "bar", (w * 0.5, d * 0.8, top), length=0.9, width=0.03),
        lamp("panel", "bar", (w * 0.75, d * 0.65, top), length=0.3, width=0.12),
        lamp("spot", "spot", (w * 0.2, d * 0.65, top), diameter=0.09,
             beam_angle=math.radians(30)),
        lamp("flood", "spot", (w * 0.85, d * 0.38, top), diameter=0.063,
             beam_angle=math.radians(60)),
    )  # fmt: skip


def housed(habitat: Habitat) -> Habitat:
    """The same with a black plate behind every lamp, as its housing.

    Radiance's lamps swallow what surfaces send back to their shining side, ours let it through. A
    black plate just behind the lamp makes both swallow it; a bare tube then shines down only.
    """
    black = material("housing", 0.0, 0.0, 0.0)
    plates = []
    for one in habitat.lamps:
        kind = one.type
        at, aim, along = np.array(one.at), np.array(one.aim), np.array(one.along)
        across = np.cross(along, aim)
        bare = kind.shape == "tube" and kind.reflector_width <= 0
        length = kind.diameter if kind.shape == "spot" else kind.length
        width = {"tube": kind.reflector_width or 2 * kind.diameter, "spot": kind.diameter}.get(
            kind.shape, kind.width
        )
        middle = at - aim * ((kind.diameter / 2 if bare else 0.0) + 0.002)
        u, v = along * (length / 2 + 0.002), across * (width / 2 + 0.002)
        corners = [middle - u - v, middle + u - v, middle + u + v, middle - u + v]
        plates.append(
            Piece(
                f"housing of {one.name}", "mesh", black,
                vertices=tuple(tuple(float(x) for x in c) for c in corners),  # type: ignore[misc]
                faces=((0, 1, 2), (0, 2, 3)),
            )
        )  # fmt: skip
    return replace(habitat, hardscape=habitat.hardscape + tuple(plates))


def _closed_box(size: tuple[float, float, float], paint: Material) -> Enclosure:
    return Enclosure(size, tuple(Panel(side, paint, 0.01) for side in PANELS))


def empty_box() -> Habitat:
    """Half-white box 1.2 x 0.6 x 1.2 m with one downward strip of 0.85 m x 16 mm."""
    grey = material("grey", 0.5, 0.5, 0.5)
    strip = lamp("strip", "bar", (0.6, 0.3, 1.15), length=0.85, width=0.016)
    return Habitat("empty box", _closed_box((1.2, 0.6, 1.2), grey), lamps=(strip,))


def _leaves(rng: np.random.Generator, size: Floats, count: int) -> list[Piece]:
    """Leaves of 4 x 10 cm at random angles, ten to a piece, each a quad of two triangles."""
    pieces = []
    for number in range(count // 10):
        middle = size * (0.15 + 0.7 * rng.random(3)) * [1.0, 1.0, 0.75]
        corners, faces = [], []
        for leaf in range(10):
            at = middle + rng.normal(0.0, 0.06, 3)
            at = np.clip(at, 0.08, size - [0.08, 0.08, 0.25])
            normal = rng.normal(size=3)
            normal /= np.linalg.norm(normal)
            u = np.cross(normal, rng.normal(size=3))
            u /= np.linalg.norm(u)
            v = np.cross(normal, u)
            u, v = u * 0.05, v * 0.02
            corners += [at - u - v, at + u - v, at + u + v, at - u + v]
            faces += [
                (4 * leaf, 4 * leaf + 1, 4 * leaf + 2),
                (4 * leaf, 4 * leaf + 2, 4 * leaf + 3),
            ]
        pieces.append(
            Piece(
                f"leaves {number}", "mesh", LEAF,
                vertices=tuple(tuple(float(x) for x in c) for c in corners),  # type: ignore[misc]
                faces=tuple(faces),
            )
        )  # fmt: skip
    return pieces


def _branches(rng: np.random.Generator, size: Floats, count: int) -> list[Piece]:
    pieces = []
    while len(pieces) < count:
        start = size * (0.06 + 0.88 * rng.random(3)) * [1.0, 1.0, 0.8]
        way = rng.normal(size=3)
        end = start + way / np.linalg.norm(way) * rng.uniform(0.3, 0.6)
        if np.all(end > 0.04) and np.all(end < size - [0.04, 0.04, 0.2]):
            a, b = (tuple(float(x) for x in p) for p in (start, end))
            thick = float(rng.uniform(0.012, 0.05))
            pieces.append(
                Piece(f"branch {len(pieces)}", "branch", BARK, start=a, end=b, diameter=thick)  # type: ignore[arg-type]
            )
    return pieces


def peers_scene(leaves: bool = True) -> Habitat:
    """Box 1.2 x 0.6 x 1.2 m with 30 round branches, 300 leaves (each a quad) and six lamps."""
    rng = np.random.default_rng(20)
    size = np.array([1.2, 0.6, 1.2])
    pieces = _branches(rng, size, 30) + (_leaves(rng, size, 300) if leaves else [])
    box = Habitat("peers' scene", _closed_box((1.2, 0.6, 1.2), PAINT), hardscape=tuple(pieces))
    return replace(box, lamps=six_lamps(1.2, 0.6, 1.2))


def covered_scene() -> Habitat:
    """The branches without leaves, but with three crowns, a mesh in the top and lamps above it."""
    plant = PlantType("shrub", "shrub", _SOURCES, "", "shrub", 3.0, 0.2, 0.95, 0.85, 0.4)
    plants = tuple(
        Plant(f"shrub {k}", plant, foot, height, spread)
        for k, (foot, height, spread) in enumerate(
            [
                ((0.3, 0.3, 0.0), 0.7, 0.4),
                ((0.75, 0.25, 0.0), 0.5, 0.35),
                ((0.95, 0.4, 0.1), 0.6, 0.3),
            ]
        )
    )
    mesh = Cover("mesh", "mesh", _SOURCES, "mesh", pitch=0.0016, wire=0.0003, reflect=0.3)
    glass = Material(
        "sheet",
        "sheet",
        _SOURCES,
        0.04,
        0.04,
        0.04,
        clear=True,
        transmit=(0.1, 0.8, 0.9, 0.85, 0.0),
    )
    sheet = Cover("sheet", "sheet", _SOURCES, "sheet", sheet=glass)
    base = peers_scene(leaves=False)
    box = _closed_box((1.2, 0.6, 1.2), PAINT)
    openings = (
        Opening("left top", "top", (0.3, 0.3), (0.5, 0.5), mesh),
        Opening("right top", "top", (0.9, 0.3), (0.5, 0.5), sheet),
    )
    lamps = (
        lamp("tube", "tube", (0.6, 0.25, 1.3), length=0.85, diameter=0.016),
        lamp("bar", "bar", (0.6, 0.4, 1.26), length=0.9, width=0.03),
        aimed(
            lamp("spot", "spot", (0.35, 0.3, 1.3), diameter=0.09, beam_angle=math.radians(40)),
            (0.5, 0.3, 0.3),
        ),
    )
    return Habitat(
        "covered scene", Enclosure(box.inside, box.panels, openings), hardscape=base.hardscape[:12],
        plants=plants, lamps=lamps,
    )  # fmt: skip


def lattice(low: Floats, high: Floats, count: int) -> Floats:
    """About ``count`` points on an even lattice in a box, (N, 3) [m]."""
    size = high - low
    step = float((size.prod() / count) ** (1 / 3))
    cells = [max(1, round(v / step)) for v in size]
    axes = [
        start + (np.arange(n) + 0.5) / n * v for start, v, n in zip(low, size, cells, strict=True)
    ]
    return np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
