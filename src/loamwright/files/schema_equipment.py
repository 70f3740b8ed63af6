"""Lamps and the day's hours, as written in the file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from loamwright.files.schema_values import (
    Age,
    Clock,
    Duration,
    Extent,
    FileName,
    Ingress,
    Latitude,
    Lux,
    Name,
    Part,
    Photons,
    Point3,
    Share,
    Switch,
    Uvi,
    WordOrPoint,
    WordOrVector,
)


class HoursPart(Part):
    """From one time of day to another; it may run across midnight."""

    start: Clock = Field(alias="from", description="On at, such as 07:00.")
    to: Clock = Field(description="Off at, such as 19:00.")


class DayPart(Part):
    """The day's hours and how they change with the seasons."""

    start: Clock | None = Field(
        None,
        alias="from",
        description="Lights on at, such as 07:00, in spring and autumn; left out with 'to': 07:00.",
    )
    to: Clock | None = Field(
        None,
        description="Lights off at, such as 19:00, in spring and autumn; left out with 'from': "
        "19:00.",
    )
    ramp: Duration | None = Field(
        None,
        description="How long lamps that can be dimmed take to come up after 'from', and to go "
        "down before 'to'; left out: they switch at once.",
    )
    winter: HoursPart | None = Field(
        None, description="The day's hours in winter; left out: by latitude, or as in spring."
    )
    summer: HoursPart | None = Field(
        None, description="The day's hours in summer; left out: by latitude, or as in spring."
    )
    latitude: Latitude | None = Field(
        None,
        description="Latitude whose shortest and longest day, round the middle of the day given, "
        "are the hours in winter and in summer (north and south alike); left out: none.",
    )


def _hours(value: Any) -> str:
    return "pairs" if isinstance(value, dict) else "word"


Hours = Annotated[
    Annotated[Literal["day", "always"], Tag("word")] | Annotated[HoursPart, Tag("pairs")],
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
        None,
        description="When it may be on: day, always, or {from, to}; left out: day, or always where "
        "its control holds a temperature at night too.",
    )
    control: Name | None = Field(
        None,
        description="The control that drives it within its hours, of kind thermostat or "
        "dimming-thermostat; left out: none.",
    )
    dimmable: Switch | None = Field(
        None,
        description="Whether it can be dimmed, and so follows the day's ramp; left out: true for "
        "LED, halogen and other hot wires, false for fluorescent and discharge lamps.",
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
    protection: Ingress | None = Field(
        None,
        description="Its ingress protection by IEC 60529, such as IP65 or IPX4; left out: not said.",
    )
    eulumdat: FileName | None = Field(
        None, description="A EULUMDAT file with its light distribution, in the file's folder."
    )
