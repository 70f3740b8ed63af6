"""One shopping list: what several parts ask for is bought once, and what one asks for is not lost."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from bad_case import METRIC
from loamwright.engine.ground.outlook import amounts
from loamwright.engine.ground.quantities import Quantities
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.cutting import Stock
from loamwright.habitat.habitat import Habitat
from loamwright.plan import cut_parts
from loamwright.plan.build import Build, build_of
from loamwright.plan.buying import buy
from loamwright.plan.cut_parts import PartToCut
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.cuts import Cuts, Job, Laid, Sheet
from loamwright.plan.front_parts import sill_height
from loamwright.plan.joined import (
    COUNTED,
    SAME,
    STARTS,
    TIMERS,
    apart_from,
    at_least,
    joined_list,
    key_of,
    merged_alike,
    whole_sheets,
)
from loamwright.plan.keys import panel_key
from loamwright.plan.lines import Line, Stocked
from loamwright.plan.quantities import GROUPS, shopping_list
from loamwright.workflow import EXAMPLES

FOLDER = Path(__file__).parent.parent / "src/loamwright/data/examples"
DEMO = "forest-edge"
UNCUT = Cuts((), (), (), (), "", 0.0, 0.0)
"""A cut plan of nothing."""


@cache
def example(name: str) -> tuple[Habitat, Quantities, Build, Cuts]:
    if name == "box":
        habitat = read_habitat_text(METRIC, Path("box.yaml"))
    else:
        habitat = read_habitat(FOLDER / f"{name}.yaml")
    amount = amounts(habitat)
    return habitat, amount, build_of(habitat, amount), cut_plan(habitat)


def listed(name: str) -> dict[str, Line]:
    """The list without what wiring, misting, strength and cuts say."""
    habitat, amount, _, _ = example(name)
    return {x.key: x for x in shopping_list(habitat, amount)}


@cache
def whole(name: str) -> tuple[Line, ...]:
    """The joined list of an example."""
    habitat, amount, build, cuts = example(name)
    return joined_list(habitat, amount, {}, cuts, build)


def asked(name: str, *lines: Line, cuts: Cuts = UNCUT) -> dict[str, Line]:
    """The joined list where the build asks for made-up lines and nothing else."""
    habitat, amount, build, _ = example(name)
    made = Build(
        replace(build.strength, lines=lines[:1]), replace(build.wiring, lines=lines[1:]), None
    )
    found = joined_list(habitat, amount, {}, cuts, made)
    by_key = {x.key: x for x in found}
    assert len(by_key) == len(found), "a thing twice"
    return by_key


def piece(key: str, amount: float, group: str = "wiring", **more: object) -> Line:
    return Line(key, group, key, amount, "piece", why=f"why {key}", **more)  # type: ignore[arg-type]


# -- the same thing under two names --------------------------------------------------------------


OTHERWISE = {
    "controls/cut-out": "controls/limit",
    "misting/pump": "mist/pump-24w", "misting/tank": "mist/tank-25l",
}  # fmt: skip
"""What strength, wiring and misting line ask for in forest edge under another key than the list's."""


def test_the_demo_has_nothing_under_two_names() -> None:
    build, found = example(DEMO)[2], {x.key for x in whole(DEMO)}
    assert set(OTHERWISE) <= {x.key for x in build.lines}
    assert not set(OTHERWISE) & found
    assert set(OTHERWISE.values()) <= found
    assert SAME.items() <= OTHERWISE.items()
    assert all(OTHERWISE[key].startswith(start) for key, start in STARTS.items())


@pytest.mark.parametrize(("other", "key"), SAME.items())
def test_what_two_parts_ask_for_the_same_things_is_bought_once(other: str, key: str) -> None:
    known = listed(DEMO)[key]
    uses = known.uses
    less = asked(DEMO, piece(other, 1.0, uses=uses))
    assert less[key] == known
    more = asked(DEMO, piece(other, 60.0, spares=2.5, uses=uses))
    assert more[key].wanted == 63.0
    assert (more[key].name, more[key].waste) == (known.name, known.waste)
    assert more[key].why == f"why {other}"
    assert other not in less
    assert other not in more
    assert len(less) == len(more) == len(listed(DEMO))


