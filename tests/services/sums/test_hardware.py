"""The census, orders, survivors, pulls judged, and drilling sheets of a piece."""

from __future__ import annotations

from datetime import date

import pytest

from partsbench.core.outcomes import Answer, Done, Outcome, Refused
from partsbench.core.piece.codes import SHEET, Code, Family
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.holes import HolePlan
from partsbench.core.sums.units import Measures
from partsbench.services.labels import hand_out, make_sheet
from partsbench.services.pieces import give_path
from partsbench.services.shop import Shop
from partsbench.services.sums import census, choice, drill, holes
from partsbench.services.sums.drill import Drilling
from partsbench.services.sums.habits import set_habit
from tests.support.paths_on_paper import lines
from tests.support.shops import code, lay_out, sheet_code
from tests.support.sizes import taken


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Rows of 2 and 1 drawers; one pull each on the upper two, stained, and on the wide one."""
    made = lay_out(shop, "Heron", "2 1", width=800, height=400, pulls=1)
    assert isinstance(made, Piece)
    give_path(shop, made.tag, "stain", ["D1", "D2"])
    give_path(shop, made.tag, "paint", ["D3"])
    return made


def done(answer: Done | Refused) -> None:
    assert isinstance(answer, Done), answer


def count(shop: Shop, piece: Piece, part: str, number: int, **more: str) -> None:
    done(census.count(shop, piece.tag, part, "pull", number, **more))


def test_missing_is_what_is_fitted_less_what_was_counted(shop: Shop, piece: Piece) -> None:
    count(shop, piece, "D1", 1, spacing="96", thread="M4")
    count(shop, piece, "D2", 1, condition="broken", spacing="96", thread="M4")
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert (dict(found[0].usable), dict(found[0].broken)) == ({"pull": 1}, {"pull": 1})
    assert dict(found[0].missing) == {"pull": 1}
    assert found[0].sentence == "1 usable, 1 broken, 1 missing; 1 complete set left."


def test_96_mm_and_3_3_4_in_are_told_apart(shop: Shop, piece: Piece) -> None:
    count(shop, piece, "D1", 1, spacing="96 mm")
    count(shop, piece, "D2", 1, spacing="3 3/4 in")
    count(shop, piece, "D3", 1, spacing="95.7")
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused)
    told = census.tell_census(found, Measures.METRIC)
    assert [row[5] for row in told.rows] == ["96 mm", "3-3/4 in", "96 mm"]
    assert found[0].mixed == ("pull",)


def test_a_count_of_none_is_taken_back(shop: Shop, piece: Piece) -> None:
    count(shop, piece, "D1", 1)
    count(shop, piece, "D1", 0)
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused) and found[1] == []


def test_survivors_fill_whole_rows_and_a_veto_is_kept(shop: Shop, piece: Piece) -> None:
    count(shop, piece, "D1", 2)
    found = census.allot(shop, piece.tag, "pull", 22.0)
    assert not isinstance(found, Refused)
    assert sorted(place for _, place in found.kept) == ["D1 middle", "D2 middle"]
    assert found.new_places == ("D3 middle",)
    assert found.cost == 2 * 22.0
    for survivor in ("pull 1 of D1, good", "pull 2 of D1, good"):
        done(census.veto(shop, piece.tag, survivor, "D1 middle"))
    after = census.allot(shop, piece.tag, "pull", 22.0)
    assert not isinstance(after, Refused)
    assert "D1 middle" not in [place for _, place in after.kept]


def consider(shop: Shop, piece: Piece, name: str, spacing: str, **more: object) -> None:
    done(choice.consider(shop, piece.tag, name, spacing, **more))  # type: ignore[arg-type]


def test_fillings_show_on_stain_and_not_on_paint(shop: Shop, piece: Piece) -> None:
    for part in ("D1", "D2", "D3"):
        done(choice.note_holes(shop, piece.tag, part, "20,40"))
    consider(shop, piece, "bow", "96", foot="12")
    found = holes.choices(shop, piece.tag)
    assert not isinstance(found, Refused)
    plan = found.choices[0].plan
    assert isinstance(plan, HolePlan)
    assert {f.front: f.showing for f in plan.fronts} == {"D1": 1, "D2": 1, "D3": 0}
    said = "bow uses or covers 0 of 3 old holes; 2 fillings show on D1, D2."
    assert found.sentence == f"{said} bow alike on all: in the middle of the height."


def test_pulls_of_all_drawers_look_alike_and_the_sheet_drills_them_so(
    shop: Shop, piece: Piece
) -> None:
    """Two fronts with holes 60 mm down, one with holes 80 mm down: all get them 60 mm down."""
    for part, y in (("D1", 60), ("D2", 60), ("D3", 80)):
        done(choice.note_holes(shop, piece.tag, part, f"142,{y} 238,{y}"))
    consider(shop, piece, "bow", "96", foot="12")
    found = holes.choices(shop, piece.tag)
    assert not isinstance(found, Refused)
    told = holes.tell_choices(found)
    assert told.sentence.endswith("bow alike on all: 60.0 mm from the top.")
    assert told.data["pulls"][0]["looks"] == [  # type: ignore[index]
        {"on": "drawers", "from_top_mm": 60, "from_side_mm": None, "from_side_share": None}
    ]
    drilled = [drill.where_to_drill(shop, piece.tag, d, pull="bow") for d in ("D1", "D2", "D3")]
    assert all(not isinstance(d, Refused) for d in drilled)
    assert {p.y for d in drilled if not isinstance(d, Refused) for p in d.holes.centres} == {60}


def test_the_pull_that_shows_least_comes_first(shop: Shop, piece: Piece) -> None:
    """Holes 96 mm apart round the middle of fronts that are 380 mm wide."""
    for part in ("D1", "D2"):
        done(choice.note_holes(shop, piece.tag, part, "142,90 238,90"))
    consider(shop, piece, "wide bow", "128", foot="12")
    consider(shop, piece, "true bow", "96", foot="12")
    found = holes.choices(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert [c.candidate.name for c in found.choices] == ["true bow", "wide bow"]
    first = found.choices[0].plan
    assert isinstance(first, HolePlan) and first.rank == (0, 0, 2)
    assert "where the holes of D3 are" in found.lacks


def test_the_screw_follows_the_front_and_a_wrong_one_is_warned_of(shop: Shop, piece: Piece) -> None:
    """20 mm of front and one diameter of M4 want 24 mm: the next length is 25."""
    taken(shop, piece, ("D1", "thickness", "20"))
    consider(shop, piece, "bow", "96", thread="M4", depth="8")
    found = holes.choices(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert found.choices[0].screws["D1"].sentence == "M4, 25 mm."
    check = holes.screw_at_hand
    assert check(shop, piece.tag, "D1", "bow", "M4", "25") == ()
    long = check(shop, piece.tag, "D1", "bow", "M4", "35")
    wrong = check(shop, piece.tag, "D1", "bow", "8-32", "25")
    assert long == ("Too long: it touches bottom before the pull is tight.",)
    assert wrong == ("Wrong thread: 8-32 into M4 strips or jams.",)
    assert isinstance(check(shop, piece.tag, "D3", "bow", "M4", "25"), Refused)


@pytest.mark.parametrize(
    ("places", "told"),
    [
        ("102", "is no hole"),
        ("x,90", "cannot be read"),
        ("9000,90", "outside a front"),
        ("-4,9", "negative"),
        ("nan,9", "cannot be read"),
    ],
)
def test_holes_that_cannot_be_are_refused(shop: Shop, piece: Piece, places: str, told: str) -> None:
    refused = choice.note_holes(shop, piece.tag, "D1", places)
    assert isinstance(refused, Refused) and told in refused.sentence


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"spacing": "-3"}, "negative"),
        ({"plate": "wide"}, "cannot be read"),
        ({"each": 4}, "more than 2"),
        ({"thread": "M99"}, "none of"),
        ({"price": -2.0}, "less than 0"),
        ({"name": ""}, "name"),
    ],
)
def test_candidates_that_cannot_be_are_refused(
    shop: Shop, piece: Piece, more: dict[str, object], told: str
) -> None:
    wanted: dict[str, object] = {"name": "bow", "spacing": "96"} | more
    refused = choice.consider(shop, piece.tag, **wanted)  # type: ignore[arg-type]
    assert isinstance(refused, Refused) and told in refused.sentence


def drilled(shop: Shop, piece: Piece, part: str = "D3", **where: str) -> Drilling:
    found = drill.where_to_drill(shop, piece.tag, part, **where)
    assert isinstance(found, Drilling), found
    return found


def test_a_drilling_sheet_bears_a_code_of_its_own_and_the_fronts_size(
    shop: Shop, piece: Piece
) -> None:
    taken(shop, piece, ("D1", "width", "378"), ("D1", "height", "176"))
    found = drilled(shop, piece, "D1", spacing="96")
    assert (found.holes.width, found.holes.height) == (378.0, 176.0)
    assert [p.x for p in found.holes.centres] == [141.0, 237.0]
    sheet = drill.drill_sheet(shop, piece.tag, found)
    assert not isinstance(sheet, Refused)
    assert sheet.pages == len(lines(sheet.pdf))
    assert sheet.code == sheet_code(piece, "D1")


def test_the_best_place_of_a_pull_is_drilled(shop: Shop, piece: Piece) -> None:
    done(choice.note_holes(shop, piece.tag, "D1", "142,70 238,70"))
    consider(shop, piece, "bow", "96", foot="12")
    found = drilled(shop, piece, "D1", pull="bow")
    assert [(p.x, p.y) for p in found.holes.centres] == [(142.0, 70.0), (238.0, 70.0)]


def test_the_printers_error_is_entered_once(shop: Shop, piece: Piece) -> None:
    assert "the printed bar as you measured it" in drilled(shop, piece, spacing="96").lacks
    set_habit(shop, "bar across", "98.8")
    set_habit(shop, "bar down", "98.9")
    found = drilled(shop, piece, spacing="96")
    assert "Your printer is 1.2 % small; corrected." in found.sentence
    assert found.scale.across == pytest.approx(100 / 98.8)


def test_a_printer_that_stretches_one_way_is_refused(shop: Shop, piece: Piece) -> None:
    """One bar alone too far off is refused when it is typed; both together when they are used."""
    assert isinstance(set_habit(shop, "bar across", "80"), Refused)
    assert isinstance(set_habit(shop, "bar across", "100"), Done)
    assert isinstance(set_habit(shop, "bar down", "98"), Done)
    assert isinstance(drill.where_to_drill(shop, piece.tag, "D1", spacing="96"), Refused)


@pytest.mark.parametrize(
    ("part", "where", "told"),
    [
        ("D1", {}, "hole spacing: is missing"),
        ("D1", {"spacing": "900"}, "from an edge"),
        ("L9", {"spacing": "96"}, "no part"),
        ("C1", {"spacing": "96"}, "no front in an opening"),
        ("D1", {"pull": "nothing"}, "No candidate"),
    ],
)
def test_drilling_that_cannot_be_is_refused(
    shop: Shop, piece: Piece, part: str, where: dict[str, str], told: str
) -> None:
    refused = drill.where_to_drill(shop, piece.tag, part, **where)  # type: ignore[arg-type]
    assert isinstance(refused, Refused) and told in refused.sentence


def test_the_front_is_scanned_against_the_sheet(shop: Shop, piece: Piece) -> None:
    drawn, front = sheet_code(piece, "D3"), code(piece, "D3")
    right = drill.right_front(shop, drawn, front, piece.tag)
    assert isinstance(right, Outcome) and right.answer is Answer.GO
    wrong = drill.right_front(shop, drawn, code(piece, "D1"), piece.tag)
    assert isinstance(wrong, Outcome) and wrong.answer is Answer.STOP
    assert "the sheet is for Heron D3, this is Heron D1" in wrong.sentence
    home = drill.right_front(shop, drawn, code(piece, "H3"), piece.tag)
    assert isinstance(home, Refused)
    misread = drill.right_front(shop, drawn, front[:-1] + "?", piece.tag)
    assert isinstance(misread, Outcome) and misread.answer is Answer.STOP


def test_one_thing_scanned_twice_is_no_comparison(shop: Shop, piece: Piece) -> None:
    drawn, front = sheet_code(piece, "D3"), code(piece, "D3")
    twice = drill.right_front(shop, drawn, drawn)
    assert isinstance(twice, Outcome) and twice.answer is Answer.STOP
    assert twice.sentence == "This is the drilling sheet of Heron D3, not its label."
    for label in (front, code(piece, "D1"), code(piece, "H3")):
        old = drill.right_front(shop, label, front)
        assert isinstance(old, Refused) and "Scan the sheet; print an old one anew." in old.sentence


def test_a_sheet_stays_right_when_the_label_is_printed_again(shop: Shop, piece: Piece) -> None:
    for again in (False, True):
        made = make_sheet(shop, piece.tag, only=["D3"], reprint=again)
        assert not isinstance(made, Refused)
        hand_out(shop, made)
    now = shop.piece(piece.tag)
    assert now is not None and code(now, "D3") != code(piece, "D3")
    drawn = sheet_code(piece, "D3")
    right = drill.right_front(shop, drawn, code(now, "D3"))
    assert isinstance(right, Outcome) and right.answer is Answer.GO
    replaced = drill.right_front(shop, drawn, code(piece, "D3"))
    assert isinstance(replaced, Outcome) and "was replaced" in replaced.sentence


def test_a_sheet_of_another_book_is_told(shop: Shop, piece: Piece) -> None:
    stranger = str(Code("ZZ99", Family.DRAWER, 3, SHEET))
    found = drill.right_front(shop, stranger, code(piece, "D3"))
    assert isinstance(found, Outcome) and "in no job of this book" in found.sentence
    none = drill.right_front(shop, str(Code(piece.tag, Family.DRAWER, 99, SHEET)), "D3")
    assert isinstance(none, Outcome) and none.answer is Answer.STOP


def test_days_are_read(shop: Shop) -> None:
    today = date(2026, 11, 24)
    assert census.day_of("in 10 days", today) == date(2026, 12, 4)
    assert census.day_of("2026-12-04", today) == date(2026, 12, 4)
    for text in ("soon", "in ² days", f"in {'9' * 6000} days", "2026-02-30", ""):
        assert isinstance(census.day_of(text, today), Refused)


def test_what_is_not_measured_of_many_is_counted_and_a_kind_is_a_word(
    shop: Shop, piece: Piece
) -> None:
    count(shop, piece, "D1", 100)
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert census.tell_census(found, Measures.METRIC).lacks[-1] == "and 94 more"
    assert isinstance(census.count(shop, piece.tag, "D1", "x" * 41, 1), Refused)
