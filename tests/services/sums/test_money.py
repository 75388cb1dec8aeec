"""Hours from records, costs as noted, floor, offers, ceiling, quote, and the invoice table."""

from __future__ import annotations

import csv
import io
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.hours import Hours
from partsbench.core.sums.money import BadCase, Ceiling, Floor, Offer, Quote
from partsbench.services import bench
from partsbench.services.shop import Shop
from partsbench.services.sums import mixing, money
from partsbench.services.sums.habits import NONE_SET, set_habit
from partsbench.services.sums.hours import (
    begin_work,
    correct_hours,
    end_work,
    hours_in,
    running,
    spent_words,
)
from partsbench.services.sums.money import Ledger, note_money
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron, lay_out


def worked(shop: Shop, piece: Piece, clock: SetClock, step: str, minutes: float) -> None:
    for done in (
        begin_work(shop, piece.tag, step),
        clock.pass_time(minutes=minutes),
        end_work(shop, piece.tag),
    ):
        assert not isinstance(done, Refused), done


def hours_of(shop: Shop, piece: Piece) -> Hours:
    found = hours_in(shop, piece.tag)
    assert isinstance(found, Hours), found
    return found


def note(shop: Shop, piece: Piece, what: str, amount: str, about: str = "") -> None:
    done = note_money(shop, piece.tag, what, amount, about)
    assert isinstance(done, Done), done


def ledger(shop: Shop, piece: Piece) -> Ledger:
    found = money.ledger(shop, piece.tag)
    assert isinstance(found, Ledger), found
    return found


def test_waiting_is_not_counted(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 90)
    clock.pass_time(hours=20)
    worked(shop, piece, clock, "staining", 30)
    found = hours_of(shop, piece)
    assert found.total == pytest.approx(2.0)
    assert found.by_step == pytest.approx({"sanding": 1.5, "staining": 0.5})


def test_starting_anew_ends_what_ran(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    begin_work(shop, piece.tag, "sanding")
    clock.pass_time(minutes=30)
    begin_work(shop, piece.tag, "staining")
    assert running(shop, piece.tag) == "staining"
    clock.pass_time(minutes=15)
    end_work(shop, piece.tag)
    assert running(shop, piece.tag) == ""
    assert hours_of(shop, piece).by_step == pytest.approx({"sanding": 0.5, "staining": 0.25})
    assert isinstance(end_work(shop, piece.tag), Refused)


def test_the_same_evening_it_can_be_put_right(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 200)
    worked(shop, piece, clock, "sanding", 10)
    assert isinstance(correct_hours(shop, piece.tag, "sanding", "95"), Done)
    found = hours_of(shop, piece)
    assert found.total == pytest.approx(95 / 60)
    assert "corrected by hand" in found.sources
    assert isinstance(correct_hours(shop, piece.tag, "sanding", ""), Done)
    assert hours_of(shop, piece).total == pytest.approx(3.5)


@pytest.mark.parametrize(
    ("step", "minutes", "told"),
    [
        ("sailing", "5", "No work called"),
        ("sanding", "x", "cannot be read"),
        ("sanding", "2000", "more than 16 h"),
        ("sanding", "5", "No sanding is recorded on 2031-03-03"),
    ],
)
def test_corrections_that_cannot_be_are_refused(
    shop: Shop, clock: SetClock, step: str, minutes: str, told: str
) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 30)
    day = date(2031, 3, 3) if "recorded on" in told else date(2031, 3, 4)
    refused = correct_hours(shop, piece.tag, step, minutes, day)
    assert isinstance(refused, Refused) and told in refused.sentence


def test_marks_count_by_the_paths_minutes_and_once_where_they_overlap(
    shop: Shop, clock: SetClock
) -> None:
    """Washing a drawer's five shown faces at 8 min each is 40 min; the clock ran over all of it."""
    piece = heron(shop)
    begin_work(shop, piece.tag, "washing day")
    clock.pass_time(minutes=60)
    outcome = record(shop, "D1", here=piece.tag)
    assert isinstance(outcome, Outcome) and outcome.recorded, outcome
    end_work(shop, piece.tag)
    assert hours_of(shop, piece).total == pytest.approx(1.0)


