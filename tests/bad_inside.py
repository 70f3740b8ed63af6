# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong hardscape, plants, sites and lamps of a habitat file."""

from __future__ import annotations

from bad_case import METRIC, US, case

BRANCH = (
    "name: a, shape: branch, from: [9 cm, 9 cm, 50 cm], to: [50 cm, 9 cm, 50 cm], diameter: 4 cm"
)
TUBE = BRANCH.replace("branch", "tube")
BLOCK = "name: a, shape: block, at: [30 cm, 20 cm], size: [20 cm, 10 cm, 10 cm]"
ROCK = BLOCK.replace("block", "rock")
PLANT = "species: ficus-benjamina, at: [30 cm, 20 cm]"
SITE = "name: s, at: [30 cm, 20 cm, 50 cm]"
LAMP = "name: l, type: halogen-flood-50w, at: [30 cm, 20 cm, 80 cm]"
IN_A_LAMP = "lamps[0]"


def pieces(*texts: str, base: str = METRIC) -> str:
    return base + "hardscape:\n" + "".join(f"  - {{{t}}}\n" for t in texts)


def plants(*texts: str, base: str = METRIC) -> str:
    return base + "plants:\n" + "".join(f"  - {{{t}}}\n" for t in texts)


def sites(*texts: str, base: str = METRIC) -> str:
    return base + "sites:\n" + "".join(f"  - {{{t}}}\n" for t in texts)


def lamps(*texts: str, base: str = METRIC) -> str:
    return base + "lamps:\n" + "".join(f"  - {{{t}}}\n" for t in texts)


