"""Fans, misting, controls and the day as read from a file: every value in SI, every default told."""

from __future__ import annotations

import math
from pathlib import Path

import jsonschema
import pytest
from ruamel.yaml import YAML

from bad_case import METRIC
from loamwright.errors import InputError
from loamwright.files.build_equipment import can_be_dimmed
from loamwright.files.catalogue import load_catalogue
from loamwright.files.json_schema import habitat_schema
from loamwright.files.reader import read_habitat_text
from loamwright.habitat.air import Fan
from loamwright.habitat.controls import Control, Schedule
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.misting import Mist

SITES = "sites: [{name: mid, at: [30 cm, 20 cm, 50 cm]}, {name: low, at: [30 cm, 20 cm]}]\n"
WHOLE = (
    METRIC
    + SITES
    + """\
lamps:
  - {name: spot, type: halogen-flood-35w, at: [30 cm, 20 cm, 85 cm], control: heat, hours: day}
  - {name: night heat, type: ceramic-emitter-60w, at: [40 cm, 20 cm, 85 cm], control: warm}
  - {name: tube, type: t5ho-uvb-weak-24w, at: [30 cm, 30 cm, 85 cm]}
  - {name: lit, type: led-bar-20w, at: [30 cm, 25 cm, 85 cm], hours: always, dimmable: false}
air:
  - {name: in, fan: axial-60mm-12v, panel: right, at: [10 cm, 30 cm], flow: in, speed: 40 %,
     guard: [steel-mesh-6mm, open], filter: dust-mat, duct: 1 m, hours: {from: "08:00", to: "20:00"}}
  - {name: out, fan: axial-80mm-12v, panel: top, at: [30 cm, 36 cm], flow: out, control: damp}
  - {name: cool, fan: axial-80mm-12v, panel: top, at: [10 cm, 36 cm], flow: out, control: hot}
mist:
  tank: 25 L
  nozzles:
    - {name: one, type: fine-nozzle, at: [30 cm, 10 cm, 88 cm]}
    - {name: two, type: medium-nozzle, at: [50 cm, 10 cm, 88 cm], aim: [50 cm, 20 cm, 78 cm]}
  times: [{at: "19:00", for: 1 min}, {at: "07:30", for: 40 s}]
  control: dry
controls:
  heat: {kind: dimming-thermostat, probe: mid, set: 35 degC, band: 4 K, night: off, cut_out: 45 degC}
  warm: {kind: thermostat, probe: low, set: 28 degC, hysteresis: 2 K, night: 22 degC, lag: 2 min,
         cut_out: 30 degC, cut_out_probe: mid}
  damp: {kind: humidistat, probe: mid, on_above: 88 %, off_below: 75 %,
         night: {on_above: 98 %, off_below: 90 %}}
  hot: {kind: cooling, probe: mid, set: 30 degC}
  dry: {kind: pulse-mist, probe: mid, set: 70 %, hysteresis: 8 %, pulse: 12 s, pause: 10 min}
day: {from: "07:00", to: "19:00", ramp: 30 min, winter: {from: "08:00", to: "18:00"}}
"""
)


def read(text: str) -> Habitat:
    return read_habitat_text(text, Path("habitat.yaml"))


@pytest.fixture(scope="module")
def whole() -> Habitat:
    return read(WHOLE)


def celsius(value: float) -> float:
    return value + 273.15


def test_it_follows_the_schema() -> None:
    jsonschema.validate(YAML(typ="safe").load(WHOLE), habitat_schema())


@pytest.mark.parametrize(
    "wrong",
    ["kind: heater", "kind: cooling, probe: mid, set: 3", "kind: cooling, probe: m, dim: a"],
)
def test_the_schema_refuses_a_wrong_control(wrong: str) -> None:
    text = METRIC + f"controls: {{a: {{{wrong}}}}}\n"
    with pytest.raises(jsonschema.ValidationError, match=r"is not valid|not of type|unexpected"):
        jsonschema.validate(YAML(typ="safe").load(text), habitat_schema())


