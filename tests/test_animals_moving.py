"""Taking old habitats down: order, heads, eggs that may be missed, days until animals enter."""

from __future__ import annotations

import json
import math
from pathlib import Path

import jsonschema
import pytest

from bad_case import told as problems_of
from loamwright.engine.life.moving import moving_of, search_of, shape_of
from loamwright.engine.life.moving_findings import moving_findings
from loamwright.engine.life.study import study_animals
from loamwright.files.reader import read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Eggs
from loamwright.report.animals_out import animals_document, animals_schema
from loamwright.report.moving_blocks import moving_tables
from loamwright.report.words import TITLES, word

DAY = 86400.0

BASE = """\
name: New
enclosure: {{inside: {{width: 100 cm, depth: 50 cm, height: 60 cm}}}}
ground:
  - name: mix
    kind: mix
    depth: 10 cm
    parts: {{coir: 1}}
    reuse: [{{from: fair, share: 10 %}}, {{from: good, share: 20 %}}]
pedigree:
  - {{name: a, sex: female, species: takydromus-sexlineatus}}
  - {{name: b, sex: female, species: takydromus-sexlineatus}}
  - {{name: c, sex: male, species: takydromus-sexlineatus}}
existing:
  - {{name: bad, ground: 20 L, condition: {{smell: sour}}, animals: [c], plants: [moss]}}
  - {{name: fair, ground: 20 L, condition: {{moist: even, smell: musty}}}}
  - {{name: good, ground: 12 L, condition: {{moist: even, smell: earthy}}, animals: [a, b]{}}}
animals: [{{species: takydromus-sexlineatus, from: [bad, good], individuals: [a, b, c]}}]
"""


def habitat(more: str = "") -> Habitat:
    return read_habitat_text(BASE.format(more), Path("new.yaml"))


def test_the_best_ground_that_is_carried_over_comes_down_first():
    moving = moving_of(habitat())
    assert moving is not None
    assert [d.old.name for d in moving.downs] == ["good", "fair", "bad"]
    good = moving.downs[0]
    # A fifth of 100 x 50 x 10 cm
    assert dict(good.carried) == {"mix": pytest.approx(0.010)}
    assert good.named == 2
    assert good.search is not None
    assert good.search.portions == 3  # 12 L by 5 L
    assert moving.downs[1].search is None  # nobody lived there


def test_days_until_animals_enter():
    moving = moving_of(habitat())
    assert moving is not None
    steps = {what: (first, last) for what, first, last in moving.steps}
    # Three habitats on days 0, 1, 2; quarantine from the last; 28 days standing from the day after.
    # Moss has no place in the new one, so that no plant is kept apart.
    assert steps["quarantine"] == (2, 32)
    assert "plants" not in steps
    assert steps["cycle"] == (3, 31)
    assert steps["readings"] == (24, 31)
    # The animals' quarantine ends last: on day 32, by the longer time on day 92.
    assert moving.enter == (32, 92)


def test_no_old_habitat_no_plan():
    text = "name: N\nenclosure: {inside: {width: 1 m, depth: 50 cm, height: 60 cm}}\n"
    made = read_habitat_text(text + "animals: [{species: gekko-gecko, males: 1}]\n", Path("n.yaml"))
    assert moving_of(made) is None
    assert moving_findings(None) == []
    assert moving_tables(None, "metric") == []


def test_eggs_by_the_record_and_by_hand():
    """Two females, 42 days, a clutch of two each 21 days: 8 eggs in 4 clutches; shape 8 / (2 - 1)."""
    found = search_of(
        Eggs(2, 42 * DAY, 21 * DAY, 2.0, (5,), 0.6), clutch=None, females=None, volume=0.012
    )
    assert found.expected == pytest.approx(8.0)
    assert found.shape == pytest.approx(8.0)
    # Left per egg: 0.4 x 8 / (8 + 8) = 0.2; missed 1 - 0.8^(5 + 8)
    assert found.missed == pytest.approx(1 - 0.8**13)
    assert found.left == pytest.approx(13 * 0.2 / 0.8)
    needed = found.needed
    assert needed is not None
    again = search_of(
        Eggs(2, 42 * DAY, 21 * DAY, 2.0, (5,) + (0,) * (needed - 1), 0.6), None, None, 0.012
    )
    assert again.missed is not None
    assert again.missed <= 0.05
    one_less = search_of(
        Eggs(2, 42 * DAY, 21 * DAY, 2.0, (5,) + (0,) * (needed - 2), 0.6), None, None, 0.012
    )
    assert one_less.missed is not None
    assert one_less.missed > 0.05


def test_clutches_by_chance_make_the_variance_they_should():
    # Poisson clutches of size c: variance c x mean = mean + mean^2 / shape
    assert 12.0 + 12.0**2 / shape_of(12.0, 3.0) == pytest.approx(3.0 * 12.0)
    assert shape_of(12.0, 1.0) == math.inf
    assert shape_of(0.0, 3.0) == math.inf


