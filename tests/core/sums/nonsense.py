"""What people and files hand over where a positive number is wanted."""

from __future__ import annotations

from math import inf, nan
from typing import Any

NONSENSE: list[Any] = [None, -1.0, nan, inf, -inf, "a lot", True, 1e30]
