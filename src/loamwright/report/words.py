"""Findings in plain sentences. The engine gives numbers and names; here they become words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from loamwright.engine.findings import Cause, Cure, Finding, State
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import ROLES
from loamwright.habitat.sources import Source, SourceKind
from loamwright.report import (
    advice,
    animals_words,
    build_words,
    climate_words,
    decomposers_words,
    ground_words,
    plants_words,
    quantities,
    trade_offs,
)
from loamwright.report.plain import capital, clean, listing
from loamwright.report.system_words import in_system

TITLES: dict[str, str] = {
    "uv-basking": "UV at the basking place",
    "uv-retreat": "a retreat free of UV",
    "uv-steepness": "how steeply UV falls on the way (change within one body length)",
    "uv-maximum": "UV stays under the safe maximum",
    "plant-light": "plant light",
    "lamp-distance": "distance to the lamp",
    "people-uv": "UV on people in front of the open doors",
    **climate_words.TITLES,
    **ground_words.TITLES,
    **animals_words.TITLES,
    **decomposers_words.TITLES,
    **plants_words.TITLES,
    **build_words.TITLES,
}

STATES: dict[State, str] = {
    State.MISSED: "missed",
    State.CLOSE: "close",
    State.NOT_KNOWN: "not known",
    State.MET: "met",
}

FACINGS: dict[str, str] = {
    "up": "facing up",
    "brightest": "meter turned to the brightest",
    "normal": "facing as the surface does",
}

FIELDS: dict[str, str] = {
    "ferguson_zone": "Ferguson zone (how much UV its kind seeks)",
    "dli": "daily plant light",
    "lux": "illuminance",
    "min_distance": "least distance from this lamp",
    "actinic": "output weighted for people's skin and eyes",
    "uvi": "UV index",
    "uvi_step": "how steeply UV may fall along the way",
    **climate_words.FIELDS,
    **animals_words.FIELDS,
    **decomposers_words.FIELDS,
    **plants_words.FIELDS,
}

KINDS_OF_LIGHT: dict[str, str] = {
    "uvi": "ultraviolet",
    "uvi_step": "ultraviolet",
    "uva": "ultraviolet",
    "uvb": "ultraviolet",
    "ppfd": "plant light",
    "dli": "plant light",
}


@dataclass(frozen=True, slots=True)
class Worded:
    """A finding as text, nothing left to format; empty where there is nothing to say. ``mind`` is
    what other findings ask against it, where it is worded among them."""

    finding: Finding
    state: str
    title: str
    value: str
    wanted: str
    margin: str
    where: str
    when: str
    why: str
    advice: str
    source: str
    weak: bool
    mind: str = ""


def name(text: str) -> str:
    """A name out of the habitat file, in quotation marks."""
    return f"'{clean(text)}'"


def about_words(about: str, habitat: Habitat) -> str:
    """Who or what a finding concerns, as a heading."""
    for group in habitat.animals:
        if group.species.key == about:
            return f"{clean(group.species.label)} ({clean(group.species.latin)})"
    for plant in habitat.plants:
        if plant.name == about:
            return f"plant {name(about)} ({clean(plant.type.label)})"
    for starter in habitat.decomposers:
        if starter.species.key == about:
            return f"{clean(starter.species.label)} ({clean(starter.species.latin)})"
    for lamp in habitat.lamps:
        if lamp.name == about:
            return f"lamp {name(about)} ({clean(lamp.type.label)})"
    if about == "habitat":
        return "the habitat itself"
    if about == "people":
        return "people in front of the open doors"
    if about == "builder":
        return "your own needs"
    return clean(about) or "the habitat"


def title_words(finding: Finding) -> str:
    """What the need is about."""
    if finding.need == "own-need":
        return f"your own need: {quantities.NAMES.get(finding.quantity, clean(finding.quantity))}"
    if finding.need == "plant-light":
        return quantities.NAMES.get(finding.quantity, TITLES["plant-light"])
    return TITLES.get(finding.need) or clean(finding.need.replace("-", " "))


LONGEST_SOURCE = 600
"""Characters shown of a source: whoever looks it up needs all of it."""

_SAYS_KIND = re.compile(
    r"^(common practice|from memory)(, (no source|(not )?seen in (a|no) document))?( of )?[ ;:,]*"
)
"""How texts of weak sources begin that say their kind themselves."""

_WEAK = {
    SourceKind.COMMON_PRACTICE: "common practice, no source",
    SourceKind.FROM_MEMORY: "from memory, seen in no document",
}


def source_words(source: Source, system: str = "metric") -> str:
    """A source with how far it can be trusted; a weak one says so first, and once.

    Its sizes are told in the system people are shown where the words are the program's own; what quotes
    a document, or names one before a colon, keeps the document's units.
    """
    text = clean(source.text, LONGEST_SOURCE)
    if source.kind in _WEAK:
        rest = _SAYS_KIND.sub("", text).replace(f", {source.kind.value}", "")
        rest = rest if ":" in rest else in_system(rest, system)
        return f"{_WEAK[source.kind]}: {rest}" if rest else _WEAK[source.kind]
    if source.kind is SourceKind.BUILDER:
        return f"given by the builder: {text}" if text else "given by the builder"
    return f"{text} ({source.kind.value})" if text else source.kind.value


def cause_words(cause: Cause, habitat: Habitat, system: str) -> str:
    """One reason as a clause."""
    who = name(cause.subject)
    value = cause.value
    if cause.kind == "no_number":
        what = FIELDS.get(cause.subject, clean(cause.subject.replace("_", " ")))
        return f"the catalogue has no number for this: {what}"
    if cause.kind == "no_site":
        return _no_site(cause.subject)
    if cause.kind == "no_lamp":
        light = KINDS_OF_LIGHT.get(cause.subject, "light of this kind")
        return f"no {light} from any lamp gets here"
    told = (
        climate_words.clause(cause, system)
        or ground_words.clause(cause, system)
        or animals_words.clause(cause, system)
        or decomposers_words.clause(cause, system)
        or plants_words.clause(cause, system)
        or build_words.clause(cause, system)
    )
    if told:
        return told
    if value is None:
        return clean(f"{cause.kind.replace('_', ' ')} {who if cause.subject else ''}")
    share = quantities.percent(value)
    if cause.kind == "lamp_share":
        return f"{share} of it comes from {who}"
    if cause.kind == "distance":
        return f"{who} is {quantities.length(value, system)} away"
    if cause.kind == "cover":
        kept = quantities.percent(1.0 - value) if value < 1.0 else "nothing"
        return f"{_cover(cause.subject, habitat)} keeps back {kept}"
    if cause.kind == "shadow":
        return f"{who} shades off {share} of the lamp's light"
    if cause.kind == "canopy":
        return f"the crown of {who} lets {share} through"
    if cause.kind == "bounced":
        return f"{share} of it comes off panels, ground and other surfaces"
    if cause.kind == "dim":
        return f"{who} is dimmed to {share}"
    if cause.kind == "aged":
        return f"{who} has aged to {share} of its light when new"
    return clean(f"{cause.kind.replace('_', ' ')} {who} {value:.3g}")


def _no_site(subject: str) -> str:
    """What place is missing: a role nobody named, a site that is not there, or a door."""
    if subject == "door":
        return "no panel opens, so nobody works in front of open doors"
    if subject in ROLES:
        return f"the file names no site with the role {subject}"
    return f"the file has no site {name(subject)}" if subject else "the need names no site"


def _cover(place: str, habitat: Habitat) -> str:
    """What lies over an opening or round a lamp, by the place's name."""
    kinds = {"mesh": "mesh", "sheet": "clear sheet"}
    for opening in habitat.enclosure.openings:
        if opening.name == place:
            return f"the {kinds.get(opening.cover.kind, 'cover')} over {name(place)}"
    for lamp in habitat.lamps:
        if lamp.name == place:
            return f"the guard round {name(place)}"
    if any(panel.side == place for panel in habitat.enclosure.panels):
        return f"the {clean(place)} panel"
    return f"the cover at {name(place)}"


