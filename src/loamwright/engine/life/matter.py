"""The ground as decomposers find it: weather, litter, what falls, and how fast things decay."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.life.waste import CARBON, Eater
from loamwright.habitat.habitat import Habitat
from loamwright.physics import allometry, decay, growth, populations
from loamwright.physics.leaf_decay import LEAVES, RICH, LeafDecay

YEAR = 365.25 * 86_400.0
DAY = 86_400.0

LEAF_CARBON = 0.45
"""Carbon of dry leaves [1]; from memory."""

ANY_LEAF = LeafDecay(
    LEAVES["oak"].slow, LEAVES["tropical"].quick, 298.15, LEAVES["oak"].q10, 45.0,
    "broad leaves of LIDET (Harmon 2013), oak to a tropical evergreen, as the kind is not said",
)  # fmt: skip
"""Leaves whose kind the file does not say, or nobody has measured."""

TOP_UP_BELOW = 0.15
"""Dry litter at which new leaves are laid [kg/m2]: half of the least that is laid at planting; common
practice, no source."""

EFFICIENCY = 1.0 / 3.0
"""Share of decayed carbon that becomes humus; `decay.critical_ratio`, from memory."""

HUMUS_RATIO = 8.0
URATE_DECAY = 0.1 / DAY
HUMUS_DECAY = 0.1 / YEAR
DECAY_MOISTURE = (0.02, 0.30, 0.85, 0.31)
"""Points of `thermal_rates.moisture_factor` for decay; the last measured (Lam et al. 2021), the others
from memory."""

HALF_MINERAL = 5e-4
HALF_UPTAKE = 1e-3
FIRST_MINERAL = 1e-3
"""Mineral nitrogen at which microbes and roots find half of what they want, and what a new mix holds
[kg/m2]; from memory."""

PLANT_NITROGEN = 0.02
"""Nitrogen of what plants make [1], dry; 1.5 to 3 %, from memory."""

PER_JOULE = 1.93e-9 * 0.5
"""Dry mass that plants make of the light they take up [kg/J]: half of that of forage (Druille et al.
2020); that shade plants make half is from memory."""

EXTINCTION = 0.5
"""Of leaves at all angles, `growth.light_taken` [1]."""


@dataclass(frozen=True, slots=True)
class Weather:
    """``temperature`` of litter and upper ground, mean of a typical day [K], and ``saturation``, the
    share of its pores that water fills [1]: in winter and in summer."""

    temperature: tuple[float, float]
    saturation: tuple[float, float]

    def on(self, day: float) -> tuple[float, float]:
        """Temperature and saturation so many days after midwinter, on a cosine between the two."""
        w = 0.5 + 0.5 * math.cos(2.0 * math.pi * day / 365.0)
        (tw, ts), (sw, ss) = self.temperature, self.saturation
        return w * tw + (1.0 - w) * ts, w * sw + (1.0 - w) * ss


@dataclass(frozen=True, slots=True)
class Floor:
    """The floor and what lies on it: ``area`` [m2], dry ``litter`` [kg/m2] of a kind of ``leaf``
    (``told`` False where nobody says which, or it is not known), ``pore_water`` that the ground over
    its drainage holds when full [m3/m2], ``uptake`` of nitrogen by plants [kg/(m2 s)]."""

    area: float
    litter: float
    leaf: LeafDecay
    leaf_name: str
    told: bool
    pore_water: float
    uptake: float


def weather_of(days: Mapping[str, ClimateRun], outlooks: Mapping[str, Outlook]) -> Weather:
    """The ground's weather from the climate's typical days and the ground's outlooks by season."""
    warmth, wet = [], []
    for season in ("winter", "summer"):
        run = days[season]
        mine = np.array(run.surface_owner, str) == "ground"
        share = run.surface_area[mine] / run.surface_area[mine].sum()
        warmth.append(float((run.surfaces[:, mine] @ share)[:-1].mean()))
        found = outlooks[season].forecast.saturation
        wet.append(float(found[len(found) // 2 :].mean()))
    return Weather((warmth[0], warmth[1]), (wet[0], wet[1]))


def floor_of(habitat: Habitat, area: float, outlook: Outlook | None,
             light: Mapping[str, float]) -> Floor:  # fmt: skip
    """The floor of a habitat; ``light`` at the plants' crowns by their names [mol/(m2 d)]."""
    litter, leaf = 0.0, ""
    for layer in habitat.ground.layers:
        if layer.kind == "leaf-litter":
            litter += layer.depth * (layer.medium.dry_density if layer.medium else 40.0)
            leaf = layer.leaf or leaf
    water = 0.0
    if outlook is not None:
        column = outlook.setting.column
        above = column.part_of(outlook.setting.drainage, column.depth)
        water = float((column.pores() * above) @ column.size)
    kind = LEAVES.get(leaf, ANY_LEAF)
    return Floor(area, litter, kind, leaf, leaf in LEAVES, water, _uptake(habitat, area, light))


def made_by_plants(habitat: Habitat, area: float, light: Mapping[str, float]) -> float:
    """Dry mass that plants rooted in the ground make at the light of their crowns [kg/(m2 s)]."""
    from loamwright.engine.ground.weather import in_ground

    efficiency = growth.efficiency_per_photon(PER_JOULE, growth.DAYLIGHT_PHOTONS)
    made = 0.0
    for plant in habitat.plants:
        rootless = plant.type.form in ("moss", "liverwort") or "epiphyte" in plant.type.form
        if plant.name not in light or rootless or not in_ground(habitat, plant):
            continue
        taken = growth.light_taken(plant.type.leaf_area_index, EXTINCTION)
        crown = math.pi / 4.0 * plant.spread**2
        made += crown / area * growth.dry_growth(light[plant.name], taken, efficiency) / DAY
    return made


def _uptake(habitat: Habitat, area: float, light: Mapping[str, float]) -> float:
    return PLANT_NITROGEN * made_by_plants(habitat, area, light)


def ground_of(floor: Floor, way: float = 0.0) -> populations.Ground:
    """How the ground works; ``way`` -1 the slowest litter told of its kind, 1 the quickest."""
    leaf = floor.leaf
    reference = leaf.temperature
    rich = RICH.slow * leaf.q10 ** (0.1 * (reference - RICH.temperature))
    return populations.Ground(
        litter_decay=leaf.slow * (leaf.quick / leaf.slow) ** (0.5 + 0.5 * way),
        waste_decay=rich,
        humus_decay=HUMUS_DECAY,
        urate_decay=URATE_DECAY,
        nitrification=decay.nitrification_constant(reference),
        reference=reference,
        q10=leaf.q10,
        moisture=DECAY_MOISTURE,
        efficiency=EFFICIENCY,
        humus_ratio=HUMUS_RATIO,
        half_mineral=HALF_MINERAL,
        uptake=floor.uptake,
        half_uptake=HALF_UPTAKE,
        leaching=0.0,
        volatilisation=0.0,
    )


def falls(eaters: tuple[Eater, ...], area: float, share: float) -> tuple[float, float, float]:
    """Carbon and nitrogen of dung, and nitrogen of urates, a share of the residents' [kg/(m2 s)]."""
    dung = sum(e.dung for e in eaters) * CARBON
    nitrogen = sum(e.dung_nitrogen for e in eaters)
    urates = sum(e.urates for e in eaters)
    return share * dung / area, share * nitrogen / area, share * urates / area


def dry_waste(eaters: tuple[Eater, ...]) -> float:
    """Dry dung and urates of all residents [kg/s]."""
    urates = sum(e.urates for e in eaters)
    return sum(e.dung for e in eaters) + allometry.uric_acid(urates)
