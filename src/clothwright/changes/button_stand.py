"""Add a button stand to a front: what lies beyond the centre, its fold and the buttons."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwright.changes.change import Change, Outcome
from clothwright.changes.partners import partners
from clothwright.changes.redraw import refuse_crossing
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import Path, polyline
from clothwright.pattern.buttons import least_stand
from clothwright.pattern.measure import corner_angle_deg
from clothwright.pattern.parts import centre_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Mark, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.pattern.trail import joined, trail_to
from clothwright.units import INCH
from clothwright.units.params import param
from clothwright.words import AtLeast, Sentence, edge_name, listed

UPRIGHT = 0.7
"""A centre line runs at 45 degrees or less to the grain. Our own bound."""
BEYOND_MM = 1.0
"""mm: an edge this near to the marked centre is the centre."""
FIRST_MM = INCH / 4
"""mm: the first button lies its own width and 1/4 in below the neck (docs/sources.md: buttons)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ButtonStand:
    """The centre edges, the button, how far the stand reaches and how many buttons there are."""

    edges: tuple[str, ...] = param(
        "edges", "the straight centre line of a front; of both, where they differ", label="On which"
    )
    button: float = param("length", "across", default=18.0, label="How wide a button", least=0.0)
    stand: float | None = param(
        "length",
        "beyond the centre; left out: as wide as the button",
        default=None,
        label="How wide a stand",
        least=0.0,
    )
    count: int = param("count", "none marks none", default=0, label="How many buttons")
    last: float = param(
        "length",
        "the last one above the lower end",
        default=100.0,
        label="How far up the last one",
        least=0.0,
    )
    back: str = param(
        "choice",
        "",
        default="none",
        choices={"none": "a facing of its own", "fold": "turned back as wide as the whole stand"},
        label="What backs it",
    )


RUNS_ON_DEG = 135.0
"""degrees inside a piece: at a wider corner one line goes on from another (our own figure)."""


def apply(pattern: Pattern, params: ButtonStand) -> Outcome:
    """Draw the edge out beyond the centre line, mark the centre, and where each button goes.

    The edge keeps its name; the edges beside it run on square to the centre, so that they are as
    much longer. Buttons lie on the centre line at equal distances between the first, its width and
    1/4 in below the upper end, and the last. Turned back, a fold is marked at the stand's edge and
    as much lies beyond it as the stand is wide on both sides of the centre.

    Raises CannotDo for too narrow a stand, an edge that is not straight, or buttons that would lie
    on each other; BadInput for unknown names. Source: docs/sources.md (buttons).
    """
    stand = params.button if params.stand is None else params.stand
    least = least_stand(params.button)
    if stand < least - 1e-6:
        raise CannotDo(
            what=("a stand of ", stand, " is too narrow for a button ", params.button, " wide"),
            why="the button would hang over the edge, or draw the sides apart",
            nearest=("a stand of ", AtLeast(least), " or more"),
        )
    after = pattern
    refs = [parse_edge(text) for text in dict.fromkeys(params.edges)]
    if not refs:
        raise BadInput(what="no edge is named", expected="the centre edge of a front")
    spaces = []
    for ref in refs:
        piece = after.piece(ref.piece)
        places = _places(piece, piece.edge(ref.edge), params)
        _refuse_beyond(pattern, piece, piece.edge(ref.edge))
        spaces += [b - a for a, b in pairwise(places)][:1]
        after = after.with_piece(_with_stand(piece, ref.edge, stand, places, params))
    names = list(dict.fromkeys(r.piece for r in refs))
    trail = joined(trail_to(pattern.piece(n), (after.piece(n),)) for n in names)
    said = (*_said(names, stand, spaces, params), *partners(pattern, after))
    return Outcome(pattern=after, said=said, trail=trail)


def _refuse_beyond(pattern: Pattern, piece: Piece, edge: Edge) -> None:
    """Refuse an edge that lies beyond the centre, where a line or a notch marks that. CannotDo."""
    line = centre_line(pattern, piece)
    marked = [] if line is None else [line.middle]
    marked += [
        e.path.point_at(n.at)
        for e in piece.edges
        for n in e.notches
        if n.name.lower().startswith("centre") and e.name != edge.name
    ]
    way = (edge.path.end - edge.path.start).unit
    off = max((abs(way.cross(at - edge.path.start)) for at in marked), default=0.0)
    if off > BEYOND_MM:
        raise CannotDo(
            what=f"a stand cannot be drawn on {edge_name(piece.name, edge.name)}",
            why=("the centre is marked ", off, " from it"),
            nearest="an edge that is the centre itself",
        )


