"""Joining: other species, quarantine, the day they enter, room for the young, dead ends."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from loamwright.engine.findings import State
from loamwright.engine.life import joining_findings as joining
from loamwright.engine.life.breeding import breeding_of
from loamwright.engine.life.choice_findings import way_findings
from loamwright.engine.life.climbing import climb, foot_places
from loamwright.engine.life.gait import gait_of
from loamwright.engine.life.moving import moving_of
from loamwright.engine.life.space import by_species
from loamwright.errors import InputError
from loamwright.files.reader import read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.report.words import TITLES, word

BOX = """\
name: Joined
enclosure: {inside: {width: 120 cm, depth: 60 cm, height: 100 cm}}
ground: [{name: mix, kind: mix, depth: 10 cm, parts: {coir: 1}}]
"""
OLD = """\
existing:
  - {name: first, ground: 10 L, animals: [Ada, Bo]%s}
  - {name: second, ground: 10 L, animals: [Cy]%s}
pedigree:
  - {name: Ada, species: phelsuma-grandis, sex: female}
  - {name: Bo, species: phelsuma-grandis, sex: male}
  - {name: Cy, species: dendrobates-auratus, sex: male}
"""


def made(text: str) -> Habitat:
    return read_habitat_text(BOX + text, Path("joined.yaml"))


def by_need(habitat: Habitat, need: str) -> list:
    found = joining.joining_findings(habitat, moving_of(habitat))
    return [f for f in found if f.need == need]


# -- other species ---------------------------------------------------------------------------------


def test_species_together_are_not_judged_unless_the_builder_does():
    two = (
        "animals: [{species: phelsuma-grandis, males: 1}, "
        "{species: dendrobates-auratus, males: 1%s}]\n"
    )
    (found,) = by_need(made(two % ""), "mixed-species")
    assert found.state is State.NOT_KNOWN
    told = word(found, made(two % ""))
    assert "how phelsuma-grandis and dendrobates-auratus bear each other is not" in told.why
    assert told.weak
    (found,) = by_need(made(two % ", with: phelsuma-grandis"), "mixed-species")
    assert found.state is State.MET
    assert found.source.kind.value == "builder"
    assert (
        by_need(made("animals: [{species: phelsuma-grandis, males: 2}]\n"), "mixed-species") == []
    )


def test_a_third_species_is_still_not_judged():
    three = made(
        "animals: [{species: phelsuma-grandis, males: 1, with: dendrobates-auratus}, "
        "{species: dendrobates-auratus, males: 1}, {species: anolis-sagrei, males: 1}]\n"
    )
    (found,) = by_need(three, "mixed-species")
    assert {c.subject for c in found.causes} == {
        "phelsuma-grandis|anolis-sagrei", "dendrobates-auratus|anolis-sagrei",
    }  # fmt: skip


# -- quarantine ------------------------------------------------------------------------------------


def test_quarantine_is_held_against_thirty_days_and_sixty_for_frogs():
    here = "animals: [{species: phelsuma-grandis, individuals: [Ada, Bo], from: first}]\n"
    habitat = made(OLD % (", quarantined: 30 d", ", quarantined: 45 d") + here)
    assert [(f.site, f.state, f.low) for f in by_need(habitat, "quarantine")] == [
        ("first", State.MET, 30 * 86400.0), ("second", State.MISSED, 60 * 86400.0),
    ]  # fmt: skip
    bare = made(OLD % ("", "") + here)
    assert {f.state for f in by_need(bare, "quarantine")} == {State.NOT_KNOWN}
    assert "give quarantined:" in word(by_need(bare, "quarantine")[0], bare).why


# -- the day they enter ----------------------------------------------------------------------------


def test_they_enter_once_the_last_wait_has_ended():
    text = OLD % ("", "") + (
        "plants: [{species: ficus-benjamina, at: [60 cm, 30 cm], height: 30 cm, spread: 20 cm}]\n"
        "animals: [{species: phelsuma-grandis, individuals: [Ada, Bo], from: first%s}]\n"
    )
    habitat = made(text % "")
    wait = joining.waiting_of(habitat, moving_of(habitat))
    # Two old habitats, one a day: quarantine from day 1 to 31, planted on day 2, a tree roots in 84.
    assert dict(wait.parts) == {"quarantine": 31.0, "cycle": 30.0, "roots": 86.0}
    assert wait.day == 86.0
    for enters, state in (("85 d", State.MISSED), ("86 d", State.MET)):
        (found,) = by_need(made(text % f", enters: {enters}"), "enter-day")
        assert found.state is state
    (found,) = by_need(habitat, "enter-day")
    assert (found.state, found.low) == (State.NOT_KNOWN, 86 * 86400.0)


def test_a_new_habitat_waits_for_its_plants_and_what_was_planted_early_counts():
    plants = (
        "plants:\n"
        "  - {species: ficus-benjamina, at: [30 cm, 30 cm], height: 30 cm, spread: 20 cm, "
        "planted: 2026-04-01}\n"
        "  - {species: maranta-leuconeura, at: [80 cm, 30 cm], height: 20 cm, spread: 20 cm, "
        "planted: 2026-06-10}\n"
        "animals: [{species: phelsuma-grandis, males: 1}]\n"
    )
    # The fig has stood for 70 of its 84 days when the maranta goes in, which takes 42.
    assert joining.waiting_of(made(plants), None).day == 42.0
    undated = plants.replace(", planted: 2026-06-10", "").replace(", planted: 2026-04-01", "")
    assert joining.waiting_of(made(undated), None).day == 84.0
    bare = made("animals: [{species: phelsuma-grandis, males: 1}]\n")
    assert joining.waiting_of(bare, None).day == 28.0


# -- room for the young ----------------------------------------------------------------------------


def young(wish: str, inside: str = "width: 120 cm, depth: 60 cm, height: 100 cm"):
    text = BOX.replace("width: 120 cm, depth: 60 cm, height: 100 cm", inside)
    habitat = read_habitat_text(
        f"{text}animals: [{{species: eublepharis-macularius, males: 1, females: 1{wish}}}]\n",
        Path("y.yaml"),
    )
    (groups,) = by_species(habitat)
    return joining.young_findings(groups, breeding_of(habitat, groups, {})), habitat


def test_young_that_stay_need_floor():
    # Switzerland: 36 squares of 118.9 mm for two, 4 for each further: 0.622 m2 for four.
    (found,), habitat = young(", offspring: stay")
    assert (found.state, found.value, found.low) == (State.MET, 5.0, 4.0)
    (small,), _ = young(", offspring: stay", "width: 95 cm, depth: 60 cm, height: 60 cm")
    assert small.state is State.MISSED
    assert small.value == 3.0
    (open_,), _ = young("")
    assert open_.state is State.NOT_KNOWN
    assert "give offspring: stay or leave" in word(open_, habitat).why
    assert young(", offspring: leave")[0] == []


def test_one_sex_brings_no_young():
    habitat = made("animals: [{species: eublepharis-macularius, females: 2}]\n")
    (groups,) = by_species(habitat)
    assert joining.young_findings(groups, breeding_of(habitat, groups, {})) == []


# -- dead ends -------------------------------------------------------------------------------------


def test_dead_ends_are_told_for_more_than_one_animal():
    rod = (
        "hardscape:\n  - {name: pole, shape: branch, from: [60 cm, 30 cm, 8 cm], "
        "to: [60 cm, 30 cm, 60 cm], diameter: 4 cm, material: hardwood}\n"
    )
    text = rod + "animals: [{species: furcifer-pardalis, males: 1}]\n"
    habitat = made(text)
    (groups,) = by_species(habitat)
    gait = gait_of(groups)
    assert gait is not None
    way = climb(habitat, foot_places(habitat), groups[0].species, gait)
    assert [f.need for f in way_findings(groups[0].species, way, 1)] == ["sites-beyond"]
    found = way_findings(groups[0].species, way, 2)[-1]
    assert (found.need, found.state, found.value) == ("dead-ends", State.CLOSE, 1.0)
    assert "one of 'pole' 5" in word(found, habitat).why.lower()
    tube = replace(way, dead_ends=tuple(replace(d, branch=False) for d in way.dead_ends))
    assert way_findings(groups[0].species, tube, 2)[-1].state is State.MET


# -- words -----------------------------------------------------------------------------------------


def test_every_need_has_a_title():
    for need in ("dead-ends", "mixed-species", "quarantine", "enter-day", "young-room"):
        assert TITLES[need]


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("animals: [{species: phelsuma-grandis, males: 1, with: phelsuma-grandix}]\n", "with"),
        ("animals: [{species: phelsuma-grandis, males: 1, offspring: maybe}]\n", "offspring"),
        ("animals: [{species: phelsuma-grandis, males: 1, enters: 3 kg}]\n", "enters"),
        ("existing: [{name: a, quarantined: -3 d}]\n", "quarantined"),
        ("plants: [{species: ficus-benjamina, at: [6 cm, 6 cm], growth: 3 cm}]\n", "growth"),
        ("plants: [{species: ficus-benjamina, at: [6 cm, 6 cm], growth: 3 cm/mile}]\n", "growth"),
        ("plants: [{species: ficus-benjamina, at: [6 cm, 6 cm], growth: 3 kg/month}]\n", "growth"),
        (
            "plants: [{species: ficus-benjamina, at: [6 cm, 6 cm], planted: 2026-13-01}]\n",
            "planted",
        ),
        ("plants: [{species: ficus-benjamina, at: [6 cm, 6 cm], planted: 7}]\n", "planted"),
        ("plants: [{species: ficus-benjamina, at: [6 cm, 6 cm], carries: often}]\n", "carries"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_field(text, field):
    with pytest.raises(InputError, match=r"joined\.yaml:\d+:\d+: .*" + field):
        made(text)
