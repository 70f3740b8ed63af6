"""What stands inside a habitat as tables: pieces with their sizes, water bowls."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.plan.fixings import extent
from loamwright.plan.resting import on_ground
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.plain import clean


def sides_words(sides: tuple[float, ...], system: str) -> str:
    """Sizes [m] side by side with their unit once: ``24 × 18 × 12 cm``."""
    unit, _ = quantities.edge(system)
    return f"{' × '.join(quantities.measure(x, system) for x in sides)} {unit}"


def size_words(piece: Piece, system: str) -> str:
    """Size of a piece: diameter and length of what is long, width, depth and height of what is not."""
    if piece.shape in ("branch", "tube"):
        long = sum((b - a) ** 2 for a, b in zip(piece.start, piece.end, strict=True)) ** 0.5
        across = f"Ø {quantities.length(piece.diameter, system)}"
        if piece.shape == "tube":
            across += f", wall {quantities.length(piece.wall, system)}"
        return f"{across}, {quantities.length(long, system)} long"
    if piece.shape == "mesh":
        low, high = extent(piece)
        return sides_words(tuple(b - a for a, b in zip(low, high, strict=True)), system)
    return sides_words(piece.size, system)


def held_words(piece: Piece, borne: bool) -> str:
    """What holds a piece, and that it is set last where the ground bears it."""
    told = clean(piece.fixing)
    if borne:
        last = "set once it is filled"
        return f"{told}: {last}" if "ground" in told else f"{told or 'the ground'}: {last}"
    return told or (f"on {clean(piece.footing)}" if piece.footing else "–")


def pieces_table(habitat: Habitat, system: str) -> Table:
    """Every piece of hardscape with its size, place and what holds it."""

    def at(place: tuple[float, ...]) -> str:
        return quantities.place(place, system).strip("[]")

    def where(piece: Piece) -> str:
        if piece.shape in ("branch", "tube"):
            return f"{at(piece.start)} to {at(piece.end)}"
        if piece.shape == "mesh":
            low, high = extent(piece)
            return f"within {at(low)} to {at(high)}"
        return at(piece.at)

    borne = {p.name for p in on_ground(habitat)}
    rows = tuple(
        (clean(p.name), clean(p.material.label), size_words(p, system), where(p),
         held_words(p, p.name in borne))
        for p in habitat.hardscape
    )  # fmt: skip
    return Table(
        "Hardscape", ("name", "material", "size", "where", "held by"), rows,
        note="Of branches and tubes the middles of both ends, of blocks and stones the middle of the "
        "underside; sizes: width × depth × height." if rows else "",
    )  # fmt: skip


def bowls_table(habitat: Habitat, system: str) -> Table:
    """Water bowls with size and place."""
    rows = tuple(
        (clean(b.name), sides_words(b.size, system), quantities.length(b.depth, system),
         quantities.place(b.at, system).strip("[]"))
        for b in habitat.water
    )  # fmt: skip
    return Table("Water bowls", ("name", "across", "water deep", "middle of its foot"), rows,
                 right=frozenset({2}))  # fmt: skip
