"""Pulls counted, judged, ordered and allotted; holes noted; where a front is drilled."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop
from partsbench.services.sums import allotment, census, choice, drill, holes, ordering
from partsbench.services.sums.asked.description import (
    ONE_AT_A_TIME,
    Misfilled,
    SumEntry,
    SumField,
    SumQuestion,
    Values,
    Word,
    amount_in,
    keeps,
    tells,
    told,
    whole_in,
)
from partsbench.services.sums.asked.settings import setting, settings
from partsbench.services.sums.asked.sizes import THICKNESS
from partsbench.services.sums.census import CONDITIONS, KINDS
from partsbench.services.sums.habits import PAGES, habits
from partsbench.services.sums.shipped import threads
from partsbench.services.sums.told import Told

THREADS = ("", *threads())
DAYS = (0, 730)


# What is noted


def _count(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    part, kind, count = typed["of"], typed["kind"], typed["count"]
    if not part or not kind or not count.isdecimal() or len(count) > 4:
        return Refused("Say on what, which kind and how many: D5 pull 2.")
    return census.count(
        shop, tag, part, kind, int(count), condition=typed["condition"] or "good",
        spacing=typed["spacing"], thread=typed["thread"], screw=typed["screw"],
    )  # fmt: skip


def _veto(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    veto, allow = typed.get("veto", ""), typed.get("allow", "")
    if veto and allow:
        return Misfilled(ONE_AT_A_TIME, ("veto", "allow"))
    said = veto or allow
    survivor, sign, place = said.partition("=")
    if said and not (sign and survivor.strip() and place.strip()):
        return Misfilled(f"“{said}” is no SURVIVOR=PLACE.", ("veto" if veto else "allow",))
    survivor, place = typed.get("survivor") or survivor, typed.get("place") or place
    if not survivor or not place:
        return Refused("Say which survivor, and in which place it is not wanted.")
    wanted = bool(allow) or typed.get("wanted") == "yes"
    return allotment.veto(shop, tag, survivor, place, wanted, typed.get("kind", ""))


def _consider(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    if not typed["name"]:
        return Refused("Which pull? Give it a name, as in “bow”.")
    more = ("spacing", "plate", "foot", "each", "thread", "depth", "price", "lead")
    if typed.get("drop"):
        if any(typed[key] for key in more):
            return Misfilled("say nothing more of a pull that is out of the choice.", ("drop",))
        return choice.consider(shop, tag, typed["name"])
    if not typed["spacing"]:
        return Misfilled("is missing; 0 for a knob.", ("spacing",))
    price = amount_in(typed["price"], "price")
    if isinstance(price, Refused):
        return price
    return choice.consider(
        shop, tag, typed["name"], typed["spacing"], plate=typed["plate"], foot=typed["foot"],
        each=whole_in(typed["each"]) or 1, thread=typed["thread"], depth=typed["depth"],
        price=price, lead_days=whole_in(typed["lead"]),
    )  # fmt: skip


# What is answered


def _ordered(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    day = ordering.day_in(shop, typed["needed"])
    if isinstance(day, Refused):
        return day
    return told(
        ordering.order(shop, tag, needed_on=day, lead_days=whole_in(typed["lead"])),
        lambda found: ordering.tell_order(found, habits(shop).measures),
    )


def _allotted(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    price = amount_in(typed["price"], "price")
    if isinstance(price, Refused):
        return price
    return told(
        allotment.allot(shop, tag, typed["kind"], price or 0.0),
        lambda found: allotment.tell_allotment(found, habits(shop).measures),
    )


def _judged(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    return told(holes.choices(shop, tag, doors=typed["doors"] == "yes"), holes.tell_choices)


def where_to_drill(shop: Shop, tag: str, typed: Values) -> drill.Drilling | Refused:
    """The hole centres that the fields of `DRILL` ask for."""
    if not typed["part"]:
        return Refused("Say which front is to be drilled, as in D5.")
    return drill.where_to_drill(
        shop, tag, typed["part"], pull=typed["pull"], spacing=typed["spacing"],
        count=whole_in(typed["count"]) or 1, from_top=typed["from_top"],
        from_side=typed["from_side"],
    )  # fmt: skip


def _drilled(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    return told(where_to_drill(shop, tag, typed), drill.tell_drilling)


# The entries

COUNTED = SumEntry(
    "Counted",
    (SumField("of", "Front", "D5", Word("part")),
     SumField("kind", "Kind", word=Word("kind"), choices=KINDS),
     SumField("count", "How many", "2", Word("count")),
     SumField("condition", "Condition", choices=CONDITIONS,
              word=Word("--condition", "How good they are: good, if nothing is said.",
                        strict=True)),
     SumField("spacing", "Hole to hole", "96 mm",
              Word("--spacing", "From hole to hole; 0 for a knob."), us="3 3/4"),
     SumField("thread", "Thread", choices=THREADS,
              word=Word("--thread", "Thread of the screws: 8-32, M4.")),
     SumField("screw", "Screw", "25 mm", Word("--screw", "Length of the screws."), us="1")),
    _count,
)  # fmt: skip
VETO = SumEntry(
    "Not this one there, or after all",
    (SumField("survivor", "Survivor", "pull 1 of D5, worn"), SumField("place", "Place", "D1 left"),
     SumField("wanted", "Wanted there", choices=("no", "yes")),
     SumField("veto", word=Word("--veto", "Not this one there.", metavar="SURVIVOR=PLACE")),
     SumField("allow",
              word=Word("--allow", "After all this one there.", metavar="SURVIVOR=PLACE"))),
    _veto,
)  # fmt: skip
PULL = SumEntry(
    "A pull to judge",
    (SumField("name", "Name", "bow pull", Word("name")),
     SumField("spacing", "Hole to hole", "96 mm; 0: knob",
              Word("--spacing", "From hole to hole; 0 for a knob."), us="3 3/4; 0: knob"),
     SumField("plate", "Backplate", "120 x 40",
              Word("--plate", "Its backplate, width x height: “120 x 40”."), us="4 3/4 x 1 1/2"),
     SumField("foot", "Foot", "12", Word("--foot", "Width of each foot."), us="1/2"),
     SumField("each", "On a bare front", choices=("", "1", "2"), whole=(1, 2),
              word=Word("--each", "On a front not fitted yet: 1 or 2.")),
     SumField("thread", "Thread", choices=THREADS,
              word=Word("--thread", "Thread of its screws: 8-32, M4.")),
     SumField("depth", "Threaded deep", "9",
              Word("--depth", "How deep it is threaded."), us="3/8"),
     SumField("price", "One costs", "22", Word("--price", "What one costs.")),
     SumField("lead", "Days on the way", "12",
              Word("--lead", "The supplier's lead time in days."), whole=DAYS),
     SumField("drop", word=Word("--drop", "Out of the choice.", flag=True))),
    _consider,
)  # fmt: skip
HOLES = SumEntry(
    "Holes a front has",
    (SumField("of", "Front", "D5", Word("part", required=True)),
     SumField("places", "From left, top", "102,90 198,90", Word("places"), us="4,3.5 7.75,3.5")),
    keeps(choice.note_holes, "of", "places"),
    command="holes",
    about="Note the holes a front has, from its left and top edge: “102,90 198,90”; empty: none.",
)  # fmt: skip


# The questions

CENSUS = SumQuestion(
    "census", "Hardware counted", "What is there, what is broken, what is missing?",
    tells(census.census, census.tell_census, in_units=True), (),
    (COUNTED,),
    command="census", notes=COUNTED,
    about="Count hardware (`D5 pull 2`), or say what is usable, broken and missing.",
)  # fmt: skip
ORDER = SumQuestion(
    "order", "What to order", "How many to buy, and by which day?", _ordered,
    (SumField("needed", "Needed on", "2026-12-04, in 10 days",
              Word("--needed", "The day they are needed: 2026-12-04, “in 10 days”; else "
                        "as planned.")),
     SumField("lead", "Days on the way", "12",
              Word("--lead", "The supplier's lead time in days."), whole=DAYS)),
    (settings("Your rules", setting("spare pulls", "Spares of each"),
              setting("margin days", "Days too early")),),
    command="order", about="What to buy, with spares, and the last day to order it.",
)  # fmt: skip
ALLOT = SumQuestion(
    "allot", "Where survivors go", "Where is a mismatch least seen?", _allotted,
    (SumField("kind", "Kind", choices=KINDS, usual="pull",
              word=Word("--kind", "pull, knob or plate.")),
     SumField("price", "A new one costs", "22",
              Word("--price", "What a new one costs."), usual="0")),
    (VETO,),
    command="allot", notes=VETO, asked_first=True,
    about="Where the surviving originals go, so that a mismatch is least seen.",
)  # fmt: skip
PULLS = SumQuestion(
    "pulls", "Which pulls", "Which holes are reused, covered, filled, and what will show?",
    _judged,
    (SumField("doors", "On doors too", choices=("no", "yes"),
              word=Word("--doors", "On doors too.", flag=True)),),
    (PULL, HOLES, THICKNESS,
     SumEntry("Out of the choice", (SumField("name", "Name", "bow pull"),),
              keeps(choice.consider, "name"))),
    command="pulls", notes=PULL,
    about="Judge pulls before they are bought: holes reused, covered, filled, and what will show.",
)  # fmt: skip
DRILL = SumQuestion(
    "drill", "Drilling sheet", "Where is a front drilled, at true size?", _drilled,
    (SumField("part", "Front", "D5", Word("part", required=True)),
     SumField("pull", "A pull of the choice", "bow pull",
              Word("--pull", "A pull of the choice: its best place on this front.")),
     SumField("spacing", "Or hole to hole", "96",
              Word("--spacing", "Or from hole to hole; 0 for a knob."), us="3 3/4"),
     SumField("count", "Pulls", choices=("1", "2"), whole=(1, 2),
              word=Word("--count", "Pulls on the front: 1 or 2.")),
     SumField("from_top", "From the top", "half the height",
              Word("--from-top", "From the top edge; half the height if not said.")),
     SumField("from_side", "From the sides", "a quarter",
              Word("--from-side", "Of two pulls, from the sides."))),
    (settings("Your printer: the bars of an uncorrected sheet as measured",
              setting("bar across", "Bar across"), setting("bar down", "Bar down"),
              setting("paper", "Paper", ("", *PAGES))),),
    sheet=True,
)  # fmt: skip
"""Its command writes a file, and stands with that in `cli/hardware.py`."""

COMMANDED = (CENSUS, ORDER, ALLOT, PULLS, HOLES)
