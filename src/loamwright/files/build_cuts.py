"""How things are cut: from what the file says to numbers in SI."""

from __future__ import annotations

from loamwright.files.build_context import Build, box_size, in_unit_of
from loamwright.files.document import Loc, suggest
from loamwright.files.schema_cuts import CutsPart, StockPart
from loamwright.habitat.cutting import Cutting, Stock
from loamwright.habitat.enclosure import Enclosure

ROLLED = ("drainage-mat", "fleece")
"""Kinds of layer that come in rolls."""

GRAINED = ("plywood", "softwood", "hardwood")
"""Materials with a grain along the longer edge of a sheet."""


def build_cuts(build: Build, part: CutsPart | None, box: Enclosure) -> Cutting:
    """The builder's stock and ways of cutting; usual ones where nothing is said."""
    if part is None:
        return Cutting()
    usual = Cutting()
    given = {
        key: float(value)
        for key in ("kerf", "trim", "overlap", "runner", "sill", "cover_overlap", "turn_up")
        if (value := getattr(part, key)) is not None
    }
    stock = [
        made
        for loc, entry in build.entries("cuts.stock", part.stock)
        if (made := _stock(build, loc, entry, given.get("trim", 0.0))) is not None
    ]
    if part.sill_material is not None:
        build.material(part.sill_material, ("cuts", "sill_material"))
    _check_front(build, part, box, given)
    cut = Cutting(
        tuple(stock),
        joint=part.joint or usual.joint,
        doors=part.doors or "",
        sill_material=part.sill_material or "",
        **given,
    )
    for name in ("joint", "overlap", "runner", "cover_overlap", "turn_up"):
        if getattr(part, name) is None:
            value = getattr(usual, name)
            build.default(f"cuts.{name}", value if name == "joint" else build.show(value))
    return cut


def _stock(build: Build, loc: Loc, part: StockPart, trim: float) -> Stock | None:
    """One sheet or roll; None after saying what is wrong with it."""
    key = part.material
    catalogue = build.catalogue
    meshes = [k for k, cover in catalogue.covers.items() if cover.kind == "mesh"]
    if key not in catalogue.materials and key not in meshes and key not in ROLLED:
        if not build.own_broken:
            hint = suggest(key, [*catalogue.materials, *meshes, *ROLLED])
            build.say((*loc, "material"), f"there is no material or mesh {key!r}; {hint}")
        return None
    if (part.size is None) == (part.width is None):
        what = "has both" if part.size is not None else "needs"
        build.say(loc, f"{what} 'size' (of a sheet) or 'width' (of a roll); give one of the two")
        return None
    if part.size is not None:
        if part.length is not None:
            build.say(
                (*loc, "length"), "belongs to a roll; a sheet has its length in 'size'", key=True
            )
            return None
        long, short = (float(v) for v in part.size)
        if 2.0 * trim >= min(long, short):
            told = in_unit_of(trim, part.size[0])
            build.say(
                ("cuts", "trim"), f"{told} off each edge leaves nothing of a sheet of {key!r}"
            )
            return None
    else:
        short, long = float(part.width or 0.0), float(part.length or 0.0)
        if part.grain not in (None, "none"):
            build.say((*loc, "grain"), "belongs to a sheet, not to a roll", key=True)
            return None
    grain = part.grain or ("long" if key in GRAINED and part.size is not None else "none")
    return Stock(
        key,
        short,
        long or None,
        None if part.thickness is None else float(part.thickness),
        part.size is None,
        grain,
        part.price or "",
    )


def _check_front(build: Build, part: CutsPart, box: Enclosure, given: dict[str, float]) -> None:
    """The fixed part of the front and the runners must leave room for doors."""
    if not build.box_known:
        return
    high, wide = box.inside[2], box.inside[0]
    sill, runner = given.get("sill", 0.0), given.get("runner", 0.0)
    if part.sill is not None and sill >= high:
        told = box_size(build, box, 2, part.sill)
        build.say(("cuts", "sill"), f"{part.sill.text} leaves no room for doors; {told}")
    elif part.runner is not None and sill + runner >= high:
        told = box_size(build, box, 2, part.runner)
        build.say(("cuts", "runner"), f"{part.runner.text} leaves no room for doors; {told}")
    if part.overlap is not None and given["overlap"] >= 0.5 * wide:
        told = box_size(build, box, 0, part.overlap)
        build.say(("cuts", "overlap"), f"{part.overlap.text} is half the front or more; {told}")
