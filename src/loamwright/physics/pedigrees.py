"""Pedigrees: whether two lists of parents can be one, and in which order to go through them.

A pedigree is two arrays of row numbers, sire and dam, -1 where a parent is not known; rows may
stand in any order. One animal may be sire and dam. Clones are no part of it: an animal with one
parent has another that is not known.
"""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loamwright.errors import InputError, Problem
from loamwright.physics import kinship_loops as loops

Rows = NDArray[np.int64]
Values = TypeVar("Values", bound=NDArray)


def find_cycles(sire: ArrayLike, dam: ArrayLike) -> list[list[int]]:
    """Chains of rows, each a parent of the next and the last of the first: errors of a pedigree.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown.

    Returns
    -------
    list of list of int
        One chain for each knot of rows that descend from themselves; empty if there is none.

    Source: definition; each row left over by `kinship_loops.parents_first` has a parent left over.
    """
    s, d = np.asarray(sire, dtype=np.int64), np.asarray(dam, dtype=np.int64)
    left = set(range(s.size)) - set(loops.parents_first(s, d).tolist())
    seen: set[int] = set()
    out: list[list[int]] = []
    for start in sorted(left):
        path: list[int] = []
        at = start
        while at not in seen:
            seen.add(at)
            path.append(at)
            at = int(s[at]) if int(s[at]) in left else int(d[at])
        if at in path:
            chain = path[path.index(at) :][::-1]
            least = chain.index(min(chain))
            out.append(chain[least:] + chain[:least])
    return out


def check_pedigree(sire: ArrayLike, dam: ArrayLike) -> tuple[Rows, Rows]:
    """Parents as arrays, once they can be a pedigree.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown.

    Raises
    ------
    InputError
        All problems at once: lists of different length, parents that are not rows, animals that
        descend from themselves. Fields are ``animal N`` with N the row.

    Source: definition of a pedigree.
    """
    s, d = np.array(sire, dtype=np.int64).ravel(), np.array(dam, dtype=np.int64).ravel()
    if s.size != d.size:
        raise InputError(
            f"{s.size} sires but {d.size} dams; give one of each per animal, -1 where unknown"
        )
    problems = [
        Problem(f"{side} {parent} is not a row; give 0 to {s.size - 1}, or -1 for unknown",
                f"animal {row}")
        for side, parents in (("sire", s), ("dam", d))
        for row, parent in enumerate(parents.tolist())
        if not -1 <= parent < s.size
    ]  # fmt: skip
    if not problems:
        problems = [
            Problem(
                "descends from itself: "
                + ", a parent of ".join(str(row) for row in (*chain, chain[0]))
                + "; one of these parents is wrong, give -1 if it is not known",
                f"animal {chain[0]}",
            )
            for chain in find_cycles(s, d)
        ]
    if problems:
        raise InputError(problems)
    return s, d


def in_order(sire: ArrayLike, dam: ArrayLike) -> tuple[Rows, Rows, Rows | None]:
    """Parents, checked, with parents before their young.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.

    Returns
    -------
    tuple
        Sires and dams in the new numbering, and the old row at each new place; None in its stead
        if rows stood so already and keep their numbers.

    Raises InputError, see `check_pedigree`.

    Source: `kinship_loops.parents_first`.
    """
    s, d = check_pedigree(sire, dam)
    rows = np.arange(s.size)
    if bool(np.all(s < rows) and np.all(d < rows)):
        return s, d, None
    order = loops.parents_first(s, d)
    place = np.full(s.size + 1, -1, np.int64)
    place[order] = rows
    # Row -1 of `place` is its last: unknown stays unknown.
    return place[s[order]], place[d[order]], order


def restored(values: Values, order: Rows | None) -> Values:
    """Values of rows put `in_order`, back at the places of the rows given.

    Parameters
    ----------
    values : ndarray, shape (n,)
        A value for each row in the new order [any].
    order : ndarray of int, or None
        As given by `in_order` [1].

    Source: inverse of a permutation.
    """
    if order is None:
        return values
    out = np.empty_like(values)
    out[order] = values
    return out
