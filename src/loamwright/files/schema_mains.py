"""The electricity there is, as written in the file."""

from __future__ import annotations

from pydantic import Field

from loamwright.files.schema_values import (
    Fuse,
    LowVoltage,
    MainsVoltage,
    Part,
    Point3,
    Power,
    Residual,
)


class MainsPart(Part):
    """The outlet the habitat is plugged in at. What a country's code asks for goes before any of this;
    the electrician knows it."""

    voltage: MainsVoltage | None = Field(
        None, description="Voltage of the outlet; left out: 230 V, with US units 120 V."
    )
    fuse: Fuse | None = Field(
        None, description="Fuse or breaker of its circuit; left out: 16 A, with US units 15 A."
    )
    residual: Residual | None = Field(
        None,
        description="Residual current that trips its protective device; left out: 30 mA, with US "
        "units 5 mA (ground-fault circuit interrupter, class A).",
    )
    others: Power | None = Field(
        None, description="What else hangs on the same circuit; left out: nothing."
    )
    outlet: Point3 | None = Field(
        None,
        description="Where the outlet is, [x, y, z]; left out: in the wall behind, 30 cm beside the "
        "right side, at the height of the enclosure's floor.",
    )
    board: Point3 | None = Field(
        None,
        description="Where sockets, supplies and controls are fixed, [x, y, z]; left out: outside on "
        "the right side, towards the back, at two thirds of the height.",
    )
    fans: LowVoltage | None = Field(None, description="Voltage of the fans; left out: 12 V.")
    pump: LowVoltage | None = Field(
        None, description="Voltage of the misting pump; left out: 24 V."
    )
    fan_supply: Power | None = Field(
        None, description="Size of the fans' supply at hand; left out: one is chosen."
    )
    pump_supply: Power | None = Field(
        None, description="Size of the pump's supply at hand; left out: one is chosen."
    )
