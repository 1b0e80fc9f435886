"""Bonds: which faces follow which in a course, and how courses lie over one another.

A course is a repeating run of faces with a perpend after each. Courses are set out so that one
named place in each stands over the same plumb line: the middle of a header over the middle of a
stretcher, say. Families and ratios are data; the geometry is here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from estimator import resources
from estimator.masonry.brick import BrickFormat

STRETCHER, HEADER, SHINER, HEADER_ON_EDGE = "S", "H", "R", "E"


@dataclass(frozen=True, slots=True)
class CoursePattern:
    """One course of a bond: the faces of its repeat, and the place that is plumbed.

    ``plumb`` counts faces from the left: 0 is the middle of the first face, 0.5 the middle of the
    perpend after it.
    """

    faces: str
    plumb: float


@dataclass(frozen=True, slots=True)
class Bond:
    """A vertical repeat of courses, lowest first."""

    key: str
    name: str
    courses: tuple[CoursePattern, ...]
    source: str

    @property
    def is_on_edge(self) -> bool:
        """Whether bricks stand on edge, so that a course is as high as a brick is wide."""
        return any(face in (SHINER, HEADER_ON_EDGE) for face in self.courses[0].faces)


def face_length_mm(face: str, brick: BrickFormat) -> float:
    """Return the length of a face as it shows in the wall [mm].

    Raises:
        KeyError: for a letter that is no face.

    >>> from estimator.masonry.brick import brick_format
    >>> face_length_mm(HEADER, brick_format("uk_metric"))
    102.5
    """
    return {
        STRETCHER: brick.length_mm,
        SHINER: brick.length_mm,
        HEADER: brick.width_mm,
        HEADER_ON_EDGE: brick.height_mm,
    }[face]


def _courses(entry: Mapping[str, Any], ratio: int) -> tuple[CoursePattern, ...]:
    """Lay out the courses of one family of bonds."""
    family = entry["family"]
    if family == "header courses":
        # Every so many courses of stretchers in half bond, one course of headers.
        stretchers = (CoursePattern(STRETCHER, (n % 2) / 2) for n in range(ratio))
        return (*stretchers, CoursePattern(HEADER, 0))
    if family == "headers in course":
        # Each header stands over the middle of the run of stretchers below it.
        faces = STRETCHER * ratio + HEADER
        return (CoursePattern(faces, (ratio - 1) / 2), CoursePattern(faces, ratio))
    return tuple(CoursePattern(faces, plumb) for faces, plumb in entry["courses"])


@cache
def bond(key: str, ratio: int = 0) -> Bond:
    """Return a bond; the ratio is stretchers, or courses of them, to one header, 0 for the usual.

    Raises:
        KeyError: when no bond has that key.
        ValueError: when the ratio is below nothing, or the bond comes in one ratio only.

    >>> [course.faces for course in bond("flemish_garden").courses]
    ['SSSH', 'SSSH']
    >>> len(bond("english_garden", 5).courses)
    6
    """
    entry = _table()[key]
    name = entry["name"]
    if ratio < 0:
        raise ValueError("a ratio of stretchers to headers is 1 or more")
    if ratio and not takes_ratio(key):
        raise ValueError(f"{name} has no ratio to choose")
    return Bond(key, name, _courses(entry, ratio or entry.get("ratio", 0)), entry["source"])


@cache
def _table() -> Mapping[str, Any]:
    return MappingProxyType(resources.data("bonds.json"))


def bond_keys() -> tuple[str, ...]:
    """Return the keys of all bonds, in the order of the data.

    >>> "stretcher" in bond_keys()
    True
    """
    return tuple(_table())


def takes_ratio(key: str) -> bool:
    """Whether a bond comes in any ratio of stretchers to headers.

    Raises:
        KeyError: when no bond has that key.

    >>> takes_ratio("english_garden"), takes_ratio("english"), takes_ratio("stretcher")
    (True, False, False)
    """
    return bool(_table()[key].get("any_ratio", False))
