"""Faces that stand alike are answered once: the same answers as for each face by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest

from partsbench.core.finish.answer import Decision
from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.finish.progress import Mark, MarkKind, progress
from partsbench.core.finish.sheets import seams_of
from partsbench.core.finish.steps import Step
from partsbench.core.piece.piece import Piece
from partsbench.services.known import facts
from partsbench.services.known.state import FaceState, PieceState, piece_state
from partsbench.services.rules import answers
from partsbench.services.rules.answers import Ground
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from tests.support import busy_book
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, lay_out, made, shop_at

PIECES, RECORDS = 3, 50
STEPS = (1, 3, 4, 6)


@pytest.fixture(scope="module")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Shop, list[Piece]]]:
    clock = SetClock()
    shop = shop_at(tmp_path_factory.mktemp("busy") / "b.partsbench", clock, "Wren")
    pieces = busy_book.fill(shop, clock, PIECES, RECORDS, seed=3)
    pieces += [busy_book.level(shop, clock, steps, seed=steps) for steps in STEPS]
    yield shop, pieces
    shop.close()


def asked(state: PieceState) -> Iterator[tuple[str, Step, list[FaceState]]]:
    """Every step that can be done on faces of a part, with the faces that have come to it."""
    for short, part in state.parts.items():
        due: dict[str, tuple[Step, list[FaceState]]] = {}
        for face in part.faces:
            for step in face.progress.choices:
                due.setdefault(f"{face.path.key} {step.key}", (step, []))[1].append(face)
        yield from ((short, step, faces) for step, faces in due.values())


def by_itself(on: Ground, face: FaceState, step: Step, now, cup, wet) -> Decision:  # type: ignore[no-untyped-def]
    """The answer for one face, with nothing that was answered before."""
    return answers.answer(replace(on, said={}), [face], step, now, cup=cup, wet=wet)


@pytest.mark.parametrize("later", [timedelta(), timedelta(hours=3), timedelta(days=2)])
def test_every_answer_is_the_one_that_each_face_has_by_itself(
    busy: tuple[Shop, list[Piece]], later: timedelta
) -> None:
    shop, pieces = busy
    now = shop.clock() + later
    mixes: list[StoredCup | None] = [None, *cups.listed(shop)]
    assert len(mixes) == 3
    seen, faces_asked, answered = set[str](), 0, 0
    for piece in pieces:
        state = piece_state(shop, piece)
        same = answers.base(shop, piece.tag, now, state)
        for short, step, faces in asked(state):
            on = answers.ground(shop, piece, state.of(short), now, same)
            for cup in mixes:
                for wet in (False, True):
                    quick = answers.answer(on, faces, step, now, cup=cup, wet=wet)
                    each = [by_itself(on, face, step, now, cup, wet) for face in faces]
                    assert quick == answers.worst_of(each), (piece.codename, short, step.name)
                    faces_asked += len(faces)
                    seen |= {f.rule for f in quick.findings}
        answered += len(same.said)
    assert answered < faces_asked * 0.8
    assert len(seen) > 8, seen


def test_a_progress_that_faces_share_is_the_one_that_each_has(
    busy: tuple[Shop, list[Piece]],
) -> None:
    shop, pieces = busy
    shared = 0
    for piece in pieces:
        state = piece_state(shop, piece)
        for part in state.parts.values():
            known = facts.of_piece(shop, piece.tag)
            found = seams_of(piece, part.part)
            for face in part.faces:
                named = part.part.face(face.name)
                assert named is not None
                marks = [Mark(m.step, m.at, MarkKind(m.kind), m.insisted) for m in face.marks]
                path = facts.suited(shop, part.part, named, known, found, face.marks)
                assert face.progress == progress(path, marks)
                shared += sum(f.progress is face.progress for f in part.faces) - 1
    assert shared > 100


def chest(shop: Shop, clock: SetClock, steps: int) -> Piece:
    """D1 over D2 and D3, all painted and at one step, done at the same times."""
    piece = made(lay_out(shop, "Heron", "1 2", paths=[("paint", ["drawers"])]))
    for _ in range(steps):
        clock.pass_time(days=2)
        for short in ("D1", "D2", "D3"):
            assert record(shop, code(piece, short), insist="by chance").recorded
    return piece


def told(shop: Shop, piece: Piece, spots: list[str], **how: object) -> list[set[str]]:
    """The reasons given for each face (`D1 front`), one after another from the same ground."""
    now, state = shop.clock(), piece_state(shop, piece)
    same, found = answers.base(shop, piece.tag, now, state), []
    for spot in spots:
        short, name = spot.split(" ", 1)
        on = answers.ground(shop, piece, state.of(short), now, same)
        face = next(f for f in state.of(short).faces if f.name == name)
        step = how.get("step") or face.progress.next
        said = answers.answer(on, [face], step, now, cup=how.get("cup"))  # type: ignore[arg-type]
        found.append({f.rule for f in said.findings} | {f.reason for f in said.findings})
    return found


def test_what_is_said_of_one_face_is_told_of_that_face(shop: Shop, clock: SetClock) -> None:
    piece = chest(shop, clock, 3)
    facts.say(shop, piece.tag, "silicone", "yes", ["D1 front"])
    front, edge = told(shop, piece, ["D1 front", "D1 top edge"])
    assert "silicone" in front
    assert "silicone" not in edge


def test_a_thick_coat_runs_on_what_stands_and_not_on_what_lies(shop: Shop) -> None:
    piece = made(lay_out(shop, "Heron", "1", top=True, paths=[("paint", ["T1"])]))
    path = piece_state(shop, piece).of("T1").faces[0].path
    thick = replace(next(s for s in path.steps if s.key == "colour_1"), thickness="full")
    edge, top = told(shop, piece, ["T1 front edge", "T1 top"], step=thick)
    assert "thick coat first" in edge
    assert "thick coat first" not in top


def test_each_part_is_told_of_the_dust_on_the_others(shop: Shop, clock: SetClock) -> None:
    piece = chest(shop, clock, 4)
    one, two = told(shop, piece, ["D1 front", "D2 front"])
    (dust,) = [reason for reason in one if "tacky for" in reason]
    assert "D2" in dust and "D1" not in dust
    (dust,) = [reason for reason in two if "tacky for" in reason]
    assert "D1" in dust and "D2" not in dust


def test_cups_are_told_by_what_was_used_on_the_face_and_beside_it(
    shop: Shop, clock: SetClock
) -> None:
    piece = chest(shop, clock, 3)
    blue = [Poured("colour", "17", 9)]
    satin = cups.make(shop, "blue", blue, strained=True, sheen="satin")
    gloss = cups.make(shop, "blue", [Poured("colour", "18", 9)], strained=True, sheen="gloss")
    assert isinstance(satin, StoredCup) and isinstance(gloss, StoredCup)
    record(shop, code(piece, "D3"), face="front", cup=satin, insist="by chance")
    one, two = told(shop, piece, ["D1 front", "D2 front"], cup=gloss)
    assert "second lot in a row" in two
    assert "second lot in a row" not in one
    for short in ("D1", "D2"):
        for face, cup in (("front", satin), ("top edge", None)):
            record(shop, code(piece, short), face=face, cup=cup, insist="by chance")
    clock.pass_time(days=1)
    front, edge = told(shop, piece, ["D1 front", "D1 top edge"], cup=gloss)
    assert "sheen changed" in front
    assert "sheen changed" not in edge
