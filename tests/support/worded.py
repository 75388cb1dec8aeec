"""Whether words are in the units that a shop has chosen: metric ones or those of the US."""

from __future__ import annotations

import re

from partsbench.core.sums.units import Measures

METRIC = re.compile(r"(?<![\w.])\d[\d.,/-]*\s?(?:mm|cm|m|µm|um|ml|l|m²|dm³|kg|g|°C)(?![\w²³])")
US = re.compile(r"\d\s?(?:in|ft|mil|fl oz|qt|ft²|ft³|lb|°F)(?![\w²³])|\d[\d/]*\"|\binch")
OTHER = {Measures.US: METRIC, Measures.METRIC: US}


def foreign(text: str, measures: Measures) -> list[str]:
    """The measures in a text that are not in the shop's units."""
    return [found[0] for found in OTHER[measures].finditer(text)]


def as_typed(mm: float, measures: Measures) -> str:
    """A size as it is typed in the shop: a bare number of mm or of inches."""
    return f"{mm:g}" if measures is Measures.METRIC else f"{mm / 25.4:.4f}"
