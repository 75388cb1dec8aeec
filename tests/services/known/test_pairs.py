from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.books import pieces
from partsbench.services.known.pairs import PairLine, read_pairs
from partsbench.services.shop import Shop


@pytest.fixture
def chest(shop: Shop) -> Piece:
    made = pieces.lay_out(shop, "Heron", "2 1", legs=4, pulls=1, equal_legs=True)
    assert isinstance(made, Piece)
    return made


def test_lines_become_pairs_and_comments_are_left_out(shop: Shop, chest: Piece) -> None:
    lines = ["# tonight", "", "H1 D1", "  D2  ", "D1 P1"]
    assert read_pairs(shop, chest.tag, lines) == [
        PairLine(3, "D1", "H1"), PairLine(4, "D2"), PairLine(5, "P1", "D1"),
    ]  # fmt: skip


def test_every_part_with_its_home_code_is_a_pair(shop: Shop, chest: Piece) -> None:
    lines = [f"{chest.home_code_of(part)} {chest.code(part)}" for part in chest.present]
    read = read_pairs(shop, chest.tag, lines)
    assert isinstance(read, list)
    assert len(read) == len(chest.present)


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (["H1 D1", "H2 D1"], "line 2: D1 stands in line 1"),
        (["H1 D1", "H1 D2"], "line 2: H1 was given to D1 in line 1"),
        (["H1 D1", "D2", "H2 D3"], "line 3: H2 was given to D2 in line 2"),
        (["H1 D1 D2"], "line 1"),
        (["D1 D2"], "line 1: D1 is a part"),
        (["D1 H1"], "line 1: H1 is the label of a home"),
        (["H1 P1"], "line 1: P1 lives on D1"),
        (["H77 D1"], "line 1"),
    ],
)
def test_the_first_line_that_cannot_be_is_named(
    shop: Shop, chest: Piece, lines: list[str], said: str
) -> None:
    read = read_pairs(shop, chest.tag, lines)
    assert isinstance(read, Refused)
    assert read.sentence.startswith(said), read.sentence


words = st.sampled_from(["H1", "H2", "H9", "D1", "D2", "D3", "P1", "L1", "L2", "C1", "#", "x"])


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.one_of(st.lists(words, max_size=3).map(" ".join), st.text(max_size=12))))
def test_reading_never_fails_and_records_nothing(
    shop: Shop, chest: Piece, lines: list[str]
) -> None:
    before = len(history(shop))
    read = read_pairs(shop, chest.tag, lines)
    assert len(history(shop)) == before
    if isinstance(read, list):
        assert len({p.part.upper() for p in read}) == len(read)
