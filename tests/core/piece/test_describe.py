from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import resources
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.describe import Described, describe, with_paths
from partsbench.core.piece.front import OpeningKind, check
from partsbench.core.piece.parts import HomeKind
from partsbench.core.piece.piece import Numbering, Piece


def described(text: str) -> Piece:
    found = describe(tomllib.loads(text), "K7Q4")
    assert isinstance(found, Described), found
    return found.piece


def fault(text: str) -> str:
    found = describe(tomllib.loads(text), "K7Q4")
    assert isinstance(found, Refused), found
    return found.sentence


def test_rows_of_drawers_are_enough() -> None:
    piece = described('codename = "Heron"\nrows = "2 2 3"\nlegs = 4\npulls = 2\ntop = true')
    assert piece.count() == {
        Family.DRAWER: 7, Family.LEG: 4, Family.PULL: 14, Family.TOP: 1, Family.CARCASE: 1,
    }  # fmt: skip


def test_a_front_drawn_in_words() -> None:
    piece = described(
        """
        codename = "Heron"
        [front]
        columns = [300, 150, 150, 300]
        rows = [180, "8 in", 220]
        map = ["D1 D1 D2 D2", "D3 G1 G1 S1", "F1 F1 E1 ."]
        [behind]
        G1 = [1, 2]
        """
    )
    front = piece.front
    kinds = [o.kind for o in front.openings if o.behind is None]
    assert sorted(kinds) == sorted(
        [OpeningKind.DRAWER] * 3 + [OpeningKind.DOOR, OpeningKind.SHELF, OpeningKind.FALSE_FRONT]
        + [OpeningKind.EMPTY]
    )  # fmt: skip
    assert front.height == pytest.approx(180 + 203.2 + 220)
    assert check(front) == []
    door = piece.numbered(Family.DOOR, 1)
    assert door is not None
    hidden = front.behind(door.home.number)
    assert len(hidden) == 3
    widths = sorted(front.box(o.span)[2] for o in hidden)
    assert widths == pytest.approx([150, 150, 300])


def test_fittings_bags_marks_notes_and_flags() -> None:
    piece = described(
        """
        codename = "Heron"
        rows = "2 1"
        fragile = ["D1"]
        secret = ["D2"]
        [fittings.pull]
        D3 = 2
        [fittings.lock]
        D1 = 1
        [fittings.runner]
        D1 = 2
        [[bag]]
        name = "screws"
        contents = "8 screws"
        on = "D3"
        [old_marks]
        D3 = 3
        [notes]
        D2 = "runs tight"
        """
    )
    parts = {p.short: p for p in piece.present}
    assert [parts[s].parent for s in ("P1", "P2", "K1", "B1")] == ["D3", "D3", "D1", "D3"]
    assert parts["R1"].home.kind is HomeKind.OPENING
    assert parts["R1"].home.number == parts["D1"].home.number
    assert (parts["D3"].old_mark, parts["D2"].note) == ("3", "runs tight")
    assert (parts["D1"].fragile, parts["D2"].hidden) == (True, True)
    assert (parts["D2"].fragile, parts["D1"].hidden) == (False, False)
    assert parts["B1"].contents == "8 screws"


def test_paths_go_to_parts_families_and_faces() -> None:
    piece = described(
        """
        codename = "Heron"
        rows = "1 1"
        legs = 4
        [paths]
        paint = ["D1", "legs", "C1 left side"]
        stain = ["D2 front", "D2 top edge"]
        """
    )
    paths = {(p.short, f.name): f.path for p in piece.present for f in p.faces}
    assert paths["D1", "front"] == paths["L4", "outside"] == paths["C1", "left side"] == "paint"
    assert paths["D2", "front"] == paths["D2", "top edge"] == "stain"
    assert paths["D2", "left edge"] == "leave"
    assert paths["D1", "inside"] == "raw"


