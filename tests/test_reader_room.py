"""The room's year as read from a habitat file: model, readings, seasons, every default told."""

from __future__ import annotations

from pathlib import Path

import jsonschema
import numpy as np
import pytest
from ruamel.yaml import YAML

import weather_made as made
from bad_case import METRIC, US
from loamwright.engine.unlit import bare
from loamwright.errors import InputError
from loamwright.files.json_schema import habitat_schema
from loamwright.files.reader import read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.room import Room, Season
from loamwright.physics.moist_air import saturation_pressure

ZERO = 273.15
JANUARY, JULY = slice(0, 744), slice(181 * 24, 212 * 24)
MODEL = """\
room:
  weather:
    file: weather/roof.epw
    heating: {day: 21 degC, night: 16 degC, from: "07:00", to: "21:00"}
    cooling: 22.5 degC
    gains: 4 K
    moisture: 3 g/m3
    time_constant: 40 h
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project with a weather file and the room's readings in it."""
    found = tmp_path_factory.mktemp("project")
    (found / "weather").mkdir()
    (found / "weather" / "roof.epw").write_text(made.epw())
    (found / "log.csv").write_text(made.log())
    return found


def read(text: str, folder: Path) -> Habitat:
    return read_habitat_text(text, folder / "habitat.yaml")


def told(habitat: Habitat, start: str) -> dict[str, tuple[str, str]]:
    return {d.field: (d.value, d.why) for d in habitat.defaults if d.field.startswith(start)}


@pytest.fixture(scope="module")
def modelled(folder: Path) -> Habitat:
    return read(METRIC + MODEL, folder)


@pytest.fixture(scope="module")
def logged(folder: Path) -> Habitat:
    return read(METRIC + "room: {weather: {file: log.csv}}\n", folder)


@pytest.mark.parametrize("more", [MODEL, "room: {weather: {file: a.epw, heating: off}}\n"])
def test_it_follows_the_schema(more: str) -> None:
    jsonschema.validate(YAML(typ="safe").load(METRIC + more), habitat_schema())


@pytest.mark.parametrize("wrong", ["file: 3", "heating: off", "file: a.epw, heating: on"])
def test_the_schema_refuses_wrong_weather(wrong: str) -> None:
    text = METRIC + f"room: {{weather: {{{wrong}}}}}\n"
    with pytest.raises(
        jsonschema.ValidationError, match=r"is not valid|not of type|required|was expected"
    ):
        jsonschema.validate(YAML(typ="safe").load(text), habitat_schema())


def test_without_weather_there_is_no_year(folder: Path) -> None:
    assert read(METRIC, folder).room == Room()


# -- the model ----------------------------------------------------------------------------------


def test_the_model_keeps_what_the_file_says(modelled: Habitat) -> None:
    year = modelled.room.year
    assert year is not None
    assert year.source == "computed from the weather of weather/roof.epw (Nowhere Hill, XXX)"
    days = np.array(year.temperature).reshape(365, 24) - ZERO
    assert days[:31, 8:21] == pytest.approx(21.0, abs=1e-9)  # one hour to warm
    assert 16.0 < days[0, 6] < 21.0
    assert days.max() == pytest.approx(22.5, abs=1e-9)
    assert len(year.humidity) == 8760
    assert 0.0 < min(year.humidity) < max(year.humidity) <= 1.0
    assert told(modelled, "room.weather") == {}


def test_gains_and_time_constant_are_used(folder: Path) -> None:
    text = (
        METRIC
        + "room: {weather: {file: weather/roof.epw, heating: off, gains: %s, time_constant: %s}}\n"
    )
    one, warmer, lighter = (
        read(text % values, folder).room.year
        for values in (("2 K", "40 h"), ("5 K", "40 h"), ("2 K", "10 h"))
    )
    assert one
    assert warmer
    assert lighter
    outside = np.mean([made.outdoor(h + 0.5) for h in range(8760)]) + ZERO
    assert np.mean(one.temperature) == pytest.approx(outside + 2.0, abs=0.01)
    assert np.array(warmer.temperature) - one.temperature == pytest.approx(3.0, abs=1e-6)
    swing = [np.ptp(year.temperature[JULY][:24]) for year in (one, lighter)]
    # 4 K of amplitude outside, by 1/sqrt(1 + (2 pi tau/24)^2).
    assert swing == pytest.approx([0.76, 2.85], abs=0.12)


