"""What the animals' findings are called, and their reasons as clauses."""

from __future__ import annotations

from loamwright.engine.findings import Cause
from loamwright.report import quantities
from loamwright.report.plain import clean

TITLES: dict[str, str] = {
    "space-floor": "floor for the group",
    "space-sides": "length and width of the box",
    "space-height": "height over the ground",
    "space-pool": "area of open water",
    "pool-depth": "depth of open water",
    "perches": "named places to rest off the ground",
    "hides": "hides and retreats",
    "hide-warm": "a hide that is warm enough by day",
    "hide-cool": "a hide that stays cool enough by day",
    "laying-places": "places to lay eggs",
    "laying-moist": "moist ground to bury eggs in",
    "water-places": "open water to drink from",
    "group-size": "animals in the group",
    "group-males": "adult males in the group",
    "pair-inbreeding": "inbreeding of young of the closest pair that could mate",
    "sites-beyond": "named places that are out of reach",
    "dead-ends": "ends of branches from which nothing else is within reach",
    "mixed-species": "species in one box",
    "quarantine": "time in quarantine before they join",
    "enter-day": "time until they move in",
    "young-room": "animals the floor holds, against the group with one clutch of each female",
    "way-off-ground": "ways from basking to shelter that never touch the ground",
    "choice-together": "time in which warmth, UV, shelter and damp can be had in the same hour",
    "headcount": "animals counted as it is taken down",
    "eggs-missed": "chance that an egg was missed",
    "joined-diversity": "gene diversity of the joined group",
}
"""Titles of the animals' needs by their code."""

SHARES: dict[str, str] = {
    "share_warm": "a place as warm as it prefers can be had",
    "share_uv": "UV in its band can be had",
    "share_both": "both at one place can be had",
    "share_cool": "a cool and dark shelter can be had",
    "share_damp": "air of the right damp can be had",
}
"""Shares of the day as clauses."""

FIELDS: dict[str, str] = {
    "clutch": "how many eggs or young come at a time",
    "group_max": "how many one group may hold",
    "sex_ratio": "how many of each sex a group may hold",
    "air_warm": "warm end of the air by day",
    "air_cool": "cool end of the air by day",
    "preferred_body": "body temperature it prefers",
    "humidity_day": "humidity by day",
}
"""What the catalogue lacks, by field."""

MEASURES: dict[str, str] = {
    "snout-vent": "snout to vent",
    "carapace": "carapace",
    "total": "with the tail",
}
"""How a standard measures an animal."""


