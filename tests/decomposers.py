"""Made-up decomposers and ground for tests; stage lengths are those of the springtail of the books."""

from __future__ import annotations

import numpy as np

from loamwright.physics import populations as pop

DAY = 86_400.0
YEAR = 365.25 * DAY
ZERO = 273.15


def fauna(steps: int = 1, attack: float = 0.0) -> pop.Fauna:
    """A springtail of three stages and a woodlouse of two, each stage ``steps`` classes."""
    count = 5 * steps

    def spread(values: list[float]) -> np.ndarray:
        return np.repeat(np.asarray(values, dtype=float), steps)

    stages = [8.5, 22.5, 100.0, 60.0, 300.0]
    carbon = np.concatenate(
        [
            np.full(steps, 1e-9),
            np.linspace(1e-9, 2e-8, steps + 1)[:-1] if steps > 1 else [1e-9],
            np.full(steps, 2e-8),
            np.linspace(2e-7, 6e-6, steps + 1)[:-1] if steps > 1 else [2e-7],
            np.full(steps, 6e-6),
        ]
    )
    return pop.Fauna(
        species=np.repeat([0, 0, 0, 1, 1], steps),
        carbon=carbon,
        advance=pop.stage_rates(np.asarray(stages) * DAY, [steps] * 5),
        births=spread([0, 0, 6.0, 0, 0.08]) / DAY,
        intake=spread([0, 4e-9, 4e-8, 2e-7, 9e-7]) / DAY,
        breath=spread([0, 2e-10, 2e-9, 8e-9, 5e-8]) / DAY,
        death=spread([0.02, 0.03, 0.008, 0.01, 0.003]) / DAY,
        attack=np.full(count, attack),
        low=np.array([8.0, 10.0]) + ZERO,
        optimum=np.array([21.0, 30.0]) + ZERO,
        high=np.array([28.0, 35.0]) + ZERO,
        reference=np.array([20.0, 20.0]) + ZERO,
        q10=np.array([2.0, 2.2]),
        moisture=np.array([[0.1, 0.4, 0.8, 0.1], [0.05, 0.3, 0.7, 0.0]]),
        drought=np.array([0.3, 0.05]) / DAY,
        ratio=np.array([5.0, 6.0]),
        assimilation=np.array([0.4, 0.3]),
        taste=np.array([[0.3, 1.0], [1.0, 0.6]]),
        crowding=np.array([0.0, 0.0]),
        choice=np.array([1.0, 1.0]),
        half_food=np.array([0.02, 0.1]),
    )


def ground(**changes) -> pop.Ground:
    return pop.Ground(
        litter_decay=1.25 / YEAR,
        waste_decay=6.0 / YEAR,
        humus_decay=0.3 / YEAR,
        urate_decay=0.1 / DAY,
        nitrification=0.1 / DAY,
        reference=25.0 + ZERO,
        q10=1.7,
        moisture=(0.05, 0.4, 0.8, 0.31),
        efficiency=1.0 / 3.0,
        humus_ratio=8.0,
        half_mineral=2e-4,
        uptake=2e-5 / DAY,
        half_uptake=1e-3,
        leaching=0.01 / DAY,
        volatilisation=0.003 / DAY,
    )._replace(**changes)


def conditions(**changes) -> pop.Conditions:
    return pop.Conditions(
        temperature=22.0 + ZERO, saturation=0.5, litter=(4e-4 / DAY, 8e-6 / DAY),
        waste=(1e-4 / DAY, 8e-6 / DAY), urate=1e-5 / DAY, predators=0.0, handling=20.0,
    )._replace(**changes)  # fmt: skip


def start(kinds: pop.Fauna, litter: float = 0.2, ratio: float = 50.0) -> np.ndarray:
    """Litter, a little dung, humus and mineral nitrogen; starter numbers of grown animals."""
    state = np.zeros(pop.ANIMALS + kinds.species.size)
    state[pop.LITTER : pop.LITTER + 2] = litter, litter / ratio
    state[pop.WASTE : pop.WASTE + 2] = 0.005, 0.0004
    state[pop.HUMUS : pop.HUMUS + 2] = 0.5, 0.5 / 8.0
    state[pop.URATE], state[pop.AMMONIUM], state[pop.NITRATE] = 1e-4, 5e-4, 1e-3
    for species, number in ((0, 1000.0), (1, 100.0)):
        state[pop.ANIMALS + np.flatnonzero(kinds.species == species)[-1]] = number
    return state
