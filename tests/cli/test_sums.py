"""The sums of a piece from the command line, on a book of their own."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from partsbench.cli.sum_names import SUMS
from tests.cli.conftest import Call
from tests.support.clock import SetClock
from tests.support.paper import codes_read, page_count, text_of


@pytest.fixture
def tag(good: Call) -> str:
    """A chest of 2 + 1 painted drawers with two pulls each, four legs."""
    return good(
        "lay-out", "Heron", "--rows", "2 1", "--pulls", "2", "--legs", "4", "--paint", "drawers"
    ).last


def test_sizes_gap_and_settings(good: Call, tag: str) -> None:
    good("setting", "dry month", "20C 30%")
    good("setting", "damp-month", "22C 65%")
    for part, what, size in (
        ("D3", "width", "33 7/8 in"), ("H3", "width", "34 in"),
        ("D3", "height", "176"), ("H3", "height", "180"),
    ):  # fmt: skip
        good("measure", tag, part, what, size)
    assert "33 7/8 in" in good("measure", tag).out
    good("wood", tag, "cherry, black", "--cut", "flat")
    told = good("gap", tag, "D3", "--json").json
    assert told["drawers"]["D3"]["now"]["side_mm"] == pytest.approx(1.5875)
    own = good("gap", tag, "D3", "--coats", "2", "--wet", "100 µm", "--solids", "50", "--json")
    assert own.json["drawers"]["D3"]["film_side_mm"] == pytest.approx(0.1)
    assert {s["name"]: s["value"] for s in good("setting", "--json").json}["dry month"]
    good("setting", "dry month", "")
    good("measure", tag, "D3", "width", "--forget")


def test_a_board_a_veneer_and_a_coefficient_of_ones_own(good: Call, call: Call, tag: str) -> None:
    """Another says a wood that no table has: 176 mm × 0.0025 × 7 % from 7 to 14 % moisture."""
    for part, size in (("D3", "176"), ("H3", "182")):
        good("measure", tag, part, "height", size)
    said = good("wood", tag, "pear 0.0025", "D3").out
    assert said == "Heron: D3 of pear, 0.0025 for each 1 % of moisture (your own figure).\n"
    told = good("gap", tag, "D3").out
    assert "In a damp month the drawer may be 3.1 mm higher" in told
    assert "From: pear, 0.0025 for each 1 % of moisture (your own figure)." in told
    good("wood", tag, "pear veneer on MDF", "D3")
    moved = good("gap", tag, "D3", "--json").json["drawers"]["D3"]
    assert moved["swell_mm"] == pytest.approx(176 * 0.00045 * 7)
    assert good("measure", tag, "--json").json["woods"] == {
        "D3": {"wood": "pear veneer on mdf", "cut": "mixed"}
    }
    words = ("--size", "180", "--from", "8", "--to", "12")
    assert good("movement", "--species", "pear 0.25 %", *words, "--json").json["change_mm"] == 1.8
    assert "veneer moves with its core" in call("wood", tag, "veneer").err
    assert "write 0.0025, or 0.25 %" in call("wood", tag, "pear 0.25").err


def test_a_drawer_taller_than_its_opening_is_told_at_the_command_line(good: Call, tag: str) -> None:
    for part, size in (("D3", "195"), ("H3", "188")):
        good("measure", tag, part, "height", size)
    told = good("gap", tag)
    assert told.out.startswith("D3 height: the drawer's 195.0 mm is 7.0 mm more than the opening's")
    assert "Plane" not in told.out


def test_orphan_is_noted_asked_and_dropped(good: Call, call: Call, tag: str) -> None:
    good("measure", tag, "H3", "height", "186")
    said = good("orphan", tag, "the one", "--height", "184", "--mark", "3")
    assert "Likeliest opening 3 (2.0 mm play), not told apart" in said.out
    assert good("orphan", tag, "--json").json["orphans"][0]["home"] == "opening 3"
    good("orphan", tag, "the one", "--found")
    assert call("orphan", tag).code == 2


def test_swaps_are_told(good: Call, call: Call, tag: str) -> None:
    codes = {p["number"]: p for p in good("parts", tag, "--json").json}
    good("out", tag, "D1", "D2")
    pairs = "\n".join(
        f"{codes[home]['home_code']} {codes[part]['code']}"
        for home, part in (("D1", "D2"), ("D2", "D1"))
    )
    assert call("return", tag, "-", stdin=pairs).code == 1
    told = good("swaps", tag, "--json").json
    assert len(told["moves"]) == 3
    assert told["moves"][0]["to"] is None
    assert "Three moves" in good("swaps", tag).out


def test_pulls_are_counted_ordered_allotted_and_judged(good: Call, tag: str) -> None:
    counted = good("census", tag, "D1", "pull", "2", "--spacing", "96", "--thread", "M4",
                   "--screw", "25", "--condition", "worn")  # fmt: skip
    assert "2 usable, 0 broken, 4 missing" in counted.out
    order = good("order", tag, "--needed", "in 20 days", "--lead", "5", "--json").json
    assert order["orders"][0]["count"] == 5
    assert order["order_by"] is not None
    kept = good("allot", tag, "--price", "22", "--veto", "pull 1 of D1, worn=D3 left", "--json")
    assert kept.json["full_cost"] == 7 * 22
    good("holes", tag, "D1", "150,90 246,90")
    judged = good("pulls", tag, "bow", "--spacing", "96", "--foot", "12", "--thread", "M4",
                  "--plate", "120 x 30", "--each", "2", "--depth", "9", "--price", "4",
                  "--lead", "9", "--json")  # fmt: skip
    assert judged.json["pulls"][0]["fronts"][0]["front"] == "D1"
    good("measure", tag, "D1", "thickness", "20")
    assert good("screw", tag, "D1", "bow", "M4", "25").out == "It serves.\n"
    assert "Mind: Before drilling" in good("pulls", tag, "--doors").out


def test_a_drilling_sheet_is_written_and_checked(
    good: Call, call: Call, tag: str, tmp_path: Path
) -> None:
    file = tmp_path / "d3.pdf"
    where = ("--spacing", "96", "--count", "2", "--from-top", "80", "--from-side", "200")
    said = good("drill-sheet", tag, "D3", "--out", file, *where, "--paper", "letter", "--json")
    assert said.json["centres"][0] == [152.0, 80.0]
    codes = {p["number"]: p["code"] for p in good("parts", tag, "--json").json}
    sheet = said.json["code"]
    assert sheet[:8] == codes["D3"][:8] and sheet[8] == "Z"
    assert codes_read(file.read_bytes(), 150) == {sheet: said.json["pages"]}
    assert page_count(file.read_bytes()) == said.json["pages"]
    assert good("drill-check", sheet, codes["D3"]).out.startswith("GO.")
    wrong = call("drill-check", sheet, codes["D1"], "--piece", tag)
    assert wrong.code == 1 and wrong.out.startswith("STOP. Do not drill")
    twice = call("drill-check", sheet, sheet)
    assert twice.code == 1 and "This is the drilling sheet of" in twice.out
    label = call("drill-check", codes["D3"], codes["D3"])
    assert label.code == 2 and "print an old one anew" in label.err
    assert call("scan", sheet).code == 1


def test_standing_and_looks(good: Call, tag: str) -> None:
    rocked = good("level", tag, "--rock-at", "rear left", "--rock", "1.5", "--json").json
    assert rocked["steady"] == {"corner": "rear left", "mm": 1.5}
    good("path", tag, "stain", "D2 front")
    assert good("symmetry", tag, "--json").json["breaks"]
    assert good("symmetry", tag, "--wanted", "D2", "--json").json["breaks"] == []
    assert good("symmetry", tag, "--unwanted", "D2", "--json").json["breaks"]
    assert good("mask-paper", tag, "--json").json["seams"] > 0
    assert good("tip-over", tag, "--mass", "40 kg", "--json").json["mass"] is True
    assert good("tip-over", tag, "--json").json["mass_kg"] == 40
    assert good("tip-over", tag, "--mass", "", "--json").json["mass_kg"] is None


def test_mixing_and_tins(good: Call, tag: str) -> None:
    mixed = good("mix", tag, "paint", "--only", "D1,D2", "--wet", "100 µm", "--coats", "2")
    assert "2 coats" in mixed.out
    found = good("mix", tag, "paint", "--json").json["products"]
    assert [(one["product"], one["tinted"], one["coats"]) for one in found] == [
        ("paint_water", False, 3), ("clear_water", True, 2),
    ]  # fmt: skip
    good("fact", tag, "third topcoat", "yes")
    assert good("mix", tag, "paint", "--json").json["products"][1]["coats"] == 3
    assert "Tin blue: holds 750 ml." in good("tins", "blue", "750 ml", "--price", "24").out
    good("tins", "clear", "1.2 kg", "--empty", "200 g")
    good("use-tin", tag, "blue", "--left", "500 ml", "--before", "700 ml")
    assert good("tins", "--json").json["tins"]["blue"]["left"] == 500


def test_hours_money_and_the_invoice(good: Call, clock: SetClock, tag: str, tmp_path: Path) -> None:
    good("work", tag, "sanding")
    clock.pass_time(hours=14.5)
    good("work", tag, "--end")
    for what, amount in (("bought", "95"), ("hardware", "48"), ("materials", "36"),
                         ("delivery", "38"), ("offer", "640")):  # fmt: skip
        good("money", tag, what, amount)
    file = tmp_path / "invoice.csv"
    said = good("ledger", tag, "--csv", file)
    assert said.out.startswith("You have 14.5 h in it; at 640 you earn 29 an hour.")
    with file.open(encoding="utf-8-sig", newline="") as text:
        assert next(csv.DictReader(text))["item"] == "sanding"
    assert good("floor-price", tag, "--rate", "25", "--json").json["floor_price"] == 579.5
    good("money", tag, "offer", "--take-back")
    good("money", tag, "extra", "60", "--note", "legs too")
    fixed = good("hours", tag, "--step", "sanding", "--minutes", "90", "--json").json
    assert fixed["hours"] == 1.5
    assert (fixed["measured"], fixed["corrected"], fixed["estimated"]) == (0, 1.5, 0)
    assert "Too few to tell" in good("quote", "--rate", "25").out


def test_after_the_sale_the_ledger_is_the_sales(good: Call, clock: SetClock, tag: str) -> None:
    """640 - 217 = 423 over 14.5 h, and a drawer washed long after: 8 min more, nobody timed it."""
    good("work", tag, "all of it")
    clock.pass_time(hours=14.5)
    good("work", tag, "--end")
    good("money", tag, "bought", "217")
    good("money", tag, "offer", "700")
    assert good("ledger", tag, "--json").json["sold"] is None
    clock.pass_time(hours=9)
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    good("money", tag, "sold", "640")
    said = good("ledger", tag).out
    assert said.startswith("Sold at 640: you kept 423, 28.9 an hour over 14.6 h, 0.1 of it estim")
    assert "700" not in said
    data = good("ledger", tag, "--json").json
    assert (data["sold"]["price"], data["sold"]["net"]) == (640, 423)
    assert data["sold"]["per_hour"] == pytest.approx(423 / (14.5 + 8 / 60))
    assert (data["measured"], data["estimated"]) == (14.5, pytest.approx(8 / 60))
    floor = good("floor-price", tag, "--rate", "25", "--json").json
    assert floor["estimated"] == pytest.approx(8 / 60)
    assert floor["sentence"].endswith("over 14.6 h, 0.1 of it estimated.")


def test_a_quote_is_asked_about_a_kind(good: Call, clock: SetClock) -> None:
    for place in range(5):
        tag = good("lay-out", f"Job {place}", "--rows", "1").out.splitlines()[-1]
        good("fact", tag, "kind", "nightstand")
        good("work", tag, "all of it")
        clock.pass_time(hours=4)
        good("work", tag, "--end")
        good("money", tag, "sold", "200")
    data = good("quote", "--rate", "25", "--kind", "nightstand", "--json").json
    assert (data["kind"], data["of_kind"], data["jobs"], data["likely"]) == (
        "nightstand",
        5,
        5,
        100,
    )
    data = good("quote", "--rate", "25", "--kind", "table", "--json").json
    assert (data["kind"], data["of_kind"], data["likely"]) == (None, 0, 100)
    assert "of all kinds, none of kind “table”" in data["sentence"]


def test_a_care_sheet_of_an_unfinished_piece_says_so(
    good: Call, call: Call, tag: str, tmp_path: Path
) -> None:
    file = tmp_path / "care.pdf"
    ran = call("care-sheet", tag, "--out", file, "--paper", "letter")
    assert ran.code == 1
    assert "No face has a coat on yet" in ran.out
    assert "Fix it to the wall" in " ".join(text_of(file.read_bytes()).split())


@pytest.mark.parametrize(
    "words",
    [
        ["measure", "TAG", "D99", "width", "400"],
        ["measure", "TAG", "D1", "width"],
        ["measure", "TAG", "D1", "width", "wide"],
        ["gap", "TAG", "D9"],
        ["gap", "TAG", "--wet", "100 µm"],
        ["wood", "TAG", "plastic"],
        ["orphan", "TAG"],
        ["orphan", "TAG", "x", "--width", "-4"],
        ["census", "TAG", "D1", "pull", "two"],
        ["census", "TAG", "D1", "pull", "²"],
        ["census", "TAG", "D1", "pull", "9" * 5000],
        ["order", "TAG", "--needed", "soon"],
        ["allot", "TAG", "--veto", "this one"],
        ["pulls", "TAG", "bow"],
        ["holes", "TAG", "D1", "9000,1"],
        ["drill-sheet", "TAG", "D1", "--out", "/no/such/folder/x.pdf", "--spacing", "96"],
        ["drill-check", "ZZZZ", "D1"],
        ["level", "TAG"],
        ["symmetry", "TAG", "--wanted", "D9"],
        ["mix", "TAG", "tar"],
        ["tins", "blue"],
        ["use-tin", "TAG", "none", "--left", "1 l"],
        ["money", "TAG", "offer"],
        ["money", "TAG", "offer", "much"],
        ["work", "TAG", "--end"],
        ["hours", "TAG", "--step", "sailing", "--minutes", "5"],
        ["floor-price", "TAG"],
        ["orphan", "TAG", "\udcff", "--width", "400"],
        ["money", "TAG", "extra", "5", "--note", "\udcff"],
        ["setting", "colour", "red"],
        ["setting", "rate", "lots"],
        ["care-sheet", "TAG", "--out", "."],
    ],
)
def test_bad_input_is_one_line_and_changes_nothing(call: Call, tag: str, words: list[str]) -> None:
    before = call("history", "--json").json
    ran = call(*(tag if word == "TAG" else word for word in words))
    assert ran.code == 2, ran
    assert ran.out == ""
    assert len(ran.err.splitlines()) == 1
    assert call("history", "--json").json == before


def test_every_sum_takes_json(call: Call) -> None:
    from partsbench.cli.group import main

    for name in SUMS:
        command = main.get_command(None, name)  # type: ignore[arg-type]
        assert command is not None
        assert any("--json" in option.opts for option in command.params), name


def test_what_only_corrects_needs_to_say_what(call: Call, tag: str) -> None:
    """These were left out without a word."""
    for words in (
        ("hours", tag, "--minutes", "90"),
        ("symmetry", tag, "--wanted", "D1", "--unwanted", "D2"),
        ("orphan", tag, "", "--width", "400"),
        ("measure", tag, "", "width", "400"),
    ):
        ran = call(*words)
        assert ran.code == 2 and len(ran.err.strip().splitlines()) == 1, words


def test_a_day_that_cannot_be_meant_is_one_line(call: Call, tag: str) -> None:
    for day in ("0001-01-01", "9999-12-31"):
        ran = call("order", tag, "--needed", day, "--lead", "730")
        assert ran.code == 2 and "days until they are needed" in ran.err
