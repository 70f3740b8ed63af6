"""The care guide in words: what to do each day, week, month and year, and where that comes from."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from loamwright.habitat.habitat import Habitat
from loamwright.plan.care import DAILY, MONTHLY, TURNS, WEEKLY, YEARLY, Care
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.climate_words import SEASONS
from loamwright.report.money_words import in_system
from loamwright.report.plain import capital, clean, listing

TURN_TITLES: dict[str, str] = {
    DAILY: "Every day", WEEKLY: "Every week", MONTHLY: "Every month", YEARLY: "Every year",
}  # fmt: skip

BASES: dict[str, str] = {
    "practice": "common practice",
    "computed": "computed",
    "catalogue": "catalogue",
    "memory": "from memory",
}

NOTE = (
    "The column on the right says where a line comes from. Where makers, your veterinarian or local "
    "codes ask for more, they are right. Write down what you did, read and counted."
)

DAY = 86_400.0

Said = tuple[str, str]


def care_tables(habitat: Habitat, cares: Sequence[Care], system: str) -> list[Table]:
    """A table for each turn: what to do, how and how much, where it comes from."""
    out = []
    for turn in TURNS:
        rows = []
        for care in cares:
            if care.turn == turn:
                what, how = care_words(habitat, care, system)
                rows.append((capital(what), how, BASES.get(care.basis, care.basis)))
        if rows:
            out.append(Table(TURN_TITLES[turn], ("what", "how, how much", "basis"), tuple(rows)))
    return out


def care_words(habitat: Habitat, care: Care, system: str) -> Said:
    """One piece of work: what, and how."""
    if care.key.startswith("feed-"):
        return _feed(habitat, care, system)
    told = _WORDS.get(care.key)
    if told is not None:
        return told[0], in_system(told[1], system).format(names=_names(care))
    return _COMPUTED[care.key](habitat, care, system)


def _names(care: Care) -> str:
    return listing([clean(s) for s in care.subjects]) or "all"


def _label(habitat: Habitat, key: str) -> str:
    for group in habitat.animals:
        if group.species.key == key:
            return clean(group.species.label)
    return clean(key)


_WORDS: dict[str, Said] = {
    "bowls": ("fresh water", "{names}: empty, rinse, fill; remove what has fallen in"),
    "scrub-bowls": ("scrub bowls", "{names}: hot water and a brush kept for this alone"),
    "readings": ("read the probes",
                 "{names}: by day and by night; compare with the handover sheet"),
    "clean": ("pick up", "dung on branches, leaves and panes, food left over; a dead animal or mouldy "
              "food at once; wash hands after"),
    "panes": ("panes and doors", "wipe them; look for water that runs where it should not, check that "
              "doors shut and lock"),
    "nozzles": ("nozzles", "{names}: run them and look at each cone; descale those that drip or "
                "spray askew; disinfect tank and lines as the maker says"),
    "small-life": ("the ground's small life", "lift a piece of bark or litter: {names}; look, feel and "
                   "smell: crumbly, moist, earthy is well; sour or foul is not"),
    "uv-meter": ("measure ultraviolet", "{names}: UV index at the basking place, sensor as on the "
                 "handover sheet, lamp lit for half an hour; look away from the lamp"),
    "filters": ("dust mats and filters", "{names}: wash or change; a clogged one halves the air "
                "long before it looks grey"),
    "fans": ("fans", "{names}: unplug, brush blades and guards, listen for worn bearings; keep one "
             "spare"),
    "fans-bare": ("fans", "{names}: unplug, brush the blades, listen for worn bearings; keep one "
                  "spare"),
    "probes": ("probes against a second thermometer", "{names}: both in one place for an hour; "
               "over 1 K apart: find out which is wrong"),
    "cut-outs": ("try the independent cut-outs", "{names}: lower each limit until it cuts, then set it "
                 "back; someone stays beside it"),
    "prune-unknown": ("look at the plant", "{names}: its growth is not known; cut before it reaches a "
                      "lamp or shades a basking place"),
    "residual-current": ("residual-current protection", "press its test button: everything must go "
                         "dead; if it does not, unplug all and call an electrician"),
    "cables": ("cables and drip loops", "dry, not chafed, loops below every socket; unplug before you "
               "reach in"),
    "electrician": ("electrical check", "by a licensed electrician, as often as the local code asks"),
    "fixings": ("fixings and seams", "{names}: pull at each by hand; look at the background's edges, "
                "the seams and the stand"),
    "veterinarian": ("veterinarian", "a yearly look at the animals with a sample of droppings; at once "
                     "for one that does not eat, limps, or breathes with an open mouth"),
}  # fmt: skip


def _mass(value: float, system: str) -> str:
    """A small mass [kg]."""
    grams = 1000.0 * value
    if system == "us":
        return f"{_two(grams / 28.349523125)} oz ({_two(grams)} g)"
    return f"{_two(grams)} g" if grams < 99.5 else f"{grams:.0f} g"


def _two(value: float) -> str:
    """A number to two digits, never as a power of ten."""
    return f"{float(f'{value:.2g}'):,.10g}"


def _feed(habitat: Habitat, care: Care, system: str) -> Said:
    label = _label(habitat, care.subjects[0])
    what = f"food for the {label}"
    least = "what, how much and how often: the catalogue does not say; ask your veterinarian"
    if care.key == "feed-unknown":
        return what, f"{least}; no body mass is known to reckon from"
    kinds = {"insects": "insects of fitting size, dusted as your veterinarian advises",
             "plants": "plants", "mixed": "plants and insects", "mice": "thawed mice"}  # fmt: skip
    kind = kinds.get(care.key.removeprefix("feed-"), "food")
    text = f"{kind}; how often is not in the catalogue: ask your veterinarian"
    if care.value is not None and care.span is not None:
        low, high = (care.value * f for f in care.span)
        text += (
            f". By the law of size all of them together use about {_mass(care.value, system)} of fresh "
            f"insects a day ({_mass(low, system)} to {_mass(high, system)}): to plan with, not to "
            "feed by"
        )
    return what, text


def _look(habitat: Habitat, care: Care, _system: str) -> Said:
    counts = {
        key: sum(g.count for g in habitat.animals if g.species.key == key) for key in care.subjects
    }
    seen = listing([f"{n} x {_label(habitat, key)}" for key, n in counts.items()])
    return "look at every animal", (
        f"{seen}: seen, moving, eyes clear, skin whole; anything unusual goes into the log"
    )


def _weigh(habitat: Habitat, care: Care, _system: str) -> Said:
    return "weigh the animals", (
        f"{listing([_label(habitat, k) for k in care.subjects])}: same scales, same hour; a tenth lost "
        "in a month is a reason to call the veterinarian; leave out those that suffer from being caught"
    )


def _mist(habitat: Habitat, care: Care, system: str) -> Said:
    assert habitat.mist is not None
    times = [f"{_clock(at)} for {long:.0f} s" for at, long in habitat.mist.times]
    text = listing(times) if times else "as its controller asks"
    if care.span is not None:
        low, high = (quantities.water(m, system) for m in care.span)
        text += f"; {low} a day" if low == high else f"; {low} to {high} a day"
    return "misting runs by itself", f"{text}; see that every nozzle sprays"


def _clock(seconds: float) -> str:
    return f"{int(seconds // 3600):02d}:{int(seconds % 3600 // 60):02d}"


def _fill(_habitat: Habitat, care: Care, _system: str) -> Said:
    every = "every day" if care.every == 1 else f"every {care.every:.0f} days"
    lasts = f"; full it would last {quantities.duration(care.value)}" if care.value else ""
    return "fresh water in the mist tank", (
        f"{every}: pour away what has stood, rinse, fill with low-mineral water, no more than is used "
        f"till then{lasts}"
    )


def _water_ground(_habitat: Habitat, care: Care, system: str) -> Said:
    every = "every day" if care.every == 1 else f"every {care.every:.0f} days"
    season = SEASONS.get(care.subjects[0], care.subjects[0])
    return f"water the ground by hand, {season}", (
        f"{quantities.water(care.value or 0.0, system)} {every}, spread evenly{_begins(care)}; skip it "
        "when the middle of the ground feels wet"
    )


def _begins(care: Care) -> str:
    """From when new ground is watered: it lives on its first watering until then."""
    first = care.days[0] if care.days else 0
    if first <= 1:
        return ""
    return (
        f"; new ground that was planted in that season only from day {first} after planting on, as it "
        "was watered well when planted"
    )


def _drain(_habitat: Habitat, care: Care, _system: str) -> Said:
    text = "look at the drainage layer's level; draw off what stands above half of it"
    if care.value is not None:
        text += f"; by the forecast first about day {care.value / DAY:.0f} after planting"
    return "water under the ground", text


def _undrained(_habitat: Habitat, care: Care, _system: str) -> Said:
    text = (
        "feel the ground at the floor, in a corner: nothing drains it, so no water may stand there"
    )
    if care.value is not None:
        text += (
            f"; by the forecast some does from about day {care.value / DAY:.0f} after planting on"
        )
    return "water under the ground", f"{text}; water less, soak up what stands"


def _dung(_habitat: Habitat, care: Care, _system: str) -> Said:
    return "dung on the ground", (
        f"take {quantities.percent(care.value or 0.0)} of it out: more than the ground carries"
    )


def _litter(_habitat: Habitat, care: Care, system: str) -> Said:
    span = care.span or (0.0, 0.0)
    every = "not known" if care.every is None else f"{care.every:.0f}"
    leaf = f" of '{clean(care.subjects[0])}'" if care.subjects and care.subjects[0] else ""
    return "leaf litter", (
        f"lay {_mass(care.value or 0.0, system)} of dry leaves{leaf} about every {every} days "
        f"({span[0] / DAY:.0f} to {span[1] / DAY:.0f}); sooner where the ground shows through"
    )


def _lamps_lit(habitat: Habitat, care: Care, _system: str) -> Said:
    guarded = [clean(x.name) for x in habitat.lamps if x.guard is not None]
    guards = ""
    if guarded:
        guards = f"the guard{'s' if len(guarded) > 1 else ''} of {listing(guarded)} in place, "
    return "look at the lamps", (
        f"{_names(care)}: all lit at their hours, {guards}nothing singed or grown near"
    )


def _lamp(_habitat: Habitat, care: Care, _system: str) -> Said:
    months = (care.every or 0.0) / 30.44
    left = (care.value or 0.0) / DAY / 30.44
    told = "now" if left < 0.5 else f"first after about {_months(left)}"
    return f"change lamp {clean(care.subjects[0])}", (
        f"every {_months(months)} at its hours a day, {told}; sooner when the meter says so; write "
        "the date on it"
    )


def _months(value: float) -> str:
    """Months, above two years years."""
    if value <= 24.0:
        return "1 month" if round(value) == 1 else f"{value:.0f} months"
    return f"{value / 12.0:.2g} years"


def _lamp_unknown(_habitat: Habitat, care: Care, _system: str) -> Said:
    return f"change lamp {clean(care.subjects[0])}", "its life is not known: as the maker says"


def _prune(_habitat: Habitat, care: Care, _system: str) -> Said:
    days = ", ".join(str(d) for d in care.days[:4]) + (" …" if len(care.days) > 4 else "")
    text = (
        f"about day {days} after planting, when it reaches the top of its room: back to two thirds"
    )
    if care.span is not None and care.span[0] < care.span[1]:
        first, last = (d / DAY for d in care.span)
        text += f"; the first time between day {first:.0f} and {last:.0f}"
    return f"prune {clean(care.subjects[0])}", f"{text}; gloves, sap can irritate"


_COMPUTED: dict[str, Callable[[Habitat, Care, str], Said]] = {
    "look": _look,
    "weigh": _weigh,
    "mist": _mist,
    "fill-tank": _fill,
    "water-ground": _water_ground,
    "drain": _drain,
    "undrained": _undrained,
    "dung-ground": _dung,
    "litter": _litter,
    "lamps-lit": _lamps_lit,
    "lamp": _lamp,
    "lamp-unknown": _lamp_unknown,
    "prune": _prune,
}
