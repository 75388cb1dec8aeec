"""The old finish of a face: what was said of it, what was tested, and how it is therefore worked.

Lead in old paint is the one danger that cannot be put right afterwards. So only what is bare, newer
than the year that local rules name, or tested and free of it is worked dry; nothing said is no
answer, and lead that was found once stays found, whatever is said later.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

AGE, OLD, LEAD = "age", "old finish", "lead"
OLDER, NEWER, UNKNOWN = "older", "newer", "unknown"
BARE = "none"
FREE, FOUND = "tested free", "tested lead"
WET, CHEMICAL = "wet", "chemical"
AGES = (OLDER, NEWER, UNKNOWN)
ON_IT = (BARE, "paint", "clear", UNKNOWN)
TESTS = (UNKNOWN, FREE, FOUND)
WAYS = (WET, CHEMICAL)

_TEST, _WAY, _FOUND = "lead test", "lead way", "lead found"
_ALSO = {"before 1978": OLDER, "1978 or later": NEWER}
"""How an age was said in older books."""


class Lead(StrEnum):
    """What is known about lead in the old finish of a face."""

    BARE = "bare wood"
    NEWER = "newer than the year that local rules name"
    FREE = "tested: none found"
    FOUND = "tested: lead found"
    UNKNOWN = "not known"
    NOT_SAID = "nobody has said"


LEAD_CAUTION, LEAD_CLEARED = "lead", "lead_cleared"
"""Keys of the cautions before and after it was answered."""
CLEARED = frozenset({Lead.BARE, Lead.NEWER, Lead.FREE})
"""What may be worked dry, with the usual care for dust."""


@dataclass(frozen=True, slots=True)
class OldFinish:
    """What is known of lead, and whether it was said to be worked wet or by chemistry."""

    lead: Lead = Lead.NOT_SAID
    wet: bool = False
    chemical: bool = False

    @property
    def cleared(self) -> bool:
        return self.lead in CLEARED


def meant(key: str, value: str) -> str:
    """An answer as it is kept: older words for an age are taken too."""
    return _ALSO.get(value, value) if key == AGE else value


def fold(known: dict[str, str], key: str, value: str) -> None:
    """Add one thing said of a place to what was said of it before; the later word wins.

    A test and a way of working are kept apart, and lead that was found is never unsaid.
    """
    value = meant(key, value)
    known[key] = value
    if key == LEAD:
        known[_WAY if value in WAYS else _TEST] = value
        if value == FOUND:
            known[_FOUND] = FOUND


def old_finish(known: Mapping[str, str], found_elsewhere: bool = False) -> OldFinish:
    """What is known of a face, from all that was said of it, its part and its piece.

    found_elsewhere: lead was found on another face of the piece; its age then clears nothing.
    """
    way = known.get(_WAY, "")
    return OldFinish(_lead(known, found_elsewhere), way == WET, way == CHEMICAL)


def _lead(known: Mapping[str, str], found_elsewhere: bool) -> Lead:
    if _FOUND in known:
        return Lead.FOUND
    test = known.get(_TEST)
    if test is not None:
        return Lead.FREE if test == FREE else Lead.UNKNOWN
    if known.get(OLD) == BARE:
        return Lead.BARE
    if known.get(AGE) == NEWER and not found_elsewhere:
        return Lead.NEWER
    asked = known.get(OLD) is not None or known.get(AGE) is not None or found_elsewhere
    return Lead.UNKNOWN if asked else Lead.NOT_SAID
