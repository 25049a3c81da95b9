"""Changes: one alteration each, a pattern in, a pattern out."""

from __future__ import annotations

from typing import Any

from clothwright.changes import (
    crop,
    lengthen,
    match_edge,
    match_level,
    mirror,
    move_edge,
    set_allowance,
    set_hem,
    square_hem,
    true_seam,
    unfold,
)
from clothwright.changes.change import Change

CHANGES: tuple[Change[Any], ...] = (
    lengthen.CHANGE,
    crop.CHANGE,
    match_edge.CHANGE,
    match_level.CHANGE,
    move_edge.CHANGE,
    square_hem.CHANGE,
    true_seam.CHANGE,
    set_allowance.CHANGE,
    set_hem.CHANGE,
    unfold.CHANGE,
    mirror.CHANGE,
)
"""The menu, in the order shown: lengths, edges, darts and sleeves, allowances, whole pieces."""
