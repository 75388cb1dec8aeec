from __future__ import annotations

from datetime import datetime

import pytest

from tests.cli.conftest import Call, parts_of
from tests.support.clock import SetClock


def code_of(good: Call, tag: str, number: str) -> str:
    return parts_of(good, tag)[number]["code"]


def test_a_first_scan_records_nothing(good: Call, tag: str) -> None:
    before = good("history", "--json").out
    shown = good("scan", code_of(good, tag, "D1"), "--json").json
    assert (shown["answer"], shown["part"], shown["tag"]) == ("GO", "D1", tag)
    assert (shown["face"], shown["step"], shown["until"]) == ("front", "wash", None)
    assert shown["recorded"] is False
    assert "row 1, left" in shown["sentence"]
    assert good("history", "--json").out == before


def test_recording_walks_the_path_to_its_end(
    good: Call, call: Call, tag: str, clock: SetClock
) -> None:
    code = code_of(good, tag, "D2")
    steps = []
    while (shown := good("scan", code, "--json").json)["step"]:
        steps.append(shown["step"])
        if shown["until"] and shown["answer"] == "WAIT":
            clock.now = datetime.fromisoformat(shown["until"])
        told = good("scan", code, "--record", "--confirm", "--json").json
        assert told["recorded"] is True
        assert told["step"] != shown["step"]
    paths = {p["key"]: p for p in good("paths", "--json").json}
    assert steps == [s["key"] for s in paths["stain"]["steps"] if not s["optional"]]
    assert parts_of(good, tag)["D2"]["status"] == "finished"
    ran = call("scan", code, "--record", "--confirm")
    assert ran.code == 1
    assert "Every step is done" in ran.out


def test_one_face_goes_alone(good: Call, call: Call, tag: str) -> None:
    told = good(
        "scan", "D1", "--piece", tag, "--face", "top edge", "--record", "--confirm", "--json"
    ).json
    assert (told["face"], told["recorded"]) == ("top edge", True)
    faces = {f["name"]: f["step"] for f in parts_of(good, tag)["D1"]["faces"]}
    assert faces["front"] == "wash"
    assert faces["top edge"] == told["step"] != "wash"
    assert call("scan", "D1", "--piece", tag, "--face", "lid").code == 2


def test_a_face_that_is_done_has_no_next_step_of_another(
    good: Call, call: Call, tag: str, clock: SetClock
) -> None:
    words = ("scan", "D1", "--piece", tag, "--face", "top edge")
    for _ in range(60):
        seen = good(*words, "--json").json
        if seen["step"] is None:
            break
        if seen["answer"] == "WAIT":
            clock.now = datetime.fromisoformat(seen["until"])
        last = call(*words, "--record", "--confirm", "--insist", "a test piece", "--json").json
    assert parts_of(good, tag)["D1"]["status"] == "Wash next"  # the other faces have not begun
    for told in (seen, last):
        assert (told["step"], told["step_name"], told["face"]) == (None, "", "top edge")
        assert (told["faces"], told["note"], told["cautions"]) == (["top edge"], "", [])
        assert "Every step is done." in told["sentence"]
    refused = call(*words, "--record", "--confirm", "--json")
    assert (refused.code, refused.json["face"], refused.json["step"]) == (1, "top edge", None)


def test_a_stated_time_counts(good: Call, tag: str, clock: SetClock) -> None:
    clock.pass_time(hours=6)
    good("scan", "D1", "--piece", tag, "--record", "--confirm", "--at", "20 min ago")
    seen = good("find", "D1", "--json").json[0]["seen"]
    assert (clock.now - datetime.fromisoformat(seen)).total_seconds() == 20 * 60


def test_unknown_misread_foreign_and_replaced_are_told_apart(
    good: Call, call: Call, tag: str
) -> None:
    other = good("lay-out", "Quill", "--rows", "2").last
    foreign = call("scan", code_of(good, other, "D1"), "--piece", tag, "--json")
    assert (foreign.code, foreign.json["answer"]) == (1, "OTHER JOB")
    right = code_of(good, tag, "D1")
    misread = call("scan", right[:-1] + ("A" if right[-1] != "A" else "B"))
    assert misread.code == 2
    assert "wrong character" in misread.err
    assert call("scan", "hello").code == 2
    assert "no job" in call("scan", "ZZZZ-D05AB").err or "wrong" in call("scan", "ZZZZ-D05AB").err


