"""The film of a whole path: by hand, by property, and what nobody knows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import trade
from partsbench.core.finish.path import FinishPath, parse_paths
from partsbench.core.sources import Status
from partsbench.core.sums import tables
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.paths import (
    Coats,
    OneCoat,
    PathFilm,
    coat_steps,
    film_steps,
    path_film,
    stated_film,
)
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


def coat(wet: float, solids: float) -> OneCoat:
    return OneCoat(Figure(wet, "gauge", Status.OWN), Figure(solids, "sheet", Status.MAKERS_SHEET))


COATS = Coats({"paint_water": coat(100, 40), "clear_water": coat(80, 30)}, frozenset({"stain_oil"}))


@pytest.fixture(scope="module")
def paths() -> dict[str, FinishPath]:
    return parse_paths(trade.load_paths())


def test_every_coat_of_the_path_counts(paths: dict[str, FinishPath]) -> None:
    """Three colour coats of 40 µm and two topcoats of 24."""
    film = path_film(paths["paint"], COATS)
    assert (film.coats, film.dry_um) == (5, pytest.approx(3 * 40 + 2 * 24))
    assert film.sentence == "5 coats leave about 0.17 mm on a face."
    assert film.lacks == ()


def test_a_wiped_stain_leaves_nothing(paths: dict[str, FinishPath]) -> None:
    kept = film_steps(paths["stain"], COATS.without_film)
    assert {step.product for step in kept} == {"clear_water"}


def test_coats_are_those_that_are_due_and_no_touch_up(paths: dict[str, FinishPath]) -> None:
    """An optional coat counts where it was asked for; a touch-up runs along a seam alone."""
    plain = [step.key for step in coat_steps(paths["stain"])]
    assert plain == ["stain", "clear_1", "clear_2", "clear_3"]
    asked = paths["stain"].suited(frozenset({"seam", "seal_coat", "second_stain"}), frozenset())
    kept = [step.key for step in coat_steps(asked)]
    assert kept == ["stain", "stain_2", "seal", "clear_1", "clear_2", "clear_3"]


def test_a_product_nobody_knows_is_a_lack_and_not_nothing(paths: dict[str, FinishPath]) -> None:
    film = path_film(paths["shellac_paint"], COATS)
    assert film.lacks == ("the film of shellac: wet film and solids, from its tin",)
    assert replace(film, coats=0).sentence == "What the coats leave is not known."


def test_raw_wood_has_no_film(paths: dict[str, FinishPath]) -> None:
    film = path_film(paths["raw"], COATS)
    assert film == PathFilm(0, 0, (), ())
    assert film.sentence == "No coat leaves a film."


def test_every_figure_of_the_shipped_films_has_its_source() -> None:
    films = trade.load("films")
    products = [key for key in films if key not in ("sources", "none", "stain_oil")]
    assert products
    for figure in answered(tuple, tables.span(films, "stain_oil", "spread")):
        assert figure.source in films["sources"].values()
    for product in products:
        for name in ("wet", "solids"):
            figure = answered(Figure, tables.figure(films, product, name))
            assert figure.source in films["sources"].values()
    # Published dry films of a coat, mil: latex 1.6, oil polyurethane 1.3.
    for product, mil in (("paint_water", 1.6), ("clear_oil", 1.3)):
        one = films[product]
        dry = one["wet"]["value"] * one["solids"]["value"] / 100
        assert dry / 25.4 == pytest.approx(mil, rel=0.06)


def test_400_square_feet_a_gallon_are_102_um_of_wet_film() -> None:
    assert trade.load("films")["paint_water"]["wet"]["value"] == round(231 / 144 / 400 * 1e3 * 25.4)


@given(st.integers(0, 50), st.floats(0, 2000), st.floats(0.1, 100))
def test_a_film_of_ones_own_is_coats_times_one(coats: int, wet: float, solids: float) -> None:
    film = answered(PathFilm, stated_film(coats, wet, solids))
    assert film.mm == pytest.approx(coats * wet * solids / 1e5)


@pytest.mark.parametrize("bad", NONSENSE)
def test_nonsense_is_refused(bad: float) -> None:
    assert refused(stated_film(bad, 100, 30))  # type: ignore[arg-type]
    assert refused(stated_film(3, bad, 30))
    assert refused(stated_film(3, 100, bad))
