"""A clock that was wrong: what it told is asked about until somebody says what time it was."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.finish.products import Ready
from partsbench.core.outcomes import Answer, Done, Refused
from partsbench.core.piece.spot import Spot
from partsbench.services.acts import bench, history, masks, tries
from partsbench.services.books import exchange
from partsbench.services.heard.session import Session
from partsbench.services.known import clock_doubt
from partsbench.services.known.clock_doubt import AS_NOTED, say_time, time_questions
from partsbench.services.rules.clocks import clocks_of
from partsbench.services.rules.marking import Tape
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.services.sums import cups
from tests.support.at_bench import insist, record
from tests.support.clock import SetClock
from tests.support.shops import heron, lay_out, made, quill, shop_at

DEAD = datetime(2000, 1, 1, 0, 5, tzinfo=UTC)
AHEAD = timedelta(days=5 * 365)


@pytest.fixture
def tag(shop: Shop, clock: SetClock) -> str:
    piece = heron(shop)
    clock.pass_time(minutes=20)
    return piece.tag


def two_steps(shop: Shop, clock: SetClock, tag: str, short: str = "D1") -> None:
    for _ in range(2):
        assert record(shop, short, here=tag).recorded
        clock.pass_time(minutes=15)


def asks(shop: Shop, tag: str, short: str = "D1") -> bool:
    """Whether a scan of the part asks about its time."""
    return "time in doubt" in bench.look(shop, short, here=tag).held


def test_a_dead_battery_is_asked_about_until_somebody_says_when(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """Before: clock at 2000, two steps, clock put right: “needs 12 h; that has passed”, GO."""
    right = clock.now
    clock.now = DEAD
    two_steps(shop, clock, tag)
    clock.now = right + timedelta(hours=1)
    said = bench.look(shop, "D1", here=tag)
    assert (said.answer, said.held) == (Answer.STOP, ("time in doubt",))
    assert "noted for Sat 01 Jan 2000" in said.because
    assert "Say what time it was" in said.because
    refused = record(shop, "D1", here=tag)
    assert not refused.recorded and refused.held == ("time in doubt",)
    # The question stays, whatever is recorded meanwhile and however long it takes.
    record(shop, "D3", here=tag)
    clock.pass_time(days=3)
    assert asks(shop, tag)

    (asked,) = time_questions(shop)
    assert len(asked.ids) == 2 and "this program was made" in asked.why
    done = say_time(shop, asked.last.id, "3 days ago")
    assert isinstance(done, Done), done
    assert time_questions(shop) == []
    assert not asks(shop, tag)
    clock.now = right + timedelta(hours=2)
    waits = bench.look(shop, "D1", here=tag)
    assert waits.answer is Answer.WAIT
    assert waits.until == right + timedelta(hours=1 + 12)


def test_what_was_said_moves_all_that_the_clock_told_and_can_be_undone(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    right = clock.now
    clock.now = DEAD
    two_steps(shop, clock, tag)
    two_steps(shop, clock, tag, "D3")
    clock.now = right + timedelta(hours=2)
    (asked,) = time_questions(shop)
    before = _times(shop)
    first = asked.first
    assert isinstance(say_time(shop, first.id, "90 min ago"), Done)
    moved = clock.now - timedelta(minutes=90) - first.at
    assert [at - old for at, old in zip(_times(shop), before, strict=True)] == [moved] * len(before)
    assert isinstance(history.undo(shop), Done)
    assert _times(shop) == before
    assert asks(shop, tag)
    assert isinstance(history.redo(shop), Done)
    assert not asks(shop, tag)
    assert exchange.check_book(shop) == []


def _times(shop: Shop) -> list[datetime]:
    return [datetime.fromisoformat(r["at"]) for r in shop.book.rows("SELECT at FROM mark")]


def test_a_clock_in_2031_that_was_put_right_makes_nobody_wait_for_years(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """Before: WAIT “until Wed 01 Jan” for five years."""
    right = clock.now
    clock.now = right + AHEAD
    two_steps(shop, clock, tag)
    clock.now = right + timedelta(hours=1)
    said = bench.look(shop, "D1", here=tag)
    assert (said.answer, said.until, said.held) == (Answer.STOP, None, ("time in doubt",))
    assert str((right + AHEAD).year) in said.because
    assert any("before the last record" in w for w in [clock_doubt.clock_words(shop)]) is False
    (asked,) = time_questions(shop)
    assert isinstance(say_time(shop, asked.last.id, "30 min ago"), Done)
    waits = bench.look(shop, "D1", here=tag)
    assert waits.until == clock.now - timedelta(minutes=30) + timedelta(hours=12)


def test_while_the_clock_stands_wrong_what_it_tells_itself_is_no_question(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    clock.now = DEAD
    two_steps(shop, clock, tag)
    said = bench.look(shop, "D1", here=tag)
    assert said.answer is Answer.WAIT
    assert said.until == DEAD + timedelta(minutes=15) + timedelta(hours=12)


def test_a_clock_that_stands_wrong_is_told_at_every_scan(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """“the clock” is told in the day and at each scan, also after something was recorded."""
    clock.now = DEAD
    for _ in range(2):
        said = record(shop, "D1", here=tag)
        assert any(w.startswith("clock: The computer's clock stands") for w in said.warnings)
        assert any("before this program was made" in words for words in day(shop).said)
        clock.pass_time(minutes=15)


def test_what_was_recorded_before_a_dead_battery_is_no_question_once_the_clock_is_right(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    two_steps(shop, clock, tag, "D3")
    right = clock.now
    clock.now = DEAD
    assert asks(shop, tag, "D3")
    two_steps(shop, clock, tag)
    clock.now = right + timedelta(hours=1)
    assert not asks(shop, tag, "D3")
    assert bench.look(shop, "D3", here=tag).answer is Answer.WAIT
    assert asks(shop, tag)


def test_a_clock_put_back_by_three_hours_asks_until_one_of_the_two_is_said(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    clock.pass_time(hours=3)
    two_steps(shop, clock, tag)
    clock.pass_time(hours=-3)
    two_steps(shop, clock, tag, "D3")
    for _ in range(2):
        assert asks(shop, tag)
        assert not asks(shop, tag, "D3")
        clock.pass_time(days=2)
    (asked,) = time_questions(shop)
    assert isinstance(say_time(shop, asked.last.id, AS_NOTED), Done)
    assert not asks(shop, tag)
    assert asks(shop, tag, "D3")
    (other,) = time_questions(shop)
    assert "had gone back" in other.why


def test_insisting_records_and_answers_nothing(shop: Shop, clock: SetClock, tag: str) -> None:
    right = clock.now
    clock.now = DEAD
    two_steps(shop, clock, tag)
    two_steps(shop, clock, tag, "D3")
    clock.now = right + timedelta(hours=1)
    assert insist(shop, "D1", here=tag).recorded
    assert asks(shop, tag, "D3")
    assert len(time_questions(shop)) == 1


def test_a_scan_session_and_the_readiness_ask_as_well(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    right = clock.now
    clock.now = DEAD
    two_steps(shop, clock, tag)
    clock.now = right + timedelta(hours=1)
    code = str(shop.piece(tag).code(shop.piece(tag).part("D1")))
    session = Session(shop, tag)
    first = session.scan(code)[-1]
    assert first.held == ("time in doubt",)
    clock.pass_time(seconds=5)
    assert not session.scan(code)[-1].recorded
    front = next(f for f in clocks_of(shop, tag) if f.face == Spot("D1", "front"))
    sand = next(r for r in front.ready if r.ready is Ready.SAND)
    assert sand.at is None and "01 Jan 2000" in sand.because


def test_what_is_said_must_be_a_time_that_was(shop: Shop, clock: SetClock, tag: str) -> None:
    right = clock.now
    clock.now = DEAD
    two_steps(shop, clock, tag)
    clock.now = right + timedelta(hours=1)
    (asked,) = time_questions(shop)
    last = asked.last.id
    for text, why in (
        ("noon", "is no time"),
        ("in 2 h", "is no time"),
        ("2001-01-01 10:00", "before this program was made"),
        ((clock.now + timedelta(hours=2)).astimezone().strftime("%H:%M"), "still to come"),
    ):
        said = say_time(shop, last, text)
        assert isinstance(said, Refused) and why in said.sentence, said
    # The first of two at this moment would put the last one into the time to come.
    said = say_time(shop, asked.first.id, "now")
    assert isinstance(said, Refused) and "still to come" in said.sentence
    assert isinstance(say_time(shop, 1, "now"), Refused)
    assert len(time_questions(shop)) == 1


def test_a_try_moves_with_its_film(shop: Shop, clock: SetClock, tag: str) -> None:
    right = clock.now
    clock.now = DEAD
    assert insist(shop, "D1", here=tag, face="front", step="prime").recorded
    clock.pass_time(hours=1)
    assert isinstance(tries.say_tried(shop, "D1", Ready.RECOAT, False, here=tag), Done)
    clock.now = right + timedelta(hours=2)
    (asked,) = time_questions(shop)
    (before,) = shop.book.rows("SELECT at, film_at FROM tried")
    assert isinstance(say_time(shop, asked.last.id, "1 h ago"), Done)
    (after,) = shop.book.rows("SELECT at, film_at FROM tried")
    gap = [datetime.fromisoformat(r["at"]) - datetime.fromisoformat(r["film_at"])
           for r in (before, after)]  # fmt: skip
    assert gap[0] == gap[1]
    assert datetime.fromisoformat(after["at"]).year == right.year


def test_a_piece_that_was_taken_in_brings_times_of_another_book(
    shop: Shop, clock: SetClock, tmp_path
) -> None:
    other = shop_at(tmp_path / "other.partsbench", SetClock(clock.now - timedelta(days=400)))
    there = quill(other)
    record(other, "D1", here=there.tag)
    file = tmp_path / "quill.json"
    text = exchange.export(other, there.tag)
    assert isinstance(text, str)
    file.write_text(text, encoding="utf-8")
    other.close()
    heron(shop)
    assert isinstance(exchange.take_in_export(shop, text, str(file)), list)
    clock.pass_time(minutes=5)
    mine = heron_again(shop)
    assert time_questions(shop) == []
    assert not asks(shop, mine)
    assert clock_doubt.clock_words(shop) == ""


def heron_again(shop: Shop) -> str:
    return next(r["tag"] for r in shop.book.rows("SELECT tag FROM piece ORDER BY id"))


def test_the_history_shows_where_the_clock_was_set(shop: Shop, clock: SetClock, tag: str) -> None:
    right = clock.now
    clock.now = right - timedelta(hours=3)
    record(shop, "D1", here=tag)
    clock.now = right + timedelta(minutes=5)
    record(shop, "D3", here=tag)
    found = clock_doubt.clock_set(shop)
    (said,) = found.values()
    assert said == "the clock had gone back by 2 h 40"
    (first,) = found
    assert next(e for e in history.history(shop) if e.id == first).sentence.startswith("Heron D1")


@pytest.fixture
def in_berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "Europe/Berlin")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.usefixtures("in_berlin")
def test_the_hour_that_comes_twice_moves_no_wait_and_is_told(shop: Shop, clock: SetClock) -> None:
    clock.now = datetime(2031, 10, 25, 21, 0, tzinfo=UTC)
    tag = heron(shop).tag
    two_steps(shop, clock, tag)
    until = bench.look(shop, "D1", here=tag).until
    assert until == datetime(2031, 10, 26, 9, 15, tzinfo=UTC)
    clock.now = datetime(2031, 10, 26, 3, 0, tzinfo=UTC)
    said = bench.stated(shop, "02:30")
    assert isinstance(said, Refused) and "was there twice" in said.sentence
    first, second = bench.stated(shop, "02:30 first"), bench.stated(shop, "02:30 second")
    assert first == datetime(2031, 10, 26, 0, 30, tzinfo=UTC)
    assert second == datetime(2031, 10, 26, 1, 30, tzinfo=UTC)
    assert time_questions(shop) == [] and not asks(shop, tag)


@pytest.mark.usefixtures("in_berlin")
def test_the_hour_that_is_left_out_moves_no_wait_and_is_told(shop: Shop, clock: SetClock) -> None:
    clock.now = datetime(2031, 3, 29, 21, 0, tzinfo=UTC)
    tag = heron(shop).tag
    two_steps(shop, clock, tag)
    assert bench.look(shop, "D1", here=tag).until == datetime(2031, 3, 30, 9, 15, tzinfo=UTC)
    clock.now = datetime(2031, 3, 30, 3, 0, tzinfo=UTC)
    said = bench.stated(shop, "02:30")
    assert isinstance(said, Refused) and "never was" in said.sentence
    assert time_questions(shop) == [] and not asks(shop, tag)


def to_a_coat(shop: Shop, clock: SetClock, tag: str) -> None:
    """D1 up to the step that is sprayed first, against every hold on the way."""
    while bench.look(shop, "D1", here=tag).step != "colour_1":
        assert insist(shop, "D1", here=tag).recorded
        clock.pass_time(minutes=10)


@pytest.mark.parametrize("was", ["dead", "ahead"])
def test_a_cup_made_while_the_clock_was_wrong_is_told_of_instead_of_judged(
    shop: Shop, clock: SetClock, tag: str, was: str
) -> None:
    """Before: a cup of 2000 was over its pot life for ever, one of 2036 never."""
    to_a_coat(shop, clock, tag)
    right = clock.now
    clock.now = DEAD if was == "dead" else right + AHEAD
    mixed = cups.make(
        shop, "the blue", [Poured("paint_water", "A1", 300)], pot_life=timedelta(hours=2)
    )
    assert isinstance(mixed, StoredCup)
    clock.now = right + timedelta(minutes=30)
    told = bench.look(shop, "D1", here=tag, cup=mixed).warnings
    (said,) = [w for w in told if w.startswith("over its pot life")]
    assert f"how old cup {mixed.cup.key} is, is not known: it is noted for" in said
    assert "Say what time it was" in said

    (asked,) = [q for q in time_questions(shop) if "the blue" in q.last.sentence]
    assert isinstance(say_time(shop, asked.last.id, "20 min ago"), Done)
    known = cups.find(shop, mixed.number)
    assert isinstance(known, StoredCup)
    told = bench.look(shop, "D1", here=tag, cup=known).warnings
    assert not [w for w in told if w.startswith("over its pot life")]
    clock.pass_time(hours=2)
    told = bench.look(shop, "D1", here=tag, cup=known).warnings
    assert f"over its pot life: cup {known.cup.key} is over its pot life" in told


@pytest.mark.parametrize("was", ["dead", "ahead"])
def test_tape_put_on_while_the_clock_was_wrong_is_a_loop_that_says_so(
    shop: Shop, clock: SetClock, was: str
) -> None:
    piece = made(lay_out(shop, "Quill", "1", height=300, top=True,
                         paths=[("stain", ["C1 top"]), ("paint", ["C1 rails"])]))  # fmt: skip
    tag, right = piece.tag, clock.now
    clock.now = DEAD if was == "dead" else right + AHEAD
    tape = Tape("blue", timedelta(days=3))
    put = masks.put_on(shop, tag, "C1 top", (), tape, insist="by hand")
    assert not isinstance(put, Refused), put
    clock.now = right + timedelta(hours=1)
    doubted = "when the tape went on is in doubt"
    assert [x.say for x in day(shop).loops if "tape" in x.say] == [doubted]
    *_, asked = time_questions(shop)
    assert isinstance(say_time(shop, asked.last.id, "40 min ago"), Done)
    assert [x.say for x in day(shop).loops if "tape" in x.say] == []
    clock.pass_time(days=4)
    assert [x.say for x in day(shop).loops if "tape" in x.say] == ["tape is over its rating"]
