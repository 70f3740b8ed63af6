"""The catalogue: shipped data hold together, own files are checked, every number has a source."""

from __future__ import annotations

import itertools
import json
import math
import shutil
import time
from pathlib import Path
from typing import Any

import pytest

from loamwright.errors import InputError
from loamwright.files import catalogue as module
from loamwright.files import catalogue_pack
from loamwright.files.catalogue import Catalogue, load_catalogue
from loamwright.files.catalogue_build import NOT_GIVEN
from loamwright.files.catalogue_fields import FIELDS, GROUPS
from loamwright.files.document import read_document
from loamwright.habitat.catalogue import LampType
from loamwright.habitat.sources import SourceKind
from loamwright.physics.spectra import uvb_per_uvi
from loamwright.report.catalogue_tables import lines, listing

SHIPPED = load_catalogue()
ENTRIES = [(group, key) for group in GROUPS for key in SHIPPED.group(group)]
LAMPS = list(SHIPPED.lamps)


def uvi_at(lamp: LampType, distance: float) -> float:
    """UV index beside the middle of a bare tube: the line-source equation."""
    alpha = math.atan(lamp.length / 2.0 / distance)
    geometry = (2.0 * alpha + math.sin(2.0 * alpha)) / (2.0 * math.pi**2 * lamp.length * distance)
    worth = zip(lamp.band_watts, lamp.per_watt["uvi"], strict=True)
    return geometry * sum(w * q for w, q in worth)


# -- shipped data -------------------------------------------------------------------------------


FEW = {"nozzles": 3, "filters": 4}
"""Groups of which there are not ten generic kinds."""


@pytest.mark.parametrize("group", GROUPS)
def test_every_shipped_number_has_a_source(group: str) -> None:
    raw, _ = catalogue_pack.raw_group(group)
    assert len(raw) >= FEW.get(group, 10)
    for key in raw:
        entry = SHIPPED.group(group)[key]
        given = [n for n, f in FIELDS[group].items() if f.numeric and raw[key].get(n) is not None]
        for name in given:
            source = entry.sources.get(name)
            assert source is not None, f"{group}/{key}: {name}"
            assert source is not NOT_GIVEN, f"{group}/{key}: {name}"
            assert len(source.text) > 5
            if source.kind is SourceKind.COMMON_PRACTICE:
                assert "common practice" in source.text or group == "animals"


def test_a_published_source_names_something() -> None:
    weak = ("from memory", "common practice")
    for group in ("materials", "covers", "spectra", "lamps"):
        for key, entry in SHIPPED.group(group).items():
            for name, source in entry.sources.items():
                if source.kind is SourceKind.PUBLISHED:
                    assert not source.text.startswith(weak), f"{group}/{key}: {name}"


def test_the_whole_catalogue_loads_at_once() -> None:
    """Far from the seconds that parsing YAML takes; the best of three, other work runs beside it."""
    seconds = []
    for _ in range(3):
        module._shipped.cache_clear()
        start = time.process_time()
        fresh = load_catalogue()
        for group in GROUPS:
            assert all(fresh.group(group).values())
        seconds.append(time.process_time() - start)
    assert min(seconds) < 1.0


@pytest.mark.parametrize("group", GROUPS)
def test_packed_files_are_fresh(group: str) -> None:
    """Mend by: python -m loamwright.files.catalogue_pack"""
    kept = json.loads(catalogue_pack.packed_path(group).read_text(encoding="utf-8"))
    written = read_document(catalogue_pack.yaml_path(group)).data
    assert list(written) == [group]
    assert kept["entries"] == written[group]
    assert catalogue_pack.raw_group(group)[1] is None


