# ruff: noqa: E501 (a damaged file and what is said of it read best side by side)
"""Damaged meshes, light files and catalogues, as a habitat file meets them.

What each reader says by itself is tested beside it (meshes, photometry, catalogue); here the
habitat file names them, and the message must lead a builder to the line to mend.
"""

from __future__ import annotations

import os
import struct
import subprocess
import sys
import time
from pathlib import Path

import pytest

from bad_case import METRIC
from loamwright.errors import InputError
from loamwright.files.catalogue import load_catalogue
from loamwright.files.reader import read_habitat_text
from loamwright.habitat.habitat import Habitat

DATA = Path(__file__).parent / "data"
CORNERS = ((0, 0, 0), (100, 0, 0), (0, 100, 0), (0, 0, 100))
FACES = ((0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3))


def obj(faces=FACES, corners=CORNERS) -> str:  # type: ignore[no-untyped-def]
    lines = ["v {} {} {}".format(*c) for c in corners]
    return "\n".join(lines + ["f {} {} {}".format(*(i + 1 for i in f)) for f in faces]) + "\n"


def stl(count: int, told: int | None = None, corner: float = 100.0) -> bytes:
    """A binary file of so many equal triangles (``told``: what its header says)."""
    one = struct.pack("<12fH", *(0, 0, 1), *(0, 0, 0), corner, 0, 0, *(0, 100, 100), 0)
    return b"binary".ljust(80) + struct.pack("<I", count if told is None else told) + one * count


def read(folder: Path, name: str, content: bytes | str, more: str = "") -> Habitat:
    """A habitat with one piece, scanned: the file is named in line 6, column 29."""
    raw = content if isinstance(content, bytes) else content.encode()
    (folder / name).write_bytes(raw)
    text = f"{METRIC}hardscape: [{{name: r, mesh: {name}, at: [30 cm, 20 cm]{more}}}]\n"
    return read_habitat_text(text, folder / "habitat.yaml")


def refusals(folder: Path, name: str, content: bytes | str) -> list[str]:
    with pytest.raises(InputError, match=r":\d+:\d+: ") as caught:
        read(folder, name, content)
    return [str(p).removeprefix(f"{folder}/") for p in caught.value.problems]


# -- meshes -------------------------------------------------------------------------------------


def test_a_mesh_with_a_hole_is_built_and_told(tmp_path: Path) -> None:
    habitat = read(tmp_path, "open.obj", obj(FACES[:3]))
    assert len(habitat.hardscape[0].faces) == 3
    told = {d.field: d for d in habitat.defaults}["hardscape[r].mesh"]
    assert told.value == "not closed (1 hole)"
    assert "it shades as it is" in told.why
    closed = read(tmp_path, "closed.obj", obj())
    assert "hardscape[r].mesh" not in {d.field for d in closed.defaults}


def test_a_face_that_runs_the_wrong_way_round_is_told(tmp_path: Path) -> None:
    habitat = read(tmp_path, "flipped.obj", obj((*FACES[:3], (1, 3, 2))))
    told = {d.field: d.value for d in habitat.defaults}
    assert told["hardscape[r].mesh"] == "not closed (0 holes)"


