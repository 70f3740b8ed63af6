"""Drafts: changes checked, undone, kept over a crash, saved with comments and never blindly."""

from __future__ import annotations

from pathlib import Path

import pytest

from loamwright.editing import (
    CHANGED,
    GONE,
    SAME,
    Draft,
    Wish,
    field_name,
    first_habitat,
    length_like,
)
from loamwright.errors import InputError
from loamwright.files.reader import read_habitat_text

TEXT = """# A box of the test.
name: Box   # the name
units: metric
enclosure:
  inside: {width: 100 cm, depth: 50 cm, height: 60 cm}
animals:
  - {species: anolis-carolinensis, males: 1, females: 1}
lamps:
  # The one lamp.
  - {name: uv, type: t5ho-uvb-medium-24w, at: [50 cm, 25 cm, 57 cm], along: x}   # over the branch
sites:
  - {name: spot, at: [50 cm, 25 cm, 30 cm], role: basking}
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "box.yaml"
    file.write_text(TEXT)
    return file


def test_a_change_is_in_the_text_and_in_the_habitat(path: Path) -> None:
    draft = Draft(path)
    draft.set(("lamps", 0, "at", 0), "40 cm")
    assert draft.habitat is not None
    assert draft.habitat.lamps[0].at[0] == pytest.approx(0.4)
    assert draft.text == TEXT.replace("at: [50 cm, 25 cm, 57 cm]", "at: [40 cm, 25 cm, 57 cm]")
    assert path.read_text() == TEXT
    assert draft.dirty


def test_what_would_be_wrong_is_refused_and_kept(path: Path) -> None:
    draft = Draft(path)
    with pytest.raises(InputError, match="length is wanted"):
        draft.set(("lamps", 0, "at", 0), "40 W")
    assert draft.text == TEXT
    assert not draft.dirty
    assert draft.refused["lamps[0].at[0]"].text == "40 W"
    draft.set(("lamps", 0, "at", 0), "40 cm")
    assert not draft.refused


def test_what_a_change_makes_wrong_elsewhere_is_named(path: Path) -> None:
    draft = Draft(path)
    with pytest.raises(InputError):
        draft.set(("enclosure", "inside", "width"), "30 cm")
    said = draft.refused["enclosure.inside.width"].messages
    assert any("sites 'spot', at" in m for m in said), said


def test_undo_and_redo_go_through_every_change(path: Path) -> None:
    draft = Draft(path)
    texts = [draft.text]
    for n in range(5):
        draft.set(("lamps", 0, "at", 0), f"{30 + n} cm")
        texts.append(draft.text)
    for text in reversed(texts[:-1]):
        assert draft.undo()
        assert draft.text == text
    assert draft.undo() == ""
    for text in texts[1:]:
        assert draft.redo()
        assert draft.text == text
    draft.undo()
    draft.set(("name",), "Other")
    assert draft.redo() == ""


def test_several_changes_are_one_step(path: Path) -> None:
    draft = Draft(path)
    draft.change([(("lamps", 0, "at", 0), "40 cm"), (("lamps", 0, "at", 1), "20 cm")], "move uv")
    assert draft.done == [("move uv", TEXT)]
    draft.undo()
    assert draft.text == TEXT


def test_a_crash_loses_nothing(path: Path, tmp_path: Path) -> None:
    """The draft, what was refused, and the way back are there for whoever opens it again."""
    state = tmp_path / "state"
    draft = Draft(path, "me", state)
    draft.set(("lamps", 0, "dim"), "80 %")
    with pytest.raises(InputError):
        draft.set(("lamps", 0, "at", 2), "-3 cm")
    again = Draft(path, "me", state)
    assert again.text == draft.text
    assert again.refused == draft.refused
    assert again.undo()
    assert again.text == TEXT
    # Another person has a draft of their own.
    assert Draft(path, "you", state).text == TEXT


def test_a_draft_of_a_file_that_is_gone_can_still_be_saved(path: Path, tmp_path: Path) -> None:
    draft = Draft(path, "me", tmp_path / "state")
    draft.set(("name",), "Kept")
    path.unlink()
    again = Draft(path, "me", tmp_path / "state")
    assert again.on_disk() == GONE
    again.save()
    assert "name: Kept" in path.read_text()


def test_a_damaged_draft_is_no_draft(path: Path, tmp_path: Path) -> None:
    state = tmp_path / "state"
    draft = Draft(path, "me", state)
    draft.set(("name",), "Kept")
    (kept,) = (state / "drafts").iterdir()
    kept.write_text(kept.read_text()[:40])
    assert Draft(path, "me", state).text == TEXT


def test_saving_keeps_comments_and_clears_the_draft(path: Path, tmp_path: Path) -> None:
    state = tmp_path / "state"
    draft = Draft(path, "me", state)
    draft.set(("lamps", 0, "dim"), "80 %")
    draft.save()
    saved = path.read_text()
    for comment in ("# A box of the test.", "# the name", "# The one lamp.", "# over the branch"):
        assert comment in saved
    assert not draft.dirty
    assert list((state / "drafts").iterdir()) == []


def test_a_file_changed_meanwhile_is_not_written_over(path: Path) -> None:
    draft = Draft(path)
    draft.set(("name",), "Mine")
    theirs = TEXT.replace("name: Box", "name: Theirs")
    path.write_text(theirs)
    assert draft.on_disk() == CHANGED
    with pytest.raises(InputError, match="choose which"):
        draft.save()
    assert path.read_text() == theirs
    draft.keep_mine()
    assert draft.on_disk() == SAME
    draft.save()
    assert "name: Mine" in path.read_text()


def test_the_one_on_disk_can_be_taken_and_undone(path: Path) -> None:
    draft = Draft(path)
    draft.set(("name",), "Mine")
    theirs = TEXT.replace("name: Box", "name: Theirs")
    path.write_text(theirs)
    draft.take_disk()
    assert draft.text == theirs
    assert not draft.dirty
    draft.undo()
    assert "name: Mine" in draft.text
    assert draft.dirty


def test_a_wrong_file_is_opened_with_its_problems(path: Path) -> None:
    path.write_text(TEXT.replace("width: 100 cm", "width: 100"))
    draft = Draft(path)
    assert draft.habitat is None
    assert draft.problems[0].field == "enclosure.inside.width"
    draft.write(TEXT)
    assert draft.habitat is not None
    path.write_text("a: [1")
    assert Draft(path).problems


def test_a_byte_order_mark_stays(path: Path) -> None:
    path.write_bytes(b"\xef\xbb\xbf" + TEXT.encode())
    draft = Draft(path)
    draft.set(("name",), "Marked")
    draft.save()
    assert path.read_bytes().startswith(b"\xef\xbb\xbf# A box")


def test_entries_are_added_and_taken_out(path: Path) -> None:
    draft = Draft(path)
    draft.add(("lamps",), {"name": "bar", "type": "led-bar-20w", "at": ["50 cm", "10 cm", "57 cm"]})
    assert [x.name for x in draft.habitat.lamps] == ["uv", "bar"]
    draft.remove(("lamps", 0))
    assert [x.name for x in draft.habitat.lamps] == ["bar"]
    with pytest.raises(InputError, match="no animal and no plant"):
        draft.remove(("animals", 0))


EXAMPLES = Path(__file__).parents[1] / "src/loamwright/data/examples"


@pytest.fixture
def example(tmp_path: Path) -> Draft:
    for name in ("forest-edge.yaml", "forest-edge-prices.csv"):
        (tmp_path / name).write_text((EXAMPLES / name).read_text())
    return Draft(tmp_path / "forest-edge.yaml")


def numbered(draft: Draft, section: str, name: str) -> tuple[str, int]:
    return section, next(n for n, x in enumerate(draft.value((section,))) if x.get("name") == name)


def test_what_others_name_stays_and_they_are_named(example: Draft) -> None:
    with pytest.raises(InputError) as refused:
        example.remove(numbered(example, "sites", "log hide"))
    assert [p.message for p in refused.value.problems] == [
        "'log hide' stays: lamps 'heater', aim still names it. Change or remove that first."
    ]
    with pytest.raises(
        InputError, match=r"'basking' stays: .*controls\.basking\.probe still name it"
    ):
        example.remove(numbered(example, "sites", "basking"))
    with pytest.raises(InputError, match=r"'pothos' stays: mist\.nozzles"):
        example.remove(numbered(example, "plants", "pothos"))
    assert not example.dirty


def test_a_controller_goes_with_the_last_thing_it_drives(example: Draft) -> None:
    before = set(example.value(("controls",)))
    example.remove(numbered(example, "lamps", "heater"))
    assert before - set(example.value(("controls",))) == {"low warmth"}
    assert "low warmth" in example.done[-1][0]
    example.undo()
    assert set(example.value(("controls",))) == before
    # Emptying the field that names it does the same.
    example.remove((*numbered(example, "air", "exhaust"), "control"))
    assert before - set(example.value(("controls",))) == {"damp"}


@pytest.mark.parametrize("system", ["metric", "us"])
def test_a_first_habitat_is_valid_and_as_wished(tmp_path: Path, system: str) -> None:
    size = ("90 cm", "50 cm", "70 cm") if system == "metric" else ("36 in", "18 in", "30 in")
    wish = Wish(
        "Two of a kind",
        system,
        size,
        (("anolis-carolinensis", 1, 2, 3), ("sceloporus-magister", 1, 0, 0)),
        {"winter": {"day": "18 degC"}},
        "300 m",
    )
    path = tmp_path / "new.yaml"
    habitat = read_habitat_text(first_habitat(wish, path), path)
    assert habitat.units == system
    assert habitat.enclosure.inside[0] == pytest.approx(0.9 if system == "metric" else 0.9144)
    assert [(g.species.key, g.males, g.females, g.young) for g in habitat.animals] == [
        ("anolis-carolinensis", 1, 2, 3),
        ("sceloporus-magister", 1, 0, 0),
    ]
    assert habitat.room.winter.day == pytest.approx(291.15)
    assert habitat.room.altitude == 300.0
    assert len(habitat.lamps) >= 3


def test_every_mistake_of_the_form_is_said_at_once(tmp_path: Path) -> None:
    wish = Wish("", size=("90", "50 cm", ""), animals=(("anolis-carolinensis", 0, 0, 0),),
                room={"summer": {"humidity": "wet"}}, altitude="high")  # fmt: skip
    with pytest.raises(InputError) as caught:
        first_habitat(wish, tmp_path / "new.yaml")
    fields = {p.field for p in caught.value.problems}
    assert fields == {
        "name",
        "animals[0]",
        "size[0]",
        "size[2]",
        "room.summer.humidity",
        "altitude",
    }
    with pytest.raises(InputError) as caught:
        first_habitat(Wish("x", animals=(("unicorn", 1, 0, 0),)), tmp_path / "new.yaml")
    flat = Wish("x", size=("90 cm", "-60 cm", "9 m"), animals=(("anolis-carolinensis", 1, 0, 0),))
    with pytest.raises(InputError) as found:
        first_habitat(flat, tmp_path / "new.yaml")
    assert [p.field for p in found.value.problems] == ["size[1]", "size[2]"]
    assert caught.value.problems[0].field == "animals[0]"


def test_what_only_the_whole_habitat_shows_is_said_with_the_rest(tmp_path: Path) -> None:
    wish = Wish("", size=("20 m", "50 cm", "60 cm"), animals=(("anolis-carolinensis", 1, 0, 0),),
                room={"summer": {"humidity": "wet"}})  # fmt: skip
    with pytest.raises(InputError) as caught:
        first_habitat(wish, tmp_path / "new.yaml")
    fields = [p.field for p in caught.value.problems]
    assert fields == ["name", "room.summer.humidity", "size[0]"]
    hot = Wish("x", animals=(("anolis-carolinensis", 1, 0, 0), ("unicorn", 1, 0, 0)),
               room={"winter": {"day": "400 degC"}}, altitude="90 km")  # fmt: skip
    with pytest.raises(InputError) as caught:
        first_habitat(hot, tmp_path / "new.yaml")
    assert {p.field for p in caught.value.problems} >= {"animals[1]", "room.winter.day", "altitude"}


def test_names_of_places_and_lengths_in_their_own_unit() -> None:
    assert field_name(("lamps", 0, "at", 2)) == "lamps[0].at[2]"
    assert length_like(0.3048, "10 in", "metric") == "12 in"
    assert length_like(0.3048, "1 cm", "us") == "30.48 cm"
    assert length_like(0.3048, None, "us") == "12 in"
