"""Joining of the box: edges, screws by size, battens and bars, what is led through, footings."""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from bad_case import METRIC, US, swap
from loamwright.engine.ground.outlook import amounts
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.plan.bars import KERF, cut_bars, fits
from loamwright.plan.battens import END, battens, crossed, seen_from, spread, spread_clear
from loamwright.plan.box_joints import FREE_AXES, outer_box
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.findings import strength_findings
from loamwright.plan.front_parts import sill_height
from loamwright.plan.held_screws import held_screws
from loamwright.plan.joining import (
    APART,
    SILICONE,
    SPACING,
    batten_ends,
    joint_lines,
    joint_screws,
    joints_of,
    sealed_length,
)
from loamwright.plan.panels import panel_loads
from loamwright.plan.parts_to_cut import parts_to_cut
from loamwright.plan.quantities import part_lines
from loamwright.plan.quantities_box import stand
from loamwright.plan.screws import (
    Screw,
    cover_screws,
    edge_screw,
    mesh_screw,
    screw_lines,
)
from loamwright.plan.service_holes import CLEAR, covered_holes, drillable, services_of
from loamwright.plan.strength import strength_of
from loamwright.report.blocks import defaults_table
from loamwright.report.cut_drawing import mark_words, sheet_draft, sheets_of
from loamwright.report.draft import Line, Ring
from loamwright.report.dxf import cut_files
from loamwright.report.joint_blocks import joint_tables
from loamwright.report.screw_words import screw_words
from loamwright.workflow import EXAMPLES

FOLDER = Path(__file__).parent.parent / "src/loamwright/data/examples"


@cache
def example(name: str) -> Habitat:
    return read_habitat(FOLDER / f"{name}.yaml")


def box(panels: str = "", cuts: str = "", base: str = METRIC) -> Habitat:
    end = "90 cm}" if base is METRIC else "36 in}"
    text = swap(end, f"{end}\n  panels: {{{panels}}}", base) if panels else base
    return read_habitat_text(text + (f"cuts: {cuts}\n" if cuts else ""), Path("box.yaml"))


# -- edges ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_edge_of_the_box_is_told_once(name: str) -> None:
    """Twelve edges of a box: eight of the closed panels, and those of the front's fixed pane."""
    habitat = example(name)
    found = joints_of(habitat)
    closed = {frozenset((j.over, j.under)) for j in found if "front" not in j.under}
    assert len(closed) == 8
    assert len({j.name for j in found}) == len(found)
    assert sealed_length(habitat) == pytest.approx(sum(j.length for j in found if j.sealed))
    for j in found:
        assert j.sealed == (j.glue is not None) == (not j.why)


def test_the_demo_is_sealed_along_its_closed_edges_and_its_sill() -> None:
    habitat = example("forest-edge")
    sill = sill_height(habitat)
    assert sealed_length(habitat) == pytest.approx(
        2 * 1.5 + 4 * 0.75 + 2 * 1.4 + 1.5 + 2 * sill  # the top's four edges among them
    )
    sealed = {j.name for j in joints_of(habitat) if j.sealed}
    assert {"top to back", "top to left", "top to right", "floor to front sill"} <= sealed
    (doors,) = [j for j in joints_of(habitat) if not j.sealed]
    assert doors.under == "front doors"


def test_screws_along_an_edge_by_hand() -> None:
    """1.5 m, 5 cm kept free at both ends: 1.4 m in steps of 18 cm at most take 8 steps, 9 screws."""
    floor = next(j for j in joints_of(example("forest-edge")) if j.name == "floor to back")
    assert (floor.count, floor.spacing) == (9, pytest.approx(0.175))
    # Through 10 mm and 30 mm into an edge of 10 mm.
    assert floor.screw == Screw(0.004, 0.040)
    assert floor.screw.size == "4 x 40 mm"
    assert spread(0.08, SPACING) == (2, 0.0)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_screw_of_an_edge_meets_one_through_a_battens_end(name: str) -> None:
    """Where a batten stands at 37.5 of 75 cm, five screws would have their third there: six."""
    habitat = example(name)
    standing = battens(habitat)
    for j in joints_of(habitat):
        if j.screw is None:
            continue
        places = [END + n * j.spacing for n in range(j.count)]
        for at in batten_ends(standing, j.over, j.under):
            assert min(abs(at - x) for x in places) >= APART - 1e-9
    if name == "forest-edge":
        found = {j.name: j for j in joints_of(habitat)}
        assert (found["floor to left"].count, found["top to right"].count) == (6, 6)
        assert batten_ends(standing, "floor", "left") == pytest.approx((0.375,))
        assert batten_ends(standing, "back", "left") == ()
        (six,) = {x.count for x in joint_screws(habitat) if x.name == "floor to right"}
        assert six == 6
        (edges,) = [t for t in joint_tables(habitat, cut_plan(habitat), "metric")
                    if t.title == "How the box is joined"]  # fmt: skip
        assert edges.rows[1][3] == "6 of 4 x 40 mm, every 130"