def _places(piece: Piece, edge: Edge, params: ButtonStand) -> list[float]:
    """Return how far below the centre line's upper end each button lies, mm."""
    along = abs(piece.up.dot((edge.path.end - edge.path.start).unit))
    if not edge.path.is_straight or piece.darts_on(edge.name) or along < UPRIGHT:
        raise CannotDo(
            what=f"a stand cannot be drawn on {edge_name(piece.name, edge.name)}",
            why="it is not one straight line along the grain",
            nearest="the straight centre line of a front: divide the piece or straighten it first",
        )
    _refuse_running_on(piece, edge)
    first, last = params.button + FIRST_MM, edge.length - params.last
    if params.count <= 1:
        return [first] if params.count == 1 else []
    space = (last - first) / (params.count - 1)
    if space < params.button:
        raise CannotDo(
            what=f"{params.count} buttons do not go on {edge_name(piece.name, edge.name)}",
            why=("they would lie ", space, " apart"),
            nearest="fewer buttons, or the last one lower",
        )
    return [first + k * space for k in range(params.count)]


def _refuse_running_on(piece: Piece, edge: Edge) -> None:
    """Refuse an edge whose line goes on below it, as a fly's into the crotch. Raises CannotDo."""
    at = piece.index(edge.name)
    rises = piece.rises(edge.name)
    low = at if rises else (at + 1) % len(piece.edges)
    if corner_angle_deg(piece, low) > RUNS_ON_DEG:
        beside = piece.neighbours(edge.name)[0 if rises else 1]
        raise CannotDo(
            what=f"a stand cannot be drawn on {edge_name(piece.name, edge.name)}",
            why=f"its line goes on below, in {beside.name}, which would get a step",
            nearest="a fly or a facing cut by itself and sewn on, or an edge that ends at a hem",
        )


def _with_stand(
    piece: Piece, name: str, stand: float, places: list[float], params: ButtonStand
) -> Piece:
    edge = piece.edge(name)
    reach = 3 * stand if params.back == "fold" else stand
    out = parallel(edge.path, reach)
    before, after = piece.neighbours(name)
    new = {
        name: replace(edge, path=out, role=Role.SEAM if edge.role is Role.FOLD else edge.role),
        before.name: replace(before, path=before.path.joined(_line(edge.path.start, out.start))),
        after.name: replace(
            after,
            path=_line(out.end, edge.path.end).joined(after.path),
            notches=tuple(replace(n, at=n.at + reach) for n in after.notches),
        ),
    }
    darts = tuple(
        replace(d, a=d.a + reach, b=d.b + reach) if d.edge == after.name else d for d in piece.darts
    )
    marks = (*piece.marks, *_marks(piece, edge, stand, places, params))
    edges = tuple(new.get(e.name, e) for e in piece.edges)
    cuts = piece.cuts
    if edge.role is Role.FOLD:
        cuts = tuple(replace(c, how="pair") if c.how == "fold" else c for c in cuts)
    made = replace(piece, edges=edges, darts=darts, marks=marks, cuts=cuts)
    refuse_crossing(made, f'"{piece.name}" cannot get a stand', "a narrower stand")
    return made


def _line(start: tuple[float, float], end: tuple[float, float]) -> Path:
    return polyline((start, end))


def _marks(
    piece: Piece, edge: Edge, stand: float, places: list[float], params: ButtonStand
) -> Iterator[Mark]:
    down, fold = edge.path, parallel(edge.path, stand)
    if piece.up.dot(down.end - down.start) > 0:
        down, fold = down.reversed(), fold.reversed()
    yield Mark(name="centre", path=down, note="centre line")
    if params.back == "fold":
        yield Mark(name="stand fold", path=fold, note="fold: what lies beyond is turned back")
    for k, at in enumerate(places, start=1):
        yield Mark(name=f"button {k}", at=down.point_at(at), note="button and buttonhole")


def _said(names: list[str], stand: float, spaces: list[float], params: ButtonStand) -> Sentence:
    said: Sentence = (f"Added a stand to {listed(names)}, ", stand, " beyond the centre")
    if params.back == "fold":
        said = (*said, ", with ", 2 * stand, " to be turned back")
    if params.count > 1:
        said = (*said, f"; {params.count} buttons lie ", spaces[0], " apart")
    return (
        *said,
        ". Right laps over left for women; a buttonhole across starts ",
        INCH / 8,
        " beyond the centre. Neck and hem are longer by the stand: what is sewn there follows.",
    )


CHANGE = Change(
    id="button-stand",
    title="Add a button stand",
    topic="fullness and openings",
    why="Both fronts lie over each other where they button, the buttons on the centre line.",
    source="docs/sources.md: buttons (stand, first button, hole)",
    params=ButtonStand,
    apply=apply,
)
