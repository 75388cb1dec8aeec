"""The old finish over a shop's days: asked before strip and sand, by screen, command and wall."""

from __future__ import annotations

import pypdfium2
import pytest

from partsbench.core.finish.old_finish import Lead
from partsbench.core.outcomes import Answer, Done, Refused, Tone
from partsbench.core.piece.spot import Spot
from partsbench.core.verbs import WHOLE_PIECE
from partsbench.services.acts import bench, history
from partsbench.services.heard.wall import day_sheet
from partsbench.services.known import facts, old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.services.shown.proof import make_proof
from tests.support.at_bench import insist, record
from tests.support.clock import SetClock
from tests.support.evening import Worker
from tests.support.shops import lay_out, made

RULE = "old finish not answered"


@pytest.fixture
def tag(shop: Shop) -> str:
    """D1 to be painted, D2 to be stained; nobody has said what is on them."""
    paths = [("paint", ["D1"]), ("stain", ["D2"])]
    return made(lay_out(shop, "Heron", "2", paths=paths, known={})).tag


def a_test(shop: Shop, result: str = "tested free", **said: str) -> Saying:
    return Saying(test=result, how=said.get("how", "laboratory"), where=said.get("where", "D1"),
                  by=said.get("by", "Wren"), on=shop.clock(), old=said.get("old", ""))  # fmt: skip


def rinsed(shop: Shop, clock: SetClock, tag: str, *shorts: str) -> None:
    for short in shorts:
        record(shop, short, here=tag)
        record(shop, short, here=tag)
    clock.pass_time(hours=13)


def asks(shop: Shop, tag: str, short: str, **how: object) -> bool:
    return RULE in bench.look(shop, short, here=tag, **how).held  # type: ignore[arg-type]


