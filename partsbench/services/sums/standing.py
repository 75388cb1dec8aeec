"""How a piece stands and looks: shims, tip-over, symmetry, swapped parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from partsbench.core.key_words import choice_word, place_word, word_of
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import OpeningKind
from partsbench.core.piece.parts import HomeKind
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.surfaces import (
    DEPTH,
    HEIGHT,
    OVERALL_HEIGHT,
    THICKNESS,
    opening_size,
)
from partsbench.core.sums import legs, symmetry, tipover, units
from partsbench.core.sums.legs import LegCorner, Shimming
from partsbench.core.sums.refusal import amount
from partsbench.core.sums.symmetry import Cell, Symmetry
from partsbench.core.sums.tipover import Space, Tipover, enclosed_dm3, say_limits
from partsbench.services.shop import Shop, writing
from partsbench.services.sums import shipped
from partsbench.services.sums.census import kind_of
from partsbench.services.sums.ground import SumGround, ground
from partsbench.services.sums.told import Told, good, told_of
from partsbench.store import figures
from partsbench.store.figures import TypedSize
from partsbench.store.journal import change

LIGHTEST_KG, HEAVIEST_KG = 0.1, 2_000.0
TAPE = "overall height, from the floor to the top of the piece"
SUMMED = "height: carcase, tallest leg and top together, as far as they are measured"
CORNERS = {
    "front left": LegCorner.FRONT_LEFT,
    "front right": LegCorner.FRONT_RIGHT,
    "rear left": LegCorner.REAR_LEFT,
    "rear right": LegCorner.REAR_RIGHT,
}


def level(shop: Shop, tag: str, rock_at: str = "", rock: str = "") -> Shimming | Refused:
    """Which foot wants which shim: from the measured legs, or from the gap under one foot."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    if rock_at or rock:
        if not rock_at.strip():
            return Refused(f"Say which foot stands free: {', '.join(CORNERS)}.")
        corner = CORNERS.get(" ".join(rock_at.lower().replace("-", " ").split()))
        if corner is None:
            return Refused(f"“{rock_at}” is no corner; there are {', '.join(CORNERS)}.")
        gap = units.length(rock, on.measures, "gap under the foot")
        if isinstance(gap, Refused):
            return gap.told_in(on.measures)
        return good(legs.from_rock(corner, gap.value), on.measures)
    heights = _leg_heights(on)
    missing = [place_word(c.value) for c in LegCorner if c not in heights]
    if missing:
        return Refused(
            f"Measure the leg heights ({', '.join(missing)}), or the rock under one foot."
        )
    return good(legs.from_heights(heights), on.measures)


def tell_level(found: Shimming, measures: units.Measures) -> Told:
    rows = [(s.corner.value, units.show_gap(s.mm, measures), "") for s in found.level]
    if found.steady:
        mm = units.show_gap(found.steady.mm, measures)
        rows.insert(0, (found.steady.corner.value, mm, "stops the rock"))
    data = {
        "steady": {"corner": found.steady.corner.value, "mm": found.steady.mm}
        if found.steady
        else None,
        "level": [{"corner": s.corner.value, "mm": s.mm} for s in found.level],
    }
    return told_of(found, measures, head=("foot", "shim", ""), rows=rows, data=data)


@writing
def weigh(shop: Shop, tag: str, text: str) -> Done | Refused:
    """What the whole piece weighs, as typed (`38 kg`, `84 lb`); the empty text forgets it.

    A bare number is kg, or lb by the switch: nobody weighs a chest in grams.
    """
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    row: dict[str, object] | None = None
    if text.strip():
        metric = on.measures is units.Measures.METRIC
        plain = isinstance(units.number(text, "mass"), float)
        read = units.weight(f"{text} kg" if plain and metric else text, on.measures, "mass")
        if isinstance(read, Refused):
            return read.told_in(on.measures)
        bad = amount("mass", read.value / 1000, least=LIGHTEST_KG, most=HEAVIEST_KG, unit="kg")
        if bad:
            return bad.told_in(on.measures)
        row = {"grams": read.value, "typed": text.strip()}
    mass = text.strip() or "forgotten"
    sentence = f"{on.piece.codename}: mass {mass}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        if row is None:
            figures.drop(entry, "weighed", {"piece": on.key})
        else:
            figures.put(entry, "weighed", {"piece": on.key}, row)
    return Done(f"{sentence}.", tag)


