"""Finish paths reviewed, copied, and kept as one's own."""

from __future__ import annotations

from pathlib import Path

import click

from partsbench import files
from partsbench.cli.base import (
    NO,
    OK,
    BadInputError,
    book_options,
    book_path,
    good,
    json_option,
    new_file,
    open_book,
    say,
    say_done,
    say_json,
    written_whole,
)
from partsbench.core.finish.clocks import said_source
from partsbench.core.finish.findings import Level
from partsbench.core.key_words import word_of
from partsbench.services.books import own_paths
from partsbench.services.known import review
from partsbench.services.known.review import Reviewed


@click.command("review")
@click.argument("path")
@json_option
@click.pass_context
def reviewed(ctx: click.Context, path: str, as_json: bool) -> int:
    """What a finish path gets wrong: a FILE, or the key of a path. Exit code 1 when it must not
    be worked by."""
    found = _found(ctx, path)
    if found.faults:
        raise BadInputError(" ".join(found.faults))
    if as_json:
        say_json(
            [
                {
                    "level": f.level.value,
                    "rule": f.rule,
                    "source": said_source(f.source),
                    "reason": f.reason,
                    "step": f.where,
                }
                for f in found.findings
            ]
        )
    else:
        for finding in found.findings:
            say(f"{word_of(finding.level)}: {finding.rule}. {finding.reason}.")
            say(f"  {said_source(finding.source)}")
        if not found.findings:
            say("Nothing is found against it.")
    return NO if any(f.level is Level.HOLD for f in found.findings) else OK


@click.command("copy-path")
@click.argument("key")
@click.argument("new_key")
@click.option("--name", required=True, help="What yours is called.")
@click.option("--out", "file", required=True, metavar="FILE", type=click.Path(path_type=Path),
              help="The file to write, to edit.")  # fmt: skip
@click.pass_context
def copy_path(ctx: click.Context, key: str, new_key: str, name: str, file: Path) -> int:
    """Write a finish path to a file under a key of your own, to edit and keep."""
    shop = open_book(ctx)
    target = new_file(ctx.find_root().obj, file)
    text = good(own_paths.copy_text(shop, key, new_key, name))
    with written_whole(target, text.encode()):
        pass
    say(f"{file}: edit it, then keep-path {file}.")
    return OK


@click.command("keep-path")
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@click.pass_context
def keep_path(ctx: click.Context, file: Path, as_json: bool) -> int:
    """Keep a path of your own from a file; a bad file is refused with line and reason."""
    shop = open_book(ctx)
    text = good(review.read_file(file))
    found = review.review_text(text, str(file))
    if found.faults:
        raise BadInputError(" ".join(found.faults))
    return say_done(own_paths.save(shop, text), as_json)


def _found(ctx: click.Context, path: str) -> Reviewed:
    file = Path(path)
    if file.suffix or files.is_there(file):
        return good(review.review_file(file))
    if files.is_there(book_path(ctx.find_root().obj)):
        return good(review.review_key(open_book(ctx), path))
    return good(review.review_shipped(path))


COMMANDS = {c.name: book_options(c) for c in (reviewed, copy_path, keep_path)}
