"""The whole finish of a nine-opening piece by scanner alone, with what goes wrong in a shop."""

from __future__ import annotations

from pathlib import Path

import pytest

from partsbench.core.finish.cups import Poured
from partsbench.core.finish.steps import Operation
from partsbench.core.outcomes import Answer, Refused, Tone
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.services.acts import history, loads
from partsbench.services.books import restart
from partsbench.services.known import climate, facts, people
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from tests.support.clock import SetClock
from tests.support.evening import Worker
from tests.support.finishing import stragglers_of
from tests.support.replay import replayed, rows
from tests.support.shops import lay_out, made, shop_at

DRAWERS = [f"D{n}" for n in range(1, 10)]
PAINTED = ["D1", "D2", "D3", "D7", "D8", "D9", "legs", "C1 rails", "C1 left side", "C1 right side"]


def nine_openings(shop: Shop) -> Piece:
    """Nine drawers in three rows: top and middle stained, body and sides painted."""
    piece = made(
        lay_out(shop, "Heron", "3 3 3", legs=4, top=True, height=900,
                paths=[("paint", PAINTED), ("stain", ["C1 top", "D4", "D5", "D6", "top"])])
    )  # fmt: skip
    facts.say(shop, piece.tag, "conditioner", "oil", ["D4", "D5", "D6"])
    facts.say(shop, piece.tag, "conditioner", "none", ["T1", "C1"])
    return piece


def cup(shop: Shop, name: str, tint: float = 0, product: str = "clear_water") -> int:
    made = cups.make(shop, name, [Poured(name, "17", 9), Poured("water", "", 1)], tint=tint,
                     thinned=10, strained=True, product=product)  # fmt: skip
    assert not isinstance(made, Refused)
    return made.number


def marks_of(worker: Worker, short: str, face: str = "front") -> list[str]:
    state = piece_state(worker.shop, shop_piece(worker.shop, worker.tag)).of(short)
    found = next(f for f in state.faces if f.name == face)
    return [f"{m.kind} {m.step}" for m in found.marks]


def until(worker: Worker, short: str, step: str, face: str = "front", most: int = 200) -> None:
    """Work on until a face has come to a step and may take it."""
    for _ in range(most):
        for group in worker.today().clocks:
            ready = group.said.answer is Answer.GO and group.step.key == step
            if ready and any(p.part.short == short and f.name == face for p, f in group.faces):
                return
        worker.work()
    clocks = [(g.where, g.step.key, g.said.answer, g.said.because) for g in worker.today().clocks]
    raise AssertionError(f"{short} {face} never came to {step}: {clocks}")


def taken_out(worker: Worker, shop: Shop) -> None:
    """Every part comes out and goes to the rack, by verb and place."""
    people.add_place(shop, "rack 1")
    for name in (*DRAWERS, "L1", "L2", "L3", "L4", "T1"):
        if worker.session.verb != "OUT":
            worker.verb("OUT")
        assert worker.part(name).recorded, worker.said[-1]
    worker.scan(people.place_code(people.places(shop)[0]))
    for name in DRAWERS:
        assert worker.part(name).recorded, worker.said[-1]
    worker.verb("VERB OFF")


def sanded_too_early(worker: Worker, clock: SetClock) -> None:
    """Wet wood is refused, shown and recorded alike, and then insisted upon with a reason."""
    until(worker, "D1", "rinse")
    worker.work()
    early = worker.part("D6")
    assert (early.answer, early.tone) == (Answer.WAIT, Tone.WAIT)
    clock.pass_time(minutes=1)
    assert worker.part("D6").tone is Tone.REFUSED
    worker.verb("INSIST")
    insisted = worker.reason("tried, it is ready")
    assert insisted.recorded, insisted
    assert "done sand_150" in marks_of(worker, "D6")


def window_missed(worker: Worker, clock: SetClock) -> None:
    """Conditioner on a middle drawer, and then a telephone call."""
    until(worker, "D5", "condition")
    worker.verb("CONDITIONED")
    worker.part("D5")
    clock.pass_time(minutes=6)
    worker.verb("WIPED")
    assert worker.part("D5").recorded, worker.said[-1]
    worker.verb("VERB OFF")
    clock.pass_time(minutes=31)
    late = worker.part("D5")
    assert (late.answer, late.recover) == (Answer.LATE, "condition")
    worker.verb("SENT BACK")
    worker.reason("missed window")
    assert worker.part("D5").recorded
    worker.verb("VERB OFF")
    assert "sent_back condition" in marks_of(worker, "D5")
    assert "sent_back sand_150" not in marks_of(worker, "D5")


