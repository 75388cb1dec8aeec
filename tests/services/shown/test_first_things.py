"""What has to be known before work begins, and what is known of it."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import history
from partsbench.services.books.pieces import lay_out
from partsbench.services.known import old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop
from partsbench.services.shown import first_things
from partsbench.services.sums.census import count
from partsbench.services.sums.measure import set_wood


def heron(shop: Shop, pulls: int = 2) -> Piece:
    made = lay_out(shop, "Heron", "2 1", pulls=pulls)
    assert isinstance(made, Piece)
    return made


def told(shop: Shop, tag: str) -> dict[str, tuple[bool, str]]:
    return {t.key: (t.answered, t.says) for t in first_things.first_things(shop, tag)}


def test_a_new_piece_is_asked_three_things_in_order(shop: Shop) -> None:
    things = first_things.first_things(shop, heron(shop).tag)
    assert [t.key for t in things] == ["old-finish", "wood", "hardware"]
    assert [t.answered for t in things] == [False, False, False]
    assert (
        things[0].says == "Old finish not known yet: until it is, nothing is sanded or scraped dry."
    )
    assert things[1].says == "Wood not known yet: how far it swells cannot be told."
    assert things[2].says == "6 to count: none counted yet."


def test_without_hardware_none_is_asked_for_and_without_a_piece_nothing(shop: Shop) -> None:
    assert list(told(shop, heron(shop, pulls=0).tag)) == ["old-finish", "wood"]
    assert first_things.first_things(shop, "ZZZZ") == ()
    assert first_things.counted_now(shop, "ZZZZ") == {}


def test_each_answer_is_seen(shop: Shop) -> None:
    tag = heron(shop).tag
    assert isinstance(old_finish.say(shop, tag, Saying(old="paint")), Done)
    assert told(shop, tag)["old-finish"][0]
    assert "paint" in told(shop, tag)["old-finish"][1]
    assert isinstance(set_wood(shop, tag, [], "walnut, black", ""), Done)
    assert told(shop, tag)["wood"] == (True, "C1 walnut, black")
    assert isinstance(count(shop, tag, "D1", "pull", 1), Done)
    assert told(shop, tag)["hardware"] == (True, "1 of 6 counted.")


def test_wood_of_the_whole_piece_leaves_its_numbers_free(shop: Shop) -> None:
    tag = heron(shop).tag
    set_wood(shop, tag, [], "walnut, black", "")
    assert not shop.piece(tag).numbers_fixed  # type: ignore[union-attr]
    set_wood(shop, tag, ["D1"], "walnut, black", "")
    assert shop.piece(tag).numbers_fixed  # type: ignore[union-attr]


def test_a_whole_count_is_one_change_and_can_be_put_right(shop: Shop) -> None:
    tag = heron(shop).tag
    before = len(history.history(shop))
    counts = {("D1", "pull"): 2, ("D2", "pull"): 1, ("D3", "pull"): 2}
    assert first_things.count_good(shop, tag, counts) == Done(
        "Heron: 5 pulls, knobs and plates counted as good.", tag
    )
    assert len(history.history(shop)) == before + 1
    assert first_things.counted_now(shop, tag) == {
        ("D1", "pull"): (2, 2), ("D2", "pull"): (2, 1), ("D3", "pull"): (2, 2),
    }  # fmt: skip
    first_things.count_good(shop, tag, {("D1", "pull"): 0})
    assert first_things.counted_now(shop, tag)["D1", "pull"] == (2, 0)


def test_more_than_is_fitted_is_refused_whole(shop: Shop) -> None:
    tag = heron(shop).tag
    count(shop, tag, "D1", "pull", 1, condition="broken")
    wrong = first_things.count_good(shop, tag, {("D2", "pull"): 1, ("D1", "pull"): 2})
    assert isinstance(wrong, Refused)
    assert "D1 is fitted with 2 × pull, and 1 are counted as not good" in wrong.sentence
    assert first_things.counted_now(shop, tag)["D2", "pull"] == (2, 0)
    assert isinstance(first_things.count_good(shop, tag, {("D1", "pull"): 1}), Done)
    assert isinstance(first_things.count_good(shop, tag, {("D9", "pull"): 1}), Refused)


def test_every_wood_that_is_offered_can_be_noted(shop: Shop) -> None:
    tag = heron(shop).tag
    names = first_things.wood_names()
    assert len(names) > 20
    for name in names:
        assert isinstance(set_wood(shop, tag, [], name, ""), Done), name
