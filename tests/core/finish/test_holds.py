from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from partsbench.core.finish.cups import Cup, Poured
from partsbench.core.finish.findings import Level
from partsbench.core.finish.holds import (
    DEW_SPREAD_C,
    HOLDS,
    LEAST_OIL_C,
    LEAST_WATER_BORNE_C,
    MOST_HUMID,
    findings,
)
from partsbench.core.finish.masks import MaskState
from partsbench.core.finish.products import TinCard
from partsbench.core.finish.situation import FaceFacts, Lead, Mixes, Room, Situation
from partsbench.core.finish.waits import Shop
from partsbench.core.sums.climate import dew_point
from partsbench.trade import load
from tests.support.faces import PRODUCTS, SHOP, START, at, face, path, step, through, words

PAINT = path("paint", "seam")
STAIN = path("stain", "seam", "old_finish", "conditioner_oil")


def doing(now, key, when="90 d", **known) -> Situation:
    facts = FaceFacts("D3 front", **known.pop("facts", {}))
    return Situation(now, step(now.path, key), at(when), **{"shop": SHOP, "facts": facts, **known})


def held(situation: Situation) -> list[str]:
    return words(findings(situation, HOLDS))


def why(situation: Situation) -> str:
    return " ".join(f.reason for f in findings(situation, HOLDS))


def room(temperature: float, humidity: float, surface: float | None = None) -> Room:
    return Room(temperature, humidity, dew_point(temperature, humidity).celsius, surface)


def test_nothing_is_held_when_all_is_known_and_dry():
    quiet = doing(through(PAINT, "colour_1", "89 d"), "sand_220")
    assert held(quiet) == []


@pytest.mark.parametrize(
    ("path_key", "last", "coming"),
    [
        ("paint", "rinse", "sand_150"),
        ("paint", "colour_1", "sand_220"),
        ("paint", "colour_3", "topcoat_1"),
        ("stain", "residue", "sand_150"),
        ("stain", "clear_1", "sand_320_1"),
    ],
)
def test_nothing_is_done_before_what_is_under_it_is_dry(path_key, last, coming):
    on = {"paint": PAINT, "stain": STAIN}[path_key]
    now = through(on, last, "0 h")
    assert "not dry yet" in held(doing(now, coming, "1 h"))
    assert "not dry yet" not in held(doing(now, coming, "25 h"))


def test_a_wait_says_what_for_how_long_and_whose_figure():
    told = why(doing(through(PAINT, "colour_1", "0 h"), "sand_220", "1 h"))
    assert "Colour coat 1, thin first needs 4 h" in told
    assert "from memory" in told


def test_a_water_film_over_oil_and_tape_on_stain_have_names_of_their_own():
    plain = path("stain")
    wiped = through(plain, "wipe", "0 h")
    assert "water over oil too soon" in held(doing(wiped, "clear_1", "30 h"))
    assert held(doing(wiped, "clear_1", "72 h")) == []
    seamed = through(path("stain", "seam"), "wipe", "0 h")
    assert "tape too soon" in held(doing(seamed, "mask", "1 h"))
    assert held(doing(seamed, "mask", "24 h")) == []


def test_stain_after_the_conditioners_window_is_held_and_told_the_way_back():
    now = through(STAIN, "wipe_condition", "0 h")
    assert held(doing(now, "stain", "30 min")) == []
    assert held(doing(now, "stain", "31 min")) == ["window closed"]
    assert "scuff lightly by hand at 220" in why(doing(now, "stain", "31 min"))


def test_a_step_that_mends_itself_is_late_but_not_held():
    now = through(PAINT, "topcoat_2", "0 h")
    late = doing(now, "unmask", "30 h")
    assert late.window.is_late(late.now)
    assert held(late) == []


LEAD_CASES = [
    (Lead.UNKNOWN, False, True),
    (Lead.UNKNOWN, True, False),
    (Lead.TESTED_LEAD, False, True),
    (Lead.TESTED_LEAD, True, False),
    (Lead.TESTED_FREE, False, False),
    (Lead.WET, False, False),
    (Lead.NO_OLD_PAINT, False, False),
]


@pytest.mark.parametrize(("lead", "wet", "refused"), LEAD_CASES)
def test_old_paint_is_not_sanded_dry_before_lead_is_answered(lead, wet, refused):
    now = through(PAINT, "rinse")
    found = held(doing(now, "sand_150", facts={"lead": lead}, wet=wet))
    assert ("lead not answered" in found) is refused


def test_what_nobody_has_said_holds_dry_sanding_only_where_something_was_stripped():
    asked = {"lead": Lead.NOT_ASKED}
    assert held(doing(through(PAINT, "rinse"), "sand_150", facts=asked)) == []
    stripped = through(STAIN, "residue")
    assert "lead not answered" in held(doing(stripped, "sand_150", facts=asked))
    assert "was stripped" in why(doing(stripped, "sand_150", facts=asked))
    assert "lead not answered" not in held(doing(stripped, "sand_150", facts=asked, wet=True))


def test_lead_holds_scraping_until_the_method_is_named_and_never_new_film():
    stripped = through(STAIN, "strip", "89 d")
    assert "lead not answered" in held(doing(stripped, "scrape", facts={"lead": Lead.UNKNOWN}))
    chemical = doing(stripped, "scrape", facts={"lead": Lead.CHEMICAL})
    assert "lead not answered" not in held(chemical)
    coated = through(PAINT, "colour_1", "89 d")
    assert held(doing(coated, "sand_220", facts={"lead": Lead.UNKNOWN})) == []


def cup(**changes) -> Cup:
    poured = (Poured("clear", "A1", 9), Poured("colour", "B7", 1))
    return Cup(**{"key": "U1", "name": "topcoat", "poured": poured, "made": START, **changes})


