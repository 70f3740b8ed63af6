"""The plan as tables, CSV, calendar, chart and codes: what is told, and the same bytes every time."""

from __future__ import annotations

import csv
import io
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import icalendar
import pytest

from climate_sample import climate_habitat, run
from loamwright.engine.ground.outlook import amounts
from loamwright.habitat.money import Money, Price
from loamwright.habitat.workshop import Workshop
from loamwright.plan.handover import handover_checks
from loamwright.plan.lines import Line, Stocked
from loamwright.plan.money import MoneyPlan, plan_money
from loamwright.plan.order import OrderOfWork, order_of_work
from loamwright.plan.quantities import shopping_list
from loamwright.plan.running import Use, _lit_words, lit_hours, weights, year_of
from loamwright.report.calendar_ics import order_ics
from loamwright.report.codes import codes
from loamwright.report.money_words import (
    amount,
    in_system,
    minutes,
    money,
    needed,
    stock_words,
    thing,
)
from loamwright.report.order_chart import order_chart
from loamwright.report.plan_blocks import (
    chain_words,
    handover_tables,
    money_tables,
    order_tables,
    quote_table,
    shopping_table,
    shopping_tables,
    why_table,
)
from loamwright.report.plan_out import handover_csv, order_csv, running_csv, shopping_csv
from loamwright.report.terminal import console, print_tables
from loamwright.workflow import read

EXAMPLE = Path(__file__).parent.parent / "src/loamwright/data/examples/forest-edge.yaml"
START = date(2027, 3, 1)
STAMP = datetime(2027, 1, 15, 8, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def order() -> OrderOfWork:
    shop = Workshop("2027-03-01", 0, closed=(5, 6))
    return order_of_work(replace(climate_habitat(), workshop=shop), 30, 200.0)


@pytest.fixture(scope="module")
def plan(order) -> MoneyPlan:
    made = climate_habitat()
    sand = Line("media/sand", "ground", "=1+1 sand", 30.0, "L", why="made up", uses=("mix",))
    price = Price(
        "media/sand", "sand", Decimal(25), "L", "25 L", Decimal("6.20"), "me", "2027-01-15"
    )
    prices = Money("EUR", 0.36 / 3.6e6, 40.0 / 3600.0, 0.2, "prices.csv", 0.19, (price,))
    year = year_of(made, {"winter": run(made)})
    real = read(EXAMPLE)
    listed = [x for x in shopping_list(real, amounts(real)) if x.key != "media/sand"]
    return plan_money(prices, [sand, *listed], order.labour, year)


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


# -- a year --------------------------------------------------------------------------------------


def test_a_year_is_its_days(plan) -> None:
    made = climate_habitat()
    one, two = run(made), run(made, "summer", energy={"all": 7.2e6})
    year = {u.key: u for u in year_of(made, {"winter": one, "summer": two})}
    assert year["electricity"].amount == pytest.approx(
        365 * 0.5 * (one.electricity + 7.2e6) / 3.6e6
    )
    bowls = sum(1e3 * b.size[0] * b.size[1] * b.depth for b in made.water)
    assert year["water/tap"].amount == pytest.approx(365 * (0.2 + bowls))
    # Lamps of the made-up day are lit for ten hours; a type without a life is not known.
    assert lit_hours(one, 0) == pytest.approx(10.0, abs=0.2)
    for key, use in year.items():
        if key.startswith("lamps/"):
            lamps = [x for x in made.lamps if f"lamps/{x.type.key}" == key]
            life = lamps[0].type.life
            if life is None:
                assert use.amount is None
            else:
                assert use.amount == pytest.approx(365 * 10.0 * len(lamps) / life, rel=0.02)
    assert sum(weights(["winter", "middle", "summer"]).values()) == 1.0
    assert weights(["winter"]) == {"winter": 1.0}


def test_without_days_nothing_is_made_up() -> None:
    year = {u.key: u.amount for u in year_of(climate_habitat(), {})}
    assert year["electricity"] is None
    assert year["water/tap"] is None


# -- words ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "unit", "metric", "us"),
    [(3.0, "piece", "3", "3"), (0.83, "piece", "0.83", "0.83"), (1.114, "m", "111.4 cm", "43 7/8 in"),
     (7.209, "m2", "7.21 m²", "77.6 sq ft"), (85.06, "L", "85.1 L", "77.2 dry qt"),
     (1.303, "kg", "1.3 kg", "2.87 lb"), (1396.2, "kWh", "1,396 kWh", "1,396 kWh")],
)  # fmt: skip
def test_amounts_in_both_systems(value, unit, metric, us) -> None:
    assert amount(value, unit, "metric") == metric
    assert amount(value, unit, "us") == us


