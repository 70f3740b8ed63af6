"""The cut plan: parts that close the box, sheets that hold them, and what cannot be cut."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path

import pytest

from bad_case import METRIC, US, swap
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.plan.box_joints import front_zone, outer_box, panel_boxes
from loamwright.plan.cut_plan import cut_lines, cut_plan
from loamwright.plan.front_parts import sill_height
from loamwright.plan.parts_to_cut import parts_to_cut
from loamwright.report.cut_blocks import cut_tables

EXAMPLES = Path(__file__).parent.parent / "src" / "loamwright" / "data" / "examples"
NAMES = ("forest-edge", "rain-glass", "school-meadow", "dry-rock")


def habitat(cuts: str = "", base: str = METRIC):
    return read_habitat_text(base + (f"cuts: {cuts}\n" if cuts else ""), Path("box.yaml"))


@pytest.fixture(scope="module", params=NAMES)
def example(request):
    return read_habitat(EXAMPLES / f"{request.param}.yaml")


def volume(box):
    return math.prod(b - a for a, b in zip(*box, strict=True))


@pytest.mark.parametrize("joint", ["floor-and-top-through", "sides-through"])
def test_panels_close_the_box_without_gap_or_overlap(example, joint):
    """The shell is what lies between the outer box and the inside with the front's zone: panels that do
    not overlap and have its volume leave no gap."""
    box = replace(example, cutting=replace(example.cutting, joint=joint))
    panels = panel_boxes(box)
    wide, deep, high = box.enclosure.inside
    shell = volume(outer_box(box)) - wide * high * (deep + front_zone(box))
    assert math.fsum(volume(b) for b in panels.values()) == pytest.approx(shell, rel=1e-12)
    for a, b in itertools.combinations(panels.values(), 2):
        shared = [min(a[1][k], b[1][k]) - max(a[0][k], b[0][k]) for k in range(3)]
        assert min(shared) < 1e-12
    for side, low_high in panels.items():
        part = next(p for p in parts_to_cut(box).parts if p.name == side)
        sizes = sorted([part.thickness, part.width, part.height])
        found = sorted(b - a for a, b in zip(*low_high, strict=True))
        assert sizes == pytest.approx(found)


def test_sliding_doors_fill_the_front_and_overlap():
    parts = [
        p for p in parts_to_cut(habitat("{sill: 12 cm, overlap: 4 cm}")).parts if p.kind == "door"
    ]
    # Two doors share 600 mm less 1 mm at each side, and overlap by 40 mm: (598 + 40) / 2 each.
    assert [p.width for p in parts] == pytest.approx([0.319, 0.319])
    # 900 high, less the sill of 120 and 12 for runners.
    assert [p.height for p in parts] == pytest.approx([0.768, 0.768])
    assert parts[0].high[0] - parts[1].low[0] == pytest.approx(0.040)
    assert parts[0].low[1] >= parts[1].high[1], "they slide past each other"


def test_hinged_doors_leave_their_gap():
    text = swap("height: 90 cm}", "height: 90 cm}\n  panels: {front: {doors: 3, gap: 3 mm}}")
    parts = [p for p in parts_to_cut(habitat("{doors: hinged}", text)).parts if p.kind == "door"]
    assert [p.width for p in parts] == pytest.approx([(0.600 - 4 * 0.003) / 3] * 3)
    gaps = [b.low[0] - a.high[0] for a, b in itertools.pairwise(parts)]
    assert gaps == pytest.approx([0.003, 0.003])


def test_the_sill_holds_the_ground_back():
    # 10 cm of ground and 2 cm above it.
    assert sill_height(habitat()) == pytest.approx(0.120)
    assert sill_height(habitat("{sill: 30 cm}")) == 0.30
    # 4 in and 2 cm are 4.787 in: the next quarter of an inch.
    assert sill_height(habitat(base=US)) == pytest.approx(4.75 * 0.0254 + 0.25 * 0.0254)


def test_a_door_in_the_top_is_parted_from_it():
    text = swap("height: 90 cm}", "height: 90 cm}\n  panels: {top: {doors: 2, gap: 4 mm}}")
    lids = [p for p in parts_to_cut(habitat(base=text)).parts if p.name.startswith("top door")]
    assert [p.width for p in lids] == pytest.approx([(0.620 - 0.004) / 2] * 2)


def test_covers_share_the_strip_between_two_holes():
    """School meadow's windows lie 1 cm apart: two covers of 2 cm overlap would collide."""
    box = read_habitat(EXAMPLES / "school-meadow.yaml")
    covers = {p.name: p for p in parts_to_cut(box).parts if p.kind == "cover"}
    middle, front = covers["cover of lamp window"], covers["cover of front light window"]
    assert middle.height == pytest.approx(0.18 + 2 * 0.005)
    assert front.height == pytest.approx(0.14 + 0.02 + 0.005)


def test_holes_are_where_the_file_says():
    box = read_habitat(EXAMPLES / "forest-edge.yaml")
    right = next(p for p in parts_to_cut(box).parts if p.name == "right")
    intake = next(h for h in right.holes if h.name == "intake")
    # 14 cm from the inside's front edge; the panel reaches 16 mm further (two panes and runners).
    assert intake.at == pytest.approx((0.14 + 0.016, 0.40))
    assert intake.round
    assert intake.size[0] == pytest.approx(0.092)


