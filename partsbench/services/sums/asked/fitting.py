"""Sums of a piece: sizes, gaps, orphans, swaps, how it stands, and what is masked."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums import units
from partsbench.services.acts import returning
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop, find_piece
from partsbench.services.sums import gap, masking, orphan, standing
from partsbench.services.sums.asked.description import (
    ONE_AT_A_TIME,
    Misfilled,
    SumEntry,
    SumField,
    SumQuestion,
    Values,
    Word,
    keeps,
    tells,
    told,
    whole_in,
)
from partsbench.services.sums.asked.settings import TOOL, setting, settings
from partsbench.services.sums.asked.sizes import CARCASE, FRONT, LEG, MEASURED, OVERALL, SIZE, WOOD
from partsbench.services.sums.gap import OwnFilm
from partsbench.services.sums.habits import habits
from partsbench.services.sums.standing import CORNERS
from partsbench.services.sums.told import Told

ORPHAN_SIZES = ("width", "top", "bottom", "height", "left", "right", "depth")


# What is noted


def _note_orphan(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    name = typed["name"]
    if not name:
        return Refused("Say which orphan: a name, as in “the one with the burn”.")
    if typed.get("found"):
        return orphan.drop_orphan(shop, tag, name)
    sizes = {what: typed[what] for what in ORPHAN_SIZES}
    return orphan.note_orphan(shop, tag, name, sizes, typed["mark"], typed["wear"])


def _want_break(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    wanted, unwanted = typed.get("wanted", ""), typed.get("unwanted", "")
    if wanted and unwanted:
        return Misfilled(ONE_AT_A_TIME, ("wanted", "unwanted"))
    front = typed.get("of") or wanted or unwanted
    return standing.want_break(shop, tag, front, not unwanted and typed.get("meant") != "no")


# What is answered


def _will_it_fit(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    own = _own_film(typed, habits(shop).measures)
    if isinstance(own, Refused):
        return own
    only = typed["drawer"].upper().split()
    return told(gap.forecast(shop, tag, only, own), gap.tell_forecast)


def _own_film(typed: Values, measures: units.Measures) -> OwnFilm | Refused | None:
    coats, wet, solids = whole_in(typed["coats"]), typed["wet"], typed["solids"]
    if coats is None and not wet and not solids:
        return None
    if coats is None:
        return Misfilled("with a film of your own, say all of these.", ("coats", "wet", "solids"))
    film = units.film(wet, measures, "wet film")
    share = units.percent(solids, "solids")
    if isinstance(film, Refused):
        return film.told_in(measures)
    if isinstance(share, Refused):
        return share.told_in(measures)
    return OwnFilm(coats, film.value, share.value)


def _swapped(shop: Shop, tag: str, _: Values) -> Told | Refused:
    piece = find_piece(shop, tag)
    if isinstance(piece, Refused):
        return piece
    state = piece_state(shop, piece)
    rows = tuple(
        (move.part, str(move.target) if isinstance(move.target, int) else "the bench")
        for move in returning.moves_home(state)
    )
    sources = ("the scans of what sits where", "every chain of swapped parts, one move each")
    return Told(returning.moves_sentence(state), ("part", "to home"), rows, sources=sources)


def _mirrored(shop: Shop, tag: str, typed: Values) -> Told | Refused:
    other = typed["other"]
    twin = find_piece(shop, other) if other else None
    if isinstance(twin, Refused):
        return twin
    return told(standing.pattern(shop, tag, twin.tag if twin else ""), standing.tell_pattern)


# The entries


ORPHAN = SumEntry(
    "A drawer without a label",
    (SumField("name", "Name", "the one with the burn", Word("name")),
     SumField("width", "Width", "598", Word("--width", "Width, both ends alike."), us="23 1/2"),
     SumField("top", "Width, top", "598", Word("--top", "Width at the top."), us="23 1/2"),
     SumField("bottom", "Width, bottom", "598",
              Word("--bottom", "Width at the bottom."), us="23 1/2"),
     SumField("height", "Height", "184", Word("--height", "Height, both ends alike."), us="7 1/4"),
     SumField("left", "Height, left", "184", Word("--left", "Height at the left."), us="7 1/4"),
     SumField("right", "Height, right", "184",
              Word("--right", "Height at the right."), us="7 1/4"),
     SumField("depth", "Depth", "420", Word("--depth", "Depth."), us="16 1/2"),
     SumField("mark", "Old mark", "3", Word("--mark", "Old marks on it, separated by commas.")),
     SumField("wear", "Wear", "runs tight",
              Word("--wear", "Wear to be seen, in words separated by commas.")),
     SumField("found", word=Word("--found", "It is no orphan any more.", flag=True))),
    _note_orphan,
)  # fmt: skip
MASS = SumEntry(
    "What it weighs",
    (SumField("mass", "Mass", "38 kg",
              Word("--mass", "Note what it weighs: 38 kg, 84 lb; empty: forget it.", empty=True),
              us="84 lb"),),
    keeps(standing.weigh, "mass"),
)  # fmt: skip
BREAK = SumEntry(
    "A break that is meant",
    (FRONT, SumField("meant", "Meant", choices=("yes", "no")),
     SumField("wanted", word=Word("--wanted", "This front is meant to differ.", metavar="FRONT")),
     SumField("unwanted",
              word=Word("--unwanted", "It is not meant to any more.", metavar="FRONT"))),
    _want_break,
)  # fmt: skip

# The questions

FIT = SumQuestion(
    "fit", "Will it still fit", "Before paint goes on: what gap is left of each drawer?",
    _will_it_fit,
    (SumField("drawer", "Only this drawer", "D5", Word("drawers", many=True)),
     SumField("coats", "Coats of your own", "3",
              Word("--coats", "Coats that leave a film."), whole=(0, 50)),
     SumField("wet", "Wet film of one", "100 µm",
              Word("--wet", "Wet film of one coat: “4 mil”, 100 µm."), us="4 mil"),
     SumField("solids", "Its solids, %", "42", Word("--solids", "Solids by volume, %."))),
    (SIZE, WOOD,
     settings("Air: temperature and humidity", setting("dry month", "Dry month"),
              setting("damp month", "Damp month"), setting("air now", "While measuring"))),
    picture=True,
    command="gap",
    about="The gap left after the film, in the dry and in the damp month, and what to do.",
)  # fmt: skip
WHOSE = SumQuestion(
    "orphan", "Whose drawer is this", "A drawer has lost its label: which home is its own?",
    tells(orphan.whose, orphan.tell_orphans), (),
    (ORPHAN,
     SumEntry("It has found its home", (SumField("name", "Name", "the one with the burn"),),
              keeps(orphan.drop_orphan, "name")),
     SIZE),
    command="orphan", notes=ORPHAN, silent=("found",),
    about="Whose drawer is this: note one without a label, and ask for the home of each.",
)  # fmt: skip
SWAPS = SumQuestion(
    "swaps", "Swapped parts", "What are the fewest moves that bring all home?", _swapped,
)  # fmt: skip
MASK = SumQuestion(
    "mask", "Tape and paper", "How much tape and paper, and what takes it?",
    tells(masking.mask_paper, masking.tell_mask_paper), (),
    (settings("Your gun or brush", TOOL), CARCASE),
    command="mask-paper", about="Tape and paper, and what each covered face and opening takes.",
)  # fmt: skip
LEVEL = SumQuestion(
    "level", "Which foot rocks", "Which foot wants which shim?",
    tells(standing.level, standing.tell_level, "corner", "rock", in_units=True),
    (SumField("corner", "Foot that stands free", choices=("", *CORNERS),
              word=Word("--rock-at", "The foot that stands free: “rear left”.")),
     SumField("rock", "Gap under it", "1.5 mm",
              Word("--rock", "The gap under it: 1.5 mm."), us="1/16")),
    (LEG,),
    command="level",
    about="Which foot wants which shim: from leg heights measured, or from the rock at one foot.",
)  # fmt: skip
SYMMETRY = SumQuestion(
    "symmetry", "Symmetry", "Where do left and right not answer each other?", _mirrored,
    (SumField("other", "Against the piece", "tag of its twin", Word("other")),),
    (BREAK,),
    command="symmetry", notes=BREAK, asked_first=True,
    about="Where finish or pulls break the symmetry of a front, or of a pair.",
)  # fmt: skip
TIP = SumQuestion(
    "tip", "Tip-over", "Is it of the kind that the tip-over standard covers?",
    tells(standing.tip_over, standing.tell_tip_over, in_units=True), (),
    (MASS, OVERALL),
    command="tip-over", notes=MASS,
    about="The three scope tests of the tip-over standard for a piece that is sold; advice.",
)  # fmt: skip

COMMANDED = (MEASURED, WOOD, FIT, WHOSE, MASK, LEVEL, SYMMETRY, TIP)
