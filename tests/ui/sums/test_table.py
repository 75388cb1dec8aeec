"""The table of decisions: whole, and no text that a person may type ends in anything but words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop, open_shop
from partsbench.services.sums.asked.description import SumEntry, SumField, SumQuestion
from partsbench.services.sums.asked.earning import ENTRIES
from partsbench.services.sums.habits import KNOWN
from partsbench.services.sums.told import Told
from partsbench.ui.sums.table import DECISIONS, find
from tests.support.clock import SetClock
from tests.support.shops import lay_out

LIKELY = ["D1", "H1", "C1", "T1", "L1", "96", "0", "1/2", '34 1/2"', "-4", "nan", "1e999", "²", "٣",
          "20C 30%", "102,60 198,60", "width", "paint", "26 clear, 3 colour", "pull", "in 3 days",
          "9" * 400, "=cmd", "100 µm", "400 ml", "'", "\x00", "\ud7ff"]  # fmt: skip


def texts(ask: SumField) -> st.SearchStrategy[str]:
    if ask.choices:
        return st.sampled_from(ask.choices)
    return st.one_of(st.sampled_from(["", ask.hint, *LIKELY]), st.text(max_size=12))


@st.composite
def filled(draw: st.DrawFn, asks: tuple[SumField, ...]) -> dict[str, str]:
    return {ask.key: draw(texts(ask)).strip() for ask in asks}


@pytest.fixture(scope="module")
def worn(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Shop, str]]:
    """A book that keeps whatever was taken, so that later answers stand on odd figures."""
    shop = open_shop(Path(tmp_path_factory.mktemp("sums")) / "b.partsbench", SetClock())
    assert isinstance(shop, Shop)
    piece = lay_out(shop, "Heron", "2 1", pulls=1, legs=4, top=True, paths=[("paint", ["drawers"])])
    assert not isinstance(piece, Refused)
    yield shop, piece.tag
    shop.close()


ALL_ENTRIES = [(d.key, e) for d in DECISIONS for e in d.entries] + [("ledger", e) for e in ENTRIES]


@pytest.mark.parametrize("entry", [e for _, e in ALL_ENTRIES],
                         ids=[f"{key}: {e.title}" for key, e in ALL_ENTRIES])  # fmt: skip
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_whatever_is_noted_is_done_or_refused(
    worn: tuple[Shop, str], entry: SumEntry, data: st.DataObject
) -> None:
    shop, tag = worn
    before = latest(shop)
    done = entry.note(shop, tag, data.draw(filled(entry.asks)))
    assert isinstance(done, (Done, Refused))
    assert done.sentence.strip()
    if isinstance(done, Refused):
        assert latest(shop) == before, "refused, and kept all the same"


def latest(shop: Shop) -> object:
    """The latest change in the journal, which every change goes through."""
    return shop.book.row("SELECT max(id) FROM journal")[0]


def test_of_two_settings_neither_is_kept_when_one_cannot_be_read(worn: tuple[Shop, str]) -> None:
    shop, tag = worn
    rules = next(e for key, e in ALL_ENTRIES if (key, e.title) == ("order", "Your rules"))
    before = latest(shop)
    refused = rules.note(shop, tag, {"spare pulls": "3", "margin days": "soon"})
    assert isinstance(refused, Refused) and "margin" in refused.sentence
    assert latest(shop) == before
    assert isinstance(rules.note(shop, tag, {"spare pulls": "3", "margin days": "4"}), Done)


def test_a_veto_is_noted_and_taken_back_in_the_window(worn: tuple[Shop, str]) -> None:
    shop, _ = worn
    piece = lay_out(shop, "Quill", "2", pulls=1)
    assert not isinstance(piece, Refused)
    count, veto = (next(e for key, e in ALL_ENTRIES if key == k) for k in ("census", "allot"))
    counted = {"of": "D1", "kind": "pull", "count": "1", "condition": "good", "spacing": "96",
               "thread": "M4", "screw": "25"}  # fmt: skip
    assert isinstance(count.note(shop, piece.tag, counted), Done)
    said = {"survivor": "pull 1 of D1, good", "place": "D2 middle", "wanted": "no"}
    assert isinstance(veto.note(shop, piece.tag, said | {"survivor": "D1"}), Refused)
    assert isinstance(veto.note(shop, piece.tag, said | {"wanted": "yes"}), Refused)
    for wanted in ("no", "yes"):
        assert isinstance(veto.note(shop, piece.tag, said | {"wanted": wanted}), Done)


@pytest.mark.parametrize("decision", DECISIONS, ids=[d.key for d in DECISIONS])
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_whatever_is_asked_is_answered_or_refused(
    worn: tuple[Shop, str], decision: SumQuestion, data: st.DataObject
) -> None:
    shop, tag = worn
    told = decision.answer(shop, tag, data.draw(filled(decision.asks)))
    assert isinstance(told, (Told, Refused))
    if isinstance(told, Told):
        assert all(len(row) == len(told.head) for row in told.rows)


def test_keys_are_unique_and_questions_are_asked() -> None:
    assert len({d.key for d in DECISIONS}) == len(DECISIONS)
    assert all(d.question.endswith("?") and d.title for d in DECISIONS)
    assert find(DECISIONS, "mix").key == "mix"
    assert find(DECISIONS, "nothing") is DECISIONS[0]


def test_fields_of_the_shops_own_figures_are_known_settings() -> None:
    kept = [a.key for _, e in ALL_ENTRIES if e.now for a in e.asks]
    assert kept and set(kept) <= set(KNOWN)
