"""The strip below every page: the last answer in a word and a sentence, and a field for codes."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
)
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from partsbench.core.key_words import large_word, word_of
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.ui.bench.wording import FINISHED, SURE
from partsbench.ui.big_word import BigWord
from partsbench.ui.glimpse import Glimpse
from partsbench.ui.icons import picture
from partsbench.ui.theme import Theme, grown, sized, theme_of

MARK = 40
NARROW = 860
HIGH, FOR_WORDS, ABOVE = 56, 46, 4
"""Px that the strip is high at least, those of them that grow with the words, and what is free
above and below these."""


@dataclass(frozen=True, slots=True)
class AnswerDress:
    """How an answer is worn: its word, the role of its colour, its mark, and whether it is loud."""

    word: str
    role: str
    mark: str
    loud: bool = False


MANNERS = {
    Answer.GO: AnswerDress(word_of(Answer.GO), "go", "check"),
    Answer.WAIT: AnswerDress(word_of(Answer.WAIT), "wait", "time", True),
    Answer.LATE: AnswerDress(word_of(Answer.LATE), "stop", "clock", True),
    Answer.STOP: AnswerDress(word_of(Answer.STOP), "stop", "cross", True),
    Answer.OTHER_JOB: AnswerDress(word_of(Answer.OTHER_JOB), "foreign", "move", True),
}
DONE = AnswerDress(large_word("DONE"), "go", "check")
ALL_DONE = AnswerDress(FINISHED, "go", "check")
REFUSED = AnswerDress("NOT DONE", "stop", "warning")
SAID = AnswerDress("", "quiet", "scan")
CLOSING = AnswerDress(large_word("NOW"), "wait", "clock", True)
ASKING = AnswerDress(SURE, "wait", "clock", True)


def manner_of(answer: Outcome | Done | Refused | str) -> AnswerDress:
    """How to show an answer; a plain text is a remark without a word."""
    if isinstance(answer, Outcome):
        if answer.tone is Tone.CLOSING:
            return CLOSING
        if answer.unconfirmed:
            return ASKING
        if answer.recorded and answer.answer is Answer.GO:
            return DONE
        if answer.finished:
            return ALL_DONE
        if answer.planless:
            return SAID
        return MANNERS[answer.answer]
    if isinstance(answer, Done):
        return DONE
    return REFUSED if isinstance(answer, Refused) else SAID


class AnswerBar(QWidget):
    """Quiet when all is well; a full-width band in strong colour when work must stop."""

    code_typed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("answer-bar")
        self._manner = SAID
        self._on_page = False
        self.word = BigWord(parent=self, most=44)
        self.word.setObjectName("answer-word")
        self.word.setMinimumWidth(0)
        self.word.setFixedHeight(_high() - 2 * ABOVE)
        self.sentence = _said("answer-sentence", 1)
        self.because = _said("answer-because", 0)
        self.field = QLineEdit(self)
        self.field.setObjectName("scan-field")
        self.field.setPlaceholderText("Type a code")
        self.field.setAccessibleName("Code")
        self.field.setToolTip("A code such as K7Q4-D05AK, or D5 of the piece at work (Ctrl+L)")
        self.field.setClearButtonEnabled(True)
        self.field.setTextMargins(6, 3, 6, 3)
        self.field.returnPressed.connect(self.on_code_entered)
        self.glimpse = Glimpse(self)
        self._arrange()
        self.show_answer("Ready.")

    def _arrange(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(MARK + 26, ABOVE, 14, ABOVE)
        row.setSpacing(16)
        row.addWidget(self.word)
        texts = QVBoxLayout()
        row.addLayout(texts, 1)
        row.addWidget(self.glimpse)
        row.addWidget(self.field)
        texts.setSpacing(0)
        texts.addStretch(1)
        texts.addWidget(self.sentence)
        texts.addWidget(self.because)
        texts.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.setMinimumHeight(_high())

    def show_answer(self, answer: Outcome | Done | Refused | str, *, on_page: bool = False) -> None:
        """Show an answer until the next one, and have a screen reader say it.

        What stands `on_page` already, large, is told to a screen reader only.
        """
        self._manner = manner_of(answer)
        self._on_page = on_page
        sentence = answer if isinstance(answer, str) else answer.sentence
        self.word.show_text(self._manner.word)
        self.word.setVisible(bool(self._manner.word) and not on_page)
        self._widen()
        self.sentence.setText(sentence)
        reasons = [answer.because, answer.source] if isinstance(answer, Outcome) else []
        self.because.setText("  ·  ".join(reason for reason in reasons if reason))
        self.because.setVisible(bool(self.because.text()) and not on_page)
        self.sentence.setVisible(not on_page)
        self.setAccessibleName(f"{self._manner.word} {sentence}".strip())
        self._dress()
        if self.isVisible():
            self._announce()

    def _announce(self) -> None:
        from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent

        said = QAccessibleAnnouncementEvent(self, self.accessibleName())
        QAccessible.updateAccessibility(said)

    def showing(self) -> str:
        """The word and the sentence on show."""
        return self.accessibleName()

    def on_code_entered(self) -> None:
        text = self.field.text().strip()
        self.field.clear()
        if text:
            self.code_typed.emit(text)

    def sizeHint(self) -> QSize:
        return QSize(800, _high())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._widen()

    def _widen(self) -> None:
        """Word and field in proportion to the window: the sentence has the rest."""
        narrow = self.width() < grown(NARROW)
        self.glimpse.give_room(self.width())
        word = self._manner.word
        self.word.setFixedWidth(min(_word_width(word), grown(130 if narrow else 400)))
        self.field.setFixedWidth(grown(130 if narrow else 210))
        for label, step in ((self.sentence, 1.0), (self.because, 0.0)):
            label.setFont(sized(step - 1.0 if narrow else step))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._dress()

    def _dress(self) -> None:
        ink = self._ink(theme_of(self))
        self.word.show_text(self.word.text(), ink)
        theme = theme_of(self)
        for label in (self.sentence, self.because):
            palette = label.palette()
            palette.setColor(
                QPalette.ColorRole.WindowText, theme.color(ink if self._manner.loud else "ink")
            )
            label.setPalette(palette)
        self.update()

    def _ink(self, theme: Theme) -> str:
        return "on_accent" if self._manner.loud else self._manner.role

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        loud = self._manner.loud and not self._on_page
        painter.fillRect(self.rect(), theme.color(self._manner.role if loud else "raised"))
        painter.fillRect(QRectF(0, 0, self.width(), 1.5), theme.color("line"))
        if self._on_page:
            return
        ratio = self.devicePixelRatioF()
        colour = theme.on_accent if loud else getattr(theme, self._manner.role)
        mark = picture(self._manner.mark, colour, round(MARK * ratio))
        mark.setDevicePixelRatio(ratio)
        painter.drawPixmap(14, (self.height() - MARK) // 2, mark)


def _said(name: str, step: float) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setFont(sized(step))
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def _high() -> int:
    """Of the strip, in px, whatever stands in it as long as two lines will do: the page above it
    does not move when something is told."""
    return max(HIGH, grown(FOR_WORDS))


def _word_width(word: str) -> int:
    return 60 + 26 * len(word) if word else 0
