"""Which edges are sewn together: pairs proposed by length, notches and names, for the maker to say.

Nothing is taken for granted: a proposal becomes a seam only when it is confirmed. Scores and bands
are our own choice; that shoulders and caps are eased is common practice.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from clothwright.checks.walk import walk_seam
from clothwright.pattern.measure import side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef

LEAST = 0.5
"""A pair that scores less is not proposed."""
AGREE_MM = 1.5
JOINT_MM = 3.0
"""mm: a notch this near to where two edges of the other side are joined marks that joint."""
SHORTEST_MM = 25.0
"""mm: shorter edges (ends of bands, pleats) agree with too many others."""
EASES = {
    "cap": (8.0, 45.0),
    "shoulder": (0.0, 13.0),
    "elbow": (0.0, 16.0),
    "": (0.0, 4.0),
}
"""mm, least and most, by which one side is usually longer, by what is sewn (common practice)."""
PARTNERS = (
    ("armhole", "cap"),
    ("front seam", "back seam"),
    ("inseam", "inseam"),
    ("waist", "waistband"),
    ("left", "right"),
)
"""Words of edges that meet although they differ."""
CROSS = (
    "hem",
    "side",
    "shoulder",
    "armhole",
    "neck",
    "waist",
    "cap",
    "inner",
    "front edge",
    "pleat",
)
"""Words of edges that meet only their own kind (and the partners above)."""
PLACES = frozenset({"top", "bottom", "left", "right"})
"""What an edge is called that nobody has named: it says nothing about seams."""
JOINTS = {"armhole": "shoulder", "neck": "shoulder", "waist": "side", "top": "side"}
"""Where the edges of a run meet each other, by the run's name."""
MOST_ALIKE = 3
"""How many proposals for one edge are shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    """A seam that is proposed. score: 0 to 1. why: what speaks for it, in words.

    difference: mm by which side b is longer, darts folded out.
    """

    seam: Seam
    score: float
    why: tuple[str, ...]
    difference: float

    @property
    def key(self) -> str:
        """What it is called between requests: both sides, whichever way round they are said."""
        return key_of(self.seam)


def key_of(seam: Seam) -> str:
    """Return both sides of a seam as one text, the same whichever way round it is said."""
    sides = sorted(
        " + ".join(sorted(f"{r.piece}.{r.edge}" for r in refs)) for refs in (seam.a, seam.b)
    )
    return " / ".join(sides)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """One side that may be sewn: an edge, or edges of several pieces that follow each other."""

    refs: tuple[EdgeRef, ...]
    pieces: tuple[Piece, ...]
    edges: tuple[Edge, ...]
    length: float

    @property
    def name(self) -> str:
        """The name its edges share, or the first's."""
        return self.edges[0].name

    @property
    def keys(self) -> frozenset[tuple[str, str]]:
        """Its edges, as piece and edge."""
        return frozenset((r.piece, r.edge) for r in self.refs)


def proposed_seams(pattern: Pattern, refused: Collection[str] = ()) -> tuple[Proposed, ...]:
    """Return seams that are not named yet, best first. refused: keys that the maker has refused.

    Edges that are in a seam of their kind already are left alone.
    """
    used = {(r.piece, r.edge) for s in pattern.seams for r in (*s.a, *s.b)}
    runs = [r for r in _runs(pattern) if not r.keys & used]
    found: list[Proposed] = []
    for a, b in itertools.combinations_with_replacement(runs, 2):
        one = _pair(pattern, a, b)
        if one is not None and one.score >= LEAST and one.key not in refused:
            found.append(one)
    found.sort(key=lambda p: (-p.score, -len(p.seam.a), p.seam.name))
    found = [p for p in found if not any(_within(p, q) for q in found)]
    return tuple(_named(_thinned(found), pattern))


