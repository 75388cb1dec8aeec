"""Colours by role, the font and its sizes. Everything on screen takes its colours from here."""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass
from functools import cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from partsbench.resources import asset

FAMILY = "Atkinson Hyperlegible"
FONT_FILES = ("AtkinsonHyperlegible-Regular.ttf", "AtkinsonHyperlegible-Bold.ttf")
BASE_POINTS = 11.0
STEP = 1.2
USUAL_POINTS = {"win32": 9.0, "darwin": 13.0}
"""Of the system's own text, as long as nobody made it larger (from memory)."""
USUAL_ELSEWHERE = 11.0
"""Desktops on Linux begin with 9 to 11 points: below that nothing shrinks."""
MOST_GROWTH = 2.0
CAPITAL_SHARE = 0.668
"""Height of a capital letter of the font as a share of its pixel size, measured on the file."""


FUSION_DARKER = 140
"""By how much Fusion darkens a control's Window colour for its outline, in percent."""
OUTLINED = (
    "QLineEdit",
    "QAbstractSpinBox",
    "QComboBox",
    "QCheckBox",
    "QRadioButton",
    "QPlainTextEdit",
    "QPushButton",
    "QToolButton",
    "QListView",
)


@dataclass(frozen=True, slots=True)
class Theme:
    """One set of colours by role. Each pair of text and ground has a contrast of 4.5 or more."""

    name: str
    ground: str
    raised: str
    ink: str
    quiet: str
    accent: str
    on_accent: str
    go: str
    wait: str
    stop: str
    foreign: str
    line: str
    hatch: str
    recess: str
    paint: str
    stain: str
    clear: str
    """Ground of a face that is to be painted, stained or cleared; always with a word on it."""

    def color(self, role: str) -> QColor:
        """The colour of a role, by its name."""
        return QColor(getattr(self, role))


LIGHT = Theme(
    name="light",
    ground="#F5F0E6",
    raised="#FFFCF6",
    ink="#1D1A16",
    quiet="#5B5448",
    accent="#12595F",
    on_accent="#FFFCF6",
    go="#256029",
    wait="#7D4E00",
    stop="#A01F1A",
    foreign="#63378A",
    line="#827967",
    hatch="#8C8270",
    recess="#DED5C3",
    paint="#AFD0D3",
    stain="#EED7B6",
    clear="#F6ECC2",
)

DARK = Theme(
    name="dark",
    ground="#1B1916",
    raised="#2A2722",
    ink="#F4EDDF",
    quiet="#B9AF9B",
    accent="#7FC9CA",
    on_accent="#14201F",
    go="#92D089",
    wait="#EBBB5C",
    stop="#FF9C8E",
    foreign="#D0AFF0",
    line="#7F7666",
    hatch="#8F8572",
    recess="#12110F",
    paint="#3A6165",
    stain="#52402A",
    clear="#4B4527",
)

THEMES = {theme.name: theme for theme in (LIGHT, DARK)}


def theme_of(widget: QWidget) -> Theme:
    """The theme that a widget stands in, told from its palette: nothing else need be passed on.

    A widget that paints by hand asks anew in `paintEvent`; one that keeps a colour does so in
    `changeEvent` on `QEvent.Type.PaletteChange`.
    """
    base = widget.palette().color(QPalette.ColorGroup.Active, QPalette.ColorRole.Base)
    return DARK if base.lightnessF() < 0.5 else LIGHT


def palette(theme: Theme) -> QPalette:
    """The theme as Qt's own controls know it."""
    role = QPalette.ColorRole
    made = QPalette()
    for roles, colour in (
        ((role.Window, role.Button), theme.ground),
        ((role.Base, role.ToolTipBase), theme.raised),
        ((role.AlternateBase,), theme.ground),
        ((role.WindowText, role.Text, role.ButtonText, role.ToolTipText), theme.ink),
        ((role.PlaceholderText,), theme.quiet),
        ((role.Highlight, role.Accent, role.Link), theme.accent),
        ((role.HighlightedText, role.BrightText), theme.on_accent),
        ((role.Mid, role.Dark), theme.line),
        ((role.Light, role.Midlight), theme.raised),
        ((role.Shadow,), theme.ink),
    ):
        for each in roles:
            made.setColor(each, QColor(colour))
    for each in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, each, QColor(theme.line))
    # A field that takes nothing lies in the ground instead of on it.
    made.setColor(QPalette.ColorGroup.Disabled, role.Base, QColor(theme.ground))
    return made


def outlined(theme: Theme) -> QPalette:
    """The theme for controls whose outline has to be seen: lines as strong as `theme.line`.

    Fusion draws the outline of a control in its Window colour, 1.4 times darker, which in the dark
    cannot be seen; these controls show nothing else in that colour.
    """
    made = palette(theme)
    made.setColor(QPalette.ColorRole.Window, theme.color("line").lighter(FUSION_DARKER))
    return made


def use(app: QApplication, theme: Theme) -> None:
    """Dress the whole program; may be called again at any time."""
    if app.style().name() != "fusion":
        app.setStyle("fusion")
    for effect in Qt.UIEffect:  # nothing slides or fades: not everybody bears it
        app.setEffectEnabled(effect, False)
    load_fonts()
    app.setFont(sized(0))
    app.setPalette(palette(theme))
    for control in OUTLINED:
        # The name is text; the stub of it says bytes, which the call itself refuses.
        app.setPalette(outlined(theme), control)  # type: ignore[arg-type]


def first(app: QApplication, wanted: str) -> Theme:
    """The theme to begin with: the one last chosen, else that of the system."""
    if wanted in THEMES:
        return THEMES[wanted]
    return DARK if app.styleHints().colorScheme() is Qt.ColorScheme.Dark else LIGHT


def load_fonts() -> None:
    """Make the font known to Qt; needs a QApplication, and does nothing the second time."""
    app = QApplication.instance()
    assert app is not None
    if app.property(FAMILY):
        return
    app.setProperty(FAMILY, True)
    for name in FONT_FILES:
        QFontDatabase.addApplicationFont(str(asset(f"fonts/{name}")))


@cache
def growth() -> float:
    """How much larger than usual the system's own text is, from 1 to 2; asked once a start."""
    found = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).pointSizeF()
    usual = USUAL_POINTS.get(sys.platform, USUAL_ELSEWHERE)
    return min(MOST_GROWTH, max(1.0, found / usual))


def grown(px: float) -> int:
    """A length that was chosen for words of the usual size, for words as large as they are."""
    return round(px * growth())


def sized(step: float, bold: bool = False) -> QFont:
    """The font `step` steps above the base; each step is a fifth larger.

    The base is 11 points, and as much larger as the system's text is.
    """
    font = QFont(FAMILY)
    font.setPointSizeF(BASE_POINTS * growth() * STEP**step)
    font.setBold(bold)
    return font


def in_pixels(height: float, bold: bool = False) -> QFont:
    """The font with capitals that are `height` pixels tall."""
    font = QFont(FAMILY)
    font.setPixelSize(max(6, round(height / CAPITAL_SHARE)))
    font.setBold(bold)
    return font


def words_at(distance_m: float, minutes: float = 20.0, dpi: float = 96.0) -> float:
    """Height in px that a capital needs to be read from `distance_m`.

    20 minutes of arc is in the middle of the 16 to 22 that ISO 9241-303 asks for (from memory).
    `dpi` counts the window's own pixels, 96 to the inch by default.
    """
    height_m = 2 * distance_m * math.tan(math.radians(minutes / 60) / 2)
    return height_m / 0.0254 * dpi
