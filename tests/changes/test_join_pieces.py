"""Two pieces made one along their seam."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.join_pieces import JoinPieces, apply
from clothwright.checks import DEFAULTS
from clothwright.checks.levels_across import levels_across
from clothwright.errors import CannotDo
from clothwright.geometry.transform import reflection, rotation_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Role
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.test_rotate_dart import fine_area
from tests.contract.changes_table import yoked
from tests.contract.test_changes import path_distance
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice, seam, skirt
from tests.words.walker import strays


def test_cut_in_two_and_joined_again_is_the_piece_it_was() -> None:
    """Every edge as long and as shaped as before the yoke was cut; the seams name it as before."""
    before, after = bodice(), apply(yoked(), JoinPieces(seam="back joining", name="back")).pattern
    old, new = before.piece("back"), after.piece("back")
    assert {e.name for e in new.edges} == {e.name for e in old.edges}
    for edge in old.edges:
        assert path_distance(edge.path, new.edge(edge.name).path) < 1e-6
        assert [n.at for n in new.edge(edge.name).notches] == pytest.approx(
            [n.at for n in edge.notches], abs=1e-6
        )
    assert set(after.seams) == set(before.seams)
    assert new.cuts == old.cuts
    assert new.grain is not None


@pytest.mark.parametrize("turn", [0.0, 73.0])
@pytest.mark.parametrize("over", [False, True])
def test_a_piece_drawn_elsewhere_or_for_the_other_half(turn: float, over: bool) -> None:
    """Skirt front and back with straight sides: the area adds up, however the back is drawn."""
    pattern = straight_skirt()
    back = moved(pattern.piece("skirt back"), rotation_deg(turn, (10.0, 20.0)))
    ref = pattern.seams[0].b[0]
    if over:
        back = moved(back, reflection((0.0, 0.0), (1.0, 2.0)))
        ref = replace(ref, reversed=not ref.reversed)
    joined = replace(pattern.seams[0], b=(ref,))
    pattern = replace(pattern.with_piece(back), seams=(joined,))
    (piece,) = apply(pattern, JoinPieces(seam="skirt side")).pattern.pieces
    area = sum(fine_area(p) for p in pattern.pieces)
    assert fine_area(piece) == pytest.approx(area, rel=1e-6)
    assert piece.name == "skirt"
    assert {d.name for d in piece.darts} == {"waist", "waist 2"}


def straight_skirt() -> Pattern:
    """Front on the fold, back cut as a pair with a centre seam, sides straight."""
    from clothwright.geometry.path import polyline

    pieces = []
    for piece in skirt().pieces:
        side = piece.edge("side")
        straight = replace(side, path=polyline(side.path.ends), notches=())
        piece = piece.with_edge(straight)  # noqa: PLW2901
        if piece.name == "skirt back":
            edges = tuple(
                replace(e, role=Role.CENTRE, name="centre back") if e.role is Role.FOLD else e
                for e in piece.edges
            )
            piece = replace(piece, edges=edges)  # noqa: PLW2901
        pieces.append(piece)
    joining = seam("skirt side", "skirt front.side reversed", "skirt back.side reversed")
    return Pattern(pieces=tuple(pieces), seams=(joining,))


def test_panels_over_a_bust_are_refused_with_how_far_they_part() -> None:
    """Two panels of a princess bodice do not lie on each other: the bust is in their seam."""
    pattern = GARMENTS["princess"]()
    with pytest.raises(CannotDo, match="laid on each other, the two edges are up to"):
        apply(pattern, JoinPieces(seam="front panel seam"))


@pytest.mark.parametrize("swapped", [False, True])
def test_the_larger_piece_holds_the_grain(swapped: bool) -> None:
    """A yoke drawn askew turns onto the lower back, whichever of the two the seam names first."""
    pattern = yoked()
    yoke = moved(pattern.piece("yoke"), rotation_deg(20.0, (0.0, 0.0)))
    pattern = pattern.with_piece(yoke)
    joining = pattern.seam("back joining")
    if swapped:
        joining = replace(joining, a=joining.b, b=joining.a)
    seams = tuple(joining if s.name == joining.name else s for s in pattern.seams)
    made = apply(replace(pattern, seams=seams), JoinPieces(seam=joining.name, name="whole"))
    assert made.pattern.piece("whole").up.is_near(pattern.piece("lower back").up, 1e-9)


def test_levels_of_a_piece_that_comes_to_lie_askew_are_left_out() -> None:
    """A shirt's front cut in one with its yoke leans against it by what both shoulders slope.

    A level is square to the grain: the front's waist line, square to the yoke's, is no waist.
    """
    made = apply(GARMENTS["shirt"](), JoinPieces(seam="front yoke"))
    assert not made.pattern.piece("yoke").levels
    said = say(made.said, Unit.cm)
    assert "the waist line" in said
    assert not strays(said, Unit.cm, made.pattern)
    assert not list(levels_across(made.pattern, DEFAULTS))
