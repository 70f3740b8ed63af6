"""One function for each thing a person does; the only place that joins files, engine and report."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from loamwright.engine.unlit import costless
from loamwright.errors import InputError, Problem
from loamwright.files.kept import Kept, key_of

if TYPE_CHECKING:
    from loamwright.engine.climate.assemble import Built
    from loamwright.engine.climate.drills import Drill
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.findings import Finding
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.engine.life.decomposers_study import Found as SmallLife
    from loamwright.engine.life.plants_year import Planting
    from loamwright.engine.life.spots import Between
    from loamwright.engine.life.study import Animals
    from loamwright.engine.light.model import LightModel
    from loamwright.engine.light.record import LightStudy
    from loamwright.engine.light.values import LightResult
    from loamwright.files.whole_folder import Half
    from loamwright.habitat.habitat import Habitat

Note = Callable[[str], None]
"""Told, in a few words, what is being done."""

ENGINES = ("light", "climate", "ground", "animals", "decomposers", "plants", "build")
"""Engines a check can run, in their order."""


def quiet(_: str) -> None:
    """Nobody is told."""


def kept_folder(environment: Mapping[str, str] | None = None) -> Path | None:
    """Where results are kept: ``LOAMWRIGHT_CACHE`` (empty: nowhere), else the user's cache folder."""
    found = os.environ if environment is None else environment
    if "LOAMWRIGHT_CACHE" in found:
        return Path(found["LOAMWRIGHT_CACHE"]) if found["LOAMWRIGHT_CACHE"] else None
    base = found.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "loamwright"


@dataclass(frozen=True)
class Checked:
    """What a check found: the habitat, its findings, the light at its sites, the typical days of its
    climate by season, its ground's water, its animals, what lives in the ground, its plants, and for
    each engine its seconds and the share its balance misses by."""

    habitat: Habitat
    findings: list[Finding]
    light: LightResult
    engines: dict[str, tuple[float, float]]
    climate: dict[str, ClimateRun] = field(default_factory=dict)
    water: Coupled | None = None
    animals: Animals | None = None
    life: SmallLife | None = None
    plants: Planting | None = None

    @property
    def missed(self) -> bool:
        """True if any need is missed."""
        return any(f.state == "missed" for f in self.findings)


def read(path: Path) -> Habitat:
    """Read a habitat file; raises `InputError` with every problem in it."""
    from loamwright.files.reader import read_habitat

    return read_habitat(path)


def _light_study(habitat: Habitat, kept: Kept, note: Note) -> LightStudy:
    from loamwright.engine.light.record import LightStudy
    from loamwright.engine.unlit import bare

    unlit = bare(habitat)
    key = key_of("light-study", unlit)
    arrays = kept.get(key)
    if arrays is not None:
        return LightStudy.from_arrays(arrays)
    note("following light from every lamp")
    from loamwright.engine.light.study import study_light

    study = study_light(unlit)
    kept.put(key, study.arrays())
    return study


def built_climate(
    habitat: Habitat, study: LightStudy, kept: Kept, note: Note = quiet,
    wetness: Mapping[str, float] | None = None,
) -> Built:  # fmt: skip
    """The climate's network of a habitat whose light has been studied."""
    from loamwright.engine.climate import study as climate
    from loamwright.engine.unlit import climate_bare

    key = key_of("climate-looks", climate_bare(habitat))
    arrays = kept.get(key)
    if arrays is None:
        note("looking from every surface at every other")
        prepared = climate.prepare(habitat)
        kept.put(key, climate.arrays_of(prepared))
    else:
        prepared = climate.prepare(habitat, arrays)
    return climate.build(habitat, study, prepared, wetness)


def results_in(folder: Path | None) -> Kept:
    """The results kept in a folder; of none, for as long as what is returned lives."""
    return Kept(folder)


def climate_days(
    habitat: Habitat, seasons: Sequence[str], kept: Kept, note: Note = quiet,
    wetness: Mapping[str, float] | None = None,
) -> dict[str, ClimateRun]:  # fmt: skip
    """The typical day of each season, from what is kept where the habitat has not changed;
    ``wetness`` saturation of the ground's layers, where known better than by kind."""
    known = sorted((wetness or {}).items())

    @cache
    def ready() -> tuple[LightStudy, Built]:
        study = _light_study(habitat, kept, note)
        return study, built_climate(habitat, study, kept, note, wetness)

    def one(season: str) -> ClimateRun:
        from loamwright.engine.climate.study import typical_day

        study, built = ready()
        note(f"running a typical {season} day until it repeats itself")
        return typical_day(habitat, study, built, season).run

    bare = costless(habitat)
    return {s: _kept_run(kept, key_of("climate-day", bare, s, *known), partial(one, s))
            for s in seasons}  # fmt: skip


