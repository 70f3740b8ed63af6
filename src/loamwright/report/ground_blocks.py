"""The ground as tables: layers, what to buy, masses, water over weeks, old ground."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from loamwright import units
from loamwright.engine.ground.coupled import Coupled
from loamwright.engine.ground.inspection import ASKED, Sheet, inspect
from loamwright.engine.ground.outlook import FOLLOWED, Outlook
from loamwright.engine.ground.quantities import QUART, Purchase, Quantities
from loamwright.engine.ground.study import litres
from loamwright.habitat.habitat import Habitat
from loamwright.plan.keys import media_key, sheet_key
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.climate_words import SEASONS
from loamwright.report.ground_words import LOADS, VERDICTS
from loamwright.report.plain import clean

POT = 0.10
"""Height of the pot that containers' capacities are measured in [m]."""

SQUARE_FOOT = 0.09290304
CUBIC_FOOT = 0.028316846592


def volume(value: float, system: str) -> str:
    """A volume of ground [m3]: litres, or dry quarts."""
    size, name = (QUART, "dry qt") if system == "us" else (1e-3, "L")
    return f"{value / size:.1f} {name}" if value < 100 * size else f"{value / size:.0f} {name}"


def bag(size: float, system: str) -> str:
    """A bag's size [m3] as its label says it."""
    if system == "us":
        return "2 cu ft" if size > 50 * QUART else f"{size / QUART:.0f} dry qt"
    return f"{1000 * size:.0f} L"


def bags_words(bought: Purchase, system: str) -> str:
    """Bags of a purchase: ``2 x 70 L + 1 x 5 L``."""
    return " + ".join(f"{count} x {bag(size, system)}" for size, count in bought.bags)


def amount_words(bought: Purchase, system: str) -> str:
    """How much a purchase is."""
    if bought.unit == "m2":
        if system == "us":
            return f"{bought.amount / SQUARE_FOOT:.1f} sq ft"
        return f"{bought.amount:.2f} m²"
    if bought.unit == "kg":
        return quantities.worded("load", bought.amount, system) + " dry"
    return volume(bought.amount, system)


def ground_tables(
    habitat: Habitat, amount: Quantities, water: Coupled | None, system: str, *, weeks: bool = True,
    priced: Collection[str] = (),
) -> list[Table]:  # fmt: skip
    """Everything the terminal shows of the ground; ``weeks`` False leaves its water day by day out.

    Of what a price list sells in packs of its own (``priced``, keys of the list) no bags are told.
    """
    out = [_layers(habitat, amount, system), _buy(amount, system, priced), _load(amount, system)]
    out += _mixes(amount, system)
    old = [inspect(x) for x in habitat.existing if x.ground_volume > 0.0]
    if old:
        out.append(old_table(habitat, old, system))
    if water is not None:
        for outlook in water.outlooks:
            out += [_plan(outlook, system), *([_weeks(outlook, system)] if weeks else [])]
    return out


def depths_words(least: float, most: float, system: str) -> str:
    """A depth, or from the least to the most."""
    if most - least < 5e-4:
        return quantities.length(most, system)
    return f"{quantities.length(least, system)} – {quantities.length(most, system)}"


def _layers(habitat: Habitat, amount: Quantities, system: str) -> Table:
    rows = []
    for x in reversed(amount.layers):
        masses = (quantities.number("load", quantities.shown("load", m, system))
                  for m in (x.dry, x.moist, x.flooded))  # fmt: skip
        rows.append(
            (clean(x.name, 18), depths_words(x.least, x.most, system),
             quantities.length(x.loose, system), volume(x.volume, system), *masses)
        )  # fmt: skip
    unit = quantities.unit("load", system)
    return Table(
        f"{clean(habitat.name)}: layers, top first",
        ("layer", "settled", "tipped in", "volume", f"dry\n{unit}", f"moist\n{unit}",
         f"flooded\n{unit}"),
        tuple(rows), right=frozenset(range(1, 7)), tight=True,
        note="Volumes are net of backgrounds and of pieces that stand in the ground."
        + ("" if habitat.ground.level else " Tipped in: the mean over slopes and terraces."),
    )  # fmt: skip


