"""Mesh files: known bodies in every format, and every way to be wrong."""

from __future__ import annotations

import base64
import json
import math
import struct
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from loamwright.errors import InputError
from loamwright.files.meshes import (
    default_unit,
    load_mesh,
    report_on,
    scale_and_place,
)

trimesh = pytest.importorskip("trimesh")

DATA = Path(__file__).parent / "data"
BOX = trimesh.creation.box(extents=(2.0, 3.0, 4.0))


def stl_text(faces=None, vertices=BOX.vertices):
    lines = ["solid box"]
    for face in BOX.faces if faces is None else faces:
        lines += [" facet normal 0 0 0", "  outer loop"]
        lines += ["   vertex {:.6f} {:.6f} {:.6f}".format(*vertices[i]) for i in face]
        lines += ["  endloop", " endfacet"]
    return "\n".join([*lines, "endsolid box", ""])


def obj_text(faces=None, vertices=BOX.vertices):
    lines = ["# box", "mtllib missing.mtl"]
    lines += ["v {:.6f} {:.6f} {:.6f}".format(*v) for v in vertices]
    lines += ["f {} {} {}".format(*(f + 1)) for f in (BOX.faces if faces is None else faces)]
    return "\n".join([*lines, ""])


def write(path, content):
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def gltf(vertices=BOX.vertices, faces=BOX.faces, *, nodes=None, uri=None, **more):
    """A glTF document as a dict; the buffer is inside unless ``uri`` says otherwise."""
    blob = np.asarray(vertices, "<f4").tobytes() + np.asarray(faces, "<u4").tobytes()
    inline = "data:application/octet-stream;base64," + base64.b64encode(blob).decode()
    size = 12 * len(vertices)
    return {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": nodes or [{"mesh": 0}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": len(vertices), "type": "VEC3"},
            {"bufferView": 1, "componentType": 5125, "count": 3 * len(faces), "type": "SCALAR"},
        ],
        "bufferViews": [
            {"buffer": 0, "byteOffset": 0, "byteLength": size},
            {"buffer": 0, "byteOffset": size, "byteLength": len(blob) - size},
        ],
        "buffers": [{"uri": uri or inline, "byteLength": len(blob)}],
    } | more


# --- good files -----------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["stl", "stl text", "obj", "ply", "ply text"])
def test_a_box_is_a_box_in_every_format(tmp_path, kind):
    ending = kind.split()[0]
    path = tmp_path / f"box.{ending.upper()}"
    if kind == "stl text":
        write(path, stl_text())
    elif kind == "obj":
        write(path, obj_text())
    else:
        options = {"encoding": "ascii" if "text" in kind else "binary"} if ending == "ply" else {}
        write(path, BOX.export(file_type=ending, **options))
    vertices, faces = load_mesh(path)
    assert vertices.shape == (8, 3)
    assert faces.shape == (12, 3)
    report = report_on(vertices, faces)
    assert report.watertight
    assert report.holes == 0
    assert report.volume == pytest.approx(24.0)
    assert report.area == pytest.approx(52.0)
    assert report.extent == pytest.approx((2.0, 3.0, 4.0))
    assert default_unit(path) == 0.001


@pytest.mark.parametrize("ending", ["glb", "gltf"])
def test_gltf_is_turned_z_up(tmp_path, ending):
    path = tmp_path / f"box.{ending}"
    if ending == "glb":
        write(path, trimesh.Scene(BOX).export(file_type="glb"))
    else:
        write(path, json.dumps(gltf()))
    vertices, faces = load_mesh(path)
    report = report_on(vertices, faces)
    assert report.extent == pytest.approx((2.0, 4.0, 3.0))  # glTF's y (3) stands up, z lies deep
    assert report.volume == pytest.approx(24.0)
    assert default_unit(path) == 1.0


def test_gltf_front_faces_the_front(tmp_path):
    # One triangle pointing up (+y in glTF) whose tip leans to the viewer (+z in glTF).
    tip = [[0, 0, 0], [1, 0, 0], [0, 2, 5]]
    path = write(tmp_path / "tip.gltf", json.dumps(gltf(tip, [[0, 1, 2]])))
    vertices, _ = load_mesh(path)
    assert [0.0, -5.0, 2.0] in vertices.tolist()


