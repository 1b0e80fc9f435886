"""Pointing at pounds both ways: a price lights its marks on the wall, and a mark its prices."""

from __future__ import annotations

from PySide6.QtCore import QObject

from estimator.desktop.money.column import MoneyColumn
from estimator.desktop.wall import wording
from estimator.desktop.wall.column import WallColumn

NONE: frozenset[str] = frozenset()


class Pointing(QObject):
    """Goes between the wall and the money: hovered over, kept lit, and walked to by keys."""

    def __init__(self, wall: WallColumn, money: MoneyColumn) -> None:
        """Listen to both."""
        super().__init__(wall)
        self._wall, self._money = wall, money
        self._hovered = self._selected = NONE
        self._came_from = self._went_from = ""
        wall.board.worth = self._worth
        money.pointed.connect(self._light_wall)
        wall.pointed.connect(self._hover)
        wall.drafting.selected.connect(self._select)
        wall.drafting.picture_changed.connect(self._look_again)
        wall.board.price_wanted.connect(self._to_price)
        wall.board.let_go.connect(self._let_go)
        money.marks_wanted.connect(self._to_marks)

    # -- from the money to the wall

    def _light_wall(self, marks: frozenset[str]) -> None:
        self._wall.light(marks)
        if not self._money.list_now.held:
            self._wall.board.walk(NONE)

    def _to_marks(self) -> None:
        """Go from a price line to its marks, and walk through those alone."""
        row = self._money.list_now.row_at
        if row is None:
            return
        board, self._came_from = self._wall.board, row.row.key
        self._wall.light(row.row.marks)
        self._wall.take_focus()
        board.walk(row.row.marks, start=self._went_from)

    # -- from the wall to the money

    def _worth(self, mark: str) -> str:
        wall = self._wall
        sight = wall.drafting.session.sight
        return wording.worth(sight, wall.option, *wall.board.meant_by(mark))

    def _hover(self, marks: frozenset[str]) -> None:
        self._hovered = marks
        self._money.light(marks or self._selected)

    def _select(self, mark: str) -> None:
        self._selected = self._wall.board.meant_by(mark)
        self._money.light(self._hovered or self._selected)

    def _look_again(self, _picture: object) -> None:
        """Keep up with a selected crack whose perpends have changed."""
        mark = self._wall.drafting.selection
        if mark and not self._hovered:
            self._select(mark)

    def _to_price(self, mark: str) -> None:
        """Go from a mark to its first price line, or back to the line it was come from."""
        marks = self._wall.board.meant_by(mark)
        self._went_from = mark
        came_from, self._came_from = self._came_from, ""
        if self._money.list_now.go_to(marks, back_to=came_from):
            self._money.light(marks)

    def _let_go(self) -> None:
        """Let go of the price line kept lit, and go back to it if its marks were walked through."""
        ladder, key = self._money.list_now, self._money.list_now.held
        marks = self._wall.board.walked
        ladder.let_go()
        self._wall.board.walk(NONE)
        if key and marks:
            ladder.go_to(marks, back_to=key)
