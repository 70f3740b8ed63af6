"""Drawings of the build: SVG pages to scale, CAD files and the model read back."""

from __future__ import annotations

import io
import json
import re
import struct
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from loamwright.files.reader import read_habitat
from loamwright.plan.cut_parts import Mark, PartToCut
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.cuts import Laid
from loamwright.plan.parts_to_cut import parts_to_cut
from loamwright.report import plan_drawing
from loamwright.report.balloons import balloons
from loamwright.report.cut_blocks import cut_tables
from loamwright.report.cut_drawing import sheet_drawings, sheets_of
from loamwright.report.cut_labels import PART, names
from loamwright.report.draft import Word
from loamwright.report.dxf import cut_files
from loamwright.report.gltf import gltf
from loamwright.report.plan_views import VIEWS, view
from loamwright.report.solids import solids

EXAMPLES = Path(__file__).parent.parent / "src" / "loamwright" / "data" / "examples"


@pytest.fixture(scope="module")
def rock():
    return read_habitat(EXAMPLES / "dry-rock.yaml")


@pytest.fixture(scope="module")
def rock_cuts(rock):
    return cut_plan(rock)


def read_dxf(content: bytes):
    import ezdxf

    doc = ezdxf.read(io.StringIO(content.decode("utf-8")))
    audit = doc.audit()
    assert audit.errors == []
    assert audit.fixes == []
    return doc


@pytest.mark.slow
@pytest.mark.parametrize(("system", "size", "unit"), [("metric", 1000.0, 4), ("us", 1 / 0.0254, 1)])
def test_a_cad_file_of_a_sheet_is_read_back(rock_cuts, system, size, unit):
    files = cut_files(rock_cuts, system)
    assert files == cut_files(rock_cuts, system), "the same bytes every time"
    for (_, content), (_, sheet) in zip(files, sheets_of(rock_cuts), strict=True):
        doc = read_dxf(content)
        assert doc.header["$INSUNITS"] == unit
        space = doc.modelspace()
        boxes = sorted(
            tuple(np.round(np.ptp([p[:2] for p in line.get_points()], axis=0) / size, 6))
            for line in space.query('LWPOLYLINE[layer=="PARTS"]')
        )
        assert boxes == sorted((round(x.width, 6), round(x.height, 6)) for x in sheet.laid)
        outline = space.query('LWPOLYLINE[layer=="SHEET"]')[0]
        assert np.ptp([p[0] for p in outline.get_points()]) == pytest.approx(sheet.width * size)
        measured = [d.get_measurement() for d in space.query("DIMENSION")]
        for laid in sheet.laid:
            for wanted in (laid.width, laid.height):
                assert any(abs(m - wanted * size) < 1e-6 * size for m in measured)
        rounds = [c.dxf.radius for c in space.query('CIRCLE[layer=="HOLES"]')]
        wanted = [h.size[0] / 2 * size for x in sheet.laid for h in x.part.holes if h.round]
        assert rounds == pytest.approx(wanted)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("system", "paper", "size"),
    [("metric", "a4", (297.0, 210.0)), ("us", "letter", (279.4, 215.9))],
)
def test_plan_pages_are_to_scale(rock, system, paper, size):
    made = plan_drawing.drawings(rock, system, paper)
    assert [name for name, _ in made] == [f"{v}.{k}" for v in VIEWS for k in ("svg", "dxf")]
    assert made == plan_drawing.drawings(rock, system, paper)
    for name, content in made:
        if name.endswith("svg"):
            found = re.search(rb'width="([\d.]+)pt" height="([\d.]+)pt"', content)
            assert found
            mm = tuple(float(v) * 25.4 / 72.0 for v in found.groups())
            assert mm == pytest.approx(size, abs=0.01)
            assert b"<image" not in content, "lines, no pixels"
    front = read_dxf(dict(made)["front.dxf"])
    size_of = 1000.0 if system == "metric" else 1 / 0.0254
    lines = front.modelspace().query('LWPOLYLINE[layer=="OUTLINE"]')
    outer = max(np.ptp([p[0] for p in x.get_points()]) for x in lines)
    # 72 in inside and two plywood sides of 3/4 in.
    assert outer == pytest.approx(73.5 * 0.0254 * size_of)


def test_views_number_everything_once(rock):
    for name in VIEWS:
        _, tags = view(rock, name)
        assert len({t.text for t in tags}) == len(tags)
        wanted = [s.name for s in rock.sites if not s.plant]
        assert [t.name for t in tags if t.layer == "SITES"] == wanted


def test_balloons_do_not_cover_each_other(rock):
    for name in VIEWS:
        _, tags = view(rock, name)
        found = balloons(tags, 12)
        places = [(b.at[0] / 0.012 + b.shift[0], b.at[1] / 0.012 + b.shift[1]) for b in found]
        at = np.array(places)
        apart = np.linalg.norm(at[:, None] - at[None], axis=-1) + 100 * np.eye(len(at))
        assert apart.min() > 3.9, "no nearer than a balloon is wide [mm]"


