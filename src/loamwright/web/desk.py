"""A desk: one person's draft of one file, what the engines say of it, and who is looking at it.

Every change goes through here. It is checked and kept first, then the engines are asked again: light
at the sites at once, findings after it, days in the background. Of several changes the last one wins.
"""

from __future__ import annotations

import asyncio
import hashlib
import math
import time
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from loamwright import editing
from loamwright.editing import Draft, Loc
from loamwright.errors import InputError
from loamwright.web.build_desk import Building, same_but_cost
from loamwright.web.engines import Engines, JobFailedError, JobStoppedError
from loamwright.web.life_work import Life
from loamwright.workflow import CHECK_SEASONS

if TYPE_CHECKING:
    from loamwright.engine.climate.drills import Drill
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.findings import Finding
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.habitat.equipment import Lamp
    from loamwright.habitat.habitat import Habitat

SEASONS = ("winter", "middle", "summer")

SPEAKERS = ("light", "climate", "ground", "life", "plan")
"""Work that findings come of, in its order."""

PATIENCE = 1.2
"""Seconds of quiet before the ground is followed and cures are looked for."""

RUSH = 0.8
"""Changes within so many seconds of each other are a rush: what takes long waits for its end."""

BREATH = (0.4, 0.5)
"""Seconds of quiet, in a rush, before needs are held against the light, and before days are run."""

FIRST_LIGHT = 0.3
"""Seconds that a change waits at most for the light it will most likely bring."""

ON_ITS_WAY = 0.015
"""Seconds that new values have the server for themselves on their way to the screen."""

Watcher = Callable[[str], None]


