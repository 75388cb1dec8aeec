"""At the bench: scans, parts coming out, places in the shop, and what comes next."""

from __future__ import annotations

import click

from partsbench import files, trade
from partsbench.cli import rows
from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    at_option,
    book_options,
    book_path,
    good,
    json_option,
    known_or_bad,
    now_of_call,
    open_book,
    piece_of,
    piece_option,
    say,
    say_done,
    say_json,
    time_of,
)
from partsbench.core.finish.path import FinishPath, parse_paths
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.said_often import no_face
from partsbench.core.shown_times import moment
from partsbench.services.acts import bench, places, teardown
from partsbench.services.acts.bench_words import on_face
from partsbench.services.acts.places import Sighting
from partsbench.services.known import cautions
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.shop import Shop
from partsbench.services.sums import cups

_NO = frozenset({Tone.REFUSED, Tone.FOREIGN, Tone.REPLACED, Tone.VERB_OFF})

insist_option = click.option(
    "--insist", multiple=True, metavar="[HOLD: ]REASON", help="Record against a hold; see verbs."
)
confirm_option = click.option("--confirm", is_flag=True, help="What is asked before it is so.")


@click.command("scan")
@click.argument("code")
@click.option("--record", is_flag=True, help="Record the next step as done.")
@click.option("--skip", is_flag=True, help="Record that it is left out, where the path allows.")
@insist_option
@confirm_option
@click.option("--cup", "mix", default="", metavar="CUP", help="The mix used: 3, or its code.")
@click.option("--wet", is_flag=True, help="It is sanded wet.")
@click.option("--face", default="", help="One face only: front, “top edge”.")
@click.option("--step", default="", help="Record this step instead: an optional one on the way.")
@click.option("--note", default="", help="A note for the history.")
@piece_option
@at_option
@json_option
@click.pass_context
def scan(
    ctx: click.Context,
    code: str,
    record: bool,
    skip: bool,
    insist: tuple[str, ...],
    confirm: bool,
    mix: str,
    wet: bool,
    face: str,
    step: str,
    note: str,
    piece: str,
    at: str,
    as_json: bool,
) -> int:
    """Whether the next step of a part may be done: GO, WAIT, LATE, STOP or OTHER JOB, and why.

    Answers as of --at. Records only when told to: then what is held is refused (exit code 1)
    unless --insist gives a reason for it, which is kept for ever. Where several things hold, each
    wants its own: --insist "not dry yet: the tin says so". What has to be so before the first part
    of a batch is asked, and recorded with --confirm.
    """
    shop = open_book(ctx)
    here = piece_of(shop, piece).tag if piece else ""
    when = time_of(shop, at)
    cup = good(cups.find(shop, mix)) if mix else None
    _check_face(shop, code, here, face)
    if record or skip or insist:
        outcome = good(
            bench.record(
                shop,
                code,
                here=here,
                at=when,
                face=face,
                step=step,
                skip=skip,
                note=note,
                insist=insist,
                cup=cup,
                wet=wet,
                confirmed=confirm,
            )
        )
        known_or_bad(outcome)
        return told(outcome, as_json, _after(shop, outcome, here, face), must_record=True)
    shown = bench.look(shop, code, here=here, at=when, face=face, step=step, cup=cup, wet=wet)
    return told(known_or_bad(shown), as_json)