def test_gltf_scene_is_flattened_with_its_transforms(tmp_path):
    nodes = [
        {"children": [1, 2]},
        {"mesh": 0, "translation": [10, 0, 0], "scale": [2, 2, 2]},
        {"mesh": 0},
    ]
    path = write(tmp_path / "two.gltf", json.dumps(gltf(nodes=nodes)))
    vertices, faces = load_mesh(path)
    assert len(faces) == 24
    report = report_on(vertices, faces)
    assert report.volume == pytest.approx(24 + 8 * 24)
    assert vertices[:, 0].max() == pytest.approx(12.0)


def test_gltf_buffer_beside_the_document(tmp_path):
    document = gltf()
    blob = base64.b64decode(document["buffers"][0]["uri"].split(",")[1])
    write(tmp_path / "box data.bin", blob)
    path = write(tmp_path / "box.gltf", json.dumps(gltf(uri="box%20data.bin")))
    assert load_mesh(path)[1].shape == (12, 3)


def test_obj_polygons_and_numbers_from_the_end(tmp_path):
    text = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0 # corner\nf -4/1/1 -3//2 \\\n -2 -1\n"
    vertices, faces = load_mesh(write(tmp_path / "q.obj", text))
    assert len(faces) == 2
    assert report_on(vertices, faces).area == pytest.approx(1.0)


def test_ply_polygons_are_cut(tmp_path):
    text = (
        "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\n"
        "property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
        "0 0 0\n1 0 0\n1 1 0\n0 1 0\n4 0 1 2 3\n"
    )
    vertices, faces = load_mesh(write(tmp_path / "q.ply", text))
    assert len(faces) == 2
    assert report_on(vertices, faces).area == pytest.approx(1.0)


def test_sphere_volume_converges_on_the_analytic_one(tmp_path):
    ball = trimesh.creation.icosphere(subdivisions=4, radius=50.0)
    vertices, faces = load_mesh(write(tmp_path / "ball.stl", ball.export(file_type="stl")))
    report = report_on(vertices, faces)
    # 5,120 facets lie inside the sphere: 0.2 % of its volume is cut away
    assert report.volume == pytest.approx(4 / 3 * math.pi * 50**3, rel=3e-3)
    assert report.watertight


def test_holes_are_allowed_and_told(tmp_path):
    ball = trimesh.creation.icosphere(subdivisions=2)
    keep = np.abs(ball.triangles_center[:, 2]) < 0.9
    path = write(tmp_path / "pierced.obj", obj_text(ball.faces[keep], ball.vertices))
    report = report_on(*load_mesh(path))
    assert not report.watertight
    assert report.holes == 2
    assert report.volume is None


def test_a_flipped_triangle_has_no_inside(tmp_path):
    faces = np.array(BOX.faces)
    faces[0] = faces[0][::-1]
    report = report_on(*load_mesh(write(tmp_path / "flipped.obj", obj_text(faces))))
    assert report.holes == 0
    assert not report.watertight
    assert report.volume is None


def test_slivers_and_spare_vertices_are_left_out(tmp_path):
    text = obj_text() + "v 9 9 9\nf 1 1 2\nf 1 2 2\n"
    vertices, faces = load_mesh(write(tmp_path / "box.obj", text))
    assert (len(vertices), len(faces)) == (8, 12)


def test_scale_and_place():
    placed = scale_and_place(BOX.vertices + 77.0, 0.01, (0.5, 0.3, 0.2), math.pi / 2)
    low, high = placed.min(axis=0), placed.max(axis=0)
    assert high - low == pytest.approx([0.03, 0.02, 0.04])  # a quarter turn swaps x and y
    assert (low + high)[:2] / 2 == pytest.approx([0.5, 0.3])
    assert low[2] == pytest.approx(0.2)
    # Counter-clockwise from above: what lay to the right (+x) comes to lie behind (+y).
    lean = np.array([[0.0, 0, 0], [-1, 0, 0], [1, 0, 0], [1, 0, 5]])
    turned = scale_and_place(lean, 1.0, (0, 0, 0), math.pi / 2)
    assert turned[3] == pytest.approx([0, 1, 5])


# --- wrong files ----------------------------------------------------------------------------------


def refused(path, match, **limits):
    with pytest.raises(InputError, match=match) as caught:
        load_mesh(path, **limits)
    assert all(p.file == str(path) for p in caught.value.problems)
    return caught.value


def test_unknown_missing_and_large_files(tmp_path):
    refused(tmp_path / "a.fbx", r"'\.fbx' is not a mesh file's ending; \.stl, \.obj")
    refused(tmp_path / "a.stl", "cannot be read: No such file")
    (tmp_path / "d.stl").mkdir()
    refused(tmp_path / "d.stl", "cannot be read")
    refused(write(tmp_path / "b.stl", stl_text()), "MB are read. Thin the mesh out", max_bytes=100)


