"""Every variation with its standing, its number, and the sum before and after it."""

from __future__ import annotations

from PySide6.QtCore import Signal

from estimator.contract.so_far import SoFar, Varied
from estimator.contract.variation import Standing
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.section import Section
from estimator.desktop.agreed.valuing import Valuing
from estimator.desktop.language import _, counted, in_full
from estimator.desktop.papers.wrapped_line import WrappedLine
from estimator.documents import formats


class VariationsSection(Section):
    """A line to each variation, to be taken up."""

    opened = Signal(str)
    """The key of the variation that was taken up."""

    def __init__(self, following: Following, valuing: Valuing) -> None:
        """Follow what the job has come to, and what the wall changes now."""
        super().__init__(_("Variations"))
        self._following, self._valuing = following, valuing
        self.lines_: list[WrappedLine] = []
        self._told: tuple[str, ...] = ()
        following.changed.connect(self.refresh)
        valuing.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show how each stands."""
        so_far = self._following.so_far
        self.setVisible(so_far.contract is not None)
        if so_far.contract is None:
            return
        waiting = [one for one in so_far.variations if one.standing is Standing.SENT]
        is_new = self._valuing.is_anything and self._following.has_contract
        self.say(
            _headline(so_far),
            _("On the wall now: {what}, {amount}.").format(
                what=self._valuing.title, amount=wording.signed(self._valuing.total)
            )
            if is_new
            else "",
            state=counted("{n} waits for an answer", "{n} wait for an answer", len(waiting))
            if waiting
            else "",
            caution=_caution(so_far),
            act=_("Write the variation") if is_new else "",
        )
        self._show_lines(so_far)

    def _show_lines(self, so_far: SoFar) -> None:
        told = tuple(line_of(so_far, one) for one in so_far.variations)
        if told == self._told:
            return
        self._told = told
        for line in self.lines_:
            self.body.removeWidget(line)
            line.hide()
            line.deleteLater()
        self.lines_ = []
        for text, one in zip(told, so_far.variations, strict=True):
            line = WrappedLine(text)
            key = one.variation.key
            line.clicked.connect(lambda _ticked=False, key=key: self.opened.emit(key))
            self.add_row(line)
            self.lines_.append(line)


def line_of(so_far: SoFar, one: Varied) -> str:
    """Return a variation in two lines: which and how it stands; what it changes of the sum."""
    from estimator.contract.sums import running  # noqa: PLC0415 - loads the engine

    found = running(so_far, one.variation.key)
    before, after = formats.money(found.before.total), formats.money(found.after.total)
    gaps = {
        "number": one.number or _("No number yet"),
        "standing": wording.standing_words()[one.standing],
        "title": in_full(one.variation.title),
        "change": wording.signed(found.after.total - found.before.total),
        "before": before,
        "after": after,
    }
    first = _("{number}, {standing}: {title}").format(
        number=gaps["number"], standing=gaps["standing"], title=gaps["title"]
    )
    counts = one.standing not in (Standing.DECLINED, Standing.WITHDRAWN)
    second = _("{change}: {before} → {after}") if counts else _("{change}, not counted")
    return "\n".join((first, second.format(**{k: gaps[k] for k in ("change", "before", "after")})))


def _headline(so_far: SoFar) -> str:
    if not so_far.variations:
        return _("None so far.")
    agreed = counted("{n} agreed", "{n} agreed", len(so_far.agreed))
    return _("{count}, {agreed}").format(
        count=wording.counted_variations(len(so_far.variations)), agreed=agreed
    )


def _caution(so_far: SoFar) -> str:
    spoken = [one.number for one in so_far.variations if one.wants_confirming]
    if not spoken:
        return ""
    return _("Agreed by word of mouth only: {numbers}. Confirm it in writing today.").format(
        numbers=", ".join(spoken)
    )
