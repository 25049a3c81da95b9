"""A name across the edge of two pages: read whole, once, whichever letters each page carries."""

from __future__ import annotations

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth

from clothwright.geometry.path import polyline, rectangle
from clothwright.geometry.vec import Vec
from clothwright.intake.candidates import see
from clothwright.intake.pdf.reader import read_pdf
from clothwright.units import Unit
from tests.intake.pdf.sheets import Drawn, Sheet
from tests.intake.pdf.touching import by_hand

SIZE, SEAM = 8.0, 190.0
"""mm: of the letters; where the second page begins in the drawing."""


def wide(words: str) -> float:
    """How wide words are in the face the pages are written in, mm."""
    return stringWidth(words, "Helvetica", SIZE)


def placed(words: str, start: float) -> tuple[str, Vec, float]:
    """Words that begin at a place, as `by_hand` writes them."""
    return words, Vec(start + 0.25 * SIZE * len(words), 150.0), SIZE


def pages(name: str, split: int, first: str, second: str, *, whole: bool) -> bytes:
    """Two pages with frames side by side, a piece across both and a name across the seam.

    split: letters of the name before the seam; first, second: "part" or "all" of the name on each.
    whole: each page draws the piece whole; else what lies on it.
    """
    start = SEAM - wide(name[:split]) - 0.2
    out = []
    for k, how in enumerate((first, second)):
        move = 10.0 - k * SEAM
        left, right = (60.0, 320.0) if whole else ((60.0, SEAM), (SEAM, 320.0))[k]
        lines = [Drawn(path=rectangle(Vec(10, 10), Vec(200, 287)), width=0.2)]
        if whole:
            lines.append(Drawn(path=rectangle(Vec(left + move, 40), Vec(right + move, 260))))
        else:
            edge, seam = ((left, right), (right, left))[k]
            corners = [(seam, 40), (edge, 40), (edge, 260), (seam, 260)]
            lines.append(Drawn(path=polyline([Vec(x + move, y) for x, y in corners])))
        words = {"all": (name, start), "part": (name[:split], start)}[how]
        if k and how == "part":
            words = (name[split:], start + wide(name[:split]))
        text = placed(words[0], words[1] + move)
        out.append(Sheet(width=210.0, height=297.0, lines=tuple(lines), words=(text,)))
    return by_hand(out)


@pytest.mark.parametrize("whole", [True, False])
@pytest.mark.parametrize(("first", "second"), [("part", "all"), ("all", "part"), ("part", "part")])
@pytest.mark.parametrize(
    ("name", "split"),
    [("Collar", 3), ("Collar", 1), ("Collar", 5), ("Yoke pocket", 6), ("Waistband", 5)],
)
def test_a_name_across_a_seam(name: str, split: int, first: str, second: str, whole: bool) -> None:
    """The longer of two texts at one place stands; halves that run on are one."""
    drawing = read_pdf(pages(name, split, first, second, whole=whole), "d.pdf")
    (piece,) = see(drawing, "", Unit.mm).candidates
    assert piece.words.name == name
    assert [t.words for t in piece.texts] == [name]