def test_a_stale_or_broken_packed_file_is_not_believed(tmp_path: Path) -> None:
    shutil.copytree(catalogue_pack.SHIPPED, tmp_path, dirs_exist_ok=True)
    path = catalogue_pack.yaml_path("covers", tmp_path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("pitch: 6.35 mm", "pitch: 6.5 mm"), encoding="utf-8")
    entries, document = catalogue_pack.raw_group("covers", tmp_path)
    assert document is not None
    assert entries["steel-mesh-6mm"]["pitch"] == "6.5 mm"
    catalogue_pack.pack(tmp_path)
    entries, document = catalogue_pack.raw_group("covers", tmp_path)
    assert document is None
    assert entries["steel-mesh-6mm"]["pitch"] == "6.5 mm"
    catalogue_pack.packed_path("covers", tmp_path).write_text("{", encoding="utf-8")
    assert catalogue_pack.raw_group("covers", tmp_path)[1] is not None


@pytest.mark.parametrize("key", LAMPS)
def test_no_lamp_radiates_more_than_it_draws(key: str) -> None:
    lamp = SHIPPED.lamps[key]
    assert 0.0 < sum(lamp.band_watts) <= lamp.power
    assert min(lamp.band_watts) >= 0.0
    lumens = sum(w * q for w, q in zip(lamp.band_watts, lamp.per_watt["lux"], strict=True))
    # The best white LED makes about 220 lm/W; 683 is the ceiling of green light.
    assert 0.0 <= lumens / lamp.power < 200.0
    assert lamp.min_distance is not None
    assert lamp.min_distance > 0.0


@pytest.mark.parametrize("key", [k for k in LAMPS if k.startswith("halogen")])
def test_halogen_efficacy(key: str) -> None:
    """10-16 lm/W of a reflector lamp at 2800 K (from memory); lumens follow from watts and V."""
    lamp = SHIPPED.lamps[key]
    lumens = sum(w * q for w, q in zip(lamp.band_watts, lamp.per_watt["lux"], strict=True))
    assert 10.0 < lumens / lamp.power < 16.0
    # Reference C.6: about 6 % PAR and 80 % near infrared of the filament; tungsten is whiter than
    # black. The hot front adds thermal infrared.
    shares = [w / sum(lamp.band_watts) for w in lamp.band_watts]
    assert 0.05 < shares[2] < 0.10
    assert 0.70 < shares[3] < 0.85
    assert 0.10 < shares[4] < 0.20


@pytest.mark.parametrize("size", ["24w", "39w", "54w", "80w"])
def test_tube_classes_give_what_practice_expects(size: str) -> None:
    """Common practice, no source: a bare medium T5 makes a UV index of about 1.5-2.5 at 30 cm,
    a strong one about twice that, a weak one under 1. Half to twice is all that can be asked."""
    weak, medium, strong = (
        SHIPPED.lamps[f"t5ho-uvb-{c}-{size}"] for c in ("weak", "medium", "strong")
    )
    assert 1.2 < uvi_at(medium, 0.30) < 2.5
    assert uvi_at(weak, 0.30) < 1.0
    assert uvi_at(strong, 0.30) / uvi_at(medium, 0.30) == pytest.approx(2.0, rel=0.2)


def test_weak_t8_tube_stays_below_one() -> None:
    # B-40: lamp-test report of an 18 W low-output tube, bare: UV index never above 1.0 at 15-30 cm.
    lamp = SHIPPED.lamps["t8-uvb-weak-18w"]
    assert max(uvi_at(lamp, d) for d in (0.15, 0.20, 0.25, 0.30)) <= 1.0


def test_strong_tube_halves_in_half_a_year() -> None:
    # B-41: Nevarez: 50 to 25 uW/cm2 at 30.5 cm in 6 months (2190 h at 12 h a day).
    lamp = SHIPPED.lamps["t8-uvb-strong-30w"]
    assert (lamp.life, lamp.end_share) == (pytest.approx(2190.0), 0.5)


def test_uvb_per_uvi_is_the_spectrums_own() -> None:
    # B.6: 41 (sun), 33 (sun-like tube), 9 and 6 (broad-band tubes): never one factor.
    ratio = {k: uvb_per_uvi(s.wavelength, s.power) for k, s in SHIPPED.spectra.items()
             if k.startswith(("uvb", "mercury", "metal"))}  # fmt: skip
    for key in ("weak", "medium", "strong"):
        assert 30.0 < ratio[f"uvb-fluorescent-{key}"] < 45.0
    assert max(ratio.values()) / min(ratio.values()) > 4.0