def tip_over(shop: Shop, tag: str) -> Tipover | Refused:
    """The three scope tests of ASTM F2057-23 for a piece that is sold; no claim of compliance."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    mass = figures.weight(shop.book, on.key)
    kg = mass.grams / 1000 if mass else None
    measured = _overall_height(on)
    high = measured or _stands_at_least(on)
    found = tipover.tipover(shipped.scope(), high, kg, _enclosed(on))
    if isinstance(found, Refused):
        return found.told_in(on.measures)
    if measured or high is None:
        return found
    # A sum misses castors and what else stands under or over it: low by the sum is not low.
    lacks, sources = (TAPE, *found.lacks), (*found.sources, SUMMED)
    return replace(found, tall=found.tall or None, at_least=True, lacks=lacks, sources=sources)


def tell_tip_over(found: Tipover, measures: units.Measures) -> Told:
    tests = {OVERALL_HEIGHT: found.tall, "mass": found.heavy, "enclosed volume": found.roomy}
    height = ""
    if found.height_mm is not None:
        height = units.show_length(found.height_mm, measures)
        height = f"at least {height}" if found.at_least else height
    own = (
        height,
        "" if found.mass_kg is None else units.show_mass(found.mass_kg, measures),
        "" if found.volume_dm3 is None else units.show_room(found.volume_dm3, measures),
    )
    words = {
        True: choice_word("reached"),
        False: choice_word("below"),
        None: choice_word("not known"),
    }
    rows = [
        (choice_word(name), is_, words[tests[name]]) for name, is_ in zip(tests, own, strict=True)
    ]
    told = told_of(
        found,
        measures,
        head=("threshold", "this piece", ""),
        rows=rows,
        valid=f"thresholds {say_limits(shipped.scope(), measures)}; no claim of compliance: the "
        "standard's tests are done on the piece",
        data={
            "covered": found.covered,
            "height": found.tall,
            "mass": found.heavy,
            "enclosed_volume": found.roomy,
            "height_mm": found.height_mm,
            "mass_kg": found.mass_kg,
            "volume_dm3": found.volume_dm3,
        },
    )
    return replace(told, caution="")  # the advice is in the sentence already


def pattern(shop: Shop, tag: str, other: str = "") -> Symmetry | Refused:
    """Breaks of a front's left-right symmetry, or of a pair that should mirror each other."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    mirrored = on.piece.mirror_of
    twin = other or (mirrored if mirrored and shop.piece(mirrored) else "")
    if not twin:
        return good(symmetry.front(_cells(shop, on.piece), _wanted(shop, on)))
    beside = ground(shop, twin)
    if isinstance(beside, Refused):
        return beside
    if beside.key == on.key:
        return Refused(f"{on.piece.codename} is no pair with itself: name the other piece.")
    ours, theirs = _cells(shop, on.piece), _cells(shop, beside.piece)
    wanted = {f"{one.piece.tag} {name}" for one in (on, beside) for name in _wanted(shop, one)}
    return good(symmetry.pair(_told_apart(ours, tag), _told_apart(theirs, twin), wanted))


