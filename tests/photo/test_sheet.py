"""Marker sheets: what is drawn is what is found, in the file as on the sheet."""

from __future__ import annotations

import cv2
import numpy as np
import pypdfium2
import pytest

from clothwright.errors import BadInput
from clothwright.outputs.paper import parse_paper
from clothwright.photo import sheet as sheets
from clothwright.photo.markers import find_markers
from clothwright.photo.read import Photo
from clothwright.workroom.pieces.sheets import sheets_pdf, write_sheets

DOTS = 150.0


def printed(pdf: bytes, page: int) -> Photo:
    """A page as pixels."""
    with pypdfium2.PdfDocument(pdf) as document:
        image = document[page].render(scale=DOTS / 72).to_numpy()
    return Photo(pixels=np.ascontiguousarray(image[..., :3]), focal_px=None, name="page")


@pytest.mark.parametrize("name", ["A4", "Letter"])
def test_a_printed_sheet_is_found_true_to_size(name):
    """All six markers, their corners within 0.1 mm of the layout, middle of the paper."""
    paper = parse_paper(name)
    page = printed(sheets_pdf([0, 3], paper), 1)
    found = find_markers(page)
    assert [m.number for m in found.markers] == list(range(18, 24))
    corner = np.array([(paper.width - sheets.WIDTH_MM) / 2, (paper.height - sheets.HEIGHT_MM) / 2])
    for marker in found.markers:
        at = (marker.corners + 0.5) / (page.width, page.height) * (paper.width, paper.height)
        mm = np.stack([at[:, 0], paper.height - at[:, 1]], axis=1) - corner
        assert np.abs(mm - np.array(sheets.marker_corners(marker.number).at)).max() < 0.1


def test_the_bar_is_200_mm_long():
    """Middle of one end line to the middle of the other, measured on the page's pixels."""
    page = printed(sheets_pdf([0], parse_paper("A4")), 0)
    grey = page.pixels.mean(axis=2)
    column = int((12.0 + 84.0 - 4.0) / 25.4 * DOTS)
    rows = np.flatnonzero(grey[:, column] < 140)
    groups = np.split(rows, np.flatnonzero(np.diff(rows) > 3) + 1)
    assert len(groups) == 2
    assert (groups[1].mean() - groups[0].mean()) / DOTS * 25.4 == pytest.approx(200.0, abs=0.2)


def test_every_marker_of_every_sheet_is_another():
    """24 sheets, 144 markers, no two alike in any turn: at least 11 cells of 36 differ."""
    bits = [sheets.marker_bits(n)[1:-1, 1:-1] for n in range(sheets.SHEETS * sheets.MARKERS)]
    turned = np.array([[np.rot90(b, k).ravel() for k in range(4)] for b in bits])
    for k, (mine, *_) in enumerate(turned):
        others = (turned[k + 1 :] != mine).sum(axis=2)
        assert others.size == 0 or others.min() >= 11


def test_outlines_of_cells_enclose_just_these_cells():
    """Filled by the even-odd rule, the loops give the cells back, holes and corners included."""
    rng = np.random.default_rng(2)
    for _ in range(30):
        cells = rng.random((8, 8)) < 0.5
        canvas = np.zeros((64, 64), np.uint8)
        for loop in sheets.boundary_loops(cells):
            part = np.zeros_like(canvas)
            scaled = np.array(loop) * 8
            cv2.fillPoly(part, [np.where(scaled == 64, 63, scaled).astype(np.int32)], 1)
            canvas ^= part
        assert (canvas[4::8, 4::8] > 0).tolist() == cells.tolist()


def test_sheets_have_numbers_in_words():
    """What the maker reads: sheet one, sheet twenty-four."""
    assert [sheets.sheet_words(k) for k in (0, 11, 19, 23)] == [
        "one",
        "twelve",
        "twenty",
        "twenty-four",
    ]
    texts = [i.words for i in sheets.sheet_picture(23).items if hasattr(i, "words")]
    assert "Sheet twenty-four" in texts


def test_what_cannot_be_printed_is_told(tmp_path):
    """Too many sheets, too small a paper."""
    with pytest.raises(BadInput, match="1 to 24"):
        write_sheets(tmp_path, count=25)
    with pytest.raises(BadInput, match="A4 or Letter"):
        write_sheets(tmp_path, count=1, paper="A5")
    assert write_sheets(tmp_path, count=2).read_bytes()[:5] == b"%PDF-"
