"""Run in a process of its own: from the customer's yes to the final account, then a kill.

    python -m tests.journeys.settling_by_hand FOLDER [PICTURES]

A measured wall is quoted, stitching alone is accepted, four more bricks and a thin bed are found
and agreed by telephone, the customer has the whole panel repointed after all, the work is done,
invoiced and paid. All of it is clicked and typed in the window. What happened is printed as one
line of JSON before the process kills itself, as a power cut would; every paper is in the file then.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import time
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication

from estimator.contract.so_far import SoFar
from estimator.desktop import kept
from estimator.desktop.agreed.agreeing import Agreeing
from estimator.store import desk, jobs, settings
from estimator.survey import survey_file
from estimator.survey.survey import Elevation, Survey
from estimator.survey.wall import wall_of
from tests.journeys.call_by_keys import FIRM, settled, wait_until
from tests.journeys.drawing_by_hand import Surveyor, Watch, middle, opened

Key = Qt.Key
DEMO = Path(__file__).resolve().parents[2] / "demo"
FOUND = ((5, 5), (6, 5), (7, 6), (8, 6))
"""Bricks that turn out to be cracked, by course and place."""
THIN = 9
"""The course over the bed that turns out to be thin."""


def main() -> None:
    folder = Path(sys.argv[1])
    pictures = Path(sys.argv[2]) if len(sys.argv) > 2 else None
    put_job(folder, window_in_lime())
    for shown in opened(folder):
        watch = Watch()
        QApplication.instance().installEventFilter(watch)  # type: ignore[union-attr]
        one = Settler(shown, pictures)
        began = time.monotonic()
        told = one.settle()
        told |= {
            "seconds": time.monotonic() - began,
            "uid": shown.session.job.uid,
            "windows": watch.windows,
        }
        print(json.dumps(told), flush=True)
        os.kill(os.getpid(), signal.SIGKILL)


def window_in_lime() -> Survey:
    return survey_file.read((DEMO / "window_lime.json").read_text(encoding="utf-8"))


def put_job(folder: Path, survey: Survey) -> None:
    """Make the file, with a firm and a measured wall that is to be come back to."""
    database = kept.opened(folder)
    settings.keep(database, kept.FIRM, FIRM.read_text(encoding="utf-8"))
    job = jobs.add(database, jobs.Job(survey.title)).uid
    jobs.accept_survey(database, job, survey, why="measured")
    desk.note_open(database, job)
    database.close()


class Settler(Surveyor):
    """Somebody who sees a job through."""

    @property
    def agreeing(self) -> Agreeing:
        return self.columns.agreeing

    @property
    def so_far(self) -> SoFar:
        return self.agreeing.following.so_far

    # -- with the hand

    def found(self, text: str) -> list[QAbstractButton]:
        """Return the buttons in sight that say something."""
        return [
            one
            for one in self.shown.desk.findChildren(QAbstractButton)
            if one.isVisible() and one.isEnabled() and text in (one.text() or one.accessibleName())
        ]

    def press(self, text: str) -> None:
        """Wait for the one button that says so, and press it."""
        wait_until(lambda: bool(self.found(text)), f"no button says {text}")
        QTest.mouseClick(self.found(text)[0], Qt.MouseButton.LeftButton)
        self.still()
        wait_until(lambda: not self.agreeing.following.is_busy, f"{text} was not done")
        self.still()

    # -- the story

    def settle(self) -> dict[str, Any]:
        self.quote_and_accept()
        self.find_more()
        one = self.vary("1-found", "The joints are open now.")
        self.press("They agree")
        self.picture("2-agreed-by-telephone")
        self.press("Write the confirmation")
        self.press("Back")
        self.press("Repoint the whole panel after all")
        two = self.vary("3-whole-panel", "It is not to show.")
        self.press("They agree")
        self.press("Back")
        self.picture("4-job")
        self.complete()
        self.account()
        return {"variations": [one, two]}

    def quote_and_accept(self) -> None:
        """Issue the quotation, and take the yes to stitching and local pointing."""
        self.quote()
        self.picture("0-yes")
        self.press("It is agreed")

    def quote(self) -> None:
        """Issue the quotation, and say that the first choice is taken."""
        settled(self.shown)
        self.press("Write the quotation")
        page = self.columns.check.page
        wait_until(page.issue.isEnabled, "the quotation cannot be issued")
        self.press_button(page.issue)
        self.press("The customer says yes")
        asked = self.agreeing.acceptance
        wait_until(lambda: bool(asked.options), "nothing can be accepted")
        self.press_button(asked.options[0].box)

    def find_more(self) -> None:
        """Mark what shows once the joints are open: four bricks by click, a bed by stroke."""
        side: Elevation = self.wall
        self.key(Key.Key_F3, Key.Key_B)
        for course, place in FOUND:
            self.click(middle(side, course, place))
        self.press_button(self.columns.wall.rail.buttons["thin_bed"])
        level = wall_of(side).coursing.bed_middle(THIN)
        self.drag((900.0, level), (1900.0, level))
        wait_until(
            lambda: bool(self.wall.thin_beds) and self.agreeing.valuing.is_anything,
            "what was found changes nothing",
        )

    def vary(self, name: str, reason: str) -> dict[str, Any]:
        """Write the variation that the wall asks for, and send it."""
        self.press("Write the variation")
        form = self.agreeing.writing.form
        QTest.keyClicks(form.reason, reason)
        self.picture(name)
        self.press("Send it")
        wait_until(lambda: bool(self.so_far.variations[-1].number), "the variation was not sent")
        sent = self.so_far.variations[-1]
        return {"number": sent.number, "net": sent.variation.net.pence}

    def complete(self) -> None:
        """Plan the works, and say that they are done."""
        self.key(Key.Key_F8)
        self.press("Plan the works")
        self.picture("5-plan")
        self.press("Keep these days")
        wait_until(lambda: self.so_far.plan is not None, "nothing was planned")
        self.done()
        self.picture("6-done")
        self.press("Back")

    def done(self) -> None:
        """Say that the works are done."""
        self.key(Key.Key_F8)
        self.press("The work is done")
        self.columns.working.done.take_focus()
        QTest.keyClicks(QApplication.focusWidget(), "Ada Pike")
        self.press("It is done")
        wait_until(lambda: self.so_far.completion is not None, "nothing was completed")

    def account(self) -> None:
        """Invoice, note what was paid, and write the final account."""
        self.key(Key.Key_F9)
        self.press("Write the final invoice")
        self.picture("7-invoice")
        self.press("Issue the invoice")
        wait_until(lambda: bool(self.so_far.invoices), "nothing was invoiced")
        self.press("Note a payment")
        self.press("Note the payment")
        wait_until(lambda: bool(self.so_far.payments), "no payment was noted")
        self.key(Key.Key_F9)
        self.picture("8-paid")
        self.press("Show the final account")
        self.press("Keep it under a number")
        self.picture("9-final-account")


if __name__ == "__main__":
    main()