@pytest.mark.slow
def test_every_part_is_cut_once_with_grain_and_kerf(example):
    plan = cut_plan(example)
    assert plan.troubles == ()
    laid = [x.part for j in plan.jobs for s in j.sheets for x in s.laid]
    long = [p for bar in plan.bars for p in bar.pieces]
    assert {p.number for p in [*laid, *plan.ordered, *long]} == {p.number for p in plan.parts}
    for job in plan.jobs:
        for sheet in job.sheets:
            for x in sheet.laid:
                assert -1e-9 <= x.x <= x.x + x.width <= sheet.width + 1e-9
                assert -1e-9 <= x.y <= x.y + x.height <= sheet.height + 1e-9
                lies = (x.part.height, x.part.width) if x.turned else (x.part.width, x.part.height)
                assert (x.width, x.height) == pytest.approx(lies)
                if x.part.grain and sheet.stock.grain == "long":
                    assert (x.part.grain == "height") == x.turned, "grain along the sheet"
            for a, b in itertools.combinations(sheet.laid, 2):
                apart = max(b.x - a.x - a.width, a.x - b.x - b.width,
                            b.y - a.y - a.height, a.y - b.y - b.height)  # fmt: skip
                assert apart >= job.kerf - 1e-9
        assert job.bought >= job.bound - 1e-9
        whole = [p for p in plan.parts if any(q.number == p.number for q in job.parts)]
        if all(p.lap == 0.0 for p in whole):
            areas = [math.fsum(p.area for p in parts) for parts in (job.parts, whole)]
            assert areas[0] == pytest.approx(areas[1])
    for key, amount in [(line.key, line.amount) for line in cut_lines(plan)]:
        sheets = [s for j in plan.jobs for s in j.sheets if s.key == key]
        if key.startswith("sheets/"):
            assert amount == len(sheets)
        elif key.startswith("rolls/"):
            assert amount == pytest.approx(sum(s.height for s in sheets))


def test_a_part_larger_than_every_sheet_is_told():
    text = "{stock: [{material: pvc-foam-board, size: [80 cm, 60 cm]}]}"
    box = habitat(text)
    plan = cut_plan(box)
    large = {t.name for t in plan.troubles if t.kind == "too_large"}
    # 620 x 900 and 466 x 900 are longer than 800; floor and top are 620 x 476.
    assert large == {"back", "left", "right"}
    told = cut_tables(box, plan, "metric")[0]
    assert told.title == "Cannot be cut as it is"
    assert "is larger than every sheet of its material (at most 800 × 600 mm)" in told.rows[0][0]
    assert "larger than every sheet" in cut_tables(box, plan, "us")[0].rows[0][0]


def test_trim_makes_the_sheet_smaller_and_is_paid_for():
    sheet = "material: pvc-foam-board, size: [92 cm, 63 cm]"
    free = cut_plan(habitat("{kerf: 0 mm, stock: [{" + sheet + "}]}"))
    less = cut_plan(habitat("{kerf: 0 mm, trim: 1 cm, stock: [{" + sheet + "}]}"))
    assert free.troubles == ()
    # The back is 620 x 900; 610 x 900 is left of a sheet.
    assert [(t.kind, t.name) for t in less.troubles] == [("too_large", "back")]
    assert less.troubles[0].largest == pytest.approx((0.90, 0.61))
    assert free.jobs[0].sheets[0].width == less.jobs[0].sheets[0].width == pytest.approx(0.92)
    assert min(x.x for s in less.jobs[0].sheets for x in s.laid) == pytest.approx(0.01)


def test_the_builders_roll_is_used_and_a_wide_floor_is_laid_in_lengths():
    text = swap("[{kind: mix, depth: 10 cm}]", "[{kind: fleece}, {kind: mix, depth: 10 cm}]")
    plan = cut_plan(habitat("{stock: [{material: fleece, width: 40 cm, price: cloth}]}", text))
    (job,) = [j for j in plan.jobs if j.roll]
    # 60 x 45 with 5 cm turned up is 70 x 55: two lengths of 40, the second 10 cm over the first.
    assert [(p.width, p.height) for p in job.parts] == [pytest.approx((0.40, 0.55))] * 2
    assert job.bought == pytest.approx(1.10)
    # However it is laid, 70 x 55 of a roll 40 wide take 0.9625 m.
    assert job.bound == pytest.approx(0.9625, abs=1e-5)
    assert ("cloth", pytest.approx(1.10), "m") in [
        (x.key, x.amount, x.unit) for x in cut_lines(plan)
    ]


def test_a_hole_that_crosses_a_door_is_told():
    hole = "\n  openings: [{name: slot, panel: front, at: [30 cm, 60 cm], size: [9 cm, 2 cm]}]"
    plan = cut_plan(habitat(base=swap("height: 90 cm}", "height: 90 cm}" + hole)))
    assert [(t.kind, t.name) for t in plan.troubles] == [("lost_hole", "slot")]


def test_a_front_too_low_for_doors_is_told():
    text = swap("[{kind: mix, depth: 10 cm}]", "[{kind: mix, depth: 86 cm}]")
    assert "no_doors" in [t.kind for t in cut_plan(habitat(base=text)).troubles]


def test_the_plan_is_the_same_each_time():
    box = read_habitat(EXAMPLES / "dry-rock.yaml")
    assert cut_plan(box) == cut_plan(box)


def test_holes_in_glass_are_the_glaziers(example):
    """No saw for glass: its holes stand in a table of their own, and every hole in one of the two."""
    plan = cut_plan(example)
    tables = {t.title: t for t in cut_tables(example, plan)}
    glass = {p.mark for p in plan.parts if "glass" in p.material and p.holes}
    drilled = tables.get("Holes in glass, made by the glazier")
    assert {row[0] for row in drilled.rows} == glass if drilled else not glass
    sawn = tables.get("Holes to saw")
    assert not glass & {row[0] for row in (sawn.rows if sawn else ())}
    told = sum(len(t.rows) for t in (sawn, drilled) if t)
    assert told == sum(len(p.holes) for p in plan.parts)
