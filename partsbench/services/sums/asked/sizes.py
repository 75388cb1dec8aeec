"""What is measured and what it is made of: noted wherever an answer needs it."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop
from partsbench.services.sums import measure
from partsbench.services.sums.asked.bench import CUT
from partsbench.services.sums.asked.description import (
    Noting,
    SumEntry,
    SumField,
    SumQuestion,
    Values,
    Word,
)

FRONT = SumField("of", "Front", "D5")
BOX_SIZES = (
    "width", "height", "top width", "bottom width", "left height", "right height", "depth",
)  # fmt: skip


def _note_size(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    what, size, of = typed.get("what", ""), typed["size"], typed["of"]
    # The command has a word of its own to forget a size; in the window the empty field does.
    said = size or typed.get("forget") != ""
    if not of or not what or not said:
        return Refused("Say what was measured and how large: D5 width 598, H5 height 188.")
    return measure.measure(shop, tag, of, what, "" if typed.get("forget") else size)


def _note_of(what: str, part: str = "") -> Noting:
    """Keeps one size, or one of one part."""
    return lambda shop, tag, typed: measure.measure(
        shop, tag, part or typed["of"], what or typed["what"], typed["size"]
    )


def _note_wood(shop: Shop, tag: str, typed: Values) -> Done | Refused:
    return measure.set_wood(shop, tag, typed["of"].split(), typed["wood"], typed["cut"])


SIZE = SumEntry(
    "A size",
    (SumField("of", "Part or home", "D5, H5", Word("part")),
     SumField("what", "What", word=Word("what"), choices=BOX_SIZES),
     SumField("size", "Size", "598", Word("size"), us="23 1/2"),
     SumField("forget", word=Word("--forget", "Take this size back.", flag=True))),
    _note_size,
)  # fmt: skip
WOOD = SumEntry(
    "Its wood",
    (SumField("wood", "Wood", "cherry, black; MDF; pear 0.0025", Word("wood", required=True)),
     CUT,
     SumField("of", "Parts (all if empty)", "D5 D6", Word("parts", many=True))),
    _note_wood,
    command="wood",
    about="Say what parts, or the whole piece, are made of: a wood, a board (plywood, MDF, "
    "particleboard), “oak veneer on MDF”, or a wood with a coefficient of your own, “pear 0.0025”.",
)  # fmt: skip
THICKNESS = SumEntry(
    "Thickness of a front",
    (FRONT, SumField("size", "Thickness", "20", us="3/4")), _note_of("thickness"),
)  # fmt: skip
LEG = SumEntry(
    "Height of a leg",
    (SumField("of", "Leg", "L1"), SumField("size", "Height", "150", us="6")), _note_of("height"),
)  # fmt: skip
CARCASE = SumEntry(
    "Depth of the carcase",
    (SumField("what", "What", choices=("depth", "height", "width")),
     SumField("size", "Size", "450", us="17 3/4")), _note_of("", "C1"),
)  # fmt: skip
OVERALL = SumEntry(
    "Overall height (floor to top), and depth",
    (SumField("what", "What", choices=("overall height", "depth")),
     SumField("size", "Size", "950", us="37 1/2")), _note_of("", "C1"),
)  # fmt: skip


MEASURED = SumQuestion(
    "measured", "", "",
    lambda shop, tag, _: measure.measured(shop, tag),
    command="measure", notes=SIZE, silent=("of",),
    about='Note a size of a part or home as typed (`D5 width "23 1/2"`), or list the sizes taken.',
)  # fmt: skip
