"""The pages of the window as one table: rail, menu, keys and the stack of pages use it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PageEntry:
    """A page of the window. `where` is its module and class, imported when first shown."""

    key: str
    title: str
    tip: str
    icon: str
    where: str
    shortcut: str


PAGES = (
    PageEntry(
        "start",
        "New piece",
        "Take in a piece: how many drawers in each row",
        "start",
        "partsbench.ui.pages.start_page:StartPage",
        "Ctrl+1",
    ),
    PageEntry(
        "layout",
        "Layout",
        "Draw the front and brush finish paths on",
        "layout",
        "partsbench.ui.pages.layout_page:LayoutPage",
        "Ctrl+2",
    ),
    PageEntry(
        "teardown",
        "Teardown",
        "Take the piece apart: a scan says a part is out",
        "teardown",
        "partsbench.ui.pages.teardown_page:TeardownPage",
        "Ctrl+3",
    ),
    PageEntry(
        "bench",
        "Bench",
        "Scan a part: what it is, its next step, and recording it",
        "bench",
        "partsbench.ui.pages.bench_page:BenchPage",
        "Ctrl+4",
    ),
    PageEntry(
        "load",
        "Load",
        "Spray loads: what one filling of the gun coats, and recording it",
        "load",
        "partsbench.ui.pages.load_page:LoadPage",
        "Ctrl+5",
    ),
    PageEntry(
        "return",
        "Return",
        "Bring every part back to its own home",
        "return",
        "partsbench.ui.pages.return_page:ReturnPage",
        "Ctrl+6",
    ),
    PageEntry(
        "day",
        "Day",
        "What to do now and why, the waits, and what is still open",
        "day",
        "partsbench.ui.pages.day_page:DayPage",
        "Ctrl+7",
    ),
    PageEntry(
        "pieces",
        "Pieces",
        "All pieces of this book",
        "pieces",
        "partsbench.ui.pages.pieces_page:PiecesPage",
        "Ctrl+8",
    ),
    PageEntry(
        "sums",
        "Sums",
        "Will it still fit, whose drawer is this, which pulls, how much to mix",
        "sums",
        "partsbench.ui.pages.sums_page:SumsPage",
        "Ctrl+9",
    ),
    PageEntry(
        "ledger",
        "Ledger",
        "Hours, costs, offers, the floor price, and the handover",
        "ledger",
        "partsbench.ui.pages.ledger_page:LedgerPage",
        "Ctrl+0",
    ),
    PageEntry(
        "map",
        "Map",
        "How far every part is, and who is behind",
        "map",
        "partsbench.ui.pages.map_page:MapPage",
        "Ctrl+Shift+M",
    ),
    PageEntry(
        "week",
        "Week",
        "The plan of the shop: when what is done, by whom, and what if",
        "week",
        "partsbench.ui.pages.week_page:WeekPage",
        "Ctrl+Shift+K",
    ),
)
