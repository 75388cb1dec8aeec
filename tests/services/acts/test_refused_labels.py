"""What is asked of a part is asked of no home, of no strange label and for no strange reason."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.outcomes import Outcome, Refused, Tone
from partsbench.services.acts import sending, tries
from partsbench.services.heard import wall
from partsbench.services.known.identify import identify
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.shops import code, heron
from tests.support.steps import bring


def test_a_face_is_sent_back_for_a_reason_of_the_wall_only(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    bring(shop, clock, piece.tag, "D1", "sand_400")
    before = shop.book.newest()
    for text, why in (("D1", "just so"), ("D99", "run or sag"), ("H1", "run or sag")):
        label = str(piece.home_code(1)) if text == "H1" else text
        said = sending.send_back_for(shop, label, why, here=piece.tag)
        assert isinstance(said, Refused) or not said.recorded, said
    assert shop.book.newest() == before


def test_a_home_is_not_tried(shop: Shop) -> None:
    piece = heron(shop)
    said = tries.say_tried(shop, str(piece.home_code(1)), None, True, here=piece.tag)
    assert said == Refused("That is the label of a home; scan the part that was tried.")


def test_a_label_of_a_generation_that_was_never_printed_is_told(shop: Shop) -> None:
    piece = heron(shop)
    part = piece.part("D1")
    assert part is not None
    label = str(replace(piece.code(part), generation="K"))
    said = identify(shop, label, piece.tag)
    assert isinstance(said, Outcome) and said.tone is Tone.UNKNOWN
    assert said.sentence == f"{label}: no such label of Heron D1 was printed."
    assert identify(shop, code(piece, "D1"), piece.tag) != said


def test_sheets_for_the_wall_are_made_on_a_paper_that_there_is(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    bring(shop, clock, piece.tag, "D1", "colour_1")
    no_paper = Refused("There is no paper “foolscap”; there are a4 and letter.")
    assert wall.verb_sheet(shop, "foolscap") == no_paper
    assert wall.day_sheet(shop, paper="foolscap") == no_paper
    assert isinstance(wall.tally_strip(shop, 9), Refused)
    from partsbench.services.acts import loads

    loads.start(shop, piece.tag)
    assert wall.tally_strip(shop, 1, paper="foolscap") == no_paper
    assert isinstance(wall.tally_strip(shop, 1), bytes)
