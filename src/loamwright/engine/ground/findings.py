"""The ground held against what roots, residents and the stand need."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from loamwright.engine.findings import Cause, Finding, State, held_against
from loamwright.engine.ground.buried import buried_finding
from loamwright.engine.ground.inspection import inspect
from loamwright.engine.ground.outlook import HOLIDAY, Outlook
from loamwright.engine.ground.quantities import Quantities
from loamwright.engine.ground.study import DAY, LEAST_AIR, litres
from loamwright.engine.ground.weather import in_ground
from loamwright.habitat.ground import DRAINING, Ground
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import PRACTICE, Source, SourceKind

HELD = Source(
    "water held at 1 to 10 kPa is easily taken up, with a tenth of air at least: De Boodt and "
    "Verdonck 1972, Acta Horticulturae 26:37",
    SourceKind.FROM_MEMORY,
)
RATED = Source("the load the stand is rated for, in the habitat file", SourceKind.BUILDER)
GEOMETRY = Source(
    "what drains must not stand in the ground above the drainage layer; common practice",
    SourceKind.COMMON_PRACTICE,
)

TOP_AIR = 0.15
"""Air that the top of the ground should hold [1]: it is springy and lets what lives there breathe;
common practice, no source."""

MOST_SATURATED = 2 * DAY
"""How long the ground may hold less air than roots need, after a watering [s]; common practice."""

NEED_SPREAD = 0.25
"""How surely a depth is known that roots or eggs need, as a share of it [1]: these are from memory
and common practice, and one plant of a kind roots half as deep again as another."""

CONTENT_SPREAD = 0.05
"""Standard uncertainty of a mix's water content [1], see `engine.ground.blend`."""


def ground_findings(
    habitat: Habitat, amount: Quantities, outlooks: Sequence[Outlook]
) -> list[Finding]:
    """All findings of the ground, the worst season of each."""
    out = [*_depths(habitat), *_old_ground(habitat, amount), _load(amount)]
    buried = buried_finding(habitat)
    if buried is not None:
        out.append(buried)
    for make in (_moist, _top, _air, _saturated, _standing, _stuck, _holiday):
        found = [f for f in (make(o) for o in outlooks) if f is not None]
        if found:
            out.append(min(found, key=_standing_of))
    return out


def _standing_of(finding: Finding) -> tuple[int, float]:
    order = {State.MISSED: 0, State.CLOSE: 1, State.NOT_KNOWN: 2, State.MET: 3}
    return order[finding.state], finding.margin or 0.0


_finding = partial(held_against, "ground")


# -- depth, old ground, load ---------------------------------------------------------------------


def loose_depth(ground: Ground, x: float, y: float) -> float:
    """Depth of what roots and eggs can go into at a place: litter and drainage left out [m]."""
    depth = 0.0
    for layer in reversed(ground.layers):
        if layer.kind in DRAINING:
            break
        depth += 0.0 if layer.kind == "leaf-litter" else layer.depth_at(x, y)
    return depth


def _depths(habitat: Habitat) -> list[Finding]:
    """Room for roots, and for eggs that are buried."""
    out = []
    surface = habitat.ground.depth
    for plant in habitat.plants:
        wanted = plant.type.rooting_depth
        if wanted is None or not in_ground(habitat, plant):
            continue
        depth = loose_depth(habitat.ground, plant.foot[0], plant.foot[1])
        if plant.type.form in ("moss", "liverwort") or "epiphyte" in plant.type.form:
            continue
        out.append(
            _finding("root-depth", plant.name, "depth", depth, (wanted, None),
                     NEED_SPREAD * wanted,
                     plant.type.source_of("rooting_depth"))
        )  # fmt: skip
    laying = [
        s
        for s in habitat.sites
        if s.role == "laying"
        and min(abs(s.at[2] - z) for z in (surface, habitat.ground.surface_at(*s.at[:2]))) < 0.02
    ]
    for group in habitat.animals:
        long = group.species.body_length
        mine = [s for s in laying if not s.species or group.species.key in s.species]
        if not mine or long is None or group.species.animal_class.lower().startswith("amphib"):
            continue
        depth = max(loose_depth(habitat.ground, s.at[0], s.at[1]) for s in mine)
        out.append(
            _finding("laying-depth", group.species.key, "depth", depth, (long, None),
                     NEED_SPREAD * long, PRACTICE)
        )  # fmt: skip
    return out


