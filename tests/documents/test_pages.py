"""The pages as they come out: all there, in order, in their margins, and always the same."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from pathlib import Path

import pytest

from estimator.documents import styles
from estimator.documents.content import Content
from estimator.documents.paper import content_of
from estimator.documents.quotation import render
from estimator.quoting.quotation import Quotation
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT
from tests.documents import made_up
from tests.documents.reading import flat, pages, placed, quick_pages, reader

ROOM = Path(__file__).resolve().parents[2] / "estimator" / "documents"
MONEY = re.compile(r"-?[\d,]+\.\d\d")
PAPERS = {
    "window": made_up.quotation,
    "quoin": lambda: made_up.quotation("quoin_cavity"),
    "terrace": lambda: made_up.quotation("terrace"),
    "three": lambda: made_up.quotation("quoin_cavity", (LOCAL, PANEL, REPOINT)),
    "estimate": made_up.estimate,
    "long": lambda: made_up.with_lines(40),
}


def ordered(content: Content) -> list[str]:
    """What must be found on the pages one after the other."""
    found = [content.letterhead.name, content.heading, content.under_heading]
    found += [fact.value for fact in content.facts]
    found += [choice.price for choice in content.choices]
    for row in content.work.rows:
        found += [row.title, row.quantity, *row.figures]
    for one in content.work.sums:
        found += [one.title, *one.figures]
    found.append(content.work.promise)
    for group in content.schedule.groups:
        found += [group.title, *group.figures]
        for line in group.lines:
            found += [line.description, line.surety, line.quantity, line.rate, *line.figures]
    for one in content.schedule.sums:
        found += [one.title, *one.figures]
    return [one for one in found if one]


def assert_in_order(whole: str, parts: list[str]) -> None:
    at = 0
    for part in parts:
        at = whole.find(flat(part), at)
        assert at >= 0, part


@pytest.fixture(scope="module", params=PAPERS)
def quotation(request: pytest.FixtureRequest) -> Quotation:
    made: Quotation = PAPERS[request.param]()
    return made


@pytest.fixture(scope="module")
def paper(quotation: Quotation) -> bytes:
    return render(quotation)


def test_everything_is_there_in_order(quotation: Quotation, paper: bytes) -> None:
    assert_in_order(flat("".join(pages(paper))), ordered(content_of(quotation)))


def test_every_page_knows_its_number(quotation: Quotation, paper: bytes) -> None:
    shown = pages(paper)
    for number, text in enumerate(shown, 1):
        assert f"page {number} of {len(shown)}" in text
        assert content_of(quotation).foot.name in text


def test_the_first_page_points_to_the_right_pages(quotation: Quotation, paper: bytes) -> None:
    shown = pages(paper)
    pointed = re.search(r": pages? (\d+)(?: to (\d+))?", shown[0])
    assert pointed
    first, last = int(pointed[1]), int(pointed[2] or pointed[1])
    starts = [
        number
        for _key, title in content_of(quotation).foot.pointer
        for number, text in enumerate(shown[1:], 2)
        if title in text.splitlines()
    ]
    assert (first, last) == (min(starts), max(starts))


def test_text_keeps_to_the_margins_and_is_never_small(paper: bytes) -> None:
    for run in placed(paper):
        assert run.size >= styles.SMALL - 0.01, run
        assert run.base >= styles.MARGIN - 0.01, run
        assert run.base <= styles.PAGE_HEIGHT - styles.MARGIN, run
        assert run.left >= styles.MARGIN - 0.01, run


def test_figures_of_a_column_share_their_right_edge(quotation: Quotation, paper: bytes) -> None:
    content = content_of(quotation)
    if not content.work.columns[0]:
        pytest.skip("an estimate has no columns of money")
    edges = [run.right for run in placed(paper) if MONEY.fullmatch(run.text.strip())]
    columns = {round(edge, 1) for edge in edges}
    assert len(columns) <= 2 * len(content.choices) + 1
    for edge in edges:
        assert min(abs(edge - column) for column in columns) <= 0.1


def test_the_same_paper_is_the_same_to_the_byte(quotation: Quotation, paper: bytes) -> None:
    assert render(quotation) == paper


def test_the_file_says_what_it_is(quotation: Quotation, paper: bytes) -> None:
    opened = reader(paper)
    assert opened.metadata is not None
    assert opened.metadata.title == f"{content_of(quotation).heading} {quotation.number}"
    assert opened.metadata.author == "Tarn & Pike"
    assert opened.metadata.subject
    root = opened.trailer["/Root"].get_object()
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"].get_object()["/DisplayDocTitle"]


def test_only_the_two_shipped_fonts_are_used_and_both_are_embedded(paper: bytes) -> None:
    names = set()
    for page in reader(paper).pages:
        for font in page["/Resources"].get_object()["/Font"].get_object().values():
            described = font.get_object()
            names.add(described["/BaseFont"].split("+")[-1])
            assert "/FontFile2" in described["/FontDescriptor"].get_object()
    assert names == {"SourceSansPro-Regular", "SourceSansPro-Semibold"}


def test_a_drawn_box_is_ticked_and_no_sign_of_the_font(paper: bytes) -> None:
    assert not re.search("[☐✓☑]", "".join(quick_pages(paper)))


def test_page_numbers_hold_up_to_forty_pages() -> None:
    seen = set()
    for count in (1, 1250):
        shown = quick_pages(render(made_up.with_lines(count)))
        seen.add(len(shown))
        for number, text in enumerate(shown, 1):
            assert f"page {number} of {len(shown)}" in text
    assert min(seen) <= 5
    assert max(seen) >= 40


def test_sums_are_never_alone_on_a_page() -> None:
    lengths = random.Random(20261125).sample(range(1, 70), 12)
    for count in lengths:
        shown = quick_pages(render(made_up.with_lines(count)))
        text = next(one for one in reversed(shown) if "Total with VAT" in one)
        above = text[: text.rindex("Total with VAT")]
        assert above.count("Own line") >= min(2, count), count
        assert "Before VAT" in above


def test_heading_rows_are_repeated() -> None:
    shown = quick_pages(render(made_up.with_lines(150)))
    with_lines = [text for text in shown if "Own line" in text]
    assert len(with_lines) > 3
    assert all("Rate £" in text for text in with_lines)


def test_the_work_is_never_cut_in_two(paper: bytes) -> None:
    assert sum("The work" in text for text in pages(paper)) == 1


def test_many_elevations_are_all_drawn_and_told() -> None:
    quotation = made_up.quotation()
    (wall,) = quotation.survey.elevations
    names = [f"Side {number}" for number in range(1, 8)]
    sides = tuple(replace(wall, id=f"s{n}", name=name) for n, name in enumerate(names))
    many = replace(quotation, survey=replace(quotation.survey, elevations=sides))
    text = "".join(quick_pages(render(many)))
    assert all(f"{name}, the part worked on" in text for name in names)
    assert "Five further sides are described" in text


def test_paragraphs_are_made_in_one_place() -> None:
    makers = {
        path.name
        for path in ROOM.glob("*.py")
        if re.search(r"\bX?Paragraph\(", path.read_text(encoding="utf-8"))
    }
    assert makers == {"text.py"}


def luminance(colour: object) -> float:
    parts = [getattr(colour, name) for name in ("red", "green", "blue")]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("ink", ["INK", "MUTED", "ACT", "CAUTION", "CRACK"])
@pytest.mark.parametrize("ground", ["PAPER", "ACT_TINT"])
def test_text_reads_in_grey_print(ink: str, ground: str) -> None:
    # WCAG 2.2 criterion 1.4.3 asks 4.5 : 1; grey keeps the luminance its formula takes.
    dark, light = luminance(getattr(styles, ink)), luminance(getattr(styles, ground))
    assert (light + 0.05) / (dark + 0.05) >= 4.5
