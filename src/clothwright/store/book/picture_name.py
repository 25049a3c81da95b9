"""Which names a picture in the workbook's folder "pictures" may have."""

from __future__ import annotations

import re

SAFE = re.compile(r"[^\W_](?:[\w .-]{0,78}[\w-])?\.(?:jpe?g|png)", re.IGNORECASE)
"""A plain name: no folder, no drive, no dot first, an ending that says what it is."""
RESERVED = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)\..*", re.IGNORECASE)
"""Names that some systems keep for devices."""


def is_picture_name(name: str) -> bool:
    """Tell whether a name may stand for a picture of the workbook.

    >>> is_picture_name("linen vine.jpg"), is_picture_name("../linen.jpg")
    (True, False)
    """
    return bool(SAFE.fullmatch(name)) and ".." not in name and not RESERVED.fullmatch(name)


def picture_type(name: str) -> str:
    """Return the content type of a picture by its name."""
    return "image/png" if name.lower().endswith(".png") else "image/jpeg"
