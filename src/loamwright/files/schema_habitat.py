"""The whole habitat file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from loamwright.files.schema_box import BowlPart, EnclosurePart, LayerPart
from loamwright.files.schema_climate import ControlPart, FanPart, MistPart
from loamwright.files.schema_cuts import CutsPart
from loamwright.files.schema_decomposers import DecomposerPart
from loamwright.files.schema_equipment import DayPart, LampPart
from loamwright.files.schema_inside import PiecePart, PlantPart, SitePart
from loamwright.files.schema_mains import MainsPart
from loamwright.files.schema_money import MoneyPart
from loamwright.files.schema_residents import (
    AnimalPart,
    ExistingPart,
    IndividualPart,
    NeedPart,
    PeoplePart,
)
from loamwright.files.schema_room import RoomPart
from loamwright.files.schema_values import FileName, Name, Part
from loamwright.files.schema_workshop import WorkshopPart

MOST = 1000
"""Most entries in one list: far beyond any build, short enough to stay quick."""


Format = Annotated[Literal[1], BeforeValidator(lambda v: str(v).lower() if v is True else v)]
"""True is 1 in Python, but not in a file."""


class HabitatPart(Part):
    """One planted enclosure: what is, or will be, built, and who lives in it.

    A quantity is written with its unit ("150 cm", "36 in", "95 degF", "20 L", "80 %"). Axes: x to
    the right along the width, y from front to back, z up; the origin is the inner front left
    corner at the inside floor. Only name, enclosure.inside and one animal or plant are needed.
    """

    format: Format | None = Field(None, description="Version of this file format; left out: 1.")
    name: Name = Field(description="The habitat's name.")
    purpose: Literal["exhibit", "breeding", "retail", "private"] | None = Field(
        None, description="What it is for; left out: private."
    )
    units: Literal["metric", "us"] | None = Field(
        None, description="What people are shown; left out: metric."
    )
    catalogue: Annotated[list[FileName], Field(max_length=100)] = Field(
        default_factory=list,
        description="Own catalogue files, in this file's folder or below it; later ones win.",
    )
    room: RoomPart | None = Field(None, description="What surrounds the enclosure.")
    enclosure: EnclosurePart = Field(description="The box: its inside and what closes it.")
    ground: Annotated[list[LayerPart], Field(max_length=50)] | None = Field(
        None,
        description="The layers, bottom first; an empty list means none. Left out: drainage mat, "
        "fleece, mix and leaf litter, together about a quarter of the height at most.",
    )
    hardscape: Annotated[list[PiecePart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Branches, tubes, blocks, rocks and scanned pieces."
    )
    plants: Annotated[list[PlantPart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Plants; each crown becomes a site by itself."
    )
    lamps: Annotated[list[LampPart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Lamps in their places."
    )
    water: Annotated[list[BowlPart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Water bowls."
    )
    air: Annotated[list[FanPart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Fans in the panels."
    )
    mist: MistPart | None = Field(None, description="Misting: tank, nozzles and times.")
    mains: MainsPart | None = Field(
        None, description="The electricity there is; left out: a usual outlet."
    )
    controls: dict[str, ControlPart] = Field(
        default_factory=dict,
        description="Controls by name; what one drives (a lamp, a fan, the mist) names it.",
    )
    day: DayPart | None = Field(
        None,
        description="The day's hours, its ramp, and how it changes with the seasons; left out: "
        "07:00 to 19:00 all year.",
    )
    animals: Annotated[list[AnimalPart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Who lives in it."
    )
    decomposers: Annotated[list[DecomposerPart], Field(max_length=50)] | None = Field(
        None,
        description="Decomposers let into the ground at planting; an empty list means none. Left out: "
        "a springtail and an isopod that thrive in this ground, as many as it takes.",
    )
    sites: Annotated[list[SitePart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Named places that matter to someone."
    )
    existing: Annotated[list[ExistingPart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Habitats that are taken down for this build."
    )
    pedigree: Annotated[list[IndividualPart], Field(max_length=10_000)] = Field(
        default_factory=list, description="The animals by name, with their parents."
    )
    pedigree_file: FileName | None = Field(
        None,
        description="More of the pedigree, as a CSV table in this file's folder: columns name, "
        "species, sex, sire, dam, lives_in.",
    )
    people: PeoplePart | None = Field(None, description="The people who work at the enclosure.")
    money: MoneyPart | None = Field(None, description="What things cost.")
    build: WorkshopPart | None = Field(
        None, description="Who builds it and when; left out: one person, 6 h a day, no date."
    )
    cuts: CutsPart | None = Field(
        None, description="How panels are cut and put together, and what they are cut from."
    )
    needs: Annotated[list[NeedPart], Field(max_length=MOST)] = Field(
        default_factory=list, description="Needs of the builder's own."
    )
