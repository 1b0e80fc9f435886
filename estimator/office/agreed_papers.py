"""What each paper after the quotation says, and how it is made."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from importlib import import_module
from typing import Any

from estimator.contract import keeping
from estimator.contract.daywork import DayworkSheet
from estimator.contract.deeds import Credited, Deed, Invoiced
from estimator.contract.so_far import SoFar
from estimator.contract.statement import final_account, statement
from estimator.contract.sums import running
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.quoting.quotation import Trader
from estimator.store.kept_papers import PaperKind
from estimator.works import programme

ABOUT_VARIATIONS = (PaperKind.VARIATION, PaperKind.VARIATION_CONFIRMATION)
ABOUT_WORKS = (PaperKind.COMPLETION, PaperKind.AS_BUILT)
WITH_KEY = (*ABOUT_VARIATIONS, PaperKind.DAYWORK_SHEET)
WITH_PICTURES = (PaperKind.VARIATION, *ABOUT_WORKS)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One paper to be made, with all that goes into it but its number."""

    kind: PaperKind
    so_far: SoFar
    """What the job has come to, with the deed in it that the paper goes with."""
    trader: Trader
    date: datetime.date
    key: str = ""
    """Of the variation or daywork sheet it is about."""
    deed: Deed | None = None
    """What is noted with it."""
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    """JPEG by SHA-256."""


def rendered(sheet: Sheet, number: str) -> bytes:
    """Return the PDF of a paper under its number.

    Raises:
        UserMistake: when there is nothing to put on it.
    """
    _check(sheet)
    # The library that lays out pages loads slowly, and nobody waits for it before a paper is made.
    render: Callable[..., bytes]
    module, name = _RENDERERS[sheet.kind]
    render = getattr(import_module(f"estimator.documents.{module}"), name)
    match sheet.deed:
        case Invoiced(invoice):
            return render(sheet.so_far, invoice, trader=sheet.trader)
        case Credited(note):
            return render(sheet.so_far, note, trader=sheet.trader)
    about = (sheet.key,) if sheet.kind in WITH_KEY else ()
    more: dict[str, Any] = {}
    if sheet.kind in WITH_PICTURES:
        more["pictures"] = sheet.pictures
    if sheet.kind is PaperKind.VARIATION:
        more["finish"] = _finish(sheet)
    return render(sheet.so_far, *about, trader=sheet.trader, number=number, date=sheet.date, **more)


def said(sheet: Sheet) -> dict[str, Any]:
    """Return all that a paper says, as JSON holds it."""
    so_far = sheet.so_far
    contract = so_far.contract
    told: dict[str, Any] = {
        "date": sheet.date.isoformat(),
        "contract": contract.quotation if contract else "",
        "trader": keeping.plain(sheet.trader),
        "pictures": sorted(sheet.pictures),
    }
    if sheet.deed is not None:
        told["deed"] = keeping.plain(sheet.deed)
    if sheet.kind in ABOUT_VARIATIONS:
        told["varied"] = keeping.plain(so_far.varied(sheet.key))
        told["sums"] = keeping.plain(running(so_far, sheet.key))
    if sheet.kind is PaperKind.DAYWORK_SHEET:
        told["daywork"] = keeping.plain(_daywork(so_far, sheet.key))
    if sheet.kind in ABOUT_WORKS:
        told["built"] = keeping.plain(so_far.built)
    if sheet.kind is PaperKind.STATEMENT:
        told["statement"] = keeping.plain(statement(so_far, until=sheet.date))
    if sheet.kind is PaperKind.FINAL_ACCOUNT:
        told["account"] = keeping.plain(final_account(so_far))
    return told


def amount(sheet: Sheet) -> Money | None:
    """Return what a paper asks for or changes, tax in; None where it is about no money."""
    match sheet.deed:
        case Invoiced(invoice):
            return invoice.payable
        case Credited(note):
            return note.payable
    if sheet.kind in ABOUT_VARIATIONS:
        return running(sheet.so_far, sheet.key).change.total
    if sheet.kind is PaperKind.STATEMENT:
        return statement(sheet.so_far, until=sheet.date).balance
    if sheet.kind is PaperKind.FINAL_ACCOUNT:
        return final_account(sheet.so_far).price.total
    return None


def picture_names(so_far: SoFar, kind: PaperKind, key: str) -> tuple[str, ...]:
    """Return the hashes of the photographs a paper shows."""
    if kind is PaperKind.VARIATION:
        return so_far.varied(key).variation.photos
    if kind in ABOUT_WORKS:
        named = (name for one in so_far.built for name in one.photos)
        return tuple(dict.fromkeys(named))
    return ()


def _check(sheet: Sheet) -> None:
    if sheet.so_far.contract is None:
        raise UserMistake(
            "nothing has been agreed for this job yet", do="note first what was accepted"
        )
    if sheet.kind is PaperKind.DAYWORK_SHEET:
        _daywork(sheet.so_far, sheet.key)


def _daywork(so_far: SoFar, key: str) -> DayworkSheet:
    found = next((one for one in so_far.daywork if one.key == key), None)
    if found is None:
        raise UserMistake("there is no such daywork sheet", do="choose one from the list")
    return found


def _finish(sheet: Sheet) -> str:
    """Return when the work is finished with a variation in it; nothing where none is planned."""
    if sheet.so_far.plan is None:
        return ""
    day = programme.finish_with(sheet.so_far, sheet.key)
    return "" if day is None else day.isoformat()


_RENDERERS = {
    PaperKind.CONFIRMATION: ("confirmation", "render"),
    PaperKind.VARIATION: ("variation_paper", "render"),
    PaperKind.VARIATION_CONFIRMATION: ("variation_confirmation", "render"),
    PaperKind.DAYWORK_SHEET: ("daywork_paper", "render"),
    PaperKind.SITE_SHEET: ("site_sheet", "render"),
    PaperKind.AS_BUILT: ("as_built_paper", "render"),
    PaperKind.INVOICE: ("invoice_paper", "render"),
    PaperKind.CREDIT_NOTE: ("credit_paper", "render"),
    PaperKind.COMPLETION: ("completion_paper", "render"),
    PaperKind.STATEMENT: ("account_paper", "render_statement"),
    PaperKind.FINAL_ACCOUNT: ("account_paper", "render_final"),
}
