"""What a scan is answered with once clocks, facts, air and cups are known, and what is refused."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.finish.products import TinCard, TinWait
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.services.acts import bench, returning
from partsbench.services.acts.history import history, undo
from partsbench.services.books.pieces import give_path
from partsbench.services.known import climate, facts, tins
from partsbench.services.known.people import add_person
from partsbench.services.known.state import part_state
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.services.sums.habits import set_habit
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron, quill
from tests.support.steps import bring


@pytest.fixture
def tag(shop: Shop) -> str:
    return heron(shop).tag


def mix(shop: Shop, name: str = "blue", lot: str = "17", **how: object) -> StoredCup:
    made = cups.make(
        shop,
        name,
        [Poured("colour", lot, 9), Poured("water", "", 1)],
        **{"strained": True, "product": "paint_water", **how},
    )  # type: ignore[arg-type]
    assert not isinstance(made, Refused), made
    return made


def test_wet_wood_waits_says_until_when_why_and_whose_figure(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    record(shop, "D1", here=tag)
    rinsed = record(shop, "D1", here=tag)
    assert rinsed.recorded
    clock.pass_time(hours=3)
    seen = bench.look(shop, "D1", here=tag)
    assert (seen.answer, seen.tone, seen.recorded) == (Answer.WAIT, Tone.WAIT, False)
    assert seen.until is not None
    assert seen.until - clock.now == timedelta(hours=9)
    assert seen.because == "Rinse with clear water first needs 12 h"
    assert "from memory" in seen.source
    assert seen.held == ("not dry yet",)


def test_a_hold_records_nothing(shop: Shop, clock: SetClock, tag: str) -> None:
    for _ in range(2):
        record(shop, "D1", here=tag)
    before = len(history(shop))
    said = record(shop, "D1", here=tag)
    assert (said.answer, said.tone, said.recorded) == (Answer.WAIT, Tone.REFUSED, False)
    assert len(history(shop)) == before


def test_an_insisted_record_is_marked_for_ever_and_the_waits_run_from_it(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    for _ in range(2):
        record(shop, "D2", here=tag)
    said = record(shop, "D2", here=tag, insist="tried", note="by the stove")
    assert said.recorded
    piece = shop.piece(tag)
    assert piece is not None
    mark = part_state(shop, piece, piece.part("D2")).faces[0].marks[-1]  # type: ignore[arg-type]
    assert mark.insisted
    assert mark.note == "tried, it is ready (not dry yet); by the stove"
    assert "insisted" in history(shop, tag)[0].sentence
    view = shop.book.row("SELECT step, note FROM insisted")
    assert tuple(view) == ("sand_150", mark.note)
    undo(shop)
    assert shop.book.row("SELECT count(*) FROM insisted")[0] == 0


def test_a_reason_where_nothing_is_held_insists_upon_nothing(shop: Shop, tag: str) -> None:
    said = record(shop, "D1", here=tag, insist="the tin says so")
    assert said.recorded
    assert shop.book.row("SELECT max(insisted) FROM mark")[0] == 0


def test_a_stated_time_moves_the_clock_of_the_work(shop: Shop, clock: SetClock, tag: str) -> None:
    earlier = clock.now - timedelta(hours=13)
    for _ in range(2):
        record(shop, "D1", here=tag, at=earlier)
    assert bench.look(shop, "D1", here=tag).answer is Answer.GO
    assert bench.look(shop, "D1", here=tag, at=earlier + timedelta(hours=1)).answer is Answer.WAIT


def test_the_shops_own_tin_wins_and_is_named(shop: Shop, clock: SetClock, tag: str) -> None:
    bring(shop, clock, tag, "D1", "colour_1")
    record(shop, "D1", here=tag)
    clock.pass_time(hours=2)
    assert bench.look(shop, "D1", here=tag).answer is Answer.WAIT
    card = TinCard("the blue paint", "paint_water", {"sand": TinWait(timedelta(hours=1))})
    assert isinstance(tins.put(shop, card), Done)
    seen = bench.look(shop, "D1", here=tag)
    assert seen.answer is Answer.GO
    assert seen.source == "your tin card for the blue paint: 1 h"
    tins.retire(shop, "the blue paint")
    assert bench.look(shop, "D1", here=tag).answer is Answer.WAIT


def test_damp_air_lengthens_what_water_borne_films_need(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "colour_1")
    record(shop, "D1", here=tag)
    dry = bench.look(shop, "D1", here=tag).until
    climate.note(shop, 18, 75)
    damp = bench.look(shop, "D1", here=tag).until
    assert dry is not None and damp is not None
    assert damp - dry > timedelta(hours=2)
    climate.note(shop, 30, 30)
    assert bench.look(shop, "D1", here=tag).until == dry
    clock.pass_time(hours=13)
    assert bench.look(shop, "D1", here=tag, at=clock.now - timedelta(hours=12)).until is not None


def test_a_room_outside_the_limits_stops_a_coat(shop: Shop, clock: SetClock, tag: str) -> None:
    bring(shop, clock, tag, "D1", "colour_1")
    climate.note(shop, 8, 60)
    seen = bench.look(shop, "D1", here=tag)
    assert (seen.answer, seen.held) == (Answer.STOP, ("outside the limits",))
    assert "8 °C is under the 10 °C" in seen.because
    set_habit(shop, "units", "us")
    assert "46.4 °F is under the 50 °F it needs" in bench.look(shop, "D1", here=tag).because
    climate.note(shop, 20, 60, surface_c=13)
    assert "clear of dew" in bench.look(shop, "D1", here=tag).because


def test_old_paint_that_nobody_tested_stops_dry_sanding_but_not_wet(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "age", "older")
    facts.say(shop, tag, "old finish", "paint", ["D1"])
    bring_to_sanding(shop, clock, tag)
    seen = bench.look(shop, "D1", here=tag)
    assert (seen.answer, seen.tone) == (Answer.STOP, Tone.HOLD)
    assert "lead" in seen.because
    assert bench.look(shop, "D1", here=tag, wet=True).answer is Answer.GO
    refused = facts.say(shop, tag, "lead", "tested free", ["D1"])
    assert isinstance(refused, Refused)
    facts.say(shop, tag, "lead", "tested free", ["D1"], "swab of the front, by Wren, 3 March")
    assert bench.look(shop, "D1", here=tag).answer is Answer.GO
    assert facts.said(shop, tag)[-1].note == "swab of the front, by Wren, 3 March"


def bring_to_sanding(shop: Shop, clock: SetClock, tag: str) -> None:
    for _ in range(2):
        record(shop, "D1", here=tag)
    clock.pass_time(hours=13)


def test_a_face_said_to_be_free_wins_over_its_part(shop: Shop, clock: SetClock, tag: str) -> None:
    facts.say(shop, tag, "age", "older")
    facts.say(shop, tag, "old finish", "paint")
    facts.say(shop, tag, "old finish", "none", ["D1"])
    facts.say(shop, tag, "old finish", "unknown", ["D1 front"])
    bring_to_sanding(shop, clock, tag)
    assert bench.look(shop, "D1", here=tag, face="front").answer is Answer.STOP
    assert bench.look(shop, "D1", here=tag, face="top edge").answer is Answer.GO


def test_a_tinted_cup_on_a_stained_face_is_refused_before_the_trigger(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D2", "clear_1")
    tinted = mix(shop, tint=5, product="clear_water")
    said = record(shop, "D2", here=tag, cup=tinted)
    assert (said.answer, said.recorded, said.held) == (Answer.STOP, False, ("wrong cup",))
    assert "holds tint; Clear coat 1 takes water-borne clear without tint" in said.because
    black = mix(shop, "black")
    assert not record(shop, "D2", here=tag, cup=black).recorded
    plain = mix(shop, "clear", product="clear_water")
    assert record(shop, "D2", here=tag, cup=plain).recorded
    assert shop.book.row("SELECT mix, cup FROM mixes WHERE face = 'front'")["cup"] == plain.number


def test_another_lot_on_the_same_row_and_an_unstrained_mix_are_warned_of(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    give_path(shop, tag, "paint", ["D2"])
    facts.say(shop, tag, "bleeds", "no")
    bring(shop, clock, tag, "D1", "colour_1")
    bring(shop, clock, tag, "D2", "colour_1")
    record(shop, "D1", here=tag, cup=mix(shop, lot="17"))
    seen = bench.look(shop, "D2", here=tag, cup=mix(shop, lot="18", strained=False))
    assert seen.answer is Answer.GO
    assert [w.split(":")[0] for w in seen.warnings if "test patch" not in w][:2] == [
        "not strained", "second lot in a row"]  # fmt: skip


def test_dust_is_warned_of_while_a_face_anywhere_in_the_shop_is_tacky(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    other = quill(shop)
    give_path(shop, other.tag, "paint", ["D1"])
    bring(shop, clock, tag, "D1", "colour_1")
    for _ in range(2):
        record(shop, "D1", here=other.tag, at=clock.now - timedelta(hours=13))
    assert not any("tacky" in w for w in bench.look(shop, "D1", here=other.tag).warnings)
    record(shop, "D1", here=tag)
    clock.pass_time(hours=1)
    seen = bench.look(shop, "D1", here=other.tag)
    assert seen.answer is Answer.GO
    assert any("Heron D1 in this room: tacky for another 3 h" in w for w in seen.warnings)
    clock.pass_time(hours=4)
    assert not any("tacky" in w for w in bench.look(shop, "D1", here=other.tag).warnings)


def test_a_missed_window_says_the_way_back(shop: Shop, clock: SetClock, tag: str) -> None:
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    bring(shop, clock, tag, "D2", "stain")
    seen = bench.look(shop, "D2", here=tag)
    assert seen.answer is Answer.GO
    assert seen.until is not None
    assert seen.until - clock.now == timedelta(minutes=30)
    assert "within 10 min, or sand back" in seen.source
    clock.pass_time(minutes=31)
    late = bench.look(shop, "D2", here=tag)
    assert (late.answer, late.tone, late.recover) == (Answer.LATE, Tone.LATE, "condition")
    # Conditioner for 2 min, its soak of 5 and its wipe of 1: what has to be done again.
    assert "It adds 8 min." in late.because
    assert not record(shop, "D2", here=tag).recorded


def test_what_closes_soonest_on_a_part_is_what_it_is_scanned_for(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    give_path(shop, tag, "stain", ["D1 front"])
    facts.say(shop, tag, "conditioner", "oil", ["D1 front"])
    bring(shop, clock, tag, "D1", "condition", face="front")
    record(shop, "D1", here=tag, face="front")
    clock.pass_time(minutes=6)
    seen = bench.look(shop, "D1", here=tag)
    assert (seen.faces, seen.step) == (("front",), "wipe_condition")


def test_veneer_that_was_sanded_back_twice_wants_to_be_accepted(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "veneer", "yes", ["D2"])
    facts.say(shop, tag, "conditioner", "none", ["D2"])
    for _ in range(2):
        bring(shop, clock, tag, "D2", "clear_1")
        assert bench.send_back(shop, "D2", "sand_150", "blotchy", here=tag).recorded
    bring(shop, clock, tag, "D2", "clear_1")
    third = bench.send_back(shop, "D2", "sand_150", "blotchy", here=tag)
    assert not third.recorded
    assert "tone it" in third.sentence
    assert bench.send_back(shop, "D2", "sand_150", "blotchy", here=tag, accept=True).recorded


def test_a_helper_does_only_what_is_listed(shop: Shop, clock: SetClock, tag: str) -> None:
    add_person(shop, "Finch", ["sand"])
    shop.who = "Finch"
    said = record(shop, "D1", here=tag)
    assert (said.recorded, said.sentence) == (False, "Finch does not do this: wash.")
    shop.who = "Wren"
    assert record(shop, "D1", here=tag).recorded


def test_a_wait_that_ran_through_a_power_cut_is_longer_and_doubtful(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    for _ in range(2):
        record(shop, "D1", here=tag)
    plain = bench.look(shop, "D1", here=tag).until
    clock.pass_time(hours=5)
    climate.note_power_cut(shop, clock.now - timedelta(hours=2), clock.now, heating=True)
    seen = bench.look(shop, "D1", here=tag)
    assert plain is not None
    assert seen.until == plain + timedelta(hours=2)
    assert "doubtful" in seen.because
    assert bench.look(shop, "D1", here=tag, at=plain + timedelta(hours=1)).answer is Answer.WAIT
    assert bench.look(shop, "D1", here=tag, at=plain + timedelta(hours=3)).answer is Answer.GO


def test_every_case_is_put_to_the_face_as_a_step(shop: Shop, clock: SetClock, tag: str) -> None:
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    facts.say(shop, tag, "seal coat", "yes", ["D2 front"])
    piece = shop.piece(tag)
    assert piece is not None
    state = part_state(shop, piece, piece.part("D2"))  # type: ignore[arg-type]
    due = {
        f.name: [s.key for s in f.path.steps if not s.optional] for f in state.faces if f.path.steps
    }
    assert "condition" in due["front"] and "seal" in due["front"]
    assert "condition" in due["top edge"] and "seal" not in due["top edge"]


def test_the_second_of_two_people_hears_who_has_just_recorded_what(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    shop.who = "Wren"
    record(shop, "D1", here=tag)
    clock.pass_time(seconds=20)
    assert not any("just recorded" in w for w in bench.look(shop, "D1", here=tag).warnings)
    shop.who = "Finch"
    said = bench.look(shop, "D1", here=tag).warnings[0]
    assert said == "just recorded: Wren recorded wash a moment ago"
    clock.pass_time(minutes=1)
    assert not any("just recorded" in w for w in bench.look(shop, "D1", here=tag).warnings)


def test_pulls_and_drawers_that_go_home_too_soon_are_told(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "topcoat_2")
    record(shop, "D1", here=tag)
    clock.pass_time(hours=5)
    pull = returning.bring_home(shop, tag, "P1")
    assert isinstance(pull, Outcome)
    assert pull.warnings[0].startswith("pulls before handling time: D1 front: ")
    drawer = returning.bring_home(shop, tag, "D1")
    assert isinstance(drawer, Outcome) and drawer.recorded
    assert [w.split(":")[0] for w in drawer.warnings][:2] == [
        "handled before its time",
        "closed before touching time",
    ]
    clock.pass_time(days=8)
    late = returning.bring_home(shop, tag, "D1")
    assert isinstance(late, Outcome)
    assert late.warnings == ()
