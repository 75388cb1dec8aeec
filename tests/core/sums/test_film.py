from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.film import COVERAGE_SOURCE, Coating, Coverage, Transfer, coverage
from partsbench.core.sums.refusal import wrong
from partsbench.core.sums.units import Measures
from tests.core.sums.nonsense import NONSENSE


@given(st.floats(1, 99), st.floats(1, 500), st.floats(1, 99), st.floats(0.1, 1))
def test_coverage_rises_with_solids_and_with_transfer(
    solids: float, dry: float, transfer: float, more: float
) -> None:
    """A formula in print has both in the denominator: it would fail here."""
    here = coverage(solids, dry, transfer)
    thicker = coverage(solids + more, dry, transfer)
    better = coverage(solids, dry, transfer + more)
    assert isinstance(here, Coverage)
    assert isinstance(thicker, Coverage)
    assert isinstance(better, Coverage)
    assert here.m2_per_l < min(thicker.m2_per_l, better.m2_per_l)
    assert here.ft2_per_gal < min(thicker.ft2_per_gal, better.ft2_per_gal)


def test_coverage_is_said_in_two_digits() -> None:
    answer = coverage(52, 38.1, 30)
    assert isinstance(answer, Coverage)
    assert answer.sentence == "A litre covers about 4.1 m² once."
    assert answer.say(Measures.US) == "A gallon covers about 170 ft² once."


@pytest.mark.parametrize("value", NONSENSE)
def test_films_that_cannot_be(value: Any) -> None:
    assert isinstance(coverage(value, 38, 30), Refused)
    assert isinstance(coverage(52, value, 30), Refused)
    assert isinstance(coverage(52, 38, value), Refused)


def test_solids_of_nothing_cover_nothing() -> None:
    assert coverage(0, 38) == wrong("solids", "0 % is less than 0.1 %")


def test_nothing_lost_and_nothing_thinned_unless_it_is_said() -> None:
    """A litre of a coating that is all solids covers 1,000 m² one µm thick."""
    whole = coverage(100, 40)
    assert isinstance(whole, Coverage)
    assert whole.m2_per_l == pytest.approx(25)


def test_no_coating_is_more_than_all_solids_nor_lands_more_than_is_sprayed() -> None:
    assert coverage(101, 38) == wrong("solids", "101 % is more than 100 %")
    assert coverage(52, 38, 101) == wrong("transfer", "101 % is more than 100 %")


def told(value: float, source: str, status: Status = Status.TRADE_PRESS) -> Figure:
    return Figure(value, source, status)


LATEX = Coating("latex", "latex wall paint", told(30, "a page"), told(45, "a page"))
BY_FILM = Coating("oil", "oil varnish", wet=told(100, "a sheet"), dry=told(45, "another sheet"))
GUN = Transfer("hvlp", "HVLP", told(65, "a rule"), "the law asks for it", told(50, "a book"),
               told(60, "a book"))  # fmt: skip


def test_of_a_class_the_least_solids_are_reckoned_with() -> None:
    answer = coverage(LATEX, 30, 100)
    assert isinstance(answer, Coverage)
    assert (answer.solids, answer.m2_per_l) == (30, pytest.approx(10))
    assert LATEX.solids == (30, 45)
    assert LATEX.sources == ("a page (trade press)",)
    assert LATEX.sentence == (
        "Solids of latex wall paint: 30 to 45 %, the least is reckoned with. A tin differs from "
        "its class: read its own sheet."
    )


def test_what_a_wet_and_a_dry_film_tell_of_the_solids() -> None:
    """100 µm wet leave 45 dry: 45 %."""
    assert BY_FILM.solids == (pytest.approx(45), pytest.approx(45))
    assert BY_FILM.sources == ("a sheet (trade press)", "another sheet (trade press)")
    assert "45 %, which is reckoned with" in BY_FILM.sentence
    for half in (
        Coating("x", "x", solids_low=told(30, "a page")),
        Coating("x", "x", wet=told(100, "a page")),
        Coating("x", "x", dry=told(100, "a page")),
        Coating("x", "x"),
    ):
        with pytest.raises(ValueError, match="neither solids nor"):
            _ = half.solids


def test_what_a_tool_lands_is_told_beside_what_others_give() -> None:
    """65 % against 60 and 50: 65 / 60 = 1.08 and 65 / 50 = 1.3 times as much."""
    assert GUN.ends == (50, 65)
    assert GUN.sources == ("a rule (trade press)", "a book (trade press)")
    assert GUN.sentence == (
        "By HVLP 65 % is reckoned with: the law asks for it. Others give 50 to 60 % (trade press), "
        "which takes 1.1 to 1.3 times as much."
    )
    brush = Transfer("brush", "brush", told(95, "a rule"), "little is lost")
    assert (brush.ends, brush.sources) == ((95, 95), ("a rule (trade press)",))
    one = "By brush 95 % is reckoned with: little is lost."
    assert brush.sentence == one
    for half in ({"low": told(90, "a book")}, {"high": told(99, "a book")}):
        assert replace(brush, **half).sentence == one


def test_a_coverage_cites_and_warns_by_what_was_asked_of_the_tables() -> None:
    plain = coverage(52, 38, 30)
    assert isinstance(plain, Coverage)
    assert plain.sources == (COVERAGE_SOURCE,) and plain.caution == ""
    by_table = coverage(LATEX, 38, GUN)
    assert isinstance(by_table, Coverage)
    assert by_table.transfer == 65
    assert by_table.sources == (
        COVERAGE_SOURCE, "a page (trade press)", "a rule (trade press)", "a book (trade press)",
    )  # fmt: skip
    assert by_table.caution == f"{LATEX.sentence} {GUN.sentence}"
    filmed = replace(plain, film_source="your own film")
    assert filmed.sources == (COVERAGE_SOURCE, "your own film")
