"""Papers about the works as they come out: in their margins, alike to the byte, safe from text."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from estimator.contract.so_far import SoFar
from estimator.contract.works import Completion
from estimator.documents import styles
from estimator.quoting.quotation import Trader
from estimator.survey import survey_file
from estimator.survey.survey import EngineersReport
from tests.documents import made_up
from tests.documents import works_fixtures as works
from tests.documents.reading import flat, pages, placed, quick_pages, reader
from tests.documents.test_agreed_pages import HOSTILE, LONG, SHOWN
from tests.works.made_up import JOBS


@pytest.fixture(scope="module", params=works.PAPERS)
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module", params=JOBS)
def job(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def paper(name: str, job: str) -> bytes:
    return works.PAPERS[name][0](works.under_way(job), made_up.trader())


def hostile(words: str) -> SoFar:
    """A job in which every text that somebody typed is this one."""
    so_far = works.under_way("quoin_cavity")
    assert so_far.contract is not None
    short = re.sub(r"[\x07\u202e]", "", words[:150]).strip() or "x"

    def said(text: str) -> str:
        seen = survey_file.read(text)
        side, *others = seen.elevations
        side = replace(side, name=short, ornament=short)
        customer = replace(seen.customer, name=short, site=(short,))
        report = EngineersReport(short, short, "2026-11-01")
        return survey_file.write(
            replace(seen, customer=customer, elevations=(side, *others), engineers_report=report)
        )

    (varied,) = so_far.variations
    variation = replace(varied.variation, title=words, survey=said(varied.variation.survey))
    assert so_far.plan is not None
    return replace(
        so_far,
        contract=replace(so_far.contract, survey=said(so_far.contract.survey)),
        variations=(replace(varied, variation=variation, number=words[:30]),),
        plan=replace(so_far.plan, gang=(words, words)),
        built=tuple(replace(one, what=words, batch=words, deviation=words) for one in so_far.built),
        held=tuple(replace(one, by=words) for one in so_far.held),
        completion=Completion(works.DONE, words, (words,)),
    )


def test_the_same_paper_is_the_same_to_the_byte(name: str, job: str, paper: bytes) -> None:
    assert works.PAPERS[name][0](works.under_way(job), made_up.trader()) == paper


def test_the_file_says_what_it_is(name: str, paper: bytes) -> None:
    opened = reader(paper)
    assert opened.metadata is not None
    assert opened.metadata.title == works.PAPERS[name][1]
    assert opened.metadata.author == "Tarn & Pike"
    assert opened.metadata.subject
    root = opened.trailer["/Root"].get_object()
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"].get_object()["/DisplayDocTitle"]


def test_every_page_knows_its_number_and_its_paper(name: str, paper: bytes) -> None:
    shown = pages(paper)
    for number, text in enumerate(shown, 1):
        assert f"page {number} of {len(shown)}" in text
        assert works.PAPERS[name][1] in text


def test_text_keeps_to_the_margins_and_is_never_small(paper: bytes) -> None:
    for run in placed(paper):
        assert run.size >= styles.SMALL - 0.01, run
        assert run.base >= styles.MARGIN - 0.01, run
        assert run.base <= styles.PAGE_HEIGHT - styles.MARGIN, run
        assert run.left >= styles.MARGIN - 0.01, run
        assert run.right <= styles.PAGE_WIDTH - styles.MARGIN + 2.5, run


def test_boxes_are_drawn_and_are_no_sign_of_the_font(paper: bytes) -> None:
    assert not re.search("[☐✓☑]", "".join(quick_pages(paper)))


def test_only_the_two_shipped_fonts_are_used(paper: bytes) -> None:
    names = set()
    for page in reader(paper).pages:
        for font in page["/Resources"].get_object()["/Font"].get_object().values():
            names.add(font.get_object()["/BaseFont"].split("+")[-1])
    assert names == {"SourceSansPro-Regular", "SourceSansPro-Semibold"}


def test_what_anybody_typed_is_printed_as_it_stands(name: str) -> None:
    text = flat("".join(quick_pages(works.PAPERS[name][0](hostile(HOSTILE), made_up.trader()))))
    assert flat(SHOWN) in text
    assert "<img" in text


def test_long_texts_go_on_over_pages_and_their_ends_are_there(name: str) -> None:
    words = f"{LONG.strip()} to its very end"
    shown = quick_pages(works.PAPERS[name][0](hostile(words), made_up.trader()))
    assert "to its very end" in " ".join("".join(shown).split())
    for number, text in enumerate(shown, 1):
        assert f"page {number} of {len(shown)}" in text


@pytest.mark.parametrize("word", ["W" * 700, "\n" * 50 + "x", " "])
def test_one_endless_word_breaks_no_page(name: str, word: str) -> None:
    shown = quick_pages(works.PAPERS[name][0](hostile(word), made_up.trader()))
    assert len(shown) < 40


def test_a_nameless_firm_is_warned_on_every_page(name: str) -> None:
    for text in quick_pages(works.PAPERS[name][0](works.under_way(), Trader(""))):
        assert "DRAFT: your firm" in text


def test_nothing_is_put_on_paper_before_anything_was_accepted(name: str) -> None:
    with pytest.raises(ValueError, match="nothing has been accepted"):
        works.PAPERS[name][0](SoFar(), made_up.trader())


def test_where_all_work_was_left_out_a_paper_still_comes(name: str) -> None:
    """Found wanting: of nothing done no completion could be written."""
    so_far = works.planned()
    seen = works.jobs.survey("window_lime")
    sides = tuple(replace(one, cracks=(), bricks=(), areas=()) for one in seen.elevations)
    none = works.jobs.valued(so_far, replace(seen, elevations=sides))
    assert works.PAPERS[name][0](works.jobs.with_variation(so_far, none), made_up.trader())