def test_fans(whole: Habitat) -> None:
    inlet, outlet, cool = whole.fans
    assert isinstance(inlet, Fan)
    assert (inlet.name, inlet.side, inlet.inward) == ("in", "right", True)
    assert inlet.at == pytest.approx((0.10, 0.30))
    assert (inlet.speed, inlet.duct_length) == pytest.approx((0.4, 1.0))
    assert inlet.type.free_flow == pytest.approx(36.0 / 3600.0)
    # A guard that is open is none.
    assert [guard.key for guard in inlet.guards] == ["steel-mesh-6mm"]
    assert inlet.filter is not None
    assert inlet.filter.key == "dust-mat"
    assert inlet.on == (8 * 3600.0, 20 * 3600.0)
    assert (outlet.control, outlet.inward, outlet.speed, outlet.on) == ("damp", False, 1.0, (0, 0))
    assert (cool.control, cool.guards, cool.filter, cool.duct_length) == ("hot", (), None, 0.0)


def test_mist(whole: Habitat) -> None:
    mist = whole.mist
    assert isinstance(mist, Mist)
    assert mist.tank == pytest.approx(0.025)
    assert mist.times == ((7.5 * 3600.0, 40.0), (19 * 3600.0, 60.0))  # by the hour of the day
    assert (mist.control, mist.temperature, mist.pump) == ("dry", 293.15, 20.0)
    assert [n.type.key for n in mist.nozzles] == ["fine-nozzle", "medium-nozzle"]
    assert mist.nozzles[0].aim == (0.0, 0.0, -1.0)
    half = math.sqrt(0.5)
    assert mist.nozzles[1].aim == pytest.approx((0.0, half, -half))


def control(habitat: Habitat, name: str) -> Control:
    return next(c for c in habitat.controls if c.name == name)


@pytest.mark.parametrize(
    ("name", "limits", "night"),
    [
        ("heat", (celsius(33), celsius(37)), (None, None)),
        ("warm", (celsius(27), celsius(29)), (celsius(21), celsius(23))),
        ("damp", (0.75, 0.88), (0.90, 0.98)),
        ("hot", (celsius(29.5), celsius(30.5)), (celsius(29.5), celsius(30.5))),
        ("dry", (0.66, 0.74), (0.66, 0.74)),
    ],
)
def test_limits_by_day_and_by_night(
    whole: Habitat, name: str, limits: tuple[float, float], night: tuple[float | None, float | None]
) -> None:
    found = control(whole, name)
    assert (found.low, found.high) == pytest.approx(limits)
    if night[0] is None:
        assert (found.night_low, found.night_high) == night
    else:
        assert (found.night_low, found.night_high) == pytest.approx(night)


def test_the_rest_of_the_controls(whole: Habitat) -> None:
    heat, warm, dry = (control(whole, name) for name in ("heat", "warm", "dry"))
    assert (heat.kind, heat.probe, heat.lag) == ("dimming-thermostat", "mid", 60.0)
    assert (heat.cut_out, heat.cut_out_probe) == (pytest.approx(celsius(45)), "mid")
    assert (warm.lag, warm.cut_out_probe) == (120.0, "mid")
    assert (dry.pulse, dry.pause) == (12.0, 600.0)
    assert [c.name for c in whole.controls] == ["heat", "warm", "damp", "hot", "dry"]


def test_lamps_know_their_control_and_their_day(whole: Habitat) -> None:
    lamps = {lamp.name: lamp for lamp in whole.lamps}
    assert (lamps["spot"].control, lamps["spot"].follows_day, lamps["spot"].dimmable) == (
        "heat", True, True,
    )  # fmt: skip
    # Its control holds a temperature at night, so it must be able to come on then.
    assert lamps["night heat"].on == (0.0, 86400.0)
    assert lamps["night heat"].hours_a_day == 24.0
    assert not lamps["night heat"].follows_day
    assert (lamps["tube"].follows_day, lamps["tube"].dimmable) == (True, False)
    assert (lamps["lit"].on, lamps["lit"].follows_day, lamps["lit"].dimmable) == (
        (0.0, 86400.0), False, False,
    )  # fmt: skip


