# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""A room's own readings: hourly means of any steps, any usual spelling, every fault located."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import weather_made as made
from loamwright.errors import InputError, Problem
from loamwright.files.weather_csv import MAX_BYTES, hour_means, parse_room_log, read_room_log

TWO_DAYS = [f"2023-01-{d:02d}T{h:02d}:00" for d in (1, 2) for h in range(24)]


def means(hours: range) -> list[float]:
    """Exact means of the invented temperature over hours [degC], by fine sums."""
    return [float(np.mean([made.indoor(h + (i + 0.5) / 60)[0] for i in range(60)])) for h in hours]


def celsius(values: tuple[float, ...], hours: range) -> list[float]:
    return [values[h] - 273.15 for h in hours]


def problems(text: str) -> list[Problem]:
    with pytest.raises(InputError, match=r"log\.csv") as caught:
        parse_room_log(text, "log.csv")
    return caught.value.problems


# -- the means ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("step", "tolerance"),
    # Values are written to 0.01; between readings the curve bows from the straight line by at most
    # (step/2)^2/2 of its second derivative, 1.5 (2 pi/24)^2 = 0.103 K/h2.
    [(0.25, 0.006), (1.0, 0.02), (2.0, 0.06), (3.0, 0.125)],
)
def test_regular_steps(step: float, tolerance: float) -> None:
    found = parse_room_log(made.log(step), "log.csv")
    assert len(found.temperature) == len(found.humidity) == 8760
    for hours in (range(0, 48), range(4000, 4048), range(8736, 8760)):
        assert celsius(found.temperature, hours) == pytest.approx(means(hours), abs=tolerance)
    assert found.humidity[12] == pytest.approx(made.indoor(12.5)[1] / 100, abs=0.001)


def test_irregular_steps() -> None:
    minutes = np.cumsum(np.random.default_rng(4).integers(1, 240, 4500))
    minutes = minutes[minutes < 525_600]
    start = datetime.fromisoformat("2023-01-01")
    rows = ["time,temperature [degC],humidity [%]"]
    for m in minutes.tolist():
        t, h = made.indoor(m / 60)
        now = start + (datetime.fromisoformat("2023-01-02") - start) * (m / 1440)
        rows.append(f"{now.isoformat(timespec='seconds')},{t:.3f},{h:.3f}")
    found = parse_room_log("\n".join(rows), "log.csv")
    hours = range(1000, 1240)
    # Steps of 4 h at most: (2 h)^2/2 x 0.103 K/h2.
    assert celsius(found.temperature, hours) == pytest.approx(means(hours), abs=0.21)
    assert np.mean(celsius(found.temperature, hours)) == pytest.approx(
        np.mean(means(hours)), abs=0.1
    )


@settings(max_examples=40)
@given(
    times=st.lists(st.floats(0.0, 8759.0), min_size=1, max_size=40, unique=True),
    seed=st.integers(0, 99),
)
def test_the_mean_of_the_hours_is_that_of_the_lines(times: list[float], seed: int) -> None:
    """Nothing is lost or doubled: the hours add up to the trapezoids between readings."""
    values = np.random.default_rng(seed).normal(size=len(times))
    found = hour_means(np.array(times), values)
    order = np.argsort(times)
    t, v = np.array(times)[order], values[order]
    t, v = np.append(t, t[0] + 8760.0), np.append(v, v[0])
    area = float(np.sum(0.5 * (v[1:] + v[:-1]) * np.diff(t)))
    assert found.sum() == pytest.approx(area, abs=1e-6)
    assert values.min() - 1e-9 <= found.min() <= found.max() <= values.max() + 1e-9


def test_a_line_has_its_middle_as_mean() -> None:
    found = hour_means(np.array([10.0, 20.0]), np.array([0.0, 10.0]))
    assert found[10:20] == pytest.approx(np.arange(10) + 0.5)


