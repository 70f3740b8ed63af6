"""Wiring and misting line: loads once, rules by hand, routes by geometry, and what is said of them."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from bad_case import METRIC
from loamwright import workflow
from loamwright.cli import main
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.physics import circuits, nozzles
from loamwright.plan.build import build_of
from loamwright.plan.findings import build_findings, mist_findings, wiring_findings
from loamwright.plan.loads import devices_of, place_of, time_switches
from loamwright.plan.mist_line import FITTINGS, mist_line_of
from loamwright.plan.routes import cable_length, length_of, route
from loamwright.plan.wiring import wiring_of
from loamwright.report.mist_blocks import mist_line_tables
from loamwright.report.mist_drawing import flags_of, mist_drawing
from loamwright.report.strength_blocks import strength_tables
from loamwright.report.wiring_blocks import wiring_tables
from loamwright.report.wiring_drawing import wiring_drawing
from loamwright.report.words import word

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


@pytest.fixture(scope="module")
def forest():
    return read_habitat(FOLDER / "forest-edge.yaml")


@pytest.fixture(scope="module")
def dry():
    return read_habitat(FOLDER / "dry-rock.yaml")


def findings(habitat, need: str):
    line = mist_line_of(habitat)
    found = wiring_findings(wiring_of(habitat)) + (mist_findings(line) if line else [])
    return [f for f in found if f.need == need]


def states(habitat, need: str) -> list[str]:
    return [str(f.state) for f in findings(habitat, need)]


def test_everything_that_draws_current_is_there_once(forest):
    wiring = wiring_of(forest)
    names = [d.name for d in wiring.devices]
    assert len(names) == len(set(names))
    wanted = {x.name for x in (*forest.lamps, *forest.fans, *forest.controls)} | {"pump"}
    assert wanted <= set(names)
    fed = [name for c in wiring.channels for name in c.feeds]
    assert sorted(fed) == sorted(n for n in names if n in {r.device for r in wiring.runs})
    lamps = math.fsum(x.type.power for x in forest.lamps)
    assert wiring.power == pytest.approx(
        lamps + math.fsum(x.type.power for x in forest.fans) + forest.mist.pump
        + 3.0 * (len(forest.controls) + 4 + 1)  # four sets of hours, and the mist's
    )  # fmt: skip


def test_the_continuous_load_by_hand(dry):
    """Lamps all day: 54, 60, 60 and 50 W through drivers, 100 W of hot wire; a fan on its supply."""
    wiring = wiring_of(dry)
    drivers = (54 + 60 + 60 + 50 + 4 * 3.0) / (120 * 0.9)
    assert wiring.continuous == pytest.approx(drivers + 100 / 120 + 1.8 / 0.8 / (120 * 0.9))
    assert wiring.other == 0.0
    assert wiring.least == pytest.approx(1.25 * wiring.continuous)
    assert wiring.standard == 15.0


def test_what_goes_by_the_clock_has_a_switch_for_each_set_of_hours(forest, dry):
    """Three sets of lamp hours, and a fan by day whose supply stands behind a switch of its own."""
    uv, second, intake = ("uv",), ("second flood",), ("intake",)
    by_day = ("plants left", "plants right", "front bar")
    switches = time_switches(forest)
    assert [names for _, names in switches] == [uv, by_day, second, intake]
    channels = {c.by: c for c in wiring_of(forest).channels}
    for name, fed in switches:
        assert channels[name].feeds == fed
    # Lamps that go up and down need more than a switch.
    told = [(name, channels[name].kind) for name, _ in switches]
    assert told == [("time switch 1", "time"), ("dimming timer channel 1", "dims"),
                    ("dimming timer channel 2", "dims"), ("time switch 2", "time")]  # fmt: skip
    assert [c for c in channels if c.startswith("always on")] == []

    fans = tuple(
        replace(x, control="", on=(n * 3600.0, 72000.0)) for n, x in enumerate(forest.fans)
    )
    apart = time_switches(replace(forest, lamps=(), fans=fans))
    assert [names for _, names in apart] == [("intake",), ("exhaust",)]

    one = replace(dry, lamps=tuple(x for x in dry.lamps if x.name != "uv"))
    assert [name for name, _ in time_switches(one)] == ["dimming timer channel"]
    still = replace(one, schedule=replace(one.schedule, ramp=0.0))
    assert [name for name, _ in time_switches(still)] == ["time switch"]
    free = [x for x in one.lamps if not x.control]
    mixed = tuple(replace(x, dimmable=n > 0) for n, x in enumerate(free))
    assert len(mixed) > 1
    names = [name for name, _ in time_switches(replace(one, lamps=mixed))]
    assert sorted(names) == ["dimming timer channel", "time switch"]
    hours = (25200.0, 68400.0)
    alike = tuple(
        replace(x, follows_day=False, on=hours, control="", dimmable=False) for x in forest.lamps
    )
    always = tuple(replace(x, on=(0.0, 0.0), control="") for x in forest.fans)
    simple = replace(forest, lamps=alike, fans=always)
    assert [names for _, names in time_switches(simple)] == [tuple(x.name for x in forest.lamps)]
    assert "always on, fans" in [c.by for c in wiring_of(simple).channels]


def test_too_much_on_one_circuit_is_missed(forest):
    full = replace(forest, mains=replace(forest.mains, others=3000.0))
    (found,) = findings(full, "circuit-load")
    assert str(found.state) == "missed"
    assert "it takes 2 circuits" in word(found, full).why
    assert "licensed electrician" in word(found, full).source


def test_supplies_are_the_next_size_with_reserve(forest):
    supplies = {s.feeds: s for s in wiring_of(forest).supplies}
    assert supplies[("pump",)].size == 36.0  # 24 W / 0.8 is 30 W
    assert all(s.load <= 0.8 for s in supplies.values())
    small = replace(forest, mains=replace(forest.mains, pump_supply=24.0))
    assert states(small, "supply-reserve") == ["missed"]
    assert not any(x.key == "supplies/24v-24w" for x in wiring_of(small).lines)


def test_a_route_runs_along_edges_and_takes_its_length(forest):
    box, board = forest.enclosure, forest.mains.board
    lamp = next(x for x in forest.lamps if x.name == "heater")
    way = route(box, lamp.at, board)
    for a, b in itertools.pairwise(way):
        assert sum(abs(x - y) > 1e-9 for x, y in zip(a, b, strict=True)) == 1
    x, y, z = lamp.at
    _, deep, high = box.inside
    by_hand = (high - z) + (deep - y) + (board[0] - x) + (deep - board[1]) + (high - board[2])
    assert length_of(way) == pytest.approx(by_hand)
    assert cable_length(way) == pytest.approx(math.ceil(10 * (1.1 * by_hand + 0.3)) / 10)


def test_the_drop_is_that_of_the_cable_chosen(forest):
    for run in wiring_of(forest).runs:
        if run.current:
            warm = circuits.warm_resistance(run.cable.resistance, 313.15)
            factor = run.drop * run.voltage / (2 * run.current * run.length * warm)
            assert factor == pytest.approx(1.0) or factor == pytest.approx(0.9)
            assert run.drop <= (0.05 if run.low else 0.03)


def test_a_far_outlet_takes_a_thicker_cable(forest):
    near = {r.device: r for r in wiring_of(forest).runs}["pump"]
    away = replace(forest.mains, board=(30.0, 0.6, 0.9), pump=12.0)
    far = {r.device: r for r in wiring_of(replace(forest, mains=away)).runs}["pump"]
    assert far.cable.section > near.cable.section
    farther = replace(forest.mains, board=(200.0, 0.6, 0.9), pump=12.0)
    assert "missed" in states(replace(forest, mains=farther), "voltage-drop")


def test_the_lead_is_never_thinner_than_its_fuse(forest, dry):
    for habitat in (forest, dry):
        lead = next(r for r in wiring_of(habitat).runs if r.device == "board")
        assert lead.cable.bears >= habitat.mains.fuse
    assert next(r for r in wiring_of(dry).runs if r.device == "board").cable.gauge == 14


def test_places_by_geometry(forest):
    nozzle = forest.mist.nozzles[1]
    x, y, z = nozzle.at
    assert place_of(forest, (x, y, z - 0.4)) == "spray"
    assert place_of(forest, (x, 0.02, z)) == "damp"
    assert place_of(forest, (0.75, 0.42, 1.45)) == "window"
    assert place_of(forest, (0.75, 0.05, 1.45)) == "outside"
    assert place_of(replace(forest, mist=None), (x, y, z - 0.4)) == "dry"


def test_a_lamp_in_the_wet_needs_protection(forest, dry):
    def wear(code: str):
        return replace(forest, lamps=tuple(replace(x, protection=code) for x in forest.lamps))

    assert states(forest, "ingress") == ["met"]
    assert set(states(wear("IP20"), "ingress")) == {"missed"}
    assert set(states(wear(""), "ingress")) == {"not_known"}
    assert set(states(wear("IP6X"), "ingress")) == {"not_known"}
    assert set(states(wear("IP67"), "ingress")) == {"met"}
    assert states(dry, "ingress") == []
    assert {d.place for d in devices_of(dry)} <= {"dry", "outside"}


def test_nozzles_get_what_the_pump_leaves_them(forest):
    line = mist_line_of(forest)
    assert line is not None
    k = nozzles.nozzle_constant(forest.mist.nozzles[0].type.flow, 700e3)
    for mouth in line.mouths:
        assert mouth.pressure == pytest.approx(
            line.pump - mouth.lost - nozzles.head(mouth.rise), rel=1e-6
        )
        assert mouth.flow == pytest.approx(k * math.sqrt(mouth.pressure), rel=1e-6)
    seconds = math.fsum(t for _, t in forest.mist.times)
    assert line.a_day == pytest.approx(line.flow * seconds)
    assert line.lasts == pytest.approx(86400.0 * forest.mist.tank / line.a_day)
    first = line.mouths[0]
    trunk = length_of(line.trunk[:5])
    by_hand = FITTINGS * (
        nozzles.line_loss(line.flow, line.bore, trunk)
        + nozzles.line_loss(first.flow, line.bore, length_of(first.way))
    )
    assert first.lost == pytest.approx(by_hand, rel=1e-4)


def test_a_weak_pump_and_a_thin_line_are_missed(forest):
    assert states(forest, "nozzle-pressure") == ["met"]
    weak = replace(forest, mist=replace(forest.mist, pressure=300e3))
    assert set(states(weak, "nozzle-pressure")) == {"missed"}
    thin = replace(forest, mist=replace(forest.mist, bore=0.0006))
    assert set(states(thin, "nozzle-pressure")) == {"missed"}
    line = mist_line_of(thin)
    assert line.mouths[0].pressure > line.mouths[1].pressure > line.mouths[2].pressure > 0.0
    assert mist_line_of(replace(forest, mist=None)) is None


def test_a_tank_above_the_nozzles_is_told(forest):
    up = replace(forest, mist=replace(forest.mist, tank_at=(1.0, 0.3, 2.0)))
    line = mist_line_of(up)
    assert line.above
    assert "run empty by itself" in mist_line_tables(up, line, "metric")[0].note


def test_the_same_habitat_takes_the_same_things(forest):
    one, two = build_of(forest).lines, build_of(forest).lines
    assert one == two
    keys = [x.key for x in one]
    assert len(keys) == len(set(keys))
    runs = [r for r in build_of(forest).wiring.runs if not r.low and r.device != "board"]
    hot = ("basking flood", "second flood", "heater")
    # Leads of hot lamps bear heat.
    for key, there in (("", [r for r in runs if r.device not in hot]),
                       ("-hot", [r for r in runs if r.device in hot])):  # fmt: skip
        cable = {x.key: x for x in one}[f"cables/mains-3g0.75mm2{key}"]
        assert cable.amount == pytest.approx(math.fsum(r.length for r in there))
    assert all(x.amount > 0.0 for x in one)


@pytest.mark.slow
@pytest.mark.parametrize("system", ["metric", "us"])
def test_tables_and_drawings_are_whole_and_alike(forest, dry, system):
    for habitat in (forest, dry):
        wiring, line = wiring_of(habitat), mist_line_of(habitat)
        tables = wiring_tables(habitat, wiring, system)
        if line is not None:
            tables += mist_line_tables(habitat, line, system)
            assert mist_drawing(habitat, line, system).startswith(b"<?xml")
        for table in tables:
            assert all(len(row) == len(table.columns) for row in table.rows)
        assert "licensed electrician" in tables[0].note
        drawn = wiring_drawing(habitat, wiring, system)
        assert drawn == wiring_drawing(habitat, wiring, system)


def test_the_commands_show_tables_and_draw(tmp_path):
    run = CliRunner().invoke
    example = str(FOLDER / "rain-glass.yaml")
    shown = run(main, ["strength", example])
    assert shown.exit_code == 0
    assert "What it weighs" in shown.stdout
    plot, mist = tmp_path / "w.svg", tmp_path / "m.png"
    shown = run(main, ["wiring", example, "--plot", str(plot), "--plot-mist", str(mist)])
    assert shown.exit_code == 0
    assert f"wrote {plot}" in shown.stdout
    assert plot.read_bytes().startswith(b"<?xml")
    assert mist.read_bytes().startswith(b"\x89PNG")
    again = run(main, ["wiring", example, "--plot", str(plot)])
    assert again.exit_code == 2
    assert "is there already" in again.stderr


def test_what_cannot_be_drawn_is_told_and_nothing_is_written(tmp_path):
    run = CliRunner().invoke
    example, target = str(FOLDER / "dry-rock.yaml"), tmp_path / "m.png"
    none = run(main, ["wiring", example, "--plot-mist", str(target)])
    assert (none.exit_code, none.stdout) == (2, "")
    assert "there is no misting to draw" in none.stderr
    kind = run(main, ["wiring", example, "--plot", str(tmp_path / "w.gif")])
    assert kind.exit_code == 2
    assert "written as .png or .svg" in kind.stderr
    both = ["--plot", str(target), "--plot-mist", str(target)]
    same = run(main, ["wiring", str(FOLDER / "rain-glass.yaml"), *both])
    assert same.exit_code == 2
    assert list(tmp_path.iterdir()) == []


def test_a_habitat_of_nothing_but_a_box_has_a_build():
    """No lamp, no mist, no stand, no ground, and panels of unknown mass."""
    bare = read_habitat_text(
        METRIC.replace("[{kind: mix, depth: 10 cm}]", "[]"), Path("habitat.yaml")
    )
    light = tuple(
        replace(p, material=replace(p.material, density=None)) for p in bare.enclosure.panels
    )
    for habitat in (bare, replace(bare, enclosure=replace(bare.enclosure, panels=light))):
        build = build_of(habitat)
        assert build.mist is None
        assert build.wiring.power == 0.0
        assert b"svg" in wiring_drawing(habitat, build.wiring, "us")
        assert wiring_tables(habitat, build.wiring, "us")
        assert strength_tables(habitat, build.strength, "us")
        needs = {f.need for f in build_findings(habitat, build)}
        assert needs <= {
            "tipping",
            "floor-load",
            "circuit-load",
            "panel-deflection",
            "panel-stress",
        }


def test_board_probes_and_dimming_are_told(forest):
    tables = {t.title: t for t in wiring_tables(forest, wiring_of(forest), "metric")}
    circuit = dict(tables["The circuit"].rows)
    assert circuit["board for sockets, supplies and controls: x, y, z"] == (
        "156 cm, 60 cm, 93.3 cm (right of the box)"
    )
    assert circuit["outlet: x, y, z"].endswith("(right of the box, behind it)")
    cables = {r[0]: r for r in tables["Cables, from the board"].rows}
    assert {"cut-out probe of basking", "cut-out probe of low warmth"} <= set(cables)
    assert "cut-out probe of damp" not in cables
    assert cables["cut-out probe of basking"][1:4] == (*cables["probe of basking"][1:3], "")
    assert not [x for x in wiring_of(forest).lines if any("probe" in u for u in x.uses)]
    kinds = {r[0]: r[1] for r in tables["What is switched together"].rows}
    assert kinds["dimming timer channel 1"] == "timer that dims"
    assert "plain time switch cannot" in tables["What is switched together"].note
    still = replace(forest, schedule=replace(forest.schedule, ramp=0.0))
    plain = {t.title: t for t in wiring_tables(still, wiring_of(still), "us")}
    assert "plain time switch" not in plain["What is switched together"].note


@given(st.lists(st.floats(0.0, 10.0), max_size=8), st.floats(0.1, 6.0))
def test_no_flag_crosses_another_nozzles_pole(xs: list[float], width: float) -> None:
    flags = flags_of(xs, width, -0.5, 11.0)
    assert sorted(level for level, _ in flags) == list(range(len(xs)))
    for x, (level, on_right) in zip(xs, flags, strict=True):
        for pole, (top, _) in zip(xs, flags, strict=True):
            if top > level:
                inside = x < pole < x + width if on_right else x - width < pole < x
                assert not inside


def test_flags_stay_in_the_drawing_where_they_can() -> None:
    # Two far apart fly to the middle; alone at the right edge it flies to the left.
    assert flags_of([1.0, 9.0], 4.0, 0.0, 10.0) == [(1, True), (0, False)]
    assert flags_of([9.0], 4.0, 0.0, 10.0) == [(0, False)]