def test_moisture_is_used(folder: Path) -> None:
    text = METRIC + "room: {weather: {file: weather/roof.epw, moisture: %s}}\n"
    damp, dry = (read(text % grams, folder).room.year for grams in ("4 g/m3", "0 g/m3"))
    assert damp
    assert dry
    temperature = np.array(dry.temperature[JANUARY])
    pressure = np.array([saturation_pressure(t) for t in temperature])
    added = (np.array(damp.humidity[JANUARY]) - dry.humidity[JANUARY]) * pressure
    # January's days lie below 5 degC: the whole excess, 4 g/m3 x R T.
    assert added == pytest.approx(4e-3 * 461.524 * temperature, rel=1e-9)


def test_what_is_left_out_is_told(folder: Path) -> None:
    habitat = read(METRIC + "room: {weather: {file: weather/roof.epw}}\n", folder)
    found = told(habitat, "room")
    assert {k.removeprefix("room.weather."): v for k, (v, _) in found.items() if "weather" in k} == {
        "heating.day": "20.0 °C", "heating.night": "17.0 °C", "heating.from": "06:00",
        "heating.to": "22:00", "cooling": "none", "gains": "3.0 K", "moisture": "2.5 g/m³",
        "time_constant": "24 h",
    }  # fmt: skip
    assert found["room.altitude"] == ("321 m", "the station of weather/roof.epw")
    assert habitat.room.altitude == 321.0
    assert all(why for _, why in found.values())


def test_heating_in_part_and_none(folder: Path) -> None:
    text = METRIC + "room: {weather: {file: weather/roof.epw, heating: %s}}\n"
    part = read(text % "{day: 18 degC, to: 20:00}", folder)
    assert {k: v for k, (v, _) in told(part, "room.weather.heating").items()} == {
        "room.weather.heating.night": "15.0 °C", "room.weather.heating.from": "06:00"
    }  # fmt: skip
    none = read(text % "off", folder)
    assert told(none, "room.weather.heating") == {}
    assert none.room.year
    assert min(none.room.year.temperature) < ZERO + 5.0


def test_heating_across_midnight(folder: Path) -> None:
    text = METRIC + (
        "room: {weather: {file: weather/roof.epw, "
        "heating: {day: 22 degC, night: 15 degC, from: 20:00, to: 04:00}}}\n"
    )
    year = read(text, folder).room.year
    assert year
    night = np.array(year.temperature[:48]).reshape(2, 24)[1] - ZERO
    assert night[[0, 1, 2, 3, 21, 22, 23]] == pytest.approx(22.0)
    assert night[12] < 21.0


# -- the seasons --------------------------------------------------------------------------------


def test_seasons_are_means_of_the_coldest_and_warmest_month(logged: Habitat) -> None:
    year = logged.room.year
    assert year is not None
    assert year.source == "readings in the room, log.csv"
    for name, span, season in (
        ("coldest", JANUARY, logged.room.winter), ("warmest", JULY, logged.room.summer)
    ):  # fmt: skip
        days = np.array(year.temperature[span]).reshape(31, 24)
        assert season.day == pytest.approx(days[:, 7:19].mean(), abs=1e-9)
        assert season.night == pytest.approx(
            np.concatenate([days[:, :7], days[:, 19:]], axis=1).mean(), abs=1e-9
        )
        assert season.humidity == pytest.approx(np.mean(year.humidity[span]), abs=1e-12)
        why = f"mean of the {name} month of log.csv ({'January' if name == 'coldest' else 'July'})"
        key = "winter" if name == "coldest" else "summer"
        assert {w for _, w in told(logged, f"room.{key}").values()} == {why}
    assert logged.room.altitude == 0.0


def test_what_the_file_says_of_a_season_holds(folder: Path) -> None:
    text = METRIC + "room: {winter: {day: 19 degC}, weather: {file: log.csv}}\n"
    habitat = read(text, folder)
    assert habitat.room.winter.day == pytest.approx(ZERO + 19.0)
    assert set(told(habitat, "room.winter")) == {"room.winter.night", "room.winter.humidity"}


