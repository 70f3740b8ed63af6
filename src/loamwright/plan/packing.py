"""Rectangles cut from sheets or a roll by cuts from edge to edge, with as little bought as can be.

Many orders and rules fill sheets one after the other; the best of all the sheets met on the way are
then put together by a set-covering program (the idea: M. Monaci and P. Toth, "A set-covering-based
heuristic approach for bin-packing problems", INFORMS Journal on Computing 18 (2006), 71-85). It ends
when the lower bound of `packing_bounds` is reached, or after a fixed number of tries; a few items are
solved exactly (`exact_cutting`), which is then the bound. The same input and generator give the same
sheets.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from loamwright.plan.exact_cutting import MOST, exact_sheets
from loamwright.plan.filling import RULES, Rule, fill
from loamwright.plan.packing_bounds import area_bound, length_bound
from loamwright.plan.rectangles import Bin, Item, Pattern, Spot

TRIES = 600
"""Random orders tried after the sorted ones."""

_ROUNDS = 3
_MOST_PATTERNS = 4000
_NODES = 2000

Kind = tuple[int, int, bool]


@dataclass(frozen=True, slots=True)
class Packing:
    """Sheets with what lies on them; ``bought`` their area and ``bound`` what no cutting can beat, in
    the unit squared, or for a roll (``by_length``) both lengths in the unit."""

    patterns: tuple[Pattern, ...]
    bought: int
    bound: int
    by_length: bool = False

    @property
    def gap(self) -> float:
        """Share by which more than the bound is bought [1]; 0 is proved to be the least."""
        return self.bought / self.bound - 1.0 if self.bound else 0.0


def with_kerf(items: Sequence[Item], kerf: int) -> list[Item]:
    """Items that take a cut's width with them to the right and above. In a sheet made larger by as
    much they need no more and no less than the items need with a cut between any two."""
    return [Item(i.width + kerf, i.height + kerf, i.turns) for i in items]


def pack_sheets(
    items: Sequence[Item],
    bins: Sequence[Bin],
    kerf: int,
    rng: np.random.Generator,
    tries: int = TRIES,
) -> Packing:
    """Cut items from sheets so that little area is bought, and what stays over stays whole.

    Parameters
    ----------
    items : sequence of Item
        What is cut [any unit]; each must fit into one of the sheets.
    bins : sequence of Bin
        The sheets there are [same unit].
    kerf : int
        Width of a cut [same unit].
    rng : numpy.random.Generator
        For the random orders.
    tries : int
        Random orders tried at most.
    """
    if not items:
        return Packing((), 0, 0)
    grown = with_kerf(items, kerf)
    rooms = [Bin(b.width + kerf, b.height + kerf) for b in bins]
    cost = [b.area for b in bins]
    # The bound knows the kerf: it holds for the grown sizes, told in whole sheets.
    bound = _bought_bound(grown, rooms, cost)
    search = _Search(grown, rooms, cost)
    for order in _sorted_orders(grown):
        for rule in RULES:
            search.run(order, rule)
    if search.cost > bound and len(items) <= MOST:
        bound, exact = exact_sheets(grown, rooms, cost)
        if bound < search.cost:
            search.take(exact)
    if search.cost > bound:
        search.combine()
    for _ in range(_ROUNDS):
        if search.cost <= bound:
            break
        for _ in range(tries // _ROUNDS):
            search.run(_shuffled(grown, rng), RULES[int(rng.integers(len(RULES)))], rng)
            if search.cost <= bound:
                break
        search.combine()
    patterns = tuple(
        Pattern(p.bin, tuple(Spot(s.item, s.x, s.y, s.width - kerf, s.height - kerf)
                             for s in p.spots))
        for p in search.best
    )  # fmt: skip
    return Packing(patterns, search.cost, bound)


def pack_roll(
    items: Sequence[Item], width: int, kerf: int, rng: np.random.Generator, tries: int = TRIES
) -> Packing:
    """Cut items from a roll so that little length is used; widths lie across the roll.

    Parameters as in `pack_sheets`; ``width`` of the roll [any unit].
    """
    if not items:
        return Packing((), 0, 0)
    grown, room = with_kerf(items, kerf), width + kerf
    bound = length_bound(grown, room) - kerf
    longest = sum(max(i.width, i.height) for i in grown)
    best: list[Spot] = []
    used = longest + 1

    def attempt(order: Sequence[int], rule: Rule) -> None:
        # Each success shortens the roll for the next attempt.
        nonlocal best, used
        while True:
            spots, left, _ = fill(grown, order, room, used - 1, rule)
            if left:
                return
            best, used = spots, max(s.y + s.height for s in spots)

    for order in _sorted_orders(grown):
        for rule in RULES:
            attempt(order, rule)
    for _ in range(tries):
        if used - kerf <= bound:
            break
        attempt(_shuffled(grown, rng), RULES[int(rng.integers(len(RULES)))])
    spots = tuple(Spot(s.item, s.x, s.y, s.width - kerf, s.height - kerf) for s in best)
    return Packing((Pattern(0, spots),), used - kerf, bound, True)


def _bought_bound(items: Sequence[Item], rooms: Sequence[Bin], cost: Sequence[int]) -> int:
    if len(rooms) == 1:
        return area_bound(items, rooms) // rooms[0].area * cost[0]
    # With several sizes the kerf's share is left out of the sheets: a little lower, still a bound.
    least = min(c / r.area for c, r in zip(cost, rooms, strict=True))
    return int(np.ceil(area_bound(items, rooms) * least - 1e-6))


_SORTS: tuple[Callable[[Item], tuple[int, int]], ...] = (
    lambda i: (i.area, max(i.width, i.height)),
    lambda i: (max(i.width, i.height), min(i.width, i.height)),
    lambda i: (min(i.width, i.height), max(i.width, i.height)),
    lambda i: (i.width, i.height),
    lambda i: (i.height, i.width),
    lambda i: (i.width + i.height, i.area),
)


def _sorted_orders(items: Sequence[Item]) -> Iterable[list[int]]:
    for key in _SORTS:
        yield sorted(range(len(items)), key=lambda n: (key(items[n]), -n), reverse=True)


def _shuffled(items: Sequence[Item], rng: np.random.Generator) -> list[int]:
    """An order that is roughly by falling size."""
    key = _SORTS[int(rng.integers(len(_SORTS)))]
    weight = np.array([float(key(i)[0]) for i in items])
    noise = rng.uniform(0.05, 0.9)
    order = np.argsort(-weight * np.exp(noise * rng.standard_normal(len(items))), kind="stable")
    return [int(n) for n in order]


@dataclass
class _Search:
    """The best sheets so far, and all sheets ever met, by how many of each kind they hold."""

    items: Sequence[Item]
    rooms: Sequence[Bin]
    costs: Sequence[int]
    cost: int = 2**62
    best: tuple[Pattern, ...] = ()
    rest: int = -1
    known: dict[tuple[int, frozenset[tuple[Kind, int]]], Pattern] = field(default_factory=dict)

    def run(self, order: Sequence[int], rule: Rule, rng: np.random.Generator | None = None) -> None:
        """Fill sheet after sheet until everything lies somewhere."""
        left, patterns = list(order), []
        while left:
            number = self._opened(left, rule, rng)
            room = self.rooms[number]
            spots, left, _ = fill(self.items, left, room.width, room.height, rule)
            patterns.append(self._smallest(number, tuple(spots), rule))
        self.take(patterns)

    def _opened(self, left: Sequence[int], rule: Rule, rng: np.random.Generator | None) -> int:
        """The next sheet: one that takes the next item; the largest, or by chance another."""
        able = [n for n, room in enumerate(self.rooms)
                if self.items[left[0]].fits(room.width, room.height)]  # fmt: skip
        if rng is not None and len(able) > 1 and rng.random() < 0.5:
            return able[int(rng.integers(len(able)))]
        return max(able, key=lambda n: (self.costs[n], -n))

    def _smallest(self, number: int, spots: tuple[Spot, ...], rule: Rule) -> Pattern:
        """The same items on the cheapest sheet that takes them."""
        inside = [s.item for s in spots]
        for other in sorted(range(len(self.rooms)), key=lambda n: (self.costs[n], n)):
            if self.costs[other] >= self.costs[number]:
                break
            room = self.rooms[other]
            if sum(self.items[n].area for n in inside) > room.area:
                continue
            for way in (rule, *RULES):
                found, left, _ = fill(self.items, inside, room.width, room.height, way)
                if not left:
                    return self._know(Pattern(other, tuple(found)))
        return self._know(Pattern(number, spots))

    def _know(self, pattern: Pattern) -> Pattern:
        if len(self.known) < _MOST_PATTERNS:
            self.known.setdefault((pattern.bin, frozenset(self._kinds(pattern).items())), pattern)
        return pattern

    def _kinds(self, pattern: Pattern) -> Counter[Kind]:
        return Counter(_kind(self.items[s.item]) for s in pattern.spots)

    def take(self, patterns: Sequence[Pattern]) -> None:
        """Keep sheets that cost less than the best so far, or as much with a larger rest."""
        cost = sum(self.costs[p.bin] for p in patterns)
        if cost > self.cost:
            return
        rest = max(self._rest(p) for p in patterns)
        if cost < self.cost or rest > self.rest:
            self.cost, self.best, self.rest = cost, tuple(patterns), rest

    def _rest(self, pattern: Pattern) -> int:
        """The larger of the two strips along a sheet's edges that nothing lies on."""
        room = self.rooms[pattern.bin]
        right = max(s.x + s.width for s in pattern.spots)
        top = max(s.y + s.height for s in pattern.spots)
        return max((room.width - right) * room.height, (room.height - top) * room.width)

    def combine(self) -> None:
        """The cheapest set of known sheets that holds every kind often enough."""
        from scipy.optimize import Bounds, LinearConstraint, milp

        wanted = Counter(_kind(i) for i in self.items)
        kinds = sorted(wanted)
        known = list(self.known.values())
        counts = [self._kinds(p) for p in known]
        held = np.array([[c[k] for c in counts] for k in kinds], float)
        base = float(min(self.costs))
        found = milp(
            np.array([self.costs[p.bin] for p in known]) / base,
            constraints=LinearConstraint(held, np.array([wanted[k] for k in kinds], float)),
            integrality=np.ones(len(known)),
            bounds=Bounds(0, len(self.items)),
            options={"node_limit": _NODES},
        )
        if found.x is None:
            return
        chosen = [p for p, n in zip(known, np.round(found.x).astype(int), strict=True)
                  for _ in range(n)]  # fmt: skip
        if sum(self.costs[p.bin] for p in chosen) < self.cost:
            self.take(self._dealt(chosen))

    def _dealt(self, patterns: Sequence[Pattern]) -> list[Pattern]:
        """Sheets by kinds with the items dealt to them, each once; what is there twice goes."""
        waiting: dict[Kind, list[int]] = {}
        for number, item in enumerate(self.items):
            waiting.setdefault(_kind(item), []).append(number)
        out = []
        for pattern in patterns:
            spots = [
                Spot(stack.pop(0), s.x, s.y, s.width, s.height)
                for s in pattern.spots
                if (stack := waiting[_kind(self.items[s.item])])
            ]
            if spots:
                out.append(Pattern(pattern.bin, tuple(spots)))
        return out


def _kind(item: Item) -> Kind:
    """Items of one kind can stand for each other."""
    if item.turns:
        return min(item.width, item.height), max(item.width, item.height), True
    return item.width, item.height, False
