"""Undo and redo: one command, holding the work before and after."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QUndoCommand

from estimator.desktop.language import _
from estimator.quoting.edits import Edit, Step, Work

MERGED = (Step.ANSWER, Step.CUSTOMER, Step.RULE, Step.NOTE, Step.SITE)
"""Steps that follow on as one when they are about the same thing."""
DRAWN = (
    Step.WALL,
    Step.SIDE,
    Step.OPENING,
    Step.CRACK,
    Step.WIDTH,
    Step.BRICK,
    Step.BAR,
    Step.AREA,
    Step.BED,
    Step.PHOTO,
    Step.BASIS,
)
"""Steps on the wall; they follow on as one only where they name what they are about."""
COMMAND = 1


def step_words(step: Step) -> str:
    """Return what a step is called after *Undo*."""
    return {
        Step.ANSWER: _("answer"),
        Step.TAKE_BACK: _("taking an answer back"),
        Step.CUSTOMER: _("customer"),
        Step.OFFER: _("what is offered"),
        Step.RULE: _("rule of this job"),
        Step.NOTE: _("notes"),
        Step.READING: _("reading"),
        Step.SITE: _("site"),
        Step.WALL: _("the wall"),
        Step.SIDE: _("the sides of the building"),
        Step.OPENING: _("opening"),
        Step.CRACK: _("crack"),
        Step.WIDTH: _("width of the crack"),
        Step.BRICK: _("marked brick"),
        Step.BAR: _("bar set by hand"),
        Step.AREA: _("area to repoint"),
        Step.BED: _("thin bed"),
        Step.PHOTO: _("photograph"),
        Step.BASIS: _("who took the sizes"),
    }[step]


class Stepped(QUndoCommand):
    """One edit; steps about the same thing grow together."""

    def __init__(self, edit: Edit, before: Work, put: Callable[[Work], None]) -> None:
        """Hold what was, what is now, and how to put either on the desk."""
        super().__init__(step_words(edit.step))
        self.edit, self.before, self._put = edit, before, put

    def redo(self) -> None:
        """Put the work after the edit on the desk."""
        self._put(self.edit.after)

    def undo(self) -> None:
        """Put the work before the edit back."""
        self._put(self.before)

    def id(self) -> int:
        """Return one number for all: whether two grow together is for them to say."""
        return COMMAND

    def mergeWith(self, other: QUndoCommand) -> bool:  # noqa: N802 - Qt's name
        """Take in a later edit about the same thing."""
        if not isinstance(other, Stepped):
            return False
        mine, later = self.edit, other.edit
        if (mine.step, mine.about) != (later.step, later.about):
            return False
        if mine.step not in MERGED and not (mine.step in DRAWN and mine.about):
            return False
        self.edit = later
        return True
