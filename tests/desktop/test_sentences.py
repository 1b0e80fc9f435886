"""The sentences of the screen as they stand in the sources: whole, plain, and translatable.

GNOME and KDE human interface guidelines: sentence case, no office words, dots only where more has
to be said before anything happens.
"""

from __future__ import annotations

import ast
import re
import string
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from estimator.desktop.commands import all_commands, menu_titles
from tests.house.test_words import BANNED

ROOT = Path(__file__).resolve().parents[2]
DESK = ROOT / "estimator" / "desktop"
LOCALE = ROOT / "resources" / "locale"
LOOK_UPS = {"_": 1, "counted": 2, "in_context": 2}
"""Calls that look a sentence up, and how many of their arguments are texts of the source."""
BUTTONS = {"main_button", "button", "quiet_button", "row_button", "_row_button", "IconButton"}
NAMES = {
    *("Perpend", "VAT", "PDF", "CSV", "GB", "SVG", "NHL", "National", "Insurance"),
    *("Ctrl", "Shift", "Alt", "Enter", "Esc", "Del", "Tab", "PgUp", "File", "Nov", "F2", "F6"),
    *("Dec", "June", "December", "Monday", "England", "Wales", "Scotland", "Northern", "Ireland"),
    *("UBL", "Late", "Payment", "Act", "Bank's"),
}
"""Words written with a capital wherever they stand."""
ASKS_FIRST = {
    "&Restore a backup…": "one of the backups has to be chosen",
    "Pr&int…": "the printer is chosen first",
    "Print…": "the printer is chosen first",
    "Choose a picture…": "the picture is chosen first",
    "Choose another list…": "the list is chosen first",
    "Take a price list in…": "the list is chosen first",
    "Write the prices out…": "the place is chosen first",
    "Save a copy…": "the place is chosen first",
    "Add a photo…": "the picture is chosen first",
    "Save as PDF…": "the place is chosen first",
    "Elevation for an en&gineer (SVG)…": "the place is chosen first",
    "Save the ledger (CSV)…": "the place is chosen first",
    "Save for their books (UBL)…": "the place is chosen first",
    "Save choice {letter} for their books (UBL)…": "the place is chosen first",
    "E-mail…": "the letter is read and sent in another program",
}
"""Commands and buttons after which more has to be said, and what."""
GOING_ON = re.compile(r"\w+ing\b")
"""Dots after what is being done at this moment, as in *Opening the file…*."""
LOOKS_UP_NOTHING_FIRST = re.compile(r"%[aAbBpcxX]")
"""Days and months by the machine's own language, not the screen's."""


def sources() -> list[Path]:
    return sorted(DESK.rglob("*.py"))


