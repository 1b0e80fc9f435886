"""What a contract was priced with, taken out of the texts it keeps."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from functools import lru_cache

from estimator.contract.contract import Contract
from estimator.pricing import price_book
from estimator.pricing.price_book import PriceBook
from estimator.survey import survey_file
from estimator.survey.survey import Survey
from estimator.takeoff.rules import Rules, VoidMethod, changed, rule_keys, shipped

RulesText = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Frozen:
    """The survey, rates and rules of a contract."""

    survey: Survey
    book: PriceBook
    rules: Rules


def frozen(contract: Contract) -> Frozen:
    """Return what a contract was priced with; the same texts are read only once.

    Raises:
        UserMistake: when a text can no longer be read.
    """
    return parsed(contract.survey, contract.book, contract.rules)


def parsed(survey: str, book: str, rules: RulesText) -> Frozen:
    """Return what a price was made from, out of the texts that are kept of it.

    Raises:
        UserMistake: when a text can no longer be read.
    """
    return Frozen(survey_of(survey), _book(book), _rules(rules))


def rules_text(rules: Rules) -> RulesText:
    """Return every rule by name, as text that can be kept.

    >>> dict(rules_text(shipped()))["spacing_courses"] == str(shipped().spacing_courses)
    True
    """
    return tuple((one.name, _text(getattr(rules, one.name))) for one in fields(Rules))


def _text(value: object) -> str:
    return json.dumps(value.value if isinstance(value, VoidMethod) else value)


@lru_cache(maxsize=32)
def survey_of(text: str) -> Survey:
    """Return the survey a text is; the same text is read only once.

    Raises:
        UserMistake: when it can no longer be read.
    """
    return survey_file.read(text)


@lru_cache(maxsize=8)
def _book(text: str) -> PriceBook:
    return price_book.read(text)


@lru_cache(maxsize=8)
def _rules(text: RulesText) -> Rules:
    # A rule that a later version no longer has cannot be asked for any more.
    known = set(rule_keys())
    return changed(shipped(), **{key: json.loads(value) for key, value in text if key in known})
