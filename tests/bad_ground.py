# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong mixes, reused ground, prices, and own components of the catalogue."""

from __future__ import annotations

from bad_case import METRIC, US, case, swap

HELD = "existing: [{name: left, ground: 5 L}, {name: right, ground: 8 L}]\n"
OWN = "catalogue: [own.yaml]\n"
GRIT = "components:\n  grit:\n    role: drainage\n    dry_density: [1400 kg/m3, 1600 kg/m3]\n    moist_density: [1500 kg/m3, 1800 kg/m3]\n    sources: {'*': the kitchen scale}\n"


def mix(text: str, held: str = HELD) -> str:
    """A mix of 60 cm x 45 cm x 10 cm = 27 L."""
    return swap("10 cm}", "10 cm, " + text + "}") + held


def money(text: str) -> str:
    return METRIC + "money: " + text + "\n"


def grit(old: str, new: str) -> dict[str, str]:
    """An own component with one thing in it changed."""
    assert GRIT.count(old) == 1
    return {"own.yaml": GRIT.replace(old, new)}


def own(group: str, entries: str) -> dict[str, str]:
    """An own catalogue of one group."""
    return {"own.yaml": f"{group}: {entries}\n"}


PARTS, REUSE, FROM, SHARE = (
    "ground[0].parts",
    "ground[0].reuse",
    "ground[0].reuse[0].from",
    "ground[0].reuse[0].share",
)

