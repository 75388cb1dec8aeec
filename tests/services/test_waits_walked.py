"""The shop's day by a moving clock: what each wait and window lets through, and when."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from partsbench.core.finish.products import TinCard, TinWait
from partsbench.core.outcomes import Answer, Done, Outcome
from partsbench.core.piece.spot import Spot
from partsbench.services.acts import bench
from partsbench.services.books import own_paths
from partsbench.services.books.pieces import give_path
from partsbench.services.known import facts, tins
from partsbench.services.known.state import FaceState, part_state
from partsbench.services.rules.clocks import clocks_of, ready_words
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron
from tests.support.steps import bring


@pytest.fixture
def tag(shop: Shop) -> str:
    """D1 is painted, D2 stained and cleared."""
    made = heron(shop).tag
    facts.say(shop, made, "old finish", "none")
    return made


def front(shop: Shop, tag: str, short: str) -> FaceState:
    piece = shop.piece(tag)
    assert piece is not None
    part = piece.part(short)
    assert part is not None
    return next(f for f in part_state(shop, piece, part).faces if f.name == "front")


def scans(shop: Shop, tag: str, short: str, step: str) -> Outcome:
    """The step that is due is recorded, without insisting."""
    seen = bench.look(shop, short, here=tag)
    assert seen.step == step, seen
    return record(shop, short, here=tag)


def at(clock: SetClock, since: datetime, minutes: float) -> None:
    clock.now = since + timedelta(minutes=minutes)


def test_conditioner_soaks_is_wiped_and_waits_for_its_stain(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    facts.say(shop, tag, "veneer", "yes", ["D2"])
    bring(shop, clock, tag, "D2", "condition")
    on = clock.now
    assert scans(shop, tag, "D2", "condition").recorded
    at(clock, on, 3)
    soaking = bench.look(shop, "D2", here=tag)
    assert (soaking.step, soaking.answer) == ("wipe_condition", Answer.WAIT)
    at(clock, on, 11)
    assert bench.look(shop, "D2", here=tag).answer is Answer.GO
    assert scans(shop, tag, "D2", "wipe_condition").recorded
    wiped = clock.now
    at(clock, wiped, 11)
    told = bench.look(shop, "D2", here=tag)
    assert (told.step, told.answer) == ("stain", Answer.GO)
    # Both numbers stand, each with where it is from.
    assert "30 min to 2 h, on the page" in told.source
    assert "rule of the trade is stricter: within 10 min" in told.source
    at(clock, wiped, 31)
    late = bench.look(shop, "D2", here=tag)
    assert (late.answer, late.recover) == (Answer.LATE, "condition")
    assert "on veneer tone it instead" in late.because
    assert not record(shop, "D2", here=tag).recorded
    assert bench.send_back(shop, "D2", "condition", "missed window", here=tag).recorded
    assert scans(shop, tag, "D2", "condition").recorded
    assert "sand_150" not in [m.step for m in front(shop, tag, "D2").marks if m.kind != "done"]


def test_the_conditioners_own_tin_wins(shop: Shop, clock: SetClock, tag: str) -> None:
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    card = TinCard(
        "the pale one", "conditioner_oil", {"stain": TinWait(None, timedelta(minutes=9))}
    )
    assert isinstance(tins.put(shop, card), Done)
    bring(shop, clock, tag, "D2", "stain")
    wiped = clock.now
    at(clock, wiped, 8)
    told = bench.look(shop, "D2", here=tag)
    assert (told.answer, told.source) == (Answer.GO, "your tin card for the pale one: 9 min")
    at(clock, wiped, 10)
    assert bench.look(shop, "D2", here=tag).answer is Answer.LATE


def test_conditioner_that_soaked_too_long_is_wiped_all_the_same(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    bring(shop, clock, tag, "D2", "condition")
    scans(shop, tag, "D2", "condition")
    clock.pass_time(minutes=20)
    late = bench.look(shop, "D2", here=tag)
    assert (late.answer, late.recover) == (Answer.LATE, "wipe_condition")
    assert "Wipe it off at once" in late.because
    assert scans(shop, tag, "D2", "wipe_condition").recorded


def test_a_late_wipe_of_stain_keeps_its_time_and_says_what_to_look_for(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "conditioner", "none", ["D2"])
    bring(shop, clock, tag, "D2", "stain")
    scans(shop, tag, "D2", "stain")
    on = clock.now
    at(clock, on, 38)
    late = bench.look(shop, "D2", here=tag)
    assert (late.step, late.answer, late.recover) == ("wipe", Answer.LATE, "wipe")
    assert "sticky or lapped" in late.because
    assert tag in day(shop).ends, "a late wipe ends no plan"
    wiped = scans(shop, tag, "D2", "wipe")
    assert wiped.recorded and wiped.held == ()
    marks = [(m.step, m.at, m.insisted) for m in front(shop, tag, "D2").marks][-2:]
    assert marks == [("stain", on, False), ("wipe", clock.now, False)]
    clock.pass_time(hours=80)
    over = bench.look(shop, "D2", here=tag)
    assert (over.step, over.answer) == ("clear_1", Answer.GO)
    assert any(
        w.startswith("wiped late: the stain was wiped off 23 min late") for w in over.warnings
    )


def test_a_stripper_goes_on_when_the_rinse_is_off_the_surface(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """Sanding waits until the wood is dry through; a stripper does not."""
    facts.say(shop, tag, "old finish", "clear", ["D2"])
    for _ in range(2):
        record(shop, "D1", here=tag)
        record(shop, "D2", here=tag)
    rinsed = clock.now
    at(clock, rinsed, 90)
    assert bench.look(shop, "D2", here=tag).answer is Answer.WAIT
    at(clock, rinsed, 120)
    told = bench.look(shop, "D2", here=tag)
    assert (told.step, told.answer) == ("strip", Answer.GO)
    sanding = bench.look(shop, "D1", here=tag)
    assert (sanding.step, sanding.answer) == ("sand_150", Answer.WAIT)
    assert sanding.until == rinsed + timedelta(hours=12)


def test_stripper_dwells_and_is_scraped_before_it_dries_on(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "old finish", "clear", ["D2"])
    bring(shop, clock, tag, "D2", "strip")
    scans(shop, tag, "D2", "strip")
    on = clock.now
    at(clock, on, 19)
    early = bench.look(shop, "D2", here=tag)
    assert (early.step, early.answer) == ("scrape", Answer.WAIT)
    assert "dwell before scraping" in early.source and "(maker's sheet)" in early.source
    at(clock, on, 31)
    told = bench.look(shop, "D2", here=tag)
    assert (told.answer, told.until) == (Answer.GO, on + timedelta(hours=1))
    at(clock, on, 61)
    late = bench.look(shop, "D2", here=tag)
    assert (late.answer, late.recover) == (Answer.LATE, "strip")
    card = TinCard("the gel", "stripper", {"scrape": TinWait(None, timedelta(hours=8))})
    assert isinstance(tins.put(shop, card), Done)
    assert bench.look(shop, "D2", here=tag).answer is Answer.GO


def test_primer_over_wood_that_bleeds_waits_two_days(shop: Shop, clock: SetClock, tag: str) -> None:
    facts.say(shop, tag, "bleeds", "yes", ["D1"])
    bring(shop, clock, tag, "D1", "prime")
    scans(shop, tag, "D1", "prime")
    primed = clock.now
    at(clock, primed, 60 * 47)
    told = bench.look(shop, "D1", here=tag)
    assert (told.step, told.answer) == ("colour_1", Answer.WAIT)
    assert told.until == primed + timedelta(hours=48)
    assert "Wood Handbook" in told.source and "(published, read in a copy)" in told.source
    at(clock, primed, 60 * 48)
    assert bench.look(shop, "D1", here=tag).answer is Answer.GO


def test_glue_holds_the_sanding_until_it_is_through_or_its_tin_says(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    facts.say(shop, tag, "repairs", "open", ["D2"])
    bring(shop, clock, tag, "D2", "repair")
    scans(shop, tag, "D2", "repair")
    glued = clock.now
    at(clock, glued, 60 * 3)
    told = bench.look(shop, "D2", here=tag)
    assert (told.step, told.answer) == ("sand_150", Answer.WAIT)
    assert told.until == glued + timedelta(hours=24)
    card = TinCard("hide glue", "glue", {"sand": TinWait(timedelta(hours=2))})
    assert isinstance(tins.put(shop, card), Done)
    assert bench.look(shop, "D2", here=tag).answer is Answer.GO


def test_filler_holds_the_sanding_until_it_is_through_or_its_tin_says(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "sand_150")
    assert record(shop, "D1", here=tag, step="fill").recorded
    filled = clock.now
    at(clock, filled, 60 * 3)
    assert bench.look(shop, "D1", here=tag).until == filled + timedelta(hours=24)
    card = TinCard("the quick one", "filler", {"sand": TinWait(timedelta(hours=1))})
    assert isinstance(tins.put(shop, card), Done)
    assert bench.look(shop, "D1", here=tag).answer is Answer.GO


def test_paint_asks_whether_the_wood_bleeds_until_somebody_says(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    bring(shop, clock, tag, "D1", "colour_1")
    asks = "bleeding not said"
    assert any(asks in w for w in bench.look(shop, "D1", here=tag).warnings)
    facts.say(shop, tag, "bleeds", "no", ["D1"])
    assert not any(asks in w for w in bench.look(shop, "D1", here=tag).warnings)


def test_an_oil_varnish_says_until_when_it_may_be_coated_without_sanding(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    text = own_paths.copy_text(shop, "clear", "oil_clear", "Oil varnish")
    assert isinstance(text, str)
    assert isinstance(own_paths.save(shop, text.replace('"clear_water"', '"clear_oil"')), Done)
    give_path(shop, tag, "oil_clear", ["D2"])
    bring(shop, clock, tag, "D2", "clear_1")
    scans(shop, tag, "D2", "clear_1")
    coated = clock.now
    face = next(c for c in clocks_of(shop, tag) if c.face == Spot("D2", "front"))
    recoat = next(r for r in face.ready if r.ready == "recoat")
    assert (recoat.at, recoat.until) == (
        coated + timedelta(hours=12), coated + timedelta(hours=24))  # fmt: skip
    assert "then sand it lightly first" in ready_words(recoat, clock.now)
    assert "(trade press)" in ready_words(recoat, clock.now)
    assert next(r for r in face.ready if r.ready == "touch").until is None


def test_what_is_said_later_of_a_face_takes_nothing_away_that_was_done(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """Stained before anybody said that it was conditioned, or before the path had a wipe for it."""
    facts.say(shop, tag, "conditioner", "none", ["D2"])
    bring(shop, clock, tag, "D2", "clear_1")
    facts.say(shop, tag, "conditioner", "oil", ["D2"])
    assert bench.look(shop, "D2", here=tag).step == "clear_1"
    assert front(shop, tag, "D2").progress.ignored == ()