_SHARES: dict[str, str] = {
    "lamp_share": " of it comes from ",
    "lamp_heat": " of the lamps' light that warms it comes from ",
}
"""Kinds of cause of which several are told as one list, with what the further ones leave out."""


def why_words(causes: Iterable[Cause], habitat: Habitat, system: str) -> str:
    """All reasons as one sentence; shares of lamps are told together."""
    shares: dict[str, list[str]] = {kind: [] for kind in _SHARES}
    clauses: list[str] = []
    for cause in causes:
        clause = cause_words(cause, habitat, system)
        if cause.kind in _SHARES and cause.value is not None:
            told = shares[cause.kind]
            told.append(clause.replace(_SHARES[cause.kind], " from ", 1) if told else clause)
        else:
            clauses.append(clause)
    clauses = [listing(told) for told in shares.values() if told] + clauses
    sentence = "; ".join(clauses)
    return f"{capital(sentence)}." if sentence else ""


def cure_words(cure: Cure, quantity: str, system: str) -> str:
    """Something to try, with what the engine computed for it."""
    result = quantities.worded(quantity, cure.result, system)
    if cure.kind == "move" and cure.to is not None:
        change = f"moving {name(cure.subject)} to {quantities.place(cure.to, system)}"
    elif cure.kind == "dim" and cure.value is not None:
        change = f"dimming {name(cure.subject)} to {quantities.percent(cure.value)}"
    else:
        change = clean(f"{cure.kind.replace('_', ' ')} {name(cure.subject)}")
    return f"{capital(change)} gives {result} by this computation; try it and check again."


