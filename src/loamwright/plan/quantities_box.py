"""What the box is made of: panels, openings, backgrounds, hardscape, fixings, stand."""

from __future__ import annotations

import math
import re

from loamwright.engine.ground.displaced import piece_solid
from loamwright.habitat.enclosure import Panel
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.plan.keys import GLASS, cover_key, lining_key, millimetres, panel_key, slug
from loamwright.plan.lines import Line

SHEET_WASTE = 0.10
"""Share of a sheet lost when nobody has laid out the cuts; common practice, no source."""

OVERLAP = 0.02
"""How far a mesh reaches beyond the edge of its opening on every side [m]; common practice."""

BEAD = 6e-3
"""Legs of a fillet of sealant in a corner [m]; common practice for boxes of this size."""

CARTRIDGE = "sealant in litres; a cartridge holds about 0.3 L"

DAB = 0.10
"""Sealant or adhesive that holds a background, in litres to a square metre; common practice."""

SCREWS_A_PIECE = 2
"""Screws of a piece whose fixing says screws and no number; common practice."""

SCREWS_A_METRE2 = 6
"""Screws of a background that is screwed, to a square metre; common practice."""

NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8}


def spans(habitat: Habitat) -> dict[str, tuple[float, float]]:
    """Inside width and height of each side [m]."""
    wide, deep, high = habitat.enclosure.inside
    return {
        "floor": (wide, deep), "top": (wide, deep), "back": (wide, high), "front": (wide, high),
        "left": (deep, high), "right": (deep, high),
    }  # fmt: skip


def _thick(label: str, thickness: float) -> str:
    """A label with its thickness, where it does not say it itself."""
    size = millimetres(thickness).replace("mm", " mm")
    return label if size in label else f"{label}, {size}"


def _sizes(habitat: Habitat, panel: Panel) -> tuple[float, float]:
    """A panel's outside size [m]: floor and top cover the others' edges, back and front the sides'."""
    wide, high = spans(habitat)[panel.side]
    t = {p.side: p.thickness for p in habitat.enclosure.panels}
    if panel.side in ("floor", "top"):
        return (
            wide + t.get("left", 0.0) + t.get("right", 0.0),
            high + t.get("front", 0.0) + t.get("back", 0.0),
        )
    if panel.side in ("left", "right"):
        return wide, high
    return wide + t.get("left", 0.0) + t.get("right", 0.0), high


def panels(habitat: Habitat) -> list[Line]:
    """Panels by area, edges that cover others included, holes not taken off: sheets are whole."""
    out = []
    for panel in habitat.enclosure.panels:
        wide, high = _sizes(habitat, panel)
        label = panel.material.label
        clear = panel.material.key in GLASS
        out.append(Line(
            panel_key(panel.material.key, panel.thickness), "panels",
            _thick(label, panel.thickness), wide * high, "m2",
            0.0 if clear else SHEET_WASTE, uses=(panel.side,),
            why="glass cut to size by the glazier" if clear
            else "area of the panels, 10 % lost in cutting",
        ))  # fmt: skip
        if panel.doors:
            out.append(Line("panels/door-fittings", "panels", "door fittings: track or hinges, "
                            "handle and lock, a set for each door", float(panel.doors), "piece",
                            why="one set a door", uses=(panel.side,)))  # fmt: skip
    return out


def covers(habitat: Habitat) -> list[Line]:
    """Meshes and sheets over openings, and meshes before fans."""
    out = []
    for opening in habitat.enclosure.openings:
        if opening.cover.kind == "open":
            continue
        wide, high = (x + 2.0 * OVERLAP for x in opening.size)
        out.append(Line(
            cover_key(opening.cover.key), "openings", opening.cover.label, wide * high, "m2",
            SHEET_WASTE, why="opening and 2 cm all round, 10 % lost in cutting",
            uses=(opening.name,),
        ))  # fmt: skip
    for fan in habitat.fans:
        for guard in fan.guards:
            side = fan.type.diameter + 2.0 * OVERLAP
            out.append(Line(
                cover_key(guard.key), "openings", guard.label, side * side, "m2", SHEET_WASTE,
                why="fan and 2 cm all round, 10 % lost in cutting", uses=(fan.name,),
            ))  # fmt: skip
    # Openings and fans may share a mesh: one reason for both.
    for i, line in enumerate(out):
        twins = dict.fromkeys(x.why for x in out if x.key == line.key)
        if len(twins) > 1:
            out[i] = Line(line.key, line.group, line.name, line.amount, line.unit, line.waste,
                          why="openings, fans and 2 cm all round, 10 % lost in cutting",
                          uses=line.uses)  # fmt: skip
    return out


def backgrounds(habitat: Habitat) -> list[Line]:
    """Backgrounds by area."""
    out = []
    for x in habitat.enclosure.linings:
        wide, high = spans(habitat)[x.side]
        out.append(Line(
            lining_key(x.material.key, x.thickness), "background",
            _thick(x.material.label, x.thickness), wide * high, "m2",
            SHEET_WASTE, why="the whole side, 10 % lost in cutting", uses=(x.name,),
        ))  # fmt: skip
    return out


