"""Photographs coming in: looked at with care, made smaller, and rid of all they tell in secret.

A telephone writes into a photograph where it was taken, when and with what. The day is read, and
then nothing but the picture itself is kept. The picture library is loaded when it is first wanted.
"""

from __future__ import annotations

import hashlib
import io
import math
import struct
import warnings
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from estimator.notices import UserMistake, WorldFault
from estimator.survey.photo import Squared

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_BYTES = 60_000_000
MOST_PIXELS = 110_000_000
"""The largest telephones give 108 million; house rule."""
MOST_PIXELS_UNPACKED = 50_000_000
"""Of kinds that must be unpacked whole; house rule."""
LEAST_SIDE_PX = 64
LONG_SIDE_PX = 2_000
"""Of the kept picture: two millimetres to the pixel on a front of four metres; house rule."""
QUALITY = 85
MOST_SIDE_ON_PAPER_PX = 4_000
FINER = 1.5
"""A picture so much finer than the paper is drawn larger first, so that joints do not flicker."""
FORMATS = ("JPEG", "PNG", "WEBP", "TIFF")
HEIC = (b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"mif1", b"msf1")
EXIF_IFD, ORIENTATION, DATES = 0x8769, 0x0112, (0x9003, 0x9004)
CHANGED = 0x0132
"""Numbers of the tags for the inner list, which way is up, when taken, and when changed (Exif 2.3,
from memory)."""
BROKEN = (
    *(OSError, SyntaxError, ValueError, TypeError, KeyError, IndexError, EOFError, OverflowError),
    *(ZeroDivisionError, AttributeError, RuntimeError, MemoryError, AssertionError, struct.error),
)
"""What the picture library may raise for a file that is not what it says."""
Box = tuple[float, float, float, float]
"""Left, bottom, right and top on the wall. [mm]"""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A photograph as it is kept: a JPEG that holds the picture and nothing else."""

    picture: bytes
    sha256: str
    width_px: int
    height_px: int
    taken: str
    """The day it was taken by the camera's clock, ISO 8601; empty where it does not say."""


def take_in(given: Path | bytes) -> TakenIn:
    """Return a photograph upright, small enough to keep, and without anything but the picture.

    The same file gives the same bytes each time.

    Raises:
        UserMistake: for what is no photograph, too large, or of a kind that cannot be read.
        WorldFault: when the file cannot be read.
    """
    content = _read(given) if isinstance(given, Path) else given
    if len(content) > MOST_BYTES:
        raise _too_large()
    _refuse_heic(content)
    # Loads slowly and is wanted only when a photograph is.
    from PIL import Image  # noqa: PLC0415

    with warnings.catch_warnings():
        # About notes in the file that are damaged, and sizes, which are looked at here.
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
                _refuse_size(opened)
                taken, way_up = _told(opened)
                picture = _upright(_small(opened), way_up)
        except Image.DecompressionBombError as error:
            raise _too_large() from error
        except BROKEN as error:
            raise UserMistake(
                "that file could not be read as a photograph",
                why="it is damaged, or no JPEG, PNG, WebP or TIFF",
                do="open it in a picture program and save it as JPEG, or take another",
            ) from error
        return _kept(picture, taken)


def squared_picture(picture: bytes, squared: Squared, box_mm: Box, px_per_mm: float) -> bytes:
    """Return a part of the wall as a JPEG seen from square in front, for paper.

    Raises:
        UserMistake: for a part that the photograph cannot show, or a picture that is damaged.
    """
    from PIL import Image  # noqa: PLC0415

    left, bottom, right, top = box_mm
    wide, high = round((right - left) * px_per_mm), round((top - bottom) * px_per_mm)
    if not (0 < wide <= MOST_SIDE_ON_PAPER_PX and 0 < high <= MOST_SIDE_ON_PAPER_PX):
        raise UserMistake("that part of the wall makes no picture", do="choose a smaller part")
    times = _times_finer(squared, box_mm, px_per_mm)
    numbers = _from_square(squared, box_mm, px_per_mm * times)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(picture), formats=("JPEG",)) as opened:
                flat = opened.convert("RGB").transform(
                    (wide * times, high * times),
                    Image.Transform.PERSPECTIVE,
                    numbers,
                    resample=Image.Resampling.BICUBIC,
                    fillcolor=(255, 255, 255),
                )
        except BROKEN as error:
            raise UserMistake("the photograph is damaged", do="take it in again") from error
    return _written(flat.reduce(times) if times > 1 else flat)


def _read(path: Path) -> bytes:
    """Read a file that is small enough."""
    try:
        if path.is_dir():
            raise UserMistake(f"'{path.name}' is a folder", do="choose a photograph in it")
        if path.stat().st_size > MOST_BYTES:
            raise _too_large()
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except OSError as error:
        raise WorldFault(
            f"'{path.name}' could not be read", do="see whether it is still there, or copy it first"
        ) from error


def _too_large() -> UserMistake:
    return UserMistake(
        "the photograph is too large",
        why=f"{MOST_BYTES // 1_000_000} MB and {MOST_PIXELS // 1_000_000} million pixels are the"
        " most that is taken in",
        do="save a smaller copy of it and use that",
    )


