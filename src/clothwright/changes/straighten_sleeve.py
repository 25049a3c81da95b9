"""Straighten a sleeve: its elbow dart goes, and both underarm seams become mirror images."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart
from clothwright.changes.partners import partners
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import Transform, reflection, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import dart_intake, net_at, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Grain, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.units.params import param
from clothwright.words import Sentence, listed, ref_name, show_angle_deg

LEVEL_MM = 1.5
SAME_MM = 0.8
"""A difference that reads as none: half of 1/16 in."""
"""mm: how far out of level the two underarm corners may be (the band in which seams agree)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightenSleeve:
    """The elbow dart that goes; its seam's plain partner, found by the seam when left out."""

    dart: str = param("dart", "the elbow dart that goes", label="Which dart")
    plain: str = param(
        "edge",
        "the plain underarm edge; left out: what the dart's edge is sewn to",
        default="",
        label="The plain underarm edge",
    )
    centre: str = param(
        "point",
        "a point of the sleeve's centre line, to be measured against it; left out: its cap's "
        "shoulder notch or highest point",
        default="",
        label="A point of the centre line",
    )
    along: str = param(
        "choice",
        "",
        default="grain",
        choices={
            "grain": "along the grain",
            "biceps": "square to the biceps line; the grain line is then turned along it",
        },
        label="How the centre line runs",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sleeve:
    """The parts of a sleeve: four edges in whatever order they are drawn."""

    piece: Piece
    darted: Edge
    plain: Edge
    hem: Edge
    caps: tuple[Edge, ...]


def apply(pattern: Pattern, params: StraightenSleeve) -> Outcome:
    """Mirror the plain underarm seam about the sleeve's centre line in place of the darted one.

    The centre line runs along the grain half-way between the two underarm corners, so that the
    cap and the width at the biceps stay as they are; the hem becomes a straight line square to
    it. Every dart of the darted seam goes; its notches keep their distance from the underarm.
    With along="biceps" the corners need not be level with the grain: the grain line is turned.
    Raises CannotDo when the underarm corners are not level or the hem is more than one edge.
    Source: common practice, and plane geometry (docs/changes/straighten-sleeve.md).
    """
    piece, dart = find_dart(pattern, params.dart)
    sleeve = _parts(pattern, piece, dart.edge, params.plain)
    corners = _corner(sleeve, sleeve.darted), _corner(sleeve, sleeve.plain)
    mirror, middle = _mirror(piece, corners, params.along)
    seam_line = sleeve.plain.path.transformed(mirror).reversed()
    after = _rebuilt(sleeve, seam_line, mirror)
    turn = 0.0
    if params.along == "biceps" and piece.grain is not None:
        turn = _off_deg(piece, corners)
        after = replace(after, grain=_turned(piece.grain, turn))
    changed = pattern.with_piece(after)
    for seam in pattern.seams_of(piece.name, sleeve.darted.name):
        eased = seam.ease or seam.eased_max or seam.ease_from or seam.ease_to
        if eased and _joins(seam, sleeve):
            changed = changed.with_seam(
                replace(seam, ease=0.0, eased_max=0.0, ease_from="", ease_to="")
            )
    said = _said(sleeve, after, middle, params.centre, turn)
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _parts(pattern: Pattern, piece: Piece, darted: str, plain: str) -> _Sleeve:
    name = _plain_name(pattern, piece, darted, plain)
    edge, other = piece.edge(darted), piece.edge(name)
    i, j = piece.index(darted), piece.index(name)
    n = len(piece.edges)
    runs = [
        [piece.edges[k % n] for k in range(a + 1, b if b > a else b + n)]
        for a, b in ((i, j), (j, i))
    ]
    hems = [r for r in runs if any(e.role is Role.HEM for e in r)]
    if len(hems) != 1 or len(hems[0]) != 1:
        raise CannotDo(
            what=f'"{piece.name}" cannot be straightened',
            why=f'between "{darted}" and "{name}" there must be one hem edge on one side, and none '
            "on the other",
            nearest="give the wrist edge the role hem, or name the plain underarm edge",
        )
    caps = next(r for r in runs if r is not hems[0])
    return _Sleeve(piece=piece, darted=edge, plain=other, hem=hems[0][0], caps=tuple(caps))


def _plain_name(pattern: Pattern, piece: Piece, darted: str, plain: str) -> str:
    if plain:
        ref = parse_edge(plain)
        if ref.piece != piece.name or ref.edge == darted:
            raise BadInput(
                what=f'"{ref_name(plain)}" is not the plain underarm seam of "{piece.name}"',
                expected=f'another edge of "{piece.name}" than "{darted}"',
            )
        return ref.edge
    for seam in pattern.seams_of(piece.name, darted):
        for mine, others in ((seam.a, seam.b), (seam.b, seam.a)):
            if any(_is(r, piece, darted) for r in mine):
                found = [r.edge for r in others if r.piece == piece.name and r.edge != darted]
                if len(found) == 1:
                    return found[0]
    raise BadInput(
        what=f'edge "{darted}" of "{piece.name}" is not sewn to another edge of the same piece',
        expected="the plain underarm edge, named (plain)",
    )


def _is(ref: EdgeRef, piece: Piece, edge: str) -> bool:
    return (ref.piece, ref.edge) == (piece.name, edge)


def _joins(seam: Seam, sleeve: _Sleeve) -> bool:
    names = {(r.piece, r.edge) for r in seam.refs}
    wanted = {(sleeve.piece.name, e.name) for e in (sleeve.darted, sleeve.plain)}
    return names == wanted


def _starts_at_hem(sleeve: _Sleeve, edge: Edge) -> bool:
    return sleeve.piece.neighbours(edge.name)[0].name == sleeve.hem.name


def _corner(sleeve: _Sleeve, edge: Edge) -> Vec:
    """Return where an underarm edge meets the cap."""
    return edge.path.end if _starts_at_hem(sleeve, edge) else edge.path.start


def _off_deg(piece: Piece, corners: tuple[Vec, Vec]) -> float:
    """Return how far the grain has to turn, in degrees, to be square to the biceps line."""
    square = (corners[1] - corners[0]).perp
    return turn_between_deg(piece.up, square if square.dot(piece.up) > 0 else -square)


def _turned(grain: Grain, turn_deg: float) -> Grain:
    turn = rotation_deg(turn_deg, grain.start.lerp(grain.end, 0.5))
    return replace(grain, start=turn.apply(grain.start), end=turn.apply(grain.end))


def _mirror(piece: Piece, corners: tuple[Vec, Vec], along: str) -> tuple[Transform, Vec]:
    """Return the mirroring about the centre line, and the middle of the biceps line."""
    across = corners[1] - corners[0]
    off = abs(across.dot(piece.up))
    if off > LEVEL_MM and along == "grain":
        raise CannotDo(
            what=f'"{piece.name}" cannot be straightened',
            why=(
                "its two underarm corners are ",
                off,
                " out of level with each other, measured along the grain",
            ),
            nearest="the centre line square to the biceps line instead, which turns "
            f"the grain by {abs(_off_deg(piece, corners)):.1f}°",
        )
    middle = corners[0].lerp(corners[1], 0.5)
    return reflection(middle, middle + across.perp), middle


def _rebuilt(sleeve: _Sleeve, seam_line: Path, mirror: Transform) -> Piece:
    piece, edge, hem = sleeve.piece, sleeve.darted, sleeve.hem
    wrist = sleeve.plain.path.start, sleeve.plain.path.end
    near = wrist[0] if _starts_at_hem(sleeve, sleeve.plain) else wrist[1]
    far = mirror.apply(near)
    ends = (far, near) if hem.path.end.is_near(near, 0.01) else (near, far)
    straight = polyline(ends)
    scale = straight.length / hem.length
    new = {
        edge.name: replace(edge, path=seam_line, notches=_kept(sleeve, seam_line.length)),
        hem.name: replace(
            hem,
            path=straight,
            notches=tuple(replace(n, at=n.at * scale) for n in hem.notches),
        ),
    }
    return replace(
        piece,
        edges=tuple(new.get(e.name, e) for e in piece.edges),
        darts=tuple(
            replace(d, a=d.a * scale, b=d.b * scale) if d.edge == hem.name else d
            for d in piece.darts
            if d.edge != edge.name
        ),
    )


def _kept(sleeve: _Sleeve, length: float) -> tuple[Notch, ...]:
    """Keep each notch's distance from the underarm corner, darts folded out."""
    piece, edge = sleeve.piece, sleeve.darted
    before = net_length(piece, edge.name)
    from_end = _starts_at_hem(sleeve, edge)
    out = []
    for notch in edge.notches:
        at = net_at(piece, edge.name, notch.at)
        at = length - (before - at) if from_end else at
        out.append(replace(notch, at=min(max(at, 0.0), length)))
    return tuple(out)


def _said(sleeve: _Sleeve, after: Piece, middle: Vec, centre: str, turn_deg: float) -> Sentence:
    piece = sleeve.piece
    darts = piece.darts_on(sleeve.darted.name)
    names = listed([d.name if "dart" in d.name else f"{d.name} dart" for d in darts])
    top, called = _top(sleeve, centre)
    off = abs((top - middle).cross(after.up))
    turned = f" The grain line is turned by {show_angle_deg(abs(turn_deg))}." if turn_deg else ""
    hem = sleeve.hem.name
    seam = after.edge(sleeve.darted.name).length
    before = net_length(piece, sleeve.darted.name)
    same = abs(before - seam) < SAME_MM
    was = () if same else (f" ({sleeve.darted.name} was sewn at ", before, ")")
    return (
        f"Straightened {piece.name}: {names} removed (",
        sum(dart_intake(piece, d) for d in darts),
        f" wide), and {sleeve.darted.name} is {sleeve.plain.name} mirrored about the "
        "centre line, both ",
        seam,
        " long",
        *was,
        ". Cap and biceps stay; the centre line lies ",
        off,
        f" from {called}. The {hem} is square to the centre line and ",
        after.edge(hem).length,
        " wide (it was ",
        sleeve.hem.length,
        f").{turned} The room at the elbow is lost: bend the arm in a trial sleeve before cutting.",
    )


def _top(sleeve: _Sleeve, centre: str) -> tuple[Vec, str]:
    """Return the point the centre line is measured against, and what to call it."""
    piece = sleeve.piece
    if centre:
        where, _, name = centre.partition(".")
        if where.strip() != piece.name:
            raise BadInput(
                what=f'"{ref_name(centre)}" is not a point of "{piece.name}"',
                expected="one of its points",
            )
        return piece.point(name.strip()), name.strip()
    for edge in sleeve.caps:
        for notch in edge.notches:
            if "shoulder" in notch.name.casefold():
                return edge.path.point_at(notch.at), "the shoulder notch"
    points = [p for e in sleeve.caps for p in e.path.flatten(0.1)]
    return max(points, key=lambda p: p.dot(piece.up)), "the top of the cap"


CHANGE = Change(
    id="straighten-sleeve",
    title="Straighten a sleeve: the elbow dart goes",
    topic="sleeves",
    why="A print, a border at the wrist or a lining may want a sleeve without a dart, its hem "
    "straight across. The sleeve then hangs straight, and has no room for a bent elbow.",
    source="common practice: the plain underarm seam mirrored about the centre line",
    params=StraightenSleeve,
    apply=apply,
)
