"""Whose drawer is this: things without a label matched to the homes that stand open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from statistics import fmean

from partsbench.core.naming import few
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import opening_words
from partsbench.core.piece.surfaces import (
    BOTTOM_WIDTH,
    LEFT_HEIGHT,
    RIGHT_HEIGHT,
    TOP_WIDTH,
    named_sizes,
)
from partsbench.core.sums import units
from partsbench.core.sums.orphans import ODDS, Match, Matches, match
from partsbench.core.sums.plays import KnownSizes
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop, writing
from partsbench.services.sums.ground import SumGround, drawers, ground
from partsbench.services.sums.told import Told, told_of
from partsbench.store import figures
from partsbench.store.figures import OrphanRow, TypedSize
from partsbench.store.journal import change

LONGEST_NAME = 30
ALIKE = 1.6
"""An opening drawn this many times larger or smaller than the orphan is not asked about."""


@dataclass(frozen=True, slots=True)
class Orphans:
    """All orphans of a piece matched together, and where each open home is, in words."""

    measures: units.Measures
    found: Matches
    homes: Mapping[str, str]


@writing
def note_orphan(
    shop: Shop, tag: str, name: str, sizes: Mapping[str, str], marks: str = "", wear: str = ""
) -> Done | Refused:
    """A thing without a label: its sizes as typed (`width`, `left height`), old marks and wear.

    Noted again under its name, it is changed. Marks and wear are words separated by commas.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    called = " ".join(name.split())
    if not called or len(called) > LONGEST_NAME:
        return Refused(f"An orphan needs a name of 1 to {LONGEST_NAME} characters.")
    read = _read(on, sizes, called)
    if isinstance(read, Refused):
        return read
    sentence = f"{on.piece.codename}: noted {called}, a drawer without its label"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        figures.put(
            entry,
            "orphan",
            {"piece": on.key, "name": called},
            {"sizes": figures.sizes_text(read), "marks": marks.strip(), "wear": wear.strip()},
        )
    return Done(f"{sentence}.", tag)


@writing
def drop_orphan(shop: Shop, tag: str, name: str) -> Done | Refused:
    """It has found its home, or was none: it is no longer asked about."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    sentence = f"{on.piece.codename}: {name} is no orphan any more"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        if not figures.drop(entry, "orphan", {"piece": on.key, "name": name}):
            return Refused(f"No orphan “{name}” is noted for {on.piece.codename}.")
    return Done(f"{sentence}.", tag)


def whose(shop: Shop, tag: str) -> Orphans | Refused:
    """The likeliest home of each noted orphan, its runner-up, and what to measure next."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    noted = figures.orphans(shop.book, on.key)
    if not noted:
        return Refused(f"No orphan is noted for {on.piece.codename}: give a name and sizes.")
    state = piece_state(shop, on.piece)
    at_home = {s.part.short for s in state.parts.values() if s.where is Where.HOME}
    every = drawers(on.piece)
    open_to = [d for d in every if d.short not in at_home]
    if not open_to:
        return Refused(f"Every drawer of {on.piece.codename} is home: no home stands open.")
    known = [(_home(on, d), _drawer(on, d)) for d in every if d.short in at_home or on.of(d)]
    likely = [d for d in open_to if any(_may_hold(on, d, row) for row in noted)] or open_to
    found = match([_known(row) for row in noted], [_home(on, d) for d in likely], known)
    if isinstance(found, Refused):
        return found.told_in(on.measures)
    where = {}
    for drawer in open_to:
        opening = on.piece.front.opening(drawer.home.number)
        if opening:
            where[_home_name(drawer)] = opening_words(on.piece.front, opening)
    return Orphans(on.measures, found, where)