def _refuse_heic(content: bytes) -> None:
    if content[4:8] == b"ftyp" and content[8:12] in HEIC:
        raise UserMistake(
            "photographs in the HEIC form cannot be read here",
            do="send it from the telephone as JPEG; to have the camera write JPEG from now on,"
            " choose 'Most compatible' under Settings, Camera, Formats, or switch off 'High"
            " efficiency pictures' in the camera's settings",
        )


def _refuse_size(opened: Image) -> None:
    """Refuse by the size a file says it has, before any of it is unpacked."""
    wide, high = opened.size
    most = MOST_PIXELS if opened.format in ("JPEG", "MPO") else MOST_PIXELS_UNPACKED
    if wide * high > most:
        raise _too_large()
    if min(wide, high) < LEAST_SIDE_PX:
        raise UserMistake(
            f"the picture has only {wide} by {high} pixels",
            why="nothing can be measured on so few",
            do="use the photograph itself, not a small copy of it",
        )


def _told(opened: Image) -> tuple[str, int]:
    """Return the day a photograph was taken and which way is up, as far as it says."""
    try:
        notes = opened.getexif()
        inner = notes.get_ifd(EXIF_IFD)
        way_up = notes.get(ORIENTATION, 1)
        days = [*(inner.get(tag) for tag in DATES), notes.get(CHANGED)]
    except BROKEN:
        return "", 1
    told = [_day(one) for one in days]
    return next((day for day in told if day), ""), way_up if isinstance(way_up, int) else 1


def _day(told: object) -> str:
    """Return a day as ISO 8601 writes it, empty for what is none."""
    if not isinstance(told, str):
        return ""
    try:
        year, month, day = told[:10].replace("-", ":").split(":")
        return date(int(year), int(month), int(day)).isoformat()
    except ValueError:
        return ""


def _small(opened: Image) -> Image:
    """Return the picture in plain colours, no larger than is kept."""
    from PIL import Image as images  # noqa: N813, PLC0415

    share = min(1.0, LONG_SIDE_PX / max(opened.size))
    size = tuple(max(1, round(side * share)) for side in opened.size)
    # Lets the decoder leave out what is not kept; takes effect on JPEG only.
    opened.draft("RGB", (size[0], size[1]))
    opened.seek(0)
    opened.load()
    plain = _plain(opened)
    if plain.size == size:
        return plain
    return plain.resize((size[0], size[1]), images.Resampling.BICUBIC, reducing_gap=2.0)


def _plain(opened: Image) -> Image:
    """Return a picture of any kind in red, green and blue, on white where it is clear."""
    from PIL import Image as images  # noqa: N813, PLC0415

    if opened.mode == "RGB" and "transparency" not in opened.info:
        return opened.copy()
    if opened.mode.startswith("I"):
        # Sixteen bits to the pixel; the upper eight are what shows.
        return opened.convert("F").point(_upper_bits).convert("L").convert("RGB")
    if opened.mode in ("RGBA", "LA", "PA", "La", "RGBa") or "transparency" in opened.info:
        clear = opened.convert("RGBA")
        ground = images.new("RGBA", clear.size, (255, 255, 255, 255))
        return images.alpha_composite(ground, clear).convert("RGB")
    return opened.convert("RGB")


def _upper_bits(value: float) -> float:
    return value * (1 / 256) + 0.0


def _upright(picture: Image, way_up: int) -> Image:
    """Turn a picture as its camera was held (Exif 2.3, tag Orientation, from memory)."""
    from PIL.Image import Transpose  # noqa: PLC0415

    turns = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    return picture.transpose(turns[way_up]) if way_up in turns else picture


def _kept(picture: Image, taken: str) -> TakenIn:
    written = _written(picture)
    return TakenIn(written, hashlib.sha256(written).hexdigest(), *picture.size, taken)


def _written(picture: Image) -> bytes:
    """Return a picture as JPEG with nothing beside it."""
    # Whatever came with it would be written out again: colours, comments, notes of all kinds.
    picture.info = {}
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def _times_finer(squared: Squared, box_mm: Box, px_per_mm: float) -> int:
    """Return how much larger to draw first, so that nothing of a finer photograph is left out."""
    left, bottom, right, top = box_mm
    (a, b), (c, d) = squared.view.slopes(((left + right) / 2, (bottom + top) / 2)).by_wall
    finer = math.sqrt(abs(a * d - b * c)) / px_per_mm
    return min(3, math.ceil(finer)) if finer > FINER else 1


def _from_square(squared: Squared, box_mm: Box, px_per_mm: float) -> tuple[float, ...]:
    """Return the eight numbers that lead from the squared picture back to the photograph.

    Raises:
        UserMistake: when a corner lies beyond the horizon of the photograph.
    """
    left, bottom, right, top = box_mm
    m = squared.picture_matrix
    corners = [(x, y) for x in (left, right) for y in (bottom, top)]
    if min(m[6] * x + m[7] * y + m[8] for x, y in corners) <= 0:
        raise UserMistake(
            "the photograph does not show so much of the wall", do="choose a smaller part"
        )
    mm = 1 / px_per_mm
    rows = [
        (one * mm, -two * mm, one * left + two * top + three)
        for one, two, three in (m[0:3], m[3:6], m[6:9])
    ]
    whole = rows[2][2]
    return tuple(number / whole for row in rows for number in row)[:8]
