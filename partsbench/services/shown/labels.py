"""Labels: made, read back from their own pages, handed out, and noted in the book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from partsbench.core.naming import few
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, next_generation, parse_short
from partsbench.core.piece.parts import LabelSize, Part, label_size
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import label_order
from partsbench.core.said_often import no_piece, not_read_back
from partsbench.core.wording import plural
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, find_short, writing
from partsbench.services.sums.habits import habits, set_habit
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import change

if TYPE_CHECKING:
    from partsbench.paper.labels import LabelContent
    from partsbench.paper.sheet import Run
    from partsbench.paper.sheets import Stock

USUAL_STOCK = "plain-a4"
BY_SIZE = {
    f"by-size-{paper}": {
        LabelSize.STICK: f"plain-{paper}",
        LabelSize.SMALL: f"small-{paper}",
        LabelSize.TAG: f"tags-{paper}",
    }
    for paper in ("a4", "letter")
}
"""Plain paper on which each part gets a label of its size, one size after the other."""
_ON_SCREEN = "small-a4"
_BY_SIZE_TITLES = {
    "by-size-a4": "A4 plain paper, each part its size",
    "by-size-letter": "US Letter plain paper, each part its size",
}

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
    runs: tuple[Run, ...]
    offset: tuple[float, float]
    note: str
    keys: tuple[LabelKey, ...]

    @property
    def contents(self) -> tuple[LabelContent, ...]:
        """Every label, in the order of the pages."""
        return tuple(content for run in self.runs for content in run.contents)


@dataclass(frozen=True, slots=True)
class SheetShape:
    """A page of label stock in mm: its size, and x, y, width and height of each label in order."""

    width: float
    height: float
    labels: tuple[tuple[float, float, float, float], ...]


def stock_names() -> dict[str, str]:
    """Name → title of the label stocks known."""
    from partsbench.paper.sheets import stocks

    return _BY_SIZE_TITLES | {name: stock.title for name, stock in stocks().items()}


def usual_stock(shop: Shop) -> str:
    """Plain paper of the shop's own size, each part its size of label."""
    return f"by-size-{habits(shop).word('paper', 'a4')}"


def usual_offset(shop: Shop) -> tuple[float, float]:
    """How far right and down this shop's printer wants everything moved, mm."""
    known = habits(shop)
    return known.number("offset right", 0.0), known.number("offset down", 0.0)


def keep_offset(shop: Shop, offset: tuple[float, float]) -> Done | Refused:
    """Remember it for the next sheet; nothing is noted when it is as it was."""
    for name, mm, usual in zip(
        ("offset right", "offset down"), offset, usual_offset(shop), strict=True
    ):
        if mm != usual:
            kept = set_habit(shop, name, f"{mm:g} mm" if mm else "")
            if isinstance(kept, Refused):
                return kept
    return Done("The printer's offset is kept.")


def stock_source(stock: str) -> str:
    """Where the sizes of a stock are from; "" for an unknown one."""
    from partsbench.paper.sheets import stocks

    found = stocks().get(stock)
    return found.cited if found else ""


def labels_per_page(stock: str) -> int:
    """How many labels a sheet of that stock has; 0 for an unknown one."""
    from partsbench.paper.sheets import stocks

    found = stocks().get(_first_stock(stock))
    return found.per_page if found else 0


def sheet_shape(stock: str) -> SheetShape | Refused:
    """Where the labels of a stock lie on its page."""
    from partsbench.paper.sheets import find_stock

    found = find_stock(_first_stock(stock))
    if isinstance(found, Refused):
        return found
    return shape_of(found)


def shape_of(found: Stock) -> SheetShape:
    """Where the labels of that stock lie on its page."""
    from partsbench.paper.sheets import cells

    places = cells(found, found.per_page)
    assert not isinstance(places, Refused)
    size = (found.label_width, found.label_height)
    return SheetShape(found.page_width, found.page_height, tuple((c.x, c.y, *size) for c in places))


