"""What a person does, end to end: check, change, check again; grids; kept results."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from loamwright import workflow
from loamwright.cli import main
from loamwright.engine.findings import State
from loamwright.errors import InputError
from loamwright.files.kept import Kept, key_of
from loamwright.files.writer import Editor

ROOT = Path(__file__).parent.parent

SMALL = """
format: 1
name: small
enclosure:
  inside: {width: 50 cm, depth: 40 cm, height: 60 cm}
hardscape:
  - {name: branch, shape: branch, from: [10 cm, 20 cm, 30 cm], to: [40 cm, 20 cm, 35 cm],
     diameter: 4 cm, material: hardwood}
plants:
  - {name: lily, species: spathiphyllum-wallisii, at: [12 cm, 28 cm], height: 20 cm, spread: 14 cm}
lamps:
  - {name: tube, type: compact-uvb-13w, at: [25 cm, 20 cm, 56 cm], along: x}
animals:
  - {species: phelsuma-grandis, males: 1}
sites:
  - {name: basking, on: branch, along: 0.6, role: basking}
  - {name: hide, at: [5 cm, 35 cm, 12 cm], role: hide}
"""


@pytest.fixture
def small(tmp_path) -> Path:
    path = tmp_path / "small.yaml"
    path.write_text(SMALL)
    return path


@pytest.mark.slow
def test_the_demo_misses_one_place_and_moving_the_lamp_as_told_meets_it(tmp_path):
    """The newcomer's path: check, read the cure, write it into the file, check again."""
    path = tmp_path / "demo.yaml"
    workflow.new(path, example="forest-edge")
    before = workflow.check(path)
    missed = [f for f in before.findings if f.state is State.MISSED]
    assert [(f.need, f.site) for f in missed] == [("uv-basking", "basking")]
    cure = missed[0].cure
    assert cure is not None
    assert cure.to is not None
    assert cure.subject == "uv"
    kinds = {c.kind for c in missed[0].causes}
    assert {"lamp_share", "distance", "cover"} <= kinds
    editor = Editor(path)
    where = editor.find("lamps", "uv")
    assert where is not None
    editor.set((*where, "at"), [f"{v * 100:.0f} cm" for v in cure.to])
    editor.save(force=True)
    after = workflow.check(path)
    assert not after.missed
    basking = next(f for f in after.findings if f.need == "uv-basking")
    assert basking.state is State.MET
    assert basking.value == pytest.approx(cure.result, rel=0.02)


@pytest.mark.slow
def test_a_second_check_answers_from_what_is_kept_and_says_the_same(small, tmp_path):
    kept = tmp_path / "kept"
    first = workflow.check(small, kept=kept)
    files = sorted(p.name for p in kept.iterdir())
    again = workflow.check(small, kept=kept)
    assert again.findings == first.findings
    assert sorted(p.name for p in kept.iterdir()) == files
    fresh = workflow.check(small)
    assert fresh.findings == first.findings


@pytest.mark.slow
def test_a_kept_answer_is_never_stale(small, tmp_path):
    """Whatever changes what light does changes the answer, kept or not."""
    kept = tmp_path / "kept"
    workflow.check(small, kept=kept)
    for old, new in (
        ("[25 cm, 20 cm, 56 cm]", "[25 cm, 20 cm, 50 cm]"),
        ("along: 0.6", "along: 0.2"),
        ("diameter: 4 cm", "diameter: 9 cm"),
        ("height: 20 cm, spread: 14 cm", "height: 40 cm, spread: 38 cm"),
        ("compact-uvb-13w", "compact-uvb-26w"),
        ("along: x}", "along: x, dim: 50 %}"),
        ("along: x}", "along: x, hours_run: 4000 h}"),
    ):
        small.write_text(SMALL.replace(old, new))
        assert old in SMALL
        changed = workflow.check(small, kept=kept)
        assert changed.findings == workflow.check(small).findings, new


def test_the_key_holds_the_code_and_every_part():
    assert key_of("light", (1.0, "a")) != key_of("light", (1.0, "b"))
    assert key_of("light", (1.0,)) != key_of("cures", (1.0,))


