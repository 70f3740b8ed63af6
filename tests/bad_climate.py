# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong fans, misting, controls, days and own entries of the climate's catalogue groups."""

from __future__ import annotations

from bad_case import METRIC, US, Case, case, swap

SITE = "sites: [{name: mid, at: [30 cm, 20 cm, 50 cm]}]\n"
ROOM = METRIC + SITE
HOLE = swap(
    "90 cm}",
    "90 cm}\n  openings: [{name: vent, panel: top, at: [30 cm, 20 cm], size: [20 cm, 10 cm]}]",
)
FAN = "name: f, fan: axial-92mm-12v, panel: top, at: [30 cm, 20 cm], flow: out"
SPOT = "lamps: [{name: spot, type: halogen-flood-35w, at: [30 cm, 20 cm, 80 cm], control: heat}]\n"
NOZZLE = "{name: n, type: fine-nozzle, at: [30 cm, 20 cm, 85 cm]}"
TIMES = 'times: [{at: "07:30", for: 40 s}]'
HEAT = "kind: thermostat, probe: mid"
FAN_OWN = "fans:\n  mine:\n    diameter: 92 mm\n    free_flow: 85 m3/h\n    static_pressure: 36 Pa\n    power: 2 W\n    sources: {'*': the label}\n"


def air(*texts: str, base: str = METRIC) -> str:
    return base + "air:\n" + "".join(f"  - {{{t}}}\n" for t in texts)


def fan(old: str, new: str, base: str = METRIC) -> str:
    """A fan with one thing in it changed."""
    assert FAN.count(old) == 1
    return air(FAN.replace(old, new), base=base)


def mist(text: str, base: str = ROOM) -> str:
    return base + f"mist: {{{text}}}\n"


def nozzle(text: str, base: str = ROOM) -> str:
    return mist(f"tank: 5 L, {TIMES}, nozzles: [{text}]", base)


def heat(text: str) -> str:
    """A control of a lamp."""
    return ROOM + SPOT + f"controls:\n  heat: {{{text}}}\n"


def cool(text: str) -> str:
    """A control of a fan."""
    return air(FAN + ", control: cool", base=ROOM) + f"controls:\n  cool: {{{text}}}\n"


def wet(text: str) -> str:
    """A control of the mist."""
    return mist(f"tank: 5 L, nozzles: [{NOZZLE}], control: wet") + f"controls:\n  wet: {{{text}}}\n"


def day(text: str) -> str:
    return METRIC + f"day: {{{text}}}\n"


def own(name: str, text: str, *told: tuple[str, str]) -> Case:
    """A wrong catalogue beside a right habitat file."""
    return case(name, METRIC + "catalogue: [own.yaml]\n", *told, beside={"own.yaml": text})


