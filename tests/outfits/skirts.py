"""Skirts in gores: stripes on the bias, and a curved hem on two borders."""

from __future__ import annotations

from dataclasses import replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.demo.curves import bend, straight
from clothwright.demo.draft import cuts, fold_edge, grain, hem_edge, seam, seam_edge, single
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.units import Unit
from clothwright.workbook import Workbook

NOTES = "Demo data: pieces and cloth are our own invention."


def gore(
    name: str,
    how: str,
    *,
    waist: float,
    hem: float,
    long: float,
    rise: float = 0.0,
    top: float = 0.0,
) -> Piece:
    """Return a gore from its centre (x = 0) to its side, waist at y = 0; all mm.

    The side is straight. rise: how much higher the hem is at the side than at the centre, in a
    gentle curve that starts square to the centre; top: the same for the waist, straight. "fold"
    opens it at the centre.
    """
    low, side_low, side_top = Vec(0.0, -long), Vec(hem, rise - long), Vec(waist, top)
    bottom = bend(low, 0.0, side_low, 12.0) if rise else straight(low, side_low)
    side = straight(side_low, side_top)
    centre = straight((0.0, 0.0), low)
    return Piece(
        name=name,
        edges=(
            hem_edge(bottom, "centre hem", 20.0),
            seam_edge("side", side, "side hem", single(side.length - 180.0, "hip")),
            seam_edge("waist", straight(side_top, (0.0, 0.0)), "side waist"),
            fold_edge("centre", centre, "centre waist")
            if how == "fold"
            else seam_edge("centre", centre, "centre waist", single(180.0, "hip")),
        ),
        grain=grain((waist + hem) / 4, 80.0 - long, -80.0),
        cuts=cuts(how, "shell"),
    )


def bias_skirt() -> Workbook:
    """Four gores on the true bias of a stripe: chevrons at the centres and at the sides.

    Front and back are each drawn from the centre rightwards, so for different halves of the body.
    """
    front = gore("skirt front", "pair", waist=180.0, hem=330.0, long=600.0)
    back = gore("skirt back", "pair", waist=190.0, hem=290.0, long=600.0, top=10.2)
    seams = (
        seam("centre front", "skirt front.centre", "skirt front.centre"),
        seam("centre back", "skirt back.centre", "skirt back.centre"),
        seam("side", "skirt front.side", "skirt back.side"),
    )
    stripe = Cloth(
        name="stripe",
        width=1500.0,
        print=Print(repeat_across=36.0, origin_across=7.0, axes_across=(0.0, 18.0)),
    )
    turned = tuple(OnGrain(piece=p.name, grain="bias") for p in (front, back))
    pairs = (
        (front.name, "centre hem", front.name, "centre hem"),
        (back.name, "centre hem", back.name, "centre hem"),
        (front.name, "side hem", back.name, "side hem"),
    )
    chevrons = tuple(
        Chevron(piece_a=a, point_a=at_a, piece_b=b, point_b=at_b, bias=True)
        for a, at_a, b, at_b in pairs
    )
    return Workbook(
        title="Skirt on the bias",
        unit=Unit.cm,
        bought=Pattern(pieces=(front, back), seams=seams),
        cloths=(stripe,),
        plans=(Plan(name="chevrons", rules=chevrons), Plan(name="on the bias", rules=turned)),
        notes=NOTES,
    )


