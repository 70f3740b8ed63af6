"""The care guide follows from the habitat and from what was computed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loamwright.habitat.catalogue import Cover
from loamwright.habitat.controls import Control
from loamwright.habitat.misting import Mist, Nozzle, NozzleType
from loamwright.habitat.residents import Group
from loamwright.plan.care import (
    COMPUTED,
    DAILY,
    MEMORY,
    MONTHLY,
    STALE,
    TURNS,
    WEEKLY,
    YEARLY,
    Care,
    care_of,
    fresh_food,
    lamp_days,
    turn_of,
)
from loamwright.report.care_blocks import care_tables, care_words
from report_sample import TUBE, habitat

CAGE = Cover("cage", "wire cage", {}, "mesh", 0.02, 0.002)
NOZZLE = NozzleType("fine", "fine nozzle", {}, 1e-6, 1.0, 5e-5)


class Run:
    """A day of the climate, as far as care asks for it."""

    def __init__(self, mist: float) -> None:
        self.water = {"mist": mist}


def keys(cares: tuple[Care, ...]) -> set[str]:
    return {c.key for c in cares}


def test_turns_follow_from_days() -> None:
    assert [turn_of(d) for d in (1, 2, 7, 14, 30, 90, 365)] == [
        DAILY, DAILY, WEEKLY, WEEKLY, MONTHLY, YEARLY, YEARLY,
    ]  # fmt: skip


def test_most_frequent_first_and_only_what_is_there() -> None:
    made = habitat()
    cares = care_of(made, {}, (), None, None)
    turns = [TURNS.index(c.turn) for c in cares]
    assert turns == sorted(turns)
    assert "look" in keys(cares)
    assert {"mist", "fill-tank", "nozzles"}.isdisjoint(keys(cares))
    empty = care_of(
        replace(made, animals=(), lamps=(), fans=(), water=(), controls=()), {}, (), None, None
    )
    assert {"look", "weigh", "veterinarian", "lamp", "bowls"}.isdisjoint(keys(empty))


def test_lamp_is_changed_after_its_life_at_its_hours() -> None:
    kind = replace(TUBE, life=4380.0)
    lamp = replace(habitat().lamps[0], type=kind, on=(0.0, 43200.0), hours_run=1000.0)
    assert lamp_days(lamp) == pytest.approx(365.0)
    care = next(
        c for c in care_of(replace(habitat(), lamps=(lamp,)), {}, (), None, None) if c.key == "lamp"
    )
    assert care.every == pytest.approx(365.0)
    assert care.value == pytest.approx((4380.0 - 1000.0) / 12.0 * 86400.0)
    what, how = care_words(habitat(), care, "metric")
    assert lamp.name in what
    assert "every 12 months" in how
    assert "after about 9 months" in how
    assert lamp_days(replace(lamp, type=replace(kind, life=None))) is None


def test_tank_is_filled_before_it_runs_dry() -> None:
    mist = Mist(0.010, (Nozzle("n", NOZZLE, (0.1, 0.1, 0.5)),), ((28800.0, 30.0),))
    runs = {"winter": Run(0.5), "summer": Run(1.0)}
    cares = care_of(replace(habitat(), mist=mist), runs, (), None, None)  # type: ignore[arg-type]
    tank = next(c for c in cares if c.key == "fill-tank")
    assert tank.value == pytest.approx(10.0 * 86400.0)
    assert tank.every == STALE  # ten days over one and a half are six: it would have gone bad
    assert (tank.turn, tank.basis) == (DAILY, MEMORY)
    what, how = care_words(habitat(), tank, "metric")
    assert "fresh water" in what
    assert "every 3 days" in how
    assert "10 days" in how
    small = care_of(replace(habitat(), mist=replace(mist, tank=0.003)), runs, (), None, None)  # type: ignore[arg-type]
    tank = next(c for c in small if c.key == "fill-tank")
    assert (tank.every, tank.basis) == (2.0, COMPUTED)  # three days over one and a half
    dry = care_of(replace(habitat(), mist=mist), {}, (), None, None)
    assert next(c for c in dry if c.key == "fill-tank").every == STALE
    sprayed = next(c for c in cares if c.key == "mist")
    assert sprayed.span == (0.5, 1.0)


def test_fresh_crickets_of_a_dry_mass() -> None:
    # Finke's crickets are 30.8 % dry (`allometry.PREY`).
    assert fresh_food("insects", 0.308e-3) == pytest.approx(1e-3)
    assert fresh_food("plants", 1e-3) is None


def test_animals_of_unknown_mass_are_told_so() -> None:
    cares = care_of(habitat(), {}, (), None, None)
    assert "feed-unknown" in keys(cares)
    care = next(c for c in cares if c.key == "feed-unknown")
    what, how = care_words(habitat(), care, "metric")
    assert "giant day gecko" in what
    assert "ask your veterinarian" in how
    heavy = replace(habitat().animals[0].species, mass=0.05)
    fed = care_of(replace(habitat(), animals=(Group(heavy, 1, 1),)), {}, (), None, None)
    food = next(c for c in fed if c.key == "feed-insects")
    assert food.value is not None
    assert 1e-4 < food.value < 5e-3


def test_care_speaks_of_what_is_there_in_the_units_of_its_reader() -> None:
    made = habitat()
    bare = replace(made, lamps=tuple(replace(x, guard=None) for x in made.lamps))
    (lamps,) = [c for c in care_of(bare, {}, (), None, None) if c.key.startswith("lamps-")]
    assert "guard" not in care_words(bare, lamps, "metric")[1]
    first, *rest = bare.lamps
    caged = replace(bare, lamps=(replace(first, guard=CAGE), *rest))
    assert f"the guard of {first.name} in place" in care_words(caged, lamps, "metric")[1]
    probes = Care(MONTHLY, "probes", ("warm",))
    assert "over 1 K apart" in care_words(made, probes, "metric")[1]
    assert "over 2 °F apart" in care_words(made, probes, "us")[1]
    drained, none = Care(WEEKLY, "drain"), Care(WEEKLY, "undrained", value=20.0 * 86400.0)
    assert "drainage layer" in care_words(made, drained, "metric")[1]
    how = care_words(made, none, "metric")[1]
    assert "drainage" not in how
    assert "about day 20" in how


@pytest.mark.parametrize(
    ("months", "told"), [(1.2, "1 month "), (9.0, "9 months"), (24.0, "24 months"), (126.0, "10 years"),
                         (30.0, "2.5 years")]
)  # fmt: skip
def test_long_times_are_told_in_years(months: float, told: str) -> None:
    days = months * 30.44
    care = Care(YEARLY, "lamp", ("bar",), every=days, value=days * 86400.0)
    how = care_words(habitat(), care, "metric")[1]
    assert f"every {told.rstrip()} at" in how
    assert f"about {told.rstrip()};" in how


def test_watering_of_new_ground_says_from_when_on() -> None:
    def told(*days: int) -> str:
        one = Care(WEEKLY, "water-ground", ("winter",), every=14.0, value=6.58, days=days)
        return care_words(habitat(), one, "metric")[1]

    assert "only from day 76 after planting on, as it was watered well" in told(76)
    assert "after planting" not in told(1)
    assert "after planting" not in told()


def test_cut_outs_are_tried() -> None:
    control = Control("warm", "thermostat", "basking", 300.0, 302.0, cut_out=315.0)
    cares = care_of(replace(habitat(), controls=(control,)), {}, (), None, None)
    assert next(c for c in cares if c.key == "cut-outs").subjects == ("warm",)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_everything_has_words(system: str) -> None:
    mist = Mist(0.010, (Nozzle("n", NOZZLE, (0.1, 0.1, 0.5)),), ((28800.0, 30.0),))
    made = replace(habitat(), mist=mist)
    tables = care_tables(
        made,
        care_of(made, {"winter": Run(0.5)}, (), None, None),
        system,  # type: ignore[dict-item]
    )
    assert [t.title for t in tables] == ["Every day", "Every week", "Every month", "Every year"]
    for table in tables:
        for row in table.rows:
            assert all(row)
            assert row[0][0].isupper()
