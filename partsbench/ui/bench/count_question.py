"""Parts that are alike come home by count: which of them, and how many are home now."""

from __future__ import annotations

from collections.abc import Callable

from partsbench.core.outcomes import Done
from partsbench.services.acts.by_count import AlikeLeft, alike_left, count_home
from partsbench.services.known.state import piece_state
from partsbench.ui.bench.at_work import AtWork
from partsbench.ui.bench.pushes import PushPage
from partsbench.ui.bench.questions import Questions
from partsbench.ui.bench.telling import Telling


class CountQuestion:
    """Asks which parts, where several sorts are left, and then how many.

    `put_down` empties the hand: what was in it may be among those that were counted.
    """

    def __init__(
        self,
        page: PushPage,
        work: AtWork,
        questions: Questions,
        telling: Telling,
        put_down: Callable[[], None],
    ) -> None:
        self._page = page
        self._work = work
        self._questions = questions
        self._telling = telling
        self._put_down = put_down
        questions.heard_by("count of", self.hear_which)
        questions.heard_by("count", self.hear_count)

    def left(self) -> list[AlikeLeft]:
        """What may come home by count."""
        piece = self._work.piece()
        return alike_left(piece_state(self._page.shop, piece)) if piece else []

    def ask(self) -> None:
        left = self.left()
        if len(left) == 1:
            self._ask_count(left[0])
        elif left:
            choices = [f"{each.names} ({each.kind})" for each in left]
            self._questions.about(left[0].short, "count of", "Count which parts?", choices)

    def hear_which(self, text: str) -> None:
        """The choice that was pressed, or one of the parts typed."""
        for each in self.left():
            if text.lower() in (f"{each.names} ({each.kind})".lower(), each.names.lower()):
                self._ask_count(each)
                return
        self._questions.refuse("Choose which parts.")

    def hear_count(self, text: str) -> None:
        if not text.isdecimal():
            self._questions.refuse("Say how many are home now, as a number.")
            return
        page = self._page
        at = page.at_bench.state.at
        said = count_home(page.shop, page.tag, self._questions.subject, int(text), at=at)
        if isinstance(said, Done):
            self._put_down()
        self._telling.settle(said)

    def _ask_count(self, left: AlikeLeft) -> None:
        asked = f"How many of {left.names} are home now?"
        if left.home:
            asked = (
                f"How many of {left.names} are home now, the {left.home} from before among them?"
            )
        counts = [str(n) for n in (left.of, left.of - 1, left.of - 2) if n > left.home]
        self._questions.about(left.short, "count", asked, counts, hint="how many")
