from __future__ import annotations

import pytest

from partsbench import trade
from partsbench.core.outcomes import Refused
from partsbench.core.sums import tables
from partsbench.core.sums.climate import Limits
from partsbench.core.sums.tipover import Scope
from partsbench.core.sums.wood import Wood


@pytest.fixture(scope="session")
def woods() -> dict[str, Wood]:
    found = tables.woods(trade.load("woods"))
    assert not isinstance(found, Refused)
    return found


@pytest.fixture(scope="session")
def limits() -> Limits:
    found = tables.climate_limits(trade.load("climate"))
    assert not isinstance(found, Refused)
    return found


@pytest.fixture(scope="session")
def scope() -> Scope:
    found = tables.tipover_scope(trade.load("tipover"))
    assert not isinstance(found, Refused)
    return found
