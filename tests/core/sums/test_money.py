from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.money import (
    BadCase,
    Ceiling,
    Costs,
    Offer,
    PriceFloor,
    Sale,
    ceiling,
    floor_price,
    offer,
    sale,
)
from partsbench.core.sums.quotes import Finished, Quote, quote
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

QUILL = Costs(bought=95, hardware=48, materials=36, delivery=38)


def test_an_offer_answered_at_once() -> None:
    """640 - 95 - 48 - 36 - 38 = 423; 423 / 14.5 = 29.17."""
    answer = answered(Offer, offer(640, QUILL, 14.5))
    assert answer.net == pytest.approx(423)
    assert answer.per_hour == pytest.approx(29.17, abs=0.005)
    assert answer.sentence == "At 640 you keep 423, 29.2 an hour over 14.5 h."


def test_an_offer_that_loses() -> None:
    assert answered(Offer, offer(200, QUILL, 14.5)).sentence == (
        "At 200 you lose 17, and 14.5 h of work."
    )


def test_the_floor_is_rounded_up() -> None:
    """217 + 14.5 × 25 = 579.5."""
    answer = answered(PriceFloor, floor_price(QUILL, 14.5, 25))
    assert answer.price == pytest.approx(579.5)
    assert answer.sentence == "Lowest for 25 an hour: 580."


def test_a_cost_not_known_is_not_nothing() -> None:
    unknown = replace(QUILL, storage=None)
    assert answered(Offer, offer(640, unknown, 14.5)).lacks == ("storage",)
    assert answered(PriceFloor, floor_price(unknown, 14.5, 25)).lacks == ("storage",)


@given(st.floats(0, 5000), st.floats(0.5, 200), st.floats(1, 100), st.floats(0, 30))
def test_at_the_floor_price_an_hour_earns_the_wanted_rate(
    bought: float, worked: float, rate: float, fee: float
) -> None:
    costs = Costs(bought=bought)
    price = answered(PriceFloor, floor_price(costs, worked, rate, fee)).price
    assert answered(Offer, offer(price, costs, worked, fee)).per_hour == pytest.approx(rate)


def test_what_to_pay_and_what_if() -> None:
    """Likely 560: less 100 costs and 14 h × 25 leaves 110; three hours more leave 35."""
    costs = Costs(hardware=60, materials=40)
    answer = answered(
        Ceiling, ceiling(560, costs, 14, 25, bad_case=BadCase("the side veneer lifts", 2.8))
    )
    assert (answer.likely, answer.bad) == (pytest.approx(110), pytest.approx(40))
    assert answer.sentence == "Pay up to 110; 40 if the side veneer lifts."
    worse = answered(Ceiling, ceiling(560, costs, 14, 25, bad_case=BadCase("it is worm", 9)))
    assert worse.sentence == "Pay up to 110; nothing if it is worm."
    plain = answered(Ceiling, ceiling(560, costs, 14, 25))
    assert plain.sentence == "Pay up to 110."
    assert "what may go wrong" in plain.lacks[0]
    assert "Walk away" in answered(Ceiling, ceiling(200, costs, 14, 25)).sentence


@given(st.floats(100, 5000), st.floats(0, 100), st.floats(1, 60), st.floats(0, 30))
def test_bought_at_the_ceiling_it_pays_the_rate(
    price: float, worked: float, rate: float, fee: float
) -> None:
    likely = answered(Ceiling, ceiling(price, Costs(), worked, rate, fee)).likely
    if likely > 0 and worked > 0.1:
        paid = offer(price, Costs(bought=likely), worked, fee)
        assert answered(Offer, paid).per_hour == pytest.approx(rate)


def test_the_sale_is_told_as_it_was() -> None:
    """640 - 64 fee - 217 = 359; 359 / 14.5 = 24.76."""
    answer = answered(Sale, sale(640, QUILL, 14.5, 10, "3.0 of it estimated"))
    assert answer.net == pytest.approx(359)
    assert answer.per_hour == pytest.approx(24.76, abs=0.005)
    assert answer.sentence == (
        "Sold at 640: you kept 359, 24.8 an hour over 14.5 h, 3.0 of it estimated."
    )
    assert answered(Sale, sale(217, QUILL, 14.5)).sentence == (
        "Sold at 217: you kept 0, 0.0 an hour over 14.5 h."
    )
    assert answered(Sale, sale(200, QUILL, 14.5)).sentence == (
        "Sold at 200: you lost 17, and 14.5 h of work."
    )


def test_a_sale_without_work_has_no_hourly_rate() -> None:
    answer = answered(Sale, sale(640, QUILL, 0.09))
    assert answer.per_hour is None
    assert answer.sentence == (
        "Sold at 640: you kept 423. Too little work is noted to tell what an hour earned."
    )
    assert answered(Sale, sale(640, QUILL, 0.1)).per_hour == pytest.approx(4230)


