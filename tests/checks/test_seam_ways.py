"""A seam sewn from the wrong end is found by notches, names or hems; told once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import run_checks
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.ways_round import evidence, is_turned_round, turned
from tests.checks.specimens import outfit, seam
from tests.faults import planting as plant
from tests.garments.wardrobe import GARMENTS


@pytest.mark.parametrize("name", ["side", "shoulder", "armhole", "underarm", "skirt side"])
def test_a_side_sewn_from_its_wrong_end_is_told_once(name: str) -> None:
    """Sleeve back to front, shoulder with the neck at the armhole, hem at the underarm."""
    p = outfit()
    found = run_checks(p.with_seam(turned(p.seam(name))))
    assert [(f.code, f.where.seam) for f in found] == [("seam-turned-round", name)]


def bare(p: Pattern, *keep: str) -> Pattern:
    """The cap seam left with its notches only, or without them: names rubbed out."""
    for name, edge in (("sleeve", "cap"), ("front", "armhole"), ("back", "armhole")):
        if "notches" not in keep:
            p = plant.with_edge(p, name, edge, notches=())
    return p


def test_notches_alone_tell() -> None:
    """The single notch on the double is enough (textbook: single front, double back)."""
    p = outfit()
    for edge, plain in (("front underarm", "left"), ("back underarm", "right")):
        p = _renamed(p, edge, plain)
    assert evidence(p, p.seam("armhole")) == (2, 0)
    assert is_turned_round(p, turned(p.seam("armhole")))


def test_the_words_front_and_back_tell_without_notches() -> None:
    """Front armhole to the sleeve's back underarm: the names alone speak against it."""
    p = bare(outfit())
    assert evidence(p, p.seam("armhole")) == (1, 0)
    assert is_turned_round(p, turned(p.seam("armhole")))


def test_a_fold_meets_a_fold() -> None:
    """A collar on its fold at the centre back: its other end is the front's."""
    p = outfit()
    for name, edge, other in (("back", "centre", "middle"), ("skirt back", "centre", "middle")):
        piece = p.piece(name)
        edges = tuple(replace(e, name=other) if e.name == edge else e for e in piece.edges)
        p = p.with_piece(replace(piece, edges=edges))
    yoke = seam("hem", "front.hem", "back.hem reversed")
    p = replace(p, seams=(yoke,))
    assert evidence(p, yoke) == (2, 0)  # fold and fold, side and side
    assert is_turned_round(p, turned(yoke))


def test_where_nothing_tells_nothing_is_said() -> None:
    """A waistband's two ends are alike: whichever way it is sewn, it is not called wrong."""
    p = outfit()
    assert not is_turned_round(p, p.seam("waist"))
    assert not is_turned_round(p, turned(p.seam("waist")))


@pytest.mark.parametrize("name", sorted(GARMENTS))
def test_no_seam_of_a_correct_garment_is_called_wrong(name: str) -> None:
    """Eight garments, all their seams as they are sewn."""
    p = GARMENTS[name]()
    assert [s.name for s in p.seams if is_turned_round(p, s)] == []


def _renamed(p: Pattern, edge: str, name: str) -> Pattern:
    sleeve = p.piece("sleeve")
    edges = tuple(replace(e, name=name) if e.name == edge else e for e in sleeve.edges)
    seams = tuple(s for s in p.seams if s.name != "underarm")
    return Pattern(
        pieces=tuple(replace(x, edges=edges) if x is sleeve else x for x in p.pieces), seams=seams
    )
