from __future__ import annotations

from datetime import timedelta

from partsbench.core.outcomes import Done, Outcome, Tone
from partsbench.services.acts.ending import end, endings
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


def test_rinsing_closes_the_wash_of_every_part(shop: Shop) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash")
    do(shop, piece, "D3", "wash")
    (loop,) = day(shop, tags=[piece.tag]).loops
    (way,) = endings(loop)
    assert way.words == "Rinsed"
    assert end(shop, loop, way, [piece.tag]) == Done("Heron D1, Heron D3: rinsed.", piece.tag)
    assert day(shop, tags=[piece.tag]).loops == ()
    gone = end(shop, loop, way, [piece.tag])
    assert not isinstance(gone, Done)


def test_a_loop_that_is_open_on_drawers_in_a_row_is_closed_on_each(shop: Shop) -> None:
    piece = two_finishes(shop)
    for short in ("D1", "D2", "D3"):
        do(shop, piece, short, "wash")
    (loop,) = day(shop, tags=[piece.tag]).loops
    assert loop.sentence == "Heron D1–D3: washed but not rinsed."
    said = end(shop, loop, endings(loop)[0], [piece.tag])
    assert said == Done("Heron D1, Heron D2, Heron D3: rinsed.", piece.tag)


def test_rags_have_two_ends(shop: Shop, clock: SetClock) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D4", "sand_150", "sand_220", "condition", "wipe_condition", "stain", "wipe")
    first = day(shop, tags=[piece.tag]).loops[0]
    flat, water = endings(first)
    assert (flat.words, water.words) == ("Spread flat", "In water, closed can")
    assert isinstance(end(shop, first, flat, [piece.tag]), Done)
    assert not any("rags" in loop.say for loop in day(shop, tags=[piece.tag]).loops)


def test_what_is_refused_is_told_and_stays_open(shop: Shop) -> None:
    """A helper who may only sand cannot rinse."""
    from partsbench.services.known import people

    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash")
    people.add_person(shop, "Finch", ["sand"])
    shop.who = "Finch"
    (loop,) = day(shop, tags=[piece.tag]).loops
    said = end(shop, loop, endings(loop)[0], [piece.tag])
    assert isinstance(said, Outcome)
    assert said.tone is Tone.REFUSED
    assert day(shop, tags=[piece.tag]).loops
