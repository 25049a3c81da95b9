"""Flaws of a cloth on its drawing: each can be moved, and made larger or smaller."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.drawing.cloth import shown_length
from clothwright.drawing.cloth_holds import knob_radius
from clothwright.units import Unit
from clothwright.words import show_length

APART = 3.0
"""The knobs stand so many of their radii beside a flaw, so that a finger hits the one meant."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlawKnob:
    """A knob of a flaw, y turned down. do: "move" or "size"; number: the flaw's, from 0.

    ring: its corners in the cloth's frame, mm, as text. shape, leader: of paths. x, y: the
    middle of the knob, mm.
    """

    number: int
    do: str
    name: str
    words: str
    ring: str
    shape: str
    leader: str
    x: float
    y: float


def box_of(flaw: Flaw) -> Box:
    """Return the least and most of a flaw's corners: x0, y0, x1, y1 in the cloth's frame, mm."""
    xs, ys = [x for x, _ in flaw.ring], [y for _, y in flaw.ring]
    return min(xs), min(ys), max(xs), max(ys)


def place_words(flaw: Flaw, unit: Unit) -> str:
    """Say where a flaw lies, at its corner nearest to the cut end and the lower selvedge."""
    x, y, _, _ = box_of(flaw)
    return (
        f"{show_length(x, unit)} from the cut end, {show_length(y, unit)} from the lower selvedge"
    )


def size_words(flaw: Flaw, unit: Unit) -> str:
    """Say how large a flaw is, along by across."""
    x0, y0, x1, y1 = box_of(flaw)
    return f"{show_length(x1 - x0, unit)} along by {show_length(y1 - y0, unit)} across"


def spots(cloth: Cloth, unit: Unit) -> tuple[FlawKnob, ...]:
    """Return two knobs for every flaw: its place, then its size."""
    long, radius = shown_length(cloth), knob_radius(cloth)
    out = []
    for n, flaw in enumerate(cloth.flaws):
        x0, y0, x1, y1 = box_of(flaw)
        ring = " ".join(f"{x:.4f},{y:.4f}" for x, y in flaw.ring)
        shape = "M" + "L".join(f"{x:.2f} {-y:.2f}" for x, y in flaw.ring) + "Z"
        left, right = _beside(x0, x1, radius, long)
        for do, name, words, x, y, edge in (
            ("move", "its place", place_words(flaw, unit), left, -(y0 + y1) / 2, x0),
            ("size", "its size", size_words(flaw, unit), right, -y1, x1),
        ):
            out.append(
                FlawKnob(
                    number=n,
                    do=do,
                    name=f"{flaw.name}, {name}",
                    words=words,
                    ring=ring,
                    shape=shape,
                    leader=f"M{edge:.2f} {y:.2f}L{x:.2f} {y:.2f}",
                    x=x,
                    y=y,
                )
            )
    return tuple(out)


def _beside(x0: float, x1: float, radius: float, long: float) -> tuple[float, float]:
    """Return where the knobs of a flaw's place and size stand, both on the cloth and apart."""
    left = max(radius, x0 - APART * radius)
    right = min(long - radius, max(x1, left) + APART * radius)
    if right - left < 2 * APART * radius:
        left = max(radius, right - 2 * APART * radius)
        right = max(right, left + 2 * APART * radius)
    return left, right
