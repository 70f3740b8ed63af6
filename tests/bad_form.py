# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Files that are no YAML, or YAML of a kind that is not read."""

from __future__ import annotations

from bad_case import METRIC, case, swap


def bomb(levels: int, told: int) -> str:
    """Aliases of aliases, each level nine times the one before; a mark at level ``told``."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]\n"]
    for i in range(1, levels):
        mark = "▸" if i == told else ""
        lines.append(f"a{i}: {mark}&a{i} [" + ", ".join([f"*a{i - 1}"] * 9) + "]\n")
    return "".join(lines)


# fmt: off
CASES = [
    # nothing, or not a habitat
    case("empty", "▸", ("", "is empty; .*name: and enclosure:")),
    case("only blank lines", "▸\n\n  \n", ("", "is empty; .*name: and enclosure:")),
    case("only comments", "▸# a habitat\n# to be\n", ("", "is empty; .*name: and enclosure:")),
    case("only a mark of a document", "---\n▸", ("", "is empty; .*name: and enclosure:")),
    case("only null", "▸~\n", ("", "is empty; .*name: and enclosure:")),
    case("a word", "▸hello\n", ("", "is not a habitat file: keys with values .*name: and enclosure:")),
    case("a number", "▸12\n", ("", "is not a habitat file")),
    case("a list", "▸- name: a\n- enclosure: b\n", ("", "is not a habitat file")),
    case("a page of another kind", "▸<html><body>Not found</body></html>\n", ("", "is not a habitat file")),
    case("JSON of another kind", "▸[1, 2, 3]\n", ("", "is not a habitat file")),
    case("two documents", METRIC + "▸---\n" + METRIC, ("", "holds a second document; one file holds one")),
    case("a second document that is empty", METRIC + "▸---\n", ("", "holds a second document")),
    case("another version", "▸%YAML 1.1\n---\n" + METRIC, ("", "asks for another YAML version; remove the %YAML line")),
    case("two version lines", "%YAML 1.2\n▸%YAML 1.2\n---\n" + METRIC, ("", "not well-formed YAML: this line that begins with % is not read; remove it")),
    # brackets, quotes, colons, indentation
    case("a bracket left open", METRIC + "plants: [{species: a}\n▸", ("", r"a comma is missing before this, or the '\[' of line 6 is not closed with '\]'")),
    case("a brace left open", METRIC + "day: {from: 07:00, to: 19:00\nplants▸: []\n", ("", "not well-formed YAML")),
    case("a brace too many", swap("90 cm}", "90 cm}▸}"), ("", r"not well-formed YAML: .*'}'")),
    case("the wrong bracket", swap("males: 1}", "males: 1▸]"), ("", "not well-formed YAML")),
    case("a quote left open", METRIC + "purpose: 'exhibit\n▸", ("", "not well-formed YAML: .*quote")),
    case("two values", swap("name: Small", "name: a▸: b"), ("", "not well-formed YAML: .*quotes")),
    case("no space after the colon", swap("name: Small\n", "name:Small\nunits▸: us\n"), ("", "not well-formed YAML: .*space")),
    case("a line that is no key", METRIC + "▸some words\n", ("", "not well-formed YAML: .*colon")),
    case("indented too far", swap("  inside:", "  inside: {}\n   ▸more:"), ("", "not well-formed YAML: .*indent")),
    case("indented too little", "name: a\nenclosure:\n    inside: {}\n  ▸panels: {}\n", ("", "not well-formed YAML: .*indent")),
    case("a tab to indent", swap("  inside", "▸\tinside"), ("", "not well-formed YAML: .*tab")),
    case("an entry beside a key", METRIC + "▸- a\n", ("", "not well-formed YAML")),
    case("a list with a key in it", METRIC + "plants:\n  - {species: a}\n  ▸at: [1 cm, 1 cm]\n", ("", "not well-formed YAML")),
    case("an at sign", METRIC + "purpose: ▸@home\n", ("", "not well-formed YAML: .*'@'.*quotes")),
    case("a backtick", METRIC + "purpose: ▸`home`\n", ("", "not well-formed YAML: .*'`'.*quotes")),
    case("a per cent sign first", METRIC + "purpose: ▸%80\n", ("", "not well-formed YAML: .*'%'.*quotes")),
    case("a bad escape", METRIC + 'purpose: "a▸\\q"\n', ("", "not well-formed YAML: \\\\q means nothing in double quotes; use single quotes")),
    case("a star without a name", METRIC + "purpose: *▸ \n", ("", "not well-formed YAML")),
    # keys
    case("a key twice", METRIC + "▸name: Other\n", ("name", "'name' is here twice, first in line 1; keep one")),
    case("a key three times", METRIC + "▸name: b\n▸name: c\n", ("name", "first in line 1; keep one"), ("name", "first in line 1; keep one")),
    case("a key twice inside", swap("depth: 45 cm", "depth: 45 cm, ▸width: 50 cm"), ("enclosure.inside.width", "'width' is here twice, first in line 3")),
    case("a section twice", METRIC + "▸animals: []\n", ("animals", "'animals' is here twice, first in line 5")),
    case("a key twice, once in quotes", METRIC + '▸"name": b\n', ("name", "is here twice")),
    case("a list as a key", METRIC + "▸[a, b]: c\n", ("", "a key must be a plain word")),
    case("a map as a key", METRIC + "▸{a: b}: c\n", ("", "a key must be a plain word")),
    case("a long key", METRIC + "? ▸- a\n: b\n", ("", "a key must be a plain word")),
    case("an alias as a key", "name: &a Small\n▸*a : b\n", ("", "a key must be a plain word")),
    case("a merge key", METRIC + "plants:\n  - ▸<<: {species: moss}\n", ("plants[0]", r"merge keys \(<<\) are not read; write the keys out")),
    case("a key that looks like a number", METRIC + "▸12: a\n", ("12", "unknown key; known: ")),
    case("a key that looks like yes", METRIC + "▸yes: a\n", ("yes", "unknown key; known: ")),
    case("an empty key", METRIC + "▸: a\n", ("", "unknown key|a key must")),
    case("a key with a line in it", METRIC + '▸"na\\nme": a\n', ("", "a key must be a plain word")),
    case("a key that would colour the terminal", METRIC + '▸"\\e[31mname": a\n', ("", "a key must be a plain word")),
    case("an endless key", METRIC + "▸" + "k" * 900 + ": a\n", ("", "a key must be a plain word|key .* is too long")),
    # tags, anchors, aliases
    case("a tag that would run", METRIC + "purpose: ▸!!python/object/apply:os.system [true]\n", ("purpose", "the tag .*python.* is not read; write the value without it")),
    case("a tag of one's own", METRIC + "purpose: ▸!secret exhibit\n", ("purpose", "the tag !secret is not read")),
    case("a tag of the language", swap("name: Small", "name: ▸!!str 12"), ("name", "the tag .*str is not read")),
    case("a tag on a list", METRIC + "plants: ▸!!set {a, b}\n", ("plants", "the tag .*set is not read")),
    case("a tag on a key", METRIC + "▸!!str purpose: exhibit\n", ("", "the tag .*str is not read")),
    case("an alias of nothing", METRIC + "purpose: ▸*nothing\n", ("purpose", r"\*nothing stands for nothing: there is no &nothing before it")),
    case("an alias before its anchor", METRIC + "purpose: ▸*p\nunits: &p metric\n", ("purpose", r"\*p stands for nothing")),
    case("an alias of itself", METRIC + "plants: &p [▸*p]\n", ("plants[0]", r"\*p holds itself; write its value out")),
    case("aliases that multiply", bomb(9, 5) + METRIC, ("", r"its aliases \(\*\) write out to more than 200000 values; no such file is read")),
    case("an alias of something wrong", "▸a: ▸&x 3\n" + swap("width: 60 cm", "width: *x"), ("a", "unknown key"), ("enclosure.inside.width", "3 has no unit")),
    # numbers
    case("not a number", swap("males: 1", "males: ▸.nan"), ("animals[0].males", ".nan is not a number anything can be built to; write")),
    case("no end", swap("60 cm", "▸.inf"), ("enclosure.inside.width", ".inf is not a number anything can be built to; write")),
    case("minus no end", swap("60 cm", "▸-.INF"), ("enclosure.inside.width", "-.INF is not a number")),
    case("a power too large", swap("males: 1", "males: ▸1e999"), ("animals[0].males", "1e999 is too large a number; ")),
    case("a number too long", swap("males: 1", "males: ▸" + "9" * 4999), ("animals[0].males", "a number of 4999 characters is too long; ")),
    # characters
    case("a bell", METRIC + "purpose: ▸\x07exhibit\n", ("", r"character U\+0007 does not belong in a text file; remove it")),
    case("a bell after old line ends", "name: a\rpurpose: ▸\x07\n", ("", r"character U\+0007 does not belong")),
    case("a NUL", METRIC + "purpose: ▸\x00\n", ("", r"character U\+0000 does not belong")),
    case("an escape", METRIC + "purpose: ▸\x1b[31mexhibit\n", ("", r"character U\+001B does not belong")),
    case("a delete in a comment", METRIC + "# a▸\x7f comment\n", ("", r"character U\+007F does not belong")),
    case("a line end that is none", METRIC + "# a▸\u2028b\n", ("", r"character U\+2028 does not belong")),
    case("a byte order mark in the text", METRIC + "purpose: ▸\ufeffexhibit\n", ("", r"character U\+FEFF does not belong")),
    case("a value too large for a letter", METRIC + '▸purpose: "\\U00110000"\n', ("", "not well-formed YAML: what follows here cannot be read")),
    case("text behind a quote", METRIC + "purpose: 'it'▸s'\n", ("", "nothing may follow a value in its line; put the whole text in quotes")),
    case("a tab behind the colon", METRIC + "purpose:▸\texhibit\n", ("", "a tab cannot stand here; use spaces")),
    case("a swapped byte order mark", METRIC + "purpose: ▸\ufffe\n", ("", r"character U\+FFFE does not belong")),
    case("a NUL written out", swap("name: Small", 'name: ▸"a\\0b"'), ("name", r"character U\+0000")),
    case("an escape written out", swap("name: Small", 'name: ▸"\\e[2Ja"'), ("name", r"character U\+001B")),
    case("half a pair written out", swap("name: Small", 'name: ▸"\\ud800"'), ("name", r"character U\+D800")),
    # size
    case("nested too deep", METRIC + "plants: " + "[" * 23 + "▸" + "[" * 7 + "]" * 30 + "\n", ("plants" + "[0]" * 23, "is nested more than 24 levels deep")),
    case("nested without end", METRIC + "plants: " + "[" * 23 + "▸" + "[" * 5000 + "\n", ("plants" + "[0]" * 23, "is nested more than 24 levels deep")),
    case("nested by indentation", METRIC + "plants: \n" + "".join(" " * i + ("▸" if i == 23 else "") + "a:\n" for i in range(1, 40)), ("plants" + ".a" * 22, "is nested more than 24 levels deep")),
]
# fmt: on