def test_what_the_list_counts_for_other_things_is_bought_besides() -> None:
    known = listed(DEMO)["controls/limit"]
    assert known.uses == ("basking", "low warmth")
    line = asked(DEMO, piece("controls/cut-out", 60.0, uses=("basking", "shelf")))["controls/limit"]
    assert line.wanted == 61.0
    assert line.uses == ("basking", "low warmth", "shelf")
    assert line.why == f"why controls/cut-out; {known.why}"
    shelf = asked(DEMO, piece("controls/cut-out", 5.0, uses=("shelf",)))
    assert shelf["controls/limit"].wanted == known.amount + 5.0
    # Who says not what for may mean the same.
    nameless = asked(DEMO, piece("controls/cut-out", 2.0))
    assert nameless["controls/limit"] == known


@pytest.mark.parametrize("name", EXAMPLES)
def test_screws_that_list_and_strength_count_alike_are_bought_once(name: str) -> None:
    found, known = {x.key: x for x in whole(name)}, listed(name)
    keys = {k for k in found if k.startswith(COUNTED)}
    assert keys or name == "rain-glass", "glass takes none"
    assert all(found[k] == known[k] for k in keys)
    asked_twice = {x.key for x in example(name)[2].lines} & keys
    assert asked_twice or not example(name)[2].strength.screws


def test_a_thing_that_only_the_build_asks_for_goes_by_the_lists_name() -> None:
    """Price lists know the list's keys alone."""
    assert not set(SAME.values()) & set(listed("box"))
    for other, key in SAME.items():
        found = asked("box", piece(other, 3.0, spares=1.0))
        assert (found[key].amount, found[key].spares) == (3.0, 1.0)
        assert other not in found


def test_screws_and_sealant_of_the_examples_by_hand() -> None:
    """Rain glass: 0.36 m2 of cork, half of it glued 3 mm thick, a tenth lost; a fillet of 6 mm and a
    bed of 2 mm under panes of 5 mm along all edges, half again. Dry rock: 40 screws hold the wall,
    a fifth over, through 2 in of clay into 3/4 in of plywood."""
    habitat = example("rain-glass")[0]
    silicone = {x.key: x for x in whole("rain-glass")}["fixings/silicone"]
    edges = 2 * 0.6 + 4 * 0.45 + 2 * 0.6 + 0.6 + 2 * sill_height(habitat)
    bed, fillet = 1.1 * 3.0 * 0.5 * 0.36, 1.5 * (18e-3 + 1000 * 0.005 * 0.002) * edges
    meshes = (
        1.5 * 18e-3 * 2 * ((0.56 + 0.08) + (0.24 + 0.01))
    )  # glued on, since glass takes no screws
    assert silicone.wanted == pytest.approx(bed + fillet + meshes)
    assert set(silicone.uses) == {"joints", "cork wall", "uv window", "low air"}
    walls = [x for x in whole("dry-rock") if x.key.startswith(COUNTED) and "clay wall" in x.uses]
    assert {x.key for x in walls} == {"fixings/screws-stainless-5x70mm", "fixings/washers-5mm"}
    (screws,) = (x for x in walls if "screws" in x.key)
    others = sum(x.count for x in example("dry-rock")[2].strength.screws
                 if x.screw.key == screws.key and x.name != "clay wall")  # fmt: skip
    assert screws.wanted == math.ceil(1.2 * (40 + others))


