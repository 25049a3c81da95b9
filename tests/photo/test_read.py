"""Photos come in upright, or a sentence says why not."""

from __future__ import annotations

import io
import math
import sys

import numpy as np
import pi_heif
import pytest
from PIL import Image

from clothwright.errors import BadInput
from clothwright.photo import read
from clothwright.photo.read import read_photo


def picture(width: int = 400, height: int = 300) -> Image.Image:
    """Left half red, right half blue, the upper left corner white."""
    pixels = np.zeros((height, width, 3), np.uint8)
    pixels[:, : width // 2, 0] = 220
    pixels[:, width // 2 :, 2] = 220
    pixels[: height // 4, : width // 4] = 255
    return Image.fromarray(pixels)


def saved(image: Image.Image, kind: str, **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_photo_comes_in_as_it_is(kind):
    """Width, height and colours are the file's; a PNG's to the bit."""
    photo = read_photo(saved(picture(), kind), "a")
    assert (photo.width, photo.height, photo.focal_px) == (400, 300, None)
    assert np.abs(photo.pixels[200, 300].astype(int) - (0, 0, 220)).max() <= (8 * (kind == "JPEG"))


@pytest.mark.parametrize("turn", range(1, 9))
def test_the_cameras_turn_is_undone(turn):
    """EXIF orientations 1 to 8 (CIPA DC-008): the white corner comes back to the upper left."""
    undo = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    image = picture()
    held = image.transpose(undo[turn]) if turn in undo else image
    exif = Image.Exif()
    exif[0x0112] = turn
    photo = read_photo(saved(held, "JPEG", exif=exif, quality=95), "a")
    assert photo.pixels.shape == (300, 400, 3)
    assert photo.pixels[20, 20].min() > 230
    assert photo.pixels[280, 20, 0] > 190


def test_the_focal_length_is_told_in_pixels():
    """EXIF's 35 mm focal length: its part of the 43.27 mm diagonal, of this photo's diagonal."""
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0xA405] = 26
    photo = read_photo(saved(picture(), "JPEG", exif=exif), "a")
    assert photo.focal_px == pytest.approx(26 / math.hypot(36, 24) * 500, rel=1e-9)


@pytest.mark.parametrize("mode", ["L", "RGBA", "P", "LA", "I;16", "1", "CMYK"])
def test_every_kind_of_pixel_becomes_red_green_blue(mode):
    """Grey, see-through, with a palette, 16 bit, black and white, for print."""
    image = (
        Image.fromarray(np.full((300, 400), 40_000, np.uint16))
        if mode == "I;16"
        else picture().convert(mode)
    )
    photo = read_photo(saved(image, _kind(mode)), "a")
    assert photo.pixels.shape == (300, 400, 3)
    assert photo.pixels.dtype == np.uint8


def _kind(mode: str) -> str:
    return "JPEG" if mode == "CMYK" else "PNG"


def test_files_that_are_no_photos_are_told():
    """Empty, text, cut off, a page of another kind: a sentence with the file's name."""
    whole = saved(picture(), "JPEG")
    heic = b"\0\0\0\x18ftypheic" + b"x" * 300
    for data in (b"", b"hello", whole[: len(whole) // 2], b"%PDF-1.4", heic, heic[:13]):
        with pytest.raises(BadInput, match=r"^photo-7\.jpg: "):
            read_photo(data, "photo-7.jpg")


def test_200_broken_files_are_a_sentence_or_a_photo():
    """Bits flipped and ends cut off, JPEG and PNG: never another error."""
    rng = np.random.default_rng(5)
    for kind in ("JPEG", "PNG"):
        whole = saved(picture(), kind)
        for k in range(100):
            data = bytearray(whole[: len(whole) - int(rng.integers(0, len(whole))) * (k % 2)])
            for _ in range(int(rng.integers(1, 12))):
                if data:
                    data[int(rng.integers(0, len(data)))] ^= 1 << int(rng.integers(0, 8))
            told = ""
            try:
                told = f"photo-7.jpg: {read_photo(bytes(data), 'photo-7.jpg').width} wide"
            except BadInput as error:
                told = str(error)
            assert told.startswith("photo-7.jpg: ")


def test_too_large_and_too_small_are_refused(monkeypatch):
    """Pixels and bytes are counted before anything is unpacked."""
    with pytest.raises(BadInput, match="at least 200"):
        read_photo(saved(picture(100, 80), "PNG"), "a")
    monkeypatch.setattr(read, "MOST_PIXELS", 100_000)
    with pytest.raises(BadInput, match="400 × 300 pixels"):
        read_photo(saved(picture(), "PNG"), "a")
    monkeypatch.setattr(read, "MOST_BYTES", 100)
    with pytest.raises(BadInput, match="MB"):
        read_photo(saved(picture(), "PNG"), "a")


def test_a_missing_library_is_named_with_the_way_to_get_it(monkeypatch):
    """Without pi-heif a HEIC photo is refused in a sentence that says what to install."""
    monkeypatch.setitem(sys.modules, "pi_heif", None)
    with pytest.raises(BadInput, match=r"pi-heif.*clothwright\[photo\]"):
        read_photo(b"\0\0\0\x18ftypheic" + b"x" * 300, "a.heic")


def test_the_heic_reader_is_there():
    """pi-heif is installed with the tests; what it decodes is in test_heic.py."""
    assert pi_heif.libheif_version()


@pytest.mark.parametrize("turn", [1, 6])
def test_a_jpeg_with_very_many_pixels_is_read_at_half_its_size(monkeypatch, turn):
    """Half each way, upright all the same, its focal length in the pixels it has then."""
    monkeypatch.setattr(read, "HALVED_PIXELS", 100_000)
    exif = Image.Exif()
    exif[0x0112] = turn
    exif.get_ifd(0x8769)[0xA405] = 27
    photo = read_photo(saved(picture(), "JPEG", exif=exif.tobytes()), "a")
    size = (200, 150) if turn == 1 else (150, 200)
    assert (photo.width, photo.height) == size
    assert photo.focal_px == pytest.approx(27 * 250 / math.hypot(36, 24), rel=1e-3)
    corner = (5, 5) if turn == 1 else (5, size[0] - 6)
    assert photo.pixels[corner].min() > 230
    assert read_photo(saved(picture(), "PNG"), "b").width == 400