def pair_of(
    pattern: Pattern, a: tuple[EdgeRef, ...], b: tuple[EdgeRef, ...], name: str = ""
) -> Proposed:
    """Return a seam of edges that the maker has named, its ends as they seem to belong together.

    Raises BadInput for edges that are not there.
    """
    one, other = _run(pattern, a), _run(pattern, b)
    alone = a == b
    refs_a, refs_b, sure = _turned(pattern, one, other, alone=alone)
    if other.length < one.length:
        refs_a, refs_b = refs_b, refs_a
    seam = Seam(name=name or _seam_name(one, other, "plain", alone=alone), a=refs_a, b=refs_b)
    _, words = _notch_score(pattern, seam)
    difference = abs(other.length - one.length)
    return Proposed(
        seam=seam,
        score=sure,
        why=(*_why(difference, 0.5, alone=alone), *words),
        difference=difference,
    )


def ends_words(pattern: Pattern, seam: Seam) -> tuple[str, str]:
    """Say what meets at both ends of a seam: "front at the hem, back at the hem"."""

    def end(ref: EdgeRef, *, at_end: bool) -> str:
        piece = pattern.piece(ref.piece)
        i = piece.index(ref.edge)
        step = 1 if at_end is not ref.reversed else -1
        return f"{ref.piece} at the {piece.edges[(i + step) % len(piece.edges)].name}"

    start = f"{end(seam.a[0], at_end=False)} to {end(seam.b[0], at_end=False)}"
    return start, f"{end(seam.a[-1], at_end=True)} to {end(seam.b[-1], at_end=True)}"


def _within(part: Proposed, whole: Proposed) -> bool:
    """Tell whether a proposal is a part of one with longer runs that is about as good."""
    if len(whole.seam.a) <= len(part.seam.a) or len(whole.seam.b) <= len(part.seam.b):
        return False
    a, b = ({(r.piece, r.edge) for r in s} for s in (part.seam.a, part.seam.b))
    c, d = ({(r.piece, r.edge) for r in s} for s in (whole.seam.a, whole.seam.b))
    inside = (a <= c and b <= d) or (a <= d and b <= c)
    return inside and whole.score > part.score - 0.05


def _thinned(found: Sequence[Proposed]) -> Iterator[Proposed]:
    """Leave out what is much worse than another proposal for the same edges."""
    best: dict[tuple[str, str], list[float]] = {}
    for p in found:
        keys = {(r.piece, r.edge) for r in (*p.seam.a, *p.seam.b)}
        before = [s for k in keys for s in best.get(k, [])[:1]]
        crowd = max((len(best.get(k, [])) for k in keys), default=0)
        if crowd < MOST_ALIKE and (not before or p.score > max(before) - 0.12):
            yield p
        for k in keys:
            best.setdefault(k, []).append(p.score)


def _named(found: Iterator[Proposed], pattern: Pattern) -> Iterator[Proposed]:
    taken = {s.name for s in pattern.seams}
    for p in found:
        tries = itertools.chain((p.seam.name,), (f"{p.seam.name} {n}" for n in itertools.count(2)))
        name = next(t for t in tries if t not in taken)
        taken.add(name)
        yield Proposed(
            seam=Seam(name=name, a=p.seam.a, b=p.seam.b, ease=p.seam.ease, kind=p.seam.kind),
            score=p.score,
            why=p.why,
            difference=p.difference,
        )


# --- what may be sewn ----------------------------------------------------------------------------


def _runs(pattern: Pattern) -> list[_Run]:
    """Return every edge that may be sewn, and runs of two that are sewn to one long edge."""
    out = []
    for piece in pattern.pieces:
        out += [
            _run(pattern, (EdgeRef(piece.name, edge.name),))
            for edge in piece.edges
            if edge.role in (Role.SEAM, Role.CENTRE) and edge.length >= SHORTEST_MM
        ]
    pairs = itertools.permutations(list(out), 2)
    return out + [_run(pattern, (*a.refs, *b.refs)) for a, b in pairs if _follow(a, b)]


