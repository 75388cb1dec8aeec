from __future__ import annotations

from partsbench.services.known.cautions import words
from partsbench.services.shop import Shop


def test_each_caution_once_and_in_order() -> None:
    said = words(["dust", "lead", "dust"])
    assert len(said) == 2
    assert "stays in the air" in said[0]
    assert "may hold lead" in said[1]


def test_an_unknown_key_says_nothing() -> None:
    assert words(["no_such_caution"]) == []


def test_every_key_of_every_shipped_step_has_words(shop: Shop) -> None:
    for path in shop.paths.values():
        for step in path.steps:
            assert len(words(step.cautions)) == len(step.cautions), step.key


def test_no_caution_claims_that_something_is_safe(shop: Shop) -> None:
    keys = {k for path in shop.paths.values() for step in path.steps for k in step.cautions}
    assert not [w for w in words(sorted(keys)) if "safe" in w.lower().split()]
