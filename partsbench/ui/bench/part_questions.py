"""What may be asked about any part: where it is put, a note, its old mark, and where it is."""

from __future__ import annotations

from typing import Protocol

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.places import find, known_places, put
from partsbench.services.books.pieces import edit_part
from partsbench.services.shop import Shop
from partsbench.ui.bench.at_work import AtWork
from partsbench.ui.bench.questions import Questions
from partsbench.ui.bench.telling import Telling

USUAL_NOTES = ("runs tight", "broken", "loose joint", "lifting veneer", "part missing")
PLACES_SHOWN = 6


class PageOfPiece(Protocol):
    """The page, and the piece at work on it."""

    shop: Shop
    tag: str


class PartQuestions:
    """Asks, writes the answer into the book, and tells it."""

    def __init__(
        self, page: PageOfPiece, work: AtWork, questions: Questions, telling: Telling
    ) -> None:
        self._page = page
        self._work = work
        self._questions = questions
        self._telling = telling
        questions.heard_by("place", self.hear_place)
        questions.heard_by("note", self.hear_note)
        questions.heard_by("old mark", self.hear_old_mark)
        questions.heard_by("find", self.hear_find)

    def ask_place(self, short: str) -> None:
        """Ask where a part is put."""
        places = known_places(self._page.shop)[:PLACES_SHOWN]
        self._questions.about(short, "place", f"Put {short} where?", places, hint="rack 2")

    def ask_note(self, short: str) -> None:
        """Ask for a note on a part."""
        self._questions.about(short, "note", f"Note on {short}", USUAL_NOTES, hint="your own words")

    def ask_old_mark(self, short: str) -> None:
        """Ask for the mark that an earlier owner left."""
        part = self._work.part(short)
        mark = part.old_mark if part else ""
        self._questions.about(short, "old mark", f"Old mark on {short}", hint="3", text=mark)

    def ask_find(self) -> None:
        """Ask what to look for in the whole book."""
        self._questions.about(self._page.tag, "find", "Find which part?",
                              hint="D6, a code, or an old mark")  # fmt: skip

    def hear_place(self, text: str) -> None:
        page = self._page
        self._telling.settle(put(page.shop, text, [self._questions.subject], here=page.tag))

    def hear_note(self, text: str) -> None:
        short = self._questions.subject
        part = self._work.part(short)
        if not text or part is None:
            self._questions.refuse("Write a note, or leave it.")
            return
        whole = f"{part.note}; {text}" if part.note else text
        self._settle(edit_part(self._page.shop, self._page.tag, short, note=whole), text)

    def hear_old_mark(self, text: str) -> None:
        said = f"old mark {text}" if text else "no old mark"
        made = edit_part(self._page.shop, self._page.tag, self._questions.subject, old_mark=text)
        self._settle(made, said)

    def hear_find(self, text: str) -> None:
        found = [s.sentence for s in find(self._page.shop, text, self._page.tag)]
        self._questions.list(found)
        self._questions.refuse("" if found else f"Nothing is known of “{text}”.")

    def restore(self, state: dict[str, str]) -> None:
        """Ask again what was asked before a crash."""
        again = {"place": self.ask_place, "note": self.ask_note, "old mark": self.ask_old_mark}
        kind = state.get("ask", "")
        if kind in again and self._work.part(state.get("part", "")):
            again[kind](state["part"])
            self._questions.put_text(state.get("text", ""))

    def _settle(self, made: Piece | Refused, said: str) -> None:
        done = Done(f"{self._questions.subject}: {said}.", self._page.tag)
        self._telling.settle(made if isinstance(made, Refused) else done)
