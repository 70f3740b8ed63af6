"""What an engine process does. It runs apart from the pages, so that no page ever waits for it.

Each function takes a `Bench`-keeping `Shop` and plain arguments and gives back plain data; ``note``
says what is being done and ends the work by raising `StoppedError` when nobody wants it any more.
"""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from loamwright.web import build_work, life_work

if TYPE_CHECKING:
    from loamwright.engine.climate.bench import ClimateBench
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.engine.light.bench import Bench
    from loamwright.habitat.habitat import Habitat


Key = TypeVar("Key")
Made = TypeVar("Made")


class Note(Protocol):
    """Says what is being done, and may hand over a first answer with it."""

    def __call__(self, text: str, first: Any = None) -> None: ...  # noqa: D102


MOST_BENCHES = 4
"""Scenes kept by one process; the one unused for longest goes first."""

MOST_FOUND = 8
"""Answers kept by one process, so that a change taken back finds what was there before it: a day
begins where the last one ended, and run anew it would differ within its tolerance."""

FIELD_QUANTITIES = {"uvi": "brightest", "ppfd": "up", "lux": "up", "radiant": "brightest"}
"""Quantities of light drawn on planes, and the way the meter faces."""

FIELD_POINTS = 2600
"""Points of a drawn plane."""


HOLDING = "holding needs against the light"


class StoppedError(Exception):
    """Nobody wants this work any more."""


class Shop:
    """What a process keeps between jobs."""

    def __init__(self) -> None:
        self._light: list[tuple[Habitat, Bench]] = []
        self._climate: list[tuple[Habitat, ClimateBench]] = []
        self._found: list[tuple[tuple[str, Habitat], Any]] = []

    def once(self, kind: str, habitat: Habitat, make: Callable[[], Made]) -> Made:
        """What was found of a habitat before, or now."""
        found: Made = _at_hand(self._found, (kind, habitat), lambda _: make(), most=MOST_FOUND)
        return found

    def bench(self, habitat: Habitat, note: Note) -> Bench:
        """The light bench of a habitat's surfaces, made if need be."""
        from loamwright.engine.light.bench import Bench

        key = replace(_bare(habitat), lamps=())
        return _at_hand(self._light, key, Bench, lambda: note("looking at every surface"))

    def climate(self, habitat: Habitat, note: Note) -> ClimateBench:
        """The climate bench of a habitat's surfaces, made if need be."""
        from loamwright.engine.climate.bench import ClimateBench, surfaces_of

        told = "looking from every surface at every other"
        return _at_hand(self._climate, surfaces_of(habitat), ClimateBench, lambda: note(told))


def _at_hand(
    kept: list[tuple[Key, Made]], key: Key, make: Callable[[Key], Made],
    told: Callable[[], Any] = lambda: None, most: int = MOST_BENCHES,
) -> Made:  # fmt: skip
    """What is kept under a key, or made; the ``most`` last used stay."""
    for i, (known, found) in enumerate(kept):
        if known == key:
            kept.append(kept.pop(i))
            return found
    told()
    made = make(key)
    kept[:] = [*kept[1 - most :], (key, made)]
    return made


def _bare(habitat: Habitat) -> Habitat:
    from loamwright.engine.unlit import bare

    return bare(habitat)


def glance(shop: Shop, note: Note, habitat: Habitat, shares: list[float] | None = None) -> Any:
    """Light at the sites, and nothing else: the quick part of `light`. ``shares`` of full light of
    each lamp at an hour, all on when left out."""
    from loamwright.engine.light.record import NORMAL, UP
    from loamwright.engine.light.values import QUANTITIES, by_lamp

    bench = shop.bench(habitat, note)
    transport = bench.sites_light(habitat.lamps)
    out: dict[str, dict[str, list[float]]] = {"up": {}, "normal": {}, "brightest": {}}
    for quantity in QUANTITIES:
        values = by_lamp(habitat.lamps, transport, quantity)
        if shares is not None:
            values = values * _column(shares, values)
        total = values.sum(axis=0)
        if not total.size:
            total = total.reshape(len(habitat.sites), 1)
            out["up"][quantity] = out["normal"][quantity] = [0.0] * len(total)
            out["brightest"][quantity] = [0.0] * len(total)
            continue
        out["up"][quantity] = total[:, UP].tolist()
        out["normal"][quantity] = total[:, NORMAL].tolist()
        out["brightest"][quantity] = total.max(axis=1).tolist()
    return out


