"""Our scenes and lamps written down for Radiance, the outside judge, and read back by `rtrace`.

Radiance's red, green and blue carry the ultraviolet, plant-light and near-infrared band, so one
run answers all three. What becomes what:

- solid triangles: `plastic` polygons of the patch's reflectance, without gloss;
- sheets and meshes: a rectangle of `BRTDfunc` that lets light go straight on, dimmed by the angle
  of incidence, and sends back diffusely what its patch reflects;
- crowns: finely meshed ellipsoids of black `mist` of the same extinction. Radiance does not know
  that a sensor sits inside mist: ask `inside_crowns` which sensors to leave out;
- lamps: `illum` bodies: a rectangle, a cylinder, a small square with a cosine-power beam, small
  spheres with a measured table; each of one watt in every band, or of the watts given. They swallow
  light that meets their shining side; ours do not (see `peers_scene.housed`).
"""

from __future__ import annotations

import os
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from loamwright.engine import shapes
from loamwright.engine.light.emitters import (
    TABLE_HORIZONTAL,
    TABLE_VERTICAL,
    beam_exponent,
    emitter_of,
)
from loamwright.engine.scene import Scene
from loamwright.habitat.equipment import Lamp

Floats = NDArray[np.float64]

JUDGED = (1, 2, 3)
"""Our bands (of `habitat.bands.BANDS`) that red, green and blue stand for: uva, par, nir."""

DIRECT = "-ab 0 -dt 0 -dc 1 -dj 1 -ds .02"
"""Light straight from the lamps: every shadow ray traced, lamps cut into parts no longer than a
fiftieth of their distance (64 parts at most, a limit of the program), a random place in each: middles
all see the straight edge of an opening at the same moment."""

DIRECT_SPOT = "-ab 0 -dt 0 -dc 1 -dj 0 -ds .01"
"""The same for spots, whose few parts random places would only scatter."""

CELL = 0.02
"""Edge of the cells that a lamp is written as for a reference [m]."""

_SLICES = 17

_CAL = """\
{ Light goes straight on: the share let through, by the cosine to the sheet's normal. }
c = if(abs(Rdot) - 1, 1, abs(Rdot));
pos(x) = if(x, x, 0);
{ wire mesh: arg 10 = wire / pitch, 11..13 and 14..16 unit vectors along the wires }
along_x = (Dx*arg(11) + Dy*arg(12) + Dz*arg(13)) / max(c, 1e-6);
along_y = (Dx*arg(14) + Dy*arg(15) + Dz*arg(16)) / max(c, 1e-6);
open_by(s) = pos(1 - arg(10) * sqrt(1 + s*s));
screen = open_by(along_x) * open_by(along_y);
{ clear sheet: arg 10 refractive index, 11..13 internal transmittances, 14..16 lifts }
inside = sqrt(1 - (1 - c*c) / (arg(10)*arg(10)));
rs = ((c - arg(10)*inside) / (c + arg(10)*inside))^2;
rp = ((arg(10)*c - inside) / (arg(10)*c + inside))^2;
slab(r, a) = (1-r)*(1-r)*a / (1 - r*r*a*a);
clear(a0, lift) = .5*lift * (slab(rs, a0^(1/inside)) + slab(rp, a0^(1/inside)));
clear_r = clear(arg(11), arg(14));
clear_g = clear(arg(12), arg(15));
clear_b = clear(arg(13), arg(16));
{ flat disk, cosine-power beam and Lambertian rest: arg 1 = exponent, 2..4 = share in the beam }
beam(s) = if(Rdot, s*(arg(1) + 1)/2*Rdot^(arg(1) - 1) + 1 - s, 0);
beam_r = beam(arg(2));
beam_g = beam(arg(3));
beam_b = beam(arg(4));
{ measured lamp: arg 1..3 its aim, 4..6 along, 7..9 across }
away_z = -(Dx*arg(1) + Dy*arg(2) + Dz*arg(3));
away_x = -(Dx*arg(4) + Dy*arg(5) + Dz*arg(6));
away_y = -(Dx*arg(7) + Dy*arg(8) + Dz*arg(9));
azimuth = if(-atan2(away_y, away_x), atan2(away_y, away_x) + 2*PI, atan2(away_y, away_x));
off_aim = acos(if(abs(away_z) - 1, if(away_z, 1, -1), away_z));
keep(v) = v;
"""


