from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from partsbench.core.finish.advice import CLOSING_DRAWERS, FITTING_PULLS, WARNINGS
from partsbench.core.finish.cups import Cup, Poured
from partsbench.core.finish.findings import Level
from partsbench.core.finish.holds import LEAD_RULE, findings
from partsbench.core.finish.loops import RAGS, Loop
from partsbench.core.finish.masks import Mask, MaskState
from partsbench.core.finish.old_finish import Lead, OldFinish
from partsbench.core.finish.products import TinCard, TinWait
from partsbench.core.finish.situation import FaceFacts, Mixes, Room, Situation
from partsbench.core.finish.steps import FinishPath
from partsbench.core.finish.waits import WaitFigures
from partsbench.core.piece.spot import Spot
from tests.support.faces import PRODUCTS, SHOP, START, at, face, hours, path, step, through, words

PAINT = path("paint")
STAIN = path("stain")


def doing(now, key, when="90 d", **known) -> Situation:
    bare = {"old": OldFinish(Lead.BARE)}
    facts = FaceFacts(Spot("D3", "front"), **{**bare, **known.pop("facts", {})})
    return Situation(now, step(now.path, key), at(when), **{"shop": SHOP, "facts": facts, **known})


def warned(situation: Situation) -> list[str]:
    return words(findings(situation, WARNINGS))


def changed(on: FinishPath, key: str, **changes) -> FinishPath:
    steps = tuple(replace(s, **changes) if s.key == key else s for s in on.steps)
    return replace(on, steps=steps)


def cup(key: str = "U1", lot: str = "A1", **changes) -> Cup:
    made = {"key": key, "name": "blue", "poured": (Poured("blue", lot, 1),), "made": START}
    return Cup(**{**made, "strained": True, **changes})


QUIET = doing(through(PAINT, "sand_220"), "colour_2", mixes=Mixes(cup()))


def test_an_ordinary_coat_is_not_talked_about():
    assert warned(QUIET) == []


def test_nobody_has_said_what_is_on_it_is_told_from_the_first_step_on():
    asked = {"old": OldFinish(Lead.NOT_SAID)}
    (told,) = findings(doing(face(PAINT), "wash", facts=asked), WARNINGS)
    assert (told.level, told.rule) == (Level.WARN, "old finish not said")
    assert "test before it is stripped or sanded" in told.reason and told.source is LEAD_RULE
    for lead in set(Lead) - {Lead.NOT_SAID}:
        assert warned(doing(face(PAINT), "wash", facts={"old": OldFinish(lead)})) == []
    assert warned(doing(through(PAINT, "colour_1"), "sand_220", facts=asked)) == []


def test_what_comes_off_an_old_finish_is_minded_also_wet_and_under_new_film():
    rule = "lead in the old finish"
    for lead in Lead:
        open_ = lead in (Lead.FOUND, Lead.UNKNOWN, Lead.NOT_SAID)
        facts = {"old": OldFinish(lead)}
        wet = warned(doing(through(PAINT, "rinse"), "sand_150", facts=facts, wet=True))
        assert (rule in wet) is open_
        coated = doing(through(PAINT, "colour_1"), "sand_220", facts=facts)
        assert (rule in warned(coated)) is (lead is Lead.FOUND)
    found = doing(through(PAINT, "colour_1"), "sand_220", facts={"old": OldFinish(Lead.FOUND)})
    assert "do not sand through" in findings(found, WARNINGS)[0].reason


def test_sanding_too_fine_before_stain():
    fine = changed(STAIN, "sand_220", grit=320)
    assert "too fine before stain" in warned(doing(through(fine, "sand_220"), "stain"))
    assert warned(doing(through(STAIN, "sand_220"), "stain")) == []


def test_a_grit_jump_on_bare_wood():
    jump = changed(STAIN, "sand_150", grit=80)
    assert "grit jump" in warned(doing(through(jump, "sand_150"), "sand_220"))
    assert "grit jump" not in warned(doing(through(STAIN, "sand_150"), "sand_220"))
    coated = changed(PAINT, "sand_220", grit=150)
    assert warned(doing(through(coated, "colour_2"), "sand_400")) == []


def test_filler_on_a_face_to_be_stained():
    fill = replace(step(PAINT, "fill"), optional=False)
    place = STAIN.index("sand_150")
    stained = replace(STAIN, steps=(*STAIN.steps[:place], fill, *STAIN.steps[place:]))
    assert "filler under stain" in warned(doing(through(stained, "rinse"), "fill"))
    assert warned(doing(through(PAINT, "rinse"), "fill")) == []


