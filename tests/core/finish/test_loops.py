from __future__ import annotations

from partsbench.core.finish.loops import open_loops
from partsbench.core.piece.spot import Spot
from tests.support.faces import at, face, path, through

STAIN = path("stain", "old_finish", "seam")


def says(now):
    return [loop.say for loop in open_loops(Spot("D3", "front"), now)]


def test_a_wash_stays_open_until_it_is_rinsed():
    assert says(face(STAIN, ("wash", "0 h"))) == ["washed but not rinsed"]
    assert says(face(STAIN, ("wash", "0 h"), ("rinse", "1 h"))) == []


def test_a_loop_names_its_face_and_when_it_was_begun():
    (loop,) = open_loops(Spot("D3", "front"), face(STAIN, ("wash", "2 h")))
    assert loop.sentence == "D3 front: washed but not rinsed."
    assert (loop.since, loop.step, loop.holds) == (at("2 h"), "wash", True)


def test_stripper_is_open_through_scraping_until_the_residue_is_off():
    begun = [("wash", "0 h"), ("rinse", "1 h"), ("strip", "14 h")]
    assert says(face(STAIN, *begun)) == ["stripped, residue not wiped off"]
    scraped = [*begun, ("scrape", "15 h")]
    assert len(says(face(STAIN, *scraped))) == 1
    assert says(face(STAIN, *scraped, ("residue", "16 h"))) == []


def test_a_face_sent_back_while_masked_is_still_masked():
    masked = through(STAIN, "mask")
    assert says(masked) == ["masked, tape still on"]
    assert not open_loops("", masked)[0].holds
    marks = [(m.step, "0 h") for m in masked.done]
    back = face(STAIN, *marks, ("back sand_150", "1 h"))
    assert says(back) == ["masked, tape still on"]


def test_a_second_wash_needs_a_second_rinse():
    twice = face(STAIN, ("wash", "0 h"), ("rinse", "1 h"), ("back wash", "2 h"), ("wash", "3 h"))
    assert says(twice) == ["washed but not rinsed"]


def test_nothing_goes_on_soap_stripper_or_wet_stain_and_much_on_tape():
    for key, holds in {"wash": True, "strip": True, "stain": True, "mask": False}.items():
        (loop,) = open_loops(Spot("D3", "front"), through(STAIN, key))
        assert loop.holds is holds, key