def programs() -> Path | None:
    """Folder of Radiance's programs, None where it is not installed."""
    try:
        import pyradiance
    except ImportError:
        return None
    folder = Path(pyradiance.__file__).parent / "bin"
    return folder if (folder / "rtrace").exists() else None


def _run(program: str, arguments: Sequence[str], folder: Path, send: bytes = b"") -> bytes:
    where = programs()
    assert where is not None
    library = where.parent / "lib"
    done = subprocess.run(
        [str(where / program), *arguments], input=send, capture_output=True, cwd=folder,
        env={**os.environ, "RAYPATH": f".:{library}"}, check=False,
    )  # fmt: skip
    if done.returncode:
        raise RuntimeError(f"{program}: {done.stderr.decode(errors='replace').strip()}")
    return done.stdout


def _row(values: NDArray | Sequence[float]) -> str:
    return " ".join(f"{v:.9g}" for v in np.ravel(values))


def _polygon(modifier: str, name: str, corners: Floats) -> str:
    return f"{modifier} polygon {name} 0 0 {3 * len(corners)} {_row(corners)}\n"


def _surfaces(scene: Scene) -> list[str]:
    solid = scene.triangles[: scene.first_sheet_triangle]
    colours = scene.reflect[scene.patch_of[: scene.first_sheet_triangle]]
    kinds, which = np.unique(colours, axis=0, return_inverse=True)
    out = [f"void plastic m{k} 0 0 5 {_row(rgb)} 0 0\n" for k, rgb in enumerate(kinds)]
    out += [
        _polygon(f"m{k}", f"t{i}", t)
        for i, (k, t) in enumerate(zip(which.reshape(-1), solid, strict=True))
    ]
    return out


def _sheet_reflect(scene: Scene, name: str) -> Floats:
    rows = np.nonzero(scene.owner == scene.owners.index(name))[0]
    return scene.reflect[rows[-1]]


def _sheets(scene: Scene) -> list[str]:
    from loamwright.physics.mesh_screen import internal_transmittance

    out = []
    sheets = scene.sheets
    for s, name in enumerate(sheets.names):
        u, v, corner = sheets.edge_u[s], sheets.edge_v[s], sheets.corner[s]
        back = _row(_sheet_reflect(scene, name))
        if sheets.mesh[s]:
            through = "screen screen screen"
            numbers = [
                float(sheets.wire[s] / sheets.pitch[s]),
                *(u / np.linalg.norm(u)), *(v / np.linalg.norm(v)),
            ]  # fmt: skip
        else:
            through = "clear_r clear_g clear_b"
            pairs = [
                internal_transmittance(float(sheets.transmit[s, b]), float(sheets.index[s]))
                for b in JUDGED
            ]
            numbers = [float(sheets.index[s]), *(p[0] for p in pairs), *(p[1] for p in pairs)]
        out.append(
            f"void BRTDfunc s{s} 10 0 0 0 {through} 0 0 0 scene.cal 0 "
            f"{9 + len(numbers)} {back} {back} 0 0 0 {_row(numbers)}\n"
        )
        out.append(_polygon(f"s{s}", f"sheet{s}", np.array([corner, corner + u, corner + u + v,
                                                           corner + v])))  # fmt: skip
    return out