# fmt: off
CASES = [
    # parts
    case("a component nobody knows", mix("parts: {coir: 4, ▸composted-barck: 3}"), (PARTS + ".composted-barck", "the catalogue has no component 'composted-barck'; .*'composted-bark'")),
    case("two components nobody knows", mix("parts: {▸choir: 4, ▸snad: 3}"), (PARTS + ".choir", "no component 'choir'.*'coir'"), (PARTS + ".snad", "no component 'snad'.*'sand'")),
    case("parts that sum to nothing", mix("parts: ▸{coir: 0, sand: 0}"), (PARTS, "sum to 0: at least one component needs more than 0 parts")),
    case("no parts in the parts", mix("parts: ▸{}"), (PARTS, "sum to 0: at least one component")),
    case("fewer parts than none", mix("parts: {coir: 2, sand: ▸-1}"), (PARTS + ".sand", r"-1 must lie between 0 and 1e\+06")),
    case("parts with a unit", mix("parts: {coir: ▸4 L}"), (PARTS + ".coir", "'4 L' must be a plain number")),
    case("parts as a list", mix("parts: ▸[coir, sand]"), (PARTS, "must be keys with values")),
    case("parts of a litter", swap("[{kind: mix, depth: 10 cm}]", "[{kind: leaf-litter, ▸parts: {coir: 1}}]"), (PARTS, "belongs to a mix, not to leaf-litter")),
    # finished mixes and media
    case("a finished mix nobody knows", mix("mix: ▸tropcial"), ("ground[0].mix", "the catalogue has no mix 'tropcial'; .*'tropical'")),
    case("a finished mix with parts too", mix("▸mix: woodland, parts: {coir: 1}"), ("ground[0].mix", "parts of its own or is a finished mix, not both")),
    case("a finished mix of a litter", swap("[{kind: mix, depth: 10 cm}]", "[{kind: leaf-litter, ▸mix: woodland}]"), ("ground[0].mix", "belongs to a mix, not to leaf-litter")),
    case("a finished mix in a number", mix("mix: ▸3"), ("ground[0].mix", "must be a text")),
    case("a medium nobody knows", mix("medium: ▸choir"), ("ground[0].medium", "the catalogue has no medium 'choir'; .*'coir'")),
    case("a medium of a fleece nobody knows", swap("[{kind: mix, depth: 10 cm}]", "[{kind: fleece, medium: ▸flece}]"), ("ground[0].medium", "no medium 'flece'.*'fleece'")),
    # reuse
    case("reuse in a drainage", swap("[{kind: mix, depth: 10 cm}]", "[{kind: drainage-mat, ▸reuse: [{from: left, share: 0.1}]}]") + HELD, (REUSE, "belongs to a mix, not to drainage-mat")),
    case("reuse from nowhere", mix("reuse: [{from: ▸lefft, share: 0.1}]"), (FROM, "there is no existing habitat named 'lefft'; .*'left'")),
    case("reuse where nothing is taken down", mix("reuse: [{from: ▸left, share: 0.1}]", ""), (FROM, "there is no existing habitat named 'left'")),
    case("a share above one", mix("reuse: [{from: left, share: ▸1.2}]"), (SHARE, "1.2 must lie between 0 and 1, or be a percentage")),
    case("a share below nothing", mix("reuse: [{from: left, share: ▸-0.1}]"), (SHARE, "-0.1 must lie between 0 and 1")),
    case("a share above all", mix("reuse: [{from: left, share: ▸120 %}]"), (SHARE, "'120 %' must lie between 0 % and 100 %")),
    case("a share in litres", mix("reuse: [{from: left, share: ▸4 L}]"), (SHARE, "4 L")),
    case("a share that is true", mix("reuse: [{from: left, share: ▸true}]"), (SHARE, "must be a number from 0 to 1, or a percentage")),
    case("no share", mix("reuse: [▸{from: left}]"), (SHARE, "is needed: Its share of this layer's volume")),
    case("a reuse in words", mix("reuse: ▸left"), (REUSE, "must be a list")),
    case("a reuse misspelt", mix("reuse: [{from: left, ▸shares: 0.1, share: 0.1}]"), ("ground[0].reuse[0].shares", "unknown key; ")),
    case("more than all of a mix", mix("reuse: ▸[{from: left, share: 0.6}, {from: right, share: 50 %}]", "existing: [{name: left, ground: 90 L}, {name: right, ground: 90 L}]\n"), (REUSE, "0.6 . 50 % make 1.1 of the layer; at most 1")),
    case("the same ground twice in a layer", mix("reuse: [{from: left, share: 0.05}, {from: ▸left, share: 0.05}]"), ("ground[0].reuse[1].from", "'left' is named twice in this layer; give one share")),
    case("more ground than there is", mix("reuse: [{from: left, share: ▸0.3}]"), (SHARE, "0.3 of 27 L is 8.1 L of ground, but 'left' holds 5 L")),
    case("more ground than there is, in US units", swap("4 in}", "4 in, reuse: [{from: left, share: ▸50 %}]}", US) + "existing: [{name: left, ground: 10 qt_dry}]\n", (SHARE, "50 % of .* is .* of ground, but 'left' holds 10 .*qt")),
    case("ground of a habitat without any", mix("reuse: [{from: left, share: ▸0.3}]", "existing: [{name: left}]\n"), (SHARE, "is 8.1 L of ground, but 'left' holds 0 ")),
    case("one ground in two layers", swap("[{kind: mix, depth: 10 cm}]", "[{name: a, kind: mix, depth: 10 cm, reuse: [{from: left, share: 0.15}]}, {name: b, kind: mix, depth: 10 cm, reuse: [{from: left, share: ▸0.15}]}]") + HELD, ("ground[1].reuse[0].share", "0.15 of 27 L, with layers below, is 8.1 L of ground, but 'left' holds 5 L")),
    case("a mix without depth, all wrong", swap("10 cm}]", "10 cm}, ▸{kind: mix, parts: {▸choir: 1}, reuse: [{from: ▸lefft, share: 0.1}]}]") + HELD, ("ground[1].depth", "is needed for mix"), ("ground[1].parts.choir", "no component 'choir'"), ("ground[1].reuse[0].from", "no existing habitat named 'lefft'")),
    case("old ground of a mix nobody knows", mix("reuse: [{from: left, share: 0.1}]", "existing: [{name: left, ground: 5 L, mix: ▸tropcial}]\n"), ("existing[0].mix", "no mix 'tropcial'.*'tropical'")),
    # slopes, terraces, additions
    case("a slope without a side", mix("slope: ▸{rise: 4 cm}"), ("ground[0].slope.high", "is needed: The side it rises to")),
    case("a slope to the ceiling", mix("slope: {high: ▸up, rise: 4 cm}"), ("ground[0].slope.high", "'up' is not one of: back, front, left, right")),
    case("a slope down", mix("slope: {high: back, rise: ▸-4 cm}"), ("ground[0].slope.rise", "'-4 cm' must be more than 0")),
    case("a slope deeper than its layer", mix("slope: ▸{high: back, rise: 24 cm}"), ("ground[0].slope", "leaves the layer -2 cm deep at x = 0 cm, y = 0 cm; it is 10 cm deep in its middle: make it deeper")),
    case("a slope into the ceiling", swap("[{kind: mix, depth: 10 cm}]", "▸[{kind: mix, depth: 10 cm, slope: {high: back, rise: 18 cm}, terraces: [{from: [0 cm, 0 cm], to: [60 cm, 45 cm], rise: 75 cm}]}]"), ("ground", "slopes and terraces reach 94 cm high; inside height 90 cm")),
    case("a slope of a mat", swap("[{kind: mix, depth: 10 cm}]", "[{kind: drainage-mat, ▸slope: {high: back, rise: 4 cm}}]"), ("ground[0].slope", "belongs to loose ground; a drainage-mat is as thick everywhere")),
    case("a terrace outside", mix("terraces: [{from: [0 cm, ▸-5 cm], to: [▸70 cm, 20 cm], rise: 4 cm}]"), ("ground[0].terraces[0].from[1]", "reaches y = -5 cm; the inside begins at 0"), ("ground[0].terraces[0].to[0]", "the terrace reaches x = 70 cm; inside width 60 cm")),
    case("a terrace from right to left", mix("terraces: [{from: [30 cm, 0 cm], to: [▸10 cm, 20 cm], rise: 4 cm}]"), ("ground[0].terraces[0].to[0]", "10 cm is not beyond 30 cm; give the corners left to right")),
    case("a hollow through the floor", mix("terraces: ▸[{from: [0 cm, 0 cm], to: [10 cm, 20 cm], rise: -12 cm}]"), ("ground[0].terraces", "leaves the layer -2 cm deep")),
    case("a dose without volume", mix("additions: [{what: lime, dose: ▸2 g}]"), ("ground[0].additions[0].dose", "a dose is wanted")),
    case("a dose of more than half", mix("additions: [{what: char, dose: ▸60 %}]"), ("ground[0].additions[0].dose", "must lie between 0 % and 50 %")),
    case("a dose twice", mix("additions: [{what: lime, dose: 2 g/L}, {what: ▸lime, dose: 1 g/L}]"), ("ground[0].additions[1].what", "'lime' is added twice; give one dose")),
    case("lime on leaves", swap("[{kind: mix, depth: 10 cm}]", "[{kind: leaf-litter, ▸additions: [{what: lime, dose: 2 g/L}]}]"), ("ground[0].additions", "belong to ground that is mixed, not to leaf-litter")),
    case("more ground than there is with a terrace", mix("terraces: [{from: [0 cm, 0 cm], to: [60 cm, 45 cm], rise: 10 cm}], reuse: [{from: left, share: ▸0.1}]"), ("ground[0].reuse[0].share", "0.1 of 54 L is 5.4 L of ground, but 'left' holds 5 L")),
    # money
    case("money without currency", money("▸{labour: 42/h}"), ("money.currency", "is needed: Three capital letters, such as EUR")),
    case("a currency in words", money("{currency: ▸Euro}"), ("money.currency", "'Euro' is no currency; write its three capital letters, such as EUR")),
    case("a price without unit", money("{currency: EUR, electricity: ▸0.31}"), ("money.electricity", "kWh")),
    case("a price by the hour", money("{currency: EUR, electricity: ▸0.31/h}"), ("money.electricity", "kWh")),
    case("a wage by the kilowatt hour", money("{currency: EUR, labour: ▸42/kWh}"), ("money.labour", "/h")),
    case("a margin without sign", money("{currency: EUR, margin: ▸20}"), ("money.margin", "%")),
    case("a margin below nothing", money("{currency: EUR, margin: ▸-20 %}"), ("money.margin", "negative|between")),
    case("money in one text", money("▸42 EUR"), ("money", "must be keys with values")),
    case("a price list that is not there", money("{currency: EUR, prices: ▸prices.csv}"), ("money.prices", "there is no file 'prices.csv' in the project's folder")),
    case("a price list elsewhere", money("{currency: EUR, prices: ▸../prices.csv}"), ("money.prices", "leaves the project's folder")),
    case("a price list from the root", money("{currency: EUR, prices: ▸/etc/prices.csv}"), ("money.prices", "is an absolute path")),
    case("a price list that is no table", money("{currency: EUR, prices: ▸prices.ods}"), ("money.prices", "'prices.ods' must be a CSV file, such as prices.csv")),
    case("all wrong with the money", money("{currency: EUR, margin: ▸20, prices: ▸prices.csv}"), ("money.margin", "%"), ("money.prices", "there is no file")),
    # own media and mixes
    case("an own medium that holds less than it keeps", OWN + METRIC, ("media.bag.residual", "0.95 is not below saturated, 0.943"), beside=own("media", "{bag: {like: coir, residual: ▸95 %, sources: {'*': me}}}")),
    case("an own medium of negative suction", OWN + METRIC, ("media.bag.air_entry", "below 0 mm"), beside=own("media", "{bag: {like: coir, air_entry: ▸-2 cm, sources: {'*': me}}}")),
    case("an own medium without air entry", OWN + METRIC, ("media.bag.air_entry", "above zero"), beside=own("media", "{bag: {like: coir, air_entry: ▸0 cm, sources: {'*': me}}}")),
    case("an own medium whose pores are all alike and more", OWN + METRIC, ("media.bag.n", "1 is below 1.01"), beside=own("media", "{bag: {like: coir, n: ▸1, sources: {'*': me}}}")),
    case("an own medium that holds more than its volume", OWN + METRIC, ("media.bag.saturated", "100 %|above 1"), beside=own("media", "{bag: {like: coir, saturated: ▸120 %, sources: {'*': me}}}")),
    case("an own cover that holds nothing", OWN + METRIC, ("media.bag.form", "a cover needs holds"), beside=own("media", "{bag: {like: coir, form: ▸cover, sources: {'*': me}}}")),
    case("an own ground that holds as leaves do", OWN + METRIC, ("media.bag.holds", "belongs to a cover"), beside=own("media", "{bag: {like: coir, holds: ▸2, sources: {'*': me}}}")),
    case("an own medium that dries warmer", OWN + METRIC, ("media.bag.heat_conductivity_dry", r"0.6 W/\(m K\) is more than wet, 0.5"), beside=own("media", "{bag: {like: coir, heat_conductivity_dry: ▸0.6 W/(m K), sources: {'*': me}}}")),
    case("an own mix of something unknown", OWN + METRIC, ("mixes.mine.parts", "there is no component 'choir'; .*'coir'"), beside=own("mixes", "{mine: {use: all, parts: ▸{choir: 1}, sources: {'*': me}}}")),
    case("an own mix of nothing", OWN + METRIC, ("mixes.mine.parts", "sums to 0"), beside=own("mixes", "{mine: {use: all, parts: ▸{coir: 0}, sources: {'*': me}}}")),
    case("an own mix in words", OWN + METRIC, ("mixes.mine.parts", "is not a recipe"), beside=own("mixes", "{mine: {use: all, parts: ▸coir and sand, sources: {'*': me}}}")),
    case("an own mix with a share of weight", OWN + METRIC, ("mixes.mine.parts.coir", "has a unit"), beside=own("mixes", "{mine: {use: all, parts: {coir: ▸1 kg}, sources: {'*': me}}}")),
    case("an own mix measured as nothing known", OWN + METRIC, ("mixes.mine.medium", "there is no medium 'bag'"), beside=own("mixes", "{mine: {use: all, parts: {coir: 1}, medium: ▸bag, sources: {'*': me}}}")),
    case("an own component that holds as nothing known", OWN + METRIC, ("components.grit.medium", "there is no medium 'stones'"), beside=grit("role: drainage", "role: drainage\n    medium: ▸stones")),
    # own components
    case("an own component without a role", OWN + METRIC, ("components.grit", "role is missing"), beside=grit("    role: drainage\n    dry_density", "    ▸dry_density")),
    case("an own component of unknown mass", OWN + METRIC, ("components.grit.moist_density", "is not known at all"), beside=grit("[1500 kg/m3, 1800 kg/m3]", "▸[null, null]")),
    case("an own component that dries heavier", OWN + METRIC, ("components.grit.moist_density", "at most 1000 kg/m3, but the dry density is 1400 kg/m3 or more"), beside=grit("[1500 kg/m3, 1800 kg/m3]", "▸[900 kg/m3, 1000 kg/m3]")),
    case("more in the pores than pores", OWN + METRIC, ("components.grit.porosity", "0.4 of the volume are pores, .* at least 0.5"), beside=grit("role: drainage", "role: drainage\n    porosity: ▸[35 %, 40 %]\n    container_capacity: [20 %, null]\n    air_porosity: [30 %, 35 %]")),
    case("a component more acid than acid", OWN + METRIC, ("components.grit.ph[1]", "above 14"), beside=grit("role: drainage", "role: drainage\n    ph: [6, ▸15]")),
]