def _column(shares: list[float], values: Any) -> Any:
    import numpy as np

    return np.array(shares, float).reshape(-1, *([1] * (values.ndim - 1)))


def hours(shop: Shop, note: Note, habitat: Habitat, shares: Any) -> Any:
    """UV index (meter turned to the brightest) and plant light (facing up) at the sites at each of
    many hours, by name (R, S); ``shares`` (R, L) of full light of each lamp."""
    import numpy as np

    from loamwright.engine.light.record import UP
    from loamwright.engine.light.values import by_lamp

    transport = shop.bench(habitat, note).sites_light(habitat.lamps)
    mixed = np.asarray(shares, float)
    if not transport.size:
        nothing = np.zeros((len(mixed), len(habitat.sites)))
        return {"uvi": nothing, "ppfd": nothing}
    ultraviolet = by_lamp(habitat.lamps, transport, "uvi")
    plants = by_lamp(habitat.lamps, transport[:, :, UP], "ppfd")
    return {
        "uvi": np.tensordot(mixed, ultraviolet, 1).max(axis=2),
        "ppfd": mixed @ plants,
    }


def light(shop: Shop, note: Note, habitat: Habitat) -> Any:
    """The findings of the light, and the whole study as bytes for the climate's process."""
    from loamwright.engine.light.findings import light_findings
    from loamwright.engine.light.values import read_values

    study = shop.bench(habitat, note).study(habitat.lamps, lambda: note(HOLDING))
    findings = light_findings(habitat, study, read_values(habitat, study))
    return findings, pickle.dumps(study, protocol=5)


def day(shop: Shop, note: Note, habitat: Habitat, study: bytes, season: str) -> Any:
    """A season's typical day. Where the engine goes on from a day before, its first day is handed over
    before it has settled."""

    def told(number: int) -> None:
        note(f"running a typical {season} day until it repeats itself, day {number}")

    def first(run: ClimateRun) -> None:
        note(f"letting the {season} day settle", run)

    def run() -> ClimateRun:
        bench, found = shop.climate(habitat, note), pickle.loads(study)
        built = bench.build(habitat, found)
        return bench.day(habitat, found, built, season, told, first).run

    return shop.once(f"{season} day", habitat, run)


def climate_findings(
    shop: Shop, note: Note, habitat: Habitat, study: bytes, days: Mapping[str, Any]
) -> Any:
    """The climate's findings on the days of a check."""
    from loamwright.engine.climate.findings import climate_findings as held

    built = shop.climate(habitat, note).build(habitat, pickle.loads(study))
    return held(habitat, built, dict(days))


def drills(shop: Shop, note: Note, habitat: Habitat, study: bytes) -> Any:
    """Every fault, followed for two days."""
    from loamwright.engine.climate import drills as engine
    from loamwright.workflow import CHECK_SEASONS

    bench = shop.climate(habitat, note)
    found = pickle.loads(study)
    built = bench.build(habitat, found)
    settled = {}
    for season in CHECK_SEASONS:
        note(f"running a typical {season} day until it repeats itself")
        settled[season] = bench.day(habitat, found, built, season)
    faults = engine.faults_of(habitat, built, {s: d.plan for s, d in settled.items()})
    out = engine.drill_all(
        habitat, found, built, settled, faults,
        lambda fault: note(f"of {len(faults)} faults: {fault.key} {fault.subject}".rstrip()),
    )  # fmt: skip
    return engine.first_limit_first(out)


def ground(shop: Shop, note: Note, habitat: Habitat, study: bytes) -> Any:
    """The ground's findings, and its water over weeks in step with the climate (None where no layer
    holds water)."""
    return shop.once("ground", habitat, lambda: _ground(shop, note, habitat, study))