def test_where_no_number_is_clear_the_furthest_is_taken() -> None:
    count, apart = spread_clear(0.12, SPACING, (0.05, 0.07, 0.06), 0.015)
    assert count >= 2
    assert apart == pytest.approx(0.02 / (count - 1))


def test_materials_decide_what_joins() -> None:
    assert all(j.glue in (SILICONE, None) for j in joints_of(example("rain-glass")))
    assert not any(j.screw for j in joints_of(example("rain-glass")))
    by_key = {x.key: x for x in joint_lines(example("dry-rock"))}
    assert "fixings/glue-wood" in by_key
    plywood = next(j for j in joints_of(example("dry-rock")) if j.name == "floor to back")
    assert plywood.screw == Screw(0.0045, 0.050)  # 19 mm and 30 mm
    mixed = box("back: {material: plywood, thickness: 18 mm}")
    keys = {j.name: j.glue.key for j in joints_of(mixed) if j.glue}
    assert keys["back to left"] == "fixings/adhesive-polymer"
    assert keys["floor to left"] == "fixings/adhesive-pvc"
    clear = box(
        "back: {material: acrylic, thickness: 10 mm}, floor: {material: acrylic, thickness: 10 mm}"
    )
    found = {j.name: j for j in joints_of(clear)}
    assert found["floor to back"].glue.key == "fixings/cement-plastic"
    assert found["floor to back"].screw is None


def test_an_edge_that_opens_is_told_and_not_sealed() -> None:
    lid = box("top: {doors: 2}")
    opens = {j.name for j in joints_of(lid) if not j.sealed}
    assert opens == {"top to back", "top to left", "top to right", "top to front",
                     "sides and top to front doors"}  # fmt: skip
    through = box(cuts="{joint: sides-through}")
    assert {"left to floor", "right to back"} <= {j.name for j in joints_of(through)}
    assert sealed_length(through) == pytest.approx(sealed_length(box()))


def test_a_fixed_front_is_set_in_all_round() -> None:
    closed = box("front: {doors: 0}")
    front = {j.name: j.length for j in joints_of(closed) if j.under == "front"}
    assert front == pytest.approx(
        {"floor to front": 0.6, "top to front": 0.6, "left to front": 0.9, "right to front": 0.9}
    )


# -- screws --------------------------------------------------------------------------------------


def test_thin_edges_take_no_screw_and_thick_ones_a_thicker() -> None:
    assert edge_screw(0.010, 0.006) is None
    assert edge_screw(0.010, 0.008).diameter == 0.003
    assert edge_screw(0.015, 0.010) == Screw(0.004, 0.045)
    assert edge_screw(0.018, 0.018) == Screw(0.0045, 0.050)


def test_no_screw_comes_out_where_it_must_not() -> None:
    assert mesh_screw(0.010, 0.0016).length <= 0.0116
    habitat = example("forest-edge")
    for x in held_screws(habitat):
        piece = next((p for p in habitat.hardscape if p.name == x.name), None)
        if piece is not None and piece.shape == "branch" and "behind" in x.way:
            lining = habitat.enclosure.lining_depth("back")
            assert x.screw.length < 0.010 + lining + piece.diameter
    for b in battens(habitat):
        assert b.screw.length < 0.010 + 0.020


def test_the_demos_screws_have_sizes() -> None:
    found = {}
    for x in (*held_screws(example("forest-edge")), *cover_screws(example("forest-edge"))):
        found.setdefault(x.name, x)
    assert found["rock face"].count == 16
    # Through 6 cm of foam and most of 1 cm of board.
    assert found["rock face"].screw == Screw(0.005, 0.070, washer=True)
    # From behind: 1 cm of board, 6 cm of foam and 3 cm of wood.
    assert found["basking branch"].screw == Screw(0.005, 0.100, washer=True)
    assert found["lamp window"].count == math.ceil(2 * 1.6 / 0.15)
    lines = screw_lines(found.values())
    starts = ("fixings/screws-stainless-", "fixings/washers-")
    assert all(x.key.startswith(starts) for x in lines)


