"""The survey on paper: everything that was measured is found on it, and nothing that was not."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Mapping
from dataclasses import replace

import pypdf
import pypdfium2
import pytest
from PIL import Image, ImageChops
from reportlab.lib.units import mm

from estimator.documents import styles
from estimator.documents.dimension_lines import STROKE, room
from estimator.documents.drawing import ElevationDrawing
from estimator.documents.figure import SCALES, Sign, low_of
from estimator.documents.photograph import opened
from estimator.documents.survey_content import SurveyContent, content_of
from estimator.documents.survey_figure import HEIGHT, of_survey
from estimator.documents.survey_paper import render
from estimator.drawing.dimensions import Side
from estimator.quoting.quotation import Trader
from estimator.survey.ranges import Range
from estimator.survey.survey import (
    CrackedBrick,
    HandBar,
    HandWork,
    Lintel,
    Photo,
    PhotoPoint,
    Reading,
    Survey,
    ThinBed,
    Treatment,
    WidthAt,
)
from estimator.survey.wall import path_of, wall_of
from estimator.takeoff.lines import Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import LOCAL
from tests.documents import made_up
from tests.documents.reading import flat, quick_pages, reader

NAMES = ["window_lime", "quoin_cavity", "terrace", "phone_call", "refer"]
DATE = "2026-11-26"
SCALE = 2
NOT_STRUCTURAL = "It is not a structural report."


def jpeg(colour: tuple[int, int, int], wide: int = 400, high: int = 300) -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (wide, high), colour).save(written, "JPEG")
    return written.getvalue()


def name_of(picture: bytes) -> str:
    return hashlib.sha256(picture).hexdigest()


RED, BLUE = jpeg((200, 20, 20)), jpeg((20, 20, 200), 300, 400)
PICTURES = {name_of(RED): RED, name_of(BLUE): BLUE}


def full() -> Survey:
    """The window with everything on it that a survey holds."""
    survey = made_up.survey()
    (front,) = survey.elevations
    crack = front.cracks[0]
    points = path_of(crack, wall_of(front).coursing).points
    widths = (WidthAt(*points[1], 0.5), WidthAt(*points[-2], 1.2), WidthAt(*points[6], 2.4))
    front = replace(
        front,
        cracks=(replace(crack, widths=widths, width_mm=2.4),),
        openings=(
            replace(front.openings[0], lintel=Lintel.STONE, lintel_mm=150, lintel_bearing_mm=150),
        ),
        thin_beds=(ThinBed(5, 300, 1200, 5.5),),
        damp_course_mm=155.0,
        bars=(HandBar("h", 3, 600, 1500), HandBar("k", 9, 1200, 2100, HandWork.KEPT)),
        bricks=(CrackedBrick(12, 3, Treatment.REPLACE), CrackedBrick(14, 2, Treatment.TURN)),
    )
    corners = (PhotoPoint(10, 290, 0, 0), PhotoPoint(390, 10, 4000, 2000))
    return replace(
        survey,
        elevations=(front,),
        photos=(
            Photo("1", front.id, name_of(RED), 400, 300, corners, "From the gate", "2026-11-24"),
            Photo("2", front.id, name_of(BLUE), 300, 400, (), "Close to"),
            Photo("3", front.id, "0" * 64, 300, 400, (), "Indoors"),
        ),
        readings=(Reading("a", "upper pins", "2026-10-01", 1.9, "I M"),),
    )


def measured(survey: Survey) -> Measure:
    return measure(survey, LOCAL, shipped())


def paper(survey: Survey, pictures: Mapping[str, bytes] = PICTURES) -> bytes:
    return render(survey, measured(survey), made_up.trader(), pictures, DATE)


def said(survey: Survey, pictures: Mapping[str, bytes] = PICTURES) -> SurveyContent:
    return content_of(survey, measured(survey), made_up.trader(), pictures, DATE)


def text_of(made: bytes) -> str:
    return flat("".join(quick_pages(made)))


@pytest.mark.parametrize("name", NAMES)
def test_a_wall_is_drawn_as_large_as_its_room_lets_it(name: str) -> None:
    survey = made_up.survey(name)
    figure = of_survey(survey, 0, None)
    left, _bottom, right, top = figure.bounds

    def size(scale: int) -> tuple[float, float]:
        high = (top - low_of(figure.picture, figure.bounds)) * mm / scale
        return (right - left) * mm / scale, high

    wide, high = size(figure.scale)
    assert wide + room(figure.dimensions, Side.RIGHT) <= styles.WIDTH
    assert high + room(figure.dimensions, Side.BELOW) <= HEIGHT
    assert f"1 : {figure.scale}" in figure.caption
    assert figure.bounds == figure.picture.masonry.wall
    larger = [one for one in SCALES if one < figure.scale][-2:]
    for scale in larger[:1]:
        # Two scales larger, even the rows of this scale would leave no room.
        wide, high = size(scale)
        assert (
            wide + room(figure.dimensions, Side.RIGHT) > styles.WIDTH
            or high + room(figure.dimensions, Side.BELOW) > HEIGHT
        )


@pytest.mark.parametrize("name", NAMES)
def test_everything_lies_inside_the_margins(name: str) -> None:
    survey = made_up.survey(name)
    made = render(survey, measured(survey), made_up.trader(), {}, DATE)
    with pypdfium2.PdfDocument(made) as opened_paper:
        for page in opened_paper:
            shown = ImageChops.invert(page.render(scale=SCALE).to_pil().convert("L"))
            inked = shown.getbbox()
            assert inked is not None
            left, _top, right, bottom = (edge / SCALE for edge in inked)
            # The slanting strokes of dimensions stand half outside.
            assert left >= styles.MARGIN - STROKE - 1
            assert right <= styles.PAGE_WIDTH - styles.MARGIN + 2
            assert bottom <= styles.PAGE_HEIGHT - styles.MARGIN + 4


def test_the_paper_says_all_that_was_measured() -> None:
    survey = full()
    words = text_of(paper(survey))
    for part in (
        *("Survey", "as measured on site", survey.customer.name, "26 November 2026"),
        *("0.5, 2.4, 1.2 from its foot up; widest 2.4", "11 courses", "not seen", "even"),
        *("Flemish bond", "10 mm as measured; 9 mm at the least"),
        *("5.5 mm under course 5, from 0.30 m to 1.20 m", "Seen 0.16 m above"),
        *("lintel: stone", "bar set by hand", "bar kept by hand", "thin bed", "widest place"),
        *("Replace: course 12, brick 3", "Turn: course 14, brick 2"),
        *("From the gate. Front, ground floor, 24 November 2026.", "Two places known"),
        *("Close to. Front, ground floor, no date noted.",),
        *("Indoors. Front, ground floor, no date noted. This photograph is not at hand",),
        *("upper pins", "1 October 2026", "1.9", survey.not_seen, NOT_STRUCTURAL),
    ):
        assert flat(part) in words, part


def test_widths_stand_on_the_drawing_the_widest_strong() -> None:
    first = reader(paper(full())).pages[0]
    found: dict[str, str] = {}

    def note(text: str, _cm: object, _tm: object, font: dict[str, str], _size: float) -> None:
        if text.strip() in ("0.5", "1.2", "2.4"):
            found[text.strip()] = font["/BaseFont"]

    first.extract_text(visitor_text=note)
    assert set(found) == {"0.5", "1.2", "2.4"}
    assert "Semibold" in found["2.4"]
    assert "Semibold" not in found["0.5"] and "Semibold" not in found["1.2"]


def test_a_told_survey_says_its_ranges_and_that_nothing_was_measured() -> None:
    survey = made_up.survey("phone_call")
    crack = survey.elevations[0].cracks[0]
    assert isinstance(crack.width_mm, Range)
    made = render(survey, None, made_up.trader(), {}, DATE)
    words = text_of(made)
    assert flat("as told on the telephone, not measured") in words
    assert flat("about 2 (1 to 4) at its widest") in words
    assert flat("Nothing on it has been measured yet") in words
    assert flat("likely, not sure") in words


def test_a_wall_to_be_referred_says_so_and_shows_no_bars() -> None:
    survey = made_up.survey("refer")
    words = text_of(render(survey, None, made_up.trader(), {}, DATE))
    assert flat("chartered structural engineer") in words
    assert flat("no bars are drawn: only the wall as it was seen") in words
    assert "bar as worked out" not in [word for _key, word in of_survey(survey, 0, None).legend]


def test_nothing_noted_is_not_said_as_everything_seen() -> None:
    survey = replace(full(), not_seen="  ")
    assert flat("Nothing was noted as out of sight. That does not mean") in text_of(paper(survey))


@pytest.mark.parametrize("nasty", ["<b>Ines & co</b>", '"><img src="/etc/passwd">', "a < b && c"])
def test_peoples_words_are_printed_as_they_stand(nasty: str) -> None:
    survey = full()
    (front,) = survey.elevations
    front = replace(front, name=nasty, ornament=nasty)
    opening = replace(front.openings[0], kind=nasty)
    survey = replace(
        survey,
        elevations=(replace(front, openings=(opening,)),),
        customer=replace(survey.customer, name=nasty),
        photos=(replace(survey.photos[1], caption=nasty),),
        readings=(Reading("a", nasty, DATE, 1.0, nasty),),
        said=nasty,
        not_seen=nasty,
    )
    trader = replace(made_up.trader(), name=nasty)
    words = text_of(render(survey, None, trader, PICTURES, DATE))
    assert words.count(flat(nasty)) >= 9


def test_the_same_survey_gives_the_same_bytes() -> None:
    assert paper(full()) == paper(full())


def test_photographs_are_printed_as_they_were_kept() -> None:
    made = reader(paper(full()))
    images = [image.image for page in made.pages for image in page.images]
    assert sorted(image.size for image in images if image) == [(300, 400), (400, 300)]
    kept = {stream_of(image) for page in made.pages for image in objects(page)}
    assert kept == {RED, BLUE}


def objects(page: pypdf.PageObject) -> list[pypdf.generic.StreamObject]:
    found = page["/Resources"].get("/XObject", {})  # type: ignore[union-attr]
    every = [found[name].get_object() for name in found]
    return [one for one in every if one.get("/Subtype") == "/Image"]


def stream_of(image: pypdf.generic.StreamObject) -> bytes:
    """The JPEG inside the file, taken out of its printable wrapping."""
    data: bytes = image._data
    filters = image["/Filter"]
    if isinstance(filters, list) and filters[0] == "/ASCII85Decode":
        decoded = pypdf.filters.ASCII85Decode.decode(data)
        return decoded if isinstance(decoded, bytes) else decoded.encode("latin-1")
    return data


@pytest.mark.parametrize(
    "broken", [b"", b"no picture", b"\xff\xd8\xff\xe0 cut", RED[:40], b"%PDF-1.7", b"\x89PNG\r\n"]
)
def test_a_picture_that_cannot_be_opened_is_said_in_words(broken: bytes) -> None:
    survey = full()
    photo = replace(survey.photos[0], picture=name_of(broken))
    survey = replace(survey, photos=(photo,))
    assert opened(broken) is None
    words = text_of(paper(survey, {photo.picture: broken}))
    assert flat("This photograph cannot be opened, so it is not printed.") in words


def test_a_firm_without_a_name_makes_a_draft() -> None:
    made = render(full(), None, Trader(""), {}, DATE)
    assert all(flat("DRAFT") in flat(page) for page in quick_pages(made))


def test_every_side_has_its_drawing_and_its_own_table() -> None:
    survey = full()
    (front,) = survey.elevations
    rear = replace(front, id="rear", name="Rear", cracks=(), bricks=(), thin_beds=(), bars=())
    content = said(replace(survey, elevations=(front, rear)))
    assert [side.title for side in content.sides] == [front.name, "Rear"]
    assert content.sides[0].cracks.rows and not content.sides[1].cracks.rows
    assert content.sides[1].no_cracks
    words = text_of(paper(replace(survey, elevations=(front, rear))))
    assert flat("No crack was seen on this side.") in words


def test_keys_explain_only_what_is_drawn() -> None:
    survey = full()
    keys = [kind for kind, _word in of_survey(survey, 0, measured(survey)).legend]
    assert keys == [
        *(Sign.BAR, Sign.BY_HAND, Sign.KEPT, Sign.WIDEST, Sign.THIN_BED, Sign.DAMP_COURSE),
        *(Treatment.REPLACE, Treatment.TURN),
    ]
    bare = [kind for kind, _word in of_survey(made_up.survey(), 0, None).legend]
    assert bare == [Sign.USUAL_DAMP_COURSE]


def test_a_drawing_with_all_its_rows_takes_the_room_it_says() -> None:
    figure = of_survey(made_up.survey("terrace"), 0, None)
    drawing = ElevationDrawing(figure, styles.WIDTH)
    _width, height = drawing.wrap(styles.WIDTH, 700)
    wall = (figure.bounds[3] - low_of(figure.picture, figure.bounds)) * mm / figure.scale
    assert height == pytest.approx(wall + room(figure.dimensions, Side.BELOW) + 15.0)


def test_very_long_words_go_on_over_pages() -> None:
    survey = full()
    long = "The render hides it all. " * 400
    survey = replace(
        survey,
        not_seen=long,
        said=long,
        photos=(replace(survey.photos[1], caption=long), *survey.photos),
        readings=(Reading("a", long, DATE, 1.0, long),),
    )
    words = text_of(paper(survey))
    assert words.count(flat("The render hides it all.")) >= 4 * 400
