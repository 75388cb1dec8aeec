"""Loads: proposed, coated but for some, entered from a strip; cups made and made again."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.outcomes import Answer, Outcome, Refused
from partsbench.core.piece.spot import Spot
from partsbench.services.acts import bench, loads
from partsbench.services.acts.history import undo
from partsbench.services.books.pieces import give_path
from partsbench.services.known import people, work
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.services.sums.habits import habits
from partsbench.services.sums.mixing import mix_again
from partsbench.store.mixes import StoredLoad
from tests.support.at_bench import load_done, record
from tests.support.clock import SetClock
from tests.support.finishing import stragglers_of
from tests.support.shops import code, lay_out, made, quill, shop_at
from tests.support.steps import bring


@pytest.fixture
def tag(shop: Shop, clock: SetClock) -> str:
    """Nine painted fronts that wait for their first colour."""
    piece = made(lay_out(shop, "Heron", "3 3 3"))
    give_path(shop, piece.tag, "paint", [f"D{n}" for n in range(1, 10)])
    for wait in (0, 0, 12):
        clock.pass_time(hours=wait)
        for number in range(1, 10):
            assert record(shop, f"D{number}", here=piece.tag).recorded
    return piece.tag


def mix(shop: Shop, **how: object) -> StoredCup:
    made = cups.make(
        shop,
        "blue",
        [Poured("colour", "17", 10), Poured("water", "", 1)],
        **{"strained": True, "product": "paint_water", **how},
    )  # type: ignore[arg-type]
    assert not isinstance(made, Refused), made
    return made


def started(shop: Shop, tag: str, names: tuple[str, ...] = ()) -> StoredLoad:
    load = loads.start(shop, tag, names)
    assert isinstance(load, StoredLoad), load
    return load


def next_of(shop: Shop, tag: str, short: str) -> str:
    return bench.look(shop, short, here=tag).step or ""


def test_the_proposal_is_in_spray_order_and_records_nothing(shop: Shop, tag: str) -> None:
    found = loads.propose(shop, tag)
    assert found.names == tuple(Spot(f"D{n}") for n in range(1, 10))
    assert found.load.step is not None and found.load.step.key == "colour_1"
    assert shop.book.row("SELECT count(*) FROM load")[0] == 0


def test_it_is_split_between_rows_over_cups(shop: Shop, tag: str) -> None:
    area = 0.3 * 0.2 + 2 * 0.02 * (0.3 + 0.2)
    found = loads.propose(shop, tag, ml_per_m2=200, cup_ml=area * 200 * 4.5)
    first = {spot.part for spot in found.load.cups[0]}
    assert first == {"D1", "D2", "D3"}
    assert len(found.load.cups) == 3


def test_all_except_is_one_record_and_those_left_out_come_first_next_time(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    load = started(shop, tag)
    said = load_done(shop, loads.code(load), ["D4", code(shop_piece(shop, tag), "D9")])
    assert isinstance(said, Outcome) and said.recorded
    assert said.sentence.startswith("Heron: load 1 coated, 35 faces, all except D4, D9. Next: ")
    assert {next_of(shop, tag, d) for d in ("D1", "D8")} == {"sand_220"}
    assert {next_of(shop, tag, d) for d in ("D4", "D9")} == {"colour_1"}
    assert {str(s.face) for s in stragglers_of(shop, tag)} >= {"D4 front", "D9 front"}
    assert loads.propose(shop, tag).names == (Spot("D4"), Spot("D9"))
    # Their own clocks: what was coated waits, what was left out does not.
    assert bench.look(shop, "D1", here=tag).answer is Answer.WAIT
    assert bench.look(shop, "D4", here=tag).answer is Answer.GO
    undo(shop)
    assert next_of(shop, tag, "D1") == "colour_1"
    assert loads.open_load(shop, tag) == load.number


def shop_piece(shop: Shop, tag: str):
    piece = shop.piece(tag)
    assert piece is not None
    return piece


def test_a_load_says_when_its_next_step_may_be_done(shop: Shop, tag: str, clock: SetClock) -> None:
    load = started(shop, tag)
    said = load_done(shop, load.number, ["D4"])
    assert isinstance(said, Outcome) and said.recorded
    seen = bench.look(shop, "D1", here=tag)
    assert seen.answer is Answer.WAIT and seen.until is not None
    assert (said.answer, said.then, said.until) == (Answer.GO, Answer.WAIT, seen.until)
    assert (said.step, said.step_name, said.done_at) == (seen.step, seen.step_name, clock.now)
    at = f"{seen.until.astimezone():%a %H:%M}"
    assert said.sentence == (
        f"Heron: load {load.number} coated, 40 faces, all except D4. "
        f"Next: {seen.step_name}, WAIT 4 h, not before {at}."
    )
    assert bench.look(shop, "D4", here=tag).answer is Answer.GO, "its clock did not begin"


def test_a_load_that_was_sprayed_long_ago_may_go_on(shop: Shop, tag: str, clock: SetClock) -> None:
    load = started(shop, tag, ("D1",))
    began = clock.now
    clock.pass_time(hours=30)
    said = load_done(shop, load.number, at=began)
    assert isinstance(said, Outcome) and said.then is Answer.GO
    assert "WAIT" not in said.sentence and said.done_at == began


def test_faces_of_a_load_that_go_on_differently_are_told_apart(
    shop: Shop, tag: str, clock: SetClock
) -> None:
    """D9 lies a coat behind: in the next load it gets its first colour where D1 gets its second."""
    first = started(shop, tag, ("D1", "D9"))
    load_done(shop, first.number, ["D9"])
    bring(shop, clock, tag, "D1", "colour_2")
    second = started(shop, tag, ("D1", "D9"))
    said = load_done(shop, second.number)
    assert isinstance(said, Outcome) and said.recorded, said
    told = [bench.look(shop, short, here=tag) for short in ("D1", "D9")]
    assert {t.step_name for t in told} == {"Sand 400", "Sand 220"}
    for short, seen in zip(("D1", "D9"), told, strict=True):
        assert f"{seen.step_name} ({short}), WAIT" in said.sentence
    assert said.then is Answer.WAIT


def test_an_exception_that_is_not_in_the_load_records_nothing(shop: Shop, tag: str) -> None:
    load = started(shop, tag, ("D1", "D2"))
    said = load_done(shop, load.number, ["D7"])
    assert said == Refused("D7 is not in this load.")
    assert next_of(shop, tag, "D1") == "colour_1"


def test_a_load_is_recorded_once(shop: Shop, tag: str) -> None:
    load = started(shop, tag)
    load_done(shop, load.number)
    assert load_done(shop, load.number) == Refused("Load 1 was recorded already.")
    assert isinstance(load_done(shop, 99), Refused)


def test_one_face_that_is_held_holds_the_load_and_is_named(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    load = started(shop, tag)
    load_done(shop, load.number)
    bring(shop, clock, tag, "D1", "colour_2")
    second = started(shop, tag, ("D1",))
    tinted = mix(shop, tint=4)
    give_path(shop, tag, "clear", ["D2"])
    assert isinstance(loads.start(shop, tag, ["D2"]), Refused)
    said = load_done(shop, second.number, cup=tinted)
    assert isinstance(said, Outcome) and said.recorded


def test_a_load_may_be_entered_with_its_time_from_the_strip(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    load = started(shop, tag)
    coated = clock.now + timedelta(minutes=20)
    clock.pass_time(hours=3)
    load_done(shop, load.number, at=coated)
    until = bench.look(shop, "D1", here=tag).until
    assert until is not None
    assert until - coated == timedelta(hours=4)
    assert isinstance(load_done(shop, load.number, at=clock.now + timedelta(hours=1)), Refused)


def test_the_marks_know_their_cup_and_load(shop: Shop, tag: str) -> None:
    cup = mix(shop)
    load = started(shop, tag)
    load_done(shop, load.number, cup=cup)
    row = shop.book.row("SELECT count(*), min(cup), min(load) FROM mark WHERE step = 'colour_1'")
    assert tuple(row) == (45, cup.id, load.id)


def test_how_long_a_load_took_becomes_the_shops_own_figure(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    from partsbench.core.finish.steps import Operation, Per

    load = started(shop, tag)
    clock.pass_time(minutes=45)
    load_done(shop, load.number)
    own = work.own_times(shop, clock.now)
    assert own == {(Operation.COLOUR, Per.FACE): [pytest.approx(5.0)]}, "nine fronts, 45 faces"


def test_a_cup_is_found_by_number_and_code_and_says_what_is_in_it(shop: Shop) -> None:
    cup = mix(shop, tint=5, thinned=10, strained=False)
    for asked in ("1", "cup 1", cups.code(cup)):
        assert cups.find(shop, asked) == cup
    said = cups.shown(shop, 1).sentence
    assert said == ("Cup 1: blue, 10 parts colour (lot 17), 1 part water, "
                    "water-borne paint, thinned 10 %, 5 % tint, for painted faces only. "
                    "Not strained.")  # fmt: skip
    cups.strained(shop, 1)
    cups.empty(shop, 1)
    assert "Not strained" not in cups.shown(shop, 1).sentence
    assert cups.listed(shop) == []
    assert isinstance(cups.find(shop, "7"), Refused)
    assert isinstance(cups.find(shop, "K7Q4-D05A7"), Refused)


def test_a_cup_is_made_again_at_another_volume_with_its_lots_unstrained(shop: Shop) -> None:
    mix(shop, tint=5)
    recipe = cups.recipe(shop, 1, 60)
    assert not isinstance(recipe, Refused)
    # 60 ml of 10 to 1 stand between the marks of the cup; 66 are 60 and 6.
    assert recipe.sentence == "For 66 ml: 60 colour, 6 water."
    own = habits(shop)
    assert recipe == mix_again(own, {"colour": 10, "water": 1}, "60 ml")
    again = cups.make_again(shop, 1, 60)
    assert not isinstance(again, Refused)
    assert [(p.product, p.lot) for p in again.cup.poured] == [("colour", "17"), ("water", "")]
    assert (again.number, again.cup.tint, again.cup.strained) == (2, 5, False)


@pytest.mark.parametrize(
    ("name", "poured", "how"),
    [
        ("", [Poured("a", "", 1)], {}),
        ("blue", [], {}),
        ("blue", [Poured("a", "", 0)], {}),
        ("blue", [Poured("a", "", float("nan"))], {}),
        ("blue", [Poured("a", "", 1), Poured("a", "2", 1)], {}),
        ("blue", [Poured("a", "", 1)], {"tint": 140}),
        ("blue", [Poured("a", "", 1)], {"volume_ml": -3}),
    ],
)
def test_a_mix_that_cannot_be_is_told(shop: Shop, name: str, poured: list, how: dict) -> None:
    assert isinstance(cups.make(shop, name, poured, **how), Refused)
    assert cups.listed(shop) == []


@pytest.mark.parametrize("text", ["colour", "colour:", "colour:x", ":3", "colour:-1", "c:inf"])
def test_what_was_poured_is_read_or_told(text: str) -> None:
    assert isinstance(cups.poured_from(text), Refused)


def test_what_was_poured_with_its_lot() -> None:
    assert cups.poured_from("deep blue:2.5:lot 17") == Poured("deep blue", "17", 2.5)


def test_a_cup_that_a_face_does_not_take_is_told_before_the_trigger_is_pulled(
    shop: Shop, tag: str
) -> None:
    clear = mix(shop, product="clear_oil")
    for names in ((), ("D1",)):
        said = loads.start(shop, tag, names, clear)
        assert isinstance(said, Refused) and said.sentence.startswith("Not with this cup: "), said
    assert loads.open_load(shop, tag) == 0
    assert isinstance(loads.start(shop, tag, ("D1",), mix(shop)), StoredLoad)


def test_what_is_no_load_is_neither_found_nor_given_up(shop: Shop, tag: str) -> None:
    cup = cups.code(mix(shop))
    assert loads.find(shop, cup) == Refused(f"“{cup}” is the code of no load.")
    for asked in (cup, "7", "load"):
        assert isinstance(loads.give_up(shop, asked), Refused)
    load = started(shop, tag)
    load_done(shop, load.number)
    before = shop.book.newest()
    assert loads.give_up(shop, load.number) == Refused("Load 1 was recorded already.")
    assert shop.book.newest() == before


def test_a_load_without_a_face_left_is_not_recorded(shop: Shop, tag: str) -> None:
    load = started(shop, tag, ("D1", "D2"))
    said = load_done(shop, load.number, ["D1", "D2"])
    assert said == Refused("Every face of load 1 is left out; nothing was recorded.")
    assert loads.open_load(shop, tag) == load.number
    assert next_of(shop, tag, "D1") == "colour_1"


def test_a_face_that_went_on_alone_meanwhile_holds_the_whole_load(shop: Shop, tag: str) -> None:
    load = started(shop, tag, ("D1", "D2"))
    assert record(shop, "D2", here=tag, face="front").recorded
    said = load_done(shop, load.number)
    assert said == Refused("D2 front: Sand 220 comes next, no coat. Nothing was recorded.")
    assert next_of(shop, tag, "D1") == "colour_1"
    assert isinstance(load_done(shop, load.number, ["D2 front"]), Outcome)
    assert next_of(shop, tag, "D1") == "sand_220"


def test_a_helper_who_does_not_spray_records_no_load(
    shop: Shop, tag: str, book_path: Path, clock: SetClock
) -> None:
    load = started(shop, tag)
    people.add_person(shop, "Finch", ["sand"])
    finch = shop_at(book_path, clock, "Finch")
    said = load_done(finch, load.number)
    finch.close()
    assert isinstance(said, Outcome) and not said.recorded
    assert said.sentence == "Finch does not do this: colour."
    assert loads.open_load(shop, tag) == load.number


def test_faces_of_no_part_or_of_another_piece_make_no_load(shop: Shop, tag: str) -> None:
    other = quill(shop)
    away = code(other, "D1")
    assert loads.start(shop, tag, [away]) == Refused(f"{away} is of another piece.")
    for name in ("D99", "Q1", "what"):
        assert isinstance(loads.start(shop, tag, ["D1", name]), Refused)
    load = started(shop, tag, ("D1",))
    assert isinstance(load_done(shop, load.number, ["D99"]), Refused)
    assert next_of(shop, tag, "D1") == "colour_1"
