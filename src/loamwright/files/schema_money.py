"""What things cost, as written in the file."""

from __future__ import annotations

from pydantic import Field

from loamwright.files.schema_values import Currency, EnergyPrice, FileName, Margin, Part, Wage


class MoneyPart(Part):
    """The builder's own prices, all in one currency."""

    currency: Currency = Field(description="Three capital letters, such as EUR.")
    electricity: EnergyPrice | None = Field(
        None, description="Price of electricity; left out: not known."
    )
    labour: Wage | None = Field(
        None, description="What an hour of work is charged at; left out: not known."
    )
    margin: Margin | None = Field(
        None, description="What is added on top of the costs; left out: nothing."
    )
    tax: Margin | None = Field(
        None,
        description="Tax added to what is quoted; left out: the quote is before tax. Prices of the "
        "list are without it.",
    )
    prices: FileName | None = Field(
        None,
        description="A price list (CSV) in the habitat file's folder or below it, with the columns "
        "key, name, pack, unit, price, currency, source, date; left out: none.",
    )
