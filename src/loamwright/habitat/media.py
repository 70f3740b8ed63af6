"""Media of the ground and finished mixes: how they hold and conduct water and heat."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.sources import Sourced


@dataclass(frozen=True, slots=True)
class Medium(Sourced):
    """A loose medium: water by the van Genuchten-Mualem law, heat, mass, carbon to nitrogen.

    ``form``: ``ground`` (water moves through its pores) or ``cover`` (litter: leaves catch water
    and hold it as a film, the pores between them hold none). Water contents by volume 0..1:
    ``residual`` and ``saturated``; ``air_entry`` [m], the suction about which it begins to drain
    (1/alpha); ``n`` spread of the pore sizes [1]; ``hydraulic_conductivity`` saturated [m/s];
    ``bend`` Mualem's exponent [1]; ``dry_density`` [kg/m3] at which these hold.
    ``air_entry_factor`` and ``conductivity_factor``: two samples in three lie within this factor
    either way. ``heat_conductivity_dry`` and ``_wet`` (saturated) [W/(m K)], ``heat_shape`` of the
    way from one to the other [1] (see `physics.soil_heat`), ``heat_capacity`` of the dry mass
    [J/(kg K)], ``carbon_nitrogen`` by mass [1]; ``holds`` water over dry mass, of a cover [1].
    """

    form: str
    residual: float
    saturated: float
    air_entry: float
    n: float
    hydraulic_conductivity: float
    dry_density: float
    bend: float = 0.5
    air_entry_factor: float = 1.5
    conductivity_factor: float = 3.0
    heat_conductivity_dry: float | None = None
    heat_conductivity_wet: float | None = None
    heat_shape: float = 0.6
    heat_capacity: float | None = None
    carbon_nitrogen: tuple[float | None, float | None] = (None, None)
    holds: float | None = None

    @property
    def alpha(self) -> float:
        """Inverse of the air-entry suction [1/m]."""
        return 1.0 / self.air_entry


@dataclass(frozen=True, slots=True)
class Component(Sourced):
    """What a mix of the ground is made of; every range is (low, high), None where not known.

    ``role`` in words; ``dry_density`` air-dry and ``moist_density`` as it lies in a watered ground,
    by loose volume [kg/m3]; shares of the volume 0..1: ``porosity`` all pores,
    ``container_capacity`` water held after draining, ``air_porosity`` air left then, ``shrink``
    lost in a first year; ``ph`` [1]; ``grain`` size [m]; ``medium`` how it holds water by itself.
    """

    role: str
    dry_density: tuple[float | None, float | None]
    moist_density: tuple[float | None, float | None]
    porosity: tuple[float | None, float | None] = (None, None)
    container_capacity: tuple[float | None, float | None] = (None, None)
    air_porosity: tuple[float | None, float | None] = (None, None)
    ph: tuple[float | None, float | None] = (None, None)
    shrink: tuple[float | None, float | None] = (None, None)
    grain: tuple[float | None, float | None] = (None, None)
    medium: Medium | None = None


@dataclass(frozen=True, slots=True)
class Mix(Sourced):
    """A finished mix: its ``use`` in words, its ``parts`` by volume (component, parts), and
    where it was measured as a whole the ``medium``."""

    use: str
    parts: tuple[tuple[Component, float], ...]
    medium: Medium | None = None
