"""Cautions on the hazards of the work: which of them a survey calls for."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from estimator.notices import Notice
from estimator.survey.survey import Answer, Elevation, Ground, Mortar, Survey
from estimator.survey.triage_table import table

YEAR = re.compile(r"(?<![0-9])(1[0-9]{3}|20[0-9]{2})(?![0-9])")


def hazards(survey: Survey) -> tuple[Notice, ...]:
    """Return the cautions a survey calls for, in the order of the table.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> seen = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(built="1998"), ())
    >>> "asbestos" in [notice.code for notice in hazards(seen)]
    True
    """
    return tuple(one.notice for one in table().cautions if CASES[one.when](survey))


def _top_mm(elevation: Elevation) -> float:
    """Return how high the wall stands above the ground one works from [mm]."""
    return elevation.datum_height_mm + max((y for _x, y in elevation.outline), default=0.0)


def _reaches(survey: Survey, height_mm: float) -> bool:
    return any(_top_mm(elevation) > height_mm for elevation in survey.elevations)


def _is_above_reach(survey: Survey) -> bool:
    return _reaches(survey, table().heights.above_reach_mm)


def _is_high(survey: Survey) -> bool:
    return _reaches(survey, table().heights.high_mm)


def _is_over_roof(survey: Survey) -> bool:
    return any(elevation.ground is Ground.OVER_ROOF for elevation in survey.elevations)


def _is_before_asbestos_ended(survey: Survey) -> bool:
    """Whether any part was built before asbestos was banned; not known counts as before."""
    # Any year named counts, because the oldest part is still there behind the newer.
    years = [int(year) for year in YEAR.findall(survey.site.built)]
    return not years or min(years) < table().asbestos_before


def _is_protected(survey: Survey) -> bool:
    return survey.signs.listed_or_conservation is Answer.YES


def _is_old_work(survey: Survey) -> bool:
    in_lime = any(one.brickwork.mortar is Mortar.LIME for one in survey.elevations)
    return in_lime or _is_protected(survey)


def _is_shared(survey: Survey) -> bool:
    return survey.signs.shared_wall is Answer.YES


def _is_any(survey: Survey) -> bool:
    del survey
    return True


CASES: Mapping[str, Callable[[Survey], bool]] = MappingProxyType(
    {
        "always": _is_any,
        "above reach": _is_above_reach,
        "high": _is_high,
        "over a roof": _is_over_roof,
        "before 2000": _is_before_asbestos_ended,
        "protected": _is_protected,
        "old work": _is_old_work,
        "shared wall": _is_shared,
    }
)
"""When a caution of the table is said."""
