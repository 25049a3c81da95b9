"""Making an edge match its partner."""

from __future__ import annotations

import pytest

from clothwright.changes.match_edge import CHANGE, MatchEdge, apply
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from tests.contract.changes_table import long_front
from tests.specimens import INCH, bodice


def difference(pattern: Pattern, seam: str = "side seam") -> float:
    a, b = pattern.seam(seam).a, pattern.seam(seam).b
    return side(pattern, b).length - side(pattern, a).length


@pytest.mark.parametrize("neighbour", ["taper", "parallel"])
@pytest.mark.parametrize("at", ["start", "end", "both"])
@pytest.mark.parametrize("edge", ["front.side", "back.side"])
def test_both_sides_agree_afterwards(edge: str, at: str, neighbour: str) -> None:
    """Whichever side is changed, at whichever end: the seam agrees, the dart folded out."""
    pattern = long_front()
    assert difference(pattern) == pytest.approx(-3 / 8 * INCH, abs=1e-6)
    how = MatchEdge(seam="side seam", edge=edge, at=at, neighbour=neighbour)
    assert difference(apply(pattern, how).pattern) == pytest.approx(0.0, abs=1e-3)


def test_a_front_three_eighths_too_long_is_mended_by_one_change() -> None:
    """A front 3/8 in longer than the back at the side seam: one change mends it. (Common practice.)

    At the hem 3/8 in come off; the front is again the one that sews to its back.
    """
    how = MatchEdge(seam="side seam", edge="front.side", at="end")
    outcome = apply(long_front(), how)
    front, meant = outcome.pattern.piece("front"), bodice().piece("front")
    assert front.point("hem side").is_near(meant.point("hem side"), 1e-3)
    assert front.edge("hem").path.is_straight
    assert front.edge("side").notches[0].at == pytest.approx(60.0, abs=1e-3)
    assert say(outcome.said, Unit.inch).startswith(
        'Shortened front, side by 3/8 in at the corner "hem side" to agree'
    )


def test_the_mend_a_finding_offers_is_understood() -> None:
    """The seam check's mend for that front is this change, and mends it."""
    checks = pytest.importorskip("clothwright.checks.seam_lengths")
    from clothwright.checks.check import CheckSettings

    found = list(checks.seam_lengths(long_front(), CheckSettings()))
    wrong = next(f for f in found if f.code == "seam-length")
    assert abs((wrong.measured or 0) - (wrong.expected or 0)) == pytest.approx(9.525, abs=1e-6)
    params = read_params(CHANGE.params, wrong.mend.params, unit=Unit.inch, where="mend")
    mended = apply(long_front(), params).pattern
    assert not [f for f in checks.seam_lengths(mended, CheckSettings()) if f.code == "seam-length"]


def test_meant_ease_is_kept() -> None:
    """Side b stays longer than side a by the ease that is meant."""
    from dataclasses import replace

    pattern = bodice()
    pattern = pattern.with_seam(replace(pattern.seam("shoulder seam"), ease=9.0))
    how = MatchEdge(seam="shoulder seam", edge="back.shoulder", at="end")
    assert difference(apply(pattern, how).pattern, "shoulder seam") == pytest.approx(9.0, abs=1e-3)


def test_parallel_keeps_the_hem_square() -> None:
    """With neighbour = parallel the hem moves as a whole and stays at right angles to the fold."""
    how = MatchEdge(seam="side seam", edge="back.side", at="end", neighbour="parallel")
    piece = apply(long_front(), how).pattern.piece("back")
    hem = piece.edge("hem").path
    assert hem.start.y == pytest.approx(hem.end.y, abs=1e-9)
    assert hem.end.x == pytest.approx(0.0, abs=1e-9)
    assert hem.start.y < -9.0


def test_the_dart_stays_on_the_cloth() -> None:
    """The dart's point and legs do not move, whichever end is cut back."""
    old = long_front().piece("front")
    for at in ("start", "end"):
        how = MatchEdge(seam="side seam", edge="front.side", at=at)
        new = apply(long_front(), how).pattern.piece("front")
        for piece in (old, new):
            dart = piece.dart("bust")
            ends = [piece.edge("side").path.point_at(x) for x in (dart.a, dart.b)]
            if piece is old:
                before = [dart.point, *ends]
            else:
                for p, q in zip(before, [dart.point, *ends], strict=True):
                    assert p.is_near(q, 1e-6)


def test_an_end_on_the_fold_does_not_move() -> None:
    """An edge is not lengthened where it meets the fold: the fold must stay on its line."""
    from tests.specimens import seam

    pattern = bodice()
    extra = seam("hems", "front.hem", "back.hem reversed", ease=20.0)
    pattern = Pattern(pieces=pattern.pieces, seams=(*pattern.seams, extra))
    with pytest.raises(CannotDo, match="fold"):
        apply(pattern, MatchEdge(seam="hems", edge="back.hem", at="start"))
    good = apply(pattern, MatchEdge(seam="hems", edge="back.hem", at="end")).pattern
    assert net_length(good.piece("back"), "hem") == pytest.approx(228.6 + 20.0, abs=1e-3)


def test_an_edge_outside_the_seam_is_refused() -> None:
    """An edge that is not part of the seam is a mistake, and the edges of the seam are named."""
    with pytest.raises(BadInput, match="front, side"):
        apply(bodice(), MatchEdge(seam="side seam", edge="front.neck"))


def test_no_room_before_a_dart_is_refused() -> None:
    """Cutting back into a dart is refused, with what can be taken off there."""
    from clothwright.changes.match_edge import moved_end

    with pytest.raises(CannotDo, match="dart"):
        moved_end(bodice().piece("front"), "side", "end", -100.0)
