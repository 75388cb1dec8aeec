"""What a part's label is like: to stick on, small, or a tag to tie on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import (
    PAINT,
    Home,
    HomeKind,
    LabelSize,
    Part,
    label_size,
    new_faces,
)


def part(family: Family) -> Part:
    return Part(family, 1, Home(HomeKind.ON_PIECE), faces=new_faces(family))


@pytest.mark.parametrize(
    ("family", "size"),
    [
        (Family.DRAWER, LabelSize.STICK),
        (Family.DOOR, LabelSize.STICK),
        (Family.TOP, LabelSize.STICK),
        (Family.BAG, LabelSize.STICK),
        (Family.PULL, LabelSize.SMALL),
        (Family.LOCK, LabelSize.SMALL),
        (Family.LEG, LabelSize.TAG),
        (Family.RUNNER, LabelSize.TAG),
    ],
)
def test_each_family_has_its_size(family: Family, size: LabelSize) -> None:
    assert label_size(part(family)) is size


def test_a_door_finished_on_both_sides_wants_a_tag() -> None:
    door = part(Family.DOOR)
    both = tuple(replace(face, path=PAINT) for face in door.faces)
    assert label_size(replace(door, faces=both)) is LabelSize.TAG
