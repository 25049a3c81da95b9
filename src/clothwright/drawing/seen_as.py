"""Which view of a garment each copy is seen in: its name says it, or what it is sewn to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from clothwright.drawing.flat import BACK, FRONT, Joined
from clothwright.drawing.hanging import seen_from
from clothwright.lay.copies import Copy
from clothwright.pattern.parts import named_view


@dataclass(slots=True, kw_only=True)
class SeenAs:
    """views: of every copy that has one. bands: strips that belong to both. notes: sentences."""

    views: dict[str, str]
    bands: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def seen_as(
    copies: Mapping[str, Copy], seams: Sequence[Sequence[Joined]], beside: Collection[str]
) -> SeenAs:
    """Return the view of each copy, but for those that lie beside anyway (sleeves).

    seams: places sewn together, seam by seam. A copy that one seam joins to both views is a band;
    one that several join to both is seen where they are longest, and a note says so.
    """
    named = {k: named_view(c.piece) for k, c in copies.items() if k not in beside}
    out = SeenAs(views={k: v for k, v in named.items() if v})
    for k in (k for k in named if not named[k]):
        reach = [_reach(seam, k, out.views) for seam in seams]
        near = sum(reach, Counter())
        if any(len(seam) == 2 for seam in reach):
            out.bands.append(k)
        elif near:
            out.views[k] = view = near.most_common(1)[0][0]
            if len(near) == 2:
                where = {FRONT: BACK, BACK: FRONT}[view]
                out.notes.append(
                    f'"{copies[k].piece.name}" is sewn to the front and to the back. It is drawn '
                    f"on the {view}, where its seam is longer; on the {where} it is left out."
                )
        else:
            out.notes.append(
                f'No seam joins "{copies[k].piece.name}" to a piece of the front or the back. '
                "It lies beside."
            )
    return out


def _reach(seam: Sequence[Joined], shape: str, views: Mapping[str, str]) -> Counter[str]:
    """Return how much of a seam of a copy joins it to each view, tenths of a mm."""
    found = Counter[str]()
    for (_, p, other, _), (_, q, *_) in pairwise(seen_from(seam, shape)):
        if other in views:
            found[views[other]] += round(10.0 * p.distance(q))
    return found