def test_two_lines_of_one_key_are_both_needed() -> None:
    one, two = piece("a/hook", 3.0, waste=0.1), piece("a/hook", 7.0, waste=0.5)
    hooks = asked("box", one, two)["a/hook"]
    assert (hooks.amount, hooks.wanted) == (10.0, 15.0)
    uses = listed(DEMO)["controls/limit"].uses
    limits = (piece("controls/cut-out", n, uses=uses) for n in (40.0, 30.0))
    assert asked(DEMO, *limits)["controls/limit"].wanted == 70.0


def test_keys_that_end_in_a_size_are_found_by_their_start() -> None:
    for key, start in STARTS.items():
        (known,) = (x for k, x in listed(DEMO).items() if k.startswith(start))
        found = asked(DEMO, piece(key, 1.0, "misting"))
        assert found[known.key] == known
        assert key not in found
        # Where the list has none it is bought.
        assert not any(k.startswith(start) for k in listed("box"))
        alone = asked("box", piece(key, 1.0, "misting"))
        assert alone[key].amount == 1.0


def test_misting_stands_under_the_lists_heading() -> None:
    habitat, amount, build, _ = example(DEMO)
    tee, lead = piece("misting/tee", 3.0, "misting"), piece("wiring/lead", 1.0)
    made = Build(replace(build.strength, lines=()), replace(build.wiring, lines=(lead, tee)), None)
    found = joined_list(habitat, amount, {}, UNCUT, made)
    by_key = {x.key: x for x in found}
    assert (by_key["misting/tee"].group, by_key["wiring/lead"].group) == ("mist", "wiring")
    groups = [GROUPS.index(x.group) for x in found]
    assert groups == sorted(groups)


# -- time switches -------------------------------------------------------------------------------


def test_timers_are_as_many_as_the_wiring_counts() -> None:
    known = listed(DEMO)["controls/timer"]
    lamps = piece("controls/time", 7.0, uses=("a", "b"))
    mist = piece("controls/seconds", 1.0, uses=("c",))
    both = asked(DEMO, lamps, mist)["controls/timer"]
    assert (both.amount, both.wanted, both.uses) == (8.0, 8.0, ("a", "b", "c"))
    assert (both.group, both.name, both.unit) == (known.group, known.name, "piece")
    assert both.why == "as the wiring says; the one for misting in seconds"
    one = asked(DEMO, piece("controls/time", 1.0))
    assert (one["controls/timer"].amount, one["controls/timer"].why) == (1.0, "as the wiring says")
    assert not set(TIMERS) & set(one)
    assert asked(DEMO)["controls/timer"] == known
    dims = asked(DEMO, piece("controls/time", 2.0, uses=("time switch", "dimming timer channel")))
    assert dims["controls/timer"].name == f"{known.name}, 1 of them dimming"
    alone = asked("box", mist)["controls/timer"]
    assert (alone.amount, alone.group, alone.name) == (1.0, "controls", "time switch")


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_set_of_hours_has_its_timer(name: str) -> None:
    habitat, _, build, _ = example(name)
    ramp = habitat.schedule.ramp > 0.0
    lamps = {
        ("day" if x.follows_day else x.on, ramp and x.dimmable)
        for x in habitat.lamps if not x.control
    }  # fmt: skip
    fans = {x.on for x in habitat.fans if not x.control and x.on[0] != x.on[1]}
    mist = int(habitat.mist is not None and bool(habitat.mist.times))
    found = {x.key: x for x in whole(name)}["controls/timer"]
    assert found.wanted == len(lamps) + len(fans) + mist
    assert found.wanted == sum(d.control in ("time", "seconds") for d in build.wiring.devices)


# -- whole sheets --------------------------------------------------------------------------------


def part(kind: str, material: str = "board", thickness: float = 0.01) -> PartToCut:
    return PartToCut(kind, kind, material, material, thickness, 0.5, 0.4)


