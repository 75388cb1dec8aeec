from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pypdfium2
import pytest

from partsbench.core.piece.drawing import ShapeKind, elevation
from partsbench.core.piece.piece import Piece, home_words
from partsbench.core.piece.teardown import label_order
from partsbench.paper.drawing import ShapeLook
from partsbench.paper.proof import (
    Back,
    ProofContent,
    ProofFace,
    ProofPart,
    client_copy,
    client_verdict,
    face_lines,
    proof_marks,
    reservations,
    verdict,
)
from partsbench.paper.proof_sheet import proof_sheet, told_time
from tests.support.paper import heron, many_drawers, page_count, pages, text_of, with_a_door

NOON = datetime(2026, 11, 24, 12, 5)  # noqa: DTZ001 - a proof prints the shop's own time


def proof(piece: Piece, **changed: ProofPart | dict[str, object]) -> ProofContent:
    """All home and scanned, but for the parts named with their changes."""
    parts = []
    for part in label_order(piece):
        stays = part.home.kind.value == "stays"
        listed = ProofPart(
            part.short,
            part.name,
            home_words(piece, part),
            Back.STAYS if stays else Back.HOME,
            how="scanned with its home",
            when=NOON,
            who="Ann",
        )
        change = changed.get(part.short, {})
        assert isinstance(change, dict)
        parts.append(replace(listed, **change))
    return ProofContent(
        piece.codename, piece.tag, elevation(piece), NOON, "Ann", tuple(parts), piece.title
    )


def words(content: ProofContent, **options: object) -> str:
    """The words of the sheet with line breaks as spaces."""
    return " ".join(text_of(proof_sheet(content, **options)).split())  # type: ignore[arg-type]


def test_all_home_is_complete() -> None:
    content = proof(heron())
    assert verdict(content) == (True, "COMPLETE: all 27 parts are home.")
    assert reservations(content) == []


def test_many_that_are_missing_for_one_reason_are_drawn_together() -> None:
    out = {"back": Back.MISSING, "why": "is out"}
    content = proof(heron(), D1=out, D2=out, D3=out, D5={**out, "why": "last seen at rack 2"})
    _, sentence = verdict(content)
    assert sentence.endswith("not home: D1–D3 (is out); D5 last seen at rack 2.")


def test_what_is_missing_is_named() -> None:
    content = proof(heron(), D5={"back": Back.MISSING, "why": "last seen at rack 2"})
    complete, sentence = verdict(content)
    assert not complete
    assert sentence == "NOT COMPLETE: 1 of 27 not home: D5 last seen at rack 2."
    told = words(content)
    assert sentence in told
    assert "NOT HOME" in told
    assert "COMPLETE: all" not in told


def test_elimination_is_said_in_the_verdict_and_by_name() -> None:
    content = proof(heron(), D1={"eliminated": True}, L1={"eliminated": True})
    assert verdict(content)[1] == (
        "COMPLETE: all 27 parts are home, 2 of them told by elimination, not scanned."
    )
    assert reservations(content) == ["Told by elimination, not scanned: D1, L1."]
    assert "home, told by elimination" in words(content), "the legend of the drawing"


def test_open_fits_unfinished_faces_and_holds_are_said() -> None:
    front = ProofFace("front", "paint", "scuff sand", NOON, "Ann", next="topcoat 2")
    pushed = ProofFace("front", "stain", "stain", NOON, "Ann", insisted=True)
    content = proof(
        heron(),
        D2={"fit": "tight", "fit_open": True},
        D3={"faces": (front,)},
        D4={"faces": (pushed,)},
    )
    assert reservations(replace(content, notes=("Made from a copy.",))) == [
        "Fit still open: D2 tight.",
        "Faces not finished on: D3.",
        "Last step recorded against a hold on: D4.",
        "Made from a copy.",
    ]
    told = words(content)
    assert (
        "front (paint): scuff sand, 24 Nov 2026, 12:05, Ann; NOT FINISHED, next: topcoat 2" in told
    )
    assert "front (stain): stain, 24 Nov 2026, 12:05, Ann, against a hold" in told


def test_a_piece_of_which_nothing_comes_off_proves_nothing() -> None:
    content = replace(proof(heron()), parts=())
    assert verdict(content) == (False, "NOTHING TO PROVE: no part of this piece comes off.")


def test_every_part_stands_on_the_sheet_with_home_way_time_and_person() -> None:
    told = words(proof(heron(), D4={"fit": "runs free"}))
    for part in label_order(heron()):
        assert f" {part.short} " in told
    assert "D4 row 2, right scanned with its home 24 Nov 2026, 12:05, Ann runs free" in told
    assert "made 24 Nov 2026, 12:05 by Ann" in told
    assert "Checked and handed over: name, signature, date" in told
    assert "Received: name, signature, date" in told


def test_homes_are_ticked_doubted_or_crossed_in_the_drawing() -> None:
    content = proof(
        heron(),
        D1={"eliminated": True},
        D5={"back": Back.MISSING},
        P1={"back": Back.MISSING},
    )
    looks = {m.shape.part: m.look for m in proof_marks(content)}
    assert looks["D1"] is ShapeLook.DOUBTED
    assert looks["D2"] is ShapeLook.TICKED
    assert looks["D5"] is ShapeLook.CROSSED
    assert looks["P1"] is ShapeLook.CROSSED
    assert "P2" not in looks, "a pull that is home needs no tick of its own"
    assert "C1" not in looks, "the carcase never left"


