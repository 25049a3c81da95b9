"""Bringing a level to the same distance along the seam as on the partner."""

from __future__ import annotations

import pytest

from clothwright.changes.lengthen import Lengthen
from clothwright.changes.lengthen import apply as lengthen
from clothwright.changes.match_level import MatchLevel, apply
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Notch
from clothwright.units import Unit
from clothwright.words import say
from tests.contract.changes_table import high_waist
from tests.specimens import bodice


def from_underarm(pattern: Pattern, name: str, level: str) -> float:
    """Stitching length from the underarm to a level, darts folded out; reckoned independently."""
    piece = pattern.piece(name)
    path = piece.edge("side").path
    at = line_crossings(path, piece.level(level).at, piece.up.perp)[0].at_a
    net = net_at(piece, "side", at)
    return net if name == "back" else net_length(piece, "side") - net


@pytest.mark.parametrize("how", ["piece", "line"])
@pytest.mark.parametrize("name", ["front", "back"])
@pytest.mark.parametrize("at", ["start", "end"])
def test_the_distances_agree_afterwards(name: str, at: str, how: str) -> None:
    """Either piece can be brought to the other, from either end, by either means."""
    pattern = high_waist()
    gap = from_underarm(pattern, "back", "waist") - from_underarm(pattern, "front", "waist")
    assert gap == pytest.approx(12.0, abs=0.1)
    params = MatchLevel(level="waist", seam="side seam", piece=name, at=at, how=how)
    new = apply(pattern, params).pattern
    if at == "start":
        ends = [from_underarm(new, n, "waist") for n in ("front", "back")]
    else:
        ends = [
            net_length(new.piece(n), "side") - from_underarm(new, n, "waist")
            for n in ("front", "back")
        ]
    assert ends[0] == pytest.approx(ends[1], abs=1e-4)


def test_lengthening_between_moves_what_lies_beyond() -> None:
    """From the underarm the front is lengthened between: hem and waist drop, the shoulder stays."""
    old = high_waist().piece("front")
    params = MatchLevel(level="waist", seam="side seam", piece="front")
    new = apply(high_waist(), params).pattern.piece("front")
    assert new.point("neck point") == old.point("neck point")
    fall = old.point("hem centre").y - new.point("hem centre").y
    assert fall == pytest.approx(12.0, abs=0.1)
    assert old.level("waist").at.y - new.level("waist").at.y == pytest.approx(fall, abs=1e-9)


def test_a_line_alone_leaves_the_outline() -> None:
    """With how = line only the level line moves."""
    old = high_waist().piece("back")
    params = MatchLevel(level="waist", seam="side seam", piece="back", how="line")
    outcome = apply(high_waist(), params)
    new = outcome.pattern.piece("back")
    assert new.edges == old.edges
    assert new.level("waist").at.y == pytest.approx(72.0, abs=0.1)
    assert "higher" in say(outcome.said, Unit.cm)


def test_the_notches_on_a_line_go_with_it_and_no_other() -> None:
    """The back's waist is 12 mm too low with its two notches; drawn where it belongs, all rise."""
    old = high_waist().piece("back")
    side = old.edge("side")
    (met,) = line_crossings(side.path, old.level("waist").at, old.up.perp)
    notches = (Notch(at=met.at_a + 0.5, name="waist"), Notch(at=met.at_a + 40.0, name="other"))
    marked = old.with_edge(side.with_notches(notches))
    params = MatchLevel(level="waist", seam="side seam", piece="back", how="marks")
    outcome = apply(high_waist().with_piece(marked), params)
    new = outcome.pattern.piece("back")
    places = {n.name: new.edge("side").path.point_at(n.at) for n in new.edge("side").notches}
    assert places["waist"].y == pytest.approx(new.level("waist").at.y, abs=1e-6)
    assert places["other"] == marked.edge("side").path.point_at(met.at_a + 40.0)
    assert "1 notch on it" in say(outcome.said, Unit.cm)


def test_it_mends_what_lengthening_one_piece_broke() -> None:
    """Lengthen the back alone; matching the front's level brings waist to waist again."""
    pattern = lengthen(bodice(), Lengthen(pieces=("back",), level="rib", by=8.0)).pattern
    params = MatchLevel(level="waist", seam="side seam", piece="front")
    new = apply(pattern, params).pattern
    assert from_underarm(new, "front", "waist") == pytest.approx(
        from_underarm(new, "back", "waist"), abs=1e-4
    )


def test_a_level_that_does_not_meet_the_seam_is_refused() -> None:
    """The chest line runs above the side seam: it cannot be matched along it."""
    with pytest.raises(CannotDo, match="does not meet"):
        apply(bodice(), MatchLevel(level="chest", seam="side seam", piece="front"))
