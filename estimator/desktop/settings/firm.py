"""The firm as papers name it, with the head of a paper as it will read."""

from __future__ import annotations

from dataclasses import dataclass, fields

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.settings.parts import Field, Section
from estimator.desktop.widgets.words import retone, words
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader
from estimator.quoting.trader_file import MOST_ADDRESS_LINES
from estimator.survey.reading import UNPRINTABLE, UNPRINTABLE_IN_NOTES

MOST_NOTES = 2_000
"""Letters of a longer text, as the firm file has it."""
LINES = {"address", "insurance", "guarantee", "complaints", "bank"}


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that is told of the firm."""

    label: str
    hint: str


def parts() -> dict[str, Part]:
    """Return what is told of the firm, in the order it is asked."""
    head = _("Stands at the head of every paper.")
    terms = _("Stands in the terms of every paper; leave it empty to say nothing of it.")
    return {
        "name": Part(_("Name"), _("Papers stay drafts until the firm has a name.")),
        "trade": Part(_("Trade"), _("What you do, in a few words. It stands under the name.")),
        "address": Part(_("Address"), head),
        "telephone": Part(_("Telephone"), head),
        "email": Part(_("E-mail"), head),
        "vat_number": Part(_("VAT number"), _("Printed where VAT is charged.")),
        "company_number": Part(_("Company number"), head),
        "waste_carrier": Part(
            _("Waste carrier"), _("Your number as a carrier. It stands with what is included.")
        ),
        "insurance": Part(_("Insurance"), terms),
        "guarantee": Part(_("Guarantee"), terms),
        "complaints": Part(_("Complaints"), terms),
        "bank": Part(
            _("Bank details"),
            _("Name of the account, sort code and number. They stand on invoices and statements."),
        ),
    }


class FirmForm(QObject):
    """The fields of the firm, and the head of a paper they make."""

    changed = Signal(object)
    """A ``Trader`` to keep."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Make the fields."""
        super().__init__(parent)
        self.fields = {
            key: Field(part.label, lines=key in LINES, most=200, hint=part.hint)
            for key, part in parts().items()
        }
        self.head = LetterHead()
        for field in self.fields.values():
            field.settled.connect(self._settled)
        self.section = Section(_("The firm"))
        self.section.add(self.head, *self.fields.values())

    def show_firm(self, firm: Trader, *, is_taxed: bool) -> None:
        """Show what is kept."""
        for key, field in self.fields.items():
            value = getattr(firm, key)
            field.show_text("\n".join(value) if isinstance(value, tuple) else value)
        self.head.is_taxed = is_taxed
        self.head.show_firm(self.firm())

    def firm(self) -> Trader:
        """Return the firm as it stands in the fields."""
        typed = {key: _clean(field.text(), key) for key, field in self.fields.items()}
        told: dict[str, object] = dict(typed)
        lines = [line.strip() for line in typed["address"].splitlines()]
        told["address"] = tuple(line for line in lines if line)
        return Trader(**{one.name: told[one.name] for one in fields(Trader)})  # type: ignore[arg-type]

    def was_kept(self) -> None:
        """Note that all of it is kept."""
        for field in self.fields.values():
            field.was_kept()

    def _settled(self) -> None:
        firm = self.firm()
        self.head.show_firm(firm)
        if self._can_be_kept(firm):
            self.changed.emit(firm)

    def _can_be_kept(self, firm: Trader) -> bool:
        refused = {key: why_not(key, self.fields[key].label, firm) for key in LINES}
        for key, why in refused.items():
            self.fields[key].refuse(why)
        return not any(refused.values())


def why_not(key: str, label: str, firm: Trader) -> str:
    """Return why a longer text cannot be used, or nothing."""
    if key != "address":
        too_long = len(getattr(firm, key)) > MOST_NOTES
        told = _("{label} must be 2,000 letters or fewer.")
        return told.format(label=label) if too_long else ""
    if len(firm.address) > MOST_ADDRESS_LINES:
        return _("{label} must be 10 lines or fewer.").format(label=label)
    if any(len(line) > 200 for line in firm.address):
        return _("A line of the address must be 200 letters or fewer.")
    return ""


def _clean(text: str, key: str) -> str:
    """Return a text without signs that no file of the firm may hold and nobody can see."""
    unseen = UNPRINTABLE_IN_NOTES if key in LINES else UNPRINTABLE
    return unseen.sub("", text).strip()


class LetterHead(QFrame):
    """The head of a paper in words, as the papers print it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin without a firm."""
        super().__init__(parent)
        self.setProperty("role", "card")
        self.is_taxed = True
        self._name, self._under = words(role="name"), words(role="second")
        self._contact = words(role="second")
        self._contact.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        left = QVBoxLayout()
        left.setSpacing(4)
        left.addWidget(self._name)
        left.addWidget(self._under)
        left.addStretch()
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 16, 20, 16)
        row.setSpacing(24)
        row.addLayout(left, 3)
        row.addWidget(self._contact, 2, Qt.AlignmentFlag.AlignTop)

    def show_firm(self, firm: Trader) -> None:
        """Show the head of a paper by this firm."""
        name = firm.name.strip()
        retone(self._name, tone="" if name else "quiet")
        self._name.setText(name or say("letterhead.draft"))
        under = (firm.trade, ", ".join(firm.address))
        self._under.setText(" · ".join(part for part in under if part.strip()))
        shown = ("vat_number", "company_number") if self.is_taxed else ("company_number",)
        numbers = [
            say(f"letterhead.{key}", number=getattr(firm, key))
            for key in shown
            if getattr(firm, key).strip()
        ]
        lines = (firm.telephone, firm.email, " · ".join(numbers))
        self._contact.setText("\n".join(line for line in lines if line.strip()))
        said = (self._name.text(), self._under.text(), *self._contact.text().splitlines())
        told = ", ".join(part for part in said if part)
        self.setAccessibleName(_("The head of a paper: {words}").format(words=told))
