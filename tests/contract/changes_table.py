"""The table of all changes, run through all promises by test_changes.py.

A new change adds at least one row. A row says what is true of it; exceptions are fields of the row,
each with its reason in a comment.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from tests.checks.specimens import outfit
from tests.faults.planting import with_notch, without_notch
from tests.garments.wardrobe import GARMENTS
from tests.specimens import INCH, bodice, seam, skirt, sleeve

from clothwright.changes import (
    abdomen,
    add_dart,
    add_flare,
    add_notch,
    apply_band,
    blend_sizes,
    broad_back,
    button_stand,
    choose_size,
    crop,
    dart_to_seam,
    divide_dart,
    draft_binding,
    draft_collar,
    draft_facing,
    draft_interfacing,
    draft_lining,
    draft_patch_pocket,
    draft_seam_pocket,
    draft_waistband,
    draw_like,
    elbow_to_ease,
    elbow_to_hem,
    fit_band,
    fit_cap,
    fit_corner,
    fit_dart,
    fold_pleats,
    forward_shoulder,
    full_bust,
    full_upper_arm,
    gaping,
    godet,
    gusset,
    hollow,
    join_pieces,
    knit_reduction,
    lengthen,
    let_out,
    match_edge,
    match_level,
    match_notch,
    merge_darts,
    mirror,
    move_edge,
    piece_panel,
    placket,
    release_dart,
    rotate_dart,
    round_back,
    seat,
    set_allowance,
    set_cut,
    set_hem,
    set_zip,
    shape_opening,
    shift_dart,
    shorten_dart,
    shoulder_slope,
    shoulder_width,
    smooth_line,
    space_buttons,
    square_hem,
    straighten_sleeve,
    sway_back,
    true_dart,
    true_seam,
    turn_grain,
    turn_seam,
    unfold,
    vent,
    wedge,
    widen,
)
from clothwright.changes.change import Change
from clothwright.changes.move_edge import corner_moved
from clothwright.changes.redraw import swung_edge
from clothwright.demo.three_sizes import nested_skirt
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One change on one specimen.

    params: a true change. none: parameters that mean "no change". undo: parameters that take
    `params` back, within `undo_mm` at every place; None when it cannot be taken back.
    touched: the pieces that may change; all others must be the same objects.
    impossible: parameters that must be refused, with words the refusal must hold.
    renames: the change may alter names of edges, darts or pieces.
    closes: edges that are no more, because two pieces became one along them.
    move_mm: how far a turned, shifted or mirrored input may come out from the moved output.
    """

    change: Change[Any]
    pattern: Callable[[], Pattern]
    params: Any
    touched: tuple[str, ...]
    none: Any = None
    undo: Any = None
    undo_mm: float = 1e-6
    impossible: tuple[tuple[Any, tuple[str, ...]], ...] = ()
    renames: bool = False
    move_mm: float = 1e-6
    closes: tuple[tuple[str, str], ...] = ()

    @property
    def label(self) -> str:
        return f"{self.change.id} {self.pattern.__name__} {'+'.join(self.touched)}"


def dropped_tip() -> Pattern:
    """The bodice with the front's shoulder tip 12 mm lower and 8 mm further in."""
    pattern = bodice()
    front = pattern.piece("front")
    tip = front.index("shoulder")
    return pattern.with_piece(corner_moved(front, tip, Vec(-8.0, -12.0), ("",), (None, None)))


def long_front() -> Pattern:
    """The bodice with its front side seam 3/8 in longer than the back's, at the hem."""
    pattern = bodice()
    front = pattern.piece("front")
    side = front.edge("side")
    start = side.path.start - side.path.start_tangent * (3 / 8 * INCH)
    hem = swung_edge(front, "hem", end=start).path
    first = side.path.segments[0]
    path = replace(side.path, segments=(type(first)(start, first.end), *side.path.segments[1:]))
    by = 3 / 8 * INCH
    edges = tuple(
        replace(e, path=hem)
        if e.name == "hem"
        else replace(e, path=path, notches=tuple(replace(n, at=n.at + by) for n in e.notches))
        if e.name == "side"
        else e
        for e in front.edges
    )
    darts = tuple(replace(d, a=d.a + by, b=d.b + by) for d in front.darts)
    return pattern.with_piece(replace(front, edges=edges, darts=darts))


def shirt_with_lower_neck() -> Pattern:
    """The shirt with its neck 1 cm lower, its stand and collar as they were."""
    how = shape_opening.ShapeOpening(edges=("front.neck", "yoke.neck"), lower=10.0, shoulder=6.0)
    return shape_opening.apply(GARMENTS["shirt"](), how).pattern


def old_lining() -> Pattern:
    """The bodice with a lining of its front, drawn elsewhere, whose tip the front has no more."""
    from clothwright.geometry.transform import rotation_deg
    from clothwright.pattern.whole import moved

    pattern = dropped_tip()
    lining = replace(moved(bodice().piece("front"), rotation_deg(-20.0)), name="lining front")
    return replace(pattern, pieces=(*pattern.pieces, lining))


def low_dart() -> Pattern:
    """The bodice with an upright dart that opens at the front's hem."""
    from clothwright.changes.darts import with_path_between, with_true_cap
    from clothwright.pattern.piece import Dart

    pattern = bodice()
    front = pattern.piece("front")
    dart = Dart(name="waist", edge="hem", a=96.0, b=120.0, point=Vec(108.0, 120.0), pressed="start")
    front = replace(front, darts=(*front.darts, dart), marks=())
    cap = polyline(((96.0, 0.0), (120.0, 0.0)))
    front = with_true_cap(with_path_between(front, "hem", 96.0, 120.0, cap), "waist")
    return pattern.with_piece(front)


def two_darts() -> Pattern:
    """That bodice with a bust point between the points of both darts of its front."""
    pattern = low_dart()
    mark = Mark(name="bust point", at=Vec(104.0, 180.0))
    return pattern.with_piece(replace(pattern.piece("front"), marks=(mark,)))


def bent_side() -> Pattern:
    """The bodice with its bust dart's point 4 cm nearer the side, its legs made equal again.

    Closed, the dart bends the side seam.
    """
    from clothwright.changes.legs import with_legs

    pattern = bodice()
    front = pattern.piece("front")
    dart = replace(front.dart("bust"), point=Vec(150.0, 190.0))
    front = replace(front, darts=(dart,))
    legs = [front.edge("side").path.point_at(at).distance(dart.point) for at in (dart.a, dart.b)]
    return pattern.with_piece(with_legs(front, dart, sum(legs) / 2))


def split_front() -> Pattern:
    """The bodice with its front cut in two from the shoulder to the hem."""
    params = PIECE(piece="front", start="shoulder middle", end="hem middle")
    pattern = bodice()
    bare = replace(pattern.piece("front"), darts=())
    return piece_panel.apply(pattern.with_piece(bare), params).pattern


def yoked() -> Pattern:
    """The bodice with its back cut in two at the chest line."""
    params = PIECE(piece="back", line="chest", names="yoke, lower back")
    return piece_panel.apply(bodice(), params).pattern


def crooked_dart() -> Pattern:
    """The bodice with its bust dart's point moved up, so that the legs differ."""
    pattern = bodice()
    front = pattern.piece("front")
    darts = tuple(replace(d, point=d.point + Vec(0, 15)) for d in front.darts)
    return pattern.with_piece(replace(front, darts=darts))


