"""When it may be done: the knitter's own days, never a target.

A day counts by the stitches knitted on it. What is left takes as many days of knitting as the usual day says; how many
evenings a week there are is the knitter's own too.
"""

from collections.abc import Mapping
from datetime import date, timedelta
from math import ceil
from statistics import median, quantiles

from workshop.records import record

FEWEST_DAYS = 3
"""Days of knitting from which on a pace is told."""


@record
class Pace:
    """What is left, in the knitter's own days."""

    days: tuple[int, int, int]
    """Days of knitting still to come: fewest, likely and most, by the quartiles of her days."""
    calendar: tuple[date, date, date]
    """When that may be, with as many days off between as until now."""


def pace(stitches_by_day: Mapping[date, int], to_come: int, today: date) -> Pace | None:
    """From the stitches knitted on each day so far; None until there are three days."""
    days = {day: stitches for day, stitches in stitches_by_day.items() if stitches > 0}
    if len(days) < FEWEST_DAYS:
        return None
    usual = median(days.values())
    slow, _, quick = quantiles(days.values(), n=4, method="inclusive")
    left = (ceil(to_come / quick), ceil(to_come / usual), ceil(to_come / slow))
    passed = (max(days) - min(days)).days + 1
    every = passed / len(days)
    dates = (_after(today, every, left[0]), _after(today, every, left[1]), _after(today, every, left[2]))
    return Pace(left, dates)


def _after(today: date, every: float, days: int) -> date:
    """The day of the last of so many days of knitting, with the usual days off between."""
    return today + timedelta(days=min(ceil(every * days), 36500, (date.max - today).days))
