"""Every rule and its story: what the shop would do wrong without it, and what shows it at work.

How grave a rule is and where it comes from stands with the rule, and is taken from there.
"""

from __future__ import annotations

from collections.abc import Iterator

from partsbench.core.finish.advice import CLOSING_DRAWERS, FITTING_PULLS, HANDLING, WARNINGS
from partsbench.core.finish.findings import EXPERIENCE, PRACTICE
from partsbench.core.finish.holds import HOLDS, OTHER_SIDE
from partsbench.core.finish.review import RULES
from partsbench.core.sources import Source
from partsbench.services.known.climate import checks

STORIES = "tests/stories/three_pieces/test_"
PATIENT = STORIES + "the_patient.py::test_whoever_waits_is_never_refused"
HURRIED = STORIES + "the_hurried.py::test_whoever_hurries_is_held_at_each_step_and_loses_nothing"
MISTAKES = STORIES + "every_mistake.py::test_each_mistake_is_held_or_told_by_its_name"
FINISH = "tests/core/finish/test_"
RULES_OF = "tests/services/rules/test_"
ACTS = "tests/services/acts/test_"
KNOWN = "tests/services/known/test_"
REVIEW = FINISH + "review.py::test_what_a_path_gets_wrong_is_found_at_its_step"


def rules() -> Iterator[tuple[str, Source]]:
    """Every rule by where it is said and its name, with its source."""
    for said, table in (("hold", HOLDS), ("say", WARNINGS), ("path", RULES),
                        ("home", (*HANDLING, *FITTING_PULLS, *CLOSING_DRAWERS))):  # fmt: skip
        yield from ((f"{said}: {rule.name}", rule.source) for rule in table)
    yield f"hold: {OTHER_SIDE}", PRACTICE
    yield "say: in one go", EXPERIENCE
    yield "say: scuff later", EXPERIENCE
    yield from ((f"check: {key}", PRACTICE) for key in checks())


