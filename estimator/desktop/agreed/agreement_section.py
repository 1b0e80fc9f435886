"""What was agreed: the sum now, how it came to be, who said yes, and until when they may cancel."""

from __future__ import annotations

import datetime

from PySide6.QtCore import Signal

from estimator.contract.so_far import SoFar
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.cancelling import caution_of
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.section import Section
from estimator.desktop.agreed.sums import Sums, sums_of
from estimator.desktop.language import _
from estimator.desktop.widgets.buttons import quiet_button
from estimator.documents import formats

CONFIRM, PAPER, ACCEPT = "confirm", "paper", "accept"


class AgreementSection(Section):
    """The running sum, always in sight; the next thing to do is to have it in writing."""

    confirm_wanted = Signal()
    """The acceptance was only spoken: a confirmation is to be written."""
    paper_wanted = Signal(str)
    """The number of the accepted quotation, to be looked at."""
    accept_wanted = Signal()
    """Nothing is agreed yet: the form of acceptance is wanted."""
    cancel_wanted = Signal()
    """The customer takes it back."""

    def __init__(self, following: Following) -> None:
        """Follow what the job has come to."""
        super().__init__(_("Agreement"))
        self._following = following
        self._next = ACCEPT
        self.cancel = quiet_button(_("They cancel"))
        self.cancel.clicked.connect(self._cancel)
        self.beside(self.cancel)
        self.wanted.connect(self._want)
        following.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show how it stands."""
        so_far = self._following.so_far
        contract = so_far.contract
        self.cancel.setVisible(self._following.has_contract)
        if contract is None:
            self._next = ACCEPT
            self.say(
                _("Nothing is agreed yet."),
                _("A quotation becomes an agreement when the customer says yes to it."),
                act=_("The customer says yes"),
            )
            return
        sums = sums_of(so_far)
        state = in_state(so_far)
        spoken = contract.how.is_spoken and not so_far.contract_confirmed_by
        self._next = CONFIRM if spoken and self._following.has_contract else PAPER
        self.say(
            _("{sum} with VAT").format(sum=formats.money(sums.now))
            if sums.is_taxed
            else formats.money(sums.now),
            "\n".join(_how_it_came(so_far, sums)),
            state=state,
            caution=_caution(so_far, self._following.session.today()),
            act=_("Confirm it in writing") if self._next == CONFIRM else _("Show the quotation"),
        )

    def _want(self) -> None:
        contract = self._following.so_far.contract
        if self._next == CONFIRM:
            self.confirm_wanted.emit()
        elif contract is not None:
            self.paper_wanted.emit(contract.quotation)
        else:
            self.accept_wanted.emit()

    def _cancel(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.cancel_wanted.emit()


def in_state(so_far: SoFar) -> str:
    """Return one word on how the agreement stands."""
    if so_far.called_off is not None:
        return _("cancelled")
    return _("complete") if so_far.completion is not None else ""


def _how_it_came(so_far: SoFar, sums: Sums) -> tuple[str, ...]:
    contract = so_far.contract
    assert contract is not None
    parts = [
        _("{number}, {title}: {sum}").format(
            number=contract.quotation,
            title=contract.scope.title,
            sum=formats.money(sums.original),
        )
    ]
    parts += [
        _("{number}, {title}: {sum}").format(
            number=one.number, title=one.variation.title, sum=wording.signed(change)
        )
        for one, change in zip(so_far.agreed, sums.changes, strict=True)
    ]
    gaps = {
        "who": contract.accepted_by,
        "how": wording.manner_words()[contract.how],
        "date": wording.day(contract.accepted_on),
    }
    parts.append(_("{who} said yes, {how}, on {date}.").format(**gaps))
    if so_far.contract_confirmed_by:
        parts.append(
            _("Confirmed in writing: {number}.").format(number=so_far.contract_confirmed_by)
        )
    return tuple(parts)


def _caution(so_far: SoFar, today: datetime.date) -> str:
    off = so_far.called_off
    if off is not None:
        gaps = {
            "who": off.who,
            "how": wording.manner_words()[off.how],
            "date": wording.day(off.on),
        }
        return _("Cancelled by {who}, {how}, on {date}. Nothing more is to be done.").format(**gaps)
    return caution_of(so_far, today)
