"""Recording as somebody does who has read the answer: what has to be so is confirmed with it."""

from __future__ import annotations

from typing import Any

from partsbench.core.outcomes import Outcome, Refused
from partsbench.services.acts import bench, loads
from partsbench.services.shop import Shop


def record(shop: Shop, text: str, **how: Any) -> Outcome:
    """`bench.record`, with what it asks confirmed."""
    how.setdefault("confirmed", True)
    said = bench.record(shop, text, **how)
    assert isinstance(said, Outcome), said
    return said


def insist(shop: Shop, text: str, why: str = "tried, it is ready", **how: Any) -> Outcome:
    """The same against every hold, each named and given the reason."""
    said = record(shop, text, insist=why, **how)
    if not said.recorded and said.held:
        said = record(shop, text, insist=dict.fromkeys(said.held, why), **how)
    return said


def load_done(shop: Shop, asked: str | int, *exceptions: Any, **how: Any) -> Outcome | Refused:
    """`loads.done`, with what it asks confirmed."""
    how.setdefault("confirmed", True)
    return loads.done(shop, asked, *exceptions, **how)
