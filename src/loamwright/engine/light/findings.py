"""Light held against what residents, plants and people need."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from loamwright.engine.findings import Cause, Finding, judge
from loamwright.engine.light.causes import causes_at
from loamwright.engine.light.people import people_finding
from loamwright.engine.light.record import LightStudy, basking_sites, retreat_sites
from loamwright.engine.light.values import (
    LightResult,
    brightest,
    by_lamp,
    spread_of,
)
from loamwright.habitat.catalogue import Species
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.needs import CLIMATE, Need
from loamwright.habitat.sources import PRACTICE, Source, SourceKind
from loamwright.physics import ferguson

RETREAT_UVI = 0.1
"""A retreat counts as free of ultraviolet up to this index, the last digit of a good meter
(common practice, no source)."""

COMPUTED = Source("computed by this program", SourceKind.CALCULATED)


def zone_source(species: Species) -> Source:
    """Source of a species' ultraviolet band: its zone's, and the zone table's."""
    own = species.source_of("ferguson_zone")
    text = f"zone {species.ferguson_zone}: {own.text}; band: {ferguson.SOURCE_TEXT}"
    # Both must hold, so the weaker kind of the two speaks for the band.
    table = Source("", SourceKind(ferguson.SOURCE_KIND))
    return Source(text, table.kind if table.weak else own.kind)


