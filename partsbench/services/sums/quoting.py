"""A quote from the shop's own sold pieces, of one kind where enough of it were sold."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.finish.facts import KIND
from partsbench.core.naming import few
from partsbench.core.outcomes import Refused
from partsbench.core.said_often import NO_RATE
from partsbench.core.sums import quotes, units
from partsbench.core.sums.hours import HoursWorked, HowTimed
from partsbench.core.sums.quotes import Finished, Quote
from partsbench.services.known import work
from partsbench.services.known.facts import of_piece
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import habits
from partsbench.services.sums.hours import hours_of
from partsbench.services.sums.mixing import materials
from partsbench.services.sums.money import costs_of
from partsbench.services.sums.told import Told, told_of
from partsbench.store import figures


def quote(shop: Shop, rate: str = "", kind: str = "") -> Quote | Refused:
    """A likely and a bad-case sum from the shop's own sold pieces; nothing below five.

    Of the `kind` asked about, in the word that was said of pieces (fact `kind`), where five were.
    """
    own = habits(shop)
    wanted = units.number(rate, "rate") if rate.strip() else own.value("rate")
    if isinstance(wanted, Refused):
        return wanted
    if not isinstance(wanted, int | float):
        return Refused(NO_RATE)
    paces = work.Paces(shop)
    finished: list[Finished] = []
    left_out: list[str] = []
    for key, tag, codename in figures.sold(shop.book):
        piece = shop.piece(tag)
        worked = hours_of(shop, piece, key, paces.at) if piece else None
        used = materials(shop, key)
        if not isinstance(worked, HoursWorked) or not worked.total or isinstance(used, Refused):
            left_out.append(f"hours and tins of {codename} {tag} that can be told")
        else:
            costs = costs_of(tuple(figures.money(shop.book, key)), used)
            said = " ".join(of_piece(shop, tag).of("").get(KIND, "").split())
            estimated = worked.known(HowTimed.ESTIMATED)
            finished.append(Finished(codename, worked.total, costs.total, said, estimated))
    asked = " ".join(kind.lower().split())
    answer = quotes.quote(finished, float(wanted), own.number("fee", 0), asked)
    if isinstance(answer, Refused):
        return answer
    return replace(answer, lacks=(*answer.lacks, *few(left_out)))


def tell_quote(found: Quote) -> Told:
    data = {"jobs": found.jobs, "likely": found.likely, "bad": found.bad,
            "hours_likely": found.hours_likely, "hours_bad": found.hours_bad,
            "kind": found.kind or None, "of_kind": found.like,
            "bad_share": None if found.bad is None else found.bad_share}  # fmt: skip
    above = f"1 in {1 / (1 - found.bad_share):.0f}"
    valid = f"half of such jobs cost more than the likely sum, {above} more than the bad case"
    return told_of(found, valid="" if found.bad is None else valid, data=data)
