"""Fields for the scene: light and climate as numbers over a plane or on the surfaces, by hour.

A field comes as rows that are summed by shares: a row for each lamp, or for the climate one row, the
hour's own. Changing the hour thus needs nothing new for light.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from loamwright.report import quantities
from loamwright.report.plain import capital
from loamwright.report.scales import light_scale, scale_for
from loamwright.web.desk import SEASONS, Desk

LIGHT = {"uvi": "UV index", "ppfd": "plant light", "lux": "illuminance", "radiant": "radiant power"}
CLIMATE = {"air": "air temperature", "humidity": "humidity", "surface": "surface temperature"}

PLANES = {"y": "lengthwise cut", "x": "crosswise cut",
          "z": "level cut", "skin": "surfaces"}  # fmt: skip

NOTES = {"uvi": "meter turned to the brightest", "ppfd": "facing up", "lux": "facing up",
         "radiant": "meter turned to the brightest"}  # fmt: skip


def bar(desk: Desk, wanted: dict[str, Any], system: str) -> dict[str, Any]:
    """What the bar over the scene offers, and what is chosen."""
    run = desk.days.get(desk.season)
    hours = desk.habitat.schedule.hours(desk.season) if desk.habitat else (0.0, 86400.0)
    return {
        "quantities": [["none", "nothing"], *LIGHT.items(), *CLIMATE.items()],
        "planes": list(PLANES.items()), "wanted": dict(wanted), "seasons": list(SEASONS),
        "run": run is not None, "day": [hours[0] / 3600.0, hours[1] / 3600.0],
    }  # fmt: skip


def asked(said: Any, before: dict[str, Any], desk: Desk) -> dict[str, Any]:
    """What is wanted, of what a page asked; anything it cannot mean is left as it was."""
    out = dict(before)
    said = said if isinstance(said, dict) else {}
    if said.get("quantity") in ("none", *LIGHT, *CLIMATE):
        out["quantity"] = said["quantity"]
    if said.get("plane") in PLANES:
        out["plane"] = said["plane"]
    if said.get("season") in SEASONS:
        out["season"] = said["season"]
    position, hour = said.get("position"), said.get("hour", before["hour"])
    if isinstance(position, int | float):
        out["position"] = min(max(float(position), 0.02), 0.98)
    out["hour"] = min(max(float(hour), 0.0), 24.0) if isinstance(hour, int | float) else None
    if out["quantity"] in CLIMATE and out["hour"] is None:
        out["hour"] = 12.0
    if out["quantity"] == "surface":
        out["plane"] = "skin"
    elif out["quantity"] in CLIMATE and out["plane"] in ("skin", "z"):
        out["plane"] = "y"
    return out


async def field(desk: Desk, wanted: dict[str, Any]) -> dict[str, Any]:
    """The field that is wanted; LookupError where it cannot be had yet, with the reason."""
    quantity, plane = wanted["quantity"], wanted["plane"]
    habitat = desk.habitat
    if quantity in CLIMATE:
        return await _climate(desk, quantity, plane, wanted["position"])
    if plane == "skin":
        got = await desk.engines.run(desk.id, "surfaces", slot="field", habitat=habitat,
                                     quantity=quantity)  # fmt: skip
        values = got["values"]
        return {"kind": "skin", "triangles": got["triangles"], "patch": got["patch"],
                "owner": got["owner"], "values": values, "most": _most(values)}  # fmt: skip
    low, high = _air(desk)
    k = "xyz".index(plane)
    position = low[k] + wanted["position"] * (high[k] - low[k])
    got = await desk.engines.run(desk.id, "plane", slot="field", habitat=habitat,
                                 quantity=quantity, axis=plane, position=position)  # fmt: skip
    values = np.nan_to_num(got["values"], nan=np.nan)
    return {"kind": "plane", "axis": plane, "position": position,
            "lines": [x.tolist() for x in got["lines"]], "values": values,
            "most": _most(values)}  # fmt: skip


def at_sites(desk: Desk, quantity: str, hour: float | None, system: str) -> dict[str, str]:
    """A quantity of the climate at each site at an hour, for its label; nothing while there is no run
    of these sites."""
    run, habitat = desk.days.get(desk.season), desk.habitat
    if run is None or habitat is None or tuple(run.sites) != tuple(s.name for s in habitat.sites):
        return {}
    name = {"air": "air_temperature", "surface": "surface_temperature"}.get(quantity, quantity)
    values = {"air": run.air, "surface": run.surface, "humidity": run.humidity}[quantity]
    row = _row(run.hours, hour)
    return {
        f"sites/{n}": quantities.worded(name, float(v), system)
        for n, v in enumerate(values[row]) if np.isfinite(v)
    }  # fmt: skip


def _row(hours: Any, hour: float | None) -> int:
    """The row of a run at an hour."""
    return min(round((hour or 0.0) * (len(hours) - 1) / 24.0), len(hours) - 1)


def _air(desk: Desk) -> tuple[list[float], list[float]]:
    from loamwright.engine.lower import air_box

    assert desk.habitat is not None
    low, high = air_box(desk.habitat)
    return low.tolist(), high.tolist()


def _most(values: Any) -> float:
    if not values.size:
        return 0.0
    with np.errstate(all="ignore"):
        total = np.nansum(values, axis=0)
    return float(np.nanpercentile(total, 99.5)) if total.size else 0.0


async def _climate(desk: Desk, quantity: str, plane: str, position: float) -> dict[str, Any]:
    run = desk.days.get(desk.season)
    if run is None:
        reason = desk.troubles.get("climate")
        raise LookupError(reason or f"the {desk.season} day is being run; one moment")
    if quantity == "surface":
        got = await desk.engines.run(desk.id, "surfaces", slot="field", habitat=desk.habitat,
                                     quantity="ppfd")  # fmt: skip
        owners = np.array(run.surface_owner, str)
        rows = []
        for name in got["owner"]:
            mine = owners == name
            area = run.surface_area[mine]
            rows.append(run.surfaces[:, mine] @ area / area.sum() if mine.any() else
                        np.full(len(run.hours), np.nan))  # fmt: skip
        return {"kind": "skin", "triangles": got["triangles"], "patch": got["patch"],
                "owner": got["owner"], "values": np.array(rows, np.float32).T.copy(),
                "most": 0.0}  # fmt: skip
    columns, layers = run.grid
    cells = run.cell_air if quantity == "air" else run.cell_humidity
    low, high = np.array(run.low), np.array(run.high)
    middle = [
        low[k] + (np.arange(n) + 0.5) / n * (high[k] - low[k])
        for k, n in ((0, columns), (2, layers))
    ]
    lines = [np.linspace(low[0] + 0.005, high[0] - 0.005, 24),
             np.linspace(low[2] + 0.005, high[2] - 0.005, 24)]  # fmt: skip
    table = cells.reshape(len(run.hours), layers, columns)
    values = _spread(table, middle, lines)
    axis = "y"
    at = float(low[1] + position * (high[1] - low[1]))
    if plane == "x":
        # The air is cut into columns along the width: crosswise it is one value a layer.
        where = low[0] + position * (high[0] - low[0])
        column = int(np.argmin(np.abs(lines[0] - where)))
        values = np.repeat(values[:, column : column + 1, :], 24, axis=1)
        lines = [np.linspace(low[1] + 0.005, high[1] - 0.005, 24), lines[1]]
        axis, at = "x", float(where)
    return {"kind": "plane", "axis": axis, "position": at, "lines": [x.tolist() for x in lines],
            "values": values.reshape(len(run.hours), -1).astype(np.float32), "most": 0.0}  # fmt: skip


def _spread(table: Any, middle: list[Any], lines: list[Any]) -> Any:
    """Values of cells (R, layers, columns) between their middles, (R, across, up)."""
    across = np.stack([
        np.stack([np.interp(lines[0], middle[0], row) for row in layer]) for layer in
        table.transpose(1, 0, 2)
    ], axis=1)  # fmt: skip
    # across: (R, layers, points); now upwards
    out = np.empty((len(table), len(lines[0]), len(lines[1])))
    for r in range(len(table)):
        for i in range(len(lines[0])):
            out[r, i] = np.interp(lines[1], middle[1], across[r, :, i])
    return out


def paint(desk: Desk, wanted: dict[str, Any], field: dict[str, Any], system: str) -> dict[str, Any]:
    """Shares, colours and words for a field at the hour that is wanted."""
    quantity, hour = wanted["quantity"], wanted["hour"]
    when = "all lamps on" if hour is None else f"{desk.season} day, {int(hour):02d}:" + (
        f"{round(hour % 1 * 60) % 60:02d}")  # fmt: skip
    if quantity in LIGHT:
        unit = quantities.unit(quantity, system)
        factor = quantities.shown(quantity, 1.0, system)
        scale = scale_for(quantity, "", field["most"] * factor)
        name = capital(LIGHT[quantity])
        where = NOTES[quantity] if field["kind"] == "plane" else "as the surface faces"
        return {
            "shares": desk.shares(hour), "scale": _scale(scale),
            "show": {"factor": factor, "unit": unit, "before": "UVI " if quantity == "uvi" else ""},
            "title": f"{name}{f' [{unit}]' if unit else ''}", "note": f"{when}; {where}",
        }  # fmt: skip
    values = field["values"]
    row = _row(values, hour)
    shares = [0.0] * len(values)
    shares[row] = 1.0
    if quantity == "humidity":
        show = {"factor": 100.0, "unit": "%", "digits": 0}
    elif system == "us":
        show = {"factor": 1.8, "offset": -459.67, "unit": "°F", "digits": 1}
    else:
        show = {"factor": 1.0, "offset": -273.15, "unit": "°C", "digits": 1}
    known = values[np.isfinite(values)] * show["factor"] + show.get("offset", 0.0)
    ends = (float(known.min()), float(known.max())) if known.size else (0.0, 1.0)
    return {"shares": shares, "scale": even_scale(*ends), "show": show,
            "title": f"{capital(CLIMATE[quantity])} [{show['unit']}]", "note": when}  # fmt: skip


def _scale(scale: Any) -> dict[str, Any]:
    return {"edges": list(scale.edges), "colors": list(scale.colors),
            "groups": [list(g) for g in scale.groups]}  # fmt: skip


def even_scale(low: float, high: float) -> dict[str, Any]:
    """Even round steps from the lowest to the highest value, in the colours of `light_scale`."""
    span = max(high - low, 1e-6)
    raw = span / 10
    size = 10.0 ** np.floor(np.log10(raw))
    step = float(min((s for s in (1, 2, 5, 10) if s * size >= raw), default=10) * size)
    first = float(np.floor(low / step) * step)
    count = max(2, int(np.ceil((high - first) / step + 1e-9)))
    source = light_scale("", 1000.0).colors
    pick = [source[round(i * (len(source) - 1) / (count - 1))] for i in range(count)]
    return {"edges": [round(first + i * step, 6) for i in range(count + 1)], "colors": pick,
            "groups": []}  # fmt: skip
