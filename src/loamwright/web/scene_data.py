"""A habitat as things to be drawn in the scene: plain data, lengths in metres.

Each thing has an ``id``, a ``kind``, its ``name``, the place of its entry in the file (``loc``), what
its shape needs, and ``move``: how it may be dragged (``free``, ``level``, ``panel``, ``along``,
``no``).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from loamwright.engine.lower import air_box
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.report import quantities
from loamwright.report.plain import clean

Thing = dict[str, Any]
Value = Callable[..., Any]

LAYER_COLORS = {
    "drainage-mat": "#5b6b73", "clay-pebbles": "#a0603f", "gravel": "#8b8a84", "fleece": "#c9c7bd",
    "mix": "#4b3a2b", "coir": "#6a4a30", "peat": "#3c2f26", "bark": "#6b4a33", "soil": "#54412f",
    "clay": "#8d6a4c", "loam-sand": "#a9835a", "sand": "#cdb38a", "moss": "#5f7d3d",
    "leaf-litter": "#8a6a3c",
}  # fmt: skip
"""Colours of ground by kind, as it looks."""

MATERIAL_COLORS = {
    "wood": "#8a6744", "cork": "#a57c52", "sandstone": "#c4a77d", "slate": "#6d767c",
    "foam": "#7d7468", "clay": "#a36f50", "pvc": "#dcded9", "bamboo": "#b49b5a",
}  # fmt: skip

LAMP_COLORS = {"uv": "#b9a3ff", "hot": "#ffb45c", "white": "#fff3d0"}

MOST_TRIANGLES = 60_000
"""Triangles of scanned pieces that are sent to the page, all together."""


def things(habitat: Habitat, value: Value) -> dict[str, Any]:
    """Everything there is to draw; ``value`` gives what the file says at a place."""
    low, high = air_box(habitat)
    out: list[Thing] = []
    out += _panels(habitat)
    out += _ground(habitat, low, high)
    out += _pieces(habitat, value)
    out += _plants(habitat, value)
    out += _lamps(habitat)
    out += _air(habitat)
    out += _mist(habitat)
    for i, bowl in enumerate(habitat.water):
        out.append({
            **_thing("water", i, "bowl", bowl.name), "at": list(bowl.at), "size": list(bowl.size),
            "deep": bowl.depth, "move": _place_move(value(("water", i, "at"))),
        })  # fmt: skip
    out += _sites(habitat, value)
    return {
        "inside": list(habitat.enclosure.inside), "low": low.tolist(), "high": high.tolist(),
        "units": habitat.units, "things": out,
    }  # fmt: skip


def words(habitat: Habitat | None, stem: str, system: str) -> dict[str, Any]:
    """What the scene calls things: its unit, snap steps, and names for its picture."""
    edge, unit = quantities.edge(system)
    snaps = ([[0.0, "off"], [0.0127, "1/2 in"], [0.0254, "1 in"], [0.0508, "2 in"]]
             if system == "us" else
             [[0.0, "off"], [0.01, "1 cm"], [0.02, "2 cm"], [0.05, "5 cm"]])  # fmt: skip
    name = clean(habitat.name if habitat else "habitat", 60)
    return {"edge": edge, "unit": unit, "snaps": snaps, "name": name,
            "picture": f"{stem}-scene.png"}  # fmt: skip


def _thing(section: str, number: int, kind: str, name: str) -> Thing:
    path = section.split(".")
    return {"id": f"{section}/{number}", "kind": kind, "name": clean(name, 60),
            "loc": [*path, number], "move": "no"}  # fmt: skip


def material_color(key: str, reflect: float) -> str:
    """A colour for a solid: by what it is called, else a grey as bright as it is."""
    for word, color in MATERIAL_COLORS.items():
        if word in key:
            return color
    grey = round(70 + 150 * math.sqrt(min(max(reflect, 0.0), 1.0)))
    return f"#{grey:02x}{grey:02x}{max(grey - 6, 0):02x}"


def _panels(habitat: Habitat) -> list[Thing]:
    box = habitat.enclosure
    out: list[Thing] = []
    for panel in box.panels:
        lined = [x for x in box.linings if x.side == panel.side]
        out.append({
            "id": f"panel/{panel.side}", "kind": "panel", "name": panel.side, "side": panel.side,
            "loc": ["enclosure", "panels", panel.side], "move": "no", "clear": panel.material.clear,
            "thick": panel.thickness, "doors": panel.doors,
            "color": material_color(panel.material.key, panel.material.reflect_par),
            "lining": box.lining_depth(panel.side),
            "lining_color": material_color(lined[-1].material.key, lined[-1].material.reflect_par)
            if lined else "",
        })  # fmt: skip
    for i, hole in enumerate(box.openings):
        out.append({
            **_thing("enclosure.openings", i, "opening", hole.name), "side": hole.side,
            "at": list(hole.at), "size": list(hole.size), "cover": hole.cover.kind, "move": "panel",
        })  # fmt: skip
    return out


def _ground(habitat: Habitat, low: Any, high: Any) -> list[Thing]:
    out, base = [], 0.0
    for i, layer in enumerate(habitat.ground.layers):
        out.append({
            **_thing("ground", i, "layer", layer.name), "from": base, "to": base + layer.depth,
            "color": LAYER_COLORS.get(layer.kind, "#5a4a3a"), "low": low.tolist(),
            "high": high.tolist(),
        })  # fmt: skip
        base += layer.depth
    return out


def _pieces(habitat: Habitat, value: Value) -> list[Thing]:
    out, left = [], MOST_TRIANGLES
    for i, piece in enumerate(habitat.hardscape):
        thing = {
            **_thing("hardscape", i, "piece", piece.name), "shape": piece.shape,
            "color": material_color(piece.material.key, piece.material.reflect_par),
        }  # fmt: skip
        if piece.shape in ("branch", "tube"):
            thing |= {"from": list(piece.start), "to": list(piece.end), "wide": piece.diameter,
                      "wall": piece.wall, "move": "free"}  # fmt: skip
        elif piece.shape == "mesh":
            thing |= _mesh(piece, left)
            left -= len(thing["faces"]) // 3
            thing["move"] = _place_move(value(("hardscape", i, "at")))
        else:
            thing |= {"at": list(piece.at), "size": list(piece.size),
                      "move": _place_move(value(("hardscape", i, "at")))}  # fmt: skip
        out.append(thing)
    return out


def _mesh(piece: Piece, left: int) -> Thing:
    """A mesh's corners; one too large for what is left becomes its bounding box."""
    at = [min(c[k] for c in piece.vertices) for k in range(3)]
    end = [max(c[k] for c in piece.vertices) for k in range(3)]
    middle = [(at[0] + end[0]) / 2, (at[1] + end[1]) / 2, at[2]]
    if len(piece.faces) > left:
        size = [b - a for a, b in zip(at, end, strict=True)]
        return {"shape": "block", "at": middle, "size": size, "faces": []}
    return {
        "at": middle,
        "corners": [round(c, 5) for v in piece.vertices for c in v],
        "faces": [n for f in piece.faces for n in f],
    }


