"""Decomposers of the catalogue against the published life tables and measurements."""

from __future__ import annotations

import numpy as np
import pytest

from loamwright.engine.life import decomposers_fauna as fauna
from loamwright.files.catalogue import load_catalogue
from loamwright.physics import populations, thermal_rates

ZERO, DAY, YEAR = 273.15, 86_400.0, 365.25 * 86_400.0
SHIPPED = load_catalogue().decomposers
FOLLOWED = [key for key in SHIPPED if not SHIPPED[key].unknown]


def rate(key: str, celsius: float, saturation: float = 0.5, way: float = 0.0) -> float:
    """By day."""
    return fauna.growth_rate(SHIPPED[key], ZERO + celsius, saturation, way) * DAY


def test_the_ones_that_can_be_followed() -> None:
    assert set(FOLLOWED) == {
        "folsomia-candida", "trichorhina-tomentosa", "porcellio-scaber", "porcellionides-pruinosus",
        "armadillidium-vulgare",
    }  # fmt: skip
    assert len(SHIPPED) == 24


def test_pill_woodlice_grow_as_in_their_life_tables() -> None:
    """University of Houston thesis, three habitats: r 0.00617 to 0.0102 a day, R0 7.46 to 16.63.

    The Gulf coast's mean is near 21 degC. The middle of what the catalogue says must lie in the
    span of the three habitats, widened by half of it either way: brood number, growing time and
    life are from memory.
    """
    found = rate("armadillidium-vulgare", 21.0)
    assert 0.0042 < found < 0.0122
    # By cohort: daughters of a newborn daughter, and the time in which they take her place.
    _, _, life, births, survival = fauna.life_of(SHIPPED["armadillidium-vulgare"], 0.0)
    assert 7.46 < survival * births * life < 16.63
    assert 245 < np.log(survival * births * life) / found < 532


@pytest.mark.parametrize("key", FOLLOWED)
def test_a_newborn_is_replaced_as_often_as_the_catalogue_says(key: str) -> None:
    """Net reproduction of the classes at the temperature of its times, against survival x births x
    life: where the optimum is elsewhere, births are fewer by the same factor as growth is slower."""
    kind = SHIPPED[key]
    _, _, life, births, survival = fauna.life_of(kind, 0.0)
    best = fauna.between(kind.temperature_best, 0.0)
    made = fauna.fauna_of([kind])
    matrix = populations.ample_growth(made, 0, kind.measured_at, 0.5)
    pace = thermal_rates.beta_factor(
        kind.measured_at, kind.temperature_low, made.optimum[0], kind.temperature_high
    )
    young = np.zeros_like(matrix)
    young[0] = made.births * pace
    found = float(np.linalg.eigvals(young @ np.linalg.inv(young - matrix)).real.max())
    assert best == made.optimum[0]
    assert found == pytest.approx(survival * births * pace * life, rel=0.01)


def test_springtails_grow_between_8_and_28_degrees_only() -> None:
    assert rate("folsomia-candida", 21.0) > rate("folsomia-candida", 15.0) > 0.0
    assert rate("folsomia-candida", 27.5) < 0.0
    assert rate("folsomia-candida", 8.0) < 0.0
    # Each generation of the field leaves more than one: 900 eggs, 0.7 to 6.9 % grow up.
    assert rate("folsomia-candida", 21.0, way=-1.0) > 0.0


def test_drought_and_flood_hold_growth_back() -> None:
    assert rate("folsomia-candida", 21.0, 0.5) > rate("folsomia-candida", 21.0, 0.2)
    assert rate("folsomia-candida", 21.0, 0.05) < 0.0
    assert rate("porcellio-scaber", 22.0, 0.5) > rate("porcellio-scaber", 22.0, 1.0)


@pytest.mark.parametrize("key", FOLLOWED)
def test_ranges_are_kept_in_order(key: str) -> None:
    best = sum(SHIPPED[key].temperature_best) / 2 - ZERO
    slow, middle, quick = (rate(key, best, way=way) for way in (-1.0, 0.0, 1.0))
    assert slow < middle < quick


def test_woodlice_eat_what_was_measured() -> None:
    """Porcellio scaber and small millipedes ate 0.46 to 1.65 mg dry alder litter a day."""
    kind = SHIPPED["porcellio-scaber"]
    made = fauna.fauna_of([kind])
    state = np.zeros(populations.ANIMALS + fauna.CLASSES)
    # Leaves of alder: 2.5 % nitrogen, C:N about 18; ample.
    state[populations.LITTER : populations.LITTER + 2] = 5.0, 5.0 / 18.0
    state[-1] = 1.0
    still = populations.Ground(*[0.0] * 5, 293.15, 1.0, (0.0, 0.1, 0.9, 0.3), 0.3, 8.0, 1.0,
                               0.0, 1.0, 0.0, 0.0)  # fmt: skip
    weather = populations.Conditions(293.15, 0.5, (0.0, 0.0), (0.0, 0.0), 0.0, 0.0, 1.0)
    gain, loss = np.empty_like(state), np.empty_like(state)
    populations.rates.py_func(state, made, still, weather, gain, loss)
    eaten = loss[populations.LITTER] * DAY / 0.45 * 1e6  # mg dry
    assert 0.46 < eaten < 1.65


@pytest.mark.parametrize("key", FOLLOWED)
def test_every_class_can_live_on_what_it_may_eat(key: str) -> None:
    made = fauna.fauna_of([SHIPPED[key]])
    share = made.assimilation[0]
    assert (np.diff(made.carbon) >= 0.0).all()
    assert (made.intake[fauna.EGGS :] * share > made.breath[fauna.EGGS :]).all()
    assert (made.intake[: fauna.EGGS] == 0.0).all()
    assert made.carbon[-1] == pytest.approx(
        fauna.DRY_CARBON * fauna.between(SHIPPED[key].body_mass, 0.0)
    )