def test_a_lamps_spectrum_is_sampled_finely_in_the_ultraviolet() -> None:
    for key, made in SHIPPED.spectra.items():
        uv = [nm for nm in made.wavelength if 250.0 <= nm <= 400.0]
        assert uv[0] == 250.0, key
        assert max(b - a for a, b in itertools.pairwise(uv)) <= 5.0


def test_glass_stops_ultraviolet_b() -> None:
    # Rubin 1985: k = 5e-5 at 310 nm, so 5 mm pass exp(-4 pi k d / lambda) = 4e-5 there.
    glass = SHIPPED.materials["float-glass"]
    assert glass.transmit[0] < 0.002
    assert 0.4 < glass.transmit[1] < 0.7
    assert glass.transmit[2] == pytest.approx(0.88, abs=0.02)
    assert SHIPPED.materials["uv-acrylic"].transmit[0] > 0.5


def test_finer_mesh_lets_less_through() -> None:
    def through(key: str) -> float:
        cover = SHIPPED.covers[key]
        return (1.0 - cover.wire / cover.pitch) ** 2

    keys = ["wire-cage", "steel-mesh-6mm", "steel-mesh-3mm", "fine-insect-mesh"]
    shares = [through(k) for k in keys]
    assert shares == sorted(shares, reverse=True)
    # B-47: a mesh lid blocks 30-50 % or more.
    assert 0.5 < through("fine-insect-mesh") < 0.7


@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_entry_can_be_shown(system: str) -> None:
    for group in GROUPS:
        table = listing(group, SHIPPED.group(group), system)
        assert all(len(row) == len(table.heads) for row in table.rows)
        for key, entry in SHIPPED.group(group).items():
            for line in lines(group, entry, system):
                assert line.value, (group, key, line.label)
                assert line.source or line.value == "not known", (group, key, line.label)


def test_lines_say_what_is_weak() -> None:
    shown = {x.label: x for x in lines("lamps", SHIPPED.lamps["t5ho-uvb-medium-54w"])}
    assert shown["power drawn"].value == "54 W"
    assert shown["least distance to anything alive"].weak
    assert not shown["light"].weak


def test_groups_and_suggestions() -> None:
    assert "halogen-flood-50w" in SHIPPED.nearest("lamps", "Halogen 50W")
    assert SHIPPED.nearest("materials", "plywod")[0] == "plywood"
    assert SHIPPED.nearest("animals", "zzzz") == []
    with pytest.raises(InputError, match=r"no group 'lamp'.*'lamps'"):
        SHIPPED.group("lamp")


# -- own files ----------------------------------------------------------------------------------

LAMP = """
lamps:
  my-tube:
    label: my tube
    shape: tube
    power: 20 W
    radiant: {uvb-fluorescent-weak: 3 W, led-4000k: 1 W}
    length: 60 cm
    diameter: 16 mm
    sources: {"*": {kind: builder, text: my own meter}}
"""


def own(tmp_path: Path, *texts: str) -> Catalogue:
    paths = []
    for i, text in enumerate(texts):
        paths.append(tmp_path / f"own{i}.yaml")
        paths[-1].write_text(text, encoding="utf-8")
    return load_catalogue(paths, root=tmp_path)


