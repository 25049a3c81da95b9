"""Draft a patch pocket, with or without a flap, and mark its place on its piece."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.cut_out import off_fold
from clothwright.changes.darts import free_name
from clothwright.changes.slash import is_inside
from clothwright.changes.strips import rounded
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.parts import centre_line
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Cut, Edge, Grain, Mark, Piece, Role
from clothwright.pattern.refs import parse_point
from clothwright.pattern.whole import moved
from clothwright.units.params import param
from clothwright.words import Sentence, listed

SHAPES = {
    "square": "with corners",
    "round": "with rounded corners",
    "pointed": "with a blunt point",
}
OVER_MM = 12.7
"""mm: how far above the pocket a flap is sewn (common practice)."""
WIDER_MM = 3.0
"""mm: by how much a flap is wider than its pocket on either side (common practice)."""

ON_CENTRE_MM = 1.0
"""mm: a point this near to the centre line lies on it."""
FROM_CENTRE = "from the centre"
TURNED = ("towards", "away from")
"""How a way is said, and the opposite one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftPatchPocket:
    """Parameters of `draft-patch-pocket`; lengths in mm."""

    piece: str = param("piece", "the piece that carries it", label="On which piece")
    point: str = param(
        "point", "a point of that piece that its place is measured from", label="From which point"
    )
    across: float = param(
        "length", "to the middle of its upper edge, towards the centre", label="How far across"
    )
    down: float = param("length", "to its upper edge", label="How far down")
    width: float = param("length", "finished", default=139.7, label="How wide", least=0.0)
    depth: float = param("length", "finished", default=158.75, label="How deep", least=0.0)
    shape: str = param("choice", "", default="square", choices=SHAPES, label="How it ends below")
    hem: float = param(
        "length", "its turning counted in", default=31.75, label="Hem of its upper edge", least=0.0
    )
    flap: float = param(
        "length", "nothing: it has none", default=0.0, label="How deep a flap", least=0.0
    )
    allowance: float = param(
        "length", "on its other sides", default=9.525, label="Its allowance", least=0.0
    )
    material: str = param("text", "what it is cut from", default="shell", label="From which cloth")


def apply(pattern: Pattern, params: DraftPatchPocket) -> Outcome:
    """Add a pocket that is drawn where it lies, and mark its outline on the piece.

    The marks go with the piece when that is changed; the print of the pocket and of the piece meet
    by them. A flap is as wide as the pocket and a little, sewn above it on a line that is marked.

    Raises BadInput for unknown names or a pocket of no size, CannotDo where it would not lie on the
    piece.
    """
    if params.width <= 0.0 or params.depth <= 0.0:
        raise BadInput(what="the pocket has no width or no depth", expected="a size")
    piece = pattern.piece(params.piece)
    frame = _frame(pattern, piece, params)
    taken = tuple(p.name for p in pattern.pieces)
    made = [_pocket(params)]
    marks = [Mark(name=_free(piece, "pocket"), path=made[0].outline.transformed(frame))]
    if params.flap > 0.0:
        made.append(_flap(params))
        line = made[1].edge("sewn edge").path.transformed(frame)
        marks.append(Mark(name=_free(piece, "flap line"), path=line, note="flap"))
    _refuse_off(piece, marks)
    cut = off_fold(piece.cuts[0]) if piece.cuts else Cut()
    cut = replace(cut, material=params.material)
    made = [
        replace(
            moved(p, frame),
            name=free_name(taken, f"{piece.name} {p.name}"),
            cuts=(replace(cut, count=cut.count * (2 if p.name == "flap" else 1)),),
        )
        for p in made
    ]
    kinds = ("pocket", "flap")
    goes = tuple(
        Companion(piece=p.name, kind=k, of=(Along(piece=piece.name),), by="drafted")
        for p, k in zip(made, kinds, strict=False)
    )
    changed = pattern.with_piece(replace(piece, marks=(*piece.marks, *marks)))
    new = replace(changed, pieces=(*changed.pieces, *made), companions=(*changed.companions, *goes))
    return Outcome(pattern=new, said=_said(pattern, piece, made, params))


def _free(piece: Piece, name: str) -> str:
    return free_name(tuple(m.name for m in piece.marks), name)


def _frame(pattern: Pattern, piece: Piece, params: DraftPatchPocket) -> Transform:
    """From a drawing with its upper edge in the middle of (0, 0), the centre on the left."""
    at, up = _point(piece, params), piece.up
    way, words = _across(pattern, piece, at)
    away = way if words == FROM_CENTRE else -way
    origin = at + way * params.across - up * params.down
    return Transform(away.x, away.y, up.x, up.y, origin.x, origin.y)


