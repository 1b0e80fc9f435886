"""The style sheet, made from the tokens.

Roles are set on widgets as the property ``role``: a label says ``price``, a button ``main``.
"""

from __future__ import annotations

from estimator.desktop.theme.tokens import Tokens

TEXT_SIZES = {
    "price": (24, True),
    "question": (17, True),
    "name": (17, True),
    "heading": (16, True),
    "title": (15, True),
    "strong": (14, True),
    "text": (14, False),
    "second": (13, False),
    "small": (12, False),
}
"""Pixels and whether strong, by role; never under 12."""
QUIET = ("second", "small")


def style_sheet(tokens: Tokens, scale: float, *, marks: tuple[str, str]) -> str:
    """Return the style sheet of the whole window; ``marks`` are the files of a tick and a dot."""
    parts = (_words, _fields, _buttons, _toggles, _lists, _frames, _menus)
    return "\n".join((*(part(tokens, scale) for part in parts), _ticked(tokens, scale, marks)))


def _px(size: float, scale: float) -> str:
    return f"{round(size * scale)}px"


def _words(t: Tokens, scale: float) -> str:
    rules = [f"QLabel {{ color: {t.ink}; background: transparent; }}"]
    for role, (size, strong) in TEXT_SIZES.items():
        weight = 600 if strong else 400
        colour = t.muted if role in QUIET else t.ink
        rules.append(
            f'QLabel[role="{role}"] {{ font-size: {_px(size, scale)}; font-weight: {weight};'
            f" color: {colour}; }}"
        )
    for tone, colour in (
        ("caution", t.caution),
        ("stop", t.stop),
        ("done", t.done),
        ("act", t.act),
        ("quiet", t.muted),
    ):
        rules.append(f'QLabel[tone="{tone}"] {{ color: {colour}; }}')
    return "\n".join(rules)


def _fields(t: Tokens, scale: float) -> str:
    kinds = "QLineEdit, QPlainTextEdit, QSpinBox, QDoubleSpinBox, QDateEdit, QComboBox"
    focused = ", ".join(f"{kind}:focus" for kind in kinds.split(", "))
    return f"""
{kinds} {{
    background: {t.panel}; color: {t.ink}; border: 1px solid {t.edge};
    border-radius: {_px(6, scale)}; padding: 0 {_px(10, scale)};
    min-height: {_px(30, scale)}; selection-background-color: {t.act};
    selection-color: {t.on_act};
}}
QPlainTextEdit {{ padding: {_px(6, scale)} {_px(8, scale)}; }}
{focused} {{
    border: 2px solid {t.act}; padding: 0 {_px(9, scale)};
}}
QLineEdit[tone="caution"] {{ border: 2px solid {t.caution}; }}
QLineEdit[role="answer"] {{ font-size: {_px(16, scale)}; min-height: {_px(38, scale)}; }}
QLineEdit QToolButton {{ background: transparent; border: none; min-height: 0; padding: 0; }}
QLineEdit[role="find"] {{ border-radius: {_px(15, scale)}; }}
QComboBox::drop-down {{ border: none; width: {_px(24, scale)}; }}
QComboBox QAbstractItemView {{
    background: {t.panel}; color: {t.ink}; border: 1px solid {t.edge};
    selection-background-color: {t.act_tint}; selection-color: {t.ink};
}}
QCheckBox, QRadioButton {{
    color: {t.ink}; spacing: {_px(8, scale)}; min-height: {_px(28, scale)};
    border-radius: {_px(4, scale)}; padding: 0 {_px(2, scale)};
}}
QCheckBox:focus, QRadioButton:focus {{ border: 2px solid {t.act}; padding: 0; }}
"""


def _ticked(t: Tokens, scale: float, marks: tuple[str, str]) -> str:
    side, (tick, dot) = _px(18, scale), marks
    return f"""
QCheckBox::indicator, QRadioButton::indicator {{
    width: {side}; height: {side}; background: {t.panel}; border: 1px solid {t.edge};
}}
QCheckBox::indicator {{ border-radius: {_px(4, scale)}; }}
QRadioButton::indicator {{ border-radius: {_px(9.5, scale)}; }}
QCheckBox::indicator:checked {{
    background: {t.act}; border-color: {t.act}; image: url("{tick}");
}}
QRadioButton::indicator:checked {{
    background: {t.act}; border-color: {t.act}; image: url("{dot}");
}}
QCheckBox::indicator:disabled, QRadioButton::indicator:disabled {{ border-color: {t.rule}; }}
"""


