"""Which characters the typeset pages can show, and where a line of them may be broken."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from pathlib import Path

from loamwright.report.plain import LONGEST, clean

NO_LETTER = "\ufffd"
"""What stands for a character that no letter of the fonts shows."""

WIDE = "\u00a0\u00a0\u00a0"
"""Two or more blanks side by side: room that is kept, and no place to break."""

BREAK = "\u200b"
"""A place where a line may end, itself unseen."""

LONG_PIECE = 16
"""Characters without a break after which one is allowed anywhere."""

_AFTER = re.compile(r"(?<=[/_.,:;=+@&|~])(?=\w)")
_HYPHEN = re.compile(r"(?<=-)(?=[^\W_])")
"""Where a hyphen lets a line end by itself."""


def font_folder() -> str:
    """Folder of the sans-serif letters, which come with the drawing library."""
    import matplotlib

    return str(Path(matplotlib.get_data_path()) / "fonts" / "ttf")


@lru_cache(maxsize=1)
def _known() -> frozenset[int]:
    """Code points that the sans-serif letters have."""
    from matplotlib.ft2font import FT2Font

    return frozenset(FT2Font(str(Path(font_folder()) / "DejaVuSans.ttf")).get_charmap())


def shown(text: str, longest: int = LONGEST) -> str:
    """One line of characters that can be set; one without a letter becomes `NO_LETTER`, so that
    it is seen to be missing.

    What only chooses the look of the character before it (variation selectors) is left out.
    """
    known = _known()
    kept = []
    for c in clean(unicodedata.normalize("NFC", text), longest):
        if 0xFE00 <= ord(c) <= 0xFE0F:
            continue
        kept.append(c if ord(c) in known else NO_LETTER)
    return "".join(kept)


def lines(text: str, longest: int = LONGEST) -> str:
    """`shown` for each line of a text, with breaks allowed in long pieces and wide blanks kept."""
    return "\n".join(
        WIDE.join(breakable(shown(part, longest)) for part in re.split(" {2,}", line))
        for line in str(text).split("\n")
    )


def breakable(line: str) -> str:
    """The same line with a break allowed after punctuation within words, and in what is longer than
    any word, so that nothing runs out of a column."""

    def cut(piece: str) -> str:
        if len(piece) <= LONG_PIECE or (piece.isalpha() and len(piece) <= 2 * LONG_PIECE):
            return piece  # a long word: the typesetter hyphenates it
        step = LONG_PIECE // 2
        return BREAK.join(piece[i : i + step] for i in range(0, len(piece), step))

    def word(found: re.Match[str]) -> str:
        text = found.group()
        if len(text) <= LONG_PIECE:
            return text
        return BREAK.join(
            "".join(cut(x) for x in _HYPHEN.split(part))
            for part in _AFTER.sub(BREAK, text).split(BREAK)
        )

    return re.sub(r"\S+", word, line)


def pieces(text: str) -> list[str]:
    """What stays together on a line: words, and their parts between breaks."""
    return [p for p in re.split(rf"[ \n{BREAK}]+|(?<=-)(?=[^\W_])", text) if p]


UNITS = (
    "cm", "mm", "m", "kg", "g", "L", "mL", "W", "V", "A", "K", "Hz", "kWh", "%", "°C", "°F", "in", "ft",
    "lb", "oz", "fl", "gal", "qt", "psi", "h", "min", "s", "d", "days", "points", "times", "mm²", "cm²",
    "m²", "kPa", "MPa", "dry", "sq", "cu",
)  # fmt: skip
"""What stands with the number before it on one line."""

_NUMBER = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(sorted(map(re.escape, UNITS), key=len, reverse=True))})(?![\w²]))"
)
_FRACTION = re.compile(r"(?<=\d) (?=\d+/\d)")


def together(text: str) -> str:
    """The same text with numbers and their units, and wholes and their fractions, kept on one line."""
    return _NUMBER.sub(KEPT, _FRACTION.sub(KEPT, text))


KEPT = "\u00a0"
"""A blank that no line is broken at."""


def width(text: str) -> float:
    """Rough width of the widest line of a text, in its own size [em]."""
    return max((sum(_wide(c) for c in line) for line in text.split("\n")), default=0.0)


def _wide(c: str) -> float:
    if c == BREAK:
        return 0.0
    if c in f"{KEPT} .,;:'|!ilj()[]-·":
        return 0.30
    if c.isupper() or c in "mwMW%@&–—≈✓✗→□":
        return 0.72
    if ord(c) > 0x2E7F:
        return 1.0
    return 0.5
