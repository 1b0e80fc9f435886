"""Run in a process of its own: a retention contract for another contractor, to the last half.

    python -m tests.journeys.retaining_by_hand FOLDER [PICTURES]

Another contractor accepts stitching, keeps 5 % back (half until the work is done, half until a year
later), deducts a fifth of the labour for the tax office and accounts for VAT itself. Deposit, next
part, final invoice and what was kept back are invoiced and paid as the days go by. All of it is
clicked and typed in the window; what happened is printed as one line of JSON.
"""

from __future__ import annotations

import datetime
import json
import os
import signal
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from estimator.survey.survey import CustomerKind, Survey
from tests.journeys.call_by_keys import wait_until
from tests.journeys.drawing_by_hand import opened
from tests.journeys.settling_by_hand import Settler, put_job, window_in_lime

Key = Qt.Key
QUOTED = datetime.date(2026, 12, 1)
BEGUN = datetime.date(2026, 12, 10)
DONE = datetime.date(2026, 12, 14)
A_DAY_EARLY = datetime.date(2027, 12, 13)
RELEASED = datetime.date(2027, 12, 14)
CUSTOMER = "Vale Contracting Ltd"


def main() -> None:
    folder = Path(sys.argv[1])
    pictures = Path(sys.argv[2]) if len(sys.argv) > 2 else None
    put_job(folder, of_trade(window_in_lime()))
    for shown in opened(folder):
        one = Retained(shown, pictures)
        told = one.settle() | {"uid": shown.session.job.uid}
        print(json.dumps(told), flush=True)
        os.kill(os.getpid(), signal.SIGKILL)


def of_trade(survey: Survey) -> Survey:
    """Return a measured wall as another contractor asked for it."""
    party = replace(
        survey.customer,
        name=CUSTOMER,
        kind=CustomerKind.TRADE,
        vat_number="GB123456789",
        is_end_user=False,
    )
    return replace(survey, customer=party)


class Retained(Settler):
    """Somebody who sees it through to the last half."""

    def settle(self) -> dict[str, Any]:
        self.day(QUOTED)
        self.accept()
        figures = [self.invoiced("Invoice the deposit", "1-deposit")]
        self.plan()
        self.day(BEGUN)
        figures.append(self.invoiced("Invoice the next part", "2-next-part"))
        self.day(DONE)
        self.done()
        self.press("Back")
        figures.append(self.invoiced("Write the final invoice", "3-final"))
        self.day(A_DAY_EARLY)
        self.key(Key.Key_F9)
        offered_early = bool(self.found("Invoice what was kept back"))
        kept = self.kept_back()
        self.picture("4-a-day-early")
        self.day(RELEASED)
        figures.append(self.invoiced("Invoice what was kept back", "5-last-half"))
        self.key(Key.Key_F9)
        self.picture("6-settled")
        self.press("Show the final account")
        self.press("Keep it under a number")
        self.picture("7-final-account")
        return {"rows": figures, "offered_early": offered_early, "kept": kept}

    def kept_back(self) -> list[str]:
        """Return what the account says of what is kept back."""
        told = self.columns.accounting.section.figures.told or ()
        return [
            f"{one.amount}, {one.note}" for one in told if one.text.startswith("Kept back until")
        ]

    def day(self, on: datetime.date) -> None:
        """Let the days go by; the desk stays open."""
        self.shown.session.today = lambda: on

    def accept(self) -> None:
        """Issue the quotation, and take the yes with its terms of payment."""
        self.quote()
        asked = self.agreeing.acceptance
        self.press_button(asked.terms.change)
        wait_until(asked.terms.days.editor.hasFocus, "the terms do not open")
        QTest.keyClicks(QApplication.focusWidget(), "30 days")
        self.key(Key.Key_Tab)
        QTest.keyClicks(QApplication.focusWidget(), "5 %")
        self.still()
        self.key(Key.Key_Tab)
        QTest.keyClicks(QApplication.focusWidget(), "12 months")
        self.still()
        self.picture("0-terms")
        self.press("It is agreed")
        wait_until(lambda: self.agreeing.following.has_contract, "nothing was agreed")

    def plan(self) -> None:
        self.key(Key.Key_F8)
        self.press("Plan the works")
        start = self.columns.working.plan.start
        start.show_text(BEGUN.isoformat())
        self.press("Keep these days")
        wait_until(lambda: self.so_far.plan is not None, "nothing was planned")

    def invoiced(self, says: str, name: str) -> list[list[str]]:
        """Issue the invoice that comes next, and note that all of it was paid; return its rows."""
        before = len(self.so_far.invoices)
        self.key(Key.Key_F9)
        self.press(says)
        self.picture(name)
        rows = [[one.text, one.amount] for one in self.columns.accounting.invoice.rows.told or ()]
        self.press("Issue the invoice")
        wait_until(lambda: len(self.so_far.invoices) > before, "nothing was invoiced")
        self.press("Note a payment")
        self.press("Note the payment")
        wait_until(lambda: len(self.so_far.payments) > before, "no payment was noted")
        return rows


if __name__ == "__main__":
    main()
