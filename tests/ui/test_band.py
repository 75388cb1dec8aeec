from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from partsbench.ui.band import BAR, HIGH, Band
from partsbench.ui.theme import Theme


def ink_rows(band: Band, theme: Theme) -> list[int]:
    """The rows between the bars in which there is a letter."""
    image = band.grab().toImage()
    ink = theme.color("on_accent").rgb()
    return [
        y for y in range(5, HIGH - 4)
        if any(image.pixelColor(x, y).rgb() == ink for x in range(image.width()))
    ]  # fmt: skip


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_what_hangs_below_the_line_is_not_cut(theme: Theme, qtbot: QtBot) -> None:
    band = Band("verb-band")
    qtbot.addWidget(band)
    band.resize(900, HIGH)
    tall = {}
    for text in ("sao", "sag"):
        band.show_words(text)
        rows = ink_rows(band, theme)
        tall[text] = rows[-1] - rows[0] + 1
    assert tall["sao"] > BAR
    assert tall["sag"] > 1.3 * tall["sao"], tall
