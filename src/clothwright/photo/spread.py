"""How far white spreads over black in photos, measured at the markers, and taken off an edge."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from clothwright.photo.arrays import Numbers
from clothwright.photo.flatten import Flat
from clothwright.photo.shades import Shades
from clothwright.photo.sheet import HEIGHT_MM, MARKERS, WIDTH_MM, marker_corners
from clothwright.photo.trace import FINE_MM, STEP_MM, Traced, edge_at, outward, profiles, smoothed

REACH_MM = 2.0
LEAST_SIDES = 8
MOST_MM = 0.6
"""More than this is no spreading of light, but sheets that are not where they were thought."""


class Spread(NamedTuple):
    """mm: how far a white side is found too far out. contrast: logarithm of white over black."""

    mm: float
    contrast: float


def spread_of(dim: Shades, flat: Flat) -> Spread:
    """Return how far white spreads, by the outer sides of all markers; 0 with too few of them.

    Blur and a camera's tone curve put the middle of an edge into its dark side. The markers' sides
    lie where they were printed, so what is found there tells how far.
    """
    found, contrasts = [], []
    steps = np.arange(-REACH_MM, REACH_MM + FINE_MM / 2, FINE_MM)
    shares = np.linspace(0.2, 0.8, 13)[:, None]
    for number, corners in flat.sheets.items():
        right = (corners[1] - corners[0]) / WIDTH_MM
        up = (corners[3] - corners[0]) / HEIGHT_MM
        for k in range(MARKERS):
            known = marker_corners(number * MARKERS + k)
            if known is None:
                continue
            at = np.array([corners[0] + p.x * right + p.y * up for p in known.at])
            offs = []
            for a, b in zip(at, np.roll(at, -1, axis=0), strict=True):
                along = (b - a) / np.hypot(*(b - a))
                out = np.array([-along[1], along[0]])
                points = a + shares * (b - a)
                grey = profiles(dim, points, np.broadcast_to(out, points.shape), steps)
                white, black = float(np.median(grey[:, -5:])), float(np.median(grey[:, :5]))
                if white < 1.5 * black + 10.0:
                    break
                offs.append(-float(np.median(edge_at(grey, steps)[0])))
                contrasts.append(np.log(white / max(black, 1.0)))
            if len(offs) == len(at):  # a marker that lies a little off does so on both sides
                found.append(float(np.mean(offs)))
    if len(found) * 4 < LEAST_SIDES or abs(np.median(found)) > MOST_MM:
        return Spread(0.0, 1.0)
    return Spread(float(np.median(found)), float(np.median(contrasts)))


def without_spread(dim: Shades, trace: Traced, spread: Spread) -> Traced:
    """Return the traced edge of paper with what white spreads over the table taken off."""
    across = outward(smoothed(trace.points, 1.0 / STEP_MM))
    grey = profiles(dim, trace.points, across, np.array([-2.5, -2.0, -1.5, 1.5, 2.0, 2.5]))
    ratio = np.log((np.median(grey[:, :3]) + 1.0) / (np.median(grey[:, 3:]) + 1.0))
    share = float(np.clip(ratio / spread.contrast, -1.0, 1.0))
    points: Numbers = trace.points - spread.mm * share * across
    return trace._replace(points=points)
