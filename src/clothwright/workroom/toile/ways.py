"""What corrects a sign: changes of the menu, with their parameters read from what was seen."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.changes.move_edge import corner_numbered
from clothwright.changes.upper import Upper, upper_of
from clothwright.errors import ClothwrightError
from clothwright.pattern.finding import Mend
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Role
from clothwright.workroom.toile.round_body import crossed, cuts, level_with, sewn_at
from clothwright.workroom.toile.sign import SeenAt, Ways

NEAR_MM = 50.0
"""mm: a line nearer than this below a waist is the waist's own."""


def on_piece(change: str, share: float = 1.0) -> Ways:
    """Change the piece that is noted by so much of what was measured (mm); a minus: the other way.

    A half where the whole body was measured and the piece is one half of it.
    """

    def ways(seen: SeenAt) -> Iterator[Mend]:
        yield Mend(change=change, params={"piece": seen.piece.name, "by": share * seen.by})

    return ways


def on_shoulders(change: str, sign: float) -> Ways:
    """Change the shoulders of the piece and of what is sewn to it by what was measured, mm."""

    def ways(seen: SeenAt) -> Iterator[Mend]:
        upper = _upper(seen)
        if upper is not None:
            pieces = _sewn_to(seen.pattern, seen.piece.name, upper.shoulder.name)
            yield Mend(change=change, params={"pieces": pieces, "by": sign * seen.by})

    return ways


def upper_back(seen: SeenAt) -> Iterator[Mend]:
    """Square the shoulders, or shorten the back above the blades."""
    yield from on_shoulders("shoulder-slope", 1.0)(seen)
    yield from on_piece("round-back", -1.0)(seen)


def sway_back(seen: SeenAt) -> Iterator[Mend]:
    """Fold the back out at the level noted, else at the waist."""
    waist = (v.name for v in seen.piece.levels if "waist" in v.name.casefold())
    level = seen.place if seen.kind == "level" else next(waist, "")
    if level:
        params = {"piece": seen.piece.name, "by": seen.by, "level": level}
        yield Mend(change="sway-back", params=params)


def seat(sign: float) -> Ways:
    """Open (+1) or fold (-1) a wedge at the centre seam noted, at a level that crosses it; mm.

    Noted at a point, such as the crotch's, it comes out (+1) or goes in.
    """

    def ways(seen: SeenAt) -> Iterator[Mend]:
        level = crossed(seen.piece, seen.place) if seen.kind == "edge" else ""
        if level:
            params = {"edge": seen.ref, "by": sign * seen.by, "level": level}
            yield Mend(change="seat", params=params)
        elif seen.kind == "point":
            yield Mend(change="move-edge", params={"corner": seen.ref, "by": sign * seen.by})

    return ways


def as_long_as_partner(seen: SeenAt) -> Iterator[Mend]:
    """Make the edge noted, such as a collar's, as long as what it is sewn to, at both its ends."""
    seams = seen.pattern.seams_of(seen.piece.name, seen.place) if seen.kind == "edge" else ()
    for seam in seams[:1]:
        params = {"seam": seam.name, "edge": seen.ref, "at": "both"}
        yield Mend(change="match-edge", params=params)


def lower_neck(seen: SeenAt) -> Iterator[Mend]:
    """Lower the neck of the piece at its centre."""
    upper = _upper(seen)
    if upper is not None:
        edges = (f"{seen.piece.name}.{upper.neck.name}",)
        yield Mend(change="shape-opening", params={"edges": edges, "lower": seen.by})


def gaping(seen: SeenAt) -> Iterator[Mend]:
    """Close a gap at the edge noted into the bust dart, or into a new one at the side."""
    upper = _upper(seen)
    into = next((d.edge for d in seen.piece.darts), upper.side.name if upper else "")
    if into and seen.kind in ("edge", "point"):
        params = {"at": seen.ref, "by": seen.by, "into": f"{seen.piece.name}.{into}"}
        yield Mend(change="gaping", params=params)


