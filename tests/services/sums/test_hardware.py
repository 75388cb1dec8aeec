"""The census, orders, survivors, pulls judged, and drilling sheets of a piece."""

from __future__ import annotations

from datetime import date

import pytest

from partsbench.core.outcomes import Answer, Done, Outcome, Refused
from partsbench.core.piece.codes import SHEET, Code, Family
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.holes import HolePlan
from partsbench.core.sums.units import Measures
from partsbench.services.books.pieces import edit_part, give_fittings, give_path
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import hand_out, make_sheet
from partsbench.services.sums import allotment, census, choice, drill, holes, ordering
from partsbench.services.sums.drill import Drilling
from partsbench.services.sums.habits import set_habit
from tests.support.paths_on_paper import lines
from tests.support.shops import code, lay_out, made, sheet_code
from tests.support.sizes import taken


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Rows of 2 and 1 drawers; one pull each on the upper two, stained, and on the wide one."""
    chest = made(lay_out(shop, "Heron", "2 1", width=800, height=400, pulls=1))
    give_path(shop, chest.tag, "stain", ["D1", "D2"])
    give_path(shop, chest.tag, "paint", ["D3"])
    return chest


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
    assert found[0].sentence == (
        "It takes 3 pulls: 1 usable, 1 broken, 1 missing (1 not counted yet); 1 complete set left."
    )


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
    count(shop, piece, "D1", 1)
    count(shop, piece, "D2", 1)
    found = allotment.allot(shop, piece.tag, "pull", 22.0)
    assert not isinstance(found, Refused)
    assert sorted(place for _, place in found.kept) == ["D1 middle", "D2 middle"]
    assert found.new_places == ("D3 middle",)
    assert found.cost == 2 * 22.0
    for survivor in ("pull 1 of D1, good", "Pull 1 of D2 good"):
        done(allotment.veto(shop, piece.tag, survivor, "d1 Middle"))
    after = allotment.allot(shop, piece.tag, "pull", 22.0)
    assert not isinstance(after, Refused)
    assert [place for _, place in after.kept] == ["D3 middle"]
    assert len(after.left_over) == 1
    done(allotment.veto(shop, piece.tag, "pull 1 of D2, good", "D1 middle", wanted=True))
    again = allotment.allot(shop, piece.tag, "pull", 22.0)
    assert not isinstance(again, Refused)
    assert ("pull 1 of D2, good", "D1 middle") in again.kept


@pytest.mark.parametrize(
    ("survivor", "place", "told"),
    [
        ("D1", "D2", "There is no survivor “D1”; there are: "),
        ("pull 2 of D1, good", "D1 middle", "There is no survivor"),
        ("pull 1 of D2, broken", "D1 middle", "goes on nowhere"),
        ("pull 1 of D1, good", "D9 middle", "No pull goes on “D9 middle”; there are: D1 middle"),
        ("pull 1 of D1, good", "D1", "No pull goes on “D1”"),
        ("knob 1 of D3, good", "D1 middle", "No knob goes on “D1 middle”"),
    ],
)
def test_a_veto_of_what_is_not_there_is_refused(
    shop: Shop, piece: Piece, survivor: str, place: str, told: str
) -> None:
    """It was kept, and said that it was, and did nothing."""
    count(shop, piece, "D1", 1)
    count(shop, piece, "D2", 1, condition="broken")
    made(give_fittings(shop, piece.tag, ["D3"], 0))
    made(give_fittings(shop, piece.tag, ["D3"], 1, "knob"))
    done(census.count(shop, piece.tag, "D3", "knob", 1, spacing="0"))
    refused = allotment.veto(shop, piece.tag, survivor, place)
    assert isinstance(refused, Refused) and told in refused.sentence
    other = allotment.veto(shop, piece.tag, "knob 1 of D3, good", "D3 middle", kind="pull")
    assert isinstance(other, Refused) and "is no pull" in other.sentence
    none = allotment.veto(shop, piece.tag, "pull 1 of D1, good", "D1 middle", wanted=True)
    assert isinstance(none, Refused) and "Nothing was said against" in none.sentence


def test_no_more_is_on_a_drawer_than_it_is_fitted_with(shop: Shop, piece: Piece) -> None:
    """99 pulls on a drawer for one were usable, and nothing was missing any more."""
    for number in (2, 99):
        refused = census.count(shop, piece.tag, "D1", "pull", number)
        assert isinstance(refused, Refused) and "D1 has room for 1 × pull" in refused.sentence
    count(shop, piece, "D1", 1)
    count(shop, piece, "D1", 1, spacing="96")
    worn = census.count(shop, piece.tag, "D1", "pull", 1, condition="worn")
    assert isinstance(worn, Refused) and "1 good counted there already" in worn.sentence
    count(shop, piece, "D1", 0)
    count(shop, piece, "D1", 1, condition="worn")
    assert isinstance(census.count(shop, piece.tag, "D1", "pull", -1), Refused)
    count(shop, piece, "C1", 9)
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert (found[0].of("pull").counted, found[0].of("pull").needed) == (10, 0)
    assert isinstance(census.count(shop, piece.tag, "C1", "pull", 101), Refused)


@pytest.mark.parametrize(
    ("kind", "more", "told"),
    [
        ("pull", {"spacing": "-3"}, "negative"),
        ("pull", {"spacing": "nan"}, "cannot be read"),
        ("pull", {"spacing": "370"}, "has no room on D1: it is 380 mm wide"),
        ("knob", {"spacing": "96"}, "a knob has one hole"),
        ("pull", {"screw": "0"}, "must be more than 0"),
        ("pull", {"screw": "301"}, "more than 300"),
        ("pull", {"thread": "x" * 21}, "longer than 20"),
        ("pull", {"condition": "lost"}, "none of good, worn, bent, broken"),
        ("", {}, "kind: is missing"),
    ],
)
def test_counts_that_cannot_be_are_refused(
    shop: Shop, piece: Piece, kind: str, more: dict[str, str], told: str
) -> None:
    refused = census.count(shop, piece.tag, "D1", kind, 1, **more)  # type: ignore[arg-type]
    assert isinstance(refused, Refused) and told in refused.sentence


def test_counting_again_forgets_no_measure(shop: Shop, piece: Piece) -> None:
    """Counted anew without its spacing, the spacing was gone."""
    count(shop, piece, "C1", 2, spacing="96", thread="M4", screw="25")
    count(shop, piece, "C1", 3)
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused)
    row = found[1][0]
    assert (row.count, row.spacing_typed, row.thread, row.screw_mm) == (3, "96", "M4", 25)


def test_many_of_a_kind_are_one_kind(shop: Shop, piece: Piece) -> None:
    """“pulls” were another kind, that no drawer takes."""
    done(census.count(shop, piece.tag, "D1", "Pulls", 1))
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused) and found[0].usable == {"pull": 1}


def test_a_pull_is_one_by_any_name(shop: Shop, piece: Piece) -> None:
    """Renamed, it was wanted no more."""
    pull = next(p for p in piece.parts if p.parent == "D1")
    made(edit_part(shop, piece.tag, pull.short, name="brass bail"))
    now = shop.piece(piece.tag)
    assert now is not None and census.expected(now)["D1"] == {"pull": 1}


def test_3_3_4_in_over_96_mm_holes_is_told_by_census_and_choice(shop: Shop, piece: Piece) -> None:
    """Neither equal nor refused: 0.75 mm, 0.38 mm at each hole, and what that wants."""
    count(shop, piece, "D1", 1, spacing="96", thread="8-32")
    count(shop, piece, "D2", 1, spacing="3-3/4 in", thread="8-32")
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert (found[0].of("pull").misfits, found[0].of("pull").needed) == (0, 1)
    words = "3-3/4 in over holes of 96 mm. It is 0.75 mm narrower than the holes, 0.38 mm at each:"
    assert words in census.tell_census(found, Measures.METRIC).caution
    done(choice.note_holes(shop, piece.tag, "D1", "142,90 238,90"))
    consider(shop, piece, "bow", "3-3/4 in", foot="10", thread="8-32")
    judged = holes.choices(shop, piece.tag)
    assert not isinstance(judged, Refused)
    told = holes.tell_choices(judged)
    assert f"bow: {words} it goes on in holes at least 4.92 mm wide for 8-32" in told.caution
    (over,) = told.data["pulls"][0]["over"]  # type: ignore[index]
    assert (over["pull_mm"], over["holes_mm"], over["off_mm"]) == (95.25, 96, 0.75)
    assert over["goes_on"] is False and over["holes_wide_mm"] == {"8-32": pytest.approx(4.916)}
    assert "how wide the old holes are" in told.lacks
    consider(shop, piece, "bow", "96", foot="10", thread="8-32")
    same = holes.choices(shop, piece.tag)
    assert not isinstance(same, Refused)
    assert [o.holes_mm for o in same.choices[0].over] == [95.25], "D1 has its own 96 mm"


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
        ("0,90", "outside a front"),
        ("380,90", "outside a front"),
        ("102,90 102,90", "stands there twice"),
        (" ".join(f"{x},90" for x in range(2, 126, 2)), "more than 60"),
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
        ({"spacing": "800"}, "has no room on the widest front"),
        ({"plate": "wide"}, "cannot be read"),
        ({"plate": "120 x 0"}, "one side only"),
        ({"depth": "101"}, "more than 100"),
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
        sheet = make_sheet(shop, piece.tag, only=["D3"], reprint=again)
        assert not isinstance(sheet, Refused)
        hand_out(shop, sheet)
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
    assert ordering.day_of("in 10 days", today) == date(2026, 12, 4)
    assert ordering.day_of("2026-12-04", today) == date(2026, 12, 4)
    for text in ("soon", "in ² days", f"in {'9' * 6000} days", "2026-02-30", ""):
        assert isinstance(ordering.day_of(text, today), Refused)


def test_what_is_not_measured_of_many_is_counted_and_a_kind_is_a_word(
    shop: Shop, piece: Piece
) -> None:
    count(shop, piece, "C1", 100)
    found = census.census(shop, piece.tag)
    assert not isinstance(found, Refused)
    assert census.tell_census(found, Measures.METRIC).lacks[-1] == "and 94 more"
    assert isinstance(census.count(shop, piece.tag, "D1", "x" * 41, 1), Refused)


def test_a_hole_is_drilled_for_a_noted_pull_and_on_a_front_that_takes_one(
    shop: Shop, piece: Piece
) -> None:
    consider(shop, piece, "bar", "128")
    told = drill.where_to_drill(shop, piece.tag, "D3", pull="knob")
    assert told == Refused("There is no candidate “knob”.")
    assert isinstance(drill.where_to_drill(shop, piece.tag, "D99", pull="bar"), Refused)
    found = drilled(shop, piece, pull="bar")
    assert isinstance(drill.drill_sheet(shop, piece.tag, found, "foolscap"), Refused)


def test_a_pull_is_out_of_the_choice_once_and_sizes_of_it_are_read(
    shop: Shop, piece: Piece
) -> None:
    consider(shop, piece, "bar", "128")
    assert isinstance(choice.consider(shop, piece.tag, "bar"), Done)
    again = choice.consider(shop, piece.tag, "bar")
    assert isinstance(again, Refused)
    assert holes_of(shop, piece) == []


def holes_of(shop: Shop, piece: Piece) -> list[str]:
    found = holes.choices(shop, piece.tag)
    return [] if isinstance(found, Refused) else [c.candidate.name for c in found.choices]
