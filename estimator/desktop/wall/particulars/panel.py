"""The strip below the board: the sizes of what is selected, to read and to type."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.forms import form_for
from estimator.desktop.widgets.following import Following


class Particulars(QFrame):
    """Shows the form of what is selected, and keeps it while only its numbers change."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Begin with nothing selected."""
        super().__init__(parent)
        self._drafting = drafting
        self._form: Form | None = None
        self._about: tuple[object, ...] = ()
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._most = 0
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._fit)
        Following(self._scroll)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._scroll)
        drafting.selected.connect(self._show)
        drafting.tool_changed.connect(self._show)
        drafting.side_changed.connect(self._show)
        drafting.picture_changed.connect(self._follow)
        drafting.ghosts_changed.connect(self._follow_tool)
        LOOK.changed.connect(self._make_anew)
        self.hide()

    @property
    def form(self) -> Form | None:
        """The form shown, None while nothing is selected."""
        return self._form

    def leave_room(self, most: int) -> None:
        """Be no higher than this, and scroll what is more: the wall needs its room [px]."""
        self._most = most
        self._fit()

    def _fit(self) -> None:
        """Be as high as the form needs, where there is so much room."""
        if self._form is not None:
            wanted = self._form.heightForWidth(self._scroll.viewport().width())
            self._scroll.setFixedHeight(min(wanted, self._most) if self._most else wanted)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Break the rows of the form anew."""
        super().resizeEvent(event)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Follow the form as it grows and shrinks."""
        if watched is self._form and event.type() is QEvent.Type.LayoutRequest:
            # Only in the next turn has the form laid itself out.
            self._soon.start(0)
        return super().eventFilter(watched, event)

    def take_focus(self) -> bool:
        """Put the keyboard on the first of the sizes; false where none are shown."""
        if self._form is None:
            return False
        self._form.take_focus()
        return True

    def _show(self, _what: object = None) -> None:
        """Show the form of what is selected, or of the tool in hand; one that is right stays."""
        if self._form is None or self._what_about() != self._about:
            self._make_anew()

    def _what_about(self) -> tuple[object, ...]:
        drafting = self._drafting
        # While a mark is selected its form is the same whatever tool is in hand.
        tool = "" if drafting.selection else drafting.tool.name
        return drafting.side_id, drafting.selection, tool

    def _make_anew(self) -> None:
        self._let_go()
        self._about = self._what_about()
        self._form = form_for(self._drafting)
        if self._form is not None:
            self._scroll.setWidget(self._form)
            self._form.installEventFilter(self)
            self._form.follow()
            self._fit()
        self.setVisible(self._form is not None)

    def _let_go(self) -> None:
        if self._form is not None:
            had_keyboard = self._form.isAncestorOf(self.window().focusWidget() or self)
            self._scroll.takeWidget()
            self._form.hide()
            self._form.deleteLater()
            self._form = None
            if had_keyboard:
                self._drafting.left_particulars.emit()

    def _follow(self, _picture: object) -> None:
        """Show what the drawing says now; what was removed lets its form go."""
        form = self._form
        if form is None:
            self._show()
            return
        if not form.follow():
            if self._drafting.is_trying:
                # What is dragged may lie somewhere else until it is let go.
                return
            self._drafting.select("")
            self._make_anew()
        elif form.is_outgrown():
            # Fields are made once it is let go: a hand that pulls must not wait for them.
            if not self._drafting.is_trying:
                self._make_anew_where_it_was(form)
        else:
            # A bar may have another number now, and is still the same bar.
            self._about = self._what_about()

    def _make_anew_where_it_was(self, form: Form) -> None:
        page = form.page
        self._make_anew()
        if self._form is not None:
            self._form.turn_to(min(page, len(self._form.pages) - 1))

    def _follow_tool(self) -> None:
        if self._form is not None and not self._drafting.selection:
            self._form.follow_tool()
