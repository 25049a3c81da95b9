"""Whole drawings of our own pieces, without annotation (demo data), come back as the pieces."""

from __future__ import annotations

import pytest

from clothwright.drawing.piece import piece_picture
from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.svg import read_svg
from clothwright.outputs.svg import svg
from clothwright.pattern.piece import Role
from clothwright.units import Unit
from tests.intake.proposing import propose, questions
from tests.web.intake_demo import bare, demo_piece

PIECES = [
    "coat front",
    "coat back",
    "coat sleeve",
    "front facing",
    "back neck facing",
    "lining front",
    "lining sleeve",
    "skirt front",
    "skirt back",
]


def come_back(name, **answers):
    drawing = read_svg(bare(demo_piece(name)), f"{name}.svg")
    return propose(drawing, Answers(**{"allowance": "drawn", **answers}), unit=Unit.inch)


@pytest.mark.parametrize("name", PIECES)
def test_a_piece_comes_back_as_it_was(name):
    """Name, edges with lengths, roles and allowances, notches, darts, grain, cuts: as drawn.

    Promises: stitching lines within 0.1 mm; allowances within 0.01 mm; notches within 0.05 mm.
    """
    want = demo_piece(name)
    (got,) = come_back(name).pieces
    assert got.name == name
    k = [e.name for e in got.edges].index(want.edges[0].name)  # it may begin at another corner
    edges = (*got.edges[k:], *got.edges[:k])
    assert [(e.name, e.role) for e in edges] == [(e.name, e.role) for e in want.edges]
    for a, b in zip(edges, want.edges, strict=True):
        assert a.length == pytest.approx(b.length, abs=0.1)
        assert a.allowance == pytest.approx(b.allowance, abs=0.01)
        assert [n.kind for n in a.notches] == [n.kind for n in b.notches]
        assert [n.at for n in a.notches] == pytest.approx([n.at for n in b.notches], abs=0.05)
    assert got.cuts == want.cuts[: len(got.cuts)]
    assert len(got.darts) == len(want.darts)
    for d, w in zip(got.darts, want.darts, strict=True):
        assert d.edge == w.edge
        assert (d.a, d.b) == pytest.approx((w.a, w.b), abs=0.05)
        assert d.point.distance(w.point) < 0.05
    assert got.grain.start.distance(want.grain.start) < 0.01
    assert got.grain.end.distance(want.grain.end) < 0.01


def test_the_line_inside_is_asked_about_never_taken():
    """A line inside is offered as an answer, with its distances; without an answer nothing is."""
    drawing = read_svg(bare(demo_piece("coat front")), "front.svg")
    (question,) = questions(drawing, Answers(), unit=Unit.inch)
    assert question.id == "allowance"
    assert question.choices[0] == "drawn"
    assert "5/8 in to 1 1/2 in away" in question.words
    with pytest.raises(BadInput, match="--allowance drawn"):
        propose(drawing, Answers(), unit=Unit.inch)


def test_no_line_inside_cannot_be_the_answer():
    """Saying "drawn" where nothing runs inside is refused in words."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="9cm" height="9cm" viewBox="0 0 90 90">'
        '<path d="M0 0H90V90H0Z"/></svg>'
    )
    with pytest.raises(BadInput, match="no line inside"):
        propose(read_svg(svg.encode(), "x.svg"), Answers(allowance="drawn"), unit=Unit.mm)


@pytest.mark.parametrize(("width", "steady"), [(10.0, True), (0.0, False)])
def test_another_size_is_no_stitching_line(width, steady):
    """A line that comes nearer and nearer (another size) is not offered as the stitching line."""
    inner = (
        f"M {width} {width} H {200 - width} V {300 - width} H {width} Z"
        if steady
        else "M 2 4 L 190 4 L 180 280 L 2 290 Z"
    )
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="20cm" height="30cm" '
        f'viewBox="0 0 200 300"><path d="M0 0H200V300H0Z"/><path d="{inner}"/></svg>'
    )
    (question,) = questions(read_svg(svg.encode(), "x.svg"), Answers(), unit=Unit.mm)
    assert ("drawn" in question.choices) is steady


def test_each_proposal_can_be_refused():
    """No notches, darts, levels or fold, the grain up: as answered; the lines stay marks."""
    got = come_back("coat front", notches="none", darts="none", levels="none", grain="up")
    (piece,) = got.pieces
    assert piece.darts == ()
    assert piece.levels == ()
    assert all(not e.notches for e in piece.edges)
    assert len(piece.marks) > len(come_back("coat front").pieces[0].marks)
    (back,) = come_back("coat back", fold="none").pieces
    assert all(e.role is not Role.FOLD for e in back.edges)


def test_every_proposal_has_its_question():
    """Whatever was recognised is told, with the option that says otherwise."""
    got = come_back("coat front")
    assert {"edges", "grain", "notches", "darts", "levels", "cut"} <= {q.id for q in got.questions}
    assert any("--darts none if not" in n for n in got.notes)


def test_marks_can_be_chosen():
    """Inner lines are kept by their numbers, or none; a wrong number is refused in words."""
    every = come_back("coat front").pieces[0].marks
    kept = come_back("coat front", marks="1,3").pieces[0].marks
    assert [m.path or m.at for m in kept] == [every[k].path or every[k].at for k in (0, 2)]
    assert come_back("coat front", marks="none").pieces[0].marks == ()
    with pytest.raises(BadInput, match="--marks"):
        come_back("coat front", marks="99")


def test_corners_where_they_are_said_to_be():
    """Corners named by their places cut the outline there, at a joint or between two."""
    (piece,) = come_back("skirt front").pieces
    places = [e.path.start for e in piece.edges]
    hem = piece.edge("hem").path
    places.append(hem.point_at(hem.length / 3))
    text = "at " + "; ".join(f"{p.x:.3f},{p.y:.3f}" for p in places)
    (more,) = come_back("skirt front", corners=text).pieces
    assert len(more.edges) == len(piece.edges) + 1
    assert more.outline.length == pytest.approx(piece.outline.length, abs=1e-6)
    with pytest.raises(BadInput, match="two corners"):
        come_back("skirt front", corners="at 1,1")


@pytest.mark.parametrize("name", PIECES)
def test_a_piece_drawn_for_paper_comes_back(name):
    """The same by our other writer: ticks on the cutting line, crosses, allowances in the words.

    Edges in order with their lengths, allowances and notches; darts as wide as they were. An edge
    that says only "place on the fold" is called "fold".
    """
    want = demo_piece(name)
    drawing = read_svg(svg(piece_picture(want, Unit.inch)).encode(), f"{name}.svg")
    (got,) = propose(drawing, Answers(allowance="drawn"), unit=Unit.inch).pieces
    assert got.name == name
    names = ["fold" if e.role is Role.FOLD else e.name for e in want.edges]
    k = [e.name for e in got.edges].index(names[0])
    edges = (*got.edges[k:], *got.edges[:k])
    assert [e.name for e in edges] == names
    for a, b in zip(edges, want.edges, strict=True):
        assert a.length == pytest.approx(b.length, abs=0.1)
        assert a.allowance == pytest.approx(b.allowance, abs=0.01)
        assert len(a.notches) == len(b.notches)
        assert [n.at for n in a.notches] == pytest.approx([n.at for n in b.notches], abs=0.1)
    wide = [sorted(d.b - d.a for d in p.darts) for p in (got, want)]
    assert wide[0] == pytest.approx(wide[1], abs=0.1)
    assert [c.how for c in got.cuts] == [c.how for c in want.cuts]
