"""Tape and paper of a piece, reckoned again by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from partsbench.core.finish.masks import MaskState
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.sums.masking import Take
from partsbench.services.acts import masks
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import take_out
from partsbench.services.books.pieces import give_path, take_in
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import set_habit
from partsbench.services.sums.masking import TapeAndPaper, mask_paper, tell_mask_paper
from tests.support.shops import lay_out, made
from tests.support.sizes import taken

CHEST = """
codename = "Heron"
top = true
[front]
columns = [800]
rows = [300, 300, 300]
map = ["D1", "F1", "D2"]
[paths]
paint = ["C1 rails"]
stain = ["C1 left side", "C1 right side", "X1", "T1"]
[[fact]]
key = "age"
value = "newer"
"""


@pytest.fixture
def chest(shop: Shop, tmp_path: Path) -> Piece:
    """800 × 900 × 440 mm: a drawer, a false front, a drawer; rails painted, sides, false front and
    top stained, the rest as it was. Openings of 780 × 280 mm: cells less a rail of 20."""
    file = tmp_path / "heron.toml"
    file.write_text(CHEST, encoding="utf-8")
    taken_in = take_in(shop, file)
    assert isinstance(taken_in, list), taken_in
    taken(shop, taken_in[0], ("C1", "depth", "440"))
    return taken_in[0]


def taped(shop: Shop, piece: Piece) -> TapeAndPaper:
    found = mask_paper(shop, piece.tag)
    assert isinstance(found, TapeAndPaper), found
    return found


def takes(found: TapeAndPaper) -> dict[str, Take]:
    return {str(t.name): t for t in (*found.masking.faces, *found.masking.openings)}


def test_a_small_front_by_hand(shop: Shop, chest: Piece) -> None:
    """Lap 25 at each end of a strip, 50 of paper into an opening.

    Tape: sides 900 + 50 each; carcase's own top and base 800 + 50 each; the false front
    2 × (780 + 280) + 50; the front edge of the top 800 + 50; openings 2 × (780 + 280) + 8 × 25.
    Paper: sides 0.9 × 0.44, top and base 0.8 × 0.44, false front 0.78 × 0.28, openings
    0.88 × 0.38; the edge of the top takes none, the top behind it 0.8 × 0.44.
    """
    found = taped(shop, chest)
    assert takes(found) == {
        name: Take(Spot.of(name), tape, pytest.approx(paper)) for name, tape, paper in (
            ("C1 left side", 950, 0.396), ("C1 right side", 950, 0.396),
            ("C1 top", 850, 0.352), ("C1 base", 850, 0.352),
            ("X1 whole", 2170, 0.2184), ("T1 front edge", 850, 0), ("T1 top", 0, 0.352),
            ("H1", 2320, 0.3344), ("H2", 2320, 0.3344),
        )
    }  # fmt: skip
    assert found.masking.tape_mm == pytest.approx(11_260)
    assert found.masking.paper_m2 == pytest.approx(2.7352)
    assert found.masking.sentence == (
        "Tape 11.3 m: 6 seams, round 2 openings. Paper 2.7 m²: 6 faces in whole, 2 openings."
    )


def test_tape_and_paper_stand_apart_with_what_each_takes(shop: Shop, chest: Piece) -> None:
    told = tell_mask_paper(taped(shop, chest))
    assert told.head == ("cover", "tape", "paper", "while coated")
    rows = {row[0]: row[1:] for row in told.rows}
    assert rows["X1 whole"] == ("2.2 m", "0.2 m²", "C1 rails")
    assert rows["T1 front edge"] == ("0.8 m", "", "C1 rails")
    assert rows["T1 top"] == ("", "0.4 m²", "C1 rails")
    assert rows["H1"] == ("2.3 m", "0.3 m²", "the carcase is coated")
    covered = {each["name"]: each for each in told.data["covered"]}  # type: ignore[attr-defined]
    assert covered["C1 base"] == {
        "name": "C1 base", "tape_m": 0.85, "paper_m2": pytest.approx(0.352), "against": ["C1 rails"]
    }  # fmt: skip
    assert told.lacks[-1] == "what the coats go on with: a brush wants no paper"


def test_a_brush_wants_tape_and_no_paper(shop: Shop, chest: Piece) -> None:
    assert isinstance(set_habit(shop, "tool", "brush"), Done)
    found = taped(shop, chest)
    assert found.masking.paper_m2 == 0
    assert found.masking.tape_mm == 11_260 - 2 * 2320
    assert "T1 top" not in takes(found) and found.lacks == ()


def test_a_drawer_in_its_place_is_covered_and_its_opening_is_not(shop: Shop, chest: Piece) -> None:
    """Its front lies in the painted rails as the false front does; carried out again it is not."""
    give_path(shop, chest.tag, "stain", ["D1"])
    take_out(shop, chest.tag, ["D1"])
    assert "D1 front" not in takes(taped(shop, chest))
    bring_home(shop, chest.tag, "D1")
    there = takes(taped(shop, chest))
    assert there["D1 front"] == Take(Spot("D1", "front"), 2170, pytest.approx(0.2184))
    assert "H1" not in there and "H2" in there


def test_a_top_that_was_carried_off_is_not_covered(shop: Shop, chest: Piece) -> None:
    take_out(shop, chest.tag, ["T1"])
    assert not any(name.startswith("T1") for name in takes(taped(shop, chest)))


def test_what_was_said_to_need_no_mask_is_not_counted(shop: Shop, chest: Piece) -> None:
    before = takes(taped(shop, chest))
    assert isinstance(masks.not_needed(shop, chest.tag, "C1 rails", ["C1 base"]), Done)
    after = takes(taped(shop, chest))
    assert before.keys() - after.keys() == {"C1 base"}


def test_between_stain_and_bare_wood_there_is_nothing_to_keep_clean(
    shop: Shop, chest: Piece
) -> None:
    bare = [s for s in masks.seams(shop, chest.tag) if s.state is MaskState.NOT_NEEDED]
    assert ("C1 back", "C1 left side") in [(str(s.a), str(s.b)) for s in bare]
    found = taped(shop, chest)
    assert all(Spot("C1", "rails") in (s.a, s.b) for s in found.seams)
    assert found.masking.seams == len(masks.seams(shop, chest.tag)) - len(bare)


def test_the_edge_is_covered_while_the_flat_is_painted(shop: Shop, chest: Piece) -> None:
    """A painted front with stained edges of 20 mm: tape alone, and nothing behind them."""
    give_path(shop, chest.tag, "paint", ["D1 front"])
    give_path(shop, chest.tag, "stain", ["D1 left edge"])
    found = takes(taped(shop, chest))
    assert found["D1 left edge"] == Take(Spot("D1", "left edge"), 280 + 50, 0)
    assert "D1 front" not in found


def test_the_flat_is_covered_in_whole_while_its_edge_is_painted(shop: Shop, chest: Piece) -> None:
    give_path(shop, chest.tag, "stain", ["D1 front", *(f"D1 {e} edge" for e in ("top", "bottom"))])
    give_path(shop, chest.tag, "paint", ["D1 left edge"])
    give_path(shop, chest.tag, "stain", ["D1 right edge"])
    found = takes(taped(shop, chest))
    assert found["D1 front"] == Take(Spot("D1", "front"), 280 + 50, pytest.approx(0.2184))


def test_of_two_paints_the_larger_face_is_covered(shop: Shop, chest: Piece) -> None:
    """Either may be first: rails 0.8 × 0.9 less three openings, 0.0648 m²; a side 0.396."""
    give_path(shop, chest.tag, "chalk_wax", ["C1 left side"])
    found = taped(shop, chest)
    assert found.against[Spot("C1", "left side")] == (Spot("C1", "rails"),)
    assert Spot("C1", "rails") not in found.against


def test_the_depth_is_the_same_wherever_it_was_noted(shop: Shop, chest: Piece) -> None:
    """Said among the facts, or measured for a sum: one depth, and what was measured wins."""
    other = made(lay_out(shop, "Quill", "1", width=800, height=300, top=True, paths=[
        ("stain", ["C1"]), ("paint", ["T1"])]))  # fmt: skip

    def side() -> float:
        (found,) = [s for s in masks.seams(shop, other.tag) if str(s.b) == "C1 left side"
                    and str(s.a) == "T1 left edge"]  # fmt: skip
        return found.length_mm

    assert (side(), taped(shop, other).lacks[:2]) == (450, ("depth of T1", "depth of C1"))
    facts.say(shop, other.tag, "depth mm", "400", ["C1"])
    assert side() == 400
    taken(shop, other, ("C1", "depth", "410"))
    assert side() == 410
    assert takes(taped(shop, other))["C1 left side"].paper_m2 == pytest.approx(0.3 * 0.41)
    assert not any(lack.startswith("depth") for lack in taped(shop, other).lacks)


def test_what_has_one_finish_is_not_masked(shop: Shop) -> None:
    piece = made(lay_out(shop, "Quill", "1 1 1", width=800, height=900))
    give_path(shop, piece.tag, "paint", ["D1"])
    give_path(shop, piece.tag, "paint", ["D1 sides", "D1 back", "D1 bottom", "D1 inside"])
    refused = mask_paper(shop, piece.tag)
    assert refused == Refused("Nothing of Quill is to be masked: there is no seam and no opening.")
