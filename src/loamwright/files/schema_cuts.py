"""How things are cut and what they are cut from, as written in the file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from loamwright.files.schema_values import Extent, Name, Part, Reach, Size2


class StockPart(Part):
    """A sheet or a roll that can be bought; a sheet has a size, a roll a width."""

    material: Name = Field(
        description="Key of a material or of a mesh of the catalogue, or a layer that comes in rolls: "
        "drainage-mat or fleece."
    )
    thickness: Extent | None = Field(
        None, description="Its thickness; left out: it serves every thickness."
    )
    size: Size2 | None = Field(None, description="Length and width of a sheet.")
    width: Extent | None = Field(None, description="Width of a roll.")
    length: Extent | None = Field(
        None, description="Length of a whole roll; left out: sold by the metre or the foot."
    )
    grain: Literal["none", "long", "short"] | None = Field(
        None,
        description="Which way the grain of a sheet runs: along its longer or its shorter edge; left "
        "out: long for plywood and softwood, otherwise none.",
    )
    price: Name | None = Field(
        None, description="Its key in the price list; left out: made from material and thickness."
    )


class CutsPart(Part):
    """How the box is put together and cut. Everything may be left out; the usual values are common
    practice, no source."""

    stock: Annotated[list[StockPart], Field(max_length=100)] = Field(
        default_factory=list,
        description="Sheets and rolls that you can get. A material that is not named here is cut "
        "from its usual size; glass is ordered cut to size.",
    )
    kerf: Reach | None = Field(
        None,
        description="Width of the saw's cut in sheets; left out: 3 mm in boards, 1 mm in foam and "
        "cork, nothing in glass, mesh and cloth.",
    )
    trim: Reach | None = Field(
        None, description="Cut off each edge of a sheet before it is used; left out: nothing."
    )
    joint: Literal["floor-and-top-through", "sides-through"] | None = Field(
        None,
        description="Which panels cover the edges of which: floor and top those of back and sides, or "
        "the sides those of floor, top and back; left out: floor-and-top-through.",
    )
    doors: Literal["sliding", "hinged"] | None = Field(
        None,
        description="How the front's doors open; left out: sliding where there are two or more, "
        "hinged where there is one.",
    )
    overlap: Reach | None = Field(
        None, description="By how much sliding doors overlap; left out: 3 cm."
    )
    runner: Reach | None = Field(
        None,
        description="By how much doors are lower than the hole they stand in, for runners or hinges; "
        "left out: 12 mm. Measure the runners before you order doors.",
    )
    sill: Reach | None = Field(
        None,
        description="Height of the fixed part of the front below its doors; left out: 2 cm above the "
        "ground there, and above a hole low in the front.",
    )
    sill_material: Name | None = Field(
        None, description="Key of the material of that part; left out: the front's."
    )
    cover_overlap: Reach | None = Field(
        None,
        description="How far a mesh or sheet reaches over the edge of its hole on each side; left "
        "out: 2 cm.",
    )
    turn_up: Reach | None = Field(
        None,
        description="How far fleece is turned up along the sides of the ground; left out: 5 cm.",
    )
