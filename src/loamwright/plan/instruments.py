"""What the handover is measured with, as lines of the shopping list."""

from __future__ import annotations

from collections.abc import Iterable

from loamwright.plan.handover import INSTRUMENTS, Check
from loamwright.plan.keys import slug
from loamwright.plan.lines import Line


def instrument_lines(checks: Iterable[Check]) -> list[Line]:
    """One instrument for each quantity of the handover sheet; they stay with the builder, so that no
    quote counts them."""
    places: dict[str, int] = {}
    for check in checks:
        places[check.quantity] = places.get(check.quantity, 0) + 1
    return [
        Line(f"instruments/{slug(quantity)}", "instruments", INSTRUMENTS[quantity], 1.0, "piece",
             why=f"{count} {'reading' if count == 1 else 'readings'} of the handover sheet; "
                 "if you do not own one", owned=True)
        for quantity, count in places.items()
    ]  # fmt: skip
