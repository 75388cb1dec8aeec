"""What a screen reader finds in a window and is told while one works: `python -m … ` prints it.

`python -m tests.support.screen_reader` prints what is told while a piece comes home.
"""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QAccessibleInterface
from PySide6.QtWidgets import QWidget

Role = QAccessible.Role
USED = frozenset(
    {
        Role.Button, Role.ButtonMenu, Role.CheckBox, Role.RadioButton, Role.EditableText,
        Role.ComboBox, Role.SpinBox, Role.Slider, Role.List, Role.Table, Role.Tree, Role.PageTab,
        Role.MenuItem, Role.Graphic, Role.ProgressBar, Role.Dial,
    }
)  # fmt: skip
"""Roles that a person works with or must be told of; each wants a name."""


@dataclass(frozen=True, slots=True)
class Node:
    """One thing in the tree, with the names of what it lies in."""

    role: str
    name: str
    description: str
    where: tuple[str, ...]
    used: bool

    def __str__(self) -> str:
        told = f", {self.description}" if self.description else ""
        return f"{'  ' * len(self.where)}{self.role}: {self.name}{told}"


def walked(root: QWidget) -> list[Node]:
    """Everything in the tree under a widget that is on show, depth first."""
    interface = QAccessible.queryAccessibleInterface(root)
    assert interface is not None
    return list(_walked(interface, ()))


def _walked(interface: QAccessibleInterface, where: tuple[str, ...]) -> Iterator[Node]:
    state = interface.state()
    if state.invisible or not interface.isValid():
        return
    role = interface.role()
    name = interface.text(QAccessible.Text.Name)
    about = interface.text(QAccessible.Text.Description)
    widget = interface.object()
    kind = f"{role.name} {type(widget).__name__} {widget.objectName() if widget else ''}".strip()
    # The line inside a spin box or an editable list hands its focus on; its owner has the name.
    inner = isinstance(widget, QWidget) and widget.focusProxy() is not None
    inner = inner or (isinstance(widget, QWidget) and widget.objectName().startswith("qt_"))
    yield Node(kind, name, about, where, role in USED and not inner)
    if role in (Role.Table, Role.List, Role.Tree):
        return  # its cells are told by their own words
    for place in range(interface.childCount()):
        child = interface.child(place)
        if child is not None:
            yield from _walked(child, (*where, name or kind))


@dataclass
class Heard:
    """What was announced, in order."""

    said: list[str] = field(default_factory=list)


@contextlib.contextmanager
def listening() -> Iterator[Heard]:
    """Stands in for the screen reader at the one place where Qt passes an announcement on."""
    heard = Heard()
    usual = QAccessible.updateAccessibility

    def update(event: Any) -> None:
        if isinstance(event, QAccessibleAnnouncementEvent):
            heard.said.append(event.message())
        usual(event)

    QAccessible.updateAccessibility = staticmethod(update)  # type: ignore[assignment]
    try:
        yield heard
    finally:
        QAccessible.updateAccessibility = usual  # type: ignore[method-assign]


def main(_: Sequence[str]) -> int:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtWidgets import QApplication

    from partsbench.ui import theme as themes
    from partsbench.ui.pictures import standing
    from tests.support.looks import SIZE, in_work
    from tests.support.shops import shop_at

    app = QApplication.instance() or QApplication(["partsbench"])
    assert isinstance(app, QApplication)
    themes.use(app, themes.LIGHT)
    with tempfile.TemporaryDirectory() as folder:
        shop = shop_at(Path(folder) / "told.partsbench", who="Wren")
        with contextlib.closing(shop):
            piece = in_work(shop)
            memory = Path(folder) / "w.ini"
            with standing(shop, memory, piece.tag, "return", SIZE) as window, listening() as heard:
                for part in piece.present:
                    for scan in (str(piece.home_code_of(part)), str(piece.code(part))):
                        before = len(heard.said)
                        window.take_code(scan)
                        for said in heard.said[before:]:
                            print(f"{scan}  {said}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