def forward_shoulder(seen: SeenAt) -> Iterator[Mend]:
    """Move the shoulder seam to the front, off the front and on to the back."""
    upper = _upper(seen)
    seams = seen.pattern.seams_of(seen.piece.name, upper.shoulder.name) if upper else ()
    for seam in seams[:1]:
        yield Mend(change="forward-shoulder", params={"seam": seam.name, "by": seen.by})


def hem_round(seen: SeenAt, down: float) -> Iterator[Mend]:
    """Let a hem down (+1) or up (-1) all round, half-way from the lowest level down to it; mm."""
    piece, up = seen.piece, seen.piece.up
    if seen.kind == "edge" and piece.edge(seen.place).role is Role.HEM and piece.levels:
        low = min(piece.levels, key=lambda v: up.dot(v.at))
        room = up.dot(low.at - piece.edge(seen.place).path.point_at(0.0))
        around = level_with(seen.pattern, piece.name, low.name)
        pieces = tuple(n for n in around if cuts(seen.pattern.piece(n), low.name, -room / 2))
        where = {"pieces": pieces, "level": low.name, "above": -room / 2}
        yield Mend(change="lengthen", params={**where, "by": down * seen.by})


def opening(seen: SeenAt, down: float) -> Iterator[Mend]:
    """Lower (+1) or raise (-1) a neckline, or an armhole with all that the cap is sewn into; mm."""
    upper = _upper(seen)
    if seen.kind != "edge" or upper is None:
        return
    if seen.place not in (upper.neck.name, upper.armhole.name):
        return
    caps = [s for s in seen.pattern.seams_of(seen.piece.name, seen.place) if s.kind == "cap"]
    refs = [(r.piece, r.edge) for s in caps[:1] for r in s.a] or [(seen.piece.name, seen.place)]
    edges = tuple(f"{piece}.{edge}" for piece, edge in dict.fromkeys(refs))
    yield Mend(change="shape-opening", params={"edges": edges, "lower": down * seen.by})


def girth(sign: float) -> Ways:
    """Let out (+1) or take in (-1) at the side seams, in full at the level noted."""

    def ways(seen: SeenAt) -> Iterator[Mend]:
        if seen.kind != "level":
            return
        pieces = level_with(seen.pattern, seen.piece.name, seen.place, linings=False)
        edges = sewn_at(seen.pattern, pieces, seen.place)
        if edges:
            params = {"edges": edges, "by": sign * seen.by, "level": seen.place}
            yield Mend(change="let-out", params=params)

    return ways


def corner_up(seen: SeenAt) -> Iterator[Mend]:
    """Raise the corner noted, along the grain."""
    if seen.kind == "point":
        params = {"corner": seen.ref, "by": seen.by, "direction": "up"}
        yield Mend(change="move-edge", params=params)


def abdomen(seen: SeenAt) -> Iterator[Mend]:
    """Raise the waist at the centre noted, its length kept down to the highest line below it."""
    piece, up = seen.piece, seen.piece.up
    if seen.kind == "point":
        i = corner_numbered(piece, seen.place)
        top = up.dot(piece.edges[i].path.start)
        below = [lv for lv in piece.levels if up.dot(lv.at) < top - NEAR_MM]
        for edge in (piece.edges[i - 1], piece.edges[i]):
            chord = edge.path.end - edge.path.start
            if below and abs(up.dot(chord)) < abs(up.cross(chord)):
                line = max(below, key=lambda lv: up.dot(lv.at)).name
                params = {"edge": f"{piece.name}.{edge.name}", "by": seen.by, "level": line}
                yield Mend(change="abdomen", params=params)
    yield from corner_up(seen)


def _upper(seen: SeenAt) -> Upper | None:
    """Return the piece by its armhole, shoulder and neck; None where it has none."""
    try:
        return upper_of(seen.pattern, seen.piece)
    except ClothwrightError:
        return None


def _sewn_to(pattern: Pattern, piece: str, edge: str) -> tuple[str, ...]:
    """Return a piece and those that one of its edges is sewn to."""
    seams = (s for s in pattern.seams_of(piece, edge) if s.kind == "plain")
    found = (r.piece for s in seams for r in s.refs)
    return tuple(dict.fromkeys((piece, *found)))
