"""Jobs whose works are under way: planned, partly built and signed for; and ways to read them."""

from __future__ import annotations

import datetime
import io
from collections.abc import Callable, Iterator
from dataclasses import replace

from PIL import Image

from estimator.contract.so_far import SoFar
from estimator.contract.works import Built, Completion, Feature, Held, Plan
from estimator.documents import (
    as_built_paper,
    buying_paper,
    completion_paper,
    programme_paper,
    site_sheet,
)
from estimator.documents.agreed_content import AgreedPaper
from estimator.documents.works_content import Box, Cell, Grid, Number, Steps, Topics
from estimator.quoting.quotation import Trader
from estimator.survey.survey import CrackedBrick, Survey, ThinBed, Treatment
from estimator.works.site_work import site_work
from tests.works import made_up as jobs

DATE = datetime.date(2026, 12, 2)
START = datetime.date(2026, 12, 14)
DONE = datetime.date(2026, 12, 18)
PICTURE = "b" * 64
PLAN = Plan(START, ("Ada Pike", "Ben Tarn"))
SHORTER_MM = 4
LEFT_OUT = 2
"""Which bar nobody noted anything of."""
OTHERWISE = 1
"""Which bar was set otherwise."""

Render = Callable[[SoFar, Trader], bytes]


def _site_sheet(so_far: SoFar, trader: Trader) -> bytes:
    return site_sheet.render(so_far, trader=trader, number="S-0001", date=DATE)


def _programme(so_far: SoFar, trader: Trader) -> bytes:
    return programme_paper.render(so_far, trader=trader, number="", date=DATE)


def _buying(so_far: SoFar, trader: Trader) -> bytes:
    return buying_paper.render(so_far, trader=trader, number="", date=DATE)


def _as_built(so_far: SoFar, trader: Trader) -> bytes:
    return as_built_paper.render(
        so_far, trader=trader, number="S-0004", date=DATE, pictures={PICTURE: jpeg()}
    )


def _completion(so_far: SoFar, trader: Trader) -> bytes:
    return completion_paper.render(
        so_far, trader=trader, number="S-0005", date=DONE, pictures={PICTURE: jpeg()}
    )


PAPERS: dict[str, tuple[Render, str]] = {
    "site sheet": (_site_sheet, "Site sheet S-0001"),
    "programme": (_programme, "Programme"),
    "buying list": (_buying, "Buying list"),
    "as built": (_as_built, "As built S-0004"),
    "completion": (_completion, "Completion S-0005"),
}


def jpeg() -> bytes:
    """A picture of nothing."""
    written = io.BytesIO()
    Image.new("RGB", (400, 300), (170, 120, 90)).save(written, "JPEG")
    return written.getvalue()


def found(name: str) -> Survey:
    """A wall with two more cracked bricks and a thin bed."""
    seen = jobs.survey(name)
    side, *others = seen.elevations
    bricks = tuple(CrackedBrick(course, 12, Treatment.REPLACE) for course in (10, 14))
    left = side.outline[0][0] + 900
    side = replace(
        side,
        bricks=(*side.bricks, *bricks),
        thin_beds=(*side.thin_beds, ThinBed(12, left, left + 900, 6)),
    )
    return replace(seen, elevations=(side, *others))


def planned(name: str = "window_lime", scope: str = "local", plan: Plan = PLAN) -> SoFar:
    """A job accepted and planned, nothing done yet."""
    return jobs.accepted(name, scope, plan=plan)


def under_way(name: str = "window_lime", scope: str = "local") -> SoFar:
    """More was found and agreed; bars are set but one, one of them otherwise; most is signed."""
    so_far = planned(name, scope)
    assert so_far.contract is not None
    so_far = jobs.with_variation(so_far, jobs.valued(so_far, found(name)))
    bars = site_work(so_far).measure.bars
    built, held = [], []
    for place, bar in enumerate(bars):
        if place == LEFT_OUT:
            continue
        is_other = place == OTHERWISE
        built.append(
            Built(
                bar.id,
                START,
                "bar set",
                f"G-26-{place % 2 + 17}",
                bar.slot_depth_mm - (SHORTER_MM if is_other else 0),
                "A pipe lies behind this bed." if is_other else "",
                (PICTURE,) if is_other else (),
            )
        )
        held += [
            Held(feature, bar.id, START, "Ada Pike")
            for feature in (Feature.DEPTH, Feature.DUST_OUT, Feature.DRY_FIT, Feature.DAMPED)
        ]
    return replace(
        so_far,
        built=tuple(built),
        held=tuple(held),
        completion=Completion(DONE, "Ada Pike", ("The lintel over the door is rusting.",)),
    )


def grids(of: AgreedPaper, key: str) -> Iterator[Grid]:
    """Every grid whose key begins so."""
    return (part for part in of.parts if isinstance(part, Grid) and part.key.startswith(key))


def cells(of: AgreedPaper, key: str = "") -> Iterator[Cell]:
    """Every cell of those grids."""
    return (cell for grid in grids(of, key) for row in grid.rows for cell in row.cells)


def boxes(of: AgreedPaper, key: str = "") -> list[Box]:
    """Every box of those grids."""
    return [cell for cell in cells(of, key) if isinstance(cell, Box)]


def numbers(of: AgreedPaper, key: str = "") -> list[Number]:
    """Every number of those grids."""
    return [cell for cell in cells(of, key) if isinstance(cell, Number)]


def topics(of: AgreedPaper, key: str) -> dict[str, tuple[str, ...]]:
    """What is said under each topic."""
    part = next(one for one in of.parts if isinstance(one, Topics) and one.key == key)
    return {one.title: one.texts for one in part.items}


def steps(of: AgreedPaper) -> tuple[str, ...]:
    """The order of work."""
    return next(one.items for one in of.parts if isinstance(one, Steps))