def days_known(habitat: Habitat, kept: Path | None) -> bool:
    """Whether the typical days of a check are kept, so that it will be quick."""
    store, bare = Kept(kept), costless(habitat)
    keys = [key_of("climate-day", bare, season) for season in CHECK_SEASONS]
    return all(store.holds(key) for key in keys)


def _kept_run(kept: Kept, key: str, make: Callable[[], ClimateRun]) -> ClimateRun:
    """A run from what is kept, or made and kept."""
    from loamwright.engine.climate.results import ClimateRun

    arrays = kept.get(key)
    if arrays is None:
        run = make()
        kept.put(key, run.arrays())
        return run
    return ClimateRun.from_arrays(arrays)


def climate_year(habitat: Habitat, *, kept: Path | None = None, note: Note = quiet) -> ClimateRun:
    """The climate of a whole year by the hour, on the room's own conditions."""
    store = Kept(kept)

    def run() -> ClimateRun:
        from loamwright.engine.climate import study as climate
        from loamwright.engine.climate import year

        light = _light_study(habitat, store, note)
        note("looking from every surface at every other")
        built = climate.build(habitat, light, climate.prepare(habitat, fineness=year.COARSE))
        return year.run_year(habitat, light, built, lambda day: note(f"day {day} of {year.DAYS}"))

    return _kept_run(store, key_of("climate-year", costless(habitat)), run)


def drills(
    habitat: Habitat, *, only: str | None = None, kept: Path | None = None, note: Note = quiet
) -> list[Drill]:
    """Every fault the habitat can have, of one kind where ``only`` names it (`engine.climate.drills`),
    followed for two days from a settled day.

    Raises
    ------
    InputError
        If no fault of that kind can happen here.
    """
    from loamwright.engine.climate import drills as engine
    from loamwright.engine.climate import study as climate
    from loamwright.engine.climate.drill_record import arrays_of, drills_of

    store = Kept(kept)
    key = key_of("climate-drills", habitat, only)
    known = store.get(key)
    if known is not None:
        return drills_of(known)
    study = _light_study(habitat, store, note)
    built = built_climate(habitat, study, store, note)
    settled = {}
    for season in CHECK_SEASONS:
        note(f"running a typical {season} day until it repeats itself")
        settled[season] = climate.typical_day(habitat, study, built, season)
    faults = engine.faults_of(habitat, built, {s: day.plan for s, day in settled.items()})
    chosen = [f for f in faults if only in (None, f.key)]
    if not chosen:
        there = ", ".join(dict.fromkeys(f.key for f in faults))
        raise InputError(Problem(f"no fault '{only}' can happen here; there is {there}", "--only"))
    found = engine.drill_all(
        habitat, study, built, settled, chosen,
        lambda fault: note(f"followed a fault: {fault.key} {fault.subject}".rstrip()),
    )  # fmt: skip
    ordered = engine.first_limit_first(found)
    store.put(key, arrays_of(ordered))
    return ordered


def _with_cures(habitat: Habitat, findings: list[Finding], kept: Kept, note: Note) -> list[Finding]:
    """Findings with their cures; only the cures are kept, as findings are quick to make."""
    from loamwright.engine.light.cure_record import arrays_of, with_cures

    key = key_of("light-cures", habitat)
    arrays = kept.get(key)
    if arrays is not None:
        return with_cures(findings, arrays)
    note("looking for a change that would mend what is missed")
    from loamwright.engine.light.cures import find_cures

    out = find_cures(habitat, findings)
    kept.put(key, arrays_of(out))
    return out


def check(
    path: Path, *, kept: Path | None = None, only: Sequence[str] = ENGINES, note: Note = quiet
) -> Checked:
    """Read a habitat, compute everything needed, and hold it against every need.

    Parameters
    ----------
    path : Path
        The habitat file.
    kept : Path, optional
        Folder of results kept between runs; none are kept when left out.
    only : sequence of str
        Engines to run, of `ENGINES`.

    Raises
    ------
    InputError
        If the file is wrong, with every problem of it.
    BalanceError
        If an engine's own balance does not close.
    """
    unknown = [name for name in only if name not in ENGINES]
    if unknown:
        message = f"no engine is called '{unknown[0]}'; there is {', '.join(ENGINES)}"
        raise InputError(Problem(message, "--only"))
    note("reading the habitat")
    return check_habitat(read(path), kept=kept, only=only, note=note)