def _piece(piece: Piece) -> Line:
    material = piece.material
    if piece.shape in ("branch", "tube"):
        size = millimetres(piece.diameter)
        shape = "" if piece.shape in material.label else f" {piece.shape}"
        what = f"{material.label}{shape}, {size.replace('mm', ' mm')} thick"
        return Line(f"hardscape/{material.key}-{piece.shape}-{size}", "hardscape", what,
                    math.dist(piece.start, piece.end), "m", SHEET_WASTE, uses=(piece.name,),
                    why="length as placed, 10 % for choosing and cutting")  # fmt: skip
    volume, density = piece_solid(piece), material.density
    if density is None:
        return Line(f"hardscape/{material.key}-{piece.shape}", "hardscape",
                    f"{material.label}, {piece.shape}", 1.0, "piece", uses=(piece.name,),
                    why="its mass is not known")  # fmt: skip
    return Line(f"hardscape/{material.key}-{piece.shape}", "hardscape",
                f"{material.label}, {piece.shape}", volume * density, "kg", uses=(piece.name,),
                why="volume of the pieces as drawn; choose by size, not by mass")  # fmt: skip


def hardscape(habitat: Habitat) -> list[Line]:
    """Branches and tubes by length, stones and the like by mass."""
    return [_piece(piece) for piece in habitat.hardscape]


def screws_of(fixing: str) -> int:
    """Screws that a fixing's words ask for, 0 where they speak of none."""
    if "screw" not in fixing:
        return 0
    found = re.search(r"(\d+|[a-z]+)\s+(?:long\s+|short\s+|stainless\s+)*screws?\b", fixing)
    word = found.group(1) if found else ""
    return int(word) if word.isdigit() else NUMBERS.get(word, SCREWS_A_PIECE)


def joints(habitat: Habitat) -> float:
    """Length of the corners that are sealed [m]: every edge between two panels that do not open."""
    wide, deep, high = habitat.enclosure.inside
    fixed = {p.side for p in habitat.enclosure.panels if not p.doors}
    edges = {
        ("floor", "back"): wide, ("floor", "front"): wide, ("top", "back"): wide,
        ("top", "front"): wide, ("floor", "left"): deep, ("floor", "right"): deep,
        ("top", "left"): deep, ("top", "right"): deep, ("back", "left"): high,
        ("back", "right"): high, ("front", "left"): high, ("front", "right"): high,
    }  # fmt: skip
    return math.fsum(length for pair, length in edges.items() if fixed.issuperset(pair))


def fixings(habitat: Habitat) -> list[Line]:
    """Sealant of the joints and backgrounds, screws where fixings name them."""
    out = []
    length = joints(habitat)
    if length > 0.0:
        litres = 1000.0 * 0.5 * BEAD * BEAD * length
        out.append(Line("fixings/silicone", "fixings", "silicone sealant, neutral cure, no fungicide",
                        litres, "L", 0.5, uses=("joints",), why=f"a 6 mm fillet along {length:.1f} m "
                        f"of corners, half as much again for beads and loss; {CARTRIDGE}"))  # fmt: skip
    screws: dict[str, int] = {}
    for x in habitat.enclosure.linings:
        wide, high = spans(habitat)[x.side]
        if "silicone" in x.fixing or not x.fixing:
            out.append(Line("fixings/silicone", "fixings",
                            "silicone sealant, neutral cure, no fungicide", DAB * wide * high, "L",
                            0.5, uses=(x.name,),
                            why="0.1 L to a square metre of background"))  # fmt: skip
        if "screw" in x.fixing:
            screws[x.name] = math.ceil(SCREWS_A_METRE2 * wide * high)
    for piece in habitat.hardscape:
        if number := screws_of(piece.fixing):
            screws[piece.name] = number
    for opening in habitat.enclosure.openings:
        if opening.cover.kind != "open":
            # A screw with a washer every 15 cm round the edge holds a mesh; common practice.
            screws[opening.name] = max(4, math.ceil(2.0 * sum(opening.size) / 0.15))
    out += [
        Line("fixings/screws-stainless", "fixings", "stainless screws with washers", float(count),
             "piece", 0.2, uses=(name,),
             why="by the fixings' words, six to a square metre of background, one every 15 cm round a "
             "mesh; a fifth over")
        for name, count in screws.items()
    ]  # fmt: skip
    return out


def stand(habitat: Habitat) -> list[Line]:
    """The stand, where the file names one."""
    x = habitat.enclosure.stand
    if x is None:
        return []
    rated = "" if x.rated is None else f", rated {x.rated:g} kg"
    return [Line(f"stand/{slug(x.kind)}", "stand", f"{x.kind}{rated}", 1.0, "piece", why="one")]
