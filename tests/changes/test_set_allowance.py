"""Setting seam allowances."""

from __future__ import annotations

import math

import pytest

from clothwright.changes.set_allowance import SetAllowance, apply
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import Path
from clothwright.geometry.segment import quarter_arc
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from tests.specimens import ALLOWANCE, INCH, bodice, edge, line, skirt


def test_five_eighths_on_every_joined_seam() -> None:
    """5/8 in on every joined seam (common practice); hems, folds and bound edges stay."""
    bare = apply(bodice(), SetAllowance(edges=("all seams",), amount=0.0)).pattern
    full = apply(bare, SetAllowance(edges=("all seams",), amount=5 / 8 * INCH)).pattern
    for name in ("front", "back"):
        for edge_name in ("side", "shoulder", "armhole"):
            assert bare.piece(name).edge(edge_name).allowance == 0.0
            assert full.piece(name).edge(edge_name).allowance == pytest.approx(15.875)
        assert full.piece(name).edge("neck").allowance == 0.0
        assert full.piece(name).edge("fold").allowance == 0.0
        assert bare.piece(name).edge("hem").allowance == ALLOWANCE


def test_one_edge_only() -> None:
    """Naming an edge changes that edge and no stitching line at all."""
    outcome = apply(bodice(), SetAllowance(edges=("back.side",), amount=25.4))
    for old, new in zip(
        bodice().piece("back").edges, outcome.pattern.piece("back").edges, strict=True
    ):
        assert new.path == old.path
        assert new.allowance == (25.4 if new.name == "side" else old.allowance)


def test_the_cutting_line_runs_at_the_distance() -> None:
    """Every place of the cutting line beside a straight edge lies exactly the allowance off it."""
    piece = apply(bodice(), SetAllowance(edges=("back.side",), amount=20.0)).pattern.piece("back")
    path = piece.edge("side").path
    axis = (path.end - path.start).unit
    for p in cutting_line(piece).edge("side").flatten():
        assert axis.cross(p - path.start) == pytest.approx(-20.0, abs=1e-6)


@pytest.mark.parametrize(("d", "grown"), [(15.0, 23.562), (5 / 8 * INCH, 24.936)])
def test_a_quarter_turn_grows_by_the_allowance_times_the_angle(d: float, grown: float) -> None:
    """Cut length = stitching length + d × Θ: a quarter turn with 1.5 cm gains 2.356 cm.

    5/8 in gains 0.982 in. (Plane geometry; the lines are compared before corners are joined.)
    """
    arc = Path((quarter_arc(Vec(0, 0), 200.0, 0.0),))
    arch = Piece(
        name="arch",
        edges=(
            edge("curve", arc, corner="a"),
            edge("left", line((0, 200), (0, 0))),
            edge("foot", line((0, 0), (200, 0))),
        ),
    )
    pattern = apply(Pattern(pieces=(arch,)), SetAllowance(edges=("arch",), amount=d)).pattern
    curve = pattern.piece("arch").edge("curve")
    cut = parallel(curve.path, curve.allowance)
    assert cut.length - arc.length == pytest.approx(d * math.pi / 2, abs=0.01)
    assert cut.length - arc.length == pytest.approx(grown, abs=0.02)


def test_a_piece_by_name_means_all_its_seams() -> None:
    """A piece's name stands for all its seam edges, not its hem or fold."""
    new = apply(skirt(), SetAllowance(edges=("skirt front",), amount=10.0)).pattern
    assert {e.name for e in new.piece("skirt front").edges if e.allowance == 10.0} == {
        "side",
        "waist",
    }
    assert new.piece("skirt back") == skirt().piece("skirt back")


def test_what_is_refused() -> None:
    """Less than nothing; a fold; a name that is not there."""
    with pytest.raises(BadInput, match="0 or more"):
        apply(bodice(), SetAllowance(edges=("all seams",), amount=-1.0))
    with pytest.raises(CannotDo, match="fold"):
        apply(bodice(), SetAllowance(edges=("back.fold",), amount=10.0))
    with pytest.raises(BadInput, match="shoulder"):
        apply(bodice(), SetAllowance(edges=("back.sholder",), amount=10.0))
