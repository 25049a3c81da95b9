"""A notch that was rubbed out comes back where it was, on garments that are right."""

from __future__ import annotations

import pytest

from clothwright.changes.add_notch import AddNotch, apply
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.faults.planting import without_notch
from tests.garments.wardrobe import GARMENTS

GONE = (
    ("princess", "back panel seam", "centre back.panel seam", "side back.panel seam", "below bust"),
    ("princess", "armhole", "side back.armhole", "sleeve.cap", "back"),
    ("trousers", "inseam", "front.inseam", "back.inseam", "knee"),
    ("blouse", "cuff", "cuff.lower", "sleeve.wrist", "gathers begin"),
    ("wrap dress", "waist", "bodice front.waist", "skirt front.waist", "tucks end"),
    ("raglan", "side and sleeve", "sleeve.back seam", "sleeve.front seam", "elbow"),
)
"""Garment, seam, the edge that keeps its notch, the one that loses it, the notch."""


def rubbed_out(garment: str, edge: str, name: str) -> tuple[Pattern, Pattern]:
    """The garment as it is, and without a notch."""
    right = GARMENTS[garment]()
    piece, own = edge.split(".")
    names = [n.name for n in right.piece(piece).edge(own).notches]
    return right, without_notch(right, piece, own, names.index(name))


@pytest.mark.parametrize("case", GONE, ids=lambda c: f"{c[0]}: {c[4]}")
def test_it_comes_back_where_it_was(case: tuple[str, str, str, str, str]) -> None:
    """Within 0.3 mm, of its kind; where the ease ends it is known by that."""
    garment, seam, stays, loses, name = case
    right, spoilt = rubbed_out(garment, loses, name)
    out = apply(spoilt, AddNotch(seam=seam, notch=f"{stays} notch {name}"))
    piece, own = loses.split(".")
    was, now = (p.piece(piece).edge(own).notches for p in (right, out.pattern))
    assert [(n.name, n.kind) for n in was] == [(n.name, n.kind) for n in now]
    assert [n.at for n in now] == pytest.approx([n.at for n in was], abs=0.3)
    assert say(out.said, Unit.cm).startswith(f"Marked {piece}, {own} with a ")


def test_one_that_has_its_partner_gets_no_other() -> None:
    with pytest.raises(CannotDo, match="it has one"):
        apply(GARMENTS["trousers"](), AddNotch(seam="inseam", notch="front.inseam notch knee"))
