"""A group's pedigree laid out by generations, and what it says of the group."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from loamwright.report import quantities
from loamwright.report.descent_blocks import descent_tables
from loamwright.report.plain import clean
from loamwright.web.tables import shown

if TYPE_CHECKING:
    from loamwright.engine.life.descent import Descent
    from loamwright.engine.life.study import Residents
    from loamwright.habitat.habitat import Habitat
    from loamwright.habitat.residents import Individual

MOST = 120
"""Animals that are drawn; of more, the latest generations."""

SWEEPS = 6
"""Times that the animals of each generation are put in the order of their parents and young."""


def descent(one: Residents, habitat: Habitat, system: str) -> dict[str, Any]:
    """The pedigree as it is drawn, what follows of joining in words, and the tables."""
    found = one.descent
    tables = [shown(t, habitat) for t in descent_tables(one, system)]
    if found is None:
        why = (
            "Nobody of this group is named in a pedigree: they may be brothers and sisters. Name them "
            "under individuals: and give their parents under pedigree: in the file."
        )
        return {"why": why, "animals": [], "couples": [], "told": [], "tables": tables}
    animals, couples, left = drawn(habitat.pedigree, found)
    return {"why": "", "animals": animals, "couples": couples, "told": _told(found, left),
            "tables": tables}  # fmt: skip


def _told(found: Descent, left: int) -> list[str]:
    """What joining does, in a few sentences."""
    percent = quantities.percent
    out = []
    joined = found.joined
    if len(found.before) > 1:
        best = max(found.before, key=lambda g: g.diversity)
        change = "more" if joined.diversity > best.diversity + 1e-9 else "no more"
        out.append(
            f"Joined, the group keeps {percent(joined.diversity)} of its founders' gene diversity, "
            f"{change} than the best of the habitats alone ('{clean(best.name)}', "
            f"{percent(best.diversity)}). It is worth {joined.genomes:.1f} unrelated founders."
        )
    if found.random is not None:
        told = f"If all mate alike, young are inbred by {percent(found.random)} on average"
        if found.worst is not None:
            pair = f"'{clean(found.worst.male)}' and '{clean(found.worst.female)}'"
            told += f"; by {percent(found.worst.inbreeding)} those of {pair}"
        out.append(told + ".")
    if found.pairs:
        pairs = ", ".join(f"'{clean(p.male)}' with '{clean(p.female)}' ({percent(p.inbreeding)})"
                          for p in found.pairs)  # fmt: skip
        out.append(f"Best pairs, with the inbreeding of their young: {pairs}.")
    if found.trio:
        names = ", ".join(map(clean, found.trio))
        out.append(f"Of groups of a size the species allows, {names} would have the young that are "
                   "least akin.")  # fmt: skip
    for swap in found.exchanges:
        out.append(f"Kept apart, '{clean(swap.first)}' might give '{clean(swap.leaves)}' for "
                   f"'{clean(swap.comes)}' of '{clean(swap.second)}'.")  # fmt: skip
    if left:
        out.append(f"{left} earlier animals are left out of the drawing.")
    return out


def drawn(
    pedigree: Sequence[Individual], found: Descent
) -> tuple[list[dict[str, Any]], list[dict[str, Any]], int]:
    """Animals with their generation and place in it, couples with their young, and how many earlier
    animals are left out."""
    from loamwright.engine.life.descent import ancestors

    members = {m.name: m for m in found.members}
    kept = ancestors(pedigree, list(members))
    level = generations(kept)
    first = 0
    while sum(level[x.name] >= first for x in kept) > MOST:
        first += 1
    inside = [x for x in kept if level[x.name] >= first]
    names = {x.name for x in inside}
    sires, dams = {x.sire for x in kept}, {x.dam for x in kept}
    parents = {x.name: [p for p in (x.sire, x.dam) if p in names] for x in inside}
    order = _ordered(inside, parents, {n: level[n] - first for n in names})
    animals = []
    for x in inside:
        member = members.get(x.name)
        sex = member.sex if member is not None else x.sex
        if sex == "unknown":
            sex = "male" if x.name in sires else "female" if x.name in dams else sex
        row, place, of = order[x.name]
        animals.append({
            "id": x.name, "name": clean(x.name, 16), "sex": sex, "row": row, "place": place, "of": of,
            "member": member is not None, "lives": clean(x.lives_in, 24),
            "inbred": "" if member is None else f"{100 * member.inbreeding:.1f} %",
            "kinship": "" if member is None else f"{member.mean_kinship:.3f}",
            "parents": [clean(p, 16) for p in (x.sire, x.dam) if p],
        })  # fmt: skip
    couples: dict[tuple[str, ...], list[str]] = {}
    for x in inside:
        if parents[x.name]:
            couples.setdefault(tuple(parents[x.name]), []).append(x.name)
    return animals, [{"parents": list(p), "young": y} for p, y in couples.items()], \
        len(kept) - len(inside)  # fmt: skip


def generations(animals: Sequence[Individual]) -> dict[str, int]:
    """Generation of each animal: 0 without known parents, else one after the later parent. A founder
    stands one before its earliest young."""
    by_name = {x.name: x for x in animals}
    level: dict[str, int] = {}
    stack = [x.name for x in animals]
    while stack:
        name = stack[-1]
        parents = [p for p in (by_name[name].sire, by_name[name].dam) if p in by_name]
        open_ = [p for p in parents if p not in level]
        if name in level or not open_:
            stack.pop()
            level.setdefault(name, 1 + max((level[p] for p in parents), default=-1))
        else:
            stack += open_
    young: dict[str, list[int]] = {}
    for x in animals:
        for p in (x.sire, x.dam):
            if p in by_name:
                young.setdefault(p, []).append(level[x.name])
    for x in animals:
        founder = x.sire not in by_name and x.dam not in by_name
        if founder and x.name in young:
            level[x.name] = min(young[x.name]) - 1
    return level


def _ordered(
    animals: Sequence[Individual], parents: Mapping[str, Sequence[str]], level: Mapping[str, int]
) -> dict[str, tuple[int, int, int]]:
    """Each animal's row, its place in it and how many stand there: near its parents and its young."""
    rows: list[list[str]] = [[] for _ in range(1 + max(level.values(), default=0))]
    for x in animals:
        rows[level[x.name]].append(x.name)
    young: dict[str, list[str]] = {}
    for name, known in parents.items():
        for p in known:
            young.setdefault(p, []).append(name)

    def place() -> dict[str, float]:
        return {n: (i + 0.5) / len(row) for row in rows for i, n in enumerate(row)}

    for sweep in range(SWEEPS):
        near = parents if sweep % 2 == 0 else young
        for row in rows if sweep % 2 == 0 else rows[::-1]:
            at = place()
            row.sort(key=lambda n: (sum(at[m] for m in near[n]) / len(near[n])
                                    if near.get(n) else at[n]))  # fmt: skip
    return {n: (r, i, len(row)) for r, row in enumerate(rows) for i, n in enumerate(row)}
