"""The week of the whole shop, what if, and promises."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import click

from partsbench.cli.base import (
    NO,
    OK,
    at_option,
    book_options,
    good,
    iso,
    json_option,
    new_file,
    open_book,
    paper_of,
    paper_option,
    piece_of,
    say,
    say_done,
    say_json,
    time_of,
    written_whole,
)
from partsbench.cli.rows import JsonRow
from partsbench.core import shown_times
from partsbench.core.plan.chain import Unreachable
from partsbench.core.plan.chance import Chances
from partsbench.core.plan.what_if import Compared, compared
from partsbench.core.plan.words import chain_words, short, side_by_side
from partsbench.core.wording import capital, notes
from partsbench.services.plan import asking, out, plans, solver
from partsbench.services.plan.evening import Tonight, evening_of, tonight_of
from partsbench.services.plan.on_paper import week_on_paper
from partsbench.services.plan.paces import PaceTold, paces
from partsbench.services.plan.plans import PlanShown, PromiseTold
from partsbench.services.plan.week import cannot_be_kept
from partsbench.services.shop import Shop

seconds_option = click.option(
    "--seconds", type=click.FloatRange(min=0.1, max=600), default=plans.SECONDS,
    help="How long to look for a better plan.",
)  # fmt: skip


@click.command("plan")
@click.argument("tags", nargs=-1)
@click.option(
    "--what-if",
    "asked",
    multiple=True,
    metavar="WHAT",
    help="helper Wren: Sat 9:00 to 13:00; off tonight; like Heron; wait clear_water 24 h.",
)
@click.option("--days", type=click.IntRange(1, 60), default=7, help="So many days are told.")
@click.option(
    "--calendar",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write it as a calendar, with alarms.",
)
@click.option(
    "--csv", "table", type=click.Path(path_type=Path), metavar="FILE", help="Write it as a table."
)
@click.option(
    "--sheet",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the week as a PDF, on one sheet.",
)
@paper_option
@click.option(
    "--solver",
    "solver_seconds",
    type=click.FloatRange(min=0, max=3600),
    default=0.0,
    metavar="SECONDS",
    help="So long with CP-SAT as well, where it is installed.",
)
@click.option("--chance", is_flag=True, help="By which day each piece is done 8 times of 10.")
@seconds_option
@at_option
@json_option
@click.pass_context
def plan(
    ctx: click.Context,
    tags: tuple[str, ...],
    asked: tuple[str, ...],
    days: int,
    calendar: Path | None,
    table: Path | None,
    sheet: Path | None,
    paper: str | None,
    solver_seconds: float,
    chance: bool,
    seconds: float,
    at: str,
    as_json: bool,
) -> int:  # fmt: skip
    """What is done when, by whom, and how good that is: no plan can be earlier than it says.

    Of all pieces in hand, or of those named.
    """
    shop = open_book(ctx)
    named = [piece_of(shop, tag).tag for tag in tags]
    now = time_of(shop, at) or shop.clock()
    if asked:
        return _what_if(shop, asked, named, now, seconds, as_json)
    if solver_seconds and not solver.available():
        told = "partsbench: CP-SAT is not installed: pip install 'partsbench[plan]' brings it."
        click.echo(told, err=True)
    files = [new_file(ctx.find_root().obj, f) for f in (calendar, table, sheet) if f]
    shown = plans.plan(shop, named, now, seconds=seconds, with_solver=solver_seconds)
    made = _data(shown, calendar, table)
    if sheet:
        made.append(week_on_paper(shown, cannot_be_kept(shown), paper_of(shop, paper)))
    for file, data in zip(files, made, strict=True):
        with written_whole(file, data):
            pass
    found = plans.sure(shop, shown) if chance else None
    own = paces(shop, shown) if chance else ()
    tonight = tonight_of(shown, evening_of(shop, now))
    if as_json:
        row = {**_plan_row(shown, found), "tonight": tonight.sentence if tonight else None}
        say_json({**row, "paces": [_pace_row(each) for each in own]} if chance else row)
    else:
        _say_plan(shown, days, found, tonight)
        for each in own:
            say(each.sentence)
    return OK


@click.command("promise")
@click.argument("tag")
@click.argument("day", default="")
@click.option(
    "--worth",
    type=click.FloatRange(min=0, min_open=True, max=1000),
    default=10.0,
    help="A minute late against a minute of the shop's own end.",
)
@click.option("--ask", is_flag=True, help="Only ask; note nothing.")
@click.option("--drop", is_flag=True, help="Take the promise back.")
@seconds_option
@json_option
@click.pass_context
def promise(
    ctx: click.Context,
    tag: str,
    day: str,
    worth: float,
    ask: bool,
    drop: bool,
    seconds: float,
    as_json: bool,
) -> int:  # fmt: skip
    """Promise a piece for a day: whether it can be kept, what it costs the others, or why not.

    Exit code 1 where no plan was found that keeps it. It is noted all the same, unless --ask.
    """
    shop = open_book(ctx)
    piece = piece_of(shop, tag)
    if drop:
        return say_done(asking.drop_promise(shop, piece.tag), as_json)
    now = shop.clock()
    by = good(asking.day_meant(shop, day or "", now))
    told = good(plans.ask_promise(shop, piece.tag, by, worth, now, seconds))
    noted = None if ask else good(asking.note_promise(shop, piece.tag, by, worth))
    if as_json:
        say_json(_promise_row(told, not ask))
    else:
        _say_promise(told, noted.sentence if noted else "")
    return OK if told.kept else NO


def _what_if(
    shop: Shop,
    asked: tuple[str, ...],
    named: list[str],
    now: datetime,
    seconds: float,
    as_json: bool,
) -> int:
    """Of the whole shop, whose pieces share its hands; of those named only the days are told."""
    questions = [good(asking.question(shop, text, now)) for text in asked]
    whole = asking.together(questions)
    usual = plans.plan(shop, at=now, seconds=seconds / 2, keep=False)
    then = plans.assumed_plan(shop, now, whole.change, whole.assumed, seconds / 2)
    rows = [r for r in compared(usual.ends, then.ends) if not named or r.piece in named]
    if as_json:
        say_json({"what_if": whole.words, "sentence": then.sentence,
                  "pieces": [_compared_row(usual, then, row) for row in rows]})  # fmt: skip
        return OK
    say(f"{capital(whole.words)}:")
    both = [(r.piece, r.now, r.then) for r in rows if r.now is not None and r.then is not None]
    for line in side_by_side(usual.shop, now, both):
        say(f"  {line}")
    for row in rows:
        if row.now is None and row.then is not None:
            say(f"  {then.shop.title(row.piece)}: {short(now, row.then)}")
    say(then.sentence)
    return OK


def _compared_row(usual: PlanShown, then: PlanShown, row: Compared) -> JsonRow:
    return {
        "tag": row.piece,
        "title": then.shop.title(row.piece),
        "done": _iso(usual, row.now),
        "would_be": _iso(then, row.then),
    }


def _data(shown: PlanShown, calendar: Path | None, table: Path | None) -> list[bytes]:
    found = [out.calendar(shown)] if calendar else []
    return [*found, out.table(shown).encode()] if table else found


def _say_plan(shown: PlanShown, days: int, chance: Chances | None, tonight: Tonight | None) -> None:
    if shown.changed:
        say(shown.changed)
    say(shown.sentence)
    if tonight:
        say(tonight.sentence)
    for sentence in (*shown.sentences, *(plans.sure_words(shown, chance) if chance else ())):
        say(f"  {sentence}")
    names = {s.key: s for s in shown.shop.stints}
    last = ""
    for p in shown.best.plan.placed:
        start = shown.at + timedelta(minutes=p.start)
        if p.start > days * 24 * 60:
            break
        today = shown_times.long_day(start, shown.at)
        if today != last:
            say(today)
        last = today
        load = f"load {p.load}" if p.load else ""
        who, long = notes(*p.workers, load), names[p.stint].minutes
        say(f"  {shown_times.hour(start)} {names[p.stint].name}, {long} min ({who})")


def _plan_row(shown: PlanShown, chance: Chances | None) -> JsonRow:
    return {
        "at": iso(shown.at),
        "sentence": shown.sentence,
        "changed": shown.changed,
        "cost": shown.best.cost,
        "bound": shown.best.proven.cost,
        "pieces": [
            {
                "tag": tag,
                "title": shown.shop.title(tag),
                "done": _iso(shown, end),
                "no_sooner": _iso(shown, min(end, shown.best.proven.ends[tag])),
                "eight_of_ten": _iso(shown, chance.by(tag, plans.SURE) if chance else None),
                "promised": next((_iso(shown, p.by) for p in shown.shop.promised
                                  if p.piece == tag), None),
            }
            for tag, end in shown.ends.items()
        ],
        "stints": [_stint_row(shown, n) for n in range(len(shown.best.plan.placed))],
        "held": [h.sentence for h in shown.held],
        "said": list(shown.sentences),
    }  # fmt: skip


def _pace_row(pace: PaceTold) -> JsonRow:
    return {
        "work": pace.work,
        "kind": pace.kind or None,
        "per": pace.per.value,
        "times": pace.times,
        "minutes": pace.minutes,
        "low": pace.low,
        "high": pace.high,
        "own": pace.minutes is not None,
        "sentence": pace.sentence,
    }


def _stint_row(shown: PlanShown, number: int) -> JsonRow:
    p = shown.best.plan.placed[number]
    stint = next(s for s in shown.shop.stints if s.key == p.stint)
    return {
        "tag": stint.piece,
        "name": stint.name,
        "start": _iso(shown, p.start),
        "end": _iso(shown, p.end),
        "by": list(p.workers),
        "load": p.load or None,
    }


def _say_promise(told: PromiseTold, noted: str) -> None:
    """That it was noted, whether it is kept or the chain why not, and what the others come to."""
    if noted:
        say(noted)
    # The chain begins with what the sentence says, and then says why.
    say(_why_not(told) or told.sentence)
    for line in side_by_side(told.shop, told.at, told.others):
        say(f"  {line}")


def _why_not(told: PromiseTold) -> str:
    """The sentence of what makes it impossible; "" when nothing proves that."""
    return chain_words(told.unreachable, told.shop, told.at) if told.unreachable else ""


def _promise_row(told: PromiseTold, noted: bool) -> JsonRow:
    def at(minute: int) -> str | None:
        return iso(told.at + timedelta(minutes=minute))

    return {
        "tag": told.tag,
        "promised": iso(told.by),
        "kept": told.kept,
        "noted": noted,
        "sentence": told.sentence,
        "because": _why_not(told),
        "chain": _chain_rows(told.unreachable, told.at),
        "pieces": [{"tag": p, "done": at(now), "would_be": at(then)}
                   for p, now, then in told.others],
    }  # fmt: skip


def _chain_rows(found: Unreachable | None, at: datetime) -> list[JsonRow]:
    return [
        {
            "name": link.name,
            "start": iso(at + timedelta(minutes=link.start)),
            "end": iso(at + timedelta(minutes=link.end)),
            "because": link.why,
        }
        for link in (found.chain if found else ())
    ]


def _iso(shown: PlanShown, minute: int | None) -> str | None:
    return None if minute is None else iso(shown.at + timedelta(minutes=minute))


COMMANDS = {c.name: book_options(c) for c in (plan, promise)}
