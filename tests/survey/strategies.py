"""Surveys by the thousand that a survey file may hold, for properties."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from estimator.masonry.bond import bond_keys, takes_ratio
from estimator.masonry.brick import format_keys
from estimator.survey.questions import COUNTED, NONE_OF_THESE, NOT_SURE, Kind, Question, questions
from estimator.survey.ranges import Range, Told
from estimator.survey.survey import (
    Answer,
    Area,
    Asked,
    Basis,
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    CustomerKind,
    Elevation,
    EngineersReport,
    Ground,
    HandBar,
    HandWork,
    Lintel,
    Mortar,
    Opening,
    Party,
    Photo,
    PhotoPoint,
    Reading,
    Signs,
    Site,
    SteppedRun,
    StraightRun,
    Survey,
    ThinBed,
    TracedRun,
    Treatment,
    WallBuild,
    WallEnd,
    WidthAt,
)

WIDTH_MM, HEIGHT_MM = 6000.0, 4000.0
"""Every wall drawn here holds a rectangle of this size."""

answers = st.sampled_from(Answer)
names = st.text(
    st.characters(blacklist_categories=("Cc", "Cs"), blacklist_characters="\u2028\u2029"),
    min_size=1,
    max_size=30,
).filter(lambda text: bool(text.strip()))
ids = st.text("abcdefgh0123-é🧱\u200f", min_size=1, max_size=8)
notes = st.one_of(st.just(""), names, st.just("first line\nsecond line\tand a gap"))
dates = st.dates().map(str).filter(lambda text: len(text) == 10)
lines = st.lists(names, max_size=3).map(tuple)


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers as they are typed and as they are measured."""
    return st.one_of(
        st.integers(int(low) + 1, int(high)).map(float),
        st.floats(low, high, allow_subnormal=False),
    )


def told(low: float, high: float) -> st.SearchStrategy[Told]:
    """A number, or a range of three."""
    three = st.lists(numbers(low, high), min_size=3, max_size=3).map(sorted)
    return st.one_of(numbers(low, high), three.map(lambda ends: Range(*ends)))


courses = st.one_of(
    st.integers(1, 5).map(float),
    st.tuples(*[st.integers(1, 5)] * 3).map(lambda ends: Range(*map(float, sorted(ends)))),
)
spans = st.tuples(numbers(0, WIDTH_MM / 2), numbers(WIDTH_MM / 2 + 1, WIDTH_MM))


def legs_of(run: TracedRun) -> st.SearchStrategy[tuple[int, ...]]:
    """Some of the legs of a traced crack, in any order."""
    return st.lists(st.integers(1, len(run.points) - 1), max_size=4, unique=True).map(tuple)


points = st.tuples(numbers(0, WIDTH_MM), numbers(0, HEIGHT_MM))
runs = st.one_of(
    st.builds(
        SteppedRun,
        x_mm=numbers(2500, 3500),
        course=st.integers(1, 8),
        courses=courses,
        lean=st.sampled_from(("left", "right")),
        turn_after=st.integers(0, 4),
    ),
    st.builds(StraightRun, x_mm=numbers(0, WIDTH_MM), course=st.integers(1, 8), courses=courses),
    st.builds(lambda course, span: BedRun(course, *span), course=st.integers(1, 12), span=spans),
    st.builds(
        TracedRun,
        points=st.lists(points, min_size=2, max_size=5, unique=True).map(tuple),
        through_bricks=st.booleans(),
    ).flatmap(lambda run: legs_of(run).map(lambda cuts: replace(run, cuts=cuts))),
)
widths = st.builds(WidthAt, numbers(0, WIDTH_MM), numbers(0, HEIGHT_MM), numbers(0, 40))


def with_widest(crack: Crack) -> Crack:
    """The crack, as wide as the widest place measured where its width is plain."""
    if not crack.widths or isinstance(crack.width_mm, Range):
        return crack
    return replace(crack, width_mm=max(one.width_mm for one in crack.widths))


