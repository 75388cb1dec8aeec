"""Every key that is shown has its word, in the one table of them."""

from __future__ import annotations

from enum import StrEnum

import pytest

from partsbench import trade
from partsbench.core import key_words, verbs
from partsbench.core.finish.findings import Level
from partsbench.core.finish.hands import Hands
from partsbench.core.finish.masks import MaskState
from partsbench.core.finish.old_finish import Lead
from partsbench.core.finish.products import Ready
from partsbench.core.finish.steps import PathKind
from partsbench.core.outcomes import Answer
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import OpeningKind
from partsbench.core.piece.parts import FACES, FAMILY_NAMES, Home, HomeKind, Part, leg_name, many_of
from partsbench.core.piece.piece import Numbering, corner_spots
from partsbench.core.piece.spot import Spot
from partsbench.core.sources import Status
from partsbench.core.sums.hours import HowTimed
from partsbench.services.acts.returning import FitResult
from partsbench.services.known import facts
from partsbench.services.known.state import Where
from partsbench.services.shown.progress_map import PartStand
from partsbench.ui.bench.shout import WordLook

SAID = (
    Answer, FitResult, Hands, HowTimed, Lead, Level, MaskState, Numbering, OpeningKind, PartStand,
    PathKind, Ready, Status, Where, WordLook,
)  # fmt: skip


@pytest.mark.parametrize("kind", SAID)
def test_each_value_of_what_is_said_has_a_word(kind: type[StrEnum]) -> None:
    assert set(key_words._VALUES[kind.__name__]) >= {each.value for each in kind}
    assert all(key_words.word_of(each) for each in kind)


def test_no_table_is_left_over() -> None:
    assert set(key_words._VALUES) == {kind.__name__ for kind in SAID}


def test_each_face_family_place_and_path_has_a_word() -> None:
    faces = {face for faces in FACES.values() for face in faces} | set(verbs.FACES)
    assert faces == set(key_words._FACES)
    assert set(FAMILY_NAMES.values()) <= set(key_words._PARTS)
    for legs in range(13):
        assert all(_is_place(spot) for spot in corner_spots(legs)), legs
    shipped = {str(table["key"]) for table in trade.load_paths().values()}
    assert set(key_words._PATHS) == shipped | {"raw", "leave"}


def _is_place(spot: str) -> bool:
    return spot.rstrip(" 0123456789") in key_words._PLACES


def test_each_answer_to_a_question_has_a_word() -> None:
    answers = {answer for kind in facts.asked() for answer in kind.answers}
    assert answers <= set(key_words._CHOICES)


def test_the_word_and_not_the_key_is_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    """With other words than the keys, each function gives the word and keeps what is no key."""
    other = {"front": "Vorne", "top edge": "oben an"}
    monkeypatch.setattr(key_words, "_FACES", other)
    monkeypatch.setattr(key_words, "_EDGES", {"top edge": "oben", "left edge": "links"})
    monkeypatch.setattr(key_words, "_PARTS", {"drawer": ("Lade", "Laden")})
    monkeypatch.setattr(key_words, "_PLACES", {"front middle": "vorne mitten"})
    assert str(Spot("D1", "front")) == "D1 Vorne"
    assert Spot("D1", "front").key == "D1 front"
    assert key_words.face_words(["front", "lid"]) == "Vorne, lid"
    faces = ["front", "top edge", "left edge"]
    assert key_words.grouped_faces(faces) == "Vorne; edges: oben, links"
    assert key_words.grouped_faces(faces[:2]) == "Vorne, oben an"
    assert key_words.counted_faces(faces) == "Vorne, oben an, left edge"
    assert key_words.place_word("front middle 2") == "vorne mitten 2"
    assert key_words.place_word("upper hinge 2") == "upper hinge 2"
    assert (key_words.part_word("drawer"), key_words.parts_word("drawer")) == ("Lade", "Laden")
    assert Part(Family.DRAWER, 1, Home(HomeKind.OPENING, 1)).called == "Lade"
    assert many_of("drawer") == "drawers", "what is typed stays the key"


def test_three_edges_are_counted_and_two_are_named() -> None:
    assert key_words.counted_faces(["front", "top edge", "left edge", "right edge"]) == (
        "front, 3 edges"
    )
    assert key_words.counted_faces(["top edge", "left edge"]) == "top edge, left edge"


def test_a_leg_is_called_by_its_corner_until_somebody_names_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(key_words, "_PLACES", {"rear left": "hinten links"})
    corner = Home(HomeKind.CORNER, 8, "rear left")
    assert Part(Family.LEG, 3, corner, leg_name("rear left")).called == "hinten links leg"
    assert Part(Family.LEG, 3, corner, "the wobbly one").called == "the wobbly one"


def test_an_own_path_is_told_by_its_key() -> None:
    assert key_words.path_word("blue_chest") == "blue chest"
    assert key_words.path_word("leave") == "as found"
