"""The drawn wall brought to the desk: each kind of mark with its sizes, and what is made of it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache, partial
from uuid import uuid4

from estimator.desktop import kept
from estimator.desktop.application import Application
from estimator.desktop.columns import Columns
from estimator.desktop.state import OpenJob
from estimator.exchange.photographs import TakenIn, take_in
from estimator.quoting.edits import Work
from estimator.store.database import Database
from estimator.survey.survey import Area, Party, Photo, PhotoPoint, Survey
from tests.desktop.fakes import demo_survey
from tests.desktop.wall.photos.desk import CORNERS
from tests.desktop.wall.photos.scenes import CAMERA, crossing, photograph, seen
from tests.journeys.call_by_keys import wait_until

SIDE = "gable"
MARKS = {
    "opening": f"{SIDE}/opening/window",
    "crack": f"{SIDE}/crack/a",
    "brick": "",
    "bar": "",
    "area": f"{SIDE}/area/panel",
    "thin_bed": f"{SIDE}/thin/1",
    "joint": f"{SIDE}/joint/1",
    "damp": f"{SIDE}/damp",
    "outline": f"{SIDE}/outline/1",
    "photo": f"{SIDE}/photo/p1",
}
"""What is selected in each scene; of bricks and bars, the first there is."""
TOOLS = ("wall", "opening", "crack", "brick", "bar", "area", "thin_bed", "photo")
"""Tools in hand while nothing is selected; some have sizes of their own."""
PAPERS = ("compare", "survey_paper")
SCENES = (
    *(f"wall: {kind} selected" for kind in MARKS),
    *(f"wall: {tool} in hand" for tool in TOOLS),
    *(f"wall: {name}" for name in PAPERS),
)


@cache
def _photo() -> tuple[TakenIn, Photo]:
    taken = take_in(photograph())
    places = [crossing(*counted) for counted in CORNERS]
    points = tuple(PhotoPoint(*seen(CAMERA, place), *place) for place in places)
    shown = Photo("p1", SIDE, taken.sha256, taken.width_px, taken.height_px, points)
    return taken, replace(shown, caption="<b>From</b> the lawn", taken="2026-11-02")


def survey(customer: Party) -> Survey:
    """The gable drawn by hand, with an area, a movement joint and a photograph besides."""
    drawn = demo_survey("drawn_gable")
    (gable,) = drawn.elevations
    corners = ((300.0, 305.0), (1200.0, 305.0), (1200.0, 905.0), (300.0, 905.0))
    gable = replace(gable, areas=(Area("panel", corners),), movement_joints_mm=(4000.0,))
    return replace(drawn, customer=customer, elevations=(gable,), photos=(_photo()[1],))


def go(shown: Application, scene: str, customer: Party) -> None:
    """Bring a scene of the drawn wall to the desk."""
    columns = shown.desk.columns
    assert columns is not None
    job = OpenJob(Work(survey(customer)), uuid4().hex)
    answered: list[object] = []
    shown.filing.ask(partial(_keep, job), answered.append)
    wait_until(lambda: bool(answered), "the photograph was not kept")
    columns.wall.rail.take("point")
    shown.session.show_job(job)
    shown.desk.show_page(columns)
    columns.look_at_wall()
    wait_until(lambda: not shown.session.sight.is_settling, "the range did not settle")
    wait_until(lambda: columns.wall.drafting.side_id == SIDE, "the wall did not come")
    what, _space, how = scene.removeprefix("wall: ").partition(" ")
    if what in PAPERS:
        _paper(shown, columns, what)
    elif how == "selected":
        _select(columns, what)
    else:
        columns.wall.rail.take(what)


def _keep(job: OpenJob, database: Database) -> None:
    kept.keep_photo(database, job, _photo()[0])


def _select(columns: Columns, kind: str) -> None:
    drafting = columns.wall.drafting
    picture = drafting.shown
    assert picture is not None
    firsts = {"brick": picture.bricks, "bar": picture.bars}
    mark = firsts[kind][0].mark if kind in firsts else MARKS[kind]
    drafting.select(mark)
    form = columns.wall.particulars.form
    assert form is not None and form.isVisible(), f"no sizes of {mark}"
    if kind == "photo":
        album = drafting.album
        wait_until(lambda: album.lies_flat(album.photos[0]), "the photograph did not lie flat")


def _paper(shown: Application, columns: Columns, name: str) -> None:
    shown.desk.actions_[name].trigger()
    if name == "survey_paper":
        wait_until(columns.survey.page.email.isEnabled, "no paper came")
    else:
        assert columns.is_comparing
