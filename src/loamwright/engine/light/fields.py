"""Light on grids: the whole air space or a section through it, as labelled arrays."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light.inside import inside_solid
from loamwright.engine.light.model import LightModel
from loamwright.engine.light.values import lamp_worth
from loamwright.engine.lower import air_box
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.needs import QUANTITIES as UNITS

if TYPE_CHECKING:
    import xarray as xr

Floats = NDArray[np.float64]

QUANTITIES = ("uvi", "uva", "uvb", "ppfd", "lux", "radiant", "dli")

_AXES = np.concatenate([np.eye(3), -np.eye(3)])

EDGE = 0.005
"""Grid points keep this far [m] from the panels."""


def _toward_brightest(model: LightModel, points: Floats, quantity: str) -> Floats:
    """Unit vectors (N, 3) along the net flux of a quantity's straight light: where a meter is turned
    to read most, when what it sees lies in one half-space. Up where there is none."""
    normals = np.tile(_AXES, (len(points), 1))
    sensors = model.sensors(points, normals, all_round=True).sensors
    total = np.zeros(len(normals))
    for k, lamp in enumerate(model.lamps):
        worth = lamp_worth(lamp, quantity)
        if worth.any():
            total += sensors.straight(model.emitters[k]) @ worth
    faces = total.reshape(len(points), 6)
    net = faces[:, :3] - faces[:, 3:]
    size = np.linalg.norm(net, axis=1, keepdims=True)
    up = np.array([0.0, 0.0, 1.0])
    return np.where(size > 1e-12, net / np.maximum(size, 1e-12), up)


def light_at(
    model: LightModel, points: Floats, facing: str, quantities: tuple[str, ...] = QUANTITIES
) -> dict[str, Floats]:
    """Quantities at points (N, 3) facing ``up`` or ``brightest`` (of the ultraviolet index for the
    ultraviolet quantities, of plant light for the rest); NaN inside solids."""
    solid = inside_solid(model, points)
    free = np.ascontiguousarray(points[~solid])
    out: dict[str, Floats] = {}
    groups: list[tuple[tuple[str, ...], str]] = [(quantities, "")]
    if facing == "brightest":
        ultraviolet = tuple(q for q in quantities if q.startswith("uv"))
        rest = tuple(q for q in quantities if not q.startswith("uv"))
        groups = [(ultraviolet, "uvi"), (rest, "ppfd")]
    for names, toward in groups:
        if not names:
            continue
        normals = (
            _toward_brightest(model, free, toward)
            if toward
            else np.tile([0.0, 0.0, 1.0], (len(free), 1))
        )
        light = model.sensors(free, normals)
        for name in names:
            values = np.full(len(points), np.nan)
            total = np.zeros(len(free))
            for k, lamp in enumerate(model.lamps):
                worth = lamp_worth(lamp, name)
                if worth.any():
                    total += light.transport(k) @ worth
            values[~solid] = total
            out[name] = values
    return out


def _axis(low: float, high: float, spacing: float) -> Floats:
    count = max(2, round((high - low) / spacing) + 1)
    return np.linspace(low + EDGE, high - EDGE, count)


def section(
    habitat: Habitat,
    model: LightModel,
    axis: str,
    position: float,
    spacing: float,
    quantities: dict[str, str],
) -> xr.Dataset:
    """A plane through the air space at ``position`` [m] on ``axis`` (x, y or z).

    ``quantities`` maps a quantity to its facing. Returns a dataset over the two other axes [m], with
    the third as a scalar coordinate; attributes ``units`` and ``facing`` on each variable.
    """
    import xarray as xr

    low, high = air_box(habitat)
    names = [n for n in "xyz" if n != axis]
    lines = {n: _axis(low["xyz".index(n)], high["xyz".index(n)], spacing) for n in names}
    first, second = np.meshgrid(lines[names[0]], lines[names[1]], indexing="ij")
    points = np.full((first.size, 3), position)
    points[:, "xyz".index(names[0])] = first.ravel()
    points[:, "xyz".index(names[1])] = second.ravel()
    variables = {}
    for facing in dict.fromkeys(quantities.values()):
        wanted = tuple(q for q, f in quantities.items() if f == facing)
        for name, values in light_at(model, points, facing, wanted).items():
            attributes = {"units": UNITS[name], "facing": facing}
            variables[name] = (tuple(names), values.reshape(first.shape), attributes)
    metre = {"units": "m"}
    coords = {n: (n, v, metre) for n, v in lines.items()}
    return xr.Dataset(variables, {**coords, axis: ((), position, metre)})


def lamps_on_plane(
    habitat: Habitat,
    model: LightModel,
    axis: str,
    position: float,
    points: int,
    quantity: str,
    facing: str,
) -> tuple[list[Floats], NDArray[np.float32]]:
    """A quantity from each lamp over a plane of about so many points, so that any mix of them can be
    summed: the two lines of the grid [m] and values (L, points), NaN inside solids.

    Toward the ``brightest`` means the way that is brightest with all lamps on.
    """
    low, high = air_box(habitat)
    free = [k for k in range(3) if "xyz"[k] != axis]
    span = [float(high[k] - low[k]) for k in free]
    spacing = max(float(np.sqrt(span[0] * span[1] / points)), 0.01)
    lines = [_axis(low[k], high[k], spacing) for k in free]
    first, second = np.meshgrid(lines[0], lines[1], indexing="ij")
    grid = np.full((first.size, 3), position)
    grid[:, free[0]], grid[:, free[1]] = first.ravel(), second.ravel()
    inside = inside_solid(model, grid)
    open_air = np.ascontiguousarray(grid[~inside])
    if facing == "brightest":
        normals = _toward_brightest(model, open_air, quantity if quantity == "uvi" else "ppfd")
    else:
        normals = np.tile([0.0, 0.0, 1.0], (len(open_air), 1))
    light = model.sensors(open_air, normals)
    out = np.full((len(model.lamps), len(grid)), np.nan, np.float32)
    for k, lamp in enumerate(model.lamps):
        worth = lamp_worth(lamp, quantity)
        out[k, ~inside] = light.transport(k) @ worth if worth.any() else 0.0
    return lines, out


def volume(habitat: Habitat, model: LightModel, spacing: float) -> xr.Dataset:
    """The whole air space on a grid of about ``spacing`` [m]: every quantity facing up and toward the
    brightest, over x, y, z [m]; and the light on each patch of the surfaces."""
    import xarray as xr

    low, high = air_box(habitat)
    lines = [_axis(low[k], high[k], spacing) for k in range(3)]
    grid = np.stack(np.meshgrid(*lines, indexing="ij"), axis=-1)
    points = grid.reshape(-1, 3)
    facings = ("up", "brightest")
    by_facing = {f: light_at(model, points, f) for f in facings}
    variables: dict[str, Any] = {
        q: (
            ("facing", "x", "y", "z"),
            np.stack([by_facing[f][q].reshape(grid.shape[:3]) for f in facings]),
            {"units": UNITS[q]},
        )
        for q in QUANTITIES
    }
    metre = {"units": "m"}
    scene = model.scene
    for q in QUANTITIES:
        total = np.zeros(scene.patches)
        for k, lamp in enumerate(model.lamps):
            total += model.patch_light(k) @ lamp_worth(lamp, q)
        variables[f"surface_{q}"] = (("patch",), total, {"units": UNITS[q]})
    variables["surface_area"] = (("patch",), scene.area, {"units": "m2"})
    variables["surface_centre"] = (("patch", "axis"), scene.centre, metre)
    variables["surface_normal"] = (("patch", "axis"), scene.normal, {})
    owner = np.array([scene.owners[i] for i in scene.owner])
    return xr.Dataset(
        variables,
        {
            "facing": list(facings),
            "x": ("x", lines[0], metre),
            "y": ("y", lines[1], metre),
            "z": ("z", lines[2], metre),
            "axis": ["x", "y", "z"],
            "surface_owner": ("patch", owner),
        },
        {"habitat": habitat.name, "title": "Light, all lamps on"},
    )
