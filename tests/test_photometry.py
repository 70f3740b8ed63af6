"""Photometric files: analytic sources, symmetries written out, and every way to be wrong."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from loamwright.errors import InputError
from loamwright.files.photometry import (
    MAX_BYTES,
    Photometry,
    flux,
    parse_photometry,
    read_photometry,
    to_lamp_type,
)
from loamwright.habitat.catalogue import LampType
from loamwright.habitat.sources import Source, SourceKind

DATA = Path(__file__).parent / "data"


def ies(vertical, horizontal, intensity, *, lumens=-1, head="IESNA:LM-63-2002", factors="1 1 20"):
    """Text of an LM-63 file; ``intensity(h, v)`` in degrees [cd]."""
    rows = "\n".join(" ".join(f"{intensity(h, v):.8g}" for v in vertical) for h in horizontal)
    return (
        f"{head}\n[LUMINAIRE] invented\nTILT=NONE\n"
        f"1 {lumens} 1 {len(vertical)} {len(horizontal)} 1 2 0.1 0.6 0\n{factors}\n"
        f"{' '.join(map(str, vertical))}\n{' '.join(map(str, horizontal))}\n{rows}\n"
    )


def ldt(symmetry, planes, angles, intensity, *, lumens=1000, sets=1):
    """Text of a EULUMDAT file; ``intensity(c, g)`` in degrees [cd per 1000 lm]."""
    n = len(planes)
    used = {
        0: planes,
        1: planes[:1],
        2: planes[: n // 2 + 1],
        3: planes[3 * n // 4 :] + planes[: n // 4 + 1],
        4: planes[: n // 4 + 1],
    }[symmetry]
    lines = ["invented", 2, symmetry, n, 0, len(angles), 0, "none", "bar", "0", "bar.ldt", "none"]
    lines += [600, 40, 30, 580, 30, 1, 2, 3, 4, 100, 90, 1, 0, sets]
    lines += [1, "tube", lumens, "4000", "1B", 22] * sets
    lines += [0.5] * 10 + list(planes) + list(angles)
    lines += [f"{intensity(c, g):.8g}" for c in used for g in angles]
    return "\r\n".join(str(x) for x in lines) + "\r\n"


FINE = list(range(0, 181))
HALF = [x / 2 for x in range(0, 181)]
cos = lambda degrees: max(0.0, math.cos(math.radians(degrees)))  # noqa: E731


def at(photometry: Photometry, h: float, v: float) -> float:
    """Intensity at given angles [deg], linear between planes and angles."""
    rows = np.asarray(photometry.candela)
    column = [np.interp(math.radians(v), photometry.vertical, row) for row in rows]
    return float(np.interp(math.radians(h % 360), photometry.horizontal, column))


# --- flux -----------------------------------------------------------------------------------------


def test_isotropic_source_is_four_pi():
    found = parse_photometry(ies([0, 90, 180], [0], lambda h, v: 7.0), ".ies", "x.ies")
    assert flux(found) == pytest.approx(4 * math.pi * 7.0, rel=1e-12)  # strips are exact


def test_lambertian_disk_is_pi_times_its_normal_intensity():
    found = read_photometry(DATA / "lambertian.ies")
    # 5 deg steps: a cosine bows by step^2/12 = 0.06 % between angles; values have six digits
    assert flux(found) == pytest.approx(100 * math.pi, rel=1e-3)
    fine = parse_photometry(ies(HALF, [0], lambda h, v: 100 * cos(v)), ".ies", "x.ies")
    assert flux(fine) == pytest.approx(100 * math.pi, rel=1e-5)


@pytest.mark.parametrize("power", [1, 4, 20, 80])
def test_cosine_power_beam(power):
    found = parse_photometry(ies(HALF, [0], lambda h, v: 50 * cos(v) ** power), ".ies", "x.ies")
    # I0 2 pi/(n+1); half-degree steps bow by about n step^2/12 = 0.05 % at n = 80
    assert flux(found) == pytest.approx(50 * 2 * math.pi / (power + 1), rel=1e-3)


def test_uplight_only():
    found = parse_photometry(ies([90, 120, 150, 180], [0], lambda h, v: 3.0), ".ies", "x.ies")
    assert flux(found) == pytest.approx(2 * math.pi * 3.0, rel=1e-5)
    assert at(found, 0, 89.9) == 0.0
    assert at(found, 0, 0) == 0.0


def test_flux_does_not_depend_on_how_much_symmetry_is_written_out():
    def lobe(h, v):
        return 100 * cos(v) * (1 + 0.5 * math.cos(math.radians(2 * h)))

    whole = list(range(0, 361, 15))
    sums = [
        flux(parse_photometry(ies(HALF, [h for h in whole if a <= h <= b], lobe), ".ies", "x"))
        for a, b in [(0, 90), (0, 180), (90, 270), (0, 360)]
    ]
    assert sums == pytest.approx([sums[0]] * 4, rel=1e-12)
    assert sums[0] == pytest.approx(100 * math.pi, rel=1e-4)


# --- what the formats mean ------------------------------------------------------------------------


def test_quadrant_of_1991_in_feet_with_all_factors():
    found = read_photometry(DATA / "quadrant-1991.ies")
    factor = 0.5 * 0.9 * 0.8  # multiplier, ballast factor, ballast-lamp photometric factor
    assert found.label == "two-tube strip, invented"
    assert found.lumens == 6000
    assert found.watts == 64
    assert found.size == pytest.approx((4 * 0.3048, 0.5 * 0.3048, 0.25 * 0.3048))
    assert not found.round
    for h in (45, 135, 225, 315):
        assert at(found, h, 30) == pytest.approx(600 * factor)
    for h, value in ((0, 200), (180, 200), (90, 100), (270, 100)):
        assert at(found, h, 60) == pytest.approx(value * factor)
    assert at(found, 0, 120) == 0.0
    assert found.horizontal[-1] == pytest.approx(2 * math.pi)
    assert found.candela[0] == found.candela[-1]


@pytest.mark.parametrize(
    ("head", "third"),
    [
        ("no standard named", 0.8),
        ("IESNA86", 0.8),
        ("IESNA91", 0.8),
        ("IESNA:LM-63-1995", 1.0),
        ("IESNA:LM-63-2002", 1.0),
        ("IES:LM-63-2019", 1.0),
    ],
)
def test_third_factor_counts_only_in_the_old_editions(head, third):
    text = ies([0, 90], [0], lambda h, v: 10.0, head=head, factors="0.5 0.8 20")
    assert parse_photometry(text, ".ies", "x").candela[0][0] == pytest.approx(10 * 0.5 * third)


def test_half_planes_are_mirrored_at_the_right_plane():
    def sided(h, v):
        return 100 + h  # differs in every plane

    about_0 = parse_photometry(ies([0, 90], [0, 60, 180], sided), ".ies", "x")
    assert at(about_0, 300, 45) == pytest.approx(160)
    about_90 = parse_photometry(ies([0, 90], [90, 150, 180, 270], sided), ".ies", "x")
    assert at(about_90, 30, 45) == pytest.approx(250)
    assert at(about_90, 0, 45) == pytest.approx(280)
    assert at(about_90, 270, 45) == pytest.approx(370)


def test_eulumdat_bar_brighter_to_one_side():
    found = read_photometry(DATA / "bar-aside.ldt")
    assert found.size == pytest.approx((0.58, 0.03, 0.0))
    assert found.watts == 22
    # C0 lies across the bar: a quarter turn clockwise of angle 0, which lies along it
    for c in (0, 30, 90, 150, 180, 210, 330):
        expected = 0.2 * 2000 * (1 + 0.4 * math.cos(math.radians(c))) * cos(30) ** 2
        assert at(found, c - 90, 30) == pytest.approx(expected, rel=1e-5)
    # 2 pi/3 of cos^2; the cos C term falls out; 15 deg steps bow by up to 2 x 0.57 %
    assert flux(found) == pytest.approx(0.2 * 2000 * 2 * math.pi / 3, rel=1.2e-2)


@pytest.mark.parametrize("symmetry", [0, 1, 2, 3, 4])
def test_eulumdat_symmetries_are_written_out(symmetry):
    def shape(c, g):
        r = math.radians(c)
        wave = {
            0: 0.3 * math.cos(r) + 0.2 * math.sin(r) + 0.1 * math.sin(2 * r),
            1: 0.0,
            2: 0.3 * math.cos(r) + 0.1 * math.cos(2 * r),
            3: 0.3 * math.sin(r) + 0.1 * math.cos(2 * r),
            4: 0.3 * math.cos(2 * r),
        }[symmetry]
        return 300 * cos(g) * (1 + wave)

    planes = list(range(0, 360, 15))
    found = parse_photometry(ldt(symmetry, planes, HALF, shape), ".ldt", "x.ldt")
    for c in planes:
        assert at(found, c - 90, 40) == pytest.approx(shape(c, 40), rel=1e-6)
    assert flux(found) == pytest.approx(300 * math.pi, rel=1e-3)


def test_eulumdat_takes_the_first_set_of_lamps_and_decimal_commas():
    text = ldt(1, [0], [0, 45, 90], lambda c, g: 100.5, lumens=2000, sets=2)
    found = parse_photometry(text.replace("100.5", "100,5"), ".ldt", "x")
    assert found.candela[0][0] == pytest.approx(201.0)


def test_plane_at_zero_is_interpolated_where_none_was_measured():
    text = ldt(0, [0, 60, 120, 180, 240, 300], [0, 90], lambda c, g: 100 + c)
    found = parse_photometry(text, ".ldt", "x")
    assert found.horizontal[0] == 0.0
    assert found.candela[0][0] == pytest.approx(190)  # C90 half way between C60 and C120


# --- lamps ----------------------------------------------------------------------------------------


def base_lamp(lux=(0.0, 0.0, 300.0, 0.0, 0.0)):
    source = Source("common practice, no source", SourceKind.COMMON_PRACTICE)
    return LampType(
        key="led-bar",
        label="LED bar",
        sources={"*": source},
        shape="bar",
        power=40.0,
        band_watts=(0.0, 0.1, 12.0, 2.0, 20.0),
        per_watt={"lux": lux, "ppfd": (0, 0, 4.6, 0, 0)},
        length=1.0,
        width=0.02,
    )


def test_lamp_of_a_file_gives_the_lumens_of_the_file():
    found = read_photometry(DATA / "bar-aside.ldt")
    lamp = to_lamp_type(found, base_lamp(), key="own")
    assert (lamp.key, lamp.shape, lamp.power) == ("own", "measured", 22.0)
    assert (lamp.length, lamp.width) == pytest.approx((0.58, 0.03))
    lumens = sum(w * x for w, x in zip(lamp.band_watts, lamp.per_watt["lux"], strict=True))
    assert lumens == pytest.approx(flux(found))
    assert lamp.band_watts[3] / lamp.band_watts[2] == pytest.approx(2 / 12)
    assert lamp.table is not None
    v, h, rows = lamp.table
    unit = Photometry("t", v, h, rows, (0, 0, 0))
    assert flux(unit) == pytest.approx(1.0)
    assert lamp.source_of("table").kind is SourceKind.BUILDER
    assert "bar-aside.ldt" in lamp.source_of("band_watts").text
    assert lamp.source_of("life").kind is SourceKind.COMMON_PRACTICE


def test_lamp_without_visible_light_keeps_its_powers():
    base = base_lamp(lux=(0.0,) * 5)
    lamp = to_lamp_type(read_photometry(DATA / "lambertian.ies"), base)
    assert lamp.band_watts == base.band_watts
    assert lamp.diameter == pytest.approx(0.12)


# --- wrong files ----------------------------------------------------------------------------------

GOOD_IES = (DATA / "quadrant-1991.ies").read_text()
GOOD_LDT = (DATA / "bar-aside.ldt").read_bytes().decode()


def swapped(text, line, new):
    lines = text.splitlines()
    lines[line - 1] = new
    return "\n".join(lines) + "\n"


WRONG = [
    (".ies", "", r"x:1:1: TILT: there is no TILT= line"),
    (".ies", "IESNA91\nTILT=NONE\n", r"file ends where number of lamps should stand"),
    (".ies", swapped(GOOD_IES, 4, "TILT=tilt.dat"), r"x:4:1: TILT: .*another file is not read"),
    (".ies", swapped(GOOD_IES, 9, "2 x 0.5 4 3 1 1 0.5 4 0.25"), r"x:9:3: lumens per lamp: 'x' is"),
    (".ies", swapped(GOOD_IES, 9, "2 nan 0.5 4 3 1 1 0.5 4 0.25"), r"'nan' is not a number"),
    (".ies", swapped(GOOD_IES, 9, "2 1e999 0.5 4 3 1 1 0.5 4 0.25"), r"too large to be meant"),
    (".ies", swapped(GOOD_IES, 9, "2 -5 0.5 4 3 1 1 0.5 4 0.25"), r"-5 lm cannot be"),
    (
        ".ies",
        swapped(GOOD_IES, 9, "2 3000 0 4 3 1 1 0.5 4 0.25"),
        r"multiplier: 0 cannot be; above",
    ),
    (".ies", swapped(GOOD_IES, 9, "2 3000 1 4 3 2 1 0.5 4 0.25"), r"type B photometry is not read"),
    (".ies", swapped(GOOD_IES, 9, "2 3000 1 4 3 3 1 0.5 4 0.25"), r"type A photometry is not read"),
    (".ies", swapped(GOOD_IES, 9, "2 3000 1 4 3 9 1 0.5 4 0.25"), r"9 is no photometric type"),
    (".ies", swapped(GOOD_IES, 9, "2 3000 1 4.5 3 1 1 0.5 4 0.25"), r"4.5 is not a whole number"),
    (".ies", swapped(GOOD_IES, 9, "2 3000 1 4 3 1 3 0.5 4 0.25"), r"units type: 3 cannot be"),
    (".ies", swapped(GOOD_IES, 9, "2 3000 1 9999 3 1 1 0.5 4 0.25"), r"from 2 to 2000"),
    (".ies", swapped(GOOD_IES, 9, "2 3000 1 1999 1999 1 1 0.5 4 0.25"), r"more than 200000"),
    (
        ".ies",
        swapped(GOOD_IES, 9, "2 3000 1 5 3 1 1 0.5 4 0.25"),
        r"vertical angles: .*0 follows 90",
    ),
    (".ies", swapped(GOOD_IES, 11, "0 60 30 90"), r"x:11:1: vertical angles: .*30 follows 60"),
    (".ies", swapped(GOOD_IES, 11, "5 30 60 90"), r"run from 5 to 90; 0 to 90"),
    (".ies", swapped(GOOD_IES, 12, "0 45 80"), r"x:12:1: horizontal angles: .*0 to 80"),
    (".ies", swapped(GOOD_IES, 14, "1000 -600 150 0"), r"x:14:1: intensities: -600 cd is negative"),
    (".ies", GOOD_IES + "5 6\n", r"x:16:1: intensities: 2 more numbers .*from '5' on"),
    (".ies", swapped(GOOD_IES, 15, "1000 400 100"), r"x:15:1: intensities: the file ends"),
    (".ies", swapped(GOOD_IES, 7, "0 45 40"), r"tilt angles: angles must rise"),
    (".ldt", "", r"x:1:1: type indicator: the file ends"),
    (".ldt", swapped(GOOD_LDT, 3, "7"), r"x:3:1: symmetry indicator: 7 cannot be; from 0 to 4"),
    (".ldt", swapped(GOOD_LDT, 3, "two"), r"x:3:1: symmetry indicator: 'two' is not a number"),
    (".ldt", swapped(GOOD_LDT, 3, "4").replace("12", "10", 1), r"symmetry 4 needs an even"),
    (".ldt", swapped(GOOD_LDT, 4, "24"), r"x:68:1: G angles: 280 cannot be; from 0 to 180"),
    (".ldt", swapped(GOOD_LDT, 29, "0"), r"x:29:1: lumens of the lamps: 0 lm cannot be"),
    (".ldt", swapped(GOOD_LDT, 24, "0"), r"conversion factor for intensities: 0 cannot be"),
    (".ldt", GOOD_LDT + "5\n", r"1 more lines than the counts allow"),
    (".ldt", GOOD_LDT[: len(GOOD_LDT) // 2], r"file ends where .* should stand"),
    (".ldt", swapped(GOOD_LDT, 49, "185"), r"x:43:1: C angles: with symmetry 2 .* C0 to C185"),
    (".ldt", swapped(GOOD_LDT, 45, "20"), r"x:45:1: C angles: .*20 follows 30"),
]


@pytest.mark.parametrize(("ending", "text", "message"), WRONG)
def test_wrong_files_are_refused_with_their_place(ending, text, message):
    with pytest.raises(InputError, match=message) as caught:
        parse_photometry(text, ending, "x")
    assert all(p.file == "x" and p.line >= 0 for p in caught.value.problems)


def test_all_wrong_numbers_are_told_at_once():
    text = swapped(swapped(GOOD_IES, 13, "1000 -1 x 0"), 15, "1000 y 100 0")
    with pytest.raises(InputError, match="negative") as caught:
        parse_photometry(text, ".ies", "x")
    assert [p.line for p in caught.value.problems] == [13, 13, 15]


def test_a_dark_file_is_refused():
    with pytest.raises(InputError, match="nothing shines"):
        parse_photometry(ies([0, 90], [0], lambda h, v: 0.0), ".ies", "x")


def test_overflowing_file_is_refused():
    with pytest.raises(InputError, match="too large to be meant"):
        parse_photometry(ies([0, 90], [0], lambda h, v: 1e308), ".ies", "x")


def test_files_that_cannot_be_read(tmp_path):
    with pytest.raises(InputError, match="cannot be read: No such file"):
        read_photometry(tmp_path / "none.ies")
    (tmp_path / "folder.ies").mkdir()
    with pytest.raises(InputError, match="cannot be read"):
        read_photometry(tmp_path / "folder.ies")
    with pytest.raises(InputError, match=r"'\.txt' is not a photometric file's ending"):
        read_photometry(tmp_path / "lamp.txt")
    big = tmp_path / "big.ies"
    big.write_bytes(b"x" * (MAX_BYTES + 1))
    with pytest.raises(InputError, match="up to 2000000 are read"):
        read_photometry(big)
    binary = tmp_path / "binary.ldt"
    binary.write_bytes(b"\x7fELF\x00\x01rest")
    with pytest.raises(InputError, match="not a text file"):
        read_photometry(binary)


def test_old_code_pages_and_end_marks_are_read(tmp_path):
    file = tmp_path / "old.IES"
    file.write_bytes(GOOD_IES.replace("two-tube", "R\u00f6hren").encode("latin-1") + b"\x1a\x00")
    assert read_photometry(file).label == "Röhren strip, invented"


GOOD = {".ies": [GOOD_IES, (DATA / "lambertian.ies").read_text()], ".ldt": [GOOD_LDT]}
FRAGMENTS = [
    "-1",
    "nan",
    "1e308",
    "1e-320",
    "x",
    "",
    "0",
    "90",
    ",",
    "\n",
    "9" * 40,
    "٣",
    "TILT=NONE",
]


def check(text, ending):
    try:
        found = parse_photometry(text, ending, "x")
    except InputError as error:
        assert all(p.file == "x" for p in error.problems)  # noqa: PT017
        return
    rows = np.asarray(found.candela)
    assert rows.shape == (len(found.horizontal), len(found.vertical))
    assert np.all(np.isfinite(rows))
    assert np.all(rows >= 0)
    assert found.vertical[0] == found.horizontal[0] == 0.0
    assert found.vertical[-1] == pytest.approx(math.pi)
    assert found.horizontal[-1] == pytest.approx(2 * math.pi)
    assert np.all(np.diff(found.vertical) > 0)
    assert np.all(np.diff(found.horizontal) > 0)
    assert flux(found) > 0


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(ending=st.sampled_from([".ies", ".ldt"]), which=st.integers(0, 1), cut=st.floats(0, 1))
def test_a_file_cut_short_anywhere(ending, which, cut):
    texts = GOOD[ending]
    text = texts[which % len(texts)]
    check(text[: int(cut * len(text))], ending)


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    ending=st.sampled_from([".ies", ".ldt"]),
    which=st.integers(0, 1),
    changes=st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 12), st.sampled_from(FRAGMENTS)),
        min_size=1,
        max_size=4,
    ),
)
def test_a_file_changed_anywhere(ending, which, changes):
    texts = GOOD[ending]
    text = texts[which % len(texts)]
    for place, length, new in changes:
        i = int(place * len(text))
        text = text[:i] + new + text[i + length :]
    check(text, ending)
