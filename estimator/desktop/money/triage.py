"""What triage says over the money: the words instead of a price, or the cautions above it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.icons import pixmap
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import retone, words
from estimator.survey.triage import Assessment, Outcome, Route

STATEMENTS = ("not_the_cause", "not_certified")
"""Notices that go with anything that is written about such a wall."""
WATCH = "monitor"
ADVISED = (Route.MONITOR,)
"""Routes said above the prices too; that a visit comes first stands under the questions."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """What stands in the column where no price may be given."""

    heading: str
    first: str
    """The words that matter most."""
    because: str
    more: tuple[str, ...]
    acts: tuple[str, ...]
    statements: tuple[str, ...]


def refusal_of(assessment: Assessment) -> Refusal:
    """Return what to say and do where triage stops or refers."""
    said = [outcome for outcome in assessment.outcomes if outcome.words]
    settling = next((one for one in said if one.route is assessment.route), said[0])
    notices = {notice.code: notice.text for notice in assessment.notices}
    rest = tuple(one.words for one in said if one is not settling and one.route is not None)
    stops = assessment.route is Route.STOP
    return Refusal(
        heading=_("No price: make it safe first") if stops else _("No price: an engineer first"),
        first=settling.words,
        because=settling.because,
        more=rest,
        acts=_stop_acts() if stops else _refer_acts(said, notices.get(WATCH, "")),
        statements=tuple(notices[code] for code in STATEMENTS if code in notices),
    )


def _stop_acts() -> tuple[str, ...]:
    return (
        _("Name no figure and book no work."),
        _("Take it up again once those who made it safe have said so in writing."),
    )


def _refer_acts(said: list[Outcome], watch: str) -> tuple[str, ...]:
    acts = [
        _(
            "Ask for a report by a chartered structural engineer; once it is written down here, "
            "what it asks for can be priced."
        )
    ]
    if any(outcome.id == "R5" for outcome in said):
        acts.append(_("Have the owner tell the insurer before any repair."))
    acts.append(
        _("A paid visit can be offered: to look, measure and take photographs. It repairs nothing.")
    )
    return (*acts, watch) if watch else tuple(acts)


def cautions_of(assessment: Assessment) -> tuple[str, str]:
    """Return heading and words of the caution above the money; two empty texts without one."""
    if assessment.route not in ADVISED:
        return "", ""
    heading = _("Watch it first")
    settling = [one.words for one in assessment.outcomes if one.route is assessment.route]
    aside = [one.words for one in assessment.outcomes if one.route is None]
    watch = [one.text for one in assessment.notices if one.code == WATCH]
    return heading, " ".join(dict.fromkeys((*settling, *aside, *watch)))


class RefusalPanel(QWidget):
    """The words to say to the caller, large, then what to do; no price anywhere."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the empty panel."""
        super().__init__(parent)
        self.shown: Refusal | None = None
        self._sign = words(wrap=False)
        self._sign.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.heading = words(role="name", tone="stop")
        self.first = words(role="question")
        self.because = words(role="second")
        self.more = _Sentences("")
        self.acts = _Sentences(_("What to do"))
        self.statements = _Sentences(_("Goes with anything written"))
        self._lay_out()
        LOOK.changed.connect(self._draw)
        self._draw()

    def show_assessment(self, assessment: Assessment) -> None:
        """Say what triage found."""
        found = refusal_of(assessment)
        if found == self.shown:
            return
        self.shown = found
        self.heading.setText(found.heading)
        self.first.setText(_("“{words}”").format(words=found.first))
        self.because.setText(_("Because: {signs}.").format(signs=found.because))
        self.because.setVisible(bool(found.because))
        self.more.say(tuple(_("“{words}”").format(words=one) for one in found.more))
        self.acts.say(found.acts)
        self.statements.say(found.statements)

    def _draw(self) -> None:
        self._sign.setPixmap(pixmap("stop", LOOK.px(32), "stop"))

    def _lay_out(self) -> None:
        box = QFrame()
        retone(box, role="stop")
        top = QHBoxLayout()
        top.setSpacing(12)
        top.addWidget(self._sign)
        top.addWidget(self.heading, 1)
        inside = QVBoxLayout(box)
        inside.setContentsMargins(14, 14, 14, 14)
        inside.setSpacing(12)
        inside.addLayout(top)
        inside.addWidget(words(_("Say this"), role="second"))
        inside.addWidget(self.first)
        inside.addWidget(self.because)
        inside.addWidget(self.more)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(20)
        layout.addWidget(box)
        for part in (self.acts, self.statements):
            part.setContentsMargins(8, 0, 8, 0)
            layout.addWidget(part)


class _Sentences(QWidget):
    """A heading and some sentences, each a paragraph."""

    def __init__(self, heading: str) -> None:
        super().__init__()
        self._labels: list[QLabel] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(8)
        if heading:
            self._layout.addWidget(words(heading, role="strong"))

    def say(self, sentences: tuple[str, ...]) -> None:
        """Say these and nothing else."""
        while len(self._labels) < len(sentences):
            label = words()
            self._labels.append(label)
            self._layout.addWidget(label)
        for place, label in enumerate(self._labels):
            text = sentences[place] if place < len(sentences) else ""
            label.setText(text)
            label.setVisible(bool(text))
        self.setVisible(bool(sentences))

    @property
    def texts(self) -> tuple[str, ...]:
        """What is said now."""
        return tuple(label.text() for label in self._labels if label.text())