def test_kinds_of_lamps_that_can_be_dimmed() -> None:
    kinds = load_catalogue().lamps
    can = {key for key, kind in kinds.items() if can_be_dimmed(kind)}
    for key, kind in kinds.items():
        hot_wire = kind.group in ("halogen lamps", "incandescent lamps", "heat emitters")
        assert (key in can) == (hot_wire or key.startswith("led-")), key


def test_the_day_by_table(whole: Habitat) -> None:
    schedule = whole.schedule
    assert schedule.day == whole.day == (7 * 3600.0, 19 * 3600.0)
    assert schedule.hours("winter") == (8 * 3600.0, 18 * 3600.0)
    assert schedule.hours("summer") == schedule.hours("spring") == schedule.day
    assert (schedule.ramp, schedule.latitude) == (1800.0, None)


@pytest.mark.parametrize("sign", ["", "-"])
def test_the_day_by_latitude_lies_round_its_middle(sign: str) -> None:
    schedule = read(METRIC + f"day: {{latitude: {sign}40 deg}}\n").schedule
    assert schedule.day == (7 * 3600.0, 19 * 3600.0)
    assert schedule.winter is not None
    assert schedule.summer is not None
    for start, end in (schedule.winter, schedule.summer):
        assert (start + end) / 2.0 == 13 * 3600.0
    # 9 h 20 min and 15 h 1 min at 40 degrees (almanacs, from memory); to the whole minute here.
    assert schedule.winter[1] - schedule.winter[0] == pytest.approx(9.33 * 3600.0, abs=120.0)
    assert schedule.summer[1] - schedule.summer[0] == pytest.approx(15.02 * 3600.0, abs=120.0)


def test_a_table_comes_before_the_latitude() -> None:
    text = 'day: {latitude: 40 deg, summer: {from: "06:00", to: "20:00"}}\n'
    habitat = read(METRIC + text)
    assert habitat.schedule.summer == (6 * 3600.0, 20 * 3600.0)
    assert [d.field for d in habitat.defaults if d.field.startswith("day.s")] == []
    assert [d.value for d in habitat.defaults if d.field == "day.winter"] == ["08:20 to 17:40"]


def test_a_day_across_midnight_keeps_its_middle() -> None:
    schedule = read(METRIC + 'day: {from: "19:00", to: "07:00", latitude: 40 deg}\n').schedule
    assert schedule.winter == (20 * 3600.0 + 1200.0, 5 * 3600.0 + 2400.0)


def test_nothing_said_is_nothing_there() -> None:
    habitat = read(METRIC)
    assert (habitat.fans, habitat.mist, habitat.controls) == ((), None, ())
    assert habitat.schedule == Schedule()


def test_every_default_is_told() -> None:
    text = WHOLE.replace("hysteresis: 8 %, pulse: 12 s, pause: 10 min", "night: off")
    told = {d.field: d.value for d in read(text).defaults}
    wanted = {
        "controls[heat].lag": "60 s",
        "controls[heat].cut_out_probe": "mid",
        "controls[hot].hysteresis": "1.0 K",
        "controls[hot].night": "as by day",
        "controls[dry].hysteresis": "5 %",
        "controls[dry].pulse": "10 s",
        "controls[dry].pause": "5 min",
        "air[out].speed": "100 %",
        "air[out].guard": "none",
        "air[out].filter": "none",
        "air[out].duct": "none",
        "mist.water_temperature": "20.0 °C",
        "mist.pump": "20 W",
        "mist.nozzles[one].aim": "down",
        "lamps[night heat].hours": "always",
        "lamps[tube].hours": "day",
        "lamps[tube].dimmable": "false",
        "lamps[spot].dimmable": "true",
    }
    assert wanted.items() <= told.items()
    assert "air[out].hours" not in told  # its control switches it
    assert "lamps[lit].dimmable" not in told


