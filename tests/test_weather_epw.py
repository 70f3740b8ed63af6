"""EPW weather files: a year read right, short gaps bridged and told, everything wrong located."""

from __future__ import annotations

import functools
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import weather_made as made
from loamwright.errors import InputError, Problem
from loamwright.files.weather_epw import MAX_BYTES, parse_epw, read_epw
from loamwright.files.weather_hours import bridged, gaps_of, hour_name, month_of

Rows = list[list[str]]


@functools.cache
def whole_text() -> str:
    return made.epw()


def changed(*changes: tuple[int, int, str]) -> Rows:
    """The rows of a year with some fields changed: (row, place, text)."""
    rows = made.rows()
    for row, place, text in changes:
        rows[row][place] = text
    return rows


def problems(text: str) -> list[Problem]:
    with pytest.raises(InputError, match=r"roof\.epw") as caught:
        parse_epw(text, "roof.epw")
    return caught.value.problems


def test_a_whole_year() -> None:
    found = parse_epw(whole_text(), "roof.epw")
    assert (found.place, found.elevation, found.notes) == ("Nowhere Hill, XXX", 321.0, ())
    assert len(found.temperature) == len(found.humidity) == 8760
    for hour in (0, 5000, 8759):
        right = round(made.outdoor(hour + 0.5), 2) + 273.15
        assert found.temperature[hour] == pytest.approx(right, abs=1e-9)
    assert set(found.humidity) == {0.78}
    assert found.pressure is not None
    assert set(found.pressure) == {97500.0}
    for radiation, value in (
        (found.global_horizontal, 100.0),
        (found.direct_normal, 50.0),
        (found.diffuse_horizontal, 80.0),
    ):
        assert radiation == (value,) * 8760


def test_a_leap_year_loses_its_29th_of_february() -> None:
    rows = made.rows(leap=True)
    assert len(rows) == 8784
    for row in rows[59 * 24 : 60 * 24]:
        row[made.DRY] = "-30.0"
    found = parse_epw(made.epw(rows), "roof.epw")
    assert [n.value for n in found.notes] == ["29 February left out"]
    assert found.temperature == parse_epw(whole_text(), "roof.epw").temperature


def test_older_files_with_fewer_fields_and_other_line_ends() -> None:
    text = "".join(",".join(row[:32]) + "\r\n" for row in made.rows())
    head = made.HEAD.format(elevation="0").replace("\n", "\r\n")
    assert len(parse_epw(head + text, "roof.epw").temperature) == 8760


def test_typical_years_mix_years() -> None:
    rows = made.rows()
    for row in rows[:744]:
        row[0] = "1987"
    assert parse_epw(made.epw(rows), "roof.epw").notes == ()


# -- what is missing ----------------------------------------------------------------------------


def test_short_gaps_are_bridged_and_told() -> None:
    rows = changed((99, made.DRY, "10.0"), (106, made.DRY, "17.0"))
    for i in range(100, 106):
        rows[i][made.DRY] = "99.9" if i % 2 else ""
    rows[4000][made.DRY] = "99.90"
    found = parse_epw(made.epw(rows), "roof.epw")
    assert [t - 273.15 for t in found.temperature[99:107]] == pytest.approx(list(range(10, 18)))
    (note,) = found.notes
    assert note.value == "dry bulb temperature of 7 hours"
    assert note.why == "missing, bridged by straight lines; longest 6 h from 5 January 04:00"


def test_a_gap_over_the_new_year() -> None:
    rows = changed((8757, made.HUMIDITY, "40"), (1, made.HUMIDITY, "80"))
    for i in (8758, 8759, 0):
        rows[i][made.HUMIDITY] = "999"
        rows[i][made.DEW] = "99.9"
    found = parse_epw(made.epw(rows), "roof.epw")
    assert [found.humidity[i] for i in (8758, 8759, 0)] == pytest.approx([0.5, 0.6, 0.7])
    assert "longest 3 h from 31 December 22:00" in found.notes[0].why


def test_humidity_from_the_dew_point_where_it_is_missing() -> None:
    rows = changed((100, made.HUMIDITY, "999"), (100, made.DRY, "25.0"), (100, made.DEW, "13.864"))
    found = parse_epw(made.epw(rows), "roof.epw")
    # 25 degC, 50 %: dew point 13.864 degC by PsychroLib 2.5.0.
    assert found.humidity[100] == pytest.approx(0.5, abs=2e-5)
    assert [n.value for n in found.notes] == ["relative humidity of 1 hours"]


