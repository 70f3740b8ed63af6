"""Fields of a habitat file as people are told of them, and why a change of one is refused."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any

from loamwright.errors import Problem

Loc = Sequence[str | int]

IDLE = "drives nothing: name it as 'control' of a lamp, a fan or the mist"
"""What is wrong with a controller that nothing is switched by."""


def field_name(loc: Loc) -> str:
    """A place as messages name it: ``lamps[0].at[2]``."""
    text = ""
    for part in loc:
        text += f"[{part}]" if isinstance(part, int) else f".{part}" if text else str(part)
    return text


def messages_at(
    problems: Sequence[Problem], loc: Loc, value: Callable[[Loc], Any]
) -> tuple[str, ...]:
    """What a person is told at the field they changed: its own problems plainly, others by what they
    are called; ``value`` gives what stands at a place of the file."""
    here = field_name(loc)
    out = []
    for problem in problems:
        own = problem.field == here or problem.field.startswith((f"{here}[", f"{here}."))
        part = problem.field.removeprefix(here).lstrip(".")
        if own and part.strip("[]").isdigit():
            out.append(f"{'xyz'[int(part.strip('[]')) % 3]}: {problem.message}")
        elif own or not problem.field:
            out.append(problem.message)
        else:
            out.append(f"{called(problem.field, value)}: {problem.message}")
    return tuple(out)


def called(place: str, value: Callable[[Loc], Any]) -> str:
    """A place by its entry's name where it has one: ``sites 'low perch', at[2]``."""
    found = re.fullmatch(r"([\w.]+)\[(\d+)\](.*)", place)
    if found is None:
        return place
    head, number, rest = found.groups()
    name = value((*head.split("."), int(number), "name"))
    if not isinstance(name, str):
        return place
    return f"{head} '{name}'" + (f", {rest.lstrip('.')}" if rest else "")


def still_used(
    problems: Sequence[Problem], loc: Loc, value: Callable[[Loc], Any]
) -> Problem | None:
    """Why an entry cannot be taken out, where that is because others name it; else None."""
    own = value((*loc, "name"))
    name = own if isinstance(own, str) else str(loc[-1])
    # A plant is named by its crown too.
    if not problems or not all(f"'{name}'" in p.message or f"'{name} crown'" in p.message
                               for p in problems):  # fmt: skip
        return None
    users = [called(p.field, value) for p in problems]
    told = "; ".join(users[:4]) + (f"; and {len(users) - 4} more" if len(users) > 4 else "")
    verb = "names" if len(users) == 1 else "name"
    return Problem(f"'{name}' stays: {told} still {verb} it. Change or remove that first.",
                   field_name(loc))  # fmt: skip


def idle_controls(problems: Sequence[Problem]) -> tuple[str, ...]:
    """Names of the controllers that a change leaves with nothing to drive, where nothing else is
    wrong with it."""
    if all(p.message == IDLE and p.field.startswith("controls.") for p in problems):
        return tuple(p.field.removeprefix("controls.") for p in problems)
    return ()