def clause(cause: Cause, system: str) -> str:
    """A reason of the animals' as a clause, empty where it is not one of these."""
    value, subject = cause.value, clean(cause.subject)
    match cause.kind:
        case "no_standard":
            return (
                f"no published standard for {subject or 'its family'} was found that names figures"
            )
        case "no_length":
            measure = MEASURES.get(cause.subject, subject)
            return f"its length ({measure}) is not known; give it in the file, under animals"
        case "caution":
            return f"mind: {subject}"
        case "side":
            return f"the {subject} side is the one that is nearest to its limit"
        case "lays_in":
            return f"it lays in: {subject}"
        case "no_pedigree":
            return "nobody of the group is named in the pedigree; they may be brothers and sisters"
        case "sexes":
            return f"the catalogue gives males.females as {subject}"
        case "least_akin":
            return f"of those named, the young of {subject} would be least akin"
        case "closest_pair":
            male, _, female = cause.subject.partition("|")
            return f"the closest are '{clean(male)}' and '{clean(female)}'"
        case "beyond":
            return f"'{subject}' is out of reach"
        case "gait_walls":
            walls = {"smooth": "glass and backgrounds", "rough": "backgrounds"}
            return f"walls it climbs: {walls.get(cause.subject, 'none')}"
        case "not_counted":
            return "they are not counted yet; say counted: in the file when they are"
        case "no_laying_record":
            return "no record says how much was laid: give females, since and interval under eggs:"
        case "no_detection":
            return "how surely a search finds an egg is not known: search twice, or give detection"
        case "not_judged_together":
            one, _, other = cause.subject.partition("|")
            return (
                f"each is judged for itself; how {clean(one)} and {clean(other)} bear each other is "
                "not, and nobody says so with with: under animals"
            )
        case "no_quarantine":
            return "the file does not say how long: give quarantined: under existing"
        case "no_room_rule":
            return "no standard read here asks for room for so many"
        case "no_day":
            return "the file does not say when: give enters: under animals"
        case "young_undecided":
            return (
                "whether their young stay is not said: give offspring: stay or leave under animals"
            )
        case "drops":
            return "mist leaves drops to drink besides"
    if value is None:
        return ""
    match cause.kind:
        case "animals_counted":
            return "counted: 1 animal" if value == 1 else f"counted: {value:.0f} animals"
        case "length_of":
            measure, _, kind = cause.subject.partition("|")
            told = quantities.length(value, system)
            source = "as the file says" if kind == "builder" else f"{kind}"
            return f"for a length {MEASURES.get(measure, clean(measure))} of {told} ({source})"
        case "speaks_of":
            many = "1 animal" if value == 1 else f"{value:.0f} animals"
            return f"the standard speaks of {many} at most, and the figure is for so many"
        case "mean_pair":
            return f"young would be inbred by {quantities.percent(value)} if all mated alike"
        case "best_pairs":
            return f"the best pairs are {subject}, with {quantities.percent(value)} at most"
        case "parents_unknown":
            return f"of {value:.0f} of them a parent is not known and taken as unrelated"
        case "unnamed":
            return f"{value:.0f} more are not in the pedigree"
        case "most_diverse":
            return f"of the groups alone '{subject}' keeps most, {quantities.percent(value)}"
        case "genomes":
            return f"it is worth {value:.1f} unrelated founders"
        case "heads_short":
            return f"{value:.0f} fewer than named: look again before the ground goes out"
        case "heads_over":
            return f"{value:.0f} more than named: hatched here, or not in the pedigree"
        case "eggs_found":
            told = "1 egg was" if value == 1 else f"{value:.0f} eggs were"
            times = "1 search" if subject == "1" else f"{subject} searches"
            return f"{told} found in {times}"
        case "eggs_expected":
            return f"by the record {value:.1f} eggs were to be expected"
        case "detection":
            how = "by how the finds fall" if cause.subject == "finds" else "as the file says"
            return f"a search finds {quantities.percent(value)} of what is there ({how})"
        case "more_searches":
            return "1 more search would do" if value == 1 else f"{value:.0f} more searches would do"
        case "gait_reach":
            return f"it bridges {quantities.length(value, system)}"
        case "gait_jump":
            told = f"jumps {quantities.length(value, system)}" if value else "is not known to jump"
            return f"it {told}"
        case "dead_end":
            return f"one of '{subject}' {quantities.length(value, system)} above the ground"
        case "too_many_at":
            told = f"{value:.0f}" if subject == f"{value:.0f}" else f"{value:.0f} to {subject}"
            return f"if all are reared and stay, clutch {told} is one too many"
        case "enter_quarantine":
            return f"quarantine ends on day {value:.0f} at the earliest"
        case "enter_cycle":
            return f"the planted habitat has stood for four weeks on day {value:.0f}"
        case "enter_roots":
            return f"its plants have rooted on day {value:.0f}"
        case "dry_way":
            start, _, end = cause.subject.partition("|")
            length = quantities.length(value, system)
            return f"the shortest, from '{clean(start)}' to '{clean(end)}', is {length} long"
        case kind if kind in SHARES:
            return f"{SHARES[kind]} {quantities.percent(value)} of the day"
        case "place":
            return f"'{subject}' {quantities.length(value, system)} above the ground"
    return ""