class Desk:
    """State shared by every window that one person has open on one file."""

    def __init__(self, draft: Draft, engines: Engines, owner: str) -> None:
        self.draft, self.engines = draft, engines
        self.id = hashlib.sha256(f"{owner}\0{draft.path}".encode()).hexdigest()[:16]
        self.watchers: list[Watcher] = []
        self.used = time.monotonic()
        self.season = "summer"
        self.wanted_seasons: set[str] = set()
        self.values: dict[str, Any] | None = None
        self.values_before: dict[str, Any] | None = None
        self.light_findings: list[Finding] = []
        self.climate_findings: list[Finding] = []
        self.ground_findings: list[Finding] = []
        self.ground: Coupled | None = None
        self.life = Life()
        self.building = Building(self)
        self._before: dict[str, list[Finding]] = {}
        self.stale: set[str] = set()
        self.study: bytes | None = None
        self.days: dict[str, ClimateRun] = {}
        self.old_days: set[str] = set()
        self.settling: set[str] = set()
        self.drills: list[Drill] | None = None
        self.busy: dict[str, str] = {}
        self.troubles: dict[str, str] = {}
        self._lock = asyncio.Lock()
        self._work: asyncio.Task[None] | None = None
        self._generation = 0
        self._edited, self._rush = -RUSH, False
        self._left = False

    # -- who looks ---------------------------------------------------------------------------

    def watch(self, watcher: Watcher) -> None:
        """Tell a window of every change from now on."""
        self.watchers.append(watcher)
        self.used = time.monotonic()
        if self._left:
            self._left = False
            self.refresh()

    def leave(self, watcher: Watcher) -> None:
        """A window has gone."""
        if watcher in self.watchers:
            self.watchers.remove(watcher)
        self.used = time.monotonic()
        if not self.watchers and self.busy:
            # Work that nobody waits for is let go of, and taken up again with the next window.
            self._left = True
            if self._work is not None:
                self._work.cancel()
            self.engines.stop(self.id)

    def tell(self, what: str) -> None:
        """Say to every window that something is new: ``draft``, ``values``, ``findings``, ``days``,
        ``drills``, ``ground``, ``life``, ``build`` or ``busy``."""
        for watcher in list(self.watchers):
            watcher(what)

    # -- changes -----------------------------------------------------------------------------

    @property
    def habitat(self) -> Habitat | None:
        """The habitat as it is drafted; None while the file has mistakes."""
        return self.draft.habitat

    @property
    def findings(self) -> list[Finding]:
        """All that is found now."""
        return [*self.light_findings, *self.climate_findings, *self.ground_findings,
                *self.life.findings, *self.building.planned.findings]  # fmt: skip

    @property
    def before(self) -> list[Finding] | None:
        """All that was found before the last change."""
        return [f for found in self._before.values() for f in found] or None

    def _remember(self) -> None:
        """Keep what is found now as what was before; what is still being computed stays as it was."""
        if "light" not in self.busy and self.light_findings:
            self._before["light"] = self.light_findings
        if "climate" not in self.busy and self.climate_findings:
            self._before["climate"] = self.climate_findings
        if "ground" not in self.busy and self.ground_findings:
            self._before["ground"] = self.ground_findings
        if "life" not in self.busy and self.life.findings:
            self._before["life"] = list(self.life.findings)
        if "plan" not in self.busy and self.building.planned.findings:
            self._before["build"] = list(self.building.planned.findings)

    async def edit(self, action: Callable[[], Any], *, guess: Habitat | None = None) -> Any:
        """Do something to the draft; raises `InputError` where it is refused.

        ``guess`` is the habitat that will come of it, where that is known: its light is shown before
        the text is changed, read again and kept, which takes as long as the light itself.
        """
        self.used = now = time.monotonic()
        self._rush, self._edited = now - self._edited < RUSH, now
        # One after the other, in the order they were made: a save takes along the change before it.
        async with self._lock:
            answer = await self._edit(action, guess)
        self.tell("draft")
        return answer

    async def _edit(self, action: Callable[[], Any], guess: Habitat | None) -> Any:
        shown = self.values
        if "light" not in self.busy:
            self.values_before = self.values
        early = asyncio.ensure_future(self._early(guess)) if guess is not None else None
        if early is not None:
            await asyncio.wait([early], timeout=FIRST_LIGHT)
            await asyncio.sleep(ON_ITS_WAY)
        before = self.draft.habitat
        try:
            answer = await asyncio.to_thread(action)
        except InputError:
            if early is not None:
                early.cancel()
            if self.values is not shown:
                self._take_values(shown)
            self.tell("draft")
            raise
        if self.draft.habitat is not before and same_but_cost(before, self.draft.habitat):
            # Prices and the workshop change nothing but the plan of the build.
            self._remember()
            self.building.replan()
        elif self.draft.habitat is not before:
            self._remember()
            self._generation += 1
            seen = early is not None and _same_light(guess, self.draft.habitat) and await early
            self.refresh(seen=bool(seen))
        if early is not None:
            early.cancel()
        return answer

    async def _early(self, guess: Habitat | None) -> bool:
        """Show the light of what will most likely come of a change; whether that could be had."""
        try:
            self._take_values(await self._glance(guess))
        except (JobStoppedError, JobFailedError):
            return False
        return True

    async def preview(self, lamps: tuple[Lamp, ...]) -> None:
        """Show the light at the sites as it would be under these lamps, and change nothing."""
        if self.habitat is None:
            return
        try:
            found = await self._glance(replace(self.habitat, lamps=lamps), "preview")
        except (JobStoppedError, JobFailedError):
            return
        self._take_values(found)

    async def _glance(self, habitat: Habitat | None, slot: str = "glance") -> Any:
        return await self.engines.run(self.id, "glance", slot=slot, habitat=habitat)

    def _take_values(self, found: Any) -> None:
        self.values = found
        self.tell("values")

    # -- the engines' work -------------------------------------------------------------------

    def refresh(self, *, seen: bool = False) -> None:
        """Ask the engines anew; what is under way for an older draft is let go of."""
        if self._work is not None:
            self._work.cancel()
        self.engines.stop(self.id)
        self.drills = None
        self.old_days |= set(self.days)
        self.settling.clear()
        self.stale = set(SPEAKERS)
        self._work = asyncio.ensure_future(self._compute(self._generation, seen))

    async def _compute(self, generation: int, seen: bool) -> None:
        habitat = self.habitat
        self.troubles.clear()
        self.busy = {}
        if habitat is None:
            self.stale.clear()
            self.values, self.light_findings, self.climate_findings = None, [], []
            self.ground_findings, self.ground, self.life = [], None, Life()
            self.days.clear()
            self.tell("findings")
            self.tell("life")
            self.building.clear()
            return
        try:
            self.doing("light", "light at the sites")
            if not seen:
                self._take_values(await self._glance(habitat))
            await asyncio.sleep(BREATH[0] * self._rush)
            found, self.study = await self._run("light", habitat=habitat)
            self.light_findings = found
            # Said before the light is done: at no moment may it look as if nothing were under way.
            self.doing("climate", f"a typical {self.season} day")
            self.done("light")
            self.tell("findings")
            await asyncio.sleep(BREATH[1] * self._rush)
            await self._climate(habitat)
            if habitat.ground.layers:
                self.doing("ground", "water in the ground")
            self.doing("life", "animals and plants")
            self.done("climate")
            self.tell("findings")
            self.building.replan()
            # What takes seconds begins once nothing has changed for a while; what to try comes first.
            await asyncio.sleep(PATIENCE)
            if any(f.state == "missed" and f.cure is None for f in self.light_findings):
                found = await self._run("cures", habitat=habitat, findings=self.light_findings)
                self.light_findings = found
                self.done("cures")
                self.tell("findings")
            await self._ground(habitat)
            await self._life(habitat)
            self.building.replan()
        except (JobStoppedError, asyncio.CancelledError):
            pass
        except JobFailedError as error:
            # What an engine refuses to say is said in its place; nothing older stands in for it.
            slot = "climate" if "light" not in self.busy else "light"
            if slot == "light":
                self.light_findings, self.study = [], None
            self.climate_findings, self.ground_findings, self.ground = [], [], None
            self.life = Life()
            self.days.clear()
            self.troubles[slot] = str(error)
            self.busy = {}
            self.stale -= {"light", "climate", "ground", "life"}
            self.tell("findings")
            self.tell("days")
            self.tell("life")
            self.tell("busy")

    async def _ground(self, habitat: Habitat) -> None:
        """Weeks of the ground's water."""
        found: list[Finding] = []
        water: Coupled | None = None
        if habitat.ground.layers:
            try:
                found, water = await self._run("ground", habitat=habitat, study=self.study)
            except JobFailedError as error:
                self.troubles["ground"] = str(error)
        self.ground_findings, self.ground = found, water
        self.done("ground")
        self.tell("findings")
        self.tell("ground")

    async def _life(self, habitat: Habitat) -> None:
        """Animals, plants and what lives in the ground, on what is known of light, days and ground."""
        generation, days = self._generation, {s: self.days[s] for s in CHECK_SEASONS}

        def taken(found: Life) -> None:
            if generation == self._generation:
                self.life = replace(found, habitat=habitat)
                self.tell("findings")
                self.tell("life")

        try:
            found = await self._run(
                "life", first=lambda found: taken(found.beside(self.life)), habitat=habitat,
                study=self.study, days=days, water=self.ground,
            )  # fmt: skip
        except JobFailedError as error:
            self.troubles["life"] = str(error)
            found = Life()
        taken(found)
        self.done("life")

    async def _climate(self, habitat: Habitat) -> None:
        """Days of the season shown first, then the others that are needed; findings at the end."""
        done: set[str] = set()
        # A person may ask for another season while these are run.
        while left := [
            s for s in (self.season, *CHECK_SEASONS, *self.wanted_seasons) if s not in done
        ]:
            self.doing("climate", f"a typical {left[0]} day")
            await self._day(habitat, left[0])
            done.add(left[0])
        days = {s: self.days[s] for s in CHECK_SEASONS}
        self.climate_findings = await self._run(
            "climate_findings", habitat=habitat, study=self.study, days=days
        )

    async def _day(self, habitat: Habitat, season: str) -> None:
        """A season's day: the first one after a change is shown while it settles."""
        generation = self._generation

        def taken(run: ClimateRun, settling: bool) -> None:
            if generation != self._generation:
                return
            self.days[season] = run
            self.old_days.discard(season)
            (self.settling.add if settling else self.settling.discard)(season)
            self.tell("days")

        run = await self._run("day", first=lambda run: taken(run, True), habitat=habitat,
                              study=self.study, season=season)  # fmt: skip
        taken(run, False)

    async def _run(
        self, job: str, *, first: Callable[[Any], None] | None = None, **arguments: Any
    ) -> Any:
        def told(text: str, answer: Any) -> None:
            self.doing(job if job not in ("day", "climate_findings") else "climate", text)
            if answer is not None and first is not None:
                first(answer)

        return await self.engines.run(self.id, job, told=told, **arguments)

    def doing(self, slot: str, text: str) -> None:
        """Say what is under way."""
        if self.busy.get(slot) != text:
            self.busy[slot] = text
            self.tell("busy")

    def done(self, slot: str) -> None:
        """Say that it is not under way any more."""
        self.busy.pop(slot, None)
        self.stale.discard(slot)
        self.tell("busy")

    async def show_season(self, season: str) -> None:
        """Show a season; its day is run if it is not there."""
        self.season = season
        if season in self.days and season not in self.old_days:
            self.tell("days")
            return
        self.wanted_seasons.add(season)
        waited_for = {"light", "climate"} & set(self.busy)
        if not waited_for and self.habitat is not None and self.study is not None:
            try:
                self.doing("climate", f"a typical {season} day")
                await self._day(self.habitat, season)
            except JobStoppedError:
                pass
            except JobFailedError as error:
                self.troubles["climate"] = str(error)
            self.done("climate")
        self.tell("days")

    async def run_drills(self) -> None:
        """Follow every fault; this takes a while, and can be stopped with `stop`."""
        if self.habitat is None or self.study is None:
            return
        self.doing("drills", "what fails, what follows")
        try:
            self.drills = await self._run("drills", habitat=self.habitat, study=self.study)
            self.troubles.pop("drills", None)
        except JobStoppedError:
            pass
        except JobFailedError as error:
            self.troubles["drills"] = str(error)
        self.done("drills")
        self.tell("drills")

    def stop(self, slot: str) -> None:
        """Let go of work under way."""
        self.engines.stop(self.id, slot)

    def end(self) -> None:
        """Nobody needs this desk any more; the draft stays on disk."""
        if self._work is not None:
            self._work.cancel()
        self.engines.stop(self.id)

    # -- lamps through the day ---------------------------------------------------------------

    def shares(self, hour: float | None) -> list[float]:
        """Share of full of each lamp at an hour of the season's day, all on where there is none:
        from the day's run, and from the lamps' hours while there is no run."""
        habitat = self.habitat
        if habitat is None or hour is None:
            return [1.0] * len(habitat.lamps if habitat else ())
        run = self.days.get(self.season)
        if run is not None and tuple(run.lamp_names) == tuple(x.name for x in habitat.lamps):
            # A row tells the time since the one before it.
            row = min(int((run.hours < hour + 1e-9).sum()), len(run.hours) - 1)
            found = [float(v) for v in run.lamps[row]]
            return [v if math.isfinite(v) else 0.0 for v in found]
        from loamwright.engine.climate.schedule import lamp_hours

        minute = min(int(hour * 60), 1439)
        schedule = habitat.schedule
        hours = schedule.hours(self.season)
        return [float(lamp_hours(x, schedule, hours)[minute]) for x in habitat.lamps]


def _same_light(guess: Habitat | None, real: Habitat | None) -> bool:
    return guess is not None and real is not None and guess.lamps == real.lamps


def set_value(desk: Desk, loc: Loc, value: Any) -> Callable[[], None]:
    """The action that gives a place another value, or takes it out where there is none."""
    draft = desk.draft

    def action() -> None:
        if value is None:
            if draft.value(loc) is not None:
                draft.remove(loc)
            else:
                draft.forget(editing.field_name(loc))
        else:
            draft.set(loc, value)

    return action
