"""HEIC photos, end to end.

The files in `data` are pictures of our own (the simulator's, demo data), encoded by another
program than the one that reads them: pillow-heif 1.8.1 with x265. pi-heif only decodes.
"""

from __future__ import annotations

import math
from pathlib import Path as FilePath

import numpy as np
import pytest

from clothwright.errors import BadInput
from clothwright.photo.flatten import flatten
from clothwright.photo.outline import find_outline
from clothwright.photo.read import read_photo
from tests.photo.measure import doubted, off
from tests.photo.taken import PRINTED, front

DATA = FilePath(__file__).parent / "data"


@pytest.mark.parametrize("name", ["upright.heic", "turned.heic"])
def test_a_heic_comes_in_upright(name: str) -> None:
    """White corner upper left, red and blue halves; the turn is the file's own (ISO 23008-12)."""
    photo = read_photo((DATA / name).read_bytes(), name)
    assert (photo.width, photo.height) == (400, 300)
    for (row, column), colour in (
        ((20, 20), (255, 255, 255)),
        ((280, 20), (220, 0, 0)),
        ((150, 380), (0, 0, 220)),
    ):
        assert np.abs(photo.pixels[row, column].astype(int) - colour).max() < 16


def test_its_focal_length_is_told() -> None:
    """EXIF's 35 mm focal length of 26 mm, as of a JPEG."""
    photo = read_photo((DATA / "turned.heic").read_bytes(), "a.heic")
    assert photo.focal_px == pytest.approx(26 / math.hypot(36, 24) * 500, rel=1e-9)


def test_a_piece_in_a_heic_photo_is_within_the_stated_error() -> None:
    """The true outline is known (simulated): rms under 1 mm, away from doubts within the error."""
    photo = read_photo((DATA / "coat_front.heic").read_bytes(), "coat_front.heic")
    found = find_outline(flatten((photo,), bar_mm=200.0 * PRINTED))
    measured = off(found.path, front().scene.outline, doubted(found))
    assert measured.rms < 1.0
    assert measured.clear < found.error_mm


def test_100_broken_heic_files_are_a_sentence_or_a_photo() -> None:
    """Bits flipped and ends cut off: never another error."""
    rng = np.random.default_rng(11)
    whole = (DATA / "turned.heic").read_bytes()
    said = []
    for k in range(100):
        data = bytearray(whole[: len(whole) - int(rng.integers(0, len(whole))) * (k % 2)])
        for _ in range(int(rng.integers(1, 12))):
            if data:
                data[int(rng.integers(0, len(data)))] ^= 1 << int(rng.integers(0, 8))
        try:
            assert read_photo(bytes(data), "photo-7.heic").width >= 1
        except BadInput as error:
            said.append(str(error))
    assert len(said) > 40
    assert all(words.startswith("photo-7.heic: ") for words in said)