def _buy(amount: Quantities, system: str, priced: Collection[str]) -> Table:
    rows = []
    for x in amount.layers:
        for name, reused in x.reused:
            rows.append((clean(x.name, 16), f"from '{clean(name, 20)}'", volume(reused, system),
                         "not bought", ""))  # fmt: skip
        for bought in x.buy:
            left = volume(bought.left, system) if bought.bags else ""
            bags = bags_words(bought, system)
            if bags and media_key(bought.key) in priced:
                bags, left = "shopping list", ""
            elif not bags and sheet_key(bought.key) in priced:
                bags = "as cut, see Cuts"
            rows.append((clean(x.name, 16), clean(bought.key.replace("-", " "), 22),
                         amount_words(bought, system), bags, left))  # fmt: skip
        for dose in x.doses:
            told = (volume(dose.amount, system) if dose.unit == "m3"
                    else units.show(dose.amount, "mass", system))  # fmt: skip
            rows.append((clean(x.name, 16), clean(dose.what, 22), told, "by dose", ""))
    return Table(
        "To buy", ("layer", "what", "amount", "bags", "left over"), tuple(rows),
        right=frozenset({2, 4}), tight=True,
        note="With 5 % spare and with what settling and mixing take; "
        + ("packs are those of the price list." if priced else "sizes of bags: common practice."),
    )  # fmt: skip


def _mixes(amount: Quantities, system: str) -> list[Table]:
    """What is told of each mix: water and air after draining, mass, pH."""
    rows = []
    for x in amount.layers:
        if x.blend is None:
            continue
        water, air = (f"{100 * v[1]:.0f} ({100 * v[0]:.0f} – {100 * v[2]:.0f})"
                      for v in (x.blend.container_capacity, x.blend.air_porosity))  # fmt: skip
        low, middle, high = (d / x.blend.settled[1] for d in x.blend.dry_density)
        dense = [units.show(d, "density", system).split(" ")[0] for d in (middle, low, high)]
        ph = x.blend.ph
        sour = "–" if ph is None else f"{ph[1]:.1f} ({ph[0]:.1f} – {ph[2]:.1f})"
        rows.append((clean(x.name, 16), water, air, f"{dense[0]} ({dense[1]} – {dense[2]})", sour))
    if not rows:
        return []
    unit = "lb/ft³" if system == "us" else "kg/m³"
    return [Table(
        "What the mix will be", ("layer", "water, %", "air, %", f"dry, settled\n{unit}", "pH"),
        tuple(rows), right=frozenset(range(1, 5)), tight=True,
        note=f"Told from its parts, after draining in a pot {quantities.length(POT, system)} high; "
        "ranges in brackets. "
        "Old ground is taken to be like the new where the file does not say what it is.",
    )]  # fmt: skip


def _load(amount: Quantities, system: str) -> Table:
    load = amount.load
    rows = [(LOADS.get(what, what), quantities.worded("load", m, system)) for what, m in load.parts]
    rows.append(("together", quantities.worded("load", load.total, system)))
    rows.append(("with the ground flooded", quantities.worded("load", load.flooded, system)))
    left, front = (quantities.length(v, system) for v in load.centre)
    rows.append(("its middle, from inner left and front", f"{left}, {front}"))
    rows.append((f"on the heaviest of four corners, {load.corner[0]}",
                 quantities.worded("load", load.corner[1], system)))  # fmt: skip
    rated = "not said in the file" if load.rated is None else quantities.worded(
        "load", load.rated, system
    )  # fmt: skip
    rows.append(("the stand is rated for", rated))
    if load.unknown:
        rows.append(("not known, left out", ", ".join(clean(x) for x in load.unknown)))
    return Table("", ("load on the stand", ""), tuple(rows), right=frozenset({1}))


