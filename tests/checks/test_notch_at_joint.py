"""A notch that marks where two pieces join on the other side of its seam."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import run_checks
from clothwright.pattern.measure import side
from clothwright.pattern.piece import Notch
from tests.garments.wardrobe import GARMENTS, settings_of


@pytest.mark.parametrize(("off", "told"), [(0.0, False), (2.5, False), (8.0, True)])
def test_a_notch_at_a_joint_needs_no_other(off: float, told: bool) -> None:
    """Whatever it is called: notches of a band lie at seams and centres (common practice)."""
    pattern = GARMENTS["wrap dress"]()
    seam = pattern.seam("armhole")
    joint = next(s for s in side(pattern, seam.a).stations if s.kind is None)
    ref = seam.b[0]
    edge = pattern.edge(ref)
    other = side(pattern, seam.b)
    at = joint.at + off if not ref.reversed else other.length - joint.at - off
    notches = sorted((*edge.notches, Notch(at=at, name="mark of mine")), key=lambda n: n.at)
    piece = pattern.piece(ref.piece).with_edge(replace(edge, notches=tuple(notches)))
    found = run_checks(pattern.with_piece(piece), settings_of("wrap dress"))
    assert ("notch-without-partner" in {f.code for f in found}) is told
