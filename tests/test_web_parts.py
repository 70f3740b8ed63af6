"""Forms from the schema, moves in the file's own units, findings before and after, things to draw."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from loamwright.editing import Draft, field_name
from loamwright.engine.findings import Cause, Cure, Finding, State
from loamwright.errors import InputError
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import Source, SourceKind
from loamwright.web import forms, moves, scene_data, tree, wording
from loamwright.web.app import pages
from loamwright.web.downloads import _cell
from loamwright.web.start import file_name

EXAMPLES = Path(__file__).parents[1] / "src/loamwright/data/examples"
SOURCE = Source("invented for a test", SourceKind.BUILDER)


@pytest.fixture(scope="module")
def draft(tmp_path_factory) -> Draft:
    path = tmp_path_factory.mktemp("web") / "forest-edge.yaml"
    path.write_text((EXAMPLES / "forest-edge.yaml").read_text())
    shutil.copy(EXAMPLES / "forest-edge-prices.csv", path.parent)
    return Draft(path)


def field(spec, key: str):
    return next(f for f in spec["fields"] if f["key"] == key)


# -- forms -----------------------------------------------------------------------------------------


def test_every_entry_of_every_example_has_a_form(tmp_path: Path) -> None:
    """Each key of the file stands in the form of its entry, or in an entry of its own."""
    for example in ("forest-edge", "dry-rock", "rain-glass", "school-meadow"):
        path = tmp_path / f"{example}.yaml"
        path.write_text((EXAMPLES / f"{example}.yaml").read_text())
        made = Draft(path, root=EXAMPLES)
        listed = {tuple(i["loc"]) for g in tree.groups(made) for i in g["items"]}
        for group in tree.groups(made):
            for item in group["items"]:
                loc = tuple(item["loc"])
                spec = forms.form(made, loc, "metric")
                shown = {f["key"] for f in spec["fields"]}
                assert shown, (example, loc)
                entry = made.value(loc)
                if loc and isinstance(entry, dict):
                    left = {k for k in set(entry) - shown - forms.UNSHOWN
                            if (*loc, k) not in listed}  # fmt: skip
                    assert not left or len(loc) == 1, (example, loc, left)
                json.dumps(spec)  # it goes over the wire


@pytest.mark.parametrize(
    ("example", "loc", "text"),
    [
        ("forest-edge", ("lamps", 0, "hours"), "08:00 to 18:00"),
        ("forest-edge", ("mist", "times"), "08:00 for 70 s, 12:30 for 70 s, 19:00 for 80 s"),
        ("forest-edge", ("ground", 2, "parts"), "4 coir, 3 composted-bark, 2 leaf-mould, 1 sand"),
        ("forest-edge", ("controls", "low warmth", "night"), "18.5 degC to 19.5 degC"),
        ("forest-edge", ("day", "winter"), "07:30 to 18:30"),
    ],
)
def test_brackets_are_told_and_typed_in_plain_words(
    tmp_path: Path, example: str, loc: tuple[str | int, ...], text: str
) -> None:
    path = tmp_path / "made.yaml"
    path.write_text((EXAMPLES / f"{example}.yaml").read_text())
    made = Draft(path, root=EXAMPLES)
    spec = forms.form(made, loc[:-1], "metric")
    one = field(spec, str(loc[-1]))
    assert one["value"] == text
    node = forms.node_at(made, loc)
    assert forms.typed_value(one, text, text, "metric", node) == made.value(loc)
    assert not [f["key"] for f in spec["fields"] if str(f.get("value", ""))[:1] in ("[", "{")]


def test_plain_words_that_mean_nothing_stay_what_was_typed(draft: Draft) -> None:
    loc = ("lamps", 0, "hours")
    one, node = field(forms.form(draft, loc[:-1], "metric"), "hours"), forms.node_at(draft, loc)
    assert forms.typed_value(one, "always", "", "metric", node) == "always"
    assert forms.typed_value(one, "sometimes", "", "metric", node) == "sometimes"
    assert forms.typed_value(one, "{from: 08:00, to: 9:00}", "", "metric", node) == {
        "from": "08:00", "to": "9:00"
    }  # fmt: skip
    parts = forms.node_at(draft, ("ground", 2, "parts"))
    made = forms.typed_value({"key": "parts"}, "2 coir, 1.5 parts sand", "", "metric", parts)
    assert made == {"coir": 2, "sand": 1.5}


def test_leaves_of_the_file_are_those_whose_decay_is_known() -> None:
    from typing import get_args

    from loamwright.files.schema_box import Leaf
    from loamwright.physics.leaf_decay import LEAVES

    assert set(get_args(Leaf)) == set(LEAVES)


def test_a_lamps_form_knows_units_choices_and_help(draft: Draft) -> None:
    spec = forms.form(draft, ("lamps", 0), "us")
    at = field(spec, "at")
    assert [p["value"] for p in at["parts"]] == ["44 cm", "54 cm", "145 cm"]
    assert at["parts"][0]["also"] == "= 17.32 in"
    assert any(k == "led-bar-20w" for k, _ in field(spec, "type")["options"])
    assert ("basking", "basking") in field(spec, "control")["options"]
    assert "full power" in field(spec, "dim")["about"]
    assert field(spec, "name")["needed"]


def test_choices_of_a_piece_follow_its_shape(draft: Draft) -> None:
    assert draft.habitat is not None
    shapes = [p.shape for p in draft.habitat.hardscape]
    tube, rock = shapes.index("tube"), shapes.index("rock")
    keys = {f["key"] for f in forms.form(draft, ("hardscape", tube), "metric")["fields"]}
    assert {"wall", "from", "to"} <= keys
    keys = {f["key"] for f in forms.form(draft, ("hardscape", rock), "metric")["fields"]}
    assert "size" in keys
    assert "wall" not in keys


@pytest.mark.parametrize(
    ("typed", "before", "system", "wanted"),
    [("46", "44 cm", "metric", "46 cm"), ("46", "", "us", "46 in"), ("46 mm", "44 cm", "us", "46 mm"),
     ("1/2", "3 in", "us", "1/2 in"), ("1/2", "3 in", "metric", "1/2"), ("13", "32.5 cm", "us", "13"),
     ("  ", "44 cm", "metric", None),
     ("-3", "2 cm", "metric", "-3 cm"), ("about 5", "2 cm", "metric", "about 5")],
)  # fmt: skip
def test_a_bare_number_takes_the_unit_that_stood_there(typed, before, system, wanted) -> None:
    assert (
        forms.typed_value({"quantity": "length", "kind": "text"}, typed, before, system) == wanted
    )


def test_other_fields_are_read_as_the_file_would(draft: Draft) -> None:
    assert forms.typed_value({"boolean": True, "kind": "choice"}, "true", "", "metric") is True
    assert forms.typed_value({"plain": True, "kind": "text"}, "3", "", "metric") == 3
    hours = forms.typed_value({"key": "hours", "kind": "text"}, '{from: "08:00", to: "17:00"}', "",
                              "metric")  # fmt: skip
    assert hours == {"from": "08:00", "to": "17:00"}
    assert forms.typed_value({"key": "name", "kind": "text"}, "a: b", "", "metric") == "a: b"
    with pytest.raises(InputError):
        forms.typed_value({"key": "hours", "kind": "text"}, "{from: ", "", "metric")


# -- moves -----------------------------------------------------------------------------------------


def test_moves_are_written_in_the_files_own_units(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    found = moves.moved(draft, habitat, ("lamps", 0), [0.1, 0.0, -0.05], None)
    assert found == [(("lamps", 0, "at", 0), "54 cm"), (("lamps", 0, "at", 2), "140 cm")]
    both = moves.moved(draft, habitat, ("hardscape", 0), [0.0, -0.02, 0.0], None)
    assert [v for _, v in both] == ["65 cm", "36 cm"]
    assert moves.moved(draft, habitat, ("sites", 0), [1, 1, 1], 0.5) == [
        (("sites", 0, "along"), 0.5)]  # fmt: skip
    # A fan in the right panel moves along y and z.
    assert moves.moved(draft, habitat, ("air", 0), [0.0, 0.01, 0.03], None) == [
        (("air", 0, "at", 0), "15 cm"),
        (("air", 0, "at", 1), "43 cm"),
    ]


def test_a_guess_is_what_the_reader_makes_of_the_change(draft: Draft) -> None:
    """Light shown before the text is read again must be that of the habitat which comes of it."""
    habitat = draft.habitat
    assert habitat is not None
    for changes in ([(("lamps", 0, "at", 0), "47.3 cm")], [(("lamps", 0, "dim"), "35 %")]):
        guess = moves.lamps_with(habitat, ("lamps", 0), changes)
        other = Draft(draft.path)
        other.change(changes, "test")
        assert guess is not None
        assert other.habitat is not None
        assert guess.lamps == other.habitat.lamps
    aimed = [(("lamps", 3, "at", 0), "90 cm")]
    assert moves.lamps_with(habitat, ("lamps", 3), aimed) is None  # its aim changes as well
    assert moves.lamps_with(habitat, ("lamps", 0), [(("lamps", 0, "type"), "led-bar-20w")]) is None


def test_a_cure_becomes_a_change(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    cure = Cure("move", "uv", 2.0, to=(0.7, 0.5, 1.45))
    loc, changes = moves.cure_changes(draft, habitat, cure)
    assert loc == ("lamps", 0)
    assert [v for _, v in changes] == ["70 cm", "50 cm", "145 cm"]


def test_names_of_things_lead_back_to_the_file(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    for thing in scene_data.things(habitat, draft.value)["things"]:
        if thing["kind"] != "site" or thing["role"] != "crown":
            assert list(moves.loc_of(thing["id"])) == thing["loc"]
    for group in tree.groups(draft):
        for item in group["items"]:
            assert list(moves.loc_of(item["id"])) == item["loc"]


@pytest.mark.parametrize("section", sorted(tree.ADDABLE))
@pytest.mark.parametrize("system", ["metric", "us"])
def test_what_is_added_is_valid_as_it_stands(draft: Draft, section: str, system: str) -> None:
    made = Draft(draft.path)
    before = len(made.value(tuple(section.split("."))) or [])
    for _ in range(2):
        assert made.habitat is not None
        tree.add(made, replace(made.habitat, units=system), section)
    entries = made.value(tuple(section.split(".")))
    assert len(entries) == before + 2
    last = list(entries.values())[-1] if section == "controls" else entries[-1]
    bare = section in ("animals", "decomposers", "existing", "pedigree", "needs")
    sign = "degF" if section == "controls" else " in"
    assert (sign in str(last)) == (system == "us") or bare
    loc = tree.add(made, replace(made.habitat, units=system), section)
    assert made.value(loc)
    assert {"loc": list(loc), "id": tree.ident(loc)}.items() <= next(
        i for g in tree.groups(made) for i in g["items"] if i["loc"] == list(loc)
    ).items()


def test_a_controller_is_added_with_what_it_drives(draft: Draft) -> None:
    made = Draft(draft.path)
    assert made.habitat is not None
    free = sum("control" not in x for x in made.value(("lamps",)))
    for _ in range(free):
        loc = tree.add(made, made.habitat, "controls")
        assert any(x.get("control") == loc[-1] for x in made.value(("lamps",)))
    with pytest.raises(InputError, match="has a controller already"):
        tree.add(made, made.habitat, "controls")


def test_a_habitat_without_mist_gets_a_tank_with_its_first_nozzle(tmp_path: Path) -> None:
    path = tmp_path / "dry.yaml"
    path.write_text("""format: 1
