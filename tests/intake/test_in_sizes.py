"""Several sizes in one drawing: by the options of a command and by a sitting they are the same."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.geometry.path import Path as Line
from clothwright.geometry.path import ring_path
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import see
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.intake.in_sizes import of_size
from clothwright.intake.waiting.at_once import drawn_draft
from clothwright.intake.waiting.said import Answered, Waiting
from clothwright.intake.waiting.seen import INNER, SeenDrawing, all_outlines, drawn_outline
from clothwright.intake.waiting.sizes import sizes_of
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit

SIZES = ("8", "10", "12")


def block(left: float, wide: float, tall: float, *, five: bool = False) -> Line:
    """A rectangle from `left`, mm; with five corners a slanted one."""
    top = [Vec(left + wide, tall), Vec(left, tall)]
    top = [Vec(left + wide, tall * 0.6), Vec(left + wide * 0.5, tall), top[1]] if five else top
    return ring_path((Vec(left, 0.0), Vec(left + wide, 0.0), *top))


def two_pieces(*, five: str = "", alone: str = "") -> Drawing:
    """Two blocks in three sizes; one with a corner more, or without its second, in a size."""
    lines = []
    for n, size in enumerate(SIZES):
        wide = 100.0 + 10 * n
        lines.append(DrawnLine(path=block(0, wide, 200, five=size == five), closed=True, size=size))
        if size != alone:
            lines.append(DrawnLine(path=block(400, wide * 2, 80), closed=True, size=size))
    return Drawing(name="d.pdf", lines=tuple(lines), scale_known=True, sizes=SIZES)


def one_in_another(*, without: str = "") -> Drawing:
    """A block with another inside it in three sizes, in one of them without."""
    lines = []
    for n, size in enumerate(SIZES):
        wide = 300.0 + 10 * n
        lines.append(DrawnLine(path=block(0, wide, 400), closed=True, size=size))
        if size != without:
            path = ring_path(tuple(p * 0.5 + Vec(20, 30) for p in corners(wide)))
            lines.append(DrawnLine(path=path, closed=True, size=size))
    return Drawing(name="d.pdf", lines=tuple(lines), scale_known=True, sizes=SIZES)


def corners(wide: float) -> tuple[Vec, ...]:
    """The corners of a block of 400 mm."""
    return tuple(s.start for s in block(0, wide, 400).segments)


def by_sitting(drawing: Drawing, answers: Answers) -> tuple[SizeRange | None, str]:
    """The same answers given to each outline one after the other."""
    one = Waiting(id="k", file="d.pdf", came="", stored=Path("d.pdf"), size=answers.size)
    inner = replace(answers, outline="", inside="")
    said = {n: Answered(answers=answers) for n in range(2)}
    one = replace(one, said={**said, INNER + 1: Answered(answers=inner)})

    def drawn(size: str):
        return see(of_size(drawing, size), "", Unit.cm).candidates

    bought = Pattern(pieces=())
    outlines = tuple(
        drawn_outline(one, n, pair, f"piece {k}", bought=bought, unit=Unit.cm, note="")
        for k, (n, pair) in enumerate(all_outlines(one, drawn(answers.size)).items(), start=1)
    )
    seen = SeenDrawing(waiting=one, outlines=outlines, sizes=SIZES, drawing=drawing)
    return sizes_of(seen, Unit.cm, drawn)


ANSWERS = Answers(allowance="none", add="1 cm", size="10")


@pytest.mark.parametrize(
    "answers", [ANSWERS, replace(ANSWERS, edges=("hem", "side", "waist", "front"), corners="4")]
)
def test_options_and_a_sitting_make_the_same_sizes(answers: Answers) -> None:
    """Each piece in each size, edge by edge, whichever way the questions were answered."""
    sized = drawn_draft(two_pieces(), answers, Unit.cm)
    sitting, why = by_sitting(two_pieces(), answers)
    assert why == ""
    assert sized.sizes is not None
    assert sized.sizes == sitting
    for n, pieces in enumerate(sized.sizes.pieces):
        wide = 100.0 + 10 * n
        assert [max(e.length for e in p.edges) for p in pieces] == pytest.approx([200, wide * 2])


@pytest.mark.parametrize(
    ("answers", "widths"),
    [
        (replace(ANSWERS, inside="1=piece"), [[300, 150], [310, 155], [320, 160]]),
        (replace(ANSWERS, outline="2"), [[150], [155], [160]]),
        (replace(ANSWERS, inside="1=mark"), [[300], [310], [320]]),
    ],
)
def test_what_was_said_of_lines_inside_holds_for_the_other_sizes(answers, widths) -> None:
    """A line inside that is the piece, a piece or a mark is that in every size, either way."""
    sized = drawn_draft(one_in_another(), answers, Unit.cm)
    sitting, why = by_sitting(one_in_another(), answers)
    assert why == ""
    assert sized.sizes is not None
    assert sized.sizes == sitting
    for pieces, wide in zip(sized.sizes.pieces, widths, strict=True):
        assert [p.edges[0].length for p in pieces] == pytest.approx(wide)
        assert [len(p.marks) for p in pieces] == [int(answers.inside == "1=mark")] * len(wide)


def test_another_size_without_the_line_inside_is_told() -> None:
    """What was said of a line inside says nothing of a size that has no such line."""
    said = replace(ANSWERS, inside="1=mark")
    sitting, why = by_sitting(one_in_another(without="12"), said)
    assert sitting is None
    assert '"piece 1" has no closed lines inside in size 12 and 1 in the size chosen' in why


def test_corners_said_by_their_places_hold_for_the_other_sizes() -> None:
    """The places are those of the size begun with; another size has as many corners."""
    at = "at 0,0; 110,0; 110,200; 0,200"
    drawing = two_pieces()
    alone = replace(drawing, lines=tuple(x for x in drawing.lines if x.path.start.x < 1))
    sized = drawn_draft(alone, replace(ANSWERS, corners=at), Unit.cm)
    assert sized.sizes is not None
    assert [len(p.edges) for (p,) in sized.sizes.pieces] == [4, 4, 4]


@pytest.mark.parametrize(
    ("drawing", "words"),
    [
        (two_pieces(five="12"), '"piece 1" has 5 edges in size 12 and 4 in the size chosen'),
        (two_pieces(alone="8"), 'size 8 has no piece "piece 2"'),
    ],
)
def test_what_does_not_correspond_is_kept_in_one_size_and_said(drawing, words: str) -> None:
    """Only the size begun with is kept, and both ways say why in the same words."""
    sized = drawn_draft(drawing, ANSWERS, Unit.cm)
    assert sized.sizes is None
    assert len(sized.pieces) == 2
    assert words in sized.notes[-1].casefold()
    sitting, why = by_sitting(drawing, ANSWERS)
    assert sitting is None
    assert words in why.casefold()


def test_a_piece_more_in_another_size_is_told() -> None:
    """A size with a piece that the one begun with has not does not correspond to it."""
    drawing = two_pieces(alone="10")
    sized = drawn_draft(drawing, ANSWERS, Unit.cm)
    assert sized.sizes is None
    assert "has 2 pieces, the size chosen 1" in sized.notes[-1]