def test_marks_alone_are_hours_too(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    found = hours_of(shop, piece)
    assert found.total == pytest.approx(5 * 8 / 60)
    assert "when work began and ended: start and stop the clock" in found.lacks
    assert found.redo == 0


def test_work_done_again_is_shown_apart(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    clock.pass_time(hours=2)
    bench.send_back(shop, "D1", "wash", "greasy", here=piece.tag)
    record(shop, "D1", here=piece.tag)
    found = hours_of(shop, piece)
    assert found.redo == pytest.approx(5 * 8 / 60)
    assert found.total == pytest.approx(2 * 5 * 8 / 60)


def test_the_worked_example(shop: Shop, clock: SetClock) -> None:
    """640 - 95 - 48 - 36 - 38 = 423; over 14.5 h that is 29.2; for 25 an hour 579.5."""
    piece = heron(shop)
    worked(shop, piece, clock, "all of it", 14.5 * 60)
    for what, amount in (("bought", "95"), ("hardware", "48"), ("materials", "36"),
                         ("delivery", "38")):  # fmt: skip
        note(shop, piece, what, amount)
    set_habit(shop, "rate", "25")
    note(shop, piece, "offer", "640")
    found = ledger(shop, piece)
    assert found.sentence == "You have 14.5 h in it; at 640 you earn 29 an hour."
    assert found.offers[0].net == pytest.approx(423)
    assert found.floor is not None and found.floor.price == pytest.approx(579.5)
    assert found.floor.sentence == "Lowest for 25 an hour: 580."
    answer = money.offered(shop, piece.tag, "640")
    assert isinstance(answer, Offer) and answer.per_hour == pytest.approx(29.17, abs=0.005)


def test_a_fee_is_taken_off_the_price(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "all of it", 600)
    note(shop, piece, "bought", "100")
    set_habit(shop, "fee", "10 %")
    answer = money.offered(shop, piece.tag, "500")
    assert isinstance(answer, Offer) and answer.per_hour == pytest.approx((450 - 100) / 10)
    floor = money.floor_price(shop, piece.tag, "25")
    assert isinstance(floor, Floor) and floor.price == pytest.approx((100 + 250) / 0.9)


def test_tins_of_the_stock_are_a_cost(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "all of it", 60)
    mixing.stock_tin(shop, "blue", "750 ml", price=24)
    mixing.use_tin(shop, piece.tag, "blue", "500 ml")
    assert ledger(shop, piece).costs.materials == pytest.approx(8.0)
    note(shop, piece, "materials", "5", "sandpaper")
    assert ledger(shop, piece).costs.materials == pytest.approx(13.0)


def ledger_lacks(shop: Shop, piece: Piece) -> tuple[str, ...]:
    return ledger(shop, piece).lacks


def test_what_nobody_noted_is_missing_and_not_nothing(shop: Shop) -> None:
    lacks = ledger_lacks(shop, heron(shop))
    assert {"price paid", "hardware", "materials", "the rate an hour should earn"} <= set(lacks)


def test_a_sum_is_changed_by_its_note_and_taken_back(shop: Shop) -> None:
    piece = heron(shop)
    note(shop, piece, "delivery", "20", "in")
    note(shop, piece, "delivery", "38", "out")
    note(shop, piece, "delivery", "18", "in")
    assert ledger(shop, piece).costs.delivery == pytest.approx(56)
    note(shop, piece, "delivery", "", "out")
    assert ledger(shop, piece).costs.delivery == pytest.approx(18)
    assert isinstance(note_money(shop, piece.tag, "delivery", "", "out"), Refused)


@pytest.mark.parametrize(
    ("what", "amount", "told"),
    [
        ("tip", "5", "none of"),
        ("offer", "-5", "negative"),
        ("offer", "nan", "cannot be read"),
        ("offer", "99999999", "more than"),
    ],
)
def test_sums_that_cannot_be_are_refused(shop: Shop, what: str, amount: str, told: str) -> None:
    refused = note_money(shop, heron(shop).tag, what, amount)
    assert isinstance(refused, Refused) and told in refused.sentence


def test_no_hours_no_hourly_rate(shop: Shop) -> None:
    refused = money.offered(shop, heron(shop).tag, "640")
    assert isinstance(refused, Refused) and "Hardly any hours" in refused.sentence


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.floats(1, 5000), st.floats(1, 5000))
def test_a_higher_offer_never_earns_less(shop: Shop, one: float, other: float) -> None:
    found = Ledger(
        "x", Hours(7.5, {}, 0, ()), money.Costs(bought=80), money.Materials(0, (), ()), (), 25,
        12, None, (), (),
    )  # fmt: skip
    low, high = sorted((one, other))
    answers = [money.answer_offer(found, f"{price:.2f}") for price in (low, high)]
    rates = [a.per_hour for a in answers if isinstance(a, Offer)]
    assert len(rates) == 2 and rates[0] <= rates[1]


def test_the_ceiling_has_a_bad_case() -> None:
    """520 - 60 - 14 h at 25 leave 110; the lifting veneer takes 2.8 h more."""
    found = money.ceiling(NONE_SET, "520", "14", "60", "25", BadCase("the veneer lifts", 2.8))
    assert isinstance(found, Ceiling)
    assert found.sentence == "Pay up to 110; 40 if the veneer lifts."
    assert isinstance(money.ceiling(NONE_SET, "520", "14", "60"), Refused)
    assert isinstance(money.ceiling(NONE_SET, "x", "14", "60", "25"), Refused)


def test_a_quote_needs_five_sold_pieces(shop: Shop, clock: SetClock) -> None:
    for place in range(5):
        few = money.quote(shop, "25")
        assert isinstance(few, Quote) and few.likely is None and few.jobs == place
        made = lay_out(shop, f"Job {place}", "2")
        assert isinstance(made, Piece)
        worked(shop, made, clock, "all of it", 60 * (10 + place))
        note(shop, made, "bought", "100")
        note(shop, made, "sold", "600")
    found = money.quote(shop, "25")
    assert isinstance(found, Quote)
    assert found.likely == pytest.approx(100 + 12 * 25)
    assert "5 finished jobs" in found.sentence


def test_the_invoice_table_adds_up(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 120)
    note(shop, piece, "hardware", "48")
    note(shop, piece, "extra", "60", "=legs painted too")
    set_habit(shop, "rate", "30")
    text = money.invoice_csv(shop, piece.tag)
    assert isinstance(text, str)
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [r["amount"] for r in rows] == ["60.00", "48.00", "60.00"]
    assert rows[0]["quantity"] == "2.00" and rows[0]["unit"] == "h"
    assert rows[2]["item"] == "'=legs painted too"
    assert rows[2]["day"] == clock.now.astimezone().date().isoformat()


def test_work_too_short_for_a_tenth_of_an_hour_is_told_in_minutes() -> None:
    assert spent_words(6.5) == "6.5 h"
    assert spent_words(0.03) == "2 min"
    assert spent_words(0.004) == "1 min"


def test_a_piece_nobody_worked_on_has_no_figures_told(shop: Shop) -> None:
    piece = heron(shop)
    assert isinstance(set_habit(shop, "rate", "25"), Done)
    found = money.ledger(shop, piece.tag)
    assert isinstance(found, Ledger)
    assert found.sentence == "No work on it is noted yet."
    assert isinstance(note_money(shop, piece.tag, "bought", "95"), Done)
    found = money.ledger(shop, piece.tag)
    assert isinstance(found, Ledger)
    assert found.sentence == "No work on it is noted yet. Lowest for 25 an hour: 95."
