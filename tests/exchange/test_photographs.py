"""Photographs taken in: small, upright, silent about where they were taken; or refused in words."""

from __future__ import annotations

import hashlib
import io
import random
import struct
import tracemalloc
import zlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageOps

from estimator.exchange import photographs
from estimator.exchange.photographs import squared_picture, take_in
from estimator.notices import UserMistake, WorldFault
from estimator.survey.photo import Squared, squared
from estimator.survey.survey import Photo, PhotoPoint

GPS_IFD, MAKE, CAMERA_NOTE = 0x8825, 0x010F, 0x9286


def scene(wide: int = 320, high: int = 200) -> Image.Image:
    """A picture of which every corner is told apart: red, green, blue and white."""
    picture = Image.new("RGB", (wide, high), "grey")
    half = wide // 2, high // 2
    for colour, corner in (
        ("red", (0, 0)),
        ("lime", (half[0], 0)),
        ("blue", (0, half[1])),
        ("white", half),
    ):
        picture.paste(colour, (*corner, corner[0] + half[0], corner[1] + half[1]))
    return picture


def filed(picture: Image.Image, form: str = "JPEG", **more: Any) -> bytes:
    out = io.BytesIO()
    picture.save(out, form, **more)
    return out.getvalue()


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))


def noted(*, way_up: int = 1, day: str = "2026:11:24 16:20:31") -> Image.Exif:
    """The notes of a telephone: its make, where it was, when, and a remark."""
    notes = Image.Exif()
    notes[MAKE] = "Canarymake"
    notes[0x0112] = way_up
    notes[0x8769] = {0x9003: day, CAMERA_NOTE: b"canary remark"}
    notes[GPS_IFD] = {1: "N", 2: (51.0, 30.0, 12.5), 3: "W", 4: (0.0, 7.0, 39.0)}
    return notes


def test_nothing_but_the_picture_is_kept() -> None:
    given = filed(
        scene(),
        exif=noted(),
        comment=b"canary comment",
        icc_profile=b"canary profile" * 9,
        xmp=b"<x:xmpmeta>canary packet</x:xmpmeta>",
    )
    for word in (b"Canarymake", b"canary remark", b"canary comment", b"canary packet"):
        assert word in given
    assert dict(opened(given).getexif().get_ifd(GPS_IFD))
    kept = take_in(given)
    assert b"anary" not in kept.picture
    assert b"Exif" not in kept.picture
    with opened(kept.picture) as picture:
        assert not dict(picture.getexif())
        assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    # The only parts of the file left are the picture's own: APP0, tables, frame and scan.
    assert set(marks(kept.picture)) <= {0xD8, 0xE0, 0xDB, 0xC0, 0xC4, 0xDA}


def marks(jpeg: bytes) -> list[int]:
    """The kinds of the parts of a JPEG, up to the scan."""
    found, at = [jpeg[1]], 2
    while found[-1] != 0xDA:
        found.append(jpeg[at + 1])
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return found


@pytest.mark.parametrize("way_up", range(1, 9))
def test_every_way_of_holding_the_camera_comes_out_upright(way_up: int) -> None:
    given = filed(scene(), exif=noted(way_up=way_up), quality=95, subsampling=0)
    kept = take_in(given)
    # Pillow's own turning is the reference.
    should = np.asarray(ImageOps.exif_transpose(opened(given)), dtype=float)
    found = np.asarray(opened(kept.picture), dtype=float)
    assert found.shape == should.shape
    assert (kept.width_px, kept.height_px) == (found.shape[1], found.shape[0])
    assert abs(found - should).mean() < 6


@pytest.mark.parametrize(
    ("day", "taken"),
    [
        ("2026:11:24 16:20:31", "2026-11-24"),
        ("2026-11-24", "2026-11-24"),
        ("0000:00:00 00:00:00", ""),
        ("2026:02:30 00:00:00", ""),
        ("    :  :     :  :  ", ""),
        ("yesterday", ""),
    ],
)
def test_the_day_is_read_where_it_is_one(day: str, taken: str) -> None:
    assert take_in(filed(scene(), exif=noted(day=day))).taken == taken


