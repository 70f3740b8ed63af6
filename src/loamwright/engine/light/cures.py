"""A change that would meet a missed need, computed and not guessed: the lamp that gives most is moved,
level or along the line to the place, and the engine looks again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.findings import Cure, Finding, State
from loamwright.engine.lamp_bodies import body_of, nearest_of
from loamwright.engine.light.directions import sphere
from loamwright.engine.light.inside import inside_solid
from loamwright.engine.light.model import Detail, LightModel
from loamwright.engine.light.record import WAYS
from loamwright.engine.light.values import ENGINE_SPREAD, lamp_worth
from loamwright.engine.lower import air_box, lower_scene
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]

CURABLE = ("uv-basking", "plant-light", "own-need")
QUANTITIES = ("uvi", "ppfd", "dli", "lux", "uva", "uvb")

STEPS = 12
"""Places tried on each of the two ways a lamp is moved."""

STEP_OUT = 1.6
"""How much further away than now a lamp is tried, as a factor of its distance."""

SPARE = 0.04
"""How far beyond its own uncertainty a cure must clear the limits, as a share of the value, so that
the next check calls it met and not close."""


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

    clear = float(np.hypot(lamp.type.spread, ENGINE_SPREAD)) + SPARE
    low = (finding.low or 0.0) / (1 - clear)
    high = finding.high / (1 + clear) if finding.high is not None else np.inf
    least = max(lamp.type.min_distance or 0.0, 0.05)
    cure: Cure | None = None
    # The smallest move that does it is the one a person would rather make.
    for to in sorted(_places(lamp, site), key=lambda p: float(np.linalg.norm(p - lamp.at))):
        place = tuple(round(float(v), 2) for v in to)
        at = (place[0], place[1], place[2])
        if np.linalg.norm(np.array(at) - site) < least or not _fits(habitat, model, lamp, at):
            continue
        model.set_lamp(k, replace(lamp, at=at))
        got = value()
        if low <= got <= high:
            cure = Cure("move", lamp.name, got, to=at)
            break
    model.set_lamp(k, lamp)
    return replace(finding, cure=cure)


def _places(lamp: Lamp, site: Floats) -> list[Floats]:
    """Places to try: at the same height toward the site, then along the line to it and back."""
    here = np.array(lamp.at)
    level = np.array([site[0] - here[0], site[1] - here[1], 0.0])
    line = here - site
    return [here + level * t for t in np.linspace(1 / STEPS, 1.0, STEPS)] + [
        site + line * t for t in np.linspace(0.2, STEP_OUT, STEPS)
    ]


def _fits(habitat: Habitat, model: LightModel, lamp: Lamp, at: Vec3) -> bool:
    """Whether the lamp's whole body has room there, and can be carried: over the top if it lies there
    now, and over the same opening, else inside the air and outside every solid; in no other lamp's
    place."""
    half = max(lamp.type.length, lamp.type.diameter, 0.04) / 2
    middle, along = np.array(at), np.array(lamp.along)
    body = middle + np.outer(np.linspace(-half, half, 9), along)
    width, depth, height = habitat.enclosure.inside
    if not (np.all(body[:, :2] > 0.0) and np.all(body[:, :2] < [width, depth])):
        return False
    if not _has_room(habitat, lamp, at):
        return False
    if lamp.at[2] > height:
        return bool(at[2] > height) and _opening(habitat, lamp.at) == _opening(habitat, at)
    low, high = air_box(habitat)
    inside = bool(np.all(body > low + 0.01) and np.all(body < high - 0.01))
    return inside and not inside_solid(model, body).any()


def _has_room(habitat: Habitat, lamp: Lamp, at: Vec3) -> bool:
    """Whether its body is clear of panels and other lamps at a place, or no nearer than it is now."""
    others = [(x.name, body_of(x)) for x in habitat.lamps if x.name != lamp.name]
    moved = replace(lamp, at=at)
    now = nearest_of(habitat, lamp, body_of(lamp), others)[0]
    return nearest_of(habitat, moved, body_of(moved), others)[0] >= min(now, 0.0) - 1e-9


def _opening(habitat: Habitat, at: Vec3) -> str:
    """The opening of the top that a place lies over, empty where there is none."""
    holes = (o for o in habitat.enclosure.openings if o.side == "top")
    return next((o.name for o in holes if o.spans(at[:2])), "")
