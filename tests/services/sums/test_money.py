"""Costs as noted, floor, offers, the sale, ceiling, and the invoice table."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.hours import HoursWorked, HowTimed
from partsbench.core.sums.money import BadCase, Ceiling, Offer, PriceFloor
from partsbench.services.shop import Shop
from partsbench.services.sums import mixing, money
from partsbench.services.sums.habits import NONE_SET, set_habit
from partsbench.services.sums.hours import begin_work, end_work
from partsbench.services.sums.money import Ledger, note_money
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron


def worked(shop: Shop, piece: Piece, clock: SetClock, step: str, minutes: float) -> None:
    for done in (
        begin_work(shop, piece.tag, step),
        clock.pass_time(minutes=minutes),
        end_work(shop, piece.tag),
    ):
        assert not isinstance(done, Refused), done


def note(shop: Shop, piece: Piece, what: str, amount: str, about: str = "") -> None:
    done = note_money(shop, piece.tag, what, amount, about)
    assert isinstance(done, Done), done


def ledger(shop: Shop, piece: Piece) -> Ledger:
    found = money.ledger(shop, piece.tag)
    assert isinstance(found, Ledger), found
    return found


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
    answer = money.answer_offer(ledger(shop, piece), "640")
    assert isinstance(answer, Offer) and answer.per_hour == pytest.approx(29.17, abs=0.005)


def test_a_fee_is_taken_off_the_price(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "all of it", 600)
    note(shop, piece, "bought", "100")
    set_habit(shop, "fee", "10 %")
    answer = money.answer_offer(ledger(shop, piece), "500")
    assert isinstance(answer, Offer) and answer.per_hour == pytest.approx((450 - 100) / 10)
    floor = money.floor_price(shop, piece.tag, "25")
    assert isinstance(floor, PriceFloor) and floor.price == pytest.approx((100 + 250) / 0.9)


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


def test_after_the_sale_the_ledger_speaks_of_the_sale(shop: Shop, clock: SetClock) -> None:
    """640 was offered; it went for 600 less 10 %: 600 - 60 - 100 = 440 over 10 h."""
    piece = heron(shop)
    worked(shop, piece, clock, "all of it", 600)
    note(shop, piece, "bought", "100")
    set_habit(shop, "rate", "25")
    set_habit(shop, "fee", "10 %")
    note(shop, piece, "offer", "640")
    before = money.tell_ledger(ledger(shop, piece))
    assert before.sentence == "You have 10.0 h in it; at 640 you earn 48 an hour."
    assert before.data["sold"] is None
    assert {row[0] for row in before.rows} >= {"offer", "floor"}
    note(shop, piece, "sold", "600")
    told = money.tell_ledger(ledger(shop, piece))
    assert told.sentence == "Sold at 600: you kept 440, 44.0 an hour over 10.0 h."
    assert told.data["sold"] == {"price": 600, "net": 440, "per_hour": 44}
    assert not {row[0] for row in told.rows} & {"offer", "floor"}
    assert ("sale", "an hour earned", "44.00") in told.rows
    assert told.data["offers"] and told.data["floor_price"], "what was documented is still there"
    note(shop, piece, "sold", "")
    assert ledger(shop, piece).sentence == before.sentence


def test_what_was_sold_in_two_lots_is_one_sale(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "all of it", 600)
    note(shop, piece, "sold", "400", "the chest")
    note(shop, piece, "sold", "90", "its mirror")
    found = ledger(shop, piece).sold
    assert found is not None and (found.price, found.per_hour) == (490, 49)


def test_a_sale_without_work_and_one_with_estimates(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    note(shop, piece, "sold", "400")
    assert ledger(shop, piece).sentence == (
        "Sold at 400: you kept 400. Too little work is noted to tell what an hour earned."
    )
    assert money.tell_ledger(ledger(shop, piece)).data["sold"] == {
        "price": 400, "net": 400, "per_hour": None,
    }  # fmt: skip
    worked(shop, piece, clock, "all of it", 60)
    clock.pass_time(hours=5)
    record(shop, "D1", here=piece.tag)
    assert ledger(shop, piece).sentence == (
        "Sold at 400: you kept 400, 352.9 an hour over 1.1 h, 0.1 of it estimated."
    )


def test_offer_floor_and_table_say_what_is_estimated(shop: Shop, clock: SetClock) -> None:
    """An hour by the clock and, long after it, one washed drawer: 8 min."""
    piece = heron(shop)
    worked(shop, piece, clock, "Wash", 60)
    clock.pass_time(hours=5)
    record(shop, "D1", here=piece.tag)
    set_habit(shop, "rate", "30")
    found = ledger(shop, piece)
    assert found.sentence == (
        "You have 1.1 h in it, 0.1 of it estimated. Lowest for 30 an hour: 34."
    )
    assert found.floor is not None
    assert found.floor.sentence == "Lowest for 30 an hour: 34, over 1.1 h, 0.1 of it estimated."
    answer = money.answer_offer(found, "100")
    assert isinstance(answer, Offer)
    assert answer.sentence.endswith("an hour over 1.1 h, 0.1 of it estimated.")
    told = money.tell_floor(found, made_floor(money.floor_at(found)))
    assert told.data["estimated"] == pytest.approx(8 / 60)
    assert told.data["measured"] == pytest.approx(1.0)
    assert "estimated" in told.sources and "measured by the clock" in told.sources
    text = money.invoice_csv(shop, piece.tag)
    assert isinstance(text, str)
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [(r["item"], r["quantity"], r["amount"], r["hours known"]) for r in rows] == [
        ("Wash", "1.00", "30.00", "measured by the clock"),
        ("Wash", "0.13", "4.00", "estimated"),
    ]
    assert ("hours", "Wash", "0.1 h, estimated") in money.tell_ledger(found).rows


def made_floor(found: PriceFloor | Refused) -> PriceFloor:
    assert isinstance(found, PriceFloor), found
    return found


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
    refused = money.answer_offer(ledger(shop, heron(shop)), "640")
    assert isinstance(refused, Refused) and "Hardly any hours" in refused.sentence


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.floats(1, 5000), st.floats(1, 5000))
def test_a_higher_offer_never_earns_less(shop: Shop, one: float, other: float) -> None:
    found = Ledger(
        "x", HoursWorked({"all": {HowTimed.MEASURED: 7.5}}), money.Costs(bought=80),
        money.Materials(0, (), ()), (), 25, 12, None, (), (),
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


def test_work_done_again_and_tins_stand_in_the_ledger_and_in_the_invoice(
    shop: Shop, clock: SetClock
) -> None:
    piece = heron(shop)
    worked(shop, piece, clock, "sanding", 60)
    assert isinstance(begin_work(shop, piece.tag, "sanding", redo=True), Done)
    clock.pass_time(minutes=30)
    assert isinstance(end_work(shop, piece.tag), Done)
    mixing.stock_tin(shop, "blue", "750 ml", price=24)
    mixing.use_tin(shop, piece.tag, "blue", "500 ml")
    rows = money.tell_ledger(ledger(shop, piece)).rows
    assert [row[2] for row in rows if row[1] == "done again, of these"] == ["0.5 h"]
    text = money.invoice_csv(shop, piece.tag)
    assert isinstance(text, str)
    (material,) = [row for row in csv.reader(io.StringIO(text)) if row[2] == "material"]
    assert "blue" in material and "8.00" in material
