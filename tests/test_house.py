"""The house's own rules: contracts catch a planted break, docstrings carry units, imports are light."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import loamwright.physics

ROOT = Path(__file__).parent.parent

BREAKS = {
    "Imports go down only": ("habitat/room.py", "from loamwright.engine import findings"),
    "Text with units only at the edge": ("engine/findings.py", "from loamwright import units"),
    "No files, clocks, logs or drawings in the pure layers": (
        "physics/ferguson.py",
        "import pathlib",
    ),
    "Commands reach files through the workflow only": (
        "cli.py",
        "from loamwright.files import reader",
    ),
    "No cycles between siblings": (
        "habitat/sources.py",
        "from loamwright.habitat import room, sites",
    ),
}


def linted(folder: Path) -> str:
    command = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [str(command), "--no-cache"], cwd=folder, capture_output=True, text=True, timeout=120,
        env={"PYTHONPATH": str(folder / "src"), "PATH": "/usr/bin:/bin", "NO_COLOR": "1"},
    )  # fmt: skip
    return done.stdout + done.stderr


@pytest.mark.slow
@pytest.mark.parametrize("contract", list(BREAKS))
def test_each_contract_catches_a_planted_break(contract, tmp_path):
    shutil.copytree(ROOT / "src", tmp_path / "src", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    name, line = BREAKS[contract]
    path = tmp_path / "src" / "loamwright" / name
    text = path.read_text("utf-8")
    if contract == "No cycles between siblings":
        # A cycle takes two: sites already needs nothing, so tie a knot between two leaves.
        other = tmp_path / "src" / "loamwright" / "habitat" / "room.py"
        other.write_text(other.read_text("utf-8") + "\nfrom loamwright.habitat import sources\n")
        line = "from loamwright.habitat import room"
    path.write_text(text + f"\n{line}\n")
    out = linted(tmp_path)
    assert re.search(rf"{re.escape(contract)}\s+BROKEN", out), out


def _public_functions():
    for module in pkgutil.iter_modules(loamwright.physics.__path__, "loamwright.physics."):
        loaded = importlib.import_module(module.name)
        for name, function in inspect.getmembers(loaded, inspect.isfunction):
            if function.__module__ == module.name and not name.startswith("_"):
                yield f"{module.name}.{name}", function


@pytest.mark.parametrize(("name", "function"), list(_public_functions()))
def test_physics_docstrings_give_units_and_sources(name, function):
    text = inspect.getdoc(function) or ""
    assert text, f"{name} has no docstring"
    for parameter, what in inspect.signature(function).parameters.items():
        number = "float" in str(what.annotation) or "NDArray" in str(what.annotation)
        if not number or "str" in str(what.annotation):
            continue
        block = re.search(
            rf"^(?:[\w, ]*\b)?{parameter}\b[\w, ]* : .*\n((?:    .*\n?)+)", text, re.M
        )
        described = block.group(1) if block else ""
        assert "[" in described, f"{name}: '{parameter}' has no [unit] in its description"


def test_help_imports_nothing_heavy():
    """The command line answers quickly because nothing heavy is loaded to print its help."""
    code = (
        "import sys, loamwright.cli; "
        "heavy = {'numpy','scipy','numba','matplotlib','xarray','trimesh','pydantic','ruamel','rich'}; "
        "print(sorted(heavy & {m.split('.')[0] for m in sys.modules}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert done.stdout.strip() == "[]", done.stderr


def test_kept_results_can_be_read_without_compiled_code():
    """A second check answers from what is kept; reading it must not load the compiler."""
    code = (
        "import sys, loamwright.engine.light.findings, loamwright.engine.light.record; "
        "print(sorted({'numba', 'embreex', 'scipy'} & {m.split('.')[0] for m in sys.modules}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert done.stdout.strip() == "[]", done.stderr


def test_no_file_is_over_five_hundred_lines():
    long = [
        f"{p.relative_to(ROOT)}: {n}"
        for p in (ROOT / "src").rglob("*.py")
        if (n := len(p.read_text("utf-8").splitlines())) > 500
    ]
    assert long == []