@pytest.mark.parametrize("harm", ["cut", "empty", "other", "text"])
def test_a_damaged_entry_is_no_entry(tmp_path, harm):
    store = Kept(tmp_path)
    store.put("k" * 64, {"a": np.arange(5.0)})
    path = tmp_path / f"{'k' * 64}.npz"
    content = path.read_bytes()
    path.write_bytes(
        {"cut": content[: len(content) // 2], "empty": b"", "text": b"no archive"}.get(
            harm, content
        )
    )
    if harm == "other":
        path.rename(tmp_path / f"{'m' * 64}.npz")
        assert store.get("m" * 64) is None
    assert store.get("k" * 64) is None


def test_keeping_on_a_disk_that_cannot_be_written_is_no_error(tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("")
    Kept(blocked / "below").put("k", {"a": np.zeros(1)})
    assert Kept(blocked / "below").get("k") is None


def test_without_a_folder_results_are_kept_as_long_as_it_lives(monkeypatch):
    import loamwright.files.kept as kept

    monkeypatch.setattr(kept, "MOST", 2)
    store = Kept(None)
    for name in "abc":
        store.put(name, {"x": np.array([ord(name)])})
    assert store.get("a") is None
    assert store.get("c")["x"] == [ord("c")]
    assert Kept(None).get("c") is None


def test_a_check_follows_the_light_once(monkeypatch):
    """Without a folder, too: ground and climate take turns, the light does not hang on them."""
    from loamwright.engine.light import study

    runs = []
    real = study.study_light
    monkeypatch.setattr(study, "study_light", lambda h: runs.append(1) or real(h))
    workflow.check(ROOT / "tests" / "data" / "small-climate.yaml")
    assert len(runs) == 1


def test_only_the_newest_entries_are_kept(tmp_path, monkeypatch):
    import loamwright.files.kept as kept

    monkeypatch.setattr(kept, "MOST", 3)
    store = Kept(tmp_path)
    for name in "abcdef":
        store.put(name, {"x": np.zeros(1)})
    assert len(list(tmp_path.glob("*.npz"))) == 3
    assert store.get("f") is not None


@pytest.mark.slow
def test_a_dimmed_lamp_gives_that_share(small, tmp_path):
    full = workflow.check(small)
    small.write_text(SMALL.replace("along: x}", "along: x, dim: 25 %}"))
    dimmed = workflow.check(small)
    for a, b in zip(full.light.sites, dimmed.light.sites, strict=True):
        assert b.values["up"]["uvi"] == pytest.approx(0.25 * a.values["up"]["uvi"], rel=1e-6)


@pytest.mark.slow
def test_grid_is_written_as_labelled_netcdf(small, tmp_path):
    import xarray as xr

    out = tmp_path / "fields.nc"
    done = CliRunner().invoke(
        main, ["light", str(small), "--grid", "10 cm", "-o", str(out), "--afresh"]
    )
    assert done.exit_code == 0, done.output
    with xr.open_dataset(out, engine="h5netcdf") as data:
        assert data["uvi"].dims == ("facing", "x", "y", "z")
        assert data["uvi"].attrs["units"] == "1"
        assert data["x"].attrs["units"] == "m"
        up, brightest = data["uvi"].sel(facing="up"), data["uvi"].sel(facing="brightest")
        assert float(up.max()) > 0
        # A meter turned to the brightest reads at least what one held up reads; bounced light is
        # sampled by different rays.
        assert bool((brightest >= up * 0.97 - 0.01).where(up.notnull(), True).all())
        assert set(data["surface_owner"].values) >= {"ground", "branch", "back"}
    done = CliRunner().invoke(main, ["light", str(small), "--grid", "10 cm", "-o", str(out)])
    assert done.exit_code == 2
    assert "is there already" in done.output


def test_grid_values_are_those_of_a_site_at_the_same_place(small):
    """Two ways to the same number: a grid point and a site."""
    from loamwright.engine.light.fields import light_at
    from loamwright.habitat.sites import Site

    habitat = workflow.read(small)
    at = (0.2, 0.15, 0.4)
    checked = workflow.check_habitat(replace(habitat, sites=(Site("here", at),), needs=()))
    site = checked.light.sites[0].values
    model = workflow.light_model(habitat)
    for facing in ("up", "brightest"):
        grid = light_at(model, np.array([at]), facing)
        # The direction of the brightest and the bounced rays are found differently.
        assert grid["uvi"][0] == pytest.approx(site[facing]["uvi"], rel=0.03)


def test_json_of_light_has_a_block_for_each_facing(small):
    done = CliRunner().invoke(main, ["light", str(small), "--json", "--afresh"])
    document = json.loads(done.output)
    hide = document["sites"]["hide"]
    assert set(hide) == {"up", "brightest", "normal"}
    assert {"uvi", "uva_w_m2", "uvb_w_m2", "ppfd_umol_m2_s", "lux", "radiant_w_m2",
            "dli_mol_m2_d"} <= set(hide["up"])  # fmt: skip


@pytest.mark.slow
def test_pages_say_where_they_are_and_do_not_write_over(small, tmp_path):
    out = tmp_path / "pages"
    done = CliRunner().invoke(main, ["check", str(small), "-o", str(out), "--afresh"])
    assert done.exit_code in (0, 1), done.output
    assert "overview.html" in done.output
    assert len(list(out.glob("*.png"))) == 12
    again = CliRunner().invoke(main, ["check", str(small), "-o", str(out), "--afresh"])
    assert again.exit_code == 2
    assert "--force" in again.output


def test_a_habitat_without_lamps_is_dark_and_says_so(small):
    small.write_text(
        SMALL.replace(
            "lamps:\n  - {name: tube, type: compact-uvb-13w, at: [25 cm, 20 cm, 56 cm], along: x}\n",
            "",
        )
    )
    checked = workflow.check(small)
    basking = next(f for f in checked.findings if f.need == "uv-basking")
    assert basking.value == 0.0
    assert [c.kind for c in basking.causes] == ["no_lamp"]


def test_patches_of_a_huge_box_grow_instead_of_their_number():
    from loamwright.engine.lower import MOST_PATCHES, PATCH, lower_scene

    habitat = workflow.read(Path(str(ROOT / "src/loamwright/data/warm.yaml")))
    huge = replace(
        habitat, enclosure=replace(habitat.enclosure, inside=(40.0, 30.0, 10.0), openings=())
    )
    scene = lower_scene(huge)
    assert scene.patches < 2 * MOST_PATCHES
    assert scene.area.max() > 4 * PATCH**2


def test_an_unknown_engine_is_said(small):
    with pytest.raises(InputError, match="no engine is called 'weather'; there is light, climate"):
        workflow.check(small, only=("weather",))


def test_where_results_are_kept():
    assert workflow.kept_folder({"LOAMWRIGHT_CACHE": ""}) is None
    assert workflow.kept_folder({"LOAMWRIGHT_CACHE": "/a/b"}) == Path("/a/b")
    assert workflow.kept_folder({"XDG_CACHE_HOME": "/c"}) == Path("/c/loamwright")


def test_what_lies_beside_an_example_is_kept_where_someone_has_changed_it(tmp_path):
    workflow.new(tmp_path / "one.yaml", example="forest-edge")
    prices = tmp_path / "forest-edge-prices.csv"
    mine = prices.read_text("utf-8").replace("15.90", "16.90")
    prices.write_text(mine, "utf-8")
    with pytest.raises(InputError, match="is there already"):
        workflow.new(tmp_path / "two.yaml", example="forest-edge")
    assert workflow.new(tmp_path / "two.yaml", example="forest-edge", keep=True) == [
        tmp_path / "two.yaml"
    ]
    assert prices.read_text("utf-8") == mine
    with pytest.raises(InputError, match=r"two\.yaml: is there already"):
        workflow.new(tmp_path / "two.yaml", example="forest-edge", keep=True)
