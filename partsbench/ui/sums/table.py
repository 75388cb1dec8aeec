"""Every decision of the page Sums, in the order of the work."""

from __future__ import annotations

from partsbench.services.sums.asked.bench import CUTS, SMALL
from partsbench.services.sums.asked.description import SumEntry, SumField, SumQuestion
from partsbench.services.sums.census import CONDITIONS, KINDS
from partsbench.services.sums.shipped import threads, transfers
from partsbench.ui.sums import answers as to

CORNERS = ("front left", "front right", "rear left", "rear right")
_OF = SumField("of", "Part or home", "D5, H5")
_FRONT = SumField("of", "Front", "D5")
_BOX_SIZES = (
    "width", "height", "top width", "bottom width", "left height", "right height", "depth",
)  # fmt: skip


def _habits(title: str, *asks: SumField) -> SumEntry:
    return SumEntry(title, asks, to.note_habits, to.habits_now)


_SIZE = SumEntry(
    "A size",
    (
        _OF,
        SumField("what", "What", choices=_BOX_SIZES),
        SumField("size", "Size", "598", us="23 1/2"),
    ),
    to.note_size,
)
_WOOD = SumEntry(
    "Its wood",
    (SumField("wood", "Wood", "cherry, black; MDF; pear 0.0025"),
     SumField("cut", "Sawn", choices=CUTS),
     SumField("of", "Parts (all if empty)", "D5 D6")),
    to.note_wood,
)  # fmt: skip
_NAME = SumField("name", "Name", "the one with the burn")
_THREADS = ("", *threads())

