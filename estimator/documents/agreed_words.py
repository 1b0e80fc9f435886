"""What papers on money have in common: whose they are, how sums and days are written, who answered.

A sum that is less than nothing is written with a true minus sign, which no line end tears off.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from estimator.contract.contract import Contract, Manner
from estimator.contract.so_far import SoFar
from estimator.contract.sums import price_of
from estimator.documents import formats, head
from estimator.documents.agreed_content import AgreedPaper, Part
from estimator.documents.content import Fact, Foot, Metadata, Section
from estimator.documents.wording import say
from estimator.money import Money, total
from estimator.pricing.offer import TaxLine
from estimator.quoting.quotation import Trader
from estimator.survey import survey_file
from estimator.survey.survey import CustomerKind, Party, Survey
from estimator.units import Quantity, Unit

MINUS = "\u2212"


@dataclass(frozen=True, slots=True)
class Named:
    """What a paper is called and what stands beside its heading."""

    heading: str
    under: str
    number: str
    facts: tuple[tuple[str, str], ...]
    """Label and value; those with no value are left out."""
    warnings: tuple[str, ...] = ()


def paper(
    so_far: SoFar, trader: Trader, named: Named, parts: Sequence[Part], pointed: Sequence[str] = ()
) -> AgreedPaper:
    """Return a whole paper; the sections named are pointed to at the foot of its first page."""
    survey = survey_of(contract_of(so_far))
    title = head.titled(named.heading, named.number)
    draft = () if trader.name.strip() else (say("letterhead.draft"),)
    sections = {one.key: one.title for one in parts if isinstance(one, Section)}
    return AgreedPaper(
        letterhead=head.letterhead(trader, is_taxed=is_taxed(so_far)),
        heading=named.heading,
        under_heading=named.under,
        facts=tuple(Fact(label, value) for label, value in named.facts if value.strip()),
        parts=tuple(parts),
        foot=Foot(
            name=title,
            warnings=(*named.warnings, *draft),
            pointer=tuple((key, sections[key]) for key in pointed if key in sections),
        ),
        metadata=Metadata(
            title=title,
            author=trader.name.strip(),
            subject=say(
                "meta.subject", heading=named.heading, under=named.under, title=survey.title
            ),
        ),
    )


def contract_of(so_far: SoFar) -> Contract:
    """Return the contract there is.

    Raises:
        ValueError: before anything was accepted, when there is nothing to put on paper.
    """
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    return so_far.contract


@lru_cache(maxsize=16)
def _read(text: str) -> Survey:
    return survey_file.read(text)


def survey_of(contract: Contract) -> Survey:
    """Return the survey that was quoted, which also says who the customer is."""
    return _read(contract.survey)


def survey_in(text: str) -> Survey:
    """Return the survey that is in the text of a file."""
    return _read(text)


def customer_of(so_far: SoFar) -> Party:
    """Return who the customer is."""
    return survey_of(contract_of(so_far)).customer


def is_household(so_far: SoFar) -> bool:
    """Whether the customer is a household, and consumer law holds."""
    return contract_of(so_far).terms.customer is CustomerKind.HOUSEHOLD


def is_taxed(so_far: SoFar) -> bool:
    """Whether tax belongs to the price, charged by us or accounted for by the customer."""
    contract = contract_of(so_far)
    return bool(price_of(contract, contract.net).taxes)


def whom(so_far: SoFar, *, with_contract: bool = True) -> Iterator[tuple[str, str]]:
    """Yield for whom the paper is, where the work is, and which contract it belongs to."""
    contract, party = contract_of(so_far), customer_of(so_far)
    yield say("letterhead.for"), listed((party.name, *party.address))
    yield say("letterhead.site"), listed(party.site)
    if with_contract:
        yield (
            say("contract.contract"),
            say(
                "contract.contract_value",
                number=contract.quotation,
                date=day(contract.accepted_on),
            ),
        )


def numbered(number: str, date: datetime.date) -> Iterator[tuple[str, str]]:
    """Yield number and date, the first two facts of every paper."""
    yield say("letterhead.number"), number
    yield say("letterhead.date"), day(date)


def listed(parts: Sequence[str]) -> str:
    """Return parts in one line, empty ones left out.

    >>> listed(("Ines Marlowe", " ", "14 Tarn Street"))
    'Ines Marlowe, 14 Tarn Street'
    """
    return ", ".join(part.strip() for part in parts if part.strip())


def with_and(parts: Sequence[str]) -> str:
    """Return parts in one line, the last after an and.

    >>> with_and(("I-0001",)), with_and(("I-0001", "I-0002", "I-0003"))
    ('I-0001', 'I-0001, I-0002 and I-0003')
    """
    *first, last = parts or ("",)
    return say("contract.and", first=", ".join(first), last=last) if first else last


def contact(trader: Trader) -> str:
    """Return how to reach the trader in one line.

    >>> contact(Trader("Tarn & Pike", telephone="01632 960188", email="office@example.com"))
    '01632 960188, office@example.com'
    """
    return listed((trader.telephone, trader.email))


def day(date: datetime.date) -> str:
    """Return a day with its month as a word.

    >>> day(datetime.date(2026, 11, 26))
    '26 November 2026'
    """
    return formats.date(date.isoformat())


def clock(moment: datetime.datetime) -> str:
    """Return the time of day as it was noted.

    >>> clock(datetime.datetime(2026, 11, 27, 9, 5))
    '9:05'
    """
    return f"{moment.hour}:{moment.minute:02d}"


def manner(how: Manner | None) -> str:
    """Return how somebody answered, as it ends a sentence.

    >>> manner(Manner.TELEPHONE)
    'by telephone'
    """
    return say(f"contract.manner_{how.name.lower()}") if how is not None else ""


def true_minus(text: str) -> str:
    """Return a figure whose hyphen is a minus sign.

    >>> true_minus("-£12.50") == "\u2212£12.50"
    True
    """
    return text.replace("-", MINUS)


def money(amount: Money) -> str:
    """Return a sum with its sign and pence.

    >>> money(Money.of("-12.5")) == "\u2212£12.50"
    True
    """
    return true_minus(formats.money(amount))


def figure(amount: Money) -> str:
    """Return a sum for a column headed in pounds.

    >>> figure(Money.of("-1488")) == "\u22121,488.00"
    True
    """
    return true_minus(formats.figure(amount))


def change(amount: Money) -> str:
    """Return a sum that is a change: plus where more, minus where less.

    >>> change(Money.of(36)), change(Money.of(0)), change(Money.of(-36)) == "\u2212£36.00"
    ('+£36.00', '£0.00', True)
    """
    return f"+{money(amount)}" if amount.pence > 0 else money(amount)


def change_figure(amount: Money) -> str:
    """Return a change for a column headed in pounds.

    >>> change_figure(Money.of("36.91"))
    '+36.91'
    """
    return f"+{figure(amount)}" if amount.pence > 0 else figure(amount)


def amount_of(number: Decimal, unit: Unit) -> str:
    """Return how much of something, with its unit and a true minus.

    >>> amount_of(Decimal("4.8"), Unit.METRE), amount_of(Decimal(0), Unit.NUMBER)
    ('4.80 m', '—')
    """
    if number == 0:
        return formats.NONE
    return true_minus(formats.quantity(Quantity(number, unit)))


def change_of(number: Decimal, unit: Unit) -> str:
    """Return how much more or less of something.

    >>> change_of(Decimal(4), Unit.NUMBER)
    '+4 nr'
    """
    shown = amount_of(abs(number), unit)
    if number < 0:
        return f"{MINUS}{shown}"
    return f"+{shown}" if number > 0 and unit is not Unit.ITEM else shown


def percent(number: Decimal) -> str:
    """Return a percentage without needless noughts.

    >>> percent(Decimal("30.0"))
    '30 %'
    """
    return say("contract.percent", percent=formats.plain(number))


def tax_words(taxes: Sequence[TaxLine]) -> str:
    """Say beside a price whether tax is in it."""
    if not taxes:
        return say("options.no_tax")
    charged = all(tax.charged for tax in taxes)
    return say("options.with_tax" if charged else "options.reverse")


def charged(taxes: Sequence[TaxLine]) -> Money:
    """Return the tax we charge, without what the customer accounts for."""
    return total(line.amount for line in taxes if line.charged)
