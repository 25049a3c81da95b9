"""Darts: caps against the fold-and-cut figures, legs, points."""

from __future__ import annotations

import math

import pytest

from clothwright.checks import CheckSettings
from clothwright.checks.darts import CHECK
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece

EXACT = CheckSettings(agree=0.01, notice=0.02)


def chord_dart(leg: float, intake: float, phi_deg: float, pressed: str = "start") -> Piece:
    """A dart whose cap is the straight chord; both seam lines meet their leg at phi_deg."""
    alpha = math.degrees(math.asin(intake / 2 / leg))
    a, b = unit_at(-alpha) * leg, unit_at(alpha) * leg
    start = a + unit_at(180.0 - alpha + phi_deg) * 80.0
    end = Vec(start.x, -start.y)
    return Piece(
        name="piece",
        edges=(
            Edge(name="edge", path=polyline((start, a, b, end))),
            Edge(name="rest", path=polyline((end, (-90, end.y), (-90, start.y), start))),
        ),
        darts=(Dart(name="dart", edge="edge", a=80.0, b=80.0 + a.distance(b), point=Vec(0, 0),
                    pressed=pressed),),
    )  # fmt: skip


def found(piece: Piece, settings: CheckSettings = EXACT) -> list[Finding]:
    return list(CHECK.run(Pattern(pieces=(piece,)), settings))


@pytest.mark.parametrize("pressed", ["start", "end"])
@pytest.mark.parametrize(
    ("leg", "intake", "phi_deg", "r"),
    [
        (130, 20, 90, 130.39),
        (100, 40, 90, 102.06),
        (100, 40, 80, 98.52),
        (100, 40, 70, 95.00),
        (100, 40, 100, 105.87),
    ],
)
def test_a_straight_chord_is_off_by_what_fold_and_cut_says(
    leg: float, intake: float, phi_deg: float, r: float, pressed: str
) -> None:
    """The cap on the centre line lies at r = L sin f / sin(f + h); the chord only at L cos h.

    Figures: the table of fold-and-cut values in docs/sources.md, derived by plane geometry.
    """
    hits = found(chord_dart(leg, intake, phi_deg, pressed))
    chord = math.sqrt(leg**2 - (intake / 2) ** 2)
    assert [f.code for f in hits] == ["dart-cap-not-true"]
    assert hits[0].measured == pytest.approx(chord - r, abs=0.006)


def test_the_usual_bands_hold_for_caps() -> None:
    """A chord 0.8 mm short of true agrees; one 4.1 mm short is a fault."""
    assert found(chord_dart(130, 20, 90), CheckSettings()) == []
    assert [f.severity.value for f in found(chord_dart(100, 40, 90), CheckSettings())] == ["fault"]


def test_a_dart_at_the_corner_has_nothing_to_be_folded_over() -> None:
    """Pressed towards a corner that is its own leg's end, any cap will do."""
    a, b = Vec(100, -20), Vec(100, 20)
    piece = Piece(
        name="piece",
        edges=(
            Edge(name="edge", path=polyline((a, b, (110, 90)))),
            Edge(name="rest", path=polyline(((110, 90), (-90, 90), (-90, -90), a))),
        ),
        darts=(Dart(name="dart", edge="edge", a=0.0, b=40.0, point=Vec(0, 0)),),
    )
    assert found(piece) == []


def test_a_seam_line_that_is_never_met_is_skipped_not_passed() -> None:
    """Folded over, the dart reaches no seam line: the check says that it could not look."""
    hits = found(chord_dart(100, 40, 179.0))
    assert [f.code for f in hits] == ["darts-skipped"]
