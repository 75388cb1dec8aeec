"""The air of the room, what it does to waits, and hours without power."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QFormLayout, QLabel, QWidget

from partsbench.core.outcomes import Refused
from partsbench.core.shown_times import time_of_day
from partsbench.core.sums.climate import dew_point
from partsbench.services.acts.bench import stated
from partsbench.services.known import climate
from partsbench.services.known.measures import measures
from partsbench.services.shop import Shop
from partsbench.ui.bench.controls import words
from partsbench.ui.dialogs.lines import number_field, said, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import heading, quiet, rule

UNSAID_C = -30.0
NEVER_SHORTER = (
    "A reading holds for 12 hours. Damp or cold air lengthens the waits of water-borne films; no "
    "wait is ever shorter than on its tin, and of oil nothing is reckoned."
)


class AirDialog(ShopDialog):
    """Two short forms: a reading, and a power cut."""

    helped_by = "day"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="air-dialog", title="Air and power")
        self.now = words(0.6, bold=True, name="air-now")
        self.meant = words(0, name="air-meant")
        self.temperature = number_field("air-c", "Air", "°C", -20, 60, unsaid=False)
        self.humidity = number_field("air-humidity", "Humidity", "%", 1, 100, unsaid=False)
        self.surface = number_field("air-surface", "Surface", "°C", UNSAID_C, 60)
        self.place = text_field("air-place", "Where", "spray room")
        self.start = text_field("cut-start", "Power was off from", "14:32")
        self.end = text_field("cut-end", "up to", "15:10, or now")
        self.heating = QCheckBox("Heater or fan stood still too: waits running then get longer")
        self.note = text_field("cut-note", "Note")
        self._build()
        self.refresh()
        self.resize(560, 520)

    def _build(self) -> None:
        self.temperature.setValue(20)
        self.humidity.setValue(50)
        for box in (self.temperature, self.humidity):
            box.valueChanged.connect(self.on_air_changed)
        self.heating.setObjectName("cut-heating")
        air, power = QFormLayout(), QFormLayout()
        for form, rows in (
            (air, (("Air", self.temperature), ("Humidity", self.humidity),
                   ("Surface of the work", self.surface), ("Where", self.place))),
            (power, (("Power was off from", self.start), ("up to", self.end),
                     ("", self.heating), ("Note", self.note))),
        ):  # fmt: skip
            for text, widget in rows:
                form.addRow(QLabel(text), widget)
        self.content.addWidget(self.now)
        self.content.addWidget(heading("A reading"))
        self.content.addLayout(air)
        self.content.addWidget(self.meant)
        self.content.addWidget(quiet(NEVER_SHORTER))
        self.content.addWidget(rule())
        self.content.addWidget(heading("A power cut"))
        self.content.addLayout(power)
        self.content.addStretch(1)
        self.add_button("Note the air", "air-save", self.on_air_asked)
        self.add_button("Note the power cut", "cut-save", self.on_cut_asked)
        self.on_air_changed()

    def refresh(self) -> None:
        found = climate.reading(self.shop, self.shop.clock())
        if found is None:
            self.now.setText("No reading speaks for the air now: waits are as on the tin.")
            return
        show = measures(self.shop)
        stretched = climate.stretch(found, show)
        at = time_of_day(found.at, self.shop.clock())
        told = f"At {at}: {climate.air_words(found.temperature_c, found.humidity, show)}"
        self.now.setText(f"{told}. {stretched.said}".strip())

    def on_air_changed(self) -> None:
        """The dew point as one types, with its source."""
        found = dew_point(self.temperature.value(), self.humidity.value())
        self.meant.setText(found.say(measures(self.shop)))

    def on_air_asked(self) -> None:
        self.settle(
            climate.note(
                self.shop,
                self.temperature.value(),
                self.humidity.value(),
                said(self.surface),
                self.place.text(),
            )
        )

    def on_cut_asked(self) -> None:
        start, end = stated(self.shop, self.start.text()), stated(self.shop, self.end.text())
        if isinstance(start, Refused):
            self.settle(start)
            return
        if isinstance(end, Refused):
            self.settle(end)
            return
        answer = climate.note_power_cut(
            self.shop, start, end, self.heating.isChecked(), self.note.text()
        )
        self.settle(answer)
