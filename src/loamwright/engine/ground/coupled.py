"""Ground and climate together: the climate dries the ground, and wet ground moistens the air."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.ground.outlook import Outlook, look_ahead
from loamwright.engine.ground.quantities import ground_area
from loamwright.engine.ground.stuck import landing_of
from loamwright.engine.ground.study import first_wetness, wetness_of
from loamwright.engine.ground.weather import day_of_ground
from loamwright.habitat.habitat import Habitat

Typical = Callable[[Mapping[str, float]], Mapping[str, ClimateRun]]
"""Typical winter and summer days over ground of a given saturation by layer."""

ROUNDS = 2
"""Most times the climate is asked again."""

CLOSE_ENOUGH = 0.1
"""Change of the top's saturation that the climate hardly feels [1]: some 2 % of humidity."""


@dataclass(frozen=True)
class Coupled:
    """Outlooks by season, the ``wetness`` of the layers they and the climate agree on, how often
    the climate was asked, and by how much the top's saturation still moved [1]."""

    outlooks: tuple[Outlook, ...]
    wetness: Mapping[str, float]
    rounds: int
    moved: float

    @property
    def balance(self) -> float:
        """Largest share of the water that is missing from a run."""
        return max(
            run.balance
            for o in self.outlooks
            for run in (o.forecast.run, o.without.run, *([o.stuck.run] if o.stuck else []))
        )


def couple(
    habitat: Habitat, typical: Typical, days: int, seasons: Sequence[str], *, by_hand: bool = True,
    stuck: ClimateRun | None = None,
) -> Coupled:  # fmt: skip
    """Outlooks of the ground and the wetness at which the climate gives them; ``stuck`` the climate
    with a stuck mist valve (`stuck.stuck_run`).

    Raises
    ------
    ValueError
        If there is no ground that holds water.
    """
    area = ground_area(habitat)
    landing = landing_of(stuck, area) if stuck is not None else None
    wetness = first_wetness(habitat)
    told: dict[str, float] = {}
    rounds, moved = 0, 1.0
    while rounds < ROUNDS and moved >= CLOSE_ENOUGH:
        rounds += 1
        if rounds > 1:
            wetness = {**wetness, **told}
        runs = typical(wetness)
        winter = day_of_ground(habitat, runs["winter"], area, wetness)
        summer = day_of_ground(habitat, runs["summer"], area, wetness)
        found = tuple(
            look_ahead(habitat, winter, summer, days, season, by_hand=by_hand, stuck=landing)
            for season in seasons
        )
        each = [wetness_of(o.setting, o.forecast) for o in found]
        told = {name: sum(w[name] for w in each) / len(each) for name in each[0]}
        top = found[0].setting.column.names[-1]
        moved = abs(told[top] - wetness.get(top, 0.0))
    return Coupled(found, wetness, rounds, moved)
