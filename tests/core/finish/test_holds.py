from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from partsbench.core.finish.clocks import Window
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
from partsbench.core.finish.masks import MaskState, tape_off
from partsbench.core.finish.old_finish import Lead, OldFinish
from partsbench.core.finish.own_readiness import Try
from partsbench.core.finish.products import Ready, TinCard
from partsbench.core.finish.progress import progress
from partsbench.core.finish.situation import FaceFacts, Mixes, Room, Situation
from partsbench.core.finish.waits import WaitFigures
from partsbench.core.piece.spot import Spot
from partsbench.core.sums.climate import dew_point
from partsbench.trade import load
from tests.support.faces import PRODUCTS, SHOP, START, at, face, path, step, through, words

PAINT = path("paint", "seam")
STAIN = path("stain", "seam", "old_finish", "conditioner_oil")
BARE = OldFinish(Lead.BARE)


def doing(now, key, when="90 d", **known) -> Situation:
    facts = FaceFacts(Spot("D3", "front"), **{"old": BARE, **known.pop("facts", {})})
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


RULE = "old finish not answered"


def old(lead: Lead, **how: bool) -> dict[str, OldFinish]:
    return {"old": OldFinish(lead, **how)}


HELD = {Lead.FOUND, Lead.UNKNOWN, Lead.NOT_SAID}


@pytest.mark.parametrize("lead", list(Lead))
def test_nothing_old_is_sanded_dry_before_it_is_cleared(lead):
    rinsed = through(PAINT, "rinse")
    assert (RULE in held(doing(rinsed, "sand_150", facts=old(lead)))) is (lead in HELD)
    assert RULE not in held(doing(rinsed, "sand_150", facts=old(lead), wet=True))


@pytest.mark.parametrize("lead", list(Lead))
def test_the_question_comes_before_the_stripper_which_leaves_nothing_to_test(lead):
    rinsed = through(STAIN, "rinse")
    asked = doing(rinsed, "strip", facts=old(lead))
    assert (RULE in held(asked)) is (lead in HELD)
    assert ("before the stripper takes it off" in why(asked)) is (lead in HELD)
    assert RULE not in held(doing(rinsed, "strip", facts=old(lead, chemical=True)))
    assert (RULE in held(doing(rinsed, "strip", facts=old(lead, wet=True)))) is (lead in HELD)


@pytest.mark.parametrize("lead", sorted(HELD))
def test_a_wet_way_allows_wet_sanding_and_asks_for_it(lead):
    rinsed, wet = through(PAINT, "rinse"), old(lead, wet=True)
    assert held(doing(rinsed, "sand_150", facts=wet)) == [RULE]
    assert held(doing(rinsed, "sand_150", facts=wet, wet=True)) == []
    said = why(doing(rinsed, "sand_150", facts=wet))
    assert ("worked wet" in said) is (lead is not Lead.FOUND)


@pytest.mark.parametrize("lead", sorted(HELD))
def test_chemistry_is_no_answer_on_a_path_that_strips_nothing(lead):
    scuffed = doing(through(PAINT, "rinse"), "sand_150", facts=old(lead, chemical=True))
    assert held(scuffed) == [RULE]
    assert ("no stripper was on it" in why(scuffed)) is (lead is not Lead.FOUND)


@pytest.mark.parametrize("lead", sorted(HELD))
def test_stripped_wood_is_not_sanded_dry_either_for_the_residue(lead):
    stripped = through(STAIN, "residue")
    chemical = old(lead, chemical=True)
    assert RULE in held(doing(stripped, "sand_150", facts=chemical))
    assert RULE not in held(doing(stripped, "sand_150", facts=chemical, wet=True))
    told = why(doing(stripped, "sand_150", facts=chemical))
    assert ("also after stripping" in told) is (lead is Lead.FOUND)
    assert ("residue" in told) is (lead is not Lead.FOUND)
    assert RULE not in held(doing(stripped, "sand_150", facts=old(Lead.FREE, chemical=True)))


