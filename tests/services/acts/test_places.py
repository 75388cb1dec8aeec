from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Done, Outcome, Refused, Tone
from partsbench.services.acts.history import undo
from partsbench.services.acts.places import find, known_places, put, unseen_since
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import take_out
from partsbench.services.books.pieces import edit_part
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, heron, made, quill


def sentences(shop: Shop, asked: str, here: str = "") -> list[str]:
    return [s.sentence for s in find(shop, asked, here)]


def test_a_part_is_found_at_the_place_it_was_put(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    said = put(shop, "rack 2", [code(piece, "D6")])
    assert said == Done("Heron D6 at rack 2.", piece.tag)
    found = find(shop, "d6", piece.tag)[0]
    assert found.where == "at rack 2"
    assert found.seen == clock.now


def test_parts_of_several_jobs_stand_at_one_place(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    put(shop, "  rack   2 ", [code(piece, "D6"), code(other, "D6")])
    places = [s.where for s in find(shop, "D6", piece.tag)]
    assert places == ["at rack 2", "at rack 2"]


def test_all_go_or_none(shop: Shop) -> None:
    piece = heron(shop)
    said = put(shop, "rack 2", [code(piece, "D6"), "K7Q4-D05A0"])
    assert isinstance(said, Outcome) and said.tone in (Tone.MISREAD, Tone.UNKNOWN)
    assert "not taken out" in sentences(shop, "D6", piece.tag)[0]


@pytest.mark.parametrize("name", ["", "   ", "r" * 41])
def test_a_place_needs_a_name(shop: Shop, name: str) -> None:
    piece = heron(shop)
    assert isinstance(put(shop, name, [code(piece, "D6")]), Refused)
    assert known_places(shop) == []


def test_a_home_is_no_part_to_put_somewhere(shop: Shop) -> None:
    piece = heron(shop)
    assert isinstance(put(shop, "rack 2", [code(piece, "H6")]), Refused)


def test_a_future_time_is_refused_and_a_stated_one_kept(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    later = clock.now + timedelta(minutes=10)
    assert isinstance(put(shop, "rack 2", ["D6"], here=piece.tag, at=later), Refused)
    early = clock.now - timedelta(minutes=10)
    put(shop, "rack 2", ["D6"], here=piece.tag, at=early)
    assert find(shop, "D6", piece.tag)[0].seen == early


def test_moving_a_drawer_moves_its_pull(shop: Shop) -> None:
    piece = heron(shop)
    put(shop, "rack 2", ["D6"], here=piece.tag)
    assert find(shop, "P6", piece.tag)[0].where == "at rack 2"


def test_a_part_is_told_out_home_and_in_a_wrong_home(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    bring_home(shop, piece.tag, "D1", "H1")
    bring_home(shop, piece.tag, "D2", "H3")
    said = [find(shop, short, piece.tag)[0].where for short in ("D1", "D2", "D3", "C1")]
    assert said == [
        "home, row 1, left",
        "H3, not its home",
        "out, no place noted",
        "stays where it stands",
    ]


def test_a_number_lists_the_parts_and_the_old_marks(shop: Shop) -> None:
    piece = heron(shop)
    made(edit_part(shop, piece.tag, "D5", old_mark="3"))
    found = [(s.short, s.old_mark) for s in find(shop, "3", piece.tag)]
    assert ("D3", "") in found
    assert ("D5", "3") in found


def test_the_piece_at_work_comes_first(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    assert [s.codename for s in find(shop, "D6", piece.tag)] == ["Heron", "Quill"]
    assert [s.codename for s in find(shop, "D6", other.tag)] == ["Quill", "Heron"]


def test_a_whole_code_finds_one_and_nonsense_none(shop: Shop) -> None:
    piece = heron(shop)
    quill(shop)
    assert len(find(shop, code(piece, "D6"))) == 1
    assert find(shop, "under the stairs") == []


def test_the_places_used_are_known_latest_first_without_wrong_homes(shop: Shop) -> None:
    piece = heron(shop)
    put(shop, "rack 1", ["D1"], here=piece.tag)
    put(shop, "rack 2", ["D2"], here=piece.tag)
    bring_home(shop, piece.tag, "D3", "H4")
    assert known_places(shop) == ["rack 2", "rack 1"]


def test_what_was_not_seen_since_then(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    clock.pass_time(hours=1)
    record(shop, "D2", here=piece.tag)
    unseen = [s.short for s in unseen_since(shop, piece.tag, clock.now)]
    assert "D1" in unseen
    assert "D2" not in unseen
    assert "C1" not in unseen


def test_an_undone_place_is_no_place(shop: Shop) -> None:
    piece = heron(shop)
    put(shop, "rack 2", ["D6"], here=piece.tag)
    undo(shop)
    assert "not taken out" in sentences(shop, "D6", piece.tag)[0]
    assert known_places(shop) == []
