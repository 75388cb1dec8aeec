"""What comes in as a file, a picture or a copied text: pieces to take in, and codes to read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMimeData, QObject, Signal
from PySide6.QtGui import QImage, QImageWriter
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Done, Refused
from partsbench.services.pieces import take_in
from partsbench.services.reading import Glance, Seen, sort_out
from partsbench.services.shop import Shop
from partsbench.ui.choose_codes import choose_codes
from partsbench.ui.looking import Looker

PIECE_FILES = (".toml", ".json")
PASTED = "the copied picture"


class Intake(QObject):
    """Sorts what was dropped, pasted or opened. Pictures are looked at off the window's thread."""

    answered = Signal(object)
    code_read = Signal(str)
    pieces_taken_in = Signal(str)
    """The tag of the first piece that a file brought in."""

    def __init__(
        self,
        shop: Shop,
        parent: QWidget,
        choose: Callable[[QWidget, str, Sequence[str]], list[str]] = choose_codes,
    ) -> None:
        super().__init__(parent)
        self._shop = shop
        self._over = parent
        self._choose = choose
        self.looker = Looker(self)
        self.looker.looked.connect(self.on_looked)

    def takes(self, data: QMimeData) -> bool:
        """Whether there is anything in it for us."""
        return data.hasUrls() or data.hasImage() or data.hasText()

    def take(self, data: QMimeData) -> None:
        """Take what was dropped or pasted: files first, else a picture, else a code as text."""
        files = [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
        if files:
            self.take_files(files)
        elif data.hasImage():
            self._look_at_image(QImage(data.imageData()))
        elif data.text().strip():
            self.code_read.emit(data.text().strip()[:200])

    def take_files(self, files: Sequence[Path]) -> None:
        """Descriptions and exports are taken in at once, all else is looked into for codes."""
        pieces = [f for f in files if f.suffix.lower() in PIECE_FILES]
        pictures = [f for f in files if f not in pieces]
        for file in pieces:
            self._take_piece(file)
        if pictures:
            self.answered.emit(f"Looking into {_names(pictures)}…")
            self.looker.look_at_files(pictures)

    def on_looked(self, glance: Glance) -> None:
        seen = sort_out(self._shop, glance)
        name = Path(seen.file).name
        if seen.fault:
            self.answered.emit(Refused(seen.fault))
        elif len(seen.codes) > 1:
            for code in self._choose(self._over, name, seen.codes):
                self.code_read.emit(code)
        elif seen.codes:
            self.code_read.emit(seen.codes[0])
        else:
            self.answered.emit(Refused(_nothing_in(name, seen)))

    def _take_piece(self, file: Path) -> None:
        taken = take_in(self._shop, file)
        if isinstance(taken, Refused):
            self.answered.emit(taken)
            return
        names = " and ".join(f"{p.codename} {p.tag}" for p in taken)
        self.pieces_taken_in.emit(taken[0].tag)
        self.answered.emit(Done(f"{names} taken in from {file.name}.", taken[0].tag))

    def _look_at_image(self, image: QImage) -> None:
        if image.isNull():
            self.answered.emit(Refused("The copied picture cannot be read."))
            return
        data = QByteArray()
        buffer = QBuffer(data)
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        QImageWriter(buffer, QByteArray(b"png")).write(image)
        self.answered.emit(f"Looking into {PASTED}…")
        self.looker.look_at_picture(bytes(data.data()), PASTED)


def _nothing_in(name: str, seen: Seen) -> str:
    if seen.strangers:
        return f"{name}: {', '.join(seen.strangers)} is in no job of this book."
    return f"{name}: no label was read. A sharper or nearer picture may help."


def _names(files: Sequence[Path]) -> str:
    return files[0].name if len(files) == 1 else f"{len(files)} files"