def test_screws_are_told_by_number_in_the_united_states() -> None:
    screw = Screw(0.004, 0.040)
    assert screw_words(screw, "metric") == "4 x 40 mm"
    assert screw_words(screw, "us") == "no. 8 x 1 1/2 in"


# -- battens and bars ----------------------------------------------------------------------------


def test_battens_stand_where_ribs_ask_for_them() -> None:
    found = battens(example("forest-edge"))
    places = {b.name: b.at for b in found}
    assert places == pytest.approx({
        "batten 1 of back": 0.5, "batten 2 of back": 1.0, "batten of left": 0.375,
        "batten of right": 0.375,
    })  # fmt: skip
    low, high = outer_box(example("forest-edge"))
    for b in found:
        across = next(k for k in range(3) if k not in FREE_AXES[b.side])
        assert b.high[across] <= low[across] + 1e-9 or b.low[across] >= high[across] - 1e-9
        # As long as the box is high outside: 1.4 m and twice 10 mm.
        assert b.length == pytest.approx(1.42)
        assert (b.low[2], b.high[2]) == pytest.approx((low[2], high[2]))
        # Through 20 mm of batten and 30 mm into an edge of 10 mm.
        assert b.ends == (Screw(0.004, 0.050),) * 2


def test_battens_lie_over_the_sides_that_cover_floor_and_top() -> None:
    through = box("left: {ribs: 25 cm}, back: {ribs: 40 cm}", "{joint: sides-through}")
    found = {b.side: b for b in battens(through)}
    assert found["left"].length == found["back"].length == pytest.approx(0.92)
    # 20 mm of batten, 10 mm of side, 30 mm of grip; the back stands between floor and top.
    assert found["left"].ends == (Screw(0.004, 0.060),) * 2
    assert found["back"].ends == (Screw(0.004, 0.050),) * 2
    glass = box("back: {ribs: 40 cm}, floor: {material: float-glass, thickness: 8 mm}")
    assert [e is None for e in battens(glass)[0].ends] == [True, False]


def test_the_stands_top_is_as_large_as_the_box_and_what_stands_behind_it() -> None:
    (line,) = stand(example("forest-edge"))
    # 150 + 2 x 1 cm; 75 + 1.6 (two panes, tracks) + 1 + 2 cm of batten.
    assert line.name == ("timber bench, rated 500 kg, flat top at least 152 x 79.6 cm, 70 cm high")


def test_a_batten_across_a_fan_is_told() -> None:
    habitat = example("forest-edge")
    fans = tuple(replace(f, at=(0.37, 0.40)) if f.side == "right" else f for f in habitat.fans)
    moved = replace(habitat, fans=fans)
    assert {b.name: crossed(moved, b) for b in battens(moved) if crossed(moved, b)} == {
        "batten of right": ("intake",)
    }
    table = next(t for t in joint_tables(moved, cut_plan(moved), "metric") if "Battens" in t.title)
    assert any("crosses intake" in row[3] for row in table.rows)


def test_battens_are_parts_to_cut_and_marked_on_their_panel() -> None:
    cuts = cut_plan(example("forest-edge"))
    assert [(b.length, [p.name for p in b.pieces]) for b in cuts.bars if "batten" in b.key] == [
        (2.4, ["batten 1 of back"]), (2.4, ["batten 2 of back"]), (2.4, ["batten of left"]),
        (2.4, ["batten of right"]),
    ]  # fmt: skip
    back = next(p for p in cuts.parts if p.name == "back")
    # The panel reaches 10 mm beyond the inside on the left.
    assert [(m.low[0] + m.high[0]) / 2 for m in back.marks] == pytest.approx([0.51, 1.01])
    laid = next(x for j in cuts.jobs for s in j.sheets for x in s.laid if x.part.name == "back")
    assert "middle 510 from" in mark_words(laid, back.marks[0], "metric")


