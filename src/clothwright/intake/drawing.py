"""What a reader makes of a file: lines in mm, with the names the file gives them."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.path import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnLine:
    """One line of a drawing, mm, y up. label: its id or name in the file, "" when it has none."""

    path: Path
    closed: bool
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing read from a file.

    scale_known: False when the file names no physical unit, so that the size must be asked; then
    lengths are in the file's own units, as if one of them were 1 mm.
    notes: what was left out or repaired, in words.
    """

    name: str
    lines: tuple[DrawnLine, ...]
    scale_known: bool
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """A kind of file that can be read. suffixes: endings of its files, with the dot."""

    id: str
    title: str
    suffixes: tuple[str, ...]
