"""Volumes of the ground against closed forms and against cut meshes; bags, masses, loads."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh

from loamwright import workflow
from loamwright.engine.ground import quantities as q
from loamwright.engine.ground.displaced import (
    ellipsoid_below,
    mean_above,
    piece_below,
    volume_below,
)
from loamwright.engine.ground.outlook import amounts
from loamwright.files.reader import read_habitat
from loamwright.habitat.hardscape import Piece
from loamwright.report.ground_blocks import ground_tables

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"


def example(name):
    return read_habitat(EXAMPLES / f"{name}.yaml")


def piece(shape, **more):
    material = example("rain-glass").hardscape[0].material
    return Piece("p", shape, material, **more)


@pytest.mark.parametrize("height", [-0.2, 0.0, 0.03, 0.11, 0.17, 0.4])
def test_a_mesh_is_cut_as_trimesh_cuts_it(height):
    solid = trimesh.creation.icosphere(subdivisions=2, radius=0.12)
    solid.apply_transform(trimesh.transformations.rotation_matrix(0.7, [1, 2, 0.5]))
    solid.apply_translation([0.3, 0.2, 0.08])
    mine = volume_below(solid.triangles, height)
    # The ball is convex, and so is what is cut off: its corners tell its volume.
    points, _, _ = trimesh.intersections.slice_faces_plane(
        solid.vertices, solid.faces, plane_normal=[0, 0, -1], plane_origin=[0, 0, height]
    )
    theirs = trimesh.convex.convex_hull(points).volume if len(points) else 0.0
    assert mine == pytest.approx(theirs, rel=1e-9, abs=1e-15)


def test_the_mean_above_is_that_of_many_points():
    rng = np.random.default_rng(4)
    corners = rng.normal(size=(40, 3))
    u = rng.random((200_000, 2))
    u[u.sum(axis=1) > 1] = 1 - u[u.sum(axis=1) > 1]
    weights = np.column_stack([1 - u.sum(axis=1), u])
    sampled = np.maximum(corners @ weights.T, 0.0).mean(axis=1)
    # The spread of a mean of 200,000 draws of values of size one is some 0.002.
    assert mean_above(corners) == pytest.approx(sampled, abs=0.01)


def test_closed_forms_of_simple_pieces():
    half = (0.05, 0.04, 0.03)
    assert ellipsoid_below(0.0, half, 1.0) == pytest.approx(4 / 3 * math.pi * 0.05 * 0.04 * 0.03)
    assert ellipsoid_below(0.0, half, 0.0) == pytest.approx(2 / 3 * math.pi * 0.05 * 0.04 * 0.03)
    # Spherical cap: pi h^2 (3 r - h) / 3.
    assert ellipsoid_below(0.1, (0.1, 0.1, 0.1), 0.03) == pytest.approx(
        math.pi * 0.03**2 * (0.3 - 0.03) / 3
    )
    upright = piece("branch", start=(0, 0, 0.0), end=(0, 0, 0.5), diameter=0.08)
    assert piece_below(upright, 0.2) == pytest.approx(math.pi * 0.04**2 * 0.2)
    # A cylinder lying half sunk: half of it.
    lying = piece("branch", start=(0, 0, 0.1), end=(0.4, 0, 0.1), diameter=0.08)
    assert piece_below(lying, 0.1) == pytest.approx(0.5 * math.pi * 0.04**2 * 0.4, rel=1e-6)
    block = piece("block", at=(0, 0, 0.05), size=(0.2, 0.1, 0.3))
    assert piece_below(block, 0.15) == pytest.approx(0.2 * 0.1 * 0.1)


def test_a_mesh_wound_inside_out_takes_the_same_room():
    solid = trimesh.creation.box([0.2, 0.2, 0.2])
    faces = tuple(tuple(int(i) for i in f) for f in solid.faces)
    points = tuple(tuple(float(x) for x in v) for v in solid.vertices)
    right = piece("mesh", vertices=points, faces=faces)
    wrong = piece("mesh", vertices=points, faces=tuple(f[::-1] for f in faces))
    assert piece_below(right, 0.05) == pytest.approx(0.2 * 0.2 * 0.15)
    assert piece_below(wrong, 0.05) == pytest.approx(0.2 * 0.2 * 0.15)


def test_layers_are_net_of_linings_and_pieces():
    habitat = example("rain-glass")
    found = q.ground_quantities(habitat)
    assert found.area == pytest.approx(0.60 * 0.43)
    mix = next(x for x in found.layers if x.kind == "mix")
    assert mix.displaced > 0.0
    assert mix.volume == pytest.approx(found.area * mix.depth - mix.displaced)
    bare = q.ground_quantities(replace(habitat, hardscape=()))
    whole = next(x for x in bare.layers if x.kind == "mix")
    assert whole.volume == pytest.approx(found.area * 0.07)
    for layer in found.layers:
        assert 0.0 < layer.dry < layer.moist <= layer.flooded + 1e-9


@pytest.mark.parametrize("name", workflow.EXAMPLES)
def test_the_example_gives_a_list_to_buy_from(name):
    habitat = example(name)
    found = q.ground_quantities(habitat, us=habitat.units == "us")
    assert {p.layer for p in found.buy} == {x.name for x in habitat.ground.layers}
    for p in found.buy:
        assert p.amount > 0.0
        if p.unit == "m3":
            held = sum(size * count for size, count in p.bags)
            assert held == pytest.approx(p.amount + p.left)
            assert 0.0 <= p.left < max(q.BAGS_METRIC)
            sold = q.BAGS_US if habitat.units == "us" else q.BAGS_METRIC
            assert {size for size, _ in p.bags} <= set(sold)


def test_reused_ground_is_not_bought():
    found = q.ground_quantities(example("school-meadow"))
    mix = next(x for x in found.layers if x.kind == "mix")
    assert sum(v for _, v in mix.reused) == pytest.approx(0.21 * mix.volume)
    assert mix.new == pytest.approx(0.79 * mix.volume)
    bare = example("school-meadow")
    layers = tuple(replace(x, reuse=()) for x in bare.ground.layers)
    without = q.ground_quantities(replace(bare, ground=replace(bare.ground, layers=layers)))
    all_new = next(x for x in without.layers if x.kind == "mix")
    for one, other in zip(mix.buy, all_new.buy, strict=True):
        assert one.amount == pytest.approx(0.79 * other.amount)


def test_bags_and_quarts():
    assert pytest.approx(67.200625 * 0.0254**3, rel=1e-9) == q.QUART
    # Two cubic feet are the 51.4 dry quarts that such bags say.
    assert q.BAGS_US[-1] / q.QUART == pytest.approx(51.428, abs=1e-3)
    assert q.bags_for(0.120, q.BAGS_METRIC) == (((0.07, 1), (0.05, 1)), pytest.approx(0.0))
    bags, left = q.bags_for(0.141, q.BAGS_METRIC)
    assert bags == ((0.07, 2), (0.005, 1))
    assert left == pytest.approx(0.004)
    assert q.bags_for(0.07, q.BAGS_METRIC)[0] == ((0.07, 1),)
    # Two small bags rather than half a large one left over.
    assert q.bags_for(0.0232, q.BAGS_METRIC) == (((0.02, 1), (0.005, 1)), pytest.approx(0.0018))


@pytest.mark.parametrize("sizes", [q.BAGS_METRIC, q.BAGS_US])
@pytest.mark.parametrize("litres", [0.1, 4.9, 5.0, 23.2, 69.99, 70.01, 141, 333, 1234])
def test_no_other_bags_of_as_many_leave_less(sizes, litres):
    volume = litres / 1000.0
    bags, left = q.bags_for(volume, sizes)
    count = sum(n for _, n in bags)
    assert sum(size * n for size, n in bags) == pytest.approx(volume + left)
    assert left >= -1e-9
    assert count <= math.ceil(volume / max(sizes)) + 1
    if count <= 3:
        for others in itertools.combinations_with_replacement(sizes, count):
            assert sum(others) < volume * (1 - 1e-9) or sum(others) >= volume + left - 1e-9


def test_the_load_is_what_stands_on_it():
    habitat = example("rain-glass")
    load = q.ground_quantities(habitat).load
    parts = dict(load.parts)
    assert load.rated == pytest.approx(120.0)
    # 60 x 45 x 60 cm of glass, 2500 kg/m3: floor 6 mm, five more of 5 mm, less the openings.
    faces = 0.6 * 0.45 * (0.006 + 0.005) + (2 * 0.6 * 0.6 + 2 * 0.45 * 0.6) * 0.005
    assert parts["panels"] == pytest.approx(2500 * faces, rel=0.03)
    assert load.total == pytest.approx(sum(parts.values()))
    assert load.flooded > load.total


def test_sheets_over_openings_weigh():
    habitat = example("school-meadow")
    box = habitat.enclosure
    open_ = replace(box, openings=tuple(o for o in box.openings if o.cover.sheet is None))
    cut = replace(
        box, openings=tuple(replace(o, cover=box.openings[0].cover) for o in box.openings)
    )

    def panels(enclosure):
        return dict(q.ground_quantities(replace(habitat, enclosure=enclosure)).load.parts)["panels"]

    # Two of 164 x 14 cm of float glass, 4 mm, 2500 kg/m3.
    assert panels(box) - panels(cut) == pytest.approx(2 * 1.64 * 0.14 * 0.004 * 2500)
    # Where the holes are not cut, board of 10 mm, 600 kg/m3, is there instead.
    assert panels(open_) - panels(cut) == pytest.approx(2 * 1.64 * 0.14 * 0.010 * 600)


def test_packs_of_the_price_list_take_the_place_of_bags() -> None:
    habitat = read_habitat(EXAMPLES / "forest-edge.yaml")
    bare = next(
        t for t in ground_tables(habitat, amounts(habitat), None, "metric") if t.title == "To buy"
    )
    priced = next(
        t for t in ground_tables(habitat, amounts(habitat), None, "metric", priced={"media/coir"})
        if t.title == "To buy"
    )  # fmt: skip
    bags = {row[1]: row[3] for row in bare.rows}, {row[1]: row[3] for row in priced.rows}
    assert " L" in bags[0]["coir"]
    assert bags[1]["coir"] == "shopping list"
    assert bags[0]["sand"] == bags[1]["sand"]