def test_a_log_may_begin_on_any_day() -> None:
    plain = parse_room_log(made.log(0.5), "log.csv")
    moved = parse_room_log(made.log(0.5, start="2022-08-14T09:30"), "log.csv")
    # The invented year repeats; what is written to 0.01 may round otherwise.
    assert moved.temperature == pytest.approx(plain.temperature, abs=0.006)
    assert moved.notes == ()


def test_a_longer_log_gives_its_last_year() -> None:
    text = made.log(1.0, start="2021-06-01T00:00", hours=8760 + 5000)
    spoilt = re.sub(r"(2021-0[6-9]-\d\dT\d\d:00),[\d.]+", r"\1,60.0", text)
    found = parse_room_log(spoilt, "log.csv")
    assert max(found.temperature) < 273.15 + 30.0
    assert [n.value for n in found.notes] == [
        "temperature of the last 365 days", "humidity of the last 365 days"
    ]  # fmt: skip


def test_the_29th_of_february_is_left_out() -> None:
    text = made.log(1.0, start="2024-01-01T00:00", hours=8784)
    text = re.sub(r"(2024-02-29T\d\d:00),[\d.]+", r"\1,40.0", text)
    found = parse_room_log(text, "log.csv")
    assert [n.value for n in found.notes] == ["29 February left out"]
    assert max(found.temperature) < 273.15 + 30.0


# -- spellings ----------------------------------------------------------------------------------

SPELLINGS = {
    "decimal comma": made.log(
        head="time;temperature [degC];humidity [%]",
        row=lambda t, a, b: f"{t};{a:.2f};{b:.1f}".replace(".", ","),
    ),
    "semicolons and points": made.log(
        head="time;temperature [degC];humidity [%]", row="{};{:.2f};{:.1f}".format
    ),
    "tabs": made.log(
        head="Time\tTemperature (°C)\tRelative Humidity (%)", row="{}\t{:.2f}\t{:.1f}".format
    ),
    "quoted decimal commas": made.log(
        head='"time","temperature [degC]","humidity [%]"',
        row=lambda t, a, b: f'"{t}","{a:.2f}","{b:.1f}"'.replace(".", ","),
    ),
    "kelvin": made.log(
        head="time,temperature [K],humidity [%]",
        row=lambda t, a, b: f"{t},{a + 273.15:.2f},{b:.1f}",
    ),
    "fahrenheit": made.log(
        head="time,temperature [degF],humidity [%]",
        row=lambda t, a, b: f"{t},{round(a, 2) * 1.8 + 32:.3f},{b:.1f}",
    ),
    "other order and columns": made.log(
        head="no,humidity [%],battery [V],temperature [degC],date_time",
        row=lambda t, a, b: f"1,{b:.1f},3.01,{a:.2f},{t}",
    ),
    "a blank for the T, seconds": made.log(
        row=lambda t, a, b: f"{t.replace('T', ' ')}:00,{a:.2f},{b:.1f}"
    ),
    "offsets": made.log(row=lambda t, a, b: f"{t}+01:00,{a:.2f},{b:.1f}"),
    "a signed number": made.log(row="{},+{:.2f},{:.1f}".format),
    "blank lines": "\n\n" + made.log().replace("\n2023-07", "\n\n2023-07"),
}


@pytest.mark.parametrize("name", SPELLINGS)
def test_usual_spellings_say_the_same(name: str) -> None:
    plain = parse_room_log(made.log(), "log.csv")
    found = parse_room_log(SPELLINGS[name], "log.csv")
    assert found.temperature == pytest.approx(plain.temperature, abs=1e-3)
    assert found.humidity == pytest.approx(plain.humidity, abs=1e-9)
    assert found.notes == ()


@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "latin-1"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_usual_encodings(code: str, end: str, tmp_path: Path) -> None:
    text = made.log(head="time,temperature [°C],humidity [%]").replace("\n", end)
    (tmp_path / "log.csv").write_bytes(text.encode(code))
    found = read_room_log(tmp_path / "log.csv")
    assert found.temperature == parse_room_log(made.log(), "log.csv").temperature


