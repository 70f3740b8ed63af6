"""A folder of files: whole or not at all, and nothing of the builder's is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from loamwright.errors import InputError
from loamwright.files.whole_folder import Half, half_written

CONTENTS = {"a.txt": b"one", "deep/b.txt": b"two", "deep/c.txt": b"three"}


def names(folder: Path) -> list[str]:
    return sorted(str(p.relative_to(folder)) for p in folder.rglob("*"))


def test_new_folder_is_made_whole(tmp_path: Path) -> None:
    target = tmp_path / "far" / "pack"
    with half_written(target) as half:
        assert not target.exists()
        written = half.move(CONTENTS, force=False)
    assert names(target) == ["a.txt", "deep", "deep/b.txt", "deep/c.txt"]
    assert [p.read_bytes() for p in written] == [b"one", b"two", b"three"]
    assert names(tmp_path / "far") == ["pack", *(f"pack/{n}" for n in names(target))]


def test_nothing_is_left_where_it_ends_early(tmp_path: Path) -> None:
    with pytest.raises(RuntimeError, match="an engine fails"), half_written(tmp_path / "x" / "y"):
        raise RuntimeError("an engine fails")
    assert names(tmp_path) == []


def test_files_that_are_there_are_kept_without_force(tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / "b.txt").write_bytes(b"the builder's own")
    with (
        pytest.raises(InputError, match=r"b\.txt is there already; --force"),
        half_written(tmp_path) as half,
    ):
        half.move(CONTENTS, force=False)
    assert names(tmp_path) == ["deep", "deep/b.txt"]
    with half_written(tmp_path) as half:
        half.move(CONTENTS, force=True)
    assert (tmp_path / "deep" / "b.txt").read_bytes() == b"two"
    assert names(tmp_path) == ["a.txt", "deep", "deep/b.txt", "deep/c.txt"]


def test_other_files_in_the_folder_stay(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_bytes(b"mine")
    with half_written(tmp_path) as half:
        half.move(CONTENTS, force=False)
    assert (tmp_path / "notes.txt").read_bytes() == b"mine"


def test_what_was_moved_goes_back_where_moving_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.txt").write_bytes(b"old")
    real = Path.replace

    def fail(self: Path, target: Path) -> Path:
        if self.name == "c.txt":
            raise OSError(28, "No space left on device")
        return real(self, target)

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(InputError, match="No space left on device"), half_written(tmp_path) as half:
        half.move(CONTENTS, force=True)
    monkeypatch.undo()
    assert names(tmp_path) == ["a.txt"]
    assert (tmp_path / "a.txt").read_bytes() == b"old"


def test_folder_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"x")
    with (
        pytest.raises(InputError, match="is a file; name a folder"),
        half_written(tmp_path / "file"),
    ):
        pass
    with (
        pytest.raises(InputError, match=r"cannot be written: .*nothing was written"),
        half_written(tmp_path / "file" / "below"),
    ):
        pass
    assert names(tmp_path) == ["file"]


def test_read_only_folder_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(**_: object) -> str:
        raise PermissionError(13, "Permission denied")

    # Whoever runs the tests may write everywhere: the refusal is the system's, played.
    monkeypatch.setattr("loamwright.files.whole_folder.tempfile.mkdtemp", refuse)
    with (
        pytest.raises(InputError, match="cannot be written: Permission denied"),
        half_written(tmp_path / "a" / "b"),
    ):
        pass
    assert names(tmp_path) == []


def test_only_the_asked_names_are_checked_first(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"x")
    with half_written(tmp_path) as half:
        assert isinstance(half, Half)
        half.check(["other.txt"], force=False)
        half.check(["a.txt"], force=True)
        with pytest.raises(InputError, match=r"a\.txt is there already"):
            half.check(["a.txt"], force=False)
