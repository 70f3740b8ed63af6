"""Groups, descent and breeding as tables."""

from __future__ import annotations

from loamwright import units
from loamwright.engine.life.breeding import Breeding
from loamwright.engine.life.descent import HALF_SIBS, Descent, Measures, sex_limit
from loamwright.engine.life.study import Residents
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.plain import capital, clean

QUARANTINE = (
    "Quarantine before groups are joined: at least 30 days under a veterinarian, all in and all out, "
    "each newcomer of the same class beginning it anew (AZA, as restated); 60 to 90 days with repeated "
    "tests for snakes and amphibians (from memory). In a bare box that can be cleaned: a living "
    "ground comes after it."
)
"""What is said of quarantine."""


def descent_tables(one: Residents, system: str) -> list[Table]:
    """What the pedigree and the catalogue say of one species' group."""
    out = []
    if one.descent is not None:
        out += [_groups(one.descent), _joins(one.descent), _members(one.descent),
                _pairs(one.descent)]  # fmt: skip
    out.append(_breeding(one, system))
    if one.breeding.warm:
        out.append(_warm(one.breeding, system))
    if one.breeding.tried:
        out.append(_tried(one.breeding, system))
    if one.breeding.sexed:
        out.append(_sexed(one.breeding, system))
    return [t for t in out if t.rows]


def _percent(value: float) -> str:
    return f"{100 * value:.1f} %"


def _measures(group: Measures) -> tuple[str, ...]:
    unsexed = f".{group.unsexed}" if group.unsexed else ""
    effective = "–" if group.effective is None else f"{group.effective:.1f}"
    return (
        f"{group.males}.{group.females}{unsexed}", f"{group.mean_kinship:.3f}",
        _percent(group.diversity), f"{group.genomes:.2f}", f"{group.founders:.2f}",
        _percent(group.inbreeding), effective,
    )  # fmt: skip


def _groups(descent: Descent) -> Table:
    rows = [(clean(g.name, 22), *_measures(g)) for g in descent.before]
    rows.append(("together, as planned", *_measures(descent.joined)))
    return Table(
        "The group by its genes",
        ("group", "males.\nfemales", "mean\nkinship", "gene\ndiversity", "founder\ngenomes",
         "founder\nequiv.", "most\ninbred", "effective\nsize"),
        tuple(rows), right=frozenset(range(1, 8)), tight=True,
        note="A third number counts those of unknown sex. Diversity is what is kept of the "
        "founders' stock; zoo programmes aim at 90 % over a hundred years (from memory). Founders, and "
        "parents that are not known, are taken as unrelated.",
    )  # fmt: skip


def _joins(descent: Descent) -> Table:
    """Which old habitats may be joined whole, and what speaks against it."""
    most, limit = descent.species.group_max, sex_limit(descent.species)
    rows = []
    for join in descent.joins:
        against = []
        if most is not None and join.animals > most:
            against.append(f"{join.animals} animals, {most} at most")
        if limit is not None and join.males > limit[0]:
            against.append(f"{join.males} males, {limit[0]} at most")
        closest = "–"
        if join.closest is not None:
            closest = (f"{clean(join.closest.male)} x {clean(join.closest.female)}: "
                       f"{_percent(join.closest.inbreeding)}")  # fmt: skip
            if join.closest.inbreeding > HALF_SIBS:
                against.append("pairs closer than half sibs")
        known = most is not None and limit is not None
        verdict = "; ".join(against) or ("yes" if known else "limits not known")
        rows.append((" and ".join(clean(n, 18) for n in join.groups), _percent(join.diversity),
                     closest, f"no: {verdict}" if against else verdict))  # fmt: skip
    few = (
        f" Of all of them, {', '.join(map(clean, descent.trio))} would do." if descent.trio else ""
    )
    return Table(
        "Which groups may be joined whole",
        ("groups", "diversity", "closest pair, its young inbred by", "may be joined"), tuple(rows),
        right=frozenset({1}),
        note="Held against the catalogue's group and sexes (see its source) and half sibs, 12.5 %."
        f"{few}",
    )  # fmt: skip


def _members(descent: Descent) -> Table:
    known = {0: "none", 1: "one", 2: "both"}
    rows = tuple(
        (clean(m.name, 22), m.sex, f"{m.mean_kinship:.3f}", _percent(m.inbreeding),
         known[m.parents_known], clean(m.lives_in, 20))
        for m in descent.members
    )  # fmt: skip
    return Table(
        "Each animal, the rarest genes first",
        ("animal", "sex", "mean kinship", "inbred", "parents known", "lives in"), rows,
        right=frozenset({2, 3}),
        note=f"{descent.unnamed} more are in no pedigree." if descent.unnamed else "",
    )  # fmt: skip


