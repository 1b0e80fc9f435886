"""Measuring a survey: each side once, each scope from the same bars, bricks and panels.

``measure`` is pure: the same survey, scope and rules give the same work. Sides are measured on
their own, so that two measured together give the lines of each and no others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property

from estimator.notices import Notice
from estimator.survey import ranges
from estimator.survey.survey import Basis, Survey
from estimator.takeoff import cautions, visible, weak_places
from estimator.takeoff.access import reach_for, work_box
from estimator.takeoff.bar_work import bar_part
from estimator.takeoff.brickwork import LaidBrick, brick_part, bricks_of, joints_round
from estimator.takeoff.clearing import clearing_part
from estimator.takeoff.grout_and_mortar import suits
from estimator.takeoff.lines import Bar, Item, Measure, PanelOutline, Reach
from estimator.takeoff.panel import Panel, panel_of
from estimator.takeoff.pointing import Done, crack_part, slot_part, slots_of
from estimator.takeoff.repointing import panel_part
from estimator.takeoff.rules import Rules
from estimator.takeoff.scope import Scope, Work, as_done
from estimator.takeoff.side import Side, side_of
from estimator.takeoff.stitching import Stitching, stitch
from estimator.takeoff.stretches import Box
from estimator.takeoff.work import NOTHING, Part, together

NO_STITCHING = Stitching((), ())
POINTED = frozenset({Item.POINT_CRACK_BED, Item.POINT_PERPEND})
"""The work that leaves a crack as a pointed line."""


class _Shared:
    """What several scopes measure alike on one side, worked out when first asked for."""

    def __init__(self, side: Side) -> None:
        self.side = side

    @cached_property
    def stitching(self) -> Stitching:
        """All the bars."""
        return stitch(self.side)

    @cached_property
    def bars(self) -> Part:
        """The work of the bars."""
        return bar_part(self.side, self.stitching.bars)

    @cached_property
    def bricks(self) -> tuple[LaidBrick, ...]:
        """The bricks to be treated."""
        return bricks_of(self.side)

    @cached_property
    def brick_work(self) -> Part:
        """The work of the bricks."""
        return brick_part(self.side, self.bricks)


class _Taken:
    """One scope taken off one side."""

    def __init__(self, shared: _Shared, scope: Scope) -> None:
        self.shared, self.scope, self.side = shared, scope, shared.side
        self.stitching = shared.stitching if Work.STITCH in scope else NO_STITCHING
        self.bricks = shared.bricks if Work.BRICKS in scope else ()
        self.panel = self._panel()
        self.box = self._box()
        self.part = self._part()

    @property
    def bars(self) -> tuple[Bar, ...]:
        """The bars of this scope."""
        return self.stitching.bars

    def _panel(self) -> Panel | None:
        if Work.REPOINT_PANEL not in self.scope:
            return None
        return panel_of(self.side, self.bars, self.bricks)

    def _part(self) -> Part:
        """Measure all kinds of work in the scope."""
        if self.box is None:
            return NOTHING
        done = Done(slots_of(self.bars), joints_round(self.side, self.bricks))
        work = [
            self.shared.bars if Work.STITCH in self.scope else NOTHING,
            slot_part(self.side, self.bars, self.panel),
            crack_part(self.side, done, self.panel) if Work.POINT_CRACK in self.scope else NOTHING,
            panel_part(self.side, self.panel, done),
            self.shared.brick_work if Work.BRICKS in self.scope else NOTHING,
        ]
        done_so_far = together(work)
        if not done_so_far.lines:
            return NOTHING
        return together([done_so_far, clearing_part(self.side, self.box, done_so_far)])

    def _box(self) -> Box | None:
        """Return the box round all the work of this side."""
        boxes = [self.side.bed_box(bar.course, (bar.left_mm, bar.right_mm)) for bar in self.bars]
        boxes += [brick.box for brick in self.bricks]
        if Work.POINT_CRACK in self.scope:
            boxes += [laid.box for laid in self.side.cracks]
        if self.panel is not None:
            boxes.append(Box(*self.panel.net.bounds))
        return work_box(self.side, boxes)

    @property
    def outlines(self) -> tuple[PanelOutline, ...]:
        """The areas repointed, for drawing."""
        corners = self.panel.corners if self.panel is not None else ()
        return tuple(PanelOutline(self.side.elevation.id, one) for one in corners)

    @cached_property
    def reach(self) -> tuple[Reach, ...]:
        """How the work is reached."""
        return (reach_for(self.side, self.box),) if self.box and self.part.lines else ()

    def notices(self) -> tuple[Notice, ...]:
        """Return the advice that goes with the work of this side."""
        panel = Work.REPOINT_PANEL in self.scope
        return (
            *self.stitching.notices,
            *cautions.about_beds(self.side, self.bars),
            *cautions.about_bricks(self.side, self.bricks),
            *weak_places.about_openings(self.side, self.bars, self.bricks),
            *weak_places.about_damp_course(
                self.side, self.bricks, self.panel, points_cracks=Work.POINT_CRACK in self.scope
            ),
            *(cautions.about_panel(self.side, self.panel) if panel else ()),
        )

    def visible(self, *, alone: bool) -> tuple[str, ...]:
        """Say what is left to be seen on this side."""
        said = [visible.of_bars(self.bars, self.panel), visible.of_legs(self.bars)]
        if self.panel is None and any(line.item in POINTED for line in self.part.lines):
            said.append(visible.of_cracks(len(self.side.cracks)))
        if self.panel is not None:
            said.append(visible.of_panel(self.panel))
        said += visible.of_bricks(self.bricks)
        return visible.named(self.side, said, alone=alone)


def measure(survey: Survey, scope: Scope, rules: Rules) -> Measure:
    """Measure all the work of one scope; ranges are taken at their likely values.

    >>> from estimator.survey.survey import Basis, Crack, Elevation, Party, Site, StraightRun
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.scope import LOCAL
    >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> front = Elevation("front", "Front", outline, cracks=(crack,))
    >>> seen = Survey("1", "Front wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> [str(line.quantity) for line in measure(seen, LOCAL, shipped()).lines[:3]]
    ['8.00 m', '8.00 m', '8.00 m']
    """
    return measure_all(survey, (scope,), rules)[0]


def measure_all(survey: Survey, scopes: Sequence[Scope], rules: Rules) -> tuple[Measure, ...]:
    """Measure several scopes of one survey, sharing what they have in common.

    >>> from estimator.survey.survey import Basis, Crack, Elevation, Party, Site, StraightRun
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.scope import USUAL
    >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> front = Elevation("front", "Front", outline, cracks=(crack,))
    >>> seen = Survey("1", "Front wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> local, panel = measure_all(seen, USUAL, shipped())
    >>> local.bars == panel.bars, local.lines == panel.lines
    (True, False)
    """
    sides, is_told = [], survey.basis is Basis.TOLD
    # Nothing else that is measured holds ranges.
    for elevation in ranges.settled(survey.elevations):
        mortar = survey.new_mortar or suits(elevation.brickwork.mortar.value).key
        sides.append(_Shared(side_of(elevation, rules, mortar, is_told=is_told)))
    return tuple(_measured(sides, scope, rules) for scope in scopes)


def _measured(sides: Iterable[_Shared], scope: Scope, rules: Rules) -> Measure:
    """Put the sides of one scope together, in the order of the survey."""
    taken = [_Taken(shared, scope) for shared in sides]
    bars = tuple(bar for one in taken for bar in one.bars)
    alone = len(taken) == 1
    notices = (
        *cautions.about_bars(bars, rules),
        *(note for one in taken for note in one.notices()),
    )
    has_bricks = any(one.bricks for one in taken)
    return Measure(
        as_done(scope, has_bars=bool(bars), has_bricks=has_bricks),
        tuple(line for one in taken for line in one.part.lines),
        bars,
        tuple(need for one in taken for need in one.part.needs),
        tuple(reach for one in taken for reach in one.reach),
        tuple(dict.fromkeys(notices)),
        tuple(text for one in taken for text in one.visible(alone=alone)),
        tuple(outline for one in taken for outline in one.outlines),
    )
