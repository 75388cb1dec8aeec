"""Print, opened on a sheet of paper: the verb sheet, the day sheet, a tally strip, the proof."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from partsbench.core.finish.cups import StoredCup
from partsbench.core.outcomes import Refused
from partsbench.services.heard import wall
from partsbench.services.plan import evening
from partsbench.services.plan.on_paper import week_on_paper
from partsbench.services.plan.plans import PlanShown
from partsbench.services.shop import Shop
from partsbench.services.shown.proof import hand_out, make_proof
from partsbench.services.sums import care, drill
from partsbench.ui.dialogs.label_pane import LabelPane
from partsbench.ui.dialogs.print_dialog import PrintDialog
from partsbench.ui.dialogs.print_pane import PrintPane, SheetPane
from partsbench.ui.layout.fields import quiet


def sheets(shop: Shop, tag: str) -> list[PrintPane]:
    """What can be printed beside labels: of the piece, if there is one, and of the shop."""

    def proof(paper: str, client: bool) -> bytes | Refused:
        return make_proof(shop, tag, with_hidden=not client, paper=paper)

    def care_of(paper: str, _: bool) -> bytes | Refused:
        found = care.care(shop, tag)
        return found if isinstance(found, Refused) else care.care_sheet(found, paper)

    def day(paper: str, _: bool) -> bytes | Refused:
        # Nobody waits for a search here: where no plan was shown, a first one does.
        tonight = evening.tonight(shop, seconds=0.0)
        return wall.day_sheet(shop, (), paper, tonight.sentence if tonight else "")

    of_piece = [
        SheetPane(
            shop, tag, "proof", "Proof sheet", proof, for_client=True,
            noted=lambda: hand_out(shop, tag),
        ),
        SheetPane(shop, tag, "care", "Care sheet", care_of),
    ]  # fmt: skip
    of_shop = [
        SheetPane(shop, tag, "day", "Day sheet", day),
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


class CareDialog(PrintDialog):
    """What goes with a piece to its owner."""

    helped_by = "ledger"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, _all(shop, tag), "care")


class ProofDialog(PrintDialog):
    """Who brought what home, and when."""

    helped_by = "return"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, _all(shop, tag), "proof")


class DrillDialog(PrintDialog):
    """Where to drill one front, at true size."""

    helped_by = "hardware"

    def __init__(
        self, shop: Shop, tag: str, found: drill.Drilling, parent: QWidget | None = None
    ) -> None:
        def make(paper: str, _: bool) -> bytes | Refused:
            sheet = drill.drill_sheet(shop, tag, found, paper)
            return sheet if isinstance(sheet, Refused) else sheet.pdf

        pane = SheetPane(shop, tag, "drill", f"Drilling sheet of {found.part}", make)
        pane.column.insertWidget(2, quiet("Print it at 100 %, then measure both bars with a rule."))
        super().__init__(shop, tag, parent, [pane, *_all(shop, tag)], "drill")


class WeekDialog(PrintDialog):
    """The week of a plan on one sheet."""

    helped_by = "week"

    def __init__(
        self,
        shop: Shop,
        tag: str,
        shown: PlanShown,
        lost: tuple[str, ...] = (),
        parent: QWidget | None = None,
    ) -> None:
        sheet = SheetPane(
            shop, tag, "week", "Week", lambda paper, _: week_on_paper(shown, lost, paper)
        )
        super().__init__(shop, tag, parent, [sheet, *_all(shop, tag)], "week")


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
