"""The small sums from the command line: keys, values, sources, and one line for bad input."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Call

GOOD = [
    (["moisture", "--temp", "70F", "--rh", "50"], "moisture", 9.2, 0.065),
    (
        ["movement", "--species", "walnut, black", "--cut", "flat", "--size", "9.15 in",
         "--from", "8", "--to", "11"],
        "change_in", 0.0752, 0.0001,
    ),
    (["coverage", "--solids", "52", "--film", "1.5 mil", "--transfer", "30"],
     "ft2_per_gal", 167, 0.5),
    (["coverage", "--solids", "52", "--film", "1.5 mil", "--transfer", "30"],
     "m2_per_l", 4.09, 0.01),
    (["dew-point", "--temp", "20C", "--rh", "50"], "dew_point_c", 9.3, 0.1),
    # 30 % of a litre at 40.6 µm: 0.3 × 1000 / 40.6 m².
    (["coverage", "--solids", "latex"], "m2_per_l", 7.39, 0.005),
    # The film of 33.0 µm is 33 / 73.7 of the wet one: a litre of it is 1000 / 73.7 m².
    (["coverage", "--solids", "varnish-alkyd"], "m2_per_l", 13.57, 0.005),
    # 232 mm × 0.00274 × (11 - 8).
    (["movement", "--species", "walnut, black", "--cut", "flat", "--size", "232 mm",
      "--from", "most", "--to", "damp"], "change_mm", 1.907, 0.001),
    (["grit", "P400"], "nearest_um", 35, 0),
    (["offer", "--price", "640", "--costs", "217", "--hours", "14.5"], "per_hour", 29.17, 0.005),
]  # fmt: skip


@pytest.mark.parametrize(("words", "key", "value", "within"), GOOD)
def test_values(good: Call, words: list[str], key: str, value: float, within: float) -> None:
    told = good(*words, "--json").json
    assert told[key] == pytest.approx(value, abs=within)
    assert told["sources"]


def test_an_equation_says_how_it_came_to_us(good: Call) -> None:
    (moisture,) = good(*GOOD[0][0], "--json").json["sources"]
    assert moisture.endswith("eq. 4-5 (published, read in a copy)")
    moved = good(*GOOD[1][0], "--json").json["sources"]
    assert len(moved) == 2 and all(s.endswith("(published, read in a copy)") for s in moved)
    outside = [*GOOD[1][0][:-1], "18"]
    assert good(*outside, "--json").json["sources"][0].endswith("eq. 13-3 (from memory)")


@pytest.mark.parametrize("words", [row[0] for row in GOOD])
def test_sentence_first_then_its_sources(good: Call, book: Path, words: list[str]) -> None:
    lines = good(*words).out.splitlines()
    assert lines[0].endswith(".")
    assert any(line.startswith("From: ") for line in lines[1:])
    assert not book.exists()


@pytest.mark.parametrize("words", [row[0] for row in GOOD if row[0][0] != "offer"])
def test_where_it_holds_is_printed(good: Call, words: list[str]) -> None:
    assert "\nValid: " in good(*words).out


@pytest.mark.parametrize(
    "words",
    [
        ["moisture", "--temp", "warm", "--rh", "50"],
        ["moisture", "--temp", "70F", "--rh", "150"],
        ["moisture", "--temp", "70F"],
        ["movement", "--species", "plastic", "--size", "9 in", "--from", "8", "--to", "11"],
        ["movement", "--species", "walnut, black", "--size", "-9", "--from", "8", "--to", "11"],
        ["coverage", "--solids", "0", "--film", "1.5 mil"],
        ["coverage", "--solids", "52", "--film", "nan"],
        ["coverage", "--solids", "limewash", "--film", "1.5 mil"],
        ["coverage", "--solids", "polyurethane-water"],
        ["movement", "--species", "teak", "--size", "9 in", "--from", "wet", "--to", "damp"],
        ["grit", "P401"],
        ["grit", "fine"],
        ["dew-point", "--temp", "20C", "--rh", "0"],
        ["offer", "--price", "640", "--costs", "217", "--hours", "0"],
        ["offer", "--price", "1e999", "--costs", "217", "--hours", "2"],
        ["ceiling", "--price", "640", "--hours", "x", "--rate", "25"],
        ["mix-again", "clear", "60ml"],
    ],
)
def test_bad_input_is_one_line_and_exit_2(call: Call, book: Path, words: list[str]) -> None:
    ran = call(*words)
    assert ran.code == 2
    assert ran.out == ""
    assert len(ran.err.splitlines()) == 1
    assert not book.exists()


def test_a_class_of_coatings_says_what_is_reckoned_with_and_from_where(good: Call) -> None:
    told = good("coverage", "--solids", "latex", "--transfer", "brush", "--json").json
    assert (told["solids"], told["solids_ends"], told["dry_um"]) == (30, [30, 45], 40.6)
    assert told["caution"].startswith("Solids of latex wall paint: 30 to 45 %, the least is")
    assert "By brush" in told["caution"]
    dry, solids = told["sources"][1:3]
    assert dry.endswith("(maker's sheet)") and solids.endswith("(from memory)")
    own = good("coverage", "--solids", "latex", "--film", "20 µm", "--json").json
    assert own["dry_um"] == 20 and not any("sheet" in s for s in own["sources"])
    plain = good("coverage", "--solids", "30", "--film", "40.6 µm", "--json").json
    assert plain["solids_ends"] is None and plain["caution"] == ""
    one = good("coverage", "--solids", "varnish-alkyd").out
    assert "Solids of alkyd-urethane varnish, clear: 45 %, which is reckoned with." in one


def test_the_average_home_of_a_region_names_its_source(good: Call) -> None:
    words = ["movement", "--species", "walnut, black", "--size", "232 mm", "--from", "8", "--to"]
    (*_, home) = good(*words, "dry", "--json").json["sources"]
    assert "Fig. 13-1" in home
    assert not any("Fig. 13-1" in s for s in good(*words, "6", "--json").json["sources"])


def test_a_paper_in_the_other_system(good: Call) -> None:
    """P400 and 320 of the US system have the same grain; a bare 400 is much finer."""
    assert good("grit", "p400").out.startswith(
        "P400 has grains of 0.035 mm on average; 320 (CAMI) comes nearest with 0.035 mm. "
        "400 (CAMI) is finer: 0.022 mm.\n"
    )
    assert good("grit", "400").out.startswith("400 (CAMI) has grains of 0.022 mm on average; P800")
    assert "\nValid: " in good("grit", "220", "--units", "us").out


def test_us_units_are_answered_in(good: Call) -> None:
    words = ["movement", "--species", "walnut, black", "--cut", "flat", "--size", "9 1/8",
             "--from", "8", "--to", "11", "--units", "us"]  # fmt: skip
    assert good(*words).out.startswith('9-1/8" of walnut, black may grow about 0.075 in')


def test_ceiling_and_a_recipe_need_no_book(good: Call, book: Path) -> None:
    said = good("ceiling", "--price", "520", "--hours", "14", "--costs", "60", "--rate", "25",
                "--fault", "the veneer lifts", "--more-hours", "2.8")  # fmt: skip
    assert said.out.startswith("Pay up to 110; 40 if the veneer lifts.")
    mixed = good("mix-again", "26 clear, 3 colour, 1 water", "60ml", "--json").json
    assert mixed["amounts_ml"] == {"clear": 52, "colour": 6, "water": 2}
    assert not book.exists()