@pytest.mark.parametrize(
    ("text", "us"),
    [("contact probe, ±1 K", "contact probe, ±2 °F"), ("±0.5 K", "±0.9 °F"),
     ("float glass, 5 mm", "float glass, 3/16 in"), ("bench, rated 400 kg", "bench, rated 882 lb"),
     ("water bowl, 16 x 16 x 3 cm", "water bowl, 6 5/16 x 6 5/16 x 1 3/16 in"),
     ("water tank, 25 L, with lid", "water tank, 6.6 gal, with lid"), ("lit 3650 h", "lit 3650 h"),
     ("stainless screws, 4.5 x 50 mm", "stainless screws, no. 10 x 2 in"),
     ("7 m²", "7 m²"), ("10 % lost in cutting", "10 % lost in cutting")],
)  # fmt: skip
def test_sizes_in_names_follow_the_system(text, us) -> None:
    assert in_system(text, "us") == us
    assert in_system(text, "metric") == text
    lamp = Line("fans/x", "air", "fan, 92 mm", 1.0, "piece")
    assert thing(lamp, "us") == "fan, 92 mm"
    sealant = Line("fixings/silicone", "fixings", "sealant", 0.55, "L")
    assert (needed(sealant, "metric"), needed(sealant, "us")) == ("0.55 L", "18.6 fl oz")


def test_what_is_bought_whole_is_told_as_that() -> None:
    sheets = (Stocked("sheet", 2, 2.44, 1.22), Stocked("sheet", 1, 3.05, 1.56))
    assert stock_words(sheets, "metric") == "2 sheets of 2.44 × 1.22 m + 1 sheet of 3.05 × 1.56 m"
    assert stock_words(sheets[:1], "us") == "2 sheets of 96 1/16 in × 48 1/16 in"
    assert stock_words((Stocked("bar", 4, 2.4),), "metric") == "4 bars of 240 cm"
    assert stock_words((Stocked("roll", 1, 1.53, 1.0),), "metric") == "153 cm of roll, 100 cm wide"
    panes = (Stocked("pane", 1, 1.5, 0.3), Stocked("pane", 1, 0.8, 1.1))
    assert stock_words(panes, "metric") == "2 panes to size"


def test_money_and_time_in_words() -> None:
    assert money(Decimal("1234.5"), "EUR") == "1,234.50"
    assert money(Decimal("1234.5"), "JPY") == "1,235"
    assert money(None, "EUR") == "no price"
    assert [minutes(x) for x in (45, 60, 150, 605)] == ["45 min", "1 h", "2 h 30", "10 h 05"]


# -- tables --------------------------------------------------------------------------------------


def test_what_lacks_a_price_is_said_beside_every_sum(plan) -> None:
    table = quote_table(plan)
    assert table.rows[-1][0] == "total, NOT COMPLETE"
    assert "What has no price is not in the sum." in table.note
    assert "no price for" in shopping_table(plan).note
    prices = [row[-1] for row in shopping_table(plan).rows]
    assert prices.count("no price") == len(plan.missing)
    assert "0.00" not in prices
    whole = plan_money(replace(Money("EUR"), labour=0.01), [], [], [])
    assert quote_table(whole).rows[-1] == ("total before tax: the file names no tax", "0.00")


def test_the_list_by_headings_is_the_whole_list(plan) -> None:
    whole = [row[1:] for row in shopping_table(plan).rows]
    parted = [row for table in shopping_tables(plan) for row in table.rows]
    assert sorted(whole) == sorted(parted)
    assert len(why_table(plan).rows) == len(whole)