def buttoned() -> Pattern:
    """A bodice with four buttons up the front, the second too low, and one buttonhole."""
    p = bodice()
    front = p.piece("front")
    spots = ((30.0, 60.0), (30.0, 110.0), (30.0, 220.0), (30.0, 300.0))
    marks = tuple(Mark(name=f"button {n}", at=Vec(*at)) for n, at in enumerate(spots, start=1))
    slot = Mark(name="buttonhole 1", path=polyline(((20.0, 60.0), (40.0, 60.0))))
    return p.with_piece(replace(front, marks=(*front.marks, *marks, slot)))


def slipped_notch() -> Pattern:
    """A front whose waist notch lies 14 mm too high at the side."""
    at = outfit().piece("front").edge("side").notches[0].at
    return with_notch(outfit(), "front", "side", 0, at=at + 14.0)


def lost_notch() -> Pattern:
    """A back without the waist notch of its side."""
    return without_notch(outfit(), "back", "side", 0)


def high_waist() -> Pattern:
    """The bodice with the front's waist level 12 mm higher than the back's."""
    pattern = bodice()
    front = pattern.piece("front")
    levels = tuple(
        replace(lv, at=lv.at + Vec(0, 12)) if lv.name == "waist" else lv for lv in front.levels
    )
    return pattern.with_piece(replace(front, levels=levels))


def faced_bodice() -> Pattern:
    """The bodice with its neck faced."""
    asked = draft_facing.DraftFacing(edges=("front.neck", "back.neck"), width=50.0)
    return draft_facing.CHANGE.apply(bodice(), asked).pattern


LENGTHEN = lengthen.Lengthen
WEDGE = wedge.LetInWedge
WIDEN = widen.Widen
HOLLOW = hollow.Hollow
CROP = crop.Crop
MATCH = match_edge.MatchEdge
ALLOW = set_allowance.SetAllowance
LEVEL = match_level.MatchLevel
NOTCH = match_notch.MatchNotch
FIT = fit_cap.FitCap
MOVE = move_edge.MoveEdge
HEM = set_hem.SetHem
SQUARE = square_hem.SquareHem
TRUE = true_seam.TrueSeam
UNFOLD = unfold.Unfold
MIRROR = mirror.Mirror
GRAIN = turn_grain.TurnGrain
STAND = button_stand.ButtonStand
BUTTONS = space_buttons.SpaceButtons
VENT = vent.Vent
ZIP = set_zip.SetZip
PLACKET = placket.Placket
ABDOMEN = abdomen.Abdomen
GODET = godet.Godet
GUSSET = gusset.Gusset
KNIT = knit_reduction.KnitReduction
SIZE = choose_size.ChooseSize
BLEND = blend_sizes.BlendSizes
SIDES = ("skirt front.side", "skirt back.side")
PANELS = ("skirt front", "skirt back")
PIECE = piece_panel.PiecePanel
BAND = apply_band.ApplyBand
FACING = draft_facing.DraftFacing
COLLAR = draft_collar.DraftCollar
PATCH = draft_patch_pocket.DraftPatchPocket
BAG = draft_seam_pocket.DraftSeamPocket
BINDING = draft_binding.DraftBinding
INTERFACING = draft_interfacing.DraftInterfacing
LINING = draft_lining.DraftLining
WAISTBAND = draft_waistband.DraftWaistband
WAISTS = ("skirt front.waist", "skirt back.waist")
ROTATE = rotate_dart.RotateDart
SHORTEN = shorten_dart.ShortenDart
CAP = true_dart.TrueDart
MERGE = merge_darts.MergeDarts
DIVIDE = divide_dart.DivideDart
ADD = add_dart.AddDart
RELEASE = release_dart.ReleaseDart
TO_SEAM = dart_to_seam.DartToSeam
LET_OUT = let_out.LetOut
OPENING = shape_opening.ShapeOpening
SMOOTH = smooth_line.SmoothLine
JOIN = join_pieces.JoinPieces
FLARE = add_flare.AddFlare
SEAT = seat.Seat
SHIFT = shift_dart.ShiftDart
TO_HEM = elbow_to_hem.ElbowToHem
TO_EASE = elbow_to_ease.ElbowToEase
STRAIGHT = straighten_sleeve.StraightenSleeve

ARM = full_upper_arm.FullUpperArm
BUST = full_bust.FullBust
FORWARD = forward_shoulder.ForwardShoulder
GAPE = gaping.Gaping
ROUND = round_back.RoundBack
SWAY = sway_back.SwayBack
BACK = broad_back.BroadBack
SHOULDER = shoulder_width.ShoulderWidth
SLOPE = shoulder_slope.ShoulderSlope

REDRAWN_MM = 0.5
"""mm: a line drawn fair where it ran over a seam comes back so near to what it was."""

BOTH_HEMS = ("front.hem", "back.hem")


def pleated_skirt() -> Pattern:
    """The skirt with its front's hem laid in two pleats on its back's, for the table alone."""
    pattern = skirt()
    hems = seam("flounce", "skirt back.hem", "skirt front.hem", ease=80.0, join="pleated", folds=2)
    return replace(pattern, seams=(*pattern.seams, hems))


