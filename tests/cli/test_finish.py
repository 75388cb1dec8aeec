"""The finish from the command line: keys, exit codes, refusals, files."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest

from partsbench.services.books import restart
from tests.cli.conftest import Call, parts_of
from tests.support.clock import SetClock
from tests.support.paper import text_of
from tests.support.shops import shop_at


def code_of(good: Call, tag: str, number: str) -> str:
    return parts_of(good, tag)[number]["code"]


def to_colour(good: Call, tag: str, clock: SetClock, *parts: str) -> None:
    for wait in (0, 0, 12):
        clock.pass_time(hours=wait)
        for part in parts:
            good("scan", part, "--piece", tag, "--record", "--confirm")


def test_scan_answers_as_of_a_stated_time(good: Call, tag: str, clock: SetClock) -> None:
    code = code_of(good, tag, "D2")
    for _ in range(2):
        good("scan", code, "--record", "--confirm")
    wait = good("scan", code, "--json").json
    assert (wait["answer"], wait["step"], wait["face"]) == ("WAIT", "sand_150", "front")
    until = datetime.fromisoformat(wait["until"])
    assert until - clock.now == timedelta(hours=12)
    assert "12 h" in wait["because"]
    assert wait["source"]
    clock.pass_time(hours=30)
    then = (clock.now - timedelta(hours=20)).isoformat()
    assert good("scan", code, "--at", then, "--json").json["answer"] == "WAIT"
    assert good("scan", code, "--json").json["answer"] == "GO"


def test_a_hold_exits_1_and_insist_records(good: Call, call: Call, tag: str) -> None:
    code = code_of(good, tag, "D2")
    for _ in range(2):
        good("scan", code, "--record", "--confirm")
    held = call("scan", code, "--record", "--confirm", "--json")
    assert (held.code, held.json["recorded"], held.json["held"]) == (1, False, ["not dry yet"])
    kept = good(
        "scan", code, "--record", "--confirm", "--insist", "the heater ran all night", "--json"
    ).json
    assert kept["recorded"] is True
    assert "the heater ran all night (not dry yet)" in good("history", tag).out


def test_clock_lists_faces_with_six_answers(good: Call, tag: str) -> None:
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    found = good("clock", tag, "--json").json
    assert {f["face"] for f in found} >= {"D1 front", "D2 front", "T1 top"}
    front = next(f for f in found if f["face"] == "D1 front")
    assert set(front["ready"]) == {"sand", "recoat", "tape", "handle", "touch", "service"}
    assert set(front["ready"]["recoat"]) == {"at", "until", "because", "words"}
    assert (front["answer"], front["step"]) == ("GO", "rinse")
    assert good("clock", tag, "D1").out.startswith("D1 front: GO")


def test_day_says_one_thing_and_why(good: Call, tag: str, clock: SetClock) -> None:
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    today = good("day", "--json").json
    assert today["sentence"] == "Heron D1: washed but not rinsed."
    assert today["loops"][0]["holds"] is True
    assert {"tasks", "clocks", "alarms", "stragglers", "ends", "said"} <= set(today)
    long = {t["minutes"] for t in good("day", "--minutes", "1", "--json").json["tasks"]}
    assert long <= {None}
    assert "saves" in good("day", "--tonight").out


def test_all_of_this_load_except(good: Call, call: Call, tag: str, clock: SetClock) -> None:
    to_colour(good, tag, clock, "D1", "D3")
    found = good("load", tag, "--json").json
    assert found["step"] == "colour_1"
    assert {f.split()[0] for f in found["faces"]} == {"D1", "D3"}
    told = good("load", tag, "--except", "D3", "--confirm", "--json").json
    assert told["recorded"] is True
    assert parts_of(good, tag)["D3"]["faces"][0]["step"] == "colour_1"
    behind = good("load", tag, "--json").json
    assert {f.split()[0] for f in behind["faces"]} == {"D3"}
    assert call("load", tag, "--except", "D7").code == 2
    other = good("lay-out", "Quill", "--rows", "1 3").last
    away = call("load", tag, "--except", parts_of(good, other)["D3"]["code"])
    assert (away.code, away.err) == (1, "")
    assert "This is Quill D3" in away.out
    assert {f.split()[0] for f in good("load", tag, "--json").json["faces"]} == {"D3"}


def test_a_strip_is_written_for_the_load_in_hand(
    good: Call, tag: str, clock: SetClock, tmp_path: Path
) -> None:
    to_colour(good, tag, clock, "D1", "D3")
    taken = good("load", tag, "--start", "--json").json
    strip = tmp_path / "strip.pdf"
    good("load", tag, "--strip", strip)
    with pypdfium2.PdfDocument(strip) as pdf:
        words = pdf[0].get_textpage().get_text_range()
    assert taken["code"] in words
    assert "D1" in words and "D3" in words


def test_cups_are_mixed_made_again_and_refused_on_stain(
    good: Call, call: Call, tag: str, clock: SetClock
) -> None:
    made = good("cup", "--mix", "blue", "--pour", "colour:9:17", "--pour", "water:1",
                "--tint", "5", "--strained", "--product", "clear_water", "--json").json  # fmt: skip
    assert (made["number"], made["tint"], made["strained"]) == (1, 5.0, True)
    again = good("cup", made["code"], "--again", "--volume", "60", "--json").json
    assert [p["parts"] for p in again["poured"]] == [54.0, 6.0]
    good("fact", tag, "conditioner", "none", "D2")
    for _ in range(40):
        seen = good("scan", "D2", "--piece", tag, "--json").json
        if seen["step"] == "clear_1" and seen["answer"] == "GO":
            break
        if seen["answer"] == "WAIT":
            clock.now = datetime.fromisoformat(seen["until"])
        else:
            good("scan", "D2", "--piece", tag, "--record", "--confirm")
    refused = call("scan", "D2", "--piece", tag, "--record", "--confirm", "--cup", "1", "--json")
    assert (refused.code, refused.json["answer"]) == (1, "STOP")
    assert "takes water-borne clear without tint" in refused.json["because"]
    assert refused.json["held"] == ["wrong cup"]
    assert call("cup", "--mix", "blue").code == 2
    assert call("cup", "--mix", "blue", "--pour", "a:1", "--product", "soup").code == 2
    assert call("cup", "9").code == 2


def test_masks_are_listed_put_on_and_taken_off(good: Call, call: Call) -> None:
    tag = good("lay-out", "Larch", "--rows", "1").last
    good("path", tag, "paint", "C1 rails", "C1 left side", "C1 right side")
    good("path", tag, "stain", "C1 top")
    found = good("mask", tag, "--json").json
    assert {"C1 rails", "C1 top"} in [{s["a"], s["b"]} for s in found["seams"]]
    assert found["metres"] > 1
    good("mask", tag, "--on", "C1 top", "--against", "C1 rails", "--rating", "7 d", "--json")
    assert good("mask", tag, "--json").json["masks"][0]["covers"] == "C1 top"
    held = call("mask", tag, "--off", "C1 top", "--json")
    assert (held.code, held.json["held"]) == (1, ["masked-for coat to come"])
    good("mask", tag, "--off", "C1 top", "--insist", "the tape let go")
    good("mask", tag, "--not-needed", "C1 top")
    assert call("mask", tag, "--on", "C1 lid").code == 2


def test_facts_tins_and_air_change_the_answer(good: Call, call: Call, tag: str) -> None:
    good("fact", tag, "old finish", "paint", "D1")
    assert call("fact", tag, "lead", "tested free", "D1").code == 2
    good("fact", tag, "lead", "tested free", "D1", "--note", "swab of the front, by Wren")
    assert good("fact", tag, "--json").json[-1]["note"] == "swab of the front, by Wren"
    good("tin", "blue", "--product", "paint_water", "--wait", "recoat=6 h..24 h")
    assert good("tin", "--json").json[0]["waits"] == {"recoat": ["6 h", "24 h"]}
    assert call("tin", "blue", "--product", "syrup").code == 2
    assert call("tin", "blue", "--product", "paint_water", "--wait", "recoat=soon").code == 2
    assert "4 times" in good("air", "14", "75").out
    assert call("air", "14", "140").code == 2


def test_a_power_cut_and_rags_are_noted(good: Call, call: Call, tag: str, clock: SetClock) -> None:
    clock.pass_time(hours=6)
    ended = clock.now.astimezone()
    begun = ended - timedelta(minutes=38)
    good("power-cut", begun.isoformat(), ended.isoformat(), "--heating")
    assert call("power-cut", ended.isoformat(), begun.isoformat()).code == 2
    good("rags", "flat")


def test_a_film_is_tried_and_what_all_tries_say_is_told(
    good: Call, call: Call, tag: str, clock: SetClock
) -> None:
    assert good("tried").out == "Nothing was tried yet.\n"
    to_colour(good, tag, clock, "D1")
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    clock.pass_time(hours=5)
    said = good("tried", "D1", "sand", "not", "--piece", tag, "--note", "it gums the paper").out
    assert "not ready to be sanded" in said and "too few to tell" in said
    row = good("tried", "--json").json[0]
    assert (row["product"], row["state"], row["tries"]) == ("paint_water", "sand", 1)
    assert row["by_hours"] is None and "too few" in row["sentence"]
    held = call("scan", "D1", "--piece", tag, "--record", "--confirm", "--json")
    assert (held.code, held.json["held"]) == (1, ["tried, not ready"])
    assert call("tried", "D1", "dry", "not", "--piece", tag).code == 2
    assert call("tried", "D1", "sand", "maybe", "--piece", tag).code == 2
    assert call("tried", "D2", "sand", "ready", "--piece", tag).code == 2


def test_review_lists_level_rule_and_source(good: Call, call: Call, tmp_path: Path) -> None:
    from partsbench import trade

    file = tmp_path / "mine.toml"
    text = trade.path_texts()["stain"].replace("value = 220, said", "value = 320, said")
    file.write_text(text, encoding="utf-8")
    found = good("review", file, "--json").json
    assert {"level", "rule", "source"} <= set(found[0])
    assert "too fine before stain" in {f["rule"] for f in found}
    file.write_text(text.replace('operation = "wash"', 'operation = "dance"'), encoding="utf-8")
    bad = call("review", file)
    assert bad.code == 2
    assert "line" in bad.err and "dance" in bad.err
    assert call("review", tmp_path / "nowhere.toml").code == 2
    assert good("review", "paint").out


def test_a_path_is_copied_edited_and_kept(good: Call, call: Call, tag: str, tmp_path: Path) -> None:
    file = tmp_path / "ours.toml"
    good("copy-path", "clear", "ours", "--name", "Our clear", "--out", file)
    good("keep-path", file)
    assert "ours" in {p["key"] for p in good("paths", "--json").json}
    good("path", tag, "ours", "D5")
    assert call("keep-path", tmp_path / "none.toml").code == 2


def test_the_wall_and_the_day_are_written(good: Call, tag: str, tmp_path: Path) -> None:
    good("person", "Wren")
    good("rack", "rack 2")
    for words, name in ((("verbs", "--out"), "verbs"), (("day-sheet", "--out"), "day")):
        file = tmp_path / f"{name}.pdf"
        good(*words, file)
        with pypdfium2.PdfDocument(file) as pdf:
            assert len(pdf) >= 1
    with pypdfium2.PdfDocument(tmp_path / "verbs.pdf") as pdf:
        words = " ".join(page.get_textpage().get_text_range() for page in pdf)
    for said in ("ALL EXCEPT 2", "Wren", "rack 2", "tried, it is ready", "run or sag"):
        assert said in words
    assert {"VERB-X", "WHYS-X"} <= {v["code"][:6] for v in good("verbs", "--json").json}


@pytest.mark.parametrize("first", ["day", "day --json", "day-sheet", "window"])
def test_after_a_window_was_cut_off_it_is_asked_once_wherever_one_looks_first(
    first: str, good: Call, tag: str, book: Path, clock: SetClock, tmp_path: Path
) -> None:
    sheet = tmp_path / "day.pdf"

    def asked(where: str) -> bool:
        if where == "window":
            shop = shop_at(book, clock)
            found = restart.after_restart(shop) is not None
            opened = restart.window_opened(shop)
            assert opened
            opened.close()
            shop.close()
            return found
        if where == "day-sheet":
            good("day-sheet", "--out", sheet)
            return "Anything done between" in text_of(sheet.read_bytes())
        return "Anything done between" in good(*where.split()).out

    assert not any(map(asked, ("day", "day --json", "day-sheet", "window")))
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    shop = shop_at(book, clock)
    window = restart.window_opened(shop)
    assert window
    window.let_go()
    shop.close()
    clock.pass_time(minutes=38)
    good("day", "--tonight")
    assert asked(first)
    assert not any(map(asked, ("day", "day --json", "day-sheet", "window")))
    assert [p.name for p in book.parent.glob("*window*")] == []


@pytest.mark.parametrize("command", [("clock", "ZZZZ"), ("load", "ZZZZ"), ("mask", "ZZZZ"),
                                     ("fact", "ZZZZ"), ("day", "ZZZZ")])  # fmt: skip
def test_a_piece_that_is_not_there_is_bad_input(call: Call, tag: str, command: tuple) -> None:
    ran = call(*command)
    assert (ran.code, ran.err.count("\n")) == (2, 1)
