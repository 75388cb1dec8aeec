"""The proof sheet as PDF: the piece with every home ticked, then part by part, then signatures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from partsbench.core.key_words import fit_word
from partsbench.core.piece.drawing import Shape, ShapeKind
from partsbench.core.wording import clauses, notes
from partsbench.paper.column import PAPERS
from partsbench.paper.drawing import DrawnMark, ShapeLook, as_it_is, draw_lines, draw_marks, placed
from partsbench.paper.layout import Box
from partsbench.paper.pen import Pen, all_printable, printable, wrapped
from partsbench.paper.proof import (
    Back,
    ProofContent,
    ProofFace,
    ProofPart,
    client_copy,
    client_verdict,
    face_lines,
    proof_drawing,
    proof_marks,
    reservations,
    verdict,
)

MARGIN = 16.0
BODY = 3.3
LEADING = 1.42
DRAWING_HEIGHT, TALL_DRAWING_HEIGHT = 82.0, 128.0
FOOT = 12.0
ROOM_TO_SIGN = 14.0
SIGNATURES = ROOM_TO_SIGN + 6.0
WITH_SIGNATURES = 3
"""So many last rows go along to a page of signatures: nobody signs a page without parts."""
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_COLUMNS = (0.0, 0.17, 0.43, 0.63, 0.89)
"""Where the columns of the table begin, as shares of its width."""

_HEADS = ("part", "home", "how it was told", "when, by whom", "fit")
_DECLARED = "This sheet says what was recorded, when and by whom. It tests nothing by itself."
_CLIENT_HEADS = ("part of your piece", "its place", "how we know", "when, by whom", "how it runs")
_CLIENT_LEAD = (
    "Your piece was taken apart for its new finish, and each part bore a label. This sheet shows "
    "where each part is now, how we know, and its last coat."
)
_CLIENT_ALL_BACK = "Each went back to the place that it had worn into."
_CLIENT_DECLARED = (
    "Keep this sheet with the piece: should a part ever come out, it shows where it goes. It says "
    "what was recorded, when and by whom; it tests nothing by itself."
)


@dataclass(frozen=True, slots=True)
class SheetRow:
    """Something that stays together on one page: its height in mm, and how to draw it at y."""

    height: float
    draw: Callable[[float], None]
    in_table: bool = False


def proof_sheet(content: ProofContent, paper: str = "a4", *, for_client: bool = False) -> bytes:
    """The proof as PDF, on as many pages as it takes; the same content gives the same bytes.

    `for_client` leaves hidden parts off. KeyError for a paper that is not in PAPERS.
    """
    content = client_copy(content) if for_client else content
    page = PAPERS[paper]
    pen = Pen(*page, f"Proof of return: {content.codename} {content.tag}")
    writer = _Writer(pen, content, for_client)
    pages = _paginated(writer.rows(), page[1] - 2 * MARGIN - FOOT, writer.table_head())
    for number, rows in enumerate(pages, 1):
        if number > 1:
            pen.next_page()
        y = MARGIN
        for row in rows:
            row.draw(y)
            y += row.height
        writer.foot(number, len(pages))
    return pen.finish()


def _paginated(rows: list[SheetRow], room: float, head: SheetRow) -> list[list[SheetRow]]:
    """Rows filled into pages; the head of the table stands again where a page breaks it."""
    pages: list[list[SheetRow]] = [[]]
    used = 0.0
    for row in rows:
        if pages[-1] and used + row.height > room:
            pages.append([head] if row.in_table else [])
            used = sum(r.height for r in pages[-1])
        pages[-1].append(row)
        used += row.height
    if len(pages) > 1 and len(pages[-1]) == 1:
        pages[-2:] = _with_company(pages[-2], pages[-1], room, head)
    return pages


def _with_company(
    before: list[SheetRow], last: list[SheetRow], room: float, head: SheetRow
) -> list[list[SheetRow]]:
    """The last rows of the table brought over to what else stood alone on a page."""
    moved = before[-WITH_SIGNATURES:]
    stay = before[: len(before) - len(moved)]
    fits = head.height + sum(r.height for r in (*moved, *last)) <= room
    if not fits or not all(r.in_table for r in (*stay[-1:], *moved)):
        return [before, last]
    return [stay, [head, *moved, *last]]


class _Writer:
    """Makes the rows of one proof, and draws them when their page is reached."""

    def __init__(self, pen: Pen, content: ProofContent, for_client: bool) -> None:
        self.pen, self.content, self.for_client = pen, content, for_client
        self.width = pen.width - 2 * MARGIN

    def rows(self) -> list[SheetRow]:
        content = self.content
        found = [SheetRow(21.0, self.heading)]
        complete, sentence = verdict(content)
        if self.for_client:
            told = client_verdict(content)
            lead = f"{_CLIENT_LEAD} {_CLIENT_ALL_BACK}" if told else _CLIENT_LEAD
            found.append(self.paragraph(lead, BODY + 0.4))
            sentence = told or sentence
        found.append(self.boxed(sentence, complete))
        found += [self.paragraph(told, BODY + 0.4, bold=True) for told in reservations(content)]
        found += [SheetRow(self.drawing_height, self.drawing), SheetRow(9.0, self.legend)]
        found.append(self.table_head())
        found += [self.part(part) for part in content.parts]
        return [*found, self.ending()]

    @property
    def drawing_height(self) -> float:
        tall = self.content.drawing.height > 1.6 * self.content.drawing.width
        return TALL_DRAWING_HEIGHT if tall else DRAWING_HEIGHT

    def heading(self, y: float) -> None:
        content, pen = self.content, self.pen
        title = "Your piece, part by part" if self.for_client else "Proof of return"
        self.line(y + 8, title, 8.5, bold=True)
        told = [name_of(content), content.tag, printable(content.title)]
        self.line(y + 14.5, " · ".join(t for t in told if t), 5.0, bold=True)
        made = f"made {told_time(content.when)}"
        made = f"{made} by {printable(content.who)}" if content.who else made
        self.line(y + 19, made, BODY)
        pen.line((MARGIN, y + 20.5), (MARGIN + self.width, y + 20.5), 0.3)

    def line(self, y: float, words: str, size: float, *, bold: bool = False) -> None:
        self.pen.fitted(MARGIN, y, words, size, self.width, bold=bold)

    def boxed(self, words: str, complete: bool) -> SheetRow:
        """The verdict: framed when all is well, white on black when it is not."""
        size = 5.2
        lines = wrapped(printable(words), size, self.width - 8, bold=True)
        height = len(lines) * size * 1.3 + 4

        def draw(y: float) -> None:
            frame = (MARGIN, y + 2, self.width, height)
            self.pen.boxes([frame], thick=0.6, fill=None if complete else 0.0)
            for place, line in enumerate(lines, 1):
                baseline = y + 2.6 + place * size * 1.3
                self.pen.text(MARGIN + 4, baseline, line, size, bold=True, white=not complete)

        return SheetRow(height + 5, draw)

    def paragraph(
        self, words: str, size: float, *, bold: bool = False, above: float = 0.0
    ) -> SheetRow:
        lines = wrapped(printable(words), size, self.width, bold)

        def draw(y: float) -> None:
            for place, line in enumerate(lines, 1):
                self.pen.text(MARGIN, y + above + place * size * LEADING, line, size, bold=bold)

        return SheetRow(above + len(lines) * size * LEADING + 0.6, draw)

    def drawing(self, y: float) -> None:
        drawing = proof_drawing(self.content)
        at = placed(drawing, Box(MARGIN, y + 4, self.width, self.drawing_height - 6))
        draw_lines(self.pen, drawing, at, 0.2)
        draw_marks(self.pen, proof_marks(self.content), at, 0.2)

    def legend(self, y: float) -> None:
        """Only the marks that the drawing has."""
        words = {
            ShapeLook.TICKED: "home",
            ShapeLook.DOUBTED: "home, told by elimination",
            ShapeLook.CROSSED: "not home",
        }
        have = {mark.look for mark in proof_marks(self.content)}
        x = MARGIN
        for look, told in words.items():
            if look in have:
                sample = Shape(ShapeKind.OPENING, x, y + 0.5, 7, 5)
                self.pen.boxes([(sample.x, sample.y, sample.width, sample.height)])
                draw_marks(self.pen, [DrawnMark(sample, look)], as_it_is(), 0.2)
                self.pen.text(x + 8.5, y + 4.2, told, BODY)
                x += 14 + len(told) * BODY * 0.55

    def table_head(self) -> SheetRow:
        def draw(y: float) -> None:
            for column, head in enumerate(_CLIENT_HEADS if self.for_client else _HEADS):
                self.cell(column, y + BODY * 1.2, head, bold=True)
            self.pen.line((MARGIN, y + BODY * 1.7), (MARGIN + self.width, y + BODY * 1.7), 0.3)

        return SheetRow(BODY * 2, draw)

    def part(self, part: ProofPart) -> SheetRow:
        """One part: a line of the table, and a line for each different thing its faces got."""
        faces = [
            line
            for names, face in face_lines(part.faces)
            for line in wrapped(printable(face_words(names, face)), BODY * 0.92, self.width * 0.82)
        ]
        step = BODY * LEADING

        def draw(y: float) -> None:
            for column, words in enumerate(part_cells(part)):
                loud = part.back is Back.MISSING or (column == len(_HEADS) - 1 and part.fit_open)
                self.cell(column, y + step, words, bold=column == 0 or loud)
            for place, line in enumerate(faces, 2):
                x = MARGIN + self.width * _COLUMNS[1]
                self.pen.text(x, y + place * step, line, BODY * 0.92)
            end = y + (len(faces) + 1) * step + 1.2
            self.pen.line((MARGIN, end), (MARGIN + self.width, end), 0.08)

        return SheetRow((len(faces) + 1) * step + 1.6, draw, in_table=True)

    def cell(self, column: int, y: float, words: str, *, bold: bool) -> None:
        left = _COLUMNS[column]
        right = _COLUMNS[column + 1] if column + 1 < len(_COLUMNS) else 1.0
        width = (right - left) * self.width - 1.5
        self.pen.fitted(MARGIN + left * self.width, y, printable(words), BODY, width, bold=bold)

    def signatures(self, y: float) -> None:
        half = (self.width - 10) / 2
        for place, who in enumerate(("Checked and handed over", "Received")):
            x = MARGIN + place * (half + 10)
            self.pen.line((x, y + ROOM_TO_SIGN), (x + half, y + ROOM_TO_SIGN), 0.3)
            self.pen.text(x, y + ROOM_TO_SIGN + 4, f"{who}: name, signature, date", BODY)

    def ending(self) -> SheetRow:
        """What is declared, and the signatures under it: never one without the other."""
        words = _CLIENT_DECLARED if self.for_client else _DECLARED
        declared = self.paragraph(words, BODY, above=4.0)

        def draw(y: float) -> None:
            declared.draw(y)
            self.signatures(y + declared.height)

        return SheetRow(declared.height + SIGNATURES, draw)

    def foot(self, number: int, pages: int) -> None:
        y = self.pen.height - MARGIN
        told = f"{name_of(self.content)} {self.content.tag} · proof of return"
        self.line(y, f"{told} · page {number} of {pages}", 2.9)


def part_cells(part: ProofPart) -> tuple[str, str, str, str, str]:
    name = f"{part.short} {part.name}".strip()
    if part.back is Back.MISSING:
        return name, part.home, "NOT HOME", part.why, ""
    if part.back is Back.STAYS:
        return name, "", "stays where it stands", "", ""
    when = told_time(part.when) if part.when else ""
    return (
        name,
        part.home,
        part.how,
        ", ".join(t for t in (when, part.who) if t),
        fit_word(part.fit),
    )


def face_words(names: str, face: ProofFace) -> str:
    """`front, top edge (paint): topcoat 2, 24 Nov 2026, 14:20, Ann; next: sand`."""
    when = told_time(face.when) if face.when else ""
    held = "against a hold" if face.insisted else ""
    done = notes(face.last or "nothing recorded", when, face.who, held)
    still = f"NOT FINISHED, next: {face.next}" if face.next else ""
    return clauses([f"{names} ({face.path}): {done}", still])


def told_time(when: datetime) -> str:
    """`24 Nov 2026, 14:20`, in no locale but ours."""
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}, {when:%H:%M}"


def name_of(content: ProofContent) -> str:
    """The codename; nothing where the font lacks letters of it, as the tag stands beside it."""
    return printable(content.codename) if all_printable(content.codename) else ""
