"""Whether a deed makes sense after those before it; what does not is refused in a sentence."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

from estimator.contract.account import Invoice
from estimator.contract.daywork import DayworkSheet
from estimator.contract.daywork_sums import daywork_sums
from estimator.contract.deeds import (
    Accepted,
    Answered,
    BuiltThere,
    CalledOff,
    Completed,
    Confirmed,
    Credited,
    DayworkKept,
    Deed,
    Drafted,
    Happening,
    Invoiced,
    Sent,
    Struck,
    counting,
)
from estimator.contract.invoicing import invoiced, standing
from estimator.contract.lengths import check_lengths
from estimator.contract.position import DAYWORK, is_measured, key_of, position
from estimator.contract.so_far import SoFar, Varied, so_far
from estimator.contract.variation import Standing
from estimator.money import NOTHING
from estimator.notices import UserMistake

UNSTRUCK = (Accepted, CalledOff, Sent, Answered, Confirmed, Invoiced, Credited, Struck)
"""What went out, or was said by the customer, is answered by another deed, never struck out."""
MAY_BECOME = {
    Standing.DRAFTED: (Standing.WITHDRAWN,),
    Standing.SENT: (Standing.AGREED, Standing.DECLINED, Standing.WITHDRAWN),
    Standing.AGREED: (),
    Standing.DECLINED: (Standing.AGREED,),
    Standing.WITHDRAWN: (),
}
"""What may come of a variation next; who declined may come round to it while nothing was drawn up
since: what was drawn up since may hold the same work."""


def check(before: Sequence[Happening], deed: Deed) -> None:
    """Refuse a deed that makes no sense after those before it.

    Raises:
        UserMistake: what does not fit, why, and what to do.

    >>> check((), Struck("a1", "typed twice"))
    Traceback (most recent call last):
        ...
    estimator.notices.UserMistake: there is nothing to strike out; choose something from the list.
    """
    check_lengths(deed)
    if isinstance(deed, Struck):
        _check_struck(before, deed)
        return
    now = so_far(before)
    _Checking(now).check(deed)
    if isinstance(deed, Answered) and deed.answer is Standing.AGREED:
        _check_come_round(before, now.varied(deed.variation))


def _check_come_round(before: Sequence[Happening], known: Varied) -> None:
    """Refuse a yes to what was declined, where its work may be in a later draft."""
    if known.standing is not Standing.DECLINED:
        return
    key = known.variation.key
    answers = (isinstance(one.deed, Answered) and one.deed.variation == key for one in before)
    since = max(place for place, is_answer in enumerate(answers) if is_answer)
    if any(isinstance(one.deed, Drafted) for one in before[since:]):
        raise UserMistake(
            f"{known.number} cannot be agreed any more",
            why="another variation was drawn up since, and may hold the same work",
            do="write another one for what is still wanted",
        )


def _check_struck(before: Sequence[Happening], deed: Struck) -> None:
    found = next((one for one in counting(before) if one.uid == deed.happening), None)
    if found is None:
        raise UserMistake("there is nothing to strike out", do="choose something from the list")
    if isinstance(found.deed, UNSTRUCK):
        raise UserMistake(
            "this cannot be struck out",
            why="it went out, or was agreed",
            do="take a variation back, or write a credit note for an invoice",
        )
    if isinstance(found.deed, Drafted):
        _check_only_drafted(before, found.deed)
    if isinstance(found.deed, DayworkKept):
        _Checking(so_far(before)).check_daywork(found.deed.sheet.key)
    if not deed.why.strip():
        raise UserMistake("it is struck out without a reason", do="say why")


def _check_only_drafted(before: Sequence[Happening], deed: Drafted) -> None:
    """Refuse to strike out a draft that went out: an earlier one would stand in its place."""
    now = so_far(before).variations
    varied = next((one for one in now if one.variation.key == deed.variation.key), None)
    if varied is None:
        raise UserMistake(
            "this cannot be struck out",
            why="its contract was cancelled",
            do="leave it as it is",
        )
    if varied.standing is not Standing.DRAFTED:
        raise UserMistake(
            "this cannot be struck out",
            why="the variation went out, or was taken back",
            do="write another variation",
        )


@dataclass(frozen=True, slots=True)
class _Checking:
    """What a job has come to, and what may come next."""

    so_far: SoFar

    def check(self, deed: Deed) -> None:
        """Refuse what does not fit."""
        if isinstance(deed, Accepted):
            self._check_accepted()
            return
        if self.so_far.contract is None:
            raise UserMistake(
                "nothing has been agreed for this job yet", do="note first what was accepted"
            )
        self._check_day(deed, self.so_far.contract.accepted_on)
        match deed:
            case CalledOff():
                self._check_called_off(deed)
            case Drafted():
                self._check_drafted(deed)
            case Sent():
                self._check_sent(deed)
            case Answered():
                self._check_answered(deed)
            case Confirmed():
                self._check_confirmed(deed)
            case Invoiced() | Credited():
                self._check_numbered(deed)
            case DayworkKept(sheet):
                self._check_daywork_kept(sheet)
            case Completed() | BuiltThere():
                self._check_running()
            case _:
                pass

    def _check_day(self, deed: Deed, accepted: datetime.date) -> None:
        """Refuse what is dated before there was anything it could be about."""
        match deed:
            case CalledOff(on) | Sent(_, _, on):
                before, what = accepted, "was accepted"
            case Completed(completion):
                on, before, what = completion.on, accepted, "was accepted"
            case Invoiced(invoice):
                on, before, what = invoice.date, accepted, "was accepted"
            case Credited(note):
                dates = [one.date for one in self.so_far.invoices if one.number == note.invoice]
                on, before, what = note.date, max(dates, default=accepted), "was invoiced"
            case _:
                return
        if on < before:
            raise UserMistake(
                f"{on.isoformat()} lies before {before.isoformat()}, when it {what}",
                do="write a later day",
            )

    def _check_accepted(self) -> None:
        if self.so_far.contract is not None and self.so_far.called_off is None:
            raise UserMistake(
                f"{self.so_far.contract.quotation} is accepted already",
                do="write a variation for what changes",
            )
        # What was owed for the one is no part of the price of the next.
        if any(standing(self.so_far, one.number) for one in self.so_far.invoices):
            raise UserMistake(
                "invoices of the contract that was cancelled still stand",
                do="take them back by credit notes, or begin a job of its own for this one",
            )

    def _check_called_off(self, deed: CalledOff) -> None:
        if self.so_far.called_off is not None:
            raise UserMistake("the contract is cancelled already", do="settle the account")
        most = max(self.so_far.net, NOTHING)
        if not NOTHING <= deed.owed <= most:
            raise UserMistake(
                f"{deed.owed} cannot be owed for what was done",
                do=f"write a sum before tax of up to {most}",
            )

    def _check_running(self) -> None:
        if self.so_far.called_off is not None:
            raise UserMistake(
                "the contract is cancelled", do="settle the account for what was done"
            )

    def _check_drafted(self, deed: Drafted) -> None:
        self._check_running()
        known = self._varied(deed.variation.key, needed=False)
        if known is not None and known.standing is not Standing.DRAFTED:
            raise UserMistake(
                _gone(known),
                why="it is not changed any more",
                do="write another variation, or take this one back",
            )
        for line in deed.variation.lines:
            if line.item.startswith(DAYWORK):
                self.check_daywork(line.item.removeprefix(DAYWORK), of=deed.variation.key)

    def _check_daywork_kept(self, sheet: DayworkSheet) -> None:
        """Refuse other figures on a sheet that was charged; a signature may still come."""
        before = next((one for one in self.so_far.daywork if one.key == sheet.key), None)
        if before is not None and _figures(before) != _figures(sheet):
            self.check_daywork(sheet.key)

    def check_daywork(self, sheet: str, *, of: str = "") -> None:
        """Refuse to change a sheet that went out in a variation, or to charge it in another."""
        for one in self.so_far.variations:
            if one.standing is Standing.DRAFTED or not one.standing.is_covered:
                continue
            items = {line.item for line in one.variation.lines}
            if one.variation.key != of and f"{DAYWORK}{sheet}" in items:
                raise UserMistake(
                    f"these hours are charged in {one.number} already",
                    do="write another sheet for what is not in it",
                )

    def _check_sent(self, deed: Sent) -> None:
        self._check_running()
        known = self._varied(deed.variation)
        if known is not None and known.standing is not Standing.DRAFTED:
            raise UserMistake(_gone(known), do="note what became of it, or write another one")
        if any(one.number == deed.number for one in self.so_far.variations):
            raise ValueError("a number is given only once")
        if known is not None:
            self._check_hours_as_they_are(known)

    def _check_hours_as_they_are(self, known: Varied) -> None:
        """Refuse to send a variation that charges a sheet as it was before it was changed."""
        sheets = {f"{DAYWORK}{one.key}": daywork_sums(one).net for one in self.so_far.daywork}
        for line in known.variation.lines:
            if line.item.startswith(DAYWORK) and sheets.get(line.item) != line.amount:
                raise UserMistake(
                    "the hours it charges are no longer those of their sheet",
                    do="take that line out of the variation, and charge the sheet anew",
                )

    def _check_answered(self, deed: Answered) -> None:
        known = self._varied(deed.variation)
        assert known is not None
        if deed.answer is Standing.AGREED:
            self._check_running()
            self._check_rests_on_nothing_declined(known)
        if deed.answer not in MAY_BECOME[known.standing]:
            raise UserMistake(
                f"{known.number or 'this variation'} cannot be {deed.answer.value} now",
                why=f"it is {known.standing.value}",
                do="send it first" if known.standing is Standing.DRAFTED else "write another one",
            )
        if deed.answer is not Standing.WITHDRAWN and not deed.who.strip():
            raise UserMistake("nobody is named who gave the answer", do="write the name")

    def _check_rests_on_nothing_declined(self, known: Varied) -> None:
        """Refuse a yes to what takes off work that only a variation not agreed had put in."""
        as_if = replace(known, standing=Standing.AGREED)
        told = tuple(as_if if one is known else one for one in self.so_far.variations)
        less = {key_of(line) for line in known.variation.lines if line.change < 0}
        for line in position(replace(self.so_far, variations=told)):
            if line.quantity < 0 and is_measured(line) and key_of(line) in less:
                raise UserMistake(
                    f"{known.number or 'this variation'} cannot be agreed as it stands",
                    why="it takes off work of another variation, which was not agreed",
                    do="take it back, and write it anew",
                )

    def _check_confirmed(self, deed: Confirmed) -> None:
        known = self._varied(deed.variation) if deed.variation else None
        if known is not None and known.standing is not Standing.AGREED:
            raise UserMistake(
                f"{known.number or 'this variation'} is not agreed",
                do="note first that it was agreed, and by whom",
            )

    def _check_numbered(self, deed: Invoiced | Credited) -> None:
        number = deed.invoice.number if isinstance(deed, Invoiced) else deed.note.number
        known = {one.number for one in self.so_far.invoices}
        known |= {one.number for one in self.so_far.credits}
        if not number or number in known:
            raise ValueError("an invoice or credit note has a number of its own")
        if isinstance(deed, Invoiced) and self._is_invoiced(deed.invoice):
            raise UserMistake(
                "that part of the price was invoiced already",
                do="look through the account, or write a credit note first",
            )
        if isinstance(deed, Credited) and deed.note.invoice not in known:
            raise UserMistake(
                f"there is no invoice '{deed.note.invoice[:20]}' on this job",
                do="choose one from the account",
            )

    def _is_invoiced(self, bill: Invoice) -> bool:
        """Whether an invoice asks for what an earlier one asked for, or for more than there is."""
        done = invoiced(self.so_far)
        is_released = bill.retained < NOTHING and done.retained + bill.retained < NOTHING
        is_too_much = done.work + bill.net + bill.retained > max(self.so_far.due, done.work)
        return 0 < bill.stage <= done.stages or is_released or is_too_much

    def _varied(self, key: str, *, needed: bool = True) -> Varied | None:
        found = next((one for one in self.so_far.variations if one.variation.key == key), None)
        if found is None and needed:
            raise UserMistake(
                "there is no such variation on this job", do="choose one from the list"
            )
        return found


def _figures(sheet: DayworkSheet) -> DayworkSheet:
    return replace(sheet, variation="", signed_by="", signed_on=None)


def _gone(known: Varied) -> str:
    # One that was taken back before it went out has no number.
    return f"{known.number} went out already" if known.number else "this variation was taken back"