def _run(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> _Run:
    pieces = tuple(pattern.piece(r.piece) for r in refs)
    edges = tuple(p.edge(r.edge) for p, r in zip(pieces, refs, strict=True))
    return _Run(refs=refs, pieces=pieces, edges=edges, length=side(pattern, refs).length)


def _follow(a: _Run, b: _Run) -> bool:
    """Tell whether two edges make one run: front and back armhole, front and back waist.

    Either neighbours on one piece (a neck and the front edge after it), or edges of one name on a
    front and a back of one material; the front comes first.
    """
    (p, e), (q, f) = (a.pieces[0], a.edges[0]), (b.pieces[0], b.edges[0])
    if p.name == q.name:
        i = p.index(e.name)
        after = p.edges[(i + 1) % len(p.edges)]
        pair = {e.name, f.name}
        return after.name == f.name and pair <= {"neck", "front edge", "hem", "inner"}
    fits = e.name == f.name and e.name in ("armhole", "waist", "neck", "top")
    return fits and _kin(p, "front") == _kin(q, "back") is not None and _together(p, q)


def _kin(piece: Piece, half: str) -> tuple[str, ...] | None:
    """Return a piece's name without the word for its half; None when it has no such word."""
    words = piece.name.lower().split()
    return tuple(w for w in words if w != half) if half in words else None


def _together(p: Piece, q: Piece) -> bool:
    """Tell whether two pieces are cut from one material (interfacing goes with its piece)."""
    mine = {c.material for c in p.cuts} - {"interfacing"}
    other = {c.material for c in q.cuts} - {"interfacing"}
    return bool(mine & other) or not mine or not other


# --- how well a pair fits ------------------------------------------------------------------------


def _pair(pattern: Pattern, a: _Run, b: _Run) -> Proposed | None:
    alone = a.refs == b.refs
    shared = not alone and bool(a.keys & b.keys)
    if shared or (len(a.refs) > 1 and len(b.refs) > 1 and not _facing(a, b)):
        return None
    if alone and not _mirrored(a):
        return None
    names = _name_score(a, b, alone=alone)
    if names is None:
        return None
    named, kind, word = names
    if a.length > b.length and kind == "cap":
        a, b = b, a
    difference = b.length - a.length
    if not alone and difference < 0 and word:
        a, b, difference = b, a, -difference
    fit = _length_score(difference, EASES.get(word, EASES[""]), max(a.length, b.length))
    if fit <= 0.0:
        return None
    refs_a, refs_b, ends = _turned(pattern, a, b, alone=alone)
    eased = word in EASES and difference > AGREE_MM
    seam = Seam(
        name=_seam_name(a, b, kind, alone=alone),
        a=refs_a,
        b=refs_b,
        ease=round(difference, 2) if eased else 0.0,
        kind=kind,
    )
    marks, mark_words = _notch_score(pattern, seam)
    material = 1.0 if all(_together(p, q) for p in a.pieces for q in b.pieces) else 0.55
    if kind == "lining":
        material = 1.0
    score = (0.42 * named + 0.33 * fit + 0.15 * marks + 0.10 * ends) * material
    why = [*_why(difference, named, alone=alone), *mark_words]
    if material < 1.0:
        why.append("but they are cut from different cloths")
    return Proposed(seam=seam, score=score, why=tuple(why), difference=difference)


def _facing(a: _Run, b: _Run) -> bool:
    """Tell whether one run is of a facing with the same names as the other's."""
    facing = ["facing" in r.pieces[0].name for r in (a, b)]
    return facing[0] != facing[1] and [e.name for e in a.edges] == [e.name for e in b.edges]


def _mirrored(a: _Run) -> bool:
    """Tell whether an edge may be sewn to itself: a centre of a piece that is cut as a pair."""
    edge, piece = a.edges[0], a.pieces[0]
    pair = any(c.how == "pair" for c in piece.cuts)
    return len(a.refs) == 1 and pair and (edge.role is Role.CENTRE or "centre" in edge.name)


def _name_score(a: _Run, b: _Run, *, alone: bool) -> tuple[float, str, str] | None:
    """Return how well names go together (0 to 1), the seam's kind, and what decides its ease.

    None when they cannot be sewn together.
    """
    if alone:
        return 0.85, "plain", ""
    na, nb = _plain(a.name), _plain(b.name)
    same_piece = bool({p.name for p in a.pieces} & {p.name for p in b.pieces})
    both = len(a.refs) + len(b.refs) == 3
    pieces = (*a.pieces, *b.pieces)
    if {na, nb} & PLACES:
        return None if same_piece else (0.5, "plain", "")
    if {na, nb} == {"armhole", "cap"}:
        return None if same_piece else ((1.0 if both else 0.35), "cap", "cap")
    if "waist" in (na, nb) and any("waistband" in p.name for p in pieces):
        return (0.9 if both else 0.3), "plain", ""
    kind, mixed = _kind(pieces, (na, nb))
    if same_piece:
        return _within_piece(na, nb, kind)
    return _across(a, b, kind, mixed=mixed)


def _kind(pieces: Sequence[Piece], names: tuple[str, str]) -> tuple[str, bool]:
    """Return the kind of seam, and whether a facing is sewn to what it faces."""
    facing = ["facing" in p.name for p in pieces]
    lining = [_is_lining(p) for p in pieces]
    mixed = any(facing) and not all(facing)
    if any(facing) and any(lining) and "inner" in names:
        return "lining", mixed
    return ("facing" if mixed and not any(lining) else "plain"), mixed


def _across(a: _Run, b: _Run, kind: str, *, mixed: bool) -> tuple[float, str, str] | None:
    """Return the score of edges of different pieces."""
    na, nb = _plain(a.name), _plain(b.name)
    if na == nb:
        return _alike(a, b, na, kind, mixed=mixed)
    if any({na, nb} == {x, y} for x, y in PARTNERS):
        return 0.7, kind, ""
    return None if na in CROSS and nb in CROSS else (0.2, kind, "")


def _within_piece(na: str, nb: str, kind: str) -> tuple[float, str, str] | None:
    if {na, nb} == {"front seam", "back seam"}:
        return 1.0, "plain", "elbow"
    if any({na, nb} == {x, y} for x, y in PARTNERS) and "left" in (na, nb):
        return 0.4, kind, ""
    return None


def _alike(a: _Run, b: _Run, name: str, kind: str, *, mixed: bool) -> tuple[float, str, str] | None:
    """Return the score of two edges of one name on two pieces."""
    fronts = [_half(r.pieces[0]) for r in (a, b)]
    if mixed:  # a facing and what it faces: the same half, the same names
        bodies = "" in fronts or fronts[0] == fronts[1]
        return ((0.95 if bodies else 0.3), kind, "") if name != "hem" else None
    if name in ("armhole", "neck", "waist", "hem", "cap", "centre"):
        return 0.3 if name in ("waist", "neck") else 0.1, kind, ""
    if "" in fronts or fronts[0] != fronts[1]:
        return 1.0, kind, "shoulder" if name == "shoulder" else ""
    return 0.25, kind, ""


def _half(piece: Piece) -> str:
    words = piece.name.lower().split()
    return "front" if "front" in words else "back" if "back" in words else ""


def _is_lining(piece: Piece) -> bool:
    materials = {c.material for c in piece.cuts}
    return "lining" in piece.name or materials == {"lining"}


def _plain(name: str) -> str:
    """Return an edge's name without its number, centre lines as one word."""
    words = [w for w in name.lower().replace("center", "centre").split() if not w.isdigit()]
    plain = " ".join(words)
    return {"left half": "waistband", "right half": "waistband"}.get(plain, plain)


def _length_score(difference: float, ease: tuple[float, float], length: float) -> float:
    """Return 1 within the usual ease, falling to 0 at a tenth of the length off."""
    least, most = ease
    off = max(least - difference, difference - most, 0.0)
    if least == 0.0 and difference < 0:
        off = abs(difference)
    if off <= AGREE_MM:
        return 1.0
    return max(0.0, 1.0 - (off - AGREE_MM) / max(0.10 * length, 12.0))


# --- which end meets which -----------------------------------------------------------------------


def _turned(
    pattern: Pattern, a: _Run, b: _Run, *, alone: bool
) -> tuple[tuple[EdgeRef, ...], tuple[EdgeRef, ...], float]:
    """Return both sides so that ends that belong together meet, and how sure that is (0 to 1)."""
    if alone:
        return a.refs, b.refs, 1.0
    a_refs = _onward(pattern, a)
    b_refs = _onward(pattern, b)
    ahead = _ends_score(pattern, a_refs, b_refs)
    back = _ends_score(pattern, a_refs, _back(b_refs))
    if abs(ahead - back) < 0.02:  # drawn for the same half: one runs against its own direction
        return a_refs, _back(b_refs), 0.5
    if ahead > back:
        return a_refs, b_refs, ahead
    return a_refs, _back(b_refs), back


def _back(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
    return tuple(EdgeRef(r.piece, r.edge, not r.reversed) for r in reversed(refs))


def _onward(pattern: Pattern, run: _Run) -> tuple[EdgeRef, ...]:
    """Return a run of two edges so that they meet where both pieces are sewn beside each other."""
    if len(run.refs) == 1 or run.pieces[0].name == run.pieces[1].name:
        return run.refs
    first, second = run.refs
    wanted = JOINTS.get(_plain(run.name), "")

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
    marks, _ = _notch_score(pattern, Seam(name="-", a=a, b=b))
    return 0.3 * (starts + ends) + 0.25 * (0.5 + 0.5 * rise) + 0.15 * marks


def _around(pattern: Pattern, ref: EdgeRef, *, at_end: bool) -> str:
    """Return the name of the edge beyond an end of a travelled edge."""
    piece = pattern.piece(ref.piece)
    i = piece.index(ref.edge)
    step = 1 if at_end is not ref.reversed else -1
    return _plain(piece.edges[(i + step) % len(piece.edges)].name)


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


def _notch_score(pattern: Pattern, seam: Seam) -> tuple[float, tuple[str, ...]]:
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


# --- words ---------------------------------------------------------------------------------------


def _why(difference: float, named: float, *, alone: bool) -> list[str]:
    if alone:
        return ["a centre edge of a piece that is cut as a pair meets its own mirror image"]
    out = []
    if named >= 0.9:
        out.append("their names go together")
    elif named < 0.3:
        out.append("their names do not say so")
    if abs(difference) <= AGREE_MM:
        out.append("they are equally long")
    return out


def _seam_name(a: _Run, b: _Run, kind: str, *, alone: bool) -> str:
    """Return a name for the seam: what is sewn, and of what."""
    if alone:
        return f"{a.pieces[0].name} {a.name}"
    first = [p.name.split() for p in (*a.pieces, *b.pieces)]
    shared = [w for w in first[0] if all(w in f for f in first[1:])]
    lead = " ".join(shared)
    if kind == "cap":
        what = "armhole"
    elif kind == "facing":
        return next(p.name for p in (*a.pieces, *b.pieces) if "facing" in p.name)
    elif kind == "lining":
        facing = next(p.name for p in (*a.pieces, *b.pieces) if "facing" in p.name)
        return f"lining to {facing}"
    elif a.name == b.name:
        what = a.name
    elif {_plain(a.name), _plain(b.name)} == {"front seam", "back seam"}:
        what = "seam"
    elif "waistband" in (_plain(a.name), _plain(b.name)):
        band = a if _plain(a.name) == "waistband" else b
        what = f"waist {band.name.split()[0]}"
    else:
        what = f"{a.name} to {b.name}"
    return f"{lead} {what}".strip()
