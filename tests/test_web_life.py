"""What the page of animals and plants draws: a pedigree's layout, plants' light, ways, its jobs."""

from __future__ import annotations

import asyncio
import itertools
import math
import pickle
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loamwright import workflow
from loamwright.editing import Draft
from loamwright.engine.findings import Finding, State
from loamwright.engine.life.climb_map import ClimbMap, map_of
from loamwright.engine.life.climbing import foot_places
from loamwright.engine.life.descent import descent_of
from loamwright.engine.life.gait import gait_of
from loamwright.engine.life.space import asked_of, by_species, usable
from loamwright.engine.life.study import study_animals
from loamwright.files.reader import read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Individual
from loamwright.habitat.sources import Source, SourceKind
from loamwright.physics.space_standards import STANDARDS, standard_of
from loamwright.web import desk as desks
from loamwright.web import engine_work, life_data, life_kin, life_years
from loamwright.web.build_work import Planned
from loamwright.web.life_work import Life

EXAMPLES = Path(__file__).parents[1] / "src/loamwright/data/examples"


@pytest.fixture(scope="module")
def meadow() -> Habitat:
    return workflow.read(EXAMPLES / "school-meadow.yaml")


def quiet(_: str, __: Any = None) -> None:
    return


def family() -> list[Individual]:
    """Two founders, their son and daughter, a young of these, and the son's of a third founder."""
    return [
        Individual("grandmother", sex="female"),
        Individual("grandfather", sex="male"),
        Individual("stranger", sex="female"),
        Individual("son", sex="male", sire="grandfather", dam="grandmother"),
        Individual("daughter", sex="female", sire="grandfather", dam="grandmother"),
        Individual("inbred", sire="son", dam="daughter"),
        Individual("half", sire="son", dam="stranger"),
    ]


def test_young_stand_below_both_parents_and_founders_beside_their_mates() -> None:
    level = life_kin.generations(family())
    assert level == {"grandmother": 0, "grandfather": 0, "stranger": 1, "son": 1, "daughter": 1,
                     "inbred": 2, "half": 2}  # fmt: skip


def test_the_whole_pedigree_is_drawn_once_and_every_line_meets_its_animals(meadow: Habitat) -> None:
    (groups,) = by_species(meadow)
    found = descent_of(meadow, groups)
    assert found is not None
    animals, couples, left = life_kin.drawn(meadow.pedigree, found)
    assert left == 0
    names = {a["id"] for a in animals}
    assert names == {x.name for x in meadow.pedigree}
    assert len({(a["row"], a["place"]) for a in animals}) == len(animals)
    row = {a["id"]: a["row"] for a in animals}
    for couple in couples:
        assert all(row[p] < row[y] for p in couple["parents"] for y in couple["young"])
    # Every known parent is drawn as one.
    lines = {(p, y) for c in couples for p in c["parents"] for y in c["young"]}
    assert lines == {(p, x.name) for x in meadow.pedigree for p in (x.sire, x.dam) if p}
    hazel = next(a for a in animals if a["id"] == "Hazel")
    assert (hazel["inbred"], hazel["member"]) == ("12.5 %", True)
    # Sorrel is no longer kept: an ancestor, known as a male, and not of the group.
    assert next(a for a in animals if a["id"] == "Sorrel")["member"] is False


def test_of_a_long_line_the_latest_generations_are_drawn(
    meadow: Habitat, monkeypatch: pytest.MonkeyPatch
) -> None:
    (groups,) = by_species(meadow)
    found = descent_of(meadow, groups)
    assert found is not None
    monkeypatch.setattr(life_kin, "MOST", 12)
    animals, couples, left = life_kin.drawn(meadow.pedigree, found)
    assert left == 3
    assert {a["row"] for a in animals} == {0, 1}
    drawn = {a["id"] for a in animals}
    assert all(p in drawn for c in couples for p in c["parents"])


