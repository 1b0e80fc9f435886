"""The terms: time, what is in and out, cautions, paying, changing, cancelling, accepting."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from estimator.documents import formats
from estimator.documents.content import (
    Acceptance,
    Block,
    CancelForm,
    Fact,
    Points,
    Section,
    Steps,
    Text,
    Tone,
)
from estimator.documents.offered import headline, leaves_visible, letter, visible
from estimator.documents.wording import capital, kept_from_customers, say
from estimator.notices import Notice, Severity
from estimator.pricing.offer import Group
from estimator.quoting.quotation import Paper, Quotation
from estimator.survey.enquiry import undecided
from estimator.survey.ranges import Range
from estimator.survey.survey import Answer, Basis, CustomerKind
from estimator.survey.triage import Route, cautions
from estimator.takeoff.grout_and_mortar import Mortar, mortar, mortar_keys, suits

ANSWERS = {Answer.YES: "yes", Answer.NO: "no", Answer.NOT_SURE: "unknown"}


def sections(quotation: Quotation) -> tuple[Section, ...]:
    """Return the sections after the work, in the order printed."""
    made = [
        _visible(quotation),
        _decides(quotation),
        _next(quotation),
        _programme(quotation),
        _listed("included", _included(quotation)),
        _listed("excluded", _excluded(quotation)),
        _listed("assumed", _assumed(quotation)),
        _limits(),
        _cautions(quotation),
        _listed("safety", _safety(quotation)),
        _payment(quotation),
        _variations(quotation),
        _given("guarantee", quotation.trader.guarantee),
        _given("insurance", quotation.trader.insurance),
        _given("complaints", quotation.trader.complaints),
        _rights(quotation),
        _cancel(quotation),
    ]
    return tuple(section for section in made if section is not None)


def acceptance(quotation: Quotation) -> Acceptance | None:
    """Return what is signed to take a quotation; an estimate cannot be taken."""
    if quotation.paper is Paper.ESTIMATE:
        return None
    options = tuple(
        (
            say("acceptance.option", letter=letter(number), title=option.offer.scope.title),
            headline(option, quotation.paper),
        )
        for number, option in enumerate(quotation.options)
    )
    ticks: tuple[str, ...] = ()
    if _may_cancel(quotation):
        ticks = (say("acceptance.told"), say("acceptance.early"))
    return Acceptance(
        title=say("headings.acceptance"),
        lead=say("acceptance.lead"),
        options=options,
        ticks=ticks,
        fields=tuple(say(f"acceptance.{name}") for name in ("name", "signature", "date")),
        closing=say("acceptance.return", contact=contact(quotation)) if contact(quotation) else "",
    )


def form(quotation: Quotation) -> CancelForm | None:
    """Return the form a household may cancel a quotation with, once taken; None for others.

    Source: Consumer Contracts Regulations 2013, schedule 3 part B, for what it asks.
    """
    if not _may_cancel(quotation):
        return None
    service = say(
        "form.service_value", title=quotation.survey.title, number=quotation.number or formats.NONE
    )
    customer = quotation.survey.customer
    return CancelForm(
        title=say("headings.form"),
        lead=say("form.lead"),
        to=Fact(say("form.to"), addressee(quotation)),
        statement=say("form.statement"),
        fields=(
            Fact(say("form.service"), service),
            Fact(say("form.ordered"), ""),
            Fact(say("form.name"), customer.name),
            Fact(say("form.address"), ", ".join(customer.address)),
            Fact(say("form.signature"), ""),
            Fact(say("form.date"), ""),
        ),
        star=say("form.star"),
    )


def contact(quotation: Quotation) -> str:
    """Return how to reach the trader in one line."""
    trader = quotation.trader
    return ", ".join(part for part in (trader.telephone, trader.email) if part.strip())


def addressee(quotation: Quotation) -> str:
    """Return the trader's name, postal address and email in one line."""
    trader = quotation.trader
    name = trader.name.strip() or say("letterhead.draft")
    return ", ".join(part for part in (name, *trader.address, trader.email) if part.strip())


def _may_cancel(quotation: Quotation) -> bool:
    household = quotation.survey.customer.kind is CustomerKind.HOUSEHOLD
    return household and quotation.paper is Paper.QUOTATION


def _listed(key: str, items: Iterable[str]) -> Section:
    return Section(key, say(f"headings.{key}"), (Points(tuple(items)),))


def _given(key: str, text: str) -> Section | None:
    """Return a section of the trader's own words, or None where there are none."""
    if not text.strip():
        return None
    return Section(key, say(f"headings.{key}"), (Text(text.strip()),))


