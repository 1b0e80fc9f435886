"""The firm's own rules, group by group: each a figure with its unit, and the way back."""

from __future__ import annotations

from decimal import Decimal
from functools import cache, partial

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QVBoxLayout, QWidget

from estimator.desktop.language import LANGUAGE, _, counted
from estimator.desktop.settings.parts import Choices, Field, InTurn, Section
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import escaped, quiet_button, row_button
from estimator.desktop.widgets.words import words
from estimator.exchange import figures
from estimator.notices import UserMistake
from estimator.takeoff import rules
from estimator.takeoff.rules import RuleInfo

LISTS = {"stock_lengths_mm"}
"""Rules that are several figures."""
WIDTHS = (312, 112, 72)
"""Of the label, the figure and its unit. [px]"""


def group_titles() -> dict[str, str]:
    """Return the groups by the first rule of each, in the order of the rules."""
    return {
        "spacing_courses": _("Bars and slots"),
        "rake_widths": _("Joints, mortar and grout"),
        "spare_one_in": _("Bricks and patches"),
        "void_method": _("Voids and reveals"),
        "panel_margin_mm": _("Panels"),
        "protect_margin_mm": _("Sheets, cleaning and waste"),
        "hop_up_above_mm": _("Reaching the work"),
    }


def grouped() -> dict[str, tuple[str, ...]]:
    """Return the keys of the rules under the title of their group; every rule is in one."""
    found: dict[str, list[str]] = {}
    titles, title = group_titles(), ""
    for key in rules.rule_keys():
        title = titles.get(key, title)
        found.setdefault(title, []).append(key)
    return {title: tuple(keys) for title, keys in found.items()}


def shown(value: object) -> str:
    """Return a rule's value as its field holds it.

    >>> shown(500.0), shown((1000, 1500)), shown(0.5)
    ('500', '1000; 1500', '0.5')
    """
    if isinstance(value, tuple | list):
        return "; ".join(shown(one) for one in value)
    if isinstance(value, rules.VoidMethod):
        return str(value.value)
    if isinstance(value, str):
        return value
    number = Decimal(str(value)).normalize()
    return f"{number:f}".replace(".", _sign())


def understood(info: RuleInfo, typed: str) -> object:
    """Return the value somebody typed for a rule; whether it makes sense is not asked here.

    Raises:
        UserMistake: for what is no figure.

    >>> understood(rules.rule_info("stock_lengths_mm"), "1000; 2000")
    (1000, 2000)
    """
    if info.key in LISTS:
        return tuple(_figure(info, part.strip()) for part in typed.split(";") if part.strip())
    return _figure(info, typed)


def _figure(info: RuleInfo, typed: str) -> int | float:
    found = figures.number(typed, _sign())
    if isinstance(found, figures.Reading):
        raise UserMistake(
            _("{label}: “{typed}” is not a figure").format(label=info.label, typed=typed[:30]),
            do=_("type {bounds}").format(bounds=info.bounds),
            field=info.key,
        )
    return int(found) if found == found.to_integral_value() else float(found)


def _sign() -> str:
    return _sign_of(LANGUAGE.tag)


@cache
def _sign_of(tag: str) -> str:
    from babel.numbers import get_decimal_symbol  # noqa: PLC0415 - loads slowly

    sign: str = get_decimal_symbol(tag)
    return sign if sign in figures.SHAPES else "."


def where_from(info: RuleInfo) -> str:
    """Return what may be typed, where the shipped figure comes from, and the way back."""
    way_back = _("Ships as {value}; empty the field to go back.").format(value=shown(info.value))
    source = _("Source: {source}.").format(source=info.source)
    bounds = _("Type {bounds}.").format(bounds=info.bounds)
    return " ".join(part for part in (bounds, way_back, source, info.note) if part)


