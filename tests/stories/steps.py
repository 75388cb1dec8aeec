"""The sentences that stories are written in, and what each of them does or checks."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from partsbench.core.verbs import REASONS
from partsbench.ui.piece_view import PieceView
from tests.stories.bench_story import Story
from tests.support.wall import verb_named

Step = Callable[..., None]
STEPS: list[tuple[re.Pattern[str], Step]] = []
NUMBERS = {"no": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5}


def says(pattern: str) -> Callable[[Step], Step]:
    """Register the sentence that a step is for."""

    def registered(step: Step) -> Step:
        STEPS.append((re.compile(pattern), step))
        return step

    return registered


def run(story: Story, sentence: str) -> None:
    """Do what a sentence says; AssertionError when it does not hold or means nothing."""
    for pattern, step in STEPS:
        found = pattern.fullmatch(sentence)
        if found:
            step(story, *found.groups())
            return
    raise AssertionError(f"no step for: {sentence}")


def sentences(file: Path) -> list[str]:
    """A story's sentences; its first line is its title."""
    lines = file.read_text(encoding="utf-8").splitlines()[1:]
    whole = " ".join(line.strip() for line in lines if line.strip())
    return [s.strip() for s in re.findall(r"(?:“[^”]*”|[^.“])+\.", whole)]


# Setting up


@says(
    r"(\w+) is a chest with (\d[\d ]*) drawers(?:, (\w+) (equal )?legs)?"
    r"(?:(?:,| and) a pull on each)?\."
)
def _chest(story: Story, codename: str, rows: str, legs: str | None, equal: str | None) -> None:
    story.take_in(codename, rows, NUMBERS[legs] if legs else 0, bool(equal), 1)


@says(r"(.+) are to be (painted|stained|cleared)\.")
def _planned(story: Story, shorts: str, how: str) -> None:
    story.plan(how, re.findall(r"[A-Z]\d+", shorts))


@says(r"The page is (Teardown|Bench|Load|Return|Day|Ledger)\.")
def _page(story: Story, page: str) -> None:
    story.go_to(page)


@says(r"The label of (\w\d+) is lost, and another is printed\.")
def _printed_again(story: Story, short: str) -> None:
    story.print_again(short)


# Doing


@says(r"(?:Drawer|Door|Leg|Home|Pull) (\w\d+)(?: of (\w+))? is scanned\.")
def _scanned(story: Story, short: str, codename: str | None) -> None:
    story.scan(story.label(short, codename or ""))


@says(r"All drawers are scanned\.")
def _all_scanned(story: Story) -> None:
    for part in story.piece().present:
        if part.short.startswith("D"):
            story.scan(story.label(part.short))


@says(r"Each of (.+) is scanned with its home\.")
def _each_with_home(story: Story, shorts: str) -> None:
    for short in re.findall(r"[A-Z]\d+", shorts):
        part = story.piece().part(short)
        assert part is not None
        story.scan(story.label(f"H{part.home.number}"))
        story.scan(story.label(short))


@says(r"Each of (.+) is taken out\.")
def _each_out(story: Story, shorts: str) -> None:
    for short in re.findall(r"[A-Z]\d+", shorts):
        story.scan(story.label(short))


@says(r"Drawer (\w\d+) is seen again at once\.")
def _bounced(story: Story, short: str) -> None:
    story.scan(story.label(short), at_once=True)


@says(r"The verb ([A-Z0-9 ]+) is scanned\.")
def _verb(story: Story, name: str) -> None:
    story.scan(verb_named(name).code)


@says(r"The reason “(.+)” is scanned\.")
def _reason(story: Story, name: str) -> None:
    story.scan(next(r.code for r in REASONS if r.name == name))


@says(r"Nobody scans for (\d+) minutes\.")
def _nobody(story: Story, minutes: str) -> None:
    assert story.window is not None
    story.clock.pass_time(minutes=int(minutes))
    story.window.listening.evening.on_beat()


@says(r"The band (?:says “(.+)”|is gone)\.")
def _band(story: Story, words: str | None) -> None:
    assert story.window is not None
    assert story.window.band.text == (words or "")


@says(r"The old label of (\w\d+) turns up and is scanned\.")
def _old_label(story: Story, short: str) -> None:
    story.scan(story.old_labels[short])


@says(r"A smeared label of (\w\d+) is scanned\.")
def _smeared(story: Story, short: str) -> None:
    label = story.label(short)
    story.scan(label[:-1] + ("A" if label[-1] != "A" else "B"))


