"""Invoices, credit notes and payments: what was asked for, and what came in."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from enum import Enum

from estimator.money import NOTHING, Money, total
from estimator.pricing.offer import TaxLine


class InvoiceFor(Enum):
    """What an invoice asks for."""

    DEPOSIT = "deposit"
    STAGE = "stage"
    FINAL = "final"
    RETENTION = "retention"


@dataclass(frozen=True, slots=True)
class InvoiceLine:
    """One line of an invoice, before tax; negative for what was invoiced before or kept back."""

    description: str
    net: Money
    refers: str = ""
    """The paper it rests on: a quotation, a variation, an earlier invoice."""


@dataclass(frozen=True, slots=True)
class Invoice:
    """One invoice, frozen; its lines add up to its net."""

    number: str
    """Empty until it is issued."""
    asks_for: InvoiceFor
    date: datetime.date
    tax_point: datetime.date
    due: datetime.date
    lines: tuple[InvoiceLine, ...]
    taxes: tuple[TaxLine, ...]
    deduction: Money
    """The construction scheme's, kept back by a trade customer and paid to the tax office."""
    stage: int = 0
    """How many of the agreed stages it covers, counted from the first; 0 for no stage."""
    retained: Money = NOTHING
    """Kept back by this invoice, before tax; negative where it is released."""

    @property
    def net(self) -> Money:
        """Before tax."""
        return total(line.net for line in self.lines)

    @property
    def gross(self) -> Money:
        """With the tax that is charged."""
        return self.net + total(line.amount for line in self.taxes if line.charged)

    @property
    def payable(self) -> Money:
        """What is to be paid to us."""
        return self.gross - self.deduction


@dataclass(frozen=True, slots=True)
class CreditNote:
    """What takes an invoice back, whole or in part; its figures are positive."""

    number: str
    date: datetime.date
    invoice: str
    why: str
    lines: tuple[InvoiceLine, ...]
    taxes: tuple[TaxLine, ...]
    deduction: Money = NOTHING
    retained: Money = NOTHING

    @property
    def net(self) -> Money:
        """Before tax."""
        return total(line.net for line in self.lines)

    @property
    def gross(self) -> Money:
        """With the tax that was charged."""
        return self.net + total(line.amount for line in self.taxes if line.charged)

    @property
    def payable(self) -> Money:
        """What is no longer to be paid to us."""
        return self.gross - self.deduction


class Paying(Enum):
    """How money came."""

    TRANSFER = "bank transfer"
    CARD = "card"
    CHEQUE = "cheque"
    CASH = "cash"


@dataclass(frozen=True, slots=True)
class Payment:
    """Money that came in, or went back where negative."""

    on: datetime.date
    amount: Money
    how: Paying
    invoice: str = ""
    """The invoice it was for; empty where the payer did not say."""
    note: str = ""
