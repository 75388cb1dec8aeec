"""A piece that another window took back: whatever is asked of it here is told, and nothing is
recorded."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.said_often import no_piece
from partsbench.services.acts import by_count, loads, masks, places, returning, teardown
from partsbench.services.acts.history import undo
from partsbench.services.acts.returning import FitResult
from partsbench.services.books import clients, exchange
from partsbench.services.known import facts, old_finish
from partsbench.services.plan import asking, plans
from partsbench.services.rules.clocks import clocks_of
from partsbench.services.shop import Shop
from partsbench.services.shown import first_things, labels, proof
from partsbench.services.sums import (
    allotment,
    care,
    census,
    choice,
    drill,
    holes,
    hours,
    litres,
    masking,
    measure,
    mixing,
    money,
    ordering,
    orphan,
    showcase,
    standing,
)
from tests.support.clock import SetClock
from tests.support.shops import heron, shop_at

MAY = datetime(2031, 5, 30, 18, tzinfo=UTC)
Asked = Callable[[Shop, str], object]

ASKED: dict[str, Asked] = {
    "a load": loads.start,
    "tape on": lambda s, t: masks.put_on(s, t, "C1 top"),
    "tape off": lambda s, t: masks.take_off(s, t, "C1 top"),
    "no tape": lambda s, t: masks.not_needed(s, t, "C1 top"),
    "ways to tape": lambda s, t: masks.ways(s, t, "C1 top"),
    "lines": lambda s, t: masks.lines(s, t, "C1 top"),
    "out": lambda s, t: teardown.take_out(s, t, ["D1"]),
    "stays": lambda s, t: teardown.stays_in(s, t, "D1"),
    "the last one": returning.by_elimination,
    "fit": lambda s, t: returning.record_fit(s, t, "D1", FitResult.TIGHT),
    "a fact": lambda s, t: facts.say(s, t, "age", "newer"),
    "old finish": lambda s, t: old_finish.say(s, t, old_finish.Saying("newer", "", "", "")),
    "promise": lambda s, t: asking.note_promise(s, t, MAY),
    "promise dropped": asking.drop_promise,
    "labels": labels.plan_sheet,
    "counted home": lambda s, t: by_count.count_home(s, t, "L1", 2),
    "client": lambda s, t: clients.set_client(s, t, name="A. Person"),
    "export": exchange.export,
    "hardware counted": lambda s, t: first_things.count_good(s, t, {("D1", "pull"): 1}),
    "level": standing.level,
    "weigh": lambda s, t: standing.weigh(s, t, "40 kg"),
    "tip over": standing.tip_over,
    "pattern": standing.pattern,
    "a break": lambda s, t: standing.want_break(s, t, "D1"),
    "money": lambda s, t: money.note_money(s, t, "bought", "20"),
    "ledger": money.ledger,
    "invoice": money.invoice_csv,
    "holes": lambda s, t: choice.note_holes(s, t, "D1", "100"),
    "a pull": lambda s, t: choice.consider(s, t, "bar", "128"),
    "drilling": lambda s, t: drill.where_to_drill(s, t, "D1", spacing="128"),
    "pulls that fit": holes.choices,
    "a screw": lambda s, t: holes.screw_at_hand(s, t, "D1", "bar", "M4", "25"),
    "work begun": lambda s, t: hours.begin_work(s, t, "sand"),
    "work ended": hours.end_work,
    "hours corrected": lambda s, t: hours.correct_hours(s, t, "sand", "20"),
    "hours": hours.hours_in,
    "an orphan": lambda s, t: orphan.note_orphan(s, t, "X", {"width": "300"}),
    "no orphan": lambda s, t: orphan.drop_orphan(s, t, "X"),
    "whose": orphan.whose,
    "a size": lambda s, t: measure.measure(s, t, "D1", "width", "300"),
    "wood": lambda s, t: measure.set_wood(s, t, ["D1"], "walnut, black", "flat"),
    "sizes": measure.measured,
    "allotment": lambda s, t: allotment.allot(s, t, "pull", 10),
    "veto": lambda s, t: allotment.veto(s, t, "P1", "D1"),
    "census": lambda s, t: census.count(s, t, "D1", "pull", 1),
    "to mix": litres.to_mix,
    "masking": masking.mask_paper,
    "a tin": lambda s, t: mixing.use_tin(s, t, "blue", "500 ml"),
    "order": ordering.order,
    "showcase": showcase.showcase,
    "care": care.care,
}


@pytest.fixture
def gone(shop: Shop, clock: SetClock, book_path: Path) -> str:
    """The tag of a piece that was taken in here, and whose taking in the other window took back."""
    tag = heron(shop).tag
    other = shop_at(book_path, clock, "Wren")
    assert isinstance(undo(other), Done)
    assert other.piece(tag) is None
    other.close()
    return tag


def test_whatever_is_done_with_it_is_refused_by_its_tag(
    shop: Shop, gone: str, clock: SetClock, tmp_path: Path
) -> None:
    before = shop.book.newest()
    for what, ask in ASKED.items():
        said = ask(shop, gone)
        assert isinstance(said, Refused | Outcome), (what, said)
        assert no_piece(gone) in said.sentence, (what, said)
        assert not isinstance(said, Outcome) or not said.recorded
    written = proof.save_proof(shop, gone, tmp_path / "proof.pdf")
    assert isinstance(written, Refused) and not (tmp_path / "proof.pdf").exists()
    assert isinstance(plans.ask_promise(shop, gone, MAY, seconds=0.1), Refused)
    assert shop.book.newest() == before


def test_what_only_shows_it_shows_nothing(shop: Shop, gone: str, clock: SetClock) -> None:
    assert loads.propose(shop, gone).sentence == "No coat is due."
    assert masks.seams(shop, gone) == []
    assert clocks_of(shop, gone) == []
    assert hours.running(shop, gone) == ""
    assert places.unseen_since(shop, gone, clock.now) == []
