"""A made-up habitat, findings and a smooth made-up light field for the tests of the reports.

Nothing here is a measurement: the numbers only have to be of a size that occurs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from loamwright.engine.findings import Cause, Cure, Finding, State
from loamwright.habitat.catalogue import Cover, LampType, Material, PlantType, Species
from loamwright.habitat.enclosure import PANELS, Enclosure, Lining, Opening, Panel
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.ground import Ground, Layer
from loamwright.habitat.habitat import Default, Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.planting import Plant
from loamwright.habitat.residents import Group
from loamwright.habitat.sites import Site
from loamwright.habitat.sources import Source, SourceKind
from loamwright.habitat.water import Bowl

MEMORY = Source("made up for a test", SourceKind.FROM_MEMORY)
PUBLISHED = Source("A. Author 2001, a made-up table", SourceKind.PUBLISHED)
ANY = {"*": MEMORY}


def material(key: str, clear: bool = False) -> Material:
    return Material(key, key.replace("-", " "), ANY, 0.1, 0.3, 0.4, clear=clear)


BOARD, GLASS, WOOD = material("pvc-foam-board"), material("float-glass", True), material("hardwood")
CORK, STONE, SOIL, LEAVES = (material(k) for k in ("cork", "sandstone", "mix", "leaf-litter"))
MESH = Cover("steel-mesh-6mm", "steel mesh 6 mm", ANY, "mesh", 0.006, 0.0008)
TUBE = LampType(
    "tube", "UVB tube, medium", ANY, "tube", 54.0, (0.5, 2, 10, 1, 0), {}, 1.15, 0, 0.016
)
SPOT = LampType(
    "spot", "halogen flood 50 W", ANY, "spot", 50.0, (0, 0.1, 4, 30, 5), {}, diameter=0.06
)
BAR = LampType("bar", "LED bar 40 W", ANY, "bar", 40.0, (0, 0, 18, 0, 0), {}, 1.2, 0.03)
FIG = PlantType("ficus", "weeping fig", ANY, "Ficus benjamina", "tree", 3.0, 0.3, 0.9, 0.85, 0.3)
BROMELIAD = PlantType("neo", "small bromeliad", ANY, "Neoregelia", "rosette", 2.0, 0, 0.9, 0.8, 0.3)
GECKO = Species(
    "phelsuma-grandis", "giant day gecko", ANY, "Phelsuma grandis", "reptile", "day", "arboreal", 3
)


def rock_mesh() -> Piece:
    """A scanned-looking root: a bent, tapering closed rod of triangles."""
    rings, around = 9, 12
    points, faces = [], []
    for i in range(rings):
        t = i / (rings - 1)
        cx, cy, cz = 0.28 + 0.16 * t, 0.30 - 0.05 * math.sin(3 * t), 0.26 + 0.32 * t + 0.05 * t * t
        r = 0.055 * (1 - 0.75 * t)
        for k in range(around):
            a = 2 * math.pi * k / around
            points.append((cx + r * math.cos(a), cy + r * math.sin(a), cz))
    for i in range(rings - 1):
        for k in range(around):
            a, b = i * around + k, i * around + (k + 1) % around
            faces += [(a, b, b + around), (a, b + around, a + around)]
    low, high = len(points), len(points) + 1
    points += [(0.28, 0.30, 0.26), (0.44, 0.29, 0.63)]
    last = (rings - 1) * around
    for k in range(around):
        faces.append((low, (k + 1) % around, k))
        faces.append((high, last + k, last + (k + 1) % around))
    return Piece("old root", "mesh", WOOD, vertices=tuple(points), faces=tuple(faces))


def habitat(**changes: object) -> Habitat:
    """A tall planted box of 150 x 75 x 140 cm."""
    panels = tuple(
        Panel(s, GLASS, 0.005, doors=2) if s == "front" else Panel(s, BOARD, 0.01) for s in PANELS
    )
    made = Habitat(
        name="Estuary Room, forest edge",
        enclosure=Enclosure(
            (1.5, 0.75, 1.4),
            panels,
            (Opening("lamp window", "top", (0.75, 0.40), (0.90, 0.20), MESH),),
            (Lining("rock face", "back", STONE, 0.06),),
        ),
        ground=Ground(
            (
                Layer("drainage", "drainage-mat", 0.03, STONE),
                Layer("mix", "mix", 0.20, SOIL),
                Layer("litter", "leaf-litter", 0.03, LEAVES),
            )
        ),
        hardscape=(
            Piece("basking branch", "branch", WOOD, (0.2, 0.5, 0.6), (1.1, 0.36, 1.05), 0.05),
            Piece("cork tube", "tube", CORK, (0.62, 0.30, 0.36), (1.12, 0.46, 0.40), 0.18, 0.02),
            Piece("slab", "block", STONE, at=(1.25, 0.35, 0.24), size=(0.36, 0.3, 0.05)),
            Piece("boulder", "rock", STONE, at=(0.75, 0.55, 0.22), size=(0.3, 0.26, 0.22)),
            rock_mesh(),
        ),
        water=(Bowl("bowl", (0.30, 0.55, 0.26), (0.18, 0.18), 0.03),),
        plants=(
            Plant("fig", FIG, (1.10, 0.50, 0.26), 0.80, 0.45),
            Plant("left bromeliad", BROMELIAD, (0.42, 0.46, 0.74), 0.18, 0.24),
        ),
        lamps=(
            Lamp("uv", TUBE, (0.75, 0.40, 1.36)),
            Lamp("left spot", SPOT, (0.35, 0.40, 1.32), aim=(0.28, 0.1, -0.955)),
            Lamp("grow", BAR, (0.80, 0.22, 1.36), dim=0.8),
        ),
        animals=(Group(GECKO, 1, 2),),
        sites=(
            Site("basking", (0.97, 0.38, 1.02), role="basking"),
            Site("mid perch", (0.60, 0.44, 0.84), role="perch"),
            Site("cool hide", (0.85, 0.38, 0.36), role="retreat"),
            Site("fig crown", (1.10, 0.50, 0.82), role="crown", plant="fig"),
            Site("fig leaf", (1.13, 0.47, 0.84), role="perch"),
        ),
        defaults=(
            Default("room.altitude", "0 m", "sea level unless the file says otherwise"),
            Default("day", "07:00 to 19:00", "twelve hours of light"),
        ),
    )
    return replace(made, **changes)  # type: ignore[arg-type]


@dataclass(frozen=True)
class SiteLight:
    name: str
    at: tuple[float, float, float]
    role: str
    values: dict[str, dict[str, float]] = field(default_factory=dict)


def uvi_at(x: float, y: float, z: float) -> float:
    """A smooth made-up UV index: two glows under a dark lid."""
    fall = 0.10 + 0.9 * (1.36 - z) ** 2
    return 0.42 * math.exp(-(((x - 0.75) / 0.42) ** 2) - ((y - 0.4) / 0.3) ** 2) / fall


def site_lights(made: Habitat) -> tuple[SiteLight, ...]:
    out = []
    for site in made.sites:
        uvi = uvi_at(*site.at)
        up = {
            "uvi": uvi, "uva": 3.1 * uvi, "uvb": 0.21 * uvi, "ppfd": 90 * uvi + 12,
            "lux": 4800 * uvi + 600, "radiant": 60 * uvi + 4, "dli": (90 * uvi + 12) * 0.0432,
        }  # fmt: skip
        values = {f: {k: v * s for k, v in up.items()} for f, s in
                  (("up", 1.0), ("brightest", 1.08), ("normal", 0.93))}  # fmt: skip
        out.append(SiteLight(site.name, site.at, site.role, values))
    return tuple(out)


def section_field(made: Habitat, axis: str, position: float, step: float = 0.025):
    """A made-up field over one section, not-a-number inside the ground and a round branch."""
    import numpy as np
    import xarray as xr

    size = dict(zip("xyz", made.enclosure.inside, strict=True))
    first, second = (a for a in "xyz" if a != axis)
    lines = {a: np.arange(step / 2, size[a], step) for a in (first, second)}
    u, v = np.meshgrid(lines[first], lines[second], indexing="ij")
    at = {first: u, second: v, axis: np.full_like(u, position)}
    fall = 0.10 + 0.9 * (1.36 - at["z"]) ** 2
    uvi = 0.42 * np.exp(-(((at["x"] - 0.75) / 0.42) ** 2) - ((at["y"] - 0.4) / 0.3) ** 2) / fall
    uvi = uvi * np.where((at["x"] - 1.1) ** 2 + (at["y"] - 0.5) ** 2 < 0.04, 0.4, 1.0)
    solid = at["z"] < made.ground.depth
    uvi = np.where(solid, np.nan, uvi)
    return xr.Dataset(
        {
            "uvi": ((first, second), uvi, {"units": "1"}),
            "ppfd": ((first, second), 90 * uvi + 12, {"units": "umol/(m2 s)"}),
        },
        coords={**lines, axis: position},
    )


def finding(**changes: object) -> Finding:
    made = Finding(
        "uv-basking", "light", "phelsuma-grandis", "uvi", State.MISSED, PUBLISHED,
        value=4.12, low=1.0, high=2.6, uncertainty=0.62, margin=-0.585, site="basking",
        at=(0.97, 0.38, 1.02), when="lamps on", facing="brightest",
        causes=(
            Cause("lamp_share", "uv", 0.96),
            Cause("lamp_share", "left spot", 0.04),
            Cause("canopy", "fig", 0.41),
            Cause("distance", "uv", 0.62),
            Cause("cover", "lamp window", 0.63),
        ),
        cure=Cure("move", "uv", 1.6, to=(0.75, 0.40, 1.22)),
    )  # fmt: skip
    return replace(made, **changes)  # type: ignore[arg-type]


def findings() -> list[Finding]:
    """One of each state and several needs."""
    return [
        finding(
            need="plant-light", about="fig", quantity="dli", state=State.MET, value=6.41, low=4.0,
            high=None, uncertainty=0.8, margin=0.6, site="fig crown", at=(1.1, 0.5, 0.82),
            facing="up", when="over the day", causes=(), cure=None,
            source=Source("common practice, no source", SourceKind.COMMON_PRACTICE),
        ),
        finding(),
        finding(
            need="uv-retreat", state=State.CLOSE, value=0.68, low=None, high=0.7, uncertainty=0.1,
            margin=0.03, site="cool hide", at=(0.85, 0.38, 0.36), source=MEMORY,
            causes=(Cause("shadow", "cork tube", 0.92), Cause("bounced", "", 0.34)), cure=None,
        ),
        finding(
            need="plant-light", about="left bromeliad", quantity="dli", state=State.NOT_KNOWN,
            value=3.2, low=None, high=None, uncertainty=None, margin=None, site="bromeliad crown",
            at=None, facing="up", causes=(Cause("no_number", "dli"),), cure=None,
        ),
        finding(
            need="people-uv", about="people", quantity="exposure_time", state=State.MET,
            value=11400.0, low=1800.0, high=None, uncertainty=900.0, margin=5.3, site="",
            at=None, facing="", when="doors open", causes=(Cause("distance", "uv", 0.71),),
            cure=None,
        ),
    ]  # fmt: skip