def _place_move(written: Any) -> str:
    """How something with an ``at`` of two or three measures moves."""
    return "free" if isinstance(written, list) and len(written) == 3 else "level"


def _plants(habitat: Habitat, value: Value) -> list[Thing]:
    out = []
    for i, plant in enumerate(habitat.plants):
        middle, half = plant.crown
        along = _piece_of(habitat, value(("plants", i, "on")))
        thing = {
            **_thing("plants", i, "plant", plant.name), "at": list(plant.foot),
            "middle": list(middle), "half": list(half),
            "dense": min(plant.type.leaf_area_index / 4.0, 1.5), "form": plant.type.form,
            "move": "along" if along else _place_move(value(("plants", i, "at"))),
        }  # fmt: skip
        if along:
            thing["line"] = along
        out.append(thing)
    return out


def _piece_of(habitat: Habitat, name: Any) -> list[list[float]] | None:
    """Both ends of the branch or tube of a name."""
    for piece in habitat.hardscape:
        if piece.name == name and piece.shape in ("branch", "tube"):
            return [list(piece.start), list(piece.end)]
    return None


def _lamps(habitat: Habitat) -> list[Thing]:
    out = []
    for i, lamp in enumerate(habitat.lamps):
        kind = lamp.type
        heat = kind.band_watts[3] + kind.band_watts[4]
        light = kind.band_watts[2]
        look = "uv" if kind.band_watts[0] > 0 and kind.shape == "tube" else (
            "hot" if heat > 2.0 * light else "white")  # fmt: skip
        out.append({
            **_thing("lamps", i, "lamp", lamp.name), "at": list(lamp.at), "aim": list(lamp.aim),
            "along": list(lamp.along), "shape": kind.shape, "long": kind.length,
            "wide": kind.width or kind.reflector_width or kind.diameter, "round": kind.diameter,
            "reflector": kind.reflector_width > 0, "beam": kind.beam_angle,
            "guard": lamp.guard is not None, "color": LAMP_COLORS[look], "dim": lamp.dim,
            "move": "free",
        })  # fmt: skip
    return out


def _air(habitat: Habitat) -> list[Thing]:
    return [
        {
            **_thing("air", i, "fan", fan.name), "side": fan.side, "at": list(fan.at),
            "wide": fan.type.diameter, "inward": fan.inward, "move": "panel",
        }
        for i, fan in enumerate(habitat.fans)
    ]  # fmt: skip


def _mist(habitat: Habitat) -> list[Thing]:
    out = []
    for i, nozzle in enumerate(habitat.mist.nozzles if habitat.mist else ()):
        out.append({
            **_thing("mist.nozzles", i, "nozzle", nozzle.name), "at": list(nozzle.at),
            "aim": list(nozzle.aim), "cone": nozzle.type.cone,
            "reach": _reach(habitat, nozzle.at, nozzle.aim), "move": "free",
        })  # fmt: skip
    return out


def _reach(habitat: Habitat, at: Vec3, aim: Vec3) -> float:
    """How far a ray goes before it leaves the air [m]."""
    low, high = air_box(habitat)
    spans = [((high[k] if aim[k] > 0 else low[k]) - at[k]) / aim[k]
             for k in range(3) if abs(aim[k]) > 1e-6]  # fmt: skip
    return float(min([s for s in spans if s > 0], default=0.3))


def _sites(habitat: Habitat, value: Value) -> list[Thing]:
    out = []
    for i, site in enumerate(habitat.sites):
        thing = {**_thing("sites", i, "site", site.name), "at": list(site.at), "role": site.role}
        if site.role == "crown":
            plant = next((n for n, p in enumerate(habitat.plants) if p.name == site.plant), None)
            thing["loc"] = ["plants", plant] if plant is not None else []
        else:
            along = _piece_of(habitat, value(("sites", i, "on")))
            if along:
                thing |= {"move": "along", "line": along}
            elif value(("sites", i, "at")) is not None:
                thing["move"] = _place_move(value(("sites", i, "at")))
        out.append(thing)
    return out