def test_more_than_saturated_is_saturated() -> None:
    found = parse_epw(made.epw(changed((7, made.HUMIDITY, "104"))), "roof.epw")
    assert found.humidity[7] == 1.0


def test_a_long_gap_is_refused_with_its_place() -> None:
    rows = made.rows()
    for i in range(200, 207):
        rows[i][made.DRY] = "99.9"
    (problem,) = problems(made.epw(rows))
    assert (problem.line, problem.field) == (made.FIRST + 200, "dry bulb temperature")
    assert problem.message == "is missing for 7 hours from 9 January 08:00; up to 6 are bridged"


def test_what_is_not_needed_may_be_missing() -> None:
    rows = made.rows()
    for row in rows:
        row[made.DIRECT], row[made.PRESSURE], row[made.DEW] = "9999", "999999", "99.9"
    found = parse_epw(made.epw(rows), "roof.epw")
    assert (found.direct_normal, found.pressure, found.notes) == (None, None, ())


# -- what is wrong ------------------------------------------------------------------------------


def test_several_wrong_values_are_told_at_once() -> None:
    rows = changed(
        (10, made.DRY, "71.0"), (20, made.HUMIDITY, "-4"), (30, made.PRESSURE, "1013"),
        (40, made.DEW, "warm"),
    )  # fmt: skip
    found = [(p.line - made.FIRST, p.field, p.message) for p in problems(made.epw(rows))]
    limits = "cannot be; -70 to 70 degC is read, or 99.9 where it is missing"
    assert found[0] == (10, "dry bulb temperature", f"71 degC {limits}")
    assert [(line, field) for line, field, _ in found[1:]] == [
        (20, "relative humidity"), (30, "atmospheric pressure"), (40, "dew point temperature")
    ]  # fmt: skip
    assert found[3][2] == "'warm' is not a number"


def test_the_column_of_a_wrong_value_is_told() -> None:
    text = made.epw(changed((0, made.DRY, "cold")))
    (problem,) = problems(text)
    assert text.splitlines()[problem.line - 1][problem.column - 1 :].startswith("cold,")


def test_not_more_than_twenty() -> None:
    rows = made.rows()
    for row in rows:
        row[made.DRY] = "x"
    assert len(problems(made.epw(rows))) == 20


def lines(change: str) -> str:
    """A whole file with its lines changed."""
    out = whole_text().splitlines()
    first = made.FIRST - 1
    if change == "cut short":
        out = out[:5000]
    elif change == "a row lost":
        del out[first + 30]
    elif change == "a row twice":
        out.insert(first + 30, out[first + 30])
    elif change == "one row too many":
        out.append(out[-1])
    elif change == "hours from 0":
        out[first] = out[first].replace("1999,1,1,1,", "1999,1,1,0,")
    elif change == "begins in July":
        out = out[:first] + out[first + 181 * 24 :] + out[first : first + 181 * 24]
    elif change == "a short row":
        out[first + 2] = out[first + 2][:40]
    elif change == "a blank row":
        out.insert(first + 2, "")
    elif change == "four an hour":
        out[first - 1] = out[first - 1].replace("1,1,Data", "1,4,Data")
    elif change == "two periods":
        out[first - 1] = out[first - 1].replace("1,1,Data", "2,1,Data")
    elif change == "no data periods":
        del out[first - 1]
    elif change == "no elevation":
        out[0] = out[0].removesuffix(",321.0")
    elif change == "elevation in words":
        out[0] = out[0].replace("321.0", "high")
    elif change == "in orbit":
        out[0] = out[0].replace("321.0", "9000")
    elif change == "semicolons":
        out = [line.replace(",", ";") for line in out]
    return "\n".join(out)


WRONG = {
    "cut short": (5000, "date", r"ends after 4992 rows, where 28 July, hour 1 is due: it is cut"),
    "a row lost": (39, "date", r"hour are '1, 2, 8' where 1, 2, 7 is due; rows must run hour by"),
    "a row twice": (40, "date", r"are '1, 2, 7' where 1, 2, 8 is due"),
    "one row too many": (8769, "date", r"rows follow after the end of the year; one year is read"),
    "hours from 0": (9, "date", r"are '1, 1, 0' where 1, 1, 1 is due"),
    "begins in July": (9, "date", r"are '7, 1, 1' where 1, 1, 1 is due"),
    "a short row": (11, "row", r"has \d+ fields; 35 are right \(at least 32\)"),
    "a blank row": (11, "row", r"has 1 fields; 35 are right"),
    "four an hour": (8, "records per hour", r"4 is not read; 1 is right"),
    "two periods": (8, "number of data periods", r"2 is not read; 1 is right"),
    "no data periods": (40, "DATA PERIODS", r"there is no DATA PERIODS line: the file is no EPW"),
    "no elevation": (1, "LOCATION", r"has 8 fields; 9 are needed, the last the elevation"),
    "elevation in words": (1, "elevation", r"'high' is not a number"),
    "in orbit": (1, "elevation", r"9000 m cannot be; -450 to 6000 m is read"),
    "semicolons": (1, "LOCATION", r"begins the file; an EPW weather file begins with LOCATION"),
}


