"""Work by scanner alone in the window: codes of the wall, and what they put in force or in hand."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from partsbench.core.bench.events import Took
from partsbench.core.bench.state import Mode
from partsbench.core.finish.durations import say_duration
from partsbench.core.outcomes import Outcome, Refused
from partsbench.core.said_often import cup_name, only_the, tint_words
from partsbench.core.verbs import wall_code
from partsbench.core.wording import capitals, notes
from partsbench.services.acts import loads
from partsbench.services.heard.session import Session
from partsbench.ui.band import Band
from partsbench.ui.settings import Settings

BEAT_MS = 1000
KEPT = "in hand"


class Evening(QObject):
    """Beside the bench at work: lets time pass, shows what is in force, keeps what is in hand."""

    went_off = Signal(Outcome)
    """A verb went off by itself."""

    def __init__(self, session: Session, settings: Settings, band: Band) -> None:
        super().__init__(band)
        self.session = session
        self.shop = session.shop
        self._settings = settings
        self._band = band
        self._take_in_hand()
        self._timer = QTimer(self)
        self._timer.setInterval(BEAT_MS)
        self._timer.timeout.connect(self.on_beat)
        self._timer.start()
        session.watchers.append(self.on_bench_changed)
        self.show_band()

    def takes(self, text: str) -> bool:
        """Whether the bench answers this code, and not the page in front in a way of its own."""
        return wall_code(text) is not None or self.session.state.rules is not Mode.OTHER

    def on_bench_changed(self) -> None:
        self._keep_in_hand()
        self.show_band()

    def on_beat(self) -> None:
        """A verb that nothing followed goes off by itself."""
        off = self.session.tick()
        if off:
            self.went_off.emit(off)

    def stop(self) -> None:
        """No more beats; the book is about to be closed."""
        self._timer.stop()

    def show_band(self) -> None:
        """The verb in force, and what is in hand."""
        state = self.session.state
        verb = self.session.verb or (capitals(only_the(state.face)) if state.face else "")
        if state.place and not state.verb:
            verb = "PLACE: scan what stands there"
        if state.left_out and state.verb:
            verb = f"{verb}: {len(state.left_out)} left out"
        self._band.show_words(verb, " · ".join(self._in_hand(bool(verb))))

    def _in_hand(self, in_force: bool) -> list[str]:
        state, words = self.session.state, []
        cup = self.session.cup
        if cup:
            tint = tint_words(cup.cup.tint) if cup.cup.tinted else ""
            words.append(notes(cup_name(cup.number, cup.cup.name), tint))
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
        self.session.take(Took(cup=kept.get("cup", 0), load=still))