def old_table(habitat: Habitat, sheets: Sequence[Sheet], system: str) -> Table:
    """Old ground, what was found of it, and the verdict with its reason."""
    rows = []
    for sheet in sheets:
        said = {s.asked: f"{clean(s.said, 16)} ({'?' if s.points is None else s.points})"
                for s in sheet.signs}  # fmt: skip
        worst = sheet.worst
        why = f"{worst.asked}: {clean(worst.said)}" if worst else ""
        signs = (said.get(asked, "–") for asked in ASKED)
        rows.append((clean(sheet.name, 18), volume(sheet.volume, system), *signs,
                     VERDICTS[sheet.verdict], why))  # fmt: skip
    turned = [(head, *(row[i] for row in rows)) for i, head in enumerate(
        ("volume", *ASKED, "verdict", "because of"), 1)]  # fmt: skip
    return Table(
        "Old ground", ("points in brackets", *(row[0] for row in rows)), tuple(turned),
        note="3 points in all: discard; 1 or 2: a quarter of a layer at most; none: reuse. Common "
        "practice; ask for smell, clumps, colour, wet and life under condition:.",
    )  # fmt: skip


def _plan(outlook: Outlook, system: str) -> Table:
    setting, watering = outlook.setting, outlook.forecast.watering
    rows = [("first watering after planting",
             quantities.water(litres(watering.first, setting), system))]  # fmt: skip
    landed = (setting.winter if outlook.season == "winter" else setting.summer).landed
    rows.append(("mist and dew that reach the ground a day",
                 quantities.water(litres(landed, setting), system)))  # fmt: skip
    if watering.days:
        told = quantities.water(litres(watering.amount, setting), system)
        every = "day" if watering.days == 1 else f"{watering.days} days"
        rows.append(("by hand, once new ground has used up its first watering",
                     f"{told} every {every}, from day {watering.start}"))  # fmt: skip
    elif outlook.plan.mist_most is not None:
        rows.append(("by hand", "none"))
        rows.append(("most of this mist that it can take",
                     quantities.percent(outlook.plan.mist_most)))  # fmt: skip
    else:
        rows.append(("by hand", "none needed"))
    due = outlook.draw_off()
    rows.append(("water on the floor to draw off",
                 "none" if due is None else f"from day {due:.0f} on"))  # fmt: skip
    dries = outlook.dries
    last = round(float(outlook.forecast.days[-1]))
    rows.append((f"left without any water after day {last}, it stays moist for",
                 f"more than {FOLLOWED} days" if dries is None else f"{dries:.0f} days"))  # fmt: skip
    return Table(
        "", (f"watering plan, from {_season(outlook)}", ""), tuple(rows), right=frozenset({1})
    )


def _season(outlook: Outlook) -> str:
    return SEASONS.get(outlook.season, outlook.season).removeprefix("in ")


def _weeks(outlook: Outlook, system: str) -> Table:
    found, (low, high) = outlook.forecast, outlook.setting.band
    last = len(found.days) - 1
    step = 7 if last <= 84 else 28
    rows = []
    for day in [0, 1, *range(step, last + 1, step)]:
        stands = quantities.length(float(found.run.standing[day]), system)
        rows.append((f"{day}", f"{100 * found.middle[day]:.0f}", f"{100 * found.air[day]:.0f}",
                     f"{100 * found.top[day]:.0f}", stands))  # fmt: skip
    return Table(
        f"Water in the ground, from {_season(outlook)}",
        ("day", "water in the\nmiddle, %", "air in the\nmiddle, %", "air in the\ntop, %",
         "water on\nthe floor"),
        tuple(rows), right=frozenset(range(5)),
        note=f"Wanted in the middle: {100 * low:.0f} to {100 * high:.0f} % water.",
    )  # fmt: skip
