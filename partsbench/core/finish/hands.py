"""What hands a step asks for: clean ones for what shows, dusty ones, or hands in gloves."""

from __future__ import annotations

from enum import StrEnum

from partsbench.core.finish.steps import Operation


class Hands(StrEnum):
    """The state of one's hands, which decides what can be done next without washing."""

    CLEAN = "clean"
    DUSTY = "dusty"
    GLOVES = "gloves"


_HANDS = {
    Operation.SAND: Hands.DUSTY,
    Operation.FILL: Hands.DUSTY,
    Operation.REPAIR: Hands.DUSTY,
    Operation.MASK: Hands.CLEAN,
    Operation.UNMASK: Hands.CLEAN,
    Operation.COLOUR: Hands.CLEAN,
    Operation.TOPCOAT: Hands.CLEAN,
    Operation.CLEAR: Hands.CLEAN,
    Operation.BUFF: Hands.CLEAN,
}


def hands_for(operation: Operation) -> Hands:
    """Common practice: what is wet, oily or bites asks for gloves."""
    return _HANDS.get(operation, Hands.GLOVES)


def fits(operation: Operation, hands: Hands) -> bool:
    """Whether the step can be begun with hands as they are: clean ones can do anything."""
    return hands is Hands.CLEAN or hands_for(operation) is hands
