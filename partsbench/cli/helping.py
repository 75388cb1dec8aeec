"""`help`: the pages of help by command, by page, or by a word in them."""

from __future__ import annotations

import click

from partsbench import help as helps
from partsbench.cli.base import NO, OK, book_options, json_option, say, say_json


@click.command("help")
@click.argument("words", nargs=-1, metavar="[WORD]…")
@json_option
def help_command(words: tuple[str, ...], as_json: bool) -> int:
    """What a command does, a page of help, or where a word stands in the pages."""
    asked = " ".join(words).strip()
    if not asked:
        return _say_pages(as_json)
    whole = helps.page(asked.lower())
    if whole:
        say_json([_row(whole, whole.title, whole.text)]) if as_json else say(whole.text.rstrip())
        return OK
    about = helps.entry(asked.lower())
    found = (about,) if about else helps.find(asked)
    if as_json:
        say_json([_row(p.page, p.heading, p.text) for p in found])
    elif not found:
        say(f"No page speaks of “{asked}”. partsbench help lists the pages.")
    else:
        say("\n\n".join(f"[{p.page.title}: {p.heading}]\n{p.text}" for p in found))
        say(f"\nMore: {_more(found)}")
    return OK if found else NO


def _say_pages(as_json: bool) -> int:
    if as_json:
        say_json([_row(p, p.title, p.about) for p in helps.pages()])
        return OK
    wide = max(len(p.key) for p in helps.pages())
    for each in helps.pages():
        say(f"{each.key:{wide}}  {each.about}")
    say("\nOne of these, a command, or any word: partsbench help WORD")
    return OK


def _more(found: tuple[helps.Passage, ...]) -> str:
    return ", ".join(dict.fromkeys(f"partsbench help {p.page.key}" for p in found))


def _row(page: helps.HelpPage, heading: str, text: str) -> dict[str, str]:
    return {"page": page.key, "title": page.title, "heading": heading, "text": text}


COMMANDS = {"help": book_options(help_command)}