MESHES = {
    "no number": ("a.obj", obj().replace("100", "nan", 1), "habitat.yaml:6:29: hardscape[0].mesh: 1 of 4 vertices are not numbers"),
    "no end": ("a.stl", stl(4, corner=float("inf")), "vertices are not numbers"),
    "a word": ("a.obj", obj().replace("100", "many", 1), "a.obj:2:1: a vertex is three numbers, not 'many 0 0'"),
    "a corner missing there": ("a.obj", obj(((0, 1, 9),)), "a.obj:5:1: a face names a vertex that is not there (there are 4)"),
    "a corner beyond any machine": ("a.obj", obj(((0, 1, 10**30),)), "a.obj:5:1: '100000000000000000000000000000' is not the number of a vertex"),
    "beyond all bounds": ("a.obj", obj().replace("100", "1e30"), "habitat.yaml:6:29: hardscape[0].mesh: a coordinate of 1e+30 lies beyond 1e+09"),
    "no faces": ("a.obj", obj(()), "habitat.yaml:6:29: hardscape[0].mesh: the file holds no triangles"),
    "no faces, binary": ("a.stl", stl(0), "the file holds no triangles"),
    "points alone": ("a.ply", "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0 0\n", "the file holds no triangles (points alone cast no shadow)"),
    "no area": ("a.obj", obj(((0, 0, 0), (1, 1, 2))), "no triangle has any area: the mesh is a line or a point"),
    "empty": ("a.stl", b"", "this cannot be read as STL"),
    "text that is no mesh": ("a.stl", "name: root\n", "this cannot be read as STL"),
    "the wrong magic": ("a.ply", b"plx\n" + bytes(99), "this cannot be read as PLY (no header)"),
    "the wrong magic of glTF": ("a.glb", b"gltf" + bytes(99), "this cannot be read as glTF"),
    "a picture called mesh": ("a.glb", b"\x89PNG\r\n\x1a\n" + bytes(99), "this cannot be read as glTF"),
    "cut short": ("a.stl", stl(4)[:-30], "this cannot be read as STL"),
    "more told than there is": ("a.stl", stl(4, told=5), "this cannot be read as STL"),
    "a million triangles": ("a.stl", stl(1_000_000), "the mesh has 1,000,000 triangles; up to 200,000 are read. Thin it out"),
    "four billion told": ("a.ply", "ply\nformat ascii 1.0\nelement vertex 3\nelement face 4294967295\nproperty list uchar int vertex_indices\nend_header\n", "the mesh has 4,294,967,295 triangles; up to 200,000"),
    "too large a file": ("a.stl", b"solid\n" + b" " * 64_000_000, "the file has 64.0 MB; up to 64 MB are read"),
    "no ending": ("mesh", obj(), "'no ending' is not a mesh file's ending; .stl, .obj, .ply, .glb, .gltf are read"),
    "glTF that leaves the folder": ("a.gltf", '{"asset": {"version": "2.0"}, "buffers": [{"uri": "../x.bin", "byteLength": 9}]}', "leaves the project's folder (..)"),
    "glTF from the network": ("a.gltf", '{"asset": {"version": "2.0"}, "buffers": [{"uri": "http://x/x.bin", "byteLength": 9}]}', "must be a file in the project's folder"),
    "glTF without end": ("a.gltf", "[" * 100_000, "this cannot be read as glTF"),
}  # fmt: skip
SLOW = ("a million triangles", "too large a file")


@pytest.mark.parametrize(
    "name", [pytest.param(n, marks=pytest.mark.slow) if n in SLOW else n for n in MESHES]
)
def test_a_damaged_mesh_is_refused(name: str, tmp_path: Path) -> None:
    file, content, said = MESHES[name]
    found = refusals(tmp_path, file, content)
    assert len(found) == 1
    assert said in found[0]
    assert found[0].startswith(("habitat.yaml:6:29: hardscape[0].mesh: ", f"{file}:"))
    assert found[0].isprintable()


@pytest.mark.slow  # writes and reads 50 MB
def test_a_million_triangles_are_refused_before_they_are_read(tmp_path: Path) -> None:
    (tmp_path / "a.stl").write_bytes(stl(1_000_000))
    start = time.perf_counter()
    with pytest.raises(InputError, match="1,000,000 triangles"):
        read(tmp_path, "a.stl", stl(1_000_000))
    assert time.perf_counter() - start < 3.0  # reading them would take tens of seconds


def test_a_piece_too_large_for_the_box_is_told_with_its_reach(tmp_path: Path) -> None:
    with pytest.raises(
        InputError, match=r"6:41: hardscape\[0\]\.at\[0\]: the mesh reaches x = -20 cm"
    ):
        read(tmp_path, "a.obj", obj(), ", unit: 1 cm")


# -- links and things that are no files ---------------------------------------------------------