name: dry
enclosure: {inside: {width: 50 cm, depth: 40 cm, height: 60 cm}}
animals:
  - {species: anolis-carolinensis, males: 1}
""")
    made = Draft(path)
    assert made.habitat is not None
    tree.add(made, made.habitat, "mist.nozzles")
    assert made.habitat.mist is not None
    assert len(made.habitat.mist.nozzles) == 1
    assert any(g["title"] == "mist" and len(g["items"]) == 2 for g in tree.groups(made))


def test_steps_open_the_entry_they_are_done_in_or_add_one(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    dark = replace(finding(State.MISSED, 0.8, -0.3), causes=(Cause("lamp_share", "uv", 1.0),))
    (item,) = wording.report(habitat, [dark], None, "metric")["groups"][0]["items"]
    assert [(s["pick"], s["label"]) for s in item["steps"]] == [
        ("lamps/0", "lamp 'uv'"), ("sites/0", "site 'basking'")
    ]  # fmt: skip
    assert "nearer" in item["steps"][0]["text"]
    lost = replace(dark, state=State.NOT_KNOWN, value=None, causes=(Cause("no_site", "hide"),))
    (item,) = wording.report(habitat, [lost], None, "metric")["groups"][0]["items"]
    assert [(s["add"], s["what"], s["pick"]) for s in item["steps"]] == [("sites", "site", "")]
    met = replace(dark, state=State.MET, value=1.9)
    (item,) = wording.report(habitat, [met], None, "metric")["groups"][0]["items"]
    assert item["steps"] == []


def test_every_step_of_every_example_opens_an_entry(tmp_path: Path) -> None:
    """Whatever a need may miss, on either side, its steps lead to entries that the page can open."""
    from loamwright.report.advice import _RULES, steps

    for example in ("forest-edge", "rain-glass"):
        path = tmp_path / f"{example}.yaml"
        path.write_text((EXAMPLES / f"{example}.yaml").read_text())
        made = Draft(path, root=EXAMPLES)
        habitat = made.habitat
        assert habitat is not None
        ids = {item["id"] for group in tree.groups(made) for item in group["items"]}
        for need in _RULES:
            for low, high in ((1.0, None), (None, 1.0)):
                one = replace(finding(State.MISSED, 0.5 if low else 2.0, -0.5), need=need, low=low,
                              high=high, when="winter night", site=habitat.sites[0].name,
                              about=habitat.plants[0].name)  # fmt: skip
                for step in steps(one, habitat):
                    section = ".".join(str(p) for p in step.loc)
                    assert section in tree.ADDABLE or tree.ident(step.loc) in ids, (need, step)


# -- findings --------------------------------------------------------------------------------------


def finding(state: State, value: float, margin: float, site: str = "basking") -> Finding:
    return Finding(need="uv-basking", engine="light", about="phelsuma-grandis", quantity="uvi",
                   state=state, source=SOURCE, value=value, low=1.1, high=3.0, uncertainty=0.1,
                   margin=margin, site=site, when="lamps on", facing="brightest")  # fmt: skip


def _changes(habitat: Habitat, now: list[Finding], was: list[Finding]) -> list[dict[str, str]]:
    return wording.changes(habitat, now, was, wording.earlier(now, was), "metric")


def test_before_and_after_say_what_got_better(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    was, now = finding(State.MISSED, 0.8, -0.3), finding(State.MET, 1.9, 0.4)
    (told,) = _changes(habitat, [now], [was])
    assert told["kind"] == "better"
    assert told["was"] == "missed (UVI 0.80)"
    assert told["now"] == "met (UVI 1.9)"
    (told,) = _changes(habitat, [was], [now])
    assert told["kind"] == "worse"
    assert _changes(habitat, [now], [now]) == []
    assert _changes(habitat, [now], []) == []
    report = wording.report(habitat, [now], [was], "metric")
    assert report["groups"][0]["items"][0]["was"] == "was UVI 0.80, missed"
    assert {c["state"]: c["count"] for c in report["counts"]}["met"] == 1


def test_a_need_told_of_another_place_is_the_same_still(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    here, there = finding(State.MET, 1.9, 0.4), finding(State.MISSED, 0.8, -0.3, "low perch")
    (told,) = _changes(habitat, [there], [here])
    assert told["kind"] == "worse"
    both = [finding(State.MET, 1.9, 0.4), finding(State.MET, 2.0, 0.4, "mid perch")]
    assert [c["kind"] for c in _changes(habitat, [there], both)] == []
    other = replace(here, about="agama-agama")
    assert [c["kind"] for c in _changes(habitat, [here], [here, other])] == ["gone"]


def test_a_value_of_which_nothing_is_wanted_only_changes(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    was = replace(finding(State.NOT_KNOWN, 0.8, 0.0), margin=None, low=None, high=None)
    for value in (0.5, 1.4):
        (told,) = _changes(habitat, [replace(was, value=value)], [was])
        assert (told["kind"], told["word"]) == ("changed", "◆ changed:")


def test_values_at_the_sites_say_how_they_moved(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    n = len(habitat.sites)
    table = {f: {q: [1.0] * n for q in ("uvi", "ppfd", "dli", "lux", "radiant")}
             for f in ("up", "normal", "brightest")}  # fmt: skip
    after = json.loads(json.dumps(table))
    after["brightest"]["uvi"][0] = 2.0
    rows = wording.sites_table(habitat, after, table, "metric", "all lamps on")["rows"]
    assert rows[0]["values"][0] == {"now": "2.0", "change": "▲ was 1.0", "kind": "up"}
    assert rows[1]["values"][0]["change"] == ""
    waiting = wording.sites_table(habitat, None, None, "metric", "")["rows"]
    assert waiting[0]["values"][0]["now"] == "…"


# -- things, files, pages --------------------------------------------------------------------------


def test_names_of_things_are_made_safe(draft: Draft) -> None:
    habitat = draft.habitat
    assert habitat is not None
    evil = "a\u202eb\x00<script>" + "x" * 300
    lamps = (replace(habitat.lamps[0], name=evil), *habitat.lamps[1:])
    things = scene_data.things(replace(habitat, lamps=lamps), draft.value)["things"]
    name = next(t["name"] for t in things if t["id"] == "lamps/0")
    assert len(name) <= 60
    assert "\u202e" not in name
    assert "\x00" not in name


@pytest.mark.parametrize("text", ["=1+1", "+cmd", "-2+3", "@x"])
def test_no_text_of_a_table_is_a_formula(text: str) -> None:
    assert _cell(text).startswith("'")
    assert _cell("-2.5") == "-2.5"


def test_a_new_file_takes_no_ones_place(tmp_path: Path) -> None:
    first = file_name("../Etc / passwd!", tmp_path)
    assert first.parent == tmp_path
    assert first.name == "etc-passwd.yaml"
    first.touch()
    assert file_name("etc passwd", tmp_path).name == "etc-passwd-2.yaml"
    assert file_name("…", tmp_path).name == "habitat.yaml"


def test_a_page_is_a_module_of_its_own() -> None:
    assert [p.path for p in pages()][:3] == ["habitat", "day", "ground"]
    assert len({p.order for p in pages()}) == len(pages())


def test_the_first_page_waits_for_no_engine() -> None:
    """Compiled engines and their libraries are no part of what the server loads before it answers."""
    code = (
        "import sys\n"
        "from pathlib import Path\n"
        "from loamwright.files.reader import read_habitat\n"
        "from loamwright.web import app, downloads, shell, start\n"
        "app.pages()\n"
        f"read_habitat(Path({str(EXAMPLES / 'forest-edge.yaml')!r}))\n"
        "print(*[m for m in ('numba', 'scipy', 'matplotlib', 'ezdxf', 'typst') if m in sys.modules])"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.split() == []


def _refuses(made: Draft, spec: dict, part: dict, text: str) -> InputError | None:
    try:
        made.set(part["loc"], forms.typed_value({**spec, **part}, text, "", "metric"))
    except InputError as error:
        return error
    return None


@pytest.mark.slow
def test_nonsense_in_any_field_is_said_there_and_kept(draft: Draft) -> None:
    """Every kind of field of every form of the demo: nonsense is refused with a message and changes
    nothing, or the field takes any text."""
    made = Draft(draft.path)
    free, refused, tried = set(), 0, set()
    for group in tree.groups(made):
        for item in group["items"]:
            for spec in forms.form(made, tuple(item["loc"]), "metric")["fields"]:
                kind = (*(p for p in item["loc"] if isinstance(p, str)), spec["key"])
                if spec["kind"] == "choice" or kind in tried:
                    continue
                tried.add(kind)
                for part in spec.get("parts", [spec]):
                    text = made.text
                    error = _refuses(made, spec, part, "<b>12 parsecs")
                    if error is None:
                        free.add(spec["key"])
                        made.undo()
                    else:
                        refused += 1
                        assert all(p.message for p in error.problems)
                        kept = made.refused.get(field_name(part["loc"]))
                        assert kept is None or all(kept.messages)
                    assert made.text == text
    assert refused > 60
    assert free <= {"name", "fixing", "footing", "kind", "about", "note", "currency", "source"}
