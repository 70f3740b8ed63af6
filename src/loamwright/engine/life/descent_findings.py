"""Sizes of groups, their sexes and their descent held against what the catalogue and practice ask."""

from __future__ import annotations

from collections.abc import Mapping

from loamwright.engine.findings import Cause, Finding, judge
from loamwright.engine.life.descent import HALF_SIBS, Descent, descents, sex_limit
from loamwright.engine.life.space import by_species
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Group
from loamwright.habitat.sources import Source, SourceKind

ENGINE = "animals"

CLOSE = Source(
    "from memory: zoo programmes avoid pairs closer than half sibs, whose young are inbred by 1/8",
    SourceKind.FROM_MEMORY,
)
JOINED = Source(
    "what is kept already by the most diverse of the groups that are joined; gene diversity by Lacy "
    "1995, Zoo Biology 14:565",
    SourceKind.CALCULATED,
)


def _made(
    code: str, species: Species, quantity: str, value: float | None, low: float | None,
    high: float | None, source: Source, causes: tuple[Cause, ...] = (),
) -> Finding:  # fmt: skip
    state, margin = judge(value, low, high, 0.0)
    return Finding(
        need=code, engine=ENGINE, about=species.key, quantity=quantity, state=state, source=source,
        value=value, low=low, high=high, uncertainty=0.0 if value is not None else None,
        margin=margin, causes=causes,
    )  # fmt: skip


def group_findings(groups: list[Group], descent: Descent | None) -> list[Finding]:
    """How many there are, and how many males."""
    species = groups[0].species
    count, males = float(sum(g.count for g in groups)), float(sum(g.males for g in groups))
    out = []
    trio: tuple[Cause, ...] = ()
    if descent is not None and descent.trio:
        trio = (Cause("least_akin", ", ".join(descent.trio)),)
    most = species.group_max
    if most is None:
        cause = Cause("no_number", "group_max")
        out.append(_made("group-size", species, "count", count, None, None,
                         species.source_of("group_max"), (cause,)))  # fmt: skip
    else:
        out.append(_made("group-size", species, "count", count, None, float(most),
                         species.source_of("group_max"), trio))  # fmt: skip
    limit = sex_limit(species)
    source = species.source_of("sex_ratio")
    if limit is None:
        out.append(_made("group-males", species, "count", males, None, None, source,
                         (Cause("no_number", "sex_ratio"),)))  # fmt: skip
    elif males or not any(g.young for g in groups):
        cause = Cause("sexes", species.sex_ratio)
        out.append(_made("group-males", species, "count", males, None, float(limit[0]), source,
                         (cause,)))  # fmt: skip
    return out


def kin_findings(groups: list[Group], descent: Descent | None) -> list[Finding]:
    """The closest pair that could mate, and what joining does to the diversity."""
    species = groups[0].species
    both = any(g.males for g in groups) and any(g.females for g in groups)
    if descent is None:
        if not both and not any(g.young > 1 for g in groups):
            return []
        cause = Cause("no_pedigree")
        return [_made("pair-inbreeding", species, "inbreeding", None, None, HALF_SIBS, CLOSE,
                      (cause,))]  # fmt: skip
    out = []
    if descent.worst is not None and descent.random is not None:
        causes = [Cause("closest_pair", f"{descent.worst.male}|{descent.worst.female}"),
                  Cause("mean_pair", "", descent.random)]  # fmt: skip
        if descent.pairs:
            told = ", ".join(f"{p.male} x {p.female}" for p in descent.pairs)
            causes.append(Cause("best_pairs", told, max(p.inbreeding for p in descent.pairs)))
        gaps = sum(m.parents_known < 2 for m in descent.members)
        if gaps:
            causes.append(Cause("parents_unknown", "", float(gaps)))
        if descent.unnamed:
            causes.append(Cause("unnamed", "", float(descent.unnamed)))
        out.append(_made("pair-inbreeding", species, "inbreeding", descent.worst.inbreeding, None,
                         HALF_SIBS, CLOSE, tuple(causes)))  # fmt: skip
    if len(descent.before) > 1:
        best = max(descent.before, key=lambda m: m.diversity)
        causes = [Cause("most_diverse", best.name, best.diversity),
                  Cause("genomes", "", descent.joined.genomes)]  # fmt: skip
        out.append(_made("joined-diversity", species, "gene_diversity", descent.joined.diversity,
                         best.diversity, None, JOINED, tuple(causes)))  # fmt: skip
    return out


def descent_findings(
    habitat: Habitat, known: Mapping[str, Descent | None] | None = None
) -> list[Finding]:
    """All findings of groups and descent; ``known`` where it was worked out already."""
    found = descents(habitat) if known is None else known
    out: list[Finding] = []
    for groups in by_species(habitat):
        descent = found[groups[0].species.key]
        out += group_findings(groups, descent)
        out += kin_findings(groups, descent)
    return out
