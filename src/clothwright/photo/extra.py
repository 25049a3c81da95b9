"""The libraries that only photos need, asked for by name when a photo is first read."""

from __future__ import annotations

import importlib
from typing import Any

from clothwright.errors import BadInput

PACKAGES = {"cv2": "opencv-python-headless", "pi_heif": "pi-heif", "scipy": "scipy"}
"""Import name -> the package of the extra "photo" that brings it."""


def library(name: str) -> Any:
    """Return a library of the extra "photo", or a module of it such as "scipy.optimize".

    Raises BadInput with the way to get it when it is not installed.
    """
    try:
        return importlib.import_module(name)
    except ImportError:
        package = PACKAGES.get(name.split(".", maxsplit=1)[0], name)
        raise BadInput(
            where="photos",
            what=f'the package "{package}", which reads photos, is not installed',
            try_='python -m pip install "clothwright[photo]"',
        ) from None
