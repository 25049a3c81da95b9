"""A long coat, faced and lined, with a collar in two layers and patch pockets."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.body import WEARER, CoatStyle
from clothwright.demo.coat import draft_coat_back, draft_coat_front
from clothwright.demo.coat_and_skirt import coat_seams, facing_seams, lining_seams
from clothwright.demo.coat_inside import (
    FacingStyle,
    draft_back_neck_facing,
    draft_front_facing,
    draft_lining_back,
    draft_lining_front,
    draft_lining_sleeve,
)
from clothwright.demo.curves import straight
from clothwright.demo.draft import cuts, grain, hem_edge, seam, seam_edge
from clothwright.demo.sleeve import armhole_of, draft_sleeve
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Mark, Piece
from tests.garments.kit import over
from tests.garments.parts import collar, goes_with

STYLE = CoatStyle(bust_ease=150.0, underarm_drop=22.0, from_shoulder=980.0, neck_wider=12.0,
                  cap_ease_front=14.0, cap_ease_back=18.0, biceps_ease=96.0, wrist=275.0,
                  wrist_front=150.0, hem=45.0)  # fmt: skip
TURN = 3.0
"""mm: by which the upper collar's outer edge lies further out, to turn over (1/8 in; trade)."""
POCKET = 150.0, 170.0


def lined_coat() -> Pattern:
    """Return the pieces and seams of the coat."""
    facing = FacingStyle()
    front, back = draft_coat_front(WEARER, STYLE), draft_coat_back(WEARER, STYLE)
    arm = draft_sleeve(WEARER, STYLE, armhole_of(front, back))
    front = _to_centre(_with_pocket(front))
    neck = front.edge("neck").length + back.edge("neck").length
    mark = back.edge("neck").length, "neck point"
    tip = Vec(26.0, 92.0)
    under = collar("under collar", neck, tip, 78.0, cuts("fold", "shell", "interfacing"), mark)
    upper = collar("upper collar", neck, tip + Vec(TURN, TURN), 78.0 + TURN,
                   cuts("fold", "shell"), mark)  # fmt: skip
    turn = _round(upper) - _round(under)
    pieces = (
        front,
        back,
        arm,
        over(under),
        over(upper),
        _pocket(),
        _to_centre(draft_front_facing(WEARER, STYLE, facing)),
        draft_back_neck_facing(WEARER, STYLE, facing),
        draft_lining_front(WEARER, STYLE, facing),
        draft_lining_back(WEARER, STYLE, facing),
        draft_lining_sleeve(WEARER, STYLE),
    )
    seams = (*coat_seams(STYLE), *_facing_seams(), *_collar_seams(turn), *lining_seams(STYLE))
    return Pattern(pieces=pieces, seams=seams, companions=_companions())


def _round(of: Piece) -> float:
    return of.edge("end").length + of.edge("upper").length


def _to_centre(piece: Piece) -> Piece:
    """Return a front or its facing, its neck cut in two at the centre, where the collar ends."""
    i = piece.index("neck")
    edge = piece.edges[i]
    first, second = edge.path.split_at(edge.path.length - STYLE.extension)
    both = replace(edge, path=first), seam_edge("neck extension", second, "centre neck")
    return replace(piece, edges=(*piece.edges[:i], *both, *piece.edges[i + 1 :]))


def _facing_seams() -> tuple[Seam, ...]:
    runs = tuple(
        tuple(f"{p}.{e}" for e in ("neck extension", "front edge"))
        for p in ("coat front", "front facing")
    )
    first, *others = facing_seams()
    return (seam(first.name, *runs, kind="facing"), *others[1:])


def _collar_seams(turn: float) -> tuple[Seam, ...]:
    return (
        seam("under collar", ("coat front.neck reversed", "coat back.neck reversed"),
             "under collar.lower"),
        seam("upper collar", ("front facing.neck reversed", "back neck facing.neck reversed"),
             "upper collar.lower"),
        seam("collar edge", ("under collar.end reversed", "under collar.upper reversed"),
             ("upper collar.end reversed", "upper collar.upper reversed"), kind="facing",
             ease=turn),
    )  # fmt: skip


def _with_pocket(front: Piece) -> Piece:
    """Return the front with the place of its pocket."""
    corner = Vec(85.0, -130.0)
    wide, high = POCKET
    points = [corner + Vec(x, y) for x, y in ((0, 0), (0, -high), (wide, -high), (wide, 0))]
    place = Mark(name="pocket", path=straight(*points, points[0]))
    return replace(front, marks=(*front.marks, place, Mark(name="pocket corner", at=corner)))


def _pocket() -> Piece:
    """Return the patch pocket: a hem above, three sides turned in."""
    wide, high = POCKET
    low = seam_edge("low", straight((0.0, 0.0), (wide, 0.0)), "inner low")
    outer = seam_edge("outer side", straight((wide, 0.0), (wide, high)), "outer low")
    inner = seam_edge("inner side", straight((0.0, high), (0.0, 0.0)), "upper corner")
    top = hem_edge(straight((wide, high), (0.0, high)), "far corner", 30.0)
    return Piece(
        name="pocket",
        edges=(low, outer, top, inner),
        grain=grain(wide / 2, 20.0, high - 20.0),
        cuts=cuts("pair", "shell"),
    )


def _companions() -> tuple[Companion, ...]:
    return (
        goes_with("facing", "front facing.front edge on coat front.front edge",
                  "front facing.neck on coat front.neck", "front facing.hem on coat front.hem"),
        goes_with("facing", "back neck facing.neck on coat back.neck"),
        goes_with("lining", "lining front.side on coat front.side",
                  "lining front.armhole on coat front.armhole",
                  "lining front.hem on coat front.hem"),
        goes_with("lining", "lining back.side on coat back.side",
                  "lining back.armhole on coat back.armhole", "lining back.hem on coat back.hem"),
        goes_with("lining", "lining sleeve.hem on coat sleeve.hem",
                  "lining sleeve.cap on coat sleeve.cap",
                  "lining sleeve.front seam on coat sleeve.front seam",
                  "lining sleeve.back seam on coat sleeve.back seam"),
        goes_with("collar", "under collar.lower on coat front.neck",
                  "under collar.lower on coat back.neck"),
        goes_with("collar", "upper collar.lower on front facing.neck",
                  "upper collar.lower on back neck facing.neck"),
        Companion(piece="pocket", kind="pocket", of=(Along(piece="coat front"),), by="drafted"),
    )  # fmt: skip
