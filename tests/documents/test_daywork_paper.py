"""A daywork sheet: hours by person and day, percentages, and a signature that agrees to nothing."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from estimator.contract.daywork import DayworkSheet
from estimator.contract.so_far import SoFar
from estimator.documents import daywork_paper
from tests.documents import agreed_fixtures as jobs
from tests.documents import made_up
from tests.documents.reading import flat, pages, quick_pages

DATE = datetime.date(2026, 12, 2)


def paper(sheet: DayworkSheet, so_far: SoFar | None = None) -> bytes:
    made = replace(so_far or SoFar(contract=jobs.contract()), daywork=(sheet,))
    return daywork_paper.render(
        made, sheet.key, trader=made_up.trader(), number="S-0003", date=DATE
    )


def text_of(sheet: DayworkSheet, so_far: SoFar | None = None) -> str:
    return flat("\n".join(pages(paper(sheet, so_far))))


def test_the_worked_sheet_comes_to_the_penny() -> None:
    # The dossier's value 29, by option A of RICS, Definition of Prime Cost of Daywork: labour
    # 6.5 h at £18 and 110 % are 245.70, materials 84 and 15 % are 96.60, plant 40 and 15 % are
    # 46.00; together 388.30.
    text = text_of(jobs.sheet())
    for one in (
        "£388.30",
        "6.5 hours",
        "Ned Ashby, bricklayer",
        "1 December 2026",
        "117.00",
        "110 % on labour",
        "128.70",
        "84.00",
        "12.60",
        "40.00",
        "6.00",
    ):
        assert flat(one) in text, one


def test_it_fits_one_page_where_it_is_short() -> None:
    assert len(quick_pages(paper(jobs.sheet()))) == 1


def test_a_signature_says_what_was_done_and_not_that_it_is_extra() -> None:
    # JCT Standard Building Contract 2016, clause 5.7, as read on isurv.com: a signature for what
    # was done does not agree that it is extra.
    words = "That it is extra, and that it is paid, is agreed separately, by a variation."
    assert flat(words) in text_of(jobs.sheet())
    signed = replace(jobs.sheet(), signed_by="Ines Marlowe", signed_on=DATE)
    text = text_of(signed)
    assert flat("Ines Marlowe signed for what was done on 2 December 2026.") in text
    assert flat(words) in text
    assert "Signature" not in text


def test_it_says_until_when_it_is_handed_over() -> None:
    # The same: by the end of the week after. 2 December 2026 is a Wednesday.
    assert flat("To sign by 13 December 2026") in text_of(jobs.sheet())


def test_days_come_in_order_whoever_wrote_them_down_when() -> None:
    sheet = jobs.sheet()
    text = text_of(replace(sheet, hours=sheet.hours[::-1]))
    labour = text[text.index("Labour") : text.index("Labouratcost")]
    assert labour.index("1December") < labour.index("2December")


def test_a_sheet_without_materials_or_plant_has_no_empty_tables() -> None:
    text = text_of(replace(jobs.sheet(), materials=(), plant=()))
    assert flat("Materials and plant") not in text
    assert flat("£245.70") in text
    text = text_of(replace(jobs.sheet(), plant=()))
    assert flat("15 % on materials") in text
    assert flat("on plant") not in text


def test_it_names_its_variation_once_it_has_one() -> None:
    assert flat("not yet in a variation") in text_of(jobs.sheet())
    so_far = jobs.under_way()
    assert "ForvariationV-0001" in text_of(replace(jobs.sheet(), variation="a"), so_far)


def test_a_trader_without_vat_adds_none() -> None:
    so_far = SoFar(contract=jobs.contract(registered=False))
    text = text_of(jobs.sheet(), so_far)
    assert flat("This sheet; no VAT to add") in text
    assert "beforeVAT" not in text


def test_a_month_of_days_goes_on_over_pages() -> None:
    sheet = jobs.sheet()
    hours = tuple(
        replace(sheet.hours[0], on=DATE + datetime.timedelta(days=number)) for number in range(70)
    )
    shown = quick_pages(paper(replace(sheet, hours=hours)))
    assert len(shown) > 1
    assert "".join(shown).count("Ned Ashby") == 70


def test_there_is_no_paper_of_a_sheet_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        daywork_paper.render(
            SoFar(contract=jobs.contract()), "z", trader=made_up.trader(), number="", date=DATE
        )


def test_a_sheet_that_is_signed_asks_for_no_signature_by_a_day() -> None:
    """Found wanting: it said "To sign by" over a signature."""
    signed = replace(jobs.sheet(), signed_by="Ines Marlowe", signed_on=DATE)
    assert flat("To sign by") not in text_of(signed)
