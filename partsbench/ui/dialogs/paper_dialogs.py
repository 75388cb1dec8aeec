"""Print, opened on a sheet of paper: the verb sheet, the day sheet, a tally strip, the proof."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Refused
from partsbench.services import wall
from partsbench.services.cups import StoredCup
from partsbench.services.proof import make_proof
from partsbench.services.shop import Shop
from partsbench.services.sums import care
from partsbench.ui.dialogs.label_pane import LabelPane
from partsbench.ui.dialogs.print_dialog import PrintDialog
from partsbench.ui.dialogs.print_pane import PrintPane, SheetPane


def sheets(shop: Shop, tag: str) -> list[PrintPane]:
    """What can be printed beside labels: of the piece, if there is one, and of the shop."""

    def proof(paper: str, client: bool) -> bytes | Refused:
        return make_proof(shop, tag, with_hidden=not client, paper=paper)

    def care_of(paper: str, _: bool) -> bytes | Refused:
        found = care.care(shop, tag)
        return found if isinstance(found, Refused) else care.care_sheet(found, paper)

    of_piece = [
        SheetPane(shop, tag, "proof", "Proof sheet", proof, for_client=True),
        SheetPane(shop, tag, "care", "Care sheet", care_of),
    ]
    of_shop = [
        SheetPane(
            shop, tag, "day", "Day sheet", lambda paper, _: wall.day_sheet(shop, paper=paper)
        ),
        SheetPane(shop, tag, "wall", "Verb sheet", lambda paper, _: wall.verb_sheet(shop, paper)),
    ]
    return [*(of_piece if shop.piece(tag) else []), *of_shop]


def _all(shop: Shop, tag: str) -> list[PrintPane]:
    return [*([LabelPane(shop, tag)] if shop.piece(tag) else []), *sheets(shop, tag)]


class WallDialog(PrintDialog):
    """The verb sheet: verbs, reasons, faces, and this shop's people, places and cups."""

    helped_by = "wall"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, _all(shop, tag), "wall")


class DaySheetDialog(PrintDialog):
    """The day as it stands now, with boxes for the pencil."""

    helped_by = "day"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, _all(shop, tag), "day")


class TallyDialog(PrintDialog):
    """The strip of one load, for a booth without a screen."""

    helped_by = "load"

    def __init__(
        self, shop: Shop, tag: str, number: int, cup: StoredCup | None, parent: QWidget | None
    ) -> None:
        strip = SheetPane(
            shop, tag, "tally", f"Tally strip of load {number}",
            lambda paper, _: wall.tally_strip(shop, number, cup, paper),
        )  # fmt: skip
        super().__init__(shop, tag, parent, [strip, *_all(shop, tag)], "tally")
