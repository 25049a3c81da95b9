"""Bindings: held against the figures of sewing guides, and plane geometry.

Cut four times the finished width (1/4 → 1, 1/2 → 2, 1 → 4 in), twice for a single fold; a bias join
takes 2a√2; length = the sewn line + one join (docs/sources.md).
"""

from __future__ import annotations

import math

import pytest

from clothwright.changes.draft_binding import CHANGE, DraftBinding, cut_width, lost_in_join
from clothwright.checks import run_checks
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.companions import companions_of
from clothwright.pattern.measure import net_length
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import parse_edge
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.specimens import INCH, bodice

ARMHOLE = ("front.armhole", "back.armhole")
NECK = ("front.neck", "back.neck")


def done(*edges, **more):
    return CHANGE.apply(bodice(), DraftBinding(edges=edges, **more)).pattern


@pytest.mark.parametrize(
    ("fold", "finished", "cut"),
    [("double", 0.25, 1.0), ("double", 0.5, 2.0), ("double", 1.0, 4.0), ("single", 0.5, 1.0)],
)
def test_cut_widths(fold, finished, cut):
    asked = DraftBinding(edges=NECK, fold=fold, width=finished * INCH)
    assert cut_width(asked) == pytest.approx(cut * INCH)
    piece = CHANGE.apply(bodice(), asked).pattern.piece("neck binding")
    cut_lines = cutting_line(piece).edges
    side = next(e.path for e in cut_lines if e.name == "other side")
    sewn = next(e.path for e in cut_lines if "left" in e.name)
    across = (side.end - side.start).unit.perp
    assert abs(across.dot(sewn.middle - side.middle)) == pytest.approx(cut * INCH)


def test_what_a_join_takes():
    """1/4 in: 0.71 in; 0.6 cm: 1.70 cm; on the straight grain twice the allowance."""
    assert lost_in_join(DraftBinding(edges=NECK, join=INCH / 4)) / INCH == pytest.approx(
        0.71, abs=0.005
    )
    assert lost_in_join(DraftBinding(edges=NECK, join=6.0)) == pytest.approx(17.0, abs=0.05)
    straight = DraftBinding(edges=NECK, join=6.0, grain="straight")
    assert lost_in_join(straight) == pytest.approx(12.0)


def test_an_armholes_binding_is_the_sewn_line_and_one_join():
    """Measured on the strip's cutting line along its side: length + 2a√2."""
    pattern = bodice()
    hole = sum(net_length(pattern.piece(n), "armhole") for n in ("front", "back"))
    new = done(*ARMHOLE, join=6.0)
    binding = new.piece("armhole binding")
    assert binding.edge("round").length == pytest.approx(hole, abs=0.01)
    cut = max(e.path.length for e in cutting_line(binding).edges)
    assert cut == pytest.approx(hole + 12.0 * math.sqrt(2), abs=0.05)
    assert len(binding.edges) == 4
    seam = new.seam("armhole binding round")
    assert {r.piece for r in seam.b} == {"front", "back"}


def test_a_bias_strip_lies_at_45_degrees_to_its_thread():
    binding = done(*ARMHOLE).piece("armhole binding")
    way = binding.edge("round").path
    turn = abs(turn_between_deg(way.end - way.start, binding.up))
    assert min(turn, 180 - turn) == pytest.approx(45.0)
    straight = done(*ARMHOLE, grain="straight").piece("armhole binding")
    way = straight.edge("round").path
    assert abs((way.end - way.start).unit.cross(straight.up)) < 1e-9


def test_the_fewest_strips_that_are_long_enough():
    """Of a line L and strips S: n = ceil(L / (S - join)), each L / n and a join."""
    asked = DraftBinding(edges=ARMHOLE, longest=200.0, join=6.0)
    said = say(CHANGE.apply(bodice(), asked).said, Unit.cm)
    pattern = bodice()
    hole = sum(net_length(pattern.piece(n), "armhole") for n in ("front", "back"))
    lost = 12.0 * math.sqrt(2)
    n = math.ceil(hole / (200.0 - lost))
    assert f"in {n} strips, each {(hole / n + lost) / 10:.1f} cm long" in said


def test_a_bound_edge_has_no_allowance_and_nothing_is_found():
    pattern = bodice()
    new = done(*NECK)
    for name in ("front", "back"):
        edge = new.piece(name).edge("neck")
        assert (edge.role, edge.allowance) == (Role.BOUND, 0.0)
    neck = 2 * sum(net_length(pattern.piece(n), "neck") for n in ("front", "back"))
    parts = [e for e in new.piece("neck binding").edges if "half" in e.name or "right" in e.name]
    assert sum(e.length for e in parts) == pytest.approx(neck, abs=0.01)
    known = {(f.code, f.where) for f in run_checks(pattern)}
    assert [f.code for f in run_checks(new) if (f.code, f.where) not in known] == []


def test_it_goes_with_the_edge_from_birth():
    (binding,) = companions_of(done(*ARMHOLE), "back")
    assert (binding.kind, binding.by) == ("binding", "drafted")
    assert [(a.edge, a.edge_of) for a in binding.of] == [("round", "armhole")]


def test_notches_of_the_edge_have_their_partners_on_the_binding():
    """The armholes' notches lie on what is sewn to them, too: no notch is without a partner."""
    before = bodice()
    seam = done(*ARMHOLE).seams[-1]
    walk = walk_seam(done(*ARMHOLE), seam)
    marked = [n for ref in ARMHOLE for n in before.edge(parse_edge(ref)).notches]
    assert marked
    assert (walk.alone_a, walk.alone_b) == ((), ())
    assert len(walk.pairs) >= len(marked)
