"""Every decision of the page Sums, in the order of the work."""

from __future__ import annotations

from partsbench.services.sums.census import CONDITIONS, KINDS
from partsbench.services.sums.shipped import threads, transfers
from partsbench.ui.sums import answers as to
from partsbench.ui.sums.decisions import Ask, Decision, Entry

CUTS = ("flat", "quarter", "mixed")
CORNERS = ("front left", "front right", "rear left", "rear right")
_OF = Ask("of", "Part or home", "D5, H5")
_FRONT = Ask("of", "Front", "D5")
_BOX_SIZES = (
    "width", "height", "top width", "bottom width", "left height", "right height", "depth",
)  # fmt: skip


def _habits(title: str, *asks: Ask) -> Entry:
    return Entry(title, asks, to.note_habits, to.habits_now)


_SIZE = Entry(
    "A size",
    (_OF, Ask("what", "What", choices=_BOX_SIZES), Ask("size", "Size", "598", us="23 1/2")),
    to.note_size,
)
_WOOD = Entry(
    "Its wood",
    (Ask("wood", "Wood", "cherry, black; MDF; pear 0.0025"), Ask("cut", "Sawn", choices=CUTS),
     Ask("of", "Parts (all if empty)", "D5 D6")),
    to.note_wood,
)  # fmt: skip
_NAME = Ask("name", "Name", "the one with the burn")
_THREADS = ("", *threads())

OF_THE_PIECE = (
    Decision(
        "fit", "Will it still fit", "Before paint goes on: what gap is left of each drawer?",
        to.will_it_fit, (Ask("drawer", "Only this drawer", "D5"),),
        (_SIZE, _WOOD, _habits(
                "Air: temperature and humidity",
                Ask("dry month", "Dry month", "20C 30%", us="68F 30%"),
                Ask("damp month", "Damp month", "24C 75%", us="75F 75%"),
                Ask("air now", "While measuring", "20C 50%", us="68F 50%"),
            ),
        ),
        picture=True,
    ),
    Decision(
        "orphan", "Whose drawer is this", "A drawer has lost its label: which home is its own?",
        to.whose, (),
        (Entry("A drawer without a label",
               (_NAME, Ask("width", "Width", "598", us="23 1/2"),
                Ask("left", "Height, left", "184", us="7 1/4"),
                Ask("right", "Height, right", "184", us="7 1/4"),
                Ask("depth", "Depth", "420", us="16 1/2"), Ask("mark", "Old mark", "3"),
                Ask("wear", "Wear", "runs tight")), to.note_orphan),
         Entry("It has found its home", (_NAME,), to.drop_orphan), _SIZE),
    ),
    Decision(
        "swaps", "Swapped parts", "What are the fewest moves that bring all home?", to.swapped,
    ),
    Decision(
        "census", "Hardware counted", "What is there, what is broken, what is missing?",
        to.counted, (),
        (Entry("Counted",
               (_FRONT, Ask("kind", "Kind", choices=KINDS), Ask("count", "How many", "2"),
                Ask("condition", "Condition", choices=CONDITIONS),
                Ask("spacing", "Hole to hole", "96 mm", us="3 3/4"),
                Ask("thread", "Thread", choices=_THREADS),
                Ask("screw", "Screw", "25 mm", us="1")), to.note_count),),
    ),
    Decision(
        "order", "What to order", "How many to buy, and by which day?", to.ordered,
        (Ask("needed", "Needed on", "2026-12-04, in 10 days"),
         Ask("lead", "Days on the way", "12")),
        (_habits(
                "Your rules",
                Ask("spare pulls", "Spares of each", "1"),
                Ask("margin days", "Days too early", "2"),
            ),
        ),
    ),
    Decision(
        "allot", "Where survivors go", "Where is a mismatch least seen?", to.allotted,
        (Ask("kind", "Kind", choices=KINDS), Ask("price", "A new one costs", "22")),
        (Entry("Not this one there, or after all",
               (Ask("survivor", "Survivor", "pull 1 of D5, worn"),
                Ask("place", "Place", "D1 left"),
                Ask("wanted", "Wanted there", choices=("no", "yes"))), to.note_veto),),
    ),
    Decision(
        "pulls", "Which pulls", "Which holes are reused, covered, filled, and what will show?",
        to.judged, (),
        (Entry("A pull to judge",
               (Ask("name", "Name", "bow pull"),
                Ask("spacing", "Hole to hole", "96 mm; 0: knob", us="3 3/4; 0: knob"),
                Ask("plate", "Backplate", "120 x 40", us="4 3/4 x 1 1/2"),
                Ask("foot", "Foot", "12", us="1/2"),
                Ask("thread", "Thread", choices=_THREADS),
                Ask("depth", "Threaded deep", "9", us="3/8")), to.note_pull),
         Entry("Holes a front has",
               (_FRONT,
                Ask("places", "From left, top", "102,90 198,90", us="4,3.5 7.75,3.5")),
               to.note_holes),
         Entry("Thickness of a front",
               (_FRONT, Ask("size", "Thickness", "20", us="3/4")), to.note_thickness),
         Entry("Out of the choice", (Ask("name", "Name", "bow pull"),), to.drop_pull)),
    ),
    Decision(
        "drill", "Drilling sheet", "Where is a front drilled, at true size?", to.drilled,
        (Ask("part", "Front", "D5"), Ask("pull", "A pull of the choice", "bow pull"),
         Ask("spacing", "Or hole to hole", "96", us="3 3/4"),
         Ask("count", "Pulls", choices=("1", "2")),
         Ask("from_top", "From the top", "half the height"),
         Ask("from_side", "From the sides", "a quarter")),
        (_habits(
                "Your printer: the bars of an uncorrected sheet as measured",
                Ask("bar across", "Bar across", "98.8 mm", us="3.89 in"),
                Ask("bar down", "Bar down", "99 mm", us="3.9 in"),
                Ask("paper", "Paper", choices=("", "a4", "letter")),
            ),
        ),
        sheet=True,
    ),
    Decision(
        "mix", "How much to mix", "What does each product take, and when is a cup empty?",
        to.mixed,
        (Ask("path", "Finish path", "paint"), Ask("only", "Only these", "D1, D3 front"),
         Ask("wet", "Wet film", "100 µm", us="4 mil"), Ask("coats", "Coats of each", "3")),
        (_habits(
                "Your gun or brush",
                Ask("tool", "Put on with", choices=("", *transfers())),
                Ask("cup", "Cup", "300 ml", us="10 fl oz"),
            ),
         Entry("Depth of the carcase",
               (Ask("what", "What", choices=("depth", "height", "width")),
                Ask("size", "Size", "450", us="17 3/4")), to.note_carcase)),
    ),
    Decision(
        "mask", "Tape and paper", "How much tape and paper, and what takes it?", to.masked, (),
        (_habits("Your gun or brush", Ask("tool", "Put on with", choices=("", *transfers()))),
         Entry("Depth of the carcase",
               (Ask("what", "What", choices=("depth", "height", "width")),
                Ask("size", "Size", "450", us="17 3/4")), to.note_carcase)),
    ),
    Decision(
        "level", "Which foot rocks", "Which foot wants which shim?", to.levelled,
        (Ask("corner", "Foot that stands free", choices=CORNERS),
         Ask("rock", "Gap under it", "1.5 mm", us="1/16")),
        (Entry("Height of a leg", (Ask("of", "Leg", "L1"), Ask("size", "Height", "150", us="6")),
               to.note_leg),),
    ),
    Decision(
        "symmetry", "Symmetry", "Where do left and right not answer each other?", to.mirrored,
        (Ask("other", "Against the piece", "tag of its twin"),),
        (Entry("A break that is meant",
               (_FRONT, Ask("meant", "Meant", choices=("yes", "no"))), to.want_break),),
    ),
    Decision(
        "tip", "Tip-over", "Is it of the kind that the tip-over standard covers?", to.tipped,
        (),
        (Entry("What it weighs", (Ask("mass", "Mass", "38 kg", us="84 lb"),), to.note_mass),
         Entry("Overall height (floor to top), and depth",
               (Ask("what", "What", choices=("overall height", "depth")),
                Ask("size", "Size", "950", us="37 1/2")), to.note_carcase),),
    ),
)  # fmt: skip

