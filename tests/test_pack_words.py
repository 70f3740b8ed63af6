"""Words on paper: nothing of the file's keys, and a page that says what terms mean."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from loamwright.engine.findings import State
from loamwright.report.blocks import Table, check_report
from loamwright.report.default_words import field_words, value_words, why_words
from loamwright.report.pack_pdf import Document, typeset
from loamwright.report.pack_words import WORDS, texts_of, words_section
from loamwright.report.paper_words import FILE_WORDS, plain_section, plainly
from loamwright.report.typst_blocks import Found, Section, Ticks, Words
from report_sample import findings, habitat

REPORT = Path(__file__).parent.parent / "src/loamwright/report"


def said() -> list[tuple[str, str]]:
    """Every text of the reports that names a key of the file."""
    out = []
    for path in sorted(REPORT.glob("*.py")):
        if path.name == "paper_words.py":
            continue
        tree = ast.parse(path.read_text("utf-8"))
        about = {id(x.value) for x in ast.walk(tree) if isinstance(x, ast.Expr)}
        out += [
            (path.name, x.value)
            for x in ast.walk(tree)
            if isinstance(x, ast.Constant) and isinstance(x.value, str) and id(x) not in about
            and FILE_WORDS.search(x.value)
        ]  # fmt: skip
    return out


def test_every_hint_at_the_file_is_put_plainly() -> None:
    found = said()
    assert len(found) > 10
    for name, text in found:
        whole = f"{text}home" if text.endswith("role: ") else text
        told = plainly(whole)
        assert told != whole, (name, text)
        assert not FILE_WORDS.search(told), (name, told)


def test_findings_on_paper_name_no_key() -> None:
    report = check_report(habitat(), findings())
    text = "\n".join(texts_of(plain_section(Section("f", "F", (Found(report.groups),)))))
    assert "habitat file" not in text
    assert not FILE_WORDS.search(text)
    unknown = [f for g in report.groups for f in g.findings if f.finding.state is State.NOT_KNOWN]
    assert any("habitat file" in f.advice for f in unknown)


def test_other_texts_stay_as_they_are() -> None:
    made = Section("x", "X", (Words("Mind: lamps are hot."), Ticks((("a", "b: c"),)),
                              Table("t", ("a",), (("note: all",),))))  # fmt: skip
    assert plain_section(made) == made


@pytest.mark.parametrize(
    ("field", "told"),
    [("lamps[uv].dim", "lamp 'uv': dimming"), ("lamps[uv].along", "lamp 'uv': way its long side runs"),
     ("enclosure.panels.front.gap", "panel: front, gap between doors"),
     ("mist.nozzles[left one].aim", "nozzle 'left one': which way it faces"),
     ("controls[low warmth].cut_out_probe", "controller 'low warmth': place of the cut-out's probe"),
     ("room.altitude", "room: altitude"), ("room.winter.night", "room in winter: at night"),
     ("build.people", "the build: people"), ("day", "day"), ("decomposers", "decomposers"),
     ("room.weather.time_constant", "room over the year: time constant")],
)  # fmt: skip
def test_fields_in_plain_words(field, told) -> None:
    assert field_words(field) == told


def test_values_in_plain_words() -> None:
    assert value_words("pvc-foam-board", "metric") == "pvc foam board"
    assert value_words("28 degC", "metric") == "28 °C"
    assert (value_words("false", "metric"), value_words("x", "metric")) == ("no", "along the width")
    assert value_words("-5 K", "metric") == "-5 K"
    assert (value_words("four", "metric"), value_words("everywhere", "metric")) == (
        "on four edges",
        "all over",
    )
    assert "[" not in why_words("only [x, y] is given", "metric")
    assert (
        why_words("the usual surface of leaf-litter", "metric")
        == "the usual surface of leaf litter"
    )


# -- the page of words ---------------------------------------------------------------------------


def test_a_word_that_nothing_uses_is_not_explained() -> None:
    made = words_section(
        [Section("a", "A", (Words("The kerf of the saw, and PPFD at the probe."),))]
    )
    table = next(b for b in made.blocks if isinstance(b, Table))
    assert [row[0] for row in table.rows] == ["kerf", "PPFD", "probe"]


def test_every_word_is_found_as_it_is_written() -> None:
    for entry in WORDS:
        first = entry.word.split(",")[0].split(" (")[0]
        assert entry.occurs(f"some {first} here") or entry.occurs(f"some {entry.word} here"), entry
        assert not entry.occurs("nothing of it"), entry
    names = [e.word.lower() for e in WORDS]
    assert names == sorted(names)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_all_the_words_stand_on_one_page(paper) -> None:
    text = " ".join(f"{e.word}, " + e.word.replace(",", "") for e in WORDS)
    made = words_section([Section("a", "A", (Words(text),))])
    assert len(next(b for b in made.blocks if isinstance(b, Table)).rows) == len(WORDS)
    document = Document("T", "k", "p", (), (2027, 3, 1), "m", "0" * 64, "f", (made,), bare=True)
    assert len(typeset(document, paper, "png", 20.0)) == 1


def test_stones_stand_on_the_drainage_or_the_floor() -> None:
    from loamwright.engine.findings import Cause
    from loamwright.report.build_words import SIDES, clause
    from loamwright.report.pack_plan import BEFORE_ANIMALS

    told = [clause(Cause("stands_on", "bricks"), "metric"), clause(Cause("digs_under"), "metric"),
            dict(BEFORE_ANIMALS)["Fixings hold"], SIDES["the hard floor"]]  # fmt: skip
    assert all("the drainage layer or the floor" in t for t in told)
    assert not [t for t in told if "hard floor" in t]


def test_signs_are_of_what_there_is() -> None:
    from dataclasses import replace

    from loamwright.habitat.decomposers import DecomposerType, Starter
    from loamwright.plan.order import order_of_work
    from loamwright.report.pack_plan import before_animals
    from report_sample import ANY, habitat

    def signs(kinds: tuple[str, ...], **changes: object) -> dict[str, str]:
        let_in = tuple(
            Starter(DecomposerType(k, k, ANY, "X x", k, "eats", "moist"), 10) for k in kinds
        )
        made = replace(habitat(), decomposers=let_in, **changes)
        return dict(before_animals(made, order_of_work(made, 30)))

    both = "Plants root, the ground's small life is seen"
    assert signs(("springtail",))[both] == "new leaves; springtails on bait within a day"
    assert signs(("isopod",))[both] == "new leaves; some of each kind under litter or wood"
    assert signs(())["Plants root"] == "new leaves"
    assert signs(("springtail",), plants=())["The ground's small life is seen"].startswith("spring")
    assert not [k for k in signs((), plants=()) if "lant" in k or "small" in k]
    assert list(signs(()))[-1] == "Quarantine is over"


def test_what_builders_did_not_understand_is_said_plainly() -> None:
    from pathlib import Path

    from loamwright.plan.cut_plan import cut_plan
    from loamwright.plan.joining import GLUES
    from loamwright.plan.wiring import wiring_of
    from loamwright.report.climate_words import fault_words
    from loamwright.report.cut_blocks import cut_tables
    from loamwright.report.mount_blocks import NOTE
    from loamwright.report.pack_sections import _inside, sources_section
    from loamwright.report.typst_blocks import Words
    from loamwright.report.wiring_blocks import wiring_tables
    from loamwright.report.words import TITLES
    from loamwright.workflow import read

    demo = read(Path(__file__).parent.parent / "src/loamwright/data/examples/forest-edge.yaml")
    heads = [c for t in cut_tables(demo, cut_plan(demo), "metric") for c in t.columns]
    heads += [c for t in wiring_tables(demo, wiring_of(demo), "metric") for c in t.columns]
    assert not {"above least", "own limit"} & set(heads)
    assert "between its bars" not in NOTE
    assert "bent over to it" not in NOTE
    assert "for both materials" not in GLUES["other"].name
    assert "valve" not in TITLES["stuck-mist"] + fault_words("mist-stuck-on", "")
    lead = next(b for b in sources_section(demo, [], "metric").blocks if isinstance(b, Words))
    assert "loamwright" not in lead.text
    plants = next(t for t in _inside(demo, "metric") if t.title == "Plants")
    assert "lead a stem that meets a piece past it" in plants.note


def test_the_tick_of_guards_is_true_of_a_lamp_without_one() -> None:
    from dataclasses import replace

    from loamwright.engine.findings import Finding, State
    from loamwright.report.pack_plan import guards_tick
    from report_sample import ANY, habitat

    made = habitat()
    first = made.lamps[0]
    open_lamps = replace(made, lamps=tuple(replace(x, guard=None) for x in made.lamps))

    def tick(of, *found: Finding) -> tuple[str, str]:
        ((title, told),) = guards_tick(of, found, "metric")
        return title, told

    hot = Finding(need="hot-lamp", engine="climate", about=first.name, quantity="surface_temperature",
                  state=State.MET, source=ANY, value=335.75, high=353.15)  # fmt: skip
    title, told = tick(open_lamps, hot)
    assert "Guards" not in title
    assert f"'{first.name}', computed 62.6 °C, limit 80.0 °C" in told
    assert "no hot part" not in told
    _, told = tick(open_lamps, replace(hot, state=State.MISSED, value=363.15))
    assert "needs a guard first" in told
    cover = made.enclosure.openings[0].cover
    guarded = replace(made, lamps=(replace(first, guard=cover), *open_lamps.lamps[1:]))
    title, told = tick(guarded)
    assert title == "Guards are on where the plan has them"
    assert told.startswith(f"round '{first.name}'; no hot part behind one can be touched")
    assert guards_tick(replace(made, lamps=()), (), "metric") == ()


def test_plants_root_under_what_runs() -> None:
    from pathlib import Path

    from loamwright.plan.tasks import tasks_of
    from loamwright.workflow import read

    folder = Path(__file__).parent.parent / "src/loamwright/data/examples"
    told = {
        name: next(t.name for t in tasks_of(read(folder / f"{name}.yaml")) if t.key == "establish")
        for name in ("dry-rock", "forest-edge")
    }
    assert told == {
        "dry-rock": "let the plants root, lamps running",
        "forest-edge": "let the plants root, lamps and mist running",
    }