# fmt: off
CASES = [
    # fans
    case("fans in a word", METRIC + "air: ▸much\n", ("air", r"must be a list: \[")),
    case("a fan in a word", METRIC + "air: [▸big]\n", ("air[0]", "must be keys with values")),
    case("a fan without a type", air("▸name: f, panel: top, at: [30 cm, 20 cm], flow: out").replace("{▸", "▸{"), ("air[0].fan", "is needed: Key of a fan of the catalogue")),
    case("an unknown fan", fan("axial-92mm-12v", "▸axial-93mm-12v"), ("air[0].fan", "the catalogue has no fan 'axial-93mm-12v'; the nearest known is 'axial-92mm-12v'")),
    case("a fan in no panel", fan("panel: top", "panel: ▸lid"), ("air[0].panel", "'lid' is not one of: floor, back, left, right, top, front")),
    case("a fan that blows up", fan("flow: out", "flow: ▸up"), ("air[0].flow", "'up' is not one of: in, out")),
    case("a fan with a place of three", fan("20 cm]", "20 cm, 90 cm]").replace("at: [", "at: ▸["), ("air[0].at", "has 3 parts; at most 2 are read")),
    case("a fan over the edge", fan("[30 cm", "[▸58 cm"), ("air[0].at[0]", "the fan reaches x 53.4 cm to 62.6 cm; inside width 60 cm")),
    case("a fan over the edge, in inches", fan("[30 cm, 20 cm]", "[12 in, ▸1 in]", US), ("air[0].at[1]", "the fan reaches y -0.81 in to 2.81 in; inside depth 18 in")),
    case("a fan bigger than its panel", air("name: f, fan: ▸axial-140mm-12v, panel: right, at: [20 cm, 6 cm], flow: out", base=METRIC.replace("height: 90 cm", "height: 12 cm").replace("depth: 10 cm", "depth: 2 cm")), ("air[0].fan", "the fan is 14 cm across, more than its panel: inside height 12 cm")),
    case("a fan in an opening", fan("at: [", "at: ▸[", HOLE), ("air[0].at", r"the fan at \[30 cm, 20 cm\], 9.2 cm across, overlaps the opening 'vent'")),
    case("a fan at the corner of an opening", fan("at: [30 cm, 20 cm]", "at: ▸[43 cm, 28 cm]", HOLE), ("air[0].at", "overlaps the opening 'vent'")),
    case("two fans at one place", air(FAN, FAN.replace("name: f", "name: g").replace("at: [30", "at: ▸[34")), ("air[1].at", "the fan at .34 cm, 20 cm., 9.2 cm across, overlaps 'f': 4 cm from middle to middle")),
    case("two fans of one name", air(FAN, FAN.replace("name: f", "name: ▸f").replace("[30", "[45")), ("air[1].name", "'f' is the name of another fan too")),
    case("a fan in the ground", air("name: f, fan: axial-92mm-12v, panel: left, at: [20 cm, ▸12 cm], flow: in"), ("air[0].at[1]", "the fan's lower edge at z = 7.4 cm is below the ground's surface at 10 cm")),
    case("a fan under the ground", fan("panel: top", "panel: ▸floor"), ("air[0].panel", "a fan in the floor lies under the ground, 10 cm deep")),
    case("a fan backwards", fan("flow: out", "flow: out, speed: ▸-50 %"), ("air[0].speed", "a share .* cannot be negative")),
    case("a fan that stands still", fan("flow: out", "flow: out, speed: ▸0 %"), ("air[0].speed", "'0 %' must be more than 0 %")),
    case("a fan at double speed", fan("flow: out", "flow: out, speed: ▸200 %"), ("air[0].speed", "'200 %' must lie between 0 % and 100 %")),
    case("an unknown guard of a fan", fan("flow: out", "flow: out, guard: ▸steel-mesh-7mm"), ("air[0].guard", "the catalogue has no cover 'steel-mesh-7mm'")),
    case("an unknown second guard", fan("flow: out", "flow: out, guard: [steel-mesh-6mm, ▸net]"), ("air[0].guard[1]", "the catalogue has no cover 'net'")),
    case("a pane as a guard", fan("flow: out", "flow: out, guard: ▸acrylic-sheet"), ("air[0].guard", "'acrylic-sheet' is a sheet, which lets no air through")),
    case("an unknown filter", fan("flow: out", "flow: out, filter: ▸dust-mop"), ("air[0].filter", "the catalogue has no filter 'dust-mop'; the nearest known is 'dust-mat'")),
    case("a duct without length", fan("flow: out", "flow: out, duct: ▸0 cm"), ("air[0].duct", "must be more than 0 ")),
    case("an unknown key of a fan", fan("flow: out", "flow: out, ▸sped: 50 %"), ("air[0].sped", "unknown key; the nearest known is 'speed'")),
    case("a fan that runs by day", fan("flow: out", "flow: out, hours: ▸day"), ("air[0].hours", "'day' is not one of: always")),
    case("a fan for no time", fan("flow: out", "flow: out, hours: {from: 07:00, to: ▸07:00}"), ("air[0].hours.to", "is the same time as 'from'")),
    case("a fan with hours and a control", air(FAN + ", control: cool, ▸hours: always", base=ROOM) + "controls: {cool: {kind: cooling, probe: mid, set: 30 degC}}\n", ("air[0].hours", "the control 'cool' switches this fan already; keep one of them")),
    case("a fan by no control", fan("flow: out", "flow: out, control: ▸cool"), ("air[0].control", "there is no control named 'cool'; none is known")),
    # misting
    case("mist in a word", METRIC + "mist: ▸often\n", ("mist", "must be keys with values")),
    case("mist without a tank", mist(f"nozzles: [{NOZZLE}], {TIMES}").replace("mist: {", "mist: ▸{"), ("mist.tank", "is needed: What the tank holds")),
    case("a tank without a unit", mist(f"tank: ▸25, nozzles: [{NOZZLE}], {TIMES}"), ("mist.tank", "25 has no unit; write it like")),
    case("an empty tank", mist(f"tank: ▸0 L, nozzles: [{NOZZLE}], {TIMES}"), ("mist.tank", "0 L holds no water")),
    case("a tank in kilograms", mist(f"tank: ▸5 kg, nozzles: [{NOZZLE}], {TIMES}"), ("mist.tank", "kg is a unit of mass, but a volume is wanted")),
    case("mist without nozzles", mist(f"tank: 5 L, {TIMES}").replace("mist: {", "mist: ▸{"), ("mist.nozzles", "is needed: mist comes out of one nozzle at least")),
    case("mist that never runs", mist(f"tank: 5 L, nozzles: [{NOZZLE}]").replace("mist: {", "▸mist: {"), ("mist", "never runs: give 'times', or a 'control' that asks for it")),
    case("an unknown nozzle", nozzle(NOZZLE.replace("fine-nozzle", "▸fine-nozle")), ("mist.nozzles[0].type", "the catalogue has no nozzle 'fine-nozle'; the nearest known is 'fine-nozzle'")),
    case("two nozzles of one name", nozzle(f"{NOZZLE}, {NOZZLE.replace('name: n', 'name: ▸n')}"), ("mist.nozzles[1].name", "'n' is the name of another nozzle too")),
    case("a nozzle outside", nozzle(NOZZLE.replace("85 cm", "▸95 cm")), ("mist.nozzles[0].at[2]", "the nozzle reaches z = 95 cm; inside height 90 cm")),
    case("a nozzle outside two ways", nozzle(NOZZLE.replace("[30 cm, 20 cm", "[▸-3 cm, ▸46 cm")), ("mist.nozzles[0].at[0]", "the nozzle reaches x = -3 cm; the inside begins at 0"), ("mist.nozzles[0].at[1]", "the nozzle reaches y = 46 cm; inside depth 45 cm")),
    case("a nozzle in a stone", nozzle(NOZZLE.replace("at: [30 cm, 20 cm, 85 cm]", "at: ▸[30 cm, 20 cm, 20 cm]"), METRIC + "hardscape: [{name: stone, shape: block, at: [30 cm, 20 cm], size: [20 cm, 20 cm, 20 cm]}]\n"), ("mist.nozzles[0].at", "the nozzle at .30 cm, 20 cm, 20 cm. is inside 'stone', which fills x 20 cm to 40 cm")),
    case("a nozzle in the ground", nozzle(NOZZLE.replace("85 cm", "▸5 cm")), ("mist.nozzles[0].at[2]", "the nozzle at z = 5 cm is below the ground's surface at 10 cm")),
    case("a nozzle in the lining", nozzle(NOZZLE.replace("at: [30 cm, 20 cm", "at: ▸[30 cm, 43 cm"), swap("90 cm}", "90 cm}\n  lining: [{name: wall, panel: back, material: cork-tile, thickness: 3 cm}]")), ("mist.nozzles[0].at", "the nozzle is 2 cm from the back, inside its lining of 3 cm")),
    case("a nozzle at nothing", nozzle(NOZZLE.replace("85 cm]", "85 cm], aim: ▸fern")), ("mist.nozzles[0].aim", "there is no site or piece named 'fern'")),
    case("a nozzle at itself", nozzle(NOZZLE.replace("85 cm]", "85 cm], aim: ▸[30 cm, 20 cm, 85 cm]")), ("mist.nozzles[0].aim", "is the nozzle's own place: it has no direction")),
    case("a misting without an end", mist(f'tank: 5 L, nozzles: [{NOZZLE}], times: [▸{{at: "07:30"}}]'), ("mist.times[0].for", "is needed: It lasts for, such as 40 s")),
    case("a misting for nothing", mist(f'tank: 5 L, nozzles: [{NOZZLE}], times: [{{at: "07:30", for: ▸0 s}}]'), ("mist.times[0].for", "'0 s' must be more than 0 s")),
    case("a misting at a bare number", mist(f"tank: 5 L, nozzles: [{NOZZLE}], times: [{{at: ▸730, for: 40 s}}]"), ("mist.times[0].at", "730 is not a time of day")),
    case("a misting over midnight", mist(f'tank: 5 L, nozzles: [{NOZZLE}], times: [{{at: "23:59", for: ▸80 s}}]'), ("mist.times[0].for", "80 s from 23:59 runs 20 s past midnight; end it at 24:00")),
    case("mistings that overlap", mist(f'tank: 5 L, nozzles: [{NOZZLE}], times: [{{at: "19:00", for: 40 s}}, {{at: "07:30", for: 5 min}}, {{at: ▸"07:34", for: 40 s}}]'), ("mist.times[2].at", r"overlaps the misting of 5 min at 07:30 \(line 7\)")),
    case("mistings that overlap, the later one first", mist(f'tank: 5 L, nozzles: [{NOZZLE}], times: [{{at: "07:34", for: 40 s}}, {{at: ▸"07:30", for: 5 min}}]'), ("mist.times[1].at", r"overlaps the misting of 40 s at 07:34 \(line 7\)")),
    case("one misting twice", mist(f'tank: 5 L, nozzles: [{NOZZLE}], times: [{{at: "07:30", for: 9 s}}, {{at: ▸"07:30", for: 9 s}}]'), ("mist.times[1].at", "overlaps the misting of 9 s at 07:30")),
    case("boiling mist", mist(f"tank: 5 L, nozzles: [{NOZZLE}], {TIMES}, water_temperature: ▸95 degC"), ("mist.water_temperature", "'95 degC' must lie between -50.0 degC and 70.0 degC|'95 degC' must lie between")),
    case("a pump of minus", mist(f"tank: 5 L, nozzles: [{NOZZLE}], {TIMES}, pump: ▸-20 W"), ("mist.pump", "a power cannot be negative")),
    case("an unknown key of the mist", mist(f"tank: 5 L, nozzles: [{NOZZLE}], {TIMES}, ▸pmup: 20 W"), ("mist.pmup", "unknown key; the nearest known is 'pump'")),
    case("everything wrong in the mist at once", mist(f'tank: ▸5, nozzles: [{NOZZLE}, {{name: m, type: ▸fog, at: [30 cm, 20 cm, ▸2 m]}}], times: [{{at: "07:30", for: ▸40}}], control: ▸wet'),
         ("mist.tank", "5 has no unit"), ("mist.nozzles[1].type", "the catalogue has no nozzle 'fog'"), ("mist.nozzles[1].at[2]", "the nozzle reaches z = 2 m; inside height 0.9 m"), ("mist.times[0].for", "40 has no unit"), ("mist.control", "there is no control named 'wet'")),
    # controls
    case("controls in a list", METRIC + "controls: ▸[a]\n", ("controls", "must be keys with values")),
    case("a control in a word", heat("▸").replace("  heat: {▸}", "  ▸heat: hot"), ("controls.heat", "must be keys with values: {kind: ..., probe: ...}")),
    case("a control without a kind", ROOM + SPOT + "controls:\n  heat: ▸{probe: mid, set: 30 degC}\n", ("controls.heat.kind", "is needed: one of thermostat, dimming-thermostat, cooling, humidistat, pulse-mist")),
    case("an unknown kind of control", heat("kind: ▸termostat, probe: mid, set: 30 degC"), ("controls.heat.kind", "'termostat' is not one of: thermostat, dimming-thermostat")),
    case("a kind of control that is a list", heat("kind: ▸[thermostat], probe: mid, set: 30 degC"), ("controls.heat.kind", "a list is not one of: thermostat")),
    case("a control without a probe", ROOM + SPOT + "controls:\n  heat: ▸{kind: thermostat, set: 30 degC}\n", ("controls.heat.probe", "is needed: The site its probe is at")),
    case("a probe at no site", heat("kind: thermostat, probe: ▸middle, set: 30 degC"), ("controls.heat.probe", "there is no site named 'middle'; known: mid|the nearest known is 'mid'")),
    case("a control without limits", heat(HEAT).replace("  heat:", "  ▸heat:"), ("controls.heat", "needs 'set', or 'on_below' with 'off_above'")),
    case("half a pair of limits", heat(HEAT + ", on_below: ▸30 degC"), ("controls.heat.on_below", "needs 'off_above' beside it")),
    case("both ways to say limits", heat(HEAT + ", set: 30 degC, ▸on_below: 29 degC"), ("controls.heat.on_below", "is here, and 'set' too; keep one way to say it")),
    case("on below above off above", heat(HEAT + ", on_below: ▸32 degC, off_above: 30 degC"), ("controls.heat.on_below", "32 degC is not below off_above, 30 degC: it would switch for ever")),
    case("on below at off above", heat(HEAT + ", on_below: ▸30 degC, off_above: 86 degF"), ("controls.heat.on_below", "30 degC is not below off_above, 86 degF")),
    case("cooling the wrong way round", cool("kind: cooling, probe: mid, on_above: 28 degC, off_below: ▸30 degC"), ("controls.cool.off_below", "30 degC is not below on_above, 28 degC")),
    case("a humidistat the wrong way round", cool("kind: humidistat, probe: mid, on_above: 70 %, off_below: ▸80 %"), ("controls.cool.off_below", "80 % is not below on_above, 70 %")),
    case("pulses the wrong way round", wet("kind: pulse-mist, probe: mid, on_below: ▸80 %, off_above: 70 %"), ("controls.wet.on_below", "80 % is not below off_above, 70 %")),
    case("a night the wrong way round", heat(HEAT + ", set: 30 degC, night: {on_below: ▸22 degC, off_above: 20 degC}"), ("controls.heat.night.on_below", "22 degC is not below off_above, 20 degC")),
    case("the keys of another kind", heat(HEAT + ", ▸on_above: 30 degC, off_above: 32 degC"), ("controls.heat.on_above", "unknown key; the nearest known is 'on_below'")),
    case("a band for a thermostat", heat(HEAT + ", set: 30 degC, ▸band: 2 K"), ("controls.heat.band", "unknown key; known: ")),
    case("a temperature for humidity", cool("kind: humidistat, probe: mid, set: ▸30 degC"), ("controls.cool.set", "degC is a unit of temperature, but a share .per cent. is wanted")),
    case("humidity for a temperature", heat(HEAT + ", set: ▸80 %"), ("controls.heat.set", "% is a unit of share .*, but a temperature is wanted")),
    case("a set point without a unit", heat(HEAT + ", set: ▸30"), ("controls.heat.set", "30 has no unit")),
    case("a hysteresis in degrees", heat(HEAT + ", set: 30 degC, hysteresis: ▸2 degC"), ("controls.heat.hysteresis", "a temperature difference is written in K or degF_diff, not degC")),
    case("no hysteresis", heat(HEAT + ", set: 30 degC, hysteresis: ▸0 K"), ("controls.heat.hysteresis", "'0 K' must be more than 0.0 K")),
    case("a hysteresis beside a pair", heat(HEAT + ", on_below: 28 degC, off_above: 30 degC, ▸hysteresis: 1 K"), ("controls.heat.hysteresis", "goes with 'set'")),
    case("damper than damp", cool("kind: humidistat, probe: mid, set: ▸98 %, hysteresis: 6 %"), ("controls.cool.set", "with its hysteresis it switches at 101 %, which no air reaches")),
    case("a night value beside a pair", heat(HEAT + ", on_below: 28 degC, off_above: 30 degC, night: ▸20 degC"), ("controls.heat.night", r"a single value goes with 'set'; write \{on_below: .., off_above: ..\}")),
    case("a night in a word", heat(HEAT + ", set: 30 degC, night: ▸cold"), ("controls.heat.night", "'cold' does not begin with a number")),
    case("a night that is false", heat(HEAT + ", set: 30 degC, night: ▸false"), ("controls.heat.night", "false is not a temperature")),
    case("half a night", heat(HEAT + ", set: 30 degC, night: ▸{on_below: 20 degC}"), ("controls.heat.night.off_above", "is needed: At night it stops above this")),
    case("a probe without time", heat(HEAT + ", set: 30 degC, lag: ▸-5 s"), ("controls.heat.lag", "a time cannot be negative")),
    case("a pulse longer than its pause", wet("kind: pulse-mist, probe: mid, set: 70 %, pulse: 30 s, pause: ▸20 s"), ("controls.wet.pause", "a pulse of 30 s each 20 s never ends")),
    case("a pulse longer than the usual pause", wet("kind: pulse-mist, probe: mid, set: 70 %, pulse: ▸6 min"), ("controls.wet.pulse", "a pulse of 6 min each 5 min never ends")),
    case("a limit below the control", heat(HEAT + ", set: 30 degC, cut_out: ▸28 degC"), ("controls.heat.cut_out", "28 degC cuts the heat before the control stops it, at 30.5 °C")),
    case("a limit's probe without a limit", heat(HEAT + ", set: 30 degC, ▸cut_out_probe: mid"), ("controls.heat.cut_out_probe", "needs 'cut_out' with its temperature")),
    case("a limit's probe at no site", heat(HEAT + ", set: 30 degC, cut_out: 40 degC, cut_out_probe: ▸lamp"), ("controls.heat.cut_out_probe", "there is no site named 'lamp'")),
    case("a limit for a cooling fan", cool("kind: cooling, probe: mid, set: 30 degC, ▸cut_out: 40 degC"), ("controls.cool.cut_out", "unknown key; ")),
    case("a control that drives nothing", ROOM + "controls:\n  ▸heat: {kind: thermostat, probe: mid, set: 30 degC}\n", ("controls.heat", "drives nothing: name it as 'control' of a lamp, a fan or the mist")),
    case("a lamp by a fan's control", heat("kind: cooling, probe: mid, set: 30 degC").replace("control: heat", "control: ▸heat"), ("lamps[0].control", "'heat' is of kind cooling, which drives fans; lamps take thermostat or dimming-thermostat")),
    case("a fan by a lamp's control", cool("kind: thermostat, probe: mid, set: 30 degC").replace("control: cool", "control: ▸cool"), ("air[0].control", "'cool' is of kind thermostat, which drives lamps; fans take cooling or humidistat")),
    case("mist by a fan's control", wet("kind: humidistat, probe: mid, set: 70 %").replace("control: wet", "control: ▸wet"), ("mist.control", "'wet' is of kind humidistat, which drives fans; the mist takes pulse-mist")),
    case("a lamp by no control", ROOM + SPOT.replace("control: heat", "control: ▸heat"), ("lamps[0].control", "there is no control named 'heat'")),
    case("a tube that is dimmed", heat("kind: dimming-thermostat, probe: mid, set: 30 degC").replace("halogen-flood-35w", "compact-uvb-13w").replace("control: heat", "control: ▸heat"), ("lamps[0].control", "'heat' dims, and this lamp cannot be dimmed; take a control of kind thermostat")),
    case("a lamp that is perhaps dimmable", ROOM + SPOT.replace("control: heat", "dimmable: ▸perhaps"), ("lamps[0].dimmable", "must be true or false")),
    case("a faulty control and what names it", heat(HEAT + ", set: ▸30").replace("[30 cm, 20 cm, 80 cm]", "[30 cm, 20 cm, ▸5 cm]"), ("lamps[0].at[2]", "the lamp at z = 5 cm is below"), ("controls.heat.set", "30 has no unit")),
    case("a control of a faulty lamp", heat("kind: thermostat, probe: mid, set: 30 degC").replace("20 cm, 80 cm]", "20 cm, ▸80]"), ("lamps[0].at[2]", "80 has no unit")),
    case("a control without a name", ROOM + "controls:\n  ▸'': {kind: thermostat, probe: mid, set: 30 degC}\n", ("controls", "a key must be|is no name: 1 to 80 characters")),
    case("three controls wrong at once", ROOM + "controls:\n  ▸a: {kind: cooling, probe: mid, set: 30 degC}\n  b: {kind: ▸hot, probe: mid}\n  ▸c: {kind: thermostat, probe: ▸mitt, set: 30 degC}\n",
         ("controls.a", "drives nothing"), ("controls.b.kind", "'hot' is not one of"), ("controls.c", "drives nothing"), ("controls.c.probe", "there is no site named 'mitt'")),
    # the day
    case("a day without a beginning", METRIC + "day: ▸{to: 19:00}\n", ("day.from", "is needed: On at, such as 07:00")),
    case("a winter in a word", day("from: 07:00, to: 19:00, winter: ▸short"), ("day.winter", "must be keys with values")),
    case("a winter without an end", day("from: 07:00, to: 19:00, winter: ▸{from: 08:00}"), ("day.winter.to", "is needed: Off at")),
    case("a winter of no time", day("winter: {from: 08:00, to: ▸08:00}"), ("day.winter.to", "is the same time as 'from'")),
    case("a ramp longer than the day", day("from: 07:00, to: 19:00, ramp: ▸7 h"), ("day.ramp", "up and down take 14 h together; the day lasts 12 h")),
    case("a ramp longer than the winter's day", day("ramp: ▸5 h, winter: {from: 09:00, to: 18:00}"), ("day.ramp", "up and down take 10 h together; winter lasts 9 h")),
    case("a day beyond the pole", day("latitude: ▸95 deg"), ("day.latitude", "must lie between -90")),
    case("a day where there is none", day("latitude: ▸-70 deg"), ("day.latitude", "at 70 degrees the sun stays down in winter and up in summer; give the hours")),
    case("a latitude without a unit", day("latitude: ▸22"), ("day.latitude", "22 has no unit")),
    case("a season nobody knows", day("from: 07:00, to: 19:00, ▸sumer: {from: 06:00, to: 20:00}"), ("day.sumer", "unknown key; the nearest known is 'summer'")),
    # own catalogues
    own("an own fan with a negative flow", FAN_OWN.replace("85 m3/h", "▸-85 m3/h"), ("fans.mine.free_flow", "a flow cannot be negative")),
    own("an own fan without flow", FAN_OWN.replace("85 m3/h", "▸0 m3/h"), ("fans.mine.free_flow", "must be above zero")),
    own("an own fan without a pressure", FAN_OWN.replace("    static_pressure: 36 Pa\n", "").replace("mine:\n    ", "mine:\n    ▸"), ("fans.mine", "static_pressure is missing; such as 36 Pa")),
    own("an own fan's curve that rises", FAN_OWN + "    curve: ▸[[40 m3/h, 20 Pa], [60 m3/h, 25 Pa]]\n", ("fans.mine.curve", "point 2 does not lie on the way down from static_pressure")),
    own("an own fan's curve past its end", FAN_OWN + "    curve: ▸[[90 m3/h, 5 Pa]]\n", ("fans.mine.curve", "its last point does not lie on the way down")),
    own("an own fan's curve of numbers", FAN_OWN + "    curve: [[▸40, 20 Pa]]\n", ("fans.mine.curve[0][0]", "40 has no unit")),
    own("an own fan's curve of one column", FAN_OWN + "    curve: [▸[40 m3/h]]\n", ("fans.mine.curve[0]", r"is not a point; write it like \[40 m3/h, 25 Pa\]")),
    own("an own fan's curve in a word", FAN_OWN + "    curve: ▸steep\n", ("fans.mine.curve", "is not a list of points")),
    own("an own nozzle wider than half a ball", "nozzles:\n  mine:\n    like: fine-nozzle\n    cone: ▸270 deg\n    sources: {'*': me}\n", ("nozzles.mine.cone", "270 deg is above 180")),
    own("an own nozzle that drips", "nozzles:\n  mine:\n    like: fine-nozzle\n    drop: ▸2 cm\n    sources: {'*': me}\n", ("nozzles.mine.drop", "2 cm is above 1")),
    own("an own filter without a source", "filters:\n  mine:\n    like: dust-mat\n    pressure: ▸30 Pa\n", ("filters.mine.pressure", "has no source")),
    own("an own filter in still air", "filters:\n  mine:\n    like: dust-mat\n    face_speed: ▸0 m/s\n    sources: {'*': me}\n", ("filters.mine.face_speed", "must be above zero")),
]
# fmt: on
