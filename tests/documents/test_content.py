"""What the paper says, read as plain data."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from enum import Enum
from typing import Any

import pytest

from estimator.documents.content import Content, Section
from estimator.documents.paper import content_of
from estimator.documents.quotation import render
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.offer import Group
from estimator.quoting.quotation import Paper, Quotation, Trader
from estimator.survey import enquiry
from estimator.survey.survey import Answer, Asked, CustomerKind, EngineersReport
from estimator.survey.triage import assess
from tests.documents import made_up

PENCE = re.compile(r"£[\d,]+\.\d\d")


def texts(value: Any) -> Iterator[str]:
    """Every text inside a content, in reading order."""
    if isinstance(value, Enum):
        return
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from texts(one)
    elif is_dataclass(value) and not isinstance(value, type):
        for entry in fields(value):
            yield from texts(getattr(value, entry.name))


def said(content: Content) -> str:
    return "\n".join(texts(content))


def section(content: Content, key: str) -> str:
    found = [one for one in content.sections if one.key == key]
    return "\n".join(texts(found[0])) if found else ""


def pence(figure: str) -> int:
    return 0 if figure == "—" else int(Decimal(figure.replace(",", "")) * 100)


def columns(rows: list[tuple[str, ...]]) -> list[int]:
    return [sum(map(pence, column)) for column in zip(*rows, strict=True)]


@pytest.mark.parametrize("name", ["window_lime", "quoin_cavity", "terrace"])
def test_printed_sums_are_the_sums_of_what_is_printed(name: str) -> None:
    content = content_of(made_up.quotation(name))
    nets = [pence(one) for one in content.work.sums[0].figures]
    assert columns([row.figures for row in content.work.rows]) == nets
    assert columns([group.figures for group in content.schedule.groups]) == nets
    for group in content.schedule.groups:
        assert columns([line.figures for line in group.lines]) == list(map(pence, group.figures))
    *parts, total = content.work.sums
    assert columns([part.figures for part in parts]) == list(map(pence, total.figures))
    assert content.schedule.sums == content.work.sums


def test_each_schedule_line_is_quantity_times_rate() -> None:
    for group in content_of(made_up.quotation("quoin_cavity")).schedule.groups:
        for line in group.lines:
            number = line.quantity.split()[0]
            amount = Decimal(1 if number == "item" else number.replace(",", ""))
            exact = Money.of(line.rate.replace(",", "")).times(amount)
            assert {pence(one) for one in line.figures} - {0} == {exact.pence}


def test_no_line_of_any_option_is_left_out() -> None:
    quotation = made_up.quotation("terrace")
    printed = [one.figures for g in content_of(quotation).schedule.groups for one in g.lines]
    for number, option in enumerate(quotation.options):
        shown = sorted(pence(figures[number]) for figures in printed if figures[number] != "—")
        assert shown == sorted(line.amount.pence for line in option.offer.lines)


def test_lines_alike_in_one_option_are_each_printed() -> None:
    quotation = made_up.quotation()
    twice = [option.offer.lines[0] for option in quotation.options for _ in range(3)]
    options = tuple(
        replace(option, offer=made_up.offer_of(twice[:3], option.offer.scope))
        for option in quotation.options
    )
    (group,) = content_of(replace(quotation, options=options)).schedule.groups
    assert len(group.lines) == 3


def test_rows_come_in_the_order_of_the_groups() -> None:
    titles = [row.title for row in content_of(made_up.quotation("quoin_cavity")).work.rows]
    order = [group.value for group in Group]
    assert titles == sorted(titles, key=order.index)


def test_the_total_with_tax_leads_each_option() -> None:
    quotation = made_up.quotation()
    prices = [choice.price for choice in content_of(quotation).choices]
    assert prices == [f"£{option.offer.total.pounds:,}" for option in quotation.options]


def test_a_quotation_never_says_estimate() -> None:
    for name in ("window_lime", "quoin_cavity", "terrace"):
        content = content_of(made_up.quotation(name))
        assert (content.heading, content.under_heading) == (
            "Quotation",
            "fixed for the work described",
        )
        assert not re.search("estimate|not a fixed", said(content), re.IGNORECASE)
        assert not re.search(r"\babout £", said(content))


def test_an_estimate_has_no_pence_no_acceptance_and_no_form() -> None:
    content = content_of(made_up.estimate())
    assert (content.heading, content.under_heading) == ("Estimate", "not a fixed price")
    assert not PENCE.search(said(content))
    assert content.acceptance is None
    assert content.form is None
    assert "fixed for the work described" not in said(content)
    assert content.choices[0].price == "£620 to £980"
    assert content.choices[0].under_price == "most likely £760"


def test_an_estimate_says_what_decides_its_ends_and_what_comes_next() -> None:
    content = content_of(made_up.estimate())
    assert "from 10 to 20" in section(content, "decides")
    assert "from 0 to 5" in section(content, "decides")
    assert "8 in 10" in section(content, "decides")
    assert "not an offer" in section(content, "next")
    assert "01632 960188" in section(content, "next")


def test_an_estimate_without_a_range_still_has_no_pence() -> None:
    quotation = replace(made_up.quotation(), paper=Paper.ESTIMATE)
    content = content_of(quotation)
    assert content.choices[0].price.startswith("about £")
    assert not PENCE.search(said(content))


@pytest.mark.parametrize("kind", CustomerKind)
def test_only_households_get_the_notice_and_the_form(kind: CustomerKind) -> None:
    content = content_of(made_up.for_customer(made_up.quotation(), kind))
    is_household = kind is CustomerKind.HOUSEHOLD
    assert (content.form is not None) is is_household
    assert ("14 days" in section(content, "cancel")) is is_household
    assert content.acceptance is not None
    assert bool(content.acceptance.ticks) is is_household
    assert ("Bank rate" in section(content, "payment")) is not is_household


def test_the_form_asks_what_the_regulations_ask() -> None:
    # Consumer Contracts Regulations 2013, SI 2013/3134, schedule 3 part B: addressee with postal
    # address and email, the notice, the service, ordered on, name, address, signature, date
    # (from memory, as the trade dossier has it).
    form = content_of(made_up.quotation()).form
    assert form is not None
    assert form.to.value == "Tarn & Pike, 3 Kiln Yard, Eastmere Vale, office@example.com"
    assert "hereby give notice that I/We* cancel" in form.statement
    asked = [one.label for one in form.fields]
    assert [one.split()[0] for one in asked] == [
        *("Goods*/service*", "Ordered", "Name", "Address", "Signature", "Date")
    ]


def test_the_notice_has_the_days_the_way_the_refund_and_the_early_start() -> None:
    # The same regulations, 27 to 38: 14 days, a clear statement, refund in 14 days, early start
    # only on request and paid in proportion, right lost when all is done.
    notice = section(content_of(made_up.quotation()), "cancel")
    for part in ("within 14 days", "clearly", "pay back", "in writing", "in proportion", "lost"):
        assert part in notice


def with_tax(quotation: Quotation, *, charged: bool) -> Quotation:
    options = tuple(
        replace(
            one,
            offer=made_up.taxed(one.offer, made_up.vat(one.offer.net, charged=charged)),
        )
        for one in quotation.options
    )
    return replace(quotation, options=options)


def test_a_reverse_charge_is_shown_and_left_out_of_the_total() -> None:
    # HMRC VATREVCON37100: the words "reverse charge", who accounts, the amount, not in the total.
    trade = made_up.for_customer(made_up.quotation("terrace"), CustomerKind.TRADE)
    content = content_of(with_tax(trade, charged=False))
    assert "Reverse charge: customer to account for VAT at 20 %: £" in content.work.sums[1].title
    assert content.work.sums[0].figures == content.work.sums[-1].figures
    assert content.work.sums[-1].title == "Total"
    assert content.choices[0].beside_price == "VAT: reverse charge"


def test_an_unregistered_trader_shows_no_tax() -> None:
    quotation = made_up.quotation()
    options = tuple(replace(one, offer=made_up.taxed(one.offer)) for one in quotation.options)
    content = content_of(replace(quotation, options=options))
    assert [one.title for one in content.work.sums] == ["Total; no VAT to add"]
    assert content.choices[0].beside_price == "no VAT to add"
    assert "before VAT" not in content.work.promise


def test_a_scheme_deduction_is_shown_to_trade() -> None:
    quotation = made_up.quotation("terrace")
    options = tuple(
        replace(one, offer=replace(one.offer, deduction=Money(28000))) for one in quotation.options
    )
    sums = content_of(replace(quotation, options=options)).work.sums
    assert sums[-1].figures == ("280.00", "280.00")


def test_every_paper_says_what_the_repair_is_not() -> None:
    for quotation in (made_up.quotation(), made_up.estimate()):
        limits = section(content_of(quotation), "limits")
        assert "deals with the crack, not with what moved the wall" in limits
        assert "not designed or certified the structure" in limits


def test_cautions_of_dust_height_and_services_are_printed() -> None:
    safety = section(content_of(made_up.quotation("terrace")), "safety")
    for word in ("dust", "ladder", "meters", "asbestos"):
        assert word in safety


def test_advice_of_bars_that_an_engineer_should_see_comes_first() -> None:
    quotation = made_up.quotation()
    options = tuple(
        replace(one, offer=replace(one.offer, notices=(made_up.LOUD,))) for one in quotation.options
    )
    cautions = section(content_of(replace(quotation, options=options)), "cautions").splitlines()
    assert cautions[2] == made_up.LOUD.text
    assert cautions.count(made_up.LOUD.text) == 1


def test_a_paper_without_a_firm_is_a_draft_on_every_page() -> None:
    content = content_of(replace(made_up.quotation(), trader=Trader(name=" ")))
    assert content.letterhead.draft.startswith("DRAFT")
    assert any(one.startswith("DRAFT") for one in content.foot.warnings)


def test_illustrative_rates_are_said_at_the_foot() -> None:
    assert not content_of(made_up.quotation()).foot.warnings
    foot = content_of(replace(made_up.quotation(), rates_confirmed=False)).foot
    assert foot.warnings == ("Prices from illustrative rates: confirm your own before sending",)


def test_a_trader_who_is_not_registered_shows_no_vat_number() -> None:
    quotation = made_up.quotation("terrace")
    assert "VAT no." in "\n".join(texts(content_of(quotation).letterhead))
    kept = Money.of("12.34")
    options = tuple(
        replace(one, offer=replace(made_up.taxed(one.offer), deduction=kept))
        for one in quotation.options
    )
    content = content_of(replace(quotation, options=options))
    assert "VAT no." not in "\n".join(texts(content.letterhead))
    # Being unregistered for VAT does not stop a contractor from keeping back for the tax office.
    assert "12.34" in said(content)


def test_vat_without_a_number_is_warned_of() -> None:
    quotation = made_up.quotation()
    bare = replace(quotation, trader=replace(quotation.trader, vat_number=""))
    assert "your VAT number is not set" in "\n".join(content_of(bare).foot.warnings)


def test_no_paper_under_british_law_for_another_country() -> None:
    for other in ({"country": "DE"}, {"currency": "EUR"}):
        with pytest.raises(UserMistake, match="no paper is made"):
            render(replace(made_up.quotation(), **other))


def test_what_was_seen_is_said_in_words() -> None:
    saw = "\n".join(texts(content_of(made_up.quotation()).saw))
    assert "one crack below the window, stepping along the joints for 11 courses" in saw
    assert "2 mm at its widest, through joints only" in saw
    assert "Flemish bond in lime mortar" in saw
    assert "“It has been there" in saw
    assert "What we could not see: The footings" in saw


def test_many_cracks_are_counted_first_and_each_described_later() -> None:
    content = content_of(made_up.quotation("terrace"))
    assert "six cracks, 1.5 to 2.5 mm" in "\n".join(texts(content.saw))
    full = section(content, "more_saw")
    assert all(f"crack {name} " in full for name in "abcdef")
    assert "crack e 3.30 m from the left, along one bed joint for 0.90 m" in full


def test_long_words_of_the_customer_go_to_a_later_page() -> None:
    quotation = made_up.quotation()
    long = replace(quotation.survey, said="It moved. " * 300)
    content = content_of(replace(quotation, survey=long))
    assert "It moved." not in "\n".join(texts(content.saw))
    assert section(content, "more_saw").count("It moved.") == 300


def test_much_left_to_be_seen_goes_to_a_later_page() -> None:
    quotation = made_up.quotation()
    first, *rest = quotation.options
    seen = tuple(f"Side {n}: six paler lines until they weather." for n in range(30))
    long = replace(first, offer=replace(first.offer, visible=seen))
    content = content_of(replace(quotation, options=(long, *rest)))
    assert "later page" in content.choices[0].visible[0]
    assert content.choices[1].visible == rest[0].offer.visible
    assert all(text in section(content, "visible") for text in seen)


def test_an_estimate_says_what_was_not_asked_yet() -> None:
    called = replace(made_up.estimate().survey, elevations=())
    for asked in (Asked("below", ("firm",)), Asked("count", ("not_sure",))):
        called = enquiry.answered(called, asked)
    decides = section(content_of(replace(made_up.estimate(), survey=called)), "decides")
    assert "how many cracks there are" in decides
    assert "what stands below it" not in decides


def test_bricks_are_told_by_treatment() -> None:
    saw = "\n".join(texts(content_of(made_up.quotation("quoin_cavity")).saw))
    assert "three to replace, one to turn, one to patch" in saw
    assert "allowed for beyond those seen: one" in saw


def test_only_what_the_firm_gives_is_promised() -> None:
    content = content_of(replace(made_up.quotation(), trader=Trader(name="Sample Masonry")))
    keys = {one.key for one in content.sections}
    assert not keys & {"guarantee", "insurance", "complaints"}
    full = {one.key for one in content_of(made_up.quotation()).sections}
    assert {"guarantee", "insurance", "complaints"} <= full


def test_site_answers_become_assumptions() -> None:
    quotation = made_up.quotation()
    site = replace(quotation.survey.site, power=Answer.NO, water=Answer.NOT_SURE)
    content = content_of(replace(quotation, survey=replace(quotation.survey, site=site)))
    assert "No power at the house" in section(content, "assumed")
    assert "Water can be had at the house; say if not." in section(content, "assumed")


def test_a_paper_needs_an_option() -> None:
    with pytest.raises(ValueError, match="at least one option"):
        content_of(replace(made_up.quotation(), options=()))


def test_no_section_is_empty() -> None:
    for quotation in (made_up.quotation("terrace"), made_up.estimate()):
        for one in content_of(quotation).sections:
            assert isinstance(one, Section)
            assert all(any(text.strip() for text in texts(block)) for block in one.blocks)


def test_content_is_made_without_the_pdf_library() -> None:
    code = (
        "import sys; import estimator.documents.content, estimator.documents.paper;"
        "sys.exit(any(name.split('.')[0] in ('reportlab', 'babel') for name in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_of_a_wall_without_a_crack_nobody_is_said_to_have_watched_it() -> None:
    quotation = made_up.quotation()
    (front,) = quotation.survey.elevations
    assert "grow or reopen" in said(content_of(quotation))
    bare = replace(quotation.survey, elevations=(replace(front, cracks=()),))
    assert "grow or reopen" not in said(content_of(replace(quotation, survey=bare)))


def test_the_engineers_report_is_named_once_with_its_date_in_words() -> None:
    quotation = made_up.quotation()
    report = EngineersReport("Jo Beam", "JB1", "2026-10-01")
    signs = replace(quotation.survey.signs, growing=Answer.YES)
    survey = replace(quotation.survey, signs=signs, engineers_report=report)
    words = said(content_of(replace(quotation, survey=survey, assessment=assess(survey))))
    assert words.count("JB1") == 1
    assert "1 October 2026" in words
    assert "2026-10-01" not in words


def test_beds_are_said_to_a_tenth_of_a_millimetre() -> None:
    # BS 657 beds of 3/8 in are 9.525 mm.
    told = made_up.survey()
    inches = tuple(
        replace(one, brickwork=replace(one.brickwork, brick="uk_imperial_bs657", bed_usual_mm=None))
        for one in told.elevations
    )
    quotation = replace(made_up.quotation(), survey=replace(told, elevations=inches))
    assert "beds 9.5 mm" in said(content_of(quotation))
