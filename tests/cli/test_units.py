"""The setting `units`: every sum of one chest is answered in the units that the shop reads.

What others printed (`From:`) and what was typed stand as they are; a trade name of a spacing is a
name. JSON stays in metric figures.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from partsbench.cli.sum_names import SUMS
from partsbench.core.sums.units import Measures
from tests.cli.conftest import Call, parts_of
from tests.support.paper import text_of
from tests.support.worded import as_typed, foreign

Size = Callable[[float], str]


@pytest.fixture(params=list(Measures))
def shown(request: pytest.FixtureRequest) -> Measures:
    return Measures(request.param)


@pytest.fixture
def size(shown: Measures) -> Size:
    return lambda mm: as_typed(mm, shown)


@pytest.fixture
def chest(good: Call, shown: Measures, size: Size) -> str:
    """Two drawers over one, every size of it taken, in a shop that reads these units."""
    good("setting", "units", shown.value)
    tag = good(
        "lay-out", "Heron", "--rows", "2 1", "--pulls", "2", "--legs", "4", "--top",
        "--paint", "drawers,C1 rails", "--stain", "top",
    ).last  # fmt: skip
    for part, what, mm in (
        ("D1", "width", 398.6), ("H1", "width", 400), ("D1", "height", 176), ("H1", "height", 180),
        ("D2", "width", 399.4), ("H2", "width", 400), ("D2", "height", 195), ("H2", "height", 188),
        ("D1", "thickness", 20), ("C1", "depth", 450), ("C1", "height", 700), ("L1", "height", 150),
        ("L2", "height", 151.5), ("L3", "height", 150), ("L4", "height", 150),
    ):  # fmt: skip
        good("measure", tag, part, what, size(mm))
    return tag


def sums(tag: str, size: Size, shown: Measures, folder: Path) -> list[tuple[str, ...]]:
    """Each sum as it is asked of the chest."""
    metric = shown is Measures.METRIC
    air = ("--temp", "21" if metric else "70", "--rh", "50")
    film, mix, mass = ("100", "60", "40") if metric else ("4", "2", "88")
    where = ("--spacing", size(96), "--count", "2", "--from-top", size(80))
    return [
        ("setting", "units"),
        ("measure", tag),
        ("wood", tag, "MDF"),
        ("gap", tag),
        ("gap", tag, "D1"),
        ("gap", tag, "D1", "--coats", "6", "--wet", film, "--solids", "33"),
        ("orphan", tag, "lost", "--width", size(398.6), "--left", size(176)),
        ("orphan", tag),
        ("swaps", tag),
        ("census", tag, "D1", "pull", "2", "--spacing", size(97.4), "--thread", "M4"),
        ("order", tag, "--needed", "in 30 days", "--lead", "5"),
        ("allot", tag, "--price", "22"),
        ("holes", tag, "D1", f"{size(150)},{size(90)};{size(246)},{size(90)}"),
        ("pulls", tag, "bow", "--spacing", size(96), "--thread", "M4", "--depth", size(9)),
        ("pulls", tag, "stub", "--spacing", size(96), "--thread", "M4", "--depth", size(3)),
        ("pulls", tag, "broad", "--spacing", size(420)),
        ("screw", tag, "D1", "bow", "M4", size(25)),
        ("drill-sheet", tag, "D3", "--out", str(folder / "d3.pdf"), *where),
        ("mix", tag, "paint", "--wet", film),
        ("mix-again", "26 clear, 3 colour, 1 water", mix),
        ("mask-paper", tag),
        ("level", tag),
        ("symmetry", tag),
        ("tip-over", tag, "--mass", mass),
        ("moisture", *air),
        ("dew-point", *air),
        ("movement", "--species", "MDF", "--size", size(600), "--from", "6", "--to", "12"),
        ("coverage", "--solids", "52", "--film", film, "--transfer", "30"),
        ("coverage", "--solids", "latex"),
        ("grit", "P320"),
        ("hours", tag),
        ("ledger", tag),
        ("floor-price", tag, "--rate", "25"),
        ("quote", "--rate", "25"),
        ("offer", "--price", "640", "--costs", "217", "--hours", "14.5"),
        ("ceiling", "--price", "640", "--hours", "14", "--rate", "25"),
    ]


NOT_SUMS = {"use-tin", "tins", "money", "work", "care-sheet", "drill-check"}
"""They note something in units as typed, or have no measure in them."""


def test_every_sum_speaks_the_shops_units(
    call: Call, chest: str, size: Size, shown: Measures, tmp_path: Path
) -> None:
    asked = sums(chest, size, shown, tmp_path)
    assert {words[0] for words in asked} | NOT_SUMS == SUMS.keys()
    wrong = {}
    for words in asked:
        ran = call(*words)
        assert ran.code in (0, 1), (words, ran)
        said = [line for line in ran.out.splitlines() if not line.startswith("From:")]
        found = foreign("\n".join(said), shown)
        if found:
            wrong[words] = found, "\n".join(said)
    assert wrong == {}


def test_what_cannot_be_is_refused_in_the_shops_units(
    call: Call, chest: str, size: Size, shown: Measures, tmp_path: Path
) -> None:
    out = str(tmp_path / "d1.pdf")
    thin, huge = size(0.01), size(20_000)
    told = []
    for words in (
        ("measure", chest, "D1", "width", huge),
        ("measure", chest, "D1", "width", thin),
        ("gap", chest, "D1", "--coats", "6", "--wet", "99999", "--solids", "33"),
        ("census", chest, "D1", "pull", "2", "--spacing", huge),
        ("census", chest, "D1", "pull", "2", "--spacing", size(390)),
        ("census", chest, "D1", "pull", "2", "--screw", size(400)),
        ("holes", chest, "D1", f"{size(900)},{size(90)}"),
        ("pulls", chest, "wide", "--spacing", huge),
        ("pulls", chest, "wide", "--spacing", size(900)),
        ("pulls", chest, "deep", "--spacing", size(96.7), "--depth", size(150)),
        ("drill-sheet", chest, "D3", "--out", out, "--spacing", huge),
        ("drill-sheet", chest, "D3", "--out", out, "--spacing", size(96), "--from-top", size(2)),
        ("mix", chest, "paint", "--wet", "99999"),
        ("level", chest, "--rock-at", "rear left", "--rock", size(400)),
        ("tip-over", chest, "--mass", "99999"),
        ("movement", "--species", "MDF", "--size", "99999999", "--from", "6", "--to", "9"),
        ("coverage", "--solids", "52", "--film", "99999"),
        ("moisture", "--temp", "999", "--rh", "50"),
        ("dew-point", "--temp", "999", "--rh", "50"),
        ("setting", "cup", "0"),
    ):
        ran = call(*words)
        assert ran.code == 2, (words, ran)
        told.append((words, ran.err))
    assert [(words, said) for words, said in told if foreign(said, shown)] == []
    sized = [words for words, said in told if not any(c.isdigit() for c in said)]
    assert sized == [], "each of these refusals has a measure in it"


def test_a_pull_over_other_holes_is_told_in_the_shops_units(
    good: Call, chest: str, size: Size, shown: Measures
) -> None:
    """Of 97.4 and 96.72 mm neither is a standard spacing, so neither bears a name of the trade."""
    good("census", chest, "D1", "pull", "2", "--spacing", size(97.4), "--thread", "M4")
    counted = good("census", chest, "D2", "pull", "1", "--spacing", size(96.72)).out
    good("holes", chest, "D3", f"{size(150)},{size(90)};{size(247.4)},{size(90)}")
    judged = good("pulls", chest, "near", "--spacing", size(96.72), "--thread", "M4").out
    ordered = good("order", chest).out
    metric = shown is Measures.METRIC
    words = "96.72 mm over holes of 97.40 mm" if metric else "3.808 in over holes of 3.835 in"
    off = "0.68 mm narrower" if metric else "0.027 in narrower"
    for told in (counted, judged, ordered):
        assert f"{words}. It is {off} than the holes" in told
        said = [line for line in told.splitlines() if not line.startswith("From:")]
        assert foreign("\n".join(said), shown) == []


def test_json_stays_metric(good: Call, chest: str) -> None:
    told = good("gap", chest, "D1", "--json").json
    assert told["drawers"]["D1"]["now"]["side_mm"] == pytest.approx(0.7, abs=0.01)
    assert good("measure", chest, "--json").json["sizes"]["D1"]["top width"]["mm"] == (
        pytest.approx(398.6, abs=0.01)
    )


def test_the_drilling_sheet_on_paper(
    good: Call, chest: str, size: Size, shown: Measures, tmp_path: Path
) -> None:
    """The bar of 100 mm is 3-15/16 in to 0.0125 mm: the same bar, so the same correction."""
    file = tmp_path / "d3.pdf"
    good("drill-sheet", chest, "D3", "--out", file, "--spacing", size(96), "--from-top", size(80))
    words = text_of(file.read_bytes())
    assert foreign(words, shown) == []
    bar, hole = {
        Measures.METRIC: ("100 mm", "80.0 mm from the top"),
        Measures.US: ('3-15/16"', '3-5/32" from the top'),
    }[shown]
    assert bar in words and hole in words
    assert parts_of(good, chest)["D3"]["code"]


def test_a_bare_number_of_a_setting_is_in_the_shops_units(good: Call, shown: Measures) -> None:
    """It is kept with its unit, so that it means the same when the shop changes its units."""
    good("setting", "units", shown.value)
    metric = shown is Measures.METRIC
    for name, typed in (("cup", "300" if metric else "10"), ("dry month", "20 30"),
                        ("bar across", "99" if metric else "3.9")):  # fmt: skip
        good("setting", name, typed)
    kept = {one["name"]: one["value"] for one in good("setting", "--json").json}
    if metric:
        assert (kept["cup"], kept["bar across"]) == ("300 ml", "99 mm")
        assert kept["dry month"] == "20C 30"
    else:
        assert (kept["cup"], kept["bar across"]) == ("10 fl oz", "3.9 in")
        assert kept["dry month"] == "20F 30"
    other = next(m for m in Measures if m is not shown)
    good("setting", "units", other.value)
    assert {one["name"]: one["value"] for one in good("setting", "--json").json} == {
        **kept, "units": other.value
    }  # fmt: skip


def test_front_and_facts_are_shown_in_the_shops_units(
    good: Call, chest: str, shown: Measures
) -> None:
    """450 mm are 17.7 in, to 1/16 in 17-11/16; a fact is kept in the mm that it was said in."""
    first = good("front", chest).out.splitlines()[0]
    assert foreign(first, shown) == []
    assert ("mm" in first) is (shown is Measures.METRIC)
    said = good("fact", chest, "depth mm", "450").out
    listed = good("fact", chest).out
    inches = '450 (17-11/16")'
    for text in (said, listed):
        assert "depth mm 450" in text and (inches in text) is (shown is Measures.US)
    assert good("fact", chest, "--json").json[-1]["value"] == "450"
