"""The small sums from typed text, against the published values, and their refusals."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.sums.film import Transfer
from partsbench.core.sums.units import Measures
from partsbench.services.sums import shipped, small


def data(told: object) -> dict[str, object]:
    return dict(told.data)  # type: ignore[attr-defined]


def test_moisture_is_the_handbooks() -> None:
    """Wood Handbook, FPL-GTR-282 (2021), Table 4-2: 9.2 % at 70 °F and 50 %."""
    found = small.moisture("70F", "50")
    assert not isinstance(found, Refused)
    told = small.tell_moisture(found)
    assert data(told)["moisture"] == pytest.approx(9.2, abs=0.065)
    assert "5 to 95 %" in told.valid
    assert "handbook" in told.caution


def test_movement_is_arithmetic_on_the_coefficient() -> None:
    """9.15 in of flat-sawn walnut, 0.00274 for each of 3 %."""
    found = small.movement("walnut, black", "flat", "9.15 in", "8", "11")
    assert not isinstance(found, Refused)
    assert data(small.tell_movement(found))["change_in"] == pytest.approx(0.0752, abs=0.0001)
    outside = small.movement("walnut, black", "flat", "9.15 in", "8", "18")
    assert not isinstance(outside, Refused)
    assert "shrinkage form" in small.tell_movement(outside).valid


def test_coverage_is_the_magazines() -> None:
    """R. Joseph, Oct 2003: a gallon at 52 % solids, 30 % transfer and 1.5 mil covers 167 ft²."""
    found = small.coverage("52", "1.5 mil", "30")
    assert not isinstance(found, Refused)
    told = data(small.tell_coverage(found))
    assert told["ft2_per_gal"] == pytest.approx(167, abs=0.5)
    assert told["m2_per_l"] == pytest.approx(166.83 / 40.7458, abs=0.01)


def test_a_tools_name_stands_for_its_share() -> None:
    named = small.coverage("50", "40 µm", "HVLP")
    said = small.coverage("50", "40 µm", "65")
    assert not isinstance(named, Refused) and not isinstance(said, Refused)
    assert (named.m2_per_l, named.transfer) == (said.m2_per_l, said.transfer)


def test_shares_that_sources_disagree_on_are_told_with_both_ends() -> None:
    """65 by the rule, 50 to 60 in the magazine: 65/60 = 1.08 and 65/50 = 1.3 times as much."""
    named = small.coverage("50", "40 µm", "hvlp")
    assert not isinstance(named, Refused)
    told = small.tell_coverage(named)
    assert told.caution == (
        "By low-pressure gun (HVLP), at most 10 psi at the cap 65 % is reckoned with: the least "
        "that a rule asks of such a gun. Others give 50 to 60 % (trade press), which takes 1.1 to "
        "1.3 times as much."
    )
    assert told.data["transfer_ends"] == [50, 65]
    assert any("Rule 1136" in source for source in told.sources)
    assert any("pfonline.com" in source for source in told.sources)
    own = small.coverage("50", "40 µm", "65")
    assert not isinstance(own, Refused)
    assert (
        small.tell_coverage(own).caution == "" and data(small.tell_coverage(own))["transfer"] == 65
    )


@pytest.mark.parametrize("tool", shipped.transfers().values(), ids=lambda tool: tool.key)
def test_every_tool_says_what_is_reckoned_with_and_why(tool: Transfer) -> None:
    assert f" {tool.share.value:g} % is reckoned with: {tool.why}." in tool.sentence
    least, most = tool.ends
    assert least <= tool.share.value <= most
    if tool.low and tool.high:
        assert f"{tool.low.value:g} to {tool.high.value:g} %" in tool.sentence
        assert (least, most) == (
            min(tool.low.value, tool.share.value), max(tool.high.value, tool.share.value),
        )  # fmt: skip


def test_dew_point_of_a_room() -> None:
    found = small.dew_point("20C", "50")
    assert not isinstance(found, Refused)
    assert data(small.tell_dew_point(found))["dew_point_c"] == pytest.approx(9.3, abs=0.1)


def test_the_offer_that_leaves_29_2() -> None:
    found = small.offer("640", "217", "14.5")
    assert not isinstance(found, Refused)
    assert data(small.tell_offer(found))["per_hour"] == 29.17


def test_bare_numbers_follow_the_switch() -> None:
    us = small.dew_point("68", "50", Measures.US)
    metric = small.dew_point("20", "50")
    assert not isinstance(us, Refused) and not isinstance(metric, Refused)
    assert us.celsius == pytest.approx(metric.celsius)
    assert small.tell_dew_point(us, Measures.US).sentence.endswith("49 °F.")


@pytest.mark.parametrize("bad", ["", "x", "nan", "inf", "1e999", "-", "1/0"])
def test_nonsense_is_refused_everywhere(bad: str) -> None:
    for found in (
        small.moisture(bad, "50"),
        small.moisture("20C", bad),
        small.movement("walnut", "flat", bad, "8", "11"),
        small.movement("walnut, black", "flat", "9", bad, "11"),
        small.coverage(bad, "40 µm", "30"),
        small.coverage("52", bad, "30"),
        small.dew_point("20C", bad),
        small.offer(bad, "1", "2"),
        small.offer("1", bad, "2"),
        small.offer("1", "2", bad),
    ):
        assert isinstance(found, Refused)
        assert len(found.sentence) < 200


@pytest.mark.parametrize(
    "found",
    [
        small.moisture("20C", "101"),
        small.movement("plastic", "flat", "9", "8", "11"),
        small.movement("walnut, black", "sideways", "9", "8", "11"),
        small.movement("walnut, black", "flat", "9", "8", "44"),
        small.coverage("0", "40 µm", "30"),
        small.coverage("52", "40 µm", "shovel"),
        small.offer("1", "2", "0"),
        small.offer("1", "2", "3", "99"),
    ],
)
def test_what_cannot_be_is_refused(found: object) -> None:
    assert isinstance(found, Refused)
