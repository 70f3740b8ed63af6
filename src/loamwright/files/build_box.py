"""Enclosure, ground and water bowls: from what the file says to habitat dataclasses."""

from __future__ import annotations

from dataclasses import replace

from loamwright.files.build_context import COMMON_PRACTICE, Build
from loamwright.files.build_mix import MEDIA, build_mix, usual_mix
from loamwright.files.build_relief import build_additions, build_relief, mean_depth
from loamwright.files.schema_box import (
    BowlPart,
    EnclosurePart,
    LayerPart,
    PanelPart,
)
from loamwright.habitat.enclosure import (
    PANELS,
    Enclosure,
    Lining,
    Opening,
    Panel,
    Stand,
)
from loamwright.habitat.ground import Ground, Layer
from loamwright.habitat.water import Bowl

DEPTHS = {"drainage-mat": 0.02, "fleece": 0.002, "leaf-litter": 0.03}
"""Depths [m] of layers whose depth may be left out."""

SILL = 0.02
"""How much higher than the ground a sill below doors is where nothing is said [m]."""

SURFACES = {
    "drainage-mat": "drainage-mat",
    "clay-pebbles": "clay-pebbles",
    "gravel": "gravel",
    "fleece": "fleece",
    "mix": "forest-mix",
    "coir": "forest-mix",
    "peat": "peat",
    "bark": "bark-chips",
    "soil": "forest-mix",
    "clay": "loam-sand",
    "loam-sand": "loam-sand",
    "sand": "desert-sand",
    "moss": "moss",
    "leaf-litter": "leaf-litter",
}
"""The material whose reflectances a layer's surface shows, by kind."""


def build_enclosure(build: Build, part: EnclosurePart) -> Enclosure:
    """The box with its panels, openings, linings and stand."""
    inside = (float(part.inside.width), float(part.inside.depth), float(part.inside.height))
    panels = tuple(_panel(build, side, part) for side in PANELS)
    _check_sill(build, part, panels, inside[2])
    openings: list[Opening] = []
    for loc, hole in build.entries("enclosure.openings", part.openings):
        cover = build.cover(hole.cover, (*loc, "cover"))
        if hole.cover is None:
            build.default(f"enclosure.openings[{hole.name}].cover", "open", "no cover is named")
        at, size = (
            (float(hole.at[0]), float(hole.at[1])),
            (float(hole.size[0]), float(hole.size[1])),
        )
        openings.append(Opening(hole.name, hole.panel, at, size, cover))
    linings: list[Lining] = []
    for loc, lining in build.entries("enclosure.lining", part.lining):
        material = build.material(lining.material, (*loc, "material"))
        thickness = float(lining.thickness)
        glued = None if lining.glued is None else float(lining.glued)
        linings.append(Lining(lining.name, lining.panel, material, thickness, lining.fixing or "",
                              lining.screws, glued))  # fmt: skip
    stand = _stand(build, part)
    return Enclosure(inside, panels, tuple(openings), tuple(linings), stand)


def _stand(build: Build, box: EnclosurePart) -> Stand | None:
    part = box.stand
    if part is None:
        return None
    usual = Stand(part.kind)
    if part.height is None:
        build.default("enclosure.stand.height", build.show(usual.height))
    if part.mass is None:
        build.default("enclosure.stand.mass", build.show(usual.mass, "mass"))
    if part.tied is None:
        build.default("enclosure.stand.tied", "false", "nothing is said")
    return Stand(
        part.kind,
        None if part.rated is None else float(part.rated),
        usual.height if part.height is None else float(part.height),
        usual.mass if part.mass is None else float(part.mass),
        bool(part.tied),
    )


def _check_sill(build: Build, box: EnclosurePart, panels: tuple[Panel, ...], height: float) -> None:
    """Say which sills cannot be."""
    for panel in panels:
        given = getattr(box.panels, panel.side) if box.panels is not None else None
        if given is None or given.sill is None:
            continue
        place = ("enclosure", "panels", panel.side, "sill")
        if not panel.doors:
            build.say(place, "belongs to a panel with doors", key=True)
        elif panel.side in ("top", "floor"):
            build.say(place, "belongs to an upright panel", key=True)
        elif given.sill >= height:
            message = f"{given.sill.text} leaves no door: the inside height is {build.show(height)}"
            build.say(place, message)


