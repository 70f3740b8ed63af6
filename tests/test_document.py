"""YAML documents: plain data, places, and everything that is refused."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from loamwright.errors import InputError
from loamwright.files.document import (
    MAX_BYTES,
    MAX_DEPTH,
    nearest,
    parse_document,
    read_document,
    suggest,
)

HERE = Path("habitat.yaml")


def refused(text: str) -> list[str]:
    with pytest.raises(InputError, match=r"habitat\.yaml") as caught:
        parse_document(text, HERE)
    return [str(p) for p in caught.value.problems]


def test_plain_scalars_follow_yaml_1_2() -> None:
    text = "a: [on, 8:30, 0o17, 0x1F, 1e3, .5, 012, ~, true, 2024-01-01, 1_000, '1', No]\n"
    assert parse_document(text, HERE).data == {
        "a": ["on", "8:30", 15, 31, 1000.0, 0.5, 12, None, True, "2024-01-01", "1_000", "1", "No"]
    }


def test_keys_are_text_whatever_they_look_like() -> None:
    data = parse_document("on: 1\n12: 2\ntrue: 3\nnull: 4\n", HERE).data
    assert data == {"on": 1, "12": 2, "true": 3, "null": 4}


def test_where_a_value_stands() -> None:
    doc = parse_document("a: 1\nlamps:\n  - {name: uv, at: [1 cm, 2 cm]}\n", HERE)
    assert doc.where(("lamps", 0, "at", 1)) == (3, 27)
    assert doc.where(("lamps", 0, "at"), key=True) == (3, 16)
    assert doc.where(("lamps", 0, "missing")) == (3, 5), "a missing key points at its parent"
    assert doc.where(("lamps", 0, "tag", "at", "many", 1)) == (3, 27), "tags are passed over"
    assert str(doc.problem(("lamps", 0, "at", 1), "is wrong")) == (
        "habitat.yaml:3:27: lamps[0].at[1]: is wrong"
    )
    assert doc.field(("lamps", 0, "missing")) == "lamps[0].missing"


def test_an_alias_is_the_value_it_names() -> None:
    doc = parse_document("a: &p [1 cm, 2 cm]\nb: *p\n", HERE)
    assert doc.data["b"] == ["1 cm", "2 cm"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a: !!python/object:os.system x\n", "habitat.yaml:1:4: a: the tag .*python.* is not read"),
        ("a: !secret x\n", "habitat.yaml:1:4: a: the tag !secret is not read"),
        ("%YAML 1.1\n---\na: 1\n", "remove the %YAML line"),
        ("a: 1\n---\nb: 2\n", "habitat.yaml:2:1: holds a second document"),
        ("b: {<<: {a: 1}}\n", "habitat.yaml:1:5: b: merge keys"),
        ("? [a]\n: 1\n", "habitat.yaml:1:3: a key must be a plain word"),
        ("a: [1,\n", "habitat.yaml:2:1: is not well-formed YAML"),
        ("a: b: c\n", "habitat.yaml:1:5: is not well-formed YAML"),
        ("a: \x01\n", r"habitat.yaml:1:4: character U\+0001"),
        ("a: 1\nb: \x00\n", r"habitat.yaml:2:4: character U\+0000"),
        ("", "habitat.yaml:1:1: is empty"),
        ("# only a comment\n", "is empty"),
        ("a: *b\n", r"habitat.yaml:1:4: a: \*b stands for nothing"),
        ("a: &x [*x]\n", r"habitat.yaml:1:8: a\[0\]: \*x holds itself"),
        ("a: .nan\n", "habitat.yaml:1:4: a: .nan is not a number"),
        ("a: -.inf\n", "habitat.yaml:1:4: a: -.inf is not a number"),
        ("a: 1e999\n", "habitat.yaml:1:4: a: 1e999 is too large"),
        ("a: " + "9" * 5000 + "\n", "habitat.yaml:1:4: a: a number of 5000 characters"),
        ("- " * 5000 + "a", f"nested more than {MAX_DEPTH} levels"),
        ("[" * 100_000, f"nested more than {MAX_DEPTH} levels"),
    ],
)
def test_what_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        parse_document(text, HERE)


def test_a_file_of_aliases_that_multiply_is_refused() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    for i in range(1, 9):
        lines.append(f"a{i}: &a{i} [" + ", ".join([f"*a{i - 1}"] * 9) + "]")
    with pytest.raises(InputError, match=r"aliases .* write out to more than"):
        parse_document("\n".join(lines), HERE)


def test_depth_through_aliases_counts() -> None:
    lines = ["a0: &a0 [x]"] + [f"a{i}: &a{i} [[[[*a{i - 1}]]]]" for i in range(1, 9)]
    with pytest.raises(InputError, match=f"nested more than {MAX_DEPTH} levels"):
        parse_document("\n".join(lines), HERE)


def test_every_duplicate_key_is_told_at_once() -> None:
    assert refused("a: 1\nb: {c: 1, c: 2}\na: 3\n") == [
        "habitat.yaml:2:11: b.c: 'c' is here twice, first in line 2; keep one",
        "habitat.yaml:3:1: a: 'a' is here twice, first in line 1; keep one",
    ]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        read_document(tmp_path / "none.yaml")
    with pytest.raises(InputError, match="is not a file"):
        read_document(tmp_path)
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(InputError, match="is not a file"):
        read_document(tmp_path / "pipe")
    big = tmp_path / "big.yaml"
    big.write_bytes(b"a: 1\n" + b"#" * MAX_BYTES)
    with pytest.raises(InputError, match=r"is larger than 2 MB"):
        read_document(big)
    with pytest.raises(InputError, match="cannot be read"):
        read_document(tmp_path / ("x" * 400))


def test_text_that_is_not_utf_8_is_located(tmp_path: Path) -> None:
    path = tmp_path / "latin.yaml"
    path.write_bytes("a: 1\nname: Gr\u00fcn\n".encode("latin-1"))
    with pytest.raises(InputError, match=r"latin.yaml:2:9: byte 0xfc is not UTF-8"):
        read_document(path)
    path.write_bytes("name: x\n".encode("utf-16"))
    with pytest.raises(InputError, match="is not UTF-8"):
        read_document(path)
    path.write_bytes(b"\xef\xbb\xbfname: x\n")
    assert read_document(path).data == {"name": "x"}


def test_the_nearest_known_word() -> None:
    known = ["ficus-benjamina", "ficus-elastica", "moss"]
    assert nearest("ficus-benjamna", known) == "ficus-benjamina"
    assert nearest("Moss", known) == "moss"
    assert nearest("elastica", known) == "ficus-elastica"
    assert nearest("zzz", known) is None
    assert suggest("zzz", ["b", "a"]) == "known: a, b"
    assert suggest("zzz", []) == "none is known"
