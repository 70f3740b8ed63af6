"""What boards, panes and cloth are cut from, and how the box is put together."""

from __future__ import annotations

from dataclasses import dataclass

JOINTS: tuple[str, ...] = ("floor-and-top-through", "sides-through")
"""``floor-and-top-through``: floor and top lie over the edges of back and sides, the back over the
back edges of the sides. ``sides-through``: the sides cover the edges of floor, top and back."""

DOORS: tuple[str, ...] = ("sliding", "hinged")

GRAINS: tuple[str, ...] = ("none", "long", "short")
"""Which way the grain runs on a sheet: along its longer or its shorter edge."""


@dataclass(frozen=True, slots=True)
class Stock:
    """What can be bought: a sheet or a roll of a ``material`` (its key, or the kind of a layer).

    ``thickness`` [m], None where any; ``width`` [m] of a sheet or a roll; ``length`` [m] of a sheet, of
    a roll the longest piece of it, None where it is sold by the metre; ``roll`` True for a roll;
    ``grain`` one of `GRAINS`; ``price`` a key of the price list, empty where it follows from the rest.
    """

    material: str
    width: float
    length: float | None = None
    thickness: float | None = None
    roll: bool = False
    grain: str = "none"
    price: str = ""


@dataclass(frozen=True, slots=True)
class Cutting:
    """How things are cut.

    ``stock`` what the builder can get, None where the usual sizes serve; ``kerf`` width of the saw's
    cut [m], None where it follows from the material; ``trim`` cut off each edge of a sheet [m];
    ``joint`` one of `JOINTS`; ``doors`` one of `DOORS`, empty where it follows from their number;
    ``overlap`` of sliding doors [m]; ``runner`` by how much doors are lower than their hole [m];
    ``sill`` height of the fixed part below the doors [m], None where it follows from the ground;
    ``sill_material`` key of its material, empty where it is the front's; ``cover_overlap`` how far a
    cover reaches over the edge of its hole on each side [m]; ``turn_up`` how far fleece is turned up
    along the sides [m].
    """

    stock: tuple[Stock, ...] = ()
    kerf: float | None = None
    trim: float = 0.0
    joint: str = JOINTS[0]
    doors: str = ""
    overlap: float = 0.03
    runner: float = 0.012
    sill: float | None = None
    sill_material: str = ""
    cover_overlap: float = 0.02
    turn_up: float = 0.05
