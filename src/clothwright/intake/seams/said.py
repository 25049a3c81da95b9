"""What is said to a proposed pair: turned round, given ease, named; and the seam it becomes."""

from __future__ import annotations

from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.intake.seams.proposed import Proposed
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit, parse_length


def turned(seam: Seam) -> Seam:
    """Return a seam whose second side is laid the other way round: other ends meet."""
    back = tuple(EdgeRef(r.piece, r.edge, not r.reversed) for r in reversed(seam.b))
    return replace(seam, b=back)


def swapped(seam: Seam) -> Seam:
    """Return a seam with its sides changed over, so that the longer one is the second."""
    return replace(seam, a=seam.b, b=seam.a, ease=-seam.ease)


def said_seam(
    pattern: Pattern,
    proposed: Proposed,
    unit: Unit,
    *,
    ease: str | None = None,
    turn: bool = False,
    name: str = "",
) -> Seam:
    """Return the seam that a proposal becomes; the longer side becomes the second. BadInput.

    ease: what one side is meant to be longer by, as typed; "" = none, None = as proposed. turn:
    the ends meet the other way round. name: "" = as proposed.
    """
    seam = turned(proposed.seam) if turn else proposed.seam
    meant = proposed.seam.ease
    if ease is not None:
        typed = ease.strip()
        meant = parse_length(typed, unit=unit, where="ease", least_mm=0.0) if typed else 0.0
    walk = walk_seam(pattern, seam)
    if meant and walk.b.length < walk.a.length:
        seam = swapped(seam)
    name = " ".join(name.split()) or seam.name
    if "." in name or len(name) > 60:
        raise BadInput(
            where="seam", what=f'"{name[:60]}" cannot name a seam', expected="a name without a dot"
        )
    return replace(seam, name=name, ease=meant, eased_max=0.0)
