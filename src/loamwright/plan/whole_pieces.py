"""Hardscape as it is bought: every branch and tube out of one length, stones by their own sizes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loamwright.engine.ground.displaced import piece_solid
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.plan.bars import cut_bars, fits
from loamwright.plan.fixings import extent
from loamwright.plan.keys import millimetres
from loamwright.plan.lines import Line, Stocked

TRIM = 0.05
"""What a branch or tube is longer than its place, for cutting both ends to fit [m]; common practice,
no source."""

STEP, STEP_US = 0.10, 0.1016
"""Lengths no pack is known for are asked for in whole steps of this [m]: 10 cm, or 4 in."""

LONG = ("branch", "tube")


def hardscape_lines(habitat: Habitat) -> list[Line]:
    """Branches and tubes by length, each out of one; stones and the like by mass, with sizes."""
    groups: dict[str, list[Piece]] = {}
    for piece in habitat.hardscape:
        groups.setdefault(_key(piece), []).append(piece)
    return [
        _long(habitat, key, pieces) if pieces[0].shape in LONG else _solid(key, pieces)
        for key, pieces in groups.items()
    ]


def _key(piece: Piece) -> str:
    end = f"-{millimetres(piece.diameter)}" if piece.shape in LONG else ""
    return f"hardscape/{piece.material.key}-{piece.shape}{end}"


def lengths_bought(habitat: Habitat, key: str, lengths: Sequence[float]) -> tuple[Stocked, ...]:
    """The lengths to buy for pieces [m], each of which comes out of one: packs of the price list at
    least cost, else one for each piece, in whole steps."""
    prices = habitat.money.price_list if habitat.money is not None else ()
    stocks = [(float(p.pack), float(p.price)) for p in prices if p.key == key and p.unit == "m"]
    longest = max((s[0] for s in stocks), default=0.0)
    step = STEP_US if habitat.units == "us" else STEP
    counts: dict[float, int] = {}
    for number, _ in cut_bars([x for x in lengths if fits([x], longest)], stocks):
        counts[stocks[number][0]] = counts.get(stocks[number][0], 0) + 1
    for x in lengths:
        if not fits([x], longest):
            one = round(step * math.ceil(x / step - 1e-9), 4)
            counts[one] = counts.get(one, 0) + 1
    return tuple(Stocked("length", n, long) for long, n in sorted(counts.items(), reverse=True))


def _long(habitat: Habitat, key: str, pieces: Sequence[Piece]) -> Line:
    first = pieces[0]
    size = millimetres(first.diameter).replace("mm", " mm")
    shape = "" if first.shape in first.material.label else f" {first.shape}"
    placed = [math.dist(p.start, p.end) for p in pieces]
    stock = lengths_bought(habitat, key, [x + TRIM for x in placed])
    needed = math.fsum(placed)
    return Line(key, "hardscape", f"{first.material.label}{shape}, {size} thick", needed, "m",
                math.fsum(s.all for s in stock) / needed - 1.0, uses=tuple(p.name for p in pieces),
                why="every piece out of one length, 5 cm over for cutting both ends to fit",
                stock=stock)  # fmt: skip


def _solid(key: str, pieces: Sequence[Piece]) -> Line:
    first = pieces[0]
    name, uses = f"{first.material.label}, {first.shape}", tuple(p.name for p in pieces)
    density = first.material.density
    sizes = [" x ".join(f"{100.0 * x:.3g}" for x in size_of(p)) + " cm" for p in pieces]
    if density is None:
        return Line(key, "hardscape", f"{name}: {'; '.join(sizes)}", float(len(pieces)), "piece",
                    uses=uses, why="its mass is not known")  # fmt: skip
    masses = [piece_solid(p) * density for p in pieces]
    told = "; ".join(f"{s}, {m:.1f} kg" for s, m in zip(sizes, masses, strict=True))
    count = "1 piece" if len(pieces) == 1 else f"{len(pieces)} pieces"
    if first.shape == "rock":
        count = count.replace("piece", "stone")
    return Line(key, "hardscape", f"{name}, {count}: {told}", math.fsum(masses), "kg", uses=uses,
                why="each as large as drawn; choose by size, not by mass")  # fmt: skip


def size_of(piece: Piece) -> tuple[float, float, float]:
    """Width, depth and height of a solid piece [m]."""
    low, high = extent(piece)
    return high[0] - low[0], high[1] - low[1], high[2] - low[2]