def _buttons(t: Tokens, scale: float) -> str:
    return f"""
QPushButton, QToolButton {{
    background: {t.panel}; color: {t.ink}; border: 1px solid {t.edge};
    border-radius: {_px(6, scale)}; padding: 0 {_px(14, scale)}; min-height: {_px(30, scale)};
}}
QPushButton:hover, QToolButton:hover {{ background: {t.act_tint}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {t.act}; padding: 0 {_px(13, scale)}; }}
QPushButton:disabled, QToolButton:disabled {{ color: {t.muted}; border-color: {t.rule}; }}
QPushButton[role="main"] {{
    background: {t.act}; color: {t.on_act}; border: 1px solid {t.act}; font-weight: 600;
    font-size: {_px(16, scale)}; min-height: {_px(42, scale)}; padding: 0 {_px(20, scale)};
}}
QPushButton {{ outline: none; }}
QPushButton[role="main"]:focus {{ border: 3px solid {t.ink}; padding: 0 {_px(18, scale)}; }}
QPushButton[role="main"]:disabled {{
    background: {t.rule}; color: {t.muted}; border-color: {t.rule};
}}
QPushButton[role="quiet"], QToolButton[role="quiet"] {{
    background: transparent; border: 1px solid transparent; padding: 0 {_px(8, scale)};
    color: {t.act};
}}
QPushButton[role="quiet"]:disabled, QToolButton[role="quiet"]:disabled {{ color: {t.muted}; }}
QPushButton[role="quiet"]:hover, QToolButton[role="quiet"]:hover {{ background: {t.act_tint}; }}
QPushButton[role="quiet"]:focus, QToolButton[role="quiet"]:focus {{
    border: 2px solid {t.act}; padding: 0 {_px(7, scale)};
}}
QToolButton[role="tool"] {{
    background: transparent; border: 1px solid transparent; padding: {_px(2, scale)};
    font-size: {_px(12, scale)}; min-height: 0;
}}
QToolButton[role="tool"]:hover {{ background: {t.act_tint}; }}
QToolButton[role="tool"]:checked {{
    background: {t.act_tint}; border: 2px solid {t.act}; padding: {_px(1, scale)}; font-weight: 600;
}}
QToolButton[role="tool"]:focus {{ border: 2px solid {t.ink}; padding: {_px(1, scale)}; }}
QPushButton[role="choice"] {{
    background: {t.act_tint}; border: 1px solid {t.act_tint}; text-align: left;
}}
QPushButton[role="choice"]:checked {{ border: 2px solid {t.act}; font-weight: 600; }}
QPushButton[role="choice"]:focus {{ border: 2px solid {t.act}; }}
QPushButton[role="row"] {{
    background: transparent; border: 1px solid transparent; text-align: left;
    padding: 0 {_px(6, scale)}; min-height: {_px(28, scale)};
}}
QPushButton[role="row"]:hover {{ background: {t.act_tint}; }}
QPushButton[role="row"]:focus {{ border: 2px solid {t.act}; padding: 0 {_px(5, scale)}; }}
"""


def _toggles(t: Tokens, scale: float) -> str:
    return f"""
QToolButton[role="toggle"] {{
    background: {t.panel}; border: 1px solid {t.edge}; padding: 0 {_px(10, scale)};
    min-height: {_px(28, scale)};
}}
QToolButton[role="toggle"]:hover {{ background: {t.act_tint}; }}
QToolButton[role="toggle"]:checked {{
    background: {t.act_tint}; border: 2px solid {t.act}; padding: 0 {_px(9, scale)};
    min-height: {_px(26, scale)};
}}
QToolButton[role="toggle"]:focus {{
    border: 2px solid {t.ink}; padding: 0 {_px(9, scale)}; min-height: {_px(26, scale)};
}}
QToolButton[role="tab"] {{
    background: transparent; border: 2px solid transparent; border-radius: 0;
    padding: 0 {_px(8, scale)}; min-height: {_px(26, scale)}; color: {t.muted};
}}
QToolButton[role="tab"]:hover {{ color: {t.ink}; background: {t.act_tint}; }}
QToolButton[role="tab"]:checked {{
    color: {t.ink}; border-bottom: 2px solid {t.act}; font-weight: 600;
}}
QToolButton[role="tab"]:focus {{
    border: 2px solid {t.act}; border-radius: {_px(4, scale)};
}}
"""


