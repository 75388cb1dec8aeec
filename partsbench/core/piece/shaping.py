"""Changes of a front's shape. Each gives a new front, or the fault that stands in the way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from enum import StrEnum
from functools import reduce
from itertools import pairwise

from partsbench.core.outcomes import Refused
from partsbench.core.piece.front import (
    SMALLEST_CELL,
    SMALLEST_OPENING,
    Front,
    Opening,
    OpeningKind,
    Span,
    check,
    lines_of,
)
from partsbench.core.said_often import no_opening


class Axis(StrEnum):
    """Which way: columns stand side by side, rows above one another."""

    COLUMNS = "columns"
    ROWS = "rows"


def split(front: Front, number: int, axis: Axis, parts: int = 2) -> Front | Refused:
    """Divide an opening into `parts` equal ones; the first keeps the number.

    Where the grid has no line at a wanted place, one is added; every other opening keeps its size.
    """
    opening = front.opening(number)
    if opening is None:
        return Refused(no_opening(number))
    if parts < 2:
        return Refused("An opening is divided into two or more.")
    sizes = getattr(front, axis.value)
    first, last = _reach(opening.span, axis)
    whole = sum(sizes[first:last])
    if whole / parts < SMALLEST_OPENING:
        return Refused(
            f"Opening {number} is {whole:.0f} mm; {parts} parts of it would be too small to draw."
        )
    start = sum(sizes[:first])
    cut = front
    for place in range(1, parts):
        cut = _with_line(cut, axis, start + whole * place / parts)
    lines = _lines(cut, axis)
    number_of = [number, *range(cut.next_number(), cut.next_number() + parts - 1)]
    now = cut.opening(number)
    assert now is not None
    pieces = []
    for place in range(parts):
        a = _index(lines, start + whole * place / parts)
        b = _index(lines, start + whole * (place + 1) / parts)
        pieces.append(replace(now, number=number_of[place], span=_along(now.span, axis, a, b)))
    kept = [o for o in cut.openings if o.number != number]
    at = [o.number for o in cut.openings].index(number)
    return _checked(replace(cut, openings=(*kept[:at], *pieces, *kept[at:])))


def merge(front: Front, numbers: Sequence[int]) -> Front | Refused:
    """One opening from several that make a rectangle; it keeps the first number and kind."""
    chosen = [o for o in front.openings if o.number in set(numbers)]
    if len(chosen) < 2 or len(chosen) != len(set(numbers)):
        return Refused("Choose two or more openings to join.")
    if len({o.behind for o in chosen}) > 1:
        return Refused("An opening in front of a door and one behind it cannot be joined.")
    if any(front.behind(o.number) for o in chosen[1:]):
        return Refused("Take out what stands behind the doors first.")
    whole = reduce(Span.joined, (o.span for o in chosen))
    if sum(o.span.columns * o.span.rows for o in chosen) != whole.columns * whole.rows:
        names = ", ".join(str(o.number) for o in chosen)
        return Refused(f"Openings {names} do not make one rectangle.")
    joined = replace(chosen[0], span=whole)
    gone = {o.number for o in chosen[1:]}
    rest = replace(front, openings=tuple(o for o in front.openings if o.number not in gone))
    return without_idle_lines(rest.with_opening(joined))


def resize(front: Front, axis: Axis, place: int, size: float) -> Front | Refused:
    """Set one column width or row height (mm); the whole grows or shrinks with it."""
    sizes = list(getattr(front, axis.value))
    if not 0 <= place < len(sizes):
        return Refused(f"There is no {axis.value[:-1]} {place + 1}.")
    sizes[place] = size
    return _checked(_with_sizes(front, axis, sizes))


def resize_opening(front: Front, number: int, axis: Axis, size: float) -> Front | Refused:
    """Set an opening's width or height (mm): its columns or rows grow or shrink in step."""
    opening = front.opening(number)
    if opening is None:
        return Refused(no_opening(number))
    first, last = _reach(opening.span, axis)
    sizes = list(getattr(front, axis.value))
    by = size / sum(sizes[first:last])
    sizes[first:last] = [one * by for one in sizes[first:last]]
    return _checked(_with_sizes(front, axis, sizes))


def move_border(front: Front, axis: Axis, place: int, by: float) -> Front | Refused:
    """Shift the line after column or row `place` by `by` mm; the whole keeps its size."""
    sizes = list(getattr(front, axis.value))
    if not 0 <= place < len(sizes) - 1:
        return Refused("The outer edge is moved by the size of the whole front.")
    sizes[place] += by
    sizes[place + 1] -= by
    return _checked(_with_sizes(front, axis, sizes))


def scale(front: Front, width: float, height: float) -> Front | Refused:
    """The same front at another size of the whole (mm)."""
    wide, high = width / front.width, height / front.height
    return _checked(
        replace(
            front,
            columns=tuple(c * wide for c in front.columns),
            rows=tuple(r * high for r in front.rows),
        )
    )


def set_kind(front: Front, number: int, kind: OpeningKind) -> Front | Refused:
    """Make an opening a drawer, door, open shelf, false front or empty."""
    opening = front.opening(number)
    if opening is None:
        return Refused(no_opening(number))
    if kind is not OpeningKind.DOOR and front.behind(number):
        hidden = ", ".join(str(o.number) for o in front.behind(number))
        return Refused(f"Openings {hidden} stand behind door {number}; take them out first.")
    if kind is OpeningKind.DOOR and opening.behind is not None:
        return Refused("A door behind a door is more than a front can hold.")
    return front.with_opening(replace(opening, kind=kind))


