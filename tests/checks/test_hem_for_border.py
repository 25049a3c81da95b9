"""Hems for borders: how far an edge leaves a straight line along the border."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.checks import BorderEdge, CheckSettings
from clothwright.checks.hem_for_border import CHECK
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Grain, Piece, Role
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say


def skirt_panel(hem: Path, *, fold: bool = True) -> Piece:
    """A panel, its centre at the left, from (0, 0) to the hem's end."""
    side = hem.end
    return Piece(
        name="panel",
        edges=(
            Edge(name="hem", path=hem, role=Role.HEM),
            Edge(name="side", path=polyline((side, (200, 600)))),
            Edge(name="waist", path=polyline(((200, 600), (0, 600)))),
            Edge(
                name="centre",
                path=polyline(((0, 600), (0, 0))),
                role=Role.FOLD if fold else Role.SEAM,
            ),
        ),
        grain=Grain(start=Vec(50, 100), end=Vec(50, 500)),
    )


def found(piece: Piece, rise_max: float = 3.0) -> list[Finding]:
    border = BorderEdge(piece="panel", edge="hem", rise_max=rise_max)
    return list(CHECK.run(Pattern(pieces=(piece,)), CheckSettings(borders=(border,))))


def flared(angle_deg: float, radius: float = 700.0) -> Path:
    """The hem of a flared panel: an arc about a point above the fold, by a fine polyline."""
    centre = Vec(0, radius)
    steps = [-90 + angle_deg * k / 400 for k in range(401)]
    return polyline(tuple(centre + unit_at(a) * radius for a in steps))


def test_a_straight_hem_lies_on_the_border() -> None:
    """Straight and square to the grain: nothing to say."""
    assert found(skirt_panel(polyline(((0, 0), (250, 0))))) == []


@pytest.mark.parametrize("angle_deg", [8.0, 15.0, 20.0])
def test_a_flared_hem_rises_at_the_side_by_the_versed_sine(angle_deg: float) -> None:
    """An arc of radius R over an angle t rises R (1 - cos t) above its lowest point (geometry)."""
    hits = found(skirt_panel(flared(angle_deg)))
    rise = 700.0 * (1 - math.cos(math.radians(angle_deg)))
    assert [f.code for f in hits] == ["hem-leaves-border"]
    assert hits[0].measured == pytest.approx(rise, abs=1e-6)
    assert "rises" in say(hits[0].words, Unit.mm)


@pytest.mark.parametrize(
    ("high", "weight"),
    [(1.4, None), (2.9, Severity.NOTICE), (3.2, Severity.FAULT), (-3.2, Severity.FAULT)],
)
def test_rise_and_dip_in_bands(high: float, weight: Severity | None) -> None:
    """Up to 1.5 mm is straight enough, up to the border's own limit a notice, more a fault."""
    hits = found(skirt_panel(polyline(((0, 0), (150, 0), (250, high)))))
    assert [f.severity for f in hits] == ([weight] if weight else [])
    if hits:
        assert ("dips" in say(hits[0].words, Unit.mm)) == (high < 0)


def test_the_limit_is_the_borders_own() -> None:
    """A busy border forgives 10 mm."""
    hits = found(skirt_panel(polyline(((0, 0), (150, 0), (250, 8.0)))), rise_max=10.0)
    assert [f.severity for f in hits] == [Severity.NOTICE]


def test_a_hump_in_the_middle_is_seen() -> None:
    """The whole edge counts, not only its ends."""
    hump = Path((Cubic(Vec(0, 0), Vec(80, 12), Vec(170, 12), Vec(250, 0)),))
    hits = found(skirt_panel(hump))
    assert hits[0].measured == pytest.approx(9.0, abs=0.05)


def test_an_open_panel_may_not_tilt() -> None:
    """Without a fold the hem may run straight but off the grain: told as such, in mm."""
    hits = found(skirt_panel(polyline(((0, 0), (250, 6))), fold=False))
    assert [f.code for f in hits] == ["grain-not-square-to-border"]
    assert hits[0].measured == pytest.approx(6.0)


def test_up_is_the_grain_not_the_page() -> None:
    """Lying on its side on the table, the panel gets the same answer."""
    piece = skirt_panel(flared(15.0))
    turned = moved(piece, rotation_deg(117.0))
    assert found(turned)[0].measured == pytest.approx(found(piece)[0].measured)


def test_without_grain_it_is_not_checked() -> None:
    """No grain line, no up: skipped, not passed."""
    hits = found(replace(skirt_panel(flared(15.0)), grain=None))
    assert [f.code for f in hits] == ["hem-for-border-skipped"]


def test_an_edge_in_several_plans_is_told_once() -> None:
    """Three plans lay the same hem along a border: one finding names them."""
    borders = tuple(BorderEdge(piece="panel", edge="hem", plan=p) for p in ("one", "two", "one"))
    pattern = Pattern(pieces=(skirt_panel(flared(15.0)),))
    hits = list(CHECK.run(pattern, CheckSettings(borders=borders)))
    assert len(hits) == 1
    assert '(plans "one", "two")' in say(hits[0].words, Unit.mm)