@says(r"A code of another book is scanned\.")
def _stranger(story: Story) -> None:
    taken = set(story.tags.values())
    assert "K7Q4" not in taken
    story.scan("K7Q4-D05AK")


@says(r"(?:The key )?(\w+) is pressed\.")
def _pressed(story: Story, key: str) -> None:
    if key in ("Undo", "Redo"):
        story.act(key)
    else:
        story.press(key)


@says(r"Wren types “(.+)”\.")
def _typed(story: Story, text: str) -> None:
    story.type(text)


@says(r"Wren answers “(.+)”\.")
def _answered(story: Story, text: str) -> None:
    story.type(text)
    story.press("Enter")


@says(r"(\d+) hours pass\.")
def _passed(story: Story, hours: str) -> None:
    story.clock.pass_time(hours=int(hours))


@says(r"(\d+) minutes pass\.")
def _minutes(story: Story, minutes: str) -> None:
    story.clock.pass_time(minutes=int(minutes))


@says(r"Each of (.+) is scanned, (\d+) seconds apart\.")
def _one_by_one(story: Story, shorts: str, seconds: str) -> None:
    for short in re.findall(r"[A-Z]\d+", shorts):
        story.clock.pass_time(seconds=int(seconds))
        story.scan(story.label(short))


@says(r"“(.+)” took (\d+) minutes\.")
def _took(story: Story, step: str, minutes: str) -> None:
    """In the evening it is put right on the ledger."""
    assert story.window is not None
    page = story.window.page()
    (form,) = [f for f in page.forms if f.entry.title == "Hours put right"]
    form.fields.fill({"step": step, "minutes": minutes})
    form.button.click()


@says(r"The power goes, and comes back\.")
def _power(story: Story) -> None:
    assert story.window is not None
    story.window._keeper.on_beat()  # the second before the cut
    story.power_cut()


# Checking


@says(r"(?:Drawer|Door|Leg|Pull) (\w\d+) is (in the piece|out|home|in a wrong home)\.")
def _is(story: Story, short: str, where: str) -> None:
    assert story.state().of(short).where.value == where


@says(r"The word is ([A-Z ]+)\.")
def _word(story: Story, word: str) -> None:
    assert story.window is not None
    assert story.window.answer_bar.word.text() == word, story.said()


@says(r"It says “(.+)”\.")
def _says(story: Story, words: str) -> None:
    assert words in story.said()


@says(r"(?:Nothing is recorded|(\w+) changes? (?:is|are) recorded)\.")
def _recorded(story: Story, count: str | None) -> None:
    assert story.recorded() == (NUMBERS[count.lower()] if count else 0)


@says(r"(\w\d+) has been (.+)\.")
def _done(story: Story, short: str, steps: str) -> None:
    keys = {"washed": "wash", "rinsed": "rinse", "scuffed": "sand_150", "nothing": None}
    wanted = [keys[word] for word in re.split(r" and |, ", steps)]
    assert story.steps(short) == [key for key in wanted if key]


@says(r"The next to pull is (\w\d+)\.")
def _next(story: Story, short: str) -> None:
    assert story.window is not None
    assert story.window.page().number.text() == short


@says(r"The front shows (\w\d+) as (\w+)\.")
def _shown(story: Story, key: str, pattern: str) -> None:
    assert story.window is not None
    view = story.window.page().findChild(PieceView)
    assert view is not None
    tile = view.tile(key)
    assert tile is not None and tile.look.pattern.value == pattern


@says(r"There are (\w+) moves to make\.")
def _moves(story: Story, count: str) -> None:
    assert story.window is not None
    lines = story.window.page().board.moves.text().splitlines()
    assert len(lines) == NUMBERS[count]


@says(r"(?:Nothing|(.+)) is missing\.")
def _missing(story: Story, shorts: str | None) -> None:
    assert story.missing() == (re.findall(r"[A-Z]\d+", shorts) if shorts else [])


@says(r"The page says “(.+)”\.")
def _page_says(story: Story, words: str) -> None:
    """Its own sentence, and no other words before it."""
    assert story.window is not None
    page = story.window.page()
    assert page.sentence.text().startswith(words), page.sentence.text()


@says(r"The field holds “(.*)”\.")
def _field(story: Story, text: str) -> None:
    assert story.field().text() == text


@says(r"The large words are “(.+)”\.")
def _large(story: Story, words: str) -> None:
    assert story.window is not None
    page = story.window.page()
    found = getattr(page, "number", None) or page.board.number
    assert found.text() == words
