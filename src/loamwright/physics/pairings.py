"""Which animals to pair, which group to form, whom to exchange, so that diversity lasts.

Pairings are chosen by cost: `pair_costs` weighs the rarity of the parents' genes against the
inbreeding of the young. Assignments are proved best by the Hungarian method; groups and exchanges
of more than one animal are searched by single exchanges, which may end at a group that only an
exchange of two at a time would better.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import linear_sum_assignment

from loamwright.errors import InputError

Array = NDArray[np.float64]
Rows = NDArray[np.int64]
Pairs = list[tuple[int, int]]
Value = Callable[[list[list[int]]], float]

ROUNDING = 1e-12
"""A gain in kinship that is only rounding [1]."""


def pair_costs(
    kinship: ArrayLike,
    mean_kinship: ArrayLike,
    males: ArrayLike,
    females: ArrayLike,
    inbreeding_share: float,
    most_inbreeding: float = 1.0,
) -> Array:
    """Cost of each pair [1], shape (males, females); infinite where the young would be too inbred.

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    mean_kinship : array_like, shape (n,)
        Mean kinship of each animal with the living [1].
    males, females : array_like of int
        Rows of the males and of the females [1].
    inbreeding_share : float
        Share of the young's inbreeding in the cost [1], 0 to 1; the rest is the young's mean
        kinship with the living, which is the mean of its parents'. 0 keeps most diversity.
    most_inbreeding : float
        Inbreeding of young not to be passed [1].

    Source: choice by mean kinship, Ballou & Lacy 1995; kept more variation than avoidance of
    inbreeding over four generations of flies, Montgomery et al. 1997, Zoo Biol 16:377.
    """
    k, mk = np.asarray(kinship, dtype=float), np.asarray(mean_kinship, dtype=float)
    m, f = np.asarray(males, dtype=np.int64), np.asarray(females, dtype=np.int64)
    own = k[np.ix_(m, f)]
    rare = 0.5 * (mk[m][:, None] + mk[f][None, :])
    cost = (1.0 - inbreeding_share) * rare + inbreeding_share * own
    return np.where(own > most_inbreeding, np.inf, cost)


def best_pairs(costs: ArrayLike, pairs: int, females_per_male: int = 1) -> Pairs:
    """The given number of pairs of least total cost; each female once, each male so many times.

    Parameters
    ----------
    costs : array_like, shape (males, females)
        Cost of each pair [1], infinite where it must not be.
    pairs : int
        Pairs wanted [1].
    females_per_male : int
        Females a male may be given [1]: 1 for pairs, more for groups with one male.

    Returns
    -------
    list of tuple of int
        Male and female of each pair, as row and column of ``costs``, by female.

    Raises InputError when so many pairs cannot be made.

    Source: assignment by scipy.optimize.linear_sum_assignment (Jonker & Volgenant 1987), proved
    least; of more animals than pairs, idle partners of no cost take those left out.
    """
    c = np.repeat(np.asarray(costs, dtype=float), females_per_male, axis=0)
    places, females = c.shape
    able = "no more can be made of the animals and the limit given"
    if not 0 < pairs <= min(places, females):
        raise InputError(f"{pairs} pairs; give 1 to {min(places, females)}: {able}")
    # Exactly `pairs` real pairs remain when the rest of both sides are given idle partners.
    table = np.zeros((places + females - pairs, females + places - pairs))
    table[:places, :females] = c
    table[places:, females:] = np.inf
    try:
        rows, columns = linear_sum_assignment(table)
    except ValueError:
        raise InputError(f"{pairs} pairs cannot be made without a pair that must not be; "
                         "ask for fewer, or allow more inbreeding") from None  # fmt: skip
    real = (rows < places) & (columns < females)
    return sorted(
        zip((rows[real] // females_per_male).tolist(), columns[real].tolist(), strict=True),
        key=lambda pair: pair[1],
    )


def best_harem(costs: ArrayLike, females: int) -> Pairs:
    """One male with the given number of females, of least total cost.

    Parameters
    ----------
    costs : array_like, shape (males, females)
        Cost of each pair [1], infinite where it must not be.
    females : int
        Females of the group [1].

    Returns
    -------
    list of tuple of int
        Male and female of each pair, as row and column of ``costs``, by female.

    Kinship among the females is left out: see `best_group`. Raises InputError when no male can be
    given so many.

    Source: the least sum over males of each male's least costs; complete enumeration.
    """
    c = np.asarray(costs, dtype=float)
    if not 0 < females <= c.shape[1]:
        raise InputError(f"{females} females; give 1 to {c.shape[1]}")
    chosen = np.argsort(c, axis=1, kind="stable")[:, :females]
    total = np.take_along_axis(c, chosen, axis=1).sum(axis=1)
    male = int(np.argmin(total))
    if not np.isfinite(total[male]):
        raise InputError(f"no male can be given {females} females; ask for fewer, or allow more "
                         "inbreeding")  # fmt: skip
    return [(male, int(f)) for f in np.sort(chosen[male])]


def breeding_kinship(kinship: ArrayLike, males: ArrayLike, females: ArrayLike) -> float:
    """Mean kinship between the young a group will have, if all breed alike at random [1].

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    males, females : array_like of int
        Rows of the group's males and females [1], at least one of each.

    Each sex gives half the genes, however few of it there are.

    Source: mean over parents of two young drawn at random; Falconer & Mackay, eq. 5.2 (from
    memory).
    """
    k = np.asarray(kinship, dtype=float)
    m, f = np.asarray(males, dtype=np.int64), np.asarray(females, dtype=np.int64)
    within = k[np.ix_(m, m)].mean() + k[np.ix_(f, f)].mean()
    return 0.25 * float(within + 2.0 * k[np.ix_(m, f)].mean())


def best_group(
    kinship: ArrayLike, males: ArrayLike, females: ArrayLike, counts: tuple[int, int]
) -> tuple[list[int], list[int]]:
    """Males and females out of those on offer whose young would be least akin.

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    males, females : array_like of int
        Rows on offer [1].
    counts : tuple of int
        Males and females wanted [1].

    Returns
    -------
    tuple of list of int
        Rows of the males and of the females chosen.

    From every start with one pair the group grows by the animal that adds least, and is then
    bettered by single exchanges until none helps; the best of all starts is given. Not proved
    best, though no single exchange betters it.

    Source: objective `breeding_kinship`; greedy and local search.
    """
    k = np.asarray(kinship, dtype=float)
    offer = [np.asarray(males, dtype=np.int64).tolist(), np.asarray(females, np.int64).tolist()]
    for name, wanted, there in zip(("males", "females"), counts, offer, strict=True):
        if not 0 < wanted <= len(there):
            raise InputError(f"{wanted} {name}; give 1 to {len(there)}")

    def value(group: list[list[int]]) -> float:
        return breeding_kinship(k, group[0], group[1])

    best: list[list[int]] = []
    for first in offer[0]:
        partner = min(offer[1], key=lambda f: k[first, f])
        group = [[first], [partner]]
        for side in (0, 1):
            while len(group[side]) < counts[side]:
                left = [a for a in offer[side] if a not in group[side]]
                grown = [[*group[side], a] for a in left]
                group[side] = min(
                    grown, key=lambda g: value([g, group[1]] if side == 0 else [group[0], g])
                )
        found = _bettered(group, offer, value)
        if not best or value(found) < value(best) - ROUNDING:
            best = found
    return sorted(best[0]), sorted(best[1])


def _bettered(group: list[list[int]], offer: list[list[int]], value: Value) -> list[list[int]]:
    """The group after every exchange of one animal that lowers its value, best first."""
    while True:
        now, best = value(group), None
        for side in (0, 1):
            for i in range(len(group[side])):
                for other in offer[side]:
                    if other not in group[side]:
                        trial = [list(part) for part in group]
                        trial[side][i] = other
                        reached = value(trial)
                        if reached < now - ROUNDING:
                            now, best = reached, trial
        if best is None:
            return group
        group = best


def groups_kinship(kinship: ArrayLike, first: ArrayLike, second: ArrayLike) -> float:
    """Mean kinship inside two groups kept apart, mean of the two [1].

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    first, second : array_like of int
        Rows of the two groups [1].

    Source: definition; each animal's kinship with itself included, Lacy 1995, Zoo Biol 14:565.
    """
    k = np.asarray(kinship, dtype=float)
    groups = (np.asarray(first, dtype=np.int64), np.asarray(second, dtype=np.int64))
    return 0.5 * float(sum(k[np.ix_(g, g)].mean() for g in groups))


def best_exchange(
    kinship: ArrayLike, first: ArrayLike, second: ArrayLike, sex: ArrayLike
) -> tuple[int, int] | None:
    """The exchange of two animals of one sex that most lowers `groups_kinship`.

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    first, second : array_like of int
        Rows of the two groups [1], none in both.
    sex : array_like of int, shape (n,)
        Any number that is the same for animals that may take each other's place [1].

    Returns
    -------
    tuple of int, or None
        Rows exchanged (of the first group, of the second); None when no exchange lowers it.

    All exchanges are tried.

    Source: a sum over a group's table loses the leaver's row and column and gains the comer's.
    """
    k, kinds = np.asarray(kinship, dtype=float), np.asarray(sex)
    a, b = np.asarray(first, dtype=np.int64), np.asarray(second, dtype=np.int64)
    own_a, own_b = np.diag(k)[a][:, None], np.diag(k)[b][None, :]
    cross = k[np.ix_(a, b)]
    leave_a = own_a - 2.0 * k[np.ix_(a, a)].sum(axis=1)[:, None]
    leave_b = own_b - 2.0 * k[np.ix_(b, b)].sum(axis=1)[None, :]
    come_to_a = own_b + 2.0 * (cross.sum(axis=0)[None, :] - cross)
    come_to_b = own_a + 2.0 * (cross.sum(axis=1)[:, None] - cross)
    change = (leave_a + come_to_a) / a.size**2 + (leave_b + come_to_b) / b.size**2
    change = np.where(kinds[a][:, None] == kinds[b][None, :], change, np.inf)
    i, j = np.unravel_index(int(np.argmin(change)), change.shape)
    return (int(a[i]), int(b[j])) if change[i, j] < -ROUNDING else None


def exchanges(
    kinship: ArrayLike, first: ArrayLike, second: ArrayLike, sex: ArrayLike, most: int
) -> Pairs:
    """Exchanges between two groups, each the best then left, until none helps or ``most`` are made.

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    first, second : array_like of int
        Rows of the two groups [1], none in both.
    sex : array_like of int, shape (n,)
        Any number that is the same for animals that may take each other's place [1].
    most : int
        Exchanges at most [1].

    Returns
    -------
    list of tuple of int
        Of each exchange the row that leaves the first group and the row that comes.

    Source: `best_exchange`, repeated.
    """
    a, b = np.array(first, dtype=np.int64), np.array(second, dtype=np.int64)
    done: Pairs = []
    while len(done) < most and (found := best_exchange(kinship, a, b, sex)) is not None:
        done.append(found)
        i, j = np.flatnonzero(a == found[0]), np.flatnonzero(b == found[1])
        a[i], b[j] = found[1], found[0]
    return done
