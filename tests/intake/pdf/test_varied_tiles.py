"""Pages shared out in many ways, most of them cut at their frames, are joined or asked about.

How pages lie is known here, for the tests make them; nothing of that stands in the file unless the
way says so.
"""

from __future__ import annotations

import pytest

from clothwright.geometry.path import Path
from clothwright.intake.drawing import Drawing
from clothwright.intake.pages_told import pages_are_sure, pages_words
from clothwright.intake.pdf.reader import read_pdf
from clothwright.units import Unit
from tests.intake.pdf.sheets import skirt_sheet
from tests.intake.pdf.test_said_tiles import in_order
from tests.intake.pdf.tiled import tiled
from tests.intake.pdf.touching import three_pieces
from tests.intake.pdf.varied_tiles import Varied, misfit_by_piece, pages_in, written

PIECES = three_pieces()


def read(how: Varied) -> Drawing:
    """Return the pieces, shared out so and read."""
    return read_pdf(written(pages_in(PIECES, how), how), "skirt.pdf")


@pytest.mark.parametrize(
    "how",
    [
        Varied(content="cut", frame="crosses", overlap=20.0, labels="3 of 9", turned=270),
        Varied(content="cut", frame="halves", overlap=10.0, lying=True, cropped=True, unit=2.0),
        Varied(content="cut", frame="corners", overlap=10.0, inner=True, order="columns"),
        Varied(content="cut", frame="lines", turned=90, unit=2.0, blank=False),
    ],
)
def test_pages_cut_at_their_frames(how: Varied) -> None:
    """Frames that go round what neighbours show, too; turned, cropped, in units of their own."""
    drawing = read(how)
    assert misfit_by_piece(drawing, PIECES) < 0.2
    assert drawing.pages is not None
    assert pages_are_sure(drawing.pages)


@pytest.mark.parametrize(
    "how",
    [
        Varied(content="cut", frame="none", order="shuffled", seed=2),
        Varied(content="cut", frame="halves", order="shuffled", blank=False, seed=29),
        Varied(content="cut", frame="rect", overlap=10.0, order="shuffled", seed=8),
        Varied(content="whole", frame="none", overlap=20.0, order="shuffled", seed=5),
    ],
)
def test_pages_in_no_order_without_names(how: Varied) -> None:
    """Lines that are cut and run on tell which page lies beside which, and how far they overlap."""
    drawing = read(how)
    assert misfit_by_piece(drawing, PIECES) < 0.2


def test_pages_inside_a_piece_lie_in_it() -> None:
    """A grain line over two pages on which nothing else is drawn lies in the hole, asked about."""
    order = [7, 2, 14, 1, 9, 3, 16, 5, 11, 4, 13, 6, 8, 15, 10, 12]
    drawing = read_pdf(in_order(tiled(skirt_sheet(), "overlap"), order), "skirt.pdf")
    assert misfit_by_piece(drawing, skirt_sheet()) < 0.2
    assert drawing.pages is not None
    assert {order[n - 1] for n in drawing.pages.beside} == {7, 11}


def test_pages_that_could_change_places_are_asked_about() -> None:
    """A band of straight sides over three pages: each of these would do in another's place."""
    how = Varied(content="cut", frame="rect", overlap=10.0, lying=True, order="shuffled", seed=12)
    pages = pages_in(PIECES, how)
    bands = [n for n, p in enumerate(pages, 1) if sum(_upright(x.path) for x in p.lines) == 3]
    drawing = read_pdf(written(pages, how), "skirt.pdf")
    assert drawing.pages is not None
    assert set(drawing.pages.doubts) == set(bands)
    assert not pages_are_sure(drawing.pages)
    said = " ".join(pages_words(drawing.pages, Unit.mm))
    assert "might as well lie in each other's place" in said


def _upright(path: Path) -> bool:
    """Tell whether a line runs straight from the foot of the frame to its head."""
    return abs(path.end.y - path.start.y) > 189.0 and path.start.x == path.end.x
