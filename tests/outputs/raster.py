"""Pages as pixels, and where a line's middle lies in them to a fraction of a pixel.

Nothing here resizes a raster: a resized line is a line somewhere else.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
from PIL import Image
from scipy.ndimage import map_coordinates

DPI = 300
PER_MM = DPI / 25.4
"""Pixels in one mm, taken as told to the renderer, not measured from the page."""
PAPER = 255
"""The grey of bare paper."""


class Raster(NamedTuple):
    """A page: grey from 0 (black) to PAPER, row 0 at the top; height of the page in mm.

    A byte a dot: as floats a page would be 70 MB, and fifty are looked at together.
    """

    grey: npt.NDArray[np.uint8]
    height_mm: float

    def profile(
        self, xs: npt.NDArray[np.float64], ys: npt.NDArray[np.float64]
    ) -> npt.NDArray[np.float64]:
        """Darkness, 0 (paper) to 1 (black), at points in mm from the page's lower left corner."""
        rows = (self.height_mm - ys) * PER_MM - 0.5
        columns = xs * PER_MM - 0.5
        grey = map_coordinates(self.grey, [rows, columns], order=1, cval=PAPER, output=np.float64)
        return 1.0 - grey / PAPER


def by_pdfium(pdf: bytes) -> list[Raster]:
    """Every page, drawn by PDFium."""
    with pypdfium2.PdfDocument(pdf) as document:
        pages = []
        for page in document:
            bitmap = page.render(scale=DPI / 72, grayscale=True)
            grey = np.array(bitmap.to_numpy(), dtype=np.uint8).reshape(bitmap.height, bitmap.width)
            pages.append(Raster(grey, page.get_height() / 72 * 25.4))
        return pages


def by_poppler(pdf: bytes) -> list[Raster]:
    """Every page, drawn by Poppler; the test is skipped where Poppler is not installed."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not here: install poppler-utils to measure with a second program")
    with tempfile.TemporaryDirectory() as folder, pypdfium2.PdfDocument(pdf) as document:
        file = Path(folder) / "pages.pdf"
        file.write_bytes(pdf)
        command = ["pdftoppm", "-r", str(DPI), "-gray", str(file), str(Path(folder) / "page")]
        subprocess.run(command, check=True, capture_output=True, timeout=300)
        rasters = []
        for page, image in zip(document, sorted(Path(folder).glob("page*.pgm")), strict=True):
            grey = np.array(Image.open(image), dtype=np.uint8)
            rasters.append(Raster(grey, page.get_height() / 72 * 25.4))
        return rasters


RENDERERS = {"pdfium": by_pdfium, "poppler": by_poppler}


def middle_of_line(
    raster: Raster,
    at: tuple[float, float],
    normal: tuple[float, float],
    *,
    reach: float = 1.5,
    least: float = 0.15,
) -> float | None:
    """How far from `at`, along the unit `normal`, the darkness within `reach` mm has its middle.

    Only what is darker than `least` counts. None when nothing is.
    """
    steps = np.linspace(-reach, reach, int(2 * reach * PER_MM * 4) + 1)
    dark = raster.profile(at[0] + steps * normal[0], at[1] + steps * normal[1])
    weight = np.clip(dark - least, 0.0, None)
    if weight.max() < 0.1:
        return None
    return float(np.sum(weight * steps) / np.sum(weight))


def side_lengths(raster: Raster, corner: tuple[float, float], side: float) -> tuple[float, float]:
    """Width and height of a drawn square near `corner`, as the median over many places, mm.

    Its lines may lie up to 1 mm from where they are looked for, so that a wrong square is seen.
    """
    x, y = corner
    shares = np.linspace(0.13, 0.97, 29)
    widths, heights = [], []
    for share in shares:
        level, upright = y + share * side, x + share * side
        left = middle_of_line(raster, (x, level), (1.0, 0.0), reach=1.0)
        right = middle_of_line(raster, (x + side, level), (1.0, 0.0), reach=1.0)
        low = middle_of_line(raster, (upright, y), (0.0, 1.0), reach=1.0)
        high = middle_of_line(raster, (upright, y + side), (0.0, 1.0), reach=1.0)
        if left is not None and right is not None:
            widths.append(side + right - left)
        if low is not None and high is not None:
            heights.append(side + high - low)
    return float(np.median(widths)), float(np.median(heights))
