"""The list of pieces: asked often, so it loads nothing that it does not show."""

from __future__ import annotations

import click

from partsbench.cli.base import OK, book_options, iso, json_option, open_book, say, say_json
from partsbench.services.books.watching import all_pieces


@click.command("pieces")
@json_option
@click.pass_context
def list_pieces(ctx: click.Context, as_json: bool) -> int:
    """List the pieces of the book, the newest first."""
    listed = all_pieces(open_book(ctx))
    if as_json:
        say_json(
            [
                {"tag": p.tag, "codename": p.codename, "title": p.title,
                 "taken_in": iso(p.taken_in_at)}
                for p in listed
            ]
        )  # fmt: skip
        return OK
    for piece in listed:
        taken_in = piece.taken_in_at.astimezone()
        say(f"{piece.tag}  {piece.codename:<20} {piece.title:<28} {taken_in:%Y-%m-%d}".rstrip())
    if not listed:
        say("No pieces yet.")
    return OK


COMMANDS = {"pieces": book_options(list_pieces)}
