"""Advice that goes with the measured work; it stops nothing."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.notices import Notice, Severity
from estimator.survey.survey import Mortar
from estimator.takeoff.brickwork import LaidBrick
from estimator.takeoff.lines import Bar, Item
from estimator.takeoff.panel import Panel
from estimator.takeoff.rules import Rules
from estimator.takeoff.side import Side


def about_bars(bars: Sequence[Bar], rules: Rules) -> tuple[Notice, ...]:
    """Return what holds of all bars: what they do, and the cover new work would have.

    >>> from estimator.takeoff.rules import shipped
    >>> about_bars((), shipped())
    ()
    """
    if not bars:
        return ()
    thinnest = min(bar.bed_mm for bar in bars)
    notices = [
        Notice(
            "not_stronger",
            Severity.NOTE,
            "Bars hold a crack and spread it finely; they do not make the wall stronger, and they "
            "do not take away what moved it.",
            "heron_66",
        )
    ]
    wanted = rules.bar_mm + rules.bed_over_bar_mm
    if rules.pointing_over_slot_mm < rules.cover_mm or thinnest < wanted:
        text = (
            f"New reinforced brickwork would have {rules.cover_mm:g} mm of mortar over the bar and "
            f"a bed of {wanted:g} mm. This repair has {rules.pointing_over_slot_mm:g} mm and a "
            f"bed of {round(thinnest, 1):g} mm, as is usual in the trade."
        )
        notices.append(Notice("cover", Severity.NOTE, text, "en_1996_1_1_8_2"))
    return tuple(notices)


def about_beds(side: Side, bars: Sequence[Bar]) -> tuple[Notice, ...]:
    """Warn where thin beds were measured but not where they are.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (3000, 0), (3000, 1500), (0, 1500)))
    >>> about_beds(side_of(wall, shipped(), ""), ())
    ()
    """
    least = side.elevation.brickwork.bed_least_mm
    limit = side.rules.least_bed_mm
    if not bars or least is None or least >= limit or side.coursing.bed_mm < limit:
        return ()
    if side.elevation.thin_beds:
        return ()
    text = (
        f"{side.elevation.name}: beds down to {least:g} mm were measured and {limit:g} mm is the "
        "least for the bar. Mark where they are, and the skimming is measured."
    )
    return (Notice("thin_beds_unplaced", Severity.NOTE, text, "common_practice"),)


def about_bricks(side: Side, bricks: Sequence[LaidBrick]) -> tuple[Notice, ...]:
    """Warn of more bricks out at once than stand without propping.

    Source: a general guide to replacing bricks; a warning, not a limit.

    >>> from estimator.survey.survey import CrackedBrick, Elevation, Treatment
    >>> from estimator.takeoff.brickwork import bricks_of
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> bricks = tuple(CrackedBrick(n, 3, Treatment.REPLACE) for n in range(1, 12))
    >>> outline = ((0, 0), (3000, 0), (3000, 1500), (0, 1500))
    >>> side = side_of(Elevation("f", "Front", outline, bricks=bricks), shipped(), "")
    >>> [notice.code for notice in about_bricks(side, bricks_of(side))]
    ['many_bricks']
    """
    out = sum(brick.item in (Item.REPLACE_BRICK, Item.TURN_BRICK) for brick in bricks)
    most = side.rules.most_bricks_at_once
    if out <= most:
        return ()
    text = (
        f"{side.elevation.name}: {out} bricks come out. Not more than about {most} at once without "
        "propping: cut them out in lots, and prop as the engineer says."
    )
    return (Notice("many_bricks", Severity.CAUTION, text, "replacing_guide"),)


def about_panel(side: Side, panel: Panel | None) -> tuple[Notice, ...]:
    """Say what goes with repointing a panel: sound old mortar, and the whole wall.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (3000, 0), (3000, 1500), (0, 1500)))
    >>> [notice.code for notice in about_panel(side_of(wall, shipped(), ""), None)]
    ['no_panel']
    """
    name = side.elevation.name
    if panel is None:
        text = f"{name}: nothing is marked, so no area is repointed. Draw the area wanted."
        if side.elevation.areas:
            text = f"{name}: there is no brickwork in the area drawn, so none is repointed."
        return (Notice("no_panel", Severity.NOTE, text, "house"),)
    notices = []
    if side.elevation.brickwork.mortar is Mortar.LIME:
        text = (
            f"{name}: old lime mortar that is sound is better left in place. Repoint the whole "
            "panel for the look of it, not because the sound joints need it."
        )
        notices.append(
            Notice("sound_mortar", Severity.CAUTION, text, "historic_england_repointing")
        )
    share = 100 * panel.net.area_mm2 / side.wall.net.area_mm2
    if side.rules.whole_wall_from <= share < 99:
        text = (
            f"{name}: the panel is {share:.0f} % of this side. From about "
            f"{side.rules.whole_wall_from:g} % on, the whole side may be worth a price."
        )
        notices.append(Notice("whole_wall", Severity.NOTE, text, "nps_brief_2"))
    return tuple(notices)
