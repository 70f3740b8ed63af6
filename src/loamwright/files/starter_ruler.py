"""Lengths of a starter file: rounded to what a builder measures, and written in their units."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

INCH = 0.0254


@dataclass(frozen=True, slots=True)
class Ruler:
    """Writes lengths in one system, ``metric`` or ``us``."""

    system: str

    @property
    def step(self) -> float:
        """What lengths are rounded to [m]."""
        return 0.25 * INCH if self.system == "us" else 0.005

    def round(self, metres: float) -> float:
        """A length to the nearest step, at least one [m]; short ones finer."""
        step = self.step if abs(metres) >= 2 * self.step else self.step / 5
        return max(1, round(metres / step)) * step

    def down(self, metres: float) -> float:
        """A length to the next step below, at least one [m]."""
        return max(1, int(metres / self.step + 1e-6)) * self.step

    def up(self, metres: float) -> float:
        """A length to the next step above, none for none [m]."""
        return math.ceil(metres / self.step - 1e-6) * self.step

    def box(self, metres: float) -> float:
        """An inside measure in whole 5 cm or 2 in [m]."""
        return max(1, round(metres / self.box_step)) * self.box_step

    @property
    def box_step(self) -> float:
        """What inside measures are rounded to [m]."""
        return 2 * INCH if self.system == "us" else 0.05

    def box_up(self, metres: float) -> float:
        """The next inside measure that is no less [m]."""
        return max(1, math.ceil(metres / self.box_step - 1e-6)) * self.box_step

    def box_down(self, metres: float) -> float:
        """The next inside measure that is no more [m]."""
        return max(1, int(metres / self.box_step + 1e-6)) * self.box_step

    def text(self, metres: float) -> str:
        """A rounded length with its unit."""
        return self.exact(self.round(metres))

    def exact(self, metres: float) -> str:
        """A length with its unit, as it is."""
        if self.system == "us":
            return f"{round(metres / INCH, 3):g} in"
        if metres < 0.02:
            return f"{round(metres * 1000, 2):g} mm"
        return f"{round(metres * 100, 3):g} cm"

    def thin(self, metres: float) -> str:
        """The thickness of a sheet or gap, in the fractions such sheets are sold in."""
        if self.system == "us":
            return {0.01: "3/8 in", 0.003: "1/8 in", 0.006: "1/4 in", 0.002: "1/16 in"}[metres]
        return f"{metres * 1000:g} mm"

    def point(self, at: Sequence[float]) -> str:
        """Two or three lengths in brackets."""
        return f"[{', '.join(self.text(c) for c in at)}]"

    def degrees(self, celsius: float) -> str:
        """A temperature with its unit."""
        if self.system == "us":
            return f"{round(celsius * 9 / 5 + 32):d} degF"
        return f"{celsius:g} degC"

    @property
    def altitude(self) -> str:
        """Sea level."""
        return "0 ft" if self.system == "us" else "0 m"
