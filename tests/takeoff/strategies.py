"""Walls of every kind, for properties that hold of all."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from estimator.survey.survey import (
    Area,
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    CrackRun,
    Elevation,
    Mortar,
    Opening,
    SteppedRun,
    StraightRun,
    ThinBed,
    TracedRun,
    Treatment,
    WallBuild,
    WallEnd,
)
from tests.takeoff.walls import rectangle

WIDTH, HEIGHT = 6000.0, 3000.0
GABLE = ((0.0, 0.0), (WIDTH, 0.0), (WIDTH, 1500.0), (WIDTH / 2, HEIGHT), (0.0, 1500.0))
ACROSS = st.integers(0, int(WIDTH)).map(float)
UP = st.integers(1, 30)


def runs() -> st.SearchStrategy[CrackRun]:
    """Cracks stepped, straight, along a bed or traced."""
    courses = st.integers(1, 20).map(float)
    lean = st.sampled_from(["left", "right"])
    point = st.tuples(ACROSS, st.integers(20, int(HEIGHT) - 20).map(float))
    return st.one_of(
        st.builds(SteppedRun, ACROSS, UP, courses, lean, st.integers(0, 8)),
        st.builds(StraightRun, ACROSS, UP, courses),
        st.builds(lambda bed, x, length: BedRun(bed, x, x + length), UP, ACROSS, st.just(700.0)),
        st.builds(TracedRun, st.tuples(point, point, point), st.booleans()),
    )


def cracks(most: int = 4) -> st.SearchStrategy[tuple[Crack, ...]]:
    """Some cracks, named in order."""
    one = st.builds(lambda run, stitch: Crack("", run, 2.0, stitch=stitch), runs(), st.booleans())
    return st.lists(one, max_size=most).map(
        lambda found: tuple(replace(crack, id=f"c{n}") for n, crack in enumerate(found))
    )


def openings() -> st.SearchStrategy[tuple[Opening, ...]]:
    """Up to two windows, apart from each other and from the ends."""
    size = st.tuples(st.integers(300, 1500), st.integers(300, 1200), st.sampled_from([0, 75]))
    low = st.integers(100, 900)

    def made(column: int, bottom: int, of: tuple[int, int, int]) -> Opening:
        width, height, sill = of
        return Opening(f"w{column}", 400 + 2800 * column, bottom, width, height, sill_mm=sill)

    left = st.builds(made, st.just(0), low, size)
    right = st.builds(made, st.just(1), low, size)
    return st.one_of(st.just(()), st.tuples(left), st.tuples(left, right))


def bricks() -> st.SearchStrategy[tuple[CrackedBrick, ...]]:
    """Cracked bricks, some of them more than once."""
    one = st.builds(
        CrackedBrick,
        st.integers(1, 15),
        st.integers(2, 12),
        st.sampled_from(Treatment),
        st.booleans(),
    )
    return st.lists(one, max_size=8).map(tuple)


def areas() -> st.SearchStrategy[tuple[Area, ...]]:
    """Up to two areas, perhaps over each other."""

    def made(name: str, x: float, y: int, wide: int) -> Area:
        return Area(name, tuple((x + a, y + b) for a, b in rectangle(wide, 900)))

    x, y, wide = st.integers(0, 4000).map(float), st.integers(0, 1500), st.integers(500, 2000)
    one, two = st.builds(made, st.just("a"), x, y, wide), st.builds(made, st.just("b"), x, y, wide)
    return st.one_of(st.just(()), st.tuples(one), st.tuples(one, two))


def brickworks() -> st.SearchStrategy[Brickwork]:
    """Brickwork in several bonds, mortars and builds."""
    return st.builds(
        Brickwork,
        bond=st.sampled_from(["stretcher", "english", "flemish"]),
        mortar=st.sampled_from(Mortar),
        build=st.sampled_from(WallBuild),
        bed_usual_mm=st.sampled_from([None, 6.0, 12.0]),
    )


def elevations(name: str = "front") -> st.SearchStrategy[Elevation]:
    """Whole sides."""
    thin = st.builds(lambda course, x: ThinBed(course, x, x + 400, 5.0), st.integers(1, 20), ACROSS)
    return st.builds(
        Elevation,
        st.just(name),
        st.just(name.title()),
        st.sampled_from([rectangle(WIDTH, HEIGHT), GABLE]),
        brickworks(),
        openings(),
        st.sampled_from(WallEnd),
        st.sampled_from(WallEnd),
        cracks(),
        bricks(),
        hidden_bricks=st.integers(0, 3).map(float),
        areas=areas(),
        movement_joints_mm=st.lists(ACROSS, max_size=2).map(tuple),
        thin_beds=st.lists(thin, max_size=2).map(tuple),
    )