def test_numbers_from_the_bottom() -> None:
    piece = described('codename = "Heron"\nrows = "2 1"\nnumbering = "from the bottom"')
    assert piece.numbering is Numbering.FROM_BOTTOM
    first = piece.numbered(Family.DRAWER, 1)
    assert first is not None
    opening = piece.front.opening(first.home.number)
    assert opening is not None
    assert opening.span.row == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "codename"),
        ('codename = ""', "codename"),
        ("codename = 3", "codename"),
        (f'codename = "{"x" * 41}"', "codename"),
        ('codename = "X"', "front"),
        ('codename = "X"\nrows = 2', "rows"),
        ('codename = "X"\nrows = "2 x"', "Row 2"),
        ('codename = "X"\nrows = "2"\ncolour = "red"', "colour"),
        ('codename = "X"\nrows = "2"\nlegs = true', "legs"),
        ('codename = "X"\nrows = "2"\nlegs = 99', "99 legs"),
        ('codename = "X"\nrows = "2"\ntop = 1', "top"),
        ('codename = "X"\nrows = "2"\nnumbering = "odd"', "numbering"),
        ('codename = "X"\nrows = "2"\nfront = 3', "front"),
        ('codename = "X"\n[front]\nmap = ["D1 D1", "D2"]', "line 2"),
        ('codename = "X"\n[front]\nmap = ["D1 D2", "D2 D1"]', "D1"),
        ('codename = "X"\n[front]\nmap = ["Q1"]', "Q1"),
        ('codename = "X"\n[front]\nmap = []', "front.map"),
        ('codename = "X"\n[front]\nmap = ["D1"]\nhigh = 3', "high"),
        ('codename = "X"\n[front]\nmap = ["D1"]\ncolumns = [1, 2]', "front.columns"),
        ('codename = "X"\n[front]\nmap = ["D1"]\ncolumns = [nan]', "front.columns"),
        ('codename = "X"\n[front]\nmap = ["D1"]\nrows = ["5 cubits"]', "front.rows"),
        ('codename = "X"\n[front]\nmap = ["D1"]\nrows = [2]', "10"),
        ('codename = "X"\nrows = "2"\nbehind = 3', "behind"),
        ('codename = "X"\nrows = "2"\n[behind]\nG1 = [1]', "behind.G1"),
        ('codename = "X"\n[front]\nmap = ["G1"]\n[behind]\nG1 = [true]', "behind.G1"),
        ('codename = "X"\n[front]\nmap = ["G1"]\n[behind]\nG1 = 2', "behind.G1"),
        ('codename = "X"\nrows = "2"\n[fittings.handle]\nD1 = 1', "handle"),
        ('codename = "X"\nrows = "2"\n[fittings]\npull = 2', "fittings.pull"),
        ('codename = "X"\nrows = "2"\n[fittings.pull]\nD9 = 1', "D9"),
        ('codename = "X"\nrows = "2"\n[fittings.pull]\nD1 = "1"', "D1"),
        ('codename = "X"\nrows = "2"\n[fittings.pull]\nD1 = 99', "99"),
        ('codename = "X"\nrows = "2"\nbag = 3', "bag"),
        ('codename = "X"\nrows = "2"\n[[bag]]\non = "D9"', "D9"),
        ('codename = "X"\nrows = "2"\n[[bag]]\nsize = "big"', "bag 1"),
        ('codename = "X"\nrows = "2"\n[paths]\npaint = "D1"', "paths.paint"),
        ('codename = "X"\nrows = "2"\n[paths]\npaint = ["D9"]', "D9"),
        ('codename = "X"\nrows = "2"\n[paths]\npaint = ["D1 lid"]', "lid"),
        ('codename = "X"\nrows = "2"\n[old_marks]\nD9 = "3"', "D9"),
        ('codename = "X"\nrows = "2"\n[notes]\nD1 = [1]', "notes.D1"),
        ('codename = "X"\nrows = "2"\nfragile = "D1"', "fragile"),
        ('codename = "X"\nrows = "2"\nsecret = [7]', "secret"),
        ('codename = "X\\u0000"\nrows = "2"', "codename: holds a character"),
        ('codename = "X"\ntitle = "a\\nb"\nrows = "2"', "title: holds a character"),
        ('codename = "X"\nrows = "2"\n[notes]\nD1 = "\\u0007"', "notes.D1: holds a character"),
        ('codename = "X"\nrows = "2"\n[[bag]]\nname = "a\\u001bb"', "bag.name: holds"),
    ],
)
def test_what_cannot_be_is_told_by_its_place(text: str, said: str) -> None:
    assert said in fault(text)


def test_notes_and_contents_may_have_lines() -> None:
    piece = described(
        'codename = "X"\nrows = "2"\n[notes]\nD1 = "a\\nb"\n[[bag]]\ncontents = "1\\n2"'
    )
    assert piece.part("D1").note == "a\nb"  # type: ignore[union-attr]
    assert piece.part("B1").contents == "1\n2"  # type: ignore[union-attr]