@pytest.mark.parametrize("key", ["mesh", "catalogue", "ies"])
def test_links_folders_pipes_and_devices_are_not_followed(key: str, tmp_path: Path) -> None:
    home = tmp_path / "home"
    (home / "sub").mkdir(parents=True)
    (tmp_path / "secret").write_text("secret: 1\n")
    (home / "out").symlink_to(tmp_path / "secret")
    (home / "zero").symlink_to("/dev/zero")
    (home / "up").symlink_to(tmp_path)
    (home / "loop").symlink_to("loop")
    os.mkfifo(home / "pipe")
    for name, said in {
        "out": "is a link that leaves the project's folder",
        "zero": "is a link that leaves the project's folder",
        "up/secret": "is a link that leaves the project's folder",
        "loop": "cannot be read: ",
        "pipe": "is not a file",
        "sub": "is not a file",
        ".": "is not a file",
    }.items():
        text = (
            METRIC
            + {
                "mesh": f"hardscape: [{{name: r, mesh: {name}, at: [30 cm, 20 cm]}}]\n",
                "catalogue": f"catalogue: [{name}]\n",
                "ies": f"lamps: [{{name: l, type: led-bar-20w, at: [30 cm, 20 cm, 80 cm], ies: {name}}}]\n",
            }[key]
        )
        with pytest.raises(InputError, match=rf"habitat\.yaml:6:\d+: .*{said}") as caught:
            read_habitat_text(text, home / "habitat.yaml")
        assert len(caught.value.problems) == 1
        assert "secret: 1" not in str(caught.value)


# -- light files --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "file"), [("ies", "lambertian.ies"), ("eulumdat", "bar-aside.ldt")]
)
def test_a_light_file_cut_short_anywhere(key: str, file: str, tmp_path: Path) -> None:
    whole = (DATA / file).read_bytes()
    name = "a" + Path(file).suffix
    lamp = f"lamps: [{{name: l, type: led-bar-20w, at: [30 cm, 20 cm, 80 cm], {key}: {name}}}]\n"
    refused = 0
    steps = range(0, len(whole), max(len(whole) // 40, 1))
    for end in steps:
        (tmp_path / name).write_bytes(whole[:end])
        try:
            read_habitat_text(METRIC + lamp, tmp_path / "habitat.yaml")
        except InputError as error:
            refused += 1
            for problem in error.problems:
                assert problem.line > 0
                assert str(problem).isprintable()
    assert refused >= len(steps) - 1  # only what is cut behind the last number can still be whole
    (tmp_path / name).write_bytes(whole)
    assert read_habitat_text(METRIC + lamp, tmp_path / "habitat.yaml").lamps[0].type.table


# -- catalogues ---------------------------------------------------------------------------------


def test_a_long_ring_of_likes_ends(tmp_path: Path) -> None:
    count = 3000  # more than Python calls deep
    own = "lamps:\n" + "".join(f"  l{i}:\n    like: l{(i + 1) % count}\n" for i in range(count))
    (tmp_path / "own.yaml").write_text(own)
    with pytest.raises(
        InputError, match="is the end of a chain of 50 entries; name the entry meant"
    ):
        load_catalogue([tmp_path / "own.yaml"], tmp_path)


def test_a_catalogue_outside_the_project_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "own.yaml").write_text("lamps: {}\n")
    with pytest.raises(InputError, match=r"own\.yaml: lies outside the project's folder"):
        load_catalogue([tmp_path / "own.yaml"], tmp_path / "home")


def test_nothing_of_a_damaged_mesh_reaches_the_terminal(tmp_path: Path) -> None:
    """In a process of its own, where the mesh library's log is not caught."""
    (tmp_path / "a.ply").write_bytes(b"ply\nformat binary_little_endian 1.0\nelement vertex 9\n"
                                     b"element face 9\nend_header\n" + bytes(20))  # fmt: skip
    text = METRIC + "hardscape: [{name: r, mesh: a.ply, at: [30 cm, 20 cm]}]\n"
    (tmp_path / "habitat.yaml").write_text(text)
    done = subprocess.run(
        [sys.executable, "-m", "loamwright", "check", "habitat.yaml"],
        cwd=tmp_path, capture_output=True, text=True, check=False,
        env={**os.environ, "LOAMWRIGHT_CACHE": str(tmp_path / "kept")},
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (2, "")
    assert len(done.stderr.splitlines()) == 1
    assert done.stderr.startswith(
        "habitat.yaml:6:29: hardscape[0].mesh: this cannot be read as PLY"
    )
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.ply", "habitat.yaml"]