def test_a_client_copy_tells_neither_name_nor_place_of_a_hidden_part() -> None:
    content = proof(with_a_door(), D6={"hidden": True}, P6={"hidden": True})
    assert "D6" in words(content)
    copy = words(content, for_client=True)
    assert "D6" not in copy
    assert "P6" not in copy
    assert "D6" not in {s.part for s in client_copy(content).drawing.shapes}


def test_a_hidden_part_that_is_missing_is_counted_without_its_name() -> None:
    content = proof(heron(), D6={"hidden": True, "back": Back.MISSING, "why": "is out"})
    assert verdict(client_copy(content)) == (
        False,
        "NOT COMPLETE: 1 of 27 not home: 1 not listed here.",
    )


def test_faces_that_got_the_same_share_a_line() -> None:
    front = ProofFace("front", "paint", "topcoat", NOON, "Ann")
    lines = face_lines(
        [front, replace(front, name="top edge"), replace(front, name="side", last="")]
    )
    assert [names for names, _ in lines] == ["front, top edge", "side"]


def test_a_long_proof_runs_on_with_the_head_of_its_table() -> None:
    pdf = proof_sheet(proof(many_drawers()))
    count = page_count(pdf)
    told = text_of(pdf)
    assert count > 3
    assert told.count("how it was told") == count
    assert f"page {count} of {count}" in told
    for page in pages(pdf, 60):
        assert (page < 128).any()


def words_by_page(pdf: bytes) -> list[str]:
    with pypdfium2.PdfDocument(pdf) as document:
        return [page.get_textpage().get_text_range() for page in document]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("shown", range(1, 60))
def test_nobody_signs_a_page_without_parts(paper: str, shown: int) -> None:
    """Of whatever length the table is, the signatures stand under rows of it, and once."""
    content = proof(many_drawers())
    content = replace(content, parts=content.parts[:shown])
    told = words_by_page(proof_sheet(content, paper))
    signed = [page for page in told if "Received: name, signature, date" in page]
    assert signed == [told[-1]]
    assert "It tests nothing by itself" in told[-1]
    assert "scanned with its home" in told[-1]
    assert [sum(page.count("scanned with its home") for page in told)] == [shown]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_runs_off_the_page(paper: str) -> None:
    long = {"why": "last seen at the far end of the upper rack " * 3, "back": Back.MISSING}
    name = {"name": "a name that nobody would give a drawer " * 4, "fit": "sticks " * 9}
    content = proof(many_drawers(), D5=long, D6=name)
    content = replace(content, codename="Magnificent " * 12, title="title " * 30)
    for page in pages(proof_sheet(content, paper), 100):
        ink = page < 250
        margin = round(12 / 25.4 * 100)
        assert not ink[:margin].any()
        assert not ink[-margin:].any()
        assert not ink[:, :margin].any()
        assert not ink[:, -margin:].any()


def test_the_same_proof_makes_the_same_bytes() -> None:
    assert proof_sheet(proof(heron())) == proof_sheet(proof(heron()))


def test_a_codename_that_cannot_be_printed_leaves_the_tag() -> None:
    told = words(replace(proof(heron()), codename="鷺"))
    assert "?" not in told
    assert "K7Q4 · proof of return" in told


def test_times_are_told_in_one_way_everywhere() -> None:
    assert told_time(NOON) == "24 Nov 2026, 12:05"


def test_a_door_keeps_room_for_its_own_mark_beside_what_it_hides() -> None:
    content = proof(with_a_door())
    marks = {m.shape.part: m.shape for m in proof_marks(content)}
    door = marks["G1"]
    behind = [marks[s.part] for s in content.drawing.of_kind(ShapeKind.HIDDEN)]
    assert behind
    assert all(hidden.x >= door.x + door.width for hidden in behind)
    as_drawn = {s.part: s for s in content.drawing.shapes}
    assert all(h.x + h.width <= as_drawn["G1"].x + as_drawn["G1"].width for h in behind)
    assert marks["D1"] == as_drawn["D1"]


def test_the_client_is_spoken_to_and_told_no_less() -> None:
    content = proof(heron())
    told = words(content, for_client=True)
    assert "Your piece, part by part" in told
    assert "Complete: all 27 parts are back in place." in told
    assert "Each went back to the place that it had worn into." in told
    assert "should a part ever come out" in told
    assert "it tests nothing by itself" in told
    assert "Your piece" not in words(content)


@pytest.mark.parametrize(
    "change",
    [{"back": Back.MISSING, "why": "is out"}, {"eliminated": True}],
    ids=["missing", "eliminated"],
)
def test_to_the_client_nothing_is_called_complete_that_the_verdict_qualifies(
    change: dict[str, object],
) -> None:
    content = proof(heron(), D5=change)
    assert client_verdict(content) == ""
    told = words(content, for_client=True)
    assert verdict(content)[1] in told
    assert "went back to the place" not in told
    assert client_verdict(replace(proof(heron()), unlisted_away=1)) == ""
