"""The one question that is open: its words, a field or choices, and what an answer is worth."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.questions.choices import Choices
from estimator.desktop.questions.field import AnswerField
from estimator.desktop.questions.heard import Ear, Heard, not_heard
from estimator.desktop.questions.wordings import wording
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import hairline, retone, words
from estimator.survey.enquiry import NONE_OF_THESE, NOT_SURE, Kind, Question
from estimator.survey.survey import Asked

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class OpenQuestion(QFrame):
    """A question that can be answered with the keyboard alone."""

    answered = Signal(object)
    """An ``Asked`` or None: what is understood so far, at every key."""
    done = Signal()
    """The answer stands; go on."""
    left = Signal()
    """Leave it as it was before it was opened."""
    stepped = Signal(int)
    """Up (-1) or down (1) was pressed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty card; ``open`` fills it."""
        super().__init__(parent)
        self.setProperty("role", "card")
        self.setProperty("chosen", "true")
        self.question: Question | None = None
        self.asked: Asked | None = None
        self.before: Asked | None = None
        """The answer when the question was opened."""
        self._is_unclear = False
        self._ear: Ear | None = None
        self.ask = words(role="question")
        self.hint = words(role="second")
        self.field = AnswerField()
        self.choices = Choices()
        self.worth_line = hairline()
        self.why = words(role="second")
        self.worth = words(role="strong")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 12, 14, 14)
        layout.setSpacing(8)
        head = QVBoxLayout()
        head.setSpacing(2)
        head.addWidget(self.ask)
        head.addWidget(self.hint)
        # For the mouse: the keyboard goes on with Enter, and need not stop here.
        self.on = quiet_button(_("Go on"))
        self.on.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.on.clicked.connect(self._enter)
        foot = QVBoxLayout()
        foot.setSpacing(0)
        foot.addWidget(self.why)
        foot.addWidget(self.worth)
        layout.addLayout(head)
        for part in (self.field, self.choices, self.worth_line):
            layout.addWidget(part)
        end = QHBoxLayout()
        end.addLayout(foot, 1)
        end.addWidget(self.on, alignment=Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom)
        layout.addLayout(end)
        self.field.textEdited.connect(self._typed)
        self.field.done.connect(self._enter)
        self.field.left.connect(self.left)
        self.field.stepped.connect(self.stepped)
        self.choices.taken.connect(self._take)

    @property
    def stands(self) -> Asked | None:
        """The answer on the desk: words not understood leave the one before them."""
        return self.before if self._is_unclear else self.asked

    def open(self, question: Question, asked: Asked | None, ear: Ear) -> None:
        """Put a question, with the answer it has so far."""
        self.question, self.before, self._ear = question, asked, ear
        said = wording(question.key)
        self.ask.setText(said.ask)
        offered = [(str(n), said.choices[one.key]) for n, one in enumerate(question.choices, 1)]
        self.choices.offer([*offered, ("0", _("not sure"))])
        # Buttons made later than all around them would be the last that Tab comes to.
        for before, after in pairwise((self.field, *self.choices.buttons)):
            self.setTabOrder(before, after)
        self.field.setVisible(question.kind is Kind.AMOUNT)
        self.on.setVisible(question.kind is not Kind.CHOICE)
        self.field.setAccessibleName(said.ask)
        self.choices.setAccessibleName(said.ask)
        self.setAccessibleName(said.ask)
        self.show_answer(asked)

    def show_answer(self, asked: Asked | None) -> None:
        """Show another answer to the same question, as after an undo."""
        self.asked, self._is_unclear = asked, False
        text = ""
        if asked is not None and asked.amount is not None and self._ear and self.question:
            text = asked.said or self._ear.size(self.question, asked)
        elif asked is not None and self.question and self.question.kind is Kind.AMOUNT:
            text = asked.said
        self.field.setText(text)
        self.field.selectAll()
        self._mark()
        self._echo(self._heard(text))

    def hear_with(self, ear: Ear) -> None:
        """Echo by other courses and bricks, once the wall is known better."""
        if ear != self._ear:
            self._ear = ear
            self._echo(self._heard(self.field.text()))

    def say_worth(self, why: str, worth: str) -> None:
        """Say why it is asked, and what an answer is worth; nothing to hide both."""
        for label, text in ((self.why, why), (self.worth, worth)):
            if label.text() != text:
                label.setText(text)
            label.setVisible(bool(text))
        self.worth_line.setVisible(bool(why or worth))

    def take_focus(self) -> None:
        """Put the cursor where an answer begins."""
        if self.question is None:
            return
        if self.question.kind is Kind.AMOUNT:
            self.field.setFocus()
            self.field.selectAll()
            return
        places = self._places()
        # Enter alone claims nothing: the cursor stands on "not sure" until something is chosen.
        at = places[0] if places else len(self.choices.buttons) - 1
        self.choices.buttons[at].setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take an answer by its digit or letter, go on, go back, or move."""
        key, text = event.key(), event.text().lower()
        if key in ENTER:
            self._enter()
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not event.modifiers():
            self.stepped.emit(1 if key == Qt.Key.Key_Down else -1)
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._aside(1 if key == Qt.Key.Key_Right else -1)
        elif len(text) == 1 and (text.isdecimal() or text.isalpha()) and self._take_key(text):
            pass
        else:
            super().keyPressEvent(event)

    # -- answers

    def _typed(self, text: str) -> None:
        heard = self._heard(text)
        self._is_unclear = heard.asked is None and bool(text.strip())
        self.asked = heard.asked
        self._mark()
        self._echo(heard)
        self.answered.emit(self.stands)

    def _heard(self, text: str) -> Heard:
        if self.question is None or self._ear is None or self.question.kind is not Kind.AMOUNT:
            return Heard()
        return self._ear.hear(self.question, text)

    def _echo(self, heard: Heard) -> None:
        if self.question is None:
            return
        self.field.say(heard.echo)
        note, tone = heard.note, "caution" if heard.asked is None else ""
        if heard.echo and not self.field.has_room:
            echo = heard.echo.removeprefix("= ")
            note, tone = f"{echo[:1].upper()}{echo[1:]}. {note}".strip(), "done"
        self._note(note or wording(self.question.key).hint, tone if note else "")

    def _note(self, text: str, tone: str) -> None:
        if self.hint.text() != text:
            self.hint.setText(text)
        retone(self.hint, tone=tone)

    def _take_key(self, text: str) -> bool:
        """Take a choice by its digit, or by a letter that only one of them begins with."""
        labels = [button.text() for button in self.choices.buttons]
        last = len(labels) - 1
        if text.isdecimal():
            place = int(text) - 1 if text != "0" else last
            found = [place] if place < last or text == "0" else []
        else:
            found = [n for n, label in enumerate(labels) if label.lower().startswith(text)]
        if len(found) != 1:
            return False
        self._take(found[0])
        return True

    def _take(self, place: int) -> None:
        question = self.question
        if question is None:
            return
        keys = [*(one.key for one in question.choices), NOT_SURE]
        chosen = keys[place]
        if question.kind is Kind.SEVERAL and chosen != NOT_SURE:
            taken = _toggled(self.asked.choices if self.asked else (), chosen)
            kept = tuple(key for key in keys if key in taken)
            self._say(Asked(question.key, kept) if kept else None)
            self.choices.buttons[place].setFocus()
            return
        self._say(Asked(question.key, (chosen,)))
        self.done.emit()

    def _enter(self) -> None:
        question = self.question
        if question is None:
            return
        if question.kind is Kind.CHOICE and self.asked == self.before:
            focused = [n for n, one in enumerate(self.choices.buttons) if one.hasFocus()]
            if focused:
                self._take(focused[0])
                return
        typed = self.field.text().strip() if question.kind is Kind.AMOUNT else ""
        if typed and self.asked is None:
            if not self._heard(typed).note:
                self._note(not_heard(question), "caution")
            return
        if self.asked is None:
            self._say(Asked(question.key, (NOT_SURE,)))
        self.done.emit()

    def _say(self, asked: Asked | None) -> None:
        self.asked, self._is_unclear = asked, False
        self._mark()
        self.answered.emit(asked)

    # -- choices

    def _places(self) -> list[int]:
        if self.question is None or self.asked is None:
            return []
        keys = [*(one.key for one in self.question.choices), NOT_SURE]
        return [keys.index(choice) for choice in self.asked.choices]

    def _mark(self) -> None:
        self.choices.mark(self._places())

    def _aside(self, step: int) -> None:
        buttons = self.choices.buttons
        at = next((n for n, one in enumerate(buttons) if one.hasFocus()), -1)
        buttons[(at + step) % len(buttons)].setFocus()


def _toggled(taken: tuple[str, ...], choice: str) -> set[str]:
    """Return the choices after one more press; *none of these* stands alone."""
    if choice == NONE_OF_THESE:
        return set() if choice in taken else {choice}
    return (set(taken) ^ {choice}) - {NONE_OF_THESE, NOT_SURE}
