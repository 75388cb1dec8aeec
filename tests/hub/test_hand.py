"""A phone at the bench: the one machine, each act once and in order, none that is stale."""

from __future__ import annotations

from typing import Any

from partsbench.core.piece.piece import Piece
from partsbench.services.acts import bench
from partsbench.services.acts.history import history, undo
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.phone import Phone
from tests.support.shops import code, lay_out, made
from tests.support.steps import bring
from tests.support.wall import verb_named

WASHED = "washed (front, top edge, bottom edge, left edge, right edge)"


def test_two_scans_record_as_at_the_window(
    phone: Phone, piece: Piece, shop: Shop, clock: SetClock
) -> None:
    shown = phone.scan(code(piece, "D1"))
    assert (shown["answer"], shown["part"], shown["recorded"]) == ("GO", "D1", False)
    clock.pass_time(seconds=3)
    assert phone.scan(code(piece, "D1"))["recorded"]
    newest = history(shop, limit=1)[0]
    assert (newest.who, newest.sentence) == ("Tarn", f"Heron D1 {WASHED}")
    assert bench.look(shop, "D1", here=piece.tag).step == "rinse"


def test_what_is_sent_again_is_recorded_once(phone: Phone, piece: Piece, shop: Shop) -> None:
    phone.act(doing="scan", text=verb_named("WASHED").code)
    phone.scan(code(piece, "D1"))
    first = phone.act(doing="scan", text=code(piece, "D1"), typed=True, mark="m")
    assert first["outcomes"][0]["recorded"]
    again = [phone.send(number=number, doing="scan", text=code(piece, "D1"), mark="m").json()
             for number in (first["number"], first["number"], first["number"] + 1)]  # fmt: skip
    assert again == [first] * 3
    assert [e.sentence for e in history(shop, piece.tag)].count(f"Heron D1 {WASHED}") == 1


def test_what_is_sent_again_to_a_hub_that_was_started_anew_is_recorded_once(
    phone: Phone, piece: Piece, shop: Shop
) -> None:
    phone.act(doing="scan", text=verb_named("WASHED").code)
    phone.scan(code(piece, "D1"))
    taken = phone.act(doing="scan", text=code(piece, "D1"), typed=True, mark="m")
    phone.rooms.clerk.ask_now(lambda at: at.hands.clear())
    said = phone.send(number=taken["number"], doing="scan", text="D1", mark="m").json()
    assert said["outcomes"][0]["sentence"] == f"Taken already: Heron D1 {WASHED}."
    assert [e.sentence for e in history(shop, piece.tag)].count(f"Heron D1 {WASHED}") == 1
    assert phone.get("/api/me").json()["last"] == taken["number"]


def test_an_act_out_of_its_turn_is_not_taken(phone: Phone, piece: Piece) -> None:
    phone.scan(code(piece, "D1"))
    early = phone.send(number=3, doing="scan", text=code(piece, "D2"))
    assert (early.status_code, early.json()["expects"]) == (409, 2)
    assert phone.scan(code(piece, "D2"))["part"] == "D2"
    late = phone.send(number=1, doing="scan", text=code(piece, "D3"))
    assert (late.status_code, late.json()["expects"]) == (409, 3)


def test_a_record_on_what_others_did_meanwhile_is_refused_and_says_who(
    phone: Phone, piece: Piece, shop: Shop, clock: SetClock
) -> None:
    phone.scan(code(piece, "D1"))
    assert record(shop, code(piece, "D1")).recorded  # Wren, at the window
    clock.pass_time(seconds=3)
    said = phone.scan(code(piece, "D1"))
    assert not said["recorded"]
    assert said["sentence"].startswith(f"Nothing was recorded: Heron D1 {WASHED} by Wren")
    clock.pass_time(seconds=3)
    assert phone.scan(code(piece, "D1"))["answer"] == "GO"
    clock.pass_time(seconds=3)
    assert phone.scan(code(piece, "D1"))["sentence"].startswith("D1 rinsed")


def test_ones_own_records_are_not_those_of_others(phone: Phone, piece: Piece) -> None:
    """All four were kept while the hub was gone: the device had heard of nothing since."""
    seen = phone.seen
    said = [phone.scan(code(piece, "D1"), typed=True, seen=seen) for _ in range(4)]
    assert [s["recorded"] for s in said] == [False, True, False, True]


def test_what_was_undone_meanwhile_is_told_too(
    phone: Phone, piece: Piece, shop: Shop, clock: SetClock
) -> None:
    assert record(shop, code(piece, "D1")).recorded
    phone.scan(code(piece, "D1"))
    undo(shop)
    clock.pass_time(seconds=3)
    assert phone.scan(code(piece, "D1"))["sentence"].startswith("Nothing was recorded: Undone")


