"""Ways by which air enters and leaves: fans, openings, slits at doors, and doors left open."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.cells import Cells
from loamwright.engine.climate.network import FAN_IN, FAN_OUT, PASSIVE
from loamwright.habitat.air import Fan
from loamwright.habitat.catalogue import Cover
from loamwright.habitat.enclosure import Opening
from loamwright.habitat.habitat import Habitat
from loamwright.physics import airflow, convection, fans, flow_losses

Floats = NDArray[np.float64]

DENSITY, TEMPERATURE = 1.19, 297.0
"""Air for which losses are worked out [kg/m3], [K]."""

SLOW, FAST = 0.05, 0.5
"""Speeds [m/s] between which the loss of a mesh or filter is laid on a line and a parabola."""

DOOR_SLIT = 0.001
"""Width [m] of the slit round a closed door or between sliding panes; common practice, no source."""

SEAMS = 0.5e-4
"""Area [m2] of what leaks at the top and at the bottom of any box; common practice, no source."""

STOPPED = 12.0
"""Loss of a stopped fan in velocity heads of its own area; from memory, of small axial fans."""

DUCT_ROUGHNESS = 0.003
"""Roughness over diameter of a flexible duct [1]; from memory."""

CREEP = 0.01
"""Speed [m/s] under which air creeps through an opening and the loss grows with the flow itself: a
Reynolds number of some tens. From memory."""

SEGMENTS = 8
"""Pieces into which an upright opening is cut, so that air can enter low and leave high."""


@dataclass(frozen=True)
class Path:
    """One way for air: ``kind``, ``height`` above the ground [m], losses a Q + b Q^2, the fan's curve,
    ``cells`` shares (N,), ``top`` area that exchanges by density [m2] and ``screen`` what a mesh leaves
    of that, ``idle`` further b of a stopped fan; ``owner`` its name, ``door`` True where it is shut
    until someone opens it."""

    owner: str
    kind: int
    height: float
    linear: float
    square: float
    cells: Floats
    shut: float = 0.0
    fan_linear: float = 0.0
    fan_square: float = 0.0
    power: float = 0.0
    idle: float = 0.0
    top: float = 0.0
    screen: float = 1.0
    door: bool = False


def _heads(loss: float, area: float) -> float:
    """b of a loss in velocity heads of an area [Pa s2/m6]."""
    return loss * 0.5 * DENSITY / (area * area)


def mesh_coefficients(cover: Cover, area: float) -> tuple[float, float]:
    """a [Pa s/m3] and b [Pa s2/m6] of a mesh of an area [m2]."""
    open_share = (1.0 - cover.wire / cover.pitch) ** 2
    viscosity = convection.air_viscosity(TEMPERATURE) / DENSITY

    def loss(speed: float) -> float:
        factor = flow_losses.wire_screen_loss_slow(open_share, speed * cover.wire / viscosity)
        return flow_losses.loss_pressure(factor, DENSITY, speed)

    linear, square = flow_losses.filter_coefficients(
        SLOW * area, loss(SLOW), FAST * area, loss(FAST)
    )
    return max(linear, 0.0), max(square, 0.0)


def _opening(
    owner: str, height: float, area: float, cover: Cover | None, cells: Floats, *, top: bool
) -> Path:
    orifice = 1.0 / airflow.ORIFICE_DISCHARGE**2
    square = _heads(orifice, area)
    linear = square * CREEP * area
    screen = 1.0
    if cover is not None and cover.kind == "mesh":
        a, b = mesh_coefficients(cover, area)
        linear, square = linear + a, square + b
        speed = 0.1
        mesh = (a * speed * area + b * (speed * area) ** 2) / (0.5 * DENSITY * speed * speed)
        screen = airflow.screened_discharge(airflow.ORIFICE_DISCHARGE, mesh)
        screen /= airflow.ORIFICE_DISCHARGE
    return Path(owner, PASSIVE, height, linear, square, cells, top=area if top else 0.0,
                screen=screen)  # fmt: skip


def place_in(habitat: Habitat, side: str, at: tuple[float, float]) -> Floats:
    """The point inside a panel at panel coordinates [m]."""
    x, y, z = habitat.enclosure.inside
    u, v = at
    return np.array(
        {"floor": (u, v, 0.0), "top": (u, v, z), "front": (u, 0.0, v), "back": (u, y, v),
         "left": (0.0, u, v), "right": (x, u, v)}[side]
    )  # fmt: skip


def _openings(habitat: Habitat, cells: Cells, opening: Opening) -> list[Path]:
    cover = opening.cover
    if cover.sheet is not None:
        return []
    ground = float(cells.low[2])
    (u, v), (du, dv) = opening.at, opening.size
    if opening.side in ("top", "floor"):
        low = place_in(habitat, opening.side, (u - du / 2, v - dv / 2))
        high = place_in(habitat, opening.side, (u + du / 2, v + dv / 2))
        shares = cells.around(low, high)
        up = opening.side == "top"
        return [_opening(opening.name, float(low[2]) - ground, du * dv, cover, shares, top=up)]
    count = max(1, min(SEGMENTS, math.ceil(dv / 0.05)))
    out = []
    for i in range(count):
        middle = v - dv / 2 + (i + 0.5) * dv / count
        half = dv / count / 2
        low = place_in(habitat, opening.side, (u - du / 2, middle - half))
        high = place_in(habitat, opening.side, (u + du / 2, middle + half))
        shares = cells.around(low, high)
        out.append(
            _opening(opening.name, middle - ground, du * dv / count, cover, shares, top=False)
        )
    return out


def _slit(
    owner: str, cells: Cells, low: Floats, high: Floats, length: float, width: float, depth: float
) -> Path:
    a, b = airflow.gap_coefficients(
        length, width, depth, 1.0, convection.air_viscosity(TEMPERATURE), DENSITY
    )
    height = 0.5 * float(low[2] + high[2]) - float(cells.low[2])
    return Path(owner, PASSIVE, max(height, 0.0), a, b, cells.around(low, high))


def _doors(habitat: Habitat, cells: Cells) -> list[Path]:
    """Slits of closed doors, and the doors themselves, shut."""
    out: list[Path] = []
    ground = float(cells.low[2])
    for panel in habitat.enclosure.panels:
        if panel.doors <= 0:
            continue
        side = panel.side
        x, y, z = habitat.enclosure.inside
        if side in ("top", "floor"):
            low, high = place_in(habitat, side, (0.0, 0.0)), place_in(habitat, side, (x, y))
            around = 2 * (x + y)
            out.append(_slit(side, cells, low, high, around, DOOR_SLIT, panel.thickness))
            door = _opening(side, float(low[2]) - ground, x * y, None,
                            cells.around(low, high), top=side == "top")  # fmt: skip
            out.append(_as_door(door))
            continue
        wide = y if side in ("left", "right") else x
        for v in (ground, z):
            low, high = place_in(habitat, side, (0.0, v)), place_in(habitat, side, (wide, v))
            out.append(_slit(side, cells, low, high, wide, DOOR_SLIT, panel.thickness))
        step = (z - ground) / SEGMENTS
        for i in range(SEGMENTS):
            low = place_in(habitat, side, (0.0, ground + i * step))
            high = place_in(habitat, side, (wide, ground + (i + 1) * step))
            if panel.gap > 0.0 and panel.doors > 1:
                middle = (low + high) / 2
                half = np.array([0.0, 0.0, step / 2])
                slits = step * (panel.doors - 1)
                out.append(
                    _slit(side, cells, middle - half, middle + half, slits, panel.gap,
                          panel.thickness)
                )  # fmt: skip
            height = (i + 0.5) * step
            door = _opening(side, height, wide * step, None, cells.around(low, high), top=False)
            out.append(_as_door(door))
    return out


def _as_door(path: Path) -> Path:
    return Path(path.owner, path.kind, path.height, path.linear, path.square, path.cells,
                top=path.top, screen=path.screen, door=True)  # fmt: skip


def fan_path(habitat: Habitat, cells: Cells, fan: Fan) -> Path:
    """A fan with its guards, filter and duct."""
    kind = fan.type
    area = math.pi / 4 * kind.diameter**2
    linear, square = 0.0, 0.0
    for guard in fan.guards:
        if guard.kind == "mesh":
            a, b = mesh_coefficients(guard, area)
            linear, square = linear + a, square + b
    if fan.filter is not None:
        dust = fan.filter
        q = dust.face_speed * area
        half = dust.pressure * 0.5**dust.exponent
        a, b = flow_losses.filter_coefficients(0.5 * q, half, q, dust.pressure)
        linear, square = linear + max(a, 0.0), square + max(b, 0.0)
    if fan.duct_length > 0.0:
        speed = 0.5 * kind.free_flow / area
        reynolds = speed * kind.diameter * DENSITY / convection.air_viscosity(TEMPERATURE)
        rough = flow_losses.friction_factor(reynolds, DUCT_ROUGHNESS)
        loss = flow_losses.duct_loss(rough, fan.duct_length, kind.diameter) + flow_losses.EXIT
        square += _heads(loss, area)
    if kind.curve:
        flow, pressure = kind.curve[len(kind.curve) // 2]
        shut, a, b = fans.curve_from_three(kind.free_flow, kind.static_pressure, flow, pressure)
    else:
        shut, a, b = fans.curve_from_two(kind.free_flow, kind.static_pressure, 0.0)
    at = place_in(habitat, fan.side, fan.at)
    half = np.full(3, kind.diameter / 2)
    return Path(
        fan.name, FAN_IN if fan.inward else FAN_OUT, float(at[2]) - float(cells.low[2]), linear,
        square, cells.around(at - half, at + half), shut, a, b, kind.power,
        _heads(STOPPED, area),
    )  # fmt: skip


def paths_of(habitat: Habitat, cells: Cells) -> list[Path]:
    """Every way for air: fans first, in the file's order."""
    out = [fan_path(habitat, cells, fan) for fan in habitat.fans]
    for opening in habitat.enclosure.openings:
        out += _openings(habitat, cells, opening)
    out += _doors(habitat, cells)
    low, high = cells.low, cells.high
    floor = np.array([high[0], high[1], low[2]])
    ceiling = np.array([low[0], low[1], high[2]])
    for ends, height in (((low, floor), 0.0), ((ceiling, high), float(high[2] - low[2]))):
        shares = cells.around(*ends)
        out.append(_opening("seams", height, SEAMS, None, shares, top=False))
    return out