def test_an_empty_name_gives_no_path() -> None:
    piece = described('codename = "X"\nrows = "2"')
    assert isinstance(with_paths(piece, "paint", [" "]), Refused)


@pytest.mark.parametrize("sample", resources.samples(), ids=lambda p: p.stem)
def test_the_samples_are_whole(sample: Path) -> None:
    found = describe(tomllib.loads(sample.read_text(encoding="utf-8")), "K7Q4")
    assert isinstance(found, Described), found
    piece = found.piece
    assert check(piece.front) == []
    assert piece.codename == sample.stem.capitalize()
    assert piece.title
    assert bool(found.twin) == (sample.stem == "larch")


def test_the_tall_chest_is_what_its_story_says() -> None:
    text = resources.sample("heron").read_text(encoding="utf-8")
    piece = described(text)
    hidden = [o for o in piece.front.openings if o.behind is not None]
    assert (len(piece.front.openings) - len(hidden), len(hidden)) == (8, 2)
    count = piece.count()
    assert (count[Family.DRAWER], count[Family.DOOR], count[Family.LEG]) == (9, 1, 4)
    assert 30 <= len(piece.present) <= 80
    used = {f.path for p in piece.present for f in p.faces}
    assert {"paint", "stain", "clear", "raw"} <= used


scalars = st.one_of(
    st.integers(), st.booleans(), st.floats(), st.text(max_size=6), st.none(),
    st.sampled_from(["D1", "G1", "D1 G1", "2 2", "10 in", "top"]),
)  # fmt: skip
values = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["D1", "G1", "map", "rows", "columns", "pull"]), inner)
    ),
    max_leaves=8,
)
docs = st.fixed_dictionaries(
    {"codename": st.just("Heron") | values},
    optional={
        key: values | usual
        for key, usual in {
            "rows": st.just("2 2 3"),
            "front": st.just({"map": ["D1 G1"]}),
            "behind": st.just({"G1": [1]}),
            "legs": st.just(4),
            "pulls": st.just(1),
            "top": st.just(True),
            "equal_legs": st.just(True),
            "fittings": st.just({"pull": {"D1": 2}}),
            "bag": st.just([{"name": "screws"}]),
            "paths": st.just({"paint": ["D1"]}),
            "old_marks": st.just({"D1": "3"}),
            "notes": st.just({"D1": "tight"}),
            "fragile": st.just(["D1"]),
            "secret": st.just(["D1"]),
            "numbering": st.just("by column"),
            "title": st.just("chest"),
            "mirrored_twin": st.just("right"),
        }.items()
    },
)


@given(docs)
def test_any_document_is_a_piece_or_a_fault(doc: dict[str, Any]) -> None:
    found = describe(doc, "K7Q4")
    if isinstance(found, Described):
        assert check(found.piece.front) == []
        shorts = [p.short for p in found.piece.parts]
        assert len(set(shorts)) == len(shorts)
    else:
        assert isinstance(found, Refused)
        assert found.sentence


def test_a_codename_of_forty_letters_is_the_longest() -> None:
    for name, taken in (("x", True), ("x" * 40, True), ("x" * 41, False), ("  ", False)):
        found = describe({"codename": name, "rows": "2"}, "K7Q4")
        assert isinstance(found, Described) is taken, name


@pytest.mark.parametrize(("cells", "taken"), [(80, True), (81, False)])
def test_eighty_columns_and_eighty_rows_are_the_most_of_a_map(cells: int, taken: bool) -> None:
    wide = {"map": [" ".join(["D1"] * cells)]}
    high = {"map": ["D1"] * cells}
    for front in (wide, high):
        found = describe({"codename": "X", "front": front}, "K7Q4")
        assert isinstance(found, Described) is taken
        if isinstance(found, Refused):
            assert found.sentence == "front.map: 80 columns and rows can be drawn."


@pytest.mark.parametrize(("count", "taken"), [(0, False), (1, True), (40, True), (41, False)])
def test_one_to_forty_drawers_stand_in_a_row_behind_a_door(count: int, taken: bool) -> None:
    doc = {"codename": "X", "front": {"map": ["G1"]}, "behind": {"G1": [count]}}
    found = describe(doc, "K7Q4")
    assert isinstance(found, Described) is taken
    if isinstance(found, Refused):
        assert found.sentence == "behind.G1: write drawers per row, as in [1, 2]."


