"""The system's own file dialogs as plain functions, which a test replaces by plain functions."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QDir, QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

from partsbench.services.heard.reading import PICTURES
from partsbench.services.shop import Shop

LAST_FOLDER = "folder-last-used"
Usual = QStandardPaths.StandardLocation
PICTURE_FILTER = f"Pictures and PDF files ({' '.join(f'*{end}' for end in PICTURES)});;All (*)"
PIECE_FILTER = "Pieces (*.toml *.json);;All (*)"


def ask_pictures(parent: QWidget) -> list[Path]:
    """Pictures and PDF files to look into; [] when the person thinks better of it."""
    start = Usual.PicturesLocation
    return _chosen(open_dialog(parent, "Read a picture or PDF", PICTURE_FILTER, start))


def ask_pieces(parent: QWidget) -> list[Path]:
    """Files that describe a piece."""
    start = Usual.DocumentsLocation
    return _chosen(open_dialog(parent, "Take in a piece", PIECE_FILTER, start))


def ask_book(parent: QWidget | None, title: str) -> Path | None:
    """A book that is there, such as a copy of one."""
    dialog = open_dialog(parent, title, "Books (*.partsbench);;All (*)", Usual.DocumentsLocation)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    return next(iter(_chosen(dialog)), None)


def ask_folder(parent: QWidget, title: str) -> Path | None:
    """A folder that is there."""
    dialog = open_dialog(parent, title, "All (*)", Usual.DocumentsLocation)
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly)
    return next(iter(_chosen(dialog)), None)


def ask_new_file(parent: QWidget, title: str, name: str) -> Path | None:
    """Where to write a new file; a name typed without its ending gets that of `name`."""
    chosen = _chosen(new_file_dialog(parent, title, name))
    return chosen[0] if chosen else None


def file_name(shop: Shop, tag: str, what: str) -> str:
    """`Heron K7Q4 labels.pdf`: files of one job stand together in a folder."""
    piece = shop.piece(tag)
    return f"{piece.codename} {tag} {what}" if piece else what


def open_dialog(
    parent: QWidget | None, title: str, kinds: str, start: QStandardPaths.StandardLocation
) -> QFileDialog:
    """For files that are there; stands in the folder last used, at first where such files are."""
    dialog = QFileDialog(parent, title)
    _begin(dialog, start)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
    dialog.setNameFilters(kinds.split(";;"))
    return dialog


def new_file_dialog(parent: QWidget, title: str, name: str) -> QFileDialog:
    """Stands in the folder last used; at first in the documents, where an icon was clicked."""
    dialog = QFileDialog(parent, title)
    _begin(dialog, Usual.DocumentsLocation)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setFileMode(QFileDialog.FileMode.AnyFile)
    ending = Path(name).suffix.lstrip(".")
    dialog.setNameFilters([f"{ending.upper()} (*.{ending})", "All (*)"])
    dialog.setDefaultSuffix(ending)
    dialog.selectFile(name)
    return dialog


def folder(kind: QStandardPaths.StandardLocation) -> str:
    """The person's folder of such files, or their own where there is none."""
    found = QStandardPaths.writableLocation(kind)
    return found if found and Path(found).is_dir() else QDir.homePath()


def _begin(dialog: QFileDialog, kind: QStandardPaths.StandardLocation) -> None:
    """The folder last used; where an icon was clicked or a command typed is no place for files."""
    used = str(_program().property(LAST_FOLDER) or "")
    dialog.setDirectory(used if used and Path(used).is_dir() else folder(kind))


def _program() -> QCoreApplication:
    app = QCoreApplication.instance()
    assert app is not None
    return app


def _chosen(dialog: QFileDialog) -> list[Path]:
    """Ask; [] when the person thinks better of it."""
    names = dialog.selectedFiles() if dialog.exec() else []
    dialog.deleteLater()
    if names:
        remember_folder(Path(names[0]).parent)
    return [Path(name) for name in names]


def remember_folder(used: Path) -> None:
    """The next question begins there, until the program ends."""
    _program().setProperty(LAST_FOLDER, str(used))
