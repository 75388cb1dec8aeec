"""What is asked to put a record right: which part it was, and back to which step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from partsbench.core.bench.events import Push, What
from partsbench.core.key_words import face_words
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.wording import sentences
from partsbench.services.acts.bench import send_back
from partsbench.services.acts.bench_words import on_face, sides
from partsbench.services.acts.history import correct
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import FaceState
from partsbench.ui.bench.pushes import PushPage
from partsbench.ui.bench.questions import Questions
from partsbench.ui.bench.shown_part import ShownPart
from partsbench.ui.bench.telling import Telling

if TYPE_CHECKING:
    pass

ALL_THE_SAME = "send it back all the same"
REASONS = ("run", "dust in it", "missed a spot", "sanded through", "wrong colour")


class ThatWas:
    """Gives a record to the part that it was made on; that part is the one shown from then on."""

    def __init__(
        self, page: PushPage, questions: Questions, telling: Telling, shown: ShownPart
    ) -> None:
        self._page = page
        self._questions = questions
        self._telling = telling
        self._shown = shown
        questions.heard_by("that was", self.hear)

    @property
    def asking(self) -> bool:
        """The next label answers it."""
        return self._questions.kind == "that was"

    def ask(self) -> None:
        short, verb = self._shown.short, self._page.at_bench.verb
        waits = f"{verb} waits." if verb else ""
        asked = sentences(f"That was not {short}, but? Scan it or type it.", waits)
        self._questions.about(short, "that was", asked, hint="D6")

    def hear(self, text: str) -> None:
        page = self._page
        known = identify(page.shop, text, page.tag)
        if isinstance(known, Outcome):
            self._questions.refuse(known.sentence)
            return
        part = known.part if isinstance(known, KnownLabel) else None
        right = part.short if part else text
        answer = correct(page.shop, page.tag, self._questions.subject, right)
        if isinstance(answer, Done):
            page.push(Push.TURN_TO, label=right)
            verb = page.at_bench.verb
            again = f"{verb} is in force again." if verb else ""
            answer = replace(answer, sentence=sentences(answer.sentence, again))
        self._telling.settle(answer)


class SendBack:
    """Asks which faces go back, to which step, and why; and once more where that is one too many.

    `take` hears how it was recorded.
    """

    def __init__(
        self,
        page: PushPage,
        questions: Questions,
        telling: Telling,
        shown: ShownPart,
        take: Callable[[Outcome], None],
    ) -> None:
        self._page = page
        self._questions = questions
        self._telling = telling
        self._shown = shown
        self._take = take
        self._to = self._of = self._reason = ""
        self._sides: dict[str, list[str]] = {}
        questions.heard_by("back of", self.hear_faces)
        questions.heard_by("back to", self.hear_step)
        questions.heard_by("back why", self.hear_reason)
        questions.heard_by("back anyway", self.hear_all_the_same)

    def ask(self) -> None:
        shown = self._shown
        groups = [] if shown.face else sides(f for f in shown.faces() if f.progress.done)
        if len(groups) > 1:
            self._sides = {face_words(keys): keys for g in groups if (keys := [f.name for f in g])}
            asked = f"Which faces of {shown.short} go back?"
            self._questions.about(shown.short, "back of", asked, list(self._sides))
            return
        self._of = shown.face
        self._ask_step()

    def hear_faces(self, text: str) -> None:
        known = {f.name for f in self._shown.faces()}
        chosen = self._sides.get(text) or on_face(text)
        if not chosen or not known.issuperset(chosen):
            self._questions.refuse("Choose which faces.")
            return
        self._of = ", ".join(chosen)
        self._ask_step()

    def hear_step(self, text: str) -> None:
        steps = {s.name.lower(): s for face in self._going_back() for s in face.path.steps}
        step = steps.get(text.lower())
        if step is None:
            self._questions.refuse("Choose one of the steps.")
            return
        self._to = step.key
        self._questions.about(self._questions.subject, "back why",
                              f"Why does it go back to {step.name}?", REASONS,
                              hint="the reason stays in its history")  # fmt: skip

    def hear_reason(self, text: str) -> None:
        self._reason = text
        answer = self._send()
        if isinstance(answer, Outcome) and answer.held:
            self._questions.about(self._questions.subject, "back anyway", answer.sentence,
                                  [ALL_THE_SAME])  # fmt: skip
        else:
            self._settle(answer)

    def hear_all_the_same(self, text: str) -> None:
        if text != ALL_THE_SAME:
            self._questions.refuse(f"Press “{ALL_THE_SAME}”, or leave it.")
            return
        self._settle(self._send(accept=True))

    def _ask_step(self) -> None:
        short, faces = self._shown.short, self._going_back()
        done = {m.step for face in faces for m in face.progress.done}
        steps = {s.name: s for face in faces for s in face.path.steps if s.key in done}
        if short and not steps:
            self._telling.tell(Refused(f"No step of {short} is behind it yet."))
        elif steps:
            asked = f"Send {short} back to which step?"
            self._questions.about(short, "back to", asked, list(reversed(steps)))

    def _going_back(self) -> list[FaceState]:
        """The faces that were chosen to go back; all of the part where none were."""
        chosen = on_face(self._of)
        return [f for f in self._shown.faces() if not chosen or f.name in chosen]

    def _send(self, *, accept: bool = False) -> Outcome | Refused:
        return send_back(self._page.shop, self._questions.subject, self._to, self._reason,
                         here=self._page.tag, face=self._of, accept=accept)  # fmt: skip

    def _settle(self, answer: Outcome | Refused) -> None:
        if isinstance(answer, Outcome) and answer.recorded:
            self._questions.close()
            self._take(self._page.at_bench.hear(What.SEND_BACK, answer))
        else:
            self._questions.refuse(answer.sentence)
