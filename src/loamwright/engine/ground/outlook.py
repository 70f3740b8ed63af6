"""Everything asked of a habitat's ground: its forecast, its watering plan, and what goes wrong."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.ground.quantities import Quantities, ground_quantities
from loamwright.engine.ground.stuck import Landing
from loamwright.engine.ground.study import (
    Forecast,
    Plan,
    Setting,
    Watering,
    dry_out,
    forecast,
    plan_watering,
    setting_of,
    stuck_valve,
)
from loamwright.engine.ground.weather import DayOfGround
from loamwright.habitat.habitat import Habitat

START = {"winter": 0.0, "summer": 182.5}
"""Days after midwinter on which a forecast begins, by season."""

PLANNED = 364
"""Days over which a watering plan is sought [d]: it holds in every season."""

HOLIDAY = 14
"""Days that nobody waters; common practice, no source."""

FOLLOWED = 120
"""Days for which ground without water is followed."""


@dataclass(frozen=True)
class Outlook:
    """A ground's outlook: ``season`` it begins in, the ``plan`` and the ``forecast`` that follows it,
    the same ground left ``without`` water at its end, and after a ``stuck`` mist valve with what
    lands on it then (``landing``; None where nothing mists); ``dries`` days until the middle falls
    out of its band without water, None where it does not in `FOLLOWED` days."""

    season: str
    setting: Setting
    plan: Plan
    forecast: Forecast
    without: Forecast
    stuck: Forecast | None
    landing: Landing | None = None

    @property
    def dries(self) -> float | None:
        """Days until ground without water is too dry [d]."""
        dry = self.without.middle < self.setting.band[0]
        return float(self.without.days[dry][0]) if dry.any() else None

    @property
    def worst_water(self) -> float:
        """Water content of the middle furthest from the band's middle, once it is watered in [1]."""
        rows = self.forecast.middle[1:]
        centre = 0.5 * sum(self.setting.band)
        return float(rows[abs(rows - centre).argmax()])

    def draw_off(self) -> float | None:
        """Day on which the water on the floor passes half the drainage's depth, None if never [d]."""
        limit = 0.5 * self.setting.brim
        over = self.forecast.run.standing > limit
        return float(self.forecast.days[over][0]) if over.any() else None


def look_ahead(
    habitat: Habitat, winter: DayOfGround, summer: DayOfGround, days: int, season: str,
    *, by_hand: bool = True, stuck: Landing | None = None,
) -> Outlook:  # fmt: skip
    """The outlook of a habitat's ground over so many days; ``by_hand`` False: mist alone after the
    first watering; ``stuck`` what lands on it while a mist valve sticks.

    Raises
    ------
    ValueError
        If there is no ground that holds water.
    """
    setting = setting_of(habitat, winter, summer)
    start = START[season]
    plan = plan_watering(setting, max(days, PLANNED), start)
    watering = plan.watering if by_hand else Watering(plan.watering.first)
    found = forecast(setting, days, watering, start_day=start)
    drowned = stuck_valve(setting, found, stuck) if stuck is not None else None
    return Outlook(season, setting, plan, found, dry_out(setting, found, FOLLOWED), drowned, stuck)


def amounts(habitat: Habitat) -> Quantities:
    """Quantities of the ground, in bags as sold where the file's units are used."""
    return ground_quantities(habitat, us=habitat.units == "us")