def test_parts_go_out_all_or_none(good: Call, call: Call, tag: str) -> None:
    assert call("out", tag, "D1", code_of(good, tag, "D2"), "D99").code == 2
    assert {p["where"] for p in parts_of(good, tag).values()} == {"in the piece", "stays"}
    good("out", tag, "D1", code_of(good, tag, "D2"), "--place", "rack 2")
    parts = parts_of(good, tag)
    assert (parts["D1"]["where"], parts["D2"]["place"]) == ("out", "rack 2")
    assert parts["P1"]["where"] == "out"


def test_places_hold_parts_of_several_jobs(good: Call, tag: str) -> None:
    other = good("lay-out", "Quill", "--rows", "2").last
    good("place", "rack 2", code_of(good, tag, "D1"), code_of(good, other, "D1"))
    found = good("find", "D1", "--json").json
    assert {(f["codename"], f["where"]) for f in found} == {
        ("Heron", "at rack 2"), ("Quill", "at rack 2"),
    }  # fmt: skip


def test_finding_nothing_answers_no(call: Call, tag: str) -> None:
    assert call("find", "D77").code == 1
    assert call("find", "D77", "--json").json == []


def test_what_was_not_seen_since(good: Call, tag: str, clock: SetClock) -> None:
    good("out", tag, "D1", "D2")
    clock.pass_time(hours=3)
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    left = {s["number"] for s in good("unseen", tag, "--since", "1 h ago", "--json").json}
    assert "D1" not in left
    assert {"D2", "D3", "L1"} <= left


def test_a_face_goes_back_with_a_reason(good: Call, call: Call, tag: str, clock: SetClock) -> None:
    for _ in range(3):
        clock.pass_time(hours=12)
        good("scan", "D1", "--piece", tag, "--record", "--confirm")
    told = good(
        "send-back", "D1", "wash", "--reason", "greasy hands", "--piece", tag, "--json"
    ).json
    assert told["recorded"] is True
    assert parts_of(good, tag)["D1"]["status"] == "Wash next"
    assert "greasy hands" in good("history", tag).out
    assert call("send-back", "D1", "topcoat_1", "--reason", "run", "--piece", tag).code == 1


def test_send_back_asks_which_face_where_the_paths_differ(good: Call, call: Call, tag: str) -> None:
    good("path", tag, "stain", "D1 left edge")
    for face in ("front", "left edge"):
        good("scan", "D1", "--piece", tag, "--face", face, "--record", "--confirm")
    words = ("send-back", "D1", "wash", "--reason", "greasy hands", "--piece", tag)
    asked = call(*words)
    assert asked.code == 1
    assert "D1 has faces on different paths: front (Paint" in asked.out
    assert call(*words, "--face", "front, lid").code == 2
    told = good(*words, "--face", "front, left edge", "--json").json
    assert told["faces"] == ["front", "left edge"]


def test_a_part_that_stays_in_counts_as_home(good: Call, tag: str) -> None:
    good("stays-in", tag, "D7")
    assert parts_of(good, tag)["D7"]["where"] == "home"


def test_a_time_to_come_is_refused(call: Call, tag: str) -> None:
    for words in (
        ("scan", "D1", "--piece", tag, "--record", "--confirm"),
        ("out", tag, "D1"),
        ("place", "rack 2", "D1", "--piece", tag),
    ):
        ran = call(*words, "--at", "2031-03-05 08:00")
        assert ran.code == 2
        assert "still to come" in ran.err


def test_each_step_of_a_path_says_where_its_figure_is_from(good: Call) -> None:
    for path in good("paths", "--json").json:
        for step in path["steps"]:
            if step["earliest"] is not None or step["latest"] is not None:
                assert step["source"], (path["key"], step["key"])
            for shown in (step, *step["after"]):
                for end in ("earliest", "latest"):
                    named = [s for s in shown["sources"] if s["figure"] == end]
                    assert len(named) == (shown[end] is not None), (step["key"], end)
                    assert all(s["status"] and s["said"] for s in named)


def test_a_wait_for_one_case_of_face_says_which(good: Call) -> None:
    paint = next(p for p in good("paths", "--json").json if p["key"] == "paint")
    colour = next(s for s in paint["steps"] if s["key"] == "colour_1")
    (primed,) = colour["after"]
    assert (primed["step"], primed["only_when"], primed["earliest"]) == ("prime", "bleeds", 48 * 60)
    assert primed["sources"][0]["status"] == "published, read in a copy"


@pytest.mark.parametrize("words", [("scan", "D1"), ("scan", "H1")])
def test_a_short_number_needs_a_piece(call: Call, tag: str, words: tuple[str, str]) -> None:
    assert call(*words).code == 2
    assert call(*words, "--piece", tag).code == 0