@pytest.mark.parametrize("ending", ["stl", "text.stl", "obj", "ply", "glb", "gltf"])
def test_too_many_triangles(tmp_path, ending):
    path = tmp_path / f"box.{ending}"
    if ending == "text.stl":
        write(path, stl_text())
    elif ending == "obj":
        write(path, obj_text())
    elif ending == "gltf":
        write(path, json.dumps(gltf()))
    else:
        write(path, trimesh.Scene(BOX).export(file_type=ending))
    refused(path, r"has 12 triangles; up to 11 are read. Thin it out", max_faces=11)


def test_a_million_triangles_are_refused_by_their_count(tmp_path):
    path = write(tmp_path / "m.stl", bytes(80) + struct.pack("<I", 1_000_000) + bytes(50_000_000))
    refused(path, "1,000,000 triangles; up to 200,000")


@pytest.mark.parametrize("ending", ["stl", "obj", "ply", "glb", "gltf"])
@pytest.mark.parametrize("content", [b"", b"\x00" * 100, b"hello", b"\xff\xfe" * 60, b"{}", b"[]"])
def test_no_mesh_at_all(tmp_path, ending, content):
    path = write(tmp_path / f"x.{ending}", content)
    refused(path, "cannot be read as|holds no triangles|triangle has any area")


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("ending", ["stl", "text.stl", "obj", "ply", "gltf"])
def test_vertices_that_are_not_numbers(tmp_path, ending, bad):
    vertices = np.array(BOX.vertices)
    vertices[3, 1] = bad
    path = tmp_path / f"x.{ending}"
    if ending == "gltf":
        write(path, json.dumps(gltf(vertices)))
    elif ending == "text.stl":
        write(path, stl_text(vertices=vertices))
    elif ending == "obj":
        write(path, obj_text(vertices=vertices))
    else:
        broken = trimesh.Trimesh(vertices, BOX.faces, process=False, validate=False)
        with np.errstate(invalid="ignore"):
            write(path, broken.export(file_type=ending))
    refused(path, "are not numbers .*repair the mesh")


def test_coordinates_out_of_all_bounds(tmp_path):
    refused(write(tmp_path / "x.obj", obj_text() + "v 1e30 0 0\nf 1 2 9\n"), "repair the mesh")


def test_triangles_that_name_no_vertex(tmp_path):
    faces = np.array(BOX.faces)
    faces[5, 1] = 99
    error = refused(write(tmp_path / "x.obj", obj_text(faces)), "a vertex that is not there")
    assert error.problems[0].line == 16  # two heading lines, eight vertices, the sixth face
    refused(write(tmp_path / "x.gltf", json.dumps(gltf(faces=faces))), "vertex 99|damaged")
    text = (
        "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
        "property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
        "0 0 0\n1 0 0\n1 1 0\n3 0 1 7\n"
    )
    refused(write(tmp_path / "x.ply", text), "vertex 7|damaged")


def test_no_area(tmp_path):
    refused(write(tmp_path / "x.obj", "v 0 0 0\nv 1 1 1\nv 2 2 2\nf 1 2 3\n"), "has any area")


def test_words_for_numbers_are_told_with_their_lines(tmp_path):
    text = "v 0 0 0\nv 1 zero 0\nv 0 1 0\nf 1 2 x\nf 1 0 3\nf 1 2\nf 1 2 3\n"
    error = refused(write(tmp_path / "x.obj", text), "a vertex is three numbers")
    assert [p.line for p in error.problems] == [2, 4, 5, 6]
    refused(write(tmp_path / "x.stl", stl_text().replace("1.500000", "far", 1)), "cannot be read")


def test_text_stl_cut_short(tmp_path):
    whole = stl_text()
    for share in (0.3, 0.6, 0.9):
        path = write(tmp_path / "x.stl", whole[: int(share * len(whole))])
        refused(path, "cannot be read as STL")


@pytest.mark.slow
def test_a_damaged_file_prints_nothing(tmp_path):
    # An own process: pytest's log handler hides what would reach a terminal.
    path = write(tmp_path / "x.stl", stl_text().replace("normal 0 0 0", "normal 0 o 0", 1))
    code = (
        "import sys, pathlib\n"
        "from loamwright.errors import InputError\n"
        "from loamwright.files.meshes import load_mesh\n"
        "try:\n    load_mesh(pathlib.Path(sys.argv[1]))\n"
        "except InputError:\n    pass\n"
    )
    run = subprocess.run([sys.executable, "-c", code, path], capture_output=True, text=True)
    assert (run.returncode, run.stdout, run.stderr) == (0, "", "")