def calls(tree: ast.AST) -> Iterator[tuple[str, ast.Call]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            yield name, node


def wrongly_looked_up(source: str) -> list[int]:
    """Return lines where what is looked up is not a text as it stands."""
    return [
        call.lineno
        for name, call in calls(ast.parse(source))
        if name in LOOK_UPS
        and isinstance(call.func, ast.Name)
        and not all(
            isinstance(one, ast.Constant) and isinstance(one.value, str)
            for one in call.args[: LOOK_UPS[name]]
        )
    ]


def wrongly_filled(source: str) -> list[int]:
    """Return lines where the gaps of a sentence and what is put into them are not the same."""
    found = []
    for name, call in calls(ast.parse(source)):
        sentence = getattr(call.func, "value", None)
        if name != "format" or not isinstance(sentence, ast.Call):
            continue
        if getattr(sentence.func, "id", "") not in ("_", "in_context"):
            continue
        text = sentence.args[-1]
        given = {one.arg for one in call.keywords}
        said = text.value if isinstance(text, ast.Constant) else None
        if isinstance(said, str) and None not in given and gaps(said) != given:
            found.append(call.lineno)
    return found


def gaps(sentence: str) -> set[str]:
    return {
        name for _text, name, _spec, _turn in string.Formatter().parse(sentence) if name is not None
    }


def built_up(source: str) -> list[int]:
    """Return lines where a sentence looked up is added to another text."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.BinOp)
        and isinstance(node.op, ast.Add)
        and any(name in LOOK_UPS for name, _call in calls(node))
    ]


@pytest.mark.parametrize("path", sources(), ids=lambda path: str(path.relative_to(DESK)))
def test_whole_sentences_are_looked_up(path: Path) -> None:
    source = path.read_text(encoding="utf-8")
    if path.name == "language.py":
        return
    assert not wrongly_looked_up(source)
    assert not wrongly_filled(source)
    assert not built_up(source)
    assert not LOOKS_UP_NOTHING_FIRST.search(source)


@pytest.mark.parametrize(
    "source", ['_(f"{n} bars")', '_("a " + b)', "_(told)", 'counted("a", many, 2)']
)
def test_a_sentence_put_together_is_noticed(source: str) -> None:
    assert wrongly_looked_up(source)


@pytest.mark.parametrize("source", ['_("{n} bars").format(m=1)', '_("{} bars").format(1)'])
def test_a_wrong_gap_is_noticed(source: str) -> None:
    assert wrongly_filled(source)


@pytest.fixture(scope="module")
def template() -> Catalog:
    with (LOCALE / "perpend.pot").open("rb") as held:
        return read_po(held)


def sentences(catalog: Catalog) -> Iterator[str]:
    for message in catalog:
        if message.id:
            yield from (message.id,) if isinstance(message.id, str) else message.id


def unlike_gaps(message: Message) -> bool:
    """Return whether the forms of one sentence, or its translations, have not the same gaps.

    A form for one thing may do without its number.
    """
    forms = (message.id,) if isinstance(message.id, str) else message.id
    said = message.string or ()
    told = (said,) if isinstance(said, str) else said
    found = [gaps(one) for one in (*forms, *told) if one]
    if len(forms) > 1:
        found = [one | {"n"} for one in found]
    return len({frozenset(one) for one in found}) > 1


def test_gaps_are_named_and_alike_in_all_forms(template: Catalog) -> None:
    catalogues = [template]
    for path in sorted(LOCALE.glob("*/LC_MESSAGES/perpend.po")):
        with path.open("rb") as held:
            catalogues.append(read_po(held))
    for catalogue in catalogues:
        assert not [one.id for one in catalogue if one.id and unlike_gaps(one)]
    assert not [one for one in sentences(template) if gaps(one) & {"", "0"}]


def test_unlike_gaps_are_noticed() -> None:
    assert unlike_gaps(Message(("{n} bar", "{number} bars")))
    assert unlike_gaps(Message("{n} bars", "{m} Stäbe"))


def test_sentences_are_plain(template: Catalog) -> None:
    assert not [one for one in sentences(template) if BANNED.search(one.replace("&", ""))]


def test_no_button_says_yes_or_no(template: Catalog) -> None:
    bare = {"yes", "no", "ok", "cancel", "apply"}
    found = {one.replace("&", "").lower() for one in spoken_by_buttons()}
    assert not found & bare


def spoken_by_buttons() -> Iterator[str]:
    """Yield what buttons, menus and their commands say."""
    yield from menu_titles().values()
    yield from (command.text for command in all_commands())
    for path in sources():
        for name, call in calls(ast.parse(path.read_text(encoding="utf-8"))):
            if name in BUTTONS:
                yield from _looked_up_in(call)


def _looked_up_in(call: ast.Call) -> Iterator[str]:
    for name, inner in calls(call):
        if name in LOOK_UPS:
            text = inner.args[-1 if name == "in_context" else 0]
            if isinstance(text, ast.Constant):
                yield str(text.value)


def wrong_capitals(text: str) -> list[str]:
    """Return words with a capital that begin no sentence and are no names."""
    words = re.findall(
        r"[A-Za-z][\w'’-]*|[.:?!=·“]", re.sub(r"\{[^}]*\}", "1", text.replace("&", ""))
    )
    found, begins = [], True
    for word in words:
        if word in ".:?!=·“":
            begins = True
            continue
        if not begins and word[0].isupper() and word not in NAMES and len(word) > 1:
            found.append(word)
        begins = False
    return found


def test_buttons_and_menus_are_in_sentence_case() -> None:
    said = list(spoken_by_buttons())
    assert len(said) > len(all_commands()) + 20
    assert not {text: wrong for text in said if (wrong := wrong_capitals(text))}
    small = [one for one in said if one.lstrip("&+ ")[:1].islower()]
    assert not small


def test_capitals_are_noticed() -> None:
    assert wrong_capitals("Print The Paper") == ["The", "Paper"]
    assert not wrong_capitals("About Perpend")


def test_all_sentences_are_in_sentence_case(template: Catalog) -> None:
    assert not {one: wrong for one in sentences(template) if (wrong := wrong_capitals(one))}


def test_dots_only_where_more_is_asked(template: Catalog) -> None:
    dotted = {one for one in sentences(template) if "…" in one}
    unlike = {one for one in dotted if one not in ASKS_FIRST and not GOING_ON.search(one)}
    assert not unlike
    assert not ASKS_FIRST.keys() - dotted, "no longer on the screen"
    assert all(one.endswith("…") for one in dotted)


@pytest.mark.slow
def test_the_template_has_every_sentence() -> None:
    done = subprocess.run(
        [sys.executable, str(ROOT / "packaging" / "messages.py"), "--check"],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, f"run packaging/messages.py: {done.stdout}"