def _lists(t: Tokens, scale: float) -> str:
    return f"""
QTableView, QTreeView, QListView, QTableWidget, QTreeWidget, QListWidget {{
    background: {t.panel}; color: {t.ink}; border: none; outline: none;
    gridline-color: {t.rule}; alternate-background-color: {t.paper};
    selection-background-color: {t.act_tint}; selection-color: {t.ink};
}}
QTableView:focus, QTreeView:focus, QListView:focus {{ border: 2px solid {t.act}; }}
QListWidget[role="rows"]::item {{
    padding: 0 {_px(12, scale)}; border-bottom: 1px solid {t.rule};
    border-left: {_px(4, scale)} solid transparent;
}}
QListWidget[role="rows"]::item:selected {{
    background: {t.act_tint}; color: {t.ink}; border-left-color: {t.act};
}}
QHeaderView {{ background: {t.panel}; border: none; }}
QHeaderView::section {{
    background: {t.panel}; color: {t.muted}; border: none; border-bottom: 1px solid {t.rule};
    padding: {_px(4, scale)} {_px(8, scale)}; font-size: {_px(13, scale)};
}}
QScrollBar:vertical {{ background: transparent; width: {_px(10, scale)}; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: {_px(10, scale)}; margin: 0; }}
QScrollBar::handle {{
    background: {t.edge}; border-radius: {_px(2, scale)}; margin: {_px(3, scale)};
    min-height: {_px(28, scale)}; min-width: {_px(28, scale)};
}}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
"""


def _frames(t: Tokens, scale: float) -> str:
    radius = _px(8, scale)
    return f"""
QMainWindow, QDialog {{ background: {t.paper}; }}
QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}
QScrollArea:focus {{ border: 2px solid {t.act}; }}
QFrame[role="strip"] {{ background: {t.panel}; border: none; border-bottom: 1px solid {t.rule}; }}
QFrame[role="column"] {{ background: {t.paper}; border: none; }}
QFrame[role="card"] {{
    background: {t.panel}; border: 1px solid {t.rule}; border-radius: {radius};
}}
QFrame[role="card"][chosen="true"] {{ border: 2px solid {t.act}; }}
QFrame[role="card"]:focus {{ border: 3px solid {t.act}; background: {t.act_tint}; }}
QFrame[role="caution"] {{
    background: {t.caution_tint}; border: 1px solid {t.caution}; border-radius: {radius};
}}
QFrame[role="stop"] {{
    background: {t.stop_tint}; border: 2px solid {t.stop}; border-radius: {radius};
}}
QFrame[role="hairline"] {{ background: {t.rule}; border: none; max-height: 1px; min-height: 1px; }}
QSplitter::handle {{ background: {t.rule}; }}
QSplitter::handle:hover {{ background: {t.act}; }}
"""


def _menus(t: Tokens, scale: float) -> str:
    return f"""
QMenuBar {{ background: {t.panel}; color: {t.ink}; border: none; padding: 0 {_px(8, scale)}; }}
QMenuBar::item {{ padding: {_px(6, scale)} {_px(10, scale)}; background: transparent; }}
QMenuBar::item:selected {{ background: {t.act_tint}; }}
QMenu {{ background: {t.panel}; color: {t.ink}; border: 1px solid {t.rule}; padding: 4px 0; }}
QMenu::item {{ padding: {_px(6, scale)} {_px(28, scale)}; }}
QMenu::item:selected {{ background: {t.act_tint}; color: {t.ink}; }}
QMenu::item:disabled {{ color: {t.muted}; }}
QMenu::separator {{ height: 1px; background: {t.rule}; margin: 4px 0; }}
QToolTip {{ background: {t.panel}; color: {t.ink}; border: 1px solid {t.edge}; padding: 4px 8px; }}
"""
