"""The short sections of the page: offers, tax, look, language, and where everything is kept."""

from __future__ import annotations

import datetime

from PySide6.QtCore import QObject, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.settings import wording
from estimator.desktop.settings.parts import Choices, Fact, Field, Section
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.widgets.buttons import button
from estimator.desktop.widgets.words import words
from estimator.exchange import figures
from estimator.pricing.tax_habits import TaxHabits

SYSTEM = "system"
SIZES = (1.0, 1.1, 1.25, 1.5, 1.75, 2.0)
LONGEST = 365
"""Days an offer stands at the most; a house rule."""


VAT_COUNTRY = "GB"
"""Where the question is asked in these words."""


class Terms(QObject):
    """How long offers stand, and how they are taxed."""

    changed = Signal(int)
    """Days to keep."""
    registered = Signal(bool)
    """Whether the firm is registered for the tax."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Make both sections."""
        super().__init__(parent)
        hint = _("The last day is printed on every paper. Papers that went out keep theirs.")
        self.days = Field(_("Offers stand for"), most=8, hint=hint)
        self.days.settled.connect(self._settled)
        LOOK.changed.connect(self._fit)
        self._fit()
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.days)
        row.addWidget(words(_("days"), role="second", wrap=False))
        row.addStretch(1)
        self.section = Section(_("Offers"))
        self.section.body.addLayout(row)
        self.tax = Section(_("Tax"))
        self._tax = words()
        self.box = QCheckBox(_("Registered for VAT"))
        # By hand alone: what is shown from the file is no wish to change it.
        self.box.clicked.connect(self.registered)
        self.tax.add(
            self.box,
            self._tax,
            words(_("A change makes a new price book from today on."), role="second"),
        )

    def show_terms(self, days: int, tax: TaxHabits, today: datetime.date) -> None:
        """Show what is kept."""
        self.days.show_text(str(days))
        self.box.setChecked(tax.registered)
        self.box.setVisible(tax.country == VAT_COUNTRY)
        self._tax.setText(wording.tax_sentence(tax, today))

    def _fit(self) -> None:
        self.days.editor.setFixedWidth(LOOK.px(88))

    def _settled(self) -> None:
        found = figures.number(self.days.text().strip(), ".")
        days = None if isinstance(found, figures.Reading) else found
        if days is not None and days == days.to_integral_value() and 1 <= days <= LONGEST:
            self.changed.emit(int(days))
        else:
            told = _("{label}: type a whole number of days from 1 to {most}.")
            self.days.refuse(told.format(label=self.days.label, most=LONGEST))


class LookForm(QObject):
    """Light or dark, and how large."""

    changed = Signal(str, float)

    def __init__(self, parent: QObject | None = None) -> None:
        """Offer the schemes and sizes."""
        super().__init__(parent)
        colours = {
            Scheme.LIGHT.value: _("Light"),
            Scheme.DARK.value: _("Dark"),
            SYSTEM: _("As the system"),
        }
        self._follows_system = False
        self.colours = Choices(_("Colours"), colours)
        self.sizes = Choices(_("Size"), {str(one): f"{round(one * 100)} %" for one in SIZES})
        self.section = Section(_("How the desk looks"))
        self.section.add(Fact(_("Colours"), self.colours), Fact(_("Size"), self.sizes))
        self.colours.chosen.connect(self._colours_chosen)
        self.sizes.chosen.connect(lambda _size: self._tell())
        LOOK.changed.connect(self.show_now)
        self.show_now()

    def follow_system(self, *, follows: bool) -> None:
        """Know whether the colours go by the system."""
        self._follows_system = follows
        self.show_now()

    def show_now(self) -> None:
        """Show the look in use."""
        self.colours.show_choice(SYSTEM if self._follows_system else LOOK.scheme.value)
        nearest = min(SIZES, key=lambda one: abs(one - LOOK.scale))
        self.sizes.show_choice(str(nearest))

    def _colours_chosen(self, key: str) -> None:
        self._follows_system = key == SYSTEM
        self._tell()

    def _tell(self) -> None:
        self.changed.emit(self.colours.choice, float(self.sizes.choice))


class Whereabouts(QObject):
    """Which language, where the file is, and its backups."""

    def __init__(self, folder: str, parent: QObject | None = None) -> None:
        """Name the folder."""
        super().__init__(parent)
        self.folder = folder
        self.language = Section(_("Language"))
        self.language.add(words(wording.language_sentence()))
        self._backups = words()
        self.open_folder = button(_("Open the folder"))
        self.open_folder.clicked.connect(self._open)
        held = QWidget()
        row = QHBoxLayout(held)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.open_folder)
        row.addStretch(1)
        self.section = Section(_("Where it is kept"))
        self.section.add(
            Fact(_("Folder"), words(folder)),
            Fact(_("Backups"), self._backups),
            words(
                _(
                    "Jobs, papers, prices and these settings are all in one file there. “Restore a "
                    "backup” is in the File menu."
                ),
                role="second",
            ),
            held,
        )

    def show_backups(
        self, count: int, newest: datetime.datetime | None, today: datetime.date
    ) -> None:
        """Show how many backups there are."""
        self._backups.setText(wording.backups_sentence(count, newest, today))

    def _open(self) -> None:
        QDesktopServices.openUrl(QUrl.fromLocalFile(self.folder))
