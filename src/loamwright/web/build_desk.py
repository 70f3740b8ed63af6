"""The plan of the build on a desk: when it is made anew, and the pack that is made of it."""

from __future__ import annotations

import asyncio
import datetime
import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from loamwright import __version__
from loamwright.engine.unlit import costless
from loamwright.web.build_work import Known, Planned
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.workflow import CHECK_SEASONS

if TYPE_CHECKING:
    from loamwright.editing import Draft
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.findings import Finding
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.habitat.habitat import Habitat
    from loamwright.web.engines import Engines
    from loamwright.web.life_work import Life

QUIET = 0.3
"""Seconds without a change before the build is planned with what is known."""

ENGINES = ("light", "climate", "ground", "life")
"""Whose results the plan rests on."""


class Desk(Protocol):
    """The desk that it stands on, as far as it is looked at here."""

    id: str
    draft: Draft
    engines: Engines
    busy: dict[str, str]
    troubles: dict[str, str]
    study: bytes | None
    days: dict[str, ClimateRun]
    ground: Coupled | None
    life: Life
    drills: list[Any] | None

    @property
    def habitat(self) -> Habitat | None: ...  # noqa: D102
    @property
    def findings(self) -> list[Finding]: ...  # noqa: D102
    def doing(self, slot: str, text: str) -> None: ...  # noqa: D102
    def done(self, slot: str) -> None: ...  # noqa: D102
    def tell(self, what: str) -> None: ...  # noqa: D102


@dataclass(frozen=True)
class Packed:
    """A pack that was made: its bytes, the draft's ``text`` it is of, and ``told`` what it is."""

    content: bytes
    text: str
    told: str


class Building:
    """Planning and packing at one desk; of several plans asked for the latest is shown."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.planned = Planned()
        self.packed: Packed | None = None
        self.system = ""
        self._number = 0
        self._task: asyncio.Task[None] | None = None
        self._pack: asyncio.Task[None] | None = None

    def settled(self) -> bool:
        """Whether all engines have said what they know of the habitat."""
        desk = self.desk
        return (not any(k in desk.busy for k in ENGINES) and desk.life.habitat is not None
                and desk.study is not None)  # fmt: skip

    def known(self) -> Known:
        """What the engines have said, nothing of it while they are at work on something newer."""
        desk = self.desk
        if not self.settled():
            return Known()
        days: dict[str, ClimateRun] = {s: desk.days[s] for s in CHECK_SEASONS if s in desk.days}
        # The build's own findings come of the plan and are not what it is made of.
        others = tuple(f for f in desk.findings if f.engine != "build")
        return Known(desk.study, days, desk.ground, desk.life, others)

    def wanted_system(self, system: str) -> None:
        """Units that amounts are counted out in (bags as sold); others make another plan."""
        if system != self.system:
            self.system = system
            if self.planned.plan is not None:
                self.replan()

    def clear(self) -> None:
        """There is no habitat to build."""
        self._number += 1
        self.planned = Planned()
        self.desk.tell("build")

    def replan(self) -> None:
        """Plan the build with what is known now."""
        if self._task is not None:
            self._task.cancel()
        self._number += 1
        self._task = asyncio.ensure_future(self._plan(self._number))

    async def _plan(self, number: int) -> None:
        desk = self.desk
        try:
            if not self.settled():
                await asyncio.sleep(QUIET)
            habitat = desk.habitat
            if habitat is None:
                return
            desk.doing("plan", "planning the build")
            found = await desk.engines.run(
                desk.id, "plan", habitat=habitat, known=self.known(),
                system=self.system or habitat.units,
            )  # fmt: skip
        except (JobStoppedError, asyncio.CancelledError):
            return
        except JobFailedError as error:
            if number == self._number:
                desk.troubles["plan"] = str(error)
                self.planned = Planned()
        else:
            if number != self._number:
                return
            desk.troubles.pop("plan", None)
            self.planned = found
        if number == self._number:
            desk.done("plan")
            desk.tell("findings")
            desk.tell("build")

    # -- the pack ----------------------------------------------------------------------------

    def pack(self, paper: str, date: tuple[int, int, int], system: str) -> None:
        """Make the pack in the background; `stop_pack` lets go of it."""
        self.stop_pack()
        self._pack = asyncio.ensure_future(self._make(paper, date, system))

    def stop_pack(self) -> None:
        """Let go of a pack that is being made."""
        if self._pack is not None:
            self._pack.cancel()
            self._pack = None
        self.desk.engines.stop(self.desk.id, "pack")
        self.desk.done("pack")

    async def _make(self, paper: str, date: tuple[int, int, int], system: str) -> None:
        desk, text, habitat = self.desk, self.desk.draft.text, self.desk.habitat
        if habitat is None or not self.settled():
            return
        known = self._all_known()
        try:
            desk.troubles.pop("pack", None)
            desk.doing("pack", "following what fails" if desk.drills is None else "planning")
            drills = await self._drills(habitat)
            content = await desk.engines.run(
                desk.id, "pack", told=lambda told, _: desk.doing("pack", told), habitat=habitat,
                known=known, drills=drills, system=system, paper=paper, date=date,
                checksum=hashlib.sha256(text.encode()).hexdigest(),
                made=f"loamwright {__version__}",
            )  # fmt: skip
        except (JobStoppedError, asyncio.CancelledError):
            return
        except JobFailedError as error:
            desk.troubles["pack"] = str(error)
        else:
            year, month, day = date
            told = f"{year:04d}-{month:02d}-{day:02d}, {'A4' if paper == 'a4' else 'Letter'}"
            self.packed = Packed(content, text, f"{told}, {len(content) / 1e6:.1f} MB")
        desk.done("pack")
        desk.tell("build")

    def _all_known(self) -> Known:
        known = self.known()
        return Known(known.study, known.days, known.water, known.life, tuple(self.desk.findings))

    async def _drills(self, habitat: Habitat) -> list[Any]:
        desk = self.desk
        if not habitat.sites:
            return []
        if desk.drills is None:
            desk.drills = await desk.engines.run(
                desk.id, "drills", slot="pack", habitat=habitat, study=desk.study,
                told=lambda told, _: desk.doing("pack", told),
            )  # fmt: skip
            desk.tell("drills")
        return desk.drills


def same_but_cost(before: Habitat | None, now: Habitat | None) -> bool:
    """Whether nothing but prices and the workshop differs, of which no engine's result depends."""
    return before is not None and now is not None and costless(before) == costless(now)


def day_of(text: str) -> tuple[int, int, int] | None:
    """Year, month and day of ``2027-03-01``, None where it is no day of a pack's cover."""
    try:
        found = datetime.date.fromisoformat(text)
    except ValueError:
        return None
    return (found.year, found.month, found.day) if 1980 <= found.year <= 2107 else None