def test_a_batten_is_on_the_face_that_is_seen_or_behind_it() -> None:
    """They stand outside: of the back, the left side and the floor the inside is seen."""
    cuts = cut_plan(example("forest-edge"))
    told = {p.name: {m.where for m in p.marks if "batten" in m.name} for p in cuts.parts if p.marks}
    assert told["right"] == {"on it"}
    assert told["left"] == told["back"] == {"behind it"}
    assert (seen_from("top"), seen_from("floor")) == ("on it", "behind it")
    laid = next(x for j in cuts.jobs for s in j.sheets for x in s.laid if x.part.name == "right")
    assert "on it" in mark_words(laid, laid.part.marks[0], "metric")


def test_holes_and_battens_are_in_the_cad_files_too() -> None:
    cuts = cut_plan(example("forest-edge"))
    number, (job, sheet) = next(
        (n, x) for n, x in enumerate(sheets_of(cuts), 1)
        if any(p.part.name == "back" for p in x[1].laid)
    )  # fmt: skip
    draft, _ = sheet_draft(job, sheet, number, 20, "metric", words=False)
    dashed = [s for s in draft.shapes if isinstance(s, Line) and s.layer == "HIDDEN"]
    marks = sum(len(x.part.marks) for x in sheet.laid)
    assert len(dashed) == marks >= 2
    rings = [s for s in draft.shapes if isinstance(s, Ring)]
    assert len(rings) == sum(h.round for x in sheet.laid for h in x.part.holes)
    name, content = cut_files(cuts)[number - 1]
    assert name.startswith("sheet")
    assert content.count(b"HIDDEN") > marks  # the layer, and each batten on it


def brute(lengths: list[float], stocks: list[tuple[float, float]]) -> float:
    """Cheapest bars by trying every way of sharing the pieces."""
    best = math.inf
    for shares in itertools.product(range(len(lengths)), repeat=len(lengths)):
        cost = 0.0
        for bar in set(shares):
            inside = [x for x, s in zip(lengths, shares, strict=True) if s == bar]
            cost += min((c for long, c in stocks if fits(inside, long)), default=math.inf)
        best = min(best, cost)
    return best


def test_few_pieces_come_out_of_the_cheapest_bars() -> None:
    rng = random.Random(7)
    stocks = [(2.4, 4.6), (1.2, 2.9), (3.0, 6.5)]
    for _ in range(12):
        lengths = [round(rng.uniform(0.2, 1.9), 2) for _ in range(5)]
        found = cut_bars(lengths, stocks)
        assert sum(stocks[n][1] for n, _ in found) == pytest.approx(brute(lengths, stocks))
        assert sorted(k for _, pieces in found for k in pieces) == list(range(5))
        assert all(fits([lengths[k] for k in p], stocks[n][0]) for n, p in found)


def test_many_pieces_are_laid_out_too_and_the_kerf_is_counted() -> None:
    assert len(cut_bars([1.2] * 24, [(2.4, 1.0)])) == 24  # two and a cut are longer than a bar
    assert len(cut_bars([1.1985] * 24, [(2.4, 1.0)])) == 12
    assert fits([1.2, 1.2 - KERF], 2.4)
    with pytest.raises(ValueError, match="longer than every bar"):
        cut_bars([2.5], [(2.4, 1.0)])


def test_a_batten_longer_than_every_bar_is_told() -> None:
    tall = swap("height: 90 cm}", "height: 260 cm}\n  panels: {back: {ribs: 40 cm}}")
    cuts = cut_plan(read_habitat_text(tall, Path("box.yaml")))
    assert "too_long" in {t.kind for t in cuts.troubles}
    assert cuts.bars == ()


# -- what is led through panels ------------------------------------------------------------------


@pytest.mark.parametrize("name", EXAMPLES)
def test_holes_are_clear_of_each_other_and_of_all_others(name: str) -> None:
    habitat = example(name)
    found = [s for s in services_of(habitat) if s.side]
    others = [(o.side, o.at, o.size) for o in habitat.enclosure.openings]
    others += [(f.side, f.at, (f.type.diameter,) * 2) for f in habitat.fans]
    for a, b in itertools.combinations(found, 2):
        if a.side == b.side:
            apart = [abs(a.at[k] - b.at[k]) - (a.diameter + b.diameter) / 2 for k in (0, 1)]
            assert max(apart) >= CLEAR - 1e-6
    for s in found:
        assert drillable(habitat, s.side)
        for side, at, size in others:
            if side == s.side:
                apart = [abs(s.at[k] - at[k]) - (s.diameter + size[k]) / 2 for k in (0, 1)]
                assert max(apart) >= CLEAR - 1e-6
    holes = {h.name for p in parts_to_cut(habitat).parts for h in p.holes}
    assert {s.name for s in found} <= holes