CHECK_SEASONS, CHECK_WEEKS = ("winter", "summer"), 8
"""Seasons whose typical days, and weeks of the ground's water, a check holds against the needs."""


def check_habitat(
    habitat: Habitat, *, kept: Path | None = None, only: Sequence[str] = ENGINES,
    note: Note = quiet,
) -> Checked:  # fmt: skip
    """`check` for a habitat already read. The light is computed in any case: the climate needs it."""
    from loamwright.engine.light.findings import light_findings
    from loamwright.engine.light.values import read_values

    store = Kept(kept)
    start = time.perf_counter()
    study = _light_study(habitat, store, note)
    light = read_values(habitat, study)
    findings: list[Finding] = []
    engines: dict[str, tuple[float, float]] = {}
    if "light" in only:
        findings = _with_cures(habitat, light_findings(habitat, study, light), store, note)
        balance = float(abs(study.balance).max()) if len(study.balance) else 0.0
        engines["light"] = (time.perf_counter() - start, balance)
    days: dict[str, ClimateRun] = {}
    if "climate" in only:
        from loamwright.engine.climate.findings import climate_findings

        start = time.perf_counter()
        days = climate_days(habitat, CHECK_SEASONS, store, note)
        built = built_climate(habitat, study, store, note)
        findings += climate_findings(habitat, built, days)
        missing = max(abs(share) for run in days.values() for share in run.balance)
        engines["climate"] = (time.perf_counter() - start, missing)
    water: Coupled | None = None
    animals: Animals | None = None
    life: SmallLife | None = None
    plants: Planting | None = None
    start = time.perf_counter()
    if {"ground", "decomposers"} & set(only) and habitat.ground.layers:
        water = ground_water(habitat, CHECK_WEEKS, CHECK_SEASONS, store, note)
    if "ground" in only and habitat.ground.layers:
        from loamwright.engine.ground.findings import ground_findings
        from loamwright.engine.ground.outlook import amounts

        findings += ground_findings(habitat, amounts(habitat), water.outlooks if water else ())
        engines["ground"] = (time.perf_counter() - start, water.balance if water else 0.0)
    if "animals" in only and habitat.animals:
        from loamwright.engine.life.findings import animals_findings
        from loamwright.engine.life.study import study_animals

        start = time.perf_counter()
        between = animal_spots(habitat, study, store, note) if days else None
        animals = study_animals(habitat, days, light, between)
        findings += animals_findings(habitat, animals, days, water.outlooks if water else ())
        engines["animals"] = (time.perf_counter() - start, 0.0)
    if "decomposers" in only and water is not None:
        from loamwright.engine.life.decomposers_findings import decomposer_findings

        start = time.perf_counter()
        life = small_life(habitat, light, water, store, note)
        findings += decomposer_findings(life)
        engines["decomposers"] = (time.perf_counter() - start, life.balance if life else 0.0)
    if "plants" in only and habitat.plants:
        from loamwright.engine.life.plants_findings import plant_findings

        start = time.perf_counter()
        plants = planting(habitat, light, store, note)
        findings += plant_findings(habitat, plants)
        engines["plants"] = (time.perf_counter() - start, 0.0)
    if "build" in only:
        from loamwright.plan.build import build_of
        from loamwright.plan.findings import build_findings

        start = time.perf_counter()
        note("looking at what holds and feeds it")
        findings += build_findings(habitat, build_of(habitat))
        engines["build"] = (time.perf_counter() - start, 0.0)
    return Checked(habitat, findings, light, engines, days, water, animals, life, plants)


def animal_spots(habitat: Habitat, study: LightStudy, kept: Kept, note: Note = quiet) -> Between:
    """Spots between the named places, from what is kept where nothing that rays meet has changed."""
    from loamwright.engine.life import climbing, spots
    from loamwright.engine.unlit import climate_bare

    built = built_climate(habitat, study, kept, note)
    key = key_of("animal-spots", climate_bare(habitat))
    arrays = kept.get(key)
    if arrays is None:
        arrays = spots.look(habitat, study, built, climbing.foot_places(habitat)).arrays()
        kept.put(key, arrays)
    return spots.Between(spots.Spots.from_arrays(arrays), built)


