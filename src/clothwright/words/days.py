"""Days as they are said."""

from datetime import date

MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)


def show_day(day: str) -> str:
    """Return a day (YYYY-MM-DD) in words; what is no day stays as it is.

    >>> show_day("2026-11-03"), show_day("soon")
    ('3 November 2026', 'soon')
    """
    try:
        on = date.fromisoformat(day)
    except ValueError:
        return day
    return f"{on.day} {MONTHS[on.month - 1]} {on.year}"
