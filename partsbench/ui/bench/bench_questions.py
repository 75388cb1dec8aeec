"""What is asked and answered on the bench: when, why, back to which step, which part it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from PySide6.QtWidgets import QWidget

from partsbench.core.bench.events import Push, What
from partsbench.core.bench.keys import KEEP_OFF
from partsbench.core.bench.state import WHATEVER_NEXT, Waits
from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.verbs import wall_code
from partsbench.core.wording import sentences
from partsbench.services.acts.bench import send_back, stated
from partsbench.services.acts.bench_words import on_face, sides
from partsbench.services.acts.history import correct, redo
from partsbench.services.acts.places import find
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import FaceState, part_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.part_page import PartPage
from partsbench.ui.insisting import CHOOSE, Insisting, reasons
from partsbench.ui.turning_back import UndoTwice

ALL_THE_SAME = "send it back all the same"
REASONS = ("run", "dust in it", "missed a spot", "sanded through", "wrong colour")
TIMES = ("now", "10 min ago", "30 min ago", "1 h ago")


class BenchQuestions(PartPage):
    """`outcome` is the answer that is shown; what is in the hand, the bench knows."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.insisting = Insisting()
        self.outcome: Outcome | None = None
        self._back_to = self._back_faces = self._reason = ""
        self._undo = UndoTwice(shop)
        self.answers = {
            **self.answers,
            "time": self.answer_time,
            "that was": self.answer_that_was,
            "back of": self.answer_back_of,
            "back to": self.answer_back_to,
            "back why": self.answer_back_why,
            "back anyway": self.answer_back_anyway,
            "find": self.answer_find,
            "keep": self.answer_keep,
            "insist": self.answer_insist,
        }

    def lane(self) -> tuple[FaceState, ...]:
        """The faces that a record would go to."""
        raise NotImplementedError

    def options(self) -> tuple[Step, ...]:
        """The steps that may be recorded now: optional ones first, then the one that is due."""
        raise NotImplementedError

    # What is in the hand

    @property
    def short(self) -> str:
        """The part of this piece that is shown; "" for none."""
        return self.hand.part if self.hand.ours else ""

    @property
    def armed(self) -> bool:
        """A second scan, or Enter, records what is shown."""
        return self.hand.waits in (Waits.ARMED, Waits.ASKED)

    @property
    def face(self) -> str:
        return self.hand.face

    @property
    def at(self) -> datetime | None:
        """The time that was stated for the next record."""
        return self.at_bench.state.at

    @property
    def wet(self) -> bool:
        return self.at_bench.state.wet

    # What is held

    def held(self) -> bool:
        """The step shown is refused until it is insisted upon."""
        return self.hand.waits is Waits.HELD

    def on_insist_pressed(self) -> None:
        if self.held() and self.outcome:
            self.insisting = Insisting(self.outcome.holds)
            self._ask_insist()

    def _ask_insist(self) -> None:
        """Ask about the gravest hold that is left; each wants a reason of its own."""
        asked = self.insisting.question(f"Record {self.short}")
        self.ask_about(self.short, "insist", asked, reasons())

    def answer_insist(self, text: str) -> None:
        if not text:
            self.ask.show_fault(CHOOSE)
            return
        self.ask.close_question()
        self.push(Push.REASON, text)
        if self.held() and self.outcome and self.hand.lifted:
            self.insisting.refused(self.outcome)
            self._ask_insist()

    def on_old_finish_pressed(self) -> None:
        """What holds it is answered in one screen for the whole piece."""
        self.page_asked.emit("old-finish", self.tag)

    def on_wet_pressed(self) -> None:
        """It is sanded wet, or it is not."""
        self.push(Push.WET)
        self.refresh()

    def _settle_record(self, answer: Outcome | Refused) -> None:
        if isinstance(answer, Outcome) and answer.recorded:
            self.ask.close_question()
            self.take_answer(self.at_bench.hear(What.SEND_BACK, answer))
        else:
            self.ask.show_fault(answer.sentence)

    # Keep recording

    def on_keep_pressed(self) -> None:
        if self.at_bench.state.keeps:
            self.push(Push.KEEP, KEEP_OFF)
            return
        names = [s.name for s in self.options()]
        self.ask_about(self.tag, "keep", "Record what of each part that is scanned now?",
                       [WHATEVER_NEXT, *names])  # fmt: skip

    def answer_keep(self, text: str) -> None:
        step = next((s for s in self.options() if text in (s.name, s.key)), None)
        if step is None and text not in ("", WHATEVER_NEXT):
            self.ask.show_fault(f"No step “{text}” here; scan a part that is at it first.")
            return
        self.ask.close_question()
        self.push(Push.KEEP, step.key if step else "")

    # When, which, back to where, and where is it

    def on_time_pressed(self) -> None:
        self.ask_about(self.tag, "time", "When was it done?",
                       TIMES, hint="14:20")  # fmt: skip

    def answer_time(self, text: str) -> None:
        at = stated(self.shop, text)
        if isinstance(at, Refused):
            self.ask.show_fault(at.sentence)
            return
        self.push(Push.AT, at=None if text in ("", "now") else at)
        self.ask.close_question()
        self.refresh()

    def verb(self) -> str:
        """The verb of the wall that holds for the parts that are scanned; "" for none."""
        return self.at_bench.verb

    def on_that_was_pressed(self) -> None:
        waits = f"{self.verb()} waits." if self.verb() else ""
        asked = sentences(f"That was not {self.short}, but? Scan it or type it.", waits)
        self.ask_about(self.short, "that was", asked, hint="D6")

    def asks_for(self, text: str) -> bool:
        return self.ask.kind == "that was" and wall_code(text) is None

    def answer_that_was(self, text: str) -> None:
        """The part that bears the record from now on is the one shown."""
        known = identify(self.shop, text, self.tag)
        part = known.part if isinstance(known, KnownLabel) else None
        if isinstance(known, Outcome):
            self.ask.show_fault(known.sentence)
            return
        right = part.short if part else text
        answer = correct(self.shop, self.tag, self.subject, right)
        if isinstance(answer, Done):
            self.push(Push.TURN_TO, label=right)
            again = f"{self.verb()} is in force again." if self.verb() else ""
            answer = replace(answer, sentence=sentences(answer.sentence, again))
        self.settle(answer)

    def on_back_pressed(self) -> None:
        groups = sides(f for f in self._faces() if f.progress.done) if not self.face else []
        if len(groups) > 1:
            names = [", ".join(f.name for f in group) for group in groups]
            self.ask_about(self.short, "back of", f"Which faces of {self.short} go back?", names)
            return
        self._back_faces = self.face
        self._ask_back_to()

    def _faces(self) -> tuple[FaceState, ...]:
        """Every face of the part that is shown."""
        piece = self.piece()
        part = piece.part(self.short) if piece else None
        return part_state(self.shop, piece, part).faces if piece and part else ()

    def answer_back_of(self, text: str) -> None:
        known = {f.name for f in self._faces()}
        if not on_face(text) or not known.issuperset(on_face(text)):
            self.ask.show_fault("Choose which faces.")
            return
        self._back_faces = text
        self._ask_back_to()

    def _going_back(self) -> list[FaceState]:
        """The faces that were chosen to go back; all of the part where none were."""
        chosen = on_face(self._back_faces)
        return [f for f in self._faces() if not chosen or f.name in chosen]

    def _ask_back_to(self) -> None:
        faces = self._going_back()
        done = {m.step for face in faces for m in face.progress.done}
        steps = {s.name: s for face in faces for s in face.path.steps if s.key in done}
        if self.short and not steps:
            self.tell(Refused(f"No step of {self.short} is behind it yet."))
        elif steps:
            self.ask_about(self.short, "back to", f"Send {self.short} back to which step?",
                           list(reversed(steps)))  # fmt: skip

    def answer_back_to(self, text: str) -> None:
        steps = {s.name.lower(): s for face in self._going_back() for s in face.path.steps}
        step = steps.get(text.lower())
        if step is None:
            self.ask.show_fault("Choose one of the steps.")
            return
        self._back_to = step.key
        self.ask_about(self.subject, "back why", f"Why does it go back to {step.name}?", REASONS,
                       hint="the reason stays in its history")  # fmt: skip

    def answer_back_why(self, text: str) -> None:
        self._reason = text
        answer = send_back(self.shop, self.subject, self._back_to, text, here=self.tag,
                           face=self._back_faces)  # fmt: skip
        if isinstance(answer, Outcome) and answer.held:
            self.ask_about(self.subject, "back anyway", answer.sentence, [ALL_THE_SAME])
        else:
            self._settle_record(answer)

    def answer_back_anyway(self, text: str) -> None:
        if text != ALL_THE_SAME:
            self.ask.show_fault(f"Press “{ALL_THE_SAME}”, or leave it.")
            return
        self._settle_record(send_back(self.shop, self.subject, self._back_to, self._reason,
                                      here=self.tag, face=self._back_faces,
                                      accept=True))  # fmt: skip

    def on_undo_pressed(self) -> None:
        self._went(self._undo.undo())

    def on_redo_pressed(self) -> None:
        self._went(redo(self.shop))

    def _went(self, answer: Done | Refused) -> None:
        self.at_bench.undone()
        self.outcome = None
        self.tell(answer)

    def on_place_pressed(self) -> None:
        self.ask_place(self.short)

    def on_note_pressed(self) -> None:
        self.ask_note(self.short)

    def on_find_pressed(self) -> None:
        self.ask_about(self.tag, "find", "Find which part?", hint="D6, a code, or an old mark")

    def answer_find(self, text: str) -> None:
        found = [s.sentence for s in find(self.shop, text, self.tag)]
        self.ask.show_list(found)
        self.ask.show_fault("" if found else f"Nothing is known of “{text}”.")