def two_border_skirt() -> Workbook:
    """A skirt with a hem that rises at the sides and a short overskirt, on a border each."""
    front = gore("skirt front", "fold", waist=190.0, hem=260.0, long=560.0, rise=14.0)
    back = gore("skirt back", "pair", waist=190.0, hem=270.0, long=560.0, rise=14.0)
    over = gore("overskirt", "fold", waist=200.0, hem=255.0, long=330.0)
    cloth = Cloth(
        name="two borders",
        width=1400.0,
        length=2600.0,
        print=Print(
            borders=(
                Border(name="vine", side="lower", base=50.0, height=140.0, repeat=70.0),
                Border(name="braid", side="upper", base=40.0, height=60.0, repeat=45.0),
            ),
            origin_along=15.0,
            axes_along=(0.0,),
            look="border",
            figures=(Figure(name="leaf", x=40.0, y=120.0, radius=9.0),),
        ),
    )
    seams = (
        seam("side", "skirt front.side", "skirt back.side"),
        seam("centre back", "skirt back.centre", "skirt back.centre"),
    )
    both = (
        OnBorder(piece="skirt front", edge="hem", border="vine"),
        OnBorder(piece="skirt back", edge="hem", border="vine"),
        OnBorder(piece="overskirt", edge="hem", border="braid"),
    )
    figure = (
        AtPhase(piece="skirt front", point="centre hem", along=0.0),
        Mirrored(piece="skirt back", point="centre hem"),
        Meets(
            piece_a="skirt front",
            point_a="side hem",
            piece_b="skirt back",
            point_b="side hem",
            match="upright",
        ),
    )
    return Workbook(
        title="Skirt between two borders",
        unit=Unit.inch,
        bought=Pattern(pieces=(front, back, over), seams=seams),
        cloths=(cloth,),
        plans=(
            Plan(name="hems", rules=both),
            Plan(name="hems and figure", rules=(*both, *figure)),
            Plan(
                name="overskirt plain",
                rules=(*both[:2], KeepOff(piece="overskirt", border="braid")),
            ),
        ),
        notes=NOTES,
    )


def two_repeat_skirt() -> Workbook:
    """A skirt with patch pockets on a brick ground, its hem on a border of another repeat."""
    front = gore("skirt front", "fold", waist=190.0, hem=260.0, long=560.0, rise=10.0)
    back = gore("skirt back", "pair", waist=190.0, hem=270.0, long=560.0, rise=10.0)
    corners = ((90.0, -90.0), (90.0, -180.0), (110.0, -195.0), (160.0, -170.0), (160.0, -90.0))
    place = Mark(name="pocket place", path=straight(*corners, corners[0]))
    names = ("pocket corner", "low corner", "lowest corner", "far low corner", "far corner")
    ends = zip(names, corners, (*corners[1:], corners[0]), strict=True)
    sides = tuple(
        seam_edge(f"pocket side {n}", straight(a, b), name)
        for n, (name, a, b) in enumerate(ends, start=1)
    )
    pocket = Piece(
        name="pocket", edges=sides, grain=grain(120.0, -180.0, -100.0), cuts=cuts("pair", "shell")
    )
    cloth = Cloth(name="two repeats", width=1400.0, length=4000.0, print=TWO_REPEATS)
    seams = (
        seam("side", "skirt front.side", "skirt back.side"),
        seam("centre back", "skirt back.centre", "skirt back.centre"),
    )
    hems = tuple(
        OnBorder(piece=p.name, edge="hem", border="scallop", above=30.0, follows="best")
        for p in (front, back)
    )
    return Workbook(
        title="Skirt on two repeats",
        unit=Unit.cm,
        bought=Pattern(pieces=(replace(front, marks=(place,)), back, pocket), seams=seams),
        cloths=(cloth,),
        plans=(
            Plan(name="hems", rules=hems),
            Plan(name="motifs of the border", rules=(*hems, *_all_round("hem"))),
            Plan(name="ground over the border", rules=(*hems, *_all_round("waist"))),
            Plan(name="on the ground", rules=(*_all_round("hem", "both")[::2], POCKET)),
        ),
        notes=NOTES,
    )


TWO_REPEATS = Print(
    repeat_along=60.0,
    repeat_across=84.0,
    origin_along=10.0,
    origin_across=240.0,
    drop="brick",
    axes_along=(0.0,),
    borders=(Border(name="scallop", side="lower", base=30.0, height=160.0, repeat=90.0),),
    look="figures",
    figures=(
        Figure(name="fan", x=40.0, y=280.0, radius=18.0),
        Figure(name="shell", x=55.0, y=110.0, radius=30.0),
    ),
)
POCKET = Meets(
    piece_a="pocket",
    point_a="pocket corner",
    piece_b="skirt front",
    point_b="pocket place start",
    match="both",
)


def _all_round(end: str, match: str = "upright") -> tuple[PlacingRule, ...]:
    """Return rules on the print round one end of the skirt, "hem" or "waist"."""
    side = f"side {end}"
    return (
        AtPhase(piece="skirt front", point=f"centre {end}", along=0.0),
        Mirrored(piece="skirt back", point=f"centre {end}"),
        Meets(
            piece_a="skirt front",
            point_a=side,
            piece_b="skirt back",
            point_b=side,
            match=match,
        ),
    )
