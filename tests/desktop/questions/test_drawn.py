"""Questions beside a wall that no longer follows the answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from estimator.desktop.questions import order
from estimator.desktop.questions.column import QuestionsColumn
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.quoting import edits
from estimator.quoting.edits import Work
from estimator.quoting.wall_edits import outline as wall_outline
from estimator.survey.survey import Answer, Asked
from tests.desktop.fakes import demo_survey, rest


@pytest.fixture
def column(qtbot: QtBot, session: Session) -> Iterator[QuestionsColumn]:
    made = QuestionsColumn(session)
    qtbot.addWidget(made)
    made.resize(350, 690)
    made.show()
    qtbot.waitExposed(made)
    yield made
    rest(session)


def test_a_wall_drawn_by_hand_ends_questions_that_move_nothing(
    column: QuestionsColumn, session: Session
) -> None:
    session.apply(edits.answer(session.work, Asked("house", ("later",))))
    assert not column.drawn.isVisible()
    (wall,) = session.work.survey.elevations
    session.apply(wall_outline.set_size(session.work, wall.id, width_mm=9000.0))
    assert column.drawn.isVisible()
    assert column.drawn.line.text() == "The wall is drawn by hand. Sizes are changed on the wall."
    left = order.unasked(session.sight)
    assert "length" not in left and "warning" in left
    assert column.card.question is not None and column.card.question.key in left
    column.drawn.from_answers.click()
    assert not session.work.survey.drawn and not column.drawn.isVisible()
    assert "length" in order.unasked(session.sight)
    session.history.undo()
    assert session.work.survey.drawn


def test_a_measured_wall_is_not_given_up_for_answers(
    column: QuestionsColumn, session: Session
) -> None:
    session.show_job(OpenJob(Work(demo_survey("window_lime")), "0" * 32))
    assert (
        column.drawn.line.text() == "The wall was measured on site. Sizes are changed on the wall."
    )
    assert column.drawn.isVisible() and not column.drawn.from_answers.isVisible()


def test_what_a_survey_notes_is_not_asked_again_and_can_be_taken_up(
    column: QuestionsColumn, session: Session
) -> None:
    session.show_job(OpenJob(Work(demo_survey("window_lime")), "0" * 32))
    assert column.card.question is None
    assert column.count.text() == "10 of 10"
    line = column.open_lines["growing"]
    assert line.isVisible() and "noted" in line.accessibleName()
    line.click()
    assert column.card.question is not None and column.card.question.key == "growing"


def test_the_caution_names_the_little_that_is_not_known(
    column: QuestionsColumn, session: Session
) -> None:
    survey = demo_survey("window_lime")
    (front,) = survey.elevations
    crack = replace(front.cracks[0], both_faces=Answer.NOT_SURE)
    unsure = replace(survey, elevations=(replace(front, cracks=(crack,)),))
    session.show_job(OpenJob(Work(unsure), "0" * 32))
    said = [label.text() for label in column.caution.findChildren(QLabel)]
    assert any("Not known whether it shows on both faces." in one for one in said)
