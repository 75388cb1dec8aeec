"""Paper that is written from the top down: the page is turned when what comes next has no room."""

from __future__ import annotations

from partsbench.paper.pen import Pen, printable, wrapped

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height in mm."""
LEADING = 1.4
"""From one line to the next, in sizes of its letters."""
SMALL = 2.9


class SheetColumn:
    """A pen and how far down the page it has come; mm.

    `continued` stands at the head of each page but the first.
    """

    def __init__(self, pen: Pen, margin: float, continued: str = "") -> None:
        self.pen, self.margin, self._continued = pen, margin, continued
        self.y = margin
        self.width = pen.width - 2 * margin

    def words(self, text: str, size: float, *, bold: bool = False, above: float = 0.0) -> None:
        """As many lines as the text needs, `above` mm below what is there."""
        lines = wrapped(printable(text), size, self.width, bold)
        self.room(above + len(lines[:1]) * size * LEADING)
        self.y += above
        for line in lines:
            self.room(size * LEADING)
            self.y += size * LEADING
            self.pen.text(self.margin, self.y, line, size, bold=bold)

    def room(self, height: float) -> None:
        """Turn the page unless so much is left of it."""
        if self.y + height > self.pen.height - self.margin:
            self.pen.next_page()
            self.y = self.margin
            if self._continued:
                self.pen.text(self.margin, self.margin, self._continued, SMALL)
                self.y += 4