def test_bleeding_wood_without_a_barrier():
    bare = doing(through(PAINT, "sand_150"), "colour_1", facts={"bleeds": True})
    assert "may bleed" in warned(bare)
    primed = through(path("paint", "bleeds"), "prime")
    assert "may bleed" not in warned(doing(primed, "colour_1", facts={"bleeds": True}))
    barred = through(path("shellac_paint"), "scuff_barrier")
    assert "may bleed" not in warned(doing(barred, "colour_1", facts={"bleeds": True}))


def test_silicone_without_barrier_or_patch():
    now = through(PAINT, "sand_150")
    assert "silicone" in warned(doing(now, "colour_1", facts={"silicone": True}))
    tried = {"silicone": True, "tested_patch": True}
    assert "silicone" not in warned(doing(now, "colour_1", facts=tried))


def test_a_thick_coat_first_on_an_upright_face():
    thick = changed(PAINT, "colour_1", thickness="full")
    now = through(thick, "sand_150")
    assert "thick coat first" in warned(doing(now, "colour_1"))
    assert "thick coat first" not in warned(doing(now, "colour_1", facts={"upright": False}))
    assert "thick coat first" not in warned(doing(through(PAINT, "sand_400"), "colour_3"))


def mixes(**known) -> Situation:
    tin = TinCard("blue", "paint_water", thin_most=10)
    return replace(QUIET, shop=WaitFigures(PRODUCTS, {"paint_water": tin}), mixes=Mixes(**known))


@pytest.mark.parametrize(
    ("rule", "known"),
    [
        ("thinned too far", {"cup": cup(thinned=15)}),
        ("not strained", {"cup": cup(strained=False)}),
        ("second lot in a row", {"cup": cup(lot="B2"), "row": (cup("U0"),)}),
        ("tint changed", {"cup": cup(tint=5), "before": (cup("U0", tint=8),)}),
        ("sheen changed", {"cup": cup(sheen="gloss"), "before": (cup("U0", sheen="satin"),)}),
        ("over its pot life", {"cup": cup(pot_life=timedelta(hours=2))}),
    ],
)
def test_what_is_wrong_with_a_cup(rule, known):
    assert warned(mixes(**known)) == [rule]


def test_a_cup_like_the_ones_before_it_is_let_pass():
    same = cup("U2", tint=5, sheen="satin", thinned=10)
    before = (cup("U1", tint=5, sheen="satin"),)
    assert warned(mixes(cup=same, before=before, row=before)) == []


def test_thin_veneer_is_not_sanded_a_third_time_without_a_word():
    now = through(STAIN, "rinse")
    veneer = {"veneer": True, "sand_backs": 2}
    assert "veneer sanded back" in warned(doing(now, "sand_150", facts=veneer))
    assert warned(doing(now, "sand_150", facts={**veneer, "sand_backs": 1})) == []
    assert warned(doing(now, "sand_150", facts={**veneer, "veneer": False})) == []


def test_tape_over_its_rating_is_told_by_how_much():
    tape = Mask("M1", Spot("D3", "front"), ("rails",), at("0 h"), rating=timedelta(days=3))
    (found,) = findings(replace(QUIET, now=at("5 d"), masks=(tape,)), WARNINGS)
    assert found.reason == "the tape is 2 d over its rating"
    assert warned(replace(QUIET, now=at("2 d"), masks=(tape,))) == []


def test_a_straggler_before_its_topcoat():
    now = through(PAINT, "colour_3", "89 d 12 h")
    assert "straggler" in warned(doing(now, "topcoat_1", siblings=(3, 4)))
    assert warned(doing(now, "topcoat_1", siblings=(3, 3))) == []


def test_rags_are_asked_about():
    loop = Loop("", at("0 h"), RAGS, None)
    assert warned(replace(QUIET, rags=loop)) == ["rags not answered"]


def test_wet_sanding_on_bare_wood_or_filler():
    bare = through(PAINT, "rinse")
    assert "wet sanding on bare wood" in warned(doing(bare, "sand_150", wet=True))
    coated = through(PAINT, "colour_1")
    assert warned(doing(coated, "sand_220", wet=True)) == []


def test_dust_in_a_room_with_tacky_faces_names_them_and_how_long():
    room = Room(20, 50, 9.3, tacky={"D7 front": at("91 d"), "D1 front": at("89 d")})
    now = through(PAINT, "colour_1")
    (found,) = findings(doing(now, "sand_220", room=room), WARNINGS)
    assert found.reason == "D7 front in this room: tacky for another 24 h"
    assert warned(doing(through(PAINT, "sand_220"), "colour_2", room=room)) == []


def test_advice_before_the_first_colour_coat():
    first = doing(through(PAINT, "sand_150", "89 d 20 h"), "colour_1",
                  neighbours={"top": MaskState.MASKED}, facts={"repairs_open": True})  # fmt: skip
    found = findings(first, WARNINGS)
    assert words(found) == ["test patch", "one mix", "repairs first"]
    assert {f.level for f in found} == {Level.ADVISE}


