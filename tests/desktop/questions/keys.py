"""A person at the keyboard of the left column, who never touches the mouse."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from estimator.desktop.questions.column import QuestionsColumn
from estimator.desktop.session import Session
from estimator.survey.survey import Asked

Key = Qt.Key


class Typist:
    """Types into whatever has the keyboard."""

    def __init__(self, column: QuestionsColumn, session: Session) -> None:
        self.column, self.session = column, session

    @property
    def focus(self) -> QWidget:
        focused = QApplication.focusWidget()
        assert focused is not None, "nothing has the keyboard"
        return focused

    @property
    def open(self) -> str:
        question = self.column.card.question
        return "" if question is None else question.key

    @property
    def asked(self) -> dict[str, Asked]:
        return {one.question: one for one in self.session.work.survey.asked}

    def types(self, text: str) -> None:
        for letter in text:
            QTest.keyClicks(self.focus, letter)

    def press(self, *keys: Qt.Key) -> None:
        for key in keys:
            QTest.keyClick(self.focus, key)

    def goes_to(self, key: str) -> None:
        """Walk down, or else up, to the line of a question and open it."""
        lines = (self.column.answer_lines[key], self.column.open_lines[key])
        for step in (Key.Key_Down, Key.Key_Up):
            for _turn in range(40):
                if self.focus in lines:
                    self.press(Key.Key_Return)
                    return
                self.press(step)
        raise AssertionError(f"no line leads to {key}")
