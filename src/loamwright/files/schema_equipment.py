"""Lamps and the day, as written in the file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from loamwright.files.schema_values import (
    Age,
    Clock,
    Extent,
    FileName,
    Lux,
    Name,
    Part,
    Photons,
    Point3,
    Share,
    Uvi,
    WordOrPoint,
    WordOrVector,
)


class HoursPart(Part):
    """From one time of day to another; it may run across midnight."""

    start: Clock = Field(alias="from", description="On at, such as 07:00.")
    to: Clock = Field(description="Off at, such as 19:00.")


def _hours(value: Any) -> str:
    return "pairs" if isinstance(value, dict) else "word"


Hours = Annotated[
    Annotated[Literal["day"], Tag("word")] | Annotated[HoursPart, Tag("pairs")],
    Discriminator(_hours),
]


class ReadingPart(Part):
    """One reading of the builder's own meter, straight below the lamp's middle."""

    distance: Extent = Field(description="From the lamp to the meter.")
    uvi: Uvi | None = Field(None, description="The UV index read.")
    ppfd: Photons | None = Field(None, description="The plant light (PPFD) read.")
    lux: Lux | None = Field(None, description="The illuminance read.")


class LampPart(Part):
    """A lamp in its place."""

    name: Name = Field(description="Its name.")
    type: Name = Field(description="Key of a lamp of the catalogue.")
    at: Point3 = Field(description="Its middle: [x, y, z].")
    along: WordOrVector | None = Field(
        None,
        description="The direction of its long side: x, y, z or a vector [x, y, z]; left out: x, "
        "or y where it shines along x.",
    )
    aim: WordOrPoint | None = Field(
        None,
        description="Where it shines: down, up, the name of a site or piece, or a point "
        "[x, y, z]; left out: down.",
    )
    guard: Name | None = Field(
        None, description="Key of the cover round it, such as a cage; left out: none."
    )
    dim: Share | None = Field(None, description="Share of full power; left out: 100 %.")
    hours: Hours | None = Field(
        None, description="When it is on: day, or {from, to}; left out: day."
    )
    hours_run: Age | None = Field(
        None, description="How long it has burned since new, such as 1200 h; left out: new."
    )
    readings: Annotated[list[ReadingPart], Field(min_length=1, max_length=500)] | None = Field(
        None,
        description="Own meter readings: the lamp is then fitted to them instead of taken from "
        "the catalogue's output.",
    )
    ies: FileName | None = Field(
        None, description="An IES LM-63 file with its light distribution, in the file's folder."
    )
    eulumdat: FileName | None = Field(
        None, description="A EULUMDAT file with its light distribution, in the file's folder."
    )
