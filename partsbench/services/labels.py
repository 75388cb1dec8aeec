"""Labels: made, read back from their own pages, handed out, and noted in the book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, next_generation, parse_short
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import label_order
from partsbench.services.bench import fix_numbers
from partsbench.services.shop import Shop, find_short, writing
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import change

if TYPE_CHECKING:
    from partsbench.paper.labels import LabelContent
    from partsbench.paper.sheets import Stock

COPIES_ON_A_LABEL = 2
USUAL_STOCK = "plain-a4"

LabelKey = tuple[Family, int, str]
"""Family, number and generation letter of a label."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of labels that was read back from its own pages and may be handed out."""

    tag: str
    pdf: bytes
    pages: int
    codes: tuple[str, ...]
    keys: tuple[LabelKey, ...]


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """All that is needed to draw a sheet of labels, read from the book beforehand."""

    tag: str
    contents: tuple[LabelContent, ...]
    stock: Stock
    start: int
    offset: tuple[float, float]
    note: str
    keys: tuple[LabelKey, ...]


@dataclass(frozen=True, slots=True)
class SheetShape:
    """A page of label stock in mm: its size, and x, y, width and height of each label in order."""

    width: float
    height: float
    labels: tuple[tuple[float, float, float, float], ...]


def stock_names() -> dict[str, str]:
    """Name → title of the label stocks known."""
    from partsbench.paper.sheets import stocks

    return {name: stock.title for name, stock in stocks().items()}


def stock_source(stock: str) -> str:
    """Where the sizes of a stock are from; "" for an unknown one."""
    from partsbench.paper.sheets import stocks

    found = stocks().get(stock)
    return found.cited if found else ""


def labels_per_page(stock: str) -> int:
    """How many labels a sheet of that stock has; 0 for an unknown one."""
    from partsbench.paper.sheets import stocks

    found = stocks().get(stock)
    return found.per_page if found else 0


def sheet_shape(stock: str) -> SheetShape | Refused:
    """Where the labels of a stock lie on its page."""
    from partsbench.paper.fault import PaperFault
    from partsbench.paper.sheets import cells, find_stock

    found = find_stock(stock)
    if isinstance(found, PaperFault):
        return Refused(found.sentence)
    places = cells(found, found.per_page)
    assert not isinstance(places, PaperFault)
    size = (found.label_width, found.label_height)
    return SheetShape(found.page_width, found.page_height, tuple((c.x, c.y, *size) for c in places))


def unprinted(shop: Shop, piece: Piece) -> list[str]:
    """Short numbers of the parts whose label was never handed out, in teardown order."""
    key = piece_rows.piece_id(shop.book, piece.tag)
    printed = records.labels_printed(shop.book, key) if key is not None else set()
    have = {(family, number) for family, number, _ in printed}
    return [p.short for p in label_order(piece) if (p.family, p.number) not in have]


def make_sheet(
    shop: Shop,
    tag: str,
    *,
    only: Sequence[str] = (),
    homes: bool = False,
    reprint: bool = False,
    stock: str = USUAL_STOCK,
    start: int = 1,
    offset: tuple[float, float] = (0.0, 0.0),
) -> Sheet | Refused:
    """Labels in teardown order: of all parts or of those in `only`, with home labels if asked.

    Drawn and read back here and now; a window does it in two: `plan_sheet`, then `draw_sheet`.
    """
    plan = plan_sheet(
        shop,
        tag,
        only=only,
        homes=homes,
        reprint=reprint,
        stock=stock,
        start=start,
        offset=offset,
    )
    return plan if isinstance(plan, Refused) else draw_sheet(plan)


def plan_sheet(
    shop: Shop,
    tag: str,
    *,
    only: Sequence[str] = (),
    homes: bool = False,
    reprint: bool = False,
    stock: str = USUAL_STOCK,
    start: int = 1,
    offset: tuple[float, float] = (0.0, 0.0),
) -> SheetPlan | Refused:
    """What a sheet will say, read from the book.

    `reprint` gives each the next generation letter, so that an old label that turns up is told.
    Nothing is noted in the book yet: `hand_out` does that.
    """
    from partsbench.paper.fault import PaperFault
    from partsbench.paper.labels import home_labels_of, labels_of
    from partsbench.paper.sheets import find_stock

    piece = shop.piece(tag)
    if piece is None:
        return Refused(f"There is no piece “{tag}” in this book.")
    chosen = _chosen(piece, only, homes)
    if isinstance(chosen, Refused):
        return chosen
    parts, numbers = chosen
    if reprint:
        moved = _next_generations(shop, piece, parts, numbers)
        if isinstance(moved, Refused):
            return moved
        piece = moved
        parts = [p for p in (piece.part(q.short) for q in parts) if p]
    found = find_stock(stock)
    if isinstance(found, PaperFault):
        return Refused(found.sentence)
    contents = (*labels_of(piece, parts), *home_labels_of(piece, numbers))
    note = "home labels" if not parts else "" if only else "teardown order"
    homes_now = dict(piece.home_generations)
    keys: list[LabelKey] = [(p.family, p.number, p.generation) for p in parts]
    keys += [(Family.HOME, n, homes_now.get(n, "A")) for n in numbers]
    return SheetPlan(tag, contents, found, start, offset, note, tuple(keys))


