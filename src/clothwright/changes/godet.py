"""Set a godet into the lower end of a seam: a sector of cloth that flares the hem."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import free_name
from clothwright.changes.part_open import PartOpened, part_opened
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.arcs import ellipse_arc
from clothwright.geometry.path import Path, polyline
from clothwright.pattern.hems import EASES, deepest, ends_folded
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Grain, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, show_angle_deg

MOST_DEG = 180.0
"""Degrees a godet's point may have: wider, its straight sides lie on one line and beyond."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Godet:
    """The seam, how high the godet reaches, and how wide it is at the hem; lengths in mm."""

    seam: str = param("seam", "open at its lower end", label="In which seam")
    length: float = param("length", "from the hem line up", label="How high", least=0.0)
    width: float = param("length", "along the hem line", label="How wide at the hem", least=0.0)
    name: str = param("text", "a name that is free", default="godet", label="What to call it")


def apply(pattern: Pattern, params: Godet) -> Outcome:
    """Sew the seam down to the godet's point only, and each edge below to one side of a sector.

    The sides are as long as the opening, the hem lies on an arc about the point, so that it hangs
    level: its length over the height is the angle, in radians. Allowances and the hem's depth are
    those of the pieces; where that is more than can be eased in, it is told. Raises BadInput for no
    height or width, CannotDo for an angle over 180 degrees. Source: plane geometry (a sector).
    """
    if params.width <= 0.0 or params.length <= 0.0:
        raise BadInput(what="the godet has no height or no width", expected="both")
    angle = params.width / params.length
    if math.degrees(angle) > MOST_DEG:
        most = math.radians(MOST_DEG) * params.length
        raise CannotDo(
            what=("a godet ", params.length, " high cannot be ", params.width, " wide"),
            why=f"its point would be {show_angle_deg(math.degrees(angle))} wide",
            nearest=(AtMost(most), " wide or less, or two of them"),
        )
    opened = part_opened(pattern, params.seam, params.length, low=True, called="godet")
    names = tuple(p.name for p in pattern.pieces)
    piece = _sector(opened, params, angle, free_name(names, params.name))
    seams = (*opened.pattern.seams, *_seams(opened, piece.name, params.seam))
    after = replace(opened.pattern, pieces=(*opened.pattern.pieces, piece), seams=seams)
    return Outcome(pattern=after, said=_said(piece, params, angle), trail=opened.trail)


def _sector(opened: PartOpened, params: Godet, angle: float, name: str) -> Piece:
    """Return the godet with its point at the top of the opening, hanging down."""
    part = opened.parts[0]
    piece = opened.pattern.piece(part.piece)
    edge = piece.edge(part.edge)
    high, point = params.length, edge.path.start if part.at_end else edge.path.end
    down = math.atan2(-piece.up.y, -piece.up.x)
    hem = Path(ellipse_arc(point, (high, high), 0.0, down - angle / 2, angle))
    side = edge.allowance
    depth = next((e.allowance for e in piece.edges if e.role is Role.HEM), side)
    right, left = _sides(opened)
    edges = (
        Edge(name="hem", path=hem, role=Role.HEM, allowance=depth),
        Edge(name=right, path=polyline((hem.end, point)), allowance=side),
        Edge(name=left, path=polyline((point, hem.start)), allowance=side, corner="point"),
    )
    twice = len(opened.parts) > 1 and any(
        c.how != "once" for p in opened.parts for c in opened.pattern.piece(p.piece).cuts
    )
    material = piece.cuts[0].material if piece.cuts else "shell"
    return Piece(
        name=name,
        edges=edges,
        grain=Grain(start=point - piece.up * (0.8 * high), end=point - piece.up * (0.3 * high)),
        cuts=(Cut(material=material, how="pair" if twice else "once"),),
    )


def _sides(opened: PartOpened) -> tuple[str, str]:
    """Return what the godet's right and left side are called: by the piece each is sewn to."""
    one, other = ((*opened.parts, *opened.parts)[k] for k in (0, 1))
    names = f"side to {one.piece}", f"side to {other.piece}"
    if names[0] == names[1]:
        names = names[0], f"{names[0]} 2"
    return names if one.at_end else names[::-1]


def _seams(opened: PartOpened, godet: str, name: str) -> tuple[Seam, Seam]:
    """Return the seams of both sides, each travelled as the old seam was."""
    right, left = _sides(opened)
    one, other = (p.ref(opened.at_end) for p in (*opened.parts, *opened.parts)[:2])
    names = (right, left) if opened.parts[0].at_end else (left, right)
    first, second = (
        EdgeRef(godet, side, reversed=(side == right) == opened.at_end) for side in names
    )
    return (
        Seam(name=f"{name} godet", a=(one,), b=(first,)),
        Seam(name=f"{name} godet 2", a=(other,), b=(second,)),
    )


def _said(piece: Piece, params: Godet, angle: float) -> Sentence:
    return (
        f"Set {piece.name} into seam {params.seam}, ",
        params.length,
        " high and ",
        params.width,
        f" wide at the hem, {show_angle_deg(math.degrees(angle))} at its point.",
        *_hem(piece),
        " Sew each side from the point down, and let it hang for a day before the hem is levelled.",
    )


def _hem(piece: Piece) -> Sentence:
    """Say how deep its hem may be, where that is less than the hems beside it are."""
    most = deepest(ends_folded(piece, "hem"), "hem", EASES)
    if piece.edge("hem").allowance <= most:
        return ()
    return (
        " Its hem eases in when it is ",
        AtMost(most),
        " deep or less: face the whole hem, or make it narrower all round.",
    )


CHANGE = Change(
    id="godet",
    title="Set in a godet",
    topic="fullness and openings",
    why="A sector of cloth in the lower end of a seam gives room to stride and a hem that swings.",
    source="plane geometry: the sector of a circle",
    params=Godet,
    apply=apply,
)
