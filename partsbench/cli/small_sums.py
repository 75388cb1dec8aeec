"""The small sums at the bench: no piece and no book is needed."""

from __future__ import annotations

from partsbench.cli.asking import sum_commands
from partsbench.services.sums.asked.bench import COMMANDED

COMMANDS = sum_commands(COMMANDED)
