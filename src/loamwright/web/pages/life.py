"""Animals and plants: what animals can choose, where they climb, their room and descent; the plants;
what lives in the ground; and the findings of all of it."""

from __future__ import annotations

from loamwright.web.base import Page
from loamwright.web.shell import View


def build(view: View) -> None:
    """Lay the page out."""
    # Loaded when first looked at: it needs the engines' own words and values, and no page may make
    # a person wait for what another shows.
    from loamwright.web.life_page import LifePage

    LifePage(view)


PAGE = Page("life", "Animals and plants", 4, build)
