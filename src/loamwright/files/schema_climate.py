"""Fans, misting and controls, as written in the file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from loamwright.files.schema_box import Side
from loamwright.files.schema_equipment import HoursPart
from loamwright.files.schema_values import (
    Clock,
    Duration,
    Extent,
    HumidityStep,
    Ingress,
    Moment,
    Name,
    NightShare,
    NightTemperature,
    Part,
    Point2,
    Point3,
    Power,
    Pressure,
    Share,
    SomeShare,
    Temperature,
    TemperatureStep,
    Volume,
    WordOrPoint,
    WordOrWords,
)
from loamwright.habitat.controls import KINDS


def _form(value: Any) -> str:
    return "pairs" if isinstance(value, dict) else "word"


FanHours = Annotated[
    Annotated[Literal["always"], Tag("word")] | Annotated[HoursPart, Tag("pairs")],
    Discriminator(_form),
]


class FanPart(Part):
    """A fan in a panel."""

    name: Name = Field(description="Its name.")
    fan: Name = Field(description="Key of a fan of the catalogue.")
    panel: Side = Field(description="The panel it is in.")
    at: Point2 = Field(
        description="Its centre, measured on the panel: [x, y] for floor and top, [x, z] for "
        "front and back, [y, z] for left and right."
    )
    flow: Literal["in", "out"] = Field(description="Which way it blows: in or out.")
    speed: SomeShare | None = Field(None, description="Share of its full speed; left out: 100 %.")
    guard: WordOrWords | None = Field(
        None, description="Key of a cover (mesh) before it, or a list of them; left out: none."
    )
    filter: Name | None = Field(
        None, description="Key of a filter of the catalogue before it; left out: none."
    )
    duct: Extent | None = Field(
        None, description="Length of a duct of its own diameter; left out: none."
    )
    control: Name | None = Field(
        None,
        description="The control that switches it, of kind cooling or humidistat; left out: none.",
    )
    hours: FanHours | None = Field(
        None,
        description="When it runs, without a control: always, or {from, to}; left out: always.",
    )
    protection: Ingress | None = Field(
        None,
        description="Its ingress protection by IEC 60529, such as IP65 or IPX4; left out: not said.",
    )


class NozzlePart(Part):
    """A misting nozzle in its place."""

    name: Name = Field(description="Its name.")
    type: Name = Field(description="Key of a nozzle of the catalogue.")
    at: Point3 = Field(description="Its mouth: [x, y, z].")
    aim: WordOrPoint | None = Field(
        None,
        description="Where it sprays: down, up, the name of a site or piece, or a point "
        "[x, y, z]; left out: down.",
    )


class MistTimePart(Part):
    """One misting a day."""

    at: Clock = Field(description="It begins at, such as 07:30.")
    duration: Moment = Field(alias="for", description="It lasts for, such as 40 s.")


class MistPart(Part):
    """Misting: all nozzles run together, at the times and when the control asks."""

    tank: Volume = Field(description="What the tank holds.")
    nozzles: Annotated[list[NozzlePart], Field(max_length=200)] = Field(
        default_factory=list, description="The nozzles; at least one."
    )
    times: Annotated[list[MistTimePart], Field(max_length=200)] = Field(
        default_factory=list,
        description="Mistings each day: [{at, for}]; left out: only when the control asks.",
    )
    control: Name | None = Field(
        None, description="The control of kind pulse-mist that asks for more; left out: none."
    )
    water_temperature: Temperature | None = Field(
        None, description="Temperature of the water sprayed; left out: 20 degC."
    )
    pump: Power | None = Field(None, description="Power the pump draws; left out: 20 W.")
    pressure: Pressure | None = Field(
        None,
        description="Pressure the pump keeps while it runs; left out: what the nozzles need.",
    )
    bore: Extent | None = Field(None, description="Inner diameter of the line; left out: 4 mm.")
    tank_at: Point3 | None = Field(
        None,
        description="Where the water in the tank stands, [x, y, z]; left out: under the box, half "
        "way down the stand.",
    )


# -- controls ------------------------------------------------------------------------------------


class HeatNightPart(Part):
    """Limits of a thermostat at night."""

    on_below: Temperature = Field(description="At night it heats below this.")
    off_above: Temperature = Field(description="At night it stops above this.")


class CoolNightPart(Part):
    """Limits of a cooling control at night."""

    on_above: Temperature = Field(description="At night it runs above this.")
    off_below: Temperature = Field(description="At night it stops below this.")


class DampNightPart(Part):
    """Limits of a humidistat at night."""

    on_above: Share = Field(description="At night it runs above this relative humidity.")
    off_below: Share = Field(description="At night it stops below this relative humidity.")


class MistNightPart(Part):
    """Limits of pulse misting at night."""

    on_below: Share = Field(description="At night it mists below this relative humidity.")
    off_above: Share = Field(description="At night it stops above this relative humidity.")


NightHeat = Annotated[
    Annotated[NightTemperature, Tag("word")] | Annotated[HeatNightPart, Tag("pairs")],
    Discriminator(_form),
]
NightCool = Annotated[
    Annotated[NightTemperature, Tag("word")] | Annotated[CoolNightPart, Tag("pairs")],
    Discriminator(_form),
]
NightDamp = Annotated[
    Annotated[NightShare, Tag("word")] | Annotated[DampNightPart, Tag("pairs")],
    Discriminator(_form),
]
NightMist = Annotated[
    Annotated[NightShare, Tag("word")] | Annotated[MistNightPart, Tag("pairs")],
    Discriminator(_form),
]

_PROBE = "The site its probe is at."
_LAG = "Time constant of its probe; left out: 60 s."
_SET = "What it holds: the middle between on and off."
_NIGHT = "Outside the day's hours: off, a value in place of 'set', or {{{}}}; left out: as by day."
_STEP = "From on to off, with 'set'; left out: {}."
_CUT_OUT = "An independent limit: above it the heat is cut; left out: none."
_CUT_OUT_PROBE = "The site the probe of the limit is at; left out: that of the control."


class ThermostatPart(Part):
    """Heat on below one temperature and off above another; it drives lamps."""

    kind: Literal["thermostat"] = Field(description="thermostat.")
    probe: Name = Field(description=_PROBE)
    middle: Temperature | None = Field(None, alias="set", description=_SET)
    hysteresis: TemperatureStep | None = Field(None, description=_STEP.format("1 K"))
    on_below: Temperature | None = Field(
        None, description="It heats below this; with 'off_above', in place of 'set'."
    )
    off_above: Temperature | None = Field(
        None, description="It stops above this; with 'on_below', in place of 'set'."
    )
    night: NightHeat | None = Field(None, description=_NIGHT.format("on_below, off_above"))
    lag: Duration | None = Field(None, description=_LAG)
    cut_out: Temperature | None = Field(None, description=_CUT_OUT)
    cut_out_probe: Name | None = Field(None, description=_CUT_OUT_PROBE)


class DimmingThermostatPart(Part):
    """Heat dimmed in proportion; it drives lamps that can be dimmed."""

    kind: Literal["dimming-thermostat"] = Field(description="dimming-thermostat.")
    probe: Name = Field(description=_PROBE)
    middle: Temperature = Field(
        alias="set", description="What it holds: half power here; the middle of the band."
    )
    band: TemperatureStep | None = Field(
        None, description="From full power to off, round 'set'; left out: 2 K."
    )
    night: NightTemperature | None = Field(
        None,
        description="Outside the day's hours: off, or a value in place of 'set'; left out: as by "
        "day.",
    )
    lag: Duration | None = Field(None, description=_LAG)
    cut_out: Temperature | None = Field(None, description=_CUT_OUT)
    cut_out_probe: Name | None = Field(None, description=_CUT_OUT_PROBE)


class CoolingPart(Part):
    """On above one temperature and off below another; it drives fans."""

    kind: Literal["cooling"] = Field(description="cooling.")
    probe: Name = Field(description=_PROBE)
    middle: Temperature | None = Field(None, alias="set", description=_SET)
    hysteresis: TemperatureStep | None = Field(None, description=_STEP.format("1 K"))
    on_above: Temperature | None = Field(
        None, description="It runs above this; with 'off_below', in place of 'set'."
    )
    off_below: Temperature | None = Field(
        None, description="It stops below this; with 'on_above', in place of 'set'."
    )
    night: NightCool | None = Field(None, description=_NIGHT.format("on_above, off_below"))
    lag: Duration | None = Field(None, description=_LAG)


class HumidistatPart(Part):
    """On above one relative humidity and off below another; it drives fans."""

    kind: Literal["humidistat"] = Field(description="humidistat.")
    probe: Name = Field(description=_PROBE)
    middle: Share | None = Field(None, alias="set", description=_SET)
    hysteresis: HumidityStep | None = Field(None, description=_STEP.format("5 %"))
    on_above: Share | None = Field(
        None, description="It runs above this; with 'off_below', in place of 'set'."
    )
    off_below: Share | None = Field(
        None, description="It stops below this; with 'on_above', in place of 'set'."
    )
    night: NightDamp | None = Field(None, description=_NIGHT.format("on_above, off_below"))
    lag: Duration | None = Field(None, description=_LAG)


class PulseMistPart(Part):
    """Misting in pulses below one relative humidity until above another; it drives the mist."""

    kind: Literal["pulse-mist"] = Field(description="pulse-mist.")
    probe: Name = Field(description=_PROBE)
    middle: Share | None = Field(None, alias="set", description=_SET)
    hysteresis: HumidityStep | None = Field(None, description=_STEP.format("5 %"))
    on_below: Share | None = Field(
        None, description="It mists below this; with 'off_above', in place of 'set'."
    )
    off_above: Share | None = Field(
        None, description="It stops above this; with 'on_below', in place of 'set'."
    )
    pulse: Moment | None = Field(None, description="Length of a pulse; left out: 10 s.")
    pause: Moment | None = Field(
        None, description="From the start of a pulse to that of the next; left out: 5 min."
    )
    night: NightMist | None = Field(None, description=_NIGHT.format("on_below, off_above"))
    lag: Duration | None = Field(None, description=_LAG)


def _which(value: Any) -> str | None:
    """Which control is meant: None where the kind is missing or unknown."""
    kind = value.get("kind") if isinstance(value, dict) else None
    return kind if isinstance(kind, str) and kind in KINDS else None


AnyControl = ThermostatPart | DimmingThermostatPart | CoolingPart | HumidistatPart | PulseMistPart
ControlPart = Annotated[
    Annotated[ThermostatPart, Tag("thermostat")]
    | Annotated[DimmingThermostatPart, Tag("dimming-thermostat")]
    | Annotated[CoolingPart, Tag("cooling")]
    | Annotated[HumidistatPart, Tag("humidistat")]
    | Annotated[PulseMistPart, Tag("pulse-mist")],
    Discriminator(_which),
]

CONTROL_KEYS = frozenset(
    info.alias or name
    for part in (ThermostatPart, DimmingThermostatPart, CoolingPart, HumidistatPart, PulseMistPart)
    for name, info in part.model_fields.items()
)
"""Every key a controller of any kind may have."""
