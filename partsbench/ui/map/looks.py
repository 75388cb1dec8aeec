"""How a part stands on the progress map, as a tile and in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from partsbench.core.key_words import word_of
from partsbench.core.naming import together
from partsbench.core.piece.codes import Family
from partsbench.core.shown_times import time_of_day
from partsbench.services.known.state import Where
from partsbench.services.shown.progress_map import PartProgress, PartStand, ProgressMap
from partsbench.ui.bench.looks import is_tile_of_its_own, named
from partsbench.ui.piece_view import Gauge, Rim, Sign, TileLook
from partsbench.ui.piece_view.keys import tile_key

NO_STEPS = "no finish"
SIGNS: Mapping[PartStand, Sign] = {
    PartStand.LATE: Sign.BANG,
    PartStand.HELD: Sign.BAR,
    PartStand.WAITS: Sign.GLASS,
    PartStand.DONE: Sign.CHECK,
}
RIMS: Mapping[Where, Rim] = {
    Where.OUT: Rim.GONE,
    Where.WRONG: Rim.GONE,
    Where.HOME: Rim.BACK,
}


def gauge_of(each: PartProgress) -> Gauge:
    """The level, sign and outline of a part; what has no finish path stays empty."""
    share = each.share if each.of else 0.0
    rim = RIMS.get(each.where, Rim.THERE)
    return Gauge(share, SIGNS.get(each.stand, Sign.NONE), rim, each.behind)


def map_looks(found: ProgressMap) -> dict[str, TileLook]:
    """The look of each tile of the front by its key."""
    return {
        tile_key(found.piece, each.part): TileLook(
            short, each.steps, description=told(found, each), gauge=_level_of(each)
        )
        for short, each in found.parts.items()
        if is_tile_of_its_own(each.part)
    }


def _level_of(each: PartProgress) -> Gauge | None:
    """None for the body: its frame round the openings is too thin to show a level."""
    return None if each.part.family is Family.CARCASE else gauge_of(each)


def loose_look(found: ProgressMap, group: Sequence[PartProgress]) -> TileLook:
    """The look of parts beside the front that stand alike."""
    first = group[0]
    description = told(found, first)
    if len(group) > 1:
        names = together(each.part.short for each in group)
        description = f"{len(group)} of a kind: {names}. {description}"
    return TileLook(
        together((each.part.short for each in group), 2),
        first.steps or NO_STEPS,
        description=description,
        gauge=gauge_of(first),
    )


def told(found: ProgressMap, each: PartProgress) -> str:
    """`drawer, row 2, left: 3 of 11 steps, Sand at 220 next, waits until Tue 14:20; out, rack 2`"""
    said = [f"{each.done} of {each.of} steps" if each.of else "", _stand_words(found, each)]
    where = ", ".join(filter(None, (word_of(each.where), each.place)))
    late = "behind most of its path" if each.behind else ""
    tail = "; ".join(filter(None, (where, late)))
    return f"{named(found.piece, each.part)}: {', '.join(filter(None, said))}; {tail}"


def _stand_words(found: ProgressMap, each: PartProgress) -> str:
    if not each.step:
        return word_of(each.stand)
    stand = word_of(each.stand)
    stand = f"{stand} until {time_of_day(each.until, found.at)}" if each.until else stand
    return f"{each.step} next, {stand}"
