"""Sleeves hang from a level cap; facings lie on the grain of what they face."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.rotate_dart import RotateDart
from clothwright.changes.rotate_dart import apply as rotate_dart
from clothwright.checks import DEFAULTS
from clothwright.checks.grain_across import cap_tilt_deg, grain_across
from clothwright.checks.grain_and_fold import grain_and_fold
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.middle import off_middle_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Grain, Piece
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit, seam, waistband
from tests.garments.wardrobe import GARMENTS


def leaning(piece: Piece, deg: float) -> Piece:
    assert piece.grain is not None
    end = rotation_deg(deg, piece.grain.start).apply(piece.grain.end)
    return replace(piece, grain=replace(piece.grain, end=end))


@pytest.mark.parametrize(
    ("deg", "told"), [(0.0, False), (2.0, False), (3.0, True), (-4.0, True), (45.0, False)]
)
def test_a_cap_stands_square_to_the_grain(deg: float, told: bool) -> None:
    """The biceps line is perpendicular to the grain (USDA, Fitting Dresses)."""
    p = outfit()
    p = p.with_piece(leaning(p.piece("sleeve"), deg))
    assert cap_tilt_deg(p, p.seam("armhole")) == pytest.approx(abs(deg), abs=1e-6)
    assert [f.code for f in grain_across(p, DEFAULTS)] == (["grain-off-cap"] if told else [])


def test_a_band_lies_along_its_length() -> None:
    """A waistband with a notch at one end only: its long edges are straight, its grain 4 off."""
    band = replace(waistband(), cuts=())
    edges = tuple(replace(e, role=band.edge("lower").role) for e in band.edges)
    whole = replace(band, edges=edges)
    assert off_middle_deg(whole) == pytest.approx(0.0, abs=1e-9)
    assert off_middle_deg(leaning(whole, 4.0)) == pytest.approx(4.0)
    assert off_middle_deg(leaning(whole, 45.0)) == pytest.approx(0.0, abs=1e-9)


def test_a_gore_is_no_band() -> None:
    """A long gore's straight sides slant against its grain, each its own way: nothing is wrong."""
    at = ((0, 0), (180, 0), (140, 800), (0, 800), (0, 0))
    edges = tuple(
        Edge(name=n, path=polyline((p, q)))
        for n, p, q in zip(("hem", "side", "waist", "front"), at, at[1:], strict=False)
    )
    gore = Piece(name="gore", edges=edges, grain=Grain(start=Vec(60, 100), end=Vec(85, 700)))
    assert off_middle_deg(gore) == 0.0


@pytest.mark.parametrize(
    ("name", "piece"),
    [("lined coat", "front facing"), ("coat", "coat sleeve"), ("trousers", "fly facing")],
)
def test_a_facing_or_sleeve_four_degrees_off_is_found(name: str, piece: str) -> None:
    """Same shape, same grain as the edge it faces (clothing construction bulletin)."""
    p = GARMENTS["lined coat" if name == "coat" else name]()
    assert list(grain_across(p, DEFAULTS)) == []
    found = list(grain_across(p.with_piece(leaning(p.piece(piece), 4.0)), DEFAULTS))
    assert {f.where.piece for f in found} == {piece}


def lined(edges: tuple[str, ...], deg: float = 0.0) -> Pattern:
    """The outfit, its front lined or faced by a copy of it along some of its edges."""
    p = outfit()
    copy = leaning(replace(p.piece("front"), name="inside"), deg)
    seams = (seam(f"inside {e}", f"front.{e}", f"inside.{e}", kind="facing") for e in edges)
    return replace(p, pieces=(*p.pieces, copy), seams=(*p.seams, *seams))


@pytest.mark.parametrize("edges", [("armhole", "hem"), ("armhole",)])
def test_a_dart_moved_on_the_outside_alone_leaves_the_lining_on_its_grain(
    edges: tuple[str, ...],
) -> None:
    """A lining keeps its darts where they sit flat: sewn, both sides hang as before.

    Rotating a dart leaves the sewn garment as it is (plane geometry): what turned with the armhole
    hangs where it did. A grain that slipped leans along every edge, and is told once.
    """
    rotation = RotateDart(dart="front.bust", to="front.shoulder", at=40.0)
    turned = rotate_dart(lined(edges), rotation).pattern
    assert abs(turned.piece("front").edge("armhole").path.end.x - 185.0) > 10.0
    assert list(grain_across(turned, DEFAULTS)) == []
    slipped = list(grain_across(lined(edges, 4.0), DEFAULTS))
    assert [(f.code, f.where.piece) for f in slipped] == [("grain-off-facing", "inside")]
    assert slipped[0].measured == pytest.approx(4.0, abs=0.01)


@pytest.mark.parametrize(
    ("garment", "piece", "against"),
    [
        ("lined coat", "coat front", "its centre front"),
        ("trousers", "waistband", "its fold line"),
        ("shirt", "cuff", "its fold line"),
    ],
)
def test_what_the_grain_leans_against_is_named(garment: str, piece: str, against: str) -> None:
    """A coat front has no middle and no halves: it has a centre front, a band two long edges."""
    pattern = GARMENTS[garment]()
    found = grain_and_fold(pattern.with_piece(leaning(pattern.piece(piece), 5.0)), DEFAULTS)
    (said,) = (say(f.words, Unit.cm) for f in found if f.code == "grain-off-centre")
    assert said.startswith(f"The grain line of {piece} leans 5° against {against};")
