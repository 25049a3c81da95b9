"""Changes: one alteration each, a pattern in, a pattern out."""

from __future__ import annotations

from typing import Any

from clothwright.changes import (
    add_dart,
    apply_band,
    blend_sizes,
    bust,
    choose_size,
    crop,
    dart_to_seam,
    divide_dart,
    elbow_to_ease,
    elbow_to_hem,
    lengthen,
    let_out,
    match_edge,
    match_level,
    merge_darts,
    mirror,
    move_edge,
    piece_panel,
    release_dart,
    rotate_dart,
    set_allowance,
    set_hem,
    shorten_dart,
    square_hem,
    straighten_sleeve,
    true_dart,
    true_seam,
    unfold,
)
from clothwright.changes.change import Change

CHANGES: tuple[Change[Any], ...] = (
    choose_size.CHANGE,
    blend_sizes.CHANGE,
    lengthen.CHANGE,
    crop.CHANGE,
    match_edge.CHANGE,
    match_level.CHANGE,
    move_edge.CHANGE,
    square_hem.CHANGE,
    true_seam.CHANGE,
    let_out.CHANGE,
    rotate_dart.CHANGE,
    shorten_dart.CHANGE,
    merge_darts.CHANGE,
    divide_dart.CHANGE,
    add_dart.CHANGE,
    release_dart.CHANGE,
    dart_to_seam.CHANGE,
    true_dart.CHANGE,
    bust.CHANGE,
    elbow_to_hem.CHANGE,
    elbow_to_ease.CHANGE,
    straighten_sleeve.CHANGE,
    set_allowance.CHANGE,
    set_hem.CHANGE,
    unfold.CHANGE,
    mirror.CHANGE,
    piece_panel.CHANGE,
    apply_band.CHANGE,
)
"""The menu, in the order shown: sizes, lengths, edges, darts, sleeves, allowances, whole pieces."""
