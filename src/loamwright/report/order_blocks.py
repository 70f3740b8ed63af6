"""The order of work as tables: days or dates, what waits for what, when animals may enter."""

from __future__ import annotations

from datetime import date, timedelta

from loamwright.plan.order import OrderOfWork, Step
from loamwright.report.blocks import Table
from loamwright.report.money_words import in_system, minutes
from loamwright.report.plain import clean, listing

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def start_date(text: str) -> date | None:
    """The day a build begins, from the file's text; None where it names none."""
    return date.fromisoformat(text) if text else None


def day_words(day: int, start: date | None) -> str:
    """A day of the build: its date, or its number from 1 on."""
    if start is None:
        return f"day {day + 1}"
    when = start + timedelta(days=day)
    return f"{WEEKDAYS[when.weekday()]} {when.isoformat()}"


def span_words(step: Step, start: date | None) -> str:
    """The days a step is worked on, or waited through."""
    first = day_words(step.first, start)
    last = step.last if step.task.minutes else max(step.first, step.done)
    return first if last == step.first else f"{first} –\n{day_words(last, start)}"


def slack_words(order: OrderOfWork, step: Step) -> str:
    """How late a step may be without making the whole late."""
    if step.task.late:
        return "in time"
    if step.times.critical:
        return "none"
    days = step.slack / order.week.minutes
    return f"{days:.0f} d" if days >= 0.95 else "less than a day"


def task_words(step: Step, system: str = "metric", longest: int = 240) -> str:
    """A task's name, its sizes in the system people are shown."""
    return clean(in_system(step.task.name, system), longest)


def order_tables(
    order: OrderOfWork, start: date | None = None, system: str = "metric"
) -> list[Table]:
    """The tasks day by day, the day animals may enter and why not earlier, and where the times are
    from.

    Parameters
    ----------
    order : OrderOfWork
        The order of work.
    start : date, optional
        The day it begins; days are numbers from 1 on when left out.
    system : str
        Units people are shown.
    """
    return [
        tasks_table(order, start, system), *enter_tables(order, start, system),
        *meanwhile_tables(order, system), sources_table(order, system),
    ]  # fmt: skip


def tasks_table(order: OrderOfWork, start: date | None = None, system: str = "metric") -> Table:
    """Every task in its place."""
    rows = []
    for number, step in enumerate(order.steps, 1):
        t = step.task
        work = minutes(t.minutes) if t.minutes else ""
        if t.crew > 1 and t.minutes:
            work = f"{t.crew} × {work}"
        wait = f"{t.wait} d" if t.wait else ""
        rows.append((f"{number}", span_words(step, start), task_words(step, system), work, wait,
                     slack_words(order, step)))  # fmt: skip
    people = "one person works" if order.people == 1 else f"{order.people} people work"
    note = (
        f"{people} on it {minutes(order.week.minutes)} a day; {minutes(order.work)} of work in all. "
        "Then wait: days that pass before the next may begin. Slack: how late a task may be, with "
        "enough hands; in time: put off until what lives is wanted, no later."
    )
    return Table(
        "Order of work", ("", "when" if start else "day", "task", "work", "then\nwait", "slack"),
        tuple(rows), right=frozenset({0, 3, 4, 5}), note=note[0].upper() + note[1:] + _short(order),
    )  # fmt: skip


def _short(order: OrderOfWork) -> str:
    if not order.short:
        return ""
    names = [short_name(order.step(k)) for k in order.short]
    return f" Ask for a second pair of hands: {listing(names)}."


def chain_words(order: OrderOfWork, start: date | None = None, system: str = "metric") -> list[str]:
    """Why animals may not enter earlier, a sentence for each task of the chain."""
    out = []
    for key in order.chain:
        step = order.step(key)
        t = step.task
        if key == "animals":
            out.append(f"{day_words(step.first, start)}: the animals may enter.")
            continue
        text = f"{day_words(step.first, start)}: {task_words(step, system)}"
        if t.wait:
            days = "a day" if t.wait == 1 else f"{t.wait} days"
            text += f"; {days} for {clean(t.waits_for) or 'it'}"
        out.append(text + ".")
    return out


def enter_tables(
    order: OrderOfWork, start: date | None = None, system: str = "metric"
) -> list[Table]:
    """The day animals may enter, what keeps them out until then, and when the rest is ready."""
    if order.enter is None:
        return []
    rows = [(f"{n}", text) for n, text in enumerate(chain_words(order, start, system), 1)]
    last = order.step("animals")
    ready = [
        (task_words(order.step(k), system, 90), day_words(order.step(k).done, start))
        for k in last.task.before
    ]
    return [
        Table(
            f"Animals may enter: {day_words(order.enter, start)}", ("", "why not earlier"),
            tuple(rows), right=frozenset({0}),
            note="Only if every reading of the handover sheet says go, and the veterinarian agrees. "
            "Where more than a week lies between handover and animals, read everything again.",
        ),
        Table("What the animals wait for", ("what", "is done"), tuple(ready)),
    ]  # fmt: skip


LONGEST = 62
"""Characters of a task's short name."""

MEANWHILE = 4
"""Tasks named beside a wait; the chart shows them all."""


def short_name(step: Step, system: str = "metric") -> str:
    """A task's name for a narrow place: up to the first comma or bracket where it is long."""
    text = task_words(step, system, 200)
    if len(text) > LONGEST:
        cut = min((i for i in (text.find(x) for x in (" (", ",", ":", ";")) if i > 12), default=0)
        text = text[:cut] if cut else text
    return clean(text, LONGEST)


def meanwhile_tables(order: OrderOfWork, system: str = "metric") -> list[Table]:
    """What is done while something cures, settles or is kept apart; none where nothing is."""
    rows = []
    for key, others in order.meanwhile:
        names = [short_name(order.step(k), system) for k in others[:MEANWHILE]]
        more = len(others) - MEANWHILE
        rows.append((
            short_name(order.step(key), system),
            "; ".join([*names, f"and {more} more"] if more > 0 else names),
        ))  # fmt: skip
    if not rows:
        return []
    return [Table("What goes on meanwhile", ("while this waits", "this is done"), tuple(rows))]


def sources_table(order: OrderOfWork, system: str = "metric") -> Table:
    """Where the waits come from; hours of work are common practice."""
    rows = [
        (task_words(s, system, 70), f"{s.task.wait} d", clean(s.task.source, 160))
        for s in order.steps
        if s.task.wait
    ]
    return Table(
        "Where the waits come from", ("task", "wait", "from"), tuple(rows), right=frozenset({1}),
        note="Makers' sheets decide on every cure, a veterinarian on quarantine. Hours of work: "
        "common practice, no source.",
    )  # fmt: skip
