from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.finish.path import (
    NO_STEP_PATHS,
    FinishPath,
    Operation,
    PathKind,
    parse_path,
    parse_path_text,
    parse_paths,
)
from partsbench.core.sources import Status
from partsbench.core.toml_text import TomlFault
from partsbench.trade import load_paths, path_texts

SMALL = """key = "quick"
name = "Quick"
kind = "paint"

[[step]]
key = "wash"
name = "Wash"
did = "washed"
operation = "wash"

[[step]]
key = "colour"
name = "Colour"
did = "coloured"
operation = "colour"
earliest = "4 h"
latest = { value = "1 d", source = "my tin", status = "tin" }
missed = { step = "wash", say = "Start again." }
"""


def faults_of(text: str) -> list[TomlFault]:
    read = parse_path_text(text)
    assert isinstance(read, list)
    return read


def test_a_small_path_of_the_users_own_is_read_with_its_sources():
    read = parse_path_text(SMALL)
    assert isinstance(read, FinishPath)
    wash, colour = read.steps
    assert (read.key, read.kind) == ("quick", PathKind.PAINT)
    assert (wash.operation, wash.earliest) == (Operation.WASH, None)
    assert (colour.earliest, colour.latest) == (timedelta(hours=4), timedelta(days=1))
    assert colour.missed is not None
    assert colour.missed.step == "wash"
    assert colour.source_of("earliest").status is Status.OWN
    assert colour.source_of("latest").status is Status.TIN
    assert colour.source_of("grit") is None


@pytest.mark.parametrize(
    ("old", "new", "line", "why"),
    [
        ('kind = "paint"', 'kind = "varnish"', 3, "none of"),
        ('kind = "paint"', 'kind = "paint', 3, "not TOML"),
        ('key = "quick"', 'key = "Quick One"', 1, "small letters"),
        ('key = "quick"', 'key = "raw"', 1, "no finish"),
        ('operation = "wash"', 'operation = "scrub"', 9, "none of"),
        ('did = "washed"', "did = 3", 8, "words in quotes"),
        ('did = "washed"', 'dit = "washed"', 8, "unknown word"),
        ('earliest = "4 h"', 'earliest = "four hours"', 16, "written like"),
        ('earliest = "4 h"', 'earliest = "30 h"', 17, "closes before it opens"),
        ('status = "tin"', 'status = "a friend"', 17, "none of"),
        ('missed = { step = "wash"', 'missed = { step = "wish"', 18, "no step 'wish'"),
        ('missed = { step = "wash", say = "Start again." }\n', "", 11, "is missed"),
        ('key = "colour"', 'key = "wash"', 12, "has this key already"),
        ('earliest = "4 h"', "earliest = true", 16, "written like"),
        ('earliest = "4 h"', "needs = 3", 16, "a list"),
        ('earliest = "4 h"', "grit = true", 16, "written like"),
    ],
)
def test_what_is_wrong_is_told_with_line_and_reason(old, new, line, why):
    assert old in SMALL
    found = faults_of(SMALL.replace(old, new, 1))
    assert any(f.line == line and why in f.why for f in found), found


def test_a_file_without_steps_is_refused():
    found = faults_of('key = "x"\nname = "X"\nkind = "paint"\n')
    assert "at least one" in found[0].why


def test_every_fault_is_told_at_once():
    broken = SMALL.replace('"wash"\n', '"scrub"\n', 2).replace('"4 h"', '"soon"')
    assert len(faults_of(broken)) >= 2


def test_a_table_that_is_not_text_has_no_line():
    read = parse_path({"key": "x", "name": "X", "kind": "paint", "step": [3]})
    assert isinstance(read, list)
    assert read[0].line == 0
    assert "step" in str(read[0])


def test_after_must_name_an_earlier_step():
    text = SMALL + '\n[[step.after]]\nstep = "colour"\nearliest = "1 h"\n'
    found = faults_of(text)
    assert "no earlier step" in found[0].why
    assert found[0].line == 20


def test_the_shipped_paths_come_with_raw_and_leave():
    paths = parse_paths(load_paths())
    assert {"raw", "leave", "paint", "stain", "clear"} <= set(paths)
    assert paths["raw"].steps == paths["leave"].steps == ()
    assert set(NO_STEP_PATHS) == {"raw", "leave"}


def test_a_broken_shipped_path_is_a_bug():
    with pytest.raises(ValueError, match="quick"):
        parse_paths({"quick": {"key": "quick"}})


def test_steps_for_other_cases_are_left_out():
    stain = parse_paths(load_paths())["stain"]
    bare = stain.given(frozenset())
    seamed = stain.given(frozenset({"seam", "conditioner_oil"}))
    assert bare.step("mask") is None
    assert bare.step("strip") is None
    assert bare.step("stain") is not None
    keys = ("condition", "wipe_condition", "stain", "wipe", "mask", "unmask", "touch_up")
    order = [seamed.index(k) for k in keys]
    assert order == sorted(order)
    assert None not in order


