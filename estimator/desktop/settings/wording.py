"""What the page says of tax, languages, the file and its backups."""

from __future__ import annotations

import datetime
from functools import cache

from estimator import resources
from estimator.desktop.language import LANGUAGE, _, counted
from estimator.pricing.tax_habits import SalesTax, TaxHabits

CATALOGUE = "/LC_MESSAGES/perpend.mo"


def tax_sentence(habits: TaxHabits, today: datetime.date) -> str:
    """Return how the firm is taxed, in one sentence."""
    from estimator.pricing import tax  # noqa: PLC0415 - reads its data when first used

    country = country_name(habits.country)
    if habits.country == "US":
        return _sales_tax(habits, country)
    name = resources.data("tax.json")["countries"][habits.country]["title"]
    if not habits.registered:
        told = _("Not registered for {tax} ({country}): none is added to a price.")
        return told.format(tax=name, country=country)
    percent = f"{tax.rate(habits.country, 'standard', today):f}"
    told = _("Registered for {tax} ({country}): usually {percent} % is added to a price.")
    return told.format(tax=name, country=country, percent=percent)


def _sales_tax(habits: TaxHabits, country: str) -> str:
    percent = f"{habits.sales_tax_percent:f}"
    if habits.sales_tax is SalesTax.NONE:
        return _("{country}: no sales tax is added.").format(country=country)
    if habits.sales_tax is SalesTax.LUMP:
        told = _("{country}: sales tax at {percent} % is paid on materials, inside the price.")
        return told.format(country=country, percent=percent)
    told = _("{country}: sales tax at {percent} % is added.")
    return told.format(country=country, percent=percent)


@cache
def country_name(code: str) -> str:
    """Return a country's name in the language of the screen, as CLDR has it.

    >>> country_name("GB")
    'United Kingdom'
    """
    from babel import Locale  # noqa: PLC0415 - loads slowly

    name: str = Locale.parse(LANGUAGE.tag).territories.get(code, code)
    return name


def languages() -> tuple[str, ...]:
    """Return the languages there is a catalogue for, each by its own name; English needs none."""
    from babel import Locale  # noqa: PLC0415 - loads slowly

    tags = [
        name.removeprefix("locale/").removesuffix(CATALOGUE)
        for name in resources.NAMES
        if name.startswith("locale/") and name.endswith(CATALOGUE)
    ]
    return ("English", *(str(Locale.parse(tag).display_name) for tag in tags))


def language_sentence() -> str:
    """Return which language the screen speaks, and which others there are."""
    known = languages()
    if len(known) == 1:
        return _("English. There is no other language yet.")
    return _("The screen can speak {languages}.").format(languages=", ".join(known))


def backups_sentence(count: int, newest: datetime.datetime | None, today: datetime.date) -> str:
    """Return how many backups there are and when the newest was made."""
    if newest is None:
        return _("No backup yet. The first is made by itself as you work.")
    local = newest.astimezone()
    time = f"{local:%H:%M}"
    if local.date() == today:
        when = _("today at {time}").format(time=time)
    else:
        when = _("{day} at {time}").format(day=_day(local.date()), time=time)
    return _("{backups}, the newest of {when}.").format(
        backups=counted("{n} backup", "{n} backups", count), when=when
    )


def _day(day: datetime.date) -> str:
    from babel.dates import format_date  # noqa: PLC0415 - loads slowly

    said: str = format_date(day, "d MMMM y", locale=LANGUAGE.tag)
    return said
