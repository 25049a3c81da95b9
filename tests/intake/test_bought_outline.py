"""A bought outline that includes its allowance gives back the stitching line it came from."""

from __future__ import annotations

import pytest

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.geometry.path_data import path_text
from clothwright.intake.answers import Answers
from clothwright.intake.svg import read_svg
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Piece, Role
from clothwright.units import Unit
from tests.intake.proposing import propose

PIECES = {p.name: p for book in (checked_waistcoat(), coat_and_skirt()) for p in book.bought.pieces}


def as_bought(piece: Piece) -> bytes:
    """The piece as a shop would sell it: one closed line, allowance included, and nothing else."""
    outline = path_text(cutting_line(piece).outline)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="200cm" height="200cm" '
        f'viewBox="-1000 -1000 2000 2000"><path id="{piece.name}" d="{outline} Z"/></svg>'
    ).encode()


def answers_for(piece: Piece) -> Answers:
    """What the maker would type: names from the lower left corner on, widths that differ, fold."""
    parts = cutting_line(piece).edges
    first = min(parts, key=lambda c: c.path.start.x + c.path.start.y)
    at = parts.index(first)
    names = tuple(c.name for c in (*parts[at:], *parts[:at]))
    widths = {e.name: e.allowance for e in piece.edges if e.role is not Role.FOLD}
    usual = max(set(widths.values()), key=list(widths.values()).count)
    others = [f", {n}={w} mm" for n, w in widths.items() if w != usual]
    return Answers(
        allowance=f"{usual} mm{''.join(others)}",
        edges=names,
        fold=piece.fold.name if piece.fold else "",
        corners=str(len(names)),
    )


@pytest.mark.parametrize(
    "name", ["pocket", "skirt front", "skirt back", "waistband", "lining sleeve"]
)
def test_the_stitching_line_comes_back(name):
    """Every edge within 0.1 mm of the true stitching line, both ends at its corners.

    (Not so where a curve bends more tightly than its allowance is wide: there the cutting line no
    longer holds the whole of it.)
    """
    piece = PIECES[name]
    made = propose(read_svg(as_bought(piece), "d.svg"), answers_for(piece), unit=Unit.mm).pieces[0]
    assert {e.name for e in made.edges} == {e.name for e in piece.edges}
    assert (made.fold is None) == (piece.fold is None)
    for edge in piece.edges:
        found = made.edge(edge.name)
        assert found.length == pytest.approx(edge.length, abs=0.1)
        assert found.path.start.distance(edge.path.start) < 0.1
        assert found.path.end.distance(edge.path.end) < 0.1
        step = found.length / 20
        assert max(edge.path.nearest(found.path.point_at(k * step))[1] for k in range(21)) < 0.1
