"""The room and its year, as written in the file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from loamwright.files.schema_values import (
    Altitude,
    Bearing,
    Clock,
    Extent,
    FileName,
    Inertia,
    Moisture,
    Part,
    Rise,
    Share,
    Temperature,
)


class SeasonPart(Part):
    """The room's air in one season."""

    day: Temperature | None = Field(None, description="Room temperature by day.")
    night: Temperature | None = Field(None, description="Room temperature by night.")
    humidity: Share | None = Field(None, description="Relative humidity of the room's air.")


class HeatingPart(Part):
    """What the heating keeps the room at."""

    day: Temperature | None = Field(None, description="Kept by day; left out: 20 degC.")
    night: Temperature | None = Field(
        None, description="Kept by night; left out: 3 K less than by day."
    )
    start: Clock | None = Field(
        None, alias="from", description="The heating's day begins; left out: 06:00."
    )
    to: Clock | None = Field(None, description="The heating's day ends; left out: 22:00.")


def _heating(value: Any) -> str:
    return "pairs" if isinstance(value, dict) else "word"


Heating = Annotated[
    Annotated[Literal["off"], Tag("word")] | Annotated[HeatingPart, Tag("pairs")],
    Discriminator(_heating),
]


class WeatherPart(Part):
    """The room through a year: from the weather outside, or from readings in the room."""

    file: FileName = Field(
        description="In this file's folder or below it: an EnergyPlus weather file (.epw), from "
        "which the room is computed, or the room's own readings (.csv) with columns time, "
        "temperature [degC] and humidity [%]."
    )
    heating: Heating | None = Field(
        None,
        description="With an .epw: what the heating keeps the room at, or off; left out: 20 degC "
        "from 06:00 to 22:00, otherwise 17 degC.",
    )
    cooling: Temperature | None = Field(
        None, description="With an .epw: what cooling keeps the room below; left out: no cooling."
    )
    gains: Rise | None = Field(
        None,
        description="With an .epw: how much warmer than outside the room settles without heating; "
        "left out: 3 K.",
    )
    moisture: Moisture | None = Field(
        None,
        description="With an .epw: vapour the room's air holds over that outside in the cold "
        "season; left out: 2.5 g/m3.",
    )
    time_constant: Inertia | None = Field(
        None,
        description="With an .epw: time in which the unheated room covers 63 % of the way to the "
        "weather outside; left out: 24 h.",
    )


class FloorPart(Part):
    """The room's floor under the enclosure."""

    runs: Literal["slab", "across", "along"] | None = Field(
        None,
        description="slab: a slab on the ground; across: its beams run from the wall behind the "
        "enclosure into the room; along: they run along that wall; left out: the worse of the two "
        "last is taken.",
    )
    span: Extent | None = Field(None, description="Span of its beams; left out: 4 m.")
    bears: Bearing | None = Field(
        None,
        description="Imposed load it is built for; left out: what standards ask for such a room.",
    )


class RoomPart(Part):
    """What surrounds the enclosure."""

    winter: SeasonPart | None = Field(
        None,
        description="Winter; left out: the coldest month of the weather, or 19 degC by day, "
        "16 degC by night, 35 %.",
    )
    summer: SeasonPart | None = Field(
        None,
        description="Summer; left out: the warmest month of the weather, or 25 degC by day, "
        "22 degC by night, 55 %.",
    )
    altitude: Altitude | None = Field(
        None,
        description="Height above the sea; left out: that of the weather's station, or sea level.",
    )
    weather: WeatherPart | None = Field(
        None, description="The room's air through a year; left out: winter and summer alone."
    )
    floor: FloorPart | None = Field(None, description="The floor it stands on.")
