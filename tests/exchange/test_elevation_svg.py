"""The drawing as SVG, read back by parsers and painted by a renderer that had no part in it."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PySide6.QtCore import QByteArray
from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import Picture
from estimator.exchange.elevation_svg import write
from estimator.exchange.svg_lettering import escaped
from estimator.survey import survey_file
from estimator.survey.survey import Lintel, Survey, ThinBed, WidthAt
from estimator.survey.wall import path_of, wall_of
from estimator.takeoff.lines import Measure
from estimator.takeoff.measure import measure_all
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import PANEL

SVG = "{http://www.w3.org/2000/svg}"
DEMO = Path(__file__).resolve().parents[2] / "demo"
NAMES = ["window_lime", "quoin_cavity", "terrace"]
GROUPS = [
    *("brickwork", "openings", "levels", "thin-beds", "areas", "bricks", "bars", "legs", "cracks"),
    *("widths", "dimensions", "note"),
]


def surveyed(name: str = "window_lime") -> Survey:
    return survey_file.load(DEMO / f"{name}.json")


def measured(survey: Survey) -> Measure:
    (measure,) = measure_all(survey, (PANEL,), shipped())
    return measure


def drawn(survey: Survey) -> Picture:
    picture = picture_of(survey, 0, measured(survey))
    assert picture is not None
    return picture


def read(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)


def group(root: ElementTree.Element, name: str) -> ElementTree.Element:
    found = [one for one in root.iter(f"{SVG}g") if one.get("id") == name]
    assert len(found) == 1
    return found[0]


def full(survey: Survey) -> Survey:
    """The window with everything on it that can be drawn."""
    (front,) = survey.elevations
    crack = front.cracks[0]
    points = path_of(crack, wall_of(front).coursing).points
    widths = (WidthAt(*points[1], 0.5), WidthAt(*points[4], 2.0))
    opening = replace(front.openings[0], lintel=Lintel.STONE, lintel_mm=150, lintel_bearing_mm=150)
    front = replace(
        front,
        cracks=(replace(crack, widths=widths),),
        openings=(opening,),
        thin_beds=(ThinBed(5, 300, 1200, 5.0),),
        damp_course_mm=155.0,
    )
    return replace(survey, elevations=(front,))


@pytest.mark.parametrize("name", NAMES)
def test_bars_are_as_long_as_they_are_measured(name: str) -> None:
    survey = surveyed(name)
    lines = group(read(write(drawn(survey), scale=20)), "bars").findall(f"{SVG}line")
    lengths = {
        one.get("data-mark"): float(one.get("x2", "")) - float(one.get("x1", "")) for one in lines
    }
    assert lengths == {
        bar.id: pytest.approx(bar.face_mm, abs=0.02) for bar in measured(survey).bars
    }


@pytest.mark.parametrize("name", NAMES)
def test_the_outline_is_in_millimetres_and_the_sheet_at_its_scale(name: str) -> None:
    survey = surveyed(name)
    root = read(write(drawn(survey), scale=25))
    (outline,) = group(root, "brickwork").findall(f"{SVG}polygon")
    points = [tuple(map(float, pair.split(","))) for pair in outline.get("points", "").split()]
    told = survey.elevations[0].outline
    for axis in (0, 1):
        spread = max(p[axis] for p in points) - min(p[axis] for p in points)
        assert spread == pytest.approx(max(p[axis] for p in told) - min(p[axis] for p in told))
    _x, _y, wide, high = map(float, root.get("viewBox", "").split())
    assert float(root.get("width", "").removesuffix("mm")) == pytest.approx(wide / 25, abs=0.01)
    assert float(root.get("height", "").removesuffix("mm")) == pytest.approx(high / 25, abs=0.01)


def test_up_on_the_wall_is_up_on_the_sheet() -> None:
    survey = surveyed()
    lines = group(read(write(drawn(survey))), "bars").findall(f"{SVG}line")
    down = {one.get("data-mark"): float(one.get("y1", "")) for one in lines}
    bars = sorted(measured(survey).bars, key=lambda bar: bar.y_mm)
    assert [bar.id for bar in bars] == sorted(down, key=lambda mark: -down[mark])
    steps = [two.y_mm - one.y_mm for one, two in pairwise(bars)]
    drawn_steps = [down[one.id] - down[two.id] for one, two in pairwise(bars)]
    assert drawn_steps == pytest.approx(steps, abs=0.02)


@pytest.mark.parametrize("name", NAMES)
def test_groups_are_named_and_every_mark_is_there_once(name: str) -> None:
    survey = surveyed(name)
    picture = drawn(survey)
    root = read(write(picture))
    assert [one.get("id") for one in root.findall(f"{SVG}g")] == GROUPS
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"[A-Za-z][\w.-]*", one or "") for one in ids)
    marks = [one.get("data-mark") for one in root.iter() if one.get("data-mark")]
    # Panels that were set out and not drawn share one mark.
    assert {mark for mark in marks if marks.count(mark) > 1} <= {"street/area/panel"}
    shapes = (*picture.cracks, *picture.bars, *picture.bricks, *picture.areas)
    assert {shape.mark for shape in shapes} <= set(marks)
    for one in root.iter():
        if one.get("data-mark"):
            assert one.findtext(f"{SVG}title")


def test_what_was_seen_on_the_wall_is_said_in_titles() -> None:
    root = read(write(drawn(full(surveyed()))))
    titles = {one.text for one in root.iter(f"{SVG}title")}
    assert {
        *("Lintel: stone", "Damp course, as seen", "Thin bed under course 5: 5 mm"),
        *("2 mm wide, the widest", "0.5 mm wide"),
    } <= titles
    assert "Not a structural report" in (root.findtext(f"{SVG}desc") or "")


NASTY = ["<b>&\"'", "]]><script>", "a\x00b\x07", "&amp;", "ż 🧱 \ud800", "x' onload='y"]


@pytest.mark.parametrize("nasty", NASTY)
def test_peoples_words_come_back_as_they_were_written(nasty: str) -> None:
    survey = surveyed()
    (front,) = survey.elevations
    kind = replace(front.openings[0], kind=nasty)
    front = replace(front, id=nasty, name=nasty, openings=(kind,))
    text = write(drawn(replace(survey, elevations=(front,))), title=nasty)
    # The library puts text in unescaped; were it to begin to escape, this would read twice escaped.
    written = re.sub("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "", nasty)
    root = read(text)
    assert root.findtext(f"{SVG}title") == f"{written}, 1 : 1"
    (opening,) = [
        one for one in group(root, "openings") if (one.get("data-mark") or "").endswith("/1")
    ]
    assert (opening.findtext(f"{SVG}title") or "").startswith(f"Opening: {written}, ")
    assert opening.get("data-mark") == f"{written}/opening/1"
    assert {one.tag.removeprefix(SVG) for one in root.iter()} <= {
        *("svg", "g", "title", "desc", "path", "polygon", "polyline", "line", "rect", "circle"),
        "text",
    }
    assert not [name for one in root.iter() for name in one.attrib if name.startswith("on")]


def test_escaping_leaves_nothing_xml_cannot_hold() -> None:
    held = escaped("".join(map(chr, range(0x300))) + "\ufffe\uffff\ud83e")
    assert ElementTree.fromstring(f'<a b="{held}">{held}</a>').text


def test_the_same_picture_is_the_same_file() -> None:
    assert write(drawn(surveyed())) == write(drawn(surveyed()))


def painted(text: str, wide: int = 1500) -> tuple[QImage, float]:
    """The drawing on white by Qt's renderer, and its pixels to a millimetre."""
    renderer = QSvgRenderer(QByteArray(text.encode()))
    assert renderer.isValid()
    box = renderer.viewBoxF()
    image = QImage(wide, round(wide * box.height() / box.width()), QImage.Format.Format_RGB32)
    image.fill(0xFFFFFFFF)
    painter = QPainter(image)
    renderer.render(painter)
    painter.end()
    return image, wide / box.width()


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("name", NAMES)
def test_cracks_are_painted_where_they_are(name: str) -> None:
    survey = surveyed(name)
    text = write(drawn(survey))
    image, per_mm = painted(text)
    root = read(text)
    for shape in group(root, "cracks").iter(f"{SVG}polyline"):
        points = [tuple(map(float, pair.split(","))) for pair in shape.get("points", "").split()]
        for (x, y), (x_end, y_end) in pairwise(points):
            assert is_red(image, (x + x_end) / 2 * per_mm, (y + y_end) / 2 * per_mm)
    blank = image.pixelColor(3, 3)
    assert (blank.red(), blank.green(), blank.blue()) == (255, 255, 255)


def is_red(image: QImage, x: float, y: float) -> bool:
    """Whether the crack's red is within a pixel of a place."""
    near = [
        image.pixelColor(round(x) + across, round(y) + down)
        for across in (-1, 0, 1)
        for down in (-1, 0, 1)
    ]
    return any(one.red() - one.green() > 25 and one.red() - one.blue() > 25 for one in near)