AT_THE_BENCH = (
    Decision(
        "moisture", "Moisture of wood", "What does wood come to in this air?", to.moist,
        (Ask("temp", "Temperature", "20C", us="70F"), Ask("rh", "Humidity, %", "50")),
        of_piece=False,
    ),
    Decision(
        "movement", "Movement of wood", "How much does a board grow or shrink?", to.moved,
        (Ask("wood", "Wood", "walnut, black; MDF"), Ask("cut", "Sawn", choices=CUTS),
         Ask("size", "Size across", "232 mm", us="9 1/8"), Ask("start", "From, %", "8"),
         Ask("end", "To, %", "11, or damp")), of_piece=False,
    ),
    Decision(
        "coverage", "Coverage", "How far does it go?", to.covered,
        (Ask("solids", "Solids, %", "42, or latex"), Ask("film", "Dry film", "38 µm", us="1.5 mil"),
         Ask("transfer", "Lands on the work", "65, or hvlp")), of_piece=False,
    ),
    Decision(
        "grit", "Grits", "What is a paper in the other system?", to.gritty,
        (Ask("paper", "Paper", "P320, or 320"),), of_piece=False,
    ),
    Decision(
        "dew", "Dew point", "When does this air wet a surface?", to.dew,
        (Ask("temp", "Temperature", "20C", us="68F"), Ask("rh", "Humidity, %", "50")),
        of_piece=False,
    ),
    Decision(
        "again", "The same mix again", "What is the recipe at another volume?", to.mixed_again,
        (Ask("recipe", "Recipe", "26 clear, 3 colour, 1 water"),
         Ask("volume", "Volume", "60 ml", us="2 fl oz")),
        (_habits("Your mixing cup", Ask("cup step", "Finest step", "2 ml", us="0.25 fl oz")),),
        of_piece=False,
    ),
)  # fmt: skip

DECISIONS = (*OF_THE_PIECE, *AT_THE_BENCH)
