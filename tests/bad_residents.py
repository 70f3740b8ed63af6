# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong animals, habitats they come from, pedigrees, people and needs."""

from __future__ import annotations

from bad_case import METRIC, US, Case, case, swap

ANIMALS = "animals: [{species: phelsuma-grandis, males: 1}]\n"
NEED = "quantity: uvi, low: 1, source: me"


def animals(text: str) -> str:
    return swap("{species: phelsuma-grandis, males: 1}", text)


def pedigree(*texts: str) -> str:
    return METRIC + "pedigree:\n" + "".join(f"  - {{{t}}}\n" for t in texts)


def need(text: str, base: str = METRIC) -> str:
    return base + "needs: [" + text + "]\n"


def words(key: str, text: str) -> str:
    return METRIC + f"{key}: {text}\n"


def wrong_forms() -> list[Case]:
    """Every section that is a list, as something else."""
    made = []
    for section in ("existing", "pedigree", "needs", "water", "catalogue"):
        for what, text in (
            ("a word", "▸some"),
            ("a number", "▸3"),
            ("true", "▸true"),
            ("a map", "▸{a: b}"),
        ):
            made.append(
                case(f"{section} as {what}", words(section, text), (section, r"must be a list: \["))
            )
    return made


# fmt: off
CASES = [
    *wrong_forms(),
    # animals
    case("animals in a word", swap("[{species: phelsuma-grandis, males: 1}]", "▸geckos"), ("animals", r"must be a list: \[")),
    case("a group in a word", animals("▸geckos"), ("animals[0]", "must be keys with values")),
    case("a group without a species", animals("▸{males: 1}"), ("animals[0].species", "is needed: Key of an animal")),
    case("an unknown animal", animals("{species: ▸phelsuma-grandi, males: 1}"), ("animals[0].species", "the catalogue has no animal 'phelsuma-grandi'; the nearest known is 'phelsuma-grandis'")),
    case("an animal by its common name", animals("{species: ▸Giant day gecko, males: 1}"), ("animals[0].species", "the catalogue has no animal 'Giant day gecko'; ")),
    case("no animals", animals("▸{species: phelsuma-grandis}"), ("animals[0]", "has no animals: give males, females, young or individuals")),
    case("none of them", animals("▸{species: phelsuma-grandis, males: 0, females: 0}"), ("animals[0]", "has no animals: give males")),
    case("half a male", animals("{species: phelsuma-grandis, males: ▸1.5}"), ("animals[0].males", "must be a whole number")),
    case("one male in words", animals("{species: phelsuma-grandis, males: ▸one}"), ("animals[0].males", "must be a whole number")),
    case("a male of yes", animals("{species: phelsuma-grandis, males: ▸true}"), ("animals[0].males", "must be a whole number")),
    case("fewer than none", animals("{species: phelsuma-grandis, females: ▸-2}"), ("animals[0].females", "must be 0 or more, not -2")),
    case("an army", animals("{species: phelsuma-grandis, young: ▸1000000}"), ("animals[0].young", "must be 10000 or less, not 1000000")),
    case("a number beyond all machines", animals("{species: phelsuma-grandis, young: ▸" + "9" * 39 + "}"), ("animals[0].young", "must be 10000 or less, not 999|is too large a number")),
    case("a count in sixteens", animals("{species: phelsuma-grandis, young: ▸0xffffff}"), ("animals[0].young", "must be 10000 or less, not 16777215")),
    case("a group key misspelt", animals("{species: phelsuma-grandis, males: 1, ▸femals: 2}"), ("animals[0].femals", "unknown key; the nearest known is 'females'")),
    case("from nowhere known", animals("{species: phelsuma-grandis, males: 1, from: ▸old}"), ("animals[0].from", "there is no existing habitat named 'old'; none is known")),
    case("from one unknown of two", animals("{species: phelsuma-grandis, males: 1, from: [e, ▸f]}") + "existing: [{name: e}]\n", ("animals[0].from[1]", "there is no existing habitat named 'f'; known: e|nearest")),
    case("more than there are", animals("{species: phelsuma-grandis, males: 3, from: ▸e}") + "existing: [{name: e, animals: [A]}]\npedigree: [{name: A}]\n", ("animals[0].from", "3 animals, but 'e' holds 1 of phelsuma-grandis by name")),
    case("an individual nobody knows", animals("{species: phelsuma-grandis, individuals: [▸Ada]}"), ("animals[0].individuals[0]", "there is no animal in the pedigree named 'Ada'; none is known")),
    case("an individual twice", animals("{species: phelsuma-grandis, individuals: [A, ▸A]}") + "pedigree: [{name: A, sex: male}]\n", ("animals[0].individuals[1]", "'A' is named twice, first in line 5; keep one")),
    case("an individual in two groups", animals("{species: phelsuma-grandis, individuals: [A]}, {species: phelsuma-grandis, individuals: [▸A]}") + "pedigree: [{name: A, sex: male}]\n", ("animals[1].individuals[0]", "'A' is named twice")),
    case("an individual of another kind", animals("{species: phelsuma-grandis, individuals: [▸A]}") + "pedigree: [{name: A, species: gekko-gecko}]\n", ("animals[0].individuals[0]", "'A' is gekko-gecko in the pedigree, not phelsuma-grandis")),
    case("more males than named", animals("{species: phelsuma-grandis, males: ▸2, individuals: [A]}") + "pedigree: [{name: A, sex: male}]\n", ("animals[0].males", "is 2, but the individuals named hold 1 male")),
    case("a length without a unit", animals("{species: phelsuma-grandis, males: 1, length: ▸12}"), ("animals[0].length", "12 has no unit")),
    case("a gecko as long as a dog", animals("{species: phelsuma-grandis, males: 1, length: ▸97 cm}"), ("animals[0].length", "97 cm, but the longest known is 118 mm|97 cm, but the longest known is 11.8 cm")),
    case("a tail of no length", animals("{species: phelsuma-grandis, males: 1, length: ▸12 cm, total_length: 11 cm}"), ("animals[0].length", "12 cm is more than total_length, 11 cm")),
    case("a gecko of no length", animals("{species: phelsuma-grandis, males: 1, total_length: ▸0 cm}"), ("animals[0].total_length", "must be more than 0")),
    case("an individual that is a number", animals("{species: phelsuma-grandis, individuals: [▸7]}"), ("animals[0].individuals[0]", 'must be a text; put it in quotes: "7"')),
    # existing habitats
    case("an existing habitat without a name", words("existing", "[▸{ground: 70 L}]"), ("existing[0].name", "is needed: Its name")),
    case("quarts that are neither", words("existing", "[{name: e, ground: ▸64 qt}]"), ("existing[0].ground", r"a quart is dry or liquid: write 64 qt_dry \(1.101 L each\) or 64 qt_liquid")),
    case("gallons of any kind", words("existing", "[{name: e, ground: ▸10 gal}]"), ("existing[0].ground", "gallons differ: write 10 gal_us")),
    case("ground by weight", words("existing", "[{name: e, ground: ▸40 lb}]"), ("existing[0].ground", "lb is a unit of mass, but a volume is wanted")),
    case("ground without a unit", US + "existing: [{name: e, ground: ▸70}]\n", ("existing[0].ground", "70 has no unit; write it like .20 L")),
    case("a field of ground", words("existing", "[{name: e, ground: ▸900 m3}]"), ("existing[0].ground", "must lie between")),
    case("less ground than none", words("existing", "[{name: e, ground: ▸-1 L}]"), ("existing[0].ground", "a volume cannot be negative")),
    case("a condition in words", words("existing", "[{name: e, condition: ▸good}]"), ("existing[0].condition", "must be keys with values")),
    case("a condition that is a number", words("existing", "[{name: e, condition: {moist: ▸3}}]"), ("existing[0].condition.moist", 'must be a text; put it in quotes: "3"')),
    case("an animal in it nobody knows", words("existing", "[{name: e, animals: [▸Ada]}]"), ("existing[0].animals[0]", "there is no animal in the pedigree named 'Ada'")),
    case("an animal in two places", words("existing", "[{name: e, animals: [A]}, {name: f, animals: [▸A]}]\npedigree: [{name: A}]"), ("existing[1].animals[0]", "'A' already lives in 'e'; keep one")),
    case("existing habitats of one name", words("existing", "[{name: e}, {name: ▸e}]"), ("existing[1].name", "'e' is the name of another existing habitat too")),
    # the pedigree
    case("a nameless animal", words("pedigree", "[▸{sex: male}]"), ("pedigree[0].name", "is needed: Its name")),
    case("an unknown sex", pedigree("name: A, sex: ▸m"), ("pedigree[0].sex", "'m' is not one of: male, female, unknown")),
    case("a sire nobody knows", pedigree("name: A, sire: ▸B"), ("pedigree[0].sire", "there is no animal in the pedigree named 'B'; known: A")),
    case("a sire that is female", pedigree("name: A, sire: ▸B", "name: B, sex: female"), ("pedigree[0].sire", "'B' is female; a sire is male")),
    case("a dam that is male", pedigree("name: A, dam: ▸B", "name: B, sex: male"), ("pedigree[0].dam", "'B' is male; a dam is female")),
    case("one parent twice", pedigree("name: A, sire: B, dam: ▸B", "name: B"), ("pedigree[0].dam", "'B' is the sire too; an animal has two parents")),
    case("its own father", pedigree("name: ▸A, sire: A").replace("▸A", "A").replace("- {", "- ▸{"), ("pedigree[0]", "is its own ancestor: 'A' from 'A'")),
    case("its own grandfather", pedigree("name: A, sire: B", "name: B, dam: C", "name: C, sire: A").replace("- {", "- ▸{", 1), ("pedigree[0]", "is its own ancestor: 'A' from 'B' from 'C' from 'A'")),
    case("animals of one name", pedigree("name: A", "name: ▸A"), ("pedigree[1].name", "'A' is the name of another animal too")),
    case("an unknown species in it", pedigree("name: A, species: ▸gekko-x"), ("pedigree[0].species", "the catalogue has no animal 'gekko-x'; ")),
    # people
    case("people in a word", words("people", "▸two"), ("people", "must be keys with values")),
    case("people for a whole number", words("people", "{in_front: ▸30}"), ("people.in_front", r"30 has no unit; write it like .40 s. \(units: s, min, h, d, week\)")),
    case("people for two days", words("people", "{in_front: ▸2 d}"), ("people.in_front", "must lie between 0 s and 24 h")),
    case("people in the glass", words("people", "{distance: ▸0 cm}"), ("people.distance", "must be more than 0 mm")),
    case("people far away", words("people", "{distance: ▸1 km}"), ("people.distance", "'km' is not a unit of length; ")),
    case("a key of people misspelt", words("people", "{▸infront: 30 min}"), ("people.infront", "unknown key; the nearest known is 'in_front'")),
    # needs
    case("a need of nothing", need("▸{low: 1, source: me}"), ("needs[0].quantity", "is needed: What is asked for")),
    case("a need of an unknown quantity", need("{quantity: ▸uv, low: 1, source: me}"), ("needs[0].quantity", "'uv' is not known; the nearest known is 'uv")),
    case("a need that asks nothing", need("▸{quantity: uvi, source: me}"), ("needs[0]", "asks for nothing: give low, high or both")),
    case("a need without a unit", need("{quantity: uva, low: ▸1, source: me}"), ("needs[0].low", "1 has no unit; write it like .150 W/m2")),
    case("a UV index with a unit", need("{quantity: uvi, low: ▸1 W/m2, source: me}"), ("needs[0].low", "has a unit .W/m2.; a plain number is wanted")),
    case("a need in a list", need("{quantity: uvi, low: ▸[1, 2], source: me}"), ("needs[0].low", "must be a number or a quantity")),
    case("a need upside down", need("{quantity: uvi, low: ▸3, high: 2, source: me}"), ("needs[0].low", "3 is more than high, 2")),
    case("a need upside down in units", need("{quantity: distance, low: ▸1 ft, high: 2 in, source: me}", US), ("needs[0].low", "1 ft is more than high, 2 in")),
    case("a need without a source", need("▸{quantity: uvi, low: 1}"), ("needs[0].source", "is needed: Where the number comes from")),
    case("a need with an empty source", need("{quantity: uvi, low: 1, source: ▸''}"), ("needs[0].source", "is empty: say where the number comes from")),
    case("a need at no site", need("{" + NEED + ", site: ▸sun}"), ("needs[0].site", "there is no site named 'sun'; none is known")),
    case("a need of nobody", need("{" + NEED + ", about: ▸nobody}"), ("needs[0].about", "there is no animal, plant or lamp named 'nobody'; known: people, phelsuma-grandis")),
    case("a need that faces the sun", need("{" + NEED + ", facing: ▸sun}"), ("needs[0].facing", "'sun' is not one of: up, brightest, normal")),
    case("a need below nothing", need("{quantity: uvi, low: ▸-4, source: me}"), ("needs[0].low", "-4 is below 0, which uvi never is")),
    # many at once
    case("everything at once",
         "name: ▸12\nenclosure:\n  inside: {width: ▸60, depth: 45 cm, height: 90 cm}\n  panels: {top: {material: ▸glas}}\n"
         "plants: [{species: ▸fikus-benjamina, at: [9 cm, 9 cm]}]\nanimals: [{species: phelsuma-grandis, males: ▸-1}]\n▸fans: 3\n",
         ("name", "must be a text"), ("enclosure.inside.width", "60 has no unit"), ("enclosure.panels.top.material", "no material 'glas'; "),
         ("plants[0].species", "no plant 'fikus-benjamina'"), ("animals[0].males", "must be 0 or more"), ("fans", "unknown key")),
    case("a faulty piece blames no one else",
         METRIC + "hardscape: [{name: a, shape: branch, from: [0 cm, 9 cm, 50 cm], to: [9 cm, 9 cm, 50 cm], diameter: ▸3}]\nsites: [{name: s, on: a}]\n"
         "lamps: [{name: l, type: halogen-flood-50w, at: [30 cm, 20 cm, 80 cm], aim: s}]\nneeds: [{quantity: uvi, site: s, low: 1, source: me}]\n",
         ("hardscape[0].diameter", "3 has no unit")),
    case("seven lamps, two wrong",
         METRIC + "lamps:\n" + "".join(
             f"  - {{name: l{i}, type: halogen-flood-50w, at: [30 cm, 20 cm, {'▸8' if i in (2, 5) else '80 cm'}]}}\n" for i in range(7)),
         ("lamps[2].at[2]", "8 has no unit"), ("lamps[5].at[2]", "8 has no unit")),
]
# fmt: on
