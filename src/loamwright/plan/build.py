"""What holds it and what feeds it, in one piece."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.ground.outlook import amounts
from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.habitat import Habitat
from loamwright.plan.board import placed
from loamwright.plan.lines import Line
from loamwright.plan.mist_line import MistLine, mist_line_of
from loamwright.plan.strength import Strength, strength_of
from loamwright.plan.wiring import Wiring, wiring_of


@dataclass(frozen=True, slots=True)
class Build:
    """The ``strength``, the ``wiring`` and the ``mist`` line (None without misting)."""

    strength: Strength
    wiring: Wiring
    mist: MistLine | None

    @property
    def lines(self) -> tuple[Line, ...]:
        """Everything to buy for them."""
        mist = self.mist.lines if self.mist is not None else ()
        return (*self.strength.lines, *self.wiring.lines, *mist)


def build_of(habitat: Habitat, amount: Quantities | None = None) -> Build:
    """Strength, wiring and misting line of a habitat; ``amount`` the ground's quantities, worked
    out where left out."""
    return Build(
        strength_of(habitat, amount or amounts(habitat)), wiring_of(placed(habitat)),
        mist_line_of(habitat),
    )  # fmt: skip
