"""The kinds of value a habitat file holds: quantities with units, places, words, counts.

Each is a type for the models in the other ``schema_*`` files: it reads the text, refuses what
cannot be, and says in the JSON Schema what to write.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import (
    BaseModel,
    ConfigDict,
    Discriminator,
    Field,
    PlainValidator,
    StringConstraints,
    Tag,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from loamwright import units
from loamwright.errors import UnitError


class Quantity(float):
    """A value in SI that remembers the text it was written as."""

    __slots__ = ("kind", "text")
    text: str
    kind: str

    def __new__(cls, value: float, text: str, kind: str) -> Quantity:
        """Keep the text beside the value."""
        made = super().__new__(cls, value)
        made.text = text
        made.kind = kind
        return made


def wrong(message: str) -> PydanticCustomError:
    """An error whose whole message is ours."""
    return PydanticCustomError("loamwright", "{message}", {"message": message})


def _quantity(
    kind: str, low: float, high: float, *, above: bool = False
) -> Callable[[Any], Quantity]:
    """A reader of one kind within limits; ``above`` leaves the low limit itself out."""

    def read(value: Any) -> Quantity:
        if isinstance(value, list | dict):
            form = "a list" if isinstance(value, list) else "a group of keys"
            raise wrong(f'{form} is not one quantity; write it like "{units.KINDS[kind].example}"')
        try:
            number = units.parse(value, kind)
        except UnitError as error:
            raise wrong(error.problems[0].message) from None
        if above and number <= low:
            raise wrong(f"{value!r} must be more than {units.show(low, kind)}")
        if not low <= number <= high:
            limits = f"{units.show(low, kind)} and {units.show(high, kind)}"
            raise wrong(f"{value!r} must lie between {limits}")
        return Quantity(number, str(value), kind)

    return read


def _share(value: Any) -> Quantity:
    """A place along a piece: a plain number 0 to 1, or a percentage."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        if isinstance(value, str):
            return _quantity("share", 0.0, 1.0)(value)
        raise wrong("must be a number from 0 (its start) to 1 (its end), or a percentage")
    if not 0.0 <= value <= 1.0:
        raise wrong(f"{value!r} must lie between 0 (its start) and 1 (its end)")
    return Quantity(float(value), str(value), "number")


