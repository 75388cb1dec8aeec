"""Bringing every part home: pairs of home and part, fit results, and what is still missing."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

import click

from partsbench import files
from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    at_option,
    book_options,
    good,
    iso,
    json_option,
    new_file,
    open_book,
    paper_of,
    paper_option,
    pdf_option,
    piece_of,
    say,
    say_done,
    say_json,
    time_of,
    written_whole,
)
from partsbench.core.outcomes import Answer, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import EVERYTHING_HOME
from partsbench.services.acts import by_count, returning
from partsbench.services.known.pairs import PairLine, TurnedAway, read_pairs
from partsbench.services.known.state import PieceState, piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown.proof import make_proof

LARGEST_FILE = 1_000_000
"""Characters of pairs: some 50,000 of them."""
FITS = {
    "free": returning.FitResult.FREE,
    "tight": returning.FitResult.TIGHT,
    "wax": returning.FitResult.WAX,
    "sticks": returning.FitResult.STICKS,
}


@click.command("return")
@click.argument("tag")
@click.argument("pairs", default="")
@at_option
@json_option
@click.pass_context
def bring_back(ctx: click.Context, tag: str, pairs: str, at: str, as_json: bool) -> int:
    """Record which part went into which home, and say what is still missing.

    PAIRS is a file (- for standard input) with one `home-code part-code` a line, or a part code
    alone for a part in its own home. Every line is checked before any is recorded. Without PAIRS
    it only says how things stand. Exit code 0 only when everything is home.
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    when = time_of(shop, at)
    read = _read(shop, piece.tag, pairs) if pairs else []
    if isinstance(read, TurnedAway):
        answers = [(read.pair, read.outcome)]
    else:
        answers = [(pair, _recorded(shop, piece, pair, when)) for pair in read]
    state = piece_state(shop, piece_of(shop, piece.tag))
    if as_json:
        say_json(_report(state, answers))
    else:
        _say_report(state, answers)
        if isinstance(read, TurnedAway):
            say("Nothing was recorded.")
    right = all(a.answer is Answer.GO for _, a in answers)
    return OK if right and not returning.missing(state) else NO


@click.command("fit")
@click.argument("tag")
@click.argument("part")
@click.argument("result", type=click.Choice(list(FITS)), metavar="RESULT")
@json_option
@click.pass_context
def fit(ctx: click.Context, tag: str, part: str, result: str, as_json: bool) -> int:
    """Record how a drawer runs: free, tight, wax or sticks; all but free stays open."""
    shop = open_book(ctx)
    return say_done(
        returning.record_fit(shop, piece_of(shop, tag).tag, part, FITS[result]), as_json
    )


@click.command("count-home")
@click.argument("tag")
@click.argument("part")
@click.argument("count", type=int)
@at_option
@json_option
@click.pass_context
def count_home(ctx: click.Context, tag: str, part: str, count: int, at: str, as_json: bool) -> int:
    """Record how many of the parts alike to PART are home now, whichever they are."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    when = time_of(shop, at)
    return say_done(by_count.count_home(shop, piece.tag, part, count, at=when), as_json)


@click.command("eliminate")
@click.argument("tag")
@json_option
@click.pass_context
def eliminate(ctx: click.Context, tag: str, as_json: bool) -> int:
    """Accept as home what could go nowhere else; the proof sheet marks it so."""
    shop = open_book(ctx)
    return say_done(returning.by_elimination(shop, piece_of(shop, tag).tag), as_json)


@click.command("proof")
@click.argument("tag")
@pdf_option
@paper_option
@click.option("--for-client", is_flag=True, help="Leave hidden parts off.")
@click.pass_context
def proof(ctx: click.Context, tag: str, file: Path, paper: str | None, for_client: bool) -> int:
    """Write the proof sheet: the drawing, who, when, and the last step of each face.

    It may be made at any time; exit code 1 when it proves that something is still missing.
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    target = new_file(ctx.find_root().obj, file)
    sheet = paper_of(shop, paper)
    made = good(make_proof(shop, piece.tag, with_hidden=not for_client, paper=sheet))
    with written_whole(target, made):
        pass
    missing = returning.missing(piece_state(shop, piece))
    state = f"{len(missing)} still missing" if missing else "everything is home"
    say(f"Proof sheet of {piece.codename} {piece.tag} written to {file}: {state}.")
    return NO if missing else OK


def _lines(pairs: str) -> list[str]:
    if pairs == "-":
        return _typed_lines()
    text = files.read_text(Path(pairs), LARGEST_FILE)
    if isinstance(text, Refused):
        raise BadInputError(text.sentence)
    return text.splitlines()


def _typed_lines() -> list[str]:
    try:
        text = sys.stdin.read(LARGEST_FILE + 1)
    except UnicodeDecodeError:
        raise BadInputError("standard input: no text.") from None
    if len(text) > LARGEST_FILE:
        raise BadInputError("standard input: more than any return needs; nothing was recorded.")
    return text.removeprefix("\ufeff").splitlines()


def _read(shop: Shop, tag: str, pairs: str) -> list[PairLine] | TurnedAway:
    read = read_pairs(shop, tag, _lines(pairs))
    if isinstance(read, Refused):
        where = "standard input" if pairs == "-" else pairs
        raise BadInputError(f"{where}: {read.sentence} Nothing was recorded.")
    return read


def _recorded(shop: Shop, piece: Piece, pair: PairLine, when: datetime | None) -> Outcome:
    told = returning.bring_home(shop, piece.tag, pair.part, pair.home, at=when)
    if isinstance(told, Outcome):
        return told
    raise BadInputError(f"line {pair.line}: {told.sentence} Lines before it are recorded.")


def _report(state: PieceState, answers: list[tuple[PairLine, Outcome]]) -> dict[str, object]:
    missing = returning.missing(state)
    return {
        "complete": not missing,
        "pairs": [
            {
                "line": pair.line,
                "home": pair.home,
                "part": answer.part,
                "right": answer.answer is Answer.GO,
                "answer": answer.answer.value,
                "sentence": answer.sentence,
                "until": iso(answer.until),
                "because": answer.because,
                "source": answer.source,
            }
            for pair, answer in answers
        ],
        "missing": [{"number": m.part.short, "name": m.part.name, "why": m.why} for m in missing],
        "moves": returning.moves_sentence(state) if _has_moves(state) else "",
        "fits": [{"number": p.short, "result": result} for p, result in returning.open_fits(state)],
    }


def _say_report(state: PieceState, answers: list[tuple[PairLine, Outcome]]) -> None:
    right = [a.part for _, a in answers if a.answer is Answer.GO]
    if right:
        say(f"Home: {', '.join(right)}.")
    for pair, answer in answers:
        if answer.answer is not Answer.GO:
            say(f"Line {pair.line}, wrong: {answer.sentence}")
        elif answer.because:
            say(f"{answer.sentence} {answer.because} ({answer.source}).")
    if _has_moves(state):
        say(f"Moves: {returning.moves_sentence(state)}")
    for part, result in returning.open_fits(state):
        say(f"Still open: {part.short} {result}.")
    missing = returning.missing(state)
    if not missing:
        say(EVERYTHING_HOME)
        return
    say(f"Missing ({len(missing)}):")
    for words in by_count.missing_words(state, missing):
        say(f"  {words}")


def _has_moves(state: PieceState) -> bool:
    return bool(returning.moves_home(state))


COMMANDS = {c.name: book_options(c) for c in (bring_back, fit, count_home, eliminate, proof)}