def test_the_demos_drain_sits_low_in_its_side_and_glass_is_not_drilled() -> None:
    drain = next(s for s in services_of(example("forest-edge")) if s.kind == "drain")
    assert (drain.side, drain.at) == ("right", pytest.approx((0.06, 0.0225)))
    assert not any(s.side for s in services_of(example("rain-glass")))
    keys = {x.key for x in part_lines(example("rain-glass"), amounts(example("rain-glass")))}
    assert "fixings/level-tube" in keys
    assert "fixings/drain-fitting" not in keys
    assert not any(s.kind == "drain" for s in services_of(example("dry-rock")))


def test_a_fan_behind_a_background_is_missed() -> None:
    habitat = example("forest-edge")

    def at(y: float) -> Habitat:
        fans = tuple(replace(f, at=(f.at[0], y)) if f.side == "top" else f for f in habitat.fans)
        return replace(habitat, fans=fans)

    # 9.2 cm across at 66 cm of 75: it ends at 70.6 cm, the rock face begins at 69.
    assert covered_holes(at(0.66)) == (("exhaust", "rock face", pytest.approx(0.016)),)
    assert covered_holes(at(0.62)) == ()
    found = strength_findings(at(0.66), strength_of(habitat, amounts(habitat)))
    assert [(f.site, str(f.state)) for f in found if f.need == "hole-covered"] == [
        ("exhaust", "missed")
    ]


# -- one truth -----------------------------------------------------------------------------------


def test_the_sill_is_one_height_everywhere() -> None:
    habitat = example("forest-edge")
    strip = next(p for p in panel_loads(habitat, amounts(habitat)) if p.part == "sill")
    part = next(p for p in parts_to_cut(habitat).parts if p.name == "front sill")
    assert strip.height == part.height == sill_height(habitat) == pytest.approx(0.265)
    assert sill_height(box("front: {sill: 20 cm}")) == pytest.approx(0.20)
    told = {r[0]: r[1] for r in defaults_table(habitat).rows}
    assert told["enclosure.panels.front.sill"] == "26.5 cm"


def test_footings_have_their_height() -> None:
    """The stones of the demo stand at 24 cm, over 3.2 cm of drainage and fleece."""
    found = strength_of(example("forest-edge"), amounts(example("forest-edge")))
    assert [f.height for f in found.footings] == pytest.approx([0.208, 0.208])
    line = next(x for x in found.lines if x.key == "fixings/footing-bricks")
    assert "left stone: 20.8 cm high" in line.name
    assert line.amount == 2 * 2 * 3  # two stones, three courses of two


def test_lamps_get_their_holders_and_hangers() -> None:
    lines = {}
    for x in part_lines(example("forest-edge"), amounts(example("forest-edge"))):
        lines[x.key] = lines.get(x.key, 0.0) + x.amount
    assert lines["holders/ceramic-e27"] == 3  # two floods and the emitter
    assert lines["holders/t5-39w"] == 1
    assert lines["hangers/lamp-bracket"] == 2  # the emitter's hangs from the top, by its length
    assert lines["hangers/guard-mount"] == 1  # the floods are out of reach
    assert lines["hangers/lamp-hanger"] == 2 * 2  # two panels: the tube lies on its rails
    assert lines["hangers/lamp-rod-5cm"] == 2  # the bar hangs
    assert lines["clips/probe"] == 5  # three controls, two cut-outs
    assert lines["wiring/cable-gland"] == 2  # the bar and the emitter hang inside
    assert "holders/ceramic-e26" in {
        x.key for x in part_lines(example("dry-rock"), amounts(example("dry-rock")))
    }


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", EXAMPLES)
def test_the_tables_are_whole(name: str, system: str) -> None:
    tables = joint_tables(example(name), cut_plan(example(name)), system)
    assert tables[0].title == "How the box is joined"
    for table in tables:
        assert all(len(row) == len(table.columns) for row in table.rows)
    words = " ".join(cell for table in tables for row in table.rows for cell in row)
    assert "mm" not in words or system == "metric"


def test_us_files_are_joined_too() -> None:
    assert sealed_length(box(base=US)) > 0.0
