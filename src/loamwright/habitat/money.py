"""What things cost, in the builder's own numbers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Money:
    """``currency`` three letters; ``electricity`` [currency/J] and ``labour`` [currency/s], None
    where not said; ``margin`` share added on top of the costs; ``prices`` path of a price list
    within the project's folder, empty where there is none."""

    currency: str
    electricity: float | None = None
    labour: float | None = None
    margin: float = 0.0
    prices: str = ""
