"""The frame of a top that is held everywhere: its size by hand, its members, its place in the plan."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.engine.ground.lamp_mass import lamp_mass
from loamwright.engine.ground.outlook import amounts
from loamwright.files.reader import read_habitat
from loamwright.habitat.habitat import Habitat
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.findings import strength_findings
from loamwright.plan.frames import SIZES, frame_lines, frame_of, frame_screws, tube_inertia
from loamwright.plan.service_holes import services_of
from loamwright.plan.strength import strength_of
from loamwright.report.frame_blocks import frame_table
from loamwright.report.strength_blocks import strength_tables
from loamwright.report.words import word

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


@cache
def example(name: str) -> Habitat:
    return read_habitat(FOLDER / f"{name}.yaml")


def top(habitat: Habitat, **changes: object) -> Habitat:
    box = habitat.enclosure
    made = tuple(replace(p, **changes) if p.side == "top" else p for p in box.panels)
    return replace(habitat, enclosure=replace(box, panels=made))


def test_a_tubes_stiffness_is_that_of_two_squares() -> None:
    # (25^4 - 21^4) / 12 mm4
    assert tube_inertia(0.025, 0.002) == pytest.approx((25**4 - 21**4) / 12 * 1e-12)


def test_the_smallest_tube_that_is_stiff_enough_is_taken() -> None:
    habitat = example("forest-edge")
    frame = frame_of(habitat)
    panel = habitat.enclosure.panel("top")
    lamps = sum(lamp_mass(x) for x in habitat.lamps)
    bent = []
    for size, wall in SIZES:
        # Half of 152 x 77.6 cm of top and of all lamps on 150 cm, and the bar itself.
        mass = 0.5 * (1.52 * 0.776 * panel.thickness * panel.material.density + lamps)
        own = 2700.0 * (size**2 - (size - 2 * wall) ** 2)
        inertia = (size**4 - (size - 2 * wall) ** 4) / 12
        bent.append(5 * 9.80665 * (mass / 1.5 + own) * 1.5**4 / (384 * 70e9 * inertia))
    wanted = next(n for n, x in enumerate(bent) if x <= 1.5 / 300)
    assert (frame.size, frame.wall) == SIZES[wanted] == (0.025, 0.002)
    assert frame.deflection == pytest.approx(bent[wanted])
    assert bent[wanted - 1] > frame.allowed == pytest.approx(0.005)


def test_its_members_lie_on_the_edges_and_beside_the_window_and_miss_the_fan() -> None:
    frame = frame_of(example("forest-edge"))
    found = {m.name.removeprefix("frame, "): m for m in frame.members}
    assert [round(1000 * m.length) for m in found.values()] == [1500, 1500, 700, 700, 1450, 1450]
    before, behind = found["before lamp window"], found["behind lamp window"]
    assert before.high[1] == pytest.approx(0.27)
    # The fan begins at 63 - 4.6 cm: the bar is drawn over the window's rim by 13 mm,
    # 2 mm of which keep it off the fan's frame.
    assert behind.low[1] == pytest.approx(0.557)
    assert behind.high[1] == pytest.approx(0.582)
    assert not any(m.crosses for m in frame.members)
    assert frame.corners == 8
    for s in services_of(example("forest-edge")):
        for m in frame.members if s.side == "top" else ():
            gaps = [max(m.low[k] - s.at[k], s.at[k] - m.high[k]) - s.diameter / 2 for k in (0, 1)]
            assert max(gaps) > 0.0


def test_a_bar_that_overhangs_is_screwed_where_it_bears_and_says_why() -> None:
    habitat = example("forest-edge")
    found = {m.name.removeprefix("frame, "): m for m in frame_of(habitat).members}
    behind = found["behind lamp window"]
    # Window to 570 mm, fan from 584 on, 2 mm off it: 12 mm of panel,
    # the screws in its middle; 16 mm of front.
    assert behind.line == pytest.approx((0.570 + 0.582) / 2)
    assert behind.overhangs == pytest.approx(0.013)
    assert (behind.over, behind.beside) == ("lamp window", ("exhaust",))
    for name, m in found.items():
        if name != "behind lamp window":
            k = 1 if m.across else 0
            assert m.line == pytest.approx((m.low[k] + m.high[k]) / 2)
            assert m.overhangs == 0.0
    rows = {r[0]: r for r in frame_table(habitat, "metric").rows}
    row = rows["frame, behind lamp window"]
    assert (row[2], row[3]) == ("585.5 from the front", "592 from the front")
    assert "over the rim of 'lamp window' by 13, as exhaust leaves no more room" in row[4]
    # Without the fan it bears on its whole width.
    alone = replace(habitat, fans=tuple(f for f in habitat.fans if f.name != "exhaust"))
    bears = next(m for m in frame_of(alone).members if m.name == behind.name)
    assert (bears.overhangs, bears.low[1]) == (0.0, pytest.approx(0.570))


def test_a_fan_that_leaves_no_air_to_a_bar_is_told() -> None:
    """Its frame begins at 58 cm: 10 mm of panel beside the window, and nothing between."""
    habitat = example("forest-edge")
    fans = tuple(
        replace(f, at=(f.at[0], 0.626)) if f.name == "exhaust" else f for f in habitat.fans
    )
    close = replace(habitat, fans=fans)
    found = {m.name: m for m in frame_of(close).members}
    assert found["frame, behind lamp window"].near == ("exhaust",)
    row = next(r for r in frame_table(close, "metric").rows if r[0] == "frame, behind lamp window")
    assert "nearer than 2 to the frame of exhaust: file the bar there, or move the fan" in row[4]
    assert not any(m.near for m in frame_of(habitat).members)


def test_a_bar_between_two_windows_names_the_other_one() -> None:
    found = {m.name: m for m in frame_of(example("school-meadow")).members}
    shared = found["frame, behind front light window"]
    assert (shared.over, shared.beside) == ("lamp window", ("front light window",))
    # 10 mm of panel between them, from 270 to 280 mm.
    assert shared.line == pytest.approx(0.275)


def test_windows_side_by_side_share_a_bar() -> None:
    frame = frame_of(example("school-meadow"))
    assert len(frame.members) == 4 + 4  # six rims, those of two narrow strips are one
    assert (frame.size, frame.wall) == (0.030, 0.002)


def test_it_is_bought_cut_and_screwed() -> None:
    habitat = example("forest-edge")
    frame = frame_of(habitat)
    tube, corners = frame_lines(habitat)
    assert tube.amount == pytest.approx(2 * (1.50 + 0.70 + 1.45))
    assert (tube.key, corners.amount) == ("fixings/aluminium-tube-25x25x2mm", 8)
    cuts = cut_plan(habitat)
    pieces = [p.name for b in cuts.bars if b.key == frame.key for p in b.pieces]
    assert sorted(pieces) == sorted(m.name for m in frame.members)
    assert len(next(p for p in cuts.parts if p.name == "top").marks) == 6
    screws = {s.name: s for s in frame_screws(habitat)}
    # 1.40 m in steps of 20 cm at most; through 10 mm of board and 2 mm of wall.
    assert (screws["frame, front"].count, screws["frame, front"].screw.size) == (8, "3.5 x 16 mm")
    assert screws["frame of the top"].count == 32


@pytest.mark.parametrize("system", ["metric", "us"])
def test_it_is_told(system: str) -> None:
    habitat = example("forest-edge")
    table = frame_table(habitat, system)
    assert len(table.rows) == 6
    assert all(len(row) == len(table.columns) for row in table.rows)
    assert ("3.88 mm over 150 cm" in table.note) == (system == "metric")
    tables = strength_tables(habitat, strength_of(habitat, amounts(habitat)), system)
    loads = next(t for t in tables if t.title == "Panels under load")
    assert {row[4] for row in loads.rows if row[0].startswith("top")} == {"its frame"}


def test_a_top_held_on_its_edges_has_none() -> None:
    plain = top(example("forest-edge"), held="four")
    assert frame_of(plain) is None
    assert frame_lines(plain) == [] == list(frame_screws(plain))
    assert not frame_table(plain, "metric").rows
    assert frame_of(top(example("forest-edge"), doors=1)) is None


def test_a_frame_that_is_not_stiff_enough_is_told() -> None:
    heavy = top(example("forest-edge"), thickness=0.50)
    frame = frame_of(heavy)
    assert (frame.size, frame.holds) == (0.040, False)
    assert "too far" in frame_table(heavy, "metric").note
    strength = strength_of(example("forest-edge"), amounts(example("forest-edge")))
    (found,) = [f for f in strength_findings(heavy, strength) if f.site == "frame of the top"]
    assert str(found.state) == "missed"
    assert "frame of the top" in word(found, heavy).where
