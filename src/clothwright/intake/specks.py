"""Segments of a drawn line too short to mean anything: dropped before anything is decided by it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Segment
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.spots import is_spot

SPECK_MM = 0.05
"""mm: nobody draws a shorter line on purpose, a tenth of a pen's width; but a corner that holds one
bends twice by a little instead of once, and so is no corner any more."""


def without_specks(lines: Sequence[DrawnLine]) -> tuple[list[DrawnLine], tuple[str, ...]]:
    """Return lines (mm) without segments shorter than `SPECK_MM`, and what was dropped, in words.

    A line that is one speck as a whole is left out. Points keep their rings.
    """
    out: list[DrawnLine] = []
    dropped = 0
    for line in lines:
        path = line.path if is_spot(line) else unspecked(line.path)
        dropped += len(line.path.segments) - (len(path.segments) if path else 0)
        if path is not None:
            out.append(line if path is line.path else replace(line, path=path))
    said = f"left out, parts of lines too short to mean anything: {dropped}"
    return out, (said,) if dropped else ()


def unspecked(path: Path) -> Path | None:
    """Return a path (mm) without specks, its ends where they were; None when it is one itself."""
    if not any(map(_is_speck, path.segments)):
        return path
    here, out = path.start, list[Segment]()
    for segment in path.segments:
        moved = segment if segment.start == here else _begun(segment, here)
        if not _is_speck(moved):
            out.append(moved)
            here = moved.end
    return Path(tuple(out)).with_ends(end=path.end) if out else None


def _is_speck(segment: Segment) -> bool:
    if segment.start.distance(segment.end) >= SPECK_MM:
        return False
    return segment.length < SPECK_MM


def _begun(segment: Segment, here: Vec) -> Segment:
    return Path((segment,)).with_ends(start=here).segments[0]
