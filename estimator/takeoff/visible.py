"""What can still be seen on the wall afterwards, said plainly before anybody chooses."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.takeoff.brickwork import LaidBrick
from estimator.takeoff.lines import Bar, Item
from estimator.takeoff.panel import Panel
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Box
from estimator.takeoff.work import MM_PER_M

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def number(count: int) -> str:
    """Return a small number in words, a large one in figures.

    >>> number(6), number(24)
    ('six', '24')
    """
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def of_bars(bars: Sequence[Bar], panel: Panel | None) -> str:
    """Say what is seen of the slots that no repointed panel covers.

    >>> of_bars((), None)
    ''
    """
    seen = [bar for bar in bars if not _is_covered(bar, panel)]
    if not seen:
        return ""
    lines = "paler line" if len(seen) == 1 else "paler lines"
    span = _span([bar.face_mm for bar in seen])
    text = f"{number(len(seen))} {lines}, {span} m long, until {_them(seen)}"
    return text[0].upper() + text[1:] + "."


def of_legs(bars: Sequence[Bar]) -> str:
    """Say what is seen round the quoin, where no panel of this side reaches.

    >>> of_legs(())
    ''
    """
    legs = [leg for bar in bars for leg in (bar.turn_left_mm, bar.turn_right_mm) if leg]
    if not legs:
        return ""
    span = _span(legs)
    lines = "a paler line" if len(legs) == 1 else f"{number(len(legs))} paler lines"
    return f"Round the quoin, {lines} {span} m long, until {_them(legs)}."


def _span(lengths_mm: Sequence[float]) -> str:
    low, high = (f"{end / MM_PER_M:.2f}" for end in (min(lengths_mm), max(lengths_mm)))
    return low if low == high else f"{low} to {high}"


def _them(seen: Sequence[object]) -> str:
    return "it weathers" if len(seen) == 1 else "they weather"


def _is_covered(bar: Bar, panel: Panel | None) -> bool:
    if panel is None:
        return False
    box = Box(bar.left_mm, bar.y_mm - 1, bar.right_mm, bar.y_mm + 1)
    return panel.bands.share(box) > 0.99


def of_cracks(count: int) -> str:
    """Say what is seen of cracks that are pointed and not covered by a panel.

    >>> of_cracks(1)
    'The crack shows as a pointed line until it weathers.'
    """
    if count == 1:
        return "The crack shows as a pointed line until it weathers."
    return "The cracks show as pointed lines until they weather."


def of_panel(panel: Panel) -> str:
    """Say how a repointed panel reads.

    >>> from estimator.survey.survey import Area, Elevation
    >>> from estimator.takeoff.panel import panel_of
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> outline = ((0, 0), (2250, 0), (2250, 1500), (0, 1500))
    >>> wall = Elevation("f", "Front", outline, areas=(Area("all", outline),))
    >>> of_panel(panel_of(side_of(wall, shipped(), ""), (), ()))
    'The area drawn, 3.4 m², is pointed alike and reads as one.'
    """
    area = panel.joints.area_m2
    if panel.is_drawn:
        return f"The area drawn, {area:.1f} m², is pointed alike and reads as one."
    if panel.parts > 1:
        return f"The panels, {area:.1f} m² together, are each pointed alike and read as one."
    return f"The panel, {area:.1f} m², is pointed alike and reads as one: {panel.words}."


def of_bricks(bricks: Sequence[LaidBrick]) -> list[str]:
    """Say what is seen of the bricks. That dyed mortar fades is common practice, no source.

    >>> of_bricks(())
    []
    """
    said = []
    fresh = sum(b.item in (Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK) for b in bricks)
    if fresh:
        what = "brick, matched" if fresh == 1 else "bricks, matched"
        said.append(f"{_capital(fresh)} new {what} as near as can be bought.")
    turned = sum(b.item is Item.TURN_BRICK for b in bricks)
    if turned:
        what = "brick shows its" if turned == 1 else "bricks show their"
        said.append(f"{_capital(turned)} turned {what} unweathered back.")
    patched = sum(b.item is Item.PATCH_BRICK for b in bricks)
    if patched:
        what = "patch" if patched == 1 else "patches"
        said.append(f"{_capital(patched)} {what} of dyed mortar on bricks; dye fades in sunlight.")
    return said


def _capital(count: int) -> str:
    return number(count).capitalize()


def named(side: Side, sentences: Sequence[str], *, alone: bool) -> tuple[str, ...]:
    """Put the name of the side before its sentences where the job has several sides.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> named(side_of(wall, shipped(), ""), ["Six paler lines.", ""], alone=False)
    ('Front: six paler lines.',)
    """
    kept = [one for one in sentences if one]
    if alone:
        return tuple(kept)
    return tuple(f"{side.elevation.name}: {one[0].lower()}{one[1:]}" for one in kept)
