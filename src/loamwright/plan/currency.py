"""Money as exact decimals: a currency's smallest unit, and how amounts are rounded to it."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

MINOR_UNITS: dict[str, int] = {
    **dict.fromkeys(
        ("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND",
         "VUV", "XAF", "XOF", "XPF"),
        0,
    ),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
    "CLF": 4, "UYW": 4,
}  # fmt: skip
"""Decimal digits of currencies that do not have two: ISO 4217, list one (as restated in the digits
table of an open-source browser's script engine, 2025; XOF, XPF from memory)."""

USUAL = 2
"""Decimal digits of every other currency."""


def digits(currency: str) -> int:
    """Decimal digits of a currency's smallest unit."""
    return MINOR_UNITS.get(currency, USUAL)


def rounded(amount: Decimal, currency: str) -> Decimal:
    """An amount to the currency's smallest unit, halves away from zero, as a till does.

    Each line of a bill is rounded once, and sums are of rounded lines, so that the lines shown add up
    to the sum shown.
    """
    return amount.quantize(Decimal(1).scaleb(-digits(currency)), rounding=ROUND_HALF_UP)


def exact(value: float, places: int = 9) -> Decimal:
    """A binary number [any unit] as the decimal a person wrote, to so many places: what was read as
    42/h and kept by the second is 42 again by the hour."""
    return Decimal(repr(value)).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