@pytest.mark.parametrize(
    ("light", "need", "state", "share"),
    [(6.0, 3.0, "met", 1.0), (3.0, 4.0, "missed", 0.375), (3.0, None, "not_known", None),
     (None, 4.0, "", None)],
)  # fmt: skip
def test_a_plants_light_is_told_beside_its_need(
    light: float | None, need: float | None, state: str, share: float | None
) -> None:
    told = life_years.light_words(light, need)
    assert (told["state"], told["share"]) == (state, share)
    assert told["need"] == ("not known" if need is None else f"{need:g}")


def map_for(habitat: Habitat) -> ClimbMap:
    (groups,) = by_species(habitat)
    gait = gait_of(groups)
    assert gait is not None
    return map_of(habitat, foot_places(habitat), groups[0].species, gait)


def length(points: tuple[tuple[float, float, float], ...]) -> float:
    return sum(math.dist(a, b) for a, b in itertools.pairwise(points))


def test_a_way_begins_and_ends_at_its_places_and_keeps_off_the_ground_where_it_says_so(
    meadow: Habitat,
) -> None:
    found = map_for(meadow)
    spots = {s.name: s for s in found.spots}
    assert all(s.reached for s in found.spots)
    at = {name: tuple(round(v, 4) for v in s.at) for name, s in spots.items()}
    for way in found.routes:
        assert (way.points[0], way.points[-1]) == (at[way.first], at[way.second])
        # Bridging from skin to skin is shorter than the line drawn from axis to axis, never longer.
        assert way.length <= length(way.points) + 0.02
        inside = way.points[1:-1]
        low = min((z - meadow.ground.surface_at(x, y) for x, y, z in inside), default=1.0)
        if way.off:
            assert low > 0.005, way
        else:
            assert low <= 0.005, way
    ways = {(w.first, w.second): w.off for w in found.routes}
    assert ways[("left basking", "log hide")]
    assert not ways[("left basking", "laying spot")]


APART = """\
name: Ways
enclosure: {inside: {width: 120 cm, depth: 60 cm, height: 100 cm}}
ground: [{name: mix, kind: mix, depth: 10 cm, parts: {coir: 1}}]
hardscape:
  - {name: a, shape: branch, from: [20 cm, 30 cm, 12 cm], to: [50 cm, 30 cm, 60 cm],
     diameter: 4 cm, material: hardwood}
  - {name: b, shape: branch, from: [50 cm, 30 cm, 64 cm], to: [80 cm, 30 cm, 64 cm],
     diameter: 4 cm, material: hardwood}
  - {name: c, shape: branch, from: [95 cm, 30 cm, 64 cm], to: [112 cm, 30 cm, 64 cm],
     diameter: 4 cm, material: hardwood}
sites:
  - {name: low, on: a, along: 0.2, role: retreat}
  - {name: top, on: b, along: 0.5, role: basking}
  - {name: far, on: c, along: 0.5, role: perch}
animals: [{species: python-regius, males: 1, reach: 6 cm}]
"""
"""Two branches that nearly touch and one 11 cm off, for a snake that bridges 6 and climbs no wall."""


def test_what_is_out_of_reach_is_drawn_as_such() -> None:
    found = map_for(read_habitat_text(APART, Path("apart.yaml")))
    things = {t.name: (t.kind, t.reached) for t in found.things}
    assert things == {"ground": ("ground", True), "a": ("rod", True), "b": ("rod", True),
                      "c": ("rod", False)}  # fmt: skip
    assert {s.name: s.reached for s in found.spots} == {"low": True, "top": True, "far": False}
    gaps = {(k.first, k.second): k.reached for k in found.links}
    assert gaps[("a", "b")] if ("a", "b") in gaps else gaps[("b", "a")]
    assert not any({"b", "c"} == {k.first, k.second} for k in found.links)
    assert gaps[("far", "c")] is False
    (way,) = found.routes
    assert (way.first, way.second, way.off) == ("top", "low", True)


def test_a_standard_goes_to_another_process_and_comes_back_as_itself(meadow: Habitat) -> None:
    (groups,) = by_species(meadow)
    asked = asked_of(groups)
    back = pickle.loads(pickle.dumps(asked))
    assert [a.standard for a in back] == [a.standard for a in asked]
    assert back[0].standard.rule is asked[0].standard.rule
    assert all(standard_of(x.key) is x for x in STANDARDS)


