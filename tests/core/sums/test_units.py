from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.sums import units
from partsbench.core.sums.units import Measures, TypedMeasure


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("34 1/2", 876.3),
        ('34-1/2"', 876.3),
        ("34½”", 876.3),
        ("34 - 1/2 in", 876.3),
        ("2' 10-1/2\"", 876.3),
        ("2 ft 10.5 in", 876.3),
        ("876 mm", 876.0),
        ("876", 876.0),
        ("87,6 cm", 876.0),
        ("0.876m", 876.0),
        ("3/4", 19.05),
        ("9.15 in", 232.41),
        ("6'", 1828.8),
        ("0 mm", 0.0),
    ],
)
def test_a_length_is_read_and_kept_as_typed(typed: str, mm: float) -> None:
    entry = units.length(typed)
    assert isinstance(entry, TypedMeasure)
    assert entry.value == pytest.approx(mm, abs=1e-9)
    assert entry.typed == typed


def test_the_switch_decides_what_a_bare_number_is() -> None:
    metric, us = units.length("34"), units.length("34", Measures.US)
    assert isinstance(metric, TypedMeasure)
    assert isinstance(us, TypedMeasure)
    assert (metric.value, us.value) == (34.0, pytest.approx(863.6))
    warm = units.temperature("70", Measures.US)
    assert isinstance(warm, TypedMeasure)
    assert warm.value == pytest.approx(21.111, abs=0.001)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", "is missing"),
        ("   ", "is missing"),
        ("-3", "negative"),
        ("−3 mm", "negative"),
        ("nan", "from character 1"),
        ("inf", "from character 1"),
        ("wide", "from character 1"),
        ("34 5/4", "no fraction of one"),
        ("34 4/4", "no fraction of one"),
        ("1/0", "divides by nothing"),
        ("34 1/x", "“1/x” at character 4 of “34 1/x”"),
        ("876 mmm", "“mmm” at character 5 of “876 mmm”"),
        ("876 kg", "“kg” at character 5 of “876 kg” is no unit; write 876, 87.6 cm or 34 1/2 in"),
        ("1e3", "“e3” at character 2 of “1e3”"),
        ("2 2 3", "“2 3” at character 3 of “2 2 3” is no unit; write 876, 87.6 cm or 34 1/2 in"),
        ("1,250", "two ways"),
        ("2' x in", "from character 1"),
        ("x ft 3 in", "from character 1"),
        ("9" * 400, "too long"),
        ("9" * 5000 + "/2", "too long"),
    ],
)
def test_a_bad_length_says_what_and_where(typed: str, why: str) -> None:
    refused = units.length(typed, what="opening width")
    assert isinstance(refused, Refused)
    assert refused.about == "opening width"
    assert why in refused.sentence


@pytest.mark.parametrize(
    ("typed", "celsius"),
    [
        ("70F", 21.111),
        ("70 °F", 21.111),
        ("20C", 20),
        ("-5", -5),
        ("−5 °C", -5),
        ("14,5 c", 14.5),
        ("-273.15", -273.15),
    ],
)
def test_a_temperature_is_read(typed: str, celsius: float) -> None:
    entry = units.temperature(typed)
    assert isinstance(entry, TypedMeasure)
    assert entry.value == pytest.approx(celsius, abs=0.001)


@pytest.mark.parametrize(
    "typed", ["", "warm", "-300", "-500 F", "nan", "20 K", "9" * 400, "-273.2"]
)
def test_a_bad_temperature_is_refused(typed: str) -> None:
    assert isinstance(units.temperature(typed), Refused)


@pytest.mark.parametrize(
    ("read", "typed", "value"),
    [
        (units.volume, "570 ml", 570),
        (units.volume, "0.57 l", 570),
        (units.volume, "1 gal", 3785.411784),
        (units.volume, "1 qt", 946.352946),
        (units.volume, "33 cl", 330),
        (units.volume, "19 oz", 561.897),
        (units.volume, "19 fl. oz.", 561.897),
        (units.area, "3.4 m2", 3.4),
        (units.area, "36 sq ft", 3.34451),
        (units.film, "1.5 mil", 38.1),
        (units.area, "500 cm2", 0.05),
        (units.area, "144 sqin", 0.09290304),
        (units.film, "38 um", 38),
        (units.film, "0.1 mm", 100),
        (units.weight, "30 lb", 13607.771),
        (units.weight, "16 oz", 453.59237),
        (units.weight, "840 g", 840),
        (units.weight, "1.2 kg", 1200),
    ],
)
def test_other_measures(read: object, typed: str, value: float) -> None:
    assert callable(read)
    entry = read(typed)
    assert entry.value == pytest.approx(value, rel=1e-5)


