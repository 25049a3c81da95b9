"""Two copies that show each other's print as in a mirror: which mirror the print has, and how.

As they are worn, the print of the second is the mirror image of that of the first about the body's
height. The cloth lies right side up under both, so a mirror of the print itself has to lay the one
on the other: it says how the second is turned, and where it lies on every axis.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from clothwright.cloth.meanings import WAYS
from clothwright.cloth.motions import AXES, Motion, Motions
from clothwright.errors import Said
from clothwright.geometry.vec import turn_apart
from clothwright.lay import problem as put
from clothwright.rules.room import Missable
from clothwright.rules.table import Both, Lying


class MirrorLine(NamedTuple):
    """A mirror of a print. axis: "along" or "across", the one on which places change round."""

    axis: str
    motion: Motion

    @property
    def turned_by(self) -> float:
        """Degrees: the second is turned by so much less the turn of the first."""
        return 180.0 if self.axis == "along" else 0.0

    def turn(self, turn_deg: float) -> float:
        """Return the turn of the second, degrees, for one of the first."""
        return (self.turned_by - turn_deg) % 360.0


def mirrors(design: Motions, axes: Iterable[str] = AXES) -> Iterator[MirrorLine]:
    """Yield the mirrors that a printed design has, on these axes, in their order."""
    found = {AXES[m.signs.index(-1)]: m for m in design.operations if m.mirrors}
    return (MirrorLine(axis, found[axis]) for axis in axes if axis in found)


def can_lie(mirror: MirrorLine, a: Lying, b: Lying) -> bool:
    """Tell whether two copies may be turned as in a mirror."""
    room = a.tilt_deg + b.tilt_deg + 1e-6
    return any(turn_apart(mirror.turn(s), t) <= room for s in a.turns_deg for t in b.turns_deg)


def why_not(mirror: MirrorLine, a: Lying) -> Said:
    """Say how two copies would have to be turned for a mirror, a clause."""
    turn = a.turns_deg[0]
    if turn % 90.0:
        return "the two would have to slant opposite ways"
    one, other = WAYS[turn % 360.0], WAYS[mirror.turn(turn)]
    if one == other:
        return f"both would have to lie with their tops {one}"
    return f"one would have to lie with its top {one} and the other with its top {other}"


def turned_so(mirror: MirrorLine, tag: str, a: str, b: str) -> put.SameTurn:
    """Return the rule that turns the second of two shapes as it is seen in the mirror."""
    return put.SameTurn(
        id=f"turned as in a mirror {tag}", shapes=(a, b), by_deg=mirror.turned_by, mirrored=True
    )


def places(
    motion: Motion, design: Motions, axes: Iterable[str], both: Both, *, may: Missable, tag: str
) -> Iterator[put.Rule]:
    """Yield that the first of two points lies where a motion of the design has the second.

    On each of these axes of which it says anything. Seen on both, a half-drop or brick has two
    places within its repeats; on one alone its rows stand level sooner.
    """
    said = [k for k, axis in enumerate(AXES) if axis in axes and design.says[k]]
    if len(said) == 2 and len(design.shifts) > 1:
        (x, y), (along, across) = motion.shift, design.period
        yield put.SamePlace(
            id=tag.replace("{}", "both", 1),
            **both,
            **may,
            signs=motion.signs,
            shifts=tuple((x + dx, y + dy) for dx, dy in design.shifts),
            repeat_along=along or 0.0,
            repeat_across=across or 0.0,
        )
        return
    for k in said:
        repeat = (design.level(k) if len(said) == 1 else design.period[k]) or 0.0
        yield put.on_axis(
            motion.signs[k],
            motion.shift[k],
            id=tag.replace("{}", AXES[k], 1),
            **both,
            **may,
            axis=AXES[k],
            repeat=repeat,
        )
