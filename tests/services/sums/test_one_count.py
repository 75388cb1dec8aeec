"""Census, order and allotment of random pieces: one count, told alike, and true by another way."""

from __future__ import annotations

from collections import Counter
from random import Random
from typing import Any

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.units import Measures
from partsbench.services.books.pieces import add_part, give_fittings, lay_out
from partsbench.services.shop import Shop
from partsbench.services.sums import allotment, census, ordering
from partsbench.services.sums.habits import set_habit
from tests.support.shops import made

KINDS = ("pull", "knob", "plate")
SPACINGS = {"pull": ("", "96", "95.25", "96.9", "97.3", "76.2"), "knob": ("", "0"), "plate": ("",)}


def random_piece(shop: Shop, chance: Random) -> Piece:
    """One to three rows of one to three drawers, each with pulls, knobs, plates or nothing."""
    rows = " ".join(str(chance.randint(1, 3)) for _ in range(chance.randint(1, 3)))
    piece = made(lay_out(shop, "Heron", rows, pulls=chance.randint(0, 2)))
    for part in [p.short for p in piece.parts if p.family is Family.DRAWER]:
        if chance.random() < 0.4:
            made(give_fittings(shop, piece.tag, [part], chance.randint(0, 3), chance.choice(KINDS)))
    now = shop.piece(piece.tag)
    assert now is not None
    return now


def count_at_random(shop: Shop, piece: Piece, chance: Random) -> None:
    """Some counts are refused, since no drawer has room for them: those leave nothing."""
    drawers = [p.short for p in piece.present if p.family is Family.DRAWER]
    for _ in range(chance.randint(0, 12)):
        kind = chance.choice(KINDS)
        census.count(
            shop, piece.tag, chance.choice([*drawers, "C1"]), kind, chance.randint(0, 3),
            condition=chance.choice(census.CONDITIONS), spacing=chance.choice(SPACINGS[kind]),
            thread=chance.choice(["", "M4", "8-32"]),
        )  # fmt: skip


def recounted(shop: Shop, piece: Piece, kind: str) -> dict[str, int]:
    """The same count by SQL and by hand: no line of the program's own arithmetic."""
    hosts = Counter(
        p.parent for p in piece.present if p.family is Family.PULL and p.name == kind and p.parent
    )
    rows = shop.book.rows("SELECT * FROM hardware WHERE kind = ? ORDER BY id", (kind,))
    usable = sum(r["count"] for r in rows if r["condition"] != "broken")
    broken = sum(r["count"] for r in rows if r["condition"] == "broken")
    known = Counter[float]()
    for row in rows:
        if row["spacing_mm"] is not None:
            known[row["spacing_mm"]] += row["count"]
    most = known.most_common(1)[0][0] if known else None
    misfits = sum(
        r["count"] for r in rows
        if r["condition"] != "broken" and r["spacing_mm"] is not None
        and most is not None and abs(r["spacing_mm"] - most) > 1.0
    )  # fmt: skip
    there = Counter[str]()
    for row in rows:
        there[f"{row['family']}{row['number']}"] += row["count"]
    bare = sum(n for host, n in hosts.items() if not there[host])
    loose = sum(max(0, n - hosts[host]) for host, n in there.items())
    wanted = hosts.total()
    missing = max(0, wanted - usable - broken)
    return {
        "wanted": wanted, "counted": usable + broken, "usable": usable, "broken": broken,
        "missing": missing, "not_counted": max(0, bare - loose), "misfits": misfits,
        "needed": max(0, wanted - (usable - misfits)),
    }  # fmt: skip


@pytest.mark.parametrize("seed", range(60))
def test_three_answers_of_a_random_piece_stand_on_one_count(shop: Shop, seed: int) -> None:
    chance = Random(seed)
    piece = random_piece(shop, chance)
    spare = chance.randint(0, 2)
    done(set_habit(shop, "spare pulls", str(spare)))
    count_at_random(shop, piece, chance)
    counted = census.census(shop, piece.tag)
    ordered = ordering.order(shop, piece.tag)
    assert not isinstance(counted, Refused) and not isinstance(ordered, Refused)
    told = census.tell_census(counted, Measures.METRIC)
    to_buy = ordering.tell_order(ordered)
    assert to_buy.data["counts"] == told.data["counts"]
    counts: Any = told.data["counts"]
    lines: Any = {line["kind"]: line for line in to_buy.data["orders"]}  # type: ignore[attr-defined]
    for kind in KINDS:
        own = recounted(shop, piece, kind)
        if not own["wanted"]:
            assert kind not in lines
            assert isinstance(allotment.allot(shop, piece.tag, kind, 20), Refused)
            continue
        assert counts[kind] == own, f"seed {seed}"
        assert (kind in lines) == (own["needed"] > 0)
        if kind in lines:
            assert (lines[kind]["needed"], lines[kind]["spare"]) == (own["needed"], spare)
        allotted = allotment.allot(shop, piece.tag, kind, 20)
        assert not isinstance(allotted, Refused)
        seats = allotment.tell_allotment(allotted)
        assert seats.data["counts"] == {kind: own}
        assert len(allotted.kept) + len(allotted.new_places) == own["wanted"]
        assert len(allotted.kept) + len(allotted.left_over) == own["usable"] - own["misfits"]
        assert len(allotted.new_places) >= own["needed"]
        bought = len(allotted.new_places)
        assert allotted.cost == 20 * (bought + spare if bought else 0)
        if not allotted.left_over:
            assert bought == own["needed"]


def test_the_three_say_the_same_words(shop: Shop) -> None:
    """A chest of five drawers with two pulls each: nine counted, one of them broken."""
    piece = made(lay_out(shop, "Heron", "2 3", pulls=2))
    for drawer, good, broken in (("D1", 2, 0), ("D2", 2, 0), ("D3", 2, 0), ("D4", 1, 1)):
        for number, condition in ((good, "good"), (broken, "broken")):
            done(census.count(shop, piece.tag, drawer, "pull", number, condition=condition))
    words = "It takes 10 pulls: 7 usable, 1 broken, 2 missing (2 not counted yet)"
    counted = census.census(shop, piece.tag)
    ordered = ordering.order(shop, piece.tag)
    allotted = allotment.allot(shop, piece.tag, "pull", 20)
    assert not isinstance(counted, Refused)
    assert not isinstance(ordered, Refused) and not isinstance(allotted, Refused)
    for sentence in (counted[0].sentence, ordered.sentence, allotted.sentence):
        assert words in sentence
    assert ordered.sentence.startswith("Buy 3 pulls and 1 spare.")
    assert allotted.sentence.startswith(
        "Keep 6 originals on row 2; buy 4 and 1 spare: 100 instead of 220. "
        "1 original left over; beside new ones, 3 would do."
    )


def test_two_pulls_at_one_spot_are_two_places(shop: Shop) -> None:
    piece = made(lay_out(shop, "Heron", "1", pulls=1))
    home = Home(HomeKind.ON_PART, spot="middle")
    made(add_part(shop, piece.tag, Family.PULL, home, parent="D1"))
    found = allotment.allot(shop, piece.tag, "pull", 20)
    assert not isinstance(found, Refused)
    assert len(set(found.new_places)) == 2


def done(answer: Done | Refused) -> None:
    assert isinstance(answer, Done), answer
