"""A variation on paper: fair on its face, and never counting what nobody agreed to."""

from __future__ import annotations

import datetime
import io
import re
from dataclasses import replace
from decimal import Decimal

import pypdfium2
import pytest
from PIL import Image

from estimator.contract import drafting
from estimator.contract.contract import Made
from estimator.contract.so_far import SoFar
from estimator.contract.sums import running
from estimator.contract.variation import ValuedBy
from estimator.documents import agreed_words, quotation, variation_confirmation, variation_paper
from estimator.documents.agreed_content import (
    AgreedPaper,
    Beside,
    Drawings,
    Ledger,
    Terms,
)
from estimator.documents.content import Acceptance, CancelForm, Section
from estimator.money import Money, total
from estimator.pricing.offer import Group
from estimator.survey.survey import CustomerKind
from estimator.units import Unit
from tests.documents import agreed_fixtures as jobs
from tests.documents import made_up
from tests.documents.reading import flat, pages, quick_pages

DATE = datetime.date(2026, 12, 1)
SIGNED = re.compile("[+\u2212]?[\\d,]+\\.\\d\\d")
MINUS = "\u2212"


def jpeg() -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (400, 300), (170, 120, 90)).save(written, "JPEG")
    return written.getvalue()


def waiting(kind: CustomerKind = CustomerKind.HOUSEHOLD) -> SoFar:
    made = jobs.contract(kind=kind)
    return SoFar(contract=made, variations=(jobs.sent(jobs.bricks(made), "V-0001"),))


def content(so_far: SoFar, key: str = "a", finish: str = "") -> AgreedPaper:
    return variation_paper.content_of(
        so_far,
        key,
        trader=made_up.trader(),
        number="V-0001",
        date=DATE,
        pictures={jobs.PICTURE: jpeg()},
        finish=finish,
    )


def paper(so_far: SoFar, key: str = "a", finish: str = "") -> str:
    made = variation_paper.render(
        so_far,
        key,
        trader=made_up.trader(),
        number="V-0001",
        date=DATE,
        pictures={jobs.PICTURE: jpeg()},
        finish=finish,
    )
    return "\n".join(pages(made))


def ledger(of: AgreedPaper, key: str) -> Ledger:
    return next(part for part in of.parts if isinstance(part, Ledger) and part.key == key)


def part(of: AgreedPaper, kind: type) -> object | None:
    return next((one for one in of.parts if isinstance(one, kind)), None)


def pounds(text: str) -> Money:
    return Money.of(text.replace(",", "").replace("+", "").replace(MINUS, "-"))


def test_each_line_says_what_it_was_what_it_is_and_on_what_footing() -> None:
    text = flat(paper(waiting()))
    for one in ("4.80m", "3.60m", f"{MINUS}1.20m", "20.91", f"{MINUS}25.09", "CR"):
        assert one in text
    for one in ("+4nr", "37.00", "+148.00", "PQ"):
        assert one in text


def test_every_part_an_order_must_hold_is_there() -> None:
    # The list is the dossier's, from RICS, Valuing change, and JCT practice: number, date, who
    # asked, reason, description, quantity and rate with basis, extra days, net, tax, total, the
    # sum before and after, who approves, and that nothing is started before.
    text = flat(paper(waiting(), finish="2026-12-09"))
    for one in (
        "V-0001",
        "1 December 2026",
        "us, as found on site",
        "Cracked bricks on either side of a bar would let it pull out.",
        "four bricks were found cracked through",
        "Half a day more",
        "We then finish on 9 December 2026",
        "This variation, before VAT",
        "VAT at 20 %",
        "This variation, with VAT",
        "As accepted: quotation Q-0147",
        "With this variation",
        "Name",
        "Signature",
        "The work in this variation is not started until it is agreed.",
        "their rate is open to review by either side",
        "The bed under the sill. Front, ground floor, 1 December 2026.",
    ):
        assert flat(one) in text, one


def test_lines_groups_and_sums_add_up_to_the_penny() -> None:
    so_far = jobs.under_way()
    for key in ("a", "b", "c"):
        made = content(so_far, key)
        lines = ledger(made, "lines")
        whole = total(pounds(line.figures[4]) for line in lines.lines)
        groups = total(pounds(group.figures[0]) for group in lines.groups)
        assert whole == groups == so_far.varied(key).variation.net
        struck = {one.title: pounds(one.figures[0]) for one in lines.sums}
        assert struck["This variation, before VAT"] == whole
        assert (
            struck["This variation, with VAT"]
            == whole + struck["VAT at 20 %"]
            == running(so_far, key).change.total
        )


