"""What the YAML parser stumbled over, in words for a person who writes a list and not a parser."""

from __future__ import annotations

import re
from typing import Any

_TOKENS = {
    "<scalar>": "a value",
    "<block mapping start>": "a key",
    "<block sequence start>": "a list",
    "<stream end>": "the end of the file",
    "<document start>": "a line of dashes (---)",
    "<document end>": "a line of dots (...)",
    "<block end>": "the end of a group",
    "<alias>": "an alias (*)",
    "<anchor>": "an anchor (&)",
    "<tag>": "a tag (!)",
}
_FIRST_OF_LINE = ("<block mapping start>", "<block sequence start>", "<scalar>", "-")
_OPENED = {"while parsing a flow sequence": ("[", "]"), "while parsing a flow mapping": ("{", "}")}


def yaml_words(error: Any, text: str) -> tuple[str, int, int]:
    """Message, line and column (from 1) of a marked error of the parser in a text."""
    context, problem = str(error.context or ""), str(error.problem or "")
    began, mark = error.context_mark, error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    quoted = re.findall(r"'([^']+)'|\"(.+)\"", problem)
    found = quoted[-1][0] or quoted[-1][1] if quoted else ""
    if "could not find expected ':'" in problem and began:
        line, column = began.line + 1, began.column + 1
        return "this is no 'key: value'; a colon and a space are missing", line, column
    if "unknown escape character" in problem or "escape sequence" in problem:
        column = max(column - 1, 1)
    elif context in ("while parsing a block mapping", "while parsing a block collection"):
        start = text.rfind("\n", 0, mark.index) + 1
        if found == "<scalar>" and text[start : mark.index].strip():
            message = "nothing may follow a value in its line; put the whole text in quotes"
            return message, line, column
    return _message(context, problem, found, began, line), line, column


def _message(context: str, problem: str, found: str, began: Any, line: int) -> str:
    start = began.line + 1 if began else line
    if context in _OPENED and "expected ','" in problem:
        first, last = _OPENED[context]
        return f"a comma is missing before this, or the {first!r} of line {start} is not closed " \
            f"with {last!r}"  # fmt: skip
    if context in ("while parsing a block mapping", "while parsing a block collection"):
        return _misplaced(found, "key" if "mapping" in context else "'- '", start, began, line)
    if "mapping values are not allowed" in problem:
        return "a colon is not expected here; put a text that holds ': ' in quotes, and write a " \
            "space after the colon of a key"  # fmt: skip
    if "sequence entries are not allowed" in problem or "mapping keys are not" in problem:
        return "an entry cannot begin here; give it a line of its own, indented below its key"
    if "cannot start any token" in problem:
        if "\\t" in problem:
            return "a tab cannot stand here; use spaces"
        return f"{found!r} cannot begin a value; put the value in quotes"
    if "expected the node content" in problem:
        return f"a value is wanted here, not {_TOKENS.get(found, repr(found))}"
    if "scanning a quoted scalar" in context:
        return f"the quote opened in line {start} is not closed"
    if "unknown escape character" in problem:
        return (
            f"\\{found} means nothing in double quotes; use single quotes, or \\\\ for a backslash"
        )
    if "escape sequence" in problem:
        return "a \\x, \\u or \\U in double quotes needs 2, 4 or 8 hexadecimal digits"
    if "alias" in context or "anchor" in context:
        return "a name must follow * or &; put a text that begins with * or & in quotes"
    if "block scalar" in context:
        return "after | or > only +, - or a digit from 1 to 9 may stand; begin the text below it"
    if "directive" in context or "directive" in problem:
        return "this line that begins with % is not read; remove it"
    if "<document start>" in problem or "document end" in problem:
        return "this does not go with what stands above it; remove it, or check the indentation"
    if "tag" in context or "tag handle" in problem:
        return "tags (!) are not read; put a text that begins with ! in quotes"
    if "unexpected ':'" in problem:
        return "a colon is not expected here; put the text in quotes"
    return " ".join(part for part in (context, problem) if part)


def _misplaced(found: str, what: str, start: int, began: Any, line: int) -> str:
    """Something that is neither the next key (or entry) of a group nor the end of it."""
    if found in ("}", "]"):
        return f"this {found!r} closes nothing; remove it"
    if found == ",":
        return "a comma is not expected here; lists with commas stand in [] or {}"
    if found in _FIRST_OF_LINE and began and line > start:
        column = began.column + 1
        return f"the next {what} is wanted here, in column {column} like the {what} of line " \
            f"{start}; check the indentation"  # fmt: skip
    return f"the next {what} is wanted here, not {_TOKENS.get(found, repr(found))}"