def _ground(shop: Shop, note: Note, habitat: Habitat, study: bytes) -> Any:
    from loamwright.engine.ground.coupled import couple
    from loamwright.engine.ground.findings import ground_findings
    from loamwright.engine.ground.outlook import amounts
    from loamwright.engine.ground.stuck import stuck_run
    from loamwright.workflow import CHECK_SEASONS, CHECK_WEEKS

    note("measuring the ground")
    amount = amounts(habitat)
    if all(x.medium is not None and x.medium.form == "cover" for x in habitat.ground.layers):
        return ground_findings(habitat, amount, ()), None
    bench, found = shop.climate(habitat, note), pickle.loads(study)

    def typical(wetness: Mapping[str, float]) -> dict[str, ClimateRun]:
        built = bench.build(habitat, found, wetness)
        out = {}
        for season in CHECK_SEASONS:
            note("following water through the ground")
            out[season] = bench.day(habitat, found, built, season).run
        return out

    stuck = None
    if habitat.mist is not None and habitat.mist.nozzles:
        note("following the mist as it sticks on")
        stuck = stuck_run(habitat, found, bench.build(habitat, found))
    water = couple(habitat, typical, 7 * CHECK_WEEKS, CHECK_SEASONS, stuck=stuck)
    note("holding needs against the ground")
    return ground_findings(habitat, amount, water.outlooks), water


def ground_charts(
    shop: Shop, note: Note, habitat: Habitat, water: Coupled, system: str
) -> list[bytes]:
    """The ground's water by depth from each season on, drawn as SVG."""
    from loamwright.engine.ground.quantities import ground_quantities
    from loamwright.report.ground_charts import ground_chart

    amount = ground_quantities(habitat, us=system == "us")
    out = []
    for outlook in water.outlooks:
        note("drawing the water of the ground")
        one = replace(water, outlooks=(outlook,))
        out.append(ground_chart(habitat, amount, one, "svg", system))
    return out


def plane(
    shop: Shop, note: Note, habitat: Habitat, quantity: str, axis: str, position: float
) -> Any:
    """A quantity of light from each lamp over a plane: axes, shape and values (L, points)."""
    import numpy as np

    from loamwright.engine.light.fields import lamps_on_plane

    note("following light to every point of the plane")
    bench = shop.bench(habitat, note)
    model = bench.model.alike(habitat.lamps)
    lines, values = lamps_on_plane(
        habitat, model, axis, position, FIELD_POINTS, quantity, FIELD_QUANTITIES[quantity]
    )
    return {"lines": [np.asarray(x, np.float32) for x in lines], "values": values}


def surfaces(shop: Shop, note: Note, habitat: Habitat, quantity: str) -> Any:
    """A quantity of light from each lamp on each patch (L, P), with the triangles they are of."""
    import numpy as np

    from loamwright.engine.light.values import lamp_worth

    bench = shop.bench(habitat, note)
    scene = bench.model.scene
    rows = [(bench.rows(lamp).rest or {})["patch_light"] @ lamp_worth(lamp, quantity)
            for lamp in habitat.lamps]  # fmt: skip
    return {
        "triangles": scene.triangles.astype(np.float32),
        "patch": scene.patch_of.astype(np.uint32),
        "owner": [scene.owners[i] for i in scene.owner],
        "values": np.array(rows, np.float32).reshape(len(rows), scene.patches),
    }


def cures(shop: Shop, note: Note, habitat: Habitat, findings: list[Any]) -> Any:
    """The findings, with a change that would mend what is missed where one is found."""
    from loamwright.engine.light.cures import find_cures

    note("looking for a change that would mend what is missed")
    return find_cures(habitat, findings)


