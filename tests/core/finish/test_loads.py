from __future__ import annotations

from partsbench.core.finish.loads import (
    Hung,
    Straggler,
    behind_words,
    propose,
    stragglers,
)
from partsbench.core.piece.spot import Spot
from tests.support.faces import face, path, through

PAINT = path("paint")
STAIN = path("stain")


def hung(coated: int = 7, of: int = 9) -> list[Hung]:
    """Nine painted fronts, the first `coated` of them with their second coat."""
    two, one = through(PAINT, "sand_400"), through(PAINT, "sand_220")
    return [
        Hung(
            Spot(f"D{i}", "front"), i, two if i <= coated else one, 0.1, "top" if i <= 4 else "low"
        )
        for i in range(1, of + 1)
    ]


def test_two_of_nine_left_behind_are_stragglers():
    found = stragglers(hung())
    assert [s.face for s in found] == [Spot("D8", "front"), Spot("D9", "front")]
    assert found[0].sentence == "D8 front has 1 coat, most of its siblings 2."


def test_two_of_nine_ahead_make_no_stragglers():
    assert stragglers(hung(coated=2)) == ()
    assert stragglers(hung(coated=9)) == ()
    assert stragglers([]) == ()


def test_faces_of_another_path_are_no_siblings():
    mixed = [*hung(coated=9), Hung("top", 10, face(STAIN))]
    assert stragglers(mixed) == ()


def test_the_next_load_has_the_stragglers_first_then_spray_order():
    load = propose(list(reversed(hung())))
    assert load.step.operation == "colour"
    assert load.faces[:2] == (Spot("D8", "front"), Spot("D9", "front"))
    assert load.faces[2:] == tuple(Spot(f"D{i}", "front") for i in range(1, 8))
    assert load.cups == (load.faces,)


def test_only_what_takes_the_same_mix_is_loaded():
    mixed = [*hung(coated=9), Hung("top", 0, through(STAIN, "wipe"))]
    assert "top" not in propose(mixed).faces
    ready = [Hung("top", 0, through(STAIN, "sand_320_1"))]
    assert propose(ready).step.key == "clear_2"


def test_optional_steps_on_the_way_do_not_keep_a_face_out():
    load = propose([Hung(Spot("D1", "front"), 1, through(PAINT, "colour_3"))])
    assert load.step.key == "topcoat_1"


def test_a_finished_face_is_not_offered_an_optional_coat():
    assert propose([Hung(Spot("D1", "front"), 1, through(PAINT, "topcoat_2"))]).step is None


def test_a_touch_up_is_no_coat():
    seamed = path("stain", "seam")
    pair = [
        Hung("a", 1, through(seamed, "touch_up")),
        Hung("b", 2, through(STAIN, "wipe")),
    ]
    assert [h.coats for h in pair] == [1, 1]
    assert stragglers(pair) == ()


def test_nothing_waiting_for_a_coat_is_an_empty_load():
    load = propose([Hung(Spot("D1", "front"), 1, through(PAINT, "colour_1"))])
    assert (load.step, load.faces) == (None, ())


def test_cups_break_between_rows_not_inside_one():
    load = propose(hung(coated=9), ml_per_m2=600, cup_ml=330)
    assert load.cups == (
        tuple(Spot(f"D{i}", "front") for i in range(1, 5)),
        tuple(Spot(f"D{i}", "front") for i in range(5, 10)),
    )
    assert propose(hung(coated=9), 600, 120).cups[0] == (Spot("D1", "front"), Spot("D2", "front"))


def test_every_face_is_in_one_cup_even_when_a_cup_is_too_small_for_it():
    load = propose(hung(coated=9), ml_per_m2=600, cup_ml=10)
    assert [len(c) for c in load.cups] == [1] * 9


def test_stragglers_set_the_mix_though_more_faces_wait_for_another():
    """Seven fronts wait for their topcoat, two for their second coat of colour."""
    ahead, behind = through(PAINT, "colour_3"), through(PAINT, "sand_220")
    faces = [Hung(Spot(f"D{i}", "front"), i, ahead if i <= 7 else behind) for i in range(1, 10)]
    load = propose(faces)
    assert load.step.key == "colour_2"
    assert load.faces == (Spot("D8", "front"), Spot("D9", "front"))


def test_without_a_cup_nothing_is_split():
    for ml_per_m2, cup_ml in ((600, 0), (0, 120), (0, 0)):
        load = propose(hung(coated=9), ml_per_m2, cup_ml)
        assert load.cups == (load.faces,)


def cups_of(rows: str, cup_ml: float) -> list[int]:
    """How many fronts each cup coats; a letter for the row of each front, 60 ml a front."""
    now = through(PAINT, "sand_400")
    faces = [Hung(f"D{i}", i, now, 0.1, row) for i, row in enumerate(rows)]
    return [len(cup) for cup in propose(faces, 600, cup_ml).cups]


def test_a_cup_ends_with_the_last_row_that_it_ends_in():
    assert cups_of("abbbb", 180) == [1, 3, 1]
    assert cups_of("aabbb", 240) == [2, 3]
    assert cups_of("abccc", 240) == [2, 3]
    assert cups_of("aaaaa", 180) == [3, 2]
    assert cups_of("aaabb", 180) == [3, 2]


def test_who_is_a_coat_behind_is_told_by_part_and_those_that_lack_as_many_together():
    faces = [Straggler(Spot("D8", face), 1, 2) for face in ("front", "top edge")]
    faces += [Straggler(Spot(f"D{n}", "front"), 1, 2) for n in (9, 10)]
    found = [("Heron", f) for f in (*faces, Straggler(Spot("D1", "front"), 0, 2))]
    found.append(("Quill", Straggler(Spot("D8", "front"), 1, 2)))
    assert behind_words(found) == [
        "Heron D8–D10: 1 of 2 coats",
        "Heron D1: 0 of 2 coats",
        "Quill D8: 1 of 2 coats",
    ]
    assert behind_words([]) == []


def test_a_load_is_split_only_where_both_its_rate_and_its_cup_are_said():
    whole = propose(hung(coated=9))
    assert propose(hung(coated=9), 600).cups == (whole.faces,)
    assert propose(hung(coated=9), cup_ml=0.05).cups == (whole.faces,)


def test_a_face_of_no_known_size_takes_nothing_of_the_cup():
    now = through(PAINT, "sand_400")
    load = propose([Hung(f"D{i}", i, now) for i in range(4)], 600, 1)
    assert [len(cup) for cup in load.cups] == [4]


def test_a_cup_that_is_just_enough_is_enough():
    """Three fronts of 0.1 m² at 600 ml a m²: 180 ml; the sum of tenths is a hair more."""
    assert cups_of("aaa", 180) == [3]
    assert cups_of("aaa", 179.9) == [2, 1]


def test_the_smallest_cup_is_a_cup():
    load = propose(hung(coated=9), 600, 0.5)
    assert [len(cup) for cup in load.cups] == [1] * 9