def job(parts: list[PartToCut], *sizes: tuple[float, float], roll: bool = False) -> Job:
    """A job whose parts all lie on the first of its sheets."""
    sheets = tuple(
        Sheet(Stock("board", wide, high, roll=roll), "board", wide, high,
              tuple(Laid(p, 0.0, 0.0, p.width, p.height, False) for p in (parts if i == 0 else ())),
              (), ())
        for i, (wide, high) in enumerate(sizes)
    )  # fmt: skip
    return Job("board", "board", 0.01, roll, 0.0, 0.0, sheets, 0.0, 0.0)


BOARD = Line("panels/board-10mm", "panels", "board", 2.0, "m2", 0.1, why="area", uses=("back",))
FOAM = Line("background/board-10mm", "background", "board", 1.0, "m2", 0.1, uses=("rock face",))


def test_what_is_left_of_whole_sheets_is_waste() -> None:
    lines = {x.key: x for x in (BOARD, FOAM)}
    (only,) = whole_sheets(job([part(cut_parts.PANEL)], (1.25, 2.5)), lines)
    assert (only.amount, only.wanted) == (2.0, pytest.approx(3.125))
    assert only.why == "whole sheets, as the cut plan says"
    assert only.stock == (Stocked("sheet", 1, 1.25, 2.5),)
    assert only == replace(BOARD, waste=only.waste, why=only.why, stock=only.stock)
    two = [part(cut_parts.PANEL), part(cut_parts.LINING)]
    board, foam = whole_sheets(job(two, (1.25, 2.5), (1.0, 0.5)), lines)
    assert (board.amount, foam.amount) == (2.0, 1.0)
    assert board.wanted + foam.wanted == pytest.approx(3.125 + 0.5)
    assert board.waste == foam.waste, "shared by area"
    assert board.why == (
        "whole sheets, as the cut plan says; shared by 2 lines of this list: 1 of 1.25 x 2.5 m + 1 of "
        "1 x 0.5 m in all"
    )
    assert board.stock == ()
    (rolled,) = whole_sheets(job([part(cut_parts.PANEL)], (1.0, 2.4), roll=True), lines)
    assert rolled.why == "from a roll, as the cut plan says"
    assert rolled.stock == (Stocked("roll", 1, 2.4, 1.0),)
    assert rolled.wanted == pytest.approx(2.4)
    # Sheets that are just used up leave nothing.
    (full,) = whole_sheets(job([part(cut_parts.PANEL)], (1.0, 2.0)), lines)
    assert full.waste == 0.0


def test_where_sheets_do_not_hold_the_list_it_keeps_its_own_waste() -> None:
    panel = [part(cut_parts.PANEL)]
    assert whole_sheets(job(panel, (1.0, 1.9)), {BOARD.key: BOARD}) == []
    assert whole_sheets(job(panel, (1.0, 9.0)), {}) == []
    pieces = replace(BOARD, unit="piece")
    assert whole_sheets(job(panel, (1.0, 9.0)), {BOARD.key: pieces}) == []
    none = replace(BOARD, amount=0.0)
    assert whole_sheets(job(panel, (1.0, 9.0)), {BOARD.key: none}) == []


@pytest.mark.parametrize(
    ("kind", "key"),
    [(cut_parts.PANEL, "panels/board-10mm"), (cut_parts.DOOR, "panels/board-10mm"),
     (cut_parts.FIXED, "panels/board-10mm"), (cut_parts.LINING, "background/board-10mm"),
     (cut_parts.COVER, "covers/board"), (cut_parts.GROUND, "sheets/board")],
)  # fmt: skip
def test_parts_are_called_as_the_list_calls_them(kind: str, key: str) -> None:
    assert key_of(part(kind)) == key


