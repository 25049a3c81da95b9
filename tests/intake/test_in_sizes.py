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
from clothwright.intake.in_sizes import of_size, propose_sized
from clothwright.intake.waiting.said import Answered, Waiting
from clothwright.intake.waiting.seen import SeenDrawing, all_outlines, drawn_outline
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


def by_sitting(drawing: Drawing, answers: Answers) -> tuple[SizeRange | None, str]:
    """The same answers given to each outline one after the other."""
    one = Waiting(id="k", file="d.pdf", came="", stored=Path("d.pdf"), size=answers.size)
    one = replace(one, said={n: Answered(answers=answers) for n in range(2)})

    def drawn(size: str):
        return see(of_size(drawing, size), "", Unit.cm).candidates

    bought = Pattern(pieces=())
    outlines = tuple(
        drawn_outline(one, n, pair, f"piece {n + 1}", bought=bought, unit=Unit.cm, note="")
        for n, pair in all_outlines(one, drawn(answers.size)).items()
    )
    seen = SeenDrawing(waiting=one, outlines=outlines, sizes=SIZES, drawing=drawing)
    return sizes_of(seen, Unit.cm, drawn)


ANSWERS = Answers(allowance="none", add="1 cm", size="10")


@pytest.mark.parametrize(
    "answers", [ANSWERS, replace(ANSWERS, edges=("hem", "side", "waist", "front"), corners="4")]
)
def test_options_and_a_sitting_make_the_same_sizes(answers: Answers) -> None:
    """Each piece in each size, edge by edge, whichever way the questions were answered."""
    sized = propose_sized(two_pieces(), answers, unit=Unit.cm)
    sitting, why = by_sitting(two_pieces(), answers)
    assert why == ""
    assert sized.sizes is not None
    assert sized.sizes == sitting
    for n, pieces in enumerate(sized.sizes.pieces):
        wide = 100.0 + 10 * n
        assert [max(e.length for e in p.edges) for p in pieces] == pytest.approx([200, wide * 2])


def test_corners_said_by_their_places_hold_for_the_other_sizes() -> None:
    """The places are those of the size begun with; another size has as many corners."""
    at = "at 0,0; 110,0; 110,200; 0,200"
    drawing = two_pieces()
    alone = replace(drawing, lines=tuple(x for x in drawing.lines if x.path.start.x < 1))
    sized = propose_sized(alone, replace(ANSWERS, corners=at), unit=Unit.cm)
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
    sized = propose_sized(drawing, ANSWERS, unit=Unit.cm)
    assert sized.sizes is None
    assert len(sized.draft.pieces) == 2
    assert words in sized.draft.notes[-1].casefold()
    sitting, why = by_sitting(drawing, ANSWERS)
    assert sitting is None
    assert words in why.casefold()


def test_a_piece_more_in_another_size_is_told() -> None:
    """A size with a piece that the one begun with has not does not correspond to it."""
    drawing = two_pieces(alone="10")
    sized = propose_sized(drawing, ANSWERS, unit=Unit.cm)
    assert sized.sizes is None
    assert "has 2 pieces, the size chosen 1" in sized.draft.notes[-1]