def put_behind(front: Front, door: int, counts: Sequence[int]) -> Front | Refused:
    """Drawers behind a door: how many in each row, top to bottom, in place of any there now."""
    host = front.opening(door)
    if host is None or host.kind is not OpeningKind.DOOR:
        return Refused(f"Opening {door} is no door, so nothing can stand behind it.")
    if any(count < 1 for count in counts):
        return Refused("Each row behind a door has one drawer or more.")
    now = replace(front, openings=tuple(o for o in front.openings if o.behind != door))
    now = without_idle_lines(now)
    host = now.opening(door)
    assert host is not None
    if not counts:
        return now
    inner = Opening(max(front.next_number(), now.next_number()), host.span, behind=door)
    now = replace(now, openings=(*now.openings, inner))
    rows = [inner.number]
    if len(counts) > 1:
        before = {o.number for o in now.openings}
        cut = split(now, inner.number, Axis.ROWS, len(counts))
        if isinstance(cut, Refused):
            return cut
        now = cut
        rows += sorted({o.number for o in now.openings} - before)
    for number, count in zip(rows, counts, strict=True):
        if count > 1:
            cut = split(now, number, Axis.COLUMNS, count)
            if isinstance(cut, Refused):
                return cut
            now = cut
    return now


def remove(front: Front, number: int) -> Front | Refused:
    """Take an opening out: the place becomes solid front. What it hides goes with it."""
    if front.opening(number) is None:
        return Refused(no_opening(number))
    left = tuple(o for o in front.openings if number not in (o.number, o.behind))
    return without_idle_lines(replace(front, openings=left))


def fill(front: Front) -> Front | Refused:
    """A drawer in each place that is solid front: the way back from taking openings out."""
    free = {(column, row) for column in range(len(front.columns)) for row in range(len(front.rows))}
    for opening in front.openings:
        if opening.behind is None:
            free -= _cells(opening.span)
    if not free:
        return Refused("No place of the front is solid, so nothing can be filled.")
    now = front
    while free:
        span = _largest_from(*min(free, key=_by_row), free)
        free -= _cells(span)
        now = replace(now, openings=(*now.openings, Opening(now.next_number(), span)))
    return _checked(without_idle_lines(now))


def without_idle_lines(front: Front) -> Front:
    """The same front without grid lines that no opening begins or ends at."""
    return reduce(_without_idle_lines, Axis, front)


def mirrored(front: Front) -> Front:
    """The front as its twin has it: left and right exchanged."""
    across = len(front.columns)
    openings = tuple(
        replace(o, span=replace(o.span, column=across - o.span.right)) for o in front.openings
    )
    return Front(tuple(reversed(front.columns)), front.rows, openings)


def _without_idle_lines(front: Front, axis: Axis) -> Front:
    lines = _lines(front, axis)
    used = {0, len(lines) - 1}
    for opening in front.openings:
        used |= set(_reach(opening.span, axis))
    kept = sorted(used)
    if len(kept) == len(lines):
        return front
    sizes = getattr(front, axis.value)
    new = {old: place for place, old in enumerate(kept)}
    openings = []
    for opening in front.openings:
        first, last = _reach(opening.span, axis)
        openings.append(replace(opening, span=_along(opening.span, axis, new[first], new[last])))
    whole = [sum(sizes[a:b]) for a, b in pairwise(kept)]
    return replace(_with_sizes(front, axis, whole), openings=tuple(openings))


def _cells(span: Span) -> set[tuple[int, int]]:
    return {
        (column, row)
        for column in range(span.column, span.right)
        for row in range(span.row, span.bottom)
    }


def _by_row(cell: tuple[int, int]) -> tuple[int, int]:
    return cell[1], cell[0]


def _largest_from(column: int, row: int, free: set[tuple[int, int]]) -> Span:
    """As far right as cells are free, then as far down as the whole width is."""
    span = Span(column, row)
    while (span.right, row) in free:
        span = replace(span, columns=span.columns + 1)
    while _cells(replace(span, row=span.bottom, rows=1)) <= free:
        span = replace(span, rows=span.rows + 1)
    return span


def _checked(front: Front) -> Front | Refused:
    return next(iter(check(front)), front)


def _with_sizes(front: Front, axis: Axis, sizes: Sequence[float]) -> Front:
    return (
        replace(front, columns=tuple(sizes))
        if axis is Axis.COLUMNS
        else replace(front, rows=tuple(sizes))
    )


def _reach(span: Span, axis: Axis) -> tuple[int, int]:
    return (span.column, span.right) if axis is Axis.COLUMNS else (span.row, span.bottom)


def _along(span: Span, axis: Axis, first: int, last: int) -> Span:
    if axis is Axis.COLUMNS:
        return replace(span, column=first, columns=last - first)
    return replace(span, row=first, rows=last - first)


def _lines(front: Front, axis: Axis) -> tuple[float, ...]:
    return lines_of(getattr(front, axis.value))


def _index(lines: Sequence[float], where: float) -> int:
    return min(range(len(lines)), key=lambda i: abs(lines[i] - where))


def _with_line(front: Front, axis: Axis, where: float) -> Front:
    """The same front with a grid line `where` mm from the start; every opening keeps its box."""
    lines = _lines(front, axis)
    if min(abs(line - where) for line in lines) < SMALLEST_CELL:
        return front
    cut = next(i for i in range(len(lines) - 1) if lines[i] < where < lines[i + 1])
    sizes = list(getattr(front, axis.value))
    sizes[cut : cut + 1] = [where - lines[cut], lines[cut + 1] - where]
    openings = []
    for opening in front.openings:
        first, last = _reach(opening.span, axis)
        moved = (first + (first > cut), last + (last > cut))
        openings.append(replace(opening, span=_along(opening.span, axis, *moved)))
    return replace(_with_sizes(front, axis, sizes), openings=tuple(openings))
