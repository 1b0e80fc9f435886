"""The points of a photograph in rows: where each is on the wall, by count, by tape or shown."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.particulars import typed
from estimator.desktop.wall.particulars.flow import Flow
from estimator.desktop.wall.particulars.typed import Typed, figure
from estimator.desktop.wall.photos import saying
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.photos.marking import Marked, Way
from estimator.desktop.wall.photos.number_line import NumberLine
from estimator.desktop.widgets.buttons import IconButton, quiet_button
from estimator.desktop.widgets.words import retone, words

COUNT_WIDE, SIZE_WIDE, ROW_WIDE = 40, 78, 272
HIGH = 76
"""Height of the rows that are seen at once: it never changes, or the photograph would move under
the hand while points are being clicked [px]."""


class PointRow(QFrame):
    """One point."""

    misread = Signal(str)

    def __init__(self, album: Album, number: int) -> None:
        """Stand for a point by its place, from 0."""
        super().__init__()
        self.album, self.marking, self.number = album, album.marking, number
        self.name = words(str(number + 1), role="strong", wrap=False)
        self.name.setMinimumWidth(LOOK.px(16))
        self.status = words(role="small", wrap=False)
        gaps = {"number": number + 1}
        self.up = self._line(typed.Way.NUMBER, COUNT_WIDE, _("Point {number}: courses up"), gaps)
        self.along = self._line(
            typed.Way.NUMBER, COUNT_WIDE, _("Point {number}: bricks along"), gaps
        )
        self.from_left = self._line(
            typed.Way.ALONG, SIZE_WIDE, _("Point {number}: along from the left end"), gaps
        )
        self.above = self._line(typed.Way.UP, SIZE_WIDE, _("Point {number}: up the wall"), gaps)
        self.across = self._line(
            typed.Way.NUMBER, SIZE_WIDE, _("Point {number}: pixels from the left edge"), gaps
        )
        self.down = self._line(
            typed.Way.NUMBER, SIZE_WIDE, _("Point {number}: pixels from the top edge"), gaps
        )
        self.shown_at = words(role="second", wrap=False)
        self.show_it = quiet_button(_("Show it on the drawing"))
        self.show_it.clicked.connect(self._show_on_drawing)
        said = _("Take point {number} away").format(**gaps)
        self.drop = IconButton("close", said)
        self.drop.clicked.connect(self._drop)
        self._lay_out()
        for line in (self.up, self.along):
            line.given.connect(self._count)
        for line in (self.from_left, self.above):
            line.given.connect(self._measure)
        for line in (self.across, self.down):
            line.given.connect(self._put)

    def _line(self, way: typed.Way, wide: int, said: str, gaps: dict[str, int]) -> NumberLine:
        line = NumberLine(partial(self._read, way), wide=wide)
        line.setAccessibleName(said.format(**gaps))
        line.setToolTip(said.format(**gaps))
        line.misread.connect(self.misread)
        line.returnPressed.connect(self._go_on)
        return line

    def _read(self, way: typed.Way, text: str) -> Typed:
        return typed.read(text, way, self.album.coursing)

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(LOOK.px(4))
        row.addWidget(self.name)
        self._groups: dict[Way | str, list[QWidget]] = {}
        parts: tuple[tuple[Way | str, NumberLine, str], ...] = (
            (Way.COUNT, self.up, _("up")),
            (Way.COUNT, self.along, _("along")),
            (Way.TAPE, self.from_left, _("along")),
            (Way.TAPE, self.above, _("up")),
            ("px", self.across, _("px across")),
            ("px", self.down, _("px down")),
        )
        for way, line, word in parts:
            label = words(word, role="second", wrap=False)
            self._groups.setdefault(way, []).extend((line, label))
            row.addWidget(line)
            row.addWidget(label)
        self._groups[Way.DRAWING] = [self.shown_at, self.show_it]
        row.addWidget(self.shown_at)
        row.addWidget(self.show_it)
        row.addWidget(self.drop)
        row.addWidget(self.status)
        row.addStretch()
        # Of one width, so that rows stand in columns.
        self.setMinimumWidth(LOOK.px(ROW_WIDE))

    def follow(self, one: Marked, *, has_pixels: bool) -> None:
        """Show a point as it is now."""
        marking = self.marking
        for way, group in self._groups.items():
            for widget in group:
                widget.setVisible(has_pixels if way == "px" else way is marking.way)
        count = marking.counted(self.number)
        up, along = (one.up, None) if count is None else count
        self.up.write("" if up is None else str(up))
        self.along.write("" if along is None else str(along))
        place = one.place
        self.from_left.write("" if place is None else figure(place[0], most=1))
        self.above.write("" if place is None else figure(place[1], most=1))
        self.across.write(figure(one.seen[0], most=2))
        self.down.write(figure(one.seen[1], most=2))
        where = ""
        if place is not None:
            where = _("{x} mm along, {y} mm up").format(
                x=figure(place[0], most=0), y=figure(place[1], most=0)
            )
        self.shown_at.setText(where)
        photo = marking.of
        lies = None if photo is None else self.album.lies(photo)
        text, tone = saying.status(self.number, one, lies)
        self.status.setText(text)
        retone(self.status, tone=tone)
        held = marking.held == self.number
        retone(self.name, tone="act" if held else "")
        retone(self, role="point", held="true" if held else "false")

    @property
    def first_empty(self) -> NumberLine | None:
        """The first field that waits for a number."""
        fields: dict[Way, tuple[NumberLine, ...]] = {
            Way.COUNT: (self.up, self.along),
            Way.TAPE: (self.from_left, self.above),
        }
        shown = fields.get(self.marking.way, ())
        return next((one for one in shown if not one.text()), None)

    def _whole(self, line: NumberLine) -> int | None:
        amount = line.amount
        return None if amount is None else round(amount)

    def _count(self) -> None:
        self.marking.count(self.number, self._whole(self.up), self._whole(self.along))

    def _measure(self) -> None:
        if self.from_left.amount is not None and self.above.amount is not None:
            self.marking.tell(self.number, (self.from_left.amount, self.above.amount))

    def _put(self) -> None:
        if self.across.amount is not None and self.down.amount is not None:
            self.marking.put(self.number, (self.across.amount, self.down.amount))

    def _show_on_drawing(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.marking.await_drawing(self.number)

    def _drop(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.marking.drop(self.number)

    def _go_on(self) -> None:
        self.focusNextChild()


class PointRows(QScrollArea):
    """All points, a few of them in sight."""

    misread = Signal(str)

    def __init__(self, album: Album) -> None:
        """Begin with none."""
        super().__init__()
        self.album = album
        self.rows: list[PointRow] = []
        self.has_pixels = False
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self._inside = QFrame()
        self._flow = Flow(self._inside)
        self.setWidget(self._inside)
        self.setFixedHeight(LOOK.px(HIGH))

    def show_pixels(self, shown: bool) -> None:  # noqa: FBT001 - a tick gives it so
        """Show where points are on the picture, to be typed."""
        self.has_pixels = shown
        self.follow()

    def follow(self) -> None:
        """Show the points as they are now."""
        points = self.album.marking.points
        while len(self.rows) > len(points):
            row = self.rows.pop()
            self._flow.removeWidget(row)
            row.hide()
            row.deleteLater()
        while len(self.rows) < len(points):
            row = PointRow(self.album, len(self.rows))
            row.misread.connect(self.misread)
            self._flow.addWidget(row)
            self.rows.append(row)
        for row, one in zip(self.rows, points, strict=True):
            row.follow(one, has_pixels=self.has_pixels)
            row.show()
        held = self.album.marking.held
        if held is not None and held < len(self.rows):
            self._flow.activate()
            self.ensureWidgetVisible(self.rows[held], 0, 0)

    def type_into(self, text: str) -> bool:
        """Begin to type into the first field that waits: of the point taken up, or of any."""
        held = self.album.marking.held
        order = [] if held is None else [self.rows[held]]
        for row in (*order, *self.rows):
            line = row.first_empty
            if line is not None:
                line.setFocus(Qt.FocusReason.OtherFocusReason)
                line.setText(text)
                line.textEdited.emit(text)
                return True
        return False
