"""Swapped parts brought home in the fewest moves, with a free place or two on the bench.

Every part out of place has to move once. A ring (a closed chain of swapped parts) has no empty
home to begin with, so one of its parts goes to the bench first: k + 1 moves for a ring of k.
A second free place saves no move; it only lets a second stranger wait there.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Generic, Literal, TypeVar

from partsbench.core.wording import listed, plural

Part = TypeVar("Part", bound=Hashable)
Home = TypeVar("Home", bound=Hashable)


class Bench(Enum):
    """Where a part stands that is in no home."""

    BENCH = "bench"


BENCH: Literal[Bench.BENCH] = Bench.BENCH


@dataclass(frozen=True, slots=True)
class Move(Generic[Part, Home]):
    """One part carried once; source or target may be the bench."""

    part: Part
    source: Home | Bench
    target: Home | Bench


def moves(
    seating: Mapping[Home, Part], homes_of: Mapping[Part, Home], free: int = 1
) -> list[Move[Part, Home]]:
    """The shortest list of moves that brings every part of `homes_of` into its home.

    `seating` says which part sits in which home now; a home left out is empty. A part of
    `homes_of` that sits nowhere stands on the bench, in a place of its own beside the `free` ones.
    A stranger (seated, but with no home here) is left alone unless its seat is wanted; then it
    goes to the bench and stays there. ValueError for two parts with one home, one part in two
    seats, or fewer free places than `places_needed`.
    """
    needed = places_needed(seating, homes_of)
    if free < needed:
        raise ValueError(f"these moves need {needed} free places, there are {free}")
    owner = _owners(homes_of)
    place = _places(seating, homes_of)
    done: list[Move[Part, Home]] = []

    def carry(part: Part, target: Home | Bench) -> Home | Bench:
        source = place[part]
        done.append(Move(part, source, target))
        place[part] = target
        return source

    def fill(home: Home | Bench) -> None:
        while home is not BENCH and home in owner:
            home = carry(owner[home], home)

    for home in owner:
        if home not in seating:
            fill(home)
    for ring in rings(seating, homes_of):
        fill(carry(ring[0], BENCH))
    for home in _wanted_from_strangers(seating, homes_of):
        fill(carry(seating[home], BENCH))
    return done


def rings(seating: Mapping[Home, Part], homes_of: Mapping[Part, Home]) -> list[tuple[Part, ...]]:
    """Each closed chain of swapped parts, in the order in which they are carried home.

    In `(a, b, c)` b's home is where a sits, c's is where b sits, and a's is where c sits.
    """
    owner = _owners(homes_of)
    place = _places(seating, homes_of)
    found: list[tuple[Part, ...]] = []
    seen: set[Part] = set()
    for start in seating.values():
        chain: list[Part] = []
        part = start
        while part in homes_of and part not in seen:
            seen.add(part)
            chain.append(part)
            seat = place[part]
            if seat is BENCH or seat not in owner:
                break
            part = owner[seat]
        if len(chain) > 1 and part == start:
            found.append(tuple(chain))
    return found


def places_needed(seating: Mapping[Home, Part], homes_of: Mapping[Part, Home]) -> int:
    """Free places on the bench that `moves` needs: one for rings, one for each stranger put out."""
    strangers = len(_wanted_from_strangers(seating, homes_of))
    return strangers or (1 if rings(seating, homes_of) else 0)


def sentence(
    done: Sequence[Move[Part, Home]],
    part_name: Callable[[Part], str] = str,
    home_name: Callable[[Home], str] = str,
) -> str:
    """The moves as one says them: `D2 to the bench, D5 to 5, D2 to 2. Three moves.`"""
    if not done:
        return "No part sits in a wrong home."
    steps = [
        f"{part_name(m.part)} to the bench"
        if m.target is BENCH
        else f"{part_name(m.part)} to {home_name(m.target)}"
        for m in done
    ]
    many = f"{_count_word(len(done))} moves."
    return f"{listed(steps)}. {plural(len(done), 'One move.', many)}"


def _count_word(count: int) -> str:
    words = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine")
    return words[count] if count < len(words) else str(count)


def _owners(homes_of: Mapping[Part, Home]) -> dict[Home, Part]:
    owner = {home: part for part, home in homes_of.items()}
    if len(owner) < len(homes_of):
        raise ValueError("two parts with one home")
    return owner


def _places(
    seating: Mapping[Home, Part], homes_of: Mapping[Part, Home]
) -> dict[Part, Home | Bench]:
    if len(set(seating.values())) < len(seating):
        raise ValueError("one part in two seats")
    place: dict[Part, Home | Bench] = dict.fromkeys(homes_of, BENCH)
    place.update({part: home for home, part in seating.items()})
    return place


def _wanted_from_strangers(
    seating: Mapping[Home, Part], homes_of: Mapping[Part, Home]
) -> list[Home]:
    wanted = set(homes_of.values())
    return [h for h, part in seating.items() if part not in homes_of and h in wanted]