def test_pulls_wait_for_handling_and_drawers_for_touching():
    done = doing(through(PAINT, "topcoat_2", "0 h"), "topcoat_2", "20 h")
    assert words(findings(done, FITTING_PULLS)) == ["pulls before handling time"]
    later = replace(done, now=at("30 h"))
    assert findings(later, FITTING_PULLS) == ()
    assert words(findings(later, CLOSING_DRAWERS)) == ["closed before touching time"]
    assert findings(replace(done, now=at("7 d")), CLOSING_DRAWERS) == ()


def test_each_warning_has_a_source_and_none_holds():
    rules = (*WARNINGS, *FITTING_PULLS, *CLOSING_DRAWERS)
    assert all(r.source.text for r in rules)
    assert Level.HOLD not in {r.level for r in rules}
    assert len({r.name for r in rules}) == len(rules)


def test_too_fine_is_a_matter_of_bare_wood_that_is_stained():
    fine = changed(path("stain", "second_stain", "conditioner_oil"), "sand_220", grit=320)
    assert "too fine before stain" not in warned(doing(through(fine, "sand_220"), "condition"))
    assert "too fine before stain" not in warned(doing(through(fine, "wipe"), "stain_2"))


def test_bleeding_is_told_when_colour_comes_not_when_it_is_sanded():
    bare = through(PAINT, "rinse")
    assert "may bleed" not in warned(doing(bare, "sand_150", facts={"bleeds": True}))
    cleared = through(path("stain"), "wipe")
    assert "may bleed" not in warned(doing(cleared, "clear_1", facts={"bleeds": True}))


def test_silicone_is_told_once_before_the_first_coat():
    coated = through(PAINT, "sand_220")
    assert "silicone" not in warned(doing(coated, "colour_2", facts={"silicone": True}))


def test_stain_too_young_for_tape_leaves_a_brush_line_or_the_other_side():
    seamed = through(path("stain", "seam"), "wipe", "0 h")
    asked = "brush line or reverse mask"
    assert asked in warned(doing(seamed, "mask", "1 h"))
    assert asked not in warned(doing(seamed, "mask", "24 h"))
    assert asked not in warned(doing(through(path("stain"), "wipe", "0 h"), "clear_1", "1 h"))


def test_one_strange_lot_in_a_row_is_enough():
    row = (cup("U0"), cup("U9", lot="B2"))
    assert warned(mixes(cup=cup("U1"), row=row)) == ["second lot in a row"]


def test_thin_veneer_is_in_danger_from_sanding_bare_wood_only():
    veneer = {"veneer": True, "sand_backs": 3}
    assert warned(doing(through(STAIN, "sand_220"), "stain", facts=veneer)) == []
    assert warned(doing(through(PAINT, "colour_1"), "sand_220", facts=veneer)) == []


def test_coats_of_siblings_are_levelled_before_the_topcoat_not_before():
    now = through(PAINT, "sand_400", "89 d 12 h")
    assert "straggler" not in warned(doing(now, "colour_3", siblings=(3, 4)))
    done = through(PAINT, "colour_3", "89 d 12 h")
    assert "straggler" not in warned(doing(done, "topcoat_1"))


def test_dust_waits_for_the_face_that_is_tacky_longest():
    tacky = {
        "D1 front": at("90 d"),
        "D7 front": at("91 d"),
        "D8 front": at("92 d"),
    }
    room = Room(20, 50, 9.3, tacky=tacky)
    (found,) = findings(doing(through(PAINT, "colour_1"), "sand_220", room=room), WARNINGS)
    assert found.reason == "D7 front, D8 front in this room: tacky for another 2 d"


def test_advice_for_a_first_coat_is_for_the_first_coat():
    known = {"neighbours": {"top": MaskState.MASKED}, "facts": {"repairs_open": True}}
    bare = doing(through(PAINT, "rinse"), "sand_150", **known)
    second = doing(through(PAINT, "sand_220"), "colour_2", **known)
    assert warned(bare) == []
    assert warned(second) == []
    silent = doing(through(PAINT, "sand_150", "89 d 20 h"), "colour_1")
    assert "test patch" not in warned(silent)


def test_paint_of_which_nobody_said_whether_the_wood_bleeds():
    sanded, not_said = through(PAINT, "sand_150"), {"bleeds_said": False}
    assert "bleeding not said" in warned(doing(sanded, "colour_1", facts=not_said))
    assert "bleeding not said" not in warned(doing(sanded, "colour_1"))
    primed = through(path("shellac_paint"), "scuff_barrier")
    assert "bleeding not said" not in warned(doing(primed, "colour_1", facts=not_said))
    coated = through(PAINT, "sand_220")
    assert "bleeding not said" not in warned(doing(coated, "colour_2", facts=not_said))


