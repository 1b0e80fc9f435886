"""How an invoice is to be paid, and what follows where it is not: the same on every paper."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_words
from estimator.documents.content import Block, Section, Text, Tone
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader


def how_to_pay(trader: Trader, number: str) -> Iterator[Block]:
    """Yield where to pay and what to quote, and a word against those who say it has changed."""
    quoted = number or say("invoice.number_to_come")
    if trader.bank.strip():
        yield Text(say("invoice.pay_bank", number=quoted))
        yield Text(trader.bank.strip(), Tone.STRONG)
        yield Text(say("invoice.pay_fraud"), Tone.QUIET)
    else:
        yield Text(say("invoice.pay_agreed", number=quoted))


def paying(so_far: SoFar, trader: Trader, number: str, due: str) -> Section:
    """Return the section on paying: by when, where, and what the law says of being late.

    Interest by law is for debts between businesses; a household is told nothing of it.
    """
    blocks: list[Block] = [Text(due, Tone.STRONG)] if due else []
    blocks += how_to_pay(trader, number)
    if not agreed_words.is_household(so_far):
        blocks.append(Text(say("payment.late")))
    return Section("paying", say("invoice.paying"), tuple(blocks))
