"""Places on the wall in the words of the gang."""

from __future__ import annotations

from estimator.survey.survey import Survey
from estimator.takeoff.lines import Bar, Mark

KINDS = {"bar": "Bar", "crack": "Crack", "area": "Area"}


def elevation_of(mark: Mark) -> str:
    """Return the id of the elevation a mark is on.

    >>> elevation_of("front/bar/3")
    'front'
    """
    return mark.split("/", 1)[0]


def side_name(mark: Mark, survey: Survey) -> str:
    """Return the name of the elevation a mark is on; its id where the survey has it no more.

    >>> from estimator.survey.survey import Basis, Elevation, Party, Site
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (wall,))
    >>> side_name("f/bar/3", seen)
    'Front'
    """
    found = elevation_of(mark)
    return next((one.name for one in survey.elevations if one.id == found), found)


def words(mark: Mark) -> str:
    """Return what a mark is, without its side.

    >>> words("front/bar/3"), words("front/brick/12/4"), words("front")
    ('Bar 3', 'Brick 4 in course 12', 'This side')
    """
    parts = mark.split("/")[1:]
    if not parts:
        return "This side"
    kind, *place = parts
    if kind in ("brick", "perpend") and len(place) == 2:
        return f"{kind.capitalize()} {place[1]} in course {place[0]}"
    if kind == "bed" and place:
        return f"Bed under course {place[0]}"
    return " ".join((KINDS.get(kind, kind.capitalize()), *place))


def bar_words(bar: Bar) -> str:
    """Return a bar and its bed.

    >>> bar_words(Bar("f/bar/3", "f", 8, 0, 900, 600, 0, 0, (900,), 35, 10, False, (), ()))
    'Bar 3, bed under course 8'
    """
    return f"{words(bar.id)}, bed under course {bar.course}"