def _rights(quotation: Quotation) -> Section | None:
    """Return what the law gives a household, whatever is agreed."""
    if quotation.survey.customer.kind is not CustomerKind.HOUSEHOLD:
        return None
    return Section("rights", say("headings.rights"), (Text(say("limits.rights")),))


def _visible(quotation: Quotation) -> Section | None:
    """Return what each option leaves to be seen, where it had no room under the price."""
    blocks: list[Block] = []
    for number, option in enumerate(quotation.options):
        if leaves_visible(option):
            title = say("programme.option", letter=letter(number), title=option.offer.scope.title)
            blocks += [Text(title, Tone.STRONG), Points(visible(option))]
    return Section("visible", say("headings.visible"), tuple(blocks)) if blocks else None


def _programme(quotation: Quotation) -> Section:
    blocks: list[Block] = []
    for number, option in enumerate(quotation.options):
        title = say("programme.option", letter=letter(number), title=option.offer.scope.title)
        rows = tuple(
            (
                step.title,
                formats.days("programme.wait" if step.is_wait else "programme.days", step.days),
                step.reason,
            )
            for step in option.offer.programme
        )
        blocks.append(Steps(title, rows))
    is_estimate = quotation.paper is Paper.ESTIMATE
    blocks.append(Text(say("programme.start_estimate" if is_estimate else "programme.start")))
    blocks += [Text(_weather(one)) for one in _mortars(quotation)]
    return Section("programme", say("headings.programme"), tuple(blocks))


def _mortars(quotation: Quotation) -> list[Mortar]:
    """Return the mortars the work is done with, each once."""
    keys = dict.fromkeys(
        line.conditions.new_mortar
        for option in quotation.options
        for line in option.measure.lines
        if line.conditions.new_mortar in mortar_keys()
    )
    if not keys:
        keys = dict.fromkeys(
            suits(elevation.brickwork.mortar.value).key for elevation in quotation.survey.elevations
        )
    return [mortar(key) for key in keys]


def _weather(one: Mortar) -> str:
    return say(
        "programme.weather",
        mortar=one.title,
        least=formats.plain(one.least_temperature_c),
        days=str(one.cure_days),
    )


def _included(quotation: Quotation) -> Iterator[str]:
    groups = {line.group for option in quotation.options for line in option.offer.lines}
    yield say("included.work")
    if Group.PROTECT in groups:
        yield say("included.protect")
    yield from _access(quotation)
    if Group.VISITS in groups:
        yield say("included.visits")
    if quotation.trader.waste_carrier.strip():
        yield say("included.carrier", number=quotation.trader.waste_carrier.strip())


def _access(quotation: Quotation) -> Iterator[str]:
    """Say how each side is reached, by the option that reaches highest."""
    reaches = [reach for option in quotation.options for reach in option.measure.reaches]
    alone = len(quotation.survey.elevations) == 1
    for elevation in quotation.survey.elevations:
        here = [reach for reach in reaches if reach.elevation == elevation.id]
        if here:
            reason = max(here, key=lambda reach: reach.top_mm).reason
            key = "included.access" if alone else "included.access_named"
            yield say(key, name=elevation.name, reason=reason)


def _excluded(quotation: Quotation) -> Iterator[str]:
    del quotation
    for name in ("cause", "inside", "match", "behind", "consents", "services"):
        yield say(f"excluded.{name}")


def _assumed(quotation: Quotation) -> Iterator[str]:
    survey = quotation.survey
    yield say("assumed.told" if survey.basis is Basis.TOLD else "assumed.same")
    for name in ("power", "water", "parking"):
        yield say(f"assumed.{name}_{ANSWERS[getattr(survey.site, name)]}")
    yield say("assumed.foot")
    if survey.engineers_report is not None:
        report = survey.engineers_report
        yield say(
            "assumed.report",
            reference=report.reference,
            engineer=report.engineer,
            date=formats.date(report.date),
        )


def _limits() -> Section:
    texts = (
        Text(say("limits.cause"), Tone.STRONG),
        Text(say("limits.structure")),
        Text(say("limits.watch")),
    )
    return Section("limits", say("headings.limits"), texts)


def _cautions(quotation: Quotation) -> Section | None:
    """Return what is to be heeded about this wall, loudest first, each once."""
    offered = [
        notice
        for option in quotation.options
        for notice in (*option.measure.notices, *option.offer.notices)
    ]
    heard = _heard([*quotation.assessment.notices, *offered])
    hazards = {notice.text for notice in cautions(quotation.survey)}
    said = [notice.text for notice in heard if notice.text not in hazards]
    return _listed("cautions", said) if said else None


