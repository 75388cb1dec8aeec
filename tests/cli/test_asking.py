"""Commands made from descriptions: they answer as the window does, and name what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from partsbench.core.outcomes import Refused
from partsbench.services.shop import Shop, open_shop
from partsbench.services.sums.asked import bench, earning, fitting, hardware
from partsbench.services.sums.asked.description import SumEntry, SumQuestion
from partsbench.services.sums.ground import SumGround, ground
from partsbench.services.sums.told import Told
from partsbench.store import figures
from tests.cli.conftest import Call
from tests.support.clock import SetClock

BOTH: list[tuple[SumQuestion, dict[str, str], list[str]]] = [
    (bench.MOISTURE, {"temp": "20C", "rh": "50"}, ["--temp", "20C", "--rh", "50"]),
    (bench.MOVEMENT, {"wood": "walnut, black", "size": "232 mm", "start": "8", "end": "damp"},
     ["--species", "walnut, black", "--size", "232 mm", "--from", "8", "--to", "damp"]),
    (bench.COVERAGE, {"solids": "latex", "transfer": "hvlp"},
     ["--solids", "latex", "--transfer", "hvlp"]),
    (bench.GRIT, {"paper": "P320"}, ["P320"]),
    (bench.DEW_POINT, {"temp": "20C", "rh": "50"}, ["--temp", "20C", "--rh", "50"]),
    (earning.AGAIN, {"recipe": "26 clear, 3 colour", "volume": "60 ml"},
     ["26 clear, 3 colour", "60 ml"]),
    (fitting.FIT, {"drawer": "D1", "coats": "3", "wet": "100 µm", "solids": "40"},
     ["TAG", "D1", "--coats", "3", "--wet", "100 µm", "--solids", "40"]),
    (fitting.LEVEL, {"corner": "rear left", "rock": "1.5 mm"},
     ["TAG", "--rock-at", "rear left", "--rock", "1.5 mm"]),
    (fitting.SYMMETRY, {}, ["TAG"]),
    (fitting.MASK, {}, ["TAG"]),
    (hardware.ORDER, {"needed": "in 30 days", "lead": "5"},
     ["TAG", "--needed", "in 30 days", "--lead", "5"]),
    (hardware.ALLOT, {"price": "22"}, ["TAG", "--price", "22"]),
    (hardware.PULLS, {"doors": "yes"}, ["TAG", "--doors"]),
    (earning.MIX, {"path": "paint", "only": "D1-D3", "wet": "100 µm", "coats": "2"},
     ["TAG", "paint", "--only", "D1-D3", "--wet", "100 µm", "--coats", "2"]),
]  # fmt: skip


@pytest.fixture
def chest(good: Call, tag: str) -> str:
    for size in ("D1 width 398", "H1 width 402", "D1 height 176", "H1 height 180"):
        good("measure", tag, *size.split())
    good("census", tag, "D1", "pull", "2", "--spacing", "96", "--thread", "M4")
    good("pulls", tag, "bow", "--spacing", "96")
    good("path", tag, "stain", "D1 left edge")
    return tag


@pytest.mark.parametrize(("asked", "typed", "words"), BOTH, ids=[b[0].key for b in BOTH])
def test_window_and_command_answer_alike(
    good: Call, book: Path, clock: SetClock, chest: str,
    asked: SumQuestion, typed: dict[str, str], words: list[str],
) -> None:  # fmt: skip
    said = good(asked.command, *(chest if w == "TAG" else w for w in words), "--json").json
    shop = open_shop(book, clock)
    assert isinstance(shop, Shop)
    told = asked.answer(shop, chest, typed)
    shop.close()
    assert isinstance(told, Told), told
    assert (told.sentence, list(told.sources)) == (said["sentence"], said["sources"])


WRONG: list[tuple[SumEntry | SumQuestion, dict[str, str], list[str], str]] = [
    (hardware.PULL, {"name": "bow"}, ["pulls", "TAG", "bow"], "is missing; 0 for a knob."),
    (earning.HOURS, {"minutes": "5"}, ["hours", "TAG", "--minutes", "5"],
     "is missing; say which step took so long."),
    (fitting.FIT, {"wet": "100 µm"}, ["gap", "TAG", "--wet", "100 µm"],
     "with a film of your own, say all of these."),
]  # fmt: skip
NAMES = [("Hole to hole", "--spacing"), ("Work", "--step"),
         ("Coats of your own, Wet film of one and Its solids, %",
          "--coats, --wet and --solids")]  # fmt: skip


@pytest.mark.parametrize(("wrong", "names"), list(zip(WRONG, NAMES, strict=True)))
def test_what_is_wrong_goes_by_the_name_that_is_seen(
    call: Call, book: Path, clock: SetClock, tag: str,
    wrong: tuple[SumEntry | SumQuestion, dict[str, str], list[str], str], names: tuple[str, str],
) -> None:  # fmt: skip
    asked, typed, words, why = wrong
    ran = call(*(tag if w == "TAG" else w for w in words))
    assert (ran.code, ran.err) == (2, f"partsbench: {names[1]}: {why}\n")
    shop = open_shop(book, clock)
    assert isinstance(shop, Shop)
    act = asked.note if isinstance(asked, SumEntry) else asked.answer
    assert act(shop, tag, typed) == Refused(f"{names[0]}: {why}")
    shop.close()


@pytest.mark.parametrize(
    ("words", "missing"),
    [
        (["coverage"], "option '--solids'"),
        (["use-tin", "TAG", "blue"], "option '--left'"),
        (["grit"], "argument 'PAPER'"),
    ],
)
def test_what_is_required_is_asked_for(
    call: Call, tag: str, words: list[str], missing: str
) -> None:
    ran = call(*(tag if w == "TAG" else w for w in words))
    assert (ran.code, ran.err) == (2, f"partsbench {words[0]}: Missing {missing}.\n")


def test_which_pull_is_asked_for_first(call: Call, tag: str) -> None:
    for words in (["--drop"], ["--each", "2"], ["", "--spacing", "96"]):
        assert "Which pull?" in call("pulls", tag, *words).err, words


def test_an_empty_name_does_not_mean_the_whole_piece(call: Call, tag: str) -> None:
    before = call("history", "--json").json
    ran = call("wood", tag, "oak, northern red", "")
    assert (ran.code, ran.err) == (2, "partsbench: PARTS: a name is empty.\n")
    assert call("gap", tag, "D1", " ").code == 2
    assert call("history", "--json").json == before


def test_the_window_judges_what_only_the_command_could_say(
    book: Path, clock: SetClock, tag: str
) -> None:
    """Price, lead time and pulls of a bare front; other ends of an orphan; an offer taken back."""
    shop = open_shop(book, clock)
    assert isinstance(shop, Shop)
    typed = {"name": "bow", "spacing": "96", "each": "2", "price": "22", "lead": "12"}
    assert not isinstance(hardware.PULL.note(shop, tag, typed), Refused)
    late = hardware.PULL.note(shop, tag, {**typed, "lead": "731"})
    assert late == Refused("Days on the way: “731” is no whole number from 0 to 730.")
    sizes = {"name": "lost", "top": "398", "bottom": "399"}
    assert not isinstance(fitting.ORPHAN.note(shop, tag, sizes), Refused)
    for amount in ("640", ""):
        offer = {"what": "offer", "amount": amount}
        assert not isinstance(earning.MONEY.note(shop, tag, offer), Refused)
    on = ground(shop, tag)
    assert isinstance(on, SumGround)
    (pull,) = figures.candidates(shop.book, on.key)
    assert (pull.each, pull.price, pull.lead_days) == (2, 22, 12)
    shop.close()


def test_only_the_command_must_say_that_a_sum_is_taken_back(
    call: Call, good: Call, tag: str
) -> None:
    good("money", tag, "bought", "95")
    assert call("money", tag, "bought").err == "partsbench: bought: is missing; say how much.\n"
    assert good("money", tag, "bought", "--take-back").out
    good("measure", tag, "D1", "width", "400")
    assert "how large" in call("measure", tag, "D1", "width").err
    good("measure", tag, "D1", "width", "--forget")


def test_what_begins_with_a_dash_is_a_value_where_one_is_due(call: Call) -> None:
    ran = call("offer", "--price", "-inf", "--costs", "1", "--hours", "2")
    assert (ran.code, ran.err) == (2, "partsbench: price: '-inf' is negative.\n")
