"""A desk with Heron on it, and what was answered from it."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.layout.desk import Desk
from partsbench.ui.theme import Theme
from tests.support.shops import heron


@dataclass
class Heard:
    """What a desk or page answered, the latest last."""

    answers: list[object] = field(default_factory=list)

    def take(self, answer: object) -> None:
        self.answers.append(answer)

    def refusal(self) -> str:
        latest = self.answers[-1]
        assert isinstance(latest, Refused), latest
        return latest.sentence

    def done(self) -> str:
        latest = self.answers[-1]
        assert isinstance(latest, Done), latest
        return latest.sentence


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


@pytest.fixture
def desk(shop: Shop, piece: Piece, theme: Theme) -> Desk:
    made = Desk(shop)
    made.load(piece.tag)
    return made


@pytest.fixture
def heard(desk: Desk) -> Heard:
    heard = Heard()
    desk.answered.connect(heard.take)
    return heard
