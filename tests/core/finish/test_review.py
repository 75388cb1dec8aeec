from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.finish.findings import Level
from partsbench.core.finish.review import RULES, review
from partsbench.core.finish.steps import After, FinishPath, Missed, Step
from tests.support.faces import PATHS, PRODUCTS, hours


def changed(key: str, step: str, **changes) -> FinishPath:
    """A shipped path with one step changed."""
    path = PATHS[key]
    steps = tuple(replace(s, **changes) if s.key == step else s for s in path.steps)
    assert steps != path.steps
    return replace(path, steps=steps)


def without(key: str, *gone: str) -> FinishPath:
    path = PATHS[key]
    return replace(path, steps=tuple(s for s in path.steps if s.key not in gone))


def found(path: FinishPath) -> set[tuple[str, str]]:
    return {(f.rule, f.where) for f in review(path, PRODUCTS)}


@pytest.mark.parametrize("key", sorted(PATHS))
def test_the_shipped_paths_have_nothing_wrong_with_them(key):
    assert review(PATHS[key], PRODUCTS) == ()


def filler(of: str) -> Step:
    return replace(PATHS["paint"].step("fill"), filler=of)


def with_filler(of: str) -> FinishPath:
    stain = PATHS["stain"]
    place = stain.index("sand_150")
    return replace(stain, steps=(*stain.steps[:place], filler(of), *stain.steps[place:]))


def clear_on_top() -> FinishPath:
    paint = PATHS["paint"]
    clear = replace(paint.step("topcoat_2"), key="last", tinted=False)
    return replace(paint, steps=(*paint.steps, clear))


CASES = [
    ("too fine before stain", "sand_220", changed("stain", "sand_220", grit=320)),
    ("grit jump", "sand_220", changed("stain", "sand_150", grit=80)),
    ("coarse last grit", "sand_320_2", changed("stain", "sand_320_2", grit=180)),
    ("filler under stain", "fill", with_filler("ordinary")),
    ("tint on stain or clear", "clear_3", changed("clear", "clear_3", tinted=True)),
    ("clear over tinted", "last", clear_on_top()),
    ("water over oil too soon", "clear_1", changed("stain", "clear_1", after=())),
    ("thick coat first", "colour_1", changed("paint", "colour_1", thickness="full")),
    (
        "no scuff after a closed window",
        "colour_3",
        changed("paint", "colour_3", missed=Missed("wash", "Begin again.")),
    ),
    ("open loop", "wash", without("paint", "rinse")),
    ("open loop", "strip", without("stain", "residue")),
    ("open loop", "stain", without("stain", "wipe", "wipe_2")),
    ("no drying time", "colour_1", changed("paint", "colour_1", earliest=None, on_tin=())),
    ("caution missing", "wipe", changed("stain", "wipe", cautions=())),
]


@pytest.mark.parametrize(("rule", "where", "path"), CASES)
def test_what_a_path_gets_wrong_is_found_at_its_step(rule, where, path):
    assert (rule, where) in found(path)


def test_different_sheens_are_found():
    mixed = changed("paint", "topcoat_1", sheen="satin")
    mixed = replace(
        mixed,
        steps=tuple(replace(s, sheen="gloss") if s.key == "topcoat_2" else s for s in mixed.steps),
    )
    assert ("different sheen", "topcoat_2") in found(mixed)


def test_a_stainable_filler_is_let_pass():
    assert found(with_filler("stainable")) == set()


def test_a_shorter_wait_over_oil_is_found_by_its_hours():
    stain = PATHS["stain"]
    after = tuple(replace(a, earliest=hours("48 h")) for a in stain.step("clear_1").after)
    told = review(changed("stain", "clear_1", after=after), PRODUCTS)
    assert {f.where for f in told} == {"clear_1"}
    assert "only 2 d" in told[0].reason
    assert told[0].level is Level.HOLD


def test_a_seal_between_oil_and_water_is_its_own_ground():
    bare = changed("stain", "clear_1", after=())
    kept = [s for s in bare.steps if s.key not in ("stain_2", "wipe_2", "touch_up")]
    sealed = [replace(s, only_when="", optional=False) if s.key == "seal" else s for s in kept]
    assert ("water over oil too soon", "clear_1") in found(replace(bare, steps=tuple(kept)))
    assert ("water over oil too soon", "clear_1") not in found(replace(bare, steps=tuple(sealed)))


def test_every_rule_can_fire_and_has_a_source():
    fired = {rule for rule, where, path in CASES if (rule, where) in found(path)}
    fired.add("different sheen")
    assert fired == {r.name for r in RULES}
    assert all(r.source.text for r in RULES)