def _panel(build: Build, side: str, box: EnclosurePart) -> Panel:
    given = getattr(box.panels, side) if box.panels is not None else None
    part: PanelPart = given or PanelPart.model_validate({})
    where = f"enclosure.panels.{side}"
    front = side == "front"
    key = part.material
    if key is None:
        key = "float-glass" if front else "pvc-foam-board"
        build.default(f"{where}.material", key)
    material = build.material(key, ("enclosure", "panels", side, "material"))
    thickness = part.thickness
    usual = 0.005 if material.clear else 0.010
    if thickness is None:
        build.default(f"{where}.thickness", build.show(usual))
    doors = part.doors
    if doors is None:
        doors = 2 if front else 0
        if front:
            build.default(f"{where}.doors", str(doors))
    gap = part.gap
    if gap is None and doors > 1:
        build.default(f"{where}.gap", build.show(0.002))
    held = part.held
    if held is None:
        held, why = "four", COMMON_PRACTICE
        if side == "floor" and box.stand is not None:
            held = "everywhere"
        elif doors and side not in ("floor", "top"):
            # Runners and hinges hold doors, not the strip that they stand on.
            held, why = "three", "doors stand above its fixed strip, whose upper edge is free"
        build.default(f"{where}.held", held, why)
    return Panel(
        side,
        material,
        usual if thickness is None else float(thickness),
        doors,
        (0.002 if doors > 1 else 0.0) if gap is None else float(gap),
        held,
        0.0 if part.sill is None else float(part.sill),
        0.0 if part.ribs is None else float(part.ribs),
    )


def with_sills(build: Build, box: Enclosure, surface: float) -> Enclosure:
    """The box with a usual sill below doors that the ground would press on."""
    panels = []
    for panel in box.panels:
        usual = min(surface + SILL, 0.5 * box.inside[2])
        if panel.doors and not panel.sill and surface > 0.0 and panel.side not in ("top", "floor"):
            where = f"enclosure.panels.{panel.side}.sill"
            build.default(where, build.show(usual), f"it holds the ground back; {COMMON_PRACTICE}")
            panel = replace(panel, sill=usual)
        panels.append(panel)
    return replace(box, panels=tuple(panels))


def build_ground(build: Build, parts: list[LayerPart] | None, box: Enclosure) -> Ground:
    """The layers, bottom first; a usual ground, scaled to the box, where nothing is said."""
    if parts is None:
        return _usual_ground(build, box.inside[2])
    layers = []
    for loc, part in build.entries("ground", parts):
        name = part.name or part.kind
        depth = part.depth
        usual = DEPTHS.get(part.kind)
        made = build_mix(build, loc, part)
        if depth is None and usual is None:
            build.say((*loc, "depth"), f"is needed for {part.kind}: the depth when settled")
            continue
        if depth is None and usual is not None:
            build.default(f"ground[{name}].depth", build.show(usual))
        if part.leaf is not None and part.kind != "leaf-litter":
            build.say((*loc, "leaf"), f"belongs to leaf-litter, not to {part.kind}", key=True)
        deep = float(usual if depth is None and usual is not None else depth or 0.0)
        relief = build_relief(build, loc, part, deep, box)
        layers.append(
            Layer(
                name,
                part.kind,
                deep if relief is None else mean_depth(relief, box),
                build.material(*_surface(build, part, name, (*loc, "surface"))),
                part.leaf or "",
                made.parts,
                made.reuse,
                made.components,
                made.mix,
                made.medium,
                relief,
                build_additions(build, loc, part),
            )
        )
    return Ground(tuple(layers))


def _surface(
    build: Build, part: LayerPart, name: str, loc: tuple[str | int, ...]
) -> tuple[str, tuple[str | int, ...]]:
    """Key of the material of a layer's surface, and the place to blame."""
    if part.surface is not None:
        return part.surface, loc
    key = SURFACES[part.kind]
    leaf = f"{part.leaf}-litter" if part.leaf else ""
    if leaf in build.catalogue.materials:
        key = leaf
    build.default(f"ground[{name}].surface", key, f"the usual surface of {part.kind}")
    return key, loc


def _usual_ground(build: Build, height: float) -> Ground:
    """Drainage, fleece, mix and litter; shallower in a low box."""
    depths = {
        "drainage-mat": min(0.02, 0.05 * height),
        "fleece": 0.002,
        "mix": min(0.15, 0.15 * height),
        "leaf-litter": min(0.03, 0.05 * height),
    }
    layers = []
    for kind, depth in depths.items():
        surface = build.material(SURFACES[kind], ("ground",))
        build.default(f"ground[{kind}]", build.show(depth), f"usual ground, {COMMON_PRACTICE}")
        if kind == "mix":
            mix, parts, components, medium = usual_mix(build, kind, None, ("ground",))
        else:
            mix, parts, components, medium = "", (), (), build.catalogue.media[MEDIA[kind]]
        layers.append(
            Layer(
                kind, kind, depth, surface,
                parts=parts, components=components, mix=mix, medium=medium,
            )
        )  # fmt: skip
    return Ground(tuple(layers))


def build_water(build: Build, parts: list[BowlPart], ground: float) -> tuple[Bowl, ...]:
    """The water bowls; [x, y] stands one on the ground."""
    bowls = []
    for _, part in build.entries("water", parts):
        z = float(part.at[2]) if len(part.at) == 3 else ground
        bowls.append(
            Bowl(
                part.name,
                (float(part.at[0]), float(part.at[1]), z),
                (float(part.size[0]), float(part.size[1])),
                float(part.depth),
            )
        )
    return tuple(bowls)
