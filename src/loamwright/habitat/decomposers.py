"""Decomposers of the catalogue, and those that are let into a habitat's ground."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.sources import Sourced

Range = tuple[float | None, float | None]

KINDS: tuple[str, ...] = ("springtail", "isopod", "beetle", "earwig", "millipede")
MOISTURES: tuple[str, ...] = ("wet", "moist", "dry")

WHOLE_LIFE: tuple[str, ...] = (
    "body_mass", "temperature_low", "temperature_best", "temperature_high", "measured_at",
    "egg_time", "grow_time", "young_a_year", "life", "survival",
)  # fmt: skip
"""What has to be known of a species to follow its numbers."""


@dataclass(frozen=True, slots=True)
class DecomposerType(Sourced):
    """What lives on litter and waste; every range is (low, high), None where not known.

    ``kind`` one of `KINDS`, ``sexes`` ``females only`` or ``two``, ``moisture`` one of `MOISTURES`;
    ``body_length`` [m], ``body_mass`` fresh [kg]; no growth below ``temperature_low`` and above
    ``temperature_high``, fastest in ``temperature_best`` [K]; ``egg_time`` to hatching and
    ``grow_time`` from there to the first young [s], both at ``measured_at`` [K]; ``brood`` young at
    a time [1]; ``young_a_year`` of a grown female at best [1]; ``life`` [s]; ``survival`` share of
    the young that grow up [1]; ``eats`` dry litter of a grown animal in a day [kg]; ``starter``
    numbers let in [1/m2].
    """

    latin: str
    kind: str
    role: str
    moisture: str
    sexes: str = ""
    body_length: Range = (None, None)
    body_mass: Range = (None, None)
    temperature_low: float | None = None
    temperature_best: Range = (None, None)
    temperature_high: float | None = None
    measured_at: float | None = None
    egg_time: Range = (None, None)
    grow_time: Range = (None, None)
    brood: Range = (None, None)
    young_a_year: Range = (None, None)
    life: Range = (None, None)
    survival: Range = (None, None)
    eats: Range = (None, None)
    starter: Range = (None, None)
    risk: str = ""

    @property
    def unknown(self) -> tuple[str, ...]:
        """Fields of `WHOLE_LIFE` that have no number."""
        return tuple(
            name
            for name in WHOLE_LIFE
            if (value := getattr(self, name)) is None
            or (isinstance(value, tuple) and None in value)
        )


@dataclass(frozen=True, slots=True)
class Starter:
    """Decomposers let in at planting: ``count`` of them, None where it is to be computed. Not
    ``named``: the file names none at all, and this is one of those to choose from."""

    species: DecomposerType
    count: int | None = None
    named: bool = True
