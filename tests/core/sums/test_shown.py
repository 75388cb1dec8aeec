"""Values worded in either units, against the definitions of NIST Special Publication 811."""

from __future__ import annotations

import pytest

from partsbench.core.sums import shown
from partsbench.core.sums.shown import Measures, Worded


@pytest.mark.parametrize(
    ("mm", "metric", "us"),
    [(0.198, "0.2 mm", "7.8 mil"), (0.396, "0.4 mm", "16 mil"), (0, "0.0 mm", "0 mil")],
)
def test_a_film_is_shown_in_mil_where_the_shop_reads_them(mm: float, metric: str, us: str) -> None:
    """By definition a mil is a thousandth of an inch: 0.396 / 0.0254 = 15.6."""
    assert shown.show_film(mm) == metric
    assert shown.show_film(mm, Measures.US) == us


@pytest.mark.parametrize(
    ("value", "unit", "us"),
    [
        (88.9, "mm", '3-1/2"'),
        (101.6, "µm", "4 mil"),
        (29.5735295625, "ml", "1 fl oz"),
        (0.09290304, "m²", "1 ft²"),
        (0.45359237, "kg", "1 lb"),
        (28.316846592, "dm³", "1 ft³"),
        (-1, "°C", "30.2 °F"),
        (31, "%", "31 %"),
        (7, "", "7"),
    ],
)
def test_a_bound_is_worded_in_either_units(value: float, unit: str, us: str) -> None:
    assert shown.show_limit(value, unit) == f"{value:g} {unit}".strip()
    assert shown.show_limit(value, unit, Measures.US) == us


def test_a_little_volume_is_not_nothing() -> None:
    assert shown.show_volume(6, Measures.US) == "0.2 fl oz"
    assert shown.show_volume(0, Measures.US) == "0.0 fl oz"


@pytest.mark.parametrize(
    ("said", "metric", "us"),
    [
        (shown.show_length, "890 mm", '35-1/16"'),
        (shown.show_gap, "890.0 mm", "35.040 in"),
        (shown.show_run, "0.9 m", "2.9 ft"),
        (shown.show_mass, "890.0 kg", "1962.1 lb"),
        (shown.show_room, "890.0 dm³", "31.4 ft³"),
        (shown.show_volume, "890 ml", "30.0 fl oz"),
        (shown.show_temperature, "890 °C", "1634 °F"),
    ],
)
def test_one_value_by_each_way_of_showing(said: object, metric: str, us: str) -> None:
    """By hand: 890 / 25.4 = 35.04 in = 2.92 ft, 890 / 0.45359237 = 1962.1 lb, 890 / 28.3168 =
    31.4 ft³, 890 / 29.5735 = 30.09 fl oz, 890 × 1.8 + 32 = 1634 °F."""
    assert callable(said)
    assert said(890) == metric
    assert said(890, Measures.US) == us


def test_a_whole_mass_in_pounds_and_a_tenth_of_a_degree() -> None:
    assert shown.show_mass(13.6077711, Measures.US) == "30 lb"
    assert shown.show_temperature(20.55) == "20.6 °C"
    assert shown.show_temperature(-0.04) == "0 °C"
    assert shown.show_limit(37.78, "°C", Measures.US) == "100 °F"
    assert shown.show_limit(2000, "kg", Measures.US) == "4410 lb"


def test_small_areas_keep_a_digit() -> None:
    assert shown.show_area(0.046) == "0.05 m²"
    assert shown.show_area(0.1) == "0.1 m²"
    assert shown.show_area(3.44) == "3.4 m²"
    assert shown.show_area(0.046, Measures.US) == "0.5 ft²"
    assert shown.show_area(0.09290304, Measures.US) == "1 ft²"
    assert shown.show_area(0) == "0.0 m²"


def test_an_answer_says_itself_in_metric_unless_asked() -> None:
    class Told(Worded):
        __slots__ = ()

        def say(self, measures: Measures = Measures.METRIC) -> str:
            return measures.value

    assert (Told().sentence, Told().say(Measures.US)) == ("metric", "us")
    with pytest.raises(NotImplementedError):
        Worded().say()


@pytest.mark.parametrize(
    ("ml", "metric", "us"),
    [
        (590.1, "600 ml", "20.0 fl oz"),
        (600, "600 ml", "20.5 fl oz"),
        (1892, "1900 ml", "2.0 qt"),
        (1893, "1900 ml", "2.1 qt"),
        (1995, "2.0 l", "2.2 qt"),
        (2001, "2.1 l", "2.2 qt"),
        (0.5, "10 ml", "0.5 fl oz"),
    ],
)
def test_what_to_have_at_hand_is_never_rounded_down(ml: float, metric: str, us: str) -> None:
    """590.1 / 29.5735 = 19.95 fl oz, 600 are 20.29; 2 US quarts are 1892.7 ml, 1995 are 2.108."""
    assert shown.show_at_least(ml) == metric
    assert shown.show_at_least(ml, Measures.US) == us


def test_quarts_are_said_from_two_on() -> None:
    """A US quart is 57.75 in³, 946.35 ml."""
    assert shown.show_volume(1892, Measures.US) == "64.0 fl oz"
    assert shown.show_volume(1893, Measures.US) == "2.0 qt"
    assert shown.show_volume(3785.41, Measures.US) == "4.0 qt"


def test_a_gap_is_one_where_its_words_say_more_than_nothing() -> None:
    """Half of 0.1 mm, and half of 0.005 in, which is 0.0635 mm."""
    for measures, over, under in ((Measures.METRIC, 0.051, 0.049), (Measures.US, 0.064, 0.063)):
        assert shown.is_gap(over, measures) and shown.is_gap(-over, measures)
        assert not shown.is_gap(under, measures) and not shown.is_gap(-under, measures)


def test_width_and_height_are_said_with_one_unit() -> None:
    """864 / 25.4 = 34.02 in, 600 / 25.4 = 23.62 in."""
    assert shown.show_figure(864.4) == "864"
    assert shown.show_figure(864, Measures.US) == '34"'
    assert shown.show_across(864, 600) == "864 × 600 mm"
    assert shown.show_across(864, 600, Measures.US) == '34" × 23-5/8"'
