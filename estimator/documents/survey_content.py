"""All that the paper of a survey says, as plain text in the order it is read."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from estimator.documents import formats, head, survey_figure, survey_words
from estimator.documents.content import (
    Block,
    Fact,
    Foot,
    Letterhead,
    Metadata,
    Points,
    Section,
    Text,
    Tone,
)
from estimator.documents.figure import Figure
from estimator.documents.wording import counted, in_words, kept_from_customers, say
from estimator.notices import Severity
from estimator.quoting.quotation import Trader
from estimator.survey.survey import Basis, Photo, Survey
from estimator.survey.triage import Route, assess, cautions
from estimator.takeoff.lines import Measure

POINTED_TO = ("not_seen", "limits", "cautions")
"""Sections that the first page points to."""


HOLDING = (None, Route.MONITOR, Route.REFER, Route.STOP)
"""Routes said on the paper; None is a caution of its own."""


@dataclass(frozen=True, slots=True)
class Rows:
    """A table of texts under their headings."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class SideSeen:
    """One elevation: its drawing, its cracks, its wall."""

    title: str
    figure: Figure
    cracks: Rows
    no_cracks: str
    """Said where there is none."""
    facts: tuple[Fact, ...]
    bricks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph to print, or what is said where it cannot be."""

    photo: Photo
    data: bytes | None
    """JPEG; None where it is not at hand."""
    caption: str


@dataclass(frozen=True, slots=True)
class SurveyContent:
    """The whole paper, in reading order."""

    letterhead: Letterhead
    heading: str
    under_heading: str
    facts: tuple[Fact, ...]
    sides: tuple[SideSeen, ...]
    wall_title: str
    bricks_title: str
    photographs: tuple[Photograph, ...]
    photographs_title: str
    readings: Rows
    sections: tuple[Section, ...]
    foot: Foot
    metadata: Metadata


def content_of(
    survey: Survey,
    measure: Measure | None,
    trader: Trader,
    pictures: Mapping[str, bytes],
    date: str,
) -> SurveyContent:
    """Return all that the paper says.

    Args:
        survey: What was seen or told.
        measure: The work of the option drawn; None for the wall as it was seen.
        trader: Whose name is on the paper.
        pictures: JPEG by the SHA-256 the survey names it by; it says which are missing.
        date: Of the paper, ISO 8601.
    """
    heading = say("survey.heading")
    name = head.titled(heading, survey.title if _is_day(survey.reference) else survey.reference)
    is_told = survey.basis is Basis.TOLD
    draft = () if trader.name.strip() else (say("letterhead.draft"),)
    return SurveyContent(
        letterhead=head.letterhead(trader, is_taxed=False),
        heading=heading,
        under_heading=say("survey.told" if is_told else "survey.measured"),
        facts=tuple(_facts(survey, trader, date)),
        sides=tuple(_side(survey, number, measure) for number in range(len(survey.elevations))),
        wall_title=say("survey.wall"),
        bricks_title=say("survey.bricks"),
        photographs=tuple(_photographs(survey, pictures)),
        photographs_title=say("survey.photographs"),
        readings=_readings(survey),
        sections=tuple(_sections(survey)),
        foot=Foot(
            name=name,
            warnings=draft,
            pointer=tuple((key, say(f"survey.{key}")) for key in POINTED_TO),
        ),
        metadata=Metadata(
            title=name,
            author=trader.name.strip(),
            subject=say(
                "meta.subject",
                heading=heading,
                under=say("survey.told" if is_told else "survey.measured"),
                title=survey.title,
            ),
        ),
    )


def _facts(survey: Survey, trader: Trader, date: str) -> Iterator[Fact]:
    customer = survey.customer
    seen = formats.date(survey.date)
    if trader.name.strip():
        seen = say("survey.by_trader", date=seen, name=trader.name.strip())
    # A job that was never numbered goes by the day it began: that is no reference for anybody.
    is_numbered = not _is_day(survey.reference)
    route = assess(survey).route
    rows = {
        "of": survey.title,
        "number": survey.reference if is_numbered else "",
        "date": formats.date(date),
        "taken_down" if survey.basis is Basis.TOLD else "surveyed": seen,
        "for": ", ".join(part for part in (customer.name, *customer.address) if part.strip()),
        "site": ", ".join(part for part in customer.site if part.strip()),
        "built": survey.site.built,
        "judgement": "" if route.allows_price else say(f"survey.{route.name.lower()}"),
    }
    for key, words in rows.items():
        if words.strip():
            yield Fact(say(f"survey.{key}"), words.strip())


def _side(survey: Survey, number: int, measure: Measure | None) -> SideSeen:
    elevation = survey.elevations[number]
    return SideSeen(
        title=elevation.name,
        figure=survey_figure.of_survey(survey, number, measure),
        cracks=Rows(survey_words.crack_columns(), tuple(survey_words.crack_rows(elevation))),
        no_cracks="" if elevation.cracks else say("survey.no_cracks"),
        facts=tuple(survey_words.wall_facts(elevation)),
        bricks=tuple(survey_words.brick_points(elevation)),
    )


def _photographs(survey: Survey, pictures: Mapping[str, bytes]) -> Iterator[Photograph]:
    names = {one.id: one.name for one in survey.elevations}
    for photo in survey.photos:
        name = names.get(photo.elevation, photo.elevation)
        key = "survey.photo_name" if photo.taken else "survey.photo_name_undated"
        caption = say(
            key, caption=_sentence(photo.caption), name=name, taken=formats.date(photo.taken)
        ).strip()
        data = pictures.get(photo.picture)
        if data is None:
            caption = f"{caption} {say('survey.missing')}"
        elif photo.points:
            count = len(photo.points)
            caption = f"{caption} {counted('survey.points', count, number=_number(count))}"
        yield Photograph(photo, data, caption)


def _number(count: int) -> str:
    words = in_words(count)
    return words[:1].upper() + words[1:]


def _sentence(words: str) -> str:
    words = words.strip()
    return f"{words}." if words and words[-1] not in ".!?" else words


def _readings(survey: Survey) -> Rows:
    columns = tuple(
        say(f"survey.{key}") for key in ("crack", "point", "day", "read_width", "reader")
    )
    in_order = sorted(survey.readings, key=lambda one: (one.crack, one.point, one.date))
    return Rows(
        columns,
        tuple(
            (one.crack, one.point, formats.date(one.date), f"{one.width_mm:.1f}", one.reader)
            for one in in_order
        ),
    )


def _sections(survey: Survey) -> Iterator[Section]:
    """Yield what was told, what was not seen, what to heed, and what the paper is not."""
    if survey.said.strip():
        said = say("survey.said_words", said=survey.said.strip())
        yield Section("said", say("survey.said"), (Text(said),))
    not_seen = survey.not_seen.strip() or say("survey.nothing_noted")
    yield Section("not_seen", say("survey.not_seen"), (Text(not_seen),))
    limits: list[Block] = [Text(say("survey.not_structural"), Tone.STRONG)]
    if survey.basis is Basis.TOLD:
        limits.append(Text(say("survey.told_limits")))
    limits.append(Text(say("survey.scaled")))
    yield Section("limits", say("survey.limits"), tuple(limits))
    yield _cautions(survey)


def _cautions(survey: Survey) -> Section:
    """Return what the signs ask for, and the hazards of the work, each once."""
    kept = kept_from_customers()
    assessment = assess(survey)
    said = [
        say(
            "saw.category",
            category=str(assessment.category),
            name=assessment.category_name.lower(),
        )
    ]
    # What is offered at what stage is for the telephone; what holds the work up is said here.
    holding = [one for one in assessment.outcomes if one.route in HOLDING]
    said += [say("survey.judged", title=one.title.rstrip("."), words=one.words) for one in holding]
    # A notice of the same thing has the same words, without the title.
    told = {one.words for one in holding}
    said += [
        notice.text
        for notice in (*assessment.notices, *cautions(survey))
        if (notice.severity >= Severity.REFER or notice.code not in kept)
        and notice.text not in told
    ]
    return Section("cautions", say("survey.cautions"), (Points(tuple(dict.fromkeys(said))),))


def _is_day(reference: str) -> bool:
    try:
        datetime.date.fromisoformat(reference)
    except ValueError:
        return False
    return True
