"""Two sides of one seam that a change reshaped together agree again as they did. In mm.

A line that curves out gains by being let out, one that curves in loses: of a panel seam over the
bust one side would be the longer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.changes.match_edge import moved_end
from clothwright.changes.redraw import on_the_cloth, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import gross_at, net_at, net_length, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.words import Sentence, edge_name, seam_name

OFF_MM = 2.0
"""mm: a difference that comes to less is left to the cloth. Our own figure."""
SAME_MM = 0.1
"""mm: a smaller difference is none. Our own figure."""
MOST_MM = 15.0
"""mm: more than this is no longer shared out unasked. Our own figure."""


def evened(before: Pattern, after: Pattern, refs: Sequence[EdgeRef]) -> tuple[Pattern, Sentence]:
    """Return a changed pattern with both sides of each seam that was reshaped as long as they were.

    As long as each other, that is, with the ease that is meant: one side ends sooner and the other
    later by as much, at the end next to which they part most. Notches that meet go half-way, so
    that they meet again. Left as it is where a dart or a fold is in the way. Also what is said.
    """
    shaped = {(r.piece, r.edge) for r in refs}
    pattern, said = after, list[str | float]()
    for seam in after.seams:
        pair = [(r.piece, r.edge) for r in seam.refs]
        if len(seam.a) == len(seam.b) == 1 and len(set(pair)) == 2 and set(pair) <= shaped:
            off = _longer(after, seam) - _longer(before, seam)
            if OFF_MM <= abs(off) <= MOST_MM:
                made = _shared(before, pattern, seam, off)
                if made is not None:
                    pattern, at_end = made
                    said += _said(pattern, seam, off, at_end=at_end)
        elif not shaped.intersection(pair):
            pattern = _on_the_cloth(before, pattern, seam)
    return pattern, tuple(said)


def _longer(pattern: Pattern, seam: Seam) -> float:
    one, two = (net_length(pattern.piece(r.piece), r.edge) for r in (seam.a[0], seam.b[0]))
    return two - one


def _shared(
    before: Pattern, pattern: Pattern, seam: Seam, off: float
) -> tuple[Pattern, bool] | None:
    """Return the pattern with both edges ended half as far each, and at which end of the seam."""
    parted = _parted(before, pattern, seam)
    gaps = [0.0, *parted.values(), off]
    at_end = abs(gaps[-1] - gaps[-2]) >= abs(gaps[1] - gaps[0])
    for ref, by in ((seam.a[0], off / 2), (seam.b[0], -off / 2)):
        end = "end" if at_end is not ref.reversed else "start"
        try:
            piece = moved_end(pattern.piece(ref.piece), ref.edge, end, by)
            refuse_crossing(piece, "")
        except CannotDo:
            return None
        pattern = pattern.with_piece(piece)
    return _notches_met(before, pattern, seam), at_end


def _parted(before: Pattern, after: Pattern, seam: Seam) -> dict[str, float]:
    """Return of each notch that both sides have by how much it lies farther along side b now."""
    was_a, was_b, now_a, now_b = (
        {s.name: s.at for s in side(p, run).stations if s.name}
        for p in (before, after)
        for run in (seam.a, seam.b)
    )
    shared = [n for n in now_a if n in now_b and n in was_a and n in was_b]
    shared.sort(key=lambda n: now_a[n])
    return {n: now_b[n] - now_a[n] - (was_b[n] - was_a[n]) for n in shared}


def _notches_met(before: Pattern, pattern: Pattern, seam: Seam) -> Pattern:
    """Return the pattern with notches of one name half-way, so that they lie as they did."""
    parted = _parted(before, pattern, seam)
    for ref, share in ((seam.a[0], 0.5), (seam.b[0], -0.5)):
        edge, way = pattern.edge(ref), -share if ref.reversed else share
        notches = [
            replace(n, at=min(max(0.0, n.at + way * parted.get(n.name, 0.0)), edge.length))
            for n in edge.notches
        ]
        moved = edge.with_notches(notches)
        pattern = pattern.with_piece(pattern.piece(ref.piece).with_edge(moved))
    return pattern


def _on_the_cloth(before: Pattern, pattern: Pattern, seam: Seam) -> Pattern:
    """Return the pattern with notches met again that kept to the end of an edge that moved.

    Bodice and skirt taken in at the side: a notch of the waist stays where it is on the cloth.
    """
    if not any(abs(by) > SAME_MM for by in _parted(before, pattern, seam).values()):
        return pattern
    made = pattern
    for ref in seam.refs:
        was, piece = before.piece(ref.piece), pattern.piece(ref.piece)
        old, edge = was.edge(ref.edge), piece.edge(ref.edge)
        stays = [a.is_near(b, SAME_MM) for a, b in zip(old.path.ends, edge.path.ends, strict=True)]
        if sum(stays) == 1:
            lengths = net_length(was, old.name), net_length(piece, edge.name)
            place = on_the_cloth(*lengths, "end" if stays[0] else "start")
            at = [place(net_at(was, old.name, n.at)) for n in old.notches]
            now = [
                replace(n, at=gross_at(piece, edge.name, p or 0.0))
                for n, p in zip(edge.notches, at, strict=True)
            ]
            made = made.with_piece(made.piece(piece.name).with_edge(edge.with_notches(now)))
    left = _parted(before, made, seam).values()
    return pattern if any(abs(by) > SAME_MM for by in left) else made


def _said(pattern: Pattern, seam: Seam, off: float, *, at_end: bool) -> Sentence:
    shorter, longer = (seam.b[0], seam.a[0]) if off > 0.0 else (seam.a[0], seam.b[0])
    end = "end" if at_end is not shorter.reversed else "start"
    corner = end_words(pattern.piece(shorter.piece), shorter.edge, end)
    return (
        f" So that both sides of {seam_name(seam.name)} agree, "
        f"{edge_name(shorter.piece, shorter.edge)} ends ",
        abs(off) / 2,
        f" sooner at {corner}, and {edge_name(longer.piece, longer.edge)} as much later.",
    )