def test_points_cast_no_shadow(tmp_path):
    cloud = trimesh.PointCloud(np.eye(3)).export(file_type="ply")
    refused(write(tmp_path / "x.ply", cloud), "holds no triangles")
    refused(write(tmp_path / "x.obj", "v 0 0 0\nv 1 1 1\n"), "holds no triangles")


@pytest.mark.parametrize(
    ("uri", "message"),
    [
        ("../secret.bin", r"buffer '\.\./secret\.bin' leaves"),
        ("/etc/passwd", "absolute path"),
        ("https://example.org/box.bin", "must be a file in"),
        ("%2e%2e/secret.bin", "leaves"),
        ("none.bin", "there is no file"),
        ("file:///etc/passwd", "must be a file in"),
    ],
)
def test_gltf_reaches_no_file_outside_its_folder(tmp_path, uri, message):
    write(tmp_path / "secret.bin", b"x" * 240)
    (tmp_path / "project").mkdir()
    refused(write(tmp_path / "project" / "x.gltf", json.dumps(gltf(uri=uri))), message)


def test_pictures_and_materials_are_never_looked_for(tmp_path):
    document = gltf(
        images=[{"uri": "https://example.org/bark.png"}, {"uri": "../../bark.png"}],
        textures=[{"source": 0}],
        materials=[{"pbrMetallicRoughness": {"baseColorTexture": {"index": 0}}}],
    )
    document["meshes"][0]["primitives"][0]["material"] = 0
    path = write(tmp_path / "x.gltf", json.dumps(document))
    assert load_mesh(path)[1].shape == (12, 3)


def test_gltf_bombs(tmp_path):
    def told(document, message, **limits):
        refused(write(tmp_path / "x.gltf", json.dumps(document)), message, **limits)

    told(gltf(nodes=[{"children": [0]}]), "hangs from two parents, or from itself")
    told(gltf(nodes=[{"children": [1]}, {"children": [0]}]), "hangs from")
    told(gltf(nodes=[{"children": [1, 1]}, {"mesh": 0}]), "hangs from two parents")
    told(gltf(nodes=[{"mesh": 0}] * 10_001), "10001 nodes; up to 10000")
    told(gltf(nodes=[{"mesh": 0}] * 100), "1,200 triangles; up to 1,000", max_faces=1000)
    bare = gltf()
    del bare["accessors"][0]["bufferView"]
    bare["accessors"][0]["count"] = 10**12
    told(bare, "sparse or empty accessors")
    told(gltf(extensionsRequired=["KHR_draco_mesh_compression"]), "without compression")
    told(gltf(asset={"version": "1.0"}), "only glTF version 2")
    refused(write(tmp_path / "deep.gltf", "[" * 100_000), "damaged or cut short")


PLAIN = {
    ".stl": [stl_text().encode(), BOX.export(file_type="stl")],
    ".obj": [obj_text().encode()],
    ".ply": [BOX.export(file_type="ply"), BOX.export(file_type="ply", encoding="ascii")],
    ".glb": [trimesh.Scene(BOX).export(file_type="glb")],
    ".gltf": [json.dumps(gltf()).encode()],
}
FRAGMENTS = [
    b"",
    b"nan",
    b"-1",
    b"1e39",
    b"\xff\xff\xff\xff",
    b"\x00",
    b"9999999",
    b"\n",
    b"f 1 2 99\n",
]


@settings(
    max_examples=250,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(
    ending=st.sampled_from(sorted(PLAIN)),
    which=st.integers(0, 1),
    cut=st.one_of(st.none(), st.floats(0, 1)),
    changes=st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 8), st.sampled_from(FRAGMENTS)), max_size=3
    ),
)
def test_a_damaged_file_is_a_mesh_or_an_input_error(tmp_path, ending, which, cut, changes):
    raw = PLAIN[ending][which % len(PLAIN[ending])]
    for place, length, new in changes:
        i = int(place * len(raw))
        raw = raw[:i] + new + raw[i + length :]
    if cut is not None:
        raw = raw[: int(cut * len(raw))]
    path = write(tmp_path / f"x{ending}", raw)
    try:
        vertices, faces = load_mesh(path)
    except InputError:
        return
    assert np.isfinite(vertices).all()
    assert faces.min() >= 0
    assert faces.max() < len(vertices)
    assert report_on(vertices, faces).area > 0