def test_what_is_found_is_told_in_the_order_of_the_work():
    mixed = changed("paint", "wash", cautions=())
    mixed = replace(
        mixed,
        steps=tuple(
            replace(s, sheen={"topcoat_1": "satin", "topcoat_2": "gloss"}.get(s.key, ""))
            for s in mixed.steps
        ),
    )
    assert [f.where for f in review(mixed, PRODUCTS)] == ["wash", "topcoat_2"]


def test_fine_grit_is_no_fault_under_paint():
    rules = {rule for rule, _ in found(changed("paint", "sand_150", grit=320))}
    assert "too fine before stain" not in rules


def two_coats(grit: int) -> FinishPath:
    """Stain and two clear coats, with one sanding between them."""
    short = without("stain", "sand_320_2", "clear_3")
    steps = tuple(replace(s, grit=grit) if s.key == "sand_320_1" else s for s in short.steps)
    return replace(short, steps=steps)


@pytest.mark.parametrize(("grit", "coarse"), [(219, True), (220, False), (320, False)])
def test_before_the_last_of_two_coats_220_is_fine_enough(grit, coarse):
    """diyproject.ai, 'Sanding grit guide': 220 to 320 between coats."""
    assert (("coarse last grit", "sand_320_1") in found(two_coats(grit))) is coarse


def test_one_coat_has_no_sanding_between():
    single = without("stain", "sand_320_1", "clear_2", "sand_320_2", "clear_3")
    assert found(single) == set()


def oil_then_water(*between: Step, after: tuple[After, ...] = (), **wipe) -> FinishPath:
    """Oil stain wiped off, what stands between, and the first water-borne clear coat."""
    bare = without("stain", "stain_2", "wipe_2", "seal", "mask", "unmask", "touch_up")
    at = bare.index("clear_1")
    ends = replace(bare.step("clear_1"), after=after)
    wiped = tuple(replace(s, **wipe) if s.key == "wipe" else s for s in bare.steps[:at])
    return replace(bare, steps=(*wiped, *between, ends, *bare.steps[at + 1 :]))


TOO_SOON = ("water over oil too soon", "clear_1")


def test_a_wait_that_the_path_leaves_to_the_tin_is_not_too_short():
    on_tin = {"earliest": None, "on_tin": ("earliest",)}
    other = After("sand_220", hours("1 h"))
    assert TOO_SOON not in found(oil_then_water(**on_tin))
    assert TOO_SOON not in found(oil_then_water(**on_tin, after=(other,)))
    assert TOO_SOON in found(oil_then_water(**on_tin, after=(After("wipe", hours("71 h")),)))
    assert TOO_SOON in found(oil_then_water(earliest=None, on_tin=()))


def test_what_is_done_between_oil_and_water_counts_as_time_unless_it_may_be_left_out():
    """24 h after the stain and 48 h after a rinse make the 72 h; an optional rinse makes none."""
    rinse = replace(PATHS["stain"].step("rinse"), key="again", earliest=hours("48 h"))
    shorter = replace(rinse, earliest=hours("47 h"))
    assert TOO_SOON not in found(oil_then_water(rinse))
    assert TOO_SOON in found(oil_then_water(shorter))
    assert TOO_SOON in found(oil_then_water(replace(rinse, optional=True)))


def topcoats(*thickness: str) -> list[tuple[str, str]]:
    """What is found in paint with so many topcoats: the step, and why."""
    paint = PATHS["paint"]
    named = dict(zip(("topcoat_1", "topcoat_2"), thickness, strict=False))
    steps = tuple(
        replace(s, thickness=named.get(s.key, s.thickness))
        for s in paint.steps
        if not s.key.startswith(("topcoat", "sand_between")) or s.key in named
    )
    return [(f.where, f.reason) for f in review(replace(paint, steps=steps), PRODUCTS)]


def test_a_full_coat_runs_where_a_thin_one_should_have_gone_before():
    ((where, why),) = topcoats("full", "thin")
    assert where == "topcoat_1" and "a full coat before a thin one" in why
    ((where, why),) = topcoats("full", "full")
    assert where == "topcoat_1" and "the first coat is best thin" in why
    assert topcoats("thin", "full") == []


def test_an_only_coat_may_be_full():
    assert topcoats("full") == []


def test_a_coat_without_a_sheen_differs_from_none():
    assert found(changed("paint", "topcoat_1", sheen="satin")) == set()


def test_a_coat_right_on_a_coat_wants_a_time_and_taking_tape_off_does_not():
    assert ("no drying time", "colour_3") in found(
        changed("paint", "colour_3", earliest=None, latest=None, on_tin=())
    )
    two = without("paint", "sand_between_2", "topcoat_3")
    last = replace(two.step("topcoat_2"), earliest=None, on_tin=())
    steps = tuple(last if s.key == last.key else s for s in two.steps)
    assert ("no drying time", "topcoat_2") not in found(replace(two, steps=steps))
