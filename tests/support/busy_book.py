"""A book in the middle of its work: pieces of many shapes, each face as far as chance took it.

Everything is recorded through the use cases, insisted upon where the rules would hold it.
"""

from __future__ import annotations

import random
from datetime import timedelta

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.finish.products import Ready
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import bench, tries
from partsbench.services.books.pieces import give_path
from partsbench.services.known import climate, facts
from partsbench.services.known.state import part_state
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made

NAMES = ("Heron", "Larch", "Quill", "Wren", "Alder", "Finch", "Rowan", "Plover", "Birch", "Teal",
         "Hazel", "Swift")  # fmt: skip
ROWS = ("2 2 3", "3 3 3", "1 2 2 2", "2 3 3 3", "2 2", "4")
PATHS = ("paint", "stain", "clear", "shellac_paint", "dye_stain", "raw")
SAID = (
    ("old finish", ("none", "paint", "clear", "unknown")),
    ("lead", ("unknown", "tested lead", "wet")),
    ("veneer", ("yes", "no")),
    ("silicone", ("yes", "no")),
    ("conditioner", ("oil", "water", "none")),
    ("seal coat", ("yes", "no")),
    ("repairs", ("open", "done", "none")),
    ("no mask: D1 front", ("yes", "no")),
)
LONGEST = timedelta(hours=20)
FIRST_MORE = 4
"""The first parts of a piece get on faster than the last, so that every step is come to."""


def fill(
    shop: Shop, clock: SetClock, pieces: int, records: int, *, seed: int = 1, wild: bool = True
) -> list[Piece]:
    """So many pieces, and so many steps recorded on parts of each; `wild`: in no good order too.

    The clock goes on by hours between rounds, so that some waits are over and some windows missed.
    """
    rng = random.Random(seed)
    taken = [_take_in(shop, rng, NAMES[i % len(NAMES)], ROWS[i % len(ROWS)]) for i in range(pieces)]
    mixes = _cups(shop) if wild else []
    for _ in range(records):
        for tag in [piece.tag for piece in taken]:
            _one_record(shop, rng, tag, mixes, wild)
        clock.now += LONGEST * rng.random() ** 3
    return [piece for tag in (p.tag for p in taken) if (piece := shop.piece(tag))]


def level(shop: Shop, clock: SetClock, steps: int, *, seed: int = 1) -> Piece:
    """A painted piece with every part at one step, done at the same times; its faces differ in all
    else: what is said of them, what they meet, and which cup was used on them."""
    rng = random.Random(seed)
    piece = made(lay_out(shop, f"{NAMES[seed % len(NAMES)]} {seed}", "1 2", top=True))
    parts = [p for p in piece.present if p.faces]
    made(give_path(shop, piece.tag, "paint", [p.short for p in parts]))
    made(give_path(shop, piece.tag, "stain", ["D1 front", "C1 top"]))
    mixes = _cups(shop)
    for _ in range(steps):
        for part in parts:
            cup = rng.choice([None, *mixes])
            for face in ("", "front", "top") if part.short in ("D1", "C1") else ("",):
                record(shop, str(piece.code(part)), face=face, cup=cup, insist="by chance")
        clock.now += LONGEST / 4
    for key, answers in SAID * 3:
        facts.say(shop, piece.tag, key, rng.choice(answers), [_a_face(rng, parts)])
    for part in rng.sample(parts, 2):
        tries.say_tried(shop, str(piece.code(part)), Ready.RECOAT, False)
    taken = shop.piece(piece.tag)
    assert taken is not None
    return taken


def _take_in(shop: Shop, rng: random.Random, name: str, rows: str) -> Piece:
    piece = made(lay_out(shop, name, rows, legs=4, pulls=rng.randint(0, 2), top=True))
    finished = [p for p in piece.present if p.faces]
    for part in finished:
        made(give_path(shop, piece.tag, rng.choice(PATHS), [part.short]))
        if len(part.faces) > 1 and rng.random() < 0.3:
            face = rng.choice(part.faces).name
            made(give_path(shop, piece.tag, rng.choice(PATHS), [f"{part.short} {face}"]))
    for _ in range(6):
        key, answers = rng.choice(SAID)
        names = rng.choice([[], [rng.choice(finished).short], [_a_face(rng, finished)]])
        facts.say(shop, piece.tag, key, rng.choice(answers), names)
    return piece


def _a_face(rng: random.Random, parts: list[Part]) -> str:
    part = rng.choice(parts)
    return f"{part.short} {rng.choice(part.faces).name}"


def _cups(shop: Shop) -> list[StoredCup]:
    """Two lots of one colour, one of them tinted, and a reading of the air; the same each time."""
    have = cups.listed(shop)
    if have:
        return have
    climate.note(shop, 18, 60)
    plain = cups.make(shop, "blue", [Poured("colour", "17", 9)], strained=True, sheen="satin")
    other = cups.make(shop, "blue", [Poured("colour", "18", 9)], tint=4, sheen="gloss")
    return [cup for cup in (plain, other) if isinstance(cup, StoredCup)]


def _one_record(
    shop: Shop, rng: random.Random, tag: str, mixes: list[StoredCup], wild: bool
) -> None:
    piece = shop.piece(tag)
    assert piece is not None
    parts = [p for p in piece.present if p.faces]
    part = parts[int(len(parts) * rng.random() ** FIRST_MORE)]
    faces = part_state(shop, piece, part).faces
    face = rng.choice(faces)
    code, name = str(piece.code(part)), face.name if wild and rng.random() < 0.3 else ""
    if wild and face.marks and rng.random() < 0.08:
        bench.send_back(shop, code, rng.choice(face.marks).step, "a run", face=name)
        return
    optional = [s for s in face.progress.choices if s.optional]
    step = rng.choice(optional).key if optional and rng.random() < 0.4 else ""
    cup = rng.choice([None, *mixes])
    skip = bool(step) and rng.random() < 0.4
    said = record(shop, code, face=name, step=step, skip=skip, cup=cup, insist="by chance")
    assert isinstance(said, Outcome)
