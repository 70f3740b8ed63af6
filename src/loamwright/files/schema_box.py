"""The enclosure, the ground and the water bowls, as written in the file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from loamwright.files.schema_values import (
    Count,
    Dose,
    Extent,
    Length,
    Mass,
    Name,
    Part,
    Place,
    Point2,
    Portion,
    Proportion,
    Size2,
    Surface,
    Switch,
    Text,
)

Side = Literal["floor", "back", "left", "right", "top", "front"]

GroundKind = Literal[
    "drainage-mat",
    "clay-pebbles",
    "gravel",
    "fleece",
    "mix",
    "coir",
    "peat",
    "bark",
    "soil",
    "clay",
    "loam-sand",
    "sand",
    "moss",
    "leaf-litter",
]


Leaf = Literal["oak", "beech", "maple", "pine", "tropical", "mango", "fig"]
"""Leaves whose decay is known; a test holds them against `physics.leaf_decay`."""


class InsidePart(Part):
    """The clear inside of the box, panels and their thickness not counted."""

    width: Extent = Field(description="Inside width, left to right (x).")
    depth: Extent = Field(description="Inside depth, front to back (y).")
    height: Extent = Field(description="Inside height, floor to top (z).")


class PanelPart(Part):
    """One of the six sides of the box."""

    material: Name | None = Field(
        None,
        description="Key of a material of the catalogue; left out: pvc-foam-board, "
        "for the front float-glass.",
    )
    thickness: Extent | None = Field(
        None, description="Thickness; left out: 5 mm where see-through, otherwise 10 mm."
    )
    doors: Count | None = Field(
        None, description="Number of doors in it; left out: 2 for the front, otherwise none."
    )
    gap: Extent | None = Field(
        None, description="Gap between doors; left out: 2 mm where there are two doors or more."
    )
    held: Literal["everywhere", "four", "three", "two"] | None = Field(
        None,
        description="How it is held: everywhere (its whole face rests on something, or a frame runs "
        "along all its edges and those of its openings), on its four edges, on "
        "three (the upper one, of the top the front one, is free) or on two (left and "
        "right); left out: everywhere for the floor on a stand, three for the strip below "
        "doors, otherwise four.",
    )
    ribs: Extent | None = Field(
        None,
        description="Greatest distance between battens or profiles fixed across its outside, upright "
        "or front to back; left out: none.",
    )
    sill: Extent | None = Field(
        None,
        description="Of a panel with doors: height of the fixed strip below them, which holds the "
        "ground back; left out: 2 cm more than the ground's surface. 'held' is then of this strip; its "
        "upper edge is free where nothing is said.",
    )


class PanelsPart(Part):
    """The six sides; each that is left out gets the default."""

    floor: PanelPart | None = Field(None, description="The floor.")
    back: PanelPart | None = Field(None, description="The back.")
    left: PanelPart | None = Field(None, description="The left side, seen from the front.")
    right: PanelPart | None = Field(None, description="The right side, seen from the front.")
    top: PanelPart | None = Field(None, description="The top.")
    front: PanelPart | None = Field(None, description="The front.")


class OpeningPart(Part):
    """A hole in a panel, with what covers it."""

    name: Name = Field(description="Its name.")
    panel: Side = Field(description="The panel it is in.")
    at: Point2 = Field(
        description="Its centre, measured on the panel: [x, y] for floor and top, [x, z] for "
        "front and back, [y, z] for left and right."
    )
    size: Size2 = Field(description="Its size, in the same two directions.")
    cover: Name | None = Field(
        None, description="Key of a cover (mesh or sheet) of the catalogue; left out: open."
    )


class LiningPart(Part):
    """A background on the inside of a panel; its thickness is taken from the inside."""

    name: Name = Field(description="Its name.")
    panel: Side = Field(description="The panel it lines.")
    material: Name = Field(description="Key of a material of the catalogue.")
    thickness: Extent = Field(description="How far it stands out from the panel.")
    fixing: Text | None = Field(None, description="How it is held, in words.")
    screws: Count | None = Field(None, description="Screws that hold it; left out: not said.")
    glued: Surface | None = Field(
        None,
        description="Area that is glued; left out: half of its back, where 'screws' is left out too.",
    )


class StandPart(Part):
    """What the enclosure stands on."""

    kind: Name = Field(description="What it is, in words.")
    rated: Mass | None = Field(None, description="The load it is rated for, where known.")
    height: Extent | None = Field(None, description="How high it is; left out: 70 cm.")
    mass: Mass | None = Field(None, description="What it weighs itself; left out: 40 kg.")
    tied: Switch | None = Field(
        None,
        description="Whether it, or the enclosure, is tied to a wall that can hold it; left out: "
        "false.",
    )


class EnclosurePart(Part):
    """The box and what closes it."""

    inside: InsidePart = Field(description="Inside width, depth and height.")
    panels: PanelsPart | None = Field(
        None,
        description="The six sides; left out: 10 mm pvc-foam-board, the front 5 mm float-glass "
        "with two doors.",
    )
    openings: Annotated[list[OpeningPart], Field(max_length=200)] = Field(
        default_factory=list, description="Holes in the panels."
    )
    lining: Annotated[list[LiningPart], Field(max_length=50)] = Field(
        default_factory=list, description="Backgrounds on the inside of panels."
    )
    stand: StandPart | None = Field(None, description="What it stands on.")


class ReusePart(Part):
    """Ground of an existing habitat that goes into a mix."""

    origin: Name = Field(alias="from", description="The existing habitat it comes from.")
    share: Portion = Field(
        description="Its share of this layer's volume: a number from 0 to 1, or a percentage."
    )


class SlopePart(Part):
    """A layer that is deeper towards one side."""

    high: Literal["back", "front", "left", "right"] = Field(description="The side it rises to.")
    rise: Extent = Field(
        description="How much deeper it is there than at the opposite side; 'depth' is that in "
        "the middle."
    )


class TerracePart(Part):
    """A step in a layer: a rectangle, seen from above, in which it is deeper or shallower."""

    name: Name | None = Field(None, description="Its name; left out: terrace.")
    start: Point2 = Field(alias="from", description="Its front left corner, [x, y].")
    end: Point2 = Field(alias="to", description="Its back right corner, [x, y].")
    rise: Length = Field(
        description="How much deeper the layer is there; below 0 for a hollow. Where terraces "
        "overlap, their rises add up."
    )


class AdditionPart(Part):
    """Something mixed into a layer by dose, such as lime, charcoal or crushed shell."""

    what: Name = Field(description="What it is, in words.")
    dose: Dose = Field(
        description="Mass by volume of new ground as it is mixed, such as 5 g/L, or a percentage of "
        "that volume, such as 3 %."
    )


class LayerPart(Part):
    """One layer of the ground."""

    name: Name | None = Field(None, description="Its name; left out: its kind.")
    kind: GroundKind = Field(description="What it is.")
    depth: Extent | None = Field(
        None,
        description="Its depth when settled; may be left out for a drainage-mat (2 cm), a "
        "fleece (2 mm) and leaf-litter (3 cm).",
    )
    leaf: Leaf | None = Field(
        None, description="For leaf-litter: the leaves; left out: of any kind, as for leaves mixed."
    )
    surface: Name | None = Field(
        None,
        description="Key of the material whose reflectances its surface shows; left out: by kind.",
    )
    medium: Name | None = Field(
        None,
        description="Key of the medium of the catalogue that tells how it holds water and heat; "
        "left out: by kind, for a mix from its parts.",
    )
    mix: Name | None = Field(
        None,
        description="For a mix: key of a finished mix of the catalogue, instead of parts; left "
        "out where there are no parts either: tropical.",
    )
    parts: Annotated[dict[Name, Proportion], Field(max_length=50)] | None = Field(
        None,
        description="For a mix: parts by volume of each component of the catalogue, such as "
        "{coir: 4, composted-bark: 3, sand: 1}.",
    )
    reuse: Annotated[list[ReusePart], Field(max_length=50)] | None = Field(
        None,
        description="For a mix: ground of existing habitats that makes up shares of it; the parts "
        "make up the rest.",
    )
    slope: SlopePart | None = Field(None, description="Its slope; left out: none.")
    terraces: Annotated[list[TerracePart], Field(max_length=20)] | None = Field(
        None, description="Steps in its upper face; left out: none. 'depth' is that beside them."
    )
    additions: Annotated[list[AdditionPart], Field(max_length=30)] | None = Field(
        None,
        description="What is mixed into its new ground by dose. Take doses from the bag's label: "
        "nothing is computed of what they do.",
    )


class BowlPart(Part):
    """A water bowl."""

    name: Name = Field(description="Its name.")
    at: Place = Field(
        description="The centre of its foot: [x, y] stands it on the ground, [x, y, z] anywhere."
    )
    size: Size2 = Field(description="Its width (x) and depth from front to back (y).")
    depth: Extent = Field(description="Depth of the water when full.")