@click.command("out")
@click.argument("tag")
@click.argument("codes", nargs=-1, required=True)
@click.option("--place", default="", help="Where they go: “rack 2”.")
@at_option
@json_option
@click.pass_context
def out(
    ctx: click.Context, tag: str, codes: tuple[str, ...], place: str, at: str, as_json: bool
) -> int:
    """Record that parts are out of the piece, all or none: by code, or by number as D5."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    outcome = good(
        teardown.take_out(shop, piece.tag, list(codes), at=time_of(shop, at), place=place)
    )
    return told(known_or_bad(outcome), as_json)


@click.command("stays-in")
@click.argument("tag")
@click.argument("part")
@json_option
@click.pass_context
def stays_in(ctx: click.Context, tag: str, part: str, as_json: bool) -> int:
    """Record that a part stays in the piece: it is not expected out and counts as home."""
    shop = open_book(ctx)
    return told(good(teardown.stays_in(shop, piece_of(shop, tag).tag, part)), as_json)


@click.command("send-back")
@click.argument("code")
@click.argument("step")
@click.option("--reason", required=True, help="Why; it stays in the history.")
@click.option("--face", default="", help="These faces only: rails, or “front, top edge”.")
@piece_option
@json_option
@click.pass_context
def send_back(
    ctx: click.Context, code: str, step: str, reason: str, face: str, piece: str, as_json: bool
) -> int:
    """Return faces to an earlier step, given by its key. Nothing is erased."""
    shop = open_book(ctx)
    here = piece_of(shop, piece).tag if piece else ""
    _check_face(shop, code, here, face)
    outcome = good(bench.send_back(shop, code, step, reason, here=here, face=face))
    return told(known_or_bad(outcome), as_json)


@click.command("place")
@click.argument("place")
@click.argument("codes", nargs=-1, required=True)
@piece_option
@at_option
@json_option
@click.pass_context
def put(
    ctx: click.Context, place: str, codes: tuple[str, ...], piece: str, at: str, as_json: bool
) -> int:
    """Record that parts, also of several jobs, stand at a place in the shop."""
    shop = open_book(ctx)
    here = piece_of(shop, piece).tag if piece else ""
    done = places.put(shop, place, list(codes), here=here, at=time_of(shop, at))
    if isinstance(done, Outcome):
        return told(known_or_bad(done), as_json)
    return say_done(done, as_json)


@click.command("find")
@click.argument("what")
@piece_option
@json_option
@click.pass_context
def find(ctx: click.Context, what: str, piece: str, as_json: bool) -> int:
    """Where a part is: by code, by number in every job (D6), or by an old mark (3)."""
    shop = open_book(ctx)
    here = piece_of(shop, piece).tag if piece else ""
    return _sightings(places.find(shop, what, here), as_json, f"Nothing is called {what}.", NO)


@click.command("unseen")
@click.argument("tag")
@click.option("--since", required=True, metavar="TIME", help="14:20, 2 days ago, 2026-11-25 08:00.")
@json_option
@click.pass_context
def unseen(ctx: click.Context, tag: str, since: str, as_json: bool) -> int:
    """The parts not dealt with since then: where to look when a label is gone."""
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    when = good(bench.stated(shop, since))
    return _sightings(
        places.unseen_since(shop, piece.tag, when), as_json, "Every part was dealt with since.", OK
    )


@click.command("paths")
@json_option
@click.pass_context
def paths(ctx: click.Context, as_json: bool) -> int:
    """List the finish paths and their steps, each with the source of its figures.

    The shipped ones, and the shop's own when there is a book.
    """
    found = _known_paths(ctx)
    if as_json:
        say_json([rows.path_row(p) for p in found])
        return OK
    for path in found:
        say(f"{path.key}: {path.name}. {path.about}".rstrip())
        for place, step in enumerate(path.steps, 1):
            name = f"{step.name} (if wanted)" if step.optional else step.name
            say(f"  {place:>2} {step.key:<22} {name}")
    return OK


def _known_paths(ctx: click.Context) -> list[FinishPath]:
    if files.is_there(book_path(ctx.find_root().obj)):
        return list(open_book(ctx).paths.values())
    return list(parse_paths(trade.load_paths()).values())


def _check_face(shop: Shop, code: str, here: str, face: str) -> None:
    known = identify(shop, code, here) if face else None
    if not isinstance(known, KnownLabel) or not known.part:
        return
    for name in on_face(face):
        if not known.part.face(name):
            have = [f.name for f in known.part.faces]
            raise BadInputError(no_face(known.part.short, name, have))


def _after(shop: Shop, outcome: Outcome, here: str, face: str) -> Outcome | None:
    """What comes next once something was recorded: of the one face, if one was named."""
    if not outcome.recorded:
        return None
    return bench.look(shop, outcome.code, here=here, face=face)


def told(
    outcome: Outcome, as_json: bool, after: Outcome | None = None, *, must_record: bool = False
) -> int:
    if as_json:
        row = rows.outcome_row(outcome)
        if after:
            following = rows.outcome_row(after)
            keys = ("step", "step_name", "face", "faces", "because", "source", "cautions")
            row |= {key: following[key] for key in keys}
        say_json(row)
    else:
        say_outcome(outcome)
    refused = outcome.tone in _NO or outcome.answer is Answer.OTHER_JOB
    return NO if refused or (must_record and not outcome.recorded) else OK


def say_outcome(outcome: Outcome) -> None:
    say(f"{word_of(outcome.answer)}: {outcome.sentence}")
    until = f"until {moment(outcome.until, now_of_call())}" if outcome.until else ""
    for line in filter(None, (until, outcome.because, outcome.source)):
        say(f"  {line}")
    for hold in outcome.holds if len(outcome.holds) > 1 else ():
        say(f"  Hold: {hold.rule}: {hold.because}")
    for line in outcome.checks if not outcome.recorded else ():
        say(f"  Confirm: {line}")
    for line in outcome.warnings:
        say(f"  Warning: {line}")
    for line in cautions.words(outcome.cautions):
        say(f"  Mind: {line}")
    if outcome.note and not outcome.recorded:
        say(f"  {outcome.note}")


def _sightings(found: list[Sighting], as_json: bool, none: str, code: int) -> int:
    if as_json:
        say_json([rows.sighting_row(s) for s in found])
    for seen in found if not as_json else ():
        say(seen.sentence)
    if not found and not as_json:
        say(none)
    return OK if found else code


COMMANDS = {
    c.name: book_options(c) for c in (scan, out, stays_in, send_back, put, find, unseen, paths)
}