def test_the_ladder_adds_up_in_every_column() -> None:
    so_far = jobs.under_way()
    ladder = ledger(content(so_far, "b"), "ladder")
    rows = {line.text: [pounds(one) for one in line.figures] for line in ladder.lines}
    final = [pounds(one) for one in ladder.sums[0].figures]
    for column in range(3):
        first = rows["As accepted: quotation Q-0147"][column]
        agreed = rows["V-0001: Four more cracked bricks, one thin bed"][column]
        assert first + agreed == rows["Before this variation"][column]
        assert first + agreed + rows["This variation"][column] == final[column]
    for net, tax, whole in [*rows.values(), final]:
        assert net + tax == whole


def test_omissions_stand_as_plainly_as_additions() -> None:
    made = content(jobs.under_way(), "b")
    struck = {one.title: one.figures[0] for one in ledger(made, "lines").sums}
    assert struck["Added"] == "+652.13"
    assert struck["Left out"] == f"{MINUS}43.44"


def test_a_reverse_charge_is_left_out_of_what_a_variation_comes_to() -> None:
    made = jobs.trade(jobs.contract())
    text = flat(paper(SoFar(contract=made, variations=(jobs.sent(jobs.bricks(made), "V-0001"),))))
    assert flat("This variation; you account for the VAT") in text
    assert flat("changes the contract sum by +£132.31 before VAT") in text
    assert "158.77" not in text
    assert flat("£26.46, paid by you to HMRC") in text


def test_a_variation_that_only_takes_off_is_less_everywhere() -> None:
    text = paper(jobs.under_way(), "c")
    assert f"{MINUS}£57.00" in text
    assert "-£" not in text
    assert not re.search(r"(?<![\w(])-\d", text)


def test_a_change_of_nothing_is_written_as_nothing() -> None:
    made = jobs.contract()
    one = jobs.valued(Group.BEDS, "As before", "20.91", "1.00", "1.00", unit=Unit.METRE)
    variation = replace(jobs.bricks(made), lines=(one,), extra_days=Decimal(0))
    text = paper(SoFar(contract=made, variations=(jobs.sent(variation, "V-0001"),)))
    assert "£0.00" in text
    assert "No change" in text
    assert f"{MINUS}0.00" not in text


def test_only_codes_in_use_are_spelled_out_and_all_of_them_are() -> None:
    terms = part(content(waiting()), Terms)
    assert isinstance(terms, Terms)
    assert [row.label for row in terms.rows] == ["CR", "PR", "PQ"]
    made = jobs.contract()
    lines = tuple(
        jobs.valued(Group.BEDS, basis.name, "10.00", "0", "1", basis=basis) for basis in ValuedBy
    )
    variation = replace(jobs.bricks(made), lines=lines)
    every = part(content(SoFar(contract=made, variations=(jobs.sent(variation, "V-0001"),))), Terms)
    assert isinstance(every, Terms)
    assert [row.label for row in every.rows] == [basis.value for basis in ValuedBy]


def test_what_is_not_agreed_is_listed_and_never_summed() -> None:
    # The dossier's value 72: listed, excluded from the sum.
    so_far = jobs.under_way()
    made = content(so_far, "a")
    pending = ledger(made, "pending")
    assert [line.text for line in pending.lines] == [
        "V-0002: Repoint the whole panel after all",
        "V-0003: Less to protect",
    ]
    assert [line.figures[0] for line in pending.lines] == [
        "sent 1 December 2026, no answer yet",
        "declined",
    ]
    assert not pending.sums
    final = ledger(made, "ladder").sums[0].figures[0]
    assert pounds(final) == so_far.net


def test_a_draft_says_so_on_every_page() -> None:
    so_far = waiting()
    made = variation_paper.render(
        so_far, "a", trader=made_up.trader(), number="", date=DATE, pictures={}
    )
    assert all("DRAFT: not sent" in text for text in quick_pages(made))


@pytest.mark.parametrize("kind", CustomerKind)
def test_only_households_get_the_notice_and_the_form_again(kind: CustomerKind) -> None:
    # Consumer Contracts Regulations 2013: a change agreed at the house is a contract made off the
    # premises by itself where it is over £42; from memory.
    made = content(waiting(kind))
    is_household = kind is CustomerKind.HOUSEHOLD
    assert (part(made, CancelForm) is not None) is is_household
    assert any(isinstance(one, Section) and one.key == "cancel" for one in made.parts) is (
        is_household
    )
    answer = part(made, Acceptance)
    assert isinstance(answer, Acceptance)
    assert bool(answer.ticks) is is_household


def test_a_change_of_42_pounds_or_less_needs_no_notice() -> None:
    made = jobs.contract()
    made = replace(made, cancelling=replace(made.cancelling, made=Made.AT_THEIR_HOME))
    for pence, expected in ((3500, False), (3501, True)):
        # £35.00 before tax is £42.00 with it.
        rate = f"{pence / 100:.2f}"
        lines = (jobs.valued(Group.BEDS, "More", rate, "0", "1"),)
        variation = replace(jobs.bricks(made), lines=lines)
        so_far = SoFar(contract=made, variations=(jobs.sent(variation, "V-0001"),))
        assert (part(content(so_far), CancelForm) is not None) is expected


