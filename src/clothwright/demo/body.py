"""An invented wearer and the looseness of our garments: demo data, all in mm.

The wearer is nobody: her figures lie between purchased-pattern misses sizes 12 and 14 (bust 34 to
36, waist 26 1/2 to 28, hip 36 to 38, back waist 16 1/4 to 16 1/2 in; docs/sources.md).
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.units import INCH

SEAM = 5 / 8 * INCH
"""Allowance on every joined seam (common practice for home sewers, 5/8 in)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wearer:
    """Body measurements (demo data, our own)."""

    bust: float = 35.0 * INCH
    waist: float = 27.25 * INCH
    hip: float = 37.0 * INCH
    back_waist: float = 16.375 * INCH
    neck: float = 375.0
    shoulder: float = 124.0
    across_back: float = 345.0
    across_chest: float = 326.0
    nape_to_underarm: float = 205.0
    front_longer: float = INCH
    """How much longer than the back she is from the high point of the shoulder to the waist."""
    bust_point_from_centre: float = 92.0
    upper_arm: float = 11.25 * INCH
    arm: float = 580.0
    waist_to_hip: float = 200.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatStyle:
    """Looseness and shape of the short coat (guides: docs/sources.md, ease)."""

    bust_ease: float = 100.0
    underarm_drop: float = 15.0
    neck_wider: float = 8.0
    neck_depth: float = 98.0
    extension: float = 20.0
    from_shoulder: float = 22.0 * INCH
    """Length of the back from the high point of the shoulder to the hemline, as bought."""
    back_ease: float = INCH / 4
    """How much longer the back's shoulder is, to be eased in."""
    dart: float = 32.0
    biceps_ease: float = 2.75 * INCH
    cap_ease_front: float = 12.0
    cap_ease_back: float = 16.0
    wrist: float = 252.0
    wrist_front: float = 140.0
    """From the centre line to the front seam at the wrist: straightened, the hem is twice that."""
    elbow_dart: float = 3.0 * INCH
    """Length of the elbow dart (a published draft: 3 in; docs/sources.md)."""
    hem: float = 1.5 * INCH
    underarm_raise: float = 0.0
    """For the lining: how much higher it ends under the arm, so that the sleeve can lift."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SkirtStyle:
    """Looseness and shape of the panel skirt."""

    waist_ease: float = 18.0
    hip_ease: float = 68.2
    """Chosen so that nine repeats of the demo's border, 56 mm each, go round the half skirt."""
    length: float = 620.0
    side_rise: float = 11.0
    hem: float = 2.5 * INCH
    band: float = 35.0
    underlap: float = 30.0
    zip: float = 200.0


WEARER = Wearer()