ROWS: dict[str, tuple[str, str]] = {
    "hold: old finish not answered": (
        "sands or strips old paint that may hold lead",
        KNOWN + "old_finish.py::test_a_day_with_a_chest_of_which_nobody_has_said_anything",
    ),
    "hold: wrong cup": (
        "sprays tint over a stained or clear face",
        FINISH + "holds.py::test_only_the_product_and_tint_that_a_step_takes_leave_the_gun",
    ),
    "hold: outside the limits": (
        "coats in the cold or the damp, where the film never closes",
        FINISH + "holds.py::test_coats_keep_to_the_published_limits_where_the_tin_is_silent",
    ),
    "hold: layers do not go together": (
        "lays a coat on a ground that its tin does not name",
        FINISH + "holds.py::test_layers_follow_the_lists_on_the_tins",
    ),
    "hold: open loop": (
        "seals cleaner or stripper under the film",
        FINISH + "holds.py::test_an_open_loop_holds_sanding_and_coats_but_not_its_own_end",
    ),
    "hold: masked-for coat to come": (
        "pulls tape off before the coat it is there for",
        FINISH + "holds.py::test_a_mask_stays_while_a_coat_is_to_come",
    ),
    "hold: tape not to come off yet": (
        "pulls wet paint off with the tape",
        HURRIED,
    ),
    "hold: neighbour's mask not known": (
        "sprays colour over the stained top",
        FINISH + "holds.py::test_a_coat_waits_until_the_neighbours_mask_is_known",
    ),
    "hold: time in doubt": (
        "trusts a wait that a wrong clock told",
        KNOWN + "clock_doubt.py::test_a_dead_battery_is_asked_about_until_somebody_says_when",
    ),
    "say: clock": (
        "records with a wrong clock all day",
        KNOWN + "clock_doubt.py::test_a_clock_that_stands_wrong_is_told_at_every_scan",
    ),
    "hold: window closed": (
        "stains over conditioner that has dried, and gets blotches",
        FINISH + "holds.py::test_stain_after_the_conditioners_window_is_held_and_told_the_way_back",
    ),
    "hold: water over oil too soon": (
        "puts water-borne clear on wet oil, and it peels",
        FINISH + "holds.py::test_a_water_film_over_oil_and_tape_on_stain_have_names_of_their_own",
    ),
    "hold: tape too soon": (
        "tapes over young stain and lifts its colour",
        ACTS + "masks.py::test_the_painted_sides_own_masking_puts_no_tape_on_wet_stain_either",
    ),
    "hold: not dry yet": (
        "sands or coats what is still wet",
        HURRIED,
    ),
    "hold: tried, not ready": (
        "trusts the figure against its own try",
        FINISH + "holds.py::test_what_was_tried_and_not_ready_is_held_until_it_is_tried_again",
    ),
    "hold: away": (
        "records work on a part that is at another workshop",
        FINISH + "holds.py::test_a_part_that_is_away_is_not_worked_on_until_the_day_it_comes_back",
    ),
    "hold: the other side first": (
        "tapes a side that is not stained yet",
        ACTS + "masks.py::test_the_painted_side_is_not_masked_before_the_stain_is_done",
    ),
    "say: old finish not said": (
        "learns too late that a test was wanted",
        FINISH + "advice.py::test_nobody_has_said_what_is_on_it_is_told_from_the_first_step_on",
    ),
    "say: lead in the old finish": (
        "lets wet sludge or scrapings lie",
        FINISH
        + "advice.py::test_what_comes_off_an_old_finish_is_minded_also_wet_and_under_new_film",
    ),
    "say: too fine before stain": (
        "closes the wood so that stain stays pale",
        FINISH + "advice.py::test_sanding_too_fine_before_stain",
    ),
    "say: grit jump": (
        "leaves scratches that show under stain",
        FINISH + "advice.py::test_a_grit_jump_on_bare_wood",
    ),
    "say: filler under stain": (
        "leaves pale spots",
        FINISH + "advice.py::test_filler_on_a_face_to_be_stained",
    ),
    "say: may bleed": (
        "paints white over red, and it turns pink",
        FINISH + "advice.py::test_bleeding_wood_without_a_barrier",
    ),
    "say: bleeding not said": (
        "does not ask whether it bleeds",
        FINISH + "advice.py::test_paint_of_which_nobody_said_whether_the_wood_bleeds",
    ),
    "say: wiped late": (
        "clears over sticky stain",
        FINISH
        + "advice.py::test_a_stain_that_was_wiped_late_is_looked_at_before_anything_goes_over_it",
    ),
    "say: shellac under a water film": (
        "coats waxy shellac, and the film lets go",
        FINISH + "advice.py::test_shellac_under_a_water_film_is_asked_about",
    ),
    "say: touch-up over a seal coat": (
        "dabs stain that cannot sink in, too thick",
        FINISH + "advice.py::test_an_oil_touch_up_over_a_seal_coat_lies_on_top",
    ),
    "say: silicone": (
        "gets fish eyes in the first coat",
        FINISH + "advice.py::test_silicone_without_barrier_or_patch",
    ),
    "say: other part not covered": (
        "sprays a part that stands in its place beside",
        RULES_OF + "neighbours.py::test_a_top_that_was_never_scanned_out_is_warned_of",
    ),
    "say: thick coat first": (
        "gets runs on the uprights",
        FINISH + "advice.py::test_a_thick_coat_first_on_an_upright_face",
    ),
    "say: thinned too far": (
        "sprays paint that neither covers nor holds",
        MISTAKES,
    ),
    "say: not strained": (
        "sprays lumps and skins",
        MISTAKES,
    ),
    "say: second lot in a row": (
        "shows a step in colour across one row",
        MISTAKES,
    ),
    "say: tint changed": (
        "ends with two shades of one colour",
        MISTAKES,
    ),
    "say: sheen changed": (
        "ends with gloss beside satin",
        MISTAKES,
    ),
    "say: veneer sanded back": (
        "sands through the veneer",
        MISTAKES,
    ),
    "say: tape over its rating": (
        "leaves glue of old tape on the face",
        MISTAKES,
    ),
    "say: straggler": (
        "closes the job with a front one coat short",
        MISTAKES,
    ),
    "say: rags not answered": (
        "goes home from a heap of oily rags",
        MISTAKES,
    ),
    "say: wet sanding on bare wood": (
        "raises grain and loosens filler",
        MISTAKES,
    ),
    "say: dust on tacky faces": (
        "sands beside a wet front",
        MISTAKES,
    ),
    "say: over its pot life": (
        "sprays a mix that has begun to set",
        MISTAKES,
    ),
    "say: last grit before stain": (
        "does not know that it may choose a deeper colour",
        FINISH + "advice.py::test_who_sands_for_a_stain_hears_where_others_stop",
    ),
    "say: test patch": (
        "finds out on the whole side that tape lifts",
        FINISH + "advice.py::test_advice_before_the_first_colour_coat",
    ),
    "say: brush line or reverse mask": (
        "waits where a brush would do",
        FINISH + "advice.py::test_stain_too_young_for_tape_leaves_a_brush_line_or_the_other_side",
    ),
    "say: one mix": (
        "mixes twice and sees it",
        FINISH + "advice.py::test_advice_before_the_first_colour_coat",
    ),
    "say: repairs first": (
        "planes a finished edge",
        MISTAKES,
    ),
    "say: in one go": (
        "conditions nine fronts and can stain five in time",
        PATIENT,
    ),
    "say: recoat window over": (
        "lays a coat on oil varnish that it no longer bonds to",
        FINISH + "advice.py::test_a_coat_after_the_recoat_window_of_its_class_is_told",
    ),
    "say: scuff later": (
        "scuffs the rails and has to scuff them again when the top bears tape",
        PATIENT,
    ),
    "home: handled before its time": (
        "prints fingers into the film",
        RULES_OF + "closing.py::test_a_leg_half_an_hour_after_its_clear_coat_is_not_to_be_handled",
    ),
    "home: pulls before handling time": (
        "squeezes a young film under a pull",
        RULES_OF + "closing.py::test_a_pull_sixteen_hours_after_the_topcoat_of_its_front",
    ),
    "home: closed before touching time": (
        "glues a drawer to its opening",
        RULES_OF + "closing.py::test_a_drawer_says_the_longest_of_handling_and_touching",
    ),
    "check: hardware_off": (
        "washes and coats over locks and pulls",
        PATIENT,
    ),
    "check: looked_over": (
        "carries worm and mould into the shop",
        PATIENT,
    ),
    "check: ignition_out": (
        "brushes stripper beside a pilot flame",
        PATIENT,
    ),
    "check: room_open": (
        "breathes stripper in a closed room",
        PATIENT,
    ),
    "check: cleaner_named": (
        "wipes residue with what does not take it",
        PATIENT,
    ),
    "check: holes_decided": (
        "fills a hole that the new pull needs",
        "tests/trade/test_every_key_is_read.py::test_every_check_is_asked_before_some_step",
    ),
    "check: dust_free": (
        "brushes dust into stain",
        PATIENT,
    ),
    "check: dust_settled": (
        "sprays into dust that is still in the air",
        FINISH + "checks.py::test_dust_is_asked_about_for_an_hour_after_the_last_sanding",
    ),
    "check: sample_agreed": (
        "stains in a colour that nobody agreed to",
        PATIENT,
    ),
    "check: right_cup": (
        "picks up the wrong tin",
        PATIENT,
    ),
    "check: limits": (
        "does not look at the thermometer",
        PATIENT,
    ),
    "path: too fine before stain": ("closes the wood on every job of this path", REVIEW),
    "path: grit jump": ("leaves scratches on every job", REVIEW),
    "path: coarse last grit": ("shows sanding marks through the last coat", REVIEW),
    "path: filler under stain": ("plans filler where stain comes", REVIEW),
    "path: tint on stain or clear": ("plans tint over stain", REVIEW),
    "path: clear over tinted": ("hides the tinted coat under a film that alters it", REVIEW),
    "path: water over oil too soon": ("plans a wait in which oil cannot dry", REVIEW),
    "path: thick coat first": ("plans runs on uprights", REVIEW),
    "path: no scuff after a closed window": ("plans a late coat that does not hold", REVIEW),
    "path: different sheen": (
        "plans two sheens for one face",
        FINISH + "review.py::test_different_sheens_are_found",
    ),
    "path: open loop": ("plans a wash without a rinse", REVIEW),
    "path: no drying time": ("plans a coat with no wait after it", REVIEW),
    "path: caution missing": ("works with solvent and no word of fire", REVIEW),
}
"""By rule: what goes wrong without it, and the test that shows it."""
