"""What can be done to the chosen openings, as actions: buttons, keys and words from one table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QWidget

from partsbench.core.key_words import word_of
from partsbench.core.naming import together
from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.front import Front, Opening, OpeningKind
from partsbench.core.piece.shaping import Axis
from partsbench.core.wording import capital, plural
from partsbench.ui.layout.desk import Desk
from partsbench.ui.piece_view.keys import part_of


@dataclass(frozen=True, slots=True)
class ToolEntry:
    """One tool. `slot` is the name of the method of Tools that does it."""

    key: str
    text: str
    tip: str
    shortcut: str
    slot: str


TOOLS = (
    ToolEntry(
        "across", "Side by side", "Split the chosen openings side by side", "A", "on_across_asked"
    ),
    ToolEntry(
        "down", "One above another", "Split the chosen openings in height", "B", "on_down_asked"
    ),
    ToolEntry("join", "Join", "Make one opening of those chosen", "J", "on_join_asked"),
    ToolEntry("remove", "Take out", "Make the chosen places solid front", "Del", "on_remove_asked"),
    ToolEntry("fill", "Fill gaps", "A drawer in each solid place", "", "on_fill_asked"),
)
LETTERS = {
    OpeningKind.DRAWER: "D",
    OpeningKind.DOOR: "G",
    OpeningKind.SHELF: "S",
    OpeningKind.FALSE_FRONT: "F",
    OpeningKind.EMPTY: "E",
}
NUDGES = (
    ("Alt+Left", Axis.COLUMNS, -1, False),
    ("Alt+Right", Axis.COLUMNS, 1, False),
    ("Alt+Up", Axis.ROWS, -1, False),
    ("Alt+Down", Axis.ROWS, 1, False),
    ("Alt+Shift+Left", Axis.COLUMNS, -1, True),
    ("Alt+Shift+Right", Axis.COLUMNS, 1, True),
    ("Alt+Shift+Up", Axis.ROWS, -1, True),
    ("Alt+Shift+Down", Axis.ROWS, 1, True),
)
CHOOSE_FIRST = Refused("Choose one or more openings first: click, or Space on the keyboard.")


class Tools(QObject):
    """The actions, and what they do. Their keys work while the keyboard is on `place`."""

    nudged = Signal(Axis, int, bool)

    def __init__(self, desk: Desk, place: QWidget) -> None:
        super().__init__(place)
        self.desk = desk
        self.split_into = 2
        self.actions: dict[str, QAction] = {}
        self.kinds = QActionGroup(self)
        self.kinds.setExclusionPolicy(QActionGroup.ExclusionPolicy.ExclusiveOptional)
        self._nudges = QActionGroup(self)
        self._nudges.setExclusionPolicy(QActionGroup.ExclusionPolicy.None_)
        for entry in TOOLS:
            action = self._action(place, entry.key, entry.text, entry.tip, entry.shortcut)
            action.triggered.connect(getattr(self, entry.slot))
        for kind, letter in LETTERS.items():
            tip = f"Make the chosen openings: {word_of(kind)}"
            action = self._action(place, kind.value, capital(word_of(kind)), tip, letter)
            action.setCheckable(True)
            action.setData(kind)
            self.kinds.addAction(action)
        for shortcut, axis, step, fine in NUDGES:
            action = self._action(place, shortcut, shortcut, "Move the border", shortcut)
            action.setData((axis, step, fine))
            self._nudges.addAction(action)
        self.kinds.triggered.connect(self.on_kind_triggered)
        self._nudges.triggered.connect(self.on_nudge_triggered)
        desk.chose.connect(self.on_chose)

    def _action(self, place: QWidget, key: str, text: str, tip: str, shortcut: str) -> QAction:
        action = QAction(text, place)
        action.setObjectName(f"tool-{key}")
        action.setShortcut(QKeySequence(shortcut))
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.setToolTip(f"{tip} ({shortcut})" if shortcut else tip)
        place.addAction(action)
        self.actions[key] = action
        return action

    def on_chose(self) -> None:
        """Show the kind that all chosen openings share."""
        kinds = {o.kind for o in self.desk.openings()}
        for action in self.kinds.actions():
            action.setChecked(kinds == {action.data()})

    def on_nudge_triggered(self, action: QAction) -> None:
        axis, step, fine = action.data()
        self.nudged.emit(Axis(axis), step, fine)

    def on_kind_triggered(self, action: QAction) -> None:
        kind = OpeningKind(action.data())
        chosen = self._chosen()
        if chosen and {o.kind for o in self.desk.openings()} != {kind}:

            def changed(front: Front) -> Front | Refused:
                return each(front, chosen, lambda f, n: shaping.set_kind(f, n, kind))

            self.desk.reshape(
                changed, f"{names(self.desk, chosen)} {made_words(kind, len(chosen))}"
            )
        self.on_chose()

    def on_across_asked(self) -> None:
        self._split(Axis.COLUMNS, "side by side")

    def on_down_asked(self) -> None:
        self._split(Axis.ROWS, "one above another")

    def _split(self, axis: Axis, way: str) -> None:
        chosen, parts = self._chosen(), self.split_into
        if chosen:

            def changed(front: Front) -> Front | Refused:
                return each(front, chosen, lambda f, n: shaping.split(f, n, axis, parts))

            self.desk.reshape(changed, f"{names(self.desk, chosen)} split in {parts} {way}")

    def on_join_asked(self) -> None:
        chosen = self._chosen()
        if chosen:
            numbers = [o.number for o in chosen]

            def changed(front: Front) -> Front | Refused:
                return shaping.merge(front, numbers)

            self.desk.reshape(changed, f"{names(self.desk, chosen)} joined")

    def on_remove_asked(self) -> None:
        chosen = self._chosen()
        if chosen:

            def changed(front: Front) -> Front | Refused:
                return each(front, chosen, _removed)

            self.desk.reshape(changed, f"{names(self.desk, chosen)} taken out")

    def on_fill_asked(self) -> None:
        self.desk.reshape(shaping.fill, "solid places filled with drawers")

    def put_behind(self, counts: list[int]) -> None:
        """Drawers behind the chosen door, per row; [] takes them away."""
        chosen = self._chosen()
        if chosen:
            door = chosen[-1].number

            def changed(front: Front) -> Front | Refused:
                return shaping.put_behind(front, door, counts)

            self.desk.reshape(changed, behind_words(counts, names(self.desk, chosen[-1:])))

    def _chosen(self) -> list[Opening]:
        chosen = self.desk.openings()
        if not chosen:
            self.desk.answered.emit(CHOOSE_FIRST)
        return chosen


FrontChange = Callable[[Front, int], Front | Refused]
"""A change of the opening of that number."""


def each(front: Front, openings: list[Opening], change: FrontChange) -> Front | Refused:
    """The same change of several openings, one after another; the first fault ends it."""
    for opening in openings:
        after = change(front, opening.number)
        if isinstance(after, Refused):
            return after
        front = after
    return front


def _removed(front: Front, number: int) -> Front | Refused:
    # What a door hides goes with it, so a chosen inner drawer may be gone already.
    return shaping.remove(front, number) if front.opening(number) else front


MADE = {
    OpeningKind.DRAWER: ("made a drawer", "made drawers"),
    OpeningKind.DOOR: ("made a door", "made doors"),
    OpeningKind.SHELF: ("made an open shelf", "made open shelves"),
    OpeningKind.FALSE_FRONT: ("made a false front", "made false fronts"),
    OpeningKind.EMPTY: ("left empty", "left empty"),
}
"""What openings have become: one, or several."""


def made_words(kind: OpeningKind, many: int) -> str:
    """`made a door`, `made doors`, `left empty`: what openings have become."""
    return plural(many, *MADE[kind])


def behind_words(counts: list[int], door: str) -> str:
    """`2 drawers put behind G1`; with [] that those there were taken away."""
    many = sum(counts)
    if not many:
        return f"the drawers behind {door} taken away"
    return plural(many, f"1 drawer put behind {door}", f"{many} drawers put behind {door}")


def names(desk: Desk, openings: list[Opening]) -> str:
    """`D1, D2` for a sentence; `H3` where nothing lives."""
    keys = [short_number(Family.HOME, o.number) for o in openings]
    parts = [part_of(desk.piece, key) if desk.piece else None for key in keys]
    return together(p.short if p else key for p, key in zip(parts, keys, strict=True))
