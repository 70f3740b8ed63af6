"""Changes to a habitat file keep comments, order, units and layout; files are written whole."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from loamwright.errors import InputError
from loamwright.files.document import parse_document
from loamwright.files.writer import Editor, render, set_value, write_whole

TEXT = """\
# A habitat.

name: Quarry Room                # what the sign says
enclosure:
  inside: {width: 150 cm, depth: 36 in,   height: 140 cm}   # measured twice
  panels:
    back:  {material: pvc-foam-board, thickness: 10 mm}
    # the glass
    front: {material: 'float-glass', thickness: 5 mm}

# Lamps, brightest first.
lamps:
  # over the branch
  - {name: uv, type: t5ho-uvb-medium-54w, at: [75 cm, 40 cm, 136 cm]}   # new tube
  # heat
  - name: spot     # clear glass
    type: halogen-flood-50w
    at: [35 cm, 40 cm, 52 in]
    dim: 80 %
animals:
- species: phelsuma-grandis
  males: 1   # the old one
day: {from: "07:00", to: "19:00"}
needs: []
notes: |
  two
  lines
plants:
# the end
"""
HERE = Path("habitat.yaml")


def edited(text: str = TEXT) -> Editor:
    return Editor(HERE, text)


def changed_lines(before: str, after: str) -> tuple[list[str], list[str]]:
    old, new = before.splitlines(), after.splitlines()
    return [x for x in old if x not in new], [x for x in new if x not in old]


@pytest.mark.parametrize(
    ("loc", "value", "gone", "come"),
    [
        (("lamps", 0, "at", 2), "130 cm", "136 cm]}   # new tube", "130 cm]}   # new tube"),
        (("lamps", 1, "dim"), "65 %", "dim: 80 %", "dim: 65 %"),
        (("enclosure", "inside", "depth"), "30 in", "36 in,   height", "30 in,   height"),
        (("day", "from"), "06:30", 'from: "07:00"', 'from: "06:30"'),
        (("animals", 0, "males"), 2, "males: 1   # the", "males: 2   # the"),
        (
            ("enclosure", "panels", "front", "material"),
            "acrylic",
            "'float-glass'",
            "'acrylic'",
        ),
        (("name",), "Quarry: room 2", "name: Quarry Room  ", 'name: "Quarry: room 2"  '),
    ],
)
def test_one_value_changes_and_nothing_else(loc: Any, value: Any, gone: str, come: str) -> None:
    editor = edited()
    editor.set(loc, value)
    assert editor.text == TEXT.replace(gone, come)


def test_a_key_is_added_beside_the_others() -> None:
    editor = edited()
    editor.set(("lamps", 0, "dim"), "70 %")
    editor.set(("lamps", 1, "guard"), "wire-cage")
    editor.set(("enclosure", "panels", "left"), {"material": "plywood", "thickness": "18 mm"})
    editor.set(("room", "winter", "day"), "19 degC")
    old, new = changed_lines(TEXT, editor.text)
    assert old == [x for x in TEXT.splitlines() if "name: uv" in x]
    assert new == [
        "    left: {material: plywood, thickness: 18 mm}",
        "  - {name: uv, type: t5ho-uvb-medium-54w, at: [75 cm, 40 cm, 136 cm], dim: 70 %}   # new tube",
        "    guard: wire-cage",
        "room: {winter: {day: 19 degC}}",
    ]
    assert editor.text.index("guard") < editor.text.index("animals:")


def test_entries_are_added_in_the_layout_of_their_list() -> None:
    editor = edited()
    lamp = {"name": "grow", "type": "led-bar-40w", "at": ["75 cm", "30 cm", "138 cm"]}
    editor.add(("lamps",), lamp)
    editor.add(("animals",), {"species": "anolis-sagrei", "females": 2})
    editor.add(("needs",), {"quantity": "uvi", "low": 2, "source": "our log"})
    editor.add(("plants",), {"species": "ficus-benjamina", "at": ["10 cm", "10 cm"]})
    editor.add(("sites",), {"name": "probe", "at": ["1 cm", "1 cm", "50 cm"]})
    _, new = changed_lines(TEXT, editor.text)
    assert new == [
        "  - name: grow",
        "    type: led-bar-40w",
        "    at: [75 cm, 30 cm, 138 cm]",
        "- species: anolis-sagrei",
        "  females: 2",
        "needs: [{quantity: uvi, low: 2, source: our log}]",
        "plants: [{species: ficus-benjamina, at: [10 cm, 10 cm]}]",
        "sites:",
        "  - {name: probe, at: [1 cm, 1 cm, 50 cm]}",
    ]
    assert "# the end" in editor.text


def test_what_is_removed_goes_and_comments_of_their_own_stay() -> None:
    editor = edited()
    editor.remove(editor.find("lamps", "uv"))
    editor.remove(("enclosure", "inside", "height"))
    editor.remove(("lamps", 0, "dim"))
    old, _ = changed_lines(TEXT, editor.text)
    assert [x.strip()[:12] for x in old] == ["inside: {wid", "- {name: uv,", "dim: 80 %"]
    for comment in ("# over the branch", "# heat", "# clear glass", "# measured twice"):
        assert comment in editor.text
    editor.remove(("lamps", 0))
    assert editor.data["lamps"] == []
    editor.remove(("animals", 0, "species"))
    assert editor.data["animals"] == [{"males": 1}]


def test_windows_line_ends_and_a_mark_at_the_start_stay(tmp_path: Path) -> None:
    path = tmp_path / "habitat.yaml"
    raw = b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode()
    path.write_bytes(raw)
    editor = Editor(path)
    editor.set(("lamps", 1, "dim"), "65 %")
    editor.set(("lamps", 1, "guard"), "wire-cage")
    editor.save()
    expected = raw.replace(b"dim: 80 %", b"dim: 65 %\r\n    guard: wire-cage")
    assert path.read_bytes() == expected


def test_a_shared_value_is_changed_through_the_round_trip() -> None:
    text = "# top\na: &size [1 cm, 2 cm]  # shared\nb: *size\n"
    editor = edited(text)
    editor.set(("b",), ["3 cm", "4 cm"])
    assert editor.data == {"a": ["1 cm", "2 cm"], "b": ["3 cm", "4 cm"]}
    assert "# shared" in editor.text
    with pytest.raises(InputError, match="cannot be changed in this file"):
        edited(text).set(("b", 0), "9 cm")


@pytest.mark.parametrize(
    ("loc", "said"),
    [
        (("lamps", 7, "dim"), "there is no entry 7"),
        (("name", "first"), "habitat.yaml:3:7"),
        (("lamps", 0, "at", 9), "is not there"),
        ((), "the whole file cannot be set"),
    ],
)
def test_places_that_are_not_there(loc: Any, said: str) -> None:
    editor = edited()
    with pytest.raises(InputError, match=said):
        editor.set(loc, "1 cm")
    assert editor.text == TEXT
    with pytest.raises(InputError, match="is not there"):
        editor.remove(("lamps", 7))
    with pytest.raises(InputError, match="no 'uvv' in it; the nearest known is 'uv'"):
        editor.find("lamps", "uvv")
    with pytest.raises(InputError, match="is not a list"):
        editor.add(("day",), "x")


def test_saving_is_safe(tmp_path: Path) -> None:
    path = tmp_path / "habitat.yaml"
    path.write_text(TEXT)
    path.chmod(0o640)
    set_value(path, ("lamps", 1, "dim"), "65 %")
    assert path.read_text() == TEXT.replace("80 %", "65 %")
    assert path.stat().st_mode & 0o777 == 0o640
    editor = Editor(path)
    editor.set(("lamps", 1, "dim"), "50 %")
    path.write_text(TEXT)  # somebody else saves meanwhile
    with pytest.raises(InputError, match="has changed on disk since it was read"):
        editor.save()
    assert path.read_text() == TEXT
    other = tmp_path / "other.yaml"
    editor.save(other)
    with pytest.raises(InputError, match="is there already"):
        editor.save(other)
    editor.save(other, force=True)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["habitat.yaml", "other.yaml"]


def test_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.txt"
    write_whole(path, "one")
    with pytest.raises(InputError, match="is there already"):
        write_whole(path, "two")
    assert path.read_text() == "one"
    with pytest.raises(InputError, match="cannot be written"):
        write_whole(tmp_path / "none" / "a.txt", "x")
    with pytest.raises(InputError, match="is there already"):
        write_whole(tmp_path, "x")
    with pytest.raises(InputError, match="is a folder"):
        write_whole(tmp_path, "x", force=True)

    def broken(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("loamwright.files.writer.os.fsync", broken)
    with pytest.raises(InputError, match="No space left"):
        write_whole(path, "three", force=True)
    assert path.read_text() == "one"
    assert [p.name for p in tmp_path.iterdir()] == ["a.txt"], "no temporary file is left"


def test_a_link_is_written_through(tmp_path: Path) -> None:
    real, link = tmp_path / "real.yaml", tmp_path / "link.yaml"
    real.write_text(TEXT)
    link.symlink_to(real)
    set_value(link, ("name",), "Other")
    assert link.is_symlink()
    assert "name: Other" in real.read_text()


@pytest.mark.parametrize(
    "value",
    ["", " a", "a ", "12", "0x1F", "true", "~", "on", "8:30", "a: b", "a #b", "- a", "-5 cm", "?",
     "80 %", "5 ft 6 in", '36"', "it's", "a, b", "[x]", "{x}", "&a", "*a", "!t", "|", ">", "%", "@",
     "`", "ü µ", "a\nb", "a\tb", "\\", '"', "null", "1e3", ".5", "=", "<<", "a:", ":a", "x" * 300,
     1, -1, 0.5, 1e300, True, False, None, [], {}, ["a", [1]], {"a b": {"c": "1 cm"}}],
)  # fmt: skip
def test_what_is_rendered_is_read_back(value: Any) -> None:
    for text in (f"k: {render(value)}\n", f"[{render(value)}, 1]\n"):
        data = parse_document(text, HERE).data
        assert (data["k"] if isinstance(data, dict) else data[0]) == value
    if isinstance(value, str) and value:
        for style in ("'", '"'):
            assert parse_document(f"k: {render(value, style)}\n", HERE).data["k"] == value


def _places(data: Any, at: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    found = [at] if at else []
    items = (
        data.items()
        if isinstance(data, dict)
        else enumerate(data)
        if isinstance(data, list)
        else ()
    )
    for key, value in items:
        found += _places(value, (*at, key))
    return found


def test_random_changes_each_say_what_was_meant() -> None:
    """The editor reads each change back itself; here its answer is held against plain data."""
    rng = random.Random(20)
    values = ["5 cm", 3, 0.5, True, ["1 cm", "2 cm"], {"a": "x y"}, "07:30", "a: b"]
    for _ in range(40):
        editor = edited()
        for _ in range(4):
            at = rng.choice(_places(editor.data))
            expected = editor.data
            holder = expected
            for part in at[:-1]:
                holder = holder[part]
            if rng.random() < 0.4:
                editor.remove(at)
                del holder[at[-1]]
            else:
                value = rng.choice(values)
                editor.set(at, value)
                holder[at[-1]] = value
            assert editor.data == expected
            assert editor.text.startswith("# A habitat.")
            if not editor.data:
                break