def _crowns(scene: Scene, around: int = 64, down: int = 32) -> list[str]:
    out = []
    for c in range(len(scene.canopies.names)):
        k = scene.canopies.extinction[c, list(JUDGED)]
        out.append(f"void mist c{c} 0 0 7 {_row(k)} 0 0 0 0\n")
        mesh = shapes.ellipsoid(scene.canopies.centre[c], scene.canopies.half[c], around, down)
        # The mesh lies inside the ellipsoid; blow it up to the same volume.
        volume = np.einsum("ij,ij->", mesh[:, 0] - scene.canopies.centre[c],
                           np.cross(mesh[:, 1] - scene.canopies.centre[c],
                                    mesh[:, 2] - scene.canopies.centre[c])) / 6  # fmt: skip
        whole = 4 / 3 * np.pi * scene.canopies.half[c].prod()
        mesh = scene.canopies.centre[c] + (mesh - scene.canopies.centre[c]) * (
            whole / abs(volume)
        ) ** (1 / 3)
        out += [_polygon(f"c{c}", f"crown{c}_{i}", t) for i, t in enumerate(mesh)]
    return out


def _rectangle(middle: Floats, u: Floats, v: Floats, aim: Floats) -> Floats:
    corners = np.array([-u - v, u - v, u + v, v - u]) / 2 + middle
    facing = np.cross(corners[1] - corners[0], corners[2] - corners[0]) @ aim
    return corners if facing > 0 else corners[::-1]


def _slices(radius: float, count: int) -> list[tuple[float, float, float]]:
    """A disk as rectangles (place across, width, height) of the same area side by side.

    Radiance samples a round source over the square of its area and misses at the corners;
    rectangles are sampled without that loss. A single one is the square of the disk's area.
    """
    if count == 1:
        side = float(np.sqrt(np.pi)) * radius
        return [(0.0, side, side)]
    edge = np.linspace(-1.0, 1.0, count + 1)
    below = np.arcsin(edge) + edge * np.sqrt(1 - edge**2)
    high = 2 / count
    wide = np.diff(below) / high
    return [(radius * (edge[i] + high / 2), radius * wide[i], radius * high) for i in range(count)]


def _prism(
    name: str, at: Floats, aim: Floats, along: Floats, radius: float, length: float
) -> list[str]:
    """Sides of a prism with the cylinder's mantle area, each a long rectangle."""
    across, sides, out = np.cross(along, aim), 16, []
    wide = 2 * np.pi * radius / sides
    away = wide / 2 / np.tan(np.pi / sides)
    for i in range(sides):
        angle = 2 * np.pi * i / sides
        face = np.cos(angle) * aim + np.sin(angle) * across
        side = np.cross(along, face)
        corners = _rectangle(at + away * face, along * length, side * wide, face)
        out.append(_polygon(name, f"{name}b{i}", corners))
    return out


def _lamp(lamp: Lamp, k: int, folder: Path, cell: float, watts: Floats) -> list[str]:
    kind = lamp.type
    at, aim, along = np.array(lamp.at), np.array(lamp.aim), np.array(lamp.along)
    across = np.cross(along, aim)
    name = f"lamp{k}"
    if kind.shape == "tube" and kind.reflector_width <= 0:
        radius = kind.diameter / 2
        level = 1 / (np.pi * 2 * np.pi * radius * kind.length)
        if cell:
            return [
                _illum("void", name, level * watts),
                *_prism(name, at, aim, along, radius, kind.length),
            ]
        ends = at - along * kind.length / 2, at + along * kind.length / 2
        body = f"{name} cylinder {name}b 0 0 7 {_row(np.array(ends))} {radius:.9g}\n"
        return [_illum("void", name, level * watts), body]
    if kind.shape in ("tube", "bar"):
        width = kind.reflector_width if kind.shape == "tube" else kind.width
        level = 1 / (np.pi * width * kind.length)
        rows, columns = ((int(np.ceil(v / cell)) if cell else 1) for v in (kind.length, width))
        u, v = along * kind.length / rows, across * width / columns
        return [_illum("void", name, level * watts)] + [
            _polygon(name, f"{name}b{i}_{j}",
                     _rectangle(at + u * (i + 0.5 - rows / 2) + v * (j + 0.5 - columns / 2),
                                u, v, aim))
            for i in range(rows) for j in range(columns)
        ]  # fmt: skip
    if kind.shape == "spot":
        n, radius = beam_exponent(kind.beam_angle), kind.diameter / 2
        level = 1 / np.pi / (np.pi * radius**2)
        shares = np.array(kind.beam_share)[list(JUDGED)]
        body = "".join(
            _polygon(name, f"{name}b{i}",
                     _rectangle(at + across * y, along * wide, across * high, aim))
            for i, (y, wide, high) in enumerate(_slices(radius, _SLICES if cell else 1))
        )  # fmt: skip
        pattern = (
            f"void colorfunc {name}p 4 beam_r beam_g beam_b scene.cal 0 4 {n:.9g} {_row(shares)}\n"
        )
        return [pattern, _illum(f"{name}p", name, level * watts), body]
    emitter = emitter_of(lamp)
    small = 0.0005
    level = 1 / (len(emitter.sample) * np.pi * small**2)
    data = f"2\n0 {2 * np.pi:.9g} {TABLE_HORIZONTAL}\n0 {np.pi:.9g} {TABLE_VERTICAL}\n"
    (folder / f"{name}.dat").write_text(data + "\n".join(_row(r) for r in emitter.table) + "\n")
    pattern = (
        f"void brightdata {name}p 5 keep {name}.dat scene.cal azimuth off_aim 0 9 "
        f"{_row(aim)} {_row(along)} {_row(np.cross(along, aim))}\n"
    )
    spheres = [
        f"{name} sphere {name}b{i} 0 0 4 {_row(p)} {small}\n" for i, p in enumerate(emitter.sample)
    ]
    return [pattern, _illum(f"{name}p", name, level * watts), *spheres]


