"""What time it was, said on the command line."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from tests.cli.conftest import Call
from tests.support.clock import SetClock

DEAD = datetime(2000, 1, 1, 0, 5, tzinfo=UTC)


def scanned(good: Call, clock: SetClock, tag: str) -> None:
    for _ in range(2):
        good("scan", "D1", "--piece", tag, "--record", "--confirm")
        clock.pass_time(minutes=15)


def test_a_wait_in_doubt_is_refused_until_the_time_is_said(
    call: Call, good: Call, clock: SetClock, tag: str
) -> None:
    clock.pass_time(minutes=10)
    right = clock.now
    clock.now = DEAD
    scanned(good, clock, tag)
    clock.now = right + timedelta(hours=2)
    refused = call("scan", "D1", "--piece", tag, "--record", "--confirm")
    assert refused.code == 1
    assert "STOP" in refused.out and "01 Jan 2000" in refused.out and "what-time" in refused.out
    asked = call("what-time")
    assert asked.code == 1 and asked.out.count("When was it") == 1
    (row,) = call("what-time", "--json").json
    assert row["noted"].startswith("2000-01-01") and len(row["records"]) == 2
    assert "Say what time it was" in good("day").out
    number = asked.out.split()[0]
    assert call("what-time", number).code == 2
    assert call("what-time", "1", "now").code == 2
    assert call("what-time", number, "tomorrow").code == 2
    assert "it was" in good("what-time", number, "1 h ago").out
    assert good("what-time").out == "No time is in doubt.\n"
    waits = call("scan", "D1", "--piece", tag)
    assert waits.out.startswith("WAIT") and "2000" not in waits.out


def test_the_history_tells_that_the_clock_was_set(good: Call, clock: SetClock, tag: str) -> None:
    right = clock.now
    clock.now = DEAD
    scanned(good, clock, tag)
    clock.now = right + timedelta(hours=2)
    good("scan", "D3", "--piece", tag, "--record", "--confirm")
    told = good("history").out
    assert "Before this record the clock had gone back by 31 years." in told
    assert "Before this record the clock had gone on by 31 years." in told
    rows = good("history", "--json").json
    assert [bool(r["clock"]) for r in rows] == [True, False, True, False]


def test_a_wait_into_another_year_says_the_year(good: Call, call: Call, clock: SetClock) -> None:
    clock.now = datetime(2031, 12, 31, 18, 0, tzinfo=UTC)
    tag = good("lay-out", "Lark", "--rows", "2", "--age", "newer", "--paint", "D1").last
    scanned(good, clock, tag)
    assert "until Thu 01 Jan 2032" in call("scan", "D1", "--piece", tag).out
