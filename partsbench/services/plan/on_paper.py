"""The week of a plan for one sheet of paper."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from partsbench.core import shown_times
from partsbench.core.shown_times import long_weekday_and_day
from partsbench.services.plan.plans import PlanShown
from partsbench.services.plan.week import LaneKind, ShopWeek, WeekLane, WeekSpan, week_of

if TYPE_CHECKING:
    from partsbench.paper.week_sheet import WeekEntry, WeekRow


def week_on_paper(shown: PlanShown, lost: tuple[str, ...] = (), paper: str = "a4") -> bytes:
    """The PDF of the coming week; `lost`: promises that cannot be kept, which stand first."""
    from partsbench.paper.week_sheet import WeekSheet, week_sheet

    week = week_of(shown)
    days = tuple(
        (long_weekday_and_day(day),
         tuple(mark.words for mark in week.marks if mark.day == day))
        for day in week.days
    )  # fmt: skip
    title = f"The week from {shown_times.long_moment(shown.at, shown.at)}"
    rows = tuple(_row(week, lane) for lane in week.lanes)
    said = (week.next_act, *lost, *shown.sentences)
    return week_sheet(
        WeekSheet(title, shown.sentence, days, rows, tuple(filter(None, said))), paper
    )


def _row(week: ShopWeek, lane: WeekLane) -> WeekRow:
    from partsbench.paper.week_sheet import WeekRow

    waits = lane.kind is LaneKind.WAIT
    cells = []
    for day in week.days:
        found = (_entry(week, span, day, waits=waits) for span in lane.spans)
        cells.append(tuple(entry for entry in found if entry))
    return WeekRow(lane.name, tuple(cells), waits)


def _entry(week: ShopWeek, span: WeekSpan, day: date, *, waits: bool) -> WeekEntry | None:
    """What of a stretch lies within the hours of work of a day; a wait tells only its end."""
    from partsbench.paper.week_sheet import WeekEntry

    first, last = week.hours
    midnight = datetime.combine(day, time()).astimezone()
    opens = datetime.combine(day, time(first)).astimezone()
    closes = midnight + timedelta(hours=last)
    starts, ends = max(span.starts, opens), min(span.ends, closes)
    over = span.ends.astimezone()
    if starts >= ends:
        return None
    whole = closes - opens
    if waits:
        words = f"until {shown_times.hour(span.ends)}" if over.date() == day else ""
    else:
        when = f"{shown_times.hour(span.starts)} to {shown_times.hour(span.ends)}"
        words = f"{when} {', '.join(span.works)}"
    return WeekEntry((starts - opens) / whole, (ends - opens) / whole, words)
