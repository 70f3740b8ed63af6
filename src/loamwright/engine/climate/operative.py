"""What temperature a resting animal would take at each place, and how fast."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from loamwright.engine.climate.air_film import LATENT, LEWIS, RV, SIGMA, _pws
from loamwright.habitat.catalogue import Species
from loamwright.physics import bodies, convection

Floats = NDArray[np.float64]

_operative = njit(cache=True)(bodies.operative_temperature)
_free = njit(cache=True)(bodies.nusselt_free)
_forced = njit(cache=True)(bodies.nusselt_forced)
_film_air = njit(cache=True)(convection.air_film)

ABSORPTANCE = 0.85
"""Share of a lamp's light that skin takes [1]: solar absorptance of lizards 0.77 to 0.88 (Christian,
Bedford & Shannahan 1996, Aust. J. Zool. 44:59); for halogen light a first estimate."""

BROADSIDE = 0.363
"""Shadow of a lizard lying across the beam over its skin area [1] (Porter & Tracy, see
`bodies.lizard_silhouette_broadside`), at 20 g."""

QUIET_AIR = 0.05
"""Air speed about a resting animal [m/s]; common practice, no source."""

TISSUE, SKIN = bodies.TISSUE_CONDUCTIVITY, bodies.SKIN_EMISSIVITY

CONTACT = 0.15
"""Share of the skin that lies on what it rests on [1]; from memory, 0.1 to 0.2."""


def body_mass(species: Species) -> float | None:
    """Mass [kg]: the catalogue's, else from its body length by the law of spiny lizards; None where
    neither is known."""
    if species.mass is not None:
        return species.mass
    if species.body_length is not None and species.animal_class == "Reptilia":
        return bodies.lizard_mass(species.body_length)
    return None


def skin_area(species: Species, mass: float) -> float:
    """Skin area [m2]."""
    if species.animal_class == "Amphibia":
        return bodies.frog_area(mass)
    return bodies.lizard_area(mass)


@njit(cache=True)
def _one(mass, area, wet, beam, even, warm, radiant, air, vapour, ground, contact, speed):
    """Operative temperature [K] and conductance to the surroundings [W/K]."""
    length = (mass / 1000.0) ** (1.0 / 3.0)
    exposed = area * (1.0 - contact)
    link = 2.0 * TISSUE * area * contact / length if ground > 0.0 else 0.0
    gained = ABSORPTANCE * area * (BROADSIDE * beam + even) + SKIN * area * warm
    t = air + 1.0
    h = 5.0
    for _ in range(25):
        film = 0.5 * (t + air)
        k, nu, _, lift = _film_air(film, 101325.0)
        ra = lift * abs(t - air) * length**3
        free = _free(max(ra, 1.0))
        forced = _forced(speed * length / nu, 0.35, 0.6)
        h = (free**3 + forced**3) ** (1.0 / 3.0) * k / length
        lost = 0.0
        if wet:
            lack = max((_pws(t) - vapour * RV * air) / (RV * film), 0.0)
            lost = LATENT * exposed * h * LEWIS / 1190.0 * lack
        new = _operative(gained - lost, SKIN * exposed, radiant, h * exposed, air, link,
                         ground if ground > 0.0 else air)  # fmt: skip
        step = new - t
        t += 0.5 * step if wet else 0.8 * step
        if abs(step) < 1e-4:
            break
    holds = h * exposed + 4.0 * SIGMA * SKIN * exposed * t**3 + link
    return t, holds


@njit(cache=True)
def _table(mass, area, wet, contact, beam, even, warm, radiant, air, vapour, ground, out, tie):
    rows, places = air.shape
    for r in range(rows):
        for z in range(places):
            out[r, z], tie[r, z] = _one(
                mass, area, wet, beam[r, z], even[r, z], warm[r, z], radiant[r, z], air[r, z],
                vapour[r, z], ground[r, z], contact, QUIET_AIR,
            )  # fmt: skip


def operative_table(
    species: Species, beam: Floats, even: Floats, warm: Floats, radiant: Floats, air: Floats,
    vapour: Floats, ground: Floats,
) -> tuple[Floats, Floats] | None:  # fmt: skip
    """Operative temperature [K] and time constant [s] at each time and place (R, Z); None where the
    species' mass is not known.

    ``beam`` and ``even`` light from one side and from all round, ``warm`` thermal infrared of lamps
    [W/m2]; ``radiant`` mean radiant temperature of surfaces [K], ``air`` [K], ``vapour`` [kg/m3],
    ``ground`` what it rests on [K] (0: nothing). Amphibians are taken as wet all over, reptiles as dry.

    Source: Bakken 1976; Porter & Gates 1969; sizes and convection as in `physics.bodies`.
    """
    mass = body_mass(species)
    if mass is None:
        return None
    out, tie = np.empty_like(air), np.empty_like(air)
    area = skin_area(species, mass)
    _table(mass, area, species.animal_class == "Amphibia", CONTACT, beam, even, warm, radiant, air,
           vapour, ground, out, tie)  # fmt: skip
    return out, mass * bodies.TISSUE_HEAT_CAPACITY / tie


def beam_and_even(brightest: Floats, mean: Floats) -> tuple[Floats, Floats]:
    """Split what meters turned every way read into a beam from one side and light from all round.

    ``brightest`` the largest reading, ``mean`` the mean over all ways [W/m2]. A beam E reads E when
    faced and E/4 on average; even light reads the same every way.
    """
    beam = np.maximum(brightest - mean, 0.0) * 4.0 / 3.0
    beam = np.minimum(beam, 4.0 * mean)
    return beam, np.maximum(mean - beam / 4.0, 0.0)
