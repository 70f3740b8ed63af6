"""Engine processes seen from the pages: jobs are asked for, told of, and let go of.

Three processes: ``light`` answers edits, ``climate`` runs days, ``paper`` draws, follows the ground
and looks for cures. A later job of the same kind for the same desk takes the place of an earlier one.
"""

from __future__ import annotations

import asyncio
import gc
import itertools
import logging
import multiprocessing as mp
import os
import threading
from collections.abc import Callable
from typing import Any

from loamwright.web import engine_work

NICE = {"light": 0, "climate": 8, "paper": 12}
"""What a person waits for comes first."""

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "OMP_NUM_THREADS")
"""What libraries of matrix products take their number of threads from."""

log = logging.getLogger("loamwright.web")

PLACES = {"glance": "light", "hours": "light", "light": "light", "surfaces": "light", "day": "climate",
          "climate_findings": "climate", "drills": "climate", "plane": "paper", "cures": "paper",
          "ground": "paper", "ground_charts": "paper", "pages": "paper",
          "life": "paper", "crown_spot": "light",
          "plan": "paper", "plan_drawings": "paper", "cut_files": "paper", "pack": "paper",
          "fields_file": "paper"}  # fmt: skip
"""Which process does which job."""


PATIENCE = 3.0
"""Seconds that jobs wait at most for the first page to be drawn, before they are begun."""

STAGGER = 1.0
"""Seconds from the start of the light's process to that of the climate's."""

Told = Callable[[str, Any], None]
"""Is told what is being done, and given a first answer where there is one (else None)."""


class JobStoppedError(Exception):
    """The job was let go of before it was done."""


class JobFailedError(Exception):
    """The engine says why there is no answer."""


class ProcessEndedError(JobFailedError):
    """The engine process ended under the job."""


class _Process:
    """One engine process, started when first needed and again if it dies."""

    def __init__(self, name: str, gate: threading.Event) -> None:
        self.name, self._gate = name, gate
        self._lock = threading.Lock()
        self._ended = False
        self._process: Any = None
        self._pipe: Any = None
        self._open: dict[int, tuple[asyncio.AbstractEventLoop, asyncio.Future[Any], Told]] = {}

    def start(self) -> None:
        """Make sure that it runs, unless it was ended for good: one begun while the server ends would
        find nobody to tell it what to do."""
        with self._lock:
            if self._ended:
                return
            if self._process is not None and self._process.is_alive():
                return
            # Several engines share the cores: threads of one product would wait for each other.
            for name in ONE_THREAD:
                os.environ.setdefault(name, "1")
            context = mp.get_context("spawn")
            self._pipe, other = context.Pipe()
            self._process = context.Process(
                target=engine_work.serve,
                args=(other, NICE[self.name]),
                name=f"loamwright {self.name}",
                daemon=True,
            )
            self._process.start()
            other.close()
            threading.Thread(target=self._listen, args=(self._pipe,), daemon=True).start()

    def send(self, message: tuple[Any, ...]) -> None:
        """Say something to it, from any thread; raises `OSError` where it has ended."""
        self.start()
        with self._lock:
            if self._ended:
                if message[0] != "stop":
                    raise OSError("the server ends")
                return
            try:
                self._pipe.send(message)
            except (OSError, ValueError):
                if message[0] != "stop":  # there is nothing to stop in a process that has ended
                    raise

    def ask(
        self, number: int, name: str, arguments: dict[str, Any], told: Told
    ) -> asyncio.Future[Any]:
        """Ask for a job from the pages' loop."""
        loop = asyncio.get_running_loop()
        future = loop.create_future()
        self._open[number] = (loop, future, told)

        def go() -> None:
            self._gate.wait(PATIENCE)
            try:
                self.send(("job", number, name, arguments))
            except (OSError, ValueError) as error:
                loop.call_soon_threadsafe(self._end, number, "ended", str(error))

        loop.run_in_executor(None, go)
        return future

    def _listen(self, pipe: Any) -> None:
        while True:
            try:
                kind, number, data = pipe.recv()
            except (EOFError, OSError):
                break
            entry = self._open.get(number)
            if entry is None:
                continue
            try:
                if kind == "note":
                    entry[0].call_soon_threadsafe(entry[2], *data)
                else:
                    entry[0].call_soon_threadsafe(self._end, number, kind, data)
            except RuntimeError:  # the loop has ended
                return
        for number, (loop, _, _) in list(self._open.items()):
            if not loop.is_closed():
                loop.call_soon_threadsafe(self._end, number, "ended", "the engine process ended")

    def _end(self, number: int, kind: str, data: Any) -> None:
        entry = self._open.pop(number, None)
        if entry is None or entry[1].done():
            return
        if kind == "done":
            entry[1].set_result(data)
        elif kind == "stopped":
            entry[1].set_exception(JobStoppedError())
        elif kind == "ended":
            entry[1].set_exception(ProcessEndedError(data))
        else:
            if kind == "broken":
                log.error("engine process %s: %s", self.name, data)
                data = "the engine stopped on a fault of its own; the log has it"
            entry[1].set_exception(JobFailedError(data))

    def stop(self, number: int) -> None:
        """Let go of a job."""
        entry = self._open.get(number)
        if entry is not None:
            asyncio.get_running_loop().run_in_executor(None, self.send, ("stop", number))

    def end(self) -> None:
        """End the process for good."""
        with self._lock:
            self._ended = True
            if self._process is not None:
                self._process.terminate()
                self._process.join(2)
                if self._process.is_alive():
                    self._process.kill()
                self._process = None