def test_a_tinted_cup_is_refused_on_stain_and_clear():
    stained = through(path("stain"), "wipe")
    told = doing(stained, "clear_1", mixes=Mixes(cup(tint=5)))
    assert "tinted cup" in held(told)
    assert "D3 front takes clear" in why(told)
    assert held(doing(stained, "clear_1", mixes=Mixes(cup()))) == []
    painted = through(PAINT, "colour_3", "89 d 12 h")
    assert held(doing(painted, "topcoat_1", mixes=Mixes(cup(tint=5)))) == []
    bare = through(path("clear"), "sand_220")
    assert "tinted cup" in held(doing(bare, "clear_1", mixes=Mixes(cup(tint=5))))


def neighbours(state: MaskState) -> Mapping[str, MaskState]:
    return {"top": state}


def test_a_coat_waits_until_the_neighbours_mask_is_known():
    now = through(PAINT, "mask", "89 d 20 h")
    unknown = doing(now, "colour_1", neighbours=neighbours(MaskState.UNKNOWN))
    assert "neighbour's mask not known" in held(unknown)
    assert "top" in why(unknown)
    for state in (MaskState.MASKED, MaskState.NOT_NEEDED):
        assert "neighbour's mask not known" not in held(
            doing(now, "colour_1", neighbours=neighbours(state))
        )
    scuffed = doing(through(PAINT, "colour_1"), "sand_220",
                    neighbours=neighbours(MaskState.UNKNOWN))  # fmt: skip
    assert held(scuffed) == []


def test_a_mask_stays_while_a_coat_is_to_come():
    now = through(STAIN, "mask")
    reason = ("rails: Tinted topcoat 1, thin is to come",)
    assert held(doing(now, "unmask", masked_for=reason)) == ["masked-for coat to come"]
    assert held(doing(now, "unmask")) == []


# Wood Handbook, FPL-GTR-190 (2010), ch. 16: water-borne 10 °C and over; ISO 8502-4 and ISO 12944-7
# (steel, borrowed): 3 °C over the dew point, 85 %. At 20 °C the spread is 3 °C at 82.9 % humidity.
@pytest.mark.parametrize(
    ("air", "refused"),
    [
        (room(10.0, 50), False),
        (room(9.9, 50), True),
        (room(20, 82.5), False),
        (room(20, 83.5), True),
        (room(20, 86), True),
        (room(20, 60, surface=12), True),
        (room(20, 60, surface=16), False),
    ],
)
def test_coats_keep_to_the_published_limits_where_the_tin_is_silent(air, refused):
    now = through(PAINT, "sand_220")
    assert ("outside the limits" in held(doing(now, "colour_2", room=air))) is refused


def test_the_limits_are_those_of_the_table_that_the_sums_use():
    table = {key: raw["value"] for key, raw in load("climate")["limits"].items()}
    assert table == {
        "over_dew_point_c": DEW_SPREAD_C,
        "humidity_most": MOST_HUMID,
        "water_borne_least_c": LEAST_WATER_BORNE_C,
        "oil_least_c": LEAST_OIL_C,
    }


def test_the_tins_limits_win_over_the_published_ones():
    tin = TinCard("blue", "paint_water", least_c=15, most_c=28, most_humidity=60, over_dew_c=5)
    shop = Shop(PRODUCTS, {"paint_water": tin})
    now = through(PAINT, "sand_220")
    for air, word in ((room(14, 40), "15"), (room(29, 30), "28"), (room(20, 61), "60 %")):
        assert word in why(doing(now, "colour_2", room=air, shop=shop))
    assert held(doing(now, "colour_2", room=room(20, 50), shop=shop)) == []
    cold = Shop(PRODUCTS, {"paint_water": TinCard("ice", "paint_water", least_c=2)})
    assert held(doing(now, "colour_2", room=room(5, 40), shop=cold)) == []


def test_sanding_has_no_climate_limits():
    assert held(doing(through(PAINT, "colour_1"), "sand_220", room=room(2, 95))) == []


def test_layers_follow_the_lists_on_the_tins():
    now = through(PAINT, "colour_3", "89 d 11 h")
    over = TinCard("satin", "clear_water", over=frozenset({"stain_oil"}))
    refused = doing(now, "topcoat_1", shop=Shop(PRODUCTS, {"clear_water": over}))
    assert "layers do not go together" in held(refused)
    assert "water-borne paint" in why(refused)
    allowed = replace(over, over=frozenset({"paint_water"}))
    assert held(doing(now, "topcoat_1", shop=Shop(PRODUCTS, {"clear_water": allowed}))) == []
    under = TinCard("blue", "paint_water", under=frozenset({"wax"}))
    assert "layers do not go together" in held(
        doing(now, "topcoat_1", shop=Shop(PRODUCTS, {"paint_water": under}))
    )


def test_an_open_loop_holds_sanding_and_coats_but_not_its_own_end():
    washed = face(PAINT, ("wash", "0 h"))
    assert held(doing(washed, "rinse")) == []
    assert "open loop" in held(doing(washed, "sand_150"))
    stripped = through(STAIN, "strip", "89 d 23 h")
    assert "open loop" not in held(doing(stripped, "residue"))
    assert "open loop" in held(doing(stripped, "sand_150"))


def test_a_mask_that_is_on_is_no_reason_to_hold_a_coat():
    masked = through(PAINT, "mask", "89 d 23 h")
    assert "open loop" not in held(doing(masked, "colour_1"))


def test_each_rule_is_a_hold_with_a_source():
    assert {r.level for r in HOLDS} == {Level.HOLD}
    assert all(r.source.text for r in HOLDS)
    assert len({r.name for r in HOLDS}) == len(HOLDS)