# -- gaps and clocks ----------------------------------------------------------------------------


def without(first: str, last: str, step: float = 0.5) -> str:
    """A log with a gap from one reading to another, both left out."""
    a, b = datetime.fromisoformat(first), datetime.fromisoformat(last)
    return made.log(step, skip=lambda now: a <= now <= b)


def test_a_short_gap_is_bridged_and_told() -> None:
    found = parse_room_log(without("2023-05-03T12:30", "2023-05-03T17:30"), "log.csv")
    assert [(n.value, n.why) for n in found.notes] == [
        (
            f"{name} of 5 hours",
            "none is read in them, bridged by straight lines; longest 6 h from 3 May 12:00",
        )
        for name in ("temperature", "humidity")
    ]
    hour = (31 + 28 + 31 + 30 + 2) * 24 + 15
    ends = [made.indoor(hour - 3)[0], made.indoor(hour + 3)[0]]
    assert found.temperature[hour] - 273.15 == pytest.approx(
        ends[0] + (ends[1] - ends[0]) * 3.5 / 6, abs=0.01
    )


def test_a_long_gap_is_refused_with_its_place() -> None:
    text = without("2023-05-03T12:30", "2023-05-03T18:00")
    line = text[: text.index("2023-05-03T18:30")].count("\n") + 1
    found = problems(text)
    assert [(p.line, p.field) for p in found] == [(line, "temperature"), (line, "humidity")]
    assert found[0].message == (
        "nothing is read for 6.5 h from 3 May 12:00 on; up to 6 h are bridged"
    )


def test_a_log_that_ends_a_little_early_is_bridged_to_its_beginning() -> None:
    found = parse_room_log(made.log(1.0, hours=8755), "log.csv")
    assert [n.why for n in found.notes] == [
        "none is read in them, bridged by straight lines; longest 6 h from 31 December 18:00"
    ] * 2
    assert found.notes[0].value == "temperature of 5 hours"
    (last, first) = made.indoor(8754)[0], made.indoor(0)[0]
    right = [last + (first - last) * (h + 0.5) / 6 for h in range(6)]
    assert celsius(found.temperature, range(8754, 8760)) == pytest.approx(right, abs=0.01)
    (problem,) = problems(made.log(1.0, hours=8754))
    assert "covers 364.7 days" in problem.message


def test_more_than_saturated_is_saturated() -> None:
    found = parse_room_log(made.log(row=lambda t, a, b: f"{t},{a:.2f},105"), "log.csv")
    assert set(found.humidity) == {1.0}


def test_empty_cells_are_gaps_of_their_column() -> None:
    found = parse_room_log(
        made.log(
            row=lambda t, a, b: (
                f"{t},{a:.2f},{'' if t[5:10] == '03-03' and t[11:13] in ('05', '06') else 'NaN' if t[5:13] == '03-03T07' else f'{b:.1f}'}"
            )
        ),
        "log.csv",
    )
    assert [n.value for n in found.notes] == ["humidity of 3 hours"]
    assert "longest 4 h from 3 March 04:00" in found.notes[0].why


@pytest.mark.parametrize("offset", [False, True])
@pytest.mark.parametrize("step", [0.5, 1.0])
def test_the_yearly_change_of_the_clock(step: float, offset: bool) -> None:
    """A logger that follows the clock skips an hour in spring and has one twice in autumn."""
    rows = made.log(step).splitlines()
    out = [rows[0]]
    for row in rows[1:]:
        time = row[:16]
        summer = "2023-03-26T02:00" <= time < "2023-10-29T02:00"
        if summer:
            moved = datetime.fromisoformat(time) + timedelta(hours=1)
            time = moved.isoformat(timespec="minutes")
        zone = ("+02:00" if summer else "+01:00") if offset else ""
        out.append(time + zone + row[16:])
    assert sum(row.startswith("2023-10-29T02") for row in out) == round(2 / step)
    found = parse_room_log("\n".join(out), "log.csv")
    told = [n for n in found.notes if "twice" in n.value]
    assert [n.value for n in told] == ["the hour that is there twice, read once"]
    assert "the clock is set back at 2023-10-29T02:00" in told[0].why
    plain = parse_room_log(made.log(step), "log.csv")
    assert found.temperature[-24 * 30 :] == plain.temperature[-24 * 30 :]
    assert found.temperature[: 24 * 60] == plain.temperature[: 24 * 60]
    july = slice(24 * 190, 24 * 200)
    assert found.temperature[july] == pytest.approx(
        plain.temperature[24 * 190 - 1 : 24 * 200 - 1], abs=0.02
    )