def test_finds_that_fall_tell_how_surely_eggs_are_found():
    falling = search_of(Eggs(searches=(8, 2)), None, None, 0.0)
    assert falling.told
    # Two searches, exact: the second finds a quarter of the first, so 3/4 are found each time.
    assert falling.detection == pytest.approx(0.75)
    assert falling.missed is not None
    rising = search_of(Eggs(searches=(2, 8)), None, None, 0.0)
    assert rising.detection is None
    assert rising.missed is None
    none = search_of(Eggs(searches=(0, 0)), None, None, 0.0)
    assert none.detection is None


def test_nothing_is_made_up_without_a_record():
    empty = search_of(Eggs(), None, None, 0.02)
    assert (empty.expected, empty.detection, empty.missed, empty.needed) == (None,) * 4
    # A chance but no search yet and no record: any number may be there.
    unknown = search_of(Eggs(detection=0.7), None, None, 0.02)
    assert unknown.missed is None
    assert unknown.needed is not None
    searched = search_of(Eggs(searches=(0, 0, 0), detection=0.7), None, None, 0.02)
    # Shape 1, nothing known: missed = overlooked = 0.3^3
    assert searched.missed == pytest.approx(0.3**3)


def test_the_catalogue_fills_the_clutch_and_the_pedigree_the_females():
    made = habitat(", eggs: {since: 30 d, interval: 30 d, searches: [2], detection: 50 %}")
    moving = moving_of(made)
    assert moving is not None
    search = moving.downs[0].search
    assert search is not None
    assert search.expected == pytest.approx(2 * 1 * 3.0)  # 1 to 5 eggs, the middle


def states(more: str) -> dict[tuple[str, str], str]:
    made = habitat(more)
    found = moving_findings(moving_of(made))
    assert {f.need for f in found} <= set(TITLES)
    return {(f.need, f.site): str(f.state) for f in found}


def test_heads_must_agree():
    assert states("")["headcount", "good"] == "not_known"
    assert states(", counted: 2")["headcount", "good"] == "met"
    assert states(", counted: 1")["headcount", "good"] == "missed"
    assert states(", counted: 3")["headcount", "good"] == "missed"
    made = habitat(", counted: 1")
    short = next(f for f in moving_findings(moving_of(made)) if f.site == "good")
    assert "1 fewer than named: look again" in word(short, made).why
    assert "counted: in the file" in word(
        next(f for f in moving_findings(moving_of(made)) if f.site == "bad"), made
    ).why  # fmt: skip


def test_the_chance_of_a_missed_egg_is_held_against_five_per_cent():
    record = "since: 30 d, interval: 30 d, detection: 70 %"
    once = states(f", eggs: {{{record}, searches: [3]}}")
    assert once["eggs-missed", "good"] == "missed"
    often = states(f", eggs: {{{record}, searches: [3, 0, 0, 0, 0, 0]}}")
    assert often["eggs-missed", "good"] == "met"
    assert states("")["eggs-missed", "good"] == "not_known"


def test_tables_and_document():
    made = habitat(", counted: 2, eggs: {since: 30 d, interval: 30 d, searches: [5, 1]}")
    told = study_animals(made, {})
    text = " ".join(" ".join(r) for t in moving_tables(told.moving, "us") for r in t.rows)
    assert "1 good 2 2 reuse" in text
    assert "dry qt into mix" in text
    assert "day 32 at the earliest" in text
    document = animals_document(made, told, moving_findings(told.moving), "metric")
    jsonschema.validate(json.loads(json.dumps(document)), animals_schema())
    assert document["moving"]["order"][0]["carried_l"]["mix"] == pytest.approx(10.0)
    assert document["moving"]["order"][2]["plants"] == ["moss"]
    assert document["moving"]["order"][2]["plants_may_stand_for"] == [[]]
    assert document["moving"]["enter_from_day"] == [32, 92]


@pytest.mark.parametrize(
    ("eggs", "field", "said"),
    [
        ("{since: 30 d}", "eggs", "has no interval; since and interval tell together"),
        ("{interval: 30 d}", "eggs", "has no since"),
        ("{since: 30 d, interval: 0 d}", "eggs.interval", "must be more than 0"),
        ("{clutch: 0}", "eggs.clutch", "must be more than 0"),
        ("{detection: 100 %}", "eggs.detection", "must be less than 1"),
        ("{detection: 0 %}", "eggs.detection", "must be more than 0"),
        ("{searches: 3}", "eggs.searches", "must be a list"),
        ("{searches: [-1]}", "eggs.searches[0]", "must be 0 or more"),
        ("{since: 30}", "eggs.since", "30 has no unit"),
        ("{laid: 3}", "eggs.laid", "unknown key"),
    ],
)
def test_a_wrong_record_is_told_where_and_what(tmp_path, eggs, field, said):
    path = tmp_path / "h.yaml"
    path.write_text(BASE.format(f", eggs: {eggs}"))
    (problem,) = problems_of(path)
    assert problem.field == f"existing[2].{field}"
    assert said in problem.message
    assert problem.line == 16
