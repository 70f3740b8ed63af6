"""Screws in words."""

from __future__ import annotations

from loamwright.plan.screws import Screw
from loamwright.report.money_words import in_system


def screw_words(screw: Screw, system: str) -> str:
    """A screw's size: ``4 x 40 mm``; by number and inches in the United States."""
    return in_system(f"screws, {screw.size}", system).removeprefix("screws, ")
