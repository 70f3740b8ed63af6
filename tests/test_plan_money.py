"""Lines, packs and money: exact decimals, whole packs at least cost, nothing left out in silence."""

from __future__ import annotations

import itertools
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loamwright import units
from loamwright.errors import InputError
from loamwright.files.prices_csv import UNITS, parse_prices
from loamwright.habitat.money import Money, Price
from loamwright.plan.buying import buy, cheapest
from loamwright.plan.currency import exact, rounded
from loamwright.plan.lines import UNITS as LINE_UNITS
from loamwright.plan.lines import Line, Stocked, merged
from loamwright.plan.money import plan_money
from loamwright.plan.running import Use


def price(key: str, pack: str, cost: str, unit: str = "L", line: int = 1) -> Price:
    return Price(key, key, Decimal(pack), unit, f"{pack} {unit}", Decimal(cost), line=line)


def sand(amount: float, **more: object) -> Line:
    return Line("media/sand", "ground", "sand", amount, "L", **more)  # type: ignore[arg-type]


# -- lines ---------------------------------------------------------------------------------------


def test_waste_and_spares_are_wanted_too_and_pieces_come_whole() -> None:
    assert sand(10.0, waste=0.1, spares=2.0).wanted == pytest.approx(13.0)
    screws = Line("fixings/screws", "fixings", "screws", 42.0, "piece", 0.2)
    assert screws.wanted == 51.0
    assert Line("a/b", "lamps", "a", 3.0, "piece").wanted == 3.0


def test_lines_of_one_key_become_one() -> None:
    one = sand(3.0, uses=("low",), bags=((5.0, 1),), why="a")
    two = sand(4.0, spares=1.0, uses=("high",), bags=((5.0, 1), (10.0, 1)), why="a")
    (both,) = merged([one, two])
    assert (both.amount, both.spares, both.uses) == (7.0, 1.0, ("low", "high"))
    assert both.bags == ((10.0, 1), (5.0, 2))
    assert both.why == "a"
    with pytest.raises(ValueError, match="media/sand is counted in more than one way"):
        merged([one, Line("media/sand", "ground", "sand", 1.0, "kg")])


# -- rounding ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("amount", "currency", "right"),
    [("2.345", "EUR", "2.35"), ("2.344999", "EUR", "2.34"), ("-2.345", "EUR", "-2.35"),
     ("1234.5", "JPY", "1235"), ("1234.4999", "JPY", "1234"), ("0.0005", "KWD", "0.001")],
)  # fmt: skip
def test_halves_go_away_from_zero_at_the_smallest_coin(amount, currency, right) -> None:
    assert str(rounded(Decimal(amount), currency)) == right


@given(st.decimals(min_value=0, max_value=10_000, places=2))
def test_a_wage_kept_by_the_second_is_what_was_written_by_the_hour(wage: Decimal) -> None:
    second = units.parse(f"{wage}/h", "money_per_time")
    assert exact(second * 3600.0, 6) == wage


# -- packs ---------------------------------------------------------------------------------------


def test_small_packs_fill_up_large_ones_where_that_is_cheaper() -> None:
    packs = cheapest(Decimal("85.06"), [price("c", "70", "15.90"), price("c", "20", "5.90")])
    assert [(str(p.pack), n) for p, n in packs] == [("70", 1), ("20", 1)]
    packs = cheapest(Decimal("85.06"), [price("c", "70", "9"), price("c", "20", "10")])
    assert [(str(p.pack), n) for p, n in packs] == [("70", 2)]


def test_a_rounding_error_is_no_reason_for_one_more_pack() -> None:
    assert cheapest(exact(50.000000001), [price("c", "25", "6")])[0][1] == 2
    assert cheapest(exact(50.001), [price("c", "25", "6")])[0][1] == 3


