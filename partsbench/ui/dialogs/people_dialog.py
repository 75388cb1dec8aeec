"""Who works here and where things stand: each gets a code for the wall."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from partsbench.core.finish.steps import Operation
from partsbench.core.outcomes import Done, Refused
from partsbench.core.wording import listed
from partsbench.services.known import people
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import heading, labelled, quiet

WORK = listed(o.value for o in Operation)
LIMITS = f"A helper may be limited to some work, named with commas: {WORK}. Empty: anything."
NO_PERSON = "Nobody yet. One who works alone needs no entry."
NO_PLACE = "No place yet: a rack, a shelf, the spray room."
ON_THE_WALL = "The codes stand on the verb sheet; print it again after a change."


class PeopleDialog(ShopDialog):
    """Two lists, each with a field that adds to it."""

    helped_by = "wall"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="people-dialog", title="People and places")
        self.people = Lines("people-list", "People", empty=NO_PERSON)
        self.places = Lines("places-list", "Places", empty=NO_PLACE)
        self.name = text_field("person-name", "Name", "Wren")
        self.only = text_field("person-only", "Limited to", "sand, wash")
        self.place = text_field("place-name", "Place", "rack 2")
        both = QHBoxLayout()
        both.addLayout(self._column("People", self.people, self.name, self.only, LIMITS))
        both.addLayout(self._column("Places", self.places, self.place, None, ON_THE_WALL))
        self.content.addLayout(both)
        self.add_button("Add the person", "person-add", self.on_person_asked)
        self.leave = self.add_button("Left the shop", "person-left", self.on_left_asked)
        self.add_button("Add the place", "place-add", self.on_place_asked)
        self.people.picked.connect(self.on_person_picked)
        for field in (self.name, self.only):
            field.returnPressed.connect(self.on_person_asked)
        self.place.returnPressed.connect(self.on_place_asked)
        self.resize(760, 480)
        self.refresh()
        self.name.setFocus()

    def _column(
        self, title: str, lines: Lines, name: QLineEdit, more: QLineEdit | None, about: str
    ) -> QVBoxLayout:
        column = QVBoxLayout()
        column.addWidget(heading(title))
        column.addWidget(lines, 1)
        for field in filter(None, (name, more)):
            column.addLayout(labelled(field.accessibleName(), field))
        column.addWidget(quiet(about))
        return column

    def refresh(self) -> None:
        self._people = people.people(self.shop)
        self._places = people.places(self.shop)
        self.people.show_lines(
            [
                "   ".join(
                    [p.name, people.person_code(p), *([f"only {listed(p.only)}"] if p.only else [])]
                )
                for p in self._people
            ]
        )
        self.places.show_lines([f"{p.name}   {people.place_code(p)}" for p in self._places])
        self.on_person_picked(self.people.row())

    def on_person_picked(self, place: int) -> None:
        self.leave.setEnabled(0 <= place < len(self._people))

    def on_person_asked(self) -> None:
        only = [w.strip() for w in self.only.text().split(",") if w.strip()]
        made = people.add_person(self.shop, self.name.text(), only)
        if isinstance(made, Refused):
            self.settle(made)
            return
        self.settle(Done(f"{made.name} has the code {people.person_code(made)}."))
        self.name.clear()
        self.only.clear()

    def on_left_asked(self) -> None:
        place = self.people.row()
        if 0 <= place < len(self._people):
            self.settle(people.leaves(self.shop, self._people[place].number))

    def on_place_asked(self) -> None:
        made = people.add_place(self.shop, self.place.text())
        if isinstance(made, Refused):
            self.settle(made)
            return
        self.settle(Done(f"{made.name} has the code {people.place_code(made)}."))
        self.place.clear()