class RuleField(Field):
    """One rule: its label, its figure, its unit, and a button back to what ships."""

    changed = Signal(str, object)
    """The key and the value to keep."""

    def __init__(self, info: RuleInfo) -> None:
        """Make the row of one rule."""
        self.info = info
        self._back = quiet_button("")
        super().__init__(info.label, hint=where_from(info))
        self._back.setText(escaped(_("Back to {value}").format(value=shown(info.value))))
        self._back.setAccessibleName(
            _("{label}: back to {value}").format(label=info.label, value=shown(info.value))
        )
        self._back.clicked.connect(self.go_back)
        self.settled.connect(self._settled)
        self.left_empty.connect(self.go_back)

    def fit(self) -> None:
        """Take the room of the size in use."""
        label, figure, unit = WIDTHS
        self._label.setFixedWidth(LOOK.px(label))
        self.editor.setFixedWidth(LOOK.px(figure))
        self._unit.setMinimumWidth(LOOK.px(unit))

    def show_value(self, value: object) -> None:
        """Show what is kept."""
        self.show_text(shown(value))
        self._back.setVisible(shown(value) != shown(self.info.value))

    def go_back(self) -> None:
        """Take what ships."""
        self.put(shown(self.info.value))
        self.changed.emit(self.info.key, self.info.value)

    def lock(self, *, locked: bool) -> None:
        """Let it be read only."""
        super().lock(locked=locked)
        self._back.setEnabled(not locked)

    def _lay_out(self, *, lines: bool) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(4)
        if not lines and hasattr(self.editor, "setAlignment"):
            self.editor.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._unit = words(self.info.unit, role="second", wrap=False)
        for column, part in enumerate((self._label, self.editor, self._unit, self._back)):
            grid.addWidget(part, 0, column, Qt.AlignmentFlag.AlignVCenter)
        grid.addWidget(self.mistake, 1, 0, 1, 4)
        grid.setColumnStretch(4, 1)

    def _settled(self) -> None:
        if not self.text().strip():
            return
        try:
            self.changed.emit(self.info.key, understood(self.info, self.text().strip()))
        except UserMistake as mistake:
            self.refuse(str(mistake))


class MethodField(QWidget):
    """The measuring rule for voids: one of a few."""

    changed = Signal(str, object)
    entered = Signal()

    def __init__(self, info: RuleInfo) -> None:
        """Offer the methods."""
        super().__init__()
        self.info, self.label, self.hint = info, info.label, self._hint(info)
        names = {"nrm2": "NRM2", "smm7": "SMM7", "is1200": "IS 1200", "own": _("Our own")}
        self.choices = Choices(info.label, {key: names.get(key, key) for key in info.low})
        self.choices.chosen.connect(lambda key: self.changed.emit(info.key, key))
        self.mistake = words(tone="stop")
        self.mistake.hide()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 4)
        layout.setSpacing(4)
        layout.addWidget(words(info.label))
        layout.addWidget(self.choices)
        layout.addWidget(words(info.note, role="second"))
        layout.addWidget(self.mistake)

    def show_value(self, value: object) -> None:
        """Show what is kept."""
        self.choices.show_choice(shown(value))

    def was_kept(self) -> None:
        """Note that it is kept."""
        self.refuse("")

    def refuse(self, why: str) -> None:
        """Say why it cannot be used."""
        self.mistake.setText(why)
        self.mistake.setVisible(bool(why))

    def lock(self, *, locked: bool) -> None:
        """Let it be read only."""
        self.choices.setEnabled(not locked)

    def _hint(self, info: RuleInfo) -> str:
        return _("Source: {source}.").format(source=info.source)


