"""Where lamps and probes are fixed, and openings that the ground covers: against plain geometry."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path

import pytest

from bad_case import METRIC
from loamwright import workflow
from loamwright.engine.findings import Cure
from loamwright.engine.ground.outlook import amounts
from loamwright.engine.lamp_bodies import depth_of
from loamwright.engine.light import cures
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.plan import lamp_holds, mounts, rails
from loamwright.plan.build import build_of
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.findings import build_findings
from loamwright.plan.fit import fit_findings, fit_of
from loamwright.plan.joined import joined_list
from loamwright.plan.lamp_holds import hold_screws, rods_of
from loamwright.plan.mounts import mounts_of, rail_lines
from loamwright.plan.quantities import part_lines
from loamwright.plan.quantities_lamps import lamp_fittings
from loamwright.plan.service_holes import GROUND, covered_holes
from loamwright.report.joint_blocks import joint_tables
from loamwright.report.mount_blocks import mount_table
from loamwright.report.words import mounting_words, word

FOLDER = Path(workflow.__file__).parent / "data" / "examples"

WINDOW = (
    "  openings: [{name: hatch, panel: top, at: [30 cm, 20 cm], size: [40 cm, 20 cm], "
    "cover: steel-mesh-6mm}]\n"
)


def read(text: str):
    return read_habitat_text(text, Path("habitat.yaml"))


def lamps(*parts: str, window: bool = False, more: str = "") -> str:
    box = METRIC.replace("  inside:", WINDOW + "  inside:", 1) if window else METRIC
    return box + "lamps:\n" + "".join(f"  - {{{x}}}\n" for x in parts) + more


def test_a_spot_hangs_from_where_its_body_ends_and_is_turned_to_a_named_place():
    text = lamps(
        "name: flood, type: halogen-flood-50w, at: [30 cm, 20 cm, 70 cm], aim: spot",
        more="sites: [{name: spot, at: [30 cm, 32 cm, 58 cm], role: basking}]\n",
    )
    habitat = read(text)
    (mount,) = mounts_of(habitat)
    deep = depth_of(habitat.lamps[0]) * math.sqrt(0.5)
    assert (mount.how, mount.target) == (mounts.ROD, "spot")
    assert mount.at[0] == pytest.approx((0.30, 0.20 - deep))
    assert mount.height == pytest.approx(0.90 - (0.70 + deep))


def test_without_a_name_the_first_piece_or_the_ground_is_told():
    flood = "name: flood, type: halogen-flood-50w, at: [30 cm, 20 cm, 70 cm], aim: down"
    stone = ("hardscape:\n  - {name: slab, shape: block, at: [30 cm, 20 cm, 10 cm], "
             "size: [20 cm, 20 cm, 10 cm]}\n")  # fmt: skip
    (over,) = mounts_of(read(lamps(flood, more=stone)))
    assert over.target == "slab"
    assert over.aim == pytest.approx((0.30, 0.20, 0.20), abs=0.011)
    (bare,) = mounts_of(read(lamps(flood)))
    assert bare.target == ""
    assert bare.aim == pytest.approx((0.30, 0.20, 0.10), abs=0.011)


def test_a_long_lamp_is_held_twice_and_over_an_opening_on_rails():
    bar = "name: bar, type: led-bar-20w, at: [30 cm, 20 cm, HIGH cm], along: x, aim: down"
    (inside,) = mounts_of(read(lamps(bar.replace("HIGH", "80"))))
    length = read(lamps(bar.replace("HIGH", "80"))).lamps[0].type.length
    assert inside.how == mounts.ROD
    assert [p[0] for p in inside.at] == pytest.approx([0.3 - 0.35 * length, 0.3 + 0.35 * length])
    above = read(lamps(bar.replace("HIGH", "95"), window=True))
    (over,) = mounts_of(above)
    assert (over.how, over.to) == (mounts.RAILS, "hatch")
    assert over.height == pytest.approx(0.05 - above.enclosure.panel("top").thickness)
    one, other = rail_lines(above)
    assert one.amount == other.amount == pytest.approx(0.20 + 0.10)
    assert over.long == pytest.approx(0.30)
    spot = "name: flood, type: halogen-flood-50w, at: [30 cm, 20 cm, 95 cm], aim: down"
    (beside,) = mounts_of(read(lamps(spot, window=True)))
    (left, right), radius = beside.at, 0.032
    assert right[0] - left[0] == pytest.approx(2 * (radius + rails.BESIDE))
    assert left[1] == right[1] == pytest.approx(0.20)
    assert rail_lines(read(lamps(bar.replace("HIGH", "80")))) == []


@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_every_rail_is_a_part_and_comes_out_of_one_length(name: str):
    """Ten of 33.7 cm: a metre gives two of them, not what their lengths add up to."""
    habitat = read_habitat(FOLDER / f"{name}.yaml")
    cuts = cut_plan(habitat)
    pieces = [p for p in cuts.parts if p.kind == "rail"]
    assert [(p.name, p.height) for p in pieces] == [
        (n, pytest.approx(rails.length_of(r))) for n, r in rails.laid_rails(habitat)
    ]
    bars = [b for b in cuts.bars if b.key == rails.KEY]
    assert sorted(p.number for b in bars for p in b.pieces) == [p.number for p in pieces]
    assert all(sum(p.height + b.kerf for p in b.pieces) - b.kerf <= b.length + 1e-9 for b in bars)
    if not pieces:
        return
    amount = amounts(habitat)
    listed = {x.key: x for x in joined_list(habitat, amount, {}, cuts, build_of(habitat))}
    line = listed[rails.KEY]
    assert {(s.kind, s.count, s.length) for s in line.stock} == {
        ("bar", sum(b.length == x for b in bars), x) for x in {b.length for b in bars}
    }
    assert line.wanted == pytest.approx(sum(b.length for b in bars))
    if name == "forest-edge":
        assert (len(pieces), len(bars)) == (10, 5)
    shown = [t for t in joint_tables(habitat, cuts, "metric") if "Bars" in t.title]
    assert any("square tube, 15 x 15" in row[1] for t in shown for row in t.rows)


def moved(habitat, name: str, at):
    lamps = tuple(replace(x, at=at) if x.name == name else x for x in habitat.lamps)
    return replace(habitat, lamps=lamps)


def test_rails_keep_clear_of_the_exhaust_and_rest_on_the_frame():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    found = {m.name: m for m in mounts_of(habitat) if m.rails}
    fan = next(f for f in habitat.fans if f.name == "exhaust")
    edge = fan.at[0] - fan.type.diameter / 2
    left, right = found["plants right"].rails
    # At 35 % of its length it would be held at 104 and 132 cm, where the fan is.
    assert left.at[0] == pytest.approx(1.04)
    assert right.at[0] + rails.SIZE / 2 + rails.CLEAR <= edge < 1.32
    assert right.at[0] == pytest.approx(edge - rails.CLEAR - rails.SIZE / 2, abs=rails.STEP)
    assert not any(m.meets for m in found.values())
    # From the outer edge of the bar before the window to that of the one behind it; 1.40 m of box,
    # 10 mm of top, 25 mm of tube.
    assert (left.low[1], left.high[1]) == pytest.approx((0.245, 0.582))
    assert left.low[2] == pytest.approx(1.435)
    # Without the fan it is held where it would be.
    alone = replace(habitat, fans=())
    assert next(m for m in mounts_of(alone) if m.name == "plants right").at[1][0] == pytest.approx(
        1.32
    )


def test_rails_of_two_lamps_never_share_a_place_and_one_moved_is_looked_at_anew():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    # Where the finding sends the ultraviolet tube, one of its rails serves the left panel too.
    for one, count in ((habitat, 10), (moved(habitat, "uv", (0.77, 0.47, 1.45)), 9)):
        laid = [r for m in mounts_of(one) for r in m.rails]
        assert len(laid) == 10
        places = sorted({(round(r.low[0], 6), round(r.high[0], 6)) for r in laid})
        assert len(places) == count
        assert all(b[0] - a[1] >= rails.CLEAR - 1e-6 for a, b in itertools.pairwise(places))
        assert not any(r.meets for r in laid)
        length = sum(x.amount for x in rail_lines(one))
        assert length == pytest.approx(count * 0.337)


def test_a_lamp_as_low_as_the_top_hangs_from_rails_over_its_back():
    low = "name: bar, type: led-bar-20w, at: [30 cm, 20 cm, 91 cm], along: x, aim: down"
    flood = "name: flood, type: halogen-flood-50w, at: [30 cm, 24 cm, 95 cm], aim: down"
    habitat = read(lamps(low, flood, window=True))
    top = 0.90 + habitat.enclosure.panel("top").thickness
    assert habitat.lamps[0].at[2] < top + rails.SIZE - rails.LOWER
    found = {m.name: m for m in mounts_of(habitat)}
    bar = found["bar"]
    assert all(r.hung for r in bar.rails)
    assert bar.rails[0].low[2] == pytest.approx(0.91 + depth_of(habitat.lamps[0]))
    assert bar.hangers == 2
    (row,) = [r for r in mount_table(habitat, "metric").rows if r[0] == "bar"]
    assert "hung from the rails" in row[3]
    # The flood's rails would run into the bar where they lie on the top: they lie over it too.
    assert found["flood"].rails[0].hung
    assert not any(m.meets for m in found.values())


def test_a_bracket_steps_aside_from_a_lamp_above_it_and_a_rod_says_what_it_meets():
    bar = "name: bar, type: led-bar-20w, at: [30 cm, 20 cm, 80 cm], along: x, aim: down"
    flood = "name: flood, type: halogen-flood-50w, at: [30 cm, 20 cm, 50 cm], aim: down"
    habitat = read(lamps(bar, flood))
    found = {m.name: m for m in mounts_of(habitat)}
    aside = math.dist(found["flood"].at[0], (0.30, 0.20))
    assert aside in [pytest.approx(x) for x in mounts.REACHES]
    half = habitat.lamps[0].type.width / 2
    assert abs(found["flood"].at[0][1] - 0.20) >= half + mounts.THICK / 2 - 1e-9
    assert found["flood"].meets == ()
    # Two bars one under the other: the rods of the lower one go through the upper one.
    both = read(lamps(bar, bar.replace("name: bar", "name: under").replace("80 cm]", "60 cm]")))
    (told,) = [m for m in mounts_of(both) if m.meets]
    assert (told.name, told.meets) == ("under", ("bar",))
    (finding,) = [f for f in fit_findings(fit_of(both)) if f.need == "lamp-carried"]
    assert (finding.site, str(finding.state)) == ("under", "missed")
    assert "meets 'bar'" in word(finding, both, "metric").why
    assert fit_findings(fit_of(habitat))
    assert not [f for f in fit_findings(fit_of(habitat)) if f.need == "lamp-carried"]


def test_a_place_is_suggested_only_where_the_lamps_body_has_room():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    uv = habitat.lamps[0]
    assert cures._has_room(habitat, uv, (0.77, 0.47, 1.45))
    # There the tube's reflector would be where the floods are.
    assert not cures._has_room(habitat, uv, (0.77, 0.40, 1.46))
    # Beside the window nothing carries it over the mesh.
    assert cures._opening(habitat, uv.at) == "lamp window"
    assert cures._opening(habitat, (0.77, 0.65, 1.45)) == ""


def test_what_no_place_avoids_is_said_and_goes_with_a_suggested_move():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    fan = next(f for f in habitat.fans if f.name == "exhaust")
    # A fan as wide as the lamp is long lies behind the window over it.
    wide = replace(fan, type=replace(fan.type, diameter=0.40), at=(1.18, 0.785))
    blocked = replace(habitat, fans=(wide,))
    met = {m.name: m.meets for m in mounts_of(blocked)}
    assert met["plants right"] == ("exhaust",)
    assert met["plants left"] == ()
    row = next(r for r in mount_table(blocked, "metric").rows if r[0] == "plants right")
    assert "they meet exhaust" in row[1]
    cure = Cure("move", "plants left", 1.0, to=(1.18, 0.32, 1.60))
    assert "what carries 'plants left' meets 'exhaust'" in mounting_words(cure, blocked)
    assert mounting_words(Cure("move", "uv", 1.7, to=(0.77, 0.47, 1.45)), habitat) == ""


def test_under_a_lamp_lower_than_the_frame_rails_lie_between_its_bars():
    meadow = read_habitat(FOLDER / "school-meadow.yaml")
    found = {m.name: m for m in mounts_of(meadow) if m.rails}
    low = found["bar 1"]
    # Its face is 30 mm above the top, as high as the frame's tube.
    assert [r.between for r in low.rails] == [True, True]
    assert low.rails[0].high[2] == pytest.approx(meadow.lamps[1].at[2])
    assert (low.over, low.hangers) == (pytest.approx(0.0), 0)
    assert not any(m.meets for m in found.values())
    assert not found["uv"].rails[0].between


def test_one_place_says_how_lamps_are_held_and_the_list_asks_it():
    for name in ("forest-edge", "dry-rock", "rain-glass", "school-meadow"):
        habitat = read_habitat(FOLDER / f"{name}.yaml")
        held = [m for m in mounts_of(habitat) if m.kind == "lamp"]
        lines: dict[str, float] = {}
        for x in lamp_fittings(habitat):
            lines[x.key] = lines.get(x.key, 0.0) + x.amount
        assert lines.get("hangers/lamp-hanger", 0) == sum(
            m.hangers for m in held if m.how != mounts.ROD
        )
        assert lines.get("hangers/lamp-bracket", 0) == sum(
            m.bracket for m in held if m.how != mounts.ROD
        )
        assert all(m.bracket == (len(m.at) == 1) for m in held if m.how == mounts.ROD)
    by_name = {m.name: m for m in mounts_of(read_habitat(FOLDER / "forest-edge.yaml"))}
    # The tube lies on its rails, the panels stand 5 cm over theirs, the bar hangs.
    assert [by_name[n].hangers for n in ("uv", "plants left", "front bar", "heater")] == [
        0,
        2,
        2,
        0,
    ]
    assert by_name["plants left"].over == pytest.approx(0.05)


def test_probes_are_clipped_where_there_is_something_and_hang_where_not():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    found = {m.name: m for m in mounts_of(habitat) if m.kind == "probe"}
    assert (found["probe of basking"].how, found["probe of basking"].to) == (
        mounts.CLIP, "basking branch",
    )  # fmt: skip
    assert found["cut-out probe of basking"].at == found["probe of basking"].at
    assert found["probe of damp"].how == mounts.CABLE
    assert found["probe of damp"].height == pytest.approx(1.40 - 0.80)
    assert "cut-out probe of damp" not in found


@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_table_has_a_row_for_each_and_no_foreign_units(name: str, system: str):
    habitat = read_habitat(FOLDER / f"{name}.yaml")
    table = mount_table(habitat, system)
    assert len(table.rows) == len(mounts_of(habitat)) > 0
    text = " ".join(cell for row in table.rows for cell in row)
    assert (" cm" in text) == (system == "metric")
    assert covered_holes(habitat) == ()


def test_an_opening_in_the_ground_is_missed():
    def slot(up: float):
        hole = (
            f"  openings: [{{name: slot, panel: right, at: [20 cm, {up} cm], size: [10 cm, 2 cm], "
        )
        text = METRIC.replace("  inside:", hole + "cover: steel-mesh-6mm}]\n  inside:", 1)
        return read(text)

    assert covered_holes(slot(12.0)) == ()
    ((name, by, over),) = covered_holes(slot(10.5))
    assert (name, by) == ("slot", GROUND)
    assert over == pytest.approx(0.005)
    ((*_, all_of_it),) = covered_holes(slot(5.0))
    assert all_of_it == pytest.approx(0.02)
    low = slot(5.0)
    (told,) = [f for f in build_findings(low, build_of(low)) if f.need == "hole-covered"]
    assert str(told.state) == "missed"
    assert "water would run out" in word(told, low, "metric").why


def bought(habitat) -> dict[str, float]:
    out: dict[str, float] = {}
    for x in part_lines(habitat, amounts(habitat)):
        out[x.key] = out.get(x.key, 0.0) + x.amount
    return out


def test_rods_and_brackets_have_a_length_and_something_to_hang_from():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    found = rods_of(habitat)
    assert [(r.lamp, r.bracket, r.bar) for r in found] == [
        ("front bar", False, ""), ("front bar", False, ""), ("heater", True, ""),
    ]  # fmt: skip
    heater = found[-1]
    mount = next(m for m in mounts_of(habitat) if m.name == "heater")
    # Down to its back, and up through 10 mm of top, 2 mm of plate and 2 cm of nuts.
    assert heater.length >= mount.height + 0.010 + 0.002 + 0.02 - 1e-9
    assert heater.length == pytest.approx(0.57)
    lines = bought(habitat)
    assert lines[f"hangers/lamp-bracket-{100 * heater.length:.0f}cm"] == 1
    assert lines["hangers/top-plate"] == 3
    assert lines[f"hangers/lamp-rod-{100 * found[0].length:.0f}cm"] == 2
    rows = {r[0]: r[1] for r in mount_table(habitat, "metric").rows}
    assert rows["heater"].startswith("a bracket of ")
    assert "from a plate over the top, hole Ø 6.5 mm" in rows["heater"]
    assert "guard of a hanging lamp is fixed to its bracket" in mount_table(habitat, "metric").note
    # Right under the front bar of the frame it needs no plate.
    under = moved(habitat, "front bar", (0.75, 0.0125, 1.35))
    assert {r.bar for r in rods_of(under) if r.lamp == "front bar"} == {"frame, front"}
    assert bought(under)["hangers/top-plate"] == 1
    # Under the window a bar of its own carries it.
    below = moved(habitat, "front bar", (0.75, 0.40, 1.35))
    assert {r.under for r in rods_of(below) if r.lamp == "front bar"} == {"lamp window"}
    assert bought(below)["hangers/opening-bar-40cm"] == 2


def test_rails_and_what_lies_on_them_have_their_screws():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    found = {s.name: s for s in hold_screws(habitat)}
    # 15 mm of rail, 2 mm of the bar's wall and 4 mm beyond: 25 mm is sold.
    rail = found["rail 1 of uv"]
    assert (rail.count, rail.screw.size) == (2, "3.5 x 25 mm")
    assert (found["uv"].count, found["uv"].screw.size) == (2, "M4 x 30 mm")
    assert len([s for s in found if s.startswith("rail")]) == 10
    lines = bought(habitat)
    assert lines["fixings/machine-screws-stainless-m4x30mm"] == 2 * 5
    note = mount_table(habitat, "metric").note
    assert "2 of 3.5 x 25 mm each, one at each end" in note
    meadow = read_habitat(FOLDER / "school-meadow.yaml")
    between = [n for n, r in rails.laid_rails(meadow) if r.between]
    counts = {s.name: s.count for s in hold_screws(meadow)}
    assert between
    assert all(counts[n] == 4 for n in between)
    assert bought(meadow)["hangers/rail-angle"] == 2 * len(between)
    # Over lamps on blocks: longer by the block.
    low = "name: bar, type: led-bar-20w, at: [30 cm, 20 cm, 91 cm], along: x, aim: down"
    hung = read(lamps(low, window=True))
    (one, _) = rails.laid_rails(hung)
    high = lamp_holds.block_height(hung, one[1])
    assert high > 0.0
    assert f"hangers/rail-block-{1000 * high:.0f}mm" in bought(hung)
    glass = read_habitat(FOLDER / "rain-glass.yaml")
    assert not any(s.name.startswith("rail") for s in hold_screws(glass))
