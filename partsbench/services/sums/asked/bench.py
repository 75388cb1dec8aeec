"""The small sums at the bench: no piece and no book is needed."""

from __future__ import annotations

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import CUT_OF_WOOD
from partsbench.services.sums import small
from partsbench.services.sums.asked.description import (
    AtBench,
    SumField,
    SumQuestion,
    Values,
    Word,
    reckons,
    told,
)
from partsbench.services.sums.habits import Habits
from partsbench.services.sums.told import Told

CUTS = ("flat", "quarter", "mixed")
CUT = SumField("cut", "Sawn", word=Word("--cut", CUT_OF_WOOD), choices=CUTS, usual="mixed")


def _needed(name: str, about: str) -> Word:
    return Word(name, about, required=True)


def _air(us: str, example: str) -> tuple[SumField, ...]:
    return (
        SumField("temp", "Temperature", "20C",
                 _needed("--temp", f"Temperature of the air: {example}."), us=us),
        SumField("rh", "Humidity, %", "50", _needed("--rh", "Relative humidity, %.")),
    )  # fmt: skip


def _gritty(own: Habits, typed: Values) -> Told | Refused:
    return told(small.grit(typed["paper"]), lambda good: small.tell_grit(good, own.measures))


def _offer(_: Habits, typed: Values) -> Told | Refused:
    found = small.offer(typed["price"], typed["costs"], typed["hours"], typed["fee"])
    return told(found, small.tell_offer)


MOISTURE = SumQuestion(
    "moisture", "Moisture of wood", "What does wood come to in this air?",
    reckons(small.moisture, small.tell_moisture, "temp", "rh"),
    _air("70F", "70F, 21C"), of_piece=False,
    command="moisture", units=True, about="The moisture that wood comes to in this air.",
)  # fmt: skip
MOVEMENT = SumQuestion(
    "movement", "Movement of wood", "How much does a board grow or shrink?",
    reckons(small.movement, small.tell_movement, "wood", "cut", "size", "start", "end"),
    (SumField("wood", "Wood", "walnut, black; MDF",
              _needed("--species", "The wood: “walnut, black”.")),
     CUT,
     SumField("size", "Size across", "232 mm",
              _needed("--size", "The size across the grain: “9.15 in”, 232 mm."), us="9 1/8"),
     SumField("start", "From, %", "8", _needed("--from", "Moisture now: %, or a region.")),
     SumField("end", "To, %", "11, or damp", _needed("--to", "Moisture then: %, or a region."))),
    of_piece=False,
    command="movement", units=True, about="How much a board grows or shrinks across the grain.",
)  # fmt: skip
COVERAGE = SumQuestion(
    "coverage", "Coverage", "How far does it go?",
    reckons(small.coverage, small.tell_coverage, "solids", "film", "transfer"),
    (SumField("solids", "Solids, %", "42, or latex",
              _needed("--solids", "Solids by volume, %, or a class: latex.")),
     SumField("film", "Dry film", "38 µm",
              Word("--film", "Dry film: “1.5 mil”, 38 µm; a class has its own."), us="1.5 mil"),
     SumField("transfer", "Lands on the work", "65, or hvlp",
              Word("--transfer", "What lands on the work: a share in %, or a tool."))),
    of_piece=False,
    command="coverage", units=True, about="How far a litre or a gallon goes.",
)  # fmt: skip
GRIT = SumQuestion(
    "grit", "Grits", "What is a paper in the other system?", AtBench(_gritty),
    (SumField("paper", "Paper", "P320, or 320", _needed("paper", "")),), of_piece=False,
    command="grit", units=True,
    about="What an abrasive paper (P320, or a bare 320 of the US system) is in the other system.",
)  # fmt: skip
DEW_POINT = SumQuestion(
    "dew", "Dew point", "When does this air wet a surface?",
    reckons(small.dew_point, small.tell_dew_point, "temp", "rh"),
    _air("68F", "20C, 68F"), of_piece=False,
    command="dew-point", units=True, about="The temperature at which this air wets a surface.",
)  # fmt: skip
OFFER = SumQuestion(
    "offer", "", "", AtBench(_offer, asks_shop=False),
    (SumField("price", word=_needed("--price", "The price offered.")),
     SumField("costs", word=_needed("--costs", "All costs, without work.")),
     SumField("hours", word=_needed("--hours", "Hours at work.")),
     SumField("fee", usual="0",
              word=Word("--fee", "Share of the price that goes to whoever sells, %."))),
    of_piece=False,
    command="offer", about="What a price earns an hour.",
)  # fmt: skip
"""In the window the ledger answers an offer, from what the piece has cost."""

SMALL = (MOISTURE, MOVEMENT, COVERAGE, GRIT, DEW_POINT)
"""Those of the window."""
COMMANDED = (MOISTURE, MOVEMENT, COVERAGE, DEW_POINT, GRIT, OFFER)
