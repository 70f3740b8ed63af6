"""What parts are cut from: what the file names, or the usual sizes.

The usual sizes, kerfs and widths of rolls are common practice, no source. They differ from country to
country and from yard to yard: the file's ``cuts.stock`` says what can be had.
"""

from __future__ import annotations

from loamwright.habitat.cutting import Stock
from loamwright.habitat.habitat import Habitat
from loamwright.plan.cut_parts import COVER, PartToCut

INCH = 0.0254

Sizes = tuple[tuple[float, float], ...]

_BOARD: Sizes = ((2.440, 1.220),)
_BOARD_US: Sizes = ((96 * INCH, 48 * INCH),)
_LONG: Sizes = (*_BOARD, (3.050, 1.525))
_LONG_US: Sizes = (*_BOARD_US, (120 * INCH, 60 * INCH))
_CLEAR: Sizes = ((2.050, 1.250), (3.050, 2.050))
_FOAM: Sizes = ((1.250, 0.600),)
_FOAM_US: Sizes = ((96 * INCH, 24 * INCH),)

USUAL: dict[str, tuple[Sizes, Sizes]] = {
    "pvc-foam-board": ((*_BOARD, (3.050, 1.560)), _LONG_US),
    "black-pvc-foam-board": ((*_BOARD, (3.050, 1.560)), _LONG_US),
    "plywood": (_LONG, _LONG_US),
    "osb": (_BOARD, _BOARD_US),
    "mdf": (_LONG, _LONG_US),
    "melamine-board": (((2.800, 2.070),), ((97 * INCH, 49 * INCH),)),
    "acrylic": (_CLEAR, _LONG_US),
    "uv-acrylic": (_CLEAR, _LONG_US),
    "polycarbonate": (_CLEAR, _LONG_US),
    "hdpe": (((2.000, 1.000),), _BOARD_US),
    "coated-pu-foam": (_FOAM, _FOAM_US),
    "xps-foam": (_FOAM, _FOAM_US),
    "cork-tile": (((1.000, 0.500),), ((36 * INCH, 24 * INCH),)),
}
"""Usual sheets by material: metric and US [m]."""

ROLLS = ("drainage-mat", "fleece", "coir-mat")
ROLL_WIDTH, ROLL_WIDTH_US = 1.0, 36 * INCH
"""Usual width of rolls of mesh, mat and fleece [m]."""

GRAINED = ("plywood",)

SOFT = ("coated-pu-foam", "xps-foam", "cork-tile", "cork")
"""Cut with a thin blade or a wire."""

KERF_BOARD, KERF_SOFT = 0.003, 0.001
"""Width of a cut [m]: a circular saw's blade; a knife, a wire or a fine saw."""


def stocks_for(habitat: Habitat, part: PartToCut) -> tuple[Stock, ...]:
    """What a part can be cut from; nothing for what is ordered cut to size or made in place."""
    named = tuple(
        s
        for s in habitat.cutting.stock
        if s.material == part.material
        and (s.thickness is None or abs(s.thickness - part.thickness) < 1e-4)
    )
    if named:
        return named
    us = habitat.units == "us"
    if part.material in USUAL:
        grain = "long" if part.material in GRAINED else "none"
        sizes = USUAL[part.material][us]
        return tuple(Stock(part.material, short, long, grain=grain) for long, short in sizes)
    if part.material in ROLLS or (part.kind == COVER and _mesh(habitat, part)):
        return (Stock(part.material, ROLL_WIDTH_US if us else ROLL_WIDTH, roll=True),)
    return ()


def _mesh(habitat: Habitat, part: PartToCut) -> bool:
    """Whether a cover is a mesh rather than a sheet."""
    covers = [o.cover for o in habitat.enclosure.openings]
    covers += [g for f in habitat.fans for g in f.guards]
    return any(c.key == part.material and c.sheet is None for c in covers)


def kerf_of(habitat: Habitat, part: PartToCut, stock: Stock) -> float:
    """Width of a cut in a part's material [m]: nothing in rolls and in glass, which is scored."""
    if stock.roll or "glass" in part.material:
        return 0.0
    if habitat.cutting.kerf is not None:
        return habitat.cutting.kerf
    return KERF_SOFT if part.material in SOFT else KERF_BOARD


def price_key(stock: Stock, thickness: float, several: bool) -> str:
    """Key in a price list: ``sheets/pvc-foam-board-10mm``, ``rolls/fleece-1000mm``; with the sheet's
    size where ``several`` sizes of one material are at hand."""
    if stock.price:
        return stock.price
    if stock.roll:
        return f"rolls/{stock.material}-{1000 * stock.width:.0f}mm"
    size = f"-{1000 * (stock.length or 0.0):.0f}x{1000 * stock.width:.0f}" if several else ""
    return f"sheets/{stock.material}-{1000 * thickness:g}mm{size}"