def _portion(value: Any) -> Quantity:
    """A share of something: a plain number 0 to 1, or a percentage."""
    if isinstance(value, str):
        return _quantity("share", 0.0, 1.0)(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise wrong("must be a number from 0 to 1, or a percentage")
    if not 0.0 <= value <= 1.0:
        raise wrong(f"{value!r} must lie between 0 and 1, or be a percentage")
    return Quantity(float(value), str(value), "number")


def _letters(value: Any) -> str:
    """A currency's code."""
    if not isinstance(value, str) or not re.fullmatch("[A-Z]{3}", value):
        raise wrong(f"{value!r} is no currency; write its three capital letters, such as EUR")
    return value


def _number(low: float, high: float) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise wrong(f"{value!r} must be a plain number")
        if not (low <= value <= high and math.isfinite(value)):
            raise wrong(f"{value!r} must lie between {low:g} and {high:g}")
        return float(value)

    return read


def _level(value: Any) -> int | float | str:
    """A limit of a need: text with a unit or a plain number; its quantity decides later."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise wrong(f"{value!r} must be a number or a quantity")
    return value


def _json(kind: str, *examples: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "examples": list(examples), "x-quantity": kind})


Length = Annotated[
    Quantity, PlainValidator(_quantity("length", -100.0, 100.0)), _json("length", "75 cm", "30 in")
]
Extent = Annotated[
    Quantity,
    PlainValidator(_quantity("length", 0.0, 100.0, above=True)),
    _json("length", "5 cm", "2 in"),
]
Reach = Annotated[
    Quantity, PlainValidator(_quantity("length", 0.0, 5.0)), _json("length", "3 mm", "1/8 in")
]
Altitude = Annotated[
    Quantity,
    PlainValidator(_quantity("length", -450.0, 6000.0)),
    _json("length", "12 m", "40 ft"),
]
Temperature = Annotated[
    Quantity,
    PlainValidator(_quantity("temperature", 223.15, 343.15)),
    _json("temperature", "21 degC", "70 degF"),
]
Share = Annotated[Quantity, PlainValidator(_quantity("share", 0.0, 1.0)), _json("share", "80 %")]
SomeShare = Annotated[
    Quantity, PlainValidator(_quantity("share", 0.0, 1.0, above=True)), _json("share", "50 %")
]
HumidityStep = Annotated[
    Quantity, PlainValidator(_quantity("share", 0.0, 1.0, above=True)), _json("share", "5 %")
]
TemperatureStep = Annotated[
    Quantity,
    PlainValidator(_quantity("temperature_difference", 0.0, 30.0, above=True)),
    _json("temperature_difference", "2 K", "4 degF_diff"),
]
Rise = Annotated[
    Quantity,
    PlainValidator(_quantity("temperature_difference", 0.0, 20.0)),
    _json("temperature_difference", "3 K", "5 degF_diff"),
]
Moisture = Annotated[
    Quantity,
    PlainValidator(_quantity("vapour_density", 0.0, 0.020)),
    _json("vapour_density", "2.5 g/m3", "1.1 gr/ft3"),
]
Inertia = Annotated[
    Quantity, PlainValidator(_quantity("time", 3600.0, 30 * 86400.0)), _json("time", "24 h", "3 d")
]
Power = Annotated[Quantity, PlainValidator(_quantity("power", 0.0, 1e4)), _json("power", "20 W")]
Mass = Annotated[
    Quantity,
    PlainValidator(_quantity("mass", 0.0, 1e5, above=True)),
    _json("mass", "400 kg", "900 lb"),
]
Volume = Annotated[
    Quantity, PlainValidator(_quantity("volume", 0.0, 100.0)), _json("volume", "70 L", "64 qt_dry")
]
Duration = Annotated[
    Quantity, PlainValidator(_quantity("time", 0.0, 86400.0)), _json("time", "30 min")
]
Moment = Annotated[
    Quantity, PlainValidator(_quantity("time", 0.0, 86400.0, above=True)), _json("time", "40 s")
]
Age = Annotated[Quantity, PlainValidator(_quantity("time", 0.0, 3.6e8)), _json("time", "1200 h")]
Clock = Annotated[
    Quantity, PlainValidator(_quantity("clock", 0.0, 86400.0)), _json("clock", "07:30")
]
Angle = Annotated[
    Quantity,
    PlainValidator(_quantity("angle", -2 * math.pi, 2 * math.pi)),
    _json("angle", "90 deg"),
]
Latitude = Annotated[
    Quantity,
    PlainValidator(_quantity("angle", -math.pi / 2, math.pi / 2)),
    _json("angle", "22 deg", "-19 deg"),
]
Photons = Annotated[
    Quantity, PlainValidator(_quantity("ppfd", 0.0, 1e5)), _json("ppfd", "150 umol/m2/s")
]
Lux = Annotated[Quantity, PlainValidator(_quantity("lux", 0.0, 1e7)), _json("lux", "12000 lx")]


def _or_off(kind: str, low: float, high: float) -> Callable[[Any], Quantity | str]:
    """A reader of the word off, or of one kind within limits."""
    read = _quantity(kind, low, high)

    def read_either(value: Any) -> Quantity | str:
        return "off" if value == "off" else read(value)

    return read_either


NightTemperature = Annotated[
    Quantity | str,
    PlainValidator(_or_off("temperature", 223.15, 343.15)),
    _json("temperature", "off", "22 degC"),
]
NightShare = Annotated[
    Quantity | str, PlainValidator(_or_off("share", 0.0, 1.0)), _json("share", "off", "90 %")
]
Along = Annotated[
    Quantity,
    PlainValidator(_share),
    WithJsonSchema({"anyOf": [{"type": "number", "minimum": 0, "maximum": 1}, {"type": "string"}]}),
]
Portion = Annotated[
    Quantity,
    PlainValidator(_portion),
    WithJsonSchema({"anyOf": [{"type": "number", "minimum": 0, "maximum": 1}, {"type": "string"}]}),
]


PER = {"d": 1.0, "day": 1.0, "week": 7.0, "month": 365.25 / 12.0, "year": 365.25}
"""Times over which growth is told [d]."""


def _growth(value: Any) -> Quantity:
    """A growth in height such as ``3 cm/month`` [m/s]."""
    like = 'write it like "3 cm/month" or "1 in/month"'
    length, slash, time = value.partition("/") if isinstance(value, str) else ("", "", "")
    days = PER.get(time.strip())
    if not slash or days is None:
        raise wrong(f"{value!r} is no growth over a time; {like}, per {', '.join(PER)}")
    try:
        gained = units.parse(length, "length")
    except UnitError:
        raise wrong(f"{value!r} is no growth over a time; {like}") from None
    if not 0.0 <= gained / days <= 0.1:
        raise wrong(f"{value!r} must lie between nothing and 10 cm a day")
    return Quantity(gained / (days * 86400.0), value, "growth")


def _date(value: Any) -> int:
    """A day such as ``2026-05-01``, as its number in the calendar."""
    from datetime import date

    try:
        return date.fromisoformat(value).toordinal()
    except (TypeError, ValueError):
        raise wrong(f'{value!r} is no day; write it like "2026-05-01"') from None


Growth = Annotated[
    Quantity, PlainValidator(_growth),
    WithJsonSchema({"type": "string", "description": "Such as 3 cm/month.",
                    "examples": ["3 cm/month", "1 in/month"]}),
]  # fmt: skip
Day = Annotated[
    int, PlainValidator(_date),
    WithJsonSchema({"type": "string", "format": "date", "examples": ["2026-05-01"]}),
]  # fmt: skip


def _dose(value: Any) -> Quantity:
    """How much is added: mass by volume of ground, or a percentage of its volume."""
    if isinstance(value, str) and value.rstrip().endswith("%"):
        return _quantity("share", 0.0, 0.5, above=True)(value)
    return _quantity("dose", 0.0, 1000.0, above=True)(value)


Dose = Annotated[Quantity, PlainValidator(_dose), _json("dose", "5 g/L", "1/4 oz/qt_dry", "3 %")]
Proportion = Annotated[
    float,
    PlainValidator(_number(0.0, 1e6)),
    WithJsonSchema({"type": "number", "minimum": 0}),
]
"""Parts of one component beside those of the others."""
Currency = Annotated[
    str,
    PlainValidator(_letters),
    WithJsonSchema({"type": "string", "pattern": "^[A-Z]{3}$"}),
]
EnergyPrice = Annotated[
    Quantity,
    PlainValidator(_quantity("money_per_energy", 0.0, 1e6 / 3.6e6)),
    _json("money_per_energy", "0.31/kWh"),
]
Wage = Annotated[
    Quantity,
    PlainValidator(_quantity("money_per_time", 0.0, 1e9 / 3600.0)),
    _json("money_per_time", "42/h"),
]
Margin = Annotated[Quantity, PlainValidator(_quantity("share", 0.0, 10.0)), _json("share", "20 %")]
Pressure = Annotated[
    Quantity,
    PlainValidator(_quantity("pressure", 0.0, 2e7, above=True)),
    _json("pressure", "700 kPa", "100 psi"),
]
Surface = Annotated[
    Quantity, PlainValidator(_quantity("area", 0.0, 100.0, above=True)), _json("area", "200 cm2")
]
Bearing = Annotated[
    Quantity,
    PlainValidator(_quantity("pressure", 100.0, 1e6)),
    _json("pressure", "2 kPa", "40 psf"),
]
MainsVoltage = Annotated[
    Quantity, PlainValidator(_quantity("voltage", 90.0, 260.0)), _json("voltage", "230 V", "120 V")
]
LowVoltage = Annotated[
    Quantity, PlainValidator(_quantity("voltage", 3.0, 60.0)), _json("voltage", "12 V")
]
Fuse = Annotated[
    Quantity, PlainValidator(_quantity("current", 1.0, 125.0)), _json("current", "16 A")
]
Residual = Annotated[
    Quantity, PlainValidator(_quantity("current", 0.004, 0.5)), _json("current", "30 mA", "5 mA")
]


def _ingress(value: Any) -> str:
    """An ingress protection code: IP, a digit or X for solids, a digit or X for water."""
    if not isinstance(value, str) or not re.fullmatch("IP[0-6X][0-9X]", value):
        raise wrong(f"{value!r} is no ingress protection code; write it like IP65 or IPX4")
    return value


Ingress = Annotated[
    str,
    PlainValidator(_ingress),
    WithJsonSchema({"type": "string", "pattern": "^IP[0-6X][0-9X]$", "examples": ["IP65"]}),
]
Uvi = Annotated[
    float,
    PlainValidator(_number(0.0, 1000.0)),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": 1000}),
]
Component = Annotated[float, PlainValidator(_number(-1e6, 1e6)), WithJsonSchema({"type": "number"})]
Level = Annotated[
    int | float | str,
    PlainValidator(_level),
    WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string"}]}),
]
Count = Annotated[int, Field(strict=True, ge=0, le=10_000)]
Switch = Annotated[bool, Field(strict=True)]

Name = Annotated[
    str,
    StringConstraints(strict=True, strip_whitespace=True, min_length=1, max_length=80,
                      pattern=r"^[^\n\r\t\x85\u2028\u2029]*$"),
]  # fmt: skip
"""A name or a word: one line."""
FileName = Annotated[
    str, StringConstraints(strict=True, strip_whitespace=True, min_length=1, max_length=400)
]
Text = Annotated[str, StringConstraints(strict=True, strip_whitespace=True, max_length=2000)]

Point2 = Annotated[list[Length], Field(min_length=2, max_length=2)]
Point3 = Annotated[list[Length], Field(min_length=3, max_length=3)]
Place = Annotated[list[Length], Field(min_length=2, max_length=3)]
Size2 = Annotated[list[Extent], Field(min_length=2, max_length=2)]
Size3 = Annotated[list[Extent], Field(min_length=3, max_length=3)]
Vector = Annotated[list[Component], Field(min_length=3, max_length=3)]


def _shape(value: Any) -> str:
    """Which of a choice's readers is meant: by the YAML form alone, so that errors stay single."""
    if isinstance(value, list):
        return "many"
    return "pairs" if isinstance(value, dict) else "word"


WordOrPoint = Annotated[
    Annotated[Name, Tag("word")] | Annotated[Point3, Tag("many")], Discriminator(_shape)
]
WordOrVector = Annotated[
    Annotated[Name, Tag("word")] | Annotated[Vector, Tag("many")], Discriminator(_shape)
]
WordOrWords = Annotated[
    Annotated[Name, Tag("word")]
    | Annotated[list[Name], Field(min_length=1, max_length=100), Tag("many")],
    Discriminator(_shape),
]


class Part(BaseModel):
    """Base of all parts of the file: unknown keys are errors.

    A key without a value counts as left out. While a file is read the context notes which model
    each mapping was read as, so that the message about an unknown key can name the nearest known.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    @model_validator(mode="before")
    @classmethod
    def _note(cls, data: Any, info: ValidationInfo) -> Any:
        if not isinstance(data, dict):
            return data
        if isinstance(info.context, dict):
            info.context[id(data)] = cls
        known = cls.keys()
        return {k: v for k, v in data.items() if v is not None or k not in known}

    @classmethod
    def keys(cls) -> list[str]:
        """The keys as written in the file."""
        return [f.alias or name for name, f in cls.model_fields.items()]


def words(value: str | list[str] | None) -> list[str]:
    """A word or a list of words, as a list."""
    if value is None:
        return []
    return [value] if isinstance(value, str) else value
