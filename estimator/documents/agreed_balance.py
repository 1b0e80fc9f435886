"""What statement and final account both say: who owes whom, and what does not count."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.contract.statement import AccountLine, FinalAccount
from estimator.documents.agreed_content import Big, Column, Ledger, Line, Lines
from estimator.documents.agreed_sums import MONEY
from estimator.documents.agreed_words import change_figure, money
from estimator.documents.wording import say
from estimator.money import NOTHING, Money

STANDS = 110.0


def balance_of(balance: Money) -> Big:
    """Return what is owed, whichever way, or that nothing is."""
    if balance > NOTHING:
        return Big(say("account.owed"), money(balance))
    if balance < NOTHING:
        return Big(say("account.owed_back"), money(-balance))
    return Big(say("account.settled"), money(NOTHING))


def retained_note(account: FinalAccount) -> str:
    """Say what is kept back, where anything is."""
    if not account.retained:
        return ""
    key = "retained_note" if account.price.taxes else "retained_note_plain"
    return say(f"account.{key}", amount=money(account.retained))


def uncounted(account: FinalAccount) -> Iterator[Ledger]:
    """Yield the variations nobody agreed to, with their sums, never summed."""
    if account.uncounted:
        lines = tuple(map(_uncounted_line, account.uncounted))
        title = "variation.before_tax" if account.price.taxes else "account.sum"
        yield Ledger(
            "uncounted",
            say("account.uncounted"),
            (
                Column("", STANDS, is_quiet=True),
                Column(say(title), MONEY),
            ),
            (Lines("", lines),),
            note=say("account.uncounted_note"),
        )


def _uncounted_line(one: AccountLine) -> Line:
    stands = one.standing.value if one.standing is not None else ""
    return Line(titled(one), (say(f"account.uncounted_{stands}"), change_figure(one.net)))


def titled(one: AccountLine) -> str:
    """Return what a part of the contract sum is called, with its number where it has one."""
    return say("variation.agreed", number=one.number, title=one.title) if one.number else one.title
