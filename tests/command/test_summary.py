import re
from dataclasses import replace

from estimator.command import summary
from estimator.money import Money
from tests.command import made_up


def test_a_quotation_shows_both_totals_and_how_they_come() -> None:
    text = summary.of(made_up.quotation())
    assert "A  Stitch, and point where we cut" in text
    assert "£1,240.00, all tax in" in text
    assert "£1,800.00, all tax in" in text
    assert re.search(r"Cut out beds 35 mm deep +1\.00 m × 1,033\.33 +£1,033\.33\n", text)
    assert re.search(r"VAT at 20 % +£206\.67\n", text)


def test_time_names_visits_and_waits() -> None:
    assert "About 6.5 hours in 1 working day, 1 visit; waits: lime cures." in summary.of(
        made_up.quotation()
    )


def test_bars_say_why() -> None:
    text = summary.of(made_up.quotation())
    assert "front/bar/1: 1,000 mm in the bed under course 3. 500 mm beyond the crack" in text
    assert "Cut from 1 of 3,000 mm; 2,000 mm left over; cost proved least." in text


def test_an_estimate_prints_a_range_and_no_pence_of_it() -> None:
    text = summary.of(made_up.estimate())
    assert "£900 to £1,650, most likely £1,200, all tax in" in text
    assert "not a fixed price" in text
    assert "1,240.00" not in text
    assert "illustrative rates" in text


def test_a_refusal_says_what_to_say_and_gives_no_price() -> None:
    text = summary.of(made_up.refusal())
    assert "No price is given." in text
    assert "Still moving (it grows)" in text
    assert "“It may move again.”" in text
    assert text.endswith("Refer: Ask an engineer")
    assert "£" not in text


def test_no_line_is_wider_than_the_page() -> None:
    for made in (made_up.quotation(), made_up.estimate(), made_up.refusal()):
        assert max(map(len, summary.of(made).splitlines())) <= summary.WIDTH


def test_a_reverse_charge_is_shown_and_left_out_of_the_total() -> None:
    exact = made_up.quotation()
    offer = exact.options[0].offer
    reverse = replace(
        offer,
        taxes=(replace(offer.taxes[0], title="Reverse charge", charged=False),),
        total=offer.net,
        deduction=Money.of(149),
    )
    text = summary.of(replace(exact, options=(replace(exact.options[0], offer=reverse),)))
    assert "£1,033.33, tax paid by the customer" in text
    assert re.search(r"Reverse charge \(not in the total\) +£206\.67\n", text)
    assert re.search(r"Kept back by the customer for the tax office +£149\.00\n", text)


def test_a_trader_who_charges_no_tax_says_so() -> None:
    exact = made_up.quotation()
    offer = replace(exact.options[0].offer, taxes=(), total=exact.options[0].offer.net)
    text = summary.of(replace(exact, options=(replace(exact.options[0], offer=offer),)))
    assert "£1,033.33, no tax" in text


def test_a_notice_names_the_document_that_says_so() -> None:
    exact = made_up.quotation()
    said = replace(made_up.CAUTION, source="bre_digest_251")
    assessment = replace(exact.assessment, notices=(said,))
    text = summary.of(replace(exact, assessment=assessment))
    assert "Caution: Mortar dust harms lungs [BRE Digest 251" in text


def test_it_says_how_much_to_mix_at_once() -> None:
    said = (
        "Grout: 2 mixes of no more than 1.50 L, each placed within 45 minutes or what the bag says."
    )
    assert said in summary.of(made_up.quotation())


def test_money_has_the_sign_of_the_price_book() -> None:
    text = summary.of(replace(made_up.quotation(), currency="EUR"))
    assert "€1,240.00" in text
    assert "£" not in text
