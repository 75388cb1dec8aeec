"""Times as they are shown: with the year when it is another one, and with which of two hours.

All take aware times and show them in the machine's zone. `now` is the present, also aware.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, tzinfo

_WEEK = timedelta(days=7)


def hour(at: datetime, zone: tzinfo | None = None) -> str:
    """`21:05`; `02:30 (second)` where the clocks were put back and that hour came twice."""
    local = at.astimezone(zone)
    shown, which = f"{local:%H:%M}", _which(at, local, zone)
    return f"{shown} ({which})" if which else shown


def day(at: datetime, now: datetime, *, year: bool = False) -> str:
    """`17 Mar`; `17 Mar 2031` in another year than `now`."""
    local = at.astimezone()
    other = year or local.year != now.astimezone().year
    return f"{local:%d %b %Y}" if other else f"{local:%d %b}"


def moment(at: datetime, now: datetime, *, year: bool = False) -> str:
    """`Tue 17 Mar 09:05`; `Tue 17 Mar 2031 09:05` in another year than `now`."""
    return f"{at.astimezone():%a} {day(at, now, year=year)} {hour(at)}"


def long_moment(at: datetime, now: datetime) -> str:
    """The same with the whole name of the day: `Tuesday 17 Mar 09:05`."""
    return f"{long_day(at, now)} {hour(at)}"


def long_day(at: datetime, now: datetime) -> str:
    """`Tuesday 17 Mar`."""
    return f"{at.astimezone():%A} {day(at, now)}"


def full_date(on: date) -> str:
    """`17 March 2031`."""
    return f"{on:%d %B %Y}"


def day_and_year(on: date) -> str:
    """`17 Mar 2031`."""
    return f"{on:%d %b %Y}"


def day_and_hour(at: datetime) -> str:
    """`17 Mar 2031, 09:05`: with its year, for a table."""
    return f"{day_and_year(at.astimezone())}, {hour(at)}"


def weekday_and_date(on: date) -> str:
    """`Friday 4 December`."""
    return f"{on:%A} {on.day} {on:%B}"


def long_date_and_hour(at: datetime) -> str:
    """`Friday 04 December 2026, 14:20`."""
    return f"{at.astimezone():%A} {full_date(at.astimezone())}, {hour(at)}"


def long_weekday_and_day(on: date) -> str:
    """`Friday 04`."""
    return f"{on:%A %d}"


def weekday_and_day(on: date) -> str:
    """`Fri 04`."""
    return f"{on:%a %d}"


def month(on: date) -> str:
    """`March 2031`."""
    return f"{on:%B %Y}"


def short_month(on: date) -> str:
    """`Mar 2031`."""
    return f"{on:%b %Y}"


def hour_and_weekday(at: datetime) -> str:
    """`Fri 14:20`."""
    return f"{at.astimezone():%a} {hour(at)}"


def weekday(at: datetime, now: datetime) -> str:
    """`Tue 09:05` in the days around `now`; with its day when it is further off."""
    local, today = at.astimezone(), now.astimezone().date()
    near = abs(local.date() - today) < _WEEK
    return f"{local:%a} {hour(at)}" if near else moment(at, now)


def time_of_day(at: datetime, now: datetime) -> str:
    """`09:05` today, `Tue 09:05` in the days around it, `Tue 17 Mar 09:05` further off."""
    today = at.astimezone().date() == now.astimezone().date()
    return hour(at) if today else weekday(at, now)


def came_twice(naive: datetime, zone: tzinfo | None = None) -> bool:
    """Whether a clock on the wall showed that time twice, because it was put back."""
    first, second = both(naive, zone)
    return first < second and not never_came(naive, zone)


def never_came(naive: datetime, zone: tzinfo | None = None) -> bool:
    """Whether no clock showed that time, because it was put forward over it."""
    return both(naive, zone)[0].astimezone(zone).replace(tzinfo=None) != naive.replace(fold=0)


def both(naive: datetime, zone: tzinfo | None) -> tuple[datetime, datetime]:
    """The moments that a wall's clock time may mean; twice the same one on nearly every day."""
    one, two = naive.replace(fold=0, tzinfo=zone), naive.replace(fold=1, tzinfo=zone)
    return one.astimezone(UTC), two.astimezone(UTC)


def _which(at: datetime, local: datetime, zone: tzinfo | None) -> str:
    naive = local.replace(tzinfo=None, fold=0)
    first, second = both(naive, zone)
    if first >= second:
        return ""
    return "first" if at == first else "second"