ROWS: tuple[Row, ...] = (
    Row(
        change=fold_pleats.CHANGE,
        pattern=pleated_skirt,
        params=fold_pleats.FoldPleats(seam="flounce", down=40.0),
        touched=("skirt front",),
        impossible=(
            (fold_pleats.FoldPleats(seam="skirt side"), ("skirt side", "how many pleats")),
            (fold_pleats.FoldPleats(seam="flonce"), ("flounce",)),
        ),
    ),
    Row(
        change=forward_shoulder.CHANGE,
        pattern=bodice,
        params=FORWARD(seam="shoulder seam", by=8.0),
        none=FORWARD(seam="shoulder seam", by=0.0),
        undo=FORWARD(seam="shoulder seam", by=-8.0),
        undo_mm=2.0,  # what is put back on an armhole runs on straight
        touched=("front", "back"),
        impossible=(
            (FORWARD(seam="side seam", by=8.0), ("Side seam", "shoulder")),
            (FORWARD(seam="shoulder seam", by=120.0), ("front", "at most")),
        ),
    ),
    Row(
        change=gaping.CHANGE,
        pattern=bodice,
        params=GAPE(at="front.neck", by=8.0, into="front.side"),
        none=GAPE(at="front.neck", by=0.0, into="front.side"),
        touched=("front",),
        impossible=(
            (GAPE(at="front.neck", by=8.0, into="front.neck"), ("neck", "another edge")),
            (GAPE(at="back.neck", by=8.0, into="back.shoulder"), ("back", "bust point")),
            (GAPE(at="front.neck", by=190.0, into="front.side"), ("front", "at most")),
        ),
    ),
    Row(
        change=gaping.CHANGE,
        pattern=bodice,
        params=GAPE(at="front.armhole", by=6.0, into="front.hem"),
        touched=("front",),
    ),
    Row(
        change=round_back.CHANGE,
        pattern=bodice,
        params=ROUND(piece="back", by=10.0),
        none=ROUND(piece="back", by=0.0),
        undo=ROUND(piece="back", by=-10.0),
        touched=("back",),
        impossible=(
            (ROUND(piece="back", by=10.0, into="seam"), ("back", "fold", "dart")),
            (ROUND(piece="back", by=-10.0), ("back", "no dart in shoulder")),
            (ROUND(piece="back", by=300.0), ("back", "narrow")),
        ),
    ),
    Row(
        change=sway_back.CHANGE,
        pattern=bodice,
        params=SWAY(piece="back", by=12.0, level="waist"),
        none=SWAY(piece="back", by=0.0, level="waist"),
        # the fold is drawn straight again; with a centre seam it comes back (tests/changes)
        touched=("back",),
        impossible=(
            (SWAY(piece="back", by=900.0, level="waist"), ("back", "short")),
            (SWAY(piece="back", by=9.0, level="wast"), ("wast", "waist")),
            (SWAY(piece="front", by=9.0, level="rib", above=60.0), ("front", "bust")),
        ),
    ),
    Row(
        change=shoulder_width.CHANGE,
        pattern=bodice,
        params=SHOULDER(pieces=("front", "back"), by=10.0),
        none=SHOULDER(pieces=("front", "back"), by=0.0),
        undo=SHOULDER(pieces=("front", "back"), by=-10.0),
        undo_mm=REDRAWN_MM,
        touched=("front", "back"),
        impossible=(
            (SHOULDER(pieces=("front",), by=-120.0), ("front", "shorter", "smaller")),
            (SHOULDER(pieces=("front",), by=900.0), ("front", "longer")),
        ),
    ),
    Row(
        change=broad_back.CHANGE,
        pattern=bodice,
        params=BACK(piece="back", by=8.0),
        none=BACK(piece="back", by=0.0),
        # undone, the seam's ease comes back but for the last digit (tests/changes/test_shoulders)
        touched=("back",),
    ),
    Row(
        change=broad_back.CHANGE,
        pattern=bodice,
        params=BACK(piece="back", by=12.0, into="dart"),
        undo=BACK(piece="back", by=-12.0),
        touched=("back",),
        impossible=(
            (BACK(piece="back", by=-12.0, into="dart"), ("back", "at most", "ease")),
            (BACK(piece="bock", by=-12.0), ("bock", "back")),
        ),
    ),
    Row(
        change=shoulder_slope.CHANGE,
        pattern=bodice,
        params=SLOPE(pieces=("front", "back"), by=10.0),
        none=SLOPE(pieces=("front", "back"), by=0.0),
        undo=SLOPE(pieces=("front", "back"), by=-10.0),
        undo_mm=REDRAWN_MM,
        touched=("front", "back"),
        impossible=(
            (SLOPE(pieces=("front",), by=200.0), ("front", "long", "less than")),
            (SLOPE(pieces=("frunt",), by=10.0), ("frunt", "front")),
        ),
    ),
    Row(
        change=shoulder_slope.CHANGE,
        pattern=bodice,
        params=SLOPE(pieces=("back",), by=-8.0, armhole="tip"),
        undo=SLOPE(pieces=("back",), by=8.0, armhole="tip"),
        undo_mm=REDRAWN_MM,
        touched=("back",),
    ),
    Row(
        change=full_upper_arm.CHANGE,
        pattern=sleeve,
        params=ARM(piece="sleeve", by=20.0),
        none=ARM(piece="sleeve", by=0.0),
        undo=ARM(piece="sleeve", by=-20.0),
        undo_mm=REDRAWN_MM,
        touched=("sleeve",),
        impossible=(
            (ARM(piece="sleeve", by=200.0), ("sleeve", "cap's height", "less than")),
            (ARM(piece="slieve", by=20.0), ("slieve", "sleeve")),
        ),
    ),
    Row(
        change=full_bust.CHANGE,
        pattern=bodice,
        params=BUST(piece="front", by=15.0),
        none=BUST(piece="front", by=0.0),
        undo=BUST(piece="front", by=-15.0),
        touched=("front",),
        impossible=(
            (BUST(piece="front", by=-14.0), ("front", "used up", "narrower")),
            (BUST(piece="front", by=-90.0), ("front", "armhole")),
            (BUST(piece="back", by=10.0), ("back", "bust point")),
            (BUST(piece="front", by=10.0, point="back.underarm"), ("front",)),
        ),
    ),
    Row(
        change=rotate_dart.CHANGE,
        pattern=bodice,
        params=ROTATE(dart="front.bust", to="front.shoulder"),
        none=ROTATE(dart="front.bust", to="front.shoulder", share=0.0),
        touched=("front",),
        impossible=(
            (ROTATE(dart="front.bust", to="front.centre"), ("front", "fold")),
            (ROTATE(dart="front.bist", to="front.shoulder"), ("bust",)),
            (ROTATE(dart="front.bust", to="front.shoulder", share=1.5), ("100 %",)),
        ),
    ),
    Row(
        change=shorten_dart.CHANGE,
        pattern=bodice,
        params=SHORTEN(dart="front.bust", by=12.0),
        none=SHORTEN(dart="front.bust", by=0.0),
        undo=SHORTEN(dart="front.bust", by=-12.0),
        touched=("front",),
        impossible=((SHORTEN(dart="front.bust", by=900.0), ("front", "by")),),
    ),
    Row(
        change=true_dart.CHANGE,
        pattern=crooked_dart,
        params=CAP(dart="front.bust"),
        touched=("front",),
        impossible=((CAP(dart="front.bist"), ("bust",)),),
    ),
    Row(
        change=shift_dart.CHANGE,
        pattern=low_dart,
        params=SHIFT(dart="front.waist", by=25.0),
        none=SHIFT(dart="front.waist", by=0.0),
        undo=SHIFT(dart="front.waist", by=-25.0),
        undo_mm=1e-3,  # lengths of caps
        touched=("front",),
        impossible=(
            (SHIFT(dart="front.waist", by=900.0), ("front", "at most")),
            (SHIFT(dart="front.waste", by=9.0), ("waist",)),
        ),
    ),
    Row(
        change=merge_darts.CHANGE,
        pattern=two_darts,
        params=MERGE(dart="front.bust", into="front.waist"),
        touched=("front",),
        impossible=(
            (MERGE(dart="front.bust", into="front.waste"), ("waist",)),
            (MERGE(dart="front.bust", into="front.bust"), ("another dart",)),
        ),
    ),
    Row(
        change=divide_dart.CHANGE,
        pattern=bodice,
        params=DIVIDE(dart="front.bust", into=3),
        touched=("front",),
        impossible=(
            (DIVIDE(dart="front.bust", short=900.0), ("front", "before that place")),
            (DIVIDE(dart="front.bust", into=6, apart=60.0), ("front", "fewer")),
        ),
    ),
    Row(
        change=add_dart.CHANGE,
        pattern=bodice,
        params=ADD(edge="back.hem", width=20.0, length=120.0),
        touched=("back",),
        impossible=(
            (ADD(edge="back.hem", width=400.0, length=120.0), ("back", "wide")),
            (ADD(edge="back.hem", width=20.0, length=900.0), ("back", "leave the piece")),
            (ADD(edge="back.side", seam="side seam", length=60.0), ("back", "not too long")),
            (ADD(edge="back.fold", width=20.0, length=90.0), ("fold",)),
            (ADD(edge="front.side", width=20.0, length=60.0, at=150.0), ("bust",)),
            (
                ADD(edge="back.hem", width=20.0, length=60.0, toward="back.hem middle"),
                ("where it opens", "inside the piece"),
            ),
        ),
    ),
    Row(
        change=release_dart.CHANGE,
        pattern=bodice,
        params=RELEASE(dart="front.bust"),
        touched=("front", "back"),
        renames=True,  # the seam says what is gathered: its sides may change places
        impossible=(
            (RELEASE(dart="front.bust", reach=900.0), ("front", "reach of")),
            (RELEASE(dart="front.bast"), ("bust",)),
        ),
    ),
    Row(
        change=release_dart.CHANGE,
        pattern=low_dart,
        params=RELEASE(dart="front.waist", into="cut off"),
        touched=("front",),
        impossible=((RELEASE(dart="front.waist"), ("not sewn",)),),
    ),
    Row(
        change=dart_to_seam.CHANGE,
        pattern=two_darts,
        params=TO_SEAM(dart="front.bust", other="front.waist"),
        touched=("front inner", "front outer"),
        renames=True,  # one piece becomes two
        impossible=(
            (TO_SEAM(dart="front.bust"), ("no other end",)),
            (TO_SEAM(dart="front.bust", other="front.bust"), ("another dart",)),
            (TO_SEAM(dart="front.bust", to="front.side", at=20.0), ("another edge",)),
        ),
    ),
    Row(
        change=dart_to_seam.CHANGE,
        pattern=low_dart,
        params=TO_SEAM(dart="front.bust", to="front.fold", names="yoke, front"),
        touched=("yoke", "front"),
        renames=True,
    ),
    Row(
        change=draw_like.CHANGE,
        pattern=old_lining,
        params=draw_like.DrawLike(edges=("lining front.armhole",), like="front.armhole"),
        none=draw_like.DrawLike(edges=("lining front.side",), like="front.side"),
        touched=("lining front",),
        impossible=(
            (draw_like.DrawLike(edges=("lining front.armhole",)), ("no other edge",)),
            (
                draw_like.DrawLike(edges=("lining front.neck",), like="back.hem"),
                ("do not have one shape",),
            ),
            (
                draw_like.DrawLike(
                    edges=("lining front.neck", "lining front.side"), like="front.neck"
                ),
                ("one of them",),
            ),
            (draw_like.DrawLike(edges=("front.neck",), like="front.hem"), ("one piece",)),
        ),
    ),
    Row(
        change=fit_corner.CHANGE,
        pattern=dropped_tip,
        params=fit_corner.FitCorner(corner="front.shoulder tip"),
        touched=("front",),
        impossible=(
            (fit_corner.FitCorner(corner="front.tip of the nose"), ("front", "nose")),
            (fit_corner.FitCorner(corner="front.neck centre"), ("sewn",)),
            (
                fit_corner.FitCorner(corner="front.shoulder tip", other="back.shoulder tip"),
                ("two pieces",),
            ),
        ),
    ),
    Row(
        change=fit_band.CHANGE,
        pattern=shirt_with_lower_neck,
        params=fit_band.FitBand(seam="neck", other="collar"),
        touched=("collar stand", "collar"),
        impossible=(
            (fit_band.FitBand(seam="side"), ("no band",)),
            (fit_band.FitBand(seam="nick"), ("nick", "neck")),
        ),
    ),
    Row(
        change=fit_dart.CHANGE,
        pattern=long_front,
        params=fit_dart.FitDart(dart="front.bust", seam="side seam"),
        touched=("front",),
        impossible=(
            (fit_dart.FitDart(dart="front.bust", seam="shoulder seam"), ("front, shoulder",)),
            (fit_dart.FitDart(dart="front.bist", seam="side seam"), ("bust",)),
        ),
    ),
    Row(
        change=elbow_to_hem.CHANGE,
        pattern=sleeve,
        params=TO_HEM(dart="sleeve.elbow"),
        touched=("sleeve",),
        impossible=(
            (TO_HEM(dart="sleeve.elbow", hem="sleeve.back underarm"), ("back underarm",)),
            (TO_HEM(dart="sleeve.elbow", at=900.0), ("sleeve", "0 to")),
        ),
    ),
    Row(
        change=elbow_to_ease.CHANGE,
        pattern=sleeve,
        params=TO_EASE(dart="sleeve.elbow"),
        touched=("sleeve",),
        impossible=((TO_EASE(dart="sleeve.elbow", reach=900.0), ("sleeve", "reach of")),),
    ),
    Row(
        change=straighten_sleeve.CHANGE,
        pattern=sleeve,
        params=STRAIGHT(dart="sleeve.elbow", along="biceps"),
        touched=("sleeve",),
        impossible=((STRAIGHT(dart="sleeve.elbow"), ("sleeve", "biceps")),),
    ),
    Row(
        change=lengthen.CHANGE,
        pattern=bodice,
        params=LENGTHEN(pieces=("front", "back"), level="waist", by=18.0),
        none=LENGTHEN(pieces=("front", "back"), level="waist", by=0.0),
        undo=LENGTHEN(pieces=("front", "back"), level="waist", by=-18.0),
        touched=("front", "back"),
        impossible=(
            (LENGTHEN(pieces=("front",), level="waist", by=5.0, above=130.0), ("front", "bust")),
            (LENGTHEN(pieces=("front",), level="waist", by=5.0, above=-90.0), ("front", "higher")),
            (LENGTHEN(pieces=("front",), level="waist", by=-300.0), ("front", "shorten by")),
            (LENGTHEN(pieces=("frint",), level="waist", by=5.0), ("frint", "front")),
            (LENGTHEN(pieces=("front",), level="wast", by=5.0), ("wast", "waist")),
        ),
    ),
    Row(
        change=lengthen.CHANGE,
        pattern=skirt,
        params=LENGTHEN(pieces=("skirt front",), level="hip", by=25.0, above=30.0),
        none=LENGTHEN(pieces=("skirt front",), level="hip", by=0.0),
        # the curve over the hip is blended afresh each time
        undo=LENGTHEN(pieces=("skirt front",), level="hip", by=-25.0, above=30.0),
        undo_mm=1.5,
        touched=("skirt front",),
        impossible=(
            (LENGTHEN(pieces=("skirt front",), level="hip", by=-80.0, above=160.0), ("waist",)),
        ),
    ),
    Row(
        change=lengthen.CHANGE,
        pattern=sleeve,
        params=LENGTHEN(pieces=("sleeve",), level="wrist", by=-30.0),
        none=LENGTHEN(pieces=("sleeve",), level="wrist", by=0.0),
        undo=LENGTHEN(pieces=("sleeve",), level="wrist", by=30.0),
        touched=("sleeve",),
    ),
    Row(
        change=hollow.CHANGE,
        pattern=bodice,
        params=HOLLOW(edge="front.armhole", by=8.0),
        none=HOLLOW(edge="front.armhole", by=0.0),
        undo=HOLLOW(edge="front.armhole", by=-8.0),
        undo_mm=0.5,  # its middle is found along another length
        touched=("front",),
        impossible=(
            (HOLLOW(edge="front.armhole", by=600.0), ("front", "armhole")),
            (HOLLOW(edge="front.centre", by=5.0), ("front", "fold")),
            (HOLLOW(edge="front.armhoel", by=5.0), ("armhoel", "armhole")),
        ),
    ),
    Row(
        change=widen.CHANGE,
        pattern=bodice,
        params=WIDEN(edge="back.shoulder", by=12.0),
        none=WIDEN(edge="back.shoulder", by=0.0),
        touched=("back",),
        impossible=(
            (WIDEN(edge="back.shoulder", by=-300.0), ("back", "narrower by")),
            (WIDEN(edge="back.shoulder", by=5.0, at=900.0), ("shoulder", "long")),
            (WIDEN(edge="back.shouder", by=5.0), ("shouder", "shoulder")),
        ),
    ),
    Row(
        change=widen.CHANGE,
        pattern=skirt,
        params=WIDEN(edge="skirt back.hem", by=-18.0),
        none=WIDEN(edge="skirt back.hem", by=0.0),
        touched=("skirt back",),
    ),
    Row(
        change=wedge.CHANGE,
        pattern=bodice,
        params=WEDGE(edge="back.side", by=8.0),
        none=WEDGE(edge="back.side", by=0.0),
        touched=("back",),
        impossible=(
            (WEDGE(edge="back.side", by=900.0), ("back", "at most")),
            (WEDGE(edge="back.hem", by=8.0), ("hem", "runs across")),
            (WEDGE(edge="back.side", by=8.0, to="back.side"), ("back", "another edge")),
            (WEDGE(edge="back.sid", by=8.0), ("sid", "side")),
        ),
    ),
    Row(
        change=wedge.CHANGE,
        pattern=skirt,
        params=WEDGE(edge="skirt back.hem", by=-12.0, to="skirt back.side"),
        none=WEDGE(edge="skirt back.hem", by=0.0, to="skirt back.side"),
        touched=("skirt back",),
    ),
    Row(
        change=crop.CHANGE,
        pattern=bodice,
        params=CROP(edges=BOTH_HEMS, length=17 * INCH),
        none=CROP(edges=BOTH_HEMS, length=18 * INCH),
        undo=CROP(edges=BOTH_HEMS, length=18 * INCH),
        undo_mm=1e-6,
        touched=("front", "back"),
        impossible=(
            (CROP(edges=BOTH_HEMS, length=10.5 * INCH), ("front", "bust", "lower")),
            (CROP(edges=("back.hem",), length=0.5 * INCH), ("back", "lower")),
            (CROP(edges=BOTH_HEMS, length=17 * INCH, point="nek point"), ("neck point",)),
            (CROP(edges=BOTH_HEMS, length=-1.0), ("length",)),
            (CROP(edges=BOTH_HEMS, length=430.0, allowance=-1.0), ("allowance",)),
        ),
    ),
    Row(
        change=crop.CHANGE,
        pattern=low_dart,
        params=CROP(edges=("front.hem",), length=16.5 * INCH, allowance=20.0),
        touched=("front",),
    ),
    Row(
        change=let_out.CHANGE,
        pattern=skirt,
        params=LET_OUT(edges=SIDES, by=50.0, level="hip", full="down"),
        none=LET_OUT(edges=SIDES, by=0.0, level="hip"),
        undo=LET_OUT(edges=SIDES, by=-50.0, level="hip", full="down"),
        undo_mm=1e-3,  # lengths of curves
        touched=PANELS,
        impossible=(
            (LET_OUT(edges=("skirt front.fold",), by=50.0, level="hip", full="both"), ("fold",)),
            (LET_OUT(edges=SIDES, by=-1900.0, level="hip"), ("a third", "400 mm altogether")),
            (LET_OUT(edges=SIDES, by=9.0, level="hop"), ("hip",)),
        ),
    ),
    Row(
        change=let_out.CHANGE,
        pattern=low_dart,
        params=LET_OUT(edges=("front.side", "back.side"), by=-30.0, level="waist", darts=True),
        touched=("front", "back"),
    ),
    Row(
        change=match_edge.CHANGE,
        pattern=long_front,
        params=MATCH(seam="side seam", edge="front.side", at="end"),
        none=MATCH(seam="shoulder seam", edge="front.shoulder"),
        touched=("front",),
        impossible=(
            (MATCH(seam="side seam", edge="front.neck"), ("side seam", "front, side")),
            (MATCH(seam="side sem", edge="front.side"), ("side seam",)),
        ),
    ),
    Row(
        change=match_edge.CHANGE,
        pattern=long_front,
        params=MATCH(seam="side seam", edge="back.side", at="both", neighbour="parallel"),
        touched=("back",),
    ),
    Row(
        change=set_allowance.CHANGE,
        pattern=bodice,
        params=ALLOW(edges=("front.side", "back.side"), amount=25.0),
        none=ALLOW(edges=("all seams",), amount=5 / 8 * INCH),
        undo=ALLOW(edges=("all seams",), amount=5 / 8 * INCH),
        touched=("front", "back"),
        impossible=(
            (ALLOW(edges=("front.side",), amount=-3.0), ("0 or more",)),
            (ALLOW(edges=("front.fold",), amount=3.0), ("front, fold", "unfold")),
            (ALLOW(edges=("front.sid",), amount=3.0), ("front", "side")),
        ),
    ),
    Row(
        change=match_level.CHANGE,
        pattern=high_waist,
        params=LEVEL(level="waist", seam="side seam", piece="front"),
        none=LEVEL(level="rib", seam="side seam", piece="front"),
        touched=("front",),
        impossible=(
            (LEVEL(level="chest", seam="shoulder seam", piece="front"), ("chest", "back")),
            (LEVEL(level="waist", seam="side seam", piece="sleeve"), ("sleeve", "front")),
        ),
    ),
    Row(
        change=match_level.CHANGE,
        pattern=high_waist,
        params=LEVEL(level="waist", seam="side seam", piece="back", how="line"),
        touched=("back",),
    ),
    Row(
        change=move_edge.CHANGE,
        pattern=bodice,
        params=MOVE(edge="front.side", by=10.0),
        none=MOVE(edge="front.side", by=0.0),
        touched=("front",),
        impossible=(
            (MOVE(edge="front.side", by=-400.0), ("front, side",)),
            (MOVE(by=10.0), ("neither",)),
            (MOVE(corner="front.undrarm", by=10.0), ("underarm",)),
            (MOVE(corner="front.neck centre", by=9.0, direction="across"), ("fold",)),
        ),
    ),
    Row(
        change=move_edge.CHANGE,
        pattern=bodice,
        params=MOVE(corner="back.underarm", by=12.0, direction="down"),
        undo=MOVE(corner="back.underarm", by=-12.0, direction="down"),
        touched=("back",),
    ),
    Row(
        change=move_edge.CHANGE,
        pattern=skirt,
        params=MOVE(corner="skirt back.waist side", by=12.0, direction="across", reach=90.0),
        touched=("skirt back",),
    ),
    Row(
        change=move_edge.CHANGE,
        pattern=skirt,
        params=MOVE(edge="skirt back.fold", by=15.0, direction="across"),
        undo=MOVE(edge="skirt back.fold", by=-15.0, direction="across"),
        touched=("skirt back",),
    ),
    Row(
        change=move_edge.CHANGE,
        pattern=bodice,
        params=MOVE(edge="front.shoulder", by=8.0, direction="up", neighbours="follow"),
        undo=MOVE(edge="front.shoulder", by=8.0, direction="down", neighbours="follow"),
        touched=("front",),
    ),
    Row(
        change=shape_opening.CHANGE,
        pattern=bodice,
        params=OPENING(edges=("front.neck", "back.neck"), lower=20.0, shoulder=12.0),
        none=OPENING(edges=("front.neck", "back.neck")),
        undo=OPENING(edges=("front.neck", "back.neck"), lower=-20.0, shoulder=-12.0),
        undo_mm=0.5,  # its own corner is drawn fair
        touched=("front", "back"),
        impossible=(
            (OPENING(edges=("front.neck",), shoulder=900.0), ("ront, shoulder", "at most")),
            (OPENING(edges=("front.nek",), lower=9.0), ("neck",)),
        ),
    ),
    Row(
        change=shape_opening.CHANGE,
        pattern=bodice,
        params=OPENING(edges=("front.armhole", "back.armhole"), lower=-12.0),
        undo=OPENING(edges=("front.armhole", "back.armhole"), lower=12.0),
        undo_mm=0.5,  # its own corner is drawn fair
        touched=("front", "back"),
        impossible=((OPENING(edges=("front.armhole",), lower=90.0), ("dart opens there",)),),
    ),
    Row(
        change=smooth_line.CHANGE,
        pattern=bent_side,
        params=SMOOTH(edge="front.side", reach=30.0),
        none=SMOOTH(edge="back.side"),
        touched=("front",),
        impossible=(
            (SMOOTH(edge="front.fold"), ("fold",)),
            (SMOOTH(edge="front.side", at=900.0), ("ront, side", "0 to")),
        ),
    ),
    Row(
        change=join_pieces.CHANGE,
        pattern=yoked,
        params=JOIN(seam="back joining", name="whole back"),
        touched=("whole back",),
        renames=True,
        closes=(("yoke", "joining"), ("lower back", "joining")),
        impossible=(
            (JOIN(seam="side seam"), ("front", "dart opens")),
            (JOIN(seam="back joining", name="front"), ("front", "free")),
            (JOIN(seam="joining"), ("back joining",)),
        ),
    ),
    Row(
        change=seat.CHANGE,
        pattern=sleeve,
        params=SEAT(edge="sleeve.front underarm", by=-12.0, level="wrist", above=20.0),
        none=SEAT(edge="sleeve.front underarm", by=0.0, level="biceps"),
        touched=("sleeve",),
        impossible=(
            (SEAT(edge="sleeve.front underarm", by=9.0, level="bicep"), ("biceps",)),
            (SEAT(edge="sleeve.cap", by=9.0, level="wrist"), ("another height",)),
            (SEAT(edge="sleeve.front underarm", by=-900.0, level="wrist"), ("less than",)),
        ),
    ),
    Row(
        change=seat.CHANGE,
        pattern=split_front,
        params=SEAT(edge="front outer.joining", by=15.0, level="waist", above=20.0),
        touched=("front outer",),
        impossible=(
            (SEAT(edge="front inner.fold", by=9.0, level="waist"), ("fold",)),
            (SEAT(edge="front inner.joining", by=9.0, level="waist"), ("opposite",)),
        ),
    ),
    Row(
        change=add_flare.CHANGE,
        pattern=skirt,
        params=FLARE(edges=SIDES, by=40.0, line="hip"),
        none=FLARE(edges=SIDES, by=0.0),
        touched=PANELS,
        impossible=(
            (FLARE(edges=SIDES, by=900.0), ("flare of",)),
            (FLARE(edges=SIDES, by=9.0, line="hop"), ("hip",)),
            (FLARE(edges=SIDES, by=-9.0, where="spread"), ("skirt front", "side")),
        ),
    ),
    Row(
        change=add_flare.CHANGE,
        pattern=skirt,
        params=FLARE(edges=SIDES, by=60.0, where="spread", cuts=2),
        touched=PANELS,
    ),
    Row(
        change=square_hem.CHANGE,
        pattern=skirt,
        params=SQUARE(edge="skirt front.hem"),
        touched=("skirt front",),
        impossible=(
            (SQUARE(edge="skirt front.hem", through="skirt front.waist side"), ("lower",)),
            (SQUARE(edge="skirt front.hem", through="skirt back.hem side"), ("skirt front",)),
        ),
    ),
    Row(
        change=square_hem.CHANGE,
        pattern=long_front,
        params=SQUARE(edge="front.hem", through="front.hem side"),
        none=SQUARE(edge="back.hem"),
        touched=("front",),
    ),
    Row(
        change=match_notch.CHANGE,
        pattern=slipped_notch,
        params=NOTCH(seam="side", notch="front.side notch waist"),
        none=NOTCH(seam="underarm", notch="sleeve.back underarm notch elbow"),
        touched=("front",),
        impossible=(
            (NOTCH(seam="side", notch="front.side notch wrist"), ("wrist", "front")),
            (NOTCH(seam="shoulder", notch="front.side notch waist"), ("front, side", "shoulder")),
        ),
    ),
    Row(
        change=add_notch.CHANGE,
        pattern=lost_notch,
        params=add_notch.AddNotch(seam="side", notch="front.side notch waist"),
        touched=("back",),
        impossible=(
            (add_notch.AddNotch(seam="side", notch="front.side notch wrist"), ("wrist", "front")),
            (
                add_notch.AddNotch(seam="shoulder", notch="front.side notch waist"),
                ("front, side", "shoulder"),
            ),
        ),
    ),
    Row(
        change=fit_cap.CHANGE,
        pattern=outfit,
        params=FIT(seam="armhole", ease=33.0),
        none=FIT(seam="armhole"),
        undo=FIT(seam="armhole", ease=25.0),
        touched=("sleeve",),
        impossible=(
            (FIT(seam="armhole", ease=900.0), ("sleeve",)),
            (FIT(seam="side"), ("side",)),
        ),
    ),
    Row(
        change=turn_seam.CHANGE,
        pattern=bodice,
        params=turn_seam.TurnSeam(seam="side seam"),
        undo=turn_seam.TurnSeam(seam="side seam"),
        touched=(),
    ),
    Row(
        change=true_seam.CHANGE,
        pattern=bodice,
        params=TRUE(seam="shoulder seam", at="start", reach=40.0),
        touched=("front", "back"),
        impossible=(
            (TRUE(seam="shoulder seam", reach=1.0), ("front", "reach")),
            (TRUE(seam="shoulder"), ("shoulder seam",)),
        ),
    ),
    Row(
        change=true_seam.CHANGE,
        pattern=sleeve,
        params=TRUE(seam="underarm", at="end", reach=50.0),
        touched=("sleeve",),
    ),
    Row(
        change=set_hem.CHANGE,
        pattern=skirt,
        params=HEM(edges=("skirt front.hem", "skirt back.hem"), depth=60.0),
        none=HEM(edges=("skirt front.hem", "skirt back.hem"), depth=40.0, corners="extended"),
        undo=HEM(edges=("skirt front.hem", "skirt back.hem"), depth=40.0, corners="extended"),
        touched=("skirt front", "skirt back"),
        impossible=(
            (HEM(edges=("skirt front.fold",), depth=40.0), ("skirt front, fold", "another edge")),
            (HEM(edges=("skirt front.side",), depth=40.0), ("skirt side",)),
            (HEM(edges=("skirt front.hem",), depth=-4.0), ("depth",)),
        ),
    ),
    Row(
        change=unfold.CHANGE,
        pattern=bodice,
        params=UNFOLD(pieces=("front",)),
        touched=("front",),
        renames=True,  # twins are added
        impossible=((UNFOLD(pieces=("sleeve",)), ("sleeve", "front")),),
    ),
    Row(
        change=choose_size.CHANGE,
        pattern=nested_skirt,
        params=SIZE(size="15", pieces=PANELS),
        none=SIZE(size="14", pieces=PANELS),
        touched=PANELS,
        impossible=(
            (SIZE(size="18"), ("Size 18", "beyond them", "size 16")),
            (SIZE(size="10"), ("Size 10", "beyond them", "size 12")),
        ),
        move_mm=0.05,  # curves between sizes are fitted within 0.02 mm
    ),
    Row(
        change=blend_sizes.CHANGE,
        pattern=nested_skirt,
        params=BLEND(at="waist 12, hip 16", pieces=PANELS),
        none=BLEND(at="waist 14, hip 14", pieces=PANELS),
        touched=PANELS,
        impossible=(
            (BLEND(at="waist 12, hip 20"), ("Size 20", "beyond them", "size 16")),
            (BLEND(at="waist 12, hip 16"), ("waistband", "none of the levels", "name it")),
        ),
        move_mm=0.05,  # curves between sizes are fitted within 0.02 mm
    ),
    Row(
        change=set_cut.CHANGE,
        pattern=sleeve,
        params=set_cut.SetCut(pieces=("sleeve",), how="pair", count=3),
        none=set_cut.SetCut(pieces=("sleeve",), how="pair"),
        undo=set_cut.SetCut(pieces=("sleeve",), how="pair"),
        touched=("sleeve",),
        impossible=(
            (set_cut.SetCut(pieces=("sleeve",), how="fold"), ("Sleeve", "as a pair")),
            (set_cut.SetCut(pieces=("slave",)), ("slave", "sleeve")),
        ),
    ),
    Row(
        change=turn_grain.CHANGE,
        pattern=sleeve,
        params=GRAIN(piece="sleeve", edge="sleeve.front underarm"),
        touched=("sleeve",),
        impossible=((GRAIN(piece="sleeve", edge=""), ("sleeve", "middle", "edges")),),
    ),
    Row(
        change=mirror.CHANGE,
        pattern=sleeve,
        params=MIRROR(pieces=("sleeve",)),
        undo=MIRROR(pieces=("sleeve",)),
        touched=("sleeve",),
        renames=True,  # the order of edges turns round
    ),
    Row(
        change=space_buttons.CHANGE,
        pattern=buttoned,
        params=BUTTONS(pieces=("front",)),
        touched=("front",),
        impossible=(
            (BUTTONS(pieces=("back",)), ("back", "three", "more buttons")),
            (BUTTONS(pieces=("back",), line="centre"), ("back", "three", "more buttons")),
        ),
    ),
    Row(
        change=button_stand.CHANGE,
        pattern=bodice,
        params=STAND(edges=("front.fold",), button=18.0, count=4, last=60.0),
        touched=("front",),
        impossible=(
            (STAND(edges=("front.fold",), button=18.0, stand=15.0), ("stand", "or more")),
            (STAND(edges=("front.side",)), ("straight",)),
            (STAND(edges=("front.fold",), count=90), ("fewer",)),
            (STAND(edges=()), ("edge",)),
        ),
    ),
    Row(
        change=vent.CHANGE,
        pattern=bodice,
        params=VENT(seam="side seam", length=60.0),
        touched=("front", "back"),
        renames=True,  # an edge is divided
        impossible=(
            (VENT(seam="side seam", length=60.0, underlap=20.0), ("gape",)),
            (VENT(seam="side seam", length=20.0, underlap=40.0), ("wider",)),
            (VENT(seam="side seam", length=900.0), ("or less",)),
            (VENT(seam="side seam", length=0.0), ("length",)),
        ),
    ),
    Row(
        change=vent.CHANGE,
        pattern=skirt,
        params=VENT(seam="skirt side", length=180.0, underlap=40.0),
        touched=("skirt front", "skirt back"),
        renames=True,  # an edge is divided
    ),
    Row(
        change=set_zip.CHANGE,
        pattern=skirt,
        params=ZIP(seam="skirt side", length=180.0),
        touched=("skirt front", "skirt back"),
        renames=True,  # an edge is divided
        impossible=((ZIP(seam="skirt side", length=9000.0), ("or less",)),),
    ),
    Row(
        change=placket.CHANGE,
        pattern=skirt,
        params=PLACKET(seam="skirt side", length=180.0),
        touched=("skirt front", "skirt back", "placket"),
        renames=True,  # an edge is divided, a piece is added
        impossible=(
            (PLACKET(seam="skirt side", length=9000.0), ("or less",)),
            (PLACKET(seam="skirt side", length=180.0, width=0.0), ("width",)),
        ),
    ),
    Row(
        change=placket.CHANGE,
        pattern=skirt,
        params=PLACKET(seam="skirt side", length=180.0, style="two"),
        touched=("skirt front", "skirt back", "placket facing", "placket underlap"),
        renames=True,  # an edge is divided, pieces are added
    ),
    Row(
        change=godet.CHANGE,
        pattern=skirt,
        params=GODET(seam="skirt side", length=180.0, width=120.0),
        touched=("skirt front", "skirt back", "godet"),
        renames=True,  # an edge is divided, a piece is added
        impossible=(
            (GODET(seam="skirt side", length=100.0, width=320.0), ("two of them",)),
            (GODET(seam="skirt side", length=100.0, width=0.0), ("both",)),
        ),
    ),
    Row(
        change=abdomen.CHANGE,
        pattern=skirt,
        params=ABDOMEN(edge="skirt front.waist", by=20.0, level="hip"),
        none=ABDOMEN(edge="skirt front.waist", by=0.0, level="hip"),
        touched=("skirt front",),
        impossible=(
            (ABDOMEN(edge="skirt front.hem", by=900.0, level="hip"), ("hem",)),
            (ABDOMEN(edge="skirt front.side", by=9.0, level="hip"), ("centre", "side")),
            (ABDOMEN(edge="skirt front.waist", by=9.0, level="hp"), ("hip",)),
        ),
    ),
    Row(
        change=gusset.CHANGE,
        pattern=GARMENTS["knit top"],
        params=GUSSET(seam="side", other="sleeve seam", length=75.0, width=60.0),
        touched=("front", "back", "sleeve", "gusset"),
        renames=True,  # edges are divided, a piece is added
        impossible=(
            (GUSSET(seam="side", other="sleeve seam", length=75.0, width=149.0), ("or less",)),
            (GUSSET(seam="side", other="sleeve seam", length=75.0, width=0.0), ("both",)),
            (GUSSET(seam="side", other="shoulder", length=50.0, width=30.0), ("do not meet",)),
            (GUSSET(seam="side", length=50.0, width=30.0), ("do not meet",)),
        ),
    ),
    Row(
        change=gusset.CHANGE,
        pattern=GARMENTS["trousers"],
        params=GUSSET(seam="inseam", length=90.0, width=70.0),
        touched=("front", "back", "gusset"),
        renames=True,  # edges are divided, a piece is added
    ),
    Row(
        change=knit_reduction.CHANGE,
        pattern=bodice,
        params=KNIT(pieces=("front", "back"), across=0.08, along=0.02, stretch=0.3),
        none=KNIT(pieces=("front", "back"), across=0.0),
        touched=("front", "back"),
        impossible=(
            (KNIT(pieces=("front",), across=0.2, stretch=0.24), ("stretch", "19.4 %")),
            (KNIT(pieces=("front",), across=0.5), ("40 %",)),
            (KNIT(pieces=("fornt",), across=0.1), ("front",)),
        ),
    ),
    Row(
        change=apply_band.CHANGE,
        pattern=bodice,
        params=BAND(edges=BOTH_HEMS, depth=60.0),
        touched=("front", "back", "front hem band", "back hem band"),
        renames=True,  # pieces and seams are added
        impossible=(
            (BAND(edges=("front.side",), depth=60.0), ("dart", "another edge")),
            (BAND(edges=("front.hem",), depth=0.0), ("depth",)),
            (BAND(edges=("front.hen",), depth=10.0), ("hem",)),
        ),
    ),
    Row(
        change=draft_facing.CHANGE,
        pattern=bodice,
        params=FACING(edges=("front.neck", "back.neck")),
        touched=("front", "back", "front neck facing", "back neck facing"),
        renames=True,  # pieces and seams are added
        impossible=(
            (FACING(edges=("front.fold",)), ("front, fold", "another edge")),
            (FACING(edges=("front.neck",), width=0.0), ("width",)),
            (FACING(edges=("front.neck",), width=300.0), ("shoulder", "a width of")),
            (FACING(edges=("front.nek",)), ("neck",)),
            (FACING(edges=("front.neck", "back.neck"), whole=True), ("fold at both ends",)),
        ),
    ),
    Row(
        change=draft_facing.CHANGE,
        pattern=bodice,
        params=FACING(edges=("front.armhole", "back.armhole"), width=50.0, whole=True),
        touched=("armhole facing",),
        renames=True,
    ),
    Row(
        change=draft_facing.CHANGE,
        pattern=skirt,
        params=FACING(edges=("skirt front.waist", "skirt back.waist"), width=50.0),
        touched=("skirt front waist facing", "skirt back waist facing"),
        renames=True,
    ),
    Row(
        change=draft_lining.CHANGE,
        pattern=faced_bodice,
        params=LINING(pieces=("front", "back"), centre="back.fold", shorter=12.0),
        touched=("front lining", "back lining"),
        renames=True,  # pieces and seams are added
        impossible=(
            (LINING(pieces=()), ("No piece",)),
            (LINING(pieces=("frnt",)), ("front",)),
            (LINING(pieces=("front",), centre="back.fold"), ("back", "not to be lined")),
            (LINING(pieces=("back",), centre="back.armhole"), ("ack, armhole", "straight")),
            (LINING(pieces=("front",), shorter=900.0), ("front", "shorter")),
        ),
    ),
    Row(
        change=draft_lining.CHANGE,
        pattern=faced_bodice,
        params=LINING(pieces=("back",), centre="back.fold", level="waist"),
        touched=("back lining",),
        renames=True,
    ),
    Row(
        change=draft_interfacing.CHANGE,
        pattern=faced_bodice,
        params=INTERFACING(pieces=("front neck facing", "back"), inside=2.0),
        touched=("front neck facing interfacing", "back interfacing"),
        renames=True,  # pieces are added
        impossible=(
            (INTERFACING(pieces=()), ("No piece",)),
            (INTERFACING(pieces=("front",), inside=2.0), ("bust", "front")),
            (INTERFACING(pieces=("front",), inside=5.0), ("at most",)),
        ),
    ),
    Row(
        change=draft_binding.CHANGE,
        pattern=bodice,
        params=BINDING(edges=("front.armhole", "back.armhole"), longest=300.0),
        touched=("front", "back", "armhole binding"),
        renames=True,  # a piece and seams are added
        impossible=(
            (BINDING(edges=("front.armhole",), width=0.0), ("width",)),
            (BINDING(edges=("front.armhole",), longest=20.0), ("strips of",)),
            (BINDING(edges=("front.fold",)), ("front, fold",)),
        ),
    ),
    Row(
        change=draft_binding.CHANGE,
        pattern=bodice,
        params=BINDING(edges=("front.neck", "back.neck"), grain="straight", fold="single"),
        touched=("front", "back", "neck binding"),
        renames=True,
    ),
    Row(
        change=draft_collar.CHANGE,
        pattern=bodice,
        params=COLLAR(edges=("back.neck", "front.neck"), ends="round"),
        touched=("front", "back", "collar", "under collar"),
        renames=True,  # pieces and seams are added
        impossible=(
            (COLLAR(edges=("back.neck",), depth=0.0), ("depth",)),
            (COLLAR(edges=("back.neck",), style="shirt", depth=30.0), ("a depth of",)),
            (COLLAR(edges=("back.neck",), style="stand", rise=200.0), ("at most",)),
            (COLLAR(edges=("back.neck",), style="stand", front=60.0), ("less than",)),
            (COLLAR(edges=("back.neck", "front.hem")), ("front", "no seam joins")),
        ),
    ),
    Row(
        change=draft_collar.CHANGE,
        pattern=bodice,
        params=COLLAR(edges=("back.neck", "front.neck"), style="shirt", front=15.0),
        touched=("front", "back", "collar stand", "collar", "under collar"),
        renames=True,
        move_mm=1e-5,  # the curve of the stand is solved for, and as near
    ),
    Row(
        change=draft_patch_pocket.CHANGE,
        pattern=skirt,
        params=PATCH(
            piece="skirt front",
            point="waist side",
            across=110.0,
            down=150.0,
            flap=50.0,
            shape="round",
        ),
        touched=("skirt front", "skirt front pocket", "skirt front flap"),
        renames=True,  # pieces are added
        impossible=(
            (
                PATCH(piece="skirt front", point="waist side", across=0.0, down=9.0),
                ("edge", "farther in"),
            ),
            (PATCH(piece="skirt front", point="waste side", across=9.0, down=9.0), ("waist side",)),
            (
                PATCH(piece="skirt front", point="waist side", across=9.0, down=9.0, width=0.0),
                ("no width",),
            ),
        ),
    ),
    Row(
        change=draft_seam_pocket.CHANGE,
        pattern=skirt,
        params=BAG(edge="skirt front.side"),
        touched=("skirt front", "skirt back", "skirt front pocket bag"),
        renames=True,
        impossible=(
            (BAG(edge="skirt front.fold"), ("room",)),
            (BAG(edge="skirt front.side", opening=900.0), ("long",)),
            (BAG(edge="skirt front.side", reach=600.0), ("less far",)),
            (BAG(edge="skirt front.waist"), ("upright",)),
            (BAG(edge="skirt front.side", opening=0.0), ("opening",)),
        ),
    ),
    Row(
        change=draft_waistband.CHANGE,
        pattern=skirt,
        params=WAISTBAND(edges=WAISTS),
        touched=("waistband",),
        renames=True,  # a piece and seams are added
        impossible=(
            (WAISTBAND(edges=WAISTS, height=0.0), ("height",)),
            (WAISTBAND(edges=WAISTS, ease=600.0), ("half of",)),
            (WAISTBAND(edges=("skirt front.waste",)), ("waist",)),
            (WAISTBAND(edges=("skirt front.waist", "skirt back.hem")), ("no seam joins",)),
        ),
    ),
    Row(
        change=draft_waistband.CHANGE,
        pattern=skirt,
        params=WAISTBAND(edges=WAISTS, shape="shaped", height=60.0, overlap=10.0),
        touched=("waistband",),
        renames=True,
    ),
    Row(
        change=piece_panel.CHANGE,
        pattern=skirt,
        params=PIECE(piece="skirt front", line="hip"),
        touched=("skirt front upper", "skirt front lower"),
        renames=True,  # one piece becomes two
        impossible=(
            (
                PIECE(piece="skirt front", line="hip", above=120.0),
                ("waist", "the dart moved first"),
            ),
            (PIECE(piece="skirt front", line="hip", above=400.0), ("does not cross",)),
            (PIECE(piece="skirt front", line="hp"), ("hip", "fold")),
            (PIECE(piece="skirt front"), ("start and end",)),
            (PIECE(piece="skirt front", start="hem start", end="hem end"), ("both ends",)),
            (PIECE(piece="skirt front", start="hem middle", end="hem end"), ("hem",)),
            (PIECE(piece="skirt front", line="hip", names="skirt back, x"), ("skirt back",)),
            (PIECE(piece="skirt front", line="hip", allowance=-1.0), ("allowance",)),
        ),
    ),
    Row(
        change=piece_panel.CHANGE,
        pattern=bodice,
        params=PIECE(piece="back", line="chest", names="yoke, back"),
        touched=("yoke", "back"),
        renames=True,
    ),
    Row(
        change=piece_panel.CHANGE,
        pattern=bodice,
        params=PIECE(piece="back", start="shoulder middle", end="hem middle"),
        touched=("back inner", "back outer"),
        renames=True,
    ),
    Row(
        change=piece_panel.CHANGE,
        pattern=bodice,
        params=PIECE(piece="front", line="fold", allowance=12.0),
        touched=("front",),
        renames=True,  # a seam is added
        impossible=((PIECE(piece="front", line="bust"), ("front", "waist")),),
    ),
    Row(
        change=piece_panel.CHANGE,
        pattern=sleeve,
        params=PIECE(piece="sleeve", line="biceps"),
        touched=("sleeve upper", "sleeve lower"),
        renames=True,
        impossible=(
            (PIECE(piece="sleeve", line="elbow", above=-70.0), ("elbow", "dart")),
            (PIECE(piece="sleeve", line="fold"), ("no fold",)),
        ),
    ),
)
