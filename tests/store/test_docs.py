"""The pages on files and drawings say what the program does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from clothwright.cloth.prints import Figure
from clothwright.pattern.pattern import Seam
from clothwright.pattern.piece import Join, Role
from clothwright.pattern.whole import levels_at
from clothwright.store import piece_from_svg, piece_to_svg
from clothwright.store.book.format import reading_in
from clothwright.store.book.shapes import OWN, SHAPES, BookFile, ChartRow, PieceRow, SizesRow
from clothwright.units import Unit

DOCS = Path(__file__).parents[2] / "docs"


def test_the_annotated_drawing_by_hand_is_read():
    """The example of docs/intake.md is the piece it describes, and comes back after a save."""
    found = re.search(r"```svg\n(.*?)```", (DOCS / "intake.md").read_text(), re.DOTALL)
    assert found
    piece = piece_from_svg(found[1].encode(), "panel.svg")
    assert {e.name: e.role for e in piece.edges} == {
        "hem": Role.HEM,
        "side": Role.SEAM,
        "waist": Role.SEAM,
        "front": Role.CENTRE,
    }
    assert piece.edge("hem").allowance == pytest.approx(50.8)
    assert piece.edge("hem").join is Join.FOLDED
    assert piece.edge("waist").length > 220
    (notch,) = piece.edge("side").notches
    assert piece.edge("side").path.point_at(notch.at).is_near((256.2, -250), 0.5)
    dart = piece.dart("waist dart")
    assert 15 < dart.b - dart.a < 25
    assert levels_at(piece, piece.level("hip")) is not None
    assert piece.cuts[0].how == "pair"
    assert piece_from_svg(piece_to_svg(piece).encode(), "again") == piece


def test_every_entry_of_the_file_is_on_its_page():
    """docs/file-format.md names every table and key that the program reads."""
    text = (DOCS / "file-format.md").read_text()
    known = reading_in(Unit.mm)
    told = {*SHAPES, ChartRow, Figure, PieceRow, Seam, SizesRow} - OWN.keys()
    assert BookFile in told
    for kind in told:
        for name in known.keys(kind):
            assert re.search(rf"\b{name}\b", text), f"{kind.__name__}.{name}"


def test_every_attribute_of_a_drawing_is_on_its_page():
    """docs/file-format.md names every data- attribute that is read or written."""
    text = (DOCS / "file-format.md").read_text()
    source = Path(DOCS.parent / "src" / "clothwright" / "store" / "book")
    code = (source / "piece_read.py").read_text() + (source / "piece_svg.py").read_text()
    for name in set(re.findall(r"data-[a-z-]+", code)) - {"data-"}:
        assert name in text, name