cracks = st.builds(
    Crack,
    id=ids,
    run=runs,
    width_mm=told(0, 40),
    both_faces=answers,
    tapers=answers,
    stitch=st.booleans(),
    widths=st.lists(widths, max_size=3).map(tuple),
).map(with_widest)
bricks = st.builds(
    CrackedBrick,
    course=st.integers(1, 12),
    place=st.integers(2, 8),
    treatment=st.sampled_from(Treatment),
    half=st.booleans(),
)
openings = st.builds(
    Opening,
    id=ids,
    left_mm=numbers(500, 2000),
    bottom_mm=numbers(300, 1500),
    width_mm=numbers(300, 2000),
    height_mm=numbers(300, 2000),
    kind=st.sampled_from(("window", "door", "vent")),
    sill_mm=numbers(0, 150),
    lintel=st.sampled_from(Lintel),
    lintel_mm=st.just(0.0) | numbers(1, 300),
    lintel_bearing_mm=st.just(0.0) | numbers(0, 300),
).map(lambda one: one if one.lintel_mm else replace(one, lintel_bearing_mm=0.0))
outlines = st.sampled_from(
    (
        ((0.0, 0.0), (WIDTH_MM, 0.0), (WIDTH_MM, HEIGHT_MM), (0.0, HEIGHT_MM)),
        ((0.0, HEIGHT_MM), (WIDTH_MM, HEIGHT_MM), (WIDTH_MM, 0.0), (0.0, 0.0)),
        ((0.0, 0.0), (6500.5, 0.0), (6500.5, 4000.0), (3250.25, 6000.0), (0.0, 4000.0)),
    )
)
areas = st.builds(Area, id=ids, outline=outlines)
thin_beds = st.builds(
    lambda course, span, thickness: ThinBed(course, *span, thickness_mm=thickness),
    course=st.integers(1, 12),
    span=spans,
    thickness=numbers(1, 4),
)
hand_bars = st.builds(
    lambda identity, course, span, work, legs: HandBar(identity, course, *span, work, *legs),
    ids,
    st.integers(1, 12),
    spans,
    st.sampled_from(HandWork),
    st.tuples(*[st.just(0.0) | numbers(0, 600)] * 2),
)


@st.composite
def brickworks(draw: st.DrawFn) -> Brickwork:
    """Brickwork in any format and bond, with a ratio where the bond has one."""
    bond = draw(st.sampled_from(bond_keys()))
    usual = draw(st.one_of(st.none(), numbers(8, 20)))
    return Brickwork(
        brick=draw(st.sampled_from(format_keys())),
        bond=bond,
        ratio=draw(st.integers(0, 6)) if takes_ratio(bond) else 0,
        mortar=draw(st.sampled_from(Mortar)),
        build=draw(st.sampled_from(WallBuild)),
        bed_usual_mm=usual,
        bed_least_mm=draw(st.one_of(st.none(), numbers(1, 5))),
        perpend_mm=draw(st.one_of(st.none(), numbers(5, 20))),
    )


def by_id(strategy: st.SearchStrategy[object], most: int) -> st.SearchStrategy[object]:
    """Several things with an id each of its own."""
    return st.lists(strategy, max_size=most, unique_by=lambda one: one.id).map(tuple)  # type: ignore[attr-defined]


elevations = st.builds(
    Elevation,
    id=ids,
    name=names,
    outline=outlines,
    brickwork=brickworks(),
    openings=by_id(openings, 1),
    left_end=st.sampled_from(WallEnd),
    right_end=st.sampled_from(WallEnd),
    cracks=by_id(cracks, 4),
    bricks=st.lists(bricks, max_size=3, unique_by=lambda one: (one.course, one.place)).map(tuple),
    hidden_bricks=told(0, 20),
    areas=by_id(areas, 2),
    movement_joints_mm=st.lists(numbers(0, WIDTH_MM), max_size=2).map(tuple),
    thin_beds=st.lists(thin_beds, max_size=2).map(tuple),
    bars=by_id(hand_bars, 3),
    damp_course_mm=st.none() | numbers(-300, 2000),
    datum_height_mm=numbers(-100, 4000),
    ground=st.sampled_from(Ground),
    ornament=notes,
)
signs = st.builds(Signs, **dict.fromkeys(Signs.__slots__, answers))
parties = st.builds(
    Party,
    name=names,
    kind=st.sampled_from(CustomerKind),
    address=lines,
    site=lines,
    telephone=st.just("01632 960100"),
    email=st.just("a.sample@example.com"),
    vat_number=st.just(""),
    is_end_user=st.booleans(),
)
sites = st.builds(
    Site,
    power=answers,
    water=answers,
    parking=answers,
    travel_miles=numbers(0, 80),
    built=st.sampled_from(("", "1931", "Victorian", "2004", "1890, added to in 2008")),
    empty_months=st.integers(0, 60),
)
reports = st.builds(EngineersReport, engineer=names, reference=names, date=dates)


