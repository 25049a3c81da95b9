"""Join two pieces into one along a seam: the seam is not sewn any more."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.joining import LaidOn, OnePiece, joined, laid_on, tilted_deg
from clothwright.changes.redraw import refuse_crossing
from clothwright.errors import BadInput
from clothwright.pattern.parts import called
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.trail import Trail, trail_to
from clothwright.units.params import param
from clothwright.words import listed


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinPieces:
    """Parameters of `join-pieces`."""

    seam: str = param("seam", "a seam of one edge to one edge", label="Along which seam")
    name: str = param(
        "text", "left out: what the names have in common", default="", label="Name of the one piece"
    )


def apply(pattern: Pattern, params: JoinPieces) -> Outcome:
    """Lay two pieces on each other along their seam and cut them as one.

    The piece on the fold keeps its place and grain, else the larger one; the other is laid on it,
    turned over where it is drawn for the other half. Edges of one name that run on into each other
    become one. Levels of a piece whose grain leans after it are left out. Raises CannotDo where the
    edges have not one shape, or the folds not one line; BadInput for names. Source: common
    practice; plane geometry.
    """
    seam = pattern.seam(params.seam)
    pair = laid_on(pattern, seam)
    name = _name(pattern, pair, params.name.strip())
    found = joined(pattern, pair, name)
    what = f'"{pair.stays.name}" and "{pair.comes.name}" cannot become one piece'
    refuse_crossing(found.piece, what, "another seam")
    pieces = tuple(
        found.piece if p.name == pair.stays.name else p
        for p in pattern.pieces
        if p.name != pair.comes.name
    )
    seams = tuple(
        replace(s, a=_run(s.a, pair, found), b=_run(s.b, pair, found))
        for s in pattern.seams
        if s.name != seam.name
    )
    said = (
        f"Joined {pair.stays.name} and {pair.comes.name} into {name}: the seam of ",
        pair.stays.edge(pair.edge).length,
        " between them is not sewn any more. The grain is that of "
        f"{pair.stays.name}; where lines run on into each other, look whether they need smoothing.",
        _leaning(pair),
    )
    return Outcome(
        pattern=replace(pattern, pieces=pieces, seams=seams),
        said=said,
        trail=_trail(pair, found, seam.name),
    )


def _leaning(pair: LaidOn) -> str:
    """Say what it means that the grain of the piece laid on leans now; "" if it does not."""
    lean, lines = tilted_deg(pair), [f"the {lv.name} line" for lv in pair.comes.levels]
    if not lean:
        return ""
    lost = f" Left out, as they would lie slanting: {listed(lines)}." if lines else ""
    return (
        f" What was {pair.comes.name} leans by {lean:.0f}° against the grain now: it hangs and "
        f"gives differently, so try it in a scrap of the cloth first.{lost}"
    )


def _name(pattern: Pattern, pair: LaidOn, wanted: str) -> str:
    """Return what the one piece is called. Raises BadInput for a name that is taken."""
    old = (pair.stays.name, pair.comes.name)
    name = wanted or called(old) or pair.stays.name
    others = [p.name for p in pattern.pieces if p.name not in old]
    if name not in others:
        return name
    if wanted:
        raise BadInput(what=f'there is a piece "{name}" already', expected="a name that is free")
    return pair.stays.name


def _run(refs: tuple[EdgeRef, ...], pair: LaidOn, found: OnePiece) -> tuple[EdgeRef, ...]:
    """Return a run of a seam on the one piece; an edge that was two is named once."""
    out: list[EdgeRef] = []
    for before, ref in zip((None, *refs), refs, strict=False):
        edge = found.names.get((ref.piece, ref.edge))
        if edge is None:
            out.append(ref)
            continue
        turned = pair.turned and ref.piece == pair.comes.name
        now = EdgeRef(found.piece.name, edge, ref.reversed is not turned)
        if before is None or before == ref or out[-1] != now:
            out.append(now)
    return tuple(out)


def _trail(pair: LaidOn, found: OnePiece, seam: str) -> Trail:
    new = found.piece
    edges = tuple(
        ((piece, edge), ((new.name, now),) if now else ())
        for (piece, edge), now in found.names.items()
        if (piece, edge) != (new.name, now)
    )
    points = tuple(
        entry for piece in (pair.stays, pair.comes) for entry in trail_to(piece, (new,)).points
    )
    pieces = tuple((p.name, (new.name,)) for p in (pair.stays, pair.comes) if p.name != new.name)
    return Trail(pieces=pieces, edges=edges, points=points, seams=((seam, ()),))


CHANGE = Change(
    id="join-pieces",
    title="Join two pieces into one",
    topic="whole pieces",
    why="A seam that the style does not need costs cloth and breaks the print: a yoke without "
    "fullness, a panel, a facing may be cut in one with its piece.",
    source="common practice; plane geometry",
    params=JoinPieces,
    apply=apply,
)