def test_a_job_becomes_lines_of_the_list() -> None:
    """Of made-up sheets for the box's own panels."""
    (panel,) = (x for x in listed("box").values() if x.key.startswith("panels/pvc"))
    material = panel.key.removeprefix("panels/").removesuffix("-10mm")
    sheets = job([part(cut_parts.PANEL, material)], (2.0, 4.0))
    found = asked("box", cuts=replace(UNCUT, jobs=(sheets,)))
    assert found[panel.key].amount == panel.amount
    assert found[panel.key].wanted == pytest.approx(8.0)
    # And still the larger need of the two.
    more = asked("box", Line(panel.key, "x", "x", 9.0, "m2"), cuts=replace(UNCUT, jobs=(sheets,)))
    assert more[panel.key].wanted == pytest.approx(9.0)
    less = asked("box", Line(panel.key, "x", "x", 7.0, "m2"), cuts=replace(UNCUT, jobs=(sheets,)))
    assert less[panel.key] == found[panel.key]


@pytest.mark.parametrize("name", EXAMPLES)
def test_amounts_and_waste_are_what_the_cut_plan_buys(name: str) -> None:
    _, _, _, cuts = example(name)
    found, known = {x.key: x for x in whole(name)}, listed(name)
    assert cuts.jobs
    for made in cuts.jobs:
        keys = {key_of(x.part) for s in made.sheets for x in s.laid}
        assert all(found[k].amount == known[k].amount for k in keys)
        area = math.fsum(s.width * s.height for s in made.sheets)
        assert math.fsum(found[k].amount * (1.0 + found[k].waste) for k in keys) == pytest.approx(
            area
        )
        assert all("as the cut plan says" in found[k].why for k in keys)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_list_says_the_sheets_that_the_cut_plan_takes(name: str) -> None:
    habitat, _, _, cuts = example(name)
    found = {x.key: x for x in whole(name)}
    for made in cuts.jobs:
        keys = {key_of(x.part) for s in made.sheets for x in s.laid}
        if len(keys) == 1 and not made.roll:
            line = found[keys.pop()]
            assert sum(s.count for s in line.stock) == len(made.sheets)
            assert sum(s.all for s in line.stock) == pytest.approx(line.wanted)
    glass = habitat.enclosure.panel("front")
    panes = [p for p in cuts.ordered if p.kind in ("door", "fixed")]
    line = found[panel_key(glass.material.key, glass.thickness)]
    assert len([s for s in line.stock if s.kind == "pane"]) >= len(panes) > 0
    assert line.waste == 0.0


def test_battens_are_bought_as_the_bars_they_are_cut_from() -> None:
    """Four of 1.42 m come out of four bars of 2.4 m, not out of three."""
    line = next(x for x in whole(DEMO) if x.key == "fixings/batten-20x40")
    assert line.stock == (Stocked("bar", 4, 2.4),)
    assert (line.amount, line.wanted) == (pytest.approx(5.68), pytest.approx(9.6))


# -- the whole list ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_ground_is_the_engines_to_the_last_unit(name: str) -> None:
    """Sheets of mat and fleece are laid out on a roll, which adds waste and leaves the amount."""
    _, ground, _, _ = example(name)
    found = {x.key: x for x in whole(name)}
    told: dict[str, list[float]] = {}
    for p in ground.buy:
        group, unit = {"m2": ("sheets", 1.0), "kg": ("litter", 1.0), "m3": ("media", 1e-3)}[p.unit]
        told.setdefault(f"{group}/{p.key}", []).append(p.amount / unit)
    assert told
    for key, shares in told.items():
        assert found[key].amount == math.fsum(shares)
        if not key.startswith("sheets/"):
            assert found[key] == listed(name)[key]


