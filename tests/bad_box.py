# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong head, room, enclosure, ground, water and day of a habitat file."""

from __future__ import annotations

from bad_case import METRIC, US, case, swap


def panel(text: str) -> str:
    return swap("90 cm}", "90 cm}\n  panels: " + text)


def hole(text: str, base: str = METRIC) -> str:
    end = "90 cm}" if base is METRIC else "36 in}"
    return swap(end, end + "\n  openings: [" + text + "]", base)


def lining(text: str) -> str:
    return swap("90 cm}", "90 cm}\n  lining: [" + text + "]")


def ground(text: str, base: str = METRIC) -> str:
    return swap("10 cm" if base is METRIC else "4 in", text, base)


WIDTH = "enclosure.inside.width"
HOLE = "name: o, panel: top, at: [30 cm, 20 cm], size: [9 cm, 9 cm]"

# fmt: off
CASES = [
    # the head
    case("no name", "▸" + swap("name: Small\n", ""), ("name", "is needed: The habitat's name")),
    case("no enclosure", "▸name: a\nanimals: [{species: phelsuma-grandis, males: 1}]\n", ("enclosure", "is needed: The box")),
    case("a name that is a list", swap("Small", "▸[a]"), ("name", "must be a text")),
    case("a name that is a number", swap("Small", "▸12"), ("name", 'must be a text; put it in quotes: "12"')),
    case("a name that is octal in old YAML", swap("Small", "▸0o17"), ("name", "must be a text; put it in quotes")),
    case("a name that is true", swap("Small", "▸true"), ("name", 'must be a text; put it in quotes: "true"')),
    case("a name without letters", swap("Small", "▸'  '"), ("name", "must not be empty")),
    case("a name without a value", swap("name: Small", "▸name:"), ("name", "is needed: The habitat's name")),
    case("a name without end", swap("Small", "▸" + "x" * 81), ("name", "is too long: at most 80 characters")),
    case("a name of two lines", swap("Small", '▸"a\\nb"'), ("name", "must be a single line without tabs")),
    case("a block as a name", swap("Small", "▸|\n  a\n  b"), ("name", "must be a single line without tabs")),
    case("an unknown purpose", METRIC + "purpose: ▸zoo\n", ("purpose", "'zoo' is not one of: exhibit, breeding, retail, private")),
    case("a purpose that is a date", METRIC + "purpose: ▸2024-02-30\n", ("purpose", "'2024-02-30' is not one of: exhibit")),
    case("unknown units", METRIC + "units: ▸imperial\n", ("units", "'imperial' is not one of: metric, us")),
    case("units in capitals", METRIC + "units: ▸US\n", ("units", "'US' is not one of: metric, us")),
    case("another format", METRIC + "format: ▸2\n", ("format", "2 is not one of: 1")),
    case("a format in words", METRIC + "format: ▸one\n", ("format", "'one' is not one of: 1")),
    case("a format of on", METRIC + "format: ▸on\n", ("format", "'on' is not one of: 1")),
    case("a format of true", METRIC + "format: ▸true\n", ("format", "'true' is not one of: 1")),
    case("a section misspelt", METRIC + "▸lampes: []\n", ("lampes", "unknown key; the nearest known is 'lamps'")),
    case("a section in capitals", METRIC + "▸Plants: []\n", ("Plants", "unknown key; the nearest known is 'plants'")),
    case("a section nobody knows", METRIC + "▸fans: []\n", ("fans", "unknown key; ")),
    case("nobody lives in it", "▸" + swap("animals: [{species: phelsuma-grandis, males: 1}]\n", ""), ("", "has no animal and no plant: give at least one under animals or plants")),
    # the inside
    case("no inside", "name: a\nenclosure: ▸{panels: {}}\nanimals: [{species: phelsuma-grandis, males: 1}]\n", ("enclosure.inside", "is needed: Inside width, depth and height")),
    case("an enclosure in words", "name: a\nenclosure: ▸glass\nanimals: [{species: phelsuma-grandis, males: 1}]\n", ("enclosure", "must be keys with values")),
    case("an inside as a list", "name: a\nenclosure: {inside: ▸[60 cm, 45 cm, 90 cm]}\nanimals: [{species: phelsuma-grandis, males: 1}]\n", ("enclosure.inside", "must be keys with values")),
    case("an inside in one text", "name: a\nenclosure: {inside: ▸60 x 45 x 90 cm}\nanimals: [{species: phelsuma-grandis, males: 1}]\n", ("enclosure.inside", "must be keys with values")),
    case("no width", swap("{width: 60 cm, ", "▸{"), (WIDTH, "is needed: Inside width, left to right")),
    case("no depth", swap("{width: 60 cm, depth: 45 cm,", "▸{width: 60 cm,"), ("enclosure.inside.depth", "is needed: Inside depth, front to back")),
    case("no height", swap("{width: 60 cm, depth: 45 cm, height: 90 cm}", "▸{width: 60 cm, depth: 45 cm}"), ("enclosure.inside.height", "is needed: Inside height, floor to top")),
    case("a depth misspelt", swap("{width: 60 cm, depth:", "▸{width: 60 cm, ▸dpth:"), ("enclosure.inside.depth", "is needed"), ("enclosure.inside.dpth", "unknown key; the nearest known is 'depth'")),
    case("a width without a value", swap("{width: 60 cm,", "{▸width: ,"), (WIDTH, "is needed")),
    case("no unit", swap("60 cm", "▸60"), (WIDTH, r'60 has no unit; write it like "16 mm" \(units: mm, cm, m, in, ft\)')),
    case("no unit, as a text", swap("60 cm", "▸'60'"), (WIDTH, "'60': the unit is missing; write it like")),
    case("a unit of something else", swap("60 cm", "▸60 kg"), (WIDTH, "kg is a unit of mass, but a length is wanted; write it like")),
    case("a unit nobody knows", swap("60 cm", "▸60 furlongs"), (WIDTH, "'furlongs' is not a unit of length; .*units are mm, cm, m, in, ft")),
    case("a unit in capitals", swap("60 cm", "▸60 CM"), (WIDTH, "'CM' is not a unit of length; did you mean 60 cm")),
    case("a unit written out", swap("60 cm", "▸60 inches"), (WIDTH, "'inches' is not a unit of length; did you mean 60 in")),
    case("a decimal comma", swap("60 cm", '▸"60,5 cm"'), (WIDTH, "a comma is not read as a decimal mark; write 60.5 cm")),
    case("a decimal comma without quotes", swap("60 cm", "▸60,▸5 cm"), (WIDTH, "60 has no unit"), ("enclosure.inside.5 cm", "unknown key; ")),
    case("a range", swap("60 cm", "▸60-70 cm"), (WIDTH, "sums, products and ranges are not worked out; write one number and one unit")),
    case("a product", swap("60 cm", "▸2*30 cm"), (WIDTH, "sums, products and ranges are not worked out")),
    case("a fraction in one letter", swap("60 cm", "▸23½ in"), (WIDTH, "write the fraction out, like 36 1/2")),
    case("a fraction over nothing", swap("60 cm", "▸1/0 m"), (WIDTH, "a fraction cannot be over zero")),
    case("inches beyond twelve", swap("60 cm", "▸2 ft 14 in"), (WIDTH, "write feet and inches like 5 ft 6 1/2 in, inches under 12")),
    case("words", swap("60 cm", "▸wide"), (WIDTH, "'wide' does not begin with a number; write it like")),
    case("about", swap("60 cm", "▸ca. 60 cm"), (WIDTH, "does not begin with a number; write it like")),
    case("nothing between quotes", swap("60 cm", "▸''"), (WIDTH, "an empty text is not a length; write it like")),
    case("yes", swap("60 cm", "▸yes"), (WIDTH, "'yes' does not begin with a number")),
    case("true", swap("60 cm", "▸true"), (WIDTH, "true is not a length; write it like")),
    case("a width that is a list", swap("60 cm", "▸[60 cm]"), (WIDTH, "a list is not one quantity; write it like")),
    case("a map", swap("60 cm", "▸{cm: 60}"), (WIDTH, "a group of keys is not one quantity; write it like")),
    case("a date", swap("60 cm", "▸2024-01-01"), (WIDTH, "'2024-01-01': ")),
    case("nothing wide", swap("60 cm", "▸0 cm"), (WIDTH, "'0 cm' must be more than 0 mm")),
    case("less than nothing", swap("60 cm", "▸-60 cm"), (WIDTH, "'-60 cm' must be more than 0 mm")),
    case("a hall", swap("60 cm", "▸900 m"), (WIDTH, "'900 m' must lie between 0 mm and 100 m|must be at most 100 m")),
    case("a number beyond all", swap("60 cm", "▸1e400 cm"), (WIDTH, "the number is too large or too small to be meant")),
    case("a number below all", swap("60 cm", "▸1e-400 cm"), (WIDTH, "the number is too large or too small to be meant")),
    case("a power that would fill the memory", swap("60 cm", "▸1e999999999 cm"), (WIDTH, "the number is too large or too small to be meant")),
    case("not a number in words", swap("60 cm", "▸nan cm"), (WIDTH, "is not a usable number; write it like")),
    case("no end in words", swap("60 cm", "▸inf cm"), (WIDTH, "is not a usable number; write it like")),
    case("an endless text", swap("60 cm", "▸'" + "6" * 900 + " cm'"), (WIDTH, "is too long for a length; write it like")),
    case("feet in metric words", swap("24 in", "▸24 mil", US), (WIDTH, "'mil' is not a unit of length; ")),
    case("quarts for a length", swap("24 in", "▸24 qt_dry", US), (WIDTH, "qt_dry is a unit of volume, but a length is wanted")),
    case("an inside key too many", swap("90 cm}", "90 cm, ▸length: 60 cm}"), ("enclosure.inside.length", "unknown key; ")),
    # panels
    case("panels as a list", panel("▸[glass]"), ("enclosure.panels", "must be keys with values")),
    case("a side that is none", panel("{▸lid: {}}"), ("enclosure.panels.lid", "unknown key; known: |unknown key; the nearest")),
    case("a panel in a word", panel("{top: ▸glass}"), ("enclosure.panels.top", "must be keys with values")),
    case("an unknown panel material", panel("{top: {material: ▸float-glas}}"), ("enclosure.panels.top.material", "the catalogue has no material 'float-glas'; the nearest known is 'float-glass'")),
    case("a material that is a lamp", panel("{top: {material: ▸halogen-flood-50w}}"), ("enclosure.panels.top.material", "the catalogue has no material 'halogen-flood-50w'; ")),
    case("a panel of nothing", panel("{top: {thickness: ▸0 mm}}"), ("enclosure.panels.top.thickness", "must be more than 0 mm")),
    case("half a door", panel("{front: {doors: ▸1.5}}"), ("enclosure.panels.front.doors", "must be a whole number")),
    case("doors in words", panel("{front: {doors: ▸two}}"), ("enclosure.panels.front.doors", "must be a whole number")),
    case("doors in quotes", panel("{front: {doors: ▸'2'}}"), ("enclosure.panels.front.doors", "must be a whole number")),
    case("doors of yes", panel("{front: {doors: ▸true}}"), ("enclosure.panels.front.doors", "must be a whole number")),
    case("fewer doors than none", panel("{front: {doors: ▸-1}}"), ("enclosure.panels.front.doors", "must be 0 or more, not -1")),
    case("doors without number", panel("{front: {doors: ▸99999999999999999999}}"), ("enclosure.panels.front.doors", "must be 10000 or less|too large a number")),
    case("a gap without unit", panel("{front: {gap: ▸2}}"), ("enclosure.panels.front.gap", "2 has no unit")),
    case("a panel key misspelt", panel("{front: {▸thicknes: 4 mm}}"), ("enclosure.panels.front.thicknes", "unknown key; the nearest known is 'thickness'")),
    # openings and linings
    case("an opening without a panel", hole("▸{name: o, at: [30 cm, 20 cm], size: [9 cm, 9 cm]}"), ("enclosure.openings[0].panel", "is needed: The panel it is in")),
    case("an opening in no panel", hole("{" + HOLE.replace("top", "▸roof") + "}"), ("enclosure.openings[0].panel", "'roof' is not one of: floor, back, left, right, top, front")),
    case("an opening with a height", hole("{" + HOLE.replace("[30 cm, 20 cm]", "▸[30 cm, 20 cm, 90 cm]") + "}"), ("enclosure.openings[0].at", "has 3 parts; at most 2 are read")),
    case("an opening with one size", hole("{" + HOLE.replace("[9 cm, 9 cm]", "▸[9 cm]") + "}"), ("enclosure.openings[0].size", "has 1 parts?; 2 are needed")),
    case("an opening of no size", hole("{" + HOLE.replace("[9 cm, 9 cm]", "[9 cm, ▸0 cm]") + "}"), ("enclosure.openings[0].size[1]", "must be more than 0 mm")),
    case("an opening beyond its panel", hole("{" + HOLE.replace("[30 cm", "[▸58 cm") + "}"), ("enclosure.openings[0].at[0]", "the opening reaches x 53.5 cm to 62.5 cm; inside width 60 cm")),
    case("an opening beyond it in inches", hole("{name: o, panel: left, at: [9 in, ▸35 in], size: [4 in, 4 in]}", US), ("enclosure.openings[0].at[1]", "the opening reaches z 33 in to 37 in; inside height 36 in")),
    case("openings that overlap", hole("{" + HOLE + "}, {" + HOLE.replace("name: o", "name: p").replace("[30 cm, 20 cm]", "▸[34 cm, 24 cm]") + "}"), ("enclosure.openings[1].at", r"the opening at \[34 cm, 24 cm\] overlaps 'o' at \[30 cm, 20 cm\]")),
    case("openings of one name", hole("{" + HOLE + "}, {" + HOLE.replace("name: o", "name: ▸o").replace("panel: top", "panel: floor") + "}"), ("enclosure.openings[1].name", r"'o' is the name of another opening too \(line 4\); names must differ")),
    case("an unknown cover", hole("{" + HOLE + ", cover: ▸steel-mesh-5mm}"), ("enclosure.openings[0].cover", "the catalogue has no cover 'steel-mesh-5mm'; the nearest known is 'steel-mesh-")),
    case("openings as a map", swap("90 cm}", "90 cm}\n  openings: ▸{name: o}"), ("enclosure.openings", r"must be a list: \[")),
    case("an opening in words", hole("▸window"), ("enclosure.openings[0]", "must be keys with values")),
    case("a lining without a material", lining("▸{name: l, panel: back, thickness: 2 cm}"), ("enclosure.lining[0].material", "is needed: Key of a material")),
    case("a lining of an unknown material", lining("{name: l, panel: back, material: ▸crok, thickness: 2 cm}"), ("enclosure.lining[0].material", "no material 'crok'; the nearest known is 'cork'")),
    case("a lining without thickness", lining("▸{name: l, panel: back, material: cork}"), ("enclosure.lining[0].thickness", "is needed: How far it stands out")),
    case("a lining thicker than the box", lining("{name: l, panel: back, material: cork, thickness: ▸50 cm}"), ("enclosure.lining[0].thickness", "linings of front and back take 50 cm together; inside depth 45 cm")),
    case("linings that meet", lining("{name: l, panel: left, material: cork, thickness: ▸40 cm}, {name: m, panel: right, material: cork, thickness: 30 cm}"), ("enclosure.lining[0].thickness", "linings of left and right take 70 cm together; inside width 60 cm")),
    case("a stand without a kind", swap("90 cm}", "90 cm}\n  stand: ▸{rated: 400 kg}"), ("enclosure.stand.kind", "is needed: What it is, in words")),
    case("a stand rated in newtons", swap("90 cm}", "90 cm}\n  stand: {kind: bench, rated: ▸4000 N}"), ("enclosure.stand.rated", "'N' is not a unit of mass; ")),
    case("a stand that holds nothing", swap("90 cm}", "90 cm}\n  stand: {kind: bench, rated: ▸0 kg}"), ("enclosure.stand.rated", "must be more than 0 mg|must be more than 0 kg")),
    # the room
    case("a room in a word", METRIC + "room: ▸warm\n", ("room", "must be keys with values")),
    case("a season that is none", METRIC + "room: {▸spring: {day: 20 degC}}\n", ("room.spring", "unknown key; ")),
    case("a temperature without a unit", METRIC + "room: {winter: {day: ▸20}}\n", ("room.winter.day", r"20 has no unit; write it like .28 degC. \(units: degC, degF, K\)")),
    case("a temperature in C", METRIC + "room: {winter: {day: ▸20 C}}\n", ("room.winter.day", "write 20 degC")),
    case("a temperature in F", METRIC + "room: {winter: {night: ▸60 F}}\n", ("room.winter.night", "write 60 degF")),
    case("a temperature that is a length", METRIC + "room: {winter: {day: ▸20 cm}}\n", ("room.winter.day", "cm is a unit of length, but a temperature is wanted")),
    case("below absolute zero", METRIC + "room: {winter: {day: ▸-300 degC}}\n", ("room.winter.day", "lies below absolute zero")),
    case("an oven", METRIC + "room: {summer: {day: ▸700 degC}}\n", ("room.summer.day", "must lie between -50.0 °C and 70.0 °C")),
    case("an oven in Fahrenheit", US + "room: {summer: {day: ▸700 degF}}\n", ("room.summer.day", "must lie between -50.0 °C and 70.0 °C")),
    case("a humidity without a unit", METRIC + "room: {summer: {humidity: ▸0.5}}\n", ("room.summer.humidity", "0.5 has no unit; write it like .80 %")),
    case("more humid than wet", METRIC + "room: {summer: {humidity: ▸120 %}}\n", ("room.summer.humidity", "must lie between 0 % and 100 %")),
    case("less humid than dry", METRIC + "room: {summer: {humidity: ▸-5 %}}\n", ("room.summer.humidity", "cannot be negative")),
    case("in orbit", METRIC + "room: {altitude: ▸400000 m}\n", ("room.altitude", "must lie between")),
    case("an altitude in words", METRIC + "room: {altitude: ▸high}\n", ("room.altitude", "does not begin with a number")),
    # the ground
    case("a layer without a kind", swap("{kind: mix, depth: 10 cm}", "▸{depth: 10 cm}"), ("ground[0].kind", "is needed: What it is")),
    case("a layer of an unknown kind", swap("kind: mix", "kind: ▸leaf-liter"), ("ground[0].kind", "'leaf-liter' is not known; the nearest known is 'leaf-litter'")),
    case("a layer without depth", swap("[{kind: mix, depth: 10 cm}]", "[▸{kind: mix}]"), ("ground[0].depth", "is needed for mix: the depth when settled")),
    case("a depth that is no number", ground("▸.5"), ("ground[0].depth", "0.5 has no unit")),
    case("a depth below nothing", ground("▸-1 cm"), ("ground[0].depth", "must be more than 0 mm")),
    case("leaves of a mix", ground("10 cm, ▸leaf: oak"), ("ground[0].leaf", "belongs to leaf-litter, not to mix")),
    case("an unknown surface", ground("10 cm, surface: ▸mos"), ("ground[0].surface", "no material 'mos'; the nearest known is 'moss'")),
    case("ground up to the top", swap("ground: [{kind: mix, depth: 10 cm}]", "ground: ▸[{kind: mix, depth: 95 cm}]"), ("ground", "the layers are 95 cm deep together; inside height 90 cm")),
    case("ground up to the top in inches", swap("ground: [{kind: mix, depth: 4 in}]", "ground: ▸[{kind: mix, depth: 30 in}, {kind: soil, depth: 8 in}]", US), ("ground", "the layers are 38 in deep together; inside height 36 in")),
    case("ground as a map", swap("ground: [{kind: mix, depth: 10 cm}]", "ground: ▸{kind: mix, depth: 10 cm}"), ("ground", r"must be a list: \[")),
    case("ground in words", swap("ground: [{kind: mix, depth: 10 cm}]", "ground: ▸deep"), ("ground", r"must be a list: \[")),
    case("layers without end", swap("ground: [{kind: mix, depth: 10 cm}]", "ground: ▸[" + "{kind: fleece}, " * 51 + "]"), ("ground", "has 51 parts; at most 50 are read|has .* parts; at most 50 are read")),
    case("layers of one name", ground("10 cm, name: a}, {kind: fleece, name: ▸a"), ("ground[1].name", "'a' is the name of another layer too")),
    # water and day
    case("a bowl without depth", METRIC + "water: [▸{name: b, at: [30 cm, 20 cm], size: [9 cm, 9 cm]}]\n", ("water[0].depth", "is needed: Depth of the water when full")),
    case("a bowl through the wall", METRIC + "water: [{name: b, at: [▸5 cm, 20 cm], size: [20 cm, 9 cm], depth: 3 cm}]\n", ("water[0].at[0]", "the bowl reaches x = -5 cm; the inside begins at 0")),
    case("a bowl through the wall in inches", US + "water: [{name: b, at: [9 in, ▸17 in], size: [4 in, 4 in], depth: 1 in}]\n", ("water[0].at[1]", "the bowl reaches y = 19 in; inside depth 18 in")),
    case("a bowl with a volume for depth", METRIC + "water: [{name: b, at: [30 cm, 20 cm], size: [9 cm, 9 cm], depth: ▸1 L}]\n", ("water[0].depth", "L is a unit of volume, but a length is wanted")),
    case("a bowl with three sizes", METRIC + "water: [{name: b, at: [30 cm, 20 cm], size: ▸[9 cm, 9 cm, 3 cm], depth: 3 cm}]\n", ("water[0].size", "has 3 parts; at most 2 are read")),
    case("a day in a word", METRIC + "day: ▸long\n", ("day", "must be keys with values")),
    case("a day without an end", METRIC + "day: ▸{from: 07:00}\n", ("day.to", "is needed: Off at, such as 19:00")),
    case("a day of 25 hours", METRIC + "day: {from: ▸25:00, to: 19:00}\n", ("day.from", "'25:00' is not a time of day; write it like .07:30., 00:00 to 24:00")),
    case("a day in half past", METRIC + "day: {from: 07:00, to: ▸half past seven}\n", ("day.to", "is not a time of day; write it like")),
    case("a day in the afternoon", METRIC + "day: {from: 07:00, to: ▸7 pm}\n", ("day.to", "'7 pm' is not a time of day")),
    case("a day in numbers", METRIC + "day: {from: ▸7, to: 19:00}\n", ("day.from", "7 is not a time of day; write it like")),
    case("a day of 60 minutes", METRIC + "day: {from: 07:00, to: ▸18:60}\n", ("day.to", "'18:60' is not a time of day")),
    case("a day that begins when it ends", METRIC + "day: {from: 07:00, to: ▸07:00}\n", ("day.to", "is the same time as 'from'")),
]
# fmt: on
