"""What the handover is measured with, as lines of the shopping list."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from loamwright.engine.life.moving import READINGS
from loamwright.plan.handover import INSTRUMENTS, Check
from loamwright.plan.handover_limits import decisions
from loamwright.plan.keys import slug
from loamwright.plan.lines import Line

LOGGED = ("air_temperature", "humidity")
"""What a data logger writes down."""

LOGGER = (
    "data logger of temperature and humidity, a reading at least every 10 minutes, probe shaded, "
    "±0.5 K, ±3 points"
)
"""What reads a place over hours; common practice, the maker's sheet decides."""

ATTENDED = range(7, 22)
"""Full hours at which somebody can be there to read; judgement."""


def logged_places(checks: Iterable[Check]) -> tuple[str, ...]:
    """Places whose air or humidity is read by night or averaged over hours in any season: nobody
    stands there with a meter for it. A mean of several places asks for each of them."""
    out: dict[str, None] = {}
    for check in checks:
        if check.quantity not in LOGGED:
            continue
        held = [d for season in check.seasons for d in decisions(check, season)]
        if any(len(d.hours) > 1 or d.hours[0] not in ATTENDED for d in held):
            out.update(dict.fromkeys(check.mean_of or (check.site,)))
    return tuple(out)


def fewer_words(places: int) -> str:
    """What fewer loggers than ``places`` cost in days; empty where there is but one place."""
    if places < 2:
        return ""
    least = math.ceil(places / READINGS)
    days = math.ceil(places / least)
    told = f"{least} moved" if least > 1 else "one moved"
    return (
        f"fewer may be moved from place to place, a day and a night at each: {told} each day "
        f"{'takes' if least == 1 else 'take'} {days} days instead of one"
    )


def instrument_lines(checks: Sequence[Check]) -> list[Line]:
    """One instrument for each quantity of the handover sheet, and a data logger for each place that is
    read by night or over hours; they stay with the builder, so that no quote counts them."""
    places: dict[str, int] = {}
    for check in checks:
        places[check.quantity] = places.get(check.quantity, 0) + 1
    out = [
        Line(f"instruments/{slug(quantity)}", "instruments", INSTRUMENTS[quantity], 1.0, "piece",
             why=f"{count} {'reading' if count == 1 else 'readings'} of the handover sheet; "
                 "if you do not own one", owned=True)
        for quantity, count in places.items()
    ]  # fmt: skip
    logged = logged_places(checks)
    if logged:
        why = ["one for each place that is read by night or over hours; if you do not own them"]
        why += [fewer_words(len(logged))] if len(logged) > 1 else []
        out.append(Line("instruments/logger", "instruments", LOGGER, float(len(logged)), "piece",
                        why="; ".join([*why, "common practice"]), uses=logged, owned=True))  # fmt: skip
    return out
