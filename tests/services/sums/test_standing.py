"""Shims, tip-over and symmetry, from a piece in the book."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.legs import LegCorner
from partsbench.core.sums.tipover import Tipover
from partsbench.core.sums.units import Measures
from partsbench.services.acts import history
from partsbench.services.books.exchange import export, take_in_export
from partsbench.services.books.pieces import give_path, mirror, take_in
from partsbench.services.shop import Shop
from partsbench.services.sums import standing
from partsbench.services.sums.habits import set_habit
from tests.support.shops import TALL_CHEST, heron, lay_out, made, shop_at, tall_chest
from tests.support.sizes import taken


def test_four_leg_heights_give_the_shim(shop: Shop) -> None:
    """Diagonals of 300 and 298.5: the shorter leg of the shorter one wants 1.5 mm."""
    piece = heron(shop)
    heights = {"L1": "150", "L2": "150", "L3": "148.5", "L4": "150"}
    taken(shop, piece, *((leg, "height", mm) for leg, mm in heights.items()))
    found = standing.level(shop, piece.tag)
    assert not isinstance(found, Refused) and found.steady is not None
    assert (found.steady.corner, found.steady.mm) == (LegCorner.REAR_LEFT, pytest.approx(1.5))
    told = standing.tell_level(found, Measures.METRIC)
    assert told.sentence == "Shim rear left 1.5 mm."


def test_missing_legs_are_named(shop: Shop) -> None:
    piece = heron(shop)
    taken(shop, piece, ("L1", "height", "150"))
    refused = standing.level(shop, piece.tag)
    assert isinstance(refused, Refused)
    assert "front right, rear left, rear right" in refused.sentence


@pytest.mark.parametrize(
    ("corner", "gap"), [("middle", "1"), ("rear left", "x"), ("rear left", "-1"), ("", "2")]
)
def test_a_rock_that_cannot_be_is_refused(shop: Shop, corner: str, gap: str) -> None:
    assert isinstance(standing.level(shop, heron(shop).tag, corner, gap), Refused)


def chest(shop: Shop) -> Piece:
    made = lay_out(shop, "Heron", "1 1 1", width=800, height=900)
    assert isinstance(made, Piece)
    return made


def test_a_tall_heavy_roomy_chest_is_covered(shop: Shop) -> None:
    piece = chest(shop)
    taken(shop, piece, ("C1", "overall height", "950"), ("C1", "depth", "450"))
    assert isinstance(standing.weigh(shop, piece.tag, "40 kg"), Done)
    found = standing.tip_over(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert (found.tall, found.heavy, found.roomy) == (True, True, True)
    told = standing.tell_tip_over(found, Measures.METRIC)
    assert "falls under ASTM F2057-23" in told.sentence
    assert "no claim of compliance" in told.valid
    assert "safe" not in told.sentence


def test_a_low_one_is_below_and_advice_stays(shop: Shop) -> None:
    piece = chest(shop)
    taken(shop, piece, ("C1", "overall height", "600"))
    assert isinstance(standing.weigh(shop, piece.tag, "12 kg"), Done)
    found = standing.tip_over(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert found.covered is False
    assert "in overall height and mass; it can still tip. Fix it to the wall" in found.sentence


def test_a_carcase_that_is_low_without_its_legs_and_top_is_not_called_low(shop: Shop) -> None:
    """560 mm of carcase on 106 mm of legs under 20 mm of top: 686 mm stand there, 27 in."""
    made = lay_out(shop, "Heron", "1 1 1", width=800, height=560, legs=4, top=True)
    assert isinstance(made, Piece)
    assert tipped(shop, made).lacks[0] == "overall height"
    taken(shop, made, ("C1", "height", "560"))
    assert tipped(shop, made).tall is None, "it was asked for the carcase and judged by it"
    taken(shop, made, ("L1", "height", "90"), ("L3", "height", "106"))
    assert tipped(shop, made).tall is None
    taken(shop, made, ("T1", "thickness", "20"))
    found = tipped(shop, made)
    assert (found.tall, found.height_mm) == (True, 686)
    told = standing.tell_tip_over(found, Measures.METRIC)
    assert told.rows[0] == ("overall height", "at least 686 mm", "reached")
    assert any("carcase, tallest leg and top together" in source for source in found.sources)


def test_low_by_the_sum_of_its_parts_is_not_low_until_it_is_measured(shop: Shop) -> None:
    """Castors are no part of any part: 680 mm of carcase may stand 720 mm high."""
    piece = chest(shop)
    taken(shop, piece, ("C1", "height", "680"))
    found = tipped(shop, piece)
    assert (found.tall, found.height_mm) == (None, 680)
    assert found.lacks[0] == "overall height, from the floor to the top of the piece"
    taken(shop, piece, ("C1", "overall height", "680"))
    found = tipped(shop, piece)
    assert found.tall is False and found.lacks == ("mass", "enclosed volume")
    told = standing.tell_tip_over(found, Measures.METRIC)
    assert told.rows[0] == ("overall height", "680 mm", "below")
    assert told.data["height"] is False and told.data["height_mm"] == 680


def test_unknown_measures_are_named(shop: Shop) -> None:
    found = standing.tip_over(shop, chest(shop).tag)
    assert not isinstance(found, Refused)
    assert found.covered is None
    assert found.lacks == ("overall height", "mass", "enclosed volume")


@pytest.mark.parametrize("mass", ["x", "-4 kg", "0", "9000 kg", "1e400", "4 mm"])
def test_a_mass_that_cannot_be_is_refused(shop: Shop, mass: str) -> None:
    piece = chest(shop)
    assert isinstance(standing.weigh(shop, piece.tag, mass), Refused)
    found = standing.tip_over(shop, piece.tag)
    assert not isinstance(found, Refused) and found.heavy is None


def test_what_a_piece_weighs_is_kept_undone_and_goes_with_an_export(
    shop: Shop, tmp_path: Path
) -> None:
    piece = chest(shop)
    standing.weigh(shop, piece.tag, "84 lb")
    text = export(shop, piece.tag)
    assert isinstance(text, str)
    with closing(shop_at(tmp_path / "other.partsbench")) as other:
        assert isinstance(take_in_export(other, text, "heron.json"), list)
        there = standing.tip_over(other, piece.tag)
        assert not isinstance(there, Refused)
        assert there.mass_kg == pytest.approx(84 * 0.45359237)
    standing.weigh(shop, piece.tag, "20 lb")
    history.undo(shop)
    told = standing.tell_tip_over(tipped(shop, piece), Measures.US)
    assert told.rows[1] == ("mass", "84 lb", "reached")
    standing.weigh(shop, piece.tag, "")
    assert tipped(shop, piece).mass_kg is None


def tipped(shop: Shop, piece: Piece) -> Tipover:
    found = standing.tip_over(shop, piece.tag)
    assert isinstance(found, Tipover)
    return found


def test_the_thresholds_themselves_are_reached(shop: Shop) -> None:
    """27 in and 30 lb are within; a hair less is not."""
    piece = chest(shop)
    for height, mass, reached in (("27 in", "30 lb", True), ("26.99 in", "29.99 lb", False)):
        taken(shop, piece, ("C1", "overall height", height))
        standing.weigh(shop, piece.tag, mass)
        found = tipped(shop, piece)
        assert (found.tall, found.heavy) == (reached, reached)


def test_a_break_is_named_and_can_be_wanted(shop: Shop) -> None:
    made = lay_out(shop, "Larch", "2 2", pulls=1, paths=[("paint", ["drawers"])])
    assert isinstance(made, Piece)
    give_path(shop, made.tag, "stain", ["D4"])
    found = standing.pattern(shop, made.tag)
    assert not isinstance(found, Refused)
    assert [(b.name, b.mirror, b.what) for b in found.breaks] == [("D3", "D4", "finish")]
    assert isinstance(standing.want_break(shop, made.tag, "d4"), Done)
    after = standing.pattern(shop, made.tag)
    assert not isinstance(after, Refused)
    assert after.breaks == () and len(after.wanted) == 1
    assert isinstance(standing.want_break(shop, made.tag, "D4", wanted=False), Done)
    again = standing.pattern(shop, made.tag)
    assert not isinstance(again, Refused) and len(again.breaks) == 1
    assert isinstance(standing.want_break(shop, made.tag, "D9"), Refused)


def test_a_mirrored_pair_is_held_against_its_twin(shop: Shop) -> None:
    made = lay_out(shop, "Larch", "2 1", paths=[("paint", ["drawers"])])
    assert isinstance(made, Piece)
    twin = mirror(shop, made.tag, "right one")
    assert isinstance(twin, Piece)
    same = standing.pattern(shop, twin.tag)
    assert not isinstance(same, Refused) and same.breaks == ()
    give_path(shop, twin.tag, "stain", ["D1"])
    differs = standing.pattern(shop, twin.tag)
    assert not isinstance(differs, Refused)
    (one,) = differs.breaks
    assert one.what == "finish" and twin.tag in one.name and made.tag in str(one.mirror)


def test_a_break_between_two_of_a_pair_can_be_wanted_too(shop: Shop) -> None:
    """It was kept under the drawer's number and looked for under its tag."""
    made = lay_out(shop, "Larch", "2 1", paths=[("paint", ["drawers"])])
    assert isinstance(made, Piece)
    twin = mirror(shop, made.tag, "right one")
    assert isinstance(twin, Piece)
    give_path(shop, twin.tag, "stain", ["D1"])
    assert isinstance(standing.want_break(shop, twin.tag, "D1"), Done)
    found = standing.pattern(shop, twin.tag)
    assert not isinstance(found, Refused)
    assert (found.breaks, len(found.wanted)) == ((), 1)
    assert isinstance(standing.pattern(shop, twin.tag, twin.tag), Refused)


