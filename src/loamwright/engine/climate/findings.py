"""The climate of typical days held against what residents, plants and people need."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.housekeeping import housekeeping
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.windows import (
    LIVED,
    SHELTER,
    Rows,
    cooled,
    day,
    middle_of_day,
    night,
    sites_for,
)
from loamwright.engine.findings import Cause, Finding, State, judge
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.needs import CLIMATE, Need
from loamwright.habitat.sources import Source, SourceKind

Floats = NDArray[np.float64]
Band = tuple[float | None, float | None]

COMPUTED = Source("computed by this program", SourceKind.CALCULATED)

ENGINE_AIR, ENGINE_SURFACE, ENGINE_HUMIDITY = 0.5, 1.0, 0.05
"""Standard uncertainty of the engine itself: air [K], surfaces and bodies [K], humidity [1]. From
memory: zonal models of rooms come within half a kelvin to a kelvin of measured air."""

RISE_SPREAD = 0.15
"""Relative standard uncertainty of how far air stands over the room: lamp outputs, panels, leaks."""


class Climate:
    """One pass over the needs of a habitat, the worst season speaking for each."""

    def __init__(self, habitat: Habitat, built: Built, runs: Mapping[str, ClimateRun]) -> None:
        self.habitat, self.built, self.runs = habitat, built, runs
        self.out: list[Finding] = []
        self.used: set[int] = set()

    # -- values and their spread -----------------------------------------------------------------

    def air_spread(self, run: ClimateRun, rows: Rows, air: float) -> float:
        """Standard uncertainty of an air temperature [K]."""
        return float(np.hypot(RISE_SPREAD * (air - float(run.room[rows].mean())), ENGINE_AIR))

    def lit_spread(self, run: ClimateRun, rows: Rows, site: int, value: float) -> float:
        """Standard uncertainty of a surface or body under lamps [K]: each lamp's own spread of what
        it adds over the air, the air's, and the engine's."""
        air = float(run.air[rows, site].mean())
        added = self.built.net.site_lit[site] * run.lamps[rows].mean(axis=0)
        total = float(added.sum())
        spreads = np.array([lamp.type.spread for lamp in self.habitat.lamps])
        share = float(np.sqrt(((spreads * added) ** 2).sum())) / total if total > 0.0 else 0.0
        return float(np.sqrt(
            (share * (value - air)) ** 2 + self.air_spread(run, rows, air) ** 2
            + ENGINE_SURFACE**2
        ))  # fmt: skip

    def own(self, quantity: str, about: str, site: str) -> Need | None:
        """The builder's own need in place of a catalogue's."""
        for number, need in enumerate(self.habitat.needs):
            if need.quantity != quantity or need.about not in ("", about):
                continue
            if need.site == site or (not need.site and need.about == about):
                self.used.add(number)
                return need
        return None

    def worst(self, candidates: Sequence[Finding]) -> None:
        """Keep the finding of the season that stands worst."""
        if candidates:
            order = {State.MISSED: 0, State.CLOSE: 1, State.NOT_KNOWN: 3, State.MET: 2}
            self.out.append(min(candidates, key=lambda f: (order[f.state], f.margin or 0.0)))

    def finding(
        self, code: str, about: str, quantity: str, value: float, band: Band, spread: float,
        source: Source, when: str, *, site: int | None = None, where: str = "",
        causes: tuple[Cause, ...] = (),
    ) -> Finding:  # fmt: skip
        """One finding, the builder's own band in place of the catalogue's where there is one."""
        place = self.habitat.sites[site] if site is not None else None
        own = self.own(quantity, about, place.name if place else "")
        if own is not None:
            band, source = (own.low, own.high), own.source
        if band == (None, None):
            causes = (Cause("no_number", code), *causes)
        state, margin = judge(value, *band, spread, kelvin=quantity.endswith("temperature"))
        return Finding(
            need=code, engine="climate", about=about, quantity=quantity, state=state, source=source,
            value=value, low=band[0], high=band[1], uncertainty=spread, margin=margin,
            site=place.name if place else where, at=place.at if place else None, when=when,
            causes=causes,
        )  # fmt: skip

    def unknown(self, code: str, about: str, quantity: str, cause: Cause) -> None:
        """A need that cannot be judged."""
        self.out.append(
            Finding(need=code, engine="climate", about=about, quantity=quantity,
                    state=State.NOT_KNOWN, source=COMPUTED, causes=(cause,))
        )  # fmt: skip

    # -- residents -------------------------------------------------------------------------------

    def resident(self, species: Species) -> None:
        """Everything a species needs of warmth and damp."""
        self.basking(species)
        self.body(species)
        self.air(species)
        self.nights(species)
        self.damp(species)
        self.refuge(species)

    def basking(self, species: Species) -> None:
        """The surface of each basking place in the middle of the day."""
        places = sites_for(self.habitat, species.key, ("basking",))
        if not places:
            self.unknown("basking-surface", species.key, "surface_temperature",
                         Cause("no_site", "basking"))  # fmt: skip
        for site in places:
            found = []
            for run in self.runs.values():
                rows = middle_of_day(self.habitat, run)
                column = run.surface[rows, site]
                if not np.isfinite(column).all():
                    continue
                value = float(np.median(column))
                found.append(
                    self.finding(
                        "basking-surface", species.key, "surface_temperature", value,
                        species.basking_surface, self.lit_spread(run, rows, site, value),
                        _source(species, "basking_surface"), f"{run.season} midday", site=site,
                        causes=self.heat_causes(run, rows, site),
                    )
                )  # fmt: skip
            self.worst(found)
            if not found:
                self.unknown("basking-surface", species.key, "surface_temperature",
                             Cause("no_surface", self.habitat.sites[site].name))  # fmt: skip

    def heat_causes(self, run: ClimateRun, rows: Rows, site: int) -> tuple[Cause, ...]:
        """What warms a place: its lamps by share, the air about it, the room."""
        lit = self.built.net.site_lit[site] * run.lamps[rows].mean(axis=0)
        out: list[Cause] = []
        total = float(lit.sum())
        for k in np.argsort(-lit, kind="stable"):
            share = float(lit[k]) / total if total > 0.0 else 0.0
            if share >= 0.10:
                out.append(Cause("lamp_heat", self.habitat.lamps[k].name, share))
        out.append(
            Cause("air_here", self.habitat.sites[site].name, float(run.air[rows, site].mean()))
        )
        out.append(Cause("room_air", run.season, float(run.room[rows].mean())))
        return tuple(out)

    def body(self, species: Species) -> None:
        """What a body takes at the best basking place, and how long it takes to get warm."""
        low, high = species.preferred_body
        places = sites_for(self.habitat, species.key, ("basking", "perch"))
        table = [run.operative.get(species.key) for run in self.runs.values()]
        if not places or any(t is None for t in table):
            cause = Cause("no_site", "basking") if not places else Cause("no_number", "mass")
            self.unknown("body-warm", species.key, "operative_temperature", cause)
            return
        found = []
        for run in self.runs.values():
            rows = middle_of_day(self.habitat, run)
            operative = run.operative[species.key][rows]
            site = max(places, key=lambda z: float(np.median(operative[:, z])))
            value = float(np.median(operative[:, site]))
            causes = self.heat_causes(run, rows, site)
            start = self._morning(run, species.key)
            if low is not None and start is not None:
                took = _warming(run, species.key, site, rows, start, low)
                causes = (Cause("warming", self.habitat.sites[site].name, took), *causes)
            found.append(
                self.finding(
                    "body-warm", species.key, "operative_temperature", value, (low, None),
                    self.lit_spread(run, rows, site, value), _source(species, "preferred_body"),
                    f"{run.season} midday", site=site, causes=causes,
                )
            )  # fmt: skip
        self.worst(found)
        del high

    def _morning(self, run: ClimateRun, species: str) -> float | None:
        """Body temperature at dawn in its shelters [K]."""
        places = sites_for(self.habitat, species, SHELTER) or sites_for(
            self.habitat, species, LIVED
        )
        rows = np.nonzero(day(run))[0]
        if not places or not len(rows):
            return None
        return float(run.operative[species][rows[0], places].mean())

    def air(self, species: Species) -> None:
        """The warm and the cool end of the day's air must both lie in the range asked for."""
        places = sites_for(self.habitat, species.key, LIVED)
        if not places:
            self.unknown("air-warm", species.key, "air_temperature", Cause("no_site", "perch"))
            return
        band = (species.air_cool, species.air_warm)
        for code, pick in (("air-warm", np.argmax), ("air-cool", np.argmin)):
            field = code.replace("-", "_")
            found = []
            for run in self.runs.values():
                rows = middle_of_day(self.habitat, run)
                means = run.air[rows][:, places].mean(axis=0)
                site = places[int(pick(means))]
                value = float(run.air[rows, site].mean())
                found.append(
                    self.finding(
                        code, species.key, "air_temperature", value, band,
                        self.air_spread(run, rows, value), _source(species, field),
                        f"{run.season} midday", site=site,
                        causes=(Cause("room_air", run.season, float(run.room[rows].mean())),),
                    )
                )  # fmt: skip
            self.worst(found)

    def nights(self, species: Species) -> None:
        """Air where the animals sleep, once the room has cooled."""
        places = sites_for(self.habitat, species.key, LIVED)
        if not places:
            return
        found = []
        for run in self.runs.values():
            rows = cooled(self.habitat, run)
            column = run.air[rows][:, places].mean(axis=1)
            # The hour that stands furthest out speaks for the night.
            low, high = species.night
            middle = 0.5 * ((low or column.mean()) + (high or column.mean()))
            value = float(column[np.abs(column - middle).argmax()])
            found.append(
                self.finding(
                    "night-air", species.key, "air_temperature", value, species.night,
                    self.air_spread(run, rows, value), _source(species, "night"),
                    f"{run.season} night, mean of its places",
                    causes=(Cause("room_air", run.season, float(run.room[rows].mean())),),
                )
            )  # fmt: skip
        self.worst(found)

    def damp(self, species: Species) -> None:
        """Mean humidity where the animals live, by day and by night."""
        places = sites_for(self.habitat, species.key, LIVED)
        if not places:
            return
        for code, field in (("humidity-day", "humidity_day"), ("humidity-night", "humidity_night")):
            band: Band = getattr(species, field)
            found = []
            for run in self.runs.values():
                rows = day(run) if code == "humidity-day" else night(self.habitat, run)
                value = float(run.humidity[rows][:, places].mean())
                part = "day" if code == "humidity-day" else "night"
                when = f"{run.season} {part}, mean of its places"
                found.append(
                    self.finding(
                        code, species.key, "humidity", value, band, ENGINE_HUMIDITY,
                        _source(species, field), when,
                        causes=(
                            Cause("air_changes", "", float(run.changes[rows].mean())),
                            Cause("room_humidity", run.season,
                                  float(run.room_humidity[rows].mean())),
                        ),
                    )
                )  # fmt: skip
            self.worst(found)

    def refuge(self, species: Species) -> None:
        """At every hour some shelter must be cooler than the animal bears."""
        limit, field = species.voluntary_max, "voluntary_max"
        if limit is None:
            limit, field = species.preferred_body[1], "preferred_body"
        places = sites_for(self.habitat, species.key, SHELTER)
        if not places or any(species.key not in run.operative for run in self.runs.values()):
            if not places:
                self.unknown("cool-shelter", species.key, "operative_temperature",
                             Cause("no_site", "hide"))  # fmt: skip
            return
        found = []
        for run in self.runs.values():
            operative = run.operative[species.key][:, places]
            coolest = operative.min(axis=1)
            row = int(coolest.argmax())
            site = places[int(operative[row].argmin())]
            rows = np.zeros(len(run.hours), bool)
            rows[row] = True
            value = float(coolest[row])
            found.append(
                self.finding(
                    "cool-shelter", species.key, "operative_temperature", value, (None, limit),
                    self.air_spread(run, rows, value), _source(species, field),
                    f"{run.season}, warmest hour", site=site,
                    causes=(Cause("hour", "", float(run.clock[row])),),
                )
            )  # fmt: skip
        self.worst(found)

    # -- plants and own needs --------------------------------------------------------------------

    def plants(self) -> None:
        """Mean of the night and of the day, and mean humidity, at each crown: what catalogues of plants
        give are ranges of good growth, not what an hour may bring."""
        for i, site in enumerate(self.habitat.sites):
            plant = next((p for p in self.habitat.plants if p.name == site.plant), None)
            if plant is None or not site.plant:
                continue
            kind = plant.type
            for code, band in (
                ("plant-cold", (kind.temperature[0], None)),
                ("plant-heat", (None, kind.temperature[1])),
            ):
                found = []
                for run in self.runs.values():
                    cold = code == "plant-cold"
                    rows = night(self.habitat, run) if cold else day(run)
                    value = float(run.air[rows, i].mean())
                    found.append(
                        self.finding(
                            code, plant.name, "air_temperature", value, band,
                            self.air_spread(run, rows, value), _source(kind, "temperature"),
                            f"{run.season}, mean of the {'night' if cold else 'day'}", site=i,
                            causes=(Cause("room_air", run.season, float(run.room[rows].mean())),),
                        )
                    )  # fmt: skip
                self.worst(found)
            found = []
            for run in self.runs.values():
                value = float(run.humidity[:-1, i].mean())
                found.append(
                    self.finding(
                        "plant-humidity", plant.name, "humidity", value,
                        (kind.humidity_min, None), ENGINE_HUMIDITY, _source(kind, "humidity_min"),
                        f"{run.season}, mean of the day", site=i,
                        causes=(Cause("air_changes", "", float(run.changes.mean())),),
                    )
                )  # fmt: skip
            self.worst(found)

    def own_needs(self) -> None:
        """The builder's needs of warmth and damp that took no other's place: midday, worst season."""
        names = {s.name: i for i, s in enumerate(self.habitat.sites)}
        for number, need in enumerate(self.habitat.needs):
            if number in self.used or need.quantity not in CLIMATE:
                continue
            self.used.add(number)
            about = need.about or "builder"
            if need.site not in names:
                self.unknown("own-need", about, need.quantity, Cause("no_site", need.site))
                continue
            site = names[need.site]
            found = []
            for run in self.runs.values():
                rows = middle_of_day(self.habitat, run)
                table = _table(run, need.quantity, need.about)
                column = None if table is None else table[rows, site]
                if column is None or not np.isfinite(column).all():
                    continue
                value = float(np.median(column))
                spread = (
                    ENGINE_HUMIDITY if need.quantity == "humidity"
                    else self.lit_spread(run, rows, site, value)
                )  # fmt: skip
                found.append(
                    self.finding("own-need", about, need.quantity, value, (need.low, need.high),
                                 spread, need.source, f"{run.season} midday", site=site)
                )  # fmt: skip
            self.worst(found)
            if not found:
                self.unknown("own-need", about, need.quantity, Cause("no_surface", need.site))


