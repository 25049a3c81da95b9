"""From a photo's bytes to its pixels, turned the way it was held: JPEG, PNG, HEIC."""

from __future__ import annotations

import io
import math
import warnings
from dataclasses import dataclass
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from PIL import Image as PillowImage
from PIL import ImageOps

from clothwright.errors import BadInput
from clothwright.photo.extra import library

Pixels = NDArray[np.uint8]

MOST_BYTES = 60_000_000
"""A photo file larger than this is refused (a 50 MP phone photo has about 25 MB)."""
MOST_PIXELS = 64_000_000
HALVED_PIXELS = 30_000_000
"""A JPEG with more pixels is read at half its size each way, which needs a quarter of the memory;
what is left is finer than the flat picture all the same."""
LEAST_SIDE, LONGEST_SIDE = 200, 20_000
FULL_FRAME_DIAGONAL_MM = math.hypot(36.0, 24.0)
"""The "35 mm" focal length of EXIF is told for this diagonal (CIPA DCG-001)."""

_FOCAL_35MM, _EXIF_IFD = 0xA405, 0x8769
_KINDS = ("JPEG", "PNG")
_HEIC_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo as pixels.

    pixels: (height, width, 3) red, green, blue, 0 to 255, row 0 on top, the camera's turn undone.
    focal_px: focal length in pixels as the camera tells it, None when it does not.
    """

    pixels: Pixels
    focal_px: float | None
    name: str

    @property
    def width(self) -> int:
        """Pixels across."""
        return int(self.pixels.shape[1])

    @property
    def height(self) -> int:
        """Pixels down."""
        return int(self.pixels.shape[0])


def read_photo(data: bytes, name: str) -> Photo:
    """Return a photo from the bytes of a JPEG, PNG or HEIC file.

    name: of the file, for messages. Raises BadInput: not a photo, broken, too large, too small;
    or a HEIC photo without the extra "photo" installed.
    """
    if len(data) > MOST_BYTES:
        raise BadInput(
            where=name,
            what=f"the file has {len(data) / 1e6:.0f} MB",
            expected=f"a photo of at most {MOST_BYTES // 1_000_000} MB",
        )
    image = _heic(data, name) if _is_heic(data) else _common(data, name)
    focal_35mm = _focal_35mm(image)
    pixels = _decoded(image, name)
    diagonal = math.hypot(*pixels.shape[:2])
    focal = focal_35mm * diagonal / FULL_FRAME_DIAGONAL_MM if focal_35mm else None
    return Photo(pixels=pixels, focal_px=focal, name=name)


def _is_heic(data: bytes) -> bool:
    return data[4:8] == b"ftyp" and data[8:12] in _HEIC_BRANDS


def _common(data: bytes, name: str) -> Any:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = PillowImage.open(io.BytesIO(data), formats=_KINDS)
    except PillowImage.DecompressionBombError:
        raise _too_many(name) from None
    except (OSError, SyntaxError, ValueError, TypeError, OverflowError):
        raise BadInput(
            where=name,
            what="it could not be read as a photo" if data else "the file is empty",
            expected="a JPEG, PNG or HEIC photo",
        ) from None
    _check_size(image.size, name)
    return image


def _heic(data: bytes, name: str) -> Any:
    heif = library("pi_heif")
    try:
        file = heif.open_heif(io.BytesIO(data), convert_hdr_to_8bit=True)
        _check_size(file.size, name)
        image = file.to_pillow()
    except (OSError, ValueError, RuntimeError, EOFError, SyntaxError, TypeError, KeyError):
        raise _broken(name) from None
    return image


def _check_size(size: tuple[int, int], name: str) -> None:
    width, height = size
    if width * height > MOST_PIXELS or max(size) > LONGEST_SIDE:
        raise _too_many(name, f"{width} × {height} pixels")
    if min(size) < LEAST_SIDE:
        raise BadInput(
            where=name,
            what=f"the photo has only {width} × {height} pixels",
            expected=f"at least {LEAST_SIDE} pixels each way",
            try_="the photo as the camera took it, not a preview of it",
        )


def _too_many(name: str, what: str = "more pixels than any photo") -> BadInput:
    return BadInput(
        where=name,
        what=f"the photo has {what}",
        expected=f"at most {MOST_PIXELS // 1_000_000} million pixels",
        try_="the camera's usual setting",
    )


def _broken(name: str) -> BadInput:
    return BadInput(
        where=name,
        what="the photo is damaged or was copied only in part",
        try_="copying it from the camera again",
    )


def _decoded(image: Any, name: str) -> Pixels:
    """All pixels, turned as the camera was held; what is see-through is shown on white."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            if image.width * image.height > HALVED_PIXELS and image.format == "JPEG":
                image.draft(None, (image.width // 2, image.height // 2))
            image.load()
            turned = ImageOps.exif_transpose(image)
            return _rgb(turned)
    except (OSError, ValueError, SyntaxError, EOFError, IndexError, KeyError, TypeError):
        raise _broken(name) from None
    except (MemoryError, OverflowError):
        raise _too_many(name) from None


def _rgb(image: Any) -> Pixels:
    if image.mode in ("I", "I;16", "I;16B", "F"):
        wide = np.asarray(image, dtype=np.float64)
        grey = (wide * (255.0 / max(float(wide.max()), 255.0))).astype(np.uint8)
        return np.repeat(grey[:, :, None], 3, axis=2)
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        seen = image.convert("RGBA")
        white = PillowImage.new("RGBA", seen.size, (255, 255, 255, 255))
        image = PillowImage.alpha_composite(white, seen)
    return cast(Pixels, np.array(image.convert("RGB"), dtype=np.uint8))


def _focal_35mm(image: Any) -> float:
    """EXIF's focal length for a 35 mm camera; 0 when the photo does not tell a credible one."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            told = float(image.getexif().get_ifd(_EXIF_IFD).get(_FOCAL_35MM, 0))
    except Exception:  # noqa: BLE001  a broken EXIF block spoils no photo
        return 0.0
    return told if 8.0 <= told <= 400.0 else 0.0
