"""The look in use: scheme, palette, type and style sheet, set once and changed at will."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QStyleFactory

from estimator import resources
from estimator.desktop.theme.marks import Marks
from estimator.desktop.theme.style_sheet import style_sheet
from estimator.desktop.theme.tokens import SCHEMES, Scheme, Tokens

FAMILY = "Source Sans Pro"
TEXT_PX = 14
FONTS = ("fonts/SourceSansPro-Regular.ttf", "fonts/SourceSansPro-Semibold.ttf")
DRESSED, LETTERED = "is_dressed_in", "has_its_type"
"""Properties of the application, so that a new one begins without."""


class Look(QObject):
    """What the whole window looks like; ``changed`` tells those who paint by hand."""

    changed = Signal()

    def __init__(self) -> None:
        """Begin in light colours at the usual size; nothing is drawn yet."""
        super().__init__()
        self.scheme = Scheme.LIGHT
        self.scale = 1.0
        self._colours: dict[str, QColor] = {}
        self._marks: Marks | None = None

    @property
    def tokens(self) -> Tokens:
        """The colours of the scheme in use."""
        return SCHEMES[self.scheme]

    def colour(self, token: str) -> QColor:
        """Return a colour by the name of its token."""
        found = self._colours.get(token)
        if found is None:
            found = self._colours[token] = QColor(getattr(self.tokens, token))
        return found

    def font(self, px: int = TEXT_PX, *, strong: bool = False) -> QFont:
        """Return the desk's type at a size, grown with the scale in use [px]."""
        font = QFont(FAMILY)
        font.setPixelSize(self.px(px))
        font.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
        return font

    def px(self, size: float) -> int:
        """Return a size grown with the scale in use [px]."""
        return round(size * self.scale)

    def ground(self, scheme: Scheme) -> None:
        """Give windows the ground of a scheme before anything stands on it."""
        palette = QPalette()
        palette.setColor(QPalette.ColorRole.Window, QColor(SCHEMES[scheme].paper))
        QApplication.setPalette(palette)

    def apply(self, scheme: Scheme, *, scale: float = 1.0) -> None:
        """Dress the application, and say so where that changes anything."""
        app = QApplication.instance()
        if not isinstance(app, QApplication):
            raise RuntimeError("there is nothing to dress yet")
        # Every widget alive is styled anew, so being dressed twice alike would cost for nothing.
        if app.property(DRESSED) == [scheme.value, scale]:
            return
        self.scheme, self.scale = scheme, scale
        self._colours.clear()
        if app.property(DRESSED) is None:
            # Once: each time would polish every widget alive twice over.
            app.setStyle(QStyleFactory.create("Fusion"))
        app.setFont(self.font())
        app.setPalette(self._palette())
        if self._marks is None:
            self._marks = Marks()
        on_act = self.colour("on_act")
        marks = (self._marks.tick(on_act), self._marks.dot(on_act))
        app.setStyleSheet(style_sheet(self.tokens, scale, marks=marks))
        app.setProperty(DRESSED, [scheme.value, scale])
        self.changed.emit()

    def _palette(self) -> QPalette:
        tokens, palette = self.tokens, QPalette()
        role = QPalette.ColorRole
        for part, token in (
            (role.Window, tokens.paper),
            (role.Base, tokens.panel),
            (role.AlternateBase, tokens.paper),
            (role.Button, tokens.panel),
            (role.ToolTipBase, tokens.panel),
            (role.WindowText, tokens.ink),
            (role.Text, tokens.ink),
            (role.ButtonText, tokens.ink),
            (role.ToolTipText, tokens.ink),
            (role.PlaceholderText, tokens.muted),
            (role.Highlight, tokens.act),
            (role.HighlightedText, tokens.on_act),
            (role.Link, tokens.act),
            (role.LinkVisited, tokens.act),
            (role.Accent, tokens.act),
            (role.BrightText, tokens.stop),
            (role.Light, tokens.panel),
            (role.Midlight, tokens.rule),
            (role.Mid, tokens.edge),
            (role.Dark, tokens.edge),
            (role.Shadow, tokens.edge),
        ):
            palette.setColor(part, QColor(token))
        for part in (role.WindowText, role.Text, role.ButtonText):
            palette.setColor(QPalette.ColorGroup.Disabled, part, QColor(tokens.muted))
        return palette


LOOK = Look()


def load_fonts() -> None:
    """Make the shipped type known to the screen, once; the papers use the same files."""
    app = QApplication.instance()
    if app is None:
        raise RuntimeError("there is no screen yet to know a type")
    if app.property(LETTERED):
        return
    for name in FONTS:
        QFontDatabase.addApplicationFontFromData(resources.path(name).read_bytes())
    app.setProperty(LETTERED, True)


def system_scheme() -> Scheme:
    """Return the scheme the system asks for, light where it does not say."""
    asked = QGuiApplication.styleHints().colorScheme()
    return Scheme.DARK if asked is Qt.ColorScheme.Dark else Scheme.LIGHT
