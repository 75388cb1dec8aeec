"""Sentences that are said in several places; each stands here once."""

from __future__ import annotations

from collections.abc import Iterable

from partsbench.core.key_words import face_word
from partsbench.core.wording import listed

STILL_TO_COME = "That time is still to come; nothing was recorded."
EVERY_STEP_DONE = "Every step is done."
EVERYTHING_HOME = "Everything is home."
NO_PIECE_AT_WORK = "No piece is at work."
CHOOSE_A_PIECE = "No piece is at work; choose one first."
A_HOME_WAS_SCANNED = "That is the label of a home; scan the part."
NOBODY_HAS_IT = "Nobody here has that number."
NOTHING_RECORDED_YET = "Nothing is recorded yet."
NO_RATE = "rate: is missing; say what an hour should earn."
NO_TIME_IN_DOUBT = "No time is in doubt."
CUT_OF_WOOD = "How it was sawn: flat, quarter or mixed."


def no_piece(tag: str) -> str:
    return f"There is no piece “{tag}” in this book."


def no_part(short: str) -> str:
    return f"There is no part {short}."


def no_opening(number: int) -> str:
    return f"There is no opening {number}."


def only_the(face: str) -> str:
    """One face of a part alone, by its key."""
    return f"only the {face_word(face)}"


def no_face(short: str, face: str, have: Iterable[str]) -> str:
    """Also where none was named, as in `C1`."""
    if not face:
        return f"Say which face of {short}: {listed(have)}."
    return f"{short} has no face “{face}”; it has {listed(have)}."


def no_paper(paper: str, have: Iterable[str]) -> str:
    return f"There is no paper “{paper}”; there are {listed(have)}."


def no_finish_path(path: str, have: Iterable[str]) -> str:
    return f"There is no finish path “{path}”; there are {listed(have)}."


def no_setting(name: str, have: Iterable[str]) -> str:
    return f"There is no setting “{name}”; there are {listed(have)}."


def no_book_yet(file: object) -> str:
    return f"There is no book at {file} yet; lay-out or take-in makes one."


def no_folder(folder: object) -> str:
    return f"There is no folder {folder}."


def no_file(file: object) -> str:
    return f"There is no file {file}."


def not_written(file: object, why: str) -> str:
    return f"{file} cannot be written: {why}."


def not_replaced(file: object, why: str) -> str:
    return f"{file} could not be replaced: {why}."


def not_read_back(why: object) -> str:
    return f"The sheet could not be read back ({why}); it is not handed out."


def copied_to(file: object) -> str:
    return f"Copied the book to {file}."


def cannot_be(why: object) -> str:
    return f"a value in it cannot be: {why}"


def no_number(value: object) -> str:
    return f"{value} is no number"


def no_finite_number(value: object) -> str:
    return f"{value} is no finite number"


def stick_it(where: str) -> str:
    """Where a label goes: `stick it on the back`."""
    return f"stick it {where}"


def too_many_parts(most: int) -> str:
    return f"A piece can number {most} parts of one kind."


def too_many_legs(legs: int, most: int) -> str:
    return f"{legs} legs cannot be drawn; 0 to {most} can."


def does_not_do(who: str, work: str) -> str:
    return f"{who} does not do this: {work}."


def at_work(codename: str, tag: str) -> str:
    return f"{codename} {tag} is at work."


def no_pot_life(text: str) -> str:
    return f"Pot life: “{text}” is no length of time; write 45 min or 4 h."


def load_words(number: int, words: str) -> str:
    return f"Load {number}: {words}."


def cup_name(number: int, name: str) -> str:
    return f"Cup {number}: {name}"


def tint_words(tint: float) -> str:
    return f"{tint:g} % tint"


def next_out(short: str) -> str:
    """What comes out of a piece next; "" when everything is out."""
    return f"Next: {short}." if short else "Everything is out."


def still_missing(count: int) -> str:
    """How much of a piece is not home yet."""
    return f"{count} still missing." if count else EVERYTHING_HOME


def width_of(name: str) -> str:
    return f"width of {name}"


def height_of(name: str) -> str:
    return f"height of {name}"


def area_of(name: str) -> str:
    return f"area of {name}"


def span(least: str, most: str) -> str:
    """`3 to 5`, or one of them where both are alike."""
    return most if least == most else f"{least} to {most}"