def test_the_twin_that_is_in_another_book_is_not_missed(shop: Shop, tmp_path: Path) -> None:
    made = lay_out(shop, "Larch", "2 1", paths=[("paint", ["drawers"])])
    assert isinstance(made, Piece)
    twin = mirror(shop, made.tag, "right one")
    assert isinstance(twin, Piece)
    text = export(shop, twin.tag)
    assert isinstance(text, str)
    with closing(shop_at(tmp_path / "other.partsbench")) as other:
        assert isinstance(take_in_export(other, text, "larch.json"), list)
        found = standing.pattern(other, twin.tag)
        assert not isinstance(found, Refused) and found.breaks == ()


def test_a_front_of_one_column_is_its_own_mirror(shop: Shop) -> None:
    made = lay_out(shop, "Larch", "1 1 1", pulls=2, paths=[("paint", ["D1"]), ("stain", ["D2"])])
    assert isinstance(made, Piece)
    found = standing.pattern(shop, made.tag)
    assert not isinstance(found, Refused) and found.breaks == ()


def test_legs_that_differ_by_a_slip_of_the_keys_want_no_shim(shop: Shop) -> None:
    piece = heron(shop)
    heights = {"L1": "150", "L2": "150", "L3": "15", "L4": "150"}
    taken(shop, piece, *((leg, "height", mm) for leg, mm in heights.items()))
    refused = standing.level(shop, piece.tag)
    assert isinstance(refused, Refused) and "difference of the legs" in refused.sentence
    taken(shop, piece, ("L3", "height", "49.9"))
    assert isinstance(standing.level(shop, piece.tag), Refused)
    taken(shop, piece, ("L3", "height", "50"))
    found = standing.level(shop, piece.tag)
    assert not isinstance(found, Refused) and found.steady and found.steady.mm == 100


