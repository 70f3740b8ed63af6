"""Who builds, when they begin and how they work."""

from __future__ import annotations

from dataclasses import dataclass

WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
"""Days of the week; a day's number is its place here."""


@dataclass(frozen=True, slots=True)
class Workshop:
    """``start`` the day the build begins (``2027-03-01``; empty: not said) and its ``weekday`` (number
    in `WEEK`, -1: not said); ``people`` who work on it, ``hours`` of work a day [s], days of the week
    that are ``closed`` (numbers in `WEEK`), and how long ordered goods take (``delivery`` [d]). The
    builder's own times by task: ``work`` of each of its hands [s] and ``waits`` after it [d]."""

    start: str = ""
    weekday: int = -1
    people: int = 1
    hours: float = 6.0 * 3600.0
    closed: tuple[int, ...] = ()
    delivery: int = 7
    work: tuple[tuple[str, float], ...] = ()
    waits: tuple[tuple[str, int], ...] = ()
