"""What things cost: from what the file says to numbers in SI."""

from __future__ import annotations

from pathlib import Path

from loamwright.errors import InputError
from loamwright.files.build_context import Build
from loamwright.files.paths import inside
from loamwright.files.prices_csv import read_prices
from loamwright.files.schema_money import MoneyPart
from loamwright.habitat.money import Money, Price


def build_money(build: Build, part: MoneyPart | None, folder: Path) -> Money | None:
    """The builder's prices; a price list must be a CSV file inside the project's folder."""
    if part is None:
        return None
    if part.margin is None:
        build.default("money.margin", build.show(0.0, "share"), "nothing is said")
    listed: tuple[Price, ...] = ()
    loc = ("money", "prices")
    if part.prices is not None:
        if not part.prices.lower().endswith(".csv"):
            build.say(loc, f"{part.prices!r} must be a CSV file, such as prices.csv")
        else:
            try:
                listed = read_prices(inside(folder, part.prices), part.currency)
            except InputError as error:
                build.pass_on(loc, error)
    return Money(
        part.currency,
        None if part.electricity is None else float(part.electricity),
        None if part.labour is None else float(part.labour),
        float(part.margin or 0.0),
        part.prices or "",
        None if part.tax is None else float(part.tax),
        listed,
    )
