"""Words used: a page of the pack that says in plain words what its terms mean, of those alone that it
uses."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from loamwright.report.blocks import Table
from loamwright.report.letters import BREAK
from loamwright.report.typst_blocks import Files, Section, Words, section_data


@dataclass(frozen=True, slots=True)
class Entry:
    """A ``word`` with what it ``means``; ``used`` how it stands in a text (a regular expression), where
    that is not the word itself."""

    word: str
    means: str
    used: str = ""

    def occurs(self, text: str) -> bool:
        """Whether a text uses it; abbreviations in capitals count as they are written."""
        pattern = self.used or re.escape(self.word)
        flags = 0 if pattern.isupper() else re.IGNORECASE
        return re.search(rf"\b{pattern}\b", text, flags) is not None


WORDS: tuple[Entry, ...] = (
    Entry("air changes", "how often in an hour room air replaces the air inside"),
    Entry("air-filled porosity", "share of the ground's volume that is air for roots and animals",
          "air-filled|air in (the|its) pores|air in it"),
    Entry("basking place", "where an animal lies to get warm and take up ultraviolet",
          "bask(s|ing)?( place)?"),
    Entry("container capacity", "water that ground holds once it has drained"),
    Entry("crown", "the leafy part of a plant"),
    Entry("cut-out", "a second device that cuts the heat when its control fails", "cut-outs?"),
    Entry("decomposers", "small animals in the ground that eat leaves and dung", "decomposers?"),
    Entry("DLI", "daily light integral: the plant light of a whole day, mol/m²/d"),
    Entry("drainage layer", "lowest layer, in which water may stand", "drainage"),
    Entry("drill", "one fault, and what follows from it hour by hour", "drills?"),
    Entry("drip loop", "a cable's bend below socket and entry: water drips off there", "drip loops?"),
    Entry("Ferguson zone", "1 to 4: how much ultraviolet a kind seeks in the wild"),
    Entry("finding", "a need held against what is computed: met, close to its limit, missed, not known",
          "findings?"),
    Entry("go, wait, no-go", "what a reading decides: go on; find out why; animals stay out",
          "no-go"),
    Entry("habitat file", "the file in which the habitat is planned; all here is computed from it"),
    Entry("handover", "the habitat is measured and given over before animals enter"),
    Entry("hardscape", "branches, tubes, stones: all that is solid inside and not panel or ground"),
    Entry("hide, retreat", "a covered place; one where an animal is left alone", "hides?|retreats?"),
    Entry("humidistat", "a control that switches by humidity"),
    Entry("humidity", "relative humidity: vapour in the air as a share of what it could hold, %"),
    Entry("IPX4, IP65", "how well a device keeps water out; last digit: 3 spray, 4 splashes, 5 jets",
          r"IPX?\d+"),
    Entry("kerf", "what the saw's cut takes away"),
    Entry("leaf litter", "dry leaves that cover the ground", "(leaf )?litter"),
    Entry("lining, background", "what covers a panel on the inside", "linings?|backgrounds?"),
    Entry("mix", "the ground that plants root in", "mix(es)?"),
    Entry("operative temperature", "what a resting body comes to at a place, lamps and all"),
    Entry("PPFD", "plant light on a surface at a moment, µmol/m²/s"),
    Entry("probe", "where a sensor sits", "probes?"),
    Entry("quarantine", "kept apart until it is known to be healthy"),
    Entry("residual-current device (RCD)", "cuts the mains when current leaks to earth; in the United "
          "States a ground-fault circuit interrupter (GFCI)",
          "residual[- ]current|ground[- ]fault|RCD|GFCI"),
    Entry("SELV", "safety extra-low voltage: too low to hurt, kept apart from the mains"),
    Entry("sill, front strip", "the fixed part of the front below the doors", "sill|front strip"),
    Entry("slack", "how late a task may be without making the whole late"),
    Entry("standard uncertainty", "a value lies within it about two times in three",
          "standard uncertaint(y|ies)"),
    Entry("thermostat", "a control that switches, or dims, by temperature",
          "(dimming )?thermostats?"),
    Entry("typical day", "a day of a season, computed until it repeats itself",
          "typical( winter| summer)?( and summer)? days?"),
    Entry("UV index (UVI)", "strength of ultraviolet that burns skin; a bright summer noon is 6 to 11",
          "UV index|UVI"),
    Entry("UVA, UVB", "ultraviolet of longer and of shorter waves (parted at 315 nm)", "UV[AB]"),
)  # fmt: skip
"""Terms of the trade and of this pack, by the alphabet, in plain words; the standards' own definitions
stand in the documentation."""


_UNREAD = frozenset({"kind", "key", "file", "state", "look", "alt"})
"""Parts of a block's data that nobody reads on the page."""


def texts_of(section: Section) -> Iterator[str]:
    """Every text of a section as it stands on the page; what is drawn in pictures is not read."""
    return (t.replace(BREAK, "") for t in _texts(section_data(section, Files())))


def _texts(data: object) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, list):
        for part in data:
            yield from _texts(part)
    elif isinstance(data, dict):
        for name, part in data.items():
            if name not in _UNREAD:
                yield from _texts(part)


def words_section(sections: Iterable[Section]) -> Section:
    """The words that other sections use."""
    text = "\n".join(t for s in sections for t in texts_of(s))
    rows = tuple((e.word, e.means) for e in WORDS if e.occurs(text))
    return Section("words", "Words used", (
        Words("What terms in this pack mean, for those who do not use them every day.", "lead"),
        Table("", ("word", "means"), rows, tight=True),
    ))  # fmt: skip
