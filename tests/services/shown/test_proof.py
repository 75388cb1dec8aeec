from __future__ import annotations

from pathlib import Path

import pypdfium2

from partsbench.core.outcomes import Done, Refused
from partsbench.paper.proof import Back, ProofContent, ProofPart, verdict
from partsbench.services.acts.bench import send_back
from partsbench.services.acts.history import history, undo
from partsbench.services.acts.returning import FitResult, bring_home, by_elimination, record_fit
from partsbench.services.acts.teardown import stays_in, take_out
from partsbench.services.books.pieces import edit_part
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown.proof import (
    hand_out,
    make_proof,
    proof_content,
    save_proof,
    was_handed_out,
)
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron, made, quill


def content_of(shop: Shop, tag: str) -> ProofContent:
    piece = shop.piece(tag)
    assert piece is not None
    return proof_content(shop, piece_state(shop, piece))


def part_of(shop: Shop, tag: str, short: str) -> ProofPart:
    return next(p for p in content_of(shop, tag).parts if p.short == short)


def text_of(pdf: bytes) -> str:
    """The words on every page, read by pdfium."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return " ".join(page.get_textpage().get_text_bounded() for page in document)
    finally:
        document.close()


def test_a_part_brought_home_says_how_when_and_by_whom(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1", "D2"])
    bring_home(shop, piece.tag, "D1", "H1")
    told = part_of(shop, piece.tag, "D1")
    assert (told.back, told.how, told.who) == (Back.HOME, "scanned with its home", "Wren")
    assert told.when == clock.now
    assert told.home == "H1, row 1, left"


def test_what_is_out_is_named_missing_in_the_verdict(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"])
    complete, sentence = verdict(content_of(shop, piece.tag))
    assert not complete
    assert "D1 is out" in sentence


def test_a_complete_piece_says_what_was_only_eliminated(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, [f"D{n}" for n in range(1, 8)])
    for number in range(2, 8):
        bring_home(shop, piece.tag, f"D{number}")
    by_elimination(shop, piece.tag)
    complete, sentence = verdict(content_of(shop, piece.tag))
    assert complete
    assert "told by elimination" in sentence
    assert part_of(shop, piece.tag, "P1").eliminated


def test_a_pull_that_rode_with_its_drawer_says_so(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"])
    bring_home(shop, piece.tag, "D1")
    assert part_of(shop, piece.tag, "P1").how == "with D1"


def test_what_never_came_out_and_what_was_told_to_stay(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"])
    stays_in(shop, piece.tag, "D2")
    assert part_of(shop, piece.tag, "L1").how == "not taken out"
    assert part_of(shop, piece.tag, "D2").how == "stays in"
    assert part_of(shop, piece.tag, "C1").back is Back.STAYS


def test_each_face_with_its_last_step_and_what_it_waits_for(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    record(shop, "D1", here=piece.tag, face="front")
    send_back(shop, "D1", "wash", "grease", here=piece.tag, face="front")
    faces = {f.name: f for f in part_of(shop, piece.tag, "D1").faces}
    assert (faces["top edge"].last, faces["top edge"].who) == ("washed", "Wren")
    assert faces["top edge"].next == "Rinse with clear water"
    assert faces["front"].last == "sent back to Wash"
    assert "back" not in faces


def test_a_fit_that_wants_work_is_told_as_open(shop: Shop) -> None:
    piece = heron(shop)
    record_fit(shop, piece.tag, "D1", FitResult.WAX)
    record_fit(shop, piece.tag, "D2", FitResult.FREE)
    assert part_of(shop, piece.tag, "D1").fit_open
    assert not part_of(shop, piece.tag, "D2").fit_open


def test_an_equal_leg_is_at_the_corner_it_was_given(shop: Shop) -> None:
    piece = heron(shop, equal_legs=True)
    take_out(shop, piece.tag, ["L1", "L2", "L3", "L4"])
    bring_home(shop, piece.tag, "L1", "H9")
    assert part_of(shop, piece.tag, "L1").home == "H9, front right corner"


def test_the_sheet_names_every_part_and_leaves_secrets_off_a_clients_copy(shop: Shop) -> None:
    piece = heron(shop)
    made(edit_part(shop, piece.tag, "D4", name="secret till", hidden=True))
    whole, client = (make_proof(shop, piece.tag, with_hidden=w) for w in (True, False))
    assert isinstance(whole, bytes) and isinstance(client, bytes)
    assert "secret till" in text_of(whole)
    assert "Heron" in text_of(client)
    assert "secret till" not in text_of(client)
    assert part_of(shop, piece.tag, "P4").hidden


def test_it_is_written_to_a_file_or_said_why_not(shop: Shop, tmp_path: Path) -> None:
    piece = heron(shop)
    target = tmp_path / "proof.pdf"
    assert isinstance(save_proof(shop, piece.tag, target), Done)
    assert target.read_bytes().startswith(b"%PDF")
    assert isinstance(save_proof(shop, piece.tag, tmp_path / "no" / "proof.pdf"), Refused)


def test_no_piece_and_no_paper_are_refused(shop: Shop) -> None:
    piece = heron(shop)
    assert isinstance(make_proof(shop, "ZZZ9"), Refused)
    assert isinstance(make_proof(shop, piece.tag, paper="napkin"), Refused)


def test_what_was_handed_out_stands_in_the_history_and_takes_no_undo(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    before = len(history(shop))
    assert isinstance(hand_out(shop, piece.tag), Done)
    assert was_handed_out(shop, piece)
    assert not was_handed_out(shop, other)
    assert history(shop, piece.tag)[0].sentence == "Heron: proof sheet handed out"
    assert len(history(shop)) == before + 1
    undone = undo(shop)
    assert isinstance(undone, Done) and "Quill" in undone.sentence
    assert isinstance(hand_out(shop, "ZZZ9"), Refused)