def test_each_figure_of_a_standard_is_told_now_and_grown(meadow: Habitat) -> None:
    animals = study_animals(meadow, {})
    rows = life_data.space(animals.residents[0], usable(meadow), "us")
    figures = rows[0]["figures"]
    assert {f["what"] for f in figures} == {"floor", "short side", "height"}
    assert {f["when"].split(":")[0] for f in figures} == {"now", "grown"}
    assert all("in" in f["asks"] or "sq ft" in f["asks"] for f in figures)


@pytest.mark.slow
def test_light_told_of_a_crown_elsewhere_is_that_of_the_plant_moved_there(meadow: Habitat) -> None:
    fern = next(p for p in meadow.plants if p.name == "fern")
    for by in (0.0, -0.2):
        foot = (fern.foot[0] + by, fern.foot[1], fern.foot[2])
        told = engine_work.JOBS["crown_spot"](engine_work.Shop(), quiet, meadow, "fern", foot)
        moved = replace(
            meadow,
            plants=tuple(replace(p, foot=foot) if p is fern else p for p in meadow.plants),
            sites=tuple(
                replace(s, at=(s.at[0] + by, *s.at[1:])) if s.plant == "fern" else s
                for s in meadow.sites
            ),
        )
        whole = engine_work.JOBS["glance"](engine_work.Shop(), quiet, moved)
        row = next(i for i, s in enumerate(meadow.sites) if s.plant == "fern")
        # What the plant's own leaves give back and keep off is left out of what is told at once.
        assert told == pytest.approx(whole["up"]["dli"][row], rel=0.01)


class Answers:
    """Engines that answer at once, but for the life, which is held back until it is let go."""

    def __init__(self) -> None:
        self.asked: list[tuple[Any, asyncio.Future[Any]]] = []

    async def run(self, desk: str, what: str, *, told: Any = None, **how: Any) -> Any:
        if what == "life":
            held = asyncio.get_running_loop().create_future()
            self.asked.append((told, held))
            return await asyncio.shield(held)
        return {"light": ([], b""), "ground": ([], None), "climate_findings": [],
                "plan": Planned()}.get(what)  # fmt: skip

    def stop(self, *_: Any) -> None:
        return


def test_an_answer_about_an_older_draft_is_not_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Animals come before the rest; after a change, what is still said of an older draft is not."""
    monkeypatch.setattr(desks, "PATIENCE", 0.0)
    path = tmp_path / "school-meadow.yaml"
    text = (EXAMPLES / "school-meadow.yaml").read_text("utf-8")
    path.write_text(text, "utf-8")

    def finding(engine: str, need: str) -> Finding:
        source = Source("a test", SourceKind.BUILDER)
        return Finding(need, engine, "habitat", "count", State.MET, source)

    async def person() -> None:
        engines = Answers()
        desk = desks.Desk(Draft(path, "me", tmp_path / "state"), engines, "me")  # type: ignore[arg-type]
        desk.refresh()

        async def until(count: int) -> None:
            for _ in range(200):
                if len(engines.asked) == count:
                    return
                await asyncio.sleep(0.01)
            raise AssertionError(engines.asked)

        await until(1)
        assert "life" in desk.busy
        told, held = engines.asked[0]
        whole = Life(findings=(finding("animals", "perches"), finding("plants", "plant-toxic")))
        held.set_result(whole)
        await asyncio.sleep(0.05)
        assert desk.busy == {}
        assert [f.need for f in desk.findings] == ["perches", "plant-toxic"]
        assert desk.life.habitat is desk.habitat

        await desk.edit(desks.set_value(desk, ("lamps", 0, "dim"), "50 %"))
        await until(2)
        assert desk.before is not None
        told, _ = engines.asked[1]
        # The animals of the change come first; of the plants what is known stays until then.
        told("on the way", Life(findings=(finding("animals", "hides"),)))
        assert [f.need for f in desk.findings] == ["hides", "plant-toxic"]
        await desk.edit(desks.set_value(desk, ("lamps", 0, "dim"), "40 %"))
        told("on the way", Life(findings=(finding("animals", "late"),)))
        assert "late" not in [f.need for f in desk.findings]
        desk.end()

    asyncio.run(person())