@pytest.mark.parametrize("change", WRONG)
def test_a_file_of_wrong_form_is_located(change: str) -> None:
    line, field, said = WRONG[change]
    (problem,) = problems(lines(change))
    assert (problem.file, problem.line, problem.field) == ("roof.epw", line, field)
    assert re.search(said, problem.message), problem.message


@pytest.mark.parametrize(
    "text", ["", "\n\n", "name: Small\n", "LOCATION", "LOCATION,,,,,,,,,0\n", "\x00"]
)
def test_files_that_are_none(text: str) -> None:
    assert all(p.line for p in problems(text))


def test_names_of_places_in_any_letters(tmp_path: Path) -> None:
    path = tmp_path / "roof.epw"
    text = whole_text().replace("Nowhere Hill", "Ödhügel")
    for code in ("utf-8", "latin-1", "utf-8-sig"):
        path.write_text(text, encoding=code)
        assert read_epw(path).place == "Ödhügel, XXX"


def refusal(path: Path, raw: bytes) -> str:
    path.write_bytes(raw)
    with pytest.raises(InputError, match=r"roof\.epw") as caught:
        read_epw(path)
    return str(caught.value)


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "roof.epw"
    assert "is written as UTF-16" in refusal(path, "LOCATION,".encode("utf-16"))
    assert "not a text file" in refusal(path, b"LOCATION,\x00\x01,")
    assert "is larger than 8 MB" in refusal(path, b"LOCATION," * (MAX_BYTES // 9 + 1))
    path.unlink()
    with pytest.raises(InputError, match="cannot be read: No such file"):
        read_epw(path)


def test_a_number_of_other_digits_is_none() -> None:
    (problem,) = problems(made.epw(changed((5, made.DRY, "١٢"))))
    assert problem.message.endswith("is not a number")


LINES = 60


@settings(max_examples=100)
@given(
    where=st.integers(0, LINES - 1),
    place=st.integers(0, 400),
    junk=st.text("0123456789-+.,;:e \t\n\r\x00\x1bLOCATION/é٣\u2028", min_size=1, max_size=20),
)
def test_a_file_changed_anywhere_is_refused_well(where: int, place: int, junk: str) -> None:
    """A file of two days, with junk in it: nothing but located problems comes out."""
    lines = whole_text().splitlines()[:LINES]
    line = lines[where]
    lines[where] = line[:place] + junk + line[place + len(junk) :]
    for problem in problems("\n".join(lines)):
        assert problem.line >= 1
        assert str(problem).isprintable()


# -- hours --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hour", "name"),
    [(0, "1 January 00:00"), (31 * 24, "1 February 00:00"), (59 * 24, "1 March 00:00"),
     (8759, "31 December 23:00"), (8759.9999, "1 January 00:00"), (37.25, "2 January 13:15")],
)  # fmt: skip
def test_hours_have_names(hour: float, name: str) -> None:
    assert hour_name(hour) == name


def test_gaps() -> None:
    values = [None, 1.0, None, None, 4.0, None]
    assert gaps_of(values) == [(2, 2), (5, 2)]
    assert bridged(values, gaps_of(values)) == pytest.approx([2.0, 1.0, 2.0, 3.0, 4.0, 3.0])
    assert gaps_of([None, None]) == [(0, 2)]
    assert gaps_of([None, 3.0, None]) == [(2, 2)]
    assert bridged([None, 3.0, None], [(2, 2)]) == [3.0, 3.0, 3.0]


def test_the_coldest_and_the_warmest_month() -> None:
    hours = [made.outdoor(h) for h in range(8760)]
    assert (month_of(hours, warmest=False), month_of(hours, warmest=True)) == (0, 6)
    south = hours[4380:] + hours[:4380]
    assert (month_of(south, warmest=False), month_of(south, warmest=True)) == (6, 0)
