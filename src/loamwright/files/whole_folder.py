"""A folder of files written whole or not at all."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from loamwright.errors import InputError, Problem


class Half:
    """A folder being made beside its target; nothing of it is seen there before `move`."""

    def __init__(self, target: Path, beside: Path) -> None:
        self.target, self._beside = target, beside
        self._new, self._old = beside / "new", beside / "old"
        self._new.mkdir()

    def check(self, names: Sequence[str], *, force: bool) -> None:
        """Raise `InputError` where a file of one of these names must not be written over."""
        taken = [n for n in names if (self.target / n).exists()]
        if not taken or force:
            return
        more = f" and {len(taken) - 1} more of these files are" if len(taken) > 1 else " is"
        raise InputError(
            Problem(
                f"{taken[0]}{more} there already; --force writes over them", file=str(self.target)
            )
        )

    def move(self, contents: Mapping[str, bytes], *, force: bool) -> list[Path]:
        """Write every file (name within the folder, its bytes), then put all of them in place.

        Raises
        ------
        InputError
            If one is there already without ``force``, or the place cannot be written; then
            everything is as it was before.
        """
        self.check(list(contents), force=force)
        try:
            for name, content in contents.items():
                path = self._new / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(content)
            self._place(list(contents))
        except OSError as error:
            raise _refused(self.target, error) from error
        return [self.target / name for name in contents]

    def _place(self, names: Sequence[str]) -> None:
        if not self.target.exists():
            self._new.replace(self.target)
            return
        made: list[Path] = []
        moved: list[tuple[Path, Path]] = []
        folders: list[Path] = []
        try:
            for name in names:
                to, kept = self.target / name, self._old / name
                for folder in reversed(to.relative_to(self.target).parents[:-1]):
                    if not (self.target / folder).exists():
                        (self.target / folder).mkdir()
                        folders.append(self.target / folder)
                if to.exists():
                    kept.parent.mkdir(parents=True, exist_ok=True)
                    to.replace(kept)
                    moved.append((kept, to))
                (self._new / name).replace(to)
                made.append(to)
        except OSError:
            for path in made:
                path.unlink(missing_ok=True)
            for kept, to in moved:
                kept.replace(to)
            for folder in reversed(folders):
                folder.rmdir()
            raise


@contextmanager
def half_written(target: Path) -> Iterator[Half]:
    """A place beside a target folder to make its files in; gone afterwards, whatever happens.

    Raises
    ------
    InputError
        If the target is a file, or nothing can be written where it stands.
    """
    if target.exists() and not target.is_dir():
        raise InputError(Problem("is a file; name a folder", "-o", file=str(target)))
    above = target.resolve().parent
    made: list[Path] = []
    try:
        missing = [p for p in (above, *above.parents) if not p.exists()]
        for folder in reversed(missing):
            folder.mkdir()
            made.append(folder)
        # Where the target is there already, it is the folder itself that must take files.
        place = target.resolve() if target.exists() else above
        beside = Path(tempfile.mkdtemp(prefix=f".{target.name}.", suffix=".part", dir=place))
    except OSError as error:
        _remove(made)
        raise _refused(target, error) from error
    try:
        yield Half(target.resolve(), beside)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
        _remove(made)


def _remove(folders: Sequence[Path]) -> None:
    """Take folders away again that are still empty, the innermost first."""
    for folder in reversed(folders):
        try:
            folder.rmdir()
        except OSError:
            return


def _refused(target: Path, error: OSError) -> InputError:
    reason = error.strerror or str(error)
    problem = f"cannot be written: {reason}; choose another folder with -o; nothing was written"
    return InputError(Problem(problem, "-o", file=str(target)))