@pytest.mark.slow
def test_sheets_are_drawn_in_both_systems(rock_cuts):
    for system in ("metric", "us"):
        made = sheet_drawings(rock_cuts, "svg", system)
        assert len(made) == len(list(sheets_of(rock_cuts)))
        assert all(content.startswith(b"<?xml") for _, content in made)
    assert made == sheet_drawings(rock_cuts, "svg", "us")


def test_cut_tables_speak_both_systems(rock, rock_cuts):
    metric = {t.title: t for t in cut_tables(rock, rock_cuts, "metric")}
    us = {t.title: t for t in cut_tables(rock, rock_cuts, "us")}
    parts = next(t for t in metric if t.endswith("parts to cut"))
    # 72 in and two sides of 3/4 in; 30 in, the back of 3/4 in, two panes of 1/4 in and 6 mm of runner.
    assert metric[parts].rows[0][1:2] == ("floor",)
    assert metric[parts].rows[0][3:6] == ("19.1", "1866.9", "799.8")
    assert us[parts].rows[0][3:6] == ("3/4", "73 1/2", "31 1/2")
    (sheets,) = [t for t in us.values() if t.title == "Sheets and rolls"]
    assert sheets.rows[0][2] == "4 of 96 × 48"
    assert sheets.rows[0][4] == "0 %", "proved to be the least"
    assert all(len(r) == len(t.columns) for t in us.values() for r in t.rows)


def test_the_model_is_read_back(rock):
    import trimesh

    made = gltf(rock)
    assert made == gltf(rock)
    magic, version, length = struct.unpack("<4sII", made[:12])
    assert (magic, version, length) == (b"glTF", 2, len(made))
    size, kind = struct.unpack("<II", made[12:20])
    document = json.loads(made[20 : 20 + size])
    assert kind == 0x4E4F534A
    scene = trimesh.load(io.BytesIO(made), file_type="glb")
    # y is up: 31 1/2 in with lamps on it; z comes towards the viewer, so the back is negative.
    low = scene.bounds[0]
    assert low[1] == pytest.approx(-0.75 * 0.0254, abs=1e-5)
    assert low[2] == pytest.approx(-30.75 * 0.0254, abs=1e-5)
    names = {m["name"] for m in document["materials"]}
    assert {"panel: floor", "piece: ledge", "glass: front sill"} <= names
    by_name = {m["name"]: m for m in document["materials"]}
    assert by_name["glass: front sill"]["alphaMode"] == "BLEND"


def test_a_panel_with_holes_has_its_volume(rock):
    """Closed and wound outwards: the divergence theorem gives panel less holes."""
    parts = {p.name: p for p in parts_to_cut(rock).parts}
    for solid in solids(rock):
        if solid.kind != "panel":
            continue
        part = parts[solid.name]
        a, b, c = (solid.triangles[:, k] for k in range(3))
        volume = float(np.sum(a * np.cross(b, c)) / 6)
        holes = sum(h.size[0] * h.size[1] for h in part.holes)
        assert volume == pytest.approx((part.area - holes) * part.thickness, rel=1e-9)


@pytest.mark.slow
def test_the_cover_is_the_same_each_time_and_shows_the_box(rock):
    from PIL import Image

    from loamwright.report.cover_picture import cover

    small = cover(rock, 120, 96)
    assert small == cover(rock, 120, 96)
    picture = np.asarray(Image.open(io.BytesIO(small)).convert("RGB"), float)
    assert picture.shape == (96, 120, 3)
    edge, middle = picture[:4].mean(axis=(0, 1)), picture[40:60, 40:80].mean(axis=(0, 1))
    assert edge.min() > 240, "paper round it"
    assert middle.mean() < 190, "and the box in the middle"
    bare = cover(replace(rock, hardscape=()), 120, 96)
    assert bare != small


def test_a_name_parts_a_batten_line_only_where_there_is_no_room_beside_it() -> None:
    def laid(*middles: float) -> Laid:
        marks = tuple(Mark("batten", (m - 0.02, 0.0), (m + 0.02, 0.4)) for m in middles)
        part = PartToCut("back", "panel", "x", "x", 0.01, 0.5, 0.4, marks=marks)
        return Laid(part, 0.0, 0.0, 0.5, 0.4, False)

    free, named = names(laid(0.4), 20, "metric")
    assert named
    assert [(w.back, w.at[0]) for w in free if isinstance(w, Word)] == [("", 0.19)] * 2
    # Battens every tenth of a metre leave 3 mm of paper between them.
    over, named = names(laid(0.05, 0.15, 0.25, 0.35, 0.45), 20, "metric")
    assert named
    assert [(w.back, w.at[0]) for w in over if isinstance(w, Word)] == [(PART, 0.25)] * 2
