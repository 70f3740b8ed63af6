"""Plants held against the room, the light to come, who eats of them, and what they hold on to."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise

from loamwright.engine.findings import Cause, Finding, State, held_against
from loamwright.engine.ground.weather import in_ground
from loamwright.engine.life.plants_year import (
    DAY,
    DAYS,
    NOT_UPWARD,
    Planting,
    latest_planted,
    least_light,
    lit_time,
)
from loamwright.engine.life.waste import GRAZERS
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.planting import Plant
from loamwright.habitat.sources import Source, SourceKind

LEAST_INTERVAL = 56.0
"""Days between two prunings that anyone keeps up [d]; common practice."""

HELD_DOWN = {"tree": 3.0, "tree-shrub": 3.0, "shrub": 3.0}
"""How many times its room a plant's stature may be, by form: woody plants are kept small by pruning,
others by nothing; common practice."""

STATURE_SPREAD = 0.25
LIGHT_SPREAD = 0.25
"""Relative standard uncertainties of a stature, from memory, and of light under crowns a year on."""

SETTLE = {
    "tree": 84.0, "tree-shrub": 84.0, "palm": 84.0, "shrub": 56.0, "moss": 28.0, "liverwort": 28.0,
}  # fmt: skip
OTHERS_SETTLE = 42.0
"""Days from planting until a plant bears animals, by form [d]: 8 to 12 weeks for rooted trees, 4 to 8
for others; common practice."""

MOST_WAIT = 84.0

GRIP = (
    "hardwood", "softwood", "bamboo", "bark", "cork", "cork-tile", "coated-pu-foam",
    "clay-background", "lava-rock", "sandstone", "limestone", "terracotta", "concrete",
    "coir-mat", "moss",
)  # fmt: skip
SMOOTH = (
    "float-glass", "toughened-glass", "acrylic", "uv-acrylic", "polycarbonate", "pvc-foam-board",
    "black-pvc-foam-board", "melamine-board", "aluminium", "stainless-steel", "galvanised-steel",
    "black-plastic", "hdpe", "ceramic", "slate", "granite",
)  # fmt: skip
"""Materials that epiphytes hold on to, and that they do not; common practice."""

NEEDS_AIR = ("epiphyte", "atmospheric epiphyte")
"""Forms that rot in the ground; other epiphytes bear an airy one. Common practice."""

NEAR = 0.05
"""Distance from a background within which a plant is taken to be fixed to it [m]."""

STATURE = Source("a woody plant can be kept at a third of its stature",
                 SourceKind.COMMON_PRACTICE)  # fmt: skip
PRUNING = Source("no oftener than every eight weeks", SourceKind.COMMON_PRACTICE)
SETTLED = Source("animals at the latest 12 weeks after planting",
                 SourceKind.COMMON_PRACTICE)  # fmt: skip
HOLDING = Source("rough and porous holds roots, smooth does not",
                 SourceKind.COMMON_PRACTICE)  # fmt: skip
BITES = Source(
    "who grazes is told by genus, from memory; lists of poisonous plants are made for mammals",
    SourceKind.FROM_MEMORY,
)


def plant_findings(habitat: Habitat, planting: Planting) -> list[Finding]:
    """All findings of the living plants; their light, air and roots of today are other engines'."""
    out: list[Finding] = []
    for plant in habitat.plants:
        out.append(_toxic(habitat, plant))
        if not plant.type.form.startswith("climb"):  # along what it climbs, to any length
            out.append(_stature(planting, plant))
        if plant.type.form not in NOT_UPWARD:
            out.append(_pruning(planting, plant))
        out += _grown_light(habitat, planting, plant)
        if "epiphyte" in plant.type.form:
            out.append(_hold(habitat, plant))
    if habitat.plants:
        out.append(_settle(habitat))
    return out


_made = partial(held_against, "plants")


def _unknown(need: str, about: str, quantity: str, source: Source, *causes: Cause) -> Finding:
    return Finding(need=need, engine="plants", about=about, quantity=quantity,
                   state=State.NOT_KNOWN, source=source, causes=causes)  # fmt: skip


def _stature(planting: Planting, plant: Plant) -> Finding:
    grown = plant.type.mature_height
    if grown is None or plant.name not in planting.middle:
        return _unknown("plant-stature", plant.name, "height", STATURE,
                        Cause("no_number", "mature_height"))  # fmt: skip
    room = planting.middle[plant.name].room
    most = room * HELD_DOWN.get(plant.type.form, 1.0)
    causes = (Cause("room_over", plant.name, room),)
    return _made("plant-stature", plant.name, "height", grown, (None, most),
                 STATURE_SPREAD * grown, STATURE, "", causes)  # fmt: skip


def _pruning(planting: Planting, plant: Plant) -> Finding:
    if plant.name in planting.unknown:
        return _unknown("plant-prune", plant.name, "time", PRUNING,
                        Cause("no_number", planting.unknown[plant.name]))  # fmt: skip
    slow, middle, quick = (_between(year[plant.name].pruned) for year in planting.years)
    causes = [Cause("room_over", plant.name, planting.middle[plant.name].room)]
    first = planting.middle[plant.name].pruned
    causes.insert(0, Cause("first_pruned", plant.name, first[0] * DAY) if first
                  else Cause("never_pruned", plant.name))  # fmt: skip
    spread = (middle - quick if middle >= LEAST_INTERVAL else slow - middle) * DAY
    return _made("plant-prune", plant.name, "time", middle * DAY, (LEAST_INTERVAL * DAY, None),
                 spread, PRUNING, "over a year", tuple(causes))  # fmt: skip