def test_shares_and_numbers() -> None:
    share = units.percent("52 %")
    assert isinstance(share, TypedMeasure)
    assert share.value == 52
    assert isinstance(units.percent("100 %"), TypedMeasure)
    assert isinstance(units.percent("100.5"), Refused)
    assert isinstance(units.percent("-1 %"), Refused)
    assert units.number("14,5") == 14.5
    assert isinstance(units.number("many"), Refused)


@pytest.mark.parametrize(
    ("mm", "per", "text"),
    [
        (876.3, 16, '34-1/2"'),
        (95.25, 16, '3-3/4"'),
        (96.0, 32, '3-25/32"'),
        (25.39, 16, '1"'),
        (0.0, 16, '0"'),
        (0.79375, 32, '1/32"'),
        (-12.7, 16, '-1/2"'),
        (0.79375, 16, '1/16"'),
        (0.785, 16, '0"'),
        (76.2, 1, '3"'),
    ],
)
def test_inches_and_fractions(mm: float, per: int, text: str) -> None:
    assert units.inches_text(mm, per) == text


@given(st.integers(0, 200_000), st.sampled_from([16, 32]))
def test_inch_text_reads_back_as_itself(steps: int, per: int) -> None:
    mm = steps / per * units.MM_PER_INCH
    entry = units.length(units.inches_text(mm, per))
    assert isinstance(entry, TypedMeasure)
    assert entry.value == pytest.approx(mm, abs=1e-6)


@given(st.text(max_size=60))
def test_any_text_is_a_finite_measure_or_a_refusal(typed: str) -> None:
    for read in (
        units.length, units.volume, units.area, units.film,
        units.weight, units.temperature, units.percent,
    ):  # fmt: skip
        entry = read(typed)
        assert isinstance(entry, Refused) or isfinite(entry.value)


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [(166.8, 2, "170"), (0.0273, 2, "0.027"), (9.96, 2, "10"), (4.09, 2, "4.1"), (0.0, 3, "0")],
)
def test_no_more_digits_than_a_figure_has(value: float, digits: int, text: str) -> None:
    assert units.significant(value, digits) == text


def test_a_fraction_needs_a_denominator() -> None:
    with pytest.raises(ValueError, match="no fraction"):
        units.inches_text(10, 0)


def test_showing_in_either_measure() -> None:
    assert units.show_length(876.3) == "876 mm"
    assert units.show_length(876.3, Measures.US) == '34-1/2"'
    assert units.show_gap(0.6) == "0.6 mm"
    assert units.show_gap(0.6, Measures.US) == "0.025 in"
    assert units.show_volume(570) == "570 ml"
    assert units.show_volume(2400) == "2.4 l"
    assert units.show_volume(570, Measures.US) == "19.5 fl oz"
    assert units.show_area(3.44, Measures.US) == "37 ft²"
    assert [units.show_area(m2) for m2 in (3.44, 0.1, 0.046, 0)] == [
        "3.4 m²", "0.1 m²", "0.05 m²", "0.0 m²",
    ]  # fmt: skip
    assert units.show_temperature(21.1111, Measures.US) == "70 °F"
    assert units.show_temperature(20) == "20 °C"


@pytest.mark.parametrize("read", [units.length, units.volume, units.area, units.film, units.weight])
def test_what_is_written_instead_of_no_unit_can_be_read(read: object) -> None:
    assert callable(read)
    refused = read("876 zz")
    assert isinstance(refused, Refused)
    told = refused.sentence.rstrip(".").partition("write ")[2].replace(" or ", ", ").split(", ")
    assert len(told) == 3
    assert all(isinstance(read(t), TypedMeasure) for t in told)


@pytest.mark.parametrize(
    ("read", "metric", "us"),
    [
        (units.length, 1, 25.4),
        (units.volume, 1, 29.5735295625),
        (units.area, 1, 0.09290304),
        (units.film, 1, 25.4),
        (units.weight, 1, 453.59237),
    ],
)
def test_a_bare_one_is_the_measure_of_the_house(read: object, metric: float, us: float) -> None:
    """NIST Special Publication 811: inch, US fluid ounce, square foot, mil, pound."""
    assert callable(read)
    assert read("1").value == metric
    assert read("1", Measures.US).value == pytest.approx(us)


def test_litres_are_said_from_two_on_and_gaps_to_five_thousandths() -> None:
    assert [units.show_volume(ml) for ml in (1999, 2000)] == ["1999 ml", "2.0 l"]
    assert units.show_gap(25.4 * 0.0874, Measures.US) == "0.085 in"
    assert units.show_gap(25.4 * 0.0876, Measures.US) == "0.090 in"
    assert units.show_gap(25.4, Measures.US) == "1.000 in"
