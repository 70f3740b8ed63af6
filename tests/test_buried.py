"""What goes under when the ground is made deeper: pieces, ways into hides, hides of their own."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.engine.findings import State
from loamwright.engine.ground.buried import LEAST, buried_finding
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.sites import Site
from loamwright.report.words import word

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"


@pytest.fixture(scope="module")
def rain() -> Habitat:
    return workflow.read(EXAMPLES / "rain-glass.yaml")


def deeper(habitat: Habitat, by: float) -> Habitat:
    """The habitat with its deepest layer deeper by so much [m], and all else where it was."""
    layers = list(habitat.ground.layers)
    n = max(range(len(layers)), key=lambda k: layers[k].depth)
    relief = layers[n].relief
    raised = None if relief is None else replace(relief, level=relief.level + by)
    layers[n] = replace(layers[n], depth=layers[n].depth + by, relief=raised)
    return replace(habitat, ground=replace(habitat.ground, layers=tuple(layers)))


def test_a_tube_with_a_hide_counts_by_its_way_in(rain: Habitat) -> None:
    one = replace(rain, sites=tuple(s for s in rain.sites if s.name == "tunnel hide"))
    found = buried_finding(one)
    assert found is not None
    assert found.state is State.MET
    assert (found.site, found.causes[0].kind) == ("bark tunnel", "hide_within")
    shut = buried_finding(deeper(one, 0.04))
    assert shut is not None
    assert found.value is not None
    assert shut.value == pytest.approx(found.value - 0.04)
    assert shut.state is State.MISSED
    told = word(shut, rain)
    assert "the way into 'tunnel hide' counts" in told.why.lower()
    assert "Lift 'bark tunnel'" in told.advice


def test_a_level_tube_is_open_up_to_its_inner_rim() -> None:
    """A level tube of 10 cm, wall 1 cm, its axis 5 cm over the ground: the rim is 9 cm up."""
    plain = workflow.read(EXAMPLES / "forest-edge.yaml")
    level = plain.ground.depth
    wood = plain.hardscape[0].material
    tube = Piece("tube", "tube", wood, start=(0.3, 0.3, level + 0.05), end=(0.6, 0.3, level + 0.05),
                 diameter=0.1, wall=0.01)  # fmt: skip
    upright = replace(tube, name="post", start=(0.9, 0.3, level - 0.1), end=(0.9, 0.3, level + 0.2))
    hide = Site("den", (0.45, 0.3, level + 0.05), role="hide")
    den = Site("post den", (0.9, 0.3, level + 0.1), role="hide")
    one = replace(plain, hardscape=(tube,), sites=(hide,))
    found = buried_finding(one)
    assert found is not None
    assert found.value == pytest.approx(0.09)
    found = buried_finding(replace(one, hardscape=(upright,), sites=(den,)))
    assert found is not None
    assert found.value == pytest.approx(0.2)


def test_a_hide_in_no_piece_that_goes_under_is_told() -> None:
    plain = workflow.read(EXAMPLES / "forest-edge.yaml")
    hide = Site("hollow", (0.9, 0.3, plain.ground.depth + 0.01), role="hide")
    alone = replace(plain, hardscape=(), sites=(hide,))
    assert buried_finding(alone) is None
    found = buried_finding(deeper(alone, 0.05))
    assert found is not None
    assert (found.site, found.state) == ("hollow", State.MISSED)
    assert found.value == pytest.approx(-0.04)


def test_all_that_goes_under_is_named() -> None:
    plain = workflow.read(EXAMPLES / "forest-edge.yaml")
    found = buried_finding(deeper(plain, 0.15))
    assert found is not None
    assert found.value is not None
    assert found.value < LEAST
    named = {found.site, *(c.subject for c in found.causes if c.kind == "buried_too")}
    assert {"left stone", "right stone"} <= named
