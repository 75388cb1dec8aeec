"""Copies of the book: made by themselves once a day and before a large change, and got back."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Final

from partsbench import files
from partsbench.core.keeping import COPY_NAME, to_drop
from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import NOTHING_RECORDED_YET, copied_to, no_folder, not_replaced
from partsbench.core.shown_times import day_and_year, hour
from partsbench.core.wording import plural, sentences
from partsbench.services.shop import Shop, writing
from partsbench.store import chain, figures
from partsbench.store.book import open_book
from partsbench.store.journal import change

if TYPE_CHECKING:
    from partsbench.store.restoring import Loss

FOLDER: Final = "copies folder"
"""Under this name the book keeps the folder that was chosen."""
ENDING: Final = files.BOOK
OLD_AFTER: Final = timedelta(days=7)
CHECKED_WHOLE: Final = 30_000_000
"""Bytes of a copy whose history is played back too; a larger one would keep people waiting."""
_TIME = "%Y-%m-%dT%H%M%SZ"


@dataclass(frozen=True, slots=True)
class KeptCopy:
    """A copy that was made by itself or on demand, in the folder of copies."""

    path: Path
    at: datetime
    latest: str
    """Beginning of the sum of its latest entry."""


def folder_of(shop: Shop) -> Path | None:
    """Where copies go: as chosen, else beside the user's own book; None when nowhere."""
    chosen = figures.habits(shop.book).get(FOLDER)
    return Path(chosen) if chosen else shop.copies_folder


@writing
def choose_folder(shop: Shop, folder: Path) -> Done | Refused:
    """From now on copies go there; one is made at once, so that it shows whether that works."""
    absolute = folder.absolute()
    if not absolute.is_dir():
        return Refused(no_folder(absolute))
    why = files.why_not_into(absolute)
    if why:
        return Refused(f"Nothing can be written into {absolute}: {why}.")
    with change(shop.book, f"Copies go to {absolute}", shop.clock(), shop.who) as entry:
        figures.put(entry, "habit", {"name": FOLDER}, {"typed": str(absolute)})
    made = make(shop)
    return made if isinstance(made, Refused) else Done(f"Copies go to {absolute} from now on.")


def kept(shop: Shop) -> list[KeptCopy]:
    """The copies of this book in its folder, the latest first."""
    folder = folder_of(shop)
    return [] if folder is None else copies_in(folder, _first(shop))


def copies_in(folder: Path, first: str = "") -> list[KeptCopy]:
    """The copies in a folder, of one book when its first sum is given, the latest first."""
    found = []
    with contextlib.suppress(OSError):
        for path in folder.iterdir():
            told = COPY_NAME.fullmatch(path.stem) if path.suffix == ENDING else None
            if told and first in ("", told[2]):
                with contextlib.suppress(ValueError):
                    at = datetime.strptime(told[3], _TIME).replace(tzinfo=UTC)
                    found.append((at, path.stat().st_mtime_ns, KeptCopy(path, at, told[4])))
    # Names tell the second; of two copies in one, the file that was written last is the latest.
    return [copy for *_, copy in sorted(found, key=lambda c: c[:2], reverse=True)]


def make(shop: Shop) -> Done | Refused:
    """A copy now, looked through when it is written; then older ones go, as the rule says."""
    folder = folder_of(shop)
    if folder is None:
        return Refused("No folder for copies is chosen.")
    if not _latest(shop):
        return Refused(NOTHING_RECORDED_YET)
    with contextlib.suppress(OSError):
        folder.mkdir(exist_ok=True)
    now = shop.clock()
    sums = f"{_first(shop)}-{now.astimezone(UTC).strftime(_TIME)}-{_latest(shop)}"
    target = folder / f"{shop.book.path.stem}-{sums}{ENDING}"
    if not target.exists():
        fault = shop.book.save_copy(target)
        wrong = fault.sentence if fault else _looked_through(target)
        if wrong:
            with contextlib.suppress(OSError):
                target.unlink(missing_ok=True)
            return Refused(wrong)
    _drop_old(kept(shop), now)
    return Done(copied_to(target))


def _looked_through(copy: Path) -> str:
    """What is wrong with a copy as it is read back; empty when all of it stands."""
    if copy.stat().st_size > CHECKED_WHOLE:
        return ""
    book = open_book(copy)
    if isinstance(book, Refused):
        return book.sentence
    from partsbench.store import checking

    with contextlib.closing(book):
        wrong = checking.faults(book)
    return f"The book is damaged, so that no good copy could be made: {wrong[0]}." if wrong else ""


