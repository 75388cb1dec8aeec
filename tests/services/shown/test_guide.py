"""The first job by hand-holding: every step is told from the book, in the order of a job."""

from __future__ import annotations

import pytest

from partsbench.core.finish.old_finish import BARE
from partsbench.core.outcomes import Done
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import returning, teardown
from partsbench.services.books import pieces
from partsbench.services.known import old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop
from partsbench.services.shown import labels, proof
from partsbench.services.shown.guide import guide
from tests.support.at_bench import record


@pytest.fixture
def tag(shop: Shop) -> str:
    made = pieces.lay_out(shop, "Alder", "2 1")
    assert isinstance(made, Piece)
    return made.tag


def test_an_empty_book_begins_at_the_beginning(shop: Shop) -> None:
    step = guide(shop)
    assert (step.key, step.number, step.of, step.tag) == ("lay out", 1, 9, "")


def test_a_whole_job_goes_through_every_step_once_and_in_order(shop: Shop, tag: str) -> None:
    seen = [guide(shop)]
    old_finish.say(shop, tag, Saying(old=BARE))
    seen.append(guide(shop))
    pieces.give_path(shop, tag, "clear", ["D1 front", "D2 front", "D3 front"])
    seen.append(guide(shop))
    sheet = labels.make_sheet(shop, tag)
    assert isinstance(sheet, labels.Sheet)
    labels.hand_out(shop, sheet)
    seen.append(guide(shop))
    assert seen[-1].scans == ("D1", "D2", "D3")
    teardown.take_out(shop, tag, ["D1"])
    assert guide(shop).scans == ("D2", "D3"), "what is out lies no longer at hand"
    teardown.take_out(shop, tag, ["D2", "D3"])
    seen.append(guide(shop))
    record(shop, "D1", here=tag)
    seen.append(guide(shop))
    assert seen[-1].scans == ("H1", "H2", "H3", "D1", "D2", "D3")
    returning.bring_home(shop, tag, "D2", "H1")
    seen.append(guide(shop))
    for short, home in (("D1", "H1"), ("D2", "H2"), ("D3", "H3")):
        assert guide(shop).key == "home"
        returning.bring_home(shop, tag, short, home)
    seen.append(guide(shop))
    assert isinstance(proof.hand_out(shop, tag), Done)
    assert (guide(shop).key, guide(shop).number, guide(shop).of) == ("done", 0, 9)
    assert guide(shop).tag == tag
    assert [step.key for step in seen] == [
        "known", "path", "labels", "out", "step", "swap", "home", "proof",
    ]  # fmt: skip
    assert [step.number for step in seen] == list(range(2, 10))
    assert {step.tag for step in seen} == {tag}


def test_who_undoes_a_step_is_asked_for_it_again(shop: Shop, tag: str) -> None:
    from partsbench.services.acts.history import undo

    old_finish.say(shop, tag, Saying(old=BARE))
    assert guide(shop).key == "path"
    undo(shop)
    assert guide(shop).key == "known"


def test_a_proof_of_a_piece_that_is_not_whole_is_no_end_of_the_job(shop: Shop, tag: str) -> None:
    assert isinstance(proof.hand_out(shop, tag), Done)
    assert guide(shop).key == "known"