class RuleGroup(QWidget):
    """A group that opens: its title, how many rules it has, and how many are the firm's own."""

    made = Signal(object)
    """A row that was just made, one after another once the group opens."""
    filled = Signal()
    """All of its rows are there."""

    def __init__(self, title: str, keys: tuple[str, ...]) -> None:
        """Begin closed; the rows are made when they are wanted."""
        super().__init__()
        self.title, self.keys = title, keys
        self.fields: dict[str, RuleField | MethodField] = {}
        self._own, self._is_made = 0, False
        self.head: QPushButton = row_button("")
        self.head.clicked.connect(lambda: self.unfold(is_open=not self.is_open))
        self._inside = QWidget()
        self._inside.hide()
        self._rows = QVBoxLayout(self._inside)
        self._rows.setContentsMargins(LOOK.px(6), 4, 0, 16)
        self._rows.setSpacing(8)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.head)
        layout.addWidget(self._inside)
        self._name()

    @property
    def is_open(self) -> bool:
        """Whether its rules are shown."""
        return not self._inside.isHidden()

    def unfold(self, *, is_open: bool = True) -> None:
        """Show its rules, or fold them away."""
        if is_open and not self._is_made:
            self._is_made = True
            making = InTurn((partial(self._make, key) for key in self.keys), self)
            making.done.connect(self.filled)
        self._inside.setVisible(is_open)
        self._name()

    def _make(self, key: str) -> None:
        info = rules.rule_info(key)
        row = MethodField(info) if info.high is None else RuleField(info)
        self.fields[key] = row
        self._rows.addWidget(row)
        self.made.emit(row)

    def show_own(self, own: int) -> None:
        """Say how many of its rules are the firm's own."""
        self._own = own
        self._name()

    def _name(self) -> None:
        count = counted("{n} rule", "{n} rules", len(self.keys))
        own = counted("{n} of your own", "{n} of your own", self._own) if self._own else ""
        sign = "–" if self.is_open else "+"
        told = " · ".join(part for part in (self.title, count, own) if part)
        self.head.setText(escaped(f"{sign}  {told}"))
        state = _("{group}, open") if self.is_open else _("{group}, folded")
        self.head.setAccessibleName(state.format(group=told))


class RulesForm(QObject):
    """All rules of the practice, by groups."""

    changed = Signal(str, object)
    """The key of a rule and the value to keep."""
    entered = Signal(str, str)
    """A label and where its figure comes from."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Make the groups."""
        super().__init__(parent)
        self.groups = tuple(RuleGroup(title, keys) for title, keys in grouped().items())
        self._changes: dict[str, object] = {}
        self._is_locked = False
        self.section = Section(
            _("How you work"),
            _("What the wall is measured by. The open job is priced anew with each change."),
        )
        self.section.body.setSpacing(4)
        for group in self.groups:
            group.made.connect(self._hear)
            self.section.add(group)

    def show_changes(self, changes: dict[str, object], *, locked: bool = False) -> None:
        """Show which rules are the firm's own."""
        self._changes, self._is_locked = dict(changes), locked
        for group in self.groups:
            group.show_own(sum(key in changes for key in group.keys))
            for field in group.fields.values():
                self._fill(field)

    def field(self, key: str) -> RuleField | MethodField | None:
        """Return the row of a rule, if its group has been opened."""
        return next((group.fields[key] for group in self.groups if key in group.fields), None)

    def was_kept(self, key: str, value: object, *, is_shipped: bool) -> None:
        """Note that a rule is kept."""
        self._changes.pop(key, None)
        if not is_shipped:
            self._changes[key] = value
        field = self.field(key)
        if field is not None:
            field.was_kept()
        self.show_changes(self._changes, locked=self._is_locked)

    def open_with(self, typed: str) -> None:
        """Open the groups that hold a rule with these words, and fold the others."""
        wanted = typed.casefold().split()
        for group in self.groups:
            texts = [f"{group.title} {rules.rule_info(key).label}".casefold() for key in group.keys]
            is_meant = bool(wanted) and any(all(one in text for one in wanted) for text in texts)
            group.unfold(is_open=is_meant)

    def refuse(self, key: str, why: str) -> None:
        """Say beside a rule why its figure cannot be used."""
        field = self.field(key)
        if field is not None:
            field.refuse(why)

    def _try(self, key: str, value: object) -> None:
        """Hand a figure on if it makes sense, alone and beside the other rules."""
        try:
            rules.changed(rules.shipped(), **{**self._changes, key: value})
        except UserMistake as mistake:
            self.refuse(key, str(mistake))
        else:
            self.changed.emit(key, value)

    def _hear(self, field: RuleField | MethodField) -> None:
        field.changed.connect(self._try)
        field.entered.connect(lambda: self.entered.emit(field.label, field.hint))
        self._fill(field)

    def _fill(self, field: RuleField | MethodField) -> None:
        field.show_value(self._changes.get(field.info.key, field.info.value))
        field.lock(locked=self._is_locked)