def test_a_fan_without_hours_or_control_always_runs() -> None:
    text = "air: [{name: f, fan: axial-60mm-12v, panel: top, at: [30 cm, 20 cm], flow: in}]\n"
    habitat = read(METRIC + text)
    assert habitat.fans[0].on == (0.0, 0.0)
    assert {d.value for d in habitat.defaults if d.field == "air[f].hours"} == {"always"}


def test_fans_may_touch_and_lie_beside_an_opening() -> None:
    hole = (
        "90 cm}\n  openings: [{name: vent, panel: top, at: [30 cm, 10 cm], size: [20 cm, 10 cm]}]"
    )
    fan = "fan: axial-60mm-12v, panel: top, flow: out"
    text = METRIC.replace("90 cm}", hole) + (
        f"air: [{{name: a, {fan}, at: [30 cm, 18 cm]}}, {{name: b, {fan}, at: [36 cm, 18 cm]}},\n"
        f"  {{name: c, {fan.replace('top', 'right')}, at: [30 cm, 18 cm]}}]\n"
    )
    assert len(read(text).fans) == 3
    with pytest.raises(InputError, match="overlaps the opening 'vent'"):
        read(text.replace("[30 cm, 18 cm]}, {name: b", "[30 cm, 17.9 cm]}, {name: b"))


def test_mistings_may_meet_and_end_at_midnight() -> None:
    text = (
        METRIC + "mist:\n  tank: 5 L\n"
        "  nozzles: [{name: n, type: fine-nozzle, at: [30 cm, 20 cm, 85 cm]}]\n"
        '  times: [{at: "23:59", for: 60 s}, {at: "07:30", for: 60 s}, {at: "07:31", for: 1 min}]\n'
    )
    mist = read(text).mist
    assert mist is not None
    assert sum(length for _, length in mist.times) == 180.0


def test_a_lost_section_does_not_make_its_controls_idle() -> None:
    """What names a control may be what cannot be read: nothing false is said then."""
    text = METRIC + SITES + "mist: 3\ncontrols: {dry: {kind: pulse-mist, probe: mid, set: 70 %}}\n"
    with pytest.raises(InputError, match="mist: must be keys with values") as caught:
        read(text)
    assert len(caught.value.problems) == 1


def test_own_fans_and_nozzles_by_a_few_numbers(tmp_path: Path) -> None:
    (tmp_path / "own.yaml").write_text(
        "fans:\n  mine:\n    label: a fan from the cellar\n    diameter: 120 mm\n"
        "    free_flow: 60 cfm\n    static_pressure: 25 Pa\n    power: 2 W\n"
        "    curve: [[40 m3/h, 15 Pa], [80 m3/h, 6 Pa]]\n    sources: {'*': its data sheet}\n"
        "nozzles:\n  jar:\n    like: fine-nozzle\n    flow: 52 mL/min\n"
        "    sources: {flow: a minute into a jar}\n"
    )
    text = (
        METRIC + "catalogue: [own.yaml]\n"
        "air: [{name: f, fan: mine, panel: top, at: [30 cm, 20 cm], flow: out}]\n"
        "mist: {tank: 5 L, nozzles: [{name: n, type: jar, at: [30 cm, 20 cm, 85 cm]}], "
        'times: [{at: "07:30", for: 40 s}]}\n'
    )
    habitat = read_habitat_text(text, tmp_path / "habitat.yaml")
    kind = habitat.fans[0].type
    assert kind.free_flow == pytest.approx(60 * 0.3048**3 / 60)
    assert kind.curve[0] == pytest.approx((40 / 3600, 15.0))
    assert kind.curve[1] == pytest.approx((80 / 3600, 6.0))
    assert str(kind.source_of("free_flow").kind) == "builder"
    assert habitat.mist is not None
    nozzle = habitat.mist.nozzles[0].type
    assert nozzle.flow == pytest.approx(52e-6 / 60)
    assert nozzle.drop == load_catalogue().nozzles["fine-nozzle"].drop
    assert str(nozzle.source_of("drop").kind) == "from memory"
