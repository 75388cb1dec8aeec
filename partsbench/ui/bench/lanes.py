"""The faces of a part in lanes: those worked together, their path, and how far they are."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from partsbench.core.finish.progress import MarkKind
from partsbench.core.key_words import face_word, face_words
from partsbench.core.said_often import only_the
from partsbench.services.known.state import FaceState, PartState
from partsbench.ui.bench.flow import Flow
from partsbench.ui.theme import grown, sized, theme_of

DOT = 18.0


@dataclass(frozen=True, slots=True)
class Lane:
    """Faces on one path that are at one step."""

    faces: tuple[FaceState, ...]

    @property
    def path(self) -> str:
        return self.faces[0].path.name

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(f.name for f in self.faces)

    @property
    def where(self) -> str:
        """`Sand at 220, step 4 of 11`, `finished`."""
        progress = self.faces[0].progress
        if progress.next is None:
            return "finished"
        return f"{progress.next.name}, step {progress.index + 1} of {progress.of}"

    @property
    def signs(self) -> tuple[str, ...]:
        """One sign a step: done, skipped, next, due or may (optional and still ahead)."""
        progress = self.faces[0].progress
        done = {m.step: m.kind for m in progress.history if m.kind is not MarkKind.SENT_BACK}
        signs = []
        for place, step in enumerate(self.faces[0].path.steps):
            if place < progress.place:
                signs.append("done" if done.get(step.key) is MarkKind.DONE else "skipped")
            elif progress.next and step.key == progress.next.key:
                signs.append("next")
            else:
                signs.append("may" if step.optional else "due")
        return tuple(signs)


def lanes_of(state: PartState) -> list[Lane]:
    """The lanes of a part, the one that is due first; faces without a finish are left out."""
    groups: dict[tuple[str, int], list[FaceState]] = {}
    for face in state.faces:
        if face.path.steps:
            groups.setdefault((face.path.key, face.progress.place), []).append(face)
    lanes = [Lane(tuple(faces)) for faces in groups.values()]
    first = state.least.name if state.least else ""
    return sorted(lanes, key=lambda lane: first not in lane.names)


class Lanes(QWidget):
    """A row for each lane. A face can be chosen, to be recorded alone."""

    face_chosen = Signal(str)
    """The name of the face, empty when all are worked together again."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("lanes")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._buttons: dict[str, QToolButton] = {}
        self._shown: tuple[object, ...] = ()

    def show_part(self, state: PartState | None, face: str = "") -> None:
        """Show the lanes of a part, with `face` chosen."""
        lanes = lanes_of(state) if state else []
        shown = (state.part.short if state else "", *(lane.names + lane.signs for lane in lanes))
        if shown != self._shown:
            self._remake(lanes)
            self._shown = shown
        for name, button in self._buttons.items():
            button.setChecked(name == face)

    def faces(self) -> list[str]:
        """The names of the faces on show."""
        return list(self._buttons)

    def on_face_clicked(self) -> None:
        button = self.sender()
        assert isinstance(button, QToolButton)
        chosen = next(name for name, each in self._buttons.items() if each is button)
        self.face_chosen.emit(chosen if button.isChecked() else "")

    def _remake(self, lanes: list[Lane]) -> None:
        self._buttons = {}
        while item := self._column.takeAt(0):
            widget = item.widget()
            if widget:
                widget.hide()
                widget.setParent(None)
                widget.deleteLater()
        for lane in lanes:
            self._column.addWidget(self._row(lane))

    def _row(self, lane: Lane) -> QWidget:
        row = QWidget()
        across = QHBoxLayout(row)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(12)
        chips = QWidget()
        flow = Flow(chips, 4)
        for name in lane.names:
            flow.addWidget(self._chip(name))
        across.addWidget(chips, 5)
        words = QLabel(f"{lane.path}: {lane.where}")
        words.setFont(sized(0))
        words.setWordWrap(True)
        across.addWidget(words, 4)
        across.addWidget(Marks(lane), 3)
        return row

    def _chip(self, name: str) -> QToolButton:
        chip = QToolButton()
        chip.setText(face_word(name))
        chip.setCheckable(True)
        chip.setMinimumHeight(grown(26))
        chip.setObjectName(f"face-{name.replace(' ', '-')}")
        chip.setAccessibleName(only_the(name))
        chip.setToolTip(f"Record the {face_word(name)} alone")
        chip.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        chip.clicked.connect(self.on_face_clicked)
        self._buttons[name] = chip
        return chip


class Marks(QWidget):
    """A mark for each step of a path: filled with a check, struck, ringed, open, or a small one."""

    def __init__(self, lane: Lane, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._signs = lane.signs
        self.setAccessibleName(f"{face_words(lane.names)}: {lane.where}")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setToolTip(lane.where)

    def sizeHint(self) -> QSize:
        return QSize(round(len(self._signs) * (DOT + 3)), round(DOT + 6))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        step = min(DOT + 3, self.width() / max(1, len(self._signs)))
        radius = min(DOT, step - 2) / 2
        for place, sign in enumerate(self._signs):
            middle = QPointF(step * (place + 0.5), self.height() / 2)
            self._draw(painter, sign, middle, radius)

    def _draw(self, painter: QPainter, sign: str, middle: QPointF, radius: float) -> None:
        theme = theme_of(self)
        ink, nothing = theme.color("ink"), Qt.BrushStyle.NoBrush
        painter.setBrush(theme.color("go") if sign == "done" else nothing)
        painter.setPen(QPen(theme.color("go" if sign == "done" else "ink"), 1.5))
        if sign == "next":
            painter.setPen(QPen(theme.color("accent"), 4.0))
            radius -= 1
        elif sign == "may":
            radius *= 0.45
        if sign != "skipped":
            painter.drawEllipse(middle, radius, radius)
        if sign == "done":
            painter.setPen(QPen(theme.color("on_accent"), 2.0))
            painter.drawPolyline(
                [
                    middle + QPointF(-radius * 0.45, radius * 0.05),
                    middle + QPointF(-radius * 0.1, radius * 0.4),
                    middle + QPointF(radius * 0.5, -radius * 0.4),
                ]
            )
        elif sign == "skipped":
            painter.setPen(QPen(ink, 1.5))
            painter.drawLine(middle + QPointF(-radius * 0.5, 0), middle + QPointF(radius * 0.5, 0))
