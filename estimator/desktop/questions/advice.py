"""The caution at the foot of the questions, while it only advises."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.caution import CautionBox
from estimator.survey.triage import Assessment, Outcome, Route

FEW_LETTERS = 60
"""Letters of the reasons that are said with the caution; more would bury it."""
MOST = 0.25
"""Share of the column's height that it may take before it is said in short."""


class Advice(CautionBox):
    """What the route says; what stops a price is said in full by the money column."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with nothing to say."""
        super().__init__(parent)
        self._said: tuple[str, str, bool, tuple[int, int, float]] | None = None
        self.say("")

    def advise(self, found: Assessment | None, *, width: int, height: int) -> None:
        """Say what a triage found, in so much room [px]; nothing for None or a plain price."""
        route = Route.PRICE if found is None else found.route
        text = heading = short = ""
        if found is not None and not route.allows_price:
            text = _("What to tell the caller stands at the right.")
        elif found is not None and route is not Route.PRICE:
            heading = " · ".join(one.title for one in found.outcomes if one.route is None)
            text = next((_in_full(one) for one in found.outcomes if one.route is route), "")
            short = _in_short(route)
        # Saying it draws its sign anew, which is slow beside all else that a key does.
        is_stop = not route.allows_price
        now = (text, heading, is_stop, (width, height, LOOK.scale))
        if now == self._said:
            return
        self._said = now
        self.say(text, heading=heading, stop=is_stop)
        inner = self.layout()
        if short and inner is not None and inner.heightForWidth(width) > height * MOST:
            self.say(short, heading=heading)


def _in_full(outcome: Outcome) -> str:
    """Return what a row says, and what made it fire where that is little: it may be looked up."""
    because = outcome.because
    if not because or len(because) > FEW_LETTERS:
        return outcome.words
    return f"{outcome.words} {because[0].upper()}{because[1:]}."


def _in_short(route: Route) -> str:
    return {
        Route.RANGE: _("Price as an estimate."),
        Route.VISIT: _("A visit comes first."),
        Route.MONITOR: _("Watch it for a while first."),
    }[route]