def draw_sheet(plan: SheetPlan) -> Sheet | Refused:
    """The sheet drawn and read back. It needs no book, so that a worker may do it."""
    from partsbench.paper.fault import PaperFault
    from partsbench.paper.sheet import label_sheet

    pdf = label_sheet(plan.contents, plan.stock, plan.start, plan.offset, plan.note)
    if isinstance(pdf, PaperFault):
        return Refused(pdf.sentence)
    codes = tuple(content.code for content in plan.contents)
    pages = _read_back(pdf, codes)
    if isinstance(pages, Refused):
        return pages
    return Sheet(plan.tag, pdf, pages, codes, plan.keys)


def page_pictures(pdf: bytes, dpi: int) -> list[bytes]:
    """Each page of a PDF as a grey PNG at `dpi`: for a preview, and for a printer."""
    from io import BytesIO

    from partsbench.reading.pictures import pdf_pages

    found = []
    for page in pdf_pages(pdf, dpi):
        out = BytesIO()
        page.save(out, "PNG", compress_level=1)
        found.append(out.getvalue())
    return found


@writing
def hand_out(shop: Shop, sheet: Sheet) -> Done | Refused:
    """Note in the book that a sheet was printed; from then on the numbers stay as they are."""
    piece = shop.piece(sheet.tag)
    if piece is None:
        return Refused(f"There is no piece “{sheet.tag}” in this book.")
    now = shop.clock()
    key = piece_rows.piece_id(shop.book, sheet.tag)
    assert key is not None
    count = len(sheet.keys)
    sentence = f"{piece.codename}: {count} label{'' if count == 1 else 's'} printed"
    with change(shop.book, sentence, now, shop.who, sheet.tag) as entry:
        fix_numbers(shop, entry, piece)
        have = records.labels_printed(shop.book, key)
        records.add_labels(entry, key, [k for k in sheet.keys if k not in have], now)
    return Done(f"{sentence}.", sheet.tag)


def _chosen(
    piece: Piece, only: Sequence[str], homes: bool
) -> tuple[list[Part], list[int]] | Refused:
    """The parts and the numbers of the homes to print labels for."""
    if not only:
        return list(label_order(piece)), list(piece.home_numbers()) if homes else []
    wanted: set[str] = set()
    numbers: list[int] = []
    for name in only:
        short = parse_short(name)
        if short and short[0] is Family.HOME:
            if short[1] not in piece.home_numbers():
                return Refused(f"{piece.codename} has no home “{name}”.")
            numbers.append(short[1])
            continue
        found = find_short(piece, name)
        if isinstance(found, Refused):
            return found
        wanted.add(found)
    parts = [p for p in label_order(piece) if p.short in wanted]
    if homes:
        numbers += [n for n in _homes_of(piece, parts) if n not in numbers]
    return parts, numbers


def _homes_of(piece: Piece, parts: Iterable[Part]) -> list[int]:
    numbers = [p.home.number for p in parts if p.home.number in piece.home_numbers()]
    return list(dict.fromkeys(numbers))


def _next_generations(
    shop: Shop, piece: Piece, parts: list[Part], numbers: list[int]
) -> Piece | Refused:
    """The piece as its labels will be: each printed one moves on a letter."""
    key = piece_rows.piece_id(shop.book, piece.tag)
    assert key is not None
    printed = {(family, number) for family, number, _ in records.labels_printed(shop.book, key)}
    for part in parts:
        if (part.family, part.number) not in printed:
            continue
        letter = next_generation(part.generation)
        if letter is None:
            return Refused(f"{part.short} was printed 25 times; retire it for a new number.")
        piece = piece.with_part(replace(part, generation=letter))
    homes = dict(piece.home_generations)
    for number in numbers:
        if (Family.HOME, number) in printed:
            letter = next_generation(homes.get(number, "A"))
            if letter is None:
                return Refused(f"The label of home {number} was printed 25 times.")
            homes[number] = letter
    return replace(piece, home_generations=tuple(sorted(homes.items())))


def _read_back(pdf: bytes, codes: Sequence[str]) -> int | Refused:
    """The number of pages, when an independent decoder reads every label's both codes on them."""
    from partsbench.reading.found import ReadingError
    from partsbench.reading.pages import read_back

    try:
        pages = read_back(pdf)
    except ReadingError as error:
        return Refused(f"The sheet could not be read back ({error}); it is not handed out.")
    read = Counter(code for page in pages for code in page.codes)
    wanted = Counter({code: COPIES_ON_A_LABEL * n for code, n in Counter(codes).items()})
    unread = wanted - read
    if unread:
        names = ", ".join(sorted(unread)[:6])
        return Refused(f"The sheet could not be read back ({names}); it is not handed out.")
    return len(pages)
