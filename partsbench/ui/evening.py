"""Work by scanner alone in the window: codes of the wall, and what they put in force or in hand."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal

from partsbench.core.finish.durations import say_duration
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.verbs import wall_code
from partsbench.services import loads
from partsbench.services.session import Session
from partsbench.services.shop import Shop
from partsbench.ui.band import Band
from partsbench.ui.settings import Settings

BEAT_MS = 1000
KEPT = "in hand"


class Evening(QObject):
    """Asked before the page in front: a code of the wall, and parts while a verb is in force."""

    said = Signal(object)
    """An Outcome of the session."""

    def __init__(self, shop: Shop, settings: Settings, band: Band) -> None:
        super().__init__(band)
        self.shop = shop
        self.session = Session(shop)
        self._settings = settings
        self._band = band
        self._take_in_hand()
        self._timer = QTimer(self)
        self._timer.setInterval(BEAT_MS)
        self._timer.timeout.connect(self.on_beat)
        self._timer.start()
        self.show_band()

    def takes(self, text: str) -> bool:
        """Whether the session answers this code, and not the page in front."""
        state = self.session.state
        in_force = state.verb or state.place or state.face or state.asks_of_load(text)
        return bool(in_force) or wall_code(text) is not None

    def wait_on(self) -> None:
        """A scan went elsewhere: what is in force stays as long as after any other scan."""
        self.session.state = replace(self.session.state, last=self.shop.clock())

    def scan(self, text: str, here: str) -> str:
        """Give a code to the session; the tag of the piece at work after it."""
        self.session.here = here
        for outcome in self.session.scan(text):
            self.said.emit(outcome)
        self._keep_in_hand()
        self.show_band()
        return self.session.here

    def heard(self, answer: Outcome | Done | Refused | str) -> None:
        """What a page answered: INSIST and a reason may follow a hold, and nothing else."""
        state = self.session.state
        if not isinstance(answer, Outcome) or state.verb:
            return
        held = answer.code if answer.held and not answer.recorded else ""
        if held != state.held:
            last = self.shop.clock() if held else state.last
            self.session.state = replace(state, held=held, holds=answer.held, lifted=(), last=last)

    def on_beat(self) -> None:
        """A verb that nothing followed goes off by itself."""
        off = self.session.tick()
        if off:
            self.said.emit(off)
            self.show_band()

    def stop(self) -> None:
        """No more beats; the book is about to be closed."""
        self._timer.stop()

    def show_band(self) -> None:
        """The verb in force, and what is in hand."""
        state = self.session.state
        verb = self.session.verb or (f"ONLY THE {state.face.upper()}" if state.face else "")
        if state.place and not state.verb:
            verb = "PLACE: scan what stands there"
        if state.left_out:
            verb = f"{verb}: {len(state.left_out)} left out"
        self._band.show_words(verb, " · ".join(self._in_hand(bool(verb))))

    def _in_hand(self, in_force: bool) -> list[str]:
        state, words = self.session.state, []
        cup = self.session.cup
        if cup:
            tint = f", {cup.cup.tint:g} % tint" if cup.cup.tinted else ""
            words.append(f"Cup {cup.number}: {cup.cup.name}{tint}")
        if state.load:
            words.append(f"Load {state.load}")
        if state.person:
            words.append(self.shop.who)
        if in_force and state.verb and state.verb.stays:
            words.append(f"goes off after {say_duration(state.idle)} idle")
        return words

    # What is in hand outlives a power cut; a verb does not

    def _keep_in_hand(self) -> None:
        state = self.session.state
        kept = {"cup": str(state.cup), "load": str(state.load), "person": str(state.person)}
        if kept != self._settings.entry(KEPT):
            self._settings.put_entry(KEPT, kept)
            self._settings.write_now()

    def _take_in_hand(self) -> None:
        kept = {k: int(v) for k, v in self._settings.entry(KEPT).items() if v.isdecimal()}
        load = kept.get("load", 0)
        found = loads.find(self.shop, load) if load else None
        still = load if found and not isinstance(found, Refused) and not found.ended_at else 0
        self.session.state = replace(self.session.state, cup=kept.get("cup", 0), load=still)
