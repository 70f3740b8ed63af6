# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong weather of the room: its keys, its limits, and the files it names."""

from __future__ import annotations

from bad_case import MARK, METRIC, US, case

LOG = "time,temperature [degC],humidity [%]\n"


def weather(text: str, base: str = METRIC) -> str:
    return base + f"room: {{weather: {{{text}}}}}\n"


def epw(text: str, base: str = METRIC) -> str:
    """A model with a weather file that is not there, which is said besides unless it is marked."""
    return weather(f"file: {MARK}roof.epw, {text}", base)


GONE = ("room.weather.file", "there is no file 'roof.epw' in the project's folder")

# fmt: off
CASES = [
    case("weather in a word", METRIC + "room: {weather: ▸mild}\n", ("room.weather", "must be keys with values")),
    case("weather without a file", METRIC + "room: {weather: ▸{heating: off}}\n", ("room.weather.file", "is needed: In this file's folder or below it: an EnergyPlus weather file")),
    case("weather of a file that is not there", weather("file: ▸roof.epw"), GONE),
    case("readings that are not there", weather("file: ▸log.csv"), ("room.weather.file", "there is no file 'log.csv' in the project's folder")),
    case("weather from outside", weather("file: ▸../roof.epw"), ("room.weather.file", r"'../roof.epw' leaves the project's folder")),
    case("weather from the root", weather("file: ▸/etc/roof.epw"), ("room.weather.file", "is an absolute path")),
    case("weather from the net", weather('file: ▸"https://example.org/roof.epw"'), ("room.weather.file", "must be a file in the project's folder")),
    case("weather of another kind", weather("file: ▸roof.tmy"), ("room.weather.file", r"'roof.tmy' must be an EnergyPlus weather file \(.epw\) or the room's own readings \(.csv\)")),
    case("weather in a folder", weather("file: ▸there.epw"), ("room.weather.file", "'there.epw' is not a file"), beside={"there.epw/log.csv": LOG}),
    case("weather in a number", weather("file: ▸7"), ("room.weather.file", 'must be a text; put it in quotes: "7"')),
    case("an unknown key of the weather", weather("fiel: roof.epw, ▸moist: 2 g/m3, file: roof.epw").replace("fiel", "▸fiel"), ("room.weather.fiel", "unknown key; "), ("room.weather.moist", "unknown key; the nearest known is 'moisture'")),
    case("an unknown season beside the weather", METRIC + "room: {▸autumn: {day: 20 degC}, weather: {file: ▸roof.epw}}\n", ("room.autumn", "unknown key; "), GONE),
    case("a wrong season beside the weather", METRIC + "room: {winter: {day: ▸20}, weather: {file: ▸roof.epw}}\n", ("room.winter.day", "20 has no unit"), GONE),
    case("heating in a word", weather("file: roof.epw, heating: ▸on"), ("room.weather.heating", "'on' is not one of: off")),
    case("heating in a list", weather("file: roof.epw, heating: ▸[20 degC]"), ("room.weather.heating", "a list is not one of: off")),
    case("heating without a unit", weather("file: roof.epw, heating: {day: ▸20}"), ("room.weather.heating.day", "20 has no unit; write it like")),
    case("heating to an oven", weather("file: roof.epw, heating: {night: ▸200 degC}"), ("room.weather.heating.night", "must lie between -50.0 °C and 70.0 °C")),
    case("an unknown key of the heating", weather("file: roof.epw, heating: {▸dya: 20 degC}"), ("room.weather.heating.dya", "unknown key; the nearest known is 'day'")),
    case("heating for no time", epw("heating: {from: 06:00, to: ▸06:00}"), GONE, ("room.weather.heating.to", "is the same time as 'from'; from 00:00 to 24:00 is the whole day")),
    case("heating from a bare number", weather("file: roof.epw, heating: {from: ▸6}"), ("room.weather.heating.from", "6 is not a time of day")),
    case("cooling under the heating", epw("heating: {day: 21 degC, night: 23 degC}, cooling: ▸22 degC"), GONE, ("room.weather.cooling", "22 degC must lie above what the heating keeps, 23.0 °C")),
    case("cooling under the usual heating, in Fahrenheit", epw("cooling: ▸68 degF", US), GONE, ("room.weather.cooling", "68 degF must lie above what the heating keeps, 68.0 °F")),
    case("gains below nothing", weather("file: roof.epw, gains: ▸-1 K"), ("room.weather.gains", "'-1 K' must lie between 0.0 K and 20.0 K")),
    case("gains as a temperature", weather("file: roof.epw, gains: ▸2 degC"), ("room.weather.gains", "is written in K or degF_diff, not degC")),
    case("moisture without a unit", weather("file: roof.epw, moisture: ▸2"), ("room.weather.moisture", r'2 has no unit; write it like "2 g/m3" \(units: g/m3, gr/ft3\)')),
    case("moisture in per cent", weather("file: roof.epw, moisture: ▸40 %"), ("room.weather.moisture", r"% is a unit of share")),
    case("moisture of a steam bath", weather("file: roof.epw, moisture: ▸50 g/m3"), ("room.weather.moisture", "must lie between 0 g/m³ and 20 g/m³")),
    case("a room of paper", weather("file: roof.epw, time_constant: ▸5 min"), ("room.weather.time_constant", "must lie between 60 min and 30 d")),
    case("a model beside readings", weather("file: ▸log.csv, ▸heating: off, ▸cooling: 27 degC, ▸gains: 2 K, ▸moisture: 2 g/m3, ▸time_constant: 1 d"),
         ("room.weather.file", "there is no file 'log.csv'"), *((f"room.weather.{key}", r"belongs to a weather file \(.epw\); readings of the room need no model") for key in ("heating", "cooling", "gains", "moisture", "time_constant"))),
    # the files themselves; more of that stands with their readers' tests
    case("a habitat for weather", weather("file: roof.epw"), ("LOCATION", "'name: Small' begins the file; an EPW weather file begins with LOCATION"), beside={"roof.epw": "▸name: Small\n"}),
    case("weather without rows", weather("file: roof.epw"), ("date", "the file ends after 0 rows, where 1 January, hour 1 is due"), beside={"roof.epw": "LOCATION,a,b,c,d,e,1,2,0,10\n▸DATA PERIODS,1,1\n"}),
    case("readings of one hour", weather("file: room/log.csv"), ("temperature", "covers 0.0 days, from 1 January 00:00 to 1 January 00:00; a whole year is needed"), beside={"room/log.csv": LOG + "▸2023-01-01T00:00,20,50\n"}),
    case("readings without heads", weather("file: log.csv"), ("time", "no column is it"), ("temperature", "no column is it"), ("humidity", "no column is it"), beside={"log.csv": "▸▸▸2023-01-01T00:00,20,50\n"}),
    case("two wrong readings", weather("file: log.csv"), ("temperature", "'warm' is not a number"), ("time", "'noon' is not read"), beside={"log.csv": LOG + "▸2023-01-01T00:00,warm,50\n▸noon,20,50\n"}),
]
# fmt: on