def change(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1
    return text.replace(old, new)


# fmt: off
CASES = [
    # pieces: their form
    case("pieces in words", METRIC + "hardscape: ▸some roots\n", ("hardscape", r"must be a list: \[")),
    case("pieces as a map", METRIC + "hardscape: ▸{" + BRANCH + "}\n", ("hardscape", r"must be a list: \[")),
    case("a piece in a word", METRIC + "hardscape: [▸root]\n", ("hardscape[0]", "must be keys with values: {name: ..., shape: ...}")),
    case("a piece that is a list", METRIC + "hardscape: [▸[a, branch]]\n", ("hardscape[0]", "must be keys with values: {name: ..., shape: ...}")),
    case("a piece without a shape", METRIC + "hardscape: [▸{name: a}]\n", ("hardscape[0].shape", "is needed: one of branch, tube, block, rock, or 'mesh' with a file")),
    case("an unknown shape", pieces(change(BRANCH, "branch", "▸brnch")), ("hardscape[0].shape", "'brnch' is not one of: branch, tube, block, rock .or give 'mesh' with a file.")),
    case("a shape that is a list", pieces(change(BRANCH, "branch", "▸[branch]")), ("hardscape[0].shape", "a list is not one of: branch, tube, block, rock")),
    case("a shape that is a number", pieces(change(BRANCH, "branch", "▸3")), ("hardscape[0].shape", "3 is not one of: branch, tube, block, rock")),
    case("a branch without a name", METRIC + "hardscape:\n  - ▸{" + change(BRANCH, "name: a, ", "") + "}\n", ("hardscape[0].name", "is needed: Its name")),
    case("a branch without an end", METRIC + "hardscape:\n  - ▸{" + change(BRANCH, "to: [50 cm, 9 cm, 50 cm], ", "") + "}\n", ("hardscape[0].to", "is needed: Middle of its other end")),
    case("a branch without a thickness", METRIC + "hardscape:\n  - ▸{" + change(BRANCH, ", diameter: 4 cm", "") + "}\n", ("hardscape[0].diameter", "is needed: Its diameter")),
    case("an end without a height", pieces(change(BRANCH, "[9 cm, 9 cm, 50 cm]", "▸[9 cm, 9 cm]")), ("hardscape[0].from", "has 2 parts; 3 are needed")),
    case("an end with four numbers", pieces(change(BRANCH, "[9 cm, 9 cm, 50 cm]", "▸[9 cm, 9 cm, 50 cm, 1 cm]")), ("hardscape[0].from", "has 4 parts; at most 3 are read")),
    case("an end in one text", pieces(change(BRANCH, "[9 cm, 9 cm, 50 cm]", "▸9 cm 9 cm 50 cm")), ("hardscape[0].from", r"must be a list: \[")),
    case("one number without a unit", pieces(change(BRANCH, "[50 cm, 9 cm", "[50 cm, ▸9")), ("hardscape[0].to[1]", "9 has no unit")),
    case("a block with ends", METRIC + "hardscape:\n  - ▸{name: a, shape: block, ▸from: [1 cm, 1 cm, 1 cm], size: [9 cm, 9 cm, 9 cm]}\n", ("hardscape[0].at", "is needed: The centre of its lower face"), ("hardscape[0].from", "unknown key; ")),
    case("a branch with a wall", pieces(BRANCH + ", ▸wall: 1 cm"), ("hardscape[0].wall", "unknown key; known: ")),
    case("a block with two sizes", pieces(change(BLOCK, "[20 cm, 10 cm, 10 cm]", "▸[20 cm, 10 cm]")), ("hardscape[0].size", "has 2 parts; 3 are needed")),
    case("a flat rock", pieces(change(ROCK, "10 cm, 10 cm]", "10 cm, ▸0 cm]")), ("hardscape[0].size[2]", "must be more than 0 mm")),
    case("an unknown wood", pieces(BRANCH + ", material: ▸hardwod"), ("hardscape[0].material", "no material 'hardwod'; the nearest known is 'hardwood'")),
    # pieces: where they are
    case("a branch of no length", pieces(change(BRANCH, "to: [50 cm, 9 cm, 50 cm]", "to: ▸[9 cm, 9 cm, 50 cm]")), ("hardscape[0].to", "is the same place as 'from': it has no length")),
    case("a branch through the right", pieces(change(BRANCH, "to: [50 cm", "to: [▸70 cm")), ("hardscape[0].to[0]", "its end reaches x = 70 cm; inside width 60 cm")),
    case("a branch through the left in inches", pieces("name: a, shape: branch, from: [▸-2 in, 9 in, 20 in], to: [12 in, 9 in, 20 in], diameter: 1 in", base=US), ("hardscape[0].from[0]", "its end reaches x = -2 in; the inside begins at 0")),
    case("a branch through the top", pieces(change(BRANCH, "9 cm, 50 cm], to", "9 cm, ▸95 cm], to")), ("hardscape[0].from[2]", "its end reaches z = 95 cm; inside height 90 cm")),
    case("a branch thicker than its way", pieces("name: a, shape: branch, from: [9 cm, ▸1 cm, 50 cm], to: [50 cm, 9 cm, 50 cm], diameter: 4 cm"), ("hardscape[0].from[1]", r"with its thickness it reaches y = -0\.\d+ cm; the inside begins at 0")),
    case("a tube without a hollow", pieces(TUBE + ", wall: ▸2 cm"), ("hardscape[0].wall", "a wall of 2 cm leaves no hollow: half the diameter is 2 cm")),
    case("a block through the left", pieces(change(BLOCK, "[30 cm, 20 cm]", "[▸8 cm, 20 cm]")), ("hardscape[0].at[0]", "the block reaches x = -2 cm; the inside begins at 0")),
    case("a block through the right, in inches", pieces(change(BLOCK, "[30 cm, 20 cm]", "[▸22 in, 20 cm]")), ("hardscape[0].at[0]", r"the block reaches x = 25.94 in; inside width 23.62 in \(60 cm\)")),
    case("a rock through the top", pieces(change(ROCK, "[30 cm, 20 cm]", "[30 cm, 20 cm, ▸85 cm]")), ("hardscape[0].at[2]", "the rock reaches z = 95 cm; inside height 90 cm")),
    case("a block held twice", pieces(change(BLOCK, "[30 cm, 20 cm]", "▸[30 cm, 20 cm, 9 cm]") + ", on: ground"), ("hardscape[0].at", "has a height, and 'on' says what it stands on; keep one of them")),
    case("a block on nothing known", pieces(BLOCK + ", on: ▸shelf"), ("hardscape[0].on", "there is no piece named 'shelf'; known: a, floor, ground")),
    case("a block on a branch", pieces(BRANCH, change(BLOCK, "name: a", "name: b") + ", on: ▸a"), ("hardscape[1].on", "'a' is a branch: nothing stands on it by .x, y.")),
    case("a rock beside its block", pieces(BLOCK, "name: b, shape: rock, at: ▸[45 cm, 20 cm], size: [4 cm, 4 cm, 4 cm], on: a"), ("hardscape[1].at", r"\[45 cm, 20 cm\] is not over 'a', which reaches x 20 cm to 40 cm, y 15 cm to 25 cm")),
    case("pieces on each other", pieces(BLOCK + ", on: b", change(BLOCK, "name: a", "name: b") + ", on: ▸a"), ("hardscape[1].on", "pieces stand in a circle: 'a' on 'b' on 'a'")),
    case("a block on itself", pieces(BLOCK + ", on: ▸a"), ("hardscape[0].on", "pieces stand in a circle: 'a' on 'a'")),
    case("a piece called ground", pieces(change(BLOCK, "name: a", "name: ▸ground")), ("hardscape[0].name", "'ground' is a word of its own; choose another name")),
    case("pieces of one name", pieces(BRANCH, change(BLOCK, "name: a", "name: ▸a")), ("hardscape[1].name", r"'a' is the name of another piece too \(line 7\); names must differ")),
    # plants
    case("plants in words", METRIC + "plants: ▸ferns\n", ("plants", r"must be a list: \[")),
    case("a plant in a word", METRIC + "plants: [▸fern]\n", ("plants[0]", "must be keys with values")),
    case("a plant without a species", METRIC + "plants: [▸{at: [9 cm, 9 cm]}]\n", ("plants[0].species", "is needed: Key of a plant")),
    case("an unknown plant", plants(change(PLANT, "ficus", "▸fikus")), ("plants[0].species", "the catalogue has no plant 'fikus-benjamina'; the nearest known is 'ficus-benjamina'")),
    case("an animal as a plant", plants(change(PLANT, "ficus-benjamina", "▸phelsuma-grandis")), ("plants[0].species", "the catalogue has no plant 'phelsuma-grandis'; ")),
    case("a plant nowhere", METRIC + "plants: [▸{species: ficus-benjamina}]\n", ("plants[0].at", r"is needed: \[x, y, z\], \[x, y\] on the ground, or 'on' with a piece")),
    case("a plant along nothing", plants(PLANT + ", ▸along: 0.5"), ("plants[0].along", "needs 'on' with the branch or tube it is on")),
    case("a plant beyond a branch", pieces(BRANCH) + "plants: [{species: neoregelia-small, on: a, along: ▸1.5}]\n", ("plants[0].along", r"1.5 must lie between 0 \(its start\) and 1 \(its end\)")),
    case("a plant along a word", pieces(BRANCH) + "plants: [{species: neoregelia-small, on: a, along: ▸halfway}]\n", ("plants[0].along", "'halfway' does not begin with a number; write it like")),
    case("a plant along true", pieces(BRANCH) + "plants: [{species: neoregelia-small, on: a, along: ▸true}]\n", ("plants[0].along", r"must be a number from 0 \(its start\) to 1 \(its end\), or a percentage")),
    case("a plant at a place on a branch", pieces(BRANCH) + "plants: [{species: neoregelia-small, on: a, ▸at: [20 cm, 9 cm]}]\n", ("plants[0].at", "a place on a branch is given by 'along'")),
    case("a plant on a missing branch", plants("species: neoregelia-small, on: ▸root"), ("plants[0].on", "there is no piece named 'root'; known: floor, ground")),
    case("a plant in the ground", plants(change(PLANT, "[30 cm, 20 cm]", "▸[30 cm, 20 cm, 4 cm]")), ("plants[0].at", "its foot at z = 4 cm is below the ground's surface at 10 cm")),
    case("a plant through the front", plants(change(PLANT, "[30 cm, 20 cm]", "[30 cm, ▸-5 cm]") + ", height: 20 cm"), ("plants[0].at[1]", "its foot reaches y = -5 cm; the inside begins at 0")),
    case("a plant too tall", plants(PLANT + ", height: ▸85 cm"), ("plants[0].height", "the plant is 85 cm tall on a foot at 10 cm and reaches z = 95 cm; inside height 90 cm")),
    case("a plant too tall in inches", plants("species: ficus-benjamina, at: [9 in, 9 in], height: ▸34 in", base=US), ("plants[0].height", "the plant is 34 in tall on a foot at 4 in and reaches z = 38 in; inside height 36 in")),
    case("a plant of no height", plants(PLANT + ", height: ▸0 cm"), ("plants[0].height", "must be more than 0 mm")),
    case("a height in kilograms", plants(PLANT + ", height: ▸2 kg"), ("plants[0].height", "kg is a unit of mass, but a length is wanted")),
    case("a plant held twice", plants("species: ficus-benjamina, on: ground, at: ▸[30 cm, 20 cm, 12 cm]"), ("plants[0].at", "has a height, and it is on the ground; give .x, y.")),
    case("plants of one name", plants("name: f, " + PLANT, "name: ▸f, " + PLANT), ("plants[1].name", "'f' is the name of another plant too .line 7.; names must differ")),
    # sites
    case("sites as a map", METRIC + "sites: ▸{" + SITE + "}\n", ("sites", r"must be a list: \[")),
    case("a site without a name", METRIC + "sites: [▸{at: [30 cm, 20 cm, 50 cm]}]\n", ("sites[0].name", "is needed: Its name")),
    case("a site nowhere", METRIC + "sites: [▸{name: s}]\n", ("sites[0].at", "is needed: ")),
    case("a site with one number", sites("name: s, at: ▸[9 cm]"), ("sites[0].at", "has 1 parts?; 2 are needed")),
    case("a site of an unknown role", sites(SITE + ", role: ▸sunning"), ("sites[0].role", "'sunning' is not one of: basking, perch, hide, retreat, laying, probe")),
    case("a site key misspelt", sites(SITE + ", ▸rol: perch"), ("sites[0].rol", "unknown key; the nearest known is 'role'")),
    case("a site for nobody known", sites(SITE + ", for: ▸phelsuma-grandi"), ("sites[0].for", "the catalogue has no animal 'phelsuma-grandi'; the nearest known is 'phelsuma-grandis'")),
    case("a site for one unknown of two", sites(SITE + ", for: [phelsuma-grandis, ▸gekko-x]"), ("sites[0].for[1]", "the catalogue has no animal 'gekko-x'; ")),
    case("a site for an empty list", sites(SITE + ", for: ▸[]"), ("sites[0].for", "has 0 parts; 1 is needed|has 0 parts; 1 are needed")),
    case("a site above the top", sites(change(SITE, "50 cm", "▸2 m")), ("sites[0].at[2]", r"the site reaches z = 2 m; inside height 0.9 m \(90 cm\)")),
    case("a site behind the back in inches", sites("name: s, at: [9 in, ▸20 in, 9 in]", base=US), ("sites[0].at[1]", "the site reaches y = 20 in; inside depth 18 in")),
    case("a perch in the ground", sites("name: s, role: perch, at: ▸[30 cm, 20 cm, 5 cm]"), ("sites[0].at", "a perch site at z = 5 cm is below the ground's surface at 10 cm")),
    case("a site in a rock", pieces(ROCK) + "sites: [{name: s, at: ▸[30 cm, 20 cm, 15 cm]}]\n", ("sites[0].at", r"the site at \[30 cm, 20 cm, 15 cm\] is inside 'a', which fills x 20 cm to 40 cm, y 15 cm to 25 cm, z 10 cm to 20 cm")),
    case("a site on a missing piece", sites("name: s, on: ▸root"), ("sites[0].on", "there is no piece named 'root'; known: floor, ground")),
    case("a site along a rock", pieces(ROCK) + "sites: [{name: s, on: a, ▸along: 0.5}]\n", ("sites[0].along", "'a' is a rock: give 'at: .x, y.' instead of 'along'")),
    case("a site beside its rock", pieces(ROCK) + "sites: [{name: s, on: a, at: ▸[50 cm, 20 cm]}]\n", ("sites[0].at", "is not over 'a', which reaches x 20 cm to 40 cm")),
    case("a site held twice on a rock", pieces(ROCK) + "sites: [{name: s, on: a, at: ▸[30 cm, 20 cm, 20 cm]}]\n", ("sites[0].at", "has a height, and 'on' says what it is on; give .x, y.")),
    case("a site inside a branch", pieces(BRANCH) + "sites: [{name: s, on: a, ▸inside: true}]\n", ("sites[0].inside", "'a' is no tube that holds a place given by 'along'")),
    case("a site inside a missing tube", sites("name: s, on: ▸root, inside: true"), ("sites[0].on", "there is no piece named 'root'; known: floor, ground")),
    case("a site inside the ground", sites("name: s, on: ground, ▸inside: true"), ("sites[0].inside", "'ground' is no tube that holds a place")),
    case("a site inside nothing", sites(SITE + ", ▸inside: true"), ("sites[0].inside", "needs 'on' with the tube it is inside of")),
    case("an inside of yes", pieces(TUBE) + "sites: [{name: s, on: a, inside: ▸yes}]\n", ("sites[0].inside", "must be true or false")),
    case("an inside of one", pieces(TUBE) + "sites: [{name: s, on: a, inside: ▸1}]\n", ("sites[0].inside", "must be true or false")),
    case("a site that faces no way", sites(SITE + ", normal: ▸[0, 0, 0]"), ("sites[0].normal", "has no direction: one of its numbers must differ from 0")),
    case("a site that faces sideways", sites(SITE + ", normal: ▸sideways"), ("sites[0].normal", "'sideways' is not one of: up, down, left, right, front, back, a vector")),
    case("a site that faces in centimetres", sites(SITE + ", normal: [0, 0, ▸1 cm]"), ("sites[0].normal[2]", "'1 cm' must be a plain number")),
    case("a site that faces two ways", sites(SITE + ", normal: ▸[0, 1]"), ("sites[0].normal", "has 2 parts; 3 are needed")),
    case("a site that faces a map", sites(SITE + ", normal: ▸{x: 1}"), ("sites[0].normal", "must be a word or a list")),
    case("sites of one name", sites(SITE, change(SITE, "name: s", "name: ▸s")), ("sites[1].name", "'s' is the name of another site too")),
    case("a site called like a crown", plants("name: f, " + PLANT + ", height: 30 cm") + "sites: [{name: ▸f crown, at: [9 cm, 9 cm, 50 cm]}]\n", ("sites[0].name", "'f crown' is the name of a plant's crown already")),
    case("a piece called like a site", pieces(change(BLOCK, "name: a", "name: ▸s")) + "sites: [{" + SITE + "}]\n", ("hardscape[0].name", "'s' is the name of a site too; a lamp could aim at either")),
    case("a site in a lining", METRIC.replace("90 cm}", "90 cm}\n  lining: [{name: l, panel: back, material: cork, thickness: 5 cm}]") + "sites: [{name: s, at: ▸[30 cm, 42 cm, 50 cm]}]\n", ("sites[0].at", "the site is 3 cm from the back, inside its lining of 5 cm")),
    # lamps
    case("lamps in words", METRIC + "lamps: ▸bright\n", ("lamps", r"must be a list: \[")),
    case("a lamp without a type", METRIC + "lamps: [▸{name: l, at: [30 cm, 20 cm, 80 cm]}]\n", ("lamps[0].type", "is needed: Key of a lamp")),
    case("an unknown lamp", lamps(change(LAMP, "halogen", "▸halogne")), ("lamps[0].type", "the catalogue has no lamp 'halogne-flood-50w'; the nearest known is 'halogen-flood-50w'")),
    case("a lamp without a place", METRIC + "lamps: [▸{name: l, type: halogen-flood-50w}]\n", ("lamps[0].at", "is needed: Its middle")),
    case("a lamp without a height", lamps(change(LAMP, "[30 cm, 20 cm, 80 cm]", "▸[30 cm, 20 cm]")), ("lamps[0].at", "has 2 parts; 3 are needed")),
    case("a lamp in the ground", lamps(change(LAMP, "80 cm", "▸4 cm")), ("lamps[0].at[2]", "the lamp at z = 4 cm is below the ground's surface at 10 cm")),
    case("a lamp in the top", lamps(change(LAMP, "80 cm", "▸905 mm")), ("lamps[0].at[2]", "the lamp is in the top panel: 5 mm behind its inner face, and the panel is 10 mm thick without an opening there")),
    case("a lamp above the top", lamps(change(LAMP, "80 cm", "▸99 cm")), ("lamps[0].at[2]", r"the lamp at z = 99 cm is behind the closed top panel \(inside height 90 cm\); hang it inside or give the panel an opening")),
    case("a lamp above the top in inches", lamps("name: l, type: halogen-flood-50w, at: [9 in, 9 in, ▸40 in]", base=US), ("lamps[0].at[2]", r"the lamp at z = 40 in is behind the closed top panel \(inside height 36 in\)")),
    case("a lamp longer than the box", lamps("name: l, type: t5ho-uvb-medium-54w, at: [▸▸30 cm, 20 cm, 80 cm]"), ("lamps[0].at[0]", r"the lamp is [\d.]+ cm long and its left end is at x = -[\d.]+ cm; inside width 60 cm"), ("lamps[0].at[0]", "its right end")),
    case("a lamp in a rock", pieces(ROCK) + "lamps: [{name: l, type: halogen-flood-50w, at: ▸[30 cm, 20 cm, 15 cm]}]\n", ("lamps[0].at", "the lamp at z = 15 cm is inside 'a', which fills z 10 cm to 20 cm")),
    case("a dim without a unit", lamps(LAMP + ", dim: ▸0.8"), ("lamps[0].dim", "0.8 has no unit; write it like .80 %")),
    case("brighter than bright", lamps(LAMP + ", dim: ▸120 %"), ("lamps[0].dim", "must lie between 0 % and 100 %")),
    case("an aim at nothing known", lamps(LAMP + ", aim: ▸nowhere"), ("lamps[0].aim", "there is no site or piece named 'nowhere'; known: down, up")),
    case("an aim at itself", lamps(LAMP + ", aim: ▸[30 cm, 20 cm, 80 cm]"), ("lamps[0].aim", "is the lamp's own place: it has no direction")),
    case("an aim without units", lamps(LAMP + ", aim: [▸0, ▸0, ▸-1]"), ("lamps[0].aim[0]", "0 has no unit"), ("lamps[0].aim[1]", "0 has no unit"), ("lamps[0].aim[2]", "-1 has no unit")),
    case("a lamp along where it shines", lamps(LAMP + ", along: ▸z"), ("lamps[0].along", "is the way the lamp shines; its long side lies across that")),
    case("a lamp along w", lamps(LAMP + ", along: ▸w"), ("lamps[0].along", "'w' is not one of: x, y, z, a vector .x, y, z.")),
    case("a lamp along nothing", lamps(LAMP + ", along: ▸[0, 0, 0]"), ("lamps[0].along", "has no direction: one of its numbers must differ from 0")),
    case("a lamp lit by night", lamps(LAMP + ", hours: ▸night"), ("lamps[0].hours", "'night' is not one of: day")),
    case("hours as a list", lamps(LAMP + ", hours: ▸[07:00, 19:00]"), ("lamps[0].hours", "is not one of: day|must be ")),
    case("hours without an end", lamps(LAMP + ", hours: ▸{from: 07:00}"), ("lamps[0].hours.to", "is needed: Off at")),
    case("hours that are none", lamps(LAMP + ", hours: {from: 07:00, to: ▸07:00}"), ("lamps[0].hours.to", "is the same time as 'from'; from 00:00 to 24:00 is the whole day")),
    case("hours run in days of sun", lamps(LAMP + ", hours_run: ▸many"), ("lamps[0].hours_run", "does not begin with a number")),
    case("hours run without a unit", lamps(LAMP + ", hours_run: ▸1200"), ("lamps[0].hours_run", "1200 has no unit; write it like")),
    case("an unknown guard", lamps(LAMP + ", guard: ▸wire-cge"), ("lamps[0].guard", "the catalogue has no cover 'wire-cge'; the nearest known is 'wire-cage'")),
    case("lamps of one name", lamps(LAMP, change(LAMP, "name: l", "name: ▸l")), ("lamps[1].name", "'l' is the name of another lamp too")),
    case("two distributions", lamps(LAMP + ", ies: a.ies, ▸eulumdat: b.ldt"), ("lamps[0].eulumdat", "a lamp has one light distribution: 'ies' is here too")),
    case("no readings", lamps(LAMP + ", readings: ▸[]"), ("lamps[0].readings", "has 0 parts; 1 ")),
    case("a reading of nothing", lamps(LAMP + ", readings: [▸{distance: 30 cm}]"), ("lamps[0].readings[0]", "has no reading: give one of uvi, ppfd, lux")),
    case("a reading from nowhere", lamps(LAMP + ", readings: [▸{uvi: 3}]"), ("lamps[0].readings[0].distance", "is needed: From the lamp to the meter")),
    case("a reading with a unit", lamps(LAMP + ", readings: [{distance: 30 cm, uvi: ▸3 UVI}]"), ("lamps[0].readings[0].uvi", "'3 UVI' must be a plain number")),
    case("a reading below nothing", lamps(LAMP + ", readings: [{distance: 30 cm, uvi: ▸-3}]"), ("lamps[0].readings[0].uvi", "-3 must lie between 0 and 1000")),
    case("lux without a unit", lamps(LAMP + ", readings: [{distance: 30 cm, lux: ▸1200}]"), ("lamps[0].readings[0].lux", "1200 has no unit; write it like .2500 lx")),
]
# fmt: on