@pytest.mark.parametrize("name", EXAMPLES)
def test_nothing_stands_there_twice_and_nothing_is_lost(name: str) -> None:
    _, _, build, cuts = example(name)
    lines, known = whole(name), listed(name)
    found = {x.key: x for x in lines}
    assert len(found) == len(lines)
    assert set(known) <= set(found)
    laid = {key_of(x.part) for made in cuts.jobs for s in made.sheets for x in s.laid}
    for key, line in known.items():
        assert found[key].unit == line.unit
        if key not in laid:  # whole sheets may lose less than was taken
            assert found[key].wanted >= line.wanted
    for line in merged_alike(build.lines):
        key = SAME.get(line.key, line.key)
        if key in STARTS:
            (key,) = (k for k in found if k.startswith(STARTS[key]))
        elif key in TIMERS:
            key = "controls/timer"
        assert found[key].wanted >= line.wanted
    extra = {x.key for x in build.lines} - set(SAME) - set(STARTS) - set(TIMERS)
    assert set(found) == set(known) | extra
    groups = [GROUPS.index(x.group) for x in lines]
    assert groups == sorted(groups)


def test_the_demo_has_a_price_for_everything() -> None:
    habitat = example(DEMO)[0]
    assert habitat.money is not None
    bought = buy(whole(DEMO), habitat.money.price_list, habitat.money.currency)
    assert [b.line.key for b in bought if b.cost is None] == []


def test_decomposers_are_those_let_in() -> None:
    habitat, amount, build, cuts = example(DEMO)
    found = joined_list(habitat, amount, {"folsomia-candida": 518}, cuts, build)
    lines = [x for x in found if x.group == "decomposers"]
    assert [(x.key, x.amount) for x in lines] == [("decomposers/folsomia-candida", 518.0)]


# -- lines ---------------------------------------------------------------------------------------


def test_lines_of_one_key_lose_the_largest_share_of_them() -> None:
    one = Line("a/tube", "g", "tube", 2.0, "m", 0.1, why="one", uses=("x",))
    two = replace(one, amount=3.0, waste=0.25, why="two", uses=("y",))
    other = Line("a/clip", "g", "clip", 4.0, "piece", 0.05)
    both, alone = merged_alike([one, other, two])
    assert (both.amount, both.waste, both.why, both.uses) == (5.0, 0.25, "one; two", ("x", "y"))
    assert both.wanted == pytest.approx(6.25)
    assert merged_alike([two, one])[0].waste == 0.25
    assert alone == other
    with pytest.raises(ValueError, match="a/tube is counted in more than one way"):
        merged_alike([one, replace(two, unit="piece")])


TUBE = Line("a/tube", "g", "tube", 2.0, "m", 0.25, 0.5, "one", ("x",))


def test_a_line_is_raised_to_what_another_asks_for() -> None:
    raised = at_least(TUBE, Line("b/pipe", "h", "pipe", 8.0, "m", 0.0, 1.0, "two", ("y",)))
    assert raised.wanted == pytest.approx(9.0)
    assert raised.amount == pytest.approx((9.0 - 0.5) / 1.25)
    assert raised == replace(TUBE, amount=raised.amount, why="two", uses=("x", "y"))
    assert at_least(TUBE, Line("b/pipe", "h", "pipe", 8.0, "m")).why == "one"
    assert at_least(TUBE, Line("b/pipe", "h", "pipe", 3.0, "m")) is TUBE, "it wants as much itself"
    assert at_least(TUBE, Line("b/pipe", "h", "pipe", 8.0, "piece")) is TUBE, "not to be compared"


def test_a_line_is_raised_by_what_is_apart() -> None:
    far = replace(TUBE, amount=1.0, spares=0.25, why="three", uses=("z",))
    other = Line("b/pipe", "h", "pipe", 2.0, "m", why="two", uses=("y",))
    assert at_least(TUBE, other) is TUBE
    raised = at_least(TUBE, other, [far])
    assert raised.wanted == pytest.approx(2.0 + 1.25 + 0.25)
    assert raised.why == "two; three"
    assert apart_from(other, [TUBE, far]) == (TUBE, far)
    assert apart_from(replace(other, uses=("z", "y")), [TUBE, far]) == (TUBE,)
    assert apart_from(replace(other, uses=()), [TUBE, far]) == ()
    assert apart_from(other, [replace(TUBE, uses=())]) == ()
