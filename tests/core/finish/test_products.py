from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from partsbench.core.finish.products import (
    Ready,
    TinCard,
    TinWait,
    parse_products,
    readiness_for,
    tin_faults,
)
from partsbench.core.finish.steps import Operation
from partsbench.core.sources import Status
from partsbench.trade import load, load_paths
from tests.support.faces import PATHS, PRODUCTS

HOUR = timedelta(hours=1)


def test_each_shipped_time_has_a_source_that_is_not_the_users():
    found = 0
    for key, product in PRODUCTS.items():
        for ready, timed in product.times.items():
            found += 1
            assert timed.source.text.strip(), (key, ready)
            assert timed.source.said.strip(), (key, ready)
            assert timed.source.status not in (Status.OWN, Status.TIN)
    assert found > 40


def test_a_time_without_a_source_cannot_be_loaded():
    with pytest.raises(KeyError, match="source"):
        parse_products(
            {"x": {"name": "x", "film": "oil", "water_borne": False, "sand": {"value": "4 h"}}}
        )


def test_a_time_that_is_none_is_refused():
    raw = {"value": "soon", "source": "s", "status": "from memory"}
    with pytest.raises(ValueError, match="soon"):
        parse_products({"x": {"name": "x", "film": "oil", "water_borne": False, "sand": raw}})


def test_each_product_named_by_a_path_is_a_class():
    named = {s.product for p in PATHS.values() for s in p.steps if s.product}
    assert named <= set(PRODUCTS)
    assert len(load_paths()) >= 6


def test_water_borne_films_are_water_films():
    assert {p.key for p in PRODUCTS.values() if p.water_borne} == {
        p.key for p in PRODUCTS.values() if p.film == "water"
    }
    assert load("readiness")["stain_oil"]["water_borne"] is False


# 'How Long Should Latex Paint Dry Between Coats?', engineerfix.com: 2 to 4 h;
# 'How long should oil-based polyurethane dry before second coat', greenyplace.com: 6 h in the best
# air, better overnight, within 24 h without sanding, cured in 30 d;
# hunker.com 13412953: alkyd 16 to 24 h; diygeeks.com, 'Polyurethane Over Shellac': 30 min.
@pytest.mark.parametrize(
    ("product", "ready", "hours"),
    [
        ("paint_water", Ready.RECOAT, 4),
        ("clear_oil", Ready.RECOAT, 12),
        ("clear_oil", Ready.SERVICE, 30 * 24),
        ("paint_oil", Ready.RECOAT, 24),
        ("shellac", Ready.RECOAT, 1 / 2),
    ],
)
def test_the_times_of_the_trade_press_are_those_of_its_pages(product, ready, hours):
    timed = PRODUCTS[product].times[ready]
    assert timed.time == timedelta(hours=hours)
    assert timed.source.status is Status.TRADE_PRESS


def test_a_window_of_a_class_has_its_end_and_says_what_comes_first_then():
    timed = PRODUCTS["clear_oil"].times[Ready.RECOAT]
    assert (timed.latest, timed.missed) == (timedelta(hours=24), "sand it lightly first")
    raw = {"value": "12 h", "latest": "6 h", "missed": "sand", "source": "s", "status": "own"}
    for wrong in (raw, {**raw, "latest": "soon"}, {**raw, "latest": "24 h", "missed": ""}):
        doc = {"x": {"name": "x", "film": "oil", "water_borne": False, "recoat": wrong}}
        with pytest.raises(ValueError, match="ends no window"):
            parse_products(doc)


def test_each_operation_asks_for_its_own_kind_of_dry():
    assert readiness_for(Operation.SAND) is Ready.SAND
    assert readiness_for(Operation.MASK) is Ready.TAPE
    assert readiness_for(Operation.CLEAR) is Ready.RECOAT
    assert readiness_for(Operation.WASH) is None


def test_a_tin_answers_for_an_operation_by_name_or_by_readiness():
    tin = TinCard("blue", "paint_water", {"recoat": TinWait(HOUR), "clear": TinWait(9 * HOUR)})
    assert tin.wait_for(Operation.COLOUR) == TinWait(HOUR)
    assert tin.wait_for(Operation.CLEAR) == TinWait(9 * HOUR)
    assert tin.wait_for(Operation.SAND) is None
    assert tin.wait_for(Operation.WASH) is None
    assert tin.source("earliest", 4 * HOUR).text == "your tin card for blue: 4 h"


def test_a_good_tin_card_has_no_faults():
    tin = TinCard("blue", "paint_water", {"recoat": TinWait(HOUR, 9 * HOUR)}, 10, 30, 85)
    assert tin_faults(tin, PRODUCTS) == []


def test_each_fault_of_a_tin_card_is_told():
    tin = TinCard(
        " ",
        "paint_blue",
        {"varnish": TinWait(HOUR), "recoat": TinWait(2 * HOUR, HOUR)},
        least_c=30,
        most_c=10,
        most_humidity=140,
        over=frozenset({"tar"}),
    )
    told = " ".join(tin_faults(tin, PRODUCTS))
    for word in ("name", "paint_blue", "varnish", "before the earliest", "highest", "100 %", "tar"):
        assert word in told


def test_a_tin_may_name_one_moment_one_warmth_and_air_full_of_water():
    wait = {"recoat": TinWait(4 * HOUR, 4 * HOUR)}
    card = TinCard("blue", "paint_water", wait, least_c=20, most_c=20, most_humidity=100)
    assert tin_faults(card, PRODUCTS) == []
    assert tin_faults(replace(card, most_humidity=1), PRODUCTS) == []
    assert len(tin_faults(replace(card, most_c=19.5), PRODUCTS)) == 1
    for humidity in (0, 0.5, 100.5):
        assert tin_faults(replace(card, most_humidity=humidity), PRODUCTS) == [
            "Humidity is a figure from 1 to 100 %."
        ]


@pytest.mark.parametrize(
    ("wait", "words"),
    [
        (TinWait(4 * HOUR, 72 * HOUR), "4 h to 3 d"),
        (TinWait(4 * HOUR), "from 4 h"),
        (TinWait(latest=72 * HOUR), "up to 3 d"),
        (TinWait(), ""),
    ],
)
def test_what_a_tin_says_in_words(wait, words):
    assert wait.words == words
