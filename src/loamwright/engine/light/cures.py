"""A change that would meet a missed need, computed and not guessed: the lamp that gives most is moved
along the line to the place, and the engine looks again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from loamwright.engine.findings import Cure, Finding, State
from loamwright.engine.light.directions import sphere
from loamwright.engine.light.model import Detail, LightModel
from loamwright.engine.light.record import WAYS
from loamwright.engine.light.values import lamp_worth
from loamwright.engine.lower import air_box, lower_scene
from loamwright.habitat.habitat import Habitat

CURABLE = ("uv-basking", "plant-light", "own-need")
QUANTITIES = ("uvi", "ppfd", "dli", "lux", "uva", "uvb")

STEPS = 24
"""Places tried along the line between lamp and site."""

STEP_OUT = 1.6
"""How much further away than now a lamp is tried, as a factor of its distance."""


def find_cures(habitat: Habitat, findings: Sequence[Finding]) -> list[Finding]:
    """The findings, with a cure on those where moving a single lamp would meet the need."""
    open_ones = [
        f
        for f in findings
        if f.state is State.MISSED and f.need in CURABLE and f.quantity in QUANTITIES and f.at
    ]
    if not open_ones or not habitat.lamps:
        return list(findings)
    model = LightModel(lower_scene(habitat), habitat.lamps, Detail())
    return [_cured(habitat, model, f) if f in open_ones else f for f in findings]


def _cured(habitat: Habitat, model: LightModel, finding: Finding) -> Finding:
    shares = [c for c in finding.causes if c.kind == "lamp_share"]
    if not shares or finding.at is None:
        return finding
    k = next(i for i, lamp in enumerate(habitat.lamps) if lamp.name == shares[0].subject)
    lamp = habitat.lamps[k]
    site = np.array(finding.at)
    normals = np.array([[0.0, 0.0, 1.0]]) if finding.facing == "up" else sphere(WAYS)
    light = model.sensors(site[None], normals, all_round=True)

    def value() -> float:
        total = np.zeros(len(normals))
        for j, one in enumerate(model.lamps):
            total += light.transport(j) @ lamp_worth(one, finding.quantity)
        return float(total.max())

    low = finding.low if finding.low is not None else 0.0
    high = finding.high if finding.high is not None else np.inf
    target = 1.25 * low if not np.isfinite(high) else low + 0.4 * (high - low)
    box_low, box_high = air_box(habitat)
    line = np.array(lamp.at) - site
    reach = float(np.linalg.norm(line))
    least = max(lamp.type.min_distance or 0.0, 0.05)
    best: tuple[float, float, tuple[float, float, float]] | None = None
    for factor in np.linspace(min(1.0, least / reach), STEP_OUT, STEPS):
        to = site + line * factor
        inside = bool(np.all(to > box_low + 0.02) and np.all(to < box_high - 0.02))
        if not inside or reach * factor < least:
            continue
        place = tuple(float(round(v, 2)) for v in to)
        at = (place[0], place[1], place[2])
        model.set_lamp(k, replace(lamp, at=at))
        got = value()
        if low <= got <= high and (best is None or abs(got - target) < abs(best[0] - target)):
            best = (got, float(factor), at)
    model.set_lamp(k, lamp)
    if best is None:
        return finding
    return replace(finding, cure=Cure("move", lamp.name, best[0], to=best[2]))
