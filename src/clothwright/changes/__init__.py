"""Changes: one alteration each, a pattern in, a pattern out."""

from __future__ import annotations

from typing import Any

from clothwright.changes import (
    crop,
    lengthen,
    match_edge,
    set_allowance,
)
from clothwright.changes.change import Change

CHANGES: tuple[Change[Any], ...] = (
    lengthen.CHANGE,
    crop.CHANGE,
    match_edge.CHANGE,
    set_allowance.CHANGE,
)
"""The menu, in the order shown: lengths, edges, darts and sleeves, allowances, whole pieces."""
