"""How much of each product from the faces of the book: own coats, own cups, own litres."""

from __future__ import annotations

from typing import Any

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.units import Measures
from partsbench.services.books.pieces import give_path
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from partsbench.services.sums import litres
from partsbench.services.sums.habits import set_habit
from partsbench.services.sums.litres import Mixing
from tests.support.shops import lay_out
from tests.support.sizes import of_drawer, taken
from tests.support.worded import foreign

FRONTS = ["D1 front", "D2 front", "D3 front"]
PAINT, TINTED = "water-borne paint", "tinted water-borne clear"


def laid_out(shop: Shop, name: str, path: str) -> Piece:
    """Two drawers of 400 × 200 mm over one of 800 × 200, fronts alone finished: 0.32 m²."""
    made = lay_out(shop, name, "2 1", paths=[(path, FRONTS)])
    assert isinstance(made, Piece)
    for drawer, width in (("D1", "400"), ("D2", "400"), ("D3", "800")):
        of_drawer(shop, made, drawer, width, "200", (str(int(width) + 4), "204"))
    return made


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return laid_out(shop, "Heron", "paint")


@pytest.fixture
def stained(shop: Shop) -> Piece:
    return laid_out(shop, "Quill", "stain")


def mixed(shop: Shop, piece: Piece, **more: object) -> Mixing:
    found = litres.to_mix(shop, piece.tag, **more)  # type: ignore[arg-type]
    assert isinstance(found, Mixing), found
    return found


def said(shop: Shop, piece: Piece, key: str, *names: str, value: str = "yes") -> None:
    done = facts.say(shop, piece.tag, key, value, names)
    assert isinstance(done, Done), done


def by_name(shop: Shop, piece: Piece, **more: object) -> dict[str, dict[str, Any]]:
    """The products as JSON has them, by name, in order."""
    told = litres.tell_mixing(mixed(shop, piece, **more)).data["products"]
    assert isinstance(told, list)
    return {one["name"]: one for one in told}


def coats(shop: Shop, piece: Piece) -> dict[str, int]:
    return {name: one["coats"] for name, one in by_name(shop, piece).items()}


def test_volume_is_area_times_film_over_transfer(shop: Shop, piece: Piece) -> None:
    """0.32 m² at 100 µm is 32 ml on the work, 128 ml out of a cup gun that lands a quarter; three
    coats of paint and two of tinted clear, which are never one sum."""
    set_habit(shop, "tool", "cup-gun")
    found = by_name(shop, piece, wet="100 µm")
    assert list(found) == [PAINT, TINTED]
    assert [one["ml"] for one in found.values()] == [pytest.approx(384), pytest.approx(256)]
    assert [one["layers"][0]["coat_ml"] for one in found.values()] == [pytest.approx(128)] * 2
    told = litres.tell_mixing(mixed(shop, piece, wet="100 µm"))
    assert told.sentence == (
        "For 0.3 m² have 390 ml of water-borne paint (3 coats of 128 ml), "
        "260 ml of tinted water-borne clear (2 coats of 128 ml)."
    )
    assert not {"coat_ml", "total_ml", "coats", "loads"} & set(told.data)


def test_a_load_ends_between_rows_for_each_product(shop: Shop, piece: Piece) -> None:
    set_habit(shop, "cup", "40 ml")
    told = litres.tell_mixing(mixed(shop, piece, wet="100 µm"))
    rows = [("1", "25 ml", "D1, D2", ""), ("2", "25 ml", "D3", "")]
    assert told.rows == tuple(
        (name, span, *row) for name, span in ((PAINT, "1 to 3"), (TINTED, "1 to 2")) for row in rows
    )


def test_only_some_faces_and_coats_of_ones_own(shop: Shop, piece: Piece) -> None:
    found = by_name(shop, piece, only=["D3"], coats=4, wet="4 mil")
    assert [one["coats"] for one in found.values()] == [4, 4]
    for one in found.values():
        assert one["ml"] == pytest.approx(4 * 0.16 * 101.6 / 0.65)
        assert one["layers"][0]["m2"] == pytest.approx(0.16)


def test_what_is_taken_for_granted_is_told(shop: Shop, piece: Piece) -> None:
    found = mixed(shop, piece)
    assert {"what the coats go on with", "what your cup holds"} <= set(found.lacks)
    assert any("400 ft² a gallon" in source for source in found.sources)


def test_the_carcases_sides_wait_for_its_depth(shop: Shop, piece: Piece) -> None:
    give_path(shop, piece.tag, "paint", ["C1 left side"])
    assert "depth of C1" in mixed(shop, piece).lacks
    before = mixed(shop, piece).litres.m2
    taken(shop, piece, ("C1", "depth", "450"))
    after = mixed(shop, piece)
    assert "depth of C1" not in after.lacks
    assert after.litres.m2 - before == pytest.approx(piece.front.height * 450 / 1e6)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"path": "tar"}, "no finish path"),
        ({"path": "stain"}, "No face"),
        ({"only": ["D9"]}, "No face"),
        ({"wet": "0"}, "less than 0.1"),
        ({"wet": "thick"}, "cannot be read"),
        ({"coats": 50}, "more than 20"),
        ({"coats": 0}, "less than 1"),
    ],
)
def test_refusals(shop: Shop, piece: Piece, more: dict[str, object], told: str) -> None:
    refused = litres.to_mix(shop, piece.tag, **more)  # type: ignore[arg-type]
    assert isinstance(refused, Refused) and told in refused.sentence