def ground_water(
    habitat: Habitat, weeks: int, seasons: Sequence[str], kept: Kept, note: Note = quiet,
    *, by_hand: bool = True,
) -> Coupled | None:  # fmt: skip
    """The ground's water over so many weeks from each season on, in step with the climate; None
    where no layer holds water."""
    from loamwright.engine.ground.coupled import couple

    def typical(wetness: Mapping[str, float]) -> dict[str, ClimateRun]:
        return climate_days(habitat, CHECK_SEASONS, kept, note, wetness)

    def stuck() -> ClimateRun:
        from loamwright.engine.ground.stuck import stuck_run

        note("following the mist as it sticks on")
        study = _light_study(habitat, kept, note)
        return stuck_run(habitat, study, built_climate(habitat, study, kept, note))

    if all(x.medium is not None and x.medium.form == "cover" for x in habitat.ground.layers):
        return None
    note("following water through the ground")
    mists = habitat.mist is not None and habitat.mist.nozzles
    fault = _kept_run(kept, key_of("climate-stuck", costless(habitat)), stuck) if mists else None
    return couple(habitat, typical, 7 * weeks, seasons, by_hand=by_hand, stuck=fault)


def light_result(habitat: Habitat, kept: Kept, note: Note = quiet) -> LightResult:
    """The light at a habitat's sites."""
    from loamwright.engine.light.values import read_values

    return read_values(habitat, _light_study(habitat, kept, note))


def small_life(
    habitat: Habitat, light: LightResult, water: Coupled, kept: Kept, note: Note = quiet,
    season: str = "winter",
) -> SmallLife | None:  # fmt: skip
    """What lives in the ground over a year; None where it is dry and nobody lets anything in."""
    from loamwright.engine.life.decomposers_study import study
    from loamwright.engine.life.plants_sites import crown_light

    days = climate_days(habitat, CHECK_SEASONS, kept, note)
    note("following what lives in the ground")
    return study(habitat, days, water.outlooks, crown_light(habitat, light), season)


def planting(
    habitat: Habitat, light: LightResult, kept: Kept, note: Note = quiet, season: str = "winter"
) -> Planting:
    """The plants over a year from the middle of a season on."""
    from loamwright.engine.life import plants_sites
    from loamwright.engine.life.plants_year import plant_year

    warmth = plants_sites.crown_air(habitat, climate_days(habitat, CHECK_SEASONS, kept, note))
    note("following the plants")
    return plant_year(habitat, plants_sites.crown_light(habitat, light), warmth, season)


def light_model(habitat: Habitat) -> LightModel:
    """The light of a habitat, ready for grids and changes."""
    from loamwright.engine.light.model import LightModel
    from loamwright.engine.lower import lower_scene

    return LightModel(lower_scene(habitat), habitat.lamps)


def write_file(path: Path, content: str | bytes, *, force: bool = False) -> None:
    """Write a file whole or not at all; one that is there only with ``force``."""
    from loamwright.files.writer import write_whole

    write_whole(path, content, force=force)


def writing_folder(target: Path) -> AbstractContextManager[Half]:
    """A place to make a whole folder of files in; `files.whole_folder`."""
    from loamwright.files.whole_folder import half_written

    return half_written(target)


SEASONS = ("winter", "middle", "summer")
"""Seasons that have a typical day."""


def schema(of: str) -> dict[str, Any]:
    """The JSON Schema of the habitat file, or of a command's document."""
    if of == "habitat":
        from loamwright.files.json_schema import habitat_schema

        return habitat_schema()
    from loamwright.report.schemas import SCHEMAS

    return SCHEMAS[of]()


EXAMPLES = ("forest-edge", "dry-rock", "rain-glass", "school-meadow")


def new(
    path: Path, *, example: str | None = None, size: str | None = None, animal: str | None = None,
    units: str = "metric", force: bool = False, keep: bool = False,
) -> list[Path]:  # fmt: skip
    """Write a starter habitat file or an example; returns the files written. ``keep`` leaves what an
    example needs beside it as it is where it is there already."""
    from loamwright.files.starter import example_files, starter
    from loamwright.files.writer import write_whole

    if example is None:
        files = {path: starter(path.stem, size=size, animal=animal, units=units).encode()}
    elif example not in EXAMPLES:
        raise InputError(
            Problem(f"no example is called '{example}'; there are {', '.join(EXAMPLES)}",
                    "--example")
        )  # fmt: skip
    elif size or animal:
        raise InputError(Problem("an example has its own size and animals", "--example"))
    else:
        files = {path.parent / n if n else path: c for n, c in example_files(example).items()}
    if keep:
        files = {p: c for p, c in files.items() if p == path or not p.exists()}
    taken = [p for p in files if p.exists()]
    if taken and not force:
        raise InputError([Problem("is there already; --force writes over it", file=str(p))
                          for p in taken])  # fmt: skip
    for target, content in files.items():
        if target.parent != path.parent:
            target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, content, force=force)
    return list(files)