@pytest.mark.parametrize(("units", "kg"), [("metric", 38.0), ("us", 38 * 0.45359237)])
def test_a_bare_mass_is_in_kilograms_or_pounds(shop: Shop, units: str, kg: float) -> None:
    """38 g of chest of drawers was taken for what it said."""
    piece = chest(shop)
    set_habit(shop, "units", units)
    standing.weigh(shop, piece.tag, "38")
    assert tipped(shop, piece).mass_kg == pytest.approx(kg)


def test_what_is_behind_a_door_is_counted_once_and_stands_in_no_pattern(
    shop: Shop, tmp_path: Path
) -> None:
    """The same chest once with drawers behind its door, and once with none."""
    file = tmp_path / "plain.toml"
    lines = [line for line in TALL_CHEST.splitlines() if not line.startswith("behind")]
    file.write_text("\n".join(lines).replace("Heron", "Quill"), encoding="utf-8")
    taken_in = take_in(shop, file)
    assert isinstance(taken_in, list)
    both = tall_chest(shop, tmp_path), taken_in[0]
    assert [len(p.front.openings) for p in both] == [6, 4]
    volumes, patterns = [], []
    for piece in both:
        taken(shop, piece, ("C1", "overall height", "950"), ("C1", "depth", "450"))
        found, pattern = standing.tip_over(shop, piece.tag), standing.pattern(shop, piece.tag)
        assert isinstance(found, Tipover) and not isinstance(pattern, Refused)
        volumes.append(found.volume_dm3)
        patterns.append(standing.tell_pattern(pattern).rows)
    assert volumes[0] == volumes[1] and volumes[0]
    assert patterns[0] == patterns[1]


def test_a_pair_with_a_twin_that_is_not_there_is_refused(shop: Shop) -> None:
    piece = made(lay_out(shop, "Quill", "2 2"))
    assert isinstance(standing.pattern(shop, piece.tag, "ZZZZ"), Refused)
