"""Label stock and where each label comes to lie on it: pure geometry in mm from the top left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import isfinite
from typing import Any, get_type_hints

from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status, cite
from partsbench.trade import load

MOST_OFFSET = 10.0
"""mm; a printer that is further out wants its paper guides set."""

LARGEST_PAGE = 1200.0
MOST_ACROSS = 20
MOST_DOWN = 60
_ROUNDING = 0.01
"""mm; sizes converted from inches may touch or reach the edge by so much."""


@dataclass(frozen=True, slots=True)
class Stock:
    """A sheet of labels: page, first label's corner, label size, and pitch to the next, in mm."""

    name: str
    title: str
    page_width: float
    page_height: float
    columns: int
    rows: int
    label_width: float
    label_height: float
    left: float
    top: float
    pitch_x: float
    pitch_y: float
    cut_lines: bool = False
    source: str = ""
    status: str = ""
    symbols: int = 2
    """How often the code stands on a label: twice, or once on a small one."""
    hole: float = 0.0
    """Width at the left that is kept free for the hole of a tag."""

    @property
    def cited(self) -> str:
        """Where its sizes are from; empty for a stock that the shop described itself."""
        return cite(self.source, Status(self.status)) if self.status else self.source

    @property
    def per_page(self) -> int:
        return self.columns * self.rows

    @property
    def bottom(self) -> float:
        """Where the lowest row ends."""
        return self.top + (self.rows - 1) * self.pitch_y + self.label_height

    @property
    def right(self) -> float:
        return self.left + (self.columns - 1) * self.pitch_x + self.label_width


@dataclass(frozen=True, slots=True)
class LabelSpot:
    """Where a label lies: page from 1, and its top left corner in mm."""

    page: int
    x: float
    y: float


@cache
def stocks() -> dict[str, Stock]:
    """The stocks that come with the program, by name. The first one is the usual one."""
    found = {}
    for name, table in load("stocks").items():
        stock = read_stock(name, table)
        if isinstance(stock, Refused):
            raise ValueError(stock.sentence)
        found[name] = stock
    return found


def find_stock(name: str) -> Stock | Refused:
    """The stock of that name."""
    found = stocks().get(name)
    return found or Refused(f"There is no stock “{name}”; there are {', '.join(stocks())}.")


def read_stock(name: str, table: Mapping[str, Any]) -> Stock | Refused:
    """A stock written down as a table; its pitch is the label size where none is given."""
    kinds = {k: v for k, v in get_type_hints(Stock).items() if k != "name"}
    usual = {
        "title": name,
        "cut_lines": False,
        "source": "",
        "status": "",
        "symbols": 2,
        "hole": 0,
        "pitch_x": table.get("label_width"),
        "pitch_y": table.get("label_height"),
    }
    unknown = sorted(set(table) - set(kinds))
    if unknown:
        return Refused(f"Stock {name}: “{unknown[0]}” is not a word of a stock.")
    values: dict[str, Any] = {}
    for key, kind in kinds.items():
        value = table.get(key, usual.get(key))
        if not _is(value, kind):
            return Refused(f"Stock {name}: {key} must be {_KIND_WORDS[kind]}.")
        values[key] = kind(value)
    stock = Stock(name, **values)
    return stock_fault(stock) or stock


_KIND_WORDS = {
    str: "text in quotes",
    bool: "true or false",
    int: "a whole number",
    float: "a number of millimetres",
}


def _is(value: object, kind: type) -> bool:
    if kind is float:
        return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)
    return type(value) is kind


def stock_fault(stock: Stock) -> Refused | None:
    """Why labels of this stock would overlap or leave the page; None when they do not."""
    s = stock
    if s.status and s.status not in set(Status):
        return _fault(s, f"status “{s.status}” is none of {', '.join(Status)}")
    if not 1 <= s.columns <= MOST_ACROSS or not 1 <= s.rows <= MOST_DOWN:
        return _fault(s, f"1 to {MOST_ACROSS} columns and 1 to {MOST_DOWN} rows can be printed")
    if min(s.label_width, s.label_height) <= 0 or min(s.left, s.top) < 0:
        return _fault(s, "a size is not above 0, or a margin is below it")
    if s.symbols not in (1, 2):
        return _fault(s, "a label bears its code once or twice")
    if not 0 <= s.hole < s.label_width:
        return _fault(s, "the hole's margin is below 0 or wider than the label")
    if max(s.page_width, s.page_height) > LARGEST_PAGE:
        return _fault(s, f"a page of more than {LARGEST_PAGE:g} mm cannot be printed")
    if s.columns > 1 and s.pitch_x < s.label_width - _ROUNDING:
        return _fault(s, f"labels {s.label_width:g} mm wide overlap every {s.pitch_x:g} mm")
    if s.rows > 1 and s.pitch_y < s.label_height - _ROUNDING:
        return _fault(s, f"labels {s.label_height:g} mm high overlap every {s.pitch_y:g} mm")
    if s.right > s.page_width + _ROUNDING:
        return _fault(s, f"the last column ends at {s.right:g} of {s.page_width:g} mm")
    if s.bottom > s.page_height + _ROUNDING:
        return _fault(s, f"the last row ends at {s.bottom:g} of {s.page_height:g} mm")
    return None


def _fault(stock: Stock, reason: str) -> Refused:
    return Refused(f"Stock {stock.name}: {reason}.")


def offset_fault(offset: tuple[float, float]) -> Refused | None:
    """Why everything cannot be moved by that many mm right and down; None when it can."""
    if all(abs(v) <= MOST_OFFSET for v in offset):
        return None
    return Refused(f"A printer offset is {-MOST_OFFSET:g} to {MOST_OFFSET:g} mm each way.")


def cells(
    stock: Stock, count: int, start: int = 1, offset: tuple[float, float] = (0.0, 0.0)
) -> list[LabelSpot] | Refused:
    """A cell for each of `count` labels, row by row, from label `start` of the first page on."""
    if not 1 <= start <= stock.per_page:
        return Refused(
            f"A sheet of {stock.name} has labels 1 to {stock.per_page}; {start} is none of them."
        )
    fault = offset_fault(offset)
    if fault:
        return fault
    found = []
    for place in range(start - 1, start - 1 + count):
        page, on_page = divmod(place, stock.per_page)
        row, column = divmod(on_page, stock.columns)
        x = stock.left + column * stock.pitch_x + offset[0]
        y = stock.top + row * stock.pitch_y + offset[1]
        found.append(LabelSpot(page + 1, x, y))
    return found


def cut_positions(stock: Stock) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """x of the upright cuts and y of the level ones; one cut where labels touch."""
    across = _edges(stock.left, stock.pitch_x, stock.label_width, stock.columns)
    down = _edges(stock.top, stock.pitch_y, stock.label_height, stock.rows)
    return across, down


def _edges(first: float, pitch: float, size: float, count: int) -> tuple[float, ...]:
    both = [first + i * pitch + side for i in range(count) for side in (0.0, size)]
    return tuple(sorted({round(edge, 2) for edge in both}))