def test_own_lamp_of_two_spectra(tmp_path: Path) -> None:
    made = own(tmp_path, LAMP)
    lamp = made.lamps["my-tube"]
    assert sum(lamp.band_watts) == pytest.approx(4.0)
    assert lamp.source_of("power").kind is SourceKind.BUILDER
    assert lamp.source_of("spread") is NOT_GIVEN
    assert lamp.spectrum is not None
    # Its light is what the two would make one by one.
    both = (
        ("uvb-fluorescent-weak", "t5ho-uvb-weak-24w", 3.0 / 6.48),
        ("led-4000k", "led-bar-warm-20w", 1.0 / 9.4),
    )
    raw = catalogue_pack.raw_group("lamps")[0]
    for name in ("uvi", "lux"):
        right = 0.0
        for spectrum, like, scale in both:
            other = SHIPPED.lamps[like]
            # The shipped lamp's other spectrum is the thermal infrared of its warm surface.
            watts = float(raw[like]["radiant"][spectrum].split()[0])
            assert scale * watts == pytest.approx(3.0 if spectrum.startswith("uvb") else 1.0)
            pairs = zip(other.band_watts, other.per_watt[name], strict=True)
            right += scale * sum(w * q for w, q in pairs)
        got = sum(w * q for w, q in zip(lamp.band_watts, lamp.per_watt[name], strict=True))
        assert got == pytest.approx(right, rel=1e-9)
    assert made.origins["lamps/my-tube"].endswith("own0.yaml")
    assert made.overrides == ()
    assert len(made.lamps) == len(SHIPPED.lamps) + 1


def test_override_by_like_keeps_the_rest_and_its_sources(tmp_path: Path) -> None:
    text = """
materials:
  cork:
    like: cork
    reflect_par: 25 %
    sources: {reflect_par: my own reading}
"""
    made = own(tmp_path, text)
    cork, shipped = made.materials["cork"], SHIPPED.materials["cork"]
    assert cork.reflect_par == 0.25
    assert cork.source_of("reflect_par").kind is SourceKind.BUILDER
    assert (cork.label, cork.conductivity) == (shipped.label, shipped.conductivity)
    assert cork.source_of("conductivity") == shipped.source_of("conductivity")
    assert made.overrides == ("materials/cork",)
    assert SHIPPED.materials["cork"].reflect_par == shipped.reflect_par != 0.25


def test_own_spectrum_table_and_own_cover(tmp_path: Path) -> None:
    text = """
spectra:
  mine:
    wavelength: [300, 320, 400, 700]
    power: [0, 1, 0, 2.5]
    sources: {"*": my spectrometer}
materials:
  window:
    like: acrylic
    transmit: {uvb: 0.1, uva: 0.5, par: 0.9, nir: 0.8, fir: 0}
    sources: {transmit: mine}
covers:
  pane: {kind: sheet, sheet: window}
lamps:
  a: {like: b, label: another, power: 11 W, sources: {power: mine}}
  b: {shape: bar, power: 10 W, radiant: {mine: 2 W}, length: 1 ft, width: 2 in, sources: {"*": mine}}
"""
    made = own(tmp_path, text)
    assert made.covers["pane"].sheet is made.materials["window"]
    assert made.lamps["a"].power == 11.0
    assert made.lamps["a"].length == pytest.approx(0.3048)
    assert made.spectra["mine"].wavelength == (300.0, 320.0, 400.0, 700.0)
    assert sum(made.lamps["a"].band_watts) == pytest.approx(2.0)


def test_files_of_one_catalogue_may_lean_on_each_other(tmp_path: Path) -> None:
    made = own(tmp_path, "lamps: {x: {like: y, label: x}}", LAMP.replace("my-tube", "y"))
    assert made.lamps["x"].band_watts == made.lamps["y"].band_watts


def test_a_key_in_two_own_files_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"own1\.yaml:3:3: lamps\.my-tube: is already in .*own0"):
        own(tmp_path, LAMP, LAMP)


def test_a_file_outside_the_project_is_refused(tmp_path: Path) -> None:
    inside = tmp_path / "project"
    inside.mkdir()
    (tmp_path / "far.yaml").write_text(LAMP, encoding="utf-8")
    with pytest.raises(InputError, match="outside the project's folder"):
        load_catalogue([inside / ".." / "far.yaml"], root=inside)


def broken(old: str, new: str) -> str:
    assert old in LAMP
    return LAMP.replace(old, new)


