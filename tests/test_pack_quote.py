"""The stamp of a plan that misses a need; what a quote says is in its price."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from loamwright.engine.findings import State
from loamwright.engine.ground.quantities import ground_quantities
from loamwright.habitat.habitat import Habitat
from loamwright.plan.money import MoneyPlan
from loamwright.plan.whole import plan_of
from loamwright.report.blocks import Table
from loamwright.report.money_blocks import quote_table
from loamwright.report.pack_pdf import source_files, typeset
from loamwright.report.pack_plan import costs_section
from loamwright.report.pack_quote import quote_section
from loamwright.report.pack_words import texts_of
from loamwright.report.quote_scope import scope_table
from loamwright.report.stamp import stamp_words
from loamwright.report.typst_blocks import Stamp
from loamwright.workflow import read
from report_sample import findings
from test_pack_blocks import document

DEMO = Path(__file__).parent.parent / "src/loamwright/data/examples/forest-edge.yaml"
SAID = "Not ready to build: 1 need is missed (UV at the basking place). Mend the plan first."


@cache
def demo() -> tuple[Habitat, MoneyPlan]:
    habitat = read(DEMO)
    return habitat, plan_of(habitat, amount=ground_quantities(habitat)).money


# -- stamp ---------------------------------------------------------------------------------------


def test_what_is_missed_is_said_in_words_and_nothing_where_nothing_is() -> None:
    met = [replace(f, state=State.MET) for f in findings()]
    assert stamp_words(met) == ""
    assert stamp_words([]) == ""
    close = [replace(met[0], state=State.CLOSE), replace(met[0], state=State.NOT_KNOWN)]
    assert stamp_words(close) == ""
    one = replace(met[0], need="uv-basking", site="basking", state=State.MISSED)
    told = stamp_words([*met, one])
    assert told == (
        "Not ready to build: 1 need is missed (UV at the basking place). Mend the plan first."
    )
    build = replace(one, need="tipping", engine="build", site="")
    both = stamp_words([one, build])
    assert "2 needs are missed" in both
    assert both.endswith(" and tilt at which it tips over). Mend the plan first.")
    many = [replace(one, need="plant-light", quantity="ppfd", site=f"bed {n}") for n in range(6)]
    assert ", bed 0, " in stamp_words(many)
    assert "6 needs are missed" in stamp_words(many)
    assert "and 3 more)" in stamp_words(many)


def test_cover_and_quote_carry_the_stamp_or_none() -> None:
    habitat, money = demo()
    for said in (SAID, ""):
        section = quote_section(habitat, money, "2027-03-01", "metric", said)
        assert section is not None
        assert [b for b in section.blocks if isinstance(b, Stamp)] == (
            [Stamp(said)] if said else []
        )
        if said:
            assert section.blocks[0] == Stamp(said)
        assert (SAID in texts_of(section)) is bool(said)
        costs = costs_section(money, "metric", said)
        assert [b.text for b in costs.blocks if isinstance(b, Stamp)] == ([said] if said else [])
        made = replace(document(section), stamp=said)
        assert json.loads(source_files(made, "a4")["data.json"])["stamp"] == said
    plain, stamped = (
        typeset(replace(document(), stamp=s), "a4", "png", 20.0)[0] for s in ("", SAID)
    )
    assert plain != stamped


# -- quote ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_part_that_is_bought_is_said(system: str) -> None:
    habitat, money = demo()
    rows = dict(scope_table(habitat, money, system).rows)
    assert list(rows) == [
        "box with its doors", "background", "stand", "branches and stones", "ground and plants",
        "lamps", "air", "misting", "controls and wiring", "water", "work",
    ]  # fmt: skip
    assert "2 doors" in rows["box with its doors"]
    assert "toughened safety glass" in rows["box with its doors"]
    assert rows["stand"].endswith("tied to the wall")
    assert "2 stones" in rows["branches and stones"]
    assert "2 blushing bromeliad" in rows["ground and plants"]
    assert "7 lamps" in rows["lamps"]
    assert "3 nozzles" in rows["misting"]
    assert "2 independent cut-outs" in rows["controls and wiring"]
    told = " ".join(rows.values())
    assert (" cm" in told) is (system == "metric")


def test_a_part_that_is_not_bought_is_not_said() -> None:
    habitat, money = demo()
    kept = tuple(b for b in money.bought if b.line.group not in ("mist", "air", "background"))
    rows = dict(scope_table(habitat, replace(money, bought=kept, labour=()), "metric").rows)
    assert not {"misting", "air", "background", "work"} & set(rows)
    assert "lamps" in rows


def test_a_quote_has_its_date_and_room_for_both_sides() -> None:
    habitat, money = demo()
    section = quote_section(habitat, money, "2027-03-01", "metric")
    assert section is not None
    told = list(texts_of(section))
    for needed in ("date", "2027-03-01", "valid until", "builder", "customer"):
        assert needed in told
    prices = next(b for b in section.blocks if isinstance(b, Table) and b.title == "Price")
    assert prices.rows[-1][0] == "total"
    assert quote_section(habitat, replace(money, currency=""), "2027-03-01", "metric") is None


def test_where_prices_come_from_is_said_under_the_costs() -> None:
    _, money = demo()
    assert "Prices: invented for the example, of 2027-01-15." in quote_table(money).note
    silent = tuple(
        replace(b, packs=tuple((replace(p, source=""), n) for p, n in b.packs))
        for b in money.bought
    )
    assert "Prices:" not in quote_table(replace(money, bought=silent)).note
    assert money.quote.total > Decimal(0)


@pytest.mark.parametrize(("paper", "system"), [("a4", "metric"), ("letter", "us")])
def test_the_demo_quote_is_one_page(paper: str, system: str) -> None:
    habitat, money = demo()
    section = quote_section(habitat, money, "2027-03-01", system, SAID)
    assert section is not None
    assert len(typeset(replace(document(section), bare=True), paper, "png", 20.0)) == 1
