"""Moments as they are shown to a person, in the shop's own time of day."""

from __future__ import annotations

from datetime import datetime, timedelta

A_WEEK = timedelta(days=7)


def clock_time(at: datetime) -> str:
    """`21:05`"""
    return f"{at.astimezone():%H:%M}"


def day_time(at: datetime) -> str:
    """`Tue 21:05`"""
    return f"{at.astimezone():%a %H:%M}"


def date_time(at: datetime) -> str:
    """`Tue 17 Mar 21:05`"""
    return f"{at.astimezone():%a %d %b %H:%M}"


def near_time(at: datetime, now: datetime) -> str:
    """No longer than it has to be: `21:05` today, `Tue 21:05` within a week, else with its date."""
    away = at.astimezone().date() - now.astimezone().date()
    if not away:
        return clock_time(at)
    return day_time(at) if abs(away) < A_WEEK else date_time(at)
