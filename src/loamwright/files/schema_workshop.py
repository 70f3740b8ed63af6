"""Who builds and when, as written in the file."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema

from loamwright.files.schema_values import Name, Part, Quantity, _json, _quantity, wrong
from loamwright.habitat.workshop import WEEK


def _day(value: Any) -> date:
    """A calendar day, year first."""
    if not isinstance(value, str):
        raise wrong(f"{value!r} is no day; write year, month and day, such as 2027-03-01")
    try:
        found = date.fromisoformat(value)
    except ValueError:
        found = None
    if found is None or found.isoformat() != value:
        raise wrong(f"{value!r} is no day; write year, month and day, such as 2027-03-01")
    return found


Day = Annotated[
    date,
    PlainValidator(_day),
    WithJsonSchema(
        {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$", "examples": ["2027-03-01"]}
    ),
]
WorkingTime = Annotated[
    Quantity,
    PlainValidator(_quantity("time", 900.0, 86400.0)),
    _json("time", "6 h"),
]
"""Work in a day: a quarter of an hour at least."""
Delivery = Annotated[
    Quantity,
    PlainValidator(_quantity("time", 0.0, 365.0 * 86400.0)),
    _json("time", "7 d"),
]


TaskTime = Annotated[
    Quantity,
    PlainValidator(_quantity("time", 60.0, 3.6e6)),
    _json("time", "5 h"),
]


class WorkshopPart(Part):
    """Who builds it, when they begin and how they work."""

    start: Day | None = Field(
        None,
        description="The day the build begins, as 2027-03-01; left out: days are only counted.",
    )
    people: Annotated[int, Field(strict=True, ge=1, le=50)] | None = Field(
        None, description="How many people work on it; left out: 1."
    )
    hours: WorkingTime | None = Field(None, description="Work of each in a day; left out: 6 h.")
    closed: Annotated[list[Literal[WEEK]], Field(max_length=6)] = Field(  # type: ignore[valid-type]
        default_factory=list, description="Days of the week on which nobody works, such as sunday."
    )
    work: Annotated[dict[Name, TaskTime], Field(max_length=100)] = Field(
        default_factory=dict,
        description="Own times of work by task, such as {cut: 5 h}; left out: common practice.",
    )
    waits: Annotated[dict[Name, Delivery], Field(max_length=100)] = Field(
        default_factory=dict,
        description="Own waits after a task, in whole days, such as {quarantine: 60 d}; left out: "
        "common practice.",
    )
    delivery: Delivery | None = Field(
        None, description="How long ordered goods take, in whole days; left out: 7 d."
    )
