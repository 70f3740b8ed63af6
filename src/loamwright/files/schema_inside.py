"""Hardscape, plants and sites, as written in the file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from loamwright.files.schema_values import (
    Along,
    Angle,
    Count,
    Day,
    Extent,
    FileName,
    Growth,
    Name,
    Part,
    Place,
    Point3,
    Size3,
    Surface,
    Switch,
    Text,
    WordOrVector,
    WordOrWords,
)

SHAPES = ("branch", "tube", "block", "rock")

_MATERIAL = "Key of a material of the catalogue; left out: {}."
_FIXING = "How it is held, in words."
_SCREWS = "Screws that hold it; left out: not said."
_GLUED = "Area that is glued; left out: not said."
_FOOTING = (
    "What carries it through the ground to the hard floor, such as bricks, so that nobody digs it out; "
    "left out: nothing."
)
_STANDS = (
    "What it stands on: ground (floor means the same), or the name of a block, rock or mesh; "
    "'at' is then [x, y]."
)


class BranchPart(Part):
    """A solid round rod."""

    name: Name = Field(description="Its name.")
    shape: Literal["branch"] = Field(description="branch.")
    start: Point3 = Field(alias="from", description="Middle of its one end: [x, y, z].")
    to: Point3 = Field(description="Middle of its other end: [x, y, z].")
    diameter: Extent = Field(description="Its diameter.")
    material: Name | None = Field(None, description=_MATERIAL.format("hardwood"))
    fixing: Text | None = Field(None, description=_FIXING)
    screws: Count | None = Field(None, description=_SCREWS)
    glued: Surface | None = Field(None, description=_GLUED)


class TubePart(Part):
    """A round tube, open at both ends."""

    name: Name = Field(description="Its name.")
    shape: Literal["tube"] = Field(description="tube.")
    start: Point3 = Field(alias="from", description="Middle of its one end: [x, y, z].")
    to: Point3 = Field(description="Middle of its other end: [x, y, z].")
    diameter: Extent = Field(description="Its outer diameter.")
    wall: Extent | None = Field(
        None, description="Thickness of its wall; left out: a tenth of its diameter."
    )
    material: Name | None = Field(None, description=_MATERIAL.format("cork"))
    fixing: Text | None = Field(None, description=_FIXING)
    screws: Count | None = Field(None, description=_SCREWS)
    glued: Surface | None = Field(None, description=_GLUED)


class BlockPart(Part):
    """A box with sides parallel to the panels: a slab, a brick, a shelf."""

    name: Name = Field(description="Its name.")
    shape: Literal["block"] = Field(description="block.")
    at: Place = Field(
        description="The centre of its lower face: [x, y, z], or [x, y]: then it stands on the "
        "ground or on what 'on' names."
    )
    size: Size3 = Field(description="Its size: [along x, along y, along z].")
    on: Name | None = Field(None, description=_STANDS)
    material: Name | None = Field(None, description=_MATERIAL.format("sandstone"))
    fixing: Text | None = Field(None, description=_FIXING)
    screws: Count | None = Field(None, description=_SCREWS)
    glued: Surface | None = Field(None, description=_GLUED)
    footing: Name | None = Field(None, description=_FOOTING)


class RockPart(Part):
    """A rounded rock, taken as an ellipsoid."""

    name: Name = Field(description="Its name.")
    shape: Literal["rock"] = Field(description="rock.")
    at: Place = Field(
        description="Its lowest point: [x, y, z], or [x, y]: then it stands on the ground or on "
        "what 'on' names."
    )
    size: Size3 = Field(description="Its size: [along x, along y, along z].")
    on: Name | None = Field(None, description=_STANDS)
    material: Name | None = Field(None, description=_MATERIAL.format("sandstone"))
    fixing: Text | None = Field(None, description=_FIXING)
    screws: Count | None = Field(None, description=_SCREWS)
    glued: Surface | None = Field(None, description=_GLUED)
    footing: Name | None = Field(None, description=_FOOTING)


class MeshPart(Part):
    """A scanned or modelled piece from an STL, OBJ, PLY or glTF file."""

    name: Name = Field(description="Its name.")
    shape: Literal["mesh"] | None = Field(None, description="May be left out: mesh.")
    mesh: FileName = Field(description="The file, in the habitat file's folder or below it.")
    at: Place = Field(
        description="Where the middle of the lower side of its bounding box goes: [x, y, z], or "
        "[x, y]: then it stands on the ground or on what 'on' names."
    )
    on: Name | None = Field(None, description=_STANDS)
    unit: Extent | None = Field(
        None,
        description="What one unit of the file measures, such as 1 mm; left out: 1 m for glTF "
        "(its standard says so), otherwise 1 mm.",
    )
    turn: Angle | None = Field(
        None, description="Turn about the upright axis, anticlockwise from above; left out: none."
    )
    material: Name | None = Field(None, description=_MATERIAL.format("hardwood"))
    fixing: Text | None = Field(None, description=_FIXING)
    screws: Count | None = Field(None, description=_SCREWS)
    glued: Surface | None = Field(None, description=_GLUED)
    footing: Name | None = Field(None, description=_FOOTING)


def _which(value: Any) -> str | None:
    """The shape a piece has, or None where it says none that is known."""
    if not isinstance(value, dict):
        return None
    if "mesh" in value:
        return "mesh"
    shape = value.get("shape")
    return shape if shape in SHAPES else None


PiecePart = Annotated[
    Annotated[BranchPart, Tag("branch")]
    | Annotated[TubePart, Tag("tube")]
    | Annotated[BlockPart, Tag("block")]
    | Annotated[RockPart, Tag("rock")]
    | Annotated[MeshPart, Tag("mesh")],
    Discriminator(_which),
]


class PlantPart(Part):
    """A plant, on the ground or on a branch or tube."""

    name: Name | None = Field(
        None, description="Its name; left out: its species key, numbered where there are more."
    )
    species: Name = Field(description="Key of a plant of the catalogue.")
    at: Place | None = Field(
        None, description="Its foot: [x, y] on the ground, or [x, y, z] anywhere."
    )
    on: Name | None = Field(
        None, description="The piece it is fixed on; for a block, rock or mesh 'at' is [x, y]."
    )
    along: Along | None = Field(
        None,
        description="For a branch or tube: where on it, from 0 (its 'from' end) to 1 (its 'to' "
        "end); left out: 0.5.",
    )
    height: Extent | None = Field(
        None,
        description="Height above its foot; left out: 60 % of the mature height, at most 90 % of "
        "the room above its foot.",
    )
    spread: Extent | None = Field(
        None,
        description="Width of its crown; left out: 60 % of the mature spread, at most the "
        "smaller of the inside's width and depth.",
    )
    growth: Growth | None = Field(
        None,
        description="What its height gains in a time where it stands, measured by you; left out: by "
        "the pace of the catalogue.",
    )
    planted: Day | None = Field(
        None,
        description="The day it was or will be planted, such as 2026-05-01; left out: with the others.",
    )
    carries: Switch | None = Field(
        None,
        description="Whether its stem carries the animals; left out: woody stems carry those of up "
        "to 100 g, others nobody.",
    )


class SitePart(Part):
    """A named place that matters to someone."""

    name: Name = Field(description="Its name.")
    at: Place | None = Field(
        None,
        description="[x, y, z] in the air; [x, y] on the ground or, with 'on', on top of a "
        "block, rock or mesh (its middle where left out).",
    )
    on: Name | None = Field(
        None, description="The piece it is on, or ground (floor means the same)."
    )
    along: Along | None = Field(
        None,
        description="For a branch or tube: where on it, from 0 (its 'from' end) to 1 (its 'to' "
        "end); left out: 0.5.",
    )
    inside: Switch | None = Field(
        None, description="For a tube: true puts the site inside it; left out: false."
    )
    role: Literal["basking", "perch", "hide", "retreat", "laying", "probe"] | None = Field(
        None, description="What it is for; left out: probe (a place to know the values of)."
    )
    species: WordOrWords | None = Field(
        None,
        alias="for",
        description="Key of the animal it is meant for, or a list; left out: everybody.",
    )
    normal: WordOrVector | None = Field(
        None,
        description="The way its surface faces: up, down, left, right, front, back or a vector "
        "[x, y, z]; left out: away from the piece it is on, otherwise up.",
    )
