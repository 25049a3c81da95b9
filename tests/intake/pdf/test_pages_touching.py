"""Pages that draw only the shapes that touch them, whole: no piece lost, none made of a frame."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.geometry.path import Path, polyline, rectangle
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import see
from clothwright.intake.drawing import Drawing
from clothwright.intake.pages_told import pages_words
from clothwright.intake.pdf.reader import read_pdf
from clothwright.units import Unit
from tests.intake.pdf.sheets import Drawn, Sheet
from tests.intake.pdf.touching import (
    Tiling,
    by_hand,
    lines_left_out,
    misfit,
    pages_touching,
    thin_areas,
    three_pieces,
    three_sizes,
)

PIECES = three_pieces()
NAMES = ["skirt back", "skirt front", "waistband"]


def named(drawing: Drawing) -> list[str]:
    """Return the names of the pieces."""
    return sorted(c.words.name for c in see(drawing, "", Unit.mm).candidates)


@pytest.mark.parametrize(
    "how",
    [
        Tiling(),
        Tiling(blank=False),
        Tiling(blank=False, labels=""),
        Tiling(labels="3", order="columns", cover=True),
        Tiling(overlap=12.0, labels="", order="columns"),
        Tiling(frame=False, margin=0.0, overlap=10.0, labels=""),
        Tiling(frame=False, margin=9.0, labels="3", blank=False, cover=True),
    ],
)
def test_three_pieces(how: Tiling) -> None:
    """Three names, three outlines within 0.1 mm, every dart and grain line in its piece."""
    drawing = read_pdf(by_hand(pages_touching(PIECES, how)), "skirt.pdf")
    assert misfit(drawing, PIECES) < 0.1
    assert named(drawing) == NAMES


def test_pages_painted_white() -> None:
    """A filled rectangle as large as the page is paper, not a piece."""
    drawing = read_pdf(by_hand(pages_touching(PIECES, Tiling()), white=True), "skirt.pdf")
    assert misfit(drawing, PIECES) < 0.1
    assert named(drawing) == NAMES


@pytest.mark.parametrize("made", ["strokes", "areas", "open"])
def test_frames_however_drawn(made: str) -> None:
    """Four strokes, four thin areas, one open line: a frame is no piece and no line of one."""
    data = by_hand(thin_areas(pages_touching(PIECES, Tiling()), made))
    drawing = read_pdf(data, "skirt.pdf")
    assert misfit(drawing, PIECES) < 0.1
    assert named(drawing) == NAMES


@pytest.mark.parametrize("by", ["dash", "colour"])
@pytest.mark.parametrize("frame", [True, False])
def test_three_sizes(by: str, frame: bool) -> None:
    """Sizes told apart over many pages, each outline its own."""
    sheet = three_sizes(by)
    how = Tiling(frame=frame, overlap=12.0, margin=8.0 if frame else 0.0, labels="")
    drawing = read_pdf(by_hand(pages_touching(sheet, how)), "skirt.pdf")
    assert drawing.sizes == ("12", "14", "16")
    assert misfit(drawing, sheet) < 0.1
    for size in drawing.sizes:
        assert sum(x.size == size and x.path.length > 600 for x in drawing.lines) == 2


def test_curves_that_begin_at_a_false_point() -> None:
    """A program leaves out lines beyond the paper, and begins the next curve elsewhere."""
    sheet = three_sizes("dash")
    pages = pages_touching(sheet, Tiling(frame=False, margin=0.0, overlap=12.0, labels=""))
    drawing = read_pdf(by_hand([lines_left_out(p) for p in pages]), "skirt.pdf")
    assert drawing.pages is not None
    assert drawing.pages.loose == 0
    assert misfit(drawing, sheet) < 0.1


def test_pages_in_no_order() -> None:
    """Shapes that pages share tell where they lie, whatever their order."""
    pages = pages_touching(PIECES, Tiling(labels="", blank=False))
    order = [3, 8, 0, 11, 5, 1, 9, 2, 10, 4, 7, 6]
    drawing = read_pdf(by_hand([pages[k] for k in order]), "skirt.pdf")
    assert misfit(drawing, PIECES) < 0.1
    assert drawing.pages is not None
    assert drawing.pages.rows[0][:2] == (order.index(0) + 1, order.index(1) + 1)


def lone() -> list[Sheet]:
    """Tiles in no order, and one more that shares nothing with them: a small pocket on it."""
    pages = pages_touching(PIECES, Tiling(labels="", blank=False))
    pocket = rectangle(Vec(60.0, 80.0), Vec(140.0, 190.0))
    frame = pages[0].lines[-1]
    more = replace(pages[0], lines=(Drawn(path=pocket), frame), words=())
    return [more, *pages[::-1]]


def test_a_page_that_shares_nothing_is_not_lost() -> None:
    """It lies beside the others, and is told of with its number."""
    drawing = read_pdf(by_hand(lone()), "skirt.pdf")
    assert any(x.closed and abs(x.path.length - 380.0) < 0.1 for x in drawing.lines)
    assert drawing.pages is not None
    assert drawing.pages.beside == (1,)
    assert any("from the others to page 1:" in w for w in pages_words(drawing.pages, Unit.mm))
    assert any("1 page of which no line runs on" in n for n in drawing.notes)


def test_a_cover_with_lines_is_told() -> None:
    """What is drawn on a page without the frame of the others is named when it is left out."""
    pages = pages_touching(PIECES, Tiling(cover=True))
    small = polyline([Vec(20.0, 180.0), Vec(90.0, 190.0), Vec(60.0, 240.0)])
    pages[0] = replace(pages[0], lines=(*pages[0].lines, Drawn(path=small)))
    drawing = read_pdf(by_hand(pages), "skirt.pdf")
    assert named(drawing) == NAMES
    assert any("page 1 with 1 line" in n for n in drawing.notes)
    assert any("a test square was checked" in n for n in drawing.notes)
    assert drawing.pages is not None
    assert drawing.pages.covers == (1,)
    assert any("taken for a cover" in w for w in pages_words(drawing.pages, Unit.mm))


def test_what_is_said_comes_first() -> None:
    """--tiles alone places the pages as it says, though the shapes on them say otherwise."""
    data = by_hand(pages_touching(PIECES, Tiling()))
    right = read_pdf(data, "skirt.pdf", Answers(tiles="5x3"))
    assert right.pages is not None
    assert right.pages.rows[1] == (6, 7, 8, 9, 10)
    assert misfit(right, PIECES) < 0.1
    other = read_pdf(data, "skirt.pdf", Answers(tiles="3x5"))
    assert other.pages is not None
    assert other.pages.rows[1] == (4, 5, 6)
    shifted = read_pdf(data, "skirt.pdf", Answers(tiles="5x3", shift="180 mm, 277 mm"))
    assert shifted.pages is not None
    assert shifted.pages.step is not None
    assert shifted.pages.step.is_near((180.0, 277.0), 1e-6)


def test_two_pieces_that_are_alike() -> None:
    """Two equal pockets on one sheet are two: what else would have to stand there tells."""
    straight = Path((Line(Vec(90.0, 60.0), Vec(90.0, 260.0)),))
    arc = polyline(
        [Vec(20, 20), Vec(180, 30), Vec(170, 500), Vec(100, 540), Vec(30, 500), Vec(20, 20)]
    )
    lines = []
    for k in range(3):
        move = translation(Vec(230.0 * k, 13.0 * k))
        lines += [Drawn(path=x.transformed(move)) for x in (straight, arc)]
    sheet = Sheet(width=690.0, height=600.0, lines=tuple(lines))
    drawing = read_pdf(by_hand(pages_touching(sheet, Tiling(labels=""))), "pockets.pdf")
    assert misfit(drawing, sheet) < 0.1
    assert sum(abs(x.path.length - 200.0) < 0.1 for x in drawing.lines) == 3