class _Check:
    """One pass over a habitat's needs of light."""

    def __init__(self, habitat: Habitat, study: LightStudy, result: LightResult) -> None:
        self.habitat, self.study, self.result = habitat, study, result
        self.out: list[Finding] = []
        self.used: set[int] = set()

    def own(
        self, quantity: str, about: Sequence[str], site: str = "", *, anywhere: bool = True
    ) -> Need | None:
        """The builder's own need that takes the place of a catalogue's, if there is one.

        ``about`` the names it may be about. A need that names no site counts only where
        ``anywhere`` says so: a band for the basking place must not become that of the retreat.
        """
        for number, need in enumerate(self.habitat.needs):
            if need.quantity != quantity or need.about not in ("", *about):
                continue
            if need.site == site or (anywhere and not need.site and need.about in about):
                self.used.add(number)
                return need
        return None

    def at_site(
        self,
        code: str,
        about: str,
        site: int,
        quantity: str,
        facing: str,
        band: tuple[float | None, float | None],
        source: Source,
        *,
        also: Sequence[str] = (),
        anywhere: bool = True,
    ) -> None:
        """Add the finding of one quantity at one site; ``also`` other names for ``about``."""
        place = self.habitat.sites[site]
        own = self.own(quantity, (about, *also), place.name, anywhere=anywhere)
        if own is not None:
            band, source, facing = (own.low, own.high), own.source, own.facing
        column = self.result.table[facing][quantity][:, site]
        value = float(column.sum())
        uncertainty = spread_of(self.habitat.lamps, column)
        state, margin = judge(value, *band, uncertainty)
        causes = causes_at(self.habitat, self.study, self.result, site, quantity, facing)
        if band == (None, None):
            causes = (Cause("no_number", quantity), *causes)
        self.out.append(
            Finding(
                need=code, engine="light", about=about, quantity=quantity, state=state,
                source=source, value=value, low=band[0], high=band[1], uncertainty=uncertainty,
                margin=margin, site=place.name, at=place.at, when="lamps on", facing=facing,
                causes=causes,
            )
        )  # fmt: skip

    def unknown(
        self, code: str, about: str, quantity: str, cause: Cause, source: Source = COMPUTED
    ) -> None:
        """Add a finding that cannot be judged."""
        state, _ = judge(None, None, None, 0.0)
        self.out.append(
            Finding(
                need=code, engine="light", about=about, quantity=quantity, state=state,
                source=source, causes=(cause,),
            )
        )  # fmt: skip

    # -- residents ---------------------------------------------------------------------------

    def resident(self, species: Species) -> None:
        """Ultraviolet where it basks, a retreat without, the way between, and the most it can meet."""
        key = species.key
        zone = ferguson.ZONES.get(species.ferguson_zone or 0)
        basking = basking_sites(self.habitat, key)
        for site in basking:
            band = zone.maximum if zone else (None, None)
            source = zone_source(species) if zone else COMPUTED
            self.at_site("uv-basking", key, site, "uvi", "brightest", band, source)
        if not basking:
            self.unknown("uv-basking", key, "uvi", Cause("no_site", "basking"))
        self.retreat(species)
        self.steepness(species)
        self.maximum(species, zone)

    def retreat(self, species: Species) -> None:
        """The best retreat must be free of ultraviolet; one is enough."""
        places = retreat_sites(self.habitat, species.key)
        if not places:
            self.unknown("uv-retreat", species.key, "uvi", Cause("no_site", "hide"))
            return
        best = min(places, key=lambda i: self.result.value(i, "uvi", "brightest"))
        self.at_site("uv-retreat", species.key, best, "uvi", "brightest",
                     (None, RETREAT_UVI), PRACTICE, anywhere=False)  # fmt: skip

    def steepness(self, species: Species) -> None:
        """How fast the index falls along the way from basking to retreat, per body length."""
        basking = basking_sites(self.habitat, species.key)
        for number, (start, end) in enumerate(self.study.way_ends):
            if int(start) not in basking:
                continue
            on_way = self.study.way_of == number
            points = self.study.way_points[on_way]
            light = self.study.way_light[:, on_way, 1:]
            values = by_lamp(self.habitat.lamps, light, "uvi")
            along = brightest(values).sum(axis=0)
            run = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
            start_name = self.habitat.sites[start].name
            way = f"{start_name} to {self.habitat.sites[end].name}"
            if species.body_length is None:
                self.unknown("uv-steepness", species.key, "uvi_step",
                             Cause("no_number", "body length"))  # fmt: skip
                continue
            shifted = np.interp(run + species.body_length, run, along)
            steps = np.abs(shifted - along)
            worst = int(steps.argmax())
            own = self.own("uvi_step", (species.key,))
            band = (own.low, own.high) if own else (None, None)
            value = float(steps[worst])
            spread = value * max((x.type.spread for x in self.habitat.lamps), default=0.0)
            state, margin = judge(value, *band, spread)
            causes = () if own else (Cause("no_number", "uvi_step"),)
            self.out.append(
                Finding(
                    need="uv-steepness", engine="light", about=species.key, quantity="uvi_step",
                    state=state, source=own.source if own else COMPUTED, value=value,
                    low=band[0], high=band[1], uncertainty=spread, margin=margin, site=way,
                    at=_vec(points[worst]), when="lamps on", facing="brightest", causes=causes,
                )
            )  # fmt: skip

    def maximum(self, species: Species, zone: ferguson.Zone | None) -> None:
        """The highest index on any surface or site the animal can sit on."""
        if zone is None:
            self.unknown("uv-maximum", species.key, "uvi", Cause("no_number", "Ferguson zone"))
            return
        study = self.study
        patches = by_lamp(self.habitat.lamps, study.patch_light, "uvi").sum(axis=0)
        reach = np.isin(study.patch_kind, REACHABLE)
        value, at, name = 0.0, None, ""
        column = np.zeros(len(self.habitat.lamps))
        if reach.any():
            row = int(np.where(reach, patches, -1.0).argmax())
            value, at = float(patches[row]), _vec(study.patch_centre[row])
            name = study.owners[study.patch_owner[row]]
            column = by_lamp(self.habitat.lamps, study.patch_light[:, row], "uvi")
        causes: tuple[Cause, ...] = ()
        for i, site in enumerate(self.habitat.sites):
            here = self.result.value(i, "uvi", "brightest")
            if here > value and site.role != "probe":
                value, at, name = here, site.at, site.name
                column = self.result.table["brightest"]["uvi"][:, i]
                causes = causes_at(self.habitat, study, self.result, i, "uvi", "brightest")
        if not causes and value > 0:
            top = int(column.argmax())
            causes = (
                Cause("lamp_share", self.habitat.lamps[top].name, float(column[top]) / value),
            )
        uncertainty = spread_of(self.habitat.lamps, column)
        high = zone.maximum[1]
        state, margin = judge(value, None, high, uncertainty)
        self.out.append(
            Finding(
                need="uv-maximum", engine="light", about=species.key, quantity="uvi",
                state=state, source=zone_source(species), value=value, high=high,
                uncertainty=uncertainty, margin=margin, site=name, at=at, when="lamps on",
                facing="brightest", causes=causes,
            )
        )  # fmt: skip

    # -- plants, lamps, own needs --------------------------------------------------------------

    def plants(self) -> None:
        """The daily light of each plant at its crown, else the least illuminance it lives with."""
        for i, site in enumerate(self.habitat.sites):
            plant = next((p for p in self.habitat.plants if p.name == site.plant), None)
            if plant is None or not site.plant:
                continue
            kind = plant.type
            # The upper figures of both are where growth is good, not where harm begins, so only
            # the lower ones are limits.
            names = (plant.name, kind.key)
            floor = kind.dli[0] is None and kind.lux[0] is not None
            quantity = "lux" if floor and not self.own("dli", names, site.name) else "dli"
            low = kind.lux[0] if quantity == "lux" else kind.dli[0]
            source = kind.source_of(quantity) if low is not None else COMPUTED
            self.at_site("plant-light", plant.name, i, quantity, "up", (low, None), source,
                         also=(kind.key,))  # fmt: skip

    def lamps(self) -> None:
        """Each lamp must stay further from anything an animal reaches than it is made for."""
        for k, lamp in enumerate(self.habitat.lamps):
            low = lamp.type.min_distance
            near = float(self.study.lamp_near[k])
            if not np.isfinite(near):
                continue
            number, owner = self.study.lamp_near_site[k], self.study.lamp_near_owner[k]
            site = self.habitat.sites[number].name if number >= 0 else self.study.owners[owner]
            source = lamp.type.source_of("min_distance") if low is not None else COMPUTED
            # A tape measure over mounts and branches is good to about a centimetre.
            state, margin = judge(near, low, None, 0.01)
            causes = (Cause("no_number", "least distance"),) if low is None else ()
            self.out.append(
                Finding(
                    need="lamp-distance", engine="light", about=lamp.name, quantity="distance",
                    state=state, source=source, value=near, low=low, uncertainty=0.01,
                    margin=margin, site=site, at=lamp.at, when="always", causes=causes,
                )
            )  # fmt: skip

    def own_needs(self) -> None:
        """The builder's needs that did not take the place of a catalogue's."""
        names = {s.name: i for i, s in enumerate(self.habitat.sites)}
        for number, need in enumerate(self.habitat.needs):
            if number in self.used or need.quantity == "exposure_time" or need.quantity in CLIMATE:
                continue
            table = self.result.table[need.facing]
            if need.site not in names or need.quantity not in table:
                self.unknown("own-need", need.about or "builder", need.quantity,
                             Cause("no_site", need.site), need.source)  # fmt: skip
                continue
            self.at_site("own-need", need.about or "builder", names[need.site], need.quantity,
                         need.facing, (need.low, need.high), need.source)  # fmt: skip


REACHABLE = (1, 2)
"""Kinds of patch an animal sits on for the highest index: ground and hardscape. Panels are left
out: right beside a lamp they are hotter in every way, and the lamp's distance speaks for them."""


def _vec(point: np.ndarray) -> Vec3:
    return (float(point[0]), float(point[1]), float(point[2]))


def light_findings(habitat: Habitat, study: LightStudy, result: LightResult) -> list[Finding]:
    """Every finding of the light engine, in no particular order."""
    check = _Check(habitat, study, result)
    for species in dict.fromkeys(g.species.key for g in habitat.animals):
        check.resident(next(g.species for g in habitat.animals if g.species.key == species))
    check.plants()
    check.lamps()
    check.own_needs()
    check.out.extend(people_finding(habitat, study))
    return check.out
