"""Bodices in other looseness than the demo's: check, large figure, brick, one way up."""

from __future__ import annotations

from dataclasses import replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Figure, Print
from clothwright.demo.body import WEARER, CoatStyle
from clothwright.demo.coat import draft_coat_back, draft_coat_front
from clothwright.demo.draft import seam
from clothwright.demo.sleeve import armhole_of, draft_sleeve
from clothwright.demo.waistcoat import (
    WaistcoatStyle,
    draft_pocket,
    draft_waistcoat_back,
    draft_waistcoat_front,
)
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Piece, Role
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.workbook import Workbook

NOTES = "Demo data: pieces, measurements and cloth are our own invention."
SIDE = seam("side", "front.side", "back.side reversed")
SHOULDER = seam("shoulder", "front.shoulder", "back.shoulder reversed", ease=4.0)


def level(piece_a: str, point_a: str, piece_b: str, point_b: str, match: str = "level") -> Meets:
    """Return the rule that a print meets at two points that are sewn together."""
    return Meets(piece_a=piece_a, point_a=point_a, piece_b=piece_b, point_b=point_b, match=match)


def bodice(style: CoatStyle) -> tuple[Piece, Piece]:
    """Return a front (a pair, bust dart in its side) and a back on the fold."""
    front, back = draft_coat_front(WEARER, style), draft_coat_back(WEARER, style)
    return replace(front, name="front"), replace(back, name="back")


def cap_seam(style: CoatStyle) -> Seam:
    """Return the seam of a sleeve into the armhole, eased over the top."""
    return seam(
        "armhole",
        ("front.armhole", "back.armhole"),
        "sleeve.cap reversed",
        kind="cap",
        ease=style.cap_ease_front + style.cap_ease_back,
        ease_from="front",
        ease_to="back",
    )


def checked_shirt() -> Workbook:
    """A shirt with a bust dart and a set-in sleeve on an even check."""
    style = CoatStyle(bust_ease=118.0, dart=25.0, from_shoulder=640.0, hem=15.0, back_ease=4.0)
    front, back = bodice(style)
    sleeve = replace(draft_sleeve(WEARER, style, armhole_of(front, back)), name="sleeve")
    check = Print(
        repeat_along=42.0,
        repeat_across=35.0,
        origin_along=6.0,
        origin_across=11.0,
        axes_along=(0.0, 21.0),
        axes_across=(0.0, 17.5),
        look="check",
    )
    centred = (
        AtPhase(piece="back", point="centre back", across=0.0),
        Mirrored(piece="front", point="button 1", way="across"),
        level("front", "side hem", "back", "side hem"),
    )
    notch = level("front", "armhole notch front", "sleeve", "cap notch front")
    return Workbook(
        title="Checked shirt",
        unit=Unit.inch,
        bought=Pattern(
            pieces=(front, back, sleeve),
            seams=(
                SIDE,
                SHOULDER,
                cap_seam(style),
                seam("sleeve seam", "sleeve.front seam reversed", "sleeve.back seam"),
            ),
        ),
        cloths=(Cloth(name="check", width=1500.0, print=check),),
        plans=(
            Plan(name="matched", rules=(*centred, notch)),
            Plan(name="body only", rules=centred),
            Plan(name="as it falls"),
        ),
        notes=NOTES,
    )


def large_figure_dress() -> Workbook:
    """A straight dress, a figure of 20 cm in half-drop, its top towards the far end."""
    style = CoatStyle(bust_ease=90.0, dart=28.0, from_shoulder=980.0, hem=40.0, back_ease=4.0)
    front, back = bodice(style)
    flower = Figure(name="peony", x=250.0, y=200.0, radius=100.0)
    large = Print(
        repeat_along=640.0,
        repeat_across=470.0,
        origin_along=30.0,
        origin_across=20.0,
        axes_across=(180.0,),
        drop="half-drop",
        up="end",
        look="figures",
        figures=(flower,),
    )
    return Workbook(
        title="Dress with a large figure",
        unit=Unit.cm,
        bought=Pattern(pieces=(_on_fold(front), back), seams=(SIDE, SHOULDER)),
        cloths=(Cloth(name="peonies", width=1000.0, print=large),),
        plans=(
            Plan(
                name="centred",
                rules=(
                    AtPhase(piece="front", point="neck end", across=180.0),
                    level("front", "side hem", "back", "side hem"),
                ),
            ),
            Plan(name="as it falls"),
        ),
        notes=NOTES,
    )


def _on_fold(front: Piece) -> Piece:
    """Return a buttoned front as one piece, its front edge on the fold."""
    edges = tuple(
        replace(e, role=Role.FOLD, allowance=0.0, notches=()) if e.name == "front edge" else e
        for e in front.edges
    )
    marks = tuple(m for m in front.marks if not m.name.startswith(("button", "centre")))
    return replace(front, edges=edges, marks=marks, cuts=(Cut(how="fold"),))


def brick_blouse() -> Workbook:
    """A short blouse on a brick repeat whose figure is the same after half a turn."""
    style = CoatStyle(bust_ease=84.0, dart=22.0, from_shoulder=520.0, hem=20.0, back_ease=4.0)
    front, back = bodice(style)
    brick = Print(
        repeat_along=50.0,
        repeat_across=76.0,
        origin_along=9.0,
        origin_across=4.0,
        drop="brick",
        half_turn=(12.0, 20.0),
        figures=(Figure(name="lozenge", x=21.0, y=24.0, radius=11.0),),
    )
    return Workbook(
        title="Blouse in brick",
        unit=Unit.inch,
        bought=Pattern(pieces=(front, back), seams=(SIDE, SHOULDER)),
        cloths=(Cloth(name="bricks", width=900.0, print=brick),),
        plans=(
            Plan(name="level", rules=(level("front", "side hem", "back", "side hem"),)),
            Plan(name="as it falls"),
        ),
        notes=NOTES,
    )


def one_way_vest() -> Workbook:
    """A waistcoat with pockets on cloth with nap, its small figure one way up."""
    style = WaistcoatStyle(bust_ease=72.0, from_shoulder=540.0, front_point=40.0)
    front = draft_waistcoat_front(WEARER, style)
    back = draft_waistcoat_back(WEARER, style)
    shell = tuple(
        replace(p, cuts=tuple(c for c in p.cuts if c.material == "shell"))
        for p in (front, back, draft_pocket(style))
    )
    sprig = Print(
        repeat_along=90.0,
        repeat_across=64.0,
        origin_along=12.0,
        origin_across=18.0,
        axes_across=(10.0,),
        up="start",
        figures=(Figure(name="sprig", x=40.0, y=28.0, radius=14.0),),
    )
    return Workbook(
        title="Vest with sprigs",
        unit=Unit.cm,
        bought=Pattern(pieces=shell, seams=(SIDE, SHOULDER)),
        cloths=(Cloth(name="sprigs", width=1100.0, nap=True, print=sprig),),
        plans=(
            Plan(
                name="pockets matched",
                rules=(
                    level("front", "pocket corner", "pocket", "upper corner", "both"),
                    level("front", "side hem", "back", "side hem"),
                ),
            ),
            Plan(name="as it falls"),
        ),
        notes=NOTES,
    )
