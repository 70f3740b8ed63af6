"""Where lamps and probes are fixed, and openings that the ground covers: against plain geometry."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from bad_case import METRIC
from loamwright import workflow
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.plan import mounts
from loamwright.plan.build import build_of
from loamwright.plan.findings import build_findings
from loamwright.plan.lamp_room import depth_of
from loamwright.plan.mounts import mounts_of, rail_lines
from loamwright.plan.service_holes import GROUND, covered_holes
from loamwright.report.mount_blocks import mount_table
from loamwright.report.words import word

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
    (rails,) = mounts_of(above)
    assert (rails.how, rails.to) == (mounts.RAILS, "hatch")
    assert rails.height == pytest.approx(0.05 - above.enclosure.panel("top").thickness)
    (line,) = rail_lines(above)
    assert line.amount == pytest.approx(2 * (0.20 + 0.10))
    assert rails.long == pytest.approx(0.30)
    spot = "name: flood, type: halogen-flood-50w, at: [30 cm, 20 cm, 95 cm], aim: down"
    (beside,) = mounts_of(read(lamps(spot, window=True)))
    (left, right), radius = beside.at, 0.032
    assert right[0] - left[0] == pytest.approx(2 * (radius + mounts.BESIDE))
    assert left[1] == right[1] == pytest.approx(0.20)
    assert rail_lines(read(lamps(bar.replace("HIGH", "80")))) == []


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
