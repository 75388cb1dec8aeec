"""What the rules read of a face at the moment a step is about to be done on it."""

from __future__ import annotations

from partsbench.core.finish.masks import tape_off
from partsbench.core.finish.products import Ready
from partsbench.core.finish.situation import FaceFacts, Mixes, Room, Situation
from partsbench.core.finish.steps import Operation
from partsbench.core.piece.spot import WHOLE, Spot
from tests.support.faces import SHOP, at, face, path, step, through

PAINT = path("paint", "seam")
STAIN = path("stain", "seam", "old_finish")


def about(now, key: str, **known) -> Situation:
    return Situation(now, step(now.path, key), at("90 d"), SHOP, **known)


def test_what_nobody_said_of_a_face_is_not_taken_for_so() -> None:
    """But that it bleeds not: a rule asks for it only where it is known that nobody said."""
    plain = FaceFacts()
    assert plain.face == WHOLE
    assert plain.upright and plain.bleeds_said
    assert not any((plain.veneer, plain.bleeds, plain.silicone, plain.tested_patch,
                    plain.repairs_open, plain.sand_backs))  # fmt: skip
    assert not plain.old.cleared


def test_what_is_not_said_of_a_step_is_not_so_either() -> None:
    plain = about(face(PAINT), "wash")
    assert not (plain.wet or plain.confirmed or plain.coated or plain.stripped)
    assert plain.mixes == Mixes(None, (), ())
    assert plain.tape_opens is None and plain.tin is None
    assert Room(20, 50, 9.3).surface_c is None


def test_what_stands_on_the_face_is_told_oldest_first() -> None:
    coated = about(through(PAINT, "topcoat_1"), "sand_between_1")
    assert [f.key for f in coated.films] == ["colour_1", "colour_2", "colour_3", "topcoat_1"]
    assert coated.coated
    assert coated.path is PAINT
    product = about(through(PAINT, "colour_3"), "topcoat_1").product
    assert product is not None and product.key == "clear_water"


def test_a_sanding_is_the_last_one_that_stands() -> None:
    sanded = about(through(PAINT, "sand_400"), "colour_3").last_sanding
    assert sanded is not None and (sanded.key, sanded.operation) == ("sand_400", Operation.SAND)
    assert about(through(PAINT, "rinse"), "sand_150").last_sanding is None


def test_stripper_stands_until_the_face_is_sent_back_before_it() -> None:
    assert about(through(STAIN, "strip"), "scrape").stripped
    assert about(through(STAIN, "sand_150"), "sand_220").stripped
    assert not about(through(STAIN, "rinse"), "strip").stripped
    marks = [("wash", "0 h"), ("rinse", "1 h"), ("strip", "14 h"), ("back rinse", "15 h")]
    assert not about(face(STAIN, *marks), "rinse").stripped


def test_each_of_the_six_answers_is_its_own() -> None:
    dry = about(through(PAINT, "colour_1", "0 h"), "sand_220")
    assert [dry.ready(which).ready for which in Ready] == list(Ready)
    assert dry.ready(Ready.SAND).at == at("4 h")


def test_tape_opens_by_the_last_of_the_other_faces_where_that_is_later_than_its_own() -> None:
    """A topcoat sets in an hour."""
    windows = {Spot(short, "front"): tape_off(through(PAINT, "topcoat_2", when), SHOP)
               for short, when in (("D1", "5 h"), ("D2", "2 h"))}  # fmt: skip
    stained = through(path("stain", "seam"), "mask", "0 h")
    opens = about(stained, "unmask", tape=windows).tape_opens
    assert opens is not None
    assert (opens[0], opens[1].at) == (Spot("D1", "front"), at("6 h"))
    for own, later in (("4 h", True), ("5 h", False), ("6 h", False)):
        painted = through(PAINT, "topcoat_2", own)
        assert bool(about(painted, "unmask", tape=windows).tape_opens) is later, own
