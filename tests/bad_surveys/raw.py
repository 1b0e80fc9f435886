"""Files that are not JSON at all, or JSON that no ordinary writer makes."""

from __future__ import annotations

from collections.abc import Callable

Make = Callable[[str], bytes]
"""Makes the bytes of a bad file from the text of the good survey."""


def always(content: bytes) -> Make:
    """Make a file that has nothing of the good survey in it."""
    return lambda _text: content


def swapped(old: str, new: str) -> Make:
    """Make a file with one piece of the text swapped for another."""
    return lambda text: text.replace(old, new, 1).encode()


NOT_JSON = "the survey file cannot be read at line 1, column"
NOT_A_GROUP = "write a group of fields in braces"
NOT_UTF_8 = "the survey file is not UTF-8 text from byte"
TOO_DEEP = "brackets inside brackets too deep"
VERSION_DO = 'write "perpend_survey": 1 at the top'

RAW: tuple[tuple[str, Make, str], ...] = (
    ("file-is-empty", always(b""), "the survey file is empty"),
    ("file-is-spaces", always(b" \n\t \r\n"), "the survey file is empty"),
    ("file-is-only-a-byte-order-mark", always(b"\xef\xbb\xbf"), "the survey file is empty"),
    ("file-is-prose", always(b"Dear Sirs"), f"{NOT_JSON} 1 "),
    ("file-is-zeros", always(b"\0" * 64), f"{NOT_JSON} 1 "),
    ("file-is-a-comma-table", always(b"id,width\na,3\n"), f"{NOT_JSON} 1 "),
    ("file-is-markup", always(b"<survey/>"), f"{NOT_JSON} 1 "),
    ("file-is-cut-short", lambda text: text[: len(text) // 2].encode(), NOT_JSON),
    ("file-has-lost-its-last-brace", lambda text: text[:-1].encode(), NOT_JSON),
    ("file-has-a-brace-too-many", lambda text: f"{text}}}".encode(), NOT_JSON),
    ("file-is-two-surveys", lambda text: f"{text}\n{text}".encode(), "at line 2, column 1 "),
    ("file-has-two-byte-order-marks", lambda text: f"\ufeff\ufeff{text}".encode(), NOT_JSON),
    ("file-has-a-comment", lambda text: f"// mine\n{text}".encode(), f"{NOT_JSON} 1 "),
    ("file-has-a-comma-too-many", lambda text: f"{text[:-1]},}}".encode(), NOT_JSON),
    ("file-has-a-comma-missing", swapped(',"title"', '"title"'), NOT_JSON),
    ("file-has-a-colon-missing", swapped('"title":', '"title"'), NOT_JSON),
    ("file-has-single-quotes", lambda text: text.replace('"', "'").encode(), NOT_JSON),
    ("file-has-curly-quotes", swapped('"title"', "“title”"), NOT_JSON),
    ("file-has-a-name-without-quotes", swapped('"title"', "title"), NOT_JSON),
    ("file-has-true-with-a-capital", swapped("true", "True"), NOT_JSON),
    ("file-has-a-number-with-a-leading-zero", swapped(":3,", ":03,"), NOT_JSON),
    ("file-has-a-number-with-a-plus", swapped(":3,", ":+3,"), NOT_JSON),
    ("file-has-a-number-with-a-comma", swapped(":3,", ":3,5,"), NOT_JSON),
    ("file-has-a-number-with-a-unit", swapped(":3,", ":3mm,"), NOT_JSON),
    ("file-has-a-bare-line-end-in-a-text", swapped("Larch Row", "Larch\nRow"), NOT_JSON),
    ("file-has-an-unknown-escape", swapped("Larch Row", "Larch \\x"), NOT_JSON),
    ("file-has-an-unfinished-text", swapped("Larch Row", "Larch \\"), NOT_JSON),
    ("file-is-utf-16", lambda text: text.encode("utf-16"), f"{NOT_UTF_8} 1 "),
    ("file-is-latin-1", lambda text: text.replace("Ada", "Adè").encode("latin-1"), NOT_UTF_8),
    ("file-ends-inside-a-letter", lambda text: text.encode() + b"\xe2\x82", NOT_UTF_8),
    ("file-has-an-overlong-letter", lambda text: text.encode() + b"\xc0\xaf", NOT_UTF_8),
    ("file-has-a-raw-surrogate", lambda text: text.encode() + b"\xed\xa0\x80", NOT_UTF_8),
    ("survey-is-lists-in-lists-without-end", always(b"[" * 5_000), TOO_DEEP),
    ("survey-is-groups-in-groups-without-end", always(b'{"a":' * 5_000), TOO_DEEP),
    ("survey-is-a-list", lambda text: f"[{text}]".encode(), NOT_A_GROUP),
    ("survey-is-a-number", always(b"17"), NOT_A_GROUP),
    ("survey-is-a-text", always(b'"survey"'), NOT_A_GROUP),
    ("survey-is-null", always(b"null"), NOT_A_GROUP),
    ("survey-is-true", always(b"true"), NOT_A_GROUP),
    ("survey-is-nan", always(b"NaN"), NOT_A_GROUP),
    ("survey-is-an-empty-group", always(b"{}"), VERSION_DO),
    (
        "title-is-written-twice",
        swapped('"title":', '"title":"x","title":'),
        "title is written twice",
    ),
    (
        "version-is-written-twice",
        swapped('"perpend_survey":1', '"perpend_survey":1,"perpend_survey":1'),
        "perpend_survey is written twice",
    ),
    (
        "crack-width-is-written-twice",
        swapped('"width_mm":3', '"width_mm":3,"width_mm":3'),
        "elevation 'front', crack 'a': width_mm is written twice",
    ),
    (
        "run-course-is-written-twice",
        swapped('"course":2', '"course":2,"course":2'),
        "elevation 'front', crack 'a', run: course is written twice",
    ),
    (
        "elevations-are-written-twice",
        swapped('"elevations":', '"elevations":[],"elevations":'),
        "elevations is written twice",
    ),
    (
        "range-low-is-written-twice",
        swapped('"low":1', '"low":1,"low":1'),
        "elevation 'side', crack 'a', width_mm: low is written twice",
    ),
)
"""Name, how it is made, and a part of the sentence."""

WIDTH = "elevations.0.cracks.0.width_mm"
WIDTH_PLACE = "elevation 'front', crack 'a': width_mm"
DEEP = "[" * 300 + "]" * 300

RAW_VALUES: tuple[tuple[str, str, str, str], ...] = (
    ("crack-width-is-infinity", WIDTH, "Infinity", f"{WIDTH_PLACE} is Infinity; write a number"),
    ("crack-width-is-minus-infinity", WIDTH, "-Infinity", f"{WIDTH_PLACE} is -Infinity;"),
    ("crack-width-overflows", WIDTH, "1e999", f"{WIDTH_PLACE} is inf; write a number"),
    ("crack-width-overflows-below", WIDTH, "-1e999", f"{WIDTH_PLACE} is -inf; write a number"),
    ("crack-width-has-5000-digits", WIDTH, "9" * 5000, f"{WIDTH_PLACE} is 99999999… (5000 digits)"),
    ("crack-width-has-20-digits", WIDTH, "9" * 20, f"{WIDTH_PLACE} is 1e+20; write a number"),
    ("crack-width-is-below-nothing", WIDTH, "-0.001", f"{WIDTH_PLACE} is -0.001; write a number"),
    ("crack-width-is-200-and-a-bit", WIDTH, "200.000001", f"{WIDTH_PLACE} is 200.000001; write"),
    ("crack-width-is-a-deep-list", WIDTH, DEEP, f"{WIDTH_PLACE} is a list; write a number"),
    ("title-is-a-deep-list", "title", DEEP, "title is a list; write text in quotes"),
    ("version-has-5000-digits", "perpend_survey", "1" * 5000, "which is no version"),
    ("version-has-19-digits", "perpend_survey", "1" * 19, "newer than this program can read"),
    ("version-is-1-point-0", "perpend_survey", "1.0", "perpend_survey is 1.0, which is no version"),
    ("version-is-nan", "perpend_survey", "NaN", "perpend_survey is NaN, which is no version"),
)
"""Name, path, the value as written, and a part of the sentence."""