def test_sizes_that_nobody_gave_are_the_usual_ones() -> None:
    """A front of 900 mm shared by its columns, to a tenth; rows of 200 mm."""
    front = described('codename = "X"\n[front]\nmap = ["D1 D2 D3 D4 D5 D6 D7"]').front
    assert front.columns == (128.6,) * 7
    assert front.rows == (200.0,)
    wide = described('codename = "X"\n[front]\nmap = ["D1 D2"]\ncolumns = [9492, "20 in"]')
    assert wide.front.columns == (9492, 508)


@pytest.mark.parametrize("size", ["1000000", "-1000000", "true", "nan", "inf"])
def test_a_size_that_is_none_is_told(size: str) -> None:
    said = fault(f'codename = "X"\n[front]\nmap = ["D1"]\ncolumns = [{size}]')
    assert said.startswith("front.columns: ") and "is no size" in said


def test_cells_of_one_word_are_one_opening_wherever_it_begins_and_dots_are_solid() -> None:
    front = described('codename = "X"\n[front]\nmap = [". d1 D1", ".. D1 D1", "... . e1"]').front
    spans = {(o.kind, o.span.column, o.span.row, o.span.columns, o.span.rows) for o in
             front.openings}  # fmt: skip
    assert spans == {(OpeningKind.DRAWER, 1, 0, 2, 2), (OpeningKind.EMPTY, 2, 2, 1, 1)}


@pytest.mark.parametrize("key", ["legs", "pulls"])
def test_so_many_is_a_whole_number(key: str) -> None:
    for wrong in ("true", "2.0", '"4"'):
        assert fault(f'codename = "X"\nrows = "2"\n{key} = {wrong}') == (
            f"{key}: write a whole number."
        )


def test_legs_pulls_and_a_top_come_only_where_they_are_asked_for() -> None:
    plain = described('codename = "X"\nrows = "2"')
    assert plain.count() == {Family.DRAWER: 2, Family.CARCASE: 1}
    assert plain.numbering is Numbering.BY_ROW
    legs = described('codename = "X"\nrows = "2"\nlegs = 4')
    assert {p.group for p in legs.present} == {""}
    equal = described('codename = "X"\nrows = "2"\nlegs = 4\nequal_legs = true')
    assert {p.group for p in equal.present if p.family is Family.LEG} == {"leg"}


@pytest.mark.parametrize(
    ("name", "shorts"),
    [("D1", "D1"), ("drawers", "D1 D2"), ("Drawer", "D1 D2"), ("carcase", "C1"), ("tops", "T1")],
)
def test_parts_are_named_by_number_or_sort_one_or_many(name: str, shorts: str) -> None:
    made = with_paths(described('codename = "X"\nrows = "2"\ntop = true'), "dye", [name])
    assert isinstance(made, Piece)
    dyed = [p.short for p in made.present if any(f.path == "dye" for f in p.faces)]
    assert dyed == shorts.split()


def test_a_part_that_is_gone_gets_no_path() -> None:
    piece = described('codename = "X"\nrows = "2"')
    drawer = piece.part("D1")
    assert drawer is not None
    gone = piece.with_part(replace(drawer, retired="burnt"))
    said = with_paths(gone, "paint", ["D1"])
    assert isinstance(said, Refused)
    assert said.sentence == "There is no part D1 here; there are D2, C1…"


def test_of_many_parts_twelve_are_named() -> None:
    said = with_paths(described('codename = "X"\nrows = "9 9"'), "paint", ["L1"])
    assert isinstance(said, Refused) and said.sentence.endswith("D11, D12…")


def test_a_twin_is_asked_for_by_its_title_and_a_title_is_kept_without_spaces() -> None:
    doc = {"codename": " X ", "rows": "2", "title": " left ", "mirrored_twin": " right "}
    found = describe(doc, "K7Q4")
    assert isinstance(found, Described)
    assert (found.piece.codename, found.piece.title, found.twin) == ("X", "left", "right")


def test_of_several_words_that_mean_nothing_the_first_in_the_alphabet_is_told() -> None:
    doc = {"codename": "X", "rows": "2", "weight": 3, "colour": "red"}
    found = describe(doc, "K7Q4")
    assert isinstance(found, Refused)
    assert found.sentence == "colour: not a word of a description."
    found = describe({"codename": "X", "front": {"map": ["D1"], "wide": 3, "high": 3}}, "K7Q4")
    assert isinstance(found, Refused)
    assert found.sentence == "front.high: a front has columns, rows and a map."