def test_names_with_commas_can_be_told_apart_and_no_reason_is_cut(plan) -> None:
    long = "; ".join(f"reason {n} of as many as there are" for n in range(60))
    bars = replace(plan.bought[0].line, why=long, uses=("frame, front", "frame, back"))
    more = replace(plan, bought=(replace(plan.bought[0], line=bars, problem=""), *plan.bought[1:]))
    _, why, uses = why_table(more).rows[0]
    assert uses == "frame, front; frame, back"
    assert why == long
    plain = replace(bars, uses=("left", "right", "back"))
    more = replace(plan, bought=(replace(plan.bought[0], line=plain), *plan.bought[1:]))
    assert why_table(more).rows[0][2] == "left, right and back"


def test_why_animals_may_not_enter_earlier(order) -> None:
    words = chain_words(order, START)
    assert words[-1].endswith("the animals may enter.")
    assert len(words) == len(order.chain)
    day = START + timedelta(days=order.enter)
    titles = [t.title for t in order_tables(order, START)]
    assert any(day.isoformat() in t for t in titles)
    assert "day 1" in order_tables(order)[0].rows[0][1]


@pytest.mark.parametrize("system", ["metric", "us"])
def test_tables_fit_a_terminal(plan, order, system) -> None:
    made = climate_habitat()
    checks = handover_checks(made, {"winter": run(made)}, None, [])
    out = io.StringIO()
    tables = [shopping_table(plan, system), *money_tables(plan, system), *order_tables(order, START),
              *handover_tables(checks, None, system)]  # fmt: skip
    print_tables(tables, console(out, width=100))
    assert max(len(line) for line in out.getvalue().splitlines()) <= 100
    assert ("°F" in out.getvalue()) is (system == "us" and bool(checks))


# -- files ---------------------------------------------------------------------------------------


def test_a_shopping_list_as_csv(plan) -> None:
    rows = rows_of(shopping_csv(plan))
    sand = rows[0]
    assert (sand["key"], sand["packs"], sand["cost"], sand["currency"]) == (
        "media/sand", "2", "12.40", "EUR",
    )  # fmt: skip
    assert sand["name"] == "'=1+1 sand"
    assert all(r["cost"] == "" for r in rows[1:])
    total = sum(Decimal(r["cost"]) for r in rows if r["cost"])
    assert total == plan.quote.materials
    assert {r["key"] for r in rows_of(running_csv(plan))} == {u.use.key for u in plan.running}


def test_lists_for_the_machine_follow_the_system(plan) -> None:
    here, there = (rows_of(shopping_csv(plan, s)) for s in ("metric", "us"))
    assert [r["key"] for r in here] == [r["key"] for r in there]
    assert (there[0]["unit"], there[0]["cost"]) == ("qt_dry", here[0]["cost"])
    for old, new in zip(here, there, strict=True):
        assert new["unit"] in ("piece", "qt_dry", "gal_us", "ft", "ft2", "lb")
        # One pack holds the same share of what is wanted.
        if old["pack"]:
            share = float(old["pack"]) / float(old["wanted"])
            assert float(new["pack"]) / float(new["wanted"]) == pytest.approx(share, rel=1e-4)
    sand = here[0]
    assert float(there[0]["amount"]) == pytest.approx(float(sand["amount"]) / 1.101221, rel=1e-4)
    water = Use("water/tap", "water", 100.0, "L", "bowls, fresh every day 100 L")
    wet = replace(plan, running=(replace(plan.running[0], use=water),))
    (row,) = rows_of(running_csv(wet, "us"))
    assert (row["unit"], float(row["amount"])) == ("gal_us", pytest.approx(26.4172, rel=1e-4))
    assert row["why"] == "bowls, fresh every day 26.4 gal"
    assert rows_of(running_csv(wet))[0]["why"] == water.why


def test_hours_of_several_lamps_are_told_of_each() -> None:
    assert _lit_words([8760.0]) == "lit 8760 h a year"
    assert _lit_words([4380.0, 4380.0]) == "lit 4380 h a year each"
    assert _lit_words([8760.0, 4380.0]) == "lit 4380 to 8760 h a year each"


def test_the_order_as_csv(order) -> None:
    rows = rows_of(order_csv(order, START))
    assert [r["task"] for r in rows] == [s.task.key for s in order.steps]
    for r in rows:
        assert date.fromisoformat(r["first_date"]) == START + timedelta(days=int(r["first_day"]))
    assert rows_of(order_csv(order))[0]["first_date"] == ""


