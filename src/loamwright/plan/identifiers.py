"""Short names for places of measurement that a person can type and a logbook can check.

A name is ten characters: nine made from a SHA-256 digest of the habitat's name, the site's name and
the quantity, and one check character after ISO/IEC 7064, MOD 37,36. None of them is I, L, O or U, which
hands confuse with 1, 0 and V. The same habitat, site and quantity have the same name for ever, whatever
else in the file changes.
"""

from __future__ import annotations

import hashlib
import unicodedata

LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""The thirty-two characters of a name."""

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
"""The thirty-six characters of ISO/IEC 7064, MOD 37,36."""

LENGTH = 9
"""Characters before the check character: 45 bits, so two of a thousand names meet by chance once in
seventy million."""

PREFIX = "LW1:"
"""What stands before a name in a code that is scanned: whose it is, and the version of this scheme."""

MOST_TURNS = 64
"""Digests tried until the check character is one of `LETTERS`: 32 of 36 are."""

_ALIKE = str.maketrans("ILOU", "110V")


def check_character(text: str) -> str:
    """The check character of a text of digits and capital letters (ISO/IEC 7064, MOD 37,36).

    It finds every single wrong character and nearly every two that have changed places.
    """
    check = 36
    for letter in text:
        check = (check + ALPHABET.index(letter)) % 36 or 36
        check = check * 2 % 37
    return ALPHABET[(37 - check) % 36]


def identifier(habitat: str, site: str, quantity: str) -> str:
    """The name of one measurement, such as ``7Q2K-M4ZT-XC``: a digest and its check character."""
    parts = [" ".join(unicodedata.normalize("NFC", x).split()) for x in (habitat, site, quantity)]
    for turn in range(MOST_TURNS):
        text = "\x1f".join((f"loamwright place {turn}", *parts))
        number = int.from_bytes(hashlib.sha256(text.encode()).digest()[:6], "big") >> 3
        body = "".join(LETTERS[number >> shift & 31] for shift in range(5 * (LENGTH - 1), -1, -5))
        check = check_character(body)
        if check in LETTERS:
            break
    return grouped(body + check)


def grouped(name: str) -> str:
    """A name with a hyphen after each four characters, as it is printed."""
    return "-".join(name[i : i + 4] for i in range(0, len(name), 4))


def read_identifier(text: str) -> str | None:
    """A name as typed or scanned, in the form in which it is printed; None where it is none.

    Case, spaces and hyphens do not matter, nor does `PREFIX`; a letter that looks like one of the
    thirty-two counts as that one.
    """
    bare = "".join(text.upper().removeprefix(PREFIX).split()).replace("-", "")
    if len(bare) != LENGTH + 1 or any(c not in ALPHABET for c in bare):
        return None
    name = bare.translate(_ALIKE)
    return grouped(name) if check_character(name[:LENGTH]) == name[-1] else None


def scanned(name: str) -> str:
    """What a code holds that is scanned at the place: `PREFIX` and the name without hyphens."""
    return PREFIX + name.replace("-", "")
