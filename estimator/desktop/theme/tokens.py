"""Every colour of the desk, by what it is for; the only file that holds one.

Contrast of each pair in use is computed by a test. A state is never told by colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Scheme(Enum):
    """Light or dark."""

    LIGHT = "light"
    DARK = "dark"


@dataclass(frozen=True, slots=True)
class Tokens:
    """One scheme's colours, as ``#rrggbb``."""

    paper: str
    """The ground of the columns."""
    panel: str
    """What is raised above it."""
    ink: str
    muted: str
    rule: str
    """Hairlines."""
    edge: str
    """Borders of fields."""
    act: str
    """Focus, selection, the one filled button."""
    act_tint: str
    on_act: str
    crack: str
    bar: str
    brick: str
    brick_edge: str
    mortar: str
    weathered: str
    """What years outside leave on brick and mortar: they are multiplied by it."""
    new_mortar: str
    """Mortar as it looks in its first years beside weathered work."""
    gap: str
    """The dark of an open crack."""
    glass: str
    stone: str
    earth: str
    caution: str
    caution_tint: str
    stop: str
    stop_tint: str
    done: str


LIGHT = Tokens(
    paper="#F6F3EC",
    panel="#FFFFFF",
    ink="#22262B",
    muted="#5B626A",
    rule="#D8D2C5",
    edge="#857E70",
    act="#1B5E73",
    act_tint="#E3EEF1",
    on_act="#FFFFFF",
    crack="#A3261B",
    bar="#0B6A7B",
    brick="#DDB89F",
    brick_edge="#C79C80",
    mortar="#EAE4D8",
    weathered="#B9AC9D",
    new_mortar="#F8F3E7",
    gap="#241A15",
    glass="#E6EDF1",
    stone="#CBC5BA",
    earth="#CFC6B6",
    caution="#7A4E00",
    caution_tint="#FBF0D9",
    stop="#8C1D18",
    stop_tint="#F9E4E1",
    done="#2C6438",
)
DARK = Tokens(
    paper="#1B1E21",
    panel="#24282C",
    ink="#ECE8E0",
    muted="#A9ADB1",
    rule="#3A3F45",
    edge="#858B92",
    act="#7FC3D6",
    act_tint="#20363D",
    on_act="#10262D",
    crack="#FF8F7E",
    bar="#6FD0E0",
    brick="#7B533D",
    brick_edge="#5B3C2B",
    mortar="#4A4640",
    weathered="#E4DCD2",
    new_mortar="#C9BFAD",
    gap="#080706",
    glass="#2B363D",
    stone="#5E5A53",
    earth="#39342C",
    caution="#F0C36B",
    caution_tint="#3A2F19",
    stop="#FF9C90",
    stop_tint="#40211E",
    done="#8FD19E",
)
SCHEMES = {Scheme.LIGHT: LIGHT, Scheme.DARK: DARK}