def test_a_wiped_stain_has_litres_of_its_own(shop: Shop, stained: Piece) -> None:
    """0.32 m² at 12.27 to 14.73 m² a litre are 21.7 to 26.1 ml, whatever the gun lands; the clear
    coats are 0.32 × 102 / 0.65."""
    for tool in ("cup-gun", "hvlp"):
        set_habit(shop, "tool", tool)
        stain = by_name(shop, stained)["oil wiping stain"]
        assert (stain["coats"], stain["wet_um"]) == (1, None)
        assert stain["ml_least"] == pytest.approx(320 / 14.73)
        assert stain["ml"] == pytest.approx(320 / 12.27)
    assert by_name(shop, stained, wet="200 µm")["oil wiping stain"] == stain
    clear = by_name(shop, stained)["water-borne clear"]
    assert (clear["coats"], clear["ml"]) == (3, pytest.approx(3 * 320 * 0.102 / 0.65))
    assert clear["ml_least"] == clear["ml"]
    told = litres.tell_mixing(mixed(shop, stained))
    assert "have 30 ml of oil wiping stain (1 coat of 22 ml to 26 ml)" in told.sentence
    assert told.rows[0][:4] == ("oil wiping stain", "1", "1", "22 ml to 26 ml")
    assert any("125 to 150 ft²" in s and s.endswith("(from memory)") for s in told.sources)


def test_optional_coats_count_where_they_were_asked_for(shop: Shop, stained: Piece) -> None:
    assert coats(shop, stained) == {"oil wiping stain": 1, "water-borne clear": 3}
    said(shop, stained, "second stain", "D3")
    said(shop, stained, "seal coat", "D1 front")
    asked = by_name(shop, stained)
    assert [(name, one["coats"]) for name, one in asked.items()] == [
        ("oil wiping stain", 2), ("dewaxed shellac", 1), ("water-borne clear", 3),
    ]  # fmt: skip
    stain = asked["oil wiping stain"]
    assert stain["ml"] == pytest.approx((0.32 + 0.16) * 1000 / 12.27)
    assert [(x["first"], x["last"], x["m2"]) for x in stain["layers"]] == [
        (1, 1, pytest.approx(0.32)), (2, 2, pytest.approx(0.16)),
    ]  # fmt: skip
    said(shop, stained, "second stain", "D3", value="no")
    assert coats(shop, stained)["oil wiping stain"] == 1


@pytest.mark.parametrize(
    ("key", "name", "before", "after"),
    [("third topcoat", TINTED, 2, 3), ("bleeds", "barrier primer", None, 1)],
)
def test_a_third_topcoat_and_a_primer_likewise(
    shop: Shop, piece: Piece, key: str, name: str, before: int | None, after: int
) -> None:
    assert coats(shop, piece).get(name) == before
    said(shop, piece, key)
    assert coats(shop, piece)[name] == after
    assert coats(shop, piece)[PAINT] == 3


def test_what_nobody_knows_is_told_until_a_film_is_typed(shop: Shop, stained: Piece) -> None:
    said(shop, stained, "seal coat")
    found = mixed(shop, stained)
    shellac = by_name(shop, stained)["dewaxed shellac"]
    assert (shellac["ml"], shellac["layers"][0]["loads"]) == (None, [])
    assert "the wet film of dewaxed shellac: read it off a film gauge or its tin" in found.lacks
    told = litres.tell_mixing(found)
    assert "needed of dewaxed shellac (1 coat) is not known" in told.sentence
    assert ("dewaxed shellac", "1", "", "not known", "D1, D2, D3", "") in told.rows
    typed = by_name(shop, stained, wet="65 µm")["dewaxed shellac"]
    assert typed["ml"] == pytest.approx(32)


def test_nothing_known_of_any_product_is_no_answer(shop: Shop) -> None:
    waxed = laid_out(shop, "Wren", "chalk_wax")
    refused = litres.to_mix(shop, waxed.tag)
    assert isinstance(refused, Refused) and "nothing is known" in refused.sentence
    known = by_name(shop, waxed, wet="65 µm")
    assert known["milk or chalk paint"]["ml"] == pytest.approx(64)
    assert known["wax"]["ml"] is None


def test_ounces_and_square_feet(shop: Shop, stained: Piece) -> None:
    """22 to 26 ml are 0.7 to 0.9 fl oz, said to the half; what to have is rounded up."""
    set_habit(shop, "units", "us")
    told = litres.tell_mixing(mixed(shop, stained))
    assert "have 1.0 fl oz of oil wiping stain (1 coat" in told.sentence
    words = " | ".join([told.sentence, *(cell for row in told.rows for cell in row), *told.lacks])
    assert foreign(words, Measures.US) == []
