"""What is cut from bars of stock length: which pieces come out of which bar.

A few pieces are laid out exactly, by every way of sharing them; many by taking the longest first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.plan.cut_parts import PartToCut

MOST = 10
"""Most pieces that are solved exactly; the work grows as three to their number."""

KERF = 0.003
"""Width of a saw's cut [m]; common practice."""

USUAL, USUAL_US = (2.4,), (2.4384,)
"""Lengths in which battens are sold [m]: 2.4 m, and 8 ft; common practice."""

TUBE, TUBE_US = (1.0, 2.0, 3.0), (1.2192, 1.8288, 2.4384)
"""Lengths in which aluminium tube is sold [m]: 1 to 3 m, and 4 to 8 ft; common practice."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: ``key`` and ``label`` in the list, its ``length`` [m], the ``pieces`` cut from it in
    order, and the ``kerf`` [m] between them."""

    key: str
    label: str
    length: float
    pieces: tuple[PartToCut, ...]
    kerf: float = KERF

    @property
    def rest(self) -> float:
        """What is left of it [m]."""
        used = sum(p.height for p in self.pieces) + self.kerf * len(self.pieces)
        return max(0.0, self.length - used)


def fits(lengths: Sequence[float], bar: float, kerf: float = KERF) -> bool:
    """Whether lengths come out of one bar [m]; the last cut may run out over its end."""
    return sum(lengths) + kerf * max(0, len(lengths) - 1) <= bar + 1e-9


def cut_bars(
    lengths: Sequence[float], stocks: Sequence[tuple[float, float]], kerf: float = KERF
) -> list[tuple[int, tuple[int, ...]]]:
    """The bars for all pieces at least cost: of each the number of its stock and of its pieces.

    Parameters
    ----------
    lengths : sequence of float
        Pieces to cut [m].
    stocks : sequence of (length, cost)
        Bars there are [m], each as often as wanted, and what one costs [any unit].

    Raises
    ------
    ValueError
        If a piece is longer than every bar.
    """
    if any(not fits([x], max(s[0] for s in stocks), kerf) for x in lengths):
        raise ValueError("a piece is longer than every bar")
    return _exact(lengths, stocks, kerf) if len(lengths) <= MOST else _many(lengths, stocks, kerf)


def _cheapest(
    inside: Sequence[float], stocks: Sequence[tuple[float, float]], kerf: float
) -> tuple[float, int] | None:
    """Cost and number of the cheapest bar that holds lengths; of equals the shorter."""
    found = [(cost, long, n) for n, (long, cost) in enumerate(stocks) if fits(inside, long, kerf)]
    if not found:
        return None
    cost, _, number = min(found)
    return cost, number


def _exact(
    lengths: Sequence[float], stocks: Sequence[tuple[float, float]], kerf: float
) -> list[tuple[int, tuple[int, ...]]]:
    whole = (1 << len(lengths)) - 1
    members = [[n for n in range(len(lengths)) if part >> n & 1] for part in range(whole + 1)]
    one = [_cheapest([lengths[n] for n in m], stocks, kerf) if m else None for m in members]
    best: list[tuple[float, int, int]] = [(0.0, 0, 0)]
    for have in range(1, whole + 1):
        lowest, part = have & -have, have
        chosen = (float("inf"), 0, 0)
        while part:
            # Of all bars the one that holds the first piece, so that each choice is met once.
            bar = one[part] if part & lowest else None
            if bar is not None:
                rest = best[have ^ part]
                chosen = min(chosen, (bar[0] + rest[0], rest[1] + 1, part))
            part = (part - 1) & have
        best.append(chosen)
    out, left = [], whole
    while left:
        part = best[left][2]
        bar = one[part]
        assert bar is not None
        out.append((bar[1], tuple(members[part])))
        left ^= part
    return out


def _many(
    lengths: Sequence[float], stocks: Sequence[tuple[float, float]], kerf: float
) -> list[tuple[int, tuple[int, ...]]]:
    """The longest piece first, each into the fullest bar that still holds it; then each bar becomes the
    cheapest that holds its pieces."""
    longest = max(s[0] for s in stocks)
    bars: list[list[int]] = []
    for n in sorted(range(len(lengths)), key=lambda k: (-lengths[k], k)):
        room = [b for b in bars if fits([lengths[k] for k in (*b, n)], longest, kerf)]
        if room:
            max(room, key=lambda b: sum(lengths[k] for k in b)).append(n)
        else:
            bars.append([n])
    out = []
    for bar in bars:
        found = _cheapest([lengths[n] for n in bar], stocks, kerf)
        assert found is not None
        out.append((found[1], tuple(bar)))
    return out