def pages(
    shop: Shop, note: Note, habitat: Habitat, system: str, findings: list[Any],
    days: Mapping[str, Any], water: Coupled | None, drills: list[Any],
) -> Any:  # fmt: skip
    """The one-page overview, with its pictures, as HTML; the pictures also on their own."""
    from loamwright import pages as drawn
    from loamwright import workflow
    from loamwright.engine.light.values import read_values
    from loamwright.report.overview import overview_html

    study = shop.bench(habitat, note).study(habitat.lamps)
    light = read_values(habitat, study)
    checked = workflow.Checked(habitat, findings, light, {}, dict(days))
    pictures = [
        *drawn.draw_days(checked, system, note),
        *drawn.draw_sections(checked, system, note),
    ]
    work = drawn.work_tables(habitat, water, system, drills)
    shown = [p for _, p in pictures]
    page = overview_html(habitat, findings, light.sites, shown, system=system, work=work)
    return page, {name: p.content for name, p in pictures}


def fields_file(shop: Shop, note: Note, habitat: Habitat, spacing: float) -> bytes:
    """The light of the whole air space as the bytes of a NetCDF file."""
    import tempfile

    from loamwright import volumes

    dataset = volumes.light_volume(habitat, spacing, note)
    note("writing the file")
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder) / "fields.nc"
        volumes.write_fields(dataset, made)
        return made.read_bytes()


JOBS: dict[str, Callable[..., Any]] = {
    f.__name__: f
    for f in (glance, hours, light, day, climate_findings, drills, ground, ground_charts, plane,
              surfaces, cures, pages, fields_file)
} | life_work.JOBS | build_work.JOBS  # fmt: skip


URGENT = ("glance", "hours", "crown_spot", "plan")
"""Quick jobs that a person waits for: done before others, and while others take breath."""

Job = tuple[int, str, dict[str, Any]]


def serve(connection: Any, nice: int = 0) -> None:
    """Do the jobs that come over a pipe until it is shut; ``nice`` lets others go first."""
    os.nice(nice)
    with suppress(EOFError, OSError):  # the pipe was shut
        _Serving(connection).go_on()


class _Serving:
    """Jobs of one engine process: those that wait, and those nobody wants any more."""

    def __init__(self, connection: Any) -> None:
        self.connection, self.shop = connection, Shop()
        self.waiting: list[Job] = []
        self.unwanted: set[int] = set()

    def go_on(self) -> None:
        """Do one job after the other."""
        while True:
            self._listen()
            job = self._next(URGENT) or self._next(tuple(JOBS))
            if job is None:
                self._hear(self.connection.recv())
            else:
                self._do(job)

    def _listen(self) -> None:
        while self.connection.poll():
            self._hear(self.connection.recv())

    def _hear(self, message: tuple[Any, ...]) -> None:
        if message[0] == "job":
            self.waiting.append((message[1], message[2], message[3]))
        elif message[0] == "stop":
            self.unwanted.add(message[1])

    def _next(self, kinds: tuple[str, ...]) -> Job | None:
        for n, job in enumerate(self.waiting):
            if job[1] in kinds:
                return self.waiting.pop(n)
        return None

    def _do(self, job: Job, inside: bool = False) -> None:
        number, name, arguments = job

        def note(text: str, first: Any = None) -> None:
            self._listen()
            if number in self.unwanted:
                raise StoppedError
            while not inside and (urgent := self._next(URGENT)) is not None:
                self._do(urgent, inside=True)
            self.connection.send(("note", number, (text, first)))

        answer = self._answer(number, name, arguments, note)
        self.unwanted.discard(number)
        self.connection.send(answer)

    def _answer(
        self, number: int, name: str, arguments: dict[str, Any], note: Note
    ) -> tuple[str, int, Any]:
        from loamwright.errors import LoamwrightError

        try:
            if number in self.unwanted:
                raise StoppedError
            return "done", number, JOBS[name](self.shop, note, **arguments)
        except StoppedError:
            return "stopped", number, None
        except LoamwrightError as error:
            return "failed", number, str(error)
        except (EOFError, BrokenPipeError):
            raise
        except Exception as error:  # a fault of the program's own: the page says so and goes on
            import traceback

            told = f"{type(error).__name__}: {error}\n{traceback.format_exc()}"
            return "broken", number, told