def test_the_day_is_that_of_the_season(folder: Path) -> None:
    text = METRIC + (
        "room: {weather: {file: log.csv}}\n"
        'day: {from: "07:00", to: "19:00", winter: {from: "10:00", to: "15:00"}}\n'
    )
    habitat = read(text, folder)
    assert habitat.room.year
    days = np.array(habitat.room.year.temperature[JANUARY]).reshape(31, 24)
    assert habitat.room.winter.day == pytest.approx(days[:, 10:15].mean(), abs=1e-9)


def test_a_day_of_24_hours_has_the_same_night(folder: Path) -> None:
    text = METRIC + "room: {weather: {file: log.csv}}\nday: {from: 00:00, to: 24:00}\n"
    winter = read(text, folder).room.winter
    assert winter.day == winter.night


def test_the_month_is_chosen_by_the_weather_outside(folder: Path) -> None:
    """A room heated all winter is as warm in each of its months."""
    text = METRIC + (
        "room: {weather: {file: weather/roof.epw, heating: {day: 30 degC, night: 30 degC}}}\n"
    )
    habitat = read(text, folder)
    assert "(January)" in told(habitat, "room.winter")["room.winter.humidity"][1]
    assert "(July)" in told(habitat, "room.summer")["room.summer.humidity"][1]


def test_the_middle_season_lies_halfway() -> None:
    room = Room(Season(290.0, 286.0, 0.3), Season(300.0, 298.0, 0.6))
    assert room.season("winter") == room.winter
    assert room.season("summer") == room.summer
    middle = room.season("middle")
    assert (middle.day, middle.night, middle.humidity) == pytest.approx((295.0, 292.0, 0.45))


# -- units, notes, files ------------------------------------------------------------------------


def test_us_units(folder: Path) -> None:
    text = US + (
        "room: {weather: {file: weather/roof.epw, heating: {day: 68 degF}, gains: 5.4 degF_diff, "
        "moisture: 1 gr/ft3}}\n"
    )
    habitat = read(text, folder)
    assert told(habitat, "room.weather.heating.night")["room.weather.heating.night"][0] == "62.6 °F"
    plain = read(
        METRIC + "room: {weather: {file: weather/roof.epw, moisture: 2.28835 g/m3}}\n", folder
    )
    assert habitat.room.year
    assert plain.room.year
    assert habitat.room.year.temperature == pytest.approx(plain.room.year.temperature, abs=1e-9)
    # 64.79891 mg over 28.316847 L.
    assert habitat.room.year.humidity == pytest.approx(plain.room.year.humidity, rel=1e-5)


def test_what_was_bridged_is_told(tmp_path: Path) -> None:
    rows = made.rows()
    rows[50][made.DRY] = "99.9"
    (tmp_path / "roof.epw").write_text(made.epw(rows))
    habitat = read(METRIC + "room: {weather: {file: roof.epw}}\n", tmp_path)
    (note,) = [d for d in habitat.defaults if d.field == "room.weather.file"]
    assert note.value == "dry bulb temperature of 1 hours"
    (tmp_path / "log.csv").write_text(made.log(3.0))
    habitat = read(METRIC + "room: {weather: {file: log.csv}}\n", tmp_path)
    notes = [d.value for d in habitat.defaults if d.field == "room.weather.file"]
    assert notes == ["temperature of 5840 hours", "humidity of 5840 hours"]


def test_a_file_of_no_text_is_blamed_on_the_line_that_names_it(tmp_path: Path) -> None:
    (tmp_path / "log.csv").write_bytes(b"a\n" * 20_000_000)
    with pytest.raises(InputError, match="larger than 32 MB") as caught:
        read(METRIC + "room: {weather: {file: log.csv}}\n", tmp_path)
    (problem,) = caught.value.problems
    assert (problem.line, problem.column, problem.field) == (6, 24, "room.weather.file")


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path, folder: Path) -> None:
    (tmp_path / "log.csv").symlink_to(folder / "log.csv")
    with pytest.raises(InputError, match="leaves the project's folder"):
        read(METRIC + "room: {weather: {file: log.csv}}\n", tmp_path)


def test_the_light_does_not_ask_for_the_year(modelled: Habitat, folder: Path) -> None:
    """What is kept of the light stays right when the weather changes."""
    assert repr(bare(modelled)) == repr(bare(read(METRIC, folder)))


def test_two_years_differ_in_what_they_are_kept_by(modelled: Habitat, logged: Habitat) -> None:
    assert repr(modelled.room.year) != repr(logged.room.year)