def test_without_notes_no_day_is_told() -> None:
    assert take_in(filed(scene())).taken == ""
    assert take_in(filed(scene(), "PNG")).taken == ""


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ((4000, 3000), (2000, 1500)),
        ((3024, 4032), (1500, 2000)),
        ((5003, 777), (2000, 311)),
        ((2000, 900), (2000, 900)),
        ((640, 480), (640, 480)),
    ],
)
def test_it_is_made_smaller_and_never_larger(given: tuple[int, int], kept: tuple[int, int]) -> None:
    found = take_in(filed(scene(*given)))
    assert (found.width_px, found.height_px) == kept
    assert opened(found.picture).size == kept


def test_the_same_file_gives_the_same_bytes(tmp_path: Path) -> None:
    given = filed(scene(2500, 1000), exif=noted())
    path = tmp_path / "wall.jpg"
    path.write_bytes(given)
    one, two = take_in(given), take_in(path)
    assert one == two
    assert one.sha256 == hashlib.sha256(one.picture).hexdigest()
    assert path.read_bytes() == given


@pytest.mark.parametrize(
    ("form", "mode"),
    [
        *(("JPEG", mode) for mode in ("RGB", "L", "CMYK", "1")),
        *(("PNG", mode) for mode in ("RGB", "L", "RGBA", "LA", "P", "1", "I;16")),
        *(("WEBP", mode) for mode in ("RGB", "RGBA")),
        *(("TIFF", mode) for mode in ("RGB", "L", "RGBA", "LA", "P", "1", "CMYK", "I;16")),
    ],
)
def test_every_kind_of_picture_keeps_its_grey(form: str, mode: str) -> None:
    sixteen = Image.fromarray(np.full((64, 96), 200 * 256, dtype=np.uint16))
    picture = sixteen if mode == "I;16" else Image.new("L", (96, 64), 200).convert(mode)
    found = np.asarray(opened(take_in(filed(picture, form)).picture).convert("L"), dtype=float)
    # Of black and white alone the grey is scattered dots.
    assert abs(found.mean() - 200) < 4


def test_what_is_clear_is_shown_on_white() -> None:
    clear = Image.new("RGBA", (96, 64), (10, 10, 10, 0))
    for form in ("PNG", "WEBP"):
        assert opened(take_in(filed(clear, form)).picture).getpixel((40, 30)) == (255, 255, 255)


@pytest.mark.parametrize("form", ["WEBP", "TIFF", "PNG"])
def test_of_several_pictures_the_first_is_taken(form: str) -> None:
    given = filed(
        Image.new("RGB", (96, 64), "red"),
        form,
        save_all=True,
        append_images=[Image.new("RGB", (96, 64), "blue")],
    )
    red, _green, blue = opened(take_in(given).picture).getpixel((40, 30))  # type: ignore[misc]
    assert red > 200
    assert blue < 50


def heic() -> bytes:
    return b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(200)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (b"", "could not be read as a photograph"),
        (b"not a picture at all" * 20, "could not be read as a photograph"),
        (b"%PDF-1.7\n" + bytes(500), "could not be read as a photograph"),
        (filed(scene(), "GIF"), "could not be read as a photograph"),
        (filed(scene(40, 40)), "has only 40 by 40 pixels"),
        (heic(), "Most compatible"),
    ],
)
def test_what_cannot_be_used_is_said_in_words(given: bytes, said: str) -> None:
    with pytest.raises(UserMistake, match=said):
        take_in(given)


def test_a_file_that_cannot_be_read_is_told_by_its_name(tmp_path: Path) -> None:
    with pytest.raises(WorldFault, match=r"'gone\.jpg' could not be read"):
        take_in(tmp_path / "gone.jpg")
    with pytest.raises(UserMistake, match="is a folder"):
        take_in(tmp_path)


def test_a_file_past_the_size_is_not_even_read(tmp_path: Path) -> None:
    path = tmp_path / "large.jpg"
    with path.open("wb") as file:
        file.truncate(photographs.MOST_BYTES + 1)
    tracemalloc.start()
    with pytest.raises(UserMistake, match="too large"):
        take_in(path)
    _now, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 1_000_000