def _illum(modifier: str, name: str, level: Floats) -> str:
    # Without an alternate material an illum is opaque; with `void` nothing but its light is there.
    return f"{modifier} illum {name} 1 void 0 3 {_row(level)}\n"


def inside_crowns(scene: Scene, points: Floats, margin: float = 1.03) -> NDArray[np.bool_]:
    """Which points (N, 3) lie inside a crown blown up by ``margin``, (N,)."""
    crowns = scene.canopies
    out = np.zeros(len(points), bool)
    for c in range(len(crowns.names)):
        away = (points - crowns.centre[c]) / (crowns.half[c] * margin)
        out |= (away**2).sum(axis=1) < 1.0
    return out


def straight_light(
    folder: Path,
    scene: Scene,
    lamps: Sequence[Lamp],
    watts: Floats,
    points: Floats,
    normals: Floats,
) -> Floats:
    """Straight light of each lamp at facets, converged, (L, N, 3) [W/m2].

    Lamp by lamp: one lamp's shining side would stop another's rays.
    """
    out = []
    for k, lamp in enumerate(lamps):
        one = RadianceScene.write(folder / str(k), scene, [lamp], CELL, watts[k : k + 1])
        how = DIRECT_SPOT if lamp.type.shape == "spot" else DIRECT
        out.append(one.irradiance(points, normals, how))
    return np.array(out)