def _old_ground(habitat: Habitat, amount: Quantities) -> list[Finding]:
    """Each old ground that goes in, by how much of a layer it makes up."""
    out = []
    for old in habitat.existing:
        shares = [
            share for x in habitat.ground.layers for name, share in x.reuse if name == old.name
        ]
        if not shares:
            continue
        sheet = inspect(old)
        worst = sheet.worst
        causes = [Cause(f"old_{sheet.verdict}", old.name)]
        if worst is not None:
            causes.append(Cause("old_sign", f"{worst.asked}: {worst.said}"))
        out.append(
            _finding("old-ground", "habitat", "reuse_share", max(shares), (None, sheet.share),
                     0.0, worst.source if worst else PRACTICE, causes=tuple(causes))
        )  # fmt: skip
    return out


def _load(amount: Quantities) -> Finding:
    load = amount.load
    total = load.flooded
    causes = [Cause("load_of", what, mass) for what, mass in load.parts]
    if load.rated is None:
        causes = [Cause("no_rating"), *causes]
    causes += [Cause("no_density", name) for name in load.unknown]
    return _finding("load", "habitat", "load", total, (None, load.rated), 0.1 * total, RATED,
                    "ground flooded", tuple(causes))  # fmt: skip


# -- water ---------------------------------------------------------------------------------------


def _when(outlook: Outlook) -> str:
    weeks = round(float(outlook.forecast.days[-1]) / 7.0)
    return f"{weeks} weeks from {outlook.season}"


def _by_hand(outlook: Outlook) -> tuple[Cause, ...]:
    """How it is watered, as causes."""
    done, setting = outlook.forecast.watering, outlook.setting
    out = [Cause("mist_lands", "", litres(_landed(outlook), setting))]
    if done.days:
        out.append(Cause("by_hand", str(done.days), litres(done.amount, setting)))
    most = outlook.plan.mist_most
    if most is not None:
        out.append(Cause("less_mist", "", most))
    return tuple(out)


def _landed(outlook: Outlook) -> float:
    """Mist that lands on the ground in a day of the season's [m]."""
    setting = outlook.setting
    return (setting.winter if outlook.season == "winter" else setting.summer).landed


def _moist(outlook: Outlook) -> Finding:
    return _finding(
        "ground-moist", "habitat", "water_content", outlook.worst_water, outlook.setting.band,
        CONTENT_SPREAD * (0.3 if outlook.forecast.watering.days else 1.0), HELD, _when(outlook),
        _by_hand(outlook),
    )  # fmt: skip


def _top(outlook: Outlook) -> Finding:
    value = float(outlook.forecast.top[1:].min())
    return _finding("ground-top", "habitat", "air_filled_porosity", value, (TOP_AIR, None),
                    CONTENT_SPREAD, PRACTICE, _when(outlook), _by_hand(outlook))  # fmt: skip


def _air(outlook: Outlook) -> Finding:
    value = float(outlook.forecast.air[1:].min())
    return _finding("ground-air", "habitat", "air_filled_porosity", value, (LEAST_AIR, None),
                    CONTENT_SPREAD, HELD, _when(outlook), _by_hand(outlook))  # fmt: skip


def _saturated(outlook: Outlook) -> Finding:
    days = float((outlook.forecast.air[1:] < LEAST_AIR).sum())
    return _finding("ground-drowned", "habitat", "time", days * DAY, (None, MOST_SATURATED),
                    0.5 * DAY, PRACTICE, _when(outlook), _by_hand(outlook))  # fmt: skip


def _standing(outlook: Outlook) -> Finding:
    value = float(outlook.forecast.run.standing.max())
    causes = list(_by_hand(outlook))
    due = outlook.draw_off()
    if due is not None:
        causes.insert(0, Cause("draw_off", "", due * DAY))
    return _finding("standing-water", "habitat", "standing_water", value,
                    (None, outlook.setting.brim), 0.2 * value, GEOMETRY, _when(outlook),
                    tuple(causes))  # fmt: skip


def _stuck(outlook: Outlook) -> Finding | None:
    if outlook.stuck is None:
        return None
    value = float(outlook.stuck.run.standing.max())
    landing = outlook.landing
    causes = [Cause("stuck_mist", "", landing.sprayed)] if landing else []
    if landing:
        causes.append(Cause("stuck_lands", "", litres(landing.depth, outlook.setting)))
    return _finding("stuck-mist", "habitat", "standing_water", value,
                    (None, outlook.setting.brim), 0.3 * value, GEOMETRY,
                    f"two days with the pump stuck on, after {_when(outlook)}",
                    tuple(causes))  # fmt: skip


def _holiday(outlook: Outlook) -> Finding:
    days = outlook.dries
    # Ground that lasts longer than it was followed lasts at least so long.
    value = DAY * (float(outlook.without.days[-1]) if days is None else days)
    spread = 0.25 * value
    return _finding("holiday", "habitat", "time", value, (HOLIDAY * DAY, None), spread, PRACTICE,
                    f"no water from the end of {_when(outlook)}")  # fmt: skip
