"""How long things take. Skipped in the ordinary run; start them with

    python -m pytest tests/benchmarks --benchmark-only

Targets on two cores: the small job 1.5 ms, the terrace 20 ms, the street 150 ms, growing no faster
than the cracks do; a paper within 2.5 times a bare document of as many pages. Each round measures a
survey no cache has seen.
"""

from __future__ import annotations

import io
import time
from typing import Any

import pypdf
import pytest
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import PageBreak, Paragraph, SimpleDocTemplate

from estimator import resources
from estimator.documents.quotation import render
from estimator.quoting import offering
from estimator.survey.survey import Survey
from tests.benchmarks import made_up

LINES_A_PAGE = 45
FEWEST = 10


def seconds(survey: Survey, rounds: int = 9) -> float:
    """The quickest of some rounds, as nothing but the machine makes the others slower."""
    practice, best = made_up.practice(), float("inf")
    for _round in range(rounds):
        fresh = made_up.anew(survey)
        start = time.perf_counter()
        made_up.priced(fresh, practice)
        best = min(best, time.perf_counter() - start)
    return best


def bench(benchmark: Any, survey: Survey, rounds: int) -> None:
    practice = made_up.practice()
    options = benchmark.pedantic(
        made_up.priced,
        setup=lambda: ((made_up.anew(survey), practice), {}),
        rounds=rounds,
        warmup_rounds=2,
    )
    assert len(options) == 2


def test_the_small_job(benchmark: Any) -> None:
    bench(benchmark, made_up.demo("window_lime"), 200)


def test_the_terrace(benchmark: Any) -> None:
    bench(benchmark, made_up.demo("terrace"), 50)


def test_a_street_of_200_cracks(benchmark: Any) -> None:
    bench(benchmark, made_up.street(20, 200), 10)


@pytest.mark.parametrize("fronts", [1, 20])
def test_work_grows_no_faster_than_cracks(benchmark: Any, fronts: int) -> None:
    # On one front the cracks crowd together and share bars; on many, each front costs as well.
    bench(benchmark, made_up.street(fronts, FEWEST), 10)
    few = seconds(made_up.street(fronts, FEWEST))
    grown = {cracks: seconds(made_up.street(fronts, cracks)) for cracks in (50, 100, 200)}
    for cracks, taken in grown.items():
        print(
            f"\n{cracks} cracks on {fronts} fronts: {taken * 1000:.1f} ms, {taken / few:.2f} times "
            f"{FEWEST} cracks ({cracks / FEWEST:g} times as many)",
            end="",
        )
    benchmark.extra_info.update({str(cracks): taken / few for cracks, taken in grown.items()})
    assert grown[200] / few < 1.2 * 200 / FEWEST


def bare_document(pages: int) -> bytes:
    """As many pages of plain text in the same font, and nothing else."""
    if "Bare" not in pdfmetrics.getRegisteredFontNames():
        path = resources.path("fonts/SourceSansPro-Regular.ttf")
        pdfmetrics.registerFont(TTFont("Bare", str(path)))
    style = ParagraphStyle("bare", fontName="Bare", fontSize=10, leading=14)
    line = "Rake out the joints to twice their width and point them again in lime."
    story: list[Any] = []
    for page in range(pages):
        story += [PageBreak()] * (page > 0)
        story += [Paragraph(line, style) for _ in range(LINES_A_PAGE)]
    written = io.BytesIO()
    SimpleDocTemplate(written).build(story)
    return written.getvalue()


@pytest.mark.parametrize("name", ["window_lime", "terrace"])
def test_a_paper_against_a_bare_document(benchmark: Any, name: str) -> None:
    quotation = offering.prepare(made_up.demo(name), made_up.practice())
    pages = len(pypdf.PdfReader(io.BytesIO(render(quotation))).pages)
    assert len(pypdf.PdfReader(io.BytesIO(bare_document(pages))).pages) == pages
    bare = []
    for _round in range(15):
        start = time.perf_counter()
        bare_document(pages)
        bare.append(time.perf_counter() - start)
    benchmark.pedantic(render, args=(quotation,), rounds=15, warmup_rounds=2)
    ratio = benchmark.stats.stats.median / sorted(bare)[len(bare) // 2]
    benchmark.extra_info["against_bare"] = ratio
    print(f"\n{name}: {pages} pages, {ratio:.2f} times a bare document", end="")
