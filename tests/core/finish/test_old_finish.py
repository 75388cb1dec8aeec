from __future__ import annotations

from itertools import permutations

import pytest

from partsbench.core.finish.old_finish import CLEARED, Lead, OldFinish, fold, old_finish


def said(*facts: tuple[str, str]) -> dict[str, str]:
    """What is known after these were said, one after another."""
    known: dict[str, str] = {}
    for key, value in facts:
        fold(known, key, value)
    return known


@pytest.mark.parametrize(
    ("facts", "lead"),
    [
        ([], Lead.NOT_SAID),
        ([("old finish", "none")], Lead.BARE),
        ([("age", "newer")], Lead.NEWER),
        ([("age", "newer"), ("old finish", "paint")], Lead.NEWER),
        ([("age", "older")], Lead.UNKNOWN),
        ([("age", "unknown")], Lead.UNKNOWN),
        ([("old finish", "paint")], Lead.UNKNOWN),
        ([("old finish", "unknown")], Lead.UNKNOWN),
        # Varnish, and the primer under it, may hold lead as well.
        ([("age", "older"), ("old finish", "clear")], Lead.UNKNOWN),
        ([("age", "older"), ("old finish", "none")], Lead.BARE),
        ([("lead", "tested free")], Lead.FREE),
        ([("lead", "unknown")], Lead.UNKNOWN),
        ([("lead", "unknown"), ("age", "newer")], Lead.UNKNOWN),
        ([("lead", "tested free"), ("lead", "unknown")], Lead.UNKNOWN),
    ],
)
def test_what_was_said_comes_to_one_word(facts, lead):
    assert old_finish(said(*facts)).lead is lead


@pytest.mark.parametrize("way", ["wet", "chemical"])
def test_a_way_of_working_is_no_test(way):
    alone = old_finish(said(("lead", way)))
    assert alone.lead is Lead.NOT_SAID and not alone.cleared
    after = old_finish(said(("lead", "tested free"), ("lead", way)))
    assert after == OldFinish(Lead.FREE, wet=way == "wet", chemical=way == "chemical")


def test_lead_that_was_found_stays_found_whatever_is_said_before_or_after():
    later = [("lead", "tested free"), ("lead", "wet"), ("old finish", "none"), ("age", "newer")]
    for order in permutations([*later, ("lead", "tested lead")]):
        assert old_finish(said(*order)).lead is Lead.FOUND


def test_lead_found_elsewhere_on_the_piece_takes_its_age_from_it_and_nothing_else():
    assert old_finish(said(("age", "newer")), found_elsewhere=True).lead is Lead.UNKNOWN
    assert old_finish(said(), found_elsewhere=True).lead is Lead.UNKNOWN
    assert old_finish(said(("old finish", "none")), found_elsewhere=True).lead is Lead.BARE
    assert old_finish(said(("lead", "tested free")), found_elsewhere=True).lead is Lead.FREE


def test_only_what_is_bare_newer_or_tested_free_is_cleared():
    assert {lead for lead in Lead if OldFinish(lead).cleared} == CLEARED
    assert {Lead.BARE, Lead.NEWER, Lead.FREE} == CLEARED


def test_an_age_in_the_words_of_older_books_is_read():
    assert old_finish(said(("age", "1978 or later"))).lead is Lead.NEWER
    assert old_finish(said(("age", "before 1978"))).lead is Lead.UNKNOWN
