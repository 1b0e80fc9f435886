"""What the wall says: its labels, its dimensions, and the name of each mark."""

from __future__ import annotations

from estimator.desktop.language import _, counted
from estimator.desktop.money.sharing import carried
from estimator.desktop.state import Sight
from estimator.documents.formats import metres, plain, whole_money
from estimator.drawing.shapes import (
    BarShape,
    BrickShape,
    BrickState,
    CrackShape,
    LegShape,
    Picture,
    Shape,
)


def said(shape: Shape) -> str:
    """Return what a mark is, in a phrase."""
    if isinstance(shape, BarShape):
        return _said_bar(shape)
    if isinstance(shape, LegShape):
        length = plain(round(shape.right - shape.left))
        return _("Leg of a bar that comes round the quoin, {length} mm").format(length=length)
    if isinstance(shape, CrackShape):
        if shape.letter:
            return _("Crack {letter}").format(letter=shape.letter)
        return _("The crack")
    if isinstance(shape, BrickShape):
        place = {"place": shape.place, "course": shape.course}
        return _brick_sentence(shape.state).format(**place)
    return _("Joints to rake out and repoint")


def _said_bar(bar: BarShape) -> str:
    gaps = {"course": bar.course, "length": plain(round(bar.length_mm))}
    if bar.is_guessed:
        return _("Bar likely in the bed under course {course}, {length} mm").format(**gaps)
    return _("Bar in the bed under course {course}, {length} mm").format(**gaps)


def _brick_sentence(state: BrickState) -> str:
    return {
        BrickState.CRACKED: _("Cracked brick, course {course}, {place} from the left"),
        BrickState.REPLACE: _("Brick to replace, course {course}, {place} from the left"),
        BrickState.TURN: _("Brick to turn, course {course}, {place} from the left"),
        BrickState.PATCH: _("Brick to patch, course {course}, {place} from the left"),
    }[state]


def state_word(state: BrickState) -> str:
    """Return the word of a state in the legend."""
    return {
        BrickState.CRACKED: _("Cracked brick"),
        BrickState.REPLACE: _("Replace"),
        BrickState.TURN: _("Turn"),
        BrickState.PATCH: _("Patch"),
    }[state]


def worth(sight: Sight, option: int, *marks: str) -> str:
    """Return how much of the price marks carry together; empty where they carry none."""
    if not sight.options:
        return ""
    shown = sight.options[min(option, len(sight.options) - 1)]
    share = carried(sight, shown, frozenset(marks)).amount
    if not share:
        return ""
    return _("about {money} of the price before VAT").format(money=whole_money(share))


def callout(picture: Picture) -> tuple[str, str] | None:
    """Return the two lines that sum up the bars; None where there are none."""
    if not picture.bars:
        return None
    lengths = [bar.length_mm for bar in picture.bars]
    low, high = _short(min(lengths)), _short(max(lengths))
    gaps = {"length": low, "low": low, "high": high}
    one = _("{n} bar, {length} m") if low == high else _("{n} bar, {low}–{high} m")
    many = _("{n} bars, {length} m") if low == high else _("{n} bars, {low}–{high} m")
    number = len(picture.bars)
    return (one if number == 1 else many).format(n=number, **gaps), _spacing(picture)


def _short(length_mm: float) -> str:
    """Return metres with one decimal place, or two where the second says something."""
    text = f"{length_mm / 1000:.2f}"
    return text.removesuffix("0")


def _spacing(picture: Picture) -> str:
    steps = picture.steps
    if not steps:
        return ""
    least, most = min(steps), max(steps)
    if least != most:
        return _("{least} to {most} courses apart").format(least=least, most=most)
    words = {
        1: _("every bed"),
        2: _("every second bed"),
        3: _("every third bed"),
        4: _("every fourth bed"),
        5: _("every fifth bed"),
        6: _("every sixth bed"),
    }
    return words.get(least, _("{n} courses apart").format(n=least))


def height_words(picture: Picture) -> str:
    """Return the height of the crack as it is known."""
    if picture.height is None:
        return ""
    foot, head, is_sure = picture.height
    length = metres(head - foot)
    return length if is_sure else _("about {length}").format(length=length)


def summary(picture: Picture) -> str:
    """Return the whole drawing in a sentence, for a screen reader."""
    parts = [picture.name]
    if picture.cracks:
        parts.append(counted("{n} crack", "{n} cracks", len(picture.cracks)))
    if picture.bars:
        parts.append(counted("{n} bar", "{n} bars", len(picture.bars)))
    if picture.legs:
        parts.append(counted("{n} leg of a bar", "{n} legs of bars", len(picture.legs)))
    if picture.bricks:
        parts.append(counted("{n} marked brick", "{n} marked bricks", len(picture.bricks)))
    return ", ".join(parts)
