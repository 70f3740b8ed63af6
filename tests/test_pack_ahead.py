"""Pictures drawn ahead: kept once, and drawn by the pack itself where nobody else did."""

from __future__ import annotations

import multiprocessing
from pathlib import Path
from types import SimpleNamespace

import pytest

from loamwright import pack_ahead, workflow
from loamwright.report.overview import Picture

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


@pytest.fixture(scope="module")
def habitat():
    return workflow.read(FOLDER / "rain-glass.yaml")


def test_a_picture_is_made_once_and_comes_back_as_it_was(habitat, tmp_path: Path) -> None:
    made = []

    def make():
        made.append(1)
        return [("a.svg", Picture(b"<svg/>", "svg", "told", alt="seen", lead=True))]

    first = pack_ahead.kept_pictures(workflow.results_in(tmp_path), habitat, "us", "test", make)
    again = pack_ahead.kept_pictures(workflow.results_in(tmp_path), habitat, "us", "test", make)
    assert first == again
    assert made == [1]
    pack_ahead.kept_pictures(workflow.results_in(tmp_path), habitat, "metric", "test", make)
    assert made == [1, 1]


@pytest.mark.parametrize(
    ("folder", "cores", "daemon"), [(False, 2, False), (True, 1, False), (True, 2, True)]
)
def test_nothing_is_begun_where_it_cannot_help(
    habitat, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder, cores, daemon
) -> None:
    def never(*_: object) -> None:
        raise AssertionError("a process was begun")

    monkeypatch.setattr(pack_ahead.os, "cpu_count", lambda: cores)
    monkeypatch.setattr(multiprocessing, "current_process", lambda: SimpleNamespace(daemon=daemon))
    monkeypatch.setattr(multiprocessing, "get_context", never)
    pack_ahead.begin(habitat, "metric", tmp_path if folder else None)()


def test_what_a_broken_process_left_undone_is_drawn_all_the_same(habitat, tmp_path: Path) -> None:
    """A folder that cannot be written: the other process keeps nothing."""
    wall = tmp_path / "kept"
    wall.write_text("no folder")
    pack_ahead.begin(habitat, "metric", wall)()
    assert pack_ahead.cover(habitat, "metric", workflow.results_in(wall)).startswith(b"\xff\xd8")
