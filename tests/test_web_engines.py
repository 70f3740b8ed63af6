"""Jobs of the engine processes in their order, and changes of a desk in theirs."""

from __future__ import annotations

import asyncio
import shutil
import threading
from collections import deque
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loamwright.editing import Draft
from loamwright.web import engine_work, engines
from loamwright.web.desk import Desk, set_value

EXAMPLES = Path(__file__).parents[1] / "src/loamwright/data/examples"


class Pipe:
    """The far end of an engine's pipe: what is said to it, and what it answers."""

    def __init__(self, *messages: Any) -> None:
        self.said, self.heard = deque(messages), []

    def poll(self) -> bool:
        return bool(self.said)

    def recv(self) -> Any:
        if not self.said:
            raise EOFError
        return self.said.popleft()

    def send(self, message: Any) -> None:
        self.heard.append(message)


def job(number: int, name: str) -> Any:
    return ("job", number, name, {})


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    def slow(shop: Any, note: Any) -> str:
        note("first part")
        note("second part", {"so": "far"})
        return "slow"

    jobs = {"light": slow, "glance": lambda shop, note: "quick", "broken": lambda shop, note: 1 / 0}
    monkeypatch.setattr(engine_work, "JOBS", jobs)


def served(pipe: Pipe) -> list[Any]:
    engine_work.serve(pipe)
    return pipe.heard


@pytest.mark.usefixtures("made_up")
def test_quick_jobs_go_first_and_between_the_parts_of_slow_ones() -> None:
    pipe = Pipe(job(1, "light"), job(2, "glance"))
    assert [m[:2] for m in served(pipe) if m[0] == "done"] == [("done", 2), ("done", 1)]
    # One that comes while the slow one is under way does not wait for its end.
    pipe = Pipe(job(1, "light"))
    begun = pipe.send

    def send(message: Any) -> None:
        begun(message)
        if message == ("note", 1, ("first part", None)):
            pipe.said.append(job(2, "glance"))

    pipe.send = send  # type: ignore[method-assign]
    assert served(pipe) == [
        ("note", 1, ("first part", None)), ("done", 2, "quick"),
        ("note", 1, ("second part", {"so": "far"})), ("done", 1, "slow"),
    ]  # fmt: skip


@pytest.mark.usefixtures("made_up")
def test_what_nobody_wants_is_let_go_and_a_fault_ends_nothing() -> None:
    heard = served(Pipe(job(1, "broken"), job(2, "light"), ("stop", 2), job(3, "light")))
    assert [m[:2] for m in heard if m[0] != "note"] == [("broken", 1), ("stopped", 2), ("done", 3)]
    assert "ZeroDivisionError" in heard[0][2]


def test_processes_wait_for_the_first_page(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Any] = []
    monkeypatch.setattr(engines, "STAGGER", 0.0)
    monkeypatch.setattr(engines._Process, "start", lambda self: None)
    monkeypatch.setattr(engines._Process, "send", lambda self, message: asked.append(message[2]))

    async def people() -> None:
        made = engines.Engines()
        running = asyncio.ensure_future(made.run("desk", "glance"))
        await asyncio.sleep(0.1)
        assert asked == []
        made.release()
        await asyncio.sleep(0.1)
        assert asked == ["glance"]
        running.cancel()

    asyncio.run(people())


class SlowLight:
    """Engines whose light takes a while and whose other work never ends."""

    async def run(self, desk: str, what: str, **how: Any) -> Any:
        await asyncio.sleep(0.1 if what == "glance" else 60)
        return {"of": how["habitat"].lamps}

    def stop(self, *_: Any) -> None:
        return


def test_a_save_takes_along_the_change_before_it(tmp_path: Path) -> None:
    """Light is shown before the text is changed: a save asked for meanwhile waits for the change."""
    path = tmp_path / "forest-edge.yaml"
    path.write_text((EXAMPLES / "forest-edge.yaml").read_text())
    shutil.copy(EXAMPLES / "forest-edge-prices.csv", path.parent)

    async def person() -> None:
        desk = Desk(Draft(path, folder=tmp_path / "state"), SlowLight(), "me")  # type: ignore[arg-type]
        habitat = desk.habitat
        assert habitat is not None
        lamp = replace(habitat.lamps[0], dim=0.37)
        guess = replace(habitat, lamps=(lamp, *habitat.lamps[1:]))
        change = asyncio.ensure_future(
            desk.edit(set_value(desk, ("lamps", 0, "dim"), "37 %"), guess=guess)
        )
        await asyncio.sleep(0.02)
        await asyncio.gather(change, desk.edit(desk.draft.save))
        assert desk.values == {"of": guess.lamps}
        desk.end()

    asyncio.run(person())
    assert "dim: 37 %" in path.read_text()


def test_what_was_ended_is_not_begun_again() -> None:
    gate = threading.Event()
    gate.set()
    process = engines._Process("light", gate)
    process.end()
    process.start()
    assert process._process is None
    process.send(("stop", 1))  # nothing to stop is no error
    with pytest.raises(OSError, match="ends"):
        process.send(("job", 1, "glance", {}))

    async def asked() -> None:
        with pytest.raises(engines.ProcessEndedError):
            await process.ask(1, "glance", {}, lambda *_: None)

    asyncio.run(asked())
