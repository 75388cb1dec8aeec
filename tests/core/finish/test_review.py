from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.finish.findings import Level
from partsbench.core.finish.review import RULES, review
from partsbench.core.finish.steps import FinishPath, Missed, Step
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