def _drop_old(copies: list[KeptCopy], now: datetime) -> None:
    gone = set(to_drop((c.at for c in copies), now))
    for copy in copies:
        if copy.at in gone:
            with contextlib.suppress(OSError):
                copy.path.unlink()


def daily(shop: Shop) -> list[str]:
    """Make the copy of the day when there is none and something is new; what a person should be
    told of the copies, which is nothing while they are well."""
    folder = folder_of(shop)
    if folder is None or shop.book.only_read:
        return []
    if not _latest(shop):
        found = copies_in(folder)
        lead = f"This book is new and empty, and {folder} holds copies of an earlier one"
        return [f"{lead}: the latest is {found[0].path.name}."] if found else []
    latest = next(iter(kept(shop)), None)
    if latest and latest.latest == _latest(shop):
        return []
    now = shop.clock()
    if latest and latest.at.astimezone().date() == now.astimezone().date():
        return []
    made = make(shop)
    if isinstance(made, Done):
        return []
    age = "There is no copy of this book yet." if latest is None else _age_words(latest, now)
    return [f"No copy of today could be made: {made.sentence} {age}"]


def before_large_change(shop: Shop) -> None:
    """A copy of the book as it is, where there is a folder for copies."""
    if folder_of(shop) is not None and _latest(shop):
        make(shop)


def _age_words(latest: KeptCopy, now: datetime) -> str:
    days = (now - latest.at).days
    ago = {0: "today", 1: "a day ago"}.get(days, f"{days} days ago")
    made = day_and_year(latest.at.astimezone())
    if now - latest.at > OLD_AFTER:
        return f"It is old: the last good copy is of {made}, {ago}."
    return f"The last good copy is of {made}, {ago}."


def standing(shop: Shop) -> str:
    """How the copies stand, in a sentence or two."""
    folder = folder_of(shop)
    if folder is None:
        return "No copies are made by themselves: no folder is chosen for them."
    copies = kept(shop)
    if not copies:
        return f"Copies go to {folder}; there is none of this book yet."
    if copies[0].latest == _latest(shop):
        return f"Copies go to {folder}; the latest has all that is in the book."
    return f"Copies go to {folder}. {_age_words(copies[0], shop.clock())}"


# Getting one back


def would_lose(shop: Shop | None, copy: Path) -> Loss | Refused:
    """What would be lost if that copy were the book; refused when it is not sound."""
    from partsbench.store import restoring

    beside = shop.book.path.absolute().parent if shop else copy.absolute().parent
    try:
        if shop and files.is_there(copy) and copy.samefile(shop.book.path):
            return Refused(f"{copy} is the book itself.")
        with restoring.looked_through(copy, beside) as found:
            if isinstance(found, Refused):
                return found
            return restoring.loss(shop.book if shop else None, found)
    except OSError as error:
        return Refused(f"{copy} cannot be looked through: {files.why(error)}.")


def loss_words(loss: Loss) -> str:
    """`3 changes made since would be lost, the last of them “D1 washed” of 14:20.`"""
    if loss.unknown:
        return f"What would be lost cannot be told: {loss.unknown}."
    if not loss.count:
        lost = "Nothing would be lost."
    else:
        last = loss.latest[0]
        when = f"{day_and_year(last.at.astimezone())} {hour(last.at)}"
        lost = plural(
            loss.count,
            f"Lost would be 1 change “{last.sentence}” of {when}.",
            f"Lost would be {loss.count} changes, the last of them “{last.sentence}” of {when}.",
        )
    if not loss.others:
        return lost
    more = plural(loss.others, "1 change", f"{loss.others} changes")
    return sentences(lost, f"The copy has {more} that the book has not.")


def restore(path: Path, copy: Path, clock: Callable[[], datetime], who: str = "") -> Done | Refused:
    """That copy is the book at `path` from now on; the one that was there is kept beside it.

    The book must be closed in this program.
    """
    from partsbench.store import restoring

    path = files.itself(path)
    try:
        if path.exists() and copy.exists() and path.samefile(copy):
            return Refused(f"{copy} is the book itself.")
        with restoring.looked_through(copy, path.absolute().parent) as found:
            if isinstance(found, Refused):
                return found
            done = restoring.put_in_place(path, found, clock(), who)
    except OSError as error:
        return Refused(not_replaced(path, files.why(error)))
    if isinstance(done, Refused):
        return done
    kept_words = f"The book as it was is kept as {done.name}." if done else ""
    return Done(sentences(f"{path.name} is now what {copy.name} was.", kept_words))


def _first(shop: Shop) -> str:
    return chain.first(shop.book.connection)[:6]


def _latest(shop: Shop) -> str:
    return chain.latest(shop.book.connection)[:6]