def _between(pruned: Sequence[int]) -> float:
    """Days from one pruning to the next, or to the first; a year where there is none."""
    gaps = [b - a for a, b in pairwise(pruned)]
    return float(min(gaps)) if gaps else float(pruned[0] or 1) if pruned else float(DAYS)


def _grown_light(habitat: Habitat, planting: Planting, plant: Plant) -> list[Finding]:
    """The light of the year's last month, the plants over it grown; only where today's is known."""
    low = least_light(plant.type, lit_time(habitat, "middle"))
    year = planting.middle.get(plant.name)
    if year is None or low is None:
        return []
    ends = [float(y[plant.name].light[-30:].mean()) for y in planting.years]
    causes = [Cause("crown_keeps", name, kept) for name, kept in year.shaded[:3]]
    causes.insert(0, Cause("light_today", plant.name, planting.light[plant.name]))
    # Where it is too dark today, or a year changes nothing, it is no finding of its own.
    if not year.shaded or planting.light[plant.name] < low:
        return []
    field = "dli" if plant.type.dli[0] is not None else "lux"
    spread = max(LIGHT_SPREAD * ends[1], 0.5 * (max(ends) - min(ends)))
    return [_made("plant-light-grown", plant.name, "dli", ends[1], (low, None), spread,
                  plant.type.source_of(field), "a year after planting", tuple(causes))]  # fmt: skip


def grazers(habitat: Habitat) -> list[str]:
    """Keys of the residents that bite into plants."""
    return [g.species.key for g in habitat.animals if g.species.latin.split()[0] in GRAZERS]


def _toxic(habitat: Habitat, plant: Plant) -> Finding:
    biting = grazers(habitat)
    told = plant.type.toxicity
    if not told and biting:
        return _unknown("plant-toxic", plant.name, "grazers", BITES, Cause("no_number", "toxicity"))
    harmful = bool(told) and not told.lower().startswith("non-toxic")
    causes = [Cause("toxic_as", told)] if harmful else []
    causes += [Cause("grazes", key) for key in biting] if harmful else []
    source = plant.type.source_of("toxicity") if told else BITES
    return _made("plant-toxic", plant.name, "grazers", float(len(biting)) if harmful else 0.0,
                 (None, 0.0), 0.0, source, "", tuple(causes))  # fmt: skip


def _support(habitat: Habitat, plant: Plant) -> tuple[str, str]:
    """What a plant is fixed to: its name and the key of its material; empty where there is nothing."""
    for piece in habitat.hardscape:
        if piece.name == plant.on:
            return piece.name, piece.material.key
    left, right, front, back = habitat.enclosure.floor
    x, y, _ = plant.foot
    gaps = {"left": x - left, "right": right - x, "front": y - front, "back": back - y}
    side = min(gaps, key=lambda s: gaps[s])
    if gaps[side] > NEAR:
        return "", ""
    for lining in habitat.enclosure.linings:
        if lining.side == side:
            return lining.name, lining.material.key
    panel = habitat.enclosure.panel(side)
    return side, panel.material.key


def _hold(habitat: Habitat, plant: Plant) -> Finding:
    if not plant.on and in_ground(habitat, plant):
        bears = plant.type.form not in NEEDS_AIR
        return _made("plant-hold", plant.name, "supports", float(bears), (1.0, None), 0.0, HOLDING,
                     "", (Cause("in_the_ground", plant.name),))  # fmt: skip
    name, material = _support(habitat, plant)
    if not name:
        return _made("plant-hold", plant.name, "supports", 0.0, (1.0, None), 0.0, HOLDING, "",
                     (Cause("hangs_free", plant.name),))  # fmt: skip
    if material not in GRIP and material not in SMOOTH:
        return _unknown("plant-hold", plant.name, "supports", HOLDING,
                        Cause("grip_unknown", material.replace("-", " ")))  # fmt: skip
    return _made("plant-hold", plant.name, "supports", float(material in GRIP), (1.0, None), 0.0,
                 HOLDING, "", (Cause("held_by", name), Cause("made_of", material)))  # fmt: skip


def settle_days(plant: Plant, latest: int | None = None) -> float:
    """Days until a plant bears animals, from its planting on, or from the ``latest`` planting of all
    (a number in the calendar) where the file says when each was or will be planted [d]."""
    days = SETTLE.get(plant.type.form, OTHERS_SETTLE)
    if latest is None or plant.planted is None:
        return days
    return max(days - (latest - plant.planted), 0.0)


def _settle(habitat: Habitat) -> Finding:
    latest = latest_planted(habitat.plants)
    longest = max(habitat.plants, key=lambda p: settle_days(p, latest))
    return _made("plants-settled", "habitat", "time", settle_days(longest, latest) * DAY,
                 (None, MOST_WAIT * DAY), 0.0, SETTLED, "",
                 (Cause("slowest_to_root", longest.name),))  # fmt: skip