def test_times_that_do_not_rise_are_refused() -> None:
    rows = made.log().splitlines()
    for moved in (
        [*rows[:50], rows[30], *rows[50:]],  # long before
        [*rows[:50], rows[47], *rows[50:]],  # two hours before
        [*rows[:50], rows[49], *rows[50:80], rows[79], *rows[80:]],  # set back twice in a week
        [*rows[:50], rows[49], rows[49], *rows[50:]],  # set back twice in an hour
    ):
        (problem,) = problems("\n".join(moved))
        assert problem.field == "time"
        assert "does not come after the time before it; times must rise" in problem.message


# -- what is wrong ------------------------------------------------------------------------------


def head(text: str) -> str:
    return made.log(head=text)


def row(old: str, new: str) -> str:
    """A log with something changed in the row of 1 March 05:00."""
    text = made.log()
    at = text.index("2023-03-01T05:00")
    end = text.index("\n", at)
    assert old in text[at:end]
    return text[:at] + text[at:end].replace(old, new, 1) + text[end:]


LINE = 59 * 24 + 5 + 2
WRONG = {
    "no name for the time": (head("when,temperature [degC],humidity [%]"), 1, "time", r"no column is it; .*'time', and names 'when', 'temperature \[degC\]'"),
    "no temperature": (head("time,temp [degC],humidity [%]"), 1, "temperature", r"must name one 'temperature \[degC\]'"),
    "two temperatures": (made.log(head="time,temperature [degC],humidity [%],Temperature [K]", row="{},{:.2f},{:.1f},290".format), 1, "temperature", r"2 columns are named so"),
    "no unit": (head("time,temperature,humidity [%]"), 1, "temperature", r"the unit is missing; write the column's name as temperature \[degC\] or temperature \[degF\]"),
    "a unit of its own": (head("time,temperature [C],humidity [%]"), 1, "temperature", r"the unit 'C' is not read; write"),
    "a unit of another kind": (head("time,temperature [%],humidity [%]"), 1, "temperature", r"the unit '%' is not read"),
    "humidity without %": (head("time,temperature [degC],humidity [g/m3]"), 1, "humidity", r"'g/m3' is not read; write the column's name as humidity \[%\]"),
    "a date with slashes": (row("2023-03-01T05:00", "3/1/2023 5:00 AM"), LINE, "time", r"'3/1/2023 5:00 AM' is not read; write local time like 2024-03-01T14:05"),
    "a day that is none": (row("2023-03-01T05:00", "2023-02-30T05:00"), LINE, "time", r"is no time of any day"),
    "an hour that is none": (row("T05:00", "T25:00"), LINE, "time", r"is no time of any day"),
    "world time": (row("T05:00", "T05:00Z"), LINE, "time", r"is world time \(Z\)"),
    "no time": (row("2023-03-01T05:00", ""), LINE, "time", r"'' is not read"),
    "a word for a number": (row(",1", ",low"), LINE, "temperature", r"'low[\d.]+' is not a number"),
    "a thousands comma": (row(",1", ",1'01"), LINE, "temperature", r"is not a number"),
    "an oven": (row(",1", ",91"), LINE, "temperature", r"91[\d.]+ cannot be in a column 'temperature \[degC\]'; -50 to 70 is read"),
    "an oven in fahrenheit": (made.log(head="time,temperature [degF],humidity [%]", row=lambda t, a, b: f"{t},{200 if t == '2023-03-01T05:00' else 70},{b:.1f}"), LINE, "temperature", r"200 cannot be in a column 'temperature \[degF\]'; -58 to 158 is read"),
    "too wet": (made.log(row=lambda t, a, b: f"{t},{a:.2f},{120 if t == '2023-03-01T05:00' else 50}"), LINE, "humidity", r"120 cannot be in a column 'humidity \[%\]'; 0 to 110 is read"),
    "a number without end": (made.log(row=lambda t, a, b: f"{t},{a:.2f},{'1e999' if t == '2023-03-01T05:00' else 50}"), LINE, "humidity", r"too large to be meant"),
    "a cell too few": (row(",1", " 1"), LINE, "row", r"has 2 columns; the first line names 3"),
    "a quote that never ends": (row(",1", ',"1'), LINE, "row", r"cannot be read as CSV"),
    "fahrenheit called celsius": (made.log(row=lambda t, a, b: f"{t},{a * 1.8 + 22:.2f},{b:.1f}"), 1, "temperature", r"the year's mean in 'temperature \[degC\]' is 60: is the column in another unit\?"),
    "a fraction called per cent": (made.log(row=lambda t, a, b: f"{t},{a:.2f},{b / 100:.3f}"), 1, "humidity", r"no reading in 'humidity \[%\]' is above 1"),
    "no reading": (made.log(row=lambda t, a, b: f"{t},,{b:.1f}"), 1, "temperature", r"no reading is in this column"),
    "half a year": (made.log(hours=4000), 4001, "temperature", r"covers 166.6 days, from 1 January 00:00 to 16 June 15:00; a whole year is needed"),
    "one reading": ("time,temperature [degC],humidity [%]\n2023-01-01T00:00,20,50\n", 2, "temperature", r"covers 0.0 days"),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG)