OF_THE_PIECE = (
    SumQuestion(
        "fit", "Will it still fit", "Before paint goes on: what gap is left of each drawer?",
        to.will_it_fit, (SumField("drawer", "Only this drawer", "D5"),),
        (_SIZE, _WOOD, _habits(
                "Air: temperature and humidity",
                SumField("dry month", "Dry month", "20C 30%", us="68F 30%"),
                SumField("damp month", "Damp month", "24C 75%", us="75F 75%"),
                SumField("air now", "While measuring", "20C 50%", us="68F 50%"),
            ),
        ),
        picture=True,
    ),
    SumQuestion(
        "orphan", "Whose drawer is this", "A drawer has lost its label: which home is its own?",
        to.whose, (),
        (SumEntry("A drawer without a label",
               (_NAME, SumField("width", "Width", "598", us="23 1/2"),
                SumField("left", "Height, left", "184", us="7 1/4"),
                SumField("right", "Height, right", "184", us="7 1/4"),
                SumField("depth", "Depth", "420", us="16 1/2"), SumField("mark", "Old mark", "3"),
                SumField("wear", "Wear", "runs tight")), to.note_orphan),
         SumEntry("It has found its home", (_NAME,), to.drop_orphan), _SIZE),
    ),
    SumQuestion(
        "swaps", "Swapped parts", "What are the fewest moves that bring all home?", to.swapped,
    ),
    SumQuestion(
        "census", "Hardware counted", "What is there, what is broken, what is missing?",
        to.counted, (),
        (SumEntry("Counted",
               (_FRONT, SumField("kind", "Kind", choices=KINDS), SumField("count", "How many", "2"),
                SumField("condition", "Condition", choices=CONDITIONS),
                SumField("spacing", "Hole to hole", "96 mm", us="3 3/4"),
                SumField("thread", "Thread", choices=_THREADS),
                SumField("screw", "Screw", "25 mm", us="1")), to.note_count),),
    ),
    SumQuestion(
        "order", "What to order", "How many to buy, and by which day?", to.ordered,
        (SumField("needed", "Needed on", "2026-12-04, in 10 days"),
         SumField("lead", "Days on the way", "12")),
        (_habits(
                "Your rules",
                SumField("spare pulls", "Spares of each", "1"),
                SumField("margin days", "Days too early", "2"),
            ),
        ),
    ),
    SumQuestion(
        "allot", "Where survivors go", "Where is a mismatch least seen?", to.allotted,
        (SumField("kind", "Kind", choices=KINDS), SumField("price", "A new one costs", "22")),
        (SumEntry("Not this one there, or after all",
               (SumField("survivor", "Survivor", "pull 1 of D5, worn"),
                SumField("place", "Place", "D1 left"),
                SumField("wanted", "Wanted there", choices=("no", "yes"))), to.note_veto),),
    ),
    SumQuestion(
        "pulls", "Which pulls", "Which holes are reused, covered, filled, and what will show?",
        to.judged, (),
        (SumEntry("A pull to judge",
               (SumField("name", "Name", "bow pull"),
                SumField("spacing", "Hole to hole", "96 mm; 0: knob", us="3 3/4; 0: knob"),
                SumField("plate", "Backplate", "120 x 40", us="4 3/4 x 1 1/2"),
                SumField("foot", "Foot", "12", us="1/2"),
                SumField("thread", "Thread", choices=_THREADS),
                SumField("depth", "Threaded deep", "9", us="3/8")), to.note_pull),
         SumEntry("Holes a front has",
               (_FRONT,
                SumField("places", "From left, top", "102,90 198,90", us="4,3.5 7.75,3.5")),
               to.note_holes),
         SumEntry("Thickness of a front",
               (_FRONT, SumField("size", "Thickness", "20", us="3/4")), to.note_thickness),
         SumEntry("Out of the choice", (SumField("name", "Name", "bow pull"),), to.drop_pull)),
    ),
    SumQuestion(
        "drill", "Drilling sheet", "Where is a front drilled, at true size?", to.drilled,
        (SumField("part", "Front", "D5"), SumField("pull", "A pull of the choice", "bow pull"),
         SumField("spacing", "Or hole to hole", "96", us="3 3/4"),
         SumField("count", "Pulls", choices=("1", "2")),
         SumField("from_top", "From the top", "half the height"),
         SumField("from_side", "From the sides", "a quarter")),
        (_habits(
                "Your printer: the bars of an uncorrected sheet as measured",
                SumField("bar across", "Bar across", "98.8 mm", us="3.89 in"),
                SumField("bar down", "Bar down", "99 mm", us="3.9 in"),
                SumField("paper", "Paper", choices=("", "a4", "letter")),
            ),
        ),
        sheet=True,
    ),
    SumQuestion(
        "mix", "How much to mix", "What does each product take, and when is a cup empty?",
        to.mixed,
        (SumField("path", "Finish path", "paint"), SumField("only", "Only these", "D1, D3 front"),
         SumField("wet", "Wet film", "100 µm", us="4 mil"),
         SumField("coats", "Coats of each", "3")),
        (_habits(
                "Your gun or brush",
                SumField("tool", "Put on with", choices=("", *transfers())),
                SumField("cup", "Cup", "300 ml", us="10 fl oz"),
            ),
         SumEntry("Depth of the carcase",
               (SumField("what", "What", choices=("depth", "height", "width")),
                SumField("size", "Size", "450", us="17 3/4")), to.note_carcase)),
    ),
    SumQuestion(
        "mask", "Tape and paper", "How much tape and paper, and what takes it?", to.masked, (),
        (_habits("Your gun or brush", SumField("tool", "Put on with", choices=("", *transfers()))),
         SumEntry("Depth of the carcase",
               (SumField("what", "What", choices=("depth", "height", "width")),
                SumField("size", "Size", "450", us="17 3/4")), to.note_carcase)),
    ),
    SumQuestion(
        "level", "Which foot rocks", "Which foot wants which shim?", to.levelled,
        (SumField("corner", "Foot that stands free", choices=CORNERS),
         SumField("rock", "Gap under it", "1.5 mm", us="1/16")),
        (SumEntry("Height of a leg",
                  (SumField("of", "Leg", "L1"), SumField("size", "Height", "150", us="6")),
               to.note_leg),),
    ),
    SumQuestion(
        "symmetry", "Symmetry", "Where do left and right not answer each other?", to.mirrored,
        (SumField("other", "Against the piece", "tag of its twin"),),
        (SumEntry("A break that is meant",
               (_FRONT, SumField("meant", "Meant", choices=("yes", "no"))), to.want_break),),
    ),
    SumQuestion(
        "tip", "Tip-over", "Is it of the kind that the tip-over standard covers?", to.tipped,
        (),
        (SumEntry("What it weighs", (SumField("mass", "Mass", "38 kg", us="84 lb"),), to.note_mass),
         SumEntry("Overall height (floor to top), and depth",
               (SumField("what", "What", choices=("overall height", "depth")),
                SumField("size", "Size", "950", us="37 1/2")), to.note_carcase),),
    ),
)  # fmt: skip

AT_THE_BENCH = (
    *SMALL,
    SumQuestion(
        "again", "The same mix again", "What is the recipe at another volume?", to.mixed_again,
        (SumField("recipe", "Recipe", "26 clear, 3 colour, 1 water"),
         SumField("volume", "Volume", "60 ml", us="2 fl oz")),
        (_habits("Your mixing cup", SumField("cup step", "Finest step", "2 ml", us="0.25 fl oz")),),
        of_piece=False,
    ),
)  # fmt: skip

DECISIONS = (*OF_THE_PIECE, *AT_THE_BENCH)


def find(decisions: tuple[SumQuestion, ...], key: str) -> SumQuestion:
    """The decision of that key, else the first."""
    return next((d for d in decisions if d.key == key), decisions[0])
