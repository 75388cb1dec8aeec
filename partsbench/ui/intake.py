"""What comes in as a file, a picture or a copied text: pieces to take in, and codes to read."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QMimeData, QObject, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Done, Refused
from partsbench.core.wording import and_list
from partsbench.services.books.pieces import take_in
from partsbench.services.heard.reading import Glance, Seen, codes_in_use, counts_at_once, sort_out
from partsbench.services.shop import Shop
from partsbench.ui.looking import FileLook, Looker

PIECE_FILES = (".toml", ".json")
PASTED = "the copied picture"


def ask_codes(shop: Shop, look: FileLook, parent: QWidget) -> list[str]:
    """Show the picture and ask; loaded when there is something to ask."""
    from partsbench.ui.dialogs import picture_dialog

    return picture_dialog.ask_codes(shop, look, parent)


class Intake(QObject):
    """Sorts what was dropped, pasted or opened. Pictures are looked at off the window's thread.

    A label that a decoder reads goes straight on. Several labels, or one that had to be repaired
    or guessed, are shown first: `ask` gives back those that a person takes as scans.
    """

    answered = Signal(object)
    code_read = Signal(str)
    pictured = Signal(FileLook)
    """A picture with a label in it."""
    pieces_taken_in = Signal(str)
    """The tag of the first piece that a file brought in."""

    def __init__(
        self,
        shop: Shop,
        parent: QWidget,
        ask: Callable[[Shop, FileLook, QWidget], list[str]] = ask_codes,
    ) -> None:
        super().__init__(parent)
        self._shop = shop
        self._over = parent
        self._ask = ask
        self._to_ask: deque[FileLook] = deque()
        self._undecided = 0
        self._asking = False
        self.last: FileLook | None = None
        self.looker = Looker(self)
        self.looker.looked.connect(self.on_looked)
        self.looker.pictured.connect(self.on_pictured)

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
            self.looker.look_at_files(pictures, codes_in_use(self._shop))

    @property
    def deciding(self) -> bool:
        """A person is asked, or about to be."""
        return self._undecided > 0

    def ask_about(self, glance: Glance, seen: Seen) -> None:
        """Show the picture and ask which of its labels count."""
        self._undecided += 1
        self.looker.picture(glance, seen, given=False)

    def on_looked(self, glance: Glance) -> None:
        seen = sort_out(self._shop, glance)
        if seen.fault:
            self.answered.emit(Refused(seen.fault))
        elif not seen.codes and not seen.probable:
            self.answered.emit(Refused(_nothing_in(Path(seen.file).name, seen)))
        else:
            at_once = not self._undecided and counts_at_once(glance, seen)
            self._undecided += not at_once
            self.looker.picture(glance, seen, given=at_once)
            if at_once:
                self.code_read.emit(seen.codes[0])

    def on_pictured(self, look: FileLook) -> None:
        """One question at a time; what comes after it waits, so that scans keep their order."""
        self.last = look
        self.pictured.emit(look)
        if not look.given:
            self._to_ask.append(look)
        while self._to_ask and not self._asking:
            for code in self._decided(self._to_ask.popleft()):
                self.code_read.emit(code)

    def _decided(self, look: FileLook) -> list[str]:
        self._asking = True
        try:
            if counts_at_once(look.glance, look.seen):
                return list(look.seen.codes)
            return self._ask(self._shop, look, self._over)
        finally:
            self._asking = False
            self._undecided -= 1

    def _take_piece(self, file: Path) -> None:
        taken = take_in(self._shop, file)
        if isinstance(taken, Refused):
            self.answered.emit(taken)
            return
        names = and_list(f"{p.codename} {p.tag}" for p in taken)
        self.pieces_taken_in.emit(taken[0].tag)
        self.answered.emit(Done(f"{names} taken in from {file.name}.", taken[0].tag))

    def _look_at_image(self, image: QImage) -> None:
        if image.isNull():
            self.answered.emit(Refused("The copied picture cannot be read."))
            return
        self.answered.emit(f"Looking into {PASTED}…")
        self.looker.look_at_picture(image, PASTED, codes_in_use(self._shop))


def _nothing_in(name: str, seen: Seen) -> str:
    if seen.strangers:
        return f"{name}: {', '.join(seen.strangers)} is in no job of this book."
    return f"{name}: no label was read. A sharper or nearer picture may help."


def _names(files: Sequence[Path]) -> str:
    return files[0].name if len(files) == 1 else f"{len(files)} files"