def test_scraping_under_stripper_wants_its_way_said_and_new_film_is_not_asked_about():
    wet = through(STAIN, "strip", "89 d")
    assert RULE in held(doing(wet, "scrape", facts=old(Lead.UNKNOWN)))
    assert RULE not in held(doing(wet, "scrape", facts=old(Lead.UNKNOWN, chemical=True)))
    unstripped = through(STAIN, "rinse")
    assert RULE in held(doing(unstripped, "scrape", facts=old(Lead.UNKNOWN, chemical=True)))
    coated = through(PAINT, "colour_1", "89 d")
    for lead in Lead:
        assert held(doing(coated, "sand_220", facts=old(lead))) == []


def cup(**changes) -> Cup:
    poured = (Poured("clear", "A1", 9), Poured("colour", "B7", 1))
    return Cup(**{"key": "U1", "name": "topcoat", "poured": poured, "made": START, **changes})


TAKEN = {"topcoat_1": ("clear_water", 5), "clear_1": ("clear_water", 0),
         "colour_1": ("paint_water", 0)}  # fmt: skip


@pytest.mark.parametrize("key", list(TAKEN))
@pytest.mark.parametrize("product", ["clear_water", "paint_water", "paint_oil", "stain_oil", ""])
@pytest.mark.parametrize("tint", [0, 5])
def test_only_the_product_and_tint_that_a_step_takes_leave_the_gun(key, product, tint):
    on = path("stain") if key == "clear_1" else PAINT
    before = {"topcoat_1": "colour_3", "clear_1": "wipe", "colour_1": "sand_150"}[key]
    asked = doing(through(on, before), key, mixes=Mixes(cup(product=product, tint=tint)))
    wanted, tinted = TAKEN[key]
    # A body paint is coloured anyhow; only a clear is turned into something else by tint.
    fits = product == wanted and (key == "colour_1" or bool(tint) == bool(tinted))
    assert ("wrong cup" in held(asked)) is not fits


def test_a_wrong_cup_is_told_by_what_it_holds_and_what_the_face_takes():
    wiped = through(path("stain"), "wipe")
    black = Mixes(cup(name="black", product="paint_water"))
    told = why(doing(wiped, "clear_1", mixes=black))
    assert "cup U1 (black) holds water-borne paint; Clear coat 1 takes water-borne clear" in told
    told = why(doing(wiped, "clear_1", mixes=Mixes(cup())))
    assert "nobody said what cup U1 (topcoat) holds" in told
    tinted = why(doing(wiped, "clear_1", mixes=Mixes(cup(product="clear_water", tint=5))))
    assert "without tint" in tinted


def test_a_step_may_take_more_than_one_class():
    wide = replace(PAINT, steps=tuple(
        replace(s, takes=("paint_oil",)) if s.key == "colour_1" else s for s in PAINT.steps
    ))  # fmt: skip
    ready = through(wide, "sand_150", "89 d 23 h")
    assert held(doing(ready, "colour_1", mixes=Mixes(cup(product="paint_oil")))) == []
    assert "water-borne paint or alkyd paint" in why(
        doing(ready, "colour_1", mixes=Mixes(cup(product="clear_oil")))
    )


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
    shop = WaitFigures(PRODUCTS, {"paint_water": tin})
    now = through(PAINT, "sand_220")
    for air, word in ((room(14, 40), "15"), (room(29, 30), "28"), (room(20, 61), "60 %")):
        assert word in why(doing(now, "colour_2", room=air, shop=shop))
    assert held(doing(now, "colour_2", room=room(20, 50), shop=shop)) == []
    cold = WaitFigures(PRODUCTS, {"paint_water": TinCard("ice", "paint_water", least_c=2)})
    assert held(doing(now, "colour_2", room=room(5, 40), shop=cold)) == []


def test_sanding_has_no_climate_limits():
    assert held(doing(through(PAINT, "colour_1"), "sand_220", room=room(2, 95))) == []


