"""The date that a print bears."""

import os
from datetime import UTC, date, datetime

from workshop.project import Terms

LATEST = 253_402_300_799
"""The last second that a date can be made of."""


def today() -> date:
    """The day of printing: of SOURCE_DATE_EPOCH (seconds since 1970, UTC) where that is set, else of the clock."""
    said = os.environ.get("SOURCE_DATE_EPOCH", "")
    if said.isascii() and said.isdigit() and len(said) <= len(str(LATEST)) and int(said) <= LATEST:
        return datetime.fromtimestamp(int(said), UTC).date()
    return datetime.now().astimezone().date()


def spelled(day: date, terms: Terms) -> str:
    """A date with its month in letters, in the order of a country: "November 27, 2026", "27 November 2026"."""
    month = MONTHS[day.month - 1]
    return f"{day.day} {month} {day.year}" if terms == "uk" else f"{month} {day.day}, {day.year}"


MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
"""In English wherever the workshop runs, as all its texts are."""
