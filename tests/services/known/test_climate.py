"""The air, and the power: what is written down, for how long it counts, what is asked."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.sums.shown import Measures
from partsbench.services.acts.history import undo
from partsbench.services.known import climate
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import set_habit
from tests.support.clock import SetClock
from tests.support.worded import foreign


def test_the_air_is_told_with_its_dew_point_and_what_it_does(shop: Shop) -> None:
    said = climate.note(shop, 14, 75)
    assert isinstance(said, Done)
    assert "up to 4 times the tin's time" in said.sentence
    assert "Dew forms on anything colder than 9.6 °C" in said.sentence


def test_a_reading_counts_for_half_a_day_and_the_newest_wins(shop: Shop, clock: SetClock) -> None:
    climate.note(shop, 14, 75)
    climate.note(shop, 20, 50, surface_c=18)
    found = climate.reading(shop, clock.now)
    assert found is not None and found.surface_c == 18
    assert climate.reading(shop, clock.now + timedelta(hours=12)) is not None
    assert climate.reading(shop, clock.now + timedelta(hours=13)) is None
    assert climate.stretch(None).stretch == 1.0
    undo(shop)
    again = climate.reading(shop, clock.now)
    assert again is not None and again.temperature_c == 14


@pytest.mark.parametrize(("warm", "damp"), [(14, 140), (14, -1), (99, 50), (20, 100),
                                            (float("nan"), 50)])  # fmt: skip
def test_air_that_cannot_be_is_refused(shop: Shop, warm: float, damp: float) -> None:
    assert isinstance(climate.note(shop, warm, damp), Refused)
    assert climate.reading(shop, shop.clock()) is None


def test_a_reading_of_later_does_not_count_yet(shop: Shop, clock: SetClock) -> None:
    assert isinstance(climate.note(shop, 20, 50, at=clock.now + timedelta(hours=1)), Refused)
    climate.note(shop, 20, 50)
    assert climate.reading(shop, clock.now - timedelta(minutes=1)) is None


def test_a_power_cut_has_its_end_after_its_beginning_and_in_the_past(
    shop: Shop, clock: SetClock
) -> None:
    hour = timedelta(hours=1)
    assert isinstance(climate.note_power_cut(shop, clock.now, clock.now - hour, True), Refused)
    assert isinstance(climate.note_power_cut(shop, clock.now, clock.now + hour, True), Refused)
    said = climate.note_power_cut(shop, clock.now - hour, clock.now, False, "fuse")
    assert said == Done("Power was off for 1 h.")


def test_in_us_units_the_air_is_told_in_fahrenheit(shop: Shop) -> None:
    """14 °C × 1.8 + 32 = 57.2 °F; dew at 9.6 °C is 49 °F."""
    set_habit(shop, "units", "us")
    said = climate.note(shop, 14, 75, surface_c=13)
    assert isinstance(said, Done)
    assert said.sentence.startswith("The air: 57.2 °F, 75 %, surface 55.4 °F. 57 °F and 75 %: ")
    assert "Dew forms on anything colder than 49 °F" in said.sentence
    assert foreign(said.sentence, Measures.US) == []
    refused = climate.note(shop, 99, 50)
    assert isinstance(refused, Refused) and foreign(refused.sentence, Measures.US) == []
