"""What has to be so before a step, and what nobody but the one at the bench can see.

A check is asked once a batch: who records the first part of it confirms for those that follow.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from partsbench.core.finish.findings import PRACTICE, Finding, Level
from partsbench.core.finish.products import COATS
from partsbench.core.finish.situation import Situation
from partsbench.core.shown_times import time_of_day
from partsbench.core.wording import notes, or_list

BATCH = timedelta(hours=4)
"""Parts that come to one step of a piece within so long are worked as one batch."""

RIGHT_CUP, LIMITS, DUST_SETTLED = "right_cup", "limits", "dust_settled"
"""Asked only while nothing better answers: a cup that was scanned, a reading of the air, a book in
which nothing was sanded for so long that its dust has settled."""
SETTLES = timedelta(hours=1)
"""How long dust hangs in the air after sanding: common practice."""


def checks(s: Situation) -> tuple[Finding, ...]:
    """What is still to be confirmed before the step, in words; () once it was in this batch.

    A path of the shop's own may word a check itself.
    """
    if s.confirmed:
        return ()
    texts = s.shop.checks
    return tuple(
        Finding(Level.CHECK, key, _words(s, texts.get(key, key)), PRACTICE, s.step.key)
        for key in _asked(s)
    )


def _asked(s: Situation) -> Sequence[str]:
    answered = set[str]()
    if s.mixes.cup is not None or s.step.operation not in COATS:
        answered.add(RIGHT_CUP)
    if s.room is not None:
        answered.add(LIMITS)
    if s.sanded is None or s.now - s.sanded >= SETTLES:
        answered.add(DUST_SETTLED)
    return [key for key in s.step.needs if key not in answered]


def _words(s: Situation, text: str) -> str:
    """`{takes}` in a check is what the step takes: `water-borne clear, tinted`; `{sanded}` when
    something was last sanded."""
    names = [p.name for key in s.step.products if (p := s.shop.products.get(key))]
    takes = notes(or_list(names), "tinted" if s.step.tinted else "")
    sanded = time_of_day(s.sanded, s.now) if s.sanded else "an unknown time"
    return text.replace("{takes}", takes).replace("{sanded}", sanded)
