"""Strength: one load for all, panels by theory, floor, tipping, fixings and stones, and their words."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bad_case import METRIC
from loamwright import workflow
from loamwright.engine.ground.footings import BRICK, CLAY, footing_mass, frame_mass
from loamwright.engine.ground.outlook import amounts
from loamwright.engine.unlit import bare, climate_bare
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.physics import beams, plates
from loamwright.plan import panels, standing
from loamwright.plan.batten_loads import batten_loads
from loamwright.plan.battens import battens
from loamwright.plan.build import build_of
from loamwright.plan.findings import strength_findings
from loamwright.plan.fixings import fixings_of, stones_of
from loamwright.plan.frames import DENSITY, frame_of
from loamwright.plan.strength import strength_of
from loamwright.report.strength_blocks import strength_tables
from loamwright.report.words import word

FOLDER = Path(workflow.__file__).parent / "data" / "examples"
G = 9.80665


@pytest.fixture(scope="module")
def forest():
    return read_habitat(FOLDER / "forest-edge.yaml")


def read(text: str):
    return read_habitat_text(text, Path("habitat.yaml"))


def found_of(habitat, amount):
    return strength_findings(habitat, strength_of(habitat, amount))


@pytest.fixture(scope="module")
def states():
    """States of a need; ground and pieces are worked out once for all that have the same."""
    known = {}

    def of(habitat, need: str) -> list[str]:
        key = (habitat.name, len(habitat.hardscape))
        if key not in known:
            known[key] = amounts(habitat)
        return [str(f.state) for f in found_of(habitat, known[key]) if f.need == need]

    return of


def side(habitat, name: str, **changes):
    box = habitat.enclosure
    made = tuple(replace(p, **changes) if p.side == name else p for p in box.panels)
    return replace(habitat, enclosure=replace(box, panels=made))


def test_the_load_is_that_of_the_ground(forest):
    amount = amounts(forest)
    s = strength_of(forest, amount).stands
    assert s.flooded == amount.load.flooded
    assert s.moist == amount.load.total
    assert s.rated == amount.load.rated
    water = math.fsum(x.moist - x.dry for x in amount.layers)
    assert s.dry == pytest.approx(amount.load.total - water)
    assert s.dry < s.moist < s.flooded < s.on_floor


def test_water_presses_by_its_depth_alone(forest):
    """Ground as heavy as water that holds nothing back: its pressure when flooded is that of water."""
    layer = amounts(forest).layers[2]
    light = replace(layer, kind="mix", flooded=1000.0 * layer.volume, most=0.1)
    _, flooded = panels.ground_pressures((light,))
    assert flooded == pytest.approx(1000.0 * G * 0.1)


def test_moist_ground_presses_by_half_its_weight(forest):
    layer = amounts(forest).layers[2]
    moist, _ = panels.ground_pressures(
        (replace(layer, kind="mix", moist=800.0 * layer.volume, most=0.2),)
    )
    assert moist == pytest.approx(0.5 * 800.0 * G * 0.2)


def test_a_panel_bends_as_the_plate_it_is(forest):
    found = {p.side: p for p in strength_of(forest, amounts(forest)).panels if p.part == "whole"}
    p = found["left"]
    material = forest.enclosure.panel("left").material
    bent = plates.plate(p.span, p.height, p.thickness, material.young * material.creep,
                        material.poisson, p.pressure, 0.0, p.loaded)  # fmt: skip
    assert p.deflection == pytest.approx(bent.deflection)
    wet = plates.plate(p.span, p.height, p.thickness, material.young, material.poisson, p.flooded, 0.0,
                       p.loaded)  # fmt: skip
    assert p.stress == pytest.approx(wet.stress)


def test_battens_hold_and_a_bare_wall_bulges(forest, states):
    assert states(forest, "panel-deflection") == ["met"]
    bare = side(forest, "back", ribs=0.0)
    assert "missed" in states(bare, "panel-deflection")
    assert states(side(bare, "back", thickness=0.03), "panel-deflection") == ["met"]


def test_thin_glass_breaks_before_it_is_said_to_hold(forest, states):
    """The strip below the doors, its upper edge free, and thinner."""
    thin = side(forest, "front", thickness=0.001, held="three")
    assert "missed" in states(thin, "panel-stress")


def test_windows_without_a_frame_are_not_computed():
    school = read_habitat(FOLDER / "school-meadow.yaml")
    found = found_of(side(school, "top", held="four"), amounts(school))
    told = [word(f, school).why for f in found if f.site == "top" and str(f.state) == "not_known"]
    assert told
    assert all("put a frame under it" in text for text in told)


def test_a_panel_of_unknown_stiffness_is_not_known(forest):
    material = replace(forest.enclosure.panel("back").material, young=None)
    found = found_of(side(forest, "back", material=material), amounts(forest))
    told = [f for f in found if f.need == "panel-deflection"]
    assert [str(f.state) for f in told] == ["not_known"]
    assert "does not say how stiff" in word(told[0], forest).why


# -- standing ------------------------------------------------------------------------------------


def test_the_floor_by_hand(forest):
    """Beams along the wall carry the load in their middle: 8 M / L^2 with M = w b L / 4 - w b^2 / 8."""
    s = strength_of(forest, amounts(forest)).stands
    along = dict(s.floor)["along"]
    b, span = s.footprint[0], 4.0
    assert along == pytest.approx(8.0 / span**2 * s.pressure * (b * span / 4 - b * b / 8))
    assert s.pressure == pytest.approx(G * s.on_floor / (s.footprint[0] * s.footprint[1]))


def test_the_floor_is_close_where_nobody_says_how_it_runs(forest, states):
    heavy = replace(forest, purpose="private")
    assert states(heavy, "floor-load") == ["close"]
    known = replace(heavy, room=replace(heavy.room, floor=replace(heavy.room.floor, runs="along")))
    assert states(known, "floor-load") == ["missed"]
    slab = replace(heavy, room=replace(heavy.room, floor=replace(heavy.room.floor, runs="slab")))
    assert states(slab, "floor-load") == []
    strong = replace(heavy, room=replace(heavy.room, floor=replace(heavy.room.floor, bears=5000.0)))
    assert states(strong, "floor-load") == ["met"]


def test_a_slim_box_tips_unless_it_is_tied(forest, states):
    high = replace(forest.enclosure.stand, height=3.0)
    free = replace(
        forest, enclosure=replace(forest.enclosure, stand=replace(high, height=0.6, tied=False))
    )
    slim = replace(forest, enclosure=replace(forest.enclosure, stand=replace(high, tied=False)))
    assert states(free, "tipping") == ["met"]
    assert states(slim, "tipping") in (["missed"], ["close"])
    tied = replace(slim.enclosure.stand, tied=True)
    assert states(replace(slim, enclosure=replace(slim.enclosure, stand=tied)), "tipping") == []


def test_us_floors_have_us_loads(forest):
    us = strength_of(replace(forest, units="us", purpose="private"), amounts(forest)).stands
    assert us.bears == pytest.approx(40 * standing.PSF)


def test_tipping_is_a_lever():
    assert beams.tipping_factor(1000.0, 0.3, 100.0, 1.5) == pytest.approx(2.0)


# -- fixings and stones --------------------------------------------------------------------------

STONE = METRIC + (
    "hardscape:\n"
    "  - {name: big, shape: block, at: [30 cm, 20 cm], size: [20 cm, 20 cm, 10 cm]FOOT}\n"
    "  - {name: lid, shape: block, at: [30 cm, 20 cm], on: big, size: [10 cm, 10 cm, 3 cm]}\n"
    "  - {name: hung, shape: branch, from: [5 cm, 30 cm, 50 cm], to: [50 cm, 30 cm, 60 cm], "
    "diameter: 4 cmHELD}\n"
)


def test_a_stone_on_ground_that_can_be_dug_away_is_missed(states):
    bare = read(STONE.replace("FOOT", "").replace("HELD", ""))
    found = stones_of(bare)
    assert [s.name for s in found] == ["big"]  # the lid stands on it, and is no stone in the ground
    assert found[0].under == pytest.approx(0.10)
    assert found[0].mass == pytest.approx(0.004 * bare.hardscape[0].material.density)
    assert states(bare, "stone-footing") == ["missed"]
    firm = read(STONE.replace("FOOT", ", footing: bricks").replace("HELD", ""))
    assert states(firm, "stone-footing") == ["met"]
    assert any(x.key == "fixings/footing-bricks" for x in build_of(firm).lines)


def test_what_hangs_needs_screws(states):
    bare = read(STONE.replace("FOOT", "").replace("HELD", ""))
    assert states(bare, "fixing") == ["not_known"]
    (hung,) = [f for f in fixings_of(bare) if f.name == "hung"]
    assert hung.needs == math.ceil(2.0 * G * hung.wet / 100.0)
    held = read(STONE.replace("FOOT", "").replace("HELD", ", screws: 2"))
    (hung,) = [f for f in fixings_of(held) if f.name == "hung"]
    assert hung.factor == pytest.approx(200.0 / (G * hung.wet))
    assert states(held, "fixing") == ["met"]
    glued = read(STONE.replace("FOOT", "").replace("HELD", ", glued: 1 cm2"))
    assert states(glued, "fixing") == ["missed"]


@pytest.mark.parametrize("system", ["metric", "us"])
def test_tables_leave_nothing_to_format(forest, system):
    tables = strength_tables(forest, strength_of(forest, amounts(forest)), system)
    assert [t.title for t in tables] == [
        "What it weighs", "How it stands", "Panels under load", "Battens under load",
        "What is held up", "What each piece touches", "Heavy stones",
    ]  # fmt: skip
    text = " ".join(cell for t in tables for row in t.rows for cell in (*row, t.note))
    for unit in ("kg", "kN/m²", "MPa", "cm") if system == "us" else ("lb", "psf", "psi", " in"):
        assert f" {unit} " not in text + " ", unit
    assert "structural engineer" in text
    for table in tables:
        assert all(len(row) == len(table.columns) for row in table.rows)


# -- the plate's own proof -----------------------------------------------------------------------


def test_a_wide_plate_bends_as_a_strip():
    """Far from its short edges a plate under ground in its lower part is a beam across it, of
    stiffness D: its deflection by double integration of the moment."""
    loaded = 0.4
    bent = plates.plate(20.0, 1.0, 0.02, 1e9, 0.3, 1000.0, 0.0, loaded)
    y = np.linspace(0.0, 1.0, 20001)
    pressure = np.where(y < loaded, 1000.0 * (1.0 - y / loaded), 0.0)
    step = y[1] - y[0]

    def integral(values):
        return np.concatenate([[0.0], np.cumsum(0.5 * (values[1:] + values[:-1]) * step)])

    once, twice = integral(pressure), integral(integral(pressure))
    shear = twice[-1]  # reaction at y = 0, from the moment about the other edge
    moment = shear * y - twice
    assert once[-1] == pytest.approx(200.0, rel=1e-3)
    slope = integral(integral(moment))
    deflection = (slope[-1] * y - slope) / plates.rigidity(1e9, 0.02, 0.3)
    assert bent.deflection == pytest.approx(deflection.max(), rel=2e-3)
    assert bent.deflected_at[1] == pytest.approx(y[deflection.argmax()], abs=0.03)
    assert bent.stress == pytest.approx(6.0 * moment.max() / 0.02**2, rel=5e-3)


def test_a_seam_in_the_load_changes_nothing():
    whole = plates.plate(1.0, 0.7, 0.01, 1e9, 0.3, 500.0, 500.0, 0.7, high_edge="free")
    nearly = plates.plate(
        1.0, 0.7, 0.01, 1e9, 0.3, 500.0, 500.0, 0.7 * (1 - 1e-6), high_edge="free"
    )
    assert nearly.deflection == pytest.approx(whole.deflection, rel=1e-4)
    assert nearly.stress == pytest.approx(whole.stress, rel=1e-4)


def test_load_and_stiffness_scale_as_theory_says():
    one = plates.plate(1.0, 0.7, 0.01, 1e9, 0.3, 500.0, 0.0, 0.3)
    two = plates.plate(1.0, 0.7, 0.02, 3e9, 0.3, 1000.0, 0.0, 0.3)
    assert two.deflection == pytest.approx(one.deflection * 2 / 3 / 8)
    assert two.stress == pytest.approx(one.stress * 2 / 4)
    with pytest.raises(ValueError, match="no edge is 'glued'; there is held, clamped, free"):
        plates.plate(1.0, 0.7, 0.01, 1e9, 0.3, 500.0, 0.0, 0.3, "glued")


def test_less_held_bends_more():
    bends = [
        plates.plate(1.0, 0.7, 0.01, 1e9, 0.3, 500.0, 0.0, 0.3, *edges).deflection
        for edges in (("clamped", "held"), ("held", "held"), ("held", "free"), ("free", "free"))
    ]
    assert bends == sorted(bends)


def test_what_holds_it_makes_no_kept_light_stale(forest):
    box = forest.enclosure
    other = replace(
        forest,
        enclosure=replace(
            box, stand=None,
            panels=tuple(replace(p, held="two", sill=0.3, ribs=0.1) for p in box.panels),
            linings=tuple(replace(x, screws=3, glued=0.1) for x in box.linings),
        ),
        hardscape=tuple(replace(x, screws=9, footing="sand") for x in forest.hardscape),
        lamps=tuple(replace(x, protection="IP67") for x in forest.lamps),
        mains=replace(forest.mains, voltage=100.0),
        room=replace(forest.room, floor=replace(forest.room.floor, runs="slab")),
    )  # fmt: skip
    assert bare(other) == bare(forest)
    assert climate_bare(other) == climate_bare(forest)


def test_water_stands_in_the_drainage_while_the_ground_is_moist(forest):
    layer = amounts(forest).layers[2]
    drains = replace(layer, kind="gravel", flooded=1800.0 * layer.volume, most=0.05)
    over = replace(layer, kind="mix", moist=800.0 * layer.volume, most=0.2)
    moist, _ = panels.ground_pressures((drains, over))
    afloat = (1800.0 - 1000.0) * 0.05
    assert moist == pytest.approx(G * (0.5 * (afloat + 800.0 * 0.2) + 1000.0 * 0.05))


def test_footings_and_the_tops_frame_are_in_the_load() -> None:
    for name in ("forest-edge", "school-meadow"):
        habitat = read_habitat(FOLDER / f"{name}.yaml")
        frame = frame_of(habitat)
        area = frame.size**2 - (frame.size - 2.0 * frame.wall) ** 2
        made = DENSITY * area * sum(m.length for m in frame.members)
        # Told from lengths of edges and windows: within a tenth of the frame as it is cut.
        assert frame_mass(habitat) == pytest.approx(made, rel=0.1)
    forest = read_habitat(FOLDER / "forest-edge.yaml")
    load = amounts(forest).load
    parts = dict(load.parts)
    assert parts["frame"] == pytest.approx(frame_mass(forest))
    stone = next(p for p in forest.hardscape if p.name == "left stone")
    # Three courses of two bricks from 3.2 cm of drainage to 24 cm.
    assert footing_mass(forest, stone, stone.at[:2]) == pytest.approx(6 * BRICK)
    assert footing_mass(forest, stone, stone.at[:2], 900.0) == pytest.approx(
        6 * BRICK * (1.0 - 900.0 / CLAY)
    )
    assert footing_mass(forest, replace(stone, footing=""), stone.at[:2]) == 0.0
    assert 0.0 < parts["footings"] < 12 * BRICK
    held = standing.standing_of(forest, amounts(forest))
    assert dict(held.parts)["footings"] == parts["footings"]


# -- battens -------------------------------------------------------------------------------------


def test_a_varied_load_bends_a_beam_as_the_books_say() -> None:
    span, ei = 1.4, 213.0
    even = beams.varied_deflection(np.full(2001, 100.0), span, ei, 1.0)
    assert even == pytest.approx(beams.uniform_deflection(100.0, span, ei, 1.0), rel=1e-5)
    # Rising from nothing at one end: 0.00652 w L^4 / (E I) (any table of beams).
    rising = beams.varied_deflection(np.linspace(0.0, 100.0, 2001), span, ei, 1.0)
    assert rising == pytest.approx(0.006522 * 100.0 * span**4 / ei, rel=1e-3)
    # All of it on a short part in the middle: P L^3 / (48 E I).
    point = np.zeros(4001)
    point[1990:2011] = 1.0
    force = 20 * span / 4000
    assert beams.varied_deflection(point, span, ei, 1.0) == pytest.approx(
        force * span**3 / (48.0 * ei), rel=0.06
    )


def test_battens_bear_what_is_nearest_to_them(forest) -> None:
    loads = {p.side: p for p in panels.panel_loads(forest, amounts(forest))}
    found = {b.name: b for b in batten_loads(forest, loads.values())}
    assert set(found) == {b.name for b in battens(forest)}
    back = found["batten 1 of back"]
    panel = loads["back"]
    assert (back.span, back.strip) == pytest.approx((1.40, 0.50))
    # Up to 25 cm of height as wide as twice that, of a pressure that falls to nothing at the surface:
    # most half way up, p h / 2.
    assert back.load == pytest.approx(panel.flooded * panel.loaded / 2.0, rel=0.01)
    # A force of p h^2 / 3 half way up, as a point load on the beam.
    force, at = panel.flooded * panel.loaded**2 / 3.0, panel.loaded / 2.0
    inertia = 0.04 * 0.02**3 / 12.0
    by_hand = force * at * (1.4**2 - at**2) ** 1.5 / (9 * math.sqrt(3) * 1.4 * 10e9 * inertia)
    worst = max(1.0, panel.pressure / 0.55 / panel.flooded)
    assert back.deflection == pytest.approx(by_hand * worst, rel=0.05)
    assert back.allowed == pytest.approx(1.40 / 200.0)


def test_a_batten_that_bends_too_far_is_a_finding(forest) -> None:
    strength = strength_of(forest, amounts(forest))
    assert not [f for f in strength_findings(forest, strength) if f.site.startswith("batten")]
    weak = replace(strength, battens=(replace(strength.battens[0], deflection=0.012),))
    (found,) = [f for f in strength_findings(forest, weak) if f.site.startswith("batten")]
    assert (found.need, str(found.state)) == ("panel-deflection", "missed")
    assert "set battens nearer" in word(found, forest, "metric").why
    (table,) = [t for t in strength_tables(forest, strength, "metric") if t.title[:3] == "Bat"]
    assert len(table.rows) == 4


def test_without_battens_there_is_no_table() -> None:
    rain = read_habitat(FOLDER / "rain-glass.yaml")
    strength = strength_of(rain, amounts(rain))
    assert strength.battens == ()
    assert "Battens under load" not in [t.title for t in strength_tables(rain, strength, "metric")]