def _point(piece: Piece, params: DraftPatchPocket) -> Vec:
    """Return the point that the place is counted from. Raises BadInput."""
    text = params.point
    name = parse_point(text)[1] if text.startswith(f"{piece.name}.") else text.strip()
    return piece.point(name)


def _across(pattern: Pattern, piece: Piece, at: Vec) -> tuple[Vec, str]:
    """Return which way "across" goes from a point, and that in words.

    Towards the centre; from a point on the centre line away from it; where no centre is known,
    towards the middle of the piece.
    """
    line = centre_line(pattern, piece)
    low, high = piece.outline.bounds()
    way, middle = piece.up.perp, low.lerp(high, 0.5)
    off = 0.0 if line is None else way.dot(line.middle - at)
    if line is not None and abs(off) >= ON_CENTRE_MM:
        return (way if off > 0.0 else -way), "towards the centre"
    words = "towards the middle of the piece" if line is None else FROM_CENTRE
    return (way if way.dot(middle - at) > 0.0 else -way), words


def _pocket(params: DraftPatchPocket) -> Piece:
    half, deep = params.width / 2, params.depth
    left, right = Vec(-half, 0.0), Vec(half, 0.0)
    drop = params.width / 8 if params.shape == "pointed" else 0.0
    low = [Vec(-half, drop - deep), Vec(half, drop - deep)]
    if params.shape == "pointed":
        low.insert(1, Vec(0.0, -deep))
    line = polyline((left, *low, right))
    if params.shape == "round":
        line = rounded(line, min(params.width, params.depth) / 6)
    sides = line.segments
    lines = (
        ("inner side", Path(sides[:1])),
        ("lower edge", Path(sides[1:-1])),
        ("outer side", Path(sides[-1:])),
    )
    edges = [Edge(name=n, path=p, allowance=params.allowance) for n, p in lines]
    top = polyline((right, left))
    edges.append(Edge(name="upper edge", path=top, role=Role.HEM, allowance=params.hem))
    grain = Grain(start=Vec(0.0, -0.8 * deep), end=Vec(0.0, -0.15 * deep))
    return Piece(name="pocket", edges=tuple(edges), grain=grain)


def _flap(params: DraftPatchPocket) -> Piece:
    half, low = params.width / 2 + WIDER_MM, OVER_MM - params.flap
    corners = [Vec(-half, OVER_MM), Vec(-half, low), Vec(half, low), Vec(half, OVER_MM)]
    names = ("inner end", "lower edge", "outer end", "sewn edge")
    edges = tuple(
        Edge(name=n, path=polyline((a, b)), allowance=params.allowance)
        for n, a, b in zip(names, corners, (*corners[1:], corners[0]), strict=True)
    )
    grain = Grain(start=Vec(0.0, low + 0.15 * params.flap), end=Vec(0.0, low + 0.85 * params.flap))
    return Piece(name="flap", edges=edges, grain=grain)


def _refuse_off(piece: Piece, marks: list[Mark]) -> None:
    outline = piece.outline.flatten(0.5)
    for mark in marks:
        points = mark.path.flatten(1.0) if mark.path is not None else ()
        if not all(is_inside(outline, p) or piece.outline.nearest(p)[1] < 0.5 for p in points):
            raise CannotDo(
                what=f"the pocket cannot lie there on {piece.name}",
                why=f"its {mark.name} would run over the edge of the piece",
                nearest="a place farther in, or a smaller pocket",
            )


def _called(text: str) -> str:
    """Return a point of the piece as it is said."""
    return text.partition(".")[2] or text


def _said(pattern: Pattern, piece: Piece, made: list[Piece], params: DraftPatchPocket) -> Sentence:
    out: list[str | float] = [f"Drafted {listed([p.name for p in made])}, ", params.width, " by "]
    out += [params.depth, f" finished, and marked the place on {piece.name}: the middle of its "]
    way = "below" if params.down >= 0.0 else "above"
    out += ["upper edge is ", abs(params.down), f" {way} {_called(params.point)}"]
    if params.across:
        words = _across(pattern, piece, _point(piece, params))[1]
        if params.across < 0.0:
            words = "towards the centre" if words == FROM_CENTRE else words.replace(*TURNED)
        out += [" and ", abs(params.across), f" {words}"]
    return (*out, ".")


CHANGE = Change(
    id="draft-patch-pocket",
    title="Draft a patch pocket",
    topic="facings, linings and bands",
    why="Drafted and marked in one, it lies where its marks are, and so does the print on it.",
    source="allowances: a dressmaking course of 1921–22; flap: common practice",
    params=DraftPatchPocket,
    apply=apply,
)
