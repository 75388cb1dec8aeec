"""Tape on the seams of a carcase: the order face by face, and what keeps it on."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.finish.masks import MaskState
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import STILL_TO_COME
from partsbench.services.acts import bench, masks
from partsbench.services.acts.history import undo
from partsbench.services.acts.masks import SeamLine
from partsbench.services.known import facts
from partsbench.services.known.state import part_state
from partsbench.services.rules.marking import Tape
from partsbench.services.shop import Shop
from tests.support.at_bench import insist, record
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made
from tests.support.steps import bring

PAINTED = ["C1 rails", "C1 left side", "C1 right side", "C1 back", "C1 base"]


@pytest.fixture
def tag(shop: Shop) -> str:
    """A chest whose carcase has a stained top; everything else of it is painted."""
    piece = lay_out(shop, "Heron", "2", height=300, paths=[("stain", ["C1 top"]),
                                                           ("paint", PAINTED)])  # fmt: skip
    facts.say(shop, made(piece).tag, "conditioner", "none")
    return made(piece).tag


def next_step(shop: Shop, tag: str, face: str) -> str:
    piece = shop.piece(tag)
    assert piece is not None
    state = part_state(shop, piece, piece.part("C1"))  # type: ignore[arg-type]
    found = next(f for f in state.faces if f.name == face).progress.next
    return found.key if found else ""


def test_seams_are_found_with_their_length(shop: Shop, tag: str) -> None:
    found = {frozenset((str(s.a), str(s.b))): s.length_mm for s in masks.seams(shop, tag)}
    assert found[frozenset(("C1 rails", "C1 top"))] == 900
    assert found[frozenset(("C1 left side", "C1 top"))] == 450
    assert len(found) == 4
    assert masks.metres(masks.seams(shop, tag)) == pytest.approx(2 * (0.9 + 0.45))
    facts.say(shop, tag, "depth mm", "520")
    assert masks.metres(masks.seams(shop, tag)) == pytest.approx(2 * (0.9 + 0.52))


def test_seams_without_need_of_tape_are_counted_apart() -> None:
    def line(state: MaskState) -> SeamLine:
        return SeamLine("C1 rails", "C1 top", 900, state)

    wanted, bare = line(MaskState.UNKNOWN), line(MaskState.NOT_NEEDED)
    assert masks.summary([wanted]) == "1 seam to tape, 0.9 m"
    assert masks.summary([wanted, bare, wanted]) == "2 seams to tape, 1.8 m; 1 needs no tape"
    assert masks.summary([bare, bare]) == "2 seams; no tape is needed"


def test_the_painted_side_is_not_masked_before_the_stain_is_done(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "C1", "sand_150", face="rails")
    record(shop, "C1", here=tag, face="rails")
    assert next_step(shop, tag, "rails") == "mask"
    seen = bench.look(shop, "C1", here=tag, face="rails")
    assert (seen.answer, seen.held) == (Answer.STOP, ("the other side first",))
    assert seen.because.startswith("C1 top is finished first")
    # The part as a whole goes on with the side that is due.
    assert bench.look(shop, "C1", here=tag).answer in (Answer.GO, Answer.WAIT)


def test_masking_the_stained_side_settles_the_painted_ones(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    for face in ("rails", "left side", "right side", "back", "base"):
        bring(shop, clock, tag, "C1", "sand_150", face=face)
        record(shop, "C1", here=tag, face=face)
    bring(shop, clock, tag, "C1", "mask", face="top")
    said = record(shop, "C1", here=tag, face="top")
    assert said.recorded
    assert {next_step(shop, tag, f) for f in ("rails", "left side", "back")} == {"colour_1"}
    (mask,) = masks.on_now(shop, tag)
    assert mask.covers == Spot("C1", "top")
    assert set(map(str, mask.against)) == {"C1 rails", "C1 left side", "C1 right side", "C1 back"}
    row = shop.book.row("SELECT covers, against FROM mask")
    assert row is not None and row["covers"] == "C1 top", "a row of the book is text"
    assert set(json.loads(row["against"])) == set(map(str, mask.against))
    assert {s.state for s in masks.seams(shop, tag)} == {MaskState.MASKED}
    undo(shop)
    assert masks.on_now(shop, tag) == []
    assert next_step(shop, tag, "rails") == "mask"


def masked(shop: Shop, clock: SetClock, tag: str) -> None:
    bring(shop, clock, tag, "C1", "mask", face="top")
    record(shop, "C1", here=tag, face="top")


def test_the_painted_sides_own_masking_puts_no_tape_on_wet_stain_either(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "C1", "sand_150", face="rails")
    bring(shop, clock, tag, "C1", "wipe", face="top")
    record(shop, "C1", here=tag, face="top")
    wiped = clock.now
    clock.pass_time(minutes=2)
    record(shop, "C1", here=tag, face="rails")
    said = record(shop, "C1", here=tag, face="rails", step="mask")
    assert (said.answer, said.recorded, said.held) == (Answer.WAIT, False, ("tape too soon",))
    assert said.until == wiped + timedelta(hours=24)
    assert said.because == "C1 top: Wipe off the stain first needs 24 h"
    assert masks.on_now(shop, tag) == []
    clock.now = wiped + timedelta(hours=24)
    assert record(shop, "C1", here=tag, face="rails", step="mask").recorded


def test_a_stain_that_a_wrong_clock_timed_gets_no_tape_from_the_painted_side_either(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "C1", "sand_150", face="rails")
    bring(shop, clock, tag, "C1", "wipe", face="top")
    right = clock.now
    clock.now = datetime(2000, 1, 1, tzinfo=UTC)
    assert insist(shop, "C1", here=tag, face="top").recorded
    clock.now = right + timedelta(minutes=2)
    record(shop, "C1", here=tag, face="rails")
    said = record(shop, "C1", here=tag, face="rails", step="mask")
    assert (said.answer, said.recorded, said.held) == (Answer.STOP, False, ("time in doubt",))
    assert said.because.startswith("C1 top, Wipe off the stain: it is noted for Sat 01 Jan 2000")


def test_tape_on_wet_stain_waits(shop: Shop, clock: SetClock, tag: str) -> None:
    bring(shop, clock, tag, "C1", "wipe", face="top")
    record(shop, "C1", here=tag, face="top")
    clock.pass_time(hours=5)
    said = masks.put_on(shop, tag, "C1 top")
    assert isinstance(said, Outcome)
    assert (said.answer, said.recorded, said.held) == (Answer.WAIT, False, ("tape too soon",))
    assert said.until is not None
    assert said.until - clock.now == timedelta(hours=19)
    assert "Brush line or reverse mask? Tape on C1 top: from " in said.because
    assert (
        "Reverse mask, tape on C1 rails, C1 back, C1 left side, C1 right side: now" in said.because
    ), "nothing is on the rails yet"
    asked = masks.lines(shop, tag, "C1 top")
    assert isinstance(asked, list) and any("Brush line along C1 rails, " in way for way in asked)
    look = bench.look(shop, "C1", here=tag, face="top")
    assert look.step == "mask" and look.answer is Answer.WAIT
    assert any(w.startswith("brush line or reverse mask:") for w in look.warnings)
    kept = masks.put_on(shop, tag, "C1 top", insist="tried")
    assert isinstance(kept, Outcome) and kept.recorded
    assert shop.book.row("SELECT count(*) FROM insisted")[0] == 1


def test_the_tape_stays_on_while_a_coat_that_it_is_on_for_is_to_come(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    masked(shop, clock, tag)
    seen = bench.look(shop, "C1", here=tag, face="top")
    assert (seen.step, seen.answer, seen.held) == ("unmask", Answer.STOP,
                                                   ("masked-for coat to come",))  # fmt: skip
    said = masks.take_off(shop, tag, "C1 top")
    assert isinstance(said, Outcome)
    assert (said.answer, said.recorded) == (Answer.STOP, False)
    assert "is to come" in said.because


def test_colour_waits_for_an_answer_about_each_neighbour(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "C1", "sand_150", face="rails")
    record(shop, "C1", here=tag, face="rails")
    assert record(shop, "C1", here=tag, face="rails", insist="done earlier").recorded
    (mask,) = masks.on_now(shop, tag)
    masks.take_off(shop, tag, mask.covers, insist="tried")
    seen = bench.look(shop, "C1", here=tag, face="rails")
    assert (seen.step, seen.held) == ("colour_1", ("neighbour's mask not known",))
    assert isinstance(masks.not_needed(shop, tag, "C1 rails"), Done)
    assert bench.look(shop, "C1", here=tag, face="rails").answer is Answer.GO


def test_a_brush_line_makes_masking_needless(shop: Shop, clock: SetClock, tag: str) -> None:
    masks.not_needed(shop, tag, "c1 TOP", ["c1 rails"])
    assert next_step(shop, tag, "top") == "wash"
    lines = {frozenset((str(s.a), str(s.b))): s.state for s in masks.seams(shop, tag)}
    # Only the stained side was spoken of: the rails still want an answer of their own.
    assert lines[frozenset(("C1 rails", "C1 top"))] is MaskState.UNKNOWN
    masks.not_needed(shop, tag, "C1 rails", ["C1 top"])
    lines = {frozenset((str(s.a), str(s.b))): s.state for s in masks.seams(shop, tag)}
    assert lines[frozenset(("C1 rails", "C1 top"))] is MaskState.NOT_NEEDED
    refused = masks.not_needed(shop, tag, "C1 rails", ["C1 base"])
    assert isinstance(refused, Refused)


def test_tape_over_its_rating_stands_among_the_open_loops(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    from partsbench.services.shown.day import day

    bring(shop, clock, tag, "C1", "mask", face="top")
    masks.put_on(shop, tag, "C1 top", tape=Tape("green", timedelta(days=7)))
    clock.pass_time(days=6)
    assert not any("rating" in x.say for x in day(shop, tags=[tag]).loops)
    clock.pass_time(days=2)
    assert any("rating" in x.say for x in day(shop, tags=[tag]).loops)


def test_the_whole_order_of_a_seam(shop: Shop, clock: SetClock, tag: str) -> None:
    """Stain, mask, colour, tinted topcoat, unmask, touch-up, dry, clear: told from the marks."""
    for face in ("rails", "left side", "right side", "back", "base"):
        bring(shop, clock, tag, "C1", "sand_150", face=face)
        record(shop, "C1", here=tag, face=face)
    masked(shop, clock, tag)
    for face in ("rails", "left side", "right side", "back"):
        bring(shop, clock, tag, "C1", "unmask", face=face)
    assert record(shop, "C1", here=tag, face="rails").recorded
    assert masks.on_now(shop, tag) == []
    assert next_step(shop, tag, "top") == "touch_up"
    assert {next_step(shop, tag, f) for f in ("rails", "left side", "back")} == {""}
    record(shop, "C1", here=tag, face="top")
    seen = bench.look(shop, "C1", here=tag, face="top")
    assert (seen.step, seen.answer) == ("clear_1", Answer.WAIT if not seen.held else seen.answer)
    assert "neighbour's mask not known" in seen.held
    masks.not_needed(shop, tag, "C1 top")
    seen = bench.look(shop, "C1", here=tag, face="top")
    assert seen.answer is Answer.WAIT
    assert seen.until is not None
    assert seen.until - clock.now == timedelta(hours=72)
    order = [r["step"] for r in shop.book.rows(
        "SELECT step FROM finish_history WHERE step IN "
        "('stain', 'mask', 'colour_1', 'topcoat_1', 'unmask', 'touch_up')")]  # fmt: skip
    seen_once = list(dict.fromkeys(order))
    assert seen_once == ["stain", "mask", "colour_1", "topcoat_1", "unmask", "touch_up"]


def test_with_and_without_a_seal_coat_is_compared_in_hours(shop: Shop, tag: str) -> None:
    bare, sealed = masks.ways(shop, tag, "C1 top")  # type: ignore[misc]
    assert (bare.wait, sealed.wait) == (timedelta(hours=24), timedelta(hours=48))
    assert "lift" in bare.sentence and "less lifting" in sealed.sentence


@pytest.mark.parametrize("asked", ["C1 lid", "C9 top", "", "hello there"])
def test_a_face_that_is_not_there_is_told(shop: Shop, tag: str, asked: str) -> None:
    assert isinstance(masks.put_on(shop, tag, asked), Refused)
    assert isinstance(masks.take_off(shop, tag, asked), Refused)


def test_tones_of_refusals(shop: Shop, clock: SetClock, tag: str) -> None:
    masked(shop, clock, tag)
    said = masks.take_off(shop, tag, "C1 top")
    assert isinstance(said, Outcome)
    assert said.tone is Tone.REFUSED


def test_tape_comes_off_when_the_film_on_its_other_side_has_set(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """The top has nothing wet on it; the rails beside the same tape got their last coat."""
    painted = ("rails", "left side", "right side", "back", "base")
    for face in painted:
        bring(shop, clock, tag, "C1", "sand_150", face=face)
        record(shop, "C1", here=tag, face=face)
    bring(shop, clock, tag, "C1", "mask", face="top")
    record(shop, "C1", here=tag, face="top")
    for face in painted:
        bring(shop, clock, tag, "C1", "topcoat_2", face=face)
    for face in painted:
        record(shop, "C1", here=tag, face=face)
    coated = clock.now
    clock.pass_time(minutes=1)
    for face in ("top", "rails"):
        seen = bench.look(shop, "C1", here=tag, face=face)
        assert (seen.step, seen.answer) == ("unmask", Answer.WAIT), face
        assert seen.until == coated + timedelta(hours=1)
    assert bench.look(shop, "C1", here=tag, face="top").held == ("tape not to come off yet",)
    early = masks.take_off(shop, tag, "C1 top")
    assert isinstance(early, Outcome)
    assert (early.recorded, early.held) == (False, ("tape not to come off yet",))
    assert "Tinted topcoat 2, thin first needs 1 h" in early.because
    clock.now = coated + timedelta(hours=1)
    assert bench.look(shop, "C1", here=tag, face="top").answer is Answer.GO
    done = masks.take_off(shop, tag, "C1 top")
    assert isinstance(done, Outcome) and done.recorded


def test_tape_of_a_time_to_come_and_tape_that_is_not_there(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    later = clock.now + timedelta(hours=1)
    before = shop.book.newest()
    assert masks.put_on(shop, tag, "C1 top", at=later) == Refused(STILL_TO_COME)
    assert masks.take_off(shop, tag, "C1 top", at=later) == Refused(STILL_TO_COME)
    assert masks.take_off(shop, tag, "C1 top") == Refused("No tape is on C1 top.")
    for asked in ("C1 lid", "C9 top"):
        assert isinstance(masks.ways(shop, tag, asked), Refused)
        assert isinstance(masks.lines(shop, tag, asked), Refused)
        assert isinstance(masks.not_needed(shop, tag, asked), Refused)
    assert shop.book.newest() == before


def test_tape_against_a_face_of_another_part_is_kept_with_both(shop: Shop, clock: SetClock) -> None:
    """The loose top lies on the carcase: its front edge is taped against the painted rails."""
    piece = made(lay_out(shop, "Rill", "2", top=True, paths=[("stain", ["top"]),
                                                             ("paint", PAINTED)]))  # fmt: skip
    said = masks.put_on(shop, piece.tag, "T1 front edge", ["C1 rails"])
    assert isinstance(said, Outcome) and said.recorded, said
    (mask,) = masks.on_now(shop, piece.tag)
    assert (mask.covers, list(map(str, mask.against))) == (Spot("T1", "front edge"), ["C1 rails"])
    for strange in ("Q9 front", "C1 lid"):
        refused = masks.put_on(shop, piece.tag, "T1 front edge", [strange])
        assert isinstance(refused, Refused), refused
