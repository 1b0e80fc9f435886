"""Beds found thinner than the rest, marked by stroke: a later mark lies over an earlier one."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import (
    change,
    course_number,
    elevation,
    numbered,
    swapped,
    whole_mm,
)
from estimator.survey.survey import ThinBed
from estimator.takeoff.stretches import less


def mark_thin(
    work: Work, side: str, course: int, from_mm: float, to_mm: float, thickness_mm: float
) -> Edit:
    """Mark a stretch of the bed under a course as thinner than the rest [mm].

    It may be drawn either way. Where a stretch was marked before, the new one takes its place;
    stretches of one thickness that meet become one.

    Raises:
        UserMistake: for a stretch that is not in the wall, or not thinner.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> len(mark_thin(plain_wall(), "front", 4, 300, 900, 6).after.survey.elevations[0].thin_beds)
    1
    """
    old = elevation(work, side)
    course_number(course)
    left, right = sorted((whole_mm(from_mm, "one end"), whole_mm(to_mm, "the other end")))
    thickness = _thickness(thickness_mm)
    kept: list[ThinBed] = []
    for bed in old.thin_beds:
        if bed.course != course or bed.to_mm < left or bed.from_mm > right:
            kept.append(bed)
        elif bed.thickness_mm == thickness:
            left, right = min(left, bed.from_mm), max(right, bed.to_mm)
        else:
            rest = less([(bed.from_mm, bed.to_mm)], [(left, right)])
            is_same = rest == [(bed.from_mm, bed.to_mm)]
            kept += [bed] if is_same else [replace(bed, from_mm=a, to_mm=b) for a, b in rest]
    new = (*kept, ThinBed(course, left, right, thickness))
    return change(work, side, Step.BED, thin_beds=new)


def change_thin(work: Work, side: str, number: int, **fields: Any) -> Edit:
    """Give a thin bed other ends, course or thickness, counted from 1: fields of ``ThinBed``.

    Raises:
        UserMistake: for a stretch that is not in the wall, or not thinner.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = mark_thin(plain_wall(), "front", 4, 300, 900, 6).after
    >>> change_thin(work, "front", 1, to_mm=1200).after.survey.elevations[0].thin_beds[0].to_mm
    1200.0
    """
    old = elevation(work, side)
    one = numbered(old.thin_beds, number, "thin bed")
    new = replace(one, **fields)
    course_number(new.course)
    new = replace(
        new,
        from_mm=whole_mm(new.from_mm, "its left end"),
        to_mm=whole_mm(new.to_mm, "its right end"),
        thickness_mm=_thickness(new.thickness_mm),
    )
    about = "/".join((side, "thin", str(number), *sorted(fields)))
    return change(work, side, Step.BED, about, thin_beds=swapped(old.thin_beds, one, new))


def remove_thin(work: Work, side: str, number: int) -> Edit:
    """Take the mark off a thin bed, counted from 1.

    Raises:
        UserMistake: when there is none of that number.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = mark_thin(plain_wall(), "front", 4, 300, 900, 6).after
    >>> remove_thin(work, "front", 1).after.survey.elevations[0].thin_beds
    ()
    """
    old = elevation(work, side).thin_beds
    return change(work, side, Step.BED, thin_beds=swapped(old, numbered(old, number, "thin bed")))


def _thickness(value: float) -> float:
    """Return a thickness to half a millimetre, which is what a rule is read to [mm]."""
    thickness = whole_mm(value * 2, "the thickness") / 2
    if thickness <= 0:
        raise UserMistake("a thin bed is thicker than nothing", do="give its thickness in mm")
    return thickness
