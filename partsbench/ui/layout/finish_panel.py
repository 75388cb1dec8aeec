"""Brushing finish paths on: onto chosen parts, onto what the brush touches, or face by face."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QWidget,
)

from partsbench.core.finish.path import FinishPath
from partsbench.core.key_words import face_word
from partsbench.core.naming import together
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import SHOWN, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.wording import plural, sentences
from partsbench.services.books import pieces
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.fields import Panel, WordButton, heading, quiet, row
from partsbench.ui.layout.looks import FILLS, PATTERNS, part_words
from partsbench.ui.piece_view import Pattern
from partsbench.ui.piece_view.keys import part_of
from partsbench.ui.piece_view.strokes import draw_ground
from partsbench.ui.theme import grown, theme_of

SWATCH = QSize(34, 22)
METAL = (Family.PULL, Family.LOCK, Family.RUNNER)
NO_FACES = "Faces: choose a part in the front"
USUAL_PATHS = ("paint", "stain", "clear", "raw", "leave")
"""The plain ones first; those that build on them after."""


class FinishPanel(Panel):
    """A path is taken up at the top and given to parts and faces below."""

    brush_taken = Signal(bool)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__("finish-panel", parent)
        self.desk = desk
        self.paths = QListWidget()
        self.about = quiet("")
        self.brush = WordButton()
        self.onto_chosen = QPushButton("Chosen parts")
        self.onto_fronts = QPushButton("All fronts")
        self.onto_shown = QPushButton("All wood that shows")
        self.face_head = heading(NO_FACES)
        self.faces = QGridLayout()
        self._boxes: list[QComboBox] = []
        self._faces_of: tuple[object, ...] = ()
        self._listed: list[FinishPath] = []
        self._build()
        self._fill_paths()
        self._connect()

    def _build(self) -> None:
        self.paths.setObjectName("paths")
        self.paths.setAccessibleName("Finish path to brush on")
        self.paths.setIconSize(SWATCH)
        self.paths.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.column.addWidget(self.paths)
        self.column.addWidget(self.about)
        self.brush.setObjectName("brush")
        self.brush.setText("Brush: give it to what is clicked")
        self.brush.setCheckable(True)
        self.brush.setMinimumHeight(grown(36))
        self.brush.setShortcut("Ctrl+B")
        self.brush.setToolTip(
            "While it is on, a click or a stroke over the front gives this path (Ctrl+B)"
        )
        self.brush.setSizePolicy(self.onto_chosen.sizePolicy())
        self.column.addWidget(self.brush)
        self.column.addWidget(QLabel("Give this path to"))
        for name, one in (
            ("onto-chosen", self.onto_chosen),
            ("onto-fronts", self.onto_fronts),
            ("onto-shown", self.onto_shown),
        ):
            one.setObjectName(name)
        self.column.addLayout(row(self.onto_chosen, self.onto_fronts))
        self.column.addWidget(self.onto_shown)
        self.onto_shown.setToolTip("Everything that people see, but for pulls, locks and runners")
        self.column.addWidget(self.face_head)
        self.faces.setSpacing(4)
        self.faces.setColumnStretch(1, 1)
        self.column.addLayout(self.faces)
        self.column.addStretch()

    def _connect(self) -> None:
        self.desk.shown.connect(self.on_shown)
        self.desk.chose.connect(self.on_shown)
        self.paths.currentItemChanged.connect(self.on_path_chosen)
        self.paths.itemActivated.connect(self.on_path_activated)
        self.brush.toggled.connect(self.brush_taken)
        self.onto_chosen.clicked.connect(self.on_onto_chosen)
        self.onto_fronts.clicked.connect(self.on_onto_fronts)
        self.onto_shown.clicked.connect(self.on_onto_shown)

    # The path in hand

    def path_key(self) -> str:
        """The key of the path in hand."""
        item = self.paths.currentItem()
        return str(item.data(Qt.ItemDataRole.UserRole)) if item else ""

    def take_path(self, key: str) -> None:
        """Take up a path by its key."""
        for place in range(self.paths.count()):
            if self.paths.item(place).data(Qt.ItemDataRole.UserRole) == key:
                self.paths.setCurrentRow(place)

    def _known(self) -> list[FinishPath]:
        known = self.desk.shop.paths
        first = [known[key] for key in USUAL_PATHS if key in known]
        return first + [path for key, path in known.items() if key not in USUAL_PATHS]

    def _fill_paths(self) -> None:
        """List the paths of the shop, its own among them; the one in hand stays in hand."""
        known, held = self._known(), self.path_key()
        if known == self._listed:
            return
        self._listed = known
        self._faces_of = ()
        self.paths.clear()
        for path in known:
            item = QListWidgetItem(swatch(path, self), path.name)
            item.setData(Qt.ItemDataRole.UserRole, path.key)
            item.setToolTip(path.about)
            item.setSizeHint(QSize(60, SWATCH.height() + 8))
            self.paths.addItem(item)
        self.paths.setCurrentRow(0)
        self.take_path(held)
        self._show_about()
        high = sum(self.paths.sizeHintForRow(r) for r in range(self.paths.count()))
        self.paths.setFixedHeight(high + 2 * self.paths.frameWidth())

    def _show_about(self) -> None:
        path = self.desk.shop.paths.get(self.path_key())
        steps = steps_words(path) if path and path.steps else ""
        self.about.setText(sentences(path.about if path else "", steps) or "Gets no finish.")

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self.paths.count():
            for place, path in enumerate(self._listed):
                self.paths.item(place).setIcon(swatch(path, self))

    def on_path_chosen(self) -> None:
        self._show_about()

    def on_path_activated(self) -> None:
        self.on_onto_chosen()

    # Giving it

    def brush_on(self, key: str) -> None:
        """Give the path in hand to what one tile stands for."""
        part = part_of(self.desk.piece, key) if self.desk.piece else None
        if part and any(
            f.path != self.path_key() for f in part.faces if f.name in SHOWN[part.family]
        ):
            self.give([part.short], part.short)

    def on_onto_chosen(self) -> None:
        parts = self.desk.parts()
        if not parts:
            self.desk.answered.emit(Refused("Choose the parts first, in the front or in the list."))
            return
        self.give([p.short for p in parts], together(p.short for p in parts))

    def on_onto_fronts(self) -> None:
        if self.desk.piece:
            self.give(fronts(self.desk.piece), "All fronts")

    def on_onto_shown(self) -> None:
        if self.desk.piece:
            self.give(
                [
                    p.short
                    for p in self.desk.piece.present
                    if SHOWN[p.family] and p.family not in METAL
                ],
                "All wood that shows",
            )

    def give(self, names: list[str], words: str) -> None:
        """Give the path in hand to parts (`D5`) or faces (`D5 front`)."""
        self.give_path(self.path_key(), names, words)

    def give_path(self, key: str, names: list[str], words: str) -> None:
        name = self.desk.shop.path(key).name
        answer = pieces.give_path(self.desk.shop, self.desk.tag, key, names)
        self.desk.settle(answer, f"{words}: {name}.")

    # The faces of the current part

    def on_shown(self) -> None:
        self._fill_paths()
        part = self.desk.current()
        self.onto_chosen.setEnabled(bool(self.desk.parts()))
        piece = self.desk.piece
        self.face_head.setText(
            f"Faces of {part.short}, {part_words(piece, part)}" if part and piece else NO_FACES
        )
        self.face_head.setWordWrap(True)
        shown = (part.short, tuple(f.name for f in part.faces)) if part else ()
        if shown != self._faces_of:
            self._faces_of = shown
            self._make_faces(part)
        for box, face in zip(self._boxes, part.faces if part else (), strict=False):
            box.setCurrentIndex(max(0, box.findData(face.path)))

    def _make_faces(self, part: Part | None) -> None:
        while item := self.faces.takeAt(0):
            widget = item.widget()
            if widget:
                widget.hide()
                widget.deleteLater()
        self._boxes = []
        for place, face in enumerate(part.faces if part else ()):
            label = QLabel(face_word(face.name))
            box = QComboBox()
            box.setObjectName(f"face-{face.name}")
            box.setAccessibleName(f"Finish path of the {face_word(face.name)}")
            box.setProperty("face", face.name)
            for path in self._known():
                box.addItem(path.name, path.key)
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setMinimumContentsLength(12)
            box.activated.connect(self.on_face_path_chosen)
            label.setBuddy(box)
            self.faces.addWidget(label, place, 0)
            self.faces.addWidget(box, place, 1)
            self._boxes.append(box)

    def on_face_path_chosen(self) -> None:
        box = self.sender()
        part = self.desk.current()
        if part is None or not isinstance(box, QComboBox):
            return
        face, key = str(box.property("face")), str(box.currentData())
        now = part.face(face)
        if now and now.path != key:
            name = str(part.spot(face))
            self.give_path(key, [name], name)


def fronts(piece: Piece) -> list[str]:
    """The front faces of drawers, doors and false fronts."""
    found = [f"{p.short} front" for p in piece.present if p.family in (Family.DRAWER, Family.DOOR)]
    return found + [p.short for p in piece.present if p.name == "false front"]


def swatch(path: FinishPath, widget: QWidget) -> QIcon:
    """A path as its tiles look."""
    ratio = widget.devicePixelRatioF()
    picture = QPixmap(SWATCH * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pattern = PATTERNS.get(path.kind, Pattern.PLAIN)
    box = picture.rect().toRectF()
    box.setSize(SWATCH.toSizeF())
    draw_ground(
        painter,
        box.adjusted(1, 1, -1, -1),
        theme_of(widget),
        pattern,
        FILLS.get(path.kind, ""),
        False,
    )
    painter.end()
    icon = QIcon()
    for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):
        icon.addPixmap(picture, mode)
    return icon


def steps_words(path: FinishPath) -> str:
    """`11 steps, 7 more if wanted.`: as the bench counts them."""
    more = sum(step.optional for step in path.steps)
    count = len(path.steps) - more
    told = plural(count, "1 step", f"{count} steps")
    return f"{told}, {more} more if wanted." if more else f"{told}."