def test_scans_that_were_kept_count_for_when_they_were_made(
    phone: Phone, piece: Piece, shop: Shop, clock: SetClock
) -> None:
    phone.scan(code(piece, "D2"))
    clock.pass_time(minutes=30)
    hour = 60 * 60 * 1000
    ages = [hour // 3, hour // 3 - 5000, hour // 4, hour // 4 - 5000]
    codes = [code(piece, short) for short in ("D1", "D1", "D3", "D3")]
    said = [phone.scan(text, age_ms=age, typed=True) for text, age in zip(codes, ages, strict=True)]
    assert [s["recorded"] for s in said] == [False, True, False, True]
    marks = shop.book.rows("SELECT at FROM mark ORDER BY id")
    assert list(dict.fromkeys(m["at"][11:19] for m in marks)) == ["08:40:05", "08:45:05"]
    entries = shop.book.rows("SELECT at, clock_set FROM journal ORDER BY id")
    assert sorted(e["at"] for e in entries) == [e["at"] for e in entries]
    assert not any(e["clock_set"] for e in entries)


def test_a_phone_whose_clock_lies_changes_no_order(
    phone: Phone, piece: Piece, shop: Shop, clock: SetClock
) -> None:
    """It says that the second act is older than the first: it is taken as of the first."""
    clock.pass_time(hours=5)
    phone.scan(code(piece, "D1"), age_ms=0)
    said = phone.scan(code(piece, "D1"), age_ms=4 * 3600 * 1000, typed=True)
    assert said["recorded"]
    marks = shop.book.rows("SELECT DISTINCT at FROM mark")
    assert [m["at"][11:] for m in marks] == ["13:30:00Z"]


def test_what_was_kept_for_too_long_is_refused_with_the_reason(
    phone: Phone, piece: Piece, shop: Shop
) -> None:
    before = shop.book.newest()
    said = phone.scan(code(piece, "D1"), age_ms=13 * 3600 * 1000)
    assert said["sentence"] == "Nothing was recorded: that was kept for more than 12 hours."
    assert shop.book.newest() == before
    assert phone.number == 1  # it is taken, and not sent for ever


def test_undo_takes_back_ones_own(phone: Phone, piece: Piece, shop: Shop) -> None:
    phone.act(doing="scan", text=verb_named("WASHED").code)
    assert phone.twice(code(piece, "D1"))["recorded"]
    assert record(shop, code(piece, "D3")).recorded  # Wren
    said = phone.scan(verb_named("UNDO").code)
    assert said["sentence"] == f"Undone: Heron D1 {WASHED}."
    assert bench.look(shop, "D3", here=piece.tag).step == "rinse"


def test_teardown_and_return_with_home_and_drawer(
    phone: Phone, piece: Piece, clock: SetClock
) -> None:
    phone.act(doing="turn", mode="Teardown", tag=piece.tag)
    for short in ("D1", "D2"):
        clock.pass_time(seconds=5)
        assert phone.scan(code(piece, short))["recorded"]
    phone.act(doing="turn", mode="Return", tag=piece.tag)
    phone.scan(code(piece, "H2"))
    wrong = phone.scan(code(piece, "D1"))
    assert (wrong["answer"], wrong["recorded"]) == ("STOP", True)
    assert wrong["sentence"].startswith("D1 lives in H1")
    phone.scan(code(piece, "H1"))
    assert phone.scan(code(piece, "D2"))["answer"] == "STOP"
    board = phone.get("/api/me").json()["stands"]["bench"]["board"]
    assert any("D1" in line and "D2" in line for line in board)


def test_put_at_and_note_and_find(phone: Phone, piece: Piece, shop: Shop) -> None:
    d1 = code(piece, "D1")
    said = phone.act(doing="put", label=d1, text="rack 2")["outcomes"][0]
    assert (said["sentence"], said["recorded"]) == ("Heron D1 at rack 2.", True)
    phone.act(doing="note", label=d1, text="split at the back")
    phone.act(doing="note", label=d1, text="and glued")
    found = shop.piece(piece.tag)
    assert found is not None
    part = found.part("D1")
    assert part is not None
    assert part.note == "split at the back; and glued"
    lines = phone.get("/api/find", params={"asked": "D1"}).json()["lines"]
    assert len(lines) == 1
    assert lines[0].startswith("Heron D1: at rack 2")


def test_a_hold_is_insisted_upon_with_a_reason(phone: Phone, piece: Piece) -> None:
    d1 = code(piece, "D1")
    for verb in ("WASHED", "RINSED"):
        phone.act(doing="scan", text=verb_named(verb).code)
        assert phone.twice(d1)["recorded"]
    phone.act(doing="scan", text=verb_named("DONE").code)
    held = phone.act(doing="scan", text=d1, typed=True)
    assert held["bench"]["hand"]["waits"] == "held"
    assert not held["outcomes"][0]["recorded"]
    said = phone.push("a reason", "the tin says so")
    assert said["recorded"]
    assert phone.scan(verb_named("VERB OFF").code)["tone"] == "verb off"


def held_by_old_finish(phone: Phone, shop: Shop, clock: SetClock) -> tuple[Piece, dict[str, Any]]:
    """A part whose sanding waits for what is on it, as the page shows it."""
    piece = made(lay_out(shop, "Plover", "2", paths=[("paint", ["D1", "D2"])], known={}))
    for short in ("D1", "D2"):
        bring(shop, clock, piece.tag, short, "sand_150")
    clock.pass_time(days=2)
    phone.act(doing="turn", mode="Bench", tag=piece.tag)
    reply = phone.act(doing="scan", text=code(piece, "D1"), typed=True)
    return piece, reply["bench"]["hand"]


def test_what_is_on_a_part_is_asked_and_answered_with_one_press(
    phone: Phone, shop: Shop, clock: SetClock
) -> None:
    piece, hand = held_by_old_finish(phone, shop, clock)
    assert hand["waits"] == "held"
    answers = {each["name"]: each["code"] for each in hand["asks"]}
    assert "LAB, NO LEAD" in answers
    reply = phone.act(doing="old finish", label=hand["code"], text=answers["LAB, NO LEAD"])
    said, shown = reply["outcomes"]
    assert said["recorded"]
    assert (shown["answer"], shown["part"]) == ("GO", "D1")
    assert reply["bench"]["hand"]["waits"] == "armed"
    assert reply["bench"]["hand"]["asks"] == []
    assert history(shop, limit=1)[0].who == "Tarn"
    assert phone.scan(code(piece, "D2"), typed=True)["answer"] != "GO"


def test_an_answer_of_the_whole_piece_is_of_every_part(
    phone: Phone, shop: Shop, clock: SetClock
) -> None:
    piece, hand = held_by_old_finish(phone, shop, clock)
    answer = verb_named("BARE WOOD").code
    phone.act(doing="old finish", label=hand["code"], text=answer, whole=True)
    assert phone.scan(code(piece, "D2"), typed=True)["answer"] == "GO"


def test_no_other_verb_is_an_answer_to_what_is_on_it(
    phone: Phone, shop: Shop, clock: SetClock
) -> None:
    _, hand = held_by_old_finish(phone, shop, clock)
    before = shop.book.newest()
    for text in (verb_named("UNDO").code, hand["code"], "no code"):
        said = phone.act(doing="old finish", label=hand["code"], text=text)["outcomes"]
        assert [each["answer"] for each in said] == ["STOP"]
    assert shop.book.newest() == before


def test_a_face_and_a_step_are_chosen_where_there_are_several(
    phone: Phone, piece: Piece, shop: Shop, clock: SetClock
) -> None:
    hand = phone.act(doing="scan", text=code(piece, "D1"), typed=True)["bench"]["hand"]
    assert "front" in hand["faces"]
    assert hand["steps"] == []
    bring(shop, clock, piece.tag, "D1", "sand_150")
    hand = phone.act(doing="scan", text=code(piece, "D1"), typed=True)["bench"]["hand"]
    keys = [step["key"] for step in hand["steps"]]
    assert keys == ["fill", "sand_150"]
    phone.push("a face", "front")
    reply = phone.act(doing="push", push="a step", text="fill")
    assert (reply["bench"]["hand"]["face"], reply["bench"]["hand"]["step"]) == ("front", "fill")
    said = phone.push("Enter")
    said = said if said["recorded"] else phone.push("Enter")
    assert said["recorded"]
    assert "(front)" in said["sentence"] or "(front)" in history(shop, limit=1)[0].sentence


def test_the_proof_is_told_as_lines_and_as_a_sheet(phone: Phone, piece: Piece) -> None:
    said = phone.get(f"/api/proof?tag={piece.tag}").json()
    assert said["complete"] is False
    assert said["verdict"].startswith("NOT COMPLETE: 11 of 19 not home")
    assert len(said["parts"]) >= 7
    assert any(line.startswith("D1 ") for line in said["parts"])
    sheet = phone.get(f"/api/proof.pdf?tag={piece.tag}")
    assert (sheet.status_code, sheet.content[:5]) == (200, b"%PDF-")
    assert sheet.headers["content-type"] == "application/pdf"
    assert phone.get("/api/proof?tag=none").status_code == 404
    assert phone.get("/api/proof.pdf?tag=none").status_code == 404
