"""Which end of a seam meets which, by neighbours' names, by height on the piece, by notches."""

from __future__ import annotations

from clothwright.intake.seams.names import plain_name
from clothwright.intake.seams.runs import EdgeRun
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import walk_seam
from clothwright.pattern.ways_round import evidence, turned

JOINT_MM = 3.0
"""mm: a notch this near to where two edges of the other side are joined marks that joint."""
JOINTS = {"armhole": "shoulder", "neck": "shoulder", "waist": "side", "top": "side"}
"""Where the edges of a run meet each other, by the run's name."""


def turned_to(
    pattern: Pattern, a: EdgeRun, b: EdgeRun, *, alone: bool
) -> tuple[tuple[EdgeRef, ...], tuple[EdgeRef, ...], float]:
    """Return both sides so that ends that belong together meet, and how sure that is (0 to 1).

    Kinds of notches, the words front and back, hems and neighbours of one name decide; where they
    tell nothing, how much alike the ends are.
    """
    if alone:
        return a.refs, b.refs, 1.0
    a_refs = _onward(pattern, a)
    b_refs = _onward(pattern, b)
    seam = Seam(name="-", a=a_refs, b=b_refs)
    for_it, against = (e.good - e.bad for e in (evidence(pattern, s) for s in (seam, turned(seam))))
    if for_it != against:
        b_refs = b_refs if for_it > against else turned(seam).b
        return a_refs, b_refs, _ends_score(pattern, a_refs, b_refs)
    ahead = _ends_score(pattern, a_refs, b_refs)
    back = _ends_score(pattern, a_refs, turned(seam).b)
    if abs(ahead - back) < 0.02:  # drawn for the same half: one runs against its own direction
        return a_refs, turned(seam).b, 0.5
    if ahead > back:
        return a_refs, b_refs, ahead
    return a_refs, turned(seam).b, back


def _onward(pattern: Pattern, run: EdgeRun) -> tuple[EdgeRef, ...]:
    """Return a run of two edges so that they meet where both pieces are sewn beside each other."""
    if len(run.refs) == 1 or run.pieces[0].name == run.pieces[1].name:
        return run.refs
    first, second = run.refs
    wanted = JOINTS.get(plain_name(run.name), "")

    def fits(ways: tuple[bool, bool]) -> float:
        end = _around(pattern, EdgeRef(first.piece, first.edge, ways[0]), at_end=True)
        start = _around(pattern, EdgeRef(second.piece, second.edge, ways[1]), at_end=False)
        return _alike_ends(end, start) + (0.5 if end == wanted else 0.0)

    best = max(((r, s) for r in (False, True) for s in (False, True)), key=fits)
    return (
        EdgeRef(first.piece, first.edge, best[0]),
        EdgeRef(second.piece, second.edge, best[1]),
    )


def _ends_score(pattern: Pattern, a: tuple[EdgeRef, ...], b: tuple[EdgeRef, ...]) -> float:
    """Return how well the starts and the ends of both sides go together, 0 to 1.

    By the neighbours' names (the hem at one end, the armhole at the other), by how high the ends
    lie on their pieces, and by the notches.
    """
    starts = _alike_ends(_around(pattern, a[0], at_end=False), _around(pattern, b[0], at_end=False))
    ends = _alike_ends(_around(pattern, a[-1], at_end=True), _around(pattern, b[-1], at_end=True))
    rise = _rise(pattern, a) * _rise(pattern, b)
    marks, _ = notch_score(pattern, Seam(name="-", a=a, b=b))
    return 0.3 * (starts + ends) + 0.25 * (0.5 + 0.5 * rise) + 0.15 * marks


def _around(pattern: Pattern, ref: EdgeRef, *, at_end: bool) -> str:
    return plain_name(edge_beyond(pattern, ref, at_end=at_end))


def _alike_ends(a: str, b: str) -> float:
    if a == b:
        return 1.0
    pairs = ({"armhole", "cap"}, {"front seam", "back seam"}, {"hem", "inner"})
    if {a, b} in pairs:
        return 0.8
    return 0.5 if set(a.split()) & set(b.split()) else 0.0


def _rise(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> float:
    """Return whether a run goes up (1) or down (-1) its pieces, by share of its length."""
    total = 0.0
    for ref in refs:
        piece = pattern.piece(ref.piece)
        path = piece.edge(ref.edge).path
        rise = (path.end - path.start).dot(piece.up) / max(path.length, 1.0)
        total += -rise if ref.reversed else rise
    return max(-1.0, min(1.0, total))


def notch_score(pattern: Pattern, seam: Seam) -> tuple[float, tuple[str, ...]]:
    """Return how well the notches of both sides meet, 0 to 1, in words too; 0.5 without any."""
    walk = walk_seam(pattern, seam)
    marks = [s for s in (*walk.a.stations, *walk.b.stations) if s.kind]
    if not marks:
        return 0.5, ()
    if not walk.pairs:
        return 0.2, ()
    slack = max(6.0, abs(walk.b.length - walk.a.length) + 3.0)
    met = [
        p
        for p in walk.pairs
        if abs(p.a.at - p.b.at) <= (slack if p.a.kind and p.b.kind else JOINT_MM)
    ]
    share = sum(1 for p in met for s in p if s.kind) / len(marks)
    words = (f"{len(met)} notches meet",) if len(met) > 1 else ("the notch meets",) if met else ()
    return min(1.0, 0.2 + 0.8 * share), words


def ends_words(pattern: Pattern, seam: Seam) -> tuple[str, str]:
    """Say what meets at both ends of a seam: "front at the hem, back at the hem"."""

    def end(ref: EdgeRef, *, at_end: bool) -> str:
        return f"{ref.piece} at the {edge_beyond(pattern, ref, at_end=at_end)}"

    start = f"{end(seam.a[0], at_end=False)} to {end(seam.b[0], at_end=False)}"
    return start, f"{end(seam.a[-1], at_end=True)} to {end(seam.b[-1], at_end=True)}"


def edge_beyond(pattern: Pattern, ref: EdgeRef, *, at_end: bool) -> str:
    """Return the name of the edge beyond an end of a travelled edge."""
    piece = pattern.piece(ref.piece)
    i = piece.index(ref.edge)
    step = 1 if at_end is not ref.reversed else -1
    return piece.edges[(i + step) % len(piece.edges)].name
