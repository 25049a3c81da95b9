"""A gaping neck with a facing: the facing is closed across, and the lining takes what it loses.

Figures: similar triangles, worked independently of this code (docs/changes/gaping.md).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.gaping import CHANGE, Gaping
from clothwright.checks import run_checks
from clothwright.errors import BadInput
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.walk import walk_seam
from tests.garments.lined_coat import lined_coat
from tests.specimens import edge, line

COAT = Gaping(at="coat front.neck", by=8.0, into="coat front.side")


def faced(*, over: bool) -> Pattern:
    """A neck 300 long, 180 above the bust point, and its facing, 60 deep; `over`: turned over."""

    def box(name: str, deep: float, way: float) -> Piece:
        corners = [(0.0, 0.0), (0.0, -deep), (way * 300.0, -deep), (way * 300.0, 0.0)]
        names = ["first", "inner", "last", "neck"]
        runs = [line(corners[k], corners[(k + 1) % 4]) for k in range(4)]
        if way < 0:
            runs = [line(r.end, r.start) for r in reversed(runs)]
            names.reverse()
        return Piece(name=name, edges=tuple(map(edge, names, runs)))

    front = replace(box("front", 400.0, 1.0), marks=(Mark(name="bust point", at=Vec(150, -180)),))
    along = Along(edge="neck", piece="front", edge_of="neck", longer=0.0)
    lies = Companion(piece="facing", kind="facing", of=(along,), by="drafted")
    return Pattern(pieces=(front, box("facing", 60.0, -1.0 if over else 1.0)), companions=(lies,))


@pytest.mark.parametrize("over", [False, True])
def test_a_facing_loses_less_on_its_inner_edge(over: bool) -> None:
    """10 at 180 from the bust point is 6.67 at 120: the wedge runs out at that point."""
    pattern = faced(over=over)
    asked = Gaping(at="front.neck", by=10.0, into="front.last")
    (facing,) = CHANGE.alike(pattern, asked)  # type: ignore[misc]
    assert (facing.at, facing.into) == ("facing.neck", "facing.inner")
    after = CHANGE.apply(pattern, facing).pattern.piece("facing")
    assert after.edge("neck").length == pytest.approx(290.0, abs=1e-3)
    assert after.edge("inner").length == pytest.approx(300.0 - 10.0 * 120 / 180, abs=0.02)
    for end in ("first", "last"):
        assert after.edge(end).length == pytest.approx(60.0, abs=1e-6)
    with pytest.raises(BadInput, match="inner, not first"):
        CHANGE.apply(pattern, replace(facing, into="facing.first"))


def test_a_lined_coat_follows_its_gaping_front() -> None:
    """Front, facing and lining changed alike agree with each other; only the collars are left."""
    before = after = lined_coat()
    for asked in (COAT, *CHANGE.alike(before, COAT)):  # type: ignore[misc]
        after = CHANGE.apply(after, asked).pattern
    for name, own in (("coat front", "neck"), ("front facing", "neck")):
        lost = net_length(before.piece(name), own) - net_length(after.piece(name), own)
        assert lost == pytest.approx(8.0, abs=1e-3)
    inner = next(s.name for s in after.seams_of("front facing", "inner"))
    assert walk_seam(after, after.seam(inner)).off == pytest.approx(
        walk_seam(before, before.seam(inner)).off, abs=0.2
    )
    new = {(f.code, f.where.piece) for f in run_checks(after)} - {
        (f.code, f.where.piece) for f in run_checks(before)
    }
    assert {code for code, _ in new} == {"seam-length"}
    assert {name for _, name in new} <= {"under collar", "upper collar"}


def test_the_facing_lies_on_the_front_as_it_did() -> None:
    """Neck laid on neck, they differ nowhere by 1 mm though the neck runs at a slant there."""
    before = lined_coat()
    facing, _ = CHANGE.alike(before, COAT)  # type: ignore[misc]
    after = CHANGE.apply(CHANGE.apply(before, COAT).pattern, facing).pattern
    rows = [
        [path.point_at(path.length * k / 30) for k in range(31)]
        for path in (after.piece(name).edge("neck").path for name in ("front facing", "coat front"))
    ]
    move, _ = rigid_fit(*rows)
    assert max(move.apply(p).distance(q) for p, q in zip(*rows, strict=True)) < 1.0