def test_a_day_with_a_chest_of_which_nobody_has_said_anything(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    first = bench.look(shop, "D1", here=tag)
    assert first.answer is Answer.GO, "washing disturbs nothing"
    assert any(w.startswith("old finish not said") for w in first.warnings)
    rinsed(shop, clock, tag, "D1", "D2")
    for short in ("D1", "D2"):
        seen = bench.look(shop, short, here=tag)
        assert (seen.answer, seen.tone) == (Answer.STOP, Tone.HOLD)
        assert not record(shop, short, here=tag).recorded
    assert day(shop).sentence.endswith("is held.")
    assert isinstance(old_finish.say(shop, tag, Saying(test="unknown")), Done)
    assert asks(shop, tag, "D1"), "not known is an answer that holds"
    assert isinstance(old_finish.say(shop, tag, a_test(shop)), Done)
    assert not asks(shop, tag, "D1") and not asks(shop, tag, "D2")
    assert record(shop, "D1", here=tag).recorded


def test_the_stripper_waits_for_the_question_and_a_way_opens_only_its_own_steps(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    old_finish.say(shop, tag, Saying(age="older", old="clear"))
    rinsed(shop, clock, tag, "D1", "D2")
    seen = bench.look(shop, "D2", here=tag)
    assert (seen.step, seen.held) == ("strip", (RULE,))
    assert "before the stripper takes it off" in seen.because
    old_finish.say(shop, tag, Saying(way="chemical"))
    assert not asks(shop, tag, "D2")
    assert asks(shop, tag, "D1"), "by chemistry, on a path that strips nothing"
    assert "no stripper was on it" in bench.look(shop, "D1", here=tag).because
    for step, minutes in (("strip", 25), ("scrape", 5), ("residue", 60 * 30)):
        assert bench.look(shop, "D2", here=tag).step == step
        assert record(shop, "D2", here=tag).recorded, step
        clock.pass_time(minutes=minutes)
    stripped = bench.look(shop, "D2", here=tag)
    assert stripped.step == "sand_150" and "residue" in stripped.because
    assert RULE not in bench.look(shop, "D2", here=tag, wet=True).held
    old_finish.say(shop, tag, a_test(shop, where="bare wood of D2"), ["D2"])
    assert not asks(shop, tag, "D2")


def test_wet_asks_for_wet(shop: Shop, clock: SetClock, tag: str) -> None:
    old_finish.say(shop, tag, Saying(old="paint", way="wet"))
    rinsed(shop, clock, tag, "D1")
    assert "say that it is done wet" in bench.look(shop, "D1", here=tag).because
    assert not record(shop, "D1", here=tag).recorded
    assert record(shop, "D1", here=tag, wet=True).recorded


def test_lead_that_was_found_stays_found_to_the_proof_sheet(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    old_finish.say(shop, tag, a_test(shop, "tested lead"), ["D1"])
    for later in (Saying(way="wet"), a_test(shop), Saying(age="newer"), Saying(old="none")):
        old_finish.say(shop, tag, later, ["D1"])
    rinsed(shop, clock, tag, "D1", "D2")
    assert "lead was found" in bench.look(shop, "D1", here=tag).because
    assert asks(shop, tag, "D2"), "and elsewhere on the piece its age clears nothing"
    old_finish.say(shop, tag, Saying(age="newer"))
    assert asks(shop, tag, "D2")
    assert record(shop, "D1", here=tag, wet=True).recorded
    while insist(shop, "D1", here=tag).step:
        clock.pass_time(days=2)
    sheet = make_proof(shop, tag)
    assert isinstance(sheet, bytes)
    words = text_of(sheet)
    assert "Lead was found in the old finish of D1: under the new one too." in words
    assert "laboratory; of D1; by Wren" in words
    assert "safe" not in words.lower()


def text_of(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as doc:
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in doc)


def test_a_test_is_kept_with_its_record_or_not_at_all(shop: Shop, tag: str) -> None:
    for lacking in ("how", "where", "by"):
        refused = old_finish.say(shop, tag, a_test(shop, **{lacking: ""}))
        assert isinstance(refused, Refused), lacking
        asked = "by whom" if lacking == "by" else lacking
        assert refused.sentence == f"A test is kept with its record: say {asked}."
    assert facts.said(shop, tag) == ()
    assert isinstance(old_finish.say(shop, tag, Saying()), Refused)
    assert isinstance(old_finish.say(shop, tag, Saying(old="soup")), Refused)


def test_a_slip_is_undone_like_any_other_record(shop: Shop, tag: str) -> None:
    old_finish.say(shop, tag, a_test(shop, "tested lead"), ["D1"])
    history.undo(shop)
    (told,) = old_finish.known(shop, made_piece(shop, tag))
    assert (told.lead, told.names) == (Lead.NOT_SAID, (Spot("D1"), Spot("D2")))


def made_piece(shop: Shop, tag: str):  # type: ignore[no-untyped-def]
    piece = shop.piece(tag)
    assert piece is not None
    return piece


def test_three_scans_answer_for_the_whole_piece(shop: Shop, clock: SetClock, tag: str) -> None:
    worker = Worker(shop, clock, tag)
    shop.who = ""
    worker.verb("KIT, NO LEAD")
    nobody = worker.part("D1")
    assert nobody.tone is Tone.REFUSED and "who you are" in nobody.sentence
    shop.who = "Wren"
    before = worker.scans
    worker.verb("KIT, NO LEAD")
    worker.face(WHOLE_PIECE)
    said = worker.part("D1")
    assert worker.scans - before == 3
    assert said.recorded and "all of it: a test found no lead" in said.sentence
    (fact,) = facts.said(shop, tag)
    assert fact.note.startswith("test kit; of D1; by Wren; ")
    worker.verb("WORKED WET")
    assert "D2: worked wet" in worker.part("D2").sentence, "of the part alone"


def test_sanded_wet_by_scanner(shop: Shop, clock: SetClock, tag: str) -> None:
    old_finish.say(shop, tag, Saying(test="unknown", way="wet"))
    rinsed(shop, clock, tag, "D1")
    worker = Worker(shop, clock, tag)
    worker.verb("SANDED")
    assert not worker.part("D1").recorded
    worker.verb("SANDED WET")
    assert worker.part("D1").recorded


def test_the_day_on_paper_says_what_holds(shop: Shop, clock: SetClock, tag: str) -> None:
    rinsed(shop, clock, tag, "D1", "D2")
    sheet = day_sheet(shop, (tag,))
    assert isinstance(sheet, bytes)
    assert "nobody has said what is on this face" in text_of(sheet)


def test_go_for_sanding_never_stands_beside_the_word_to_wait_for_a_test(
    shop: Shop, clock: SetClock, tag: str
) -> None:
    """On several faces at once the one that nobody cleared is the one that is told of."""
    rinsed(shop, clock, tag, "D1")
    before = bench.look(shop, "D1", here=tag)
    assert before.answer is Answer.STOP and "lead" in before.cautions
    assert isinstance(old_finish.say(shop, tag, a_test(shop)), Done)
    after = bench.look(shop, "D1", here=tag)
    assert after.answer is Answer.GO
    assert "lead" not in after.cautions and "lead_cleared" in after.cautions
