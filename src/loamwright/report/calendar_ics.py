"""The order of work as a calendar file (iCalendar, RFC 5545)."""

from __future__ import annotations

import hashlib
from datetime import date, datetime, timedelta

from loamwright.plan.order import OrderOfWork, Step
from loamwright.report.money_words import minutes
from loamwright.report.order_blocks import chain_words, task_words
from loamwright.report.plain import capital, clean


def order_ics(
    order: OrderOfWork, habitat: str, start: date, stamp: datetime, system: str = "metric"
) -> bytes:
    """Every task as an event of whole days; the same input gives the same bytes.

    Parameters
    ----------
    order : OrderOfWork
        The order of work.
    habitat : str
        The habitat's name.
    start : date
        The day the build begins.
    stamp : datetime
        When the file is taken to be made, in UTC (``DTSTAMP``).
    system : str
        Units people are shown.

    Raises
    ------
    ValueError
        If ``stamp`` has no time zone.
    """
    from icalendar import Calendar, Event

    if stamp.tzinfo is None:
        raise ValueError("the stamp of a calendar needs a time zone")
    made = Calendar()
    made.add("prodid", "-//loamwright//order of work//EN")
    made.add("version", "2.0")
    made.add("calscale", "GREGORIAN")
    made.add("x-wr-calname", clean(habitat, 80))
    for step in order.steps:
        event = Event()
        event.add("uid", _uid(habitat, step.task.key))
        event.add("dtstamp", stamp)
        event.add("dtstart", start + timedelta(days=step.first))
        event.add("dtend", start + timedelta(days=_last(step) + 1))
        event.add("summary", f"{capital(task_words(step, system))} ({clean(habitat, 60)})")
        event.add("description", _told(step, order, start, system))
        event.add("transp", "OPAQUE" if step.task.minutes else "TRANSPARENT")
        event.add("categories", ["critical" if step.times.critical else "build"])
        made.add_component(event)
    return bytes(made.to_ical())


def _last(step: Step) -> int:
    """The last day of an event: of work the last worked, of a wait the last waited."""
    return step.last if step.task.minutes else max(step.first, step.done)


def _uid(habitat: str, task: str) -> str:
    """A name for an event that stays when the calendar is written again, so that it moves and is not
    doubled."""
    digest = hashlib.sha256(f"{habitat}\x1f{task}".encode()).hexdigest()[:24]
    return f"{digest}@loamwright"


def _told(step: Step, order: OrderOfWork, start: date, system: str) -> str:
    t = step.task
    lines = []
    if t.minutes:
        people = f" by {t.crew} people" if t.crew > 1 else ""
        lines.append(f"Work: {minutes(t.minutes)}{people}.")
    if t.wait:
        days = "a day" if t.wait == 1 else f"{t.wait} days"
        lines.append(f"Then wait {days} for {clean(t.waits_for) or 'it'}.")
    if t.key == "animals":
        lines += ["Only if every reading of the handover sheet says go.", "Why not earlier:"]
        lines += chain_words(order, start, system)
    lines.append(f"Times: {clean(t.source)}.")
    return "\n".join(lines)