def _heard(notices: Iterable[Notice]) -> list[Notice]:
    kept = (
        one
        for one in notices
        if one.severity >= Severity.REFER or one.code not in kept_from_customers()
    )
    once = {notice.text: notice for notice in kept}
    return sorted(once.values(), key=lambda notice: -notice.severity)


def _safety(quotation: Quotation) -> list[str]:
    kept = kept_from_customers()
    return [one.text for one in cautions(quotation.survey) if one.code not in kept]


def _payment(quotation: Quotation) -> Section:
    taxed = any(option.offer.taxes for option in quotation.options)
    household = quotation.survey.customer.kind is CustomerKind.HOUSEHOLD
    items = [say("payment.tax" if taxed and household else "payment.not_registered")]
    if taxed and not household:
        items = []
    if quotation.paper is Paper.QUOTATION:
        items.append(say("payment.open", date=formats.date(quotation.valid_until)))
    items.append(say("payment.household" if household else "payment.business"))
    if not household:
        items.append(say("payment.late"))
    return _listed("payment", items)


def _variations(quotation: Quotation) -> Section | None:
    if quotation.paper is Paper.ESTIMATE:
        return None
    return _listed("variations", (say(f"variations.{key}") for key in ("agree", "rates", "paper")))


def _cancel(quotation: Quotation) -> Section | None:
    if not _may_cancel(quotation):
        return None
    parts = [addressee(quotation)]
    if quotation.trader.telephone.strip():
        parts.append(quotation.trader.telephone.strip())
    trader = ", ".join(parts)
    texts = [Text(say("cancel.right"), Tone.STRONG), Text(say("cancel.goods"))]
    texts.append(Text(say("cancel.how", trader=trader)))
    texts += [Text(say(f"cancel.{key}")) for key in ("effect", "start", "urgent")]
    return Section("cancel", say("headings.cancel"), tuple(texts))


def _decides(quotation: Quotation) -> Section | None:
    """Return what decides each end of the range of an estimate, and how sure it is."""
    if quotation.paper is Paper.QUOTATION:
        return None
    spreads = [*_told_ranges(quotation), *_not_asked(quotation)]
    unknown = [
        say("decides.not_known", because=capital(outcome.because))
        for outcome in quotation.assessment.outcomes
        if outcome.because and outcome.route is Route.VISIT
    ]
    blocks: list[Block] = [Points((*spreads, *unknown))] if spreads or unknown else []
    blocks.append(Text(say("decides.low" if spreads else "decides.low_plain")))
    blocks += [Text(words) for words in _confidence(quotation)]
    return Section("decides", say("headings.decides"), tuple(blocks))


def _confidence(quotation: Quotation) -> list[str]:
    """Say how sure each range is, once where all are alike."""
    sure = [option.spread.confidence if option.spread else "" for option in quotation.options]
    if len(set(sure)) == 1:
        return sure[:1] if sure[0] else []
    return [
        say("decides.confidence", letter=letter(number), confidence=words)
        for number, words in enumerate(sure)
        if words
    ]


def _told_ranges(quotation: Quotation) -> Iterator[str]:
    """Say each number of the survey that was told as a range."""
    for elevation in quotation.survey.elevations:
        told: list[tuple[str, str, object]] = []
        for crack in elevation.cracks:
            told.append(("courses", crack.id, getattr(crack.run, "courses", None)))
            told.append(("width", crack.id, crack.width_mm))
        told.append(("hidden", "", elevation.hidden_bricks))
        for key, name, value in told:
            if isinstance(value, Range):
                yield say(f"decides.{key}", name=elevation.name, id=name, **_ends(value))


def _not_asked(quotation: Quotation) -> Iterator[str]:
    """Say which answers the range was drawn over because nobody gave them."""
    unknown = undecided(quotation.survey)
    if unknown:
        what = "; ".join(say(f"decides.asked_{key}") for key in unknown)
        yield say("decides.not_asked", what=what)


def _ends(value: Range) -> dict[str, str]:
    named = {"low": value.low, "likely": value.likely, "high": value.high}
    return {name: formats.plain(number) for name, number in named.items()}


def _next(quotation: Quotation) -> Section | None:
    if quotation.paper is Paper.QUOTATION:
        return None
    said = [say("next.estimate")]
    route = quotation.assessment.route
    words = [one.words for one in quotation.assessment.outcomes if one.route is route]
    said += words[:1]
    said += [say("next.visit"), say("next.quotation")]
    if quotation.survey.customer.kind is CustomerKind.HOUSEHOLD:
        said.append(say("next.household"))
    reach = contact(quotation)
    said.append(say("next.say", contact=reach) if reach else say("next.say_plain"))
    first, *rest = said
    return Section("next", say("headings.next"), (Text(first, Tone.STRONG), *map(Text, rest)))
