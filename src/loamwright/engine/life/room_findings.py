"""Room and structure held against published standards and the catalogue."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.windows import middle_of_day
from loamwright.engine.findings import Cause, Finding, State, judge, worst_first
from loamwright.engine.ground.findings import HELD
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.life import places
from loamwright.engine.life.space import GROWN, NOW, Asked, Box, asked_of, by_species, usable
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Group
from loamwright.habitat.sites import Site
from loamwright.habitat.sources import PRACTICE, Source, SourceKind
from loamwright.physics.space_standards import Standard

Floats = NDArray[np.float64]

NONE_FOUND = Source("no published space standard was found for this species", SourceKind.CALCULATED)

AIR_SPREAD = 1.0
"""Standard uncertainty of the air in a shelter, computed [K]: see `engine.climate.findings`."""

ENGINE = "animals"

WHEN = {NOW: "as the group is", GROWN: "once all are as long as the longest known"}
"""How a finding says for which group it holds."""


def source_of(standard: Standard) -> Source:
    """A standard as the source of a need."""
    weak = standard.status in ("practice", "society") and standard.key != "uk-rspca-pogona"
    where = f"{standard.country}: " if standard.country else ""
    seen = "" if standard.seen == "own text" else "; figures as others restate them"
    kind = SourceKind.COMMON_PRACTICE if weak else SourceKind.PUBLISHED
    return Source(f"{where}{standard.title} ({standard.status}{seen})", kind)


def _length_causes(asked: Asked) -> list[Cause]:
    out = [Cause("animals_counted", "", float(asked.animals))]
    if asked.length is not None:
        kind = asked.length.source.kind.value
        out.append(Cause("length_of", f"{asked.standard.measure}|{kind}", asked.length.value))
    if asked.standard.caution:
        out.append(Cause("caution", asked.standard.caution))
    return out


def _held(
    asked: Asked, code: str, quantity: str, value: float, low: float, power: int,
    causes: Sequence[Cause] = (), *, spoken: bool = True,
) -> Finding:  # fmt: skip
    """One figure of a standard; ``spoken`` False where it is for fewer animals than there are."""
    spread = asked.spread(low, power)
    state, margin = judge(value, low, None, spread)
    why = [*causes, *_length_causes(asked)]
    if not spoken:
        why.insert(0, Cause("speaks_of", "", float(asked.spoken)))
        # Room enough for few says nothing of room for more.
        state = state if state is State.MISSED else State.NOT_KNOWN
    return Finding(
        need=code, engine=ENGINE, about=asked.species.key, quantity=quantity, state=state,
        source=source_of(asked.standard), value=value, low=low, uncertainty=spread, margin=margin,
        when=WHEN[asked.when], causes=tuple(why),
    )  # fmt: skip


def _unknown(
    code: str, about: str, quantity: str, cause: Cause, source: Source, when: str = ""
) -> Finding:
    return Finding(need=code, engine=ENGINE, about=about, quantity=quantity,
                   state=State.NOT_KNOWN, source=source, causes=(cause,), when=when)  # fmt: skip


def standard_findings(box: Box, asked: Asked) -> list[Finding]:
    """Floor, sides, height and pool of one standard."""
    space = asked.space
    if space is None:
        cause = Cause("no_length", asked.standard.measure)
        return [_unknown("space-floor", asked.species.key, "area", cause,
                         source_of(asked.standard), WHEN[asked.when])]  # fmt: skip
    out = []
    spoken = asked.spoken == asked.animals
    if space.floor is not None:
        out.append(_held(asked, "space-floor", "area", box.floor, space.floor,
                         2 if asked.length else 0, spoken=spoken))  # fmt: skip
    sides = [
        (have, low, name)
        for have, low, name in (
            (box.long, space.long, "long"), (box.short, space.short, "short"),
        )
        if low is not None
    ]  # fmt: skip
    if sides:
        have, low, name = min(sides, key=lambda s: s[0] / s[1])
        out.append(_held(asked, "space-sides", "length", have, low, 1 if asked.length else 0,
                         [Cause("side", name)]))  # fmt: skip
    if space.height is not None:
        out.append(_held(asked, "space-height", "length", box.height, space.height,
                         1 if asked.length else 0))  # fmt: skip
    if space.pool is not None:
        out.append(_held(asked, "space-pool", "area", box.pool, space.pool, 2, spoken=spoken))
    if space.pool_depth is not None:
        out.append(_held(asked, "pool-depth", "depth", box.pool_depth, space.pool_depth, 1))
    return out


def _pairs(asked: Sequence[Asked]) -> list[tuple[Asked, Asked | None]]:
    """What each standard asks now, with what it asks once grown where that differs."""
    later = {a.standard.key: a for a in asked if a.when == GROWN}
    return [(a, later.get(a.standard.key)) for a in asked if a.when == NOW]


def room_findings(
    habitat: Habitat, days: Mapping[str, ClimateRun], water: Sequence[Outlook]
) -> list[Finding]:
    """All findings of room and structure; ``days`` and ``water`` where they were computed."""
    out: list[Finding] = []
    box = usable(habitat)
    for groups in by_species(habitat):
        species = groups[0].species
        asked = asked_of(groups)
        for now, grown in _pairs(asked):
            found = standard_findings(box, now)
            states = {f.need: f.state for f in found}
            out += found
            if grown is not None:
                # The longer animals' figures are told where they change the answer.
                later = standard_findings(box, grown)
                out += [f for f in later if f.state is not states.get(f.need)]
        if not asked:
            cause = Cause("no_standard", species.family)
            out.append(_unknown("space-floor", species.key, "area", cause, NONE_FOUND))
        out += structure_findings(habitat, groups)
        out += _shelters(habitat, species, days)
        out += _laying_moist(habitat, species, water)
    return out


# -- structure -----------------------------------------------------------------------------------


def _count(
    code: str, species: Species, value: float, low: float | None, high: float | None = None,
    source: Source = PRACTICE, causes: tuple[Cause, ...] = (),
) -> Finding:  # fmt: skip
    state, margin = judge(value, low, high, 0.0)
    return Finding(need=code, engine=ENGINE, about=species.key, quantity="count", state=state,
                   source=source, value=value, low=low, high=high, uncertainty=0.0, margin=margin,
                   causes=causes)  # fmt: skip


def structure_findings(habitat: Habitat, groups: list[Group]) -> list[Finding]:
    """Places to rest, to hide, to lay and to drink, counted."""
    species = groups[0].species
    out = []
    if places.climbs(species):
        rests = places.rests(habitat, species)
        causes = tuple(Cause("place", s.name, places.above_ground(habitat, s)) for s in rests)
        out.append(_count("perches", species, float(len(rests)), 2.0, causes=causes))
    hides = places.for_species(habitat, species, places.SHELTERS)
    causes = tuple(Cause("place", s.name, places.above_ground(habitat, s)) for s in hides)
    out.append(_count("hides", species, float(len(hides)), 2.0, causes=causes))
    if places.lays(habitat, species):
        spots = places.laying(habitat, species)
        causes = (
            (Cause("lays_in", species.egg_site),) if species.egg_site else ()
        ) + (() if spots else (Cause("no_site", "laying"),))  # fmt: skip
        source = species.source_of("egg_site") if species.egg_site else PRACTICE
        out.append(_count("laying-places", species, float(len(spots)), 1.0, source=source,
                          causes=causes))  # fmt: skip
    mist = habitat.mist is not None and bool(habitat.mist.nozzles)
    causes = (Cause("drops"),) if mist else ()
    out.append(_count("water-places", species, float(len(habitat.water)), 1.0, causes=causes))
    return out


def _shelters(habitat: Habitat, species: Species, days: Mapping[str, ClimateRun]) -> list[Finding]:
    """A hide as warm as the cool end of the day's air it is kept at, and one no warmer than its warm
    end, in the middle of the day: shelter must not cost the one or the other."""
    shelters = places.for_species(habitat, species, places.SHELTERS)
    if not shelters or not days:
        return []
    out = []
    for code, field, pick in (
        ("hide-warm", "air_cool", np.argmax), ("hide-cool", "air_warm", np.argmin),
    ):  # fmt: skip
        limit: float | None = getattr(species, field)
        if limit is None:
            cause = Cause("no_number", field)
            out.append(_unknown(code, species.key, "air_temperature", cause, PRACTICE))
            continue
        found = []
        for run in days.values():
            means = midday_air(habitat, run, shelters)
            at = int(pick(means))
            value = float(means[at])
            low, high = (limit, None) if code == "hide-warm" else (None, limit)
            state, margin = judge(value, low, high, AIR_SPREAD, kelvin=True)
            found.append(
                Finding(need=code, engine=ENGINE, about=species.key, quantity="air_temperature",
                        state=state, source=species.source_of(field), value=value, low=low,
                        high=high, uncertainty=AIR_SPREAD, margin=margin, site=shelters[at].name,
                        at=shelters[at].at, when=f"{run.season} midday")
            )  # fmt: skip
        out.append(worst_first(found)[0])
    return out


def midday_air(habitat: Habitat, run: ClimateRun, sites: Sequence[Site]) -> Floats:
    """Mean air in the middle of the day at some sites [K], shape (sites,)."""
    rows = middle_of_day(habitat, run)
    return np.asarray(run.air[rows][:, [run.site(s.name) for s in sites]].mean(axis=0))


def _laying_moist(
    habitat: Habitat, species: Species, water: Sequence[Outlook]
) -> list[Finding]:  # fmt: skip
    """Moisture of the ground where eggs are buried, its driest day of the season that is worst."""
    if not places.lays(habitat, species) or not places.buries(species):
        return []
    dug = [x for x in places.laying(habitat, species) if x.depth > 0.0]
    if "moist" not in species.egg_site or not dug or not water:
        return []
    found = []
    for outlook in water:
        value, low = float(outlook.forecast.middle[1:].min()), outlook.setting.band[0]
        state, margin = judge(value, low, None, MOIST_SPREAD)
        found.append(
            Finding(need="laying-moist", engine=ENGINE, about=species.key,
                    quantity="water_content", state=state, source=HELD, value=value,
                    low=low, uncertainty=MOIST_SPREAD, margin=margin,
                    when=f"eight weeks from {outlook.season}",
                    causes=(Cause("lays_in", species.egg_site),))
        )  # fmt: skip
    return [min(found, key=lambda f: f.margin or 0.0)]


MOIST_SPREAD = 0.02
"""Standard uncertainty of a mix's water content that is watered as computed [1]."""
