"""Seams and the tape on them."""

from __future__ import annotations

import click

from partsbench.cli.base import (
    OK,
    BadInputError,
    at_option,
    book_options,
    good,
    iso,
    json_option,
    names_in,
    open_book,
    piece_of,
    say,
    say_done,
    say_json,
    time_of,
)
from partsbench.cli.bench import insist_option, told
from partsbench.core.finish.durations import parse_duration
from partsbench.core.key_words import word_of
from partsbench.core.shown_times import moment
from partsbench.core.wording import listed, notes
from partsbench.services.acts import masks
from partsbench.services.rules.marking import Tape
from partsbench.services.shop import Shop


@click.command("mask")
@click.argument("tag")
@click.option("--on", "on", default="", metavar="FACE", help="Cover this face: “C1 top”.")
@click.option("--off", "off", default="", metavar="FACE", help="Take the tape off this face.")
@click.option("--not-needed", default="", metavar="FACE", help="What this face meets needs none.")
@click.option("--against", default="", metavar="FACES", help="Only against these: “C1 rails”.")
@click.option("--tape", default="", help="Which tape.")
@click.option("--rating", default="", help="How long the tape may stay on: 7 d.")
@click.option("--ways", default="", metavar="FACE", help="Tape with and without a seal coat.")
@insist_option
@at_option
@json_option
@click.pass_context
def mask(
    ctx: click.Context,
    tag: str,
    on: str,
    off: str,
    not_needed: str,
    against: str,
    tape: str,
    rating: str,
    ways: str,
    insist: tuple[str, ...],
    at: str,
    as_json: bool,
) -> int:
    """The seams of a piece with their length and their tape; puts tape on, takes it off."""
    shop = open_book(ctx)
    key = piece_of(shop, tag).tag
    when, sides = time_of(shop, at), names_in(against)
    if on:
        rated = parse_duration(rating) if rating else None
        if rating and rated is None:
            raise BadInputError(f"--rating: “{rating}” is no length of time, as in 7 d.")
        done = masks.put_on(shop, key, on, sides, Tape(tape, rated), when, insist)
        return told(good(done), as_json, must_record=True)
    if off:
        return told(good(masks.take_off(shop, key, off, when, insist)), as_json, must_record=True)
    if not_needed:
        return say_done(masks.not_needed(shop, key, not_needed, sides), as_json)
    if ways:
        found = [w.sentence for w in good(masks.ways(shop, key, ways))]
        found += good(masks.lines(shop, key, ways))
        if as_json:
            say_json(found)
        for sentence in () if as_json else found:
            say(sentence)
        return OK
    return _seams(shop, key, as_json)


def _seams(shop: Shop, tag: str, as_json: bool) -> int:
    lines, on = masks.seams(shop, tag), masks.on_now(shop, tag)
    if as_json:
        say_json(
            {
                "seams": [
                    {"a": s.a.key, "b": s.b.key, "mm": round(s.length_mm, 1),
                     "state": s.state.value}
                    for s in lines
                ],
                "metres": round(masks.metres(lines), 2),
                "masks": [
                    {"covers": m.covers.key, "against": [s.key for s in m.against], "tape": m.tape,
                     "on": iso(m.on), "off_by": iso(m.off_by)}
                    for m in on
                ],
            }
        )  # fmt: skip
        return OK
    for line in lines:
        say(f"{line.a} | {line.b}: {line.length_mm / 1000:.2f} m, {word_of(line.state)}")
    say(f"{masks.summary(lines)}.")
    for each in on:
        by = f"off by {moment(each.off_by, shop.clock())}" if each.off_by else ""
        say(notes(f"On: {each.covers} against {listed(each.against)}", by))
    return OK


COMMANDS = {c.name: book_options(c) for c in (mask,)}