def claiming(wide: int, high: int) -> bytes:
    """A small PNG that says it is large, with the sums that make it believed."""
    given = filed(Image.new("1", (96, 64)), "PNG")
    head = b"IHDR" + struct.pack(">II", wide, high) + given[24:29]
    return given[:12] + head + struct.pack(">I", zlib.crc32(head)) + given[33:]


@pytest.mark.parametrize(("wide", "high"), [(9_000, 9_000), (20_000, 20_000), (2**31 - 1, 99)])
def test_a_picture_that_would_unpack_past_all_memory_is_refused(wide: int, high: int) -> None:
    tracemalloc.start()
    with pytest.raises(UserMistake):
        take_in(claiming(wide, high))
    _now, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 2_000_000


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_damaged_files_are_taken_in_or_refused_and_nothing_else(form: str) -> None:
    chance = random.Random(form)
    noise = np.random.default_rng(5).integers(0, 255, (90, 120, 3), dtype=np.uint8)
    more = {"exif": noted(way_up=6)} if form != "TIFF" else {"compression": "tiff_lzw"}
    whole = filed(Image.fromarray(noise), form, **more)
    refused = 0
    for _ in range(400):
        given = bytearray(whole)
        for _ in range(chance.randint(1, 6)):
            # The notes and sizes stand at the front, so damage falls there more often.
            at = int(len(given) * chance.random() ** 3)
            given[at] = chance.randrange(256)
        if chance.random() < 0.3:
            del given[chance.randrange(len(given)) :]
        try:
            take_in(bytes(given))
        except UserMistake:
            refused += 1
    assert refused > 20


def flat(points: tuple[PhotoPoint, ...]) -> Squared:
    return squared(Photo("p", "front", "", 320, 200, points))


SQUARE = tuple(
    PhotoPoint(across, down, across * 10, (200 - down) * 10)
    for across, down in ((20, 20), (300, 20), (300, 180), (20, 180), (160, 90))
)


def test_a_part_of_the_wall_is_cut_out_to_scale() -> None:
    # The middle of the scene: each quarter of the part shows one colour.
    found = opened(squared_picture(filed(scene()), flat(SQUARE), (1000, 500, 2200, 1500), 0.1))
    assert found.size == (120, 100)
    colours = [found.getpixel(at) for at in ((30, 25), (90, 25), (30, 75), (90, 75))]
    for colour, (red, green, blue) in zip(
        colours, [(255, 0, 0), (0, 255, 0), (0, 0, 255), (255, 255, 255)], strict=True
    ):
        assert np.abs(np.subtract(colour, (red, green, blue))).max() < 12  # type: ignore[arg-type]


def test_what_the_photograph_does_not_show_is_white() -> None:
    picture = Image.new("RGB", (320, 200), "black")
    found = opened(squared_picture(filed(picture), flat(SQUARE), (-1000, 0, 1000, 1000), 0.05))
    assert found.getpixel((10, 25)) == (255, 255, 255)
    assert found.getpixel((90, 25)) == (0, 0, 0)


def test_a_part_that_makes_no_picture_is_refused() -> None:
    picture = filed(scene())
    for box in ((0, 0, 0, 10), (10, 0, 0, 10), (0, 0, 1e6, 1e6)):
        with pytest.raises(UserMistake, match="makes no picture"):
            squared_picture(picture, flat(SQUARE), box, 1.0)
    with pytest.raises(UserMistake, match="photograph is damaged"):
        squared_picture(picture[: len(picture) // 2], flat(SQUARE), (0, 0, 100, 100), 1.0)


def test_a_part_beyond_the_horizon_is_refused() -> None:
    # A wall seen along itself: to the right it comes near, to the left it runs away.
    leaning = tuple(
        PhotoPoint(across, down, x, y)
        for across, down, x, y in (
            *((300, 10, 1000, 1000), (300, 190, 1000, 0)),
            *((100, 75, 0, 1000), (100, 125, 0, 0)),
        )
    )
    with pytest.raises(UserMistake, match="does not show so much"):
        squared_picture(filed(scene()), flat(leaning), (0, 0, 3000, 1000), 0.1)
