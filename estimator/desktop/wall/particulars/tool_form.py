"""The particulars of a tool in hand: what it draws next."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.field import About, PickField
from estimator.desktop.wall.particulars.form import Form
from estimator.quoting.edits import Edit, Step


class ToolForm(Form):
    """A form about no mark, but about the tool in hand."""

    def __init__(self, drafting: Drafting, title: str) -> None:
        """Show what the tool is."""
        super().__init__(drafting)
        self.tool = drafting.tool
        self.title.setText(title)

    def is_there(self) -> bool:
        """Return whether the tool is still in hand."""
        return self.drafting.tool is self.tool

    def follow_tool(self) -> None:
        """Show what is in hand, which a key may have changed."""
        for field in self.fields:
            field.follow()


class ToolPick(PickField):
    """A choice the tool keeps in hand: no edit, until it draws."""

    def __init__(
        self, form: ToolForm, label: str, name: str, choices: Sequence[tuple[Any, str]]
    ) -> None:
        """Offer choices for one attribute of the tool."""
        self._tool, self._name, self._work = form.tool, name, form.work
        self._drafting = form.drafting
        about = About(label, partial(getattr, form.tool, name, None), self._no_edit)
        super().__init__(form, about, choices)

    def _take(self, value: Any, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self._tool.cancel()
        setattr(self._tool, self._name, value)
        self._drafting.ghosts_changed.emit()
        self.follow()

    def _no_edit(self, _value: Any) -> Edit:
        return Edit(Step.WALL, "", self._work)
