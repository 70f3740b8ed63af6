# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong price lists, taxes and workshops."""

from __future__ import annotations

from bad_case import METRIC, Case, case

HEAD = "key,pack,unit,price,currency\n"


def listed(name: str, text: str, *told: tuple[str, str], more: str = "") -> Case:
    """A wrong price list beside a right habitat file."""
    money = METRIC + "money: {currency: EUR, prices: prices.csv}\n" + more
    return case(name, money, *told, beside={"prices.csv": text})


def build(text: str) -> str:
    return METRIC + "build: " + text + "\n"


# fmt: off
CASES = [
    case("an empty price list", METRIC + "money: {currency: EUR, prices: ▸prices.csv}\n", ("money.prices", "is empty; the first line names the columns: key, name, pack"), beside={"prices.csv": "\n"}),
    listed("a price list without prices", "▸key,pack,unit\nmedia/sand,25,L\n", ("price", "no column is 'price'; .* names 'key', 'pack', 'unit'")),
    listed("a price list with two columns of prices", "▸key,pack,unit,price,price\n", ("price", "2 columns are named 'price'; keep one")),
    listed("a missing price", HEAD + "▸media/sand,25,L,,EUR\n", ("media/sand.price", "there is no price; give one, or leave the row out")),
    listed("a negative price", HEAD + "▸media/sand,25,L,-6.20,EUR\n", ("media/sand.price", "-6.20 is negative; a price is 0 or more")),
    listed("a price in words", HEAD + "▸media/sand,25,L,cheap,EUR\n", ("media/sand.price", "'cheap' is not a number")),
    listed("a price with a comma", "key;pack;unit;price\n▸media/sand;25;L;6,20\n", ("media/sand.price", "'6,20' is not a number; write 6.20, with a point")),
    listed("a price without end", HEAD + "▸media/sand,25,L,inf,EUR\n", ("media/sand.price", "'inf' is not a number")),
    listed("a price beyond sense", HEAD + "▸media/sand,25,L,99999999999,EUR\n", ("media/sand.price", "too large to be meant")),
    listed("a pack in buckets", HEAD + "▸media/sand,25,bucket,6.20,EUR\n", ("media/sand.unit", "'bucket' is no unit of a pack")),
    listed("a pack without unit", HEAD + "▸media/sand,25,,6.20,EUR\n", ("media/sand.unit", "'' is no unit of a pack; piece, m, m2, L and kg")),
    listed("a pack of nothing", HEAD + "▸media/sand,0,L,6.20,EUR\n", ("media/sand.pack", "0 must be more than 0")),
    listed("a price of no pack", HEAD + "▸media/sand,,L,6.20,EUR\n", ("media/sand.pack", "there is no pack; give one")),
    listed("two currencies", HEAD + "media/sand,25,L,6.20,EUR\n▸media/coir,50,L,9,USD\n", ("media/coir.currency", "is in USD, but the habitat file counts in EUR; one list has one currency")),
    listed("a pack priced twice", HEAD + "media/sand,25,L,6.20,EUR\n▸media/sand,25,L,5.90,EUR\n", ("media/sand", "this pack has a price already, in line 2; keep one")),
    listed("a pack priced twice in other units", HEAD + "media/sand,25,L,6.20,EUR\n▸media/sand,25000,mL,5.90,EUR\n", ("media/sand", "a price already, in line 2")),
    listed("a price of nothing", HEAD + "▸,25,L,6.20,EUR\n", ("key", "nothing is no key; write it as the shopping list does")),
    listed("a key in words", HEAD + "▸Washed Sand,25,L,6.20,EUR\n", ("key", "'Washed Sand' is no key")),
    listed("a short row of a price list", HEAD + "▸media/sand,25,L\n", ("row", "has 3 columns; the first line names 5")),
    listed("an open quote in a price list", HEAD + "▸\"media/sand,25,L,6,EUR\n", ("row", "cannot be read as CSV")),
    listed("all wrong in a price list", HEAD + "▸media/sand,25,L,,EUR\n▸media/coir,x,L,4,EUR\n", ("media/sand.price", "no price"), ("media/coir.pack", "'x' is not a number")),
    case("habitat and price list both wrong", METRIC + "purpose: ▸zoo\nmoney: {currency: EUR, prices: prices.csv}\n", ("purpose", "zoo"), ("media/sand.price", "no price"), beside={"prices.csv": HEAD + "▸media/sand,25,L,,EUR\n"}),
    case("a tax without sign", METRIC + "money: {currency: EUR, tax: ▸19}\n", ("money.tax", "%")),
    case("a tax below nothing", METRIC + "money: {currency: EUR, tax: ▸-19 %}\n", ("money.tax", "negative|between")),
    # who builds, and when
    case("a start that is no day", build("{start: ▸2027-02-30}"), ("build.start", "'2027-02-30' is no day; write year, month and day, such as 2027-03-01")),
    case("a start by another order", build("{start: ▸1.3.2027}"), ("build.start", "is no day")),
    case("a start in a week", build("{start: ▸2027-W09-1}"), ("build.start", "is no day")),
    case("a start in a number", build("{start: ▸20270301}"), ("build.start", "is no day")),
    case("nobody builds", build("{people: ▸0}"), ("build.people", "1")),
    case("a day of minutes", build("{hours: ▸5 min}"), ("build.hours", "must lie between 15 min and 24 h|between")),
    case("a day without unit", build("{hours: ▸6}"), ("build.hours", "no unit")),
    case("a week without work", build("{start: 2027-03-01, closed: ▸[monday, tuesday, wednesday, thursday, friday, saturday, sunday]}"), ("build.closed", "at most 6")),
    case("a day of no week", build("{start: 2027-03-01, closed: [▸funday]}"), ("build.closed[0]", "'funday' is not known; the nearest known is 'sunday'")),
    case("closed days without a start", build("{closed: ▸[sunday]}"), ("build.closed", "needs a start")),
    case("goods that never come", build("{delivery: ▸-3 d}"), ("build.delivery", "negative")),
    case("a workshop in one text", build("▸two people"), ("build", "must be keys with values")),
    case("work on a task nobody knows", build("{work: {cutt: ▸5 h}}"), ("build.work.cutt", "there is no task 'cutt'; the nearest known is 'cut'")),
    case("work without an hour", build("{work: {cut: ▸5}}"), ("build.work.cut", "no unit")),
    case("a wait in metres", build("{waits: {cure: ▸5 m}}"), ("build.waits.cure", "time|unit")),
    case("an unknown key of the workshop", build("{▸peple: 2}"), ("build.peple", "nearest known is 'people'")),
]
# fmt: on
