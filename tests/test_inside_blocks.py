"""Sizes of pieces and bowls as the pack tells them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loamwright.report.inside_blocks import bowls_table, pieces_table
from loamwright.report.pack_sections import habitat_section
from report_sample import habitat


def test_every_piece_has_a_size() -> None:
    made = habitat()
    rows = {r[0]: r[1:] for r in pieces_table(made, "metric").rows}
    assert list(rows) == [p.name for p in made.hardscape]
    assert rows["basking branch"][1] == "Ø 5 cm, 101.6 cm long"
    assert rows["cork tube"][1].startswith("Ø 18 cm, wall 2 cm, ")
    assert rows["slab"][1:3] == ("36 × 30 × 5 cm", "125 cm, 35 cm, 24 cm")
    assert rows["boulder"][1] == "30 × 26 × 22 cm"
    assert rows["old root"][1].endswith(" cm")
    assert rows["old root"][2].startswith("within ")
    us = {r[0]: r[2] for r in pieces_table(made, "us").rows}
    assert all(" in" in size for size in us.values())


@pytest.mark.parametrize(
    ("system", "across"), [("metric", "18 × 18 cm"), ("us", "7 1/16 × 7 1/16 in")]
)
def test_bowls_have_size_and_place(system: str, across: str) -> None:
    (row,) = bowls_table(habitat(), system).rows
    assert row[:2] == ("bowl", across)
    if system == "metric":
        assert row[2:] == ("3 cm", "30 cm, 55 cm, 26 cm")


def test_both_stand_in_the_pack_where_there_are_any() -> None:
    titles = [getattr(b, "title", "") for b in habitat_section(habitat(), [], "metric").blocks]
    assert {"Hardscape", "Water bowls"} <= set(titles)
    bare = replace(habitat(), water=(), hardscape=())
    titles = [getattr(b, "title", "") for b in habitat_section(bare, [], "metric").blocks]
    assert not {"Hardscape", "Water bowls"} & set(titles)