def _first_stock(name: str) -> str:
    """The stock of that name; of plain paper by size, the one of its first labels."""
    return BY_SIZE[name][LabelSize.STICK] if name in BY_SIZE else name


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
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
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
    runs = _runs(piece, parts, numbers, stock, start)
    if isinstance(runs, Refused):
        return runs
    note = "home labels" if not parts else "" if only else "teardown order"
    homes_now = dict(piece.home_generations)
    keys: list[LabelKey] = [(p.family, p.number, p.generation) for p in parts]
    keys += [(Family.HOME, n, homes_now.get(n, "A")) for n in numbers]
    return SheetPlan(tag, runs, offset, note, tuple(keys))


def _runs(
    piece: Piece, parts: Sequence[Part], numbers: Sequence[int], stock: str, start: int
) -> tuple[Run, ...] | Refused:
    """The labels on one stock, or on one after the other by their size."""
    from partsbench.paper.labels import home_labels_of, labels_of
    from partsbench.paper.sheet import Run
    from partsbench.paper.sheets import find_stock

    sizes = BY_SIZE.get(stock, {LabelSize.STICK: stock})
    drawn = dict(zip(parts, labels_of(piece, parts), strict=True))
    homes = home_labels_of(piece, numbers)
    runs: list[Run] = []
    for size, name in sizes.items():
        found = find_stock(name)
        if isinstance(found, Refused):
            return found
        mine = [
            label for part, label in drawn.items() if len(sizes) == 1 or label_size(part) is size
        ]
        mine += homes if size is LabelSize.STICK else []
        if mine:
            runs.append(Run(tuple(mine), found, 1 if runs else start))
    return tuple(runs)


def draw_sheet(plan: SheetPlan) -> Sheet | Refused:
    """The sheet drawn and read back. It needs no book, so that a worker may do it."""
    from partsbench.paper.sheet import label_sheets

    pdf = label_sheets(plan.runs, plan.offset, plan.note)
    if isinstance(pdf, Refused):
        return pdf
    wanted = Counter({c.code: run.stock.symbols for run in plan.runs for c in run.contents})
    pages = _read_back(pdf, wanted)
    if isinstance(pages, Refused):
        return pages
    codes = tuple(content.code for content in plan.contents)
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


def label_pictures(shop: Shop, tag: str, names: Sequence[str], dpi: int = 120) -> dict[str, bytes]:
    """Code → its small label as PNG, to be shown on a screen; {} when there is none of a name."""
    from io import BytesIO

    from PIL import Image

    plan = plan_sheet(shop, tag, only=names, stock=_ON_SCREEN)
    sheet = draw_sheet(plan) if isinstance(plan, SheetPlan) and plan.contents else None
    if not isinstance(sheet, Sheet):
        return {}
    shape = sheet_shape(_ON_SCREEN)
    assert isinstance(shape, SheetShape)
    per_mm = dpi / 25.4
    found: dict[str, bytes] = {}
    codes = iter(sheet.codes)
    for page in page_pictures(sheet.pdf, dpi):
        image = Image.open(BytesIO(page))
        for (x, y, wide, high), code in zip(shape.labels, codes, strict=False):
            edges = (x + 0.5, y + 0.5, x + wide - 0.5, y + high - 0.5)
            out = BytesIO()
            left, top, right, low = (round(edge * per_mm) for edge in edges)
            image.crop((left, top, right, low)).save(out, "PNG")
            found[code] = out.getvalue()
    return found


@writing
def hand_out(shop: Shop, sheet: Sheet) -> Done | Refused:
    """Note in the book that a sheet was printed; from then on the numbers stay as they are."""
    piece = shop.piece(sheet.tag)
    if piece is None:
        return Refused(no_piece(sheet.tag))
    now = shop.clock()
    key = piece_rows.piece_id(shop.book, sheet.tag)
    assert key is not None
    count = len(sheet.keys)
    printed = plural(count, "1 label printed", f"{count} labels printed")
    sentence = f"{piece.codename}: {printed}"
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


def _read_back(pdf: bytes, wanted: Counter[str]) -> int | Refused:
    """The number of pages, when an independent decoder reads every code as often as it is drawn."""
    from partsbench.reading.found import ReadingError
    from partsbench.reading.pages import read_back

    try:
        pages = read_back(pdf)
    except ReadingError as error:
        return Refused(not_read_back(error))
    read = Counter(code for page in pages for code in page.codes)
    unread = wanted - read
    if unread:
        names = ", ".join(few(sorted(unread)))
        return Refused(f"The sheet could not be read back ({names}); it is not handed out.")
    return len(pages)