def _table(run: ClimateRun, quantity: str, about: str) -> Floats | None:
    if quantity == "operative_temperature":
        return run.operative.get(about) if about else next(iter(run.operative.values()), None)
    return {"air_temperature": run.air, "surface_temperature": run.surface,
            "humidity": run.humidity}[quantity]  # fmt: skip


def _source(entry: object, field: str) -> Source:
    band = getattr(entry, field)
    missing = band is None or band == (None, None)
    return COMPUTED if missing else entry.source_of(field)  # type: ignore[attr-defined]


def _warming(
    run: ClimateRun, species: str, site: int, rows: Rows, start: float, target: float
) -> float:
    """Time from the morning's shelter to the preferred band at a place [s]."""
    from loamwright.physics.bodies import warming_time

    operative = float(np.median(run.operative[species][rows, site]))
    constant = float(np.median(run.time_constant[species][rows, site]))
    return float(warming_time(start, target, operative, constant))


def climate_findings(
    habitat: Habitat, built: Built, runs: Mapping[str, ClimateRun]
) -> list[Finding]:
    """Every finding of the climate engine, in no particular order."""
    climate = Climate(habitat, built, runs)
    for species in dict.fromkeys(g.species.key for g in habitat.animals):
        climate.resident(next(g.species for g in habitat.animals if g.species.key == species))
    climate.plants()
    climate.out.extend(housekeeping(climate.finding, habitat, built, runs))
    climate.own_needs()
    return climate.out