def test_the_handover_as_csv_reads_back() -> None:
    made = climate_habitat()
    probe = replace(made.sites[0], name="probe", role="probe")
    made = replace(made, sites=(*made.sites, probe))
    checks = handover_checks(made, {"winter": run(made)}, None, [])
    rows = rows_of(handover_csv(checks))
    air = [r for r in rows if r["quantity"] == "air_temperature" and r["when"] == "hourly 12:00"]
    assert [r["place"] for r in air] == ["the room", "probe"]
    for row, check in zip(air, (c for c in checks if c.quantity == "air_temperature"), strict=True):
        noon = check.value("winter", 12) - 273.15
        assert float(row["expected"]) == pytest.approx(noon, abs=1e-3)
        assert row["id"] == check.name
    assert len([r for r in rows if r["when"].startswith("hourly")]) == 24 * len(checks)


def test_a_calendar_reads_back_and_is_the_same_every_time(order) -> None:
    made = order_ics(order, "Forest edge", START, STAMP)
    assert made == order_ics(order, "Forest edge", START, STAMP)
    events = {str(e["uid"]): e for e in icalendar.Calendar.from_ical(made).walk("VEVENT")}
    assert len(events) == len(order.steps)
    enter = next(e for e in events.values() if str(e["summary"]).startswith("Animals in"))
    assert enter["dtstart"].dt == START + timedelta(days=order.enter)
    assert "Why not earlier" in str(enter["description"])
    for e in events.values():
        assert e["dtend"].dt > e["dtstart"].dt
        assert e["dtstamp"].dt == STAMP
    # Events keep their names when the build begins later, so that a calendar moves them.
    later = icalendar.Calendar.from_ical(order_ics(order, "Forest edge", date(2027, 5, 3), STAMP))
    assert {str(e["uid"]) for e in later.walk("VEVENT")} == set(events)
    with pytest.raises(ValueError, match="needs a time zone"):
        order_ics(order, "x", START, STAMP.replace(tzinfo=None))


def test_a_chart_names_every_task_and_is_the_same_every_time(order) -> None:
    made = order_chart(order, START)
    assert made == order_chart(order, START)
    assert ET.fromstring(made).tag.endswith("svg")
    assert order_chart(order, None, "png")[:8] == b"\x89PNG\r\n\x1a\n"


def test_codes_are_plain_svg_and_the_same_every_time() -> None:
    made = climate_habitat()
    probe = replace(made.sites[0], name="probe", role="probe")
    checks = handover_checks(
        replace(made, sites=(probe,)), {"winter": run(replace(made, sites=(probe,)))}, None, []
    )
    found = codes(checks)
    assert set(found) == {c.name for c in checks}
    assert len(set(found.values())) == len(found) == 4
    for svg in found.values():
        assert ET.fromstring(svg).tag.endswith("svg")
    assert found == codes(checks)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_without_a_currency_no_sum_is_told(plan, system: str) -> None:
    """A quote of nothing would read 0.00: there is none, and no column of missing prices."""
    lines = [b.line for b in plan.bought]
    plan = plan_money(None, lines, [], [r.use for r in plan.running])
    assert not plan.currency
    tables = [*shopping_tables(plan, system), *money_tables(plan, system)]
    assert [t.title for t in tables if t.title == "Quote"] == []
    assert tables[0].note.endswith("No prices: the habitat file names no currency.")
    for table in tables:
        assert not any(head.startswith("cost") for head in table.columns)
        assert all(len(row) == len(table.columns) for row in table.rows)
        assert not any("no price" in x or x == "0.00" for row in table.rows for x in row)


def test_cable_is_told_in_feet_and_wood_in_inches() -> None:
    cable = Line("wiring/cable", "wiring", "mains cable", 1.575, "m", why="made up", uses=())
    branch = Line("pieces/branch", "hardscape", "branch", 1.575, "m", why="made up", uses=())
    assert (needed(cable, "us"), needed(branch, "us")) == ("5.2 ft", "62 in")
    assert needed(cable, "metric") == needed(branch, "metric") == "157.5 cm"