WRONG: list[tuple[str, str]] = [
    (broken("power: 20 W", "power: 20"), r":6:12: lamps\.my-tube\.power: .*W"),
    (broken("power: 20 W", "power: 20 kg"), r":6:12: .*power"),
    (broken("power: 20 W", "power: 3 W"), "4 W of radiation leave a lamp that draws 3 W"),
    (broken("power: 20 W", "powr: 20 W"), r":6:5|no field 'powr'; the nearest known is 'power'"),
    (broken("    power: 20 W\n", ""), "power is missing"),
    (broken("shape: tube", "shape: round"), "'round' is not one of tube, bar, spot"),
    (broken("length: 60 cm", "length: -60 cm"), "below 0 mm"),
    (broken("    length: 60 cm\n", ""), "shape tube needs length above zero"),
    (broken("uvb-fluorescent-weak", "uvb-fluorescent-wek"), "nearest known is 'uvb-fluorescent-weak'"),
    (broken("3 W, led-4000k: 1 W", "0 W"), "nothing shines"),
    (broken("{uvb-fluorescent-weak: 3 W, led-4000k: 1 W}", "3 W"), "not given by spectrum"),
    (broken('sources: {"*": {kind: builder, text: my own meter}}', "group: mine"), "has no source"),
    (broken('{"*": {kind: builder, text: my own meter}}', "{power: mine}"), r"length: has no source"),
    (broken("kind: builder", "kind: hearsay"), "'hearsay' is not a kind of source"),
    (broken("text: my own meter", 'text: ""'), "needs a text"),
    (broken('"*"', "pwr"), "no field 'pwr'"),
    (broken("label: my tube", "label: 3"), "label: is not a text"),
    (broken("label: my tube", "like: nothing"), "there is no 'nothing' in lamps"),
    (broken("label: my tube", "like: my-tube"), "goes round in a circle: my-tube -> my-tube"),
    (broken("label: my tube", "life: 100 h"), "life and end_share go together"),
    (broken("label: my tube", "spread: a lot"), "spread"),
    (broken("my-tube", "My Tube"), "is not a key"),
    (broken("lamps:", "lamp:"), "no group 'lamp' of the catalogue; the nearest known is 'lamps'"),
    ("- 1\n- 2\n", "is not a catalogue"),
    ("lamps: 3\n", "is not a set of entries"),
    ("lamps: {x: 3}\n", "is not a set of fields"),
    ("lamps: {a: {like: b}, b: {like: a}}\n", "goes round in a circle"),
    ("lamps: {a: {like: [1]}}\n", "is not a key"),
    ("lamps: [", "is not well-formed YAML"),
    ("materials: {m: {like: cork, reflect_uv: 1.2, sources: {'*': me}}}", "above 1, the most"),
    ("materials: {m: {like: cork, reflect_uv: .nan, sources: {'*': me}}}", "not a number"),
    ("materials: {m: {like: cork, clear: true}}", "a clear material needs transmit"),
    ("materials: {m: {like: acrylic, reflect_par: 0.5, sources: {'*': me}}}", "more than falls on it"),
    ("materials: {m: {like: acrylic, transmit: {uvb: 0.1}, sources: {'*': me}}}", "band uva is"),
    ("materials: {m: {like: acrylic, clear: 'yes'}}", "neither true nor false"),
    ("covers: {c: {kind: mesh, pitch: 1 mm, wire: 1 mm, sources: {'*': me}}}", "nothing passes"),
    ("covers: {c: {kind: mesh}}", "a mesh needs pitch and wire"),
    ("covers: {c: {kind: sheet, sheet: cork}}", "cork is not a clear material"),
    ("covers: {c: {kind: sheet, sheet: gless}}", "there is no material 'gless'"),
    ("covers: {c: {kind: sheet}}", "a sheet names its clear material"),
    ("spectra: {s: {sources: {'*': me}}}", "either by parts or by wavelength"),
    ("spectra: {s: {wavelength: [1, 2], power: [1, 1], sources: {'*': me}}}", "below 100"),
    ("spectra: {s: {wavelength: [400, 300], power: [1, 1], sources: {'*': me}}}", "does not rise"),
    ("spectra: {s: {wavelength: [300, 400], power: [1, 1, 1], sources: {'*': me}}}", "has 2 numbers"),
    ("spectra: {s: {wavelength: [300, 400], power: [0, 0], sources: {'*': me}}}", "holds no light"),
    ("spectra: {s: {parts: [{band: 450 nm, share: 1}], sources: {'*': me}}}", "needs width"),
    ("spectra: {s: {parts: [{share: 1}], sources: {'*': me}}}", "a part is one of"),
    ("spectra: {s: {parts: [{line: 450 K, share: 1}], sources: {'*': me}}}", r"parts\[0\]\.line"),
    ("spectra: {s: {parts: [{bnd: 450 nm, share: 1}], sources: {'*': me}}}", "nearest known is 'band'"),
    ("animals: {a: {like: POGONA, night: 20 degC, sources: {'*': me}}}", "is not a range"),
    ("animals: {a: {like: POGONA, night: [25 degC, 20 degC], sources: {'*': me}}}", "lower one first"),
    ("animals: {a: {like: POGONA, humidity_day: [0.4, null], sources: {'*': me}}}", r"day\[0\]"),
    ("animals: {a: {like: POGONA, ferguson_zone: 5, sources: {'*': me}}}", "above 4"),
    ("animals: {a: {like: POGONA, group_max: 2.5, sources: {'*': me}}}", "not a whole number"),
    ("plants: {p: {latin: Ficus x, form: tree, sources: {'*': me}}}", "leaf_area_index is missing"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "message"), WRONG)
