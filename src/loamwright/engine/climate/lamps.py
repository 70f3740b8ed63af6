"""What lamps do with their power: light, thermal infrared, and heat given to the air about them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light.flux import band_flux
from loamwright.habitat.equipment import Lamp
from loamwright.physics import convection, longwave

Floats = NDArray[np.float64]

BODY_HEAT = {"bar": 8000.0}
"""Heat capacity of a lamp's body per area [J/(m2 K)]: 3 mm of aluminium for a bar's heat sink."""

THIN_BODY_HEAT = 4000.0
"""2 mm of glass or metal for the others; from memory."""

SURROUNDINGS = 298.15
"""Air and walls about a lamp when its full temperature is worked out [K]."""

BODY_EMISSIVITY = 0.9
"""Long-wave emissivity of lamp bodies [1]: glass and lacquered metal."""


@dataclass(frozen=True, slots=True)
class Body:
    """A lamp's body fully on: ``power`` that warms it [W], ``excess`` over its air [K], ``air`` share
    of the power that the air takes (the rest is thermal infrared), ``area`` [m2], ``store`` [J/K]."""

    power: float
    excess: float
    air: float
    area: float
    store: float

    @property
    def loss(self) -> float:
        """Heat lost per kelvin of excess [W/K]."""
        return self.power / self.excess


def body_area(lamp: Lamp) -> float:
    """Area of a lamp's body that air touches [m2]."""
    kind = lamp.type
    if kind.shape == "tube":
        return math.pi * kind.diameter * kind.length + 2 * kind.reflector_width * kind.length
    if kind.shape == "bar":
        return 2.5 * kind.length * kind.width
    if kind.diameter > 0.0:
        return math.pi * kind.diameter**2 * 1.5
    if kind.length > 0.0 and kind.width > 0.0:
        return 2.5 * kind.length * kind.width
    return 0.02


def body_of(lamp: Lamp) -> Body:
    """The body of a lamp at its present dimming.

    What is not sent out as light warms the body; of that the thermal infrared band of its type
    leaves as radiation. Its full excess is where free convection (Churchill & Chu 1975, cylinder)
    and radiation give that off.
    """
    flux = band_flux(lamp)
    total = lamp.type.power * lamp.dim
    infrared = float(flux[4])
    rest = max(total - float(flux.sum()), 0.0)
    power = max(rest + infrared, 1e-6)
    area = body_area(lamp)
    length = lamp.type.diameter or lamp.type.width or 0.05
    excess = 30.0
    for _ in range(40):
        hot = SURROUNDINGS + excess
        warm = SURROUNDINGS + excess / 2
        density, viscosity, conductivity, prandtl = _air(warm)
        number = convection.rayleigh(excess, length, warm, viscosity / density, prandtl)
        h = convection.horizontal_cylinder(number, prandtl) * conductivity / length
        h += longwave.exchange_coefficient(BODY_EMISSIVITY, hot, SURROUNDINGS)
        excess = 0.5 * (excess + power / (area * h))
    heat = BODY_HEAT.get(lamp.type.shape, THIN_BODY_HEAT)
    return Body(power, excess, rest / power if power > 1e-5 else 1.0, area, area * heat)


def _air(temperature: float) -> tuple[float, float, float, float]:
    density = convection.air_density(temperature, 101_325.0)
    viscosity = convection.air_viscosity(temperature)
    conductivity = convection.air_conductivity(temperature)
    heat = convection.air_heat_capacity(temperature)
    return density, viscosity, conductivity, viscosity * heat / conductivity


def worth(lamps: tuple[Lamp, ...]) -> Floats:
    """Watts leaving each lamp in each band at its present dimming and age, (L, 5)."""
    return np.array([band_flux(lamp) for lamp in lamps], float).reshape(-1, 5)
