"""What is said of several holds, and of those that no reason lifted yet."""

from __future__ import annotations

import pytest

from partsbench.core.finish.findings import PRACTICE, Finding, Level
from partsbench.services.acts.bench_words import held_words


def holds(*rules: str) -> list[Finding]:
    return [Finding(Level.HOLD, rule, "because", PRACTICE) for rule in rules]


@pytest.mark.parametrize(
    ("left", "held", "said"),
    [
        ("a", "a", ""),
        ("aa", "aa", ""),
        ("ab", "ab", "2 holds: a, b. Each wants a reason of its own."),
        ("b", "ab", "1 hold is left: b. Insisting goes once more, with a reason of its own."),
        ("bb", "abb", "1 hold is left: b. Insisting goes once more, with a reason of its own."),
        (
            "bc",
            "abc",
            "2 holds are left: b, c. Insisting goes once for each, with a reason of its own.",
        ),
    ],
)
def test_what_is_left_of_several_holds_says_what_to_do(left: str, held: str, said: str) -> None:
    assert held_words(holds(*left), holds(*held)) == said
