"""What things cost, in the builder's own numbers."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """One row of a price list: a pack of the thing called ``key`` costs ``price`` [currency].

    ``pack`` how much is in it [``unit``, one of `plan.lines.UNITS`] and ``told`` the pack as the list
    writes it; ``source`` where the price comes from and ``date`` of what day it is, in the list's
    words; ``line`` of the list it stands in.
    """

    key: str
    name: str
    pack: Decimal
    unit: str
    told: str
    price: Decimal
    source: str = ""
    date: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class Money:
    """``currency`` three letters; ``electricity`` [currency/J] and ``labour`` [currency/s], None
    where not said; ``margin`` share added on top of the costs; ``prices`` path of a price list
    within the project's folder, empty where there is none, and ``price_list`` what it says;
    ``tax`` share added to what is quoted, None where not said."""

    currency: str
    electricity: float | None = None
    labour: float | None = None
    margin: float = 0.0
    prices: str = ""
    tax: float | None = None
    price_list: tuple[Price, ...] = ()
