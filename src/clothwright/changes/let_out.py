"""Take in or let out, shared over several seams and darts, and tapered to nothing."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.alike import along_edges
from clothwright.changes.change import Change, Outcome
from clothwright.changes.evened import evened
from clothwright.changes.layers import each_layer, layer_of
from clothwright.changes.legs import narrowed
from clothwright.changes.partners import partners
from clothwright.changes.redraw import refuse_crossing
from clothwright.changes.sharing import shares, times_round
from clothwright.changes.tapered import Taper, widened
from clothwright.errors import CannotDo
from clothwright.pattern.girth import LIMBS
from clothwright.pattern.level_height import level_height
from clothwright.pattern.measure import dart_intake, dart_mouth, mouth_middle
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name, refs_name

NEAR_MM = 50.0
"""mm: a dart that opens nearer than this to a line takes part in what is shared there."""
MOST = 1 / 3
"""Share of how wide a piece is that an edge of it is moved at most. Our own figure."""
LEFT_MM = 10.0
"""mm: a dart less wide than this is hardly worth sewing (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetOut:
    """Parameters of `let-out`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "both sides of each seam that shares it", label="At which edges"
    )
    by: float = param(
        "length",
        "all round the finished garment, or round each arm or leg at a line of theirs; a minus "
        "takes in",
        label="How much wider in all",
    )
    level: str = param("level", "where it is widened in full", label="At which line")
    darts: bool = param(
        "flag",
        "upright darts that open at that line take an equal share: they get narrower where the "
        "edges are let out",
        default=False,
        label="Darts take a share",
    )
    top: str = param(
        "level",
        "left out: at the upper end of the edge",
        default="",
        label="Where it runs out above",
    )
    bottom: str = param(
        "level",
        "left out: at the lower end of the edge",
        default="",
        label="Where it runs out below",
    )
    full: str = param(
        "choice",
        "",
        default="",
        choices={
            "": "it runs out above and below",
            "up": "it goes on at full to the upper end",
            "down": "it goes on at full to the lower end",
            "both": "it goes on at full both ways",
        },
        label="Where it goes on at full",
    )


def apply(pattern: Pattern, params: LetOut) -> Outcome:
    """Widen the pieces by equal shares at each edge (and dart), as often as it is cut.

    A piece cut as a pair or on the fold counts twice, but for a pair at a line of an arm or leg.
    What is worn one inside the other, a garment
    and its lining, is widened by as much each, and so are bodice and skirt at their seam. Each
    place of an edge moves straight across the grain: in full at the line, with a soft bend to
    nothing where it runs out. Raises CannotDo where a dart has less than its share, an edge
    would move over a third of its piece, or an outline cross itself; BadInput for names.
    Source: docs/sources.md, sharing out.
    """
    refs = [parse_edge(text) for text in params.edges]
    for ref in refs:
        _refuse_fold(pattern, ref)
    darts = _darts(pattern, refs, params.level) if params.darts else []
    each = shares(pattern, refs, darts, params.level, params.by)
    names = refs_name((r.piece, r.edge) for r in refs)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {names} as wide as before.",))
    _refuse_too_much(pattern, params.by, each)
    changed = pattern
    for ref in refs:
        piece = changed.piece(ref.piece)
        by = each[ref.piece]
        new = widened(piece, ref.edge, by, _taper(pattern, ref, params))
        refuse_crossing(new, (f"{names} cannot be moved by ", abs(by)))
        changed = changed.with_piece(new)
    for piece, dart in darts:
        changed = changed.with_piece(
            narrowed(changed.piece(piece.name), dart.name, each[piece.name])
        )
    changed, agreed = evened(pattern, changed, refs)
    changed, trued = own_corners.trued(pattern, changed)
    said = (*_said(pattern, params, each, [d.name for _, d in darts]), *agreed, *trued)
    return Outcome(
        pattern=changed, said=(*said, *_small(changed, darts), *partners(pattern, changed))
    )


def _refuse_fold(pattern: Pattern, ref: EdgeRef) -> None:
    if pattern.edge(ref).role is Role.FOLD:
        raise CannotDo(
            what=f"{edge_name(ref.piece, ref.edge)} cannot be let out or taken in",
            why="it lies on the fold of the cloth",
            nearest="a seam, or moving the fold edge",
        )


def _refuse_too_much(pattern: Pattern, by: float, each: dict[str, float]) -> None:
    """Raise CannotDo where an edge would move over more of its piece than keeps its shape."""
    room = {p: MOST * _wide(pattern.piece(p)) for p in each}
    tight = max(each, key=lambda p: abs(each[p]) / room[p])
    if abs(each[tight]) > room[tight]:
        verb = "let out" if by > 0 else "taken in"
        raise CannotDo(
            what=(f"these edges cannot be {verb} by ", abs(by), " altogether"),
            why=("that is ", abs(each[tight]), f" at each edge of {tight}, more than a third of "
                 "how wide it is"),
            nearest=(AtMost(abs(by) * room[tight] / abs(each[tight])), " altogether"),
        )  # fmt: skip


def _wide(piece: Piece) -> float:
    across = [piece.up.perp.dot(p) for p in piece.outline.flatten(1.0)]
    return max(across) - min(across)


def _darts(pattern: Pattern, refs: list[EdgeRef], level: str) -> list[tuple[Piece, Dart]]:
    """Return the upright darts of the pieces that open near the line."""
    found = []
    for ref in {r.piece: r for r in refs}.values():
        piece = pattern.piece(ref.piece)
        height = level_height(pattern, piece, ref.edge, level)
        for dart in piece.darts:
            mouth = mouth_middle(piece, dart)
            way = mouth - dart.point
            upright = abs(way.dot(piece.up)) > abs(way.cross(piece.up))
            if upright and abs(piece.up.dot(mouth) - height) < NEAR_MM:
                found.append((piece, dart))
    return found


def _taper(pattern: Pattern, ref: EdgeRef, params: LetOut) -> Taper:
    piece, edge = pattern.piece(ref.piece), pattern.edge(ref)
    up = piece.up
    ends = sorted(up.dot(p) for p in edge.path.ends)

    def height(line: str, end: float) -> float:
        return level_height(pattern, piece, edge.name, line) if line else end

    level = min(max(height(params.level, 0.0), ends[0]), ends[1])
    for line, way in ((params.top, 1), (params.bottom, -1)):
        if line and way * (height(line, 0.0) - level) <= 0.0:
            raise CannotDo(
                what=f'"{piece.name}" cannot be let out so',
                why=f"the {line} line does not lie {'above' if way > 0 else 'below'} the "
                f"{params.level} line",
                nearest="a line where it runs out that does, or none",
            )
    return Taper(
        up=up,
        level=level,
        top=None if params.full in ("up", "both") else height(params.top, ends[1]),
        bottom=None if params.full in ("down", "both") else height(params.bottom, ends[0]),
        mouths=tuple(_mouth_heights(piece, d) for d in piece.darts_on(edge.name)),
    )


def _mouth_heights(piece: Piece, dart: Dart) -> tuple[float, float]:
    low, high = sorted(piece.up.dot(corner) for corner in dart_mouth(piece, dart))
    return low, high


def _said(pattern: Pattern, params: LetOut, each: dict[str, float], darts: list[str]) -> Sentence:
    shared: Sentence = ()
    for by in dict.fromkeys(each.values()):
        refs = [r for r in map(parse_edge, params.edges) if each[r.piece] == by]
        lead = ", and " if shared else "Let out " if params.by > 0 else "Took in "
        shared = (*shared, f"{lead}{refs_name((r.piece, r.edge) for r in refs)} by ", abs(by),
                  " each")  # fmt: skip
    shared = (*shared, f" at the {params.level} line")
    if darts:
        more = "narrower" if params.by > 0 else "wider"
        few = "the dart there is" if len(darts) == 1 else "the darts there are"
        shared = (*shared, f", and {few} as much {more}")
    where = {
        "": " it runs out above and below, as far as the edges go on.",
        "up": " it goes on at full above and runs out below.",
        "down": " it runs out above and goes on at full below.",
        "both": " it goes on at full above and below.",
    }[params.full]
    layers = each_layer(layer_of(pattern, piece) for piece in each)
    return (*shared, ": ", abs(params.by), f" {_round(params.level)}{layers};{where}")


def _round(level: str) -> str:
    """Return what a line goes round, in words."""
    return f"round each {LIMBS[level]}" if level in LIMBS else "all round"


def _small(pattern: Pattern, darts: list[tuple[Piece, Dart]]) -> Sentence:
    """Say which darts have hardly anything left."""
    for piece, dart in darts:
        now = pattern.piece(piece.name)
        width = dart_intake(now, now.dart(dart.name))
        if width < LEFT_MM:
            lead = f' Dart "{dart.name}" of {piece.name} is only '
            return (lead, width, " wide now: leave it out, and let out the seams alone.")
    return ()


def _alike(pattern: Pattern, params: LetOut) -> tuple[LetOut, ...]:
    """The same share at the edges of facings and linings that lie along these."""
    new = along_edges(pattern, params.edges, (params.level, params.top, params.bottom))
    if not new or params.darts:
        return ()
    refs = [parse_edge(text) for text in params.edges]
    share = next(iter(shares(pattern, refs, (), params.level, params.by).values()))
    of: dict[float, tuple[str, ...]] = {}
    theirs: dict[str, list[EdgeRef]] = {}
    for ref in map(parse_edge, new):
        theirs.setdefault(layer_of(pattern, ref.piece), []).append(ref)
    for edges in theirs.values():
        by = share * times_round(pattern, edges, params.level)
        of[by] = (*of.get(by, ()), *(str(r) for r in edges))
    return tuple(replace(params, edges=edges, by=by) for by, edges in of.items())


CHANGE = Change(
    id="let-out",
    title="Take in or let out, shared over seams",
    topic="waist, hips and legs",
    why="A hip or a waist that is too tight is let out a little at every seam there, so that no "
    "seam leaves its place; above and below it runs out to nothing.",
    source="change divided by edges and darts: plane geometry; a dart of 1 cm is worth sewing: "
    "common practice (docs/sources.md: sharing out)",
    params=LetOut,
    apply=apply,
    alike=_alike,
)