def load_runs_dry(worker: Worker, shop: Shop) -> None:
    """The second coat of colour: all except two, which come first in the next load."""
    worker.cups[Operation.COLOUR] = cup(shop, "deep blue", product="paint_water")
    until(worker, "D9", "colour_2")
    worker.cup(worker.cups[Operation.COLOUR])
    proposed = worker.verb("NEXT LOAD").sentence
    assert "D7–D9" in proposed
    worker.verb("ALL EXCEPT 2")
    worker.part("D8")
    partial = worker.part("D9")
    assert partial.recorded, partial
    assert "all except D8, D9" in partial.sentence
    behind = {str(s.face) for s in stragglers_of(shop, worker.tag)}
    assert {"D8 front", "D9 front"} <= behind
    assert loads.propose(shop, worker.tag).names[:2] == (Spot("D8"), Spot("D9"))


def power_goes(worker: Worker, book_path: Path) -> Worker:
    """What was acknowledged is there, and it is asked what was done meanwhile."""
    before = rows(worker.shop.book)
    window = restart.window_opened(worker.shop)
    assert window is not None
    window.let_go()
    worker.shop.book.connection.close()
    worker.clock.pass_time(minutes=38)
    again = shop_at(book_path, worker.clock, "Wren")
    assert rows(again.book) == before
    gap = restart.after_restart(again)
    assert gap is not None
    assert "Anything done between" in restart.restart_words(gap)
    climate.note_power_cut(again, *gap, heating=True)
    restart.answer_restart(again, "nothing")
    assert restart.after_restart(again) is None
    worker.shop.book = again.book
    return Worker(again, worker.clock, worker.tag, worker.cups, worker.scans)


def run_goes_back(worker: Worker) -> None:
    """A run on the front of D1 goes back one coat, the front alone; its history stays."""
    until(worker, "D1", "sand_400")
    worker.verb("SENT BACK")
    worker.reason("run or sag")
    worker.face("front")
    assert worker.part("D1").recorded
    worker.verb("VERB OFF")
    assert marks_of(worker, "D1")[-1] == "sent_back sand_220"
    assert "done colour_2" in marks_of(worker, "D1")
    assert "sent_back sand_220" not in marks_of(worker, "D1", "top edge")


def wrong_cup(worker: Worker) -> None:
    """The tinted cup for the painted faces is refused on a stained drawer, before the trigger."""
    tinted = worker.cups[Operation.TOPCOAT] = cup(worker.shop, "tinted clear", tint=5)
    until(worker, "D4", "clear_1")
    worker.cup(tinted)
    refused = worker.part("D4")
    assert (refused.answer, refused.held) == (Answer.STOP, ("wrong cup",))
    assert "takes water-borne clear without tint" in refused.because
    worker.verb("VERB OFF")
    worker.cup(0)


def worked_to_the_end(worker: Worker) -> None:
    """The rest; clear ends at the seam with a brush line, which is said once."""
    for _ in range(400):
        today = worker.today()
        if not today.clocks:
            return
        if any(g.said.because.startswith("it is not known") for g in today.clocks):
            worker.verb("NO MASK NEEDED")
            worker.part("C1")
            worker.verb("VERB OFF")
        worker.work()


@pytest.mark.long
def test_a_whole_finish_by_scanner_with_all_that_goes_wrong(
    shop: Shop, clock: SetClock, book_path: Path, tmp_path: Path
) -> None:
    piece = nine_openings(shop)
    worker = Worker(shop, clock, piece.tag)
    taken_out(worker, shop)
    sanded_too_early(worker, clock)
    window_missed(worker, clock)
    load_runs_dry(worker, shop)
    worker = power_goes(worker, book_path)
    run_goes_back(worker)
    wrong_cup(worker)
    worked_to_the_end(worker)

    state = piece_state(worker.shop, shop_piece(worker.shop, piece.tag))
    left = [
        f"{s} {f.name}"
        for s, p in state.parts.items()
        for f in p.faces
        if f.path.steps and not f.progress.finished
    ]
    assert left == []
    assert worker.scans > 300
    book = worker.shop.book
    assert replayed(book, tmp_path / "again.partsbench") == rows(book)
    told = " ".join(e.sentence for e in history.history(worker.shop, piece.tag, limit=2000))
    for word in ("insisted", "sent back", "all except D8, D9", "masked", "unmasked"):
        assert word in told, word


def shop_piece(shop: Shop, tag: str) -> Piece:
    piece = shop.piece(tag)
    assert piece is not None
    return piece
