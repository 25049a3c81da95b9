"""Rectangular demo panels whose lay can be reckoned by hand."""

from __future__ import annotations

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Grain, Notch, Piece, Role
from clothwright.pattern.refs import parse_edge


def panel(name, wide, tall, how, *, fold="", flare=0.0, allowance=10.0):
    """A panel from (0, 0) to (wide, tall), hem at the bottom; `flare` widens the hem rightwards."""
    corners = [(0, 0), (wide + flare, 0), (wide, tall), (0, tall), (0, 0)]
    names = ("hem", "right", "top", "left")
    notches = {
        "right": (Notch(at=100.0, name="n"),),
        "left": (Notch(at=tall - 100.0, name="n"),),
    }
    edges = []
    for k, edge in enumerate(names):
        role = Role.FOLD if edge == fold else Role.HEM if edge == "hem" else Role.SEAM
        edges.append(
            Edge(
                name=edge,
                path=polyline(corners[k : k + 2]),
                role=role,
                allowance=0.0 if role is Role.FOLD else allowance,
                corner=("lower left", "lower right", "upper right", "upper left")[k],
                notches=notches.get(edge, ()),
            )
        )
    return Piece(
        name=name,
        edges=tuple(edges),
        grain=Grain(start=Vec(wide / 2, tall * 0.2), end=Vec(wide / 2, tall * 0.8)),
        cuts=(Cut(how=how),),
    )


def asked(problem):
    """The rules on shapes that the plan's own rules ask for; what a print asks has no number."""
    return [r for r in problem.rules if r.id.split(" ")[0].isdigit()]


def skirt(*, flare=0.0):
    """A front on the fold (fold left) and a pair of backs (centre right), joined at the sides.

    The front's side is its right edge, the back's its left: both are drawn for one half of the
    body, so one runs forward and the other reversed.
    """
    front = panel("front", 200.0, 500.0, "fold", fold="left", flare=flare)
    back = panel("back", 220.0, 500.0, "pair")
    return Pattern(
        pieces=(front, back),
        seams=(
            Seam(
                name="side", a=(parse_edge("front.right"),), b=(parse_edge("back.left reversed"),)
            ),
        ),
    )


def bordered(**more):
    """1000 mm of cloth: 40 to 140 mm from the lower selvedge a border; checks of 50 by 40 mm."""
    design = Print(
        borders=(Border(name="b", side="lower", base=40.0, height=100.0),),
        repeat_along=50.0,
        repeat_across=40.0,
        origin_along=5.0,
        axes_along=(0.0,),
        axes_across=(0.0,),
    )
    return Cloth(name="c", width=1000.0, length=3000.0, print=design, **more)
