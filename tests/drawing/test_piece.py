"""A piece as drawn: everything a maker needs is there, and words stand clear."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.workbooks import DEMOS
from clothwright.drawing.piece import cut_words, piece_picture
from clothwright.drawing.words import place_words, upright
from clothwright.geometry.area import polygon_area
from clothwright.geometry.region import inside
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Cut, NotchKind
from clothwright.picture.picture import DrawnRole, Stroke, Text
from clothwright.units import Unit
from clothwright.workroom.pieces.table import total_words
from tests.lay.panels import panel

PIECES = checked_waistcoat().bought.pieces


def strokes(piece, role):
    return [
        i for i in piece_picture(piece, Unit.cm).items if isinstance(i, Stroke) and i.role is role
    ]


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_the_cutting_line_is_the_pieces_own(piece):
    """The line to cut by is drawn once, closed, and is the derived cutting line itself."""
    (cut,) = strokes(piece, DrawnRole.CUT)
    assert cut.path == cutting_line(piece).outline
    assert cut.closed


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_a_tick_for_a_single_notch_and_two_for_a_double(piece):
    """Single notches (fronts) have one tick, double ones (backs) two."""
    expected = sum(2 if n.kind is NotchKind.DOUBLE else 1 for e in piece.edges for n in e.notches)
    assert len(strokes(piece, DrawnRole.NOTCH)) == expected


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_name_and_cuts_are_written_inside(piece):
    """The piece's name and how often to cut it stand inside its stitching line."""
    picture = piece_picture(piece, Unit.cm)
    words = {i.words: i for i in picture.items if isinstance(i, Text) and i.role is DrawnRole.LABEL}
    assert piece.name in words
    assert all(cut_words(c) in words for c in piece.cuts)
    ring = piece.outline.flatten(0.5)[:-1]
    assert all(inside(t.at, ring) for t in words.values())


def test_allowances_are_written_in_the_makers_unit():
    """The hem's depth and a seam's allowance stand at their edges."""
    piece = panel("front", 200.0, 500.0, "fold", fold="left", allowance=15.875)
    words = {i.words for i in piece_picture(piece, Unit.inch).items if isinstance(i, Text)}
    assert "hem: turn up 5/8 in" in words
    assert "right · 5/8 in" in words
    assert "place on the fold" in words
    assert "cut 1 on the fold from shell" in words


def test_cut_words():
    """A pair of two is four."""
    assert cut_words(Cut(material="lining", how="pair", count=2)) == "cut 4 (a pair) from lining"


def test_words_find_room_beside_the_grain_arrow():
    """A box 60 x 20 is placed inside a 100 x 100 square, clear of a line down its middle."""
    ring = ((0, 0), (100, 0), (100, 100), (0, 100))
    spot = place_words(ring, 40.0, 20.0, Vec(1.0, 0.0), (Vec(50, 0), Vec(50, 100)))
    assert spot is not None
    assert abs(spot.x - 50) >= 20 + 2
    assert place_words(ring, 140.0, 20.0, Vec(1.0, 0.0)) is None
    assert polygon_area(ring) == 10000.0


@pytest.mark.parametrize(("angle", "shown"), [(0, 0), (90, 90), (135, -45), (180, 0), (-120, 60)])
def test_words_never_stand_on_their_heads(angle, shown):
    """Directions that would turn words over are turned round."""
    assert upright(angle) == pytest.approx(shown)


def test_a_piece_without_grain_or_allowance_is_drawn_too():
    """Nothing is missing that the piece does not have."""
    piece = replace(panel("p", 100.0, 100.0, "once", allowance=0.0), grain=None)
    assert strokes(piece, DrawnRole.GRAIN) == []
    assert strokes(piece, DrawnRole.STITCH) == []


def test_a_count_never_reads_as_inches():
    """ "Cut 1 in shell" is an inch of shell to who measures in inches: it is cut from it."""
    for demo in DEMOS:
        pattern = demo.make().bought
        said = [cut_words(c) for p in pattern.pieces for c in p.cuts] + [total_words(pattern)]
        assert not [words for words in said if re.search(r"\d\)? in |fold in ", words)]
