"""A sleeve cap in its armhole: by how much it is longer, and where."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.pattern.pattern import Seam
from clothwright.pattern.piece import NotchKind
from clothwright.pattern.walk import Pair, Walk


@dataclass(frozen=True, slots=True, kw_only=True)
class CapEase:
    """Where a cap's ease lies, mm (negative where the cap is the shorter).

    under: beneath the arm, from the underarm to the front and the back notch together, each part
    without regard to its sign. front, back: from notch to the top; None when it cannot be told.
    missing: what the notches do not tell, in words.
    """

    total: float
    under: tuple[float, float] | None
    front: float | None
    back: float | None
    missing: str = ""


def cap_ease_of(walk: Walk, seam: Seam) -> CapEase:
    """Measure the ease of a cap (side b) in its armhole (side a), mm, with its shares."""
    total = walk.b.length - walk.a.length
    bounds = cap_bounds(walk, seam)
    if bounds is None:
        return CapEase(
            total=total, under=None, front=None, back=None,
            missing="two notches of the cap that meet the armhole are needed, front and back",
        )  # fmt: skip
    low, high = bounds
    first, last = walk.pairs[low], walk.pairs[high]
    under = (gain(first), total - gain(last))
    top = cap_top(walk, low, high)
    if top is None:
        missing = "no mark between its notches meets the shoulder"
        return CapEase(total=total, under=under, front=None, back=None, missing=missing)
    shares = gain(top) - gain(first), gain(last) - gain(top)
    is_front_first = front_first(first, last)
    if is_front_first is None:
        missing = "the notches do not tell front from back (one single, one double)"
        return CapEase(total=total, under=under, front=None, back=None, missing=missing)
    front, back = shares if is_front_first else shares[::-1]
    return CapEase(total=total, under=under, front=front, back=back)


def gain(pair: Pair) -> float:
    """Return by how much (mm) the cap is ahead of the armhole at a mark, from the seam's start."""
    return pair.b.at - pair.a.at


def cap_bounds(walk: Walk, seam: Seam) -> tuple[int, int] | None:
    """Return the pairs between which the ease lies: those named in the seam, else the outermost."""
    notches = [i for i, p in enumerate(walk.pairs) if p.a.kind and p.b.kind]
    if len(notches) < 2:
        return None
    named = {walk.pairs[i].b.name: i for i in notches if walk.pairs[i].b.name}
    low = named.get(seam.ease_from, notches[0])
    high = named.get(seam.ease_to, notches[-1])
    return (min(low, high), max(low, high)) if low != high else None


def cap_top(walk: Walk, low: int, high: int) -> Pair | None:
    """Return the pair at the shoulder: the armhole's joint, else the only mark in between."""
    between = walk.pairs[low + 1 : high]
    joints = [p for p in between if p.a.kind is None]
    if len(joints) == 1:
        return joints[0]
    return between[0] if len(between) == 1 else None


def front_first(first: Pair, last: Pair) -> bool | None:
    """Tell whether a seam goes up the front first, by its outer notches; None: they do not tell."""
    double = [NotchKind.DOUBLE in (p.a.kind, p.b.kind) for p in (first, last)]
    return double[1] if double[0] != double[1] else None