def test_layers_follow_the_lists_on_the_tins():
    now = through(PAINT, "colour_3", "89 d 11 h")
    over = TinCard("satin", "clear_water", over=frozenset({"stain_oil"}))
    refused = doing(now, "topcoat_1", shop=WaitFigures(PRODUCTS, {"clear_water": over}))
    assert "layers do not go together" in held(refused)
    assert "water-borne paint" in why(refused)
    allowed = replace(over, over=frozenset({"paint_water"}))
    assert held(doing(now, "topcoat_1", shop=WaitFigures(PRODUCTS, {"clear_water": allowed}))) == []
    under = TinCard("blue", "paint_water", under=frozenset({"wax"}))
    assert "layers do not go together" in held(
        doing(now, "topcoat_1", shop=WaitFigures(PRODUCTS, {"paint_water": under}))
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


@pytest.mark.parametrize(
    ("air", "refused"),
    [
        (room(20, 85, surface=40), False),
        (room(20, 85.1, surface=40), True),
        (Room(20, 50, 9.3, surface_c=12.3), False),
        (Room(20, 50, 9.3, surface_c=12.2), True),
    ],
)
def test_the_published_limits_themselves_still_serve(air, refused):
    """ISO 8502-4: at least 3 °C over the dew point; ISO 12944-7: up to 85 %."""
    now = through(PAINT, "sand_220")
    assert ("outside the limits" in held(doing(now, "colour_2", room=air))) is refused


def test_a_surface_too_near_its_dew_is_told_how_warm_it_must_be():
    """Dew at 9.3 °C and 3 °C over it: 12.3 °C. A tin that asks for 5 °C over it: 14.3 °C."""
    cold = Room(20, 50, 9.3, surface_c=8)
    now = through(PAINT, "sand_220")
    assert "the surface must be over 12.3 °C, clear of dew" in why(
        doing(now, "colour_2", room=cold)
    )
    careful = WaitFigures(PRODUCTS, {"paint_water": TinCard("blue", "paint_water", over_dew_c=5)})
    told = why(doing(now, "colour_2", room=cold, shop=careful))
    assert "the surface must be over 14.3 °C, clear of dew" in told


def test_a_tin_bears_the_very_warmth_that_it_names():
    shop = WaitFigures(PRODUCTS, {"paint_water": TinCard("blue", "paint_water", most_c=28)})
    now = through(PAINT, "sand_220")
    assert held(doing(now, "colour_2", room=room(28, 30), shop=shop)) == []
    assert held(doing(now, "colour_2", room=room(28.1, 30), shop=shop)) == ["outside the limits"]


@pytest.mark.parametrize(("warmth", "refused"), [(4.0, False), (3.9, True)])
def test_oil_may_be_laid_colder_than_water(warmth, refused):
    """Wood Handbook, FPL-GTR-190 (2010), ch. 16: oil 4 °C and over, water-borne 10 °C."""
    now = through(path("stain"), "sand_220")
    assert ("outside the limits" in held(doing(now, "stain", room=room(warmth, 50)))) is refused


def test_water_over_water_is_only_not_dry():
    assert held(doing(through(PAINT, "colour_3", "0 h"), "topcoat_1", "1 h")) == ["not dry yet"]


def test_tape_lifts_the_film_that_went_on_last():
    seamed = through(path("stain", "seam", "conditioner_oil"), "wipe", "0 h")
    assert "tape on Wipe off the stain now would lift it" in why(doing(seamed, "mask", "1 h"))


def test_only_a_clear_coat_is_offered_a_brush_line_at_a_neighbour_not_known():
    """Colour ends at a line on tape; clear may be brushed up to it."""
    unknown = neighbours(MaskState.UNKNOWN)
    coloured = doing(through(PAINT, "mask", "89 d 20 h"), "colour_1", neighbours=unknown)
    cleared = doing(through(path("stain"), "wipe"), "clear_1", neighbours=unknown)
    assert "brush line" not in why(coloured)
    assert "reverse mask there, or a brush line that needs none?" in why(cleared)


def test_an_open_loop_lets_masking_and_filling_pass():
    washed = face(PAINT, ("wash", "0 h"))
    assert "open loop" in held(doing(washed, "colour_1"))
    for key in ("fill", "mask"):
        assert "open loop" not in held(doing(washed, key))


def tried(is_ready: bool, when: str, film_at: str = "0 h") -> Try:
    return Try("D3", Ready.TAPE, is_ready, "stain_oil", "", at(film_at), at(when))


def test_what_was_tried_and_not_ready_is_held_until_it_is_tried_again():
    seam = path("stain", "seam", "conditioner_oil")
    wiped = through(seam, "wipe", "0 h")
    assert held(doing(wiped, "mask", "30 h")) == []
    lifted = tried(False, "26 h")
    asked = doing(wiped, "mask", "30 h", tries=(lifted,))
    assert held(asked) == ["tried, not ready"]
    assert why(asked) == (
        "tried 26 h after Wipe off the stain, not ready for tape: try it again first"
    )
    again = (lifted, tried(True, "29 h"))
    assert held(doing(wiped, "mask", "30 h", tries=again)) == []
    another_film = tried(False, "26 h", film_at="1 h")
    assert held(doing(wiped, "mask", "30 h", tries=(another_film,))) == []


def test_nothing_is_held_by_a_try_where_there_is_nothing_to_wait_for():
    """A rinse waits for no film, and on a bare face there is none."""
    bare = face(PAINT, ("wash", "0 h"))
    assert held(doing(bare, "rinse", tries=(tried(False, "26 h"),))) == []
    sanded = through(path("stain"), "sand_150", "89 d")
    assert held(doing(sanded, "sand_220", tries=(tried(False, "26 h"),))) == []


def test_a_part_that_is_away_is_not_worked_on_until_the_day_it_comes_back():
    now = through(PAINT, "colour_1", "80 d")
    assert held(doing(now, "sand_220", "89 d", away=at("90 d"))) == ["away"]
    assert held(doing(now, "sand_220", "90 d", away=at("90 d"))) == []


def at_this_tape(**coated: str) -> dict[Spot, Window]:
    """Of the faces at a tape: when it may come off the paint that each of them got at that time."""
    found = {}
    for face_at, when in coated.items():
        off = tape_off(through(PAINT, "topcoat_2", when), SHOP)
        assert off is not None
        found[Spot(face_at, "front")] = off
    return found


def test_tape_stays_on_until_the_film_of_every_face_at_it_has_set():
    """A topcoat sets in an hour: the tape may come off the second face at 3 h, and no sooner."""
    stained = through(path("stain", "seam"), "mask", "0 h")
    tape = at_this_tape(D1="1 h", D2="2 h")
    early = doing(stained, "unmask", "2 h 59 min", tape=tape)
    assert held(early) == ["tape not to come off yet"]
    assert why(early) == "D2 front: Tinted topcoat 2, thin first needs 1 h"
    assert held(doing(stained, "unmask", "3 h", tape=tape)) == []
    assert held(doing(stained, "unmask", "2 h 59 min")) == []


def test_where_the_face_itself_asks_longer_its_own_wait_is_told_and_not_the_tapes():
    painted = through(PAINT, "topcoat_2", "2 h")
    for other in ("1 h", "2 h"):
        tape = at_this_tape(D1=other)
        assert held(doing(painted, "unmask", "2 h 30 min", tape=tape)) == ["not dry yet"]
    tape = at_this_tape(D1="3 h")
    both = ["tape not to come off yet", "not dry yet"]
    assert held(doing(painted, "unmask", "2 h 30 min", tape=tape)) == both
    assert held(doing(painted, "unmask", "3 h 30 min", tape=tape)) == both[:1]


def test_what_the_clock_told_wrong_is_asked_for_and_no_wait_is_counted_from_it():
    """A time in doubt is one hold: neither a wait nor a closed window is told from it."""
    doubtful = [replace(m, doubt="the clock stood in 2024")
                for m in through(PAINT, "colour_3", "0 h").history]  # fmt: skip
    now = progress(PAINT, doubtful)
    for when in ("1 h", "30 h"):
        assert held(doing(now, "topcoat_1", when)) == ["time in doubt"]
        assert why(doing(now, "topcoat_1", when)).startswith(
            "Colour coat 3, fuller: the clock stood in 2024. Say what time it was"
        )
    tape = at_this_tape(D1="1 h")
    told = {f: replace(w, opens=replace(w.opens, since=doubtful[-1]), doubts={"Topcoat": "2024"})
            for f, w in tape.items()}  # fmt: skip
    stained = through(path("stain", "seam"), "mask", "0 h")
    assert held(doing(stained, "unmask", "1 h 30 min", tape=told)) == ["time in doubt"]