def test_wrong_own_files_are_located(text: str, message: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=message) as caught:
        own(tmp_path, text.replace("POGONA", "pogona-vitticeps"))
    for problem in caught.value.problems:
        assert problem.file.endswith("own0.yaml")
        assert problem.line >= 1
        assert problem.column >= 1


def test_all_problems_come_at_once(tmp_path: Path) -> None:
    text = broken("power: 20 W", "power: 20").replace("shape: tube", "shape: round") + (
        "materials: {m: {like: cork, reflect_uv: 2, reflect_par: -1, sources: {'*': me}}}\n"
    )
    with pytest.raises(InputError, match="reflect_uv") as caught:
        own(tmp_path, text, "lamps: {z: {}}")
    fields = {p.field for p in caught.value.problems}
    assert {"lamps.my-tube.power", "lamps.my-tube.shape", "materials.m.reflect_par"} <= fields
    assert any(p.file.endswith("own1.yaml") for p in caught.value.problems)


def test_a_broken_base_is_told_once(tmp_path: Path) -> None:
    text = broken("power: 20 W", "power: 20") + "  other: {like: my-tube, label: another}\n"
    with pytest.raises(InputError, match=r"my-tube\.power") as caught:
        own(tmp_path, text)
    assert len(caught.value.problems) == 1


def test_a_broken_material_is_not_blamed_on_its_cover(tmp_path: Path) -> None:
    text = (
        "materials: {w: {like: acrylic, reflect_uv: 2, sources: {'*': me}}}\n"
        "covers: {c: {kind: sheet, sheet: w}}\n"
    )
    with pytest.raises(InputError, match="reflect_uv") as caught:
        own(tmp_path, text)
    assert len(caught.value.problems) == 1


def test_shipped_data_that_are_wrong_say_so(monkeypatch: pytest.MonkeyPatch) -> None:
    bad: dict[str, Any] = {"x": {"kind": "mesh", "pitch": "1 mm", "wire": "2 mm"}}
    monkeypatch.setattr(module, "raw_group", lambda group: (bad, None))
    layer = module._Layer(module._Lazy(), None, [])
    with pytest.raises(InputError, match=r"covers\.yaml: covers\.x\.pitch: has no source"):
        layer.entry("covers", "x")