def mounting_words(cure: Cure, habitat: Habitat) -> str:
    """What to mind where a lamp is moved to: what its rods or rails would meet there."""
    if cure.kind != "move" or cure.to is None:
        return ""
    from loamwright.plan.mounts import mounts_of

    to = cure.to
    lamps = tuple(replace(x, at=to) if x.name == cure.subject else x for x in habitat.lamps)
    before = {(m.name, x) for m in mounts_of(habitat) for x in m.meets}
    after = [(m.name, x) for m in mounts_of(replace(habitat, lamps=lamps)) for x in m.meets]
    told = [
        f"what carries {name(lamp)} meets {name(met)}"
        for lamp, met in after
        if (lamp, met) not in before
    ]
    return f"Mind there: {listing(told)}." if told else ""


def advice_words(finding: Finding, habitat: Habitat, system: str) -> str:
    """What could be done: the cure computed, else what usually moves the value the right way."""
    if finding.cure is not None:
        told = cure_words(finding.cure, finding.quantity, system)
        return f"{told} {mounted}" if (mounted := mounting_words(finding.cure, habitat)) else told
    told = "; or ".join(s.text for s in advice.steps(finding, habitat))
    return f"{capital(told)}." if told else ""


def mind_words(finding: Finding, others: Sequence[Finding], habitat: Habitat) -> str:
    """Which other needs ask for the opposite, so that helping one costs the other."""
    found = [
        f"{title_words(f)} ({about_words(f.about, habitat)}, {STATES[f.state]}) asks for {asked}"
        for f, asked in trade_offs.against(finding, others)
    ]
    return f"{capital('; '.join(found))}." if found else ""


def margin_words(finding: Finding, system: str) -> str:
    """How far the value is from its nearest limit."""
    value, low, high = finding.value, finding.low, finding.high
    if value is None or finding.margin is None:
        return ""
    gaps = [(value - low, low, "lower")] if low is not None else []
    gaps += [(high - value, high, "upper")] if high is not None else []
    if not gaps or (low is not None and low <= 0.0 and high is None):
        return ""
    gap, limit, side = min(gaps, key=lambda g: g[0])
    which = "limit" if len(gaps) == 1 else f"{side} limit"
    if gap == 0:
        return f"just on the {which}"
    # Of a temperature or a humidity no share can be told: their zero is not the animals'.
    plain = finding.quantity not in quantities.TEMPERATURES and finding.quantity != "humidity"
    if plain and limit and value / limit >= 2.5:
        return f"{value / limit:.1f} times the {which}"
    if plain and limit:
        size = quantities.percent(abs(gap / limit))
    else:
        size = quantities.worded_difference(finding.quantity, gap, system)
    if gap > 0:
        return f"{size} inside the {which}"
    return f"{size} {'below' if side == 'lower' else 'above'} the {which}"


def value_words(finding: Finding, system: str) -> tuple[str, str]:
    """The value with its uncertainty, and the band wanted."""
    told, (low, high) = quantities.worded_with(
        finding.quantity, finding.value, (finding.low, finding.high), system
    )
    wanted = quantities.band(low, high)
    if finding.value is not None and finding.uncertainty:
        told = quantities.give_or_take(finding.quantity, told, finding.uncertainty, system)
    return told, f"wanted {wanted}" if wanted else ""


def where_words(finding: Finding, habitat: Habitat, system: str) -> str:
    """Site name, coordinates and how the sensor faces."""
    site = finding.site
    parts = []
    if site:
        known = {x.name for x in habitat.sites} | {x.name for x in habitat.plants}
        known |= {x.name for x in habitat.lamps}
        panel = any(p.side == site for p in habitat.enclosure.panels)
        # A place the engine puts in words of its own is not a name out of the file.
        engines = ("climate", "build")
        own = finding.engine in engines and site not in known and finding.at is None
        parts.append(f"the {clean(site)} panel" if own and panel else
                     clean(site) if own else name(site))  # fmt: skip
    if finding.at is not None:
        parts.append(f"at {quantities.place(finding.at, system)}")
    text = " ".join(parts)
    facing = FACINGS.get(finding.facing, clean(finding.facing))
    return f"{text}, {facing}" if text and facing else text


def word(finding: Finding, habitat: Habitat, system: str = "metric") -> Worded:
    """A finding in words, in the system people are shown (``metric`` or ``us``)."""
    value, wanted = value_words(finding, system)
    why = why_words(finding.causes, habitat, system)
    if finding.quantity == "exposure_time":
        why = why.replace("of it comes", "of the dose comes")
    return Worded(
        finding=finding,
        state=STATES[finding.state],
        title=title_words(finding),
        value=value,
        wanted=wanted,
        margin=margin_words(finding, system),
        where=where_words(finding, habitat, system),
        when=clean(finding.when),
        why=why,
        advice=advice_words(finding, habitat, system),
        source=source_words(finding.source, system),
        weak=finding.source.weak,
    )
