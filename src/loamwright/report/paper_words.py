"""Words on paper: what is told by the habitat file's keys on a screen is told plainly to a trade.

Whoever holds the pack has no file to write in: a joiner, an electrician, a customer. On paper each
hint at a key of the file becomes a question to whoever planned the habitat, or goes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from loamwright.report.blocks import FindingGroup, Table
from loamwright.report.plain import capital
from loamwright.report.typst_blocks import Block, Caution, Facts, Found, Section, Ticks, Words

PHRASES: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), told)
    for pattern, told in (
        (r"write it with its source under needs: in the habitat file",
         "tell it, with its source, to whoever planned this"),
        (r"name such a place under sites: in the habitat file, with role: (\w+)",
         r"ask whoever planned this for such a place (\1)"),
        (r"give it another place, named under sites: with role: (\w+)", r"give it another place (\1)"),
        (r"give the panel that opens its doors: in the habitat file",
         "ask whoever planned this which panel opens"),
        (r"let the need name a site that stands under sites: in the habitat file",
         "ask whoever planned this which place is meant"),
        (r" Name what you let in under decomposers: to follow it all the same\.", ""),
        (r"; else the file \(carries:\)", ""),
        (r"; (say|give) it in the file, under animals", ""),
        (r"; say counted: in the file when they are", ""),
        (r": give females, since and interval under eggs:", ""),
        (r"search twice, or give detection", "search twice"),
        (r" with with: under animals", ""),
        (r": give offspring: stay or leave under animals", ""),
        (r": give (\w+:? ?)+ under \w+", ""),
        (r": give room: floor: runs:", ""),
        (r": give screws: or glued:", ""),
        (r": give protection:, such as IP65", ""),
        (r": give \w+:", ""),
        (r"; ask for smell, clumps, colour, wet and life under condition:", ""),
        (r"the file names no site with the role (\w+)", r"no place for \1 is named"),
        (r"the file (does not say|names no|has no|gives no)", r"the plan \1"),
        (r"as the file says", "as planned"),
        (r"the planted habitat has stood for four weeks on day (\d+)",
         r"the planted habitat has stood for four weeks on day \1 (days counted from the day the "
         r"first old habitat is taken down, or from planting; where the order of work says later, that "
         r"decides)"),
        (r": see check\.", ": see the findings."),
        (r" \(loamwright show decomposers NAME\)", ""),
    )
)  # fmt: skip
"""What stands for what, tried in this order."""

FILE_WORDS = re.compile(r"\b(give|say|under|with|role|let) [a-z]+:(?![/\d])", re.IGNORECASE)
"""How texts name a key of the file."""


def plainly(text: str) -> str:
    """A text without keys of the habitat file."""
    for pattern, told in PHRASES:

        def instead(found: re.Match[str], told: str = told) -> str:
            said = found.expand(told)
            return capital(said) if found[0][:1].isupper() else said

        text = pattern.sub(instead, text)
    return text


def plain_groups(groups: Iterable[FindingGroup]) -> tuple[FindingGroup, ...]:
    """Findings whose reasons and advice name no key."""
    return tuple(
        replace(g, findings=tuple(
            replace(f, why=plainly(f.why), advice=plainly(f.advice), mind=plainly(f.mind))
            for f in g.findings
        ))
        for g in groups
    )  # fmt: skip


def plain_table(table: Table) -> Table:
    """A table that names no key."""
    return replace(
        table, title=plainly(table.title), note=plainly(table.note),
        rows=tuple(tuple(plainly(c) for c in row) for row in table.rows),
    )  # fmt: skip


def plain_section(section: Section) -> Section:
    """A section of the pack that names no key of the habitat file."""
    return replace(section, blocks=tuple(_plain(b) for b in section.blocks))


def _plain(block: Block) -> Block:
    match block:
        case Table():
            return plain_table(block)
        case Words() | Caution():
            return replace(block, text=plainly(block.text))
        case Found():
            return Found(plain_groups(block.groups))
        case Facts() | Ticks():
            return replace(block, rows=tuple((a, plainly(b)) for a, b in block.rows))
    return block