def tell_orphans(found: Orphans) -> Told:
    """One row for each orphan: its home, the runner-up, the margin, and what to measure."""
    rows = []
    for one in found.found.matches:
        margin = f"{one.margin:.1f}" if one.margin < 1000 else "no other"
        play = "" if one.play_mm is None else units.show_gap(one.play_mm, found.measures)
        where = found.homes.get(one.home or "", "")
        then = one.next_measurement.sentence if one.next_measurement else ""
        home = one.home or "none"
        clear = one.doubt or "yes"
        rows.append((one.orphan, home, where, play, clear, one.runner_up or "", margin, then))
    told = told_of(
        found.found,
        found.measures,
        head=("orphan", "home", "where", "play", "clear", "runner-up", "margin", "measure next"),
        rows=rows,
        sources=[f"clear is a home that is {ODDS:g} times as likely as all others together"],
        data={"orphans": [_data(m, found.measures) for m in found.found.matches],
              "ambiguous": [list(pair) for pair in found.found.ambiguous],
              **_learnt(found.found)},
    )  # fmt: skip
    return replace(told, lacks=few(told.lacks))


def _learnt(found: Matches) -> dict[str, object]:
    """The play by direction: from how many drawers, theirs on average, and how sure the next is."""
    plays = found.plays
    return {
        "play_from": {d: len(play.seen) for d, play in plays.items()},
        "usual_play_mm": {d: fmean(play.seen_mm) for d, play in plays.items()},
        "play_spread_mm": {d: play.spread_mm for d, play in plays.items()},
    }


def _data(one: Match, measures: units.Measures) -> dict[str, object]:
    following = one.next_measurement
    return {
        "orphan": one.orphan,
        "home": one.home,
        "runner_up": one.runner_up,
        "margin": one.margin if one.margin < 1000 else None,
        "told_apart": one.told_apart,
        "play_mm": one.play_mm,
        "next": following.sentence if following else None,
        "doubt": one.doubt.value if one.doubt else None,
        "sentence": one.say(measures),
    }


def _read(on: SumGround, sizes: Mapping[str, str], name: str) -> dict[str, TypedSize] | Refused:
    read: dict[str, TypedSize] = {}
    for what, text in sizes.items():
        if not text.strip():
            continue
        names = named_sizes(Family.DRAWER, what)
        if not names:
            return Refused(f"There is no {what} to measure of a drawer.")
        found = units.length(text, on.measures, f"{what} of {name}")
        if isinstance(found, Refused):
            return found.told_in(on.measures)
        if not 0 < found.value < 10_000:
            return Refused(f"{what} of {name}: {text.strip()} is no size of a drawer.")
        read |= dict.fromkeys(names, TypedSize(found.value, text.strip()))
    return read


def _known(row: OrphanRow) -> KnownSizes:
    sizes = {what: size.mm for what, size in row.sizes.items()}
    return KnownSizes(row.name, sizes, _words(row.marks), _words(row.wear))


def _home(on: SumGround, drawer: Part) -> KnownSizes:
    sizes = {what: size.mm for what, size in on.of_opening(drawer.home.number).items()}
    return KnownSizes(_home_name(drawer), sizes, _words(drawer.old_mark), _words(drawer.note))


def _drawer(on: SumGround, drawer: Part) -> KnownSizes:
    return KnownSizes(drawer.short, {what: size.mm for what, size in on.of(drawer).items()})


def _may_hold(on: SumGround, drawer: Part, row: OrphanRow) -> bool:
    """Whether an opening as drawn is anything like the orphan; drawings are seldom to the mm."""
    opening = on.piece.front.opening(drawer.home.number)
    box = on.piece.front.box(opening.span) if opening else (0.0, 0.0, 0.0, 0.0)
    own = row.sizes
    wide, high = own.get(TOP_WIDTH) or own.get(BOTTOM_WIDTH), own.get(LEFT_HEIGHT)
    return all(
        size is None or 1 / ALIKE <= drawn / size.mm <= ALIKE
        for drawn, size in ((box[2], wide), (box[3], high or own.get(RIGHT_HEIGHT)))
    )


def _home_name(drawer: Part) -> str:
    return f"opening {drawer.home.number}"


def _words(text: str) -> frozenset[str]:
    return frozenset(word.strip().lower() for word in text.split(",") if word.strip())