@settings(deadline=None, max_examples=60)
@given(
    st.integers(1, 400),
    st.lists(st.tuples(st.integers(1, 90), st.integers(1, 60)), min_size=1, max_size=3,
             unique_by=lambda x: x[0]),
)  # fmt: skip
def test_no_other_packs_cost_less(wanted: int, kinds: list[tuple[int, int]]) -> None:
    prices = [price("c", str(size), str(cost), line=i) for i, (size, cost) in enumerate(kinds)]
    found = cheapest(Decimal(wanted), prices)
    assert sum(p.pack * n for p, n in found) >= wanted
    paid = sum(p.price * n for p, n in found)
    counts = [range(-(-wanted // size) + 1) for size, _ in kinds]
    least = min(
        sum(n * cost for n, (_, cost) in zip(some, kinds, strict=True))
        for some in itertools.product(*counts)
        if sum(n * size for n, (size, _) in zip(some, kinds, strict=True)) >= wanted
    )
    assert paid == least


def test_a_price_in_another_unit_does_not_serve() -> None:
    (bought,) = buy([sand(10.0)], [price("media/sand", "25", "6", unit="kg")], "EUR")
    assert bought.cost is None
    assert bought.problem == "priced by kg, needed by L"


def test_ten_thousand_small_things_are_bought_at_once() -> None:
    line = Line("decomposers/x", "decomposers", "x", 9_999.0, "piece")
    kinds = [
        price("decomposers/x", str(n), str(c), "piece") for n, c in ((7, 3), (50, 19), (90, 33))
    ]
    (bought,) = buy([line], kinds, "EUR")
    assert sum(p.pack * n for p, n in bought.packs) >= 9_999


def test_sheets_are_charged_by_what_they_hold() -> None:
    """Three sheets of 2.44 x 1.22 m are 8.9304 m2, and cost that and not 9 packs of a square metre."""
    sheets = (Stocked("sheet", 3, 2.44, 1.22),)
    line = Line("panels/x", "panels", "board", 6.0, "m2", 8.9304 / 6.0 - 1.0, stock=sheets)
    metre, sheet = price("panels/x", "1", "38.50", "m2"), price("panels/x", "2.9768", "99", "m2")
    (bought,) = buy([line], [metre], "EUR")
    assert (bought.cost, bought.left) == (Decimal("343.82"), 0.0)
    # A pack that is the sheet is what is bought.
    (whole,) = buy([line], [metre, sheet], "EUR")
    assert whole.packs == ((sheet, 3),)
    assert whole.cost == Decimal("297.00")
    # What another part of the plan asks for beyond them is not free.
    more = Line("panels/x", "panels", "board", 9.9304, "m2", stock=sheets)
    assert buy([more], [metre], "EUR")[0].cost == Decimal("382.32")


def test_bars_are_bought_whole_by_their_length() -> None:
    line = Line(
        "b/x", "fixings", "batten", 5.6, "m", 9.6 / 5.6 - 1.0, stock=(Stocked("bar", 4, 2.4),)
    )
    kinds = [price("b/x", "2.4", "4.60", "m"), price("b/x", "3", "5.00", "m")]
    (bought,) = buy([line], kinds, "EUR")
    assert bought.packs == ((kinds[0], 4),)
    assert bought.cost == Decimal("18.40")


# -- the whole -----------------------------------------------------------------------------------

MONEY = Money(
    "EUR", electricity=0.30 / 3.6e6, labour=40.0 / 3600.0, margin=0.2, tax=0.19,
    price_list=(price("media/sand", "25", "6.20"), price("water/tap", "1000", "4.80"),
                price("lamps/x", "1", "9.99", "piece")),
)  # fmt: skip


def test_a_quote_worked_out_by_hand() -> None:
    lines = [sand(30.0), Line("lamps/x", "lamps", "x", 1.0, "piece", spares=1.0)]
    plan = plan_money(MONEY, lines, [("cut", 90), ("wait", 0)], [])
    # Sand 2 x 6.20, lamps 2 x 9.99; an hour and a half at 40.00; a fifth on top; 19 % of that.
    q = plan.quote
    assert [str(x) for x in (q.materials, q.labour, q.cost)] == ["32.38", "60.00", "92.38"]
    assert [str(x) for x in (q.margin, q.net, q.tax, q.total)] == [
        "18.48", "110.86", "21.06", "131.92",
    ]  # fmt: skip
    assert plan.complete
    assert [x.task for x in plan.labour] == ["cut"]


def test_what_has_no_price_is_named_and_not_counted_as_nothing() -> None:
    lines = [sand(30.0), Line("lamps/y", "lamps", "y", 1.0, "piece")]
    plan = plan_money(MONEY, lines, [], [])
    assert plan.missing == ("lamps/y",)
    assert not plan.complete
    assert plan.bought[1].cost is None
    nobody = plan_money(None, lines, [("cut", 60)], [])
    assert nobody.missing == ("media/sand", "lamps/y", "labour")
    assert nobody.labour[0].cost is None


def test_what_stays_with_the_builder_is_in_no_sum() -> None:
    owned = Line("lamps/x", "instruments", "meter", 1.0, "piece", owned=True)
    bare = Line("instruments/y", "instruments", "meter", 1.0, "piece", owned=True)
    plan = plan_money(MONEY, [sand(20.0), owned, bare], [], [])
    assert [b.cost for b in plan.bought] == [Decimal("6.20"), Decimal("9.99"), None]
    assert plan.quote.materials == Decimal("6.20")
    assert plan.complete


def test_a_year_is_priced_by_use() -> None:
    year = [
        Use("electricity", "electricity", 1000.0, "kWh", ""),
        Use("water/tap", "water", 620.5, "L", ""), Use("lamps/x", "x", 1.825, "piece", ""),
        Use("lamps/y", "y", 0.5, "piece", ""), Use("litter/oak", "oak", None, "kg", ""),
        Use("decomposers/z", "z", 0.0, "piece", ""),
    ]  # fmt: skip
    plan = plan_money(MONEY, [], [], year)
    costs = [None if r.cost is None else str(r.cost) for r in plan.running]
    assert costs == ["300.00", "2.98", "18.23", None, None, "0.00"]
    assert str(plan.year) == "321.21"
    assert plan.missing_year == ("lamps/y", "litter/oak")


def test_yen_have_no_parts() -> None:
    money = Money("JPY", labour=2500.0 / 3600.0, price_list=(price("media/sand", "25", "850"),))
    plan = plan_money(money, [sand(30.0)], [("cut", 50)], [])
    assert [str(x) for x in (plan.quote.materials, plan.quote.labour)] == ["1700", "2083"]


# -- the list ------------------------------------------------------------------------------------


def test_units_of_packs_are_those_of_the_program() -> None:
    kinds = {"m": "length", "m2": "area", "L": "volume", "kg": "mass"}
    for name, (line, size) in UNITS.items():
        assert line in LINE_UNITS
        if line != "piece":
            written = {"m²": "m2", "l": "L"}.get(name, name)
            si = units.parse(f"1 {written}", kinds[line])
            assert float(size) == pytest.approx(si * (1000.0 if line == "L" else 1.0), rel=1e-10)


def test_a_list_in_any_order_and_units() -> None:
    text = "unit;price;note;pack;key\nft3;12.90;x;2;media/coir\npiece;0;;50;fixings/screws\n"
    coir, screws = parse_prices(text, "p.csv", "USD")
    assert (coir.unit, coir.told, float(coir.pack)) == ("L", "2 ft3", pytest.approx(56.633693184))
    assert (screws.told, screws.price) == ("50", Decimal(0))


def test_too_long_a_list_is_refused() -> None:
    rows = "".join(f"media/x{i},1,L,1\n" for i in range(10_001))
    with pytest.raises(InputError, match="holds more than 10000 rows"):
        parse_prices("key,pack,unit,price\n" + rows, "p.csv", "EUR")


def test_the_example_prices_are_invented_and_say_so() -> None:
    folder = Path(__file__).parent.parent / "src/loamwright/data/examples"
    prices = parse_prices((folder / "forest-edge-prices.csv").read_text("utf-8"), "p.csv", "EUR")
    assert {p.source for p in prices} == {"invented for the example"}
