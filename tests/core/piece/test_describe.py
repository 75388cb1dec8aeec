from __future__ import annotations

import tomllib
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
