# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong ``cuts`` sections: what the box is cut from."""

from __future__ import annotations

from bad_case import METRIC, US, Case, case


def cuts(text: str, base: str = METRIC) -> str:
    return base + f"cuts: {text}\n"


def stock(text: str, base: str = METRIC) -> str:
    return cuts("{stock: [" + text + "]}", base)


BOARD = "material: pvc-foam-board"

# fmt: off
CASES: list[Case] = [
    case("cuts in a word", cuts("▸straight"), ("cuts", "must be keys with values")),
    case("a cuts key misspelt", cuts("{▸kerv: 3 mm}"), ("cuts.kerv", "unknown key; the nearest known is 'kerf'")),
    case("a kerf without unit", cuts("{kerf: ▸3}"), ("cuts.kerf", "3 has no unit")),
    case("a kerf below nothing", cuts("{kerf: ▸-1 mm}"), ("cuts.kerf", "must lie between 0 mm and 5")),
    case("a joint that is none", cuts("{joint: ▸dovetail}"), ("cuts.joint", "is not one of: floor-and-top-through, sides-through")),
    case("doors that fly", cuts("{doors: ▸rolling}"), ("cuts.doors", "is not one of: sliding, hinged")),
    case("a sill up to the top", cuts("{sill: ▸90 cm}"), ("cuts.sill", "90 cm leaves no room for doors; inside height 90 cm")),
    case("a sill up to the top in inches", cuts("{sill: ▸40 in}", US), ("cuts.sill", "40 in leaves no room for doors; inside height 36 in")),
    case("runners as high as the doors", cuts("{sill: 80 cm, runner: ▸12 cm}"), ("cuts.runner", "12 cm leaves no room for doors")),
    case("doors that overlap whole", cuts("{overlap: ▸30 cm}"), ("cuts.overlap", "30 cm is half the front or more; inside width 60 cm")),
    case("a sill of nothing known", cuts("{sill_material: ▸pvc-fom-board}"), ("cuts.sill_material", "no material 'pvc-fom-board'; the nearest known is 'pvc-foam-board'")),
    case("stock as a map", cuts("{stock: ▸{material: plywood}}"), ("cuts.stock", r"must be a list: \[")),
    case("stock of nothing", stock("▸{size: [244 cm, 122 cm]}"), ("cuts.stock[0].material", "is needed: Key of a material")),
    case("stock of nothing known", stock("{material: ▸plywod, size: [244 cm, 122 cm]}"), ("cuts.stock[0].material", "there is no material or mesh 'plywod'; the nearest known is 'plywood'")),
    case("stock without a size", stock("▸{" + BOARD + "}"), ("cuts.stock[0]", "needs 'size' .of a sheet. or 'width' .of a roll.; give one of the two")),
    case("a sheet that is a roll", stock("▸{" + BOARD + ", size: [244 cm, 122 cm], width: 1 m}"), ("cuts.stock[0]", "has both 'size' .of a sheet. or 'width' .of a roll.; give one of the two")),
    case("a sheet with one size", stock("{" + BOARD + ", size: ▸[244 cm]}"), ("cuts.stock[0].size", "has 1 parts?; 2 are needed")),
    case("a sheet of no size", stock("{" + BOARD + ", size: [244 cm, ▸0 cm]}"), ("cuts.stock[0].size[1]", "must be more than 0 mm")),
    case("a sheet with a length", stock("{" + BOARD + ", size: [244 cm, 122 cm], ▸length: 3 m}"), ("cuts.stock[0].length", "belongs to a roll; a sheet has its length in 'size'")),
    case("a roll with a grain", stock("{material: fleece, width: 1 m, ▸grain: long}"), ("cuts.stock[0].grain", "belongs to a sheet, not to a roll")),
    case("a grain across", stock("{" + BOARD + ", size: [244 cm, 122 cm], grain: ▸across}"), ("cuts.stock[0].grain", "is not one of: none, long, short")),
    case("a trim that eats the sheet", cuts("{trim: ▸70 cm, stock: [{" + BOARD + ", size: [244 cm, 122 cm]}]}"), ("cuts.trim", "70 cm off each edge leaves nothing of a sheet of 'pvc-foam-board'")),
]
# fmt: on
