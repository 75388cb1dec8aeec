"""Plan and promise from the command line: words, keys, files, exit codes."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Call
from tests.support.clock import SetClock
from tests.support.paper import text_of

QUICK = ("--seconds", "0.3")


def test_a_plan_in_words_and_as_json(good: Call, tag: str) -> None:
    said = good("plan", *QUICK).out
    assert said.splitlines()[0].startswith("Everything is done ")
    assert "no plan can be earlier" in said
    row = good("plan", *QUICK, "--json").json
    assert set(row) == {
        "at", "sentence", "changed", "cost", "bound", "pieces", "stints", "held", "said",
        "tonight",
    }  # fmt: skip
    assert row["changed"] == ""
    assert set(row["pieces"][0]) == {
        "tag", "title", "done", "no_sooner", "eight_of_ten", "promised",
    }  # fmt: skip
    assert row["pieces"][0]["no_sooner"] <= row["pieces"][0]["done"]
    assert set(row["stints"][0]) == {"tag", "name", "start", "end", "by", "load"}


def test_how_sure_a_day_is(good: Call, tag: str) -> None:
    good("promise", tag, "2031-05-30", *QUICK)
    said = good("plan", *QUICK, "--chance").out
    assert "8 of 10 by " in said
    assert "its promise is kept 10 times of 10" in said
    row = good("plan", *QUICK, "--chance", "--json").json["pieces"][0]
    assert row["no_sooner"] <= row["eight_of_ten"]


def test_only_the_days_asked_for_are_listed(good: Call, tag: str) -> None:
    days = "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"
    said = good("plan", *QUICK, "--days", "1").out.splitlines()
    assert [line.split()[0] for line in said if line.startswith(days)] == ["Tuesday", "Wednesday"]
    said = good("plan", *QUICK).out.splitlines()
    assert len([line for line in said if line.startswith(days)]) == 5


def test_a_plan_that_changed_says_what_changed_it(good: Call, tag: str, clock: SetClock) -> None:
    good("plan", *QUICK)
    clock.pass_time(days=3)
    changed, now = good("plan", *QUICK).out.splitlines()[:2]
    assert changed.startswith("Heron is done Wed 12 Mar ") and " and not Sun 09 Mar " in changed
    assert now.startswith("Everything is done Wednesday 12 Mar ")
    assert good("plan", *QUICK, "--json").json["changed"] == "", "it is told once"


def test_without_the_solver_the_plan_is_ours_and_the_json_is_json(
    good: Call, call: Call, tag: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    ours = good("plan", *QUICK, "--json").json["sentence"]
    monkeypatch.setitem(sys.modules, "ortools", None)
    ran = call("plan", *QUICK, "--solver", "0.2", "--json")
    assert (ran.code, ran.json["sentence"]) == (0, ours)
    assert "CP-SAT is not installed" in ran.err


def test_what_if_shows_the_days_side_by_side(good: Call, call: Call, tag: str) -> None:
    said = good("plan", *QUICK, "--what-if", "off Sat", "--what-if", "like Heron").out
    assert said.startswith("With Sat off, with one more like Heron:")
    assert "→" in said
    row = good("plan", *QUICK, "--what-if", "off tonight", "--json").json
    assert set(row) == {"what_if", "sentence", "pieces"}
    assert set(row["pieces"][0]) == {"tag", "title", "done", "would_be"}
    bad = call("plan", "--what-if", "sing")
    assert bad.code == 2
    assert "cannot be asked" in bad.err


def test_what_if_tells_of_those_that_are_named(good: Call, tag: str) -> None:
    other = good("lay-out", "Larch", "--rows", "1", "--age", "newer", "--paint", "D1").out.split()[
        -1
    ]
    asked = ("--what-if", "off tonight", "--json")
    assert {p["tag"] for p in good("plan", *QUICK, *asked).json["pieces"]} == {tag, other}
    assert [p["tag"] for p in good("plan", other, *QUICK, *asked).json["pieces"]] == [other]


def test_a_promise_that_cannot_be_says_once_why_and_whether_it_was_noted(
    call: Call, tag: str
) -> None:
    noted = call("promise", tag, "tomorrow", *QUICK)
    assert noted.code == 1
    first, second, *_ = noted.out.splitlines()
    assert first.startswith("Heron promised for ") and second.startswith("Heron cannot be done by ")
    assert noted.out.count("cannot be done by") == 1
    asked = call("promise", tag, "tomorrow", "--ask", *QUICK)
    assert "promised for" not in asked.out and asked.out.count("cannot be done by") == 1


def test_a_promise_is_noted_and_answered(good: Call, call: Call, tag: str) -> None:
    kept = good("promise", tag, "2031-05-30", *QUICK)
    assert "kept, with" in kept.out
    assert good("plan", *QUICK, "--json").json["pieces"][0]["promised"].startswith("2031-05-30")
    never = call("promise", tag, "tomorrow", "--ask", *QUICK, "--json")
    assert (never.code, never.json["kept"], never.json["noted"]) == (1, False, False)
    assert never.json["chain"]
    assert set(never.json["chain"][0]) == {"name", "start", "end", "because"}
    assert "cannot be done by" in never.json["because"]
    in_words = call("promise", tag, "tomorrow", "--ask", *QUICK)
    assert (in_words.code, in_words.out.splitlines()[-1]) == (1, never.json["because"])
    assert in_words.out.count("cannot be done by") == in_words.out.count("o plan is earlier") == 1
    assert good("plan", *QUICK, "--json").json["pieces"][0]["promised"].startswith("2031-05-30")
    good("promise", tag, "--drop")
    assert good("plan", *QUICK, "--json").json["pieces"][0]["promised"] is None


def test_a_day_that_is_none_and_one_that_is_over(call: Call, good: Call, tag: str) -> None:
    for day in ("someday", "2031-13-01", "2030-01-01", ""):
        told = call("promise", tag, day)
        assert (told.code, len(told.err.splitlines())) == (2, 1)


def test_files_are_written(good: Call, tag: str, tmp_path: Path) -> None:
    calendar, table, sheet = (tmp_path / f"plan.{end}" for end in ("ics", "csv", "pdf"))
    good("plan", *QUICK, "--calendar", calendar, "--csv", table, "--sheet", sheet)
    assert "Everything is done" in text_of(sheet.read_bytes())
    assert calendar.read_bytes().startswith(b"BEGIN:VCALENDAR")
    assert table.read_text(encoding="utf-8").splitlines()[0] == (
        "start,end,tag,piece,work,minutes,hands,load"
    )


def test_the_shops_own_words_are_read_or_refused(call: Call, good: Call, tag: str) -> None:
    good("setting", "helpers", "Wren: Sat 9:00 to 13:00 only sand, wash; Rook: Mon to Fri 17-19")
    good("setting", "working days", "Mon to Sat")
    good("setting", "rooms", "sand: shed, spray: booth")
    good("setting", "rack", "4.5 m2")
    good("setting", "gun setup", "12 min")
    for name, text in (
        ("helpers", "Wren on Saturday"),
        ("helpers", "Wren: Sat 9:00 to 13:00 only sing"),
        ("working days", "Mon to Someday"),
        ("rooms", "cook: kitchen"),
        ("rack", "none"),
        ("gun cleaning", "soon"),
    ):
        told = call("setting", name, text)
        assert (told.code, len(told.err.splitlines())) == (2, 1), (name, text, told)
    assert good("plan", *QUICK).code == 0