def _pairs(descent: Descent) -> Table:
    rows = [(f"{clean(p.male)} x {clean(p.female)}", "a best pair",
             f"young inbred by {_percent(p.inbreeding)}") for p in descent.pairs]  # fmt: skip
    if descent.gene_value is not None:
        rows.append(("the best pairs together", "gene value",
                     f"{_percent(descent.gene_value)} diversity of their young"))  # fmt: skip
    if descent.worst is not None:
        worst = descent.worst
        rows.append((f"{clean(worst.male)} x {clean(worst.female)}", "the closest pair",
                     f"young inbred by {_percent(worst.inbreeding)}"))  # fmt: skip
    if descent.random is not None:
        rows.append(
            ("all, if they mate alike", "mean", f"young inbred by {_percent(descent.random)}")
        )
    if descent.trio:
        rows.append((", ".join(map(clean, descent.trio)), "a group of the size the species allows",
                     "their young would be least akin"))  # fmt: skip
    rows += [
        (f"{clean(x.leaves)} for {clean(x.comes)}", "exchange, if they stay apart",
         f"{clean(x.first)} with {clean(x.second)}")
        for x in descent.exchanges
    ]  # fmt: skip
    return Table("Pairs and exchanges", ("who", "what", ""), tuple(rows), note=QUARANTINE)


def _range(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _breeding(one: Residents, system: str) -> Table:
    species, breeding = one.species, one.breeding
    rows = []
    bears = "young at a time" if species.reproduction == "viviparous" else "eggs at a time"
    least, most = species.clutch
    if least is not None and most is not None:
        rows.append((f"{bears}, of one female", _range(least, most), _kind(one, "clutch")))
    if breeding.young is not None:
        rows.append((f"{bears}, of all females here", _range(*breeding.young), "calculated"))
    low, high = species.incubation
    if low is not None and high is not None:
        days = _range(low / 86400.0, high / 86400.0)
        at = species.incubation_temperature
        where = f" at {units.show(at, 'temperature', system)}" if at is not None else ""
        rows.append((f"eggs take{where}", f"{days} days", _kind(one, "incubation")))
    for room in breeding.rooms:
        told = f"{room.animals} or more: it speaks of no more" if room.open else f"{room.animals}"
        country = f" ({room.country})" if room.country else ""
        by = next((a.standard.title for a in one.asked if a.standard.key == room.standard),
                  room.standard.replace("-", " "))  # fmt: skip
        rows.append((f"floor for so many by {clean(by, 90)}{country}", told, "calculated"))
    if breeding.clutches is not None:
        rows.append(("too small, if all are reared and stay, with clutch number",
                     _range(*map(float, breeding.clutches)), "calculated"))  # fmt: skip
    if not breeding.breeds and rows:
        rows.insert(0, ("breeds", "no: one sex only", "counts in the file"))
    return Table(
        f"What {clean(species.label)} may bring", ("what", "", "from"), tuple(rows),
        right=frozenset({1}),
        note="How many clutches a female lays in a year, and how many eggs hatch, is not known: no "
        "source was found. Your own record is the only one." if rows else "",
    )  # fmt: skip


def _kind(one: Residents, field: str) -> str:
    return one.species.source_of(field).kind.value


def _warm(breeding: Breeding, system: str) -> Table:
    rows = []
    for eggs in breeding.warm:
        days = "not known"
        if eggs.days is not None:
            days = f"{eggs.days[0]:.0f} to {eggs.days[1]:.0f} days"
        males = "not known" if eggs.males is None else quantities.percent(eggs.males)
        warmth = units.show(eggs.warmth, "temperature", system)
        rows.append((clean(eggs.site, 24), eggs.season, warmth, days, males))
    note = "Mean air of a typical day there; eggs in the ground lag behind it."
    if breeding.why_no_line:
        note += f" Days are not told: {breeding.why_no_line}."
    return Table("Eggs left where they are laid", ("site", "season", "mean", "hatch in", "males"),
                 tuple(rows), right=frozenset({2, 3, 4}), note=note)  # fmt: skip


def _tried(breeding: Breeding, system: str) -> Table:
    rows = tuple(
        (units.show(273.15 + x.celsius, "temperature", system), f"{x.days:g}", f"{x.eggs:.0f}",
         f"{x.author} {x.year}")
        for x in breeding.tried
    )  # fmt: skip
    return Table(
        "Incubation at constant warmth, measured",
        ("at", "days", "eggs", "experiment"),
        rows,
        right=frozenset({0, 1, 2}),
        note="Reptile Development Database, Noble et al. 2018, Scientific Data.",
    )


def _sexed(breeding: Breeding, system: str) -> Table:
    rows = tuple(
        (units.show(t, "temperature", system), quantities.percent(males), f"{number:.0f}")
        for t, males, number in breeding.sexed
    )
    return Table(
        capital("sex by the warmth of the eggs"), ("at", "males", "sexed"), rows,
        right=frozenset({0, 1, 2}),
        note="Reptile Development Database, Noble et al. 2018, Scientific Data; experiments at one "
        "temperature put together.",
    )  # fmt: skip