def stained(wiped: str):
    keys = [s.key for s in STAIN.steps if not s.optional]
    before = keys[: keys.index("stain")]
    done = [*((k, "0 h") for k in before), ("stain", "1 d"), ("wipe", wiped)]
    return face(STAIN, *done)


def test_a_stain_that_was_wiped_late_is_looked_at_before_anything_goes_over_it():
    late = findings(doing(stained("1 d 38 min"), "clear_1"), WARNINGS)
    (told,) = [f for f in late if f.rule == "wiped late"]
    assert "wiped off 23 min late" in told.reason and "sticky or lapped" in told.reason
    assert "wiped late" not in warned(doing(stained("1 d 15 min"), "clear_1"))
    own = TinCard("slow", "stain_oil", {"wipe stain": TinWait(None, hours("45 min"))})
    slow = WaitFigures(PRODUCTS, {"stain_oil": own})
    assert "wiped late" not in warned(doing(stained("1 d 38 min"), "clear_1", shop=slow))


def test_shellac_under_a_water_film_is_asked_about():
    on = path("stain", "seal_coat")
    assert "shellac under a water film" in warned(doing(through(on, "seal"), "clear_1"))
    assert "shellac under a water film" not in warned(doing(through(STAIN, "wipe"), "clear_1"))
    dyed = path("dye_stain")
    assert "shellac under a water film" not in warned(doing(through(dyed, "scuff_bind"), "stain"))


def test_an_oil_touch_up_over_a_seal_coat_lies_on_top():
    sealed, bare = path("stain", "seam", "seal_coat"), path("stain", "seam")
    rule = "touch-up over a seal coat"
    assert rule in warned(doing(through(sealed, "unmask"), "touch_up"))
    assert rule not in warned(doing(through(bare, "unmask"), "touch_up"))


def test_who_sands_for_a_stain_hears_where_others_stop():
    rule = "last grit before stain"
    asked = doing(through(STAIN, "sand_150"), "sand_220")
    (told,) = [f for f in findings(asked, WARNINGS) if f.rule == rule]
    assert told.level is Level.ADVISE and "150 to 180" in told.reason
    assert "150 to 180 for a penetrating stain" in told.source.text
    coarser = changed(STAIN, "sand_220", grit=180)
    assert rule not in warned(doing(through(coarser, "sand_150"), "sand_220"))
    assert rule not in warned(doing(through(path("clear"), "sand_150"), "sand_220"))
    assert rule not in warned(doing(through(PAINT, "colour_1"), "sand_220"))


OIL_CLEAR = changed(path("clear"), "clear_1", product="clear_oil", latest=None, missed=None)


@pytest.mark.parametrize(("when", "late"), [("24 h", ""), ("27 h", "3 h"), ("3 d", "2 d")])
def test_a_coat_after_the_recoat_window_of_its_class_is_told(when, late):
    """Oil varnish takes another coat without sanding within 24 h; the path itself ends nothing."""
    found = doing(through(OIL_CLEAR, "clear_1"), "clear_2", when)
    told = [f.reason for f in findings(found, WARNINGS) if f.rule == "recoat window over"]
    said = f"the time for another coat over Clear coat 1 ended {late} ago: sand it lightly first"
    assert told == ([said] if late else [])


def test_what_was_sanded_since_or_is_no_coat_has_no_recoat_window():
    sanded = doing(through(OIL_CLEAR, "sand_320_1", "3 d"), "clear_2", "4 d")
    assert "recoat window over" not in warned(sanded)
    assert "recoat window over" not in warned(
        doing(through(OIL_CLEAR, "clear_1"), "sand_320_1", "3 d")
    )
    water = doing(through(path("clear"), "clear_1"), "clear_2", "3 d")
    assert "recoat window over" not in warned(water), "its class has none"


def test_a_tin_ends_the_time_for_another_coat_too():
    tin = TinCard("varnish", "clear_oil", {"recoat": TinWait(hours("6 h"), hours("8 h"))})
    shop = WaitFigures(PRODUCTS, {"clear_oil": tin})
    found = doing(through(OIL_CLEAR, "clear_1"), "clear_2", "9 h", shop=shop)
    (told,) = [f.reason for f in findings(found, WARNINGS) if f.rule == "recoat window over"]
    assert told.endswith("ended 1 h ago: its tin says what must come first")


def test_where_the_path_ends_the_window_itself_it_is_not_told_twice():
    held = doing(through(PAINT, "colour_3"), "topcoat_1", "3 d")
    assert held.window.missed is not None and held.window.is_late(held.now)
    tin = TinCard("paint", "paint_water", {"recoat": TinWait(hours("6 h"), hours("8 h"))})
    late = replace(held, shop=WaitFigures(PRODUCTS, {"paint_water": tin}))
    assert "recoat window over" not in warned(late)
