"""What is not said of an event or an act is not so."""

from __future__ import annotations

from partsbench.core.bench.events import Act, Hit, Kind, Push, Pushed, Scanned, Snapshot, Took, What


def test_a_label_of_which_nothing_is_known_is_in_no_load_at_no_home_and_gives_no_result() -> None:
    plain = Hit(Kind.STRANGE, "????")
    assert (plain.home, plain.in_load, plain.fits, plain.says) == (0, False, False, None)
    assert (plain.tag, plain.part, plain.sits_on) == ("", "", frozenset())


def test_of_a_book_that_was_not_read_nothing_is_complete() -> None:
    assert Snapshot() == Snapshot(0, None, frozenset(), None, False)


def test_a_scan_is_by_a_trigger_that_may_bounce_unless_it_was_typed() -> None:
    assert Scanned().trigger and not Scanned(trigger=False).trigger


def test_an_act_confirms_and_counts_nothing_by_itself() -> None:
    plain = Act(What.RECORD)
    assert (plain.number, plain.confirmed, plain.insists, plain.codes) == (0, False, (), ())
    assert Pushed(Push.ENTER).text == ""
    assert Took() == Took(None, None, None, None)