# Values of the table of steps that the paths were written from: the rule of the trade or trade
# experience, as the status beside each says; this guards them against slips of the hand.
@pytest.mark.parametrize(
    ("path", "step", "earliest", "latest"),
    [
        ("stain", "strip", "20 min", "1 h"),
        ("stain", "repair", "24 h", None),
        ("stain", "condition", "5 min", "15 min"),
        ("stain", "wipe_condition", None, "30 min"),
        ("stain", "condition_water", None, "5 min"),
        ("stain", "wipe_condition_water", "30 min", "2 h"),
        ("stain", "stain", "5 min", "15 min"),
        ("stain", "wipe", "24 h", None),
        ("paint", "fill", "24 h", None),
        ("paint", "sand_150", None, "1 d"),
        ("paint", "colour_3", "12 h", "24 h"),
        ("paint", "topcoat_1", "4 h", None),
    ],
)
def test_the_windows_are_those_of_the_table(path, step, earliest, latest):
    step_doc = next(s for s in load_paths()[path]["step"] if s["key"] == step)
    found = [step_doc.get(k, {}).get("value") for k in ("earliest", "latest")]
    assert found == [earliest, latest]


def test_the_grits_are_those_of_the_table():
    paths = parse_paths(load_paths())
    grits = {k: [s.grit for s in paths[k].steps if s.grit] for k in ("stain", "paint")}
    assert grits["stain"] == [150, 220, 320, 320]
    assert grits["paint"] == [150, 220, 400, 400, 400, 400]


def test_a_path_text_round_trips_through_an_edit():
    text = path_texts()["paint"].replace(
        'value = "12 h", said = "the tin', 'value = "6 h", said = "the tin'
    )
    read = parse_path_text(text)
    assert isinstance(read, FinishPath)
    assert read.step("colour_3").earliest == timedelta(hours=6)


def wrong(**figures: object) -> list[str]:
    """What is wrong with a path of one step that has these figures."""
    step = {"key": "wash", "name": "Wash", "did": "washed", "operation": "wash", **figures}
    read = parse_path({"key": "x", "name": "X", "kind": "paint", "step": [step]})
    return [] if isinstance(read, FinishPath) else [str(fault) for fault in read]


@pytest.mark.parametrize(
    ("key", "taken", "refused"),
    [
        ("grit", [16, 220, 5000], [15, 5001, 220.0, True, "220", -16]),
        ("minutes_per_part", [0.1, 1, 90], [0, 0.0, -5, True, "5"]),
        ("minutes_per_face", [0.5], [0, True]),
        ("earliest", ["2 h", "0 h"], [2, "two", True, ""]),
        ("optional", [True, False], [1, "yes"]),
        ("needs", [[], ["limits"]], ["limits", [3], [["a"]]]),
        ("note", ["x", ""], [3, True]),
    ],
)
def test_figures_and_words_of_a_step(key: str, taken: list[object], refused: list[object]) -> None:
    for value in taken:
        assert wrong(**{key: value}) == [], value
    for value in refused:
        assert any(key in fault for fault in wrong(**{key: value})), value


def test_a_window_may_be_one_moment_and_needs_a_way_back() -> None:
    back = {"step": "wash", "say": "Wash again."}
    assert wrong(earliest="1 h", latest="1 h", missed=back) == []
    assert wrong(latest="1 h", missed=back) == []
    assert "closes before it opens" in wrong(earliest="2 h", latest="1 h", missed=back)[0]
    assert "must say what to do" in wrong(latest="1 h")[0]
    assert "should name a step and say" in wrong(latest="1 h", missed="wash")[0]
    for lacking in ("step", "say"):
        half = {k: v for k, v in back.items() if k != lacking}
        assert any(lacking in fault and "is missing" in fault
                   for fault in wrong(latest="1 h", missed=half))  # fmt: skip


@pytest.mark.parametrize("key", ["key", "name", "did"])
def test_a_step_has_a_key_a_name_and_what_was_done(key: str) -> None:
    assert any(f"{key}: is missing" in fault for fault in wrong(**{key: " "}))


def test_a_step_for_a_case_is_optional_for_all_others() -> None:
    doc = {"key": "wash", "name": "Wash", "did": "washed", "operation": "wash"}
    for more, optional in (({}, False), ({"only_when": "seam"}, True), ({"optional": True}, True)):
        read = parse_path({"key": "x", "name": "X", "kind": "paint", "step": [{**doc, **more}]})
        assert isinstance(read, FinishPath)
        assert read.steps[0].optional is optional and not read.steps[0].tinted


def test_a_figure_without_a_source_is_ones_own_and_one_with_a_source_needs_its_status() -> None:
    assert wrong(earliest={"value": "1 h"}) == []
    assert wrong(earliest={"value": "1 h", "source": "a page", "status": "tin"}) == []
    assert any("status" in f for f in wrong(earliest={"value": "1 h", "source": "a page"}))
    assert any("unknown word" in f for f in wrong(earliest={"value": "1 h", "said": "", "by": "x"}))