def test_what_is_wrong_is_located(name: str) -> None:
    text, line, field, said = WRONG[name]
    found = problems(text)
    assert (found[0].file, found[0].line, found[0].field) == ("log.csv", line, field)
    assert re.search(said, found[0].message), found[0].message
    assert all(str(p).isprintable() for p in found)


@pytest.mark.parametrize(
    "text", ["", "\n\n", "name: Small\n", "\x00", "time", "time,temperature [degC],humidity [%]"]
)
def test_files_that_are_none(text: str) -> None:
    assert all(p.line for p in problems(text))


def test_everything_is_told_at_once_up_to_twenty() -> None:
    assert [p.field for p in problems(head("a,b,c"))] == ["time", "temperature", "humidity"]
    assert len(problems(made.log(row="{},{:.1f}x,{:.1f}".format))) == 20


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    for raw, said in (
        (made.log().encode("utf-16"), "is written as UTF-16; save it as UTF-8 text"),
        (b"time\x00,", "not a text file"),
        (b"time,\n" * (MAX_BYTES // 6 + 1), "is larger than 32 MB"),
    ):
        path.write_bytes(raw)
        with pytest.raises(InputError, match=said):
            read_room_log(path)


ODD = "0123456789-+.,;:TZe \t\"'\n\r\x00\x1b[]()%°degCFKtimetemperaturehumidity٣\u2028é"


@settings(max_examples=300)
@given(
    start=st.sampled_from(
        ["", "time,temperature [degC],humidity [%]\n", "time;temperature [K];humidity [%]\r\n"]
    ),
    rows=st.lists(
        st.one_of(st.text(ODD, max_size=40), st.sampled_from(TWO_DAYS).map("{},20,50".format)),
        max_size=12,
    ),
)
def test_any_text_is_refused_well(start: str, rows: list[str]) -> None:
    """Two days are no year, whatever stands in them; nothing but located problems comes out."""
    for problem in problems(start + "\n".join(rows)):
        assert problem.line >= 1
        assert str(problem).isprintable()