@dataclass(frozen=True)
class RadianceScene:
    """A scene made ready in a folder of its own."""

    folder: Path
    octree: str = "scene.oct"
    spent: list[float] = field(default_factory=list)
    """Wall seconds of each run of `rtrace`, its own start included, ours left out."""

    @classmethod
    def write(
        cls, folder: Path, scene: Scene, lamps: Sequence[Lamp], cell: float = 0.0,
        watts: Floats | None = None,
    ) -> RadianceScene:  # fmt: skip
        """Write the scene with its lamps into ``folder`` and build the octree.

        With a ``cell`` [m] strips and panels are written as cells of that size (Radiance cuts a
        source into 64 parts at most), spots as slices, tubes as prisms (it sends rays to a
        cylinder's axis, which leaves out that the shining side is nearer). ``watts`` (L, 3)
        what each lamp sends in the bands `JUDGED`, else one watt each.
        """
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "scene.cal").write_text(_CAL)
        parts = _surfaces(scene) + _sheets(scene) + _crowns(scene)
        for k, lamp in enumerate(lamps):
            parts += _lamp(lamp, k, folder, cell, np.ones(3) if watts is None else watts[k])
        (folder / "scene.rad").write_text("".join(parts))
        (folder / "scene.oct").write_bytes(_run("oconv", ["scene.rad"], folder))
        return cls(folder)

    def _rtrace(self, arguments: list[str], send: bytes) -> bytes:
        start = time.perf_counter()
        answer = _run("rtrace", arguments, self.folder, send)
        self.spent.append(time.perf_counter() - start)
        return answer

    def irradiance(
        self, points: Floats, normals: Floats, options: str, processes: int = 2
    ) -> Floats:
        """Irradiance of all lamps together at facets (N, 3), (N, 3) [W/m2, or 1/m2 for lamps of one
        watt] in the bands `JUDGED`."""
        facets = np.hstack([points, np.broadcast_to(normals, points.shape)]).astype("<f4")
        arguments = ["-h", "-I", "-u-", "-fff", "-n", str(processes), *options.split(), self.octree]
        answer = np.frombuffer(self._rtrace(arguments, facets.tobytes()), "<f4")
        return answer.reshape(-1, 3).astype(float)

    def bounced(
        self, points: Floats, normals: Floats, rays: int, options: str, processes: int = 2,
        seed: int = 1,
    ) -> Floats:  # fmt: skip
        """Light that surfaces send to facets (N, 3), (N, 3) [1/m2], by ``rays`` followed from each.

        `rtrace -I` without its cache gives a lamp a single sample, near or far, which drowns the
        bounced light in the noise of the straight light. Here the first ray is chosen outside, spread
        as the cosine to the facet, what it meets is asked of `rtrace`, and rays that meet a lamp are
        left out: the straight light comes from `irradiance` with ``-ab 0``.
        """
        rng = np.random.default_rng(seed)
        normals = np.broadcast_to(normals, points.shape)
        side = np.cross(
            normals, np.where(np.abs(normals[:, :1]) < 0.9, [[1.0, 0, 0]], [[0, 1.0, 0]])
        )
        side /= np.linalg.norm(side, axis=1, keepdims=True)
        other = np.cross(normals, side)
        # Strata in the square of the radius by strata in angle, a random place in each.
        rings = max(1, round(np.sqrt(rays / 3)))
        spokes = max(1, round(rays / rings))
        shape = (len(points), rings, spokes)
        r2 = (np.arange(rings)[None, :, None] + rng.random(shape)) / rings
        turn = 2 * np.pi * (np.arange(spokes)[None, None, :] + rng.random(shape)) / spokes
        x, y, z = np.sqrt(r2) * np.cos(turn), np.sqrt(r2) * np.sin(turn), np.sqrt(1 - r2)
        way = (
            x[..., None] * side[:, None, None]
            + y[..., None] * other[:, None, None]
            + z[..., None] * normals[:, None, None]
        )
        start = np.broadcast_to(points[:, None, None], way.shape)
        asked = np.concatenate([start, way], axis=-1).reshape(-1, 6).astype("<f4")
        arguments = [
            "-h",
            "-u-",
            "-ffa",
            "-ovm",
            "-n",
            str(processes),
            *options.split(),
            self.octree,
        ]
        text = self._rtrace(arguments, asked.tobytes()).split()
        table = np.array(text).reshape(-1, 4)
        value = table[:, :3].astype(float)
        value[np.char.startswith(table[:, 3], b"lamp")] = 0.0
        # Radiance times pi is what a cosine fan of rays gives in the mean.
        return np.pi * value.reshape(len(points), -1, 3).mean(axis=1)


def rms_of_mean(values: Floats, reference: Floats) -> Floats:
    """RMS difference as a share of the mean, by band (3,), over the sensors that the reference
    lights above 2 % of its maximum."""
    out = []
    for band in range(reference.shape[1]):
        lit = reference[:, band] > 0.02 * reference[:, band].max()
        gap = values[lit, band] - reference[lit, band]
        out.append(np.sqrt((gap**2).mean()) / reference[lit, band].mean())
    return np.array(out)
