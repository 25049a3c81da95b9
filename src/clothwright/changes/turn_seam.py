"""Sew one side of a seam from its other end."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.walk import run_is, run_name
from clothwright.pattern.ways_round import turned
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnSeam:
    """The seam to turn."""

    seam: str = param("seam", "the seam, such as armhole", label="Which seam")


def apply(pattern: Pattern, params: TurnSeam) -> Outcome:
    """Let the second side of a seam meet the first from its other end; no piece changes.

    Raises CannotDo for an edge that is sewn to its own second copy, which has no wrong end;
    BadInput for an unknown seam.
    """
    seam = pattern.seam(params.seam)
    if seam.a == seam.b:
        raise CannotDo(
            what=f'seam "{seam.name}" cannot be turned',
            why="it joins an edge to the same edge of its other half",
            nearest="another seam",
        )
    said = (
        f'Turned seam "{seam.name}": {run_is(seam.b)} sewn to {run_name(seam.a)} from its '
        "other end.",
    )
    return Outcome(pattern=pattern.with_seam(turned(seam)), said=said)


CHANGE = Change(
    id="turn-seam",
    title="Sew a seam from its other end",
    topic="edges and seams",
    why="A seam named with one of its sides the wrong way round has a sleeve back to front, or a "
    "hem at the underarm.",
    source="common practice: single notches mark fronts, double ones backs",
    params=TurnSeam,
    apply=apply,
)
