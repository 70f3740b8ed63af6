"""Hand-written pages read as a sequence of things to do: files to write, commands to run, edits.

A page marks them so::

    ```yaml title="my-lamps.yaml"      a file of that name
    ```sh                              commands; a line may end in `# exit status 1`
    <!-- edit forest-edge.yaml: OLD -> NEW -->
    <!-- output loamwright check forest-edge.yaml | until: not known --> ... <!-- end -->

What stands between the last two is the command's output and is filled in by `make_docs`.
"""

from __future__ import annotations

import contextlib
import os
import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner

ROOT = Path(__file__).resolve().parent.parent

_FENCE = re.compile(
    r"^(?P<dent>[ \t]*)```(?P<info>[^\n]*)\n(?P<body>.*?)^(?P=dent)```[ \t]*$", re.M | re.S
)
_MARK = re.compile(r"<!-- (?P<kind>edit|output) (?P<rest>.*?) -->")
_END = "<!-- end -->"
_STATUS = re.compile(r"#.*exit status (\d(?: or \d)*)")
_PROMPT = re.compile(r"^\s*(?:\$ )?(?:\.venv/bin/)?(?=loamwright\b)")


@dataclass(frozen=True)
class Step:
    """One thing a page does.

    ``kind``: ``file`` (name, text), ``edit`` (name, text -> new), ``command`` (text, its documented
    exit ``statuses``, none where it says nothing), ``output`` (command, ``span``: where its text
    stands in the page; ``until`` ends an excerpt).
    """

    kind: str
    text: str
    name: str = ""
    statuses: tuple[int, ...] = ()
    span: tuple[int, int] = (0, 0)
    until: str = ""
    new: str = ""


def steps(page: str) -> list[Step]:
    """What a page does, in its order."""
    found: list[tuple[int, Step]] = []
    covered: list[tuple[int, int]] = []
    for mark in _MARK.finditer(page):
        rest = mark["rest"]
        if mark["kind"] == "edit":
            name, change = rest.split(": ", 1)
            old, new = change.split(" -> ")
            found.append((mark.start(), Step("edit", old, name=name, new=new)))
            continue
        end = page.index(_END, mark.end())
        command, _, until = rest.partition(" | until: ")
        step = Step("output", command, span=(mark.end(), end), until=until)
        found.append((mark.start(), step))
        covered.append((mark.end(), end))
    for fence in _FENCE.finditer(page):
        if any(a <= fence.start() < b for a, b in covered):
            continue
        info, body = fence["info"].strip(), fence["body"]
        title = re.search(r'title="([^"]+)"', info)
        if title:
            found.append((fence.start(), Step("file", body, name=title[1])))
        elif info.split(" ")[0] in ("", "sh", "console"):
            for line in re.sub(r"\\\n\s*", "", body).splitlines():
                if _PROMPT.match(line):
                    status = _STATUS.search(line)
                    text = _PROMPT.sub("", line)
                    shown = tuple(int(n) for n in status[1].split(" or ")) if status else ()
                    found.append((fence.start(), Step("command", text, statuses=shown)))
    return [step for _, step in sorted(found, key=lambda pair: pair[0])]


@contextlib.contextmanager
def inside(folder: Path) -> Iterator[None]:
    """Work in a folder, as a person who follows the page would."""
    before = Path.cwd()
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(before)


def words(command: str) -> list[str]:
    """A shell line's words, without comment, redirection and what it is piped into."""
    out: list[str] = []
    for word in shlex.split(command, comments=True):
        if word in ("|", ">", "&&", ";", "||"):
            break
        out.append(word)
    return out


EXAMPLES = ROOT / "src" / "loamwright" / "data" / "examples"


def supply(arguments: list[str]) -> None:
    """Put a copy of the demo where a command reads a habitat file that the page has not made."""
    if arguments[1:2] not in (["check"], ["light"], ["day"], ["drill"]):
        return
    path = Path(arguments[2]) if len(arguments) > 2 else None
    if path is not None and path.suffix == ".yaml" and not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes((EXAMPLES / "forest-edge.yaml").read_bytes())
        prices = EXAMPLES / "forest-edge-prices.csv"
        (path.parent / prices.name).write_bytes(prices.read_bytes())


def run(command: str, kept: Path) -> tuple[int, str, str]:
    """Exit status, standard output and standard error of one command line; ``kept`` is the folder
    for results kept between runs."""
    from loamwright.cli import main

    arguments = words(command)
    supply(arguments)
    environment = {"LOAMWRIGHT_CACHE": str(kept), "COLUMNS": "80", "NO_COLOR": "1"}
    done = CliRunner(env=environment).invoke(main, arguments[1:], prog_name="loamwright")
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.exit_code, done.stdout, done.stderr


def edit(step: Step) -> None:
    """Make the change a page tells the reader to make."""
    path = Path(step.name)
    text = path.read_text("utf-8")
    if text.count(step.text) != 1:
        raise ValueError(f"{step.name} has {text.count(step.text)} times '{step.text}'")
    path.write_text(text.replace(step.text, step.new), "utf-8")


def excerpt(output: str, until: str) -> str:
    """The output up to the line that holds ``until``, and its last line."""
    lines = [line.rstrip() for line in output.rstrip().splitlines()]
    if not until:
        return "\n".join(lines)
    stop = next((i for i, line in enumerate(lines) if until in line), None)
    if stop is None:
        raise ValueError(f"no line of the output holds '{until}'")
    return "\n".join([*lines[:stop], "  …", lines[-1]])


def filled(page: str, folder: Path, kept: Path) -> str:
    """The page with every output filled in by running its commands in ``folder``."""
    out, done = [], 0
    with inside(folder):
        for step in steps(page):
            if step.kind == "file":
                Path(step.name).write_text(step.text, "utf-8")
            elif step.kind == "edit":
                edit(step)
            elif step.kind == "command" and words(step.text)[1:2] == ["new"]:
                status, _, error = run(step.text, kept)
                if status:
                    raise ValueError(f"{step.text}: {error}")
            elif step.kind == "output":
                _, text, error = run(step.text, kept)
                block = f"\n```text\n{excerpt(text or error, step.until)}\n```\n"
                out += [page[done : step.span[0]], block]
                done = step.span[1]
    return "".join(out) + page[done:]