def test_offer_and_floor_say_what_no_clock_measured() -> None:
    doubt = "3.0 of it estimated"
    assert answered(Offer, offer(640, QUILL, 14.5, doubt=doubt)).sentence == (
        "At 640 you keep 423, 29.2 an hour over 14.5 h, 3.0 of it estimated."
    )
    assert answered(Offer, offer(200, QUILL, 14.5, doubt=doubt)).sentence == (
        "At 200 you lose 17, and 14.5 h of work, 3.0 of it estimated."
    )
    assert answered(PriceFloor, floor_price(QUILL, 14.5, 25, doubt=doubt)).sentence == (
        "Lowest for 25 an hour: 580, over 14.5 h, 3.0 of it estimated."
    )


@pytest.mark.parametrize("value", NONSENSE)
def test_money_that_cannot_be(value: Any) -> None:
    assert "price" in refused(offer(value, QUILL, 14.5))
    assert "hours" in refused(offer(640, QUILL, value))
    assert "rate" in refused(floor_price(QUILL, 14.5, value))
    assert "fee" in refused(floor_price(QUILL, 14.5, 25, value))
    assert "likely price" in refused(ceiling(value, QUILL, 14, 25))
    assert "price" in refused(sale(value, QUILL, 14.5))
    assert "hours" in refused(sale(640, QUILL, value))
    assert "more hours" in refused(ceiling(640, QUILL, 14, 25, bad_case=BadCase("x", value)))
    if value is not None:
        assert "price paid" in refused(offer(640, replace(QUILL, bought=value), 14.5))


def test_an_offer_without_hours_has_no_rate() -> None:
    assert refused(offer(640, QUILL, 0)) == "hours: 0 h is less than 0.1 h."


def test_a_fee_is_on_top_of_the_shops_own_sums() -> None:
    """400 of cost and work stay after a fee of 20 % when 500 is asked; hours bear no fee."""
    jobs = [Finished(f"job {i}", hours=10 + i, costs=100) for i in range(5)]
    answer = answered(Quote, quote(jobs, 25, 20))
    assert answer.likely == pytest.approx(500)
    assert answer.hours_likely == pytest.approx(12)


def test_half_of_six_jobs_lies_between_the_third_and_the_fourth() -> None:
    """By hand: (12 + 20) / 2 h; nine in ten of seven places is beyond the sixth, the worst job."""
    jobs = [Finished(f"job {h}", h, 0) for h in (30, 10, 50, 12, 20, 11)]
    answer = answered(Quote, quote(jobs, 10))
    assert (answer.likely, answer.bad) == (pytest.approx(160), pytest.approx(500))
    assert (answer.hours_likely, answer.hours_bad) == (pytest.approx(16), pytest.approx(50))


def test_one_job_is_one() -> None:
    one = answered(Quote, quote([Finished("Larch", 10, 100)], 25))
    assert one.sentence == "Too few to tell: 1 finished job of all kinds, 5 are needed."
    four = answered(Quote, quote([Finished("Larch", 10, 100)] * 4, 25))
    assert four.lacks == ("1 more finished job",)
    assert one.lacks == ("4 more finished jobs",)


def test_costs_of_the_bad_case_come_off_as_its_hours_do() -> None:
    costs, fault = Costs(hardware=60, materials=40), "a lock is missing"
    bad = answered(Ceiling, ceiling(560, costs, 14, 25, bad_case=BadCase(fault, 0.5, 30)))
    assert bad.sentence == "Pay up to 110; 67 if a lock is missing."


def test_what_just_pays_is_no_loss() -> None:
    costs = Costs(hardware=60, materials=40)
    gift = answered(Ceiling, ceiling(450, costs, 14, 25, bad_case=BadCase("it is worm", 1)))
    assert gift.sentence == "Pay up to 0; nothing if it is worm."
    even = answered(Ceiling, ceiling(560, costs, 14, 25, bad_case=BadCase("it is worm", 0, 110)))
    assert even.sentence == "Pay up to 110; 0 if it is worm."


def test_costs_left_out_are_none() -> None:
    assert answered(Offer, offer(640, Costs(), 10)).net == 640


def test_a_rate_is_told_to_the_hundredth_and_a_hair_of_rounding_raises_no_floor() -> None:
    said = PriceFloor(580.0000004, 25.126, 10, ()).sentence
    assert said == "Lowest for 25.13 an hour: 580."
    assert PriceFloor(580.000001, 25, 10, ()).sentence == "Lowest for 25 an hour: 581."