def test_an_answer_given_takes_the_place_of_the_block_to_sign() -> None:
    so_far = jobs.under_way()
    agreed = content(so_far, "a")
    assert part(agreed, Acceptance) is None
    assert "not started until" not in flat_words(agreed)
    assert (
        "Ines Marlowe agreed to this variation on 1 December 2026 at 14:20, by telephone."
        in flat_words(agreed)
    )
    declined = content(so_far, "c")
    assert part(declined, CancelForm) is None
    assert "It changes no sum." in flat_words(declined)


def flat_words(of: AgreedPaper) -> str:
    return repr(of.parts)


def test_another_choice_is_drawn_before_and_after_and_said_to_be_asked_for() -> None:
    made = content(jobs.under_way(), "b")
    drawings = part(made, Drawings)
    assert isinstance(drawings, Drawings)
    before, after = (one.strong for one in drawings.items)
    assert before is not None
    assert after is not None
    assert not before.areas
    assert len(after.areas) == 1
    assert "What was asked for" in flat_words(made)
    assert "What was found" in flat_words(content(jobs.under_way(), "a"))


def test_work_only_added_has_one_drawing() -> None:
    beside = part(content(waiting()), Beside)
    assert isinstance(beside, Beside)
    strong = beside.drawn.strong
    assert strong is not None
    assert [(one.course, one.place) for one in strong.bricks] == [(3, 8), (5, 10), (7, 11), (9, 9)]
    assert len(strong.thin_beds) == 1
    assert not strong.cracks


def test_work_left_out_is_drawn_before_and_after() -> None:
    made = jobs.contract()
    found = jobs.bricks(made)
    less = replace(found, key="b", survey=made.survey)
    so_far = SoFar(
        contract=made,
        variations=(jobs.agreed(found, "V-0001"), jobs.sent(less, "V-0002")),
    )
    drawings = part(content(so_far, "b"), Drawings)
    assert isinstance(drawings, Drawings)
    assert [one.title for one in drawings.items] == ["As agreed until now", "With this variation"]
    gone = drawings.items[0].strong
    assert gone is not None
    assert len(gone.bricks) == 4


def colours(made: bytes) -> set[tuple[int, int, int]]:
    with pypdfium2.PdfDocument(made) as opened:
        image = opened[0].render(scale=2).to_pil().convert("RGB")
    return {colour for _count, colour in image.getcolors(1 << 24) or ()}


def test_what_did_not_change_is_drawn_fainter() -> None:
    bar = (0x0B, 0x6A, 0x7B)
    assert bar in colours(quotation.render(made_up.quotation()))
    # None of the bars changed, so none is in its full colour.
    made = variation_paper.render(
        waiting(), "a", trader=made_up.trader(), number="V-0001", date=DATE, pictures={}
    )
    assert bar not in colours(made)


def test_the_confirmation_of_a_spoken_yes_says_who_when_how_and_the_sum_after() -> None:
    so_far = jobs.under_way()
    made = variation_confirmation.render(
        so_far, "a", trader=made_up.trader(), number="S-0002", date=DATE
    )
    text = flat("\n".join(pages(made)))
    for one in (
        "Confirmation",
        "S-0002",
        "On 1 December 2026 at 14:20, Ines Marlowe agreed to variation V-0001",
        "by telephone",
        "“Yes, go on, and send me the paper.”",
        "If this is not what was said, tell us before we go on",
        agreed_words.money(running(so_far, "a").after.total),
    ):
        assert flat(one) in text, one


def test_nothing_is_confirmed_that_nobody_agreed_to() -> None:
    so_far = jobs.under_way()
    for key in ("b", "c"):
        with pytest.raises(ValueError, match="agreed"):
            variation_confirmation.render(
                so_far, key, trader=made_up.trader(), number="S-0002", date=DATE
            )
    with pytest.raises(KeyError):
        content(so_far, "z")
    with pytest.raises(ValueError, match="accepted"):
        content(SoFar(variations=so_far.variations), "a")


def test_that_work_waits_for_the_answer_is_said_once() -> None:
    """Found wanting: it stood in a box of its own, and again over the answer a page later."""
    text = flat(paper(waiting()))
    assert text.count(flat("is not started until it is agreed")) == 1


def test_work_by_the_hour_stands_under_a_heading_of_its_own() -> None:
    """Found wanting: wedging a frame stood under "Preliminaries and risk"."""
    made = jobs.contract()
    line = drafting.daywork_line(jobs.sheet())
    variation = replace(jobs.bricks(made), lines=(*jobs.bricks(made).lines, line))
    so_far = SoFar(contract=made, variations=(jobs.sent(variation, "V-0001"),))
    groups = {group.title: group for group in ledger(content(so_far), "lines").groups}
    (shown,) = groups["Work by the hour"].lines
    assert shown.text == line.description
    assert sum(len(group.lines) for group in groups.values()) == len(variation.lines)
