"""Keys that mean something to one tool alone, as the keyboard list names them."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt

from estimator.desktop.language import _

Key = Qt.Key
DIGITS = tuple(map(Qt.Key, range(Key.Key_0, Key.Key_9 + 1)))


@dataclass(frozen=True, slots=True)
class OwnKey:
    """What one or a few keys do while a tool is in hand."""

    tool: str
    said: str
    """Follows the word of the tool in the list."""
    shown: str
    """The keys as they are written in the list."""
    keys: tuple[Qt.Key, ...]


def own_keys() -> tuple[OwnKey, ...]:
    """Return the keys of the tools, in the order of the rail."""
    return (
        OwnKey(
            "point",
            _("select the next, or the one before"),
            _("PgDn, PgUp"),
            (Key.Key_PageDown, Key.Key_PageUp),
        ),
        OwnKey("point", _("next handle of what is selected"), "H", (Key.Key_H,)),
        OwnKey("wall", _("place a movement joint"), "J", (Key.Key_J,)),
        OwnKey("opening", _("window, door or vent next"), "1 … 3", DIGITS[1:4]),
        OwnKey("crack", _("cut bricks, or follow the joints"), "X", (Key.Key_X,)),
        OwnKey("crack", _("width where the pointer is on it, then Enter"), "0 … 9", DIGITS),
        OwnKey("brick", _("replace, turn, patch or leave"), "1 … 4", DIGITS[1:5]),
        OwnKey("brick", _("half a brick deep, or all of it"), "H", (Key.Key_H,)),
        OwnKey("bar", _("keep the selected bar where it is"), "K", (Key.Key_K,)),
        OwnKey("bar", _("give it back to the rule"), "U", (Key.Key_U,)),
        OwnKey("area", _("panel, to the openings, or freehand"), "1 … 3", DIGITS[1:4]),
        OwnKey("thin_bed", _("thickness of the bed"), "0 … 9", DIGITS),
        OwnKey("photo", _("photograph, drawing or both"), "V", (Key.Key_V,)),
        OwnKey("photo", _("follow a dark line"), "L", (Key.Key_L,)),
    )