def _choices(question: Question) -> st.SearchStrategy[tuple[str, ...]]:
    """What can be chosen for a question, one or several, or not sure."""
    keys = [choice.key for choice in question.choices]
    alone = st.sampled_from([*keys, NOT_SURE]).map(lambda key: (key,))
    if question.kind is not Kind.SEVERAL:
        return alone
    named = st.sampled_from([key for key in keys if key != NONE_OF_THESE])
    return alone | st.lists(named, min_size=1, unique=True).map(tuple)


def _answer(question: Question) -> st.SearchStrategy[Asked]:
    """Any answer to one question."""
    chosen = st.builds(Asked, st.just(question.key), choices=_choices(question), said=notes)
    if question.kind is not Kind.AMOUNT:
        return chosen
    units = (question.unit, *COUNTED) if question.key == "length" else (question.unit,)
    amount = st.builds(
        Asked,
        st.just(question.key),
        amount=st.one_of(numbers(0, 50), numbers(0, 20_000)),
        unit=st.sampled_from(units),
        about=st.booleans(),
        said=notes,
    )
    return chosen | amount


asked = st.lists(
    st.deferred(lambda: st.sampled_from(questions()).flatmap(_answer)),
    max_size=17,
    unique_by=lambda one: one.question,
).map(tuple)
"""Answers as a caller may give them, to some or all of the questions."""
readings = st.builds(
    Reading, crack=ids, point=names, date=dates, width_mm=numbers(0, 40), reader=st.just("") | names
)
photo_points = st.builds(
    PhotoPoint, numbers(0, 800), numbers(0, 600), numbers(0, WIDTH_MM), numbers(0, HEIGHT_MM)
)
photos = st.builds(
    Photo,
    id=ids,
    elevation=st.just(""),
    picture=st.text("0123456789abcdef", min_size=64, max_size=64),
    width_px=st.integers(800, 4000),
    height_px=st.integers(600, 4000),
    points=st.lists(
        photo_points,
        max_size=5,
        unique_by=(lambda one: (one.across_px, one.down_px), lambda one: (one.x_mm, one.y_mm)),
    ).map(tuple),
    caption=notes,
    taken=st.just("") | dates,
)


def joined(survey: Survey) -> Survey:
    """The survey with photographs of, and returns to, elevations it has."""
    known = [elevation.id for elevation in survey.elevations]
    shown = tuple(replace(photo, elevation=known[-1]) for photo in survey.photos)
    first, others = survey.elevations[0], survey.elevations[1:]
    first = replace(first, left_return=known[-1] if others else "")
    return replace(survey, photos=shown, elevations=(first, *others))


surveys = st.builds(
    Survey,
    reference=names,
    title=names,
    date=dates,
    basis=st.sampled_from(Basis),
    customer=parties,
    site=sites,
    elevations=st.lists(elevations, min_size=1, max_size=2, unique_by=lambda one: one.id).map(
        tuple
    ),
    signs=signs,
    said=notes,
    not_seen=notes,
    new_mortar=st.sampled_from(("", "nhl35_1_3", "cement_lime_1_1_6")),
    engineers_report=st.one_of(st.none(), reports),
    asked=asked,
    readings=st.lists(readings, max_size=3).map(tuple),
    drawn=st.booleans(),
    photos=by_id(photos, 2),
).map(joined)
"""Surveys that a survey file may hold."""
