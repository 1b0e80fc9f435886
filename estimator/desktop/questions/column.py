"""The left column of a call: what is known, the next question, and what may follow."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QLocale, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.language import LANGUAGE, _
from estimator.desktop.questions import answers, order
from estimator.desktop.questions.advice import Advice
from estimator.desktop.questions.caller import CallerBlock
from estimator.desktop.questions.card import OpenQuestion
from estimator.desktop.questions.drawn import DrawnByHand
from estimator.desktop.questions.heard import Ear, Measures
from estimator.desktop.questions.line import Line
from estimator.desktop.questions.rest import Rest
from estimator.desktop.questions.wordings import wording
from estimator.desktop.session import Session
from estimator.desktop.state import Sight
from estimator.desktop.widgets.following import Following
from estimator.desktop.widgets.words import figures, words
from estimator.quoting import edits
from estimator.quoting.edits import Step
from estimator.survey.enquiry import Question, noted, questions, surveyed
from estimator.survey.survey import Asked, Party

EDGE = 12
"""Room at the sides, as wide as a scroll bar. [px]"""


class QuestionsColumn(QFrame):
    """What we know."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self._by_key = {one.key: one for one in questions()}
        self._uid = session.job.uid
        self._later: tuple[str, ...] = ()
        self._waiting: tuple[str, ...] = ()
        self.count = figures(role="second")
        self.caller = CallerBlock(session.filing)
        self.card = OpenQuestion()
        self.answer_lines = {key: Line() for key in self._by_key}
        self.rest = Rest(tuple(self._by_key))
        self.open_lines, self.more = self.rest.lines, self.rest.more
        self.caution = Advice()
        self.drawn = DrawnByHand(session)
        self._lay_out()
        self._connect()
        self.show_sight(session.sight)
        self._open_best()

    # -- what the desk asks for

    def take_focus(self) -> None:
        """Put the cursor into the question that is open."""
        if self.card.question is None:
            self.caller.line.setFocus()
        else:
            self.card.take_focus()

    def next_question(self) -> None:
        """Open the question best asked next; one that is open and not answered waits its turn."""
        now = self.card.question
        if now is not None and now.key in self._waiting:
            self._later = (*(key for key in self._later if key != now.key), now.key)
        self._settle_order()
        self._open_best()
        self.take_focus()

    def ask_customer(self) -> None:
        """Put the cursor into the caller's name."""
        self.caller.open_up()
        self._bring(self.caller)

    # -- what is seen

    def show_sight(self, sight: Sight) -> None:
        """Say anew what is known and what it is worth to ask; only what changed is drawn."""
        if sight.job.uid != self._uid:
            self._begin(sight)
            return
        if not sight.is_settling and not self._is_busy():
            self._settle_order()
        asked = {one.question: one for one in sight.work.survey.asked}
        ear = self._ear(sight)
        self._waiting = order.waiting(sight, later=self._later)
        gaps = {"n": order.known(sight), "all": order.in_play(sight)}
        self.count.setText(_("{n} of {all}").format(**gaps))
        self.drawn.show_survey(sight.work.survey)
        self.caller.show_party(sight.work.survey.customer)
        for key, question in self._by_key.items():
            self._say_answer(question, asked.get(key), ear)
        left = [key for key in self._waiting if key != self._open_key]
        self.rest.show_questions(left, order.worths(sight), noted=noted(sight.work.survey))
        if self._open_key and self._open_key not in (*self._waiting, *asked):
            # Drawn meanwhile: the open question moves nothing any more.
            self._open_best()
            return
        self._follow(asked, ear)
        self._say_worth(sight)
        self._advise(sight)

    def _begin(self, sight: Sight) -> None:
        """Begin another job with its own best question."""
        self._uid, self._later = sight.job.uid, ()
        self.rest.begin()
        self.card.question = None
        self._settle_order()
        self._open_best()

    def _is_busy(self) -> bool:
        """Whether an answer is begun, or somebody is about to take up a line: nothing may move."""
        is_begun = bool(self.card.field.text()) and not self.card.field.isHidden()
        return is_begun or self.rest.is_aimed_at

    def _ear(self, sight: Sight) -> Ear:
        return Ear(Measures.of(sight.work.survey), QLocale(LANGUAGE.tag).decimalPoint())

    def _say_answer(self, question: Question, asked: Asked | None, ear: Ear) -> None:
        line = self.answer_lines[question.key]
        if asked is not None:
            line.say(
                answers.in_words(question, asked, ear),
                label=wording(question.key).label,
                quiet=not answers.is_known(asked),
            )
        line.be_shown(shown=asked is not None and question.key != self._open_key)

    def _follow(self, asked: dict[str, Asked], ear: Ear) -> None:
        """Keep the open card true to the survey, as after an undo."""
        now = self.card.question
        if now is None:
            return
        self.card.hear_with(ear)
        if self.card.stands != asked.get(now.key):
            self.card.show_answer(asked.get(now.key))

    def _say_worth(self, sight: Sight) -> None:
        key = self._open_key
        is_asked = key not in self._waiting
        worths = order.worths(sight)
        pounds = worths.get(key)
        if not key or (is_asked and not pounds):
            self.card.say_worth("", "")
        elif key in order.SAFETY:
            self.card.say_worth(_("Asked first: it can change what may be done."), "")
        elif not pounds:
            self.card.say_worth("", "")
        else:
            left = [one for one in self._waiting if one in worths]
            best = max(left, key=lambda one: worths[one].pence, default="")
            why = _("Best question to ask next") if key == best else _("What an answer is worth")
            worth = _("About {pounds} of the spread").format(pounds=answers.worth(pounds))
            self.card.say_worth(why, worth)

    def _advise(self, sight: Sight) -> None:
        survey = sight.work.survey
        # A wall made from no answer at all says nothing yet; one drawn or read in does.
        is_blank = not survey.asked and survey is not surveyed(survey)
        found = None if is_blank else sight.assessment
        self.caution.advise(found, width=self.width() - 2 * EDGE, height=self.height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Say the caution in full or in short, as there is room."""
        super().resizeEvent(event)
        self._advise(self._session.sight)

    # -- what is done

    @property
    def _open_key(self) -> str:
        return self.card.question.key if self.card.question is not None else ""

    def open(self, key: str) -> None:
        """Open a question, whether it has an answer or not."""
        self._settle_order()
        sight = self._session.sight
        asked = {one.question: one for one in sight.work.survey.asked}
        self.card.open(self._by_key[key], asked.get(key), self._ear(sight))
        self.card.show()
        self.show_sight(sight)
        QTimer.singleShot(0, self, self._bring_card)

    def _open_best(self) -> None:
        best = order.best(self._waiting, self._session.sight)
        if best:
            self.open(best)
            return
        self.card.question = None
        self.card.hide()
        self.show_sight(self._session.sight)

    def _settle_order(self) -> None:
        """Put the lines of what is not asked in the order that holds now."""
        self._waiting = order.waiting(self._session.sight, later=self._later)
        self.rest.sort(self._waiting)

    def _answer(self, asked: Asked | None) -> None:
        """Put on the desk what is understood, at every key; all keys are one step."""
        work, key = self._session.work, self._open_key
        if asked is None:
            self._session.apply(replace(edits.take_back(work, key), step=Step.ANSWER))
        else:
            self._session.apply(edits.answer(work, asked))

    def _go_on(self) -> None:
        self._later = tuple(key for key in self._later if key != self._open_key)
        self._settle_order()
        self._open_best()
        self.take_focus()

    def _go_back(self) -> None:
        """Leave the open question as it was, and open the best one."""
        self._answer(self.card.before)
        self._settle_order()
        self._open_best()
        self.take_focus()

    def _strike(self, key: str) -> None:
        lines = self._lines()
        at = lines.index(self.answer_lines[key])
        self._session.apply(edits.take_back(self._session.work, key))
        self._settle_order()
        self.show_sight(self._session.sight)
        after = [line for line in lines[at + 1 :] if line in self._lines()]
        (after[0] if after else self.caller.line).setFocus()

    def _step(self, line: QWidget, step: int) -> None:
        lines = self._lines()
        at = lines.index(line) + step
        if not 0 <= at < len(lines):
            return
        if lines[at] is self.card:
            self.card.take_focus()
        else:
            lines[at].setFocus()
        self._bring(lines[at])

    def _lines(self) -> list[QWidget]:
        """Return all that the arrows move among, from the top."""
        every: list[QWidget] = [self.caller.line, *self.answer_lines.values(), self.card]
        return [*(line for line in every if not line.isHidden()), *self.rest.in_sight]

    def _take_up(self, key: str) -> None:
        self.open(key)
        self.take_focus()

    def _bring_card(self) -> None:
        if self.caller.is_open:
            return
        self._bring(self.card)
        if self.card.height() > self._scroll.viewport().height():
            self._scroll.verticalScrollBar().setValue(self.card.y())

    def _bring(self, widget: QWidget) -> None:
        """Scroll no further than to where a part is seen."""
        self._rows.activate()
        self._scroll.ensureWidgetVisible(widget, 0, 8)

    def _spare_bar(self, _least: int, most: int) -> None:
        """Give the scroll bar the room of the edge, so that nothing moves when it comes."""
        self._rows.setContentsMargins(EDGE, 0, 0 if most else EDGE, 8)

    def _name(self, party: Party, about: str) -> None:
        self._session.apply(edits.name_customer(self._session.work, party, about=about))

    def _adopt(self, party: Party, uid: str) -> None:
        self._name(party, "known")
        self._session.adopt(customer=uid)

    # -- how it is put together

    def _lay_out(self) -> None:
        inner = QWidget()
        rows = self._rows = QVBoxLayout(inner)
        rows.setContentsMargins(EDGE, 0, EDGE, 8)
        rows.setSpacing(0)
        rows.addWidget(self.caller)
        rows.addWidget(self.drawn)
        for line in self.answer_lines.values():
            rows.addWidget(line)
        rows.addSpacing(8)
        rows.addWidget(self.card)
        rows.addSpacing(8)
        rows.addWidget(self.rest)
        rows.addStretch()
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setWidget(inner)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        Following(self._scroll)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        head = QHBoxLayout()
        head.setContentsMargins(20, 16, 20, 4)
        head.addWidget(words(_("What we know"), role="heading"), 1)
        head.addWidget(self.count, 0, Qt.AlignmentFlag.AlignBottom)
        foot = QVBoxLayout()
        foot.setContentsMargins(EDGE, 4, EDGE, 16)
        foot.addWidget(self.caution)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addLayout(head)
        layout.addWidget(self._scroll, 1)
        layout.addLayout(foot)
        self._scroll.verticalScrollBar().rangeChanged.connect(self._spare_bar)

    def _connect(self) -> None:
        for key, line in self.answer_lines.items():
            line.struck.connect(lambda key=key: self._strike(key))
            line.clicked.connect(lambda _on=False, key=key: self._take_up(key))
            line.stepped.connect(lambda step, line=line: self._step(line, step))
        self.rest.taken.connect(self._take_up)
        self.rest.stepped.connect(self._step)
        self.card.answered.connect(self._answer)
        self.card.done.connect(self._go_on)
        self.card.left.connect(self._go_back)
        self.card.stepped.connect(lambda step: self._step(self.card, step))
        self.drawn.drawn_anew.connect(self.take_focus)
        self.caller.changed.connect(self._name)
        self.caller.chosen.connect(self._adopt)
        self.caller.left.connect(self.take_focus)
        self.caller.stepped.connect(lambda step: self._step(self.caller.line, step))
        self._session.sight_changed.connect(self.show_sight)
