"""What is asked about the next record: when it was done, why against a hold, what to keep doing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from partsbench.core.bench.events import Push
from partsbench.core.bench.keys import KEEP_OFF
from partsbench.core.bench.state import WHATEVER_NEXT
from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Hold, Refused
from partsbench.core.wording import sentences
from partsbench.services.acts.bench import stated
from partsbench.ui.bench.pushes import PushPage
from partsbench.ui.bench.questions import Questions
from partsbench.ui.insisting import CHOOSE, Insisting, reasons


class WhenQuestion:
    """Asks for the time of the next record."""

    def __init__(
        self, page: PushPage, questions: Questions, question: str, times: Sequence[str]
    ) -> None:
        self._page = page
        self._questions = questions
        self._question, self._times = question, times
        questions.heard_by("time", self.hear)

    def ask(self) -> None:
        self._questions.about(self._page.tag, "time", self._question, self._times, hint="14:20")

    def hear(self, text: str) -> None:
        at = stated(self._page.shop, text)
        if isinstance(at, Refused):
            self._questions.refuse(at.sentence)
            return
        self._page.push(Push.AT, at=None if text in ("", "now") else at)
        self._questions.close()
        self._page.refresh()


class WhyQuestion:
    """Asks why a record is made against a hold; each hold wants a reason of its own.

    `then` is done once a reason was given: it may ask about the next hold.
    """

    def __init__(
        self, page: PushPage, questions: Questions, then: Callable[[], None] | None = None
    ) -> None:
        self._page = page
        self._questions = questions
        self._then = then
        questions.heard_by("insist", self.hear)

    def ask(self, short: str, what: str, holds: tuple[Hold, ...], before: str = "") -> None:
        """Ask about the gravest hold that is left; `before` stands before the question."""
        asked = sentences(before, Insisting(holds).question(what))
        self._questions.about(short, "insist", asked, reasons())

    def hear(self, text: str) -> None:
        if not text:
            self._questions.refuse(CHOOSE)
            return
        self._questions.close()
        self._page.push(Push.REASON, text)
        if self._then:
            self._then()


class KeepQuestion:
    """Asks what is recorded of each part that is scanned from now on."""

    def __init__(
        self, page: PushPage, questions: Questions, options: Callable[[], Sequence[Step]]
    ) -> None:
        self._page = page
        self._questions = questions
        self._options = options
        questions.heard_by("keep", self.hear)

    def end(self) -> None:
        self._page.push(Push.KEEP, KEEP_OFF)

    def ask(self) -> None:
        names = [WHATEVER_NEXT, *(s.name for s in self._options())]
        self._questions.about(self._page.tag, "keep",
                              "Record what of each part that is scanned now?", names)  # fmt: skip

    def hear(self, text: str) -> None:
        step = next((s for s in self._options() if text in (s.name, s.key)), None)
        if step is None and text not in ("", WHATEVER_NEXT):
            self._questions.refuse(f"No step “{text}” here; scan a part that is at it first.")
            return
        self._questions.close()
        self._page.push(Push.KEEP, step.key if step else "")