@writing
def want_break(shop: Shop, tag: str, name: str, wanted: bool = True) -> Done | Refused:
    """A break of the symmetry that is meant, by the name of a cell in it; or no longer meant."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    cell = name.strip().upper()
    if cell not in {c.name for c in _cells(shop, on.piece)}:
        return Refused(f"{on.piece.codename} has no front “{name}”.")
    may, may_not = f"{cell} may differ", f"{cell} should not differ"
    sentence = f"{on.piece.codename}: {may if wanted else may_not}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        row = {"piece": on.key, "name": cell}
        if wanted:
            figures.put(entry, "wanted_break", row, {})
        else:
            figures.drop(entry, "wanted_break", row)
    return Done(f"{sentence}.", tag)


def tell_pattern(found: Symmetry) -> Told:
    rows = [(b.sentence, "") for b in found.breaks] + [(b.sentence, "wanted") for b in found.wanted]
    data = {"breaks": [b.sentence for b in found.breaks],
            "wanted": [b.sentence for b in found.wanted]}  # fmt: skip
    return told_of(found, head=("break", ""), rows=rows, data=data)


def _leg_heights(on: SumGround) -> Mapping[LegCorner, float]:
    found = {}
    for part in on.piece.present:
        size = on.of(part).get(HEIGHT)
        corner = CORNERS.get(part.home.spot) if part.home.kind is HomeKind.CORNER else None
        if part.family is Family.LEG and size and corner:
            found[corner] = size.mm
    return found


def _overall_height(on: SumGround) -> float | None:
    """As measured from the floor, mm; it is kept with the carcase."""
    return next((own[OVERALL_HEIGHT].mm for own in _carcase(on) if OVERALL_HEIGHT in own), None)


def _stands_at_least(on: SumGround) -> float | None:
    """The carcase on its tallest leg and under its top, mm, as far as they are measured."""
    carcase = next((own[HEIGHT].mm for own in _carcase(on) if HEIGHT in own), None)
    if carcase is None:
        return None
    tops = [on.of(p).get(THICKNESS) for p in on.piece.present if p.family is Family.TOP]
    leg = max(_leg_heights(on).values(), default=0.0)
    return carcase + leg + sum(size.mm for size in tops if size)


def _carcase(on: SumGround) -> list[Mapping[str, TypedSize]]:
    return [on.of(p) for p in on.piece.present if p.family is Family.CARCASE]


def _enclosed(on: SumGround) -> float | None:
    """What drawers and doors enclose, dm³; None while a depth is missing."""
    deep = next((own[DEPTH] for own in _carcase(on) if DEPTH in own), None)
    sizes = on.mm()
    spaces = []
    for opening in on.piece.front.openings:
        if opening.behind is not None or opening.kind is OpeningKind.FALSE_FRONT:
            continue
        occupant = on.piece.occupant(opening.number)
        own = on.of(occupant).get(DEPTH) if occupant else None
        depth = own or deep
        if depth is None:
            return None
        width, height = opening_size(on.piece, opening, sizes)
        spaces.append(Space(width, height, depth.mm, opening.kind is OpeningKind.DRAWER))
    found = enclosed_dm3(shipped.scope(), spaces)
    return None if isinstance(found, Refused) else found


def _cells(shop: Shop, piece: Piece) -> list[Cell]:
    found = []
    for opening in piece.front.openings:
        if opening.behind is not None:
            continue
        occupant = piece.occupant(opening.number)
        part = occupant or next(
            (p for p in piece.present
             if p.home.kind is HomeKind.STAYS and p.home.number == opening.number), None
        )  # fmt: skip
        face = (part.face("front") or next(iter(part.faces), None)) if part else None
        finish = shop.path(face.path).name if face else word_of(opening.kind)
        pulls = [k for c in piece.children(part.short) if (k := kind_of(c))] if part else []
        pull = ", ".join(f"{pulls.count(k)} {choice_word(k)}" for k in dict.fromkeys(pulls))
        box = piece.front.box(opening.span)
        found.append(Cell(part.short if part else f"H{opening.number}", *box, finish, pull))
    return found


def _wanted(shop: Shop, on: SumGround) -> set[str]:
    return figures.wanted_breaks(shop.book, on.key)


def _told_apart(cells: Sequence[Cell], tag: str) -> list[Cell]:
    return [Cell(f"{tag} {c.name}", c.x, c.y, c.width, c.height, c.finish, c.pull) for c in cells]
