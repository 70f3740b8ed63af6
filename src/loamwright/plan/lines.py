"""A line of what is needed: the one form in which every part of the plan says what to buy."""

from __future__ import annotations

from dataclasses import dataclass, field

UNITS = ("piece", "m", "m2", "L", "kg")
"""What amounts are counted in; L is the trade's litre of ground and water, 0.001 m3."""


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that the build needs.

    ``key`` stable name a price list may use (``lamps/led-bar-20w``, ``media/coir``); ``group`` the
    heading it stands under; ``amount`` [``unit``, one of `UNITS`] needed as built; ``waste`` share
    of ``amount`` lost in cutting, settling or spilling; ``spares`` [``unit``] kept beside it; ``why``
    where the amount comes from; ``uses`` names of the things in the habitat it is for.
    """

    key: str
    group: str
    name: str
    amount: float
    unit: str
    waste: float = 0.0
    spares: float = 0.0
    why: str = ""
    uses: tuple[str, ...] = field(default=())

    @property
    def wanted(self) -> float:
        """All that must be there: needed, lost and spare [``unit``]."""
        return self.amount * (1.0 + self.waste) + self.spares
