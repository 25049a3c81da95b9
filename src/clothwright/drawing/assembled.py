"""The garment put together flat: every copy laid so that sewn stitching lines lie along each other.

Only what is seen from outside is put together: facings, linings and interfacings are left out. A
view ends at the side seams. Darts stay open, so there is a gap in the piece.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from clothwright.drawing.assembling import Making
from clothwright.drawing.flat import Garment, Joined, SewnOn, resting
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import Copy, is_outside
from clothwright.lay.meeting.joins import patch_joins, patch_moves
from clothwright.lay.sewn import seam_places
from clothwright.pattern.closing import closings
from clothwright.pattern.parts import named_view
from clothwright.pattern.pattern import Pattern

PLACES = 60
"""Places along a seam by which one piece is fitted to the next."""


def assembled(pattern: Pattern, compiled: Compiled) -> tuple[Garment, ...]:
    """Return every garment of a pattern, front and back, as it is sewn; nothing is asked of a lay.

    A piece's view is read from the word "front" or "back" in its name, else from the view that its
    longest seam joins it to. A strip that one seam joins to pieces of both (a waistband) is shown
    in both, each section at what it is sewn to. A view that opens is closed, its two halves lapped.
    Sleeves (the second side of a cap seam) lie opened out beside the front. A pocket lies where its
    place is marked. Anything else lies beside, and a note says so.
    """
    outside = {c.id: c for c in compiled.copies if is_outside(pattern, c)}
    placed = {k: resting(c) for k, c in outside.items()}
    patches: list[SewnOn] = []
    for join in patch_joins(pattern, compiled, placed):
        under, over = patch_moves(compiled, placed, join)
        below, shape = join.shapes
        patches.append(SewnOn(outside[shape], below, over.inverse().then(under)))
    sewn_on = {p.copy.id for p in patches}
    shown = {k: c for k, c in outside.items() if k not in sewn_on}
    rows: list[tuple[str, tuple[Joined, ...]]] = []
    for seam in pattern.seams:
        if seam.kind in ("plain", "cap"):
            found = seam_places(pattern, compiled, placed, seam, places=PLACES)
            rows += [(seam.kind, row) for row in found]
    closed = {c.piece.name: c.line for c in closings(pattern)}
    groups = _groups(shown, [row for _, row in rows])
    several = len(groups) > 1
    garments = [
        Making.of({k: shown[k] for k in group}, rows, patches, closed).garment(several=several)
        for group in groups
    ]
    return tuple(_told_apart(garments))


def _told_apart(garments: Sequence[Garment]) -> Iterator[Garment]:
    """Yield garments, those of one name numbered: a picture is found by its name."""
    seen = Counter[str]()
    for each in garments:
        seen[each.name] += 1
        n = seen[each.name]
        yield each if n == 1 else replace(each, name=f"{each.name} {n}")


def _groups(
    shown: Mapping[str, Copy], rows: Sequence[tuple[Joined, ...]]
) -> tuple[tuple[str, ...], ...]:
    """Return the copies of each garment; both of a pair belong to one, however they are joined."""
    group = {k: c.piece.name for k, c in shown.items()}
    for row in rows:
        for a, _, b, _ in row:
            one, two = group[a], group[b]
            if one != two:
                group = {k: one if g == two else g for k, g in group.items()}
    out: dict[str, list[str]] = {}
    for k, g in group.items():
        out.setdefault(g, []).append(k)
    worn = [g for g in out.values() if any(named_view(shown[k].piece) for k in g)]
    rest = [k for g in out.values() if g not in worn for k in g]
    if len(worn) == 1:
        worn[0] += rest
    elif rest:
        worn.append(rest)
    return tuple(tuple(g) for g in worn)