class Engines:
    """All engine processes of one server."""

    def __init__(self) -> None:
        self._gate = threading.Event()
        self._processes = {
            name: _Process(name, self._gate) for name in ("light", "climate", "paper")
        }
        self._numbers = itertools.count(1)
        self._latest: dict[tuple[str, str], tuple[int, str]] = {}

    async def run(
        self, desk: str, job: str, *, slot: str = "", told: Told | None = None,
        **arguments: Any,
    ) -> Any:  # fmt: skip
        """A job's answer; ``slot`` names what it takes the place of (its own kind when left out).

        Raises `JobStoppedError` where a later one took its place, `JobFailedError` with the
        engine's reason.
        """
        number, place = next(self._numbers), PLACES[job]
        key = (desk, slot or job)
        before = self._latest.get(key)
        if before is not None:
            self._processes[before[1]].stop(before[0])
        self._latest[key] = (number, place)
        process = self._processes[place]
        try:
            try:
                answer = await process.ask(number, job, arguments, told or _quiet)
            except ProcessEndedError:
                # Killed from outside, for want of memory perhaps: a new one is asked once more.
                answer = await process.ask(number, job, arguments, told or _quiet)
        finally:
            if self._latest.get(key) == (number, place):
                del self._latest[key]
        return answer

    def latest(self, desk: str, slot: str) -> bool:
        """Whether a job of this slot is under way."""
        return (desk, slot) in self._latest

    def stop(self, desk: str, slot: str | None = None) -> None:
        """Let go of a desk's jobs, or of those of one slot."""
        for (whose, kind), (number, place) in list(self._latest.items()):
            if whose == desk and slot in (None, kind):
                self._processes[place].stop(number)

    def release(self) -> None:
        """Let the processes start, and memory be tidied up: the first page is drawn, and no longer
        waits for a core."""
        if self._gate.is_set():
            return
        self._gate.set()
        gc.freeze()
        gc.enable()
        threading.Thread(target=self._processes["light"].start, daemon=True).start()
        # The climate's is asked once the light is there; before, it would only take its core.
        later = threading.Timer(STAGGER, self._processes["climate"].start)
        later.daemon = True
        later.start()

    def end(self) -> None:
        """End all processes."""
        for process in self._processes.values():
            process.end()


def _quiet(_: str, __: Any) -> None:
    return
