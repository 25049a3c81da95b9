"""Forward shoulder: the shoulder seam moved forward at the armhole, and not at all at the neck."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes import own_corners
from clothwright.changes.alike import pieces_alike
from clothwright.changes.change import Change, Outcome
from clothwright.changes.facing_shoulder import FacingShoulder, facing_shoulder
from clothwright.changes.hinge import apart, hinge_deg, swing
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, kept, redrawn, refuse_crossing
from clothwright.changes.upper import Upper, is_facing, neck_followed, upper_of
from clothwright.errors import CannotDo, ClothwrightError
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import side
from clothwright.pattern.parts import front_or_back
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Notch, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, listed, seam_name

MOST_MM = 20.0
"""mm: beyond it the slope of the shoulder is meant, too (common practice)."""
MARK_MM = 25.0
"""mm: a notch of the cap so near to where the shoulder seam meets it belongs to that seam."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ForwardShoulder:
    """Parameters of `forward-shoulder`; lengths in mm."""

    seam: str = param("seam", "of one front edge to one back edge", label="Which shoulder seam")
    by: float = param(
        "length",
        "at the armhole; a minus moves it backward",
        label="How far forward",
    )


def apply(pattern: Pattern, params: ForwardShoulder) -> Outcome:
    """Take `by` mm off the front armhole at the shoulder and put as much on the back's.

    Both shoulders turn about their neck points and keep their lengths; both armholes together keep
    theirs. The sleeve's shoulder notch goes along. Raises CannotDo, BadInput. Source: plane
    geometry (docs/changes/forward-shoulder.md).
    """
    seam = pattern.seam(params.seam)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {seam_name(seam.name)} in its place.",))
    facings = _facings(pattern, seam)
    if facings:
        return _facings_turned(pattern, facings, params.by)
    front, back = _both(pattern, seam)
    first, second = (front, back) if params.by > 0 else (back, front)
    changed = pattern.with_piece(_shorter(first, abs(params.by)))
    changed = changed.with_piece(_longer(second, abs(params.by)))
    changed, moved = _marks_moved(changed, (front.piece.name, back.piece.name), params.by)
    way = "forward" if params.by > 0 else "backward"
    lot: Sentence = ()
    if abs(params.by) > MOST_MM:
        lot = (" More than ", MOST_MM, " is rare: look at the slope of the shoulder, too.")
    said: Sentence = (
        f"Moved {seam_name(seam.name)} of {front.piece.name} and {back.piece.name} ",
        abs(params.by),
        f" {way} at the armhole, not at the neck. Both shoulders and the armhole as a whole are as "
        "long as before.",
        *moved,
    )
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed), *lot))


def _facings(pattern: Pattern, seam: Seam) -> list[FacingShoulder]:
    """Return the facings that a seam joins at the shoulder; none where it joins something else."""
    if not all(is_facing(pattern, pattern.piece(p)) for p in seam.pieces):
        return []
    found = [facing_shoulder(pattern, pattern.piece(p)) for p in sorted(seam.pieces)]
    joined = {(r.piece, r.edge) for r in seam.refs}
    return found if joined == {(f.piece.name, f.shoulder.name) for f in found} else []


def _facings_turned(pattern: Pattern, facings: list[FacingShoulder], by: float) -> Outcome:
    """Turn the shoulders of facings about the neck as far as those of the garment. CannotDo."""
    changed = pattern
    for facing in facings:
        piece, arm = facing.piece, facing.arm
        turn = hinge_deg(abs(by), facing.long)
        if turn is None:
            raise CannotDo(
                what=(f'the shoulder of "{piece.name}" cannot be moved by ', abs(by)),
                why=("that of the garment is ", facing.long, " long"),
                nearest=("at most ", AtMost(MOST_MM)),
            )
        down = (front_or_back(piece) == "front") == (by > 0)
        ways = [rotation_deg(k * turn, Vec(0.0, 0.0)).apply(arm) for k in (1, -1)]
        now = (min if down else max)(ways, key=piece.up.dot)
        changed = changed.with_piece(facing.turned(now))
    changed, trued = own_corners.trued(pattern, changed)
    said: Sentence = (
        f"Turned the shoulders of {listed([f.piece.name for f in facings])} about the neck, for a "
        "shoulder seam ",
        abs(by),
        f" {'forward' if by > 0 else 'backward'} at the armhole.",
        *trued,
    )
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _both(pattern: Pattern, seam: Seam) -> tuple[Upper, Upper]:
    """Return the front and the back of a shoulder seam. Raises CannotDo."""
    found: dict[str, Upper] = {}
    for refs in (seam.a, seam.b):
        piece = pattern.piece(refs[0].piece)
        upper = upper_of(pattern, piece)
        if len(refs) == 1 and upper.shoulder.name == refs[0].edge:
            found[front_or_back(piece) or "front"] = upper
    if len(found) != 2:
        raise CannotDo(
            what=f"{seam_name(seam.name)} cannot be moved",
            why="it does not join one shoulder of a front to one of a back, beside their armholes",
            nearest="a shoulder seam; a piece is known as front or back by its name or its "
            "notches; where a yoke lies over the shoulder, move the edge of the yoke out and that "
            "of the front in by as much",
        )
    return found["front"], found["back"]


def _longer(upper: Upper, by: float) -> Piece:
    """Run the armhole on straight at the tip, the shoulder turned to meet it. CannotDo."""
    tip, neck = upper.tip, upper.pivot
    along = upper.armhole.path.end_tangent if upper.rising else -upper.armhole.path.start_tangent
    to = apart((neck, tip), (tip.distance(neck), by), tip + along)
    if to is None:
        raise _too_much(upper, by)
    if upper.rising:
        path = upper.armhole.path.joined(Path((Line(tip, to),)))
        return _with_tip(upper, Redrawn(path, kept), to)
    path = Path((Line(to, tip),)).joined(upper.armhole.path)
    return _with_tip(upper, Redrawn(path, lambda at: at + by), to)


def _shorter(upper: Upper, by: float) -> Piece:
    """Cut the armhole off below the tip, the shoulder turned to meet it. Raises CannotDo."""
    hole = upper.armhole
    if by > hole.length / 3:
        raise _too_much(upper, by)
    path = hole.path if upper.rising else hole.path.reversed()
    neck, long = upper.pivot, upper.tip.distance(upper.pivot)
    wanted, at = path.length - by, path.length - by
    cut, to = path, upper.tip
    for _ in range(40):
        cut = path.between(0.0, at)
        to = neck + (cut.end - neck).unit * long
        if not to.is_near(cut.end, 1e-9):
            cut = cut.with_ends(end=to)
        if abs(cut.length - wanted) < 1e-9:
            break
        at = min(path.length, max(path.length / 2, at + wanted - cut.length))
    if abs(cut.length - wanted) > JOIN_MM:
        raise _too_much(upper, by)
    if upper.rising:
        return _with_tip(upper, Redrawn(cut, kept), to)
    return _with_tip(upper, Redrawn(cut.reversed(), lambda x: x - by), to)


def _too_much(upper: Upper, by: float) -> CannotDo:
    return CannotDo(
        what=(f'the shoulder of "{upper.piece.name}" cannot be moved by ', by),
        why="its armhole is too short for so much",
        nearest=("at most ", AtMost(min(MOST_MM, upper.armhole.length / 6))),
    )


def _with_tip(upper: Upper, hole: Redrawn, to: Vec) -> Piece:
    """Put the shoulder's tip elsewhere: the shoulder turns about the neck with its darts."""
    piece, shoulder, neck = upper.piece, upper.shoulder, upper.pivot
    turn = swing(neck, upper.tip - neck, to - neck)
    path = shoulder.path.transformed(turn)
    path = path.with_ends(start=to) if upper.rising else path.with_ends(end=to)
    darts = tuple(
        replace(d, point=turn.apply(d.point)) if d.edge == shoulder.name else d for d in piece.darts
    )
    new = {shoulder.name: Redrawn(path, kept), upper.armhole.name: hole}
    new |= neck_followed(upper, turn)
    after = redrawn(replace(piece, darts=darts), new).piece
    refuse_crossing(after, f'the shoulder of "{piece.name}" cannot be moved so far')
    return after


class _CapNotch(NamedTuple):
    """A notch of a cap and how far along the cap's run it lies, mm."""

    ref: EdgeRef
    notch: Notch
    at: float


def _marks_moved(pattern: Pattern, names: tuple[str, str], by: float) -> tuple[Pattern, Sentence]:
    """Move the cap's notch that meets the shoulder seam along. names: front and back."""
    for seam in (s for s in pattern.seams if s.kind == "cap"):
        run = [r.piece for r in seam.a]
        if not set(names) <= set(run):
            continue
        towards = -by if run.index(names[0]) < run.index(names[1]) else by
        cap = sum(pattern.edge(r).length for r in seam.b)
        was = _joint(pattern, seam) / side(pattern, seam.a).length * cap - towards
        found = tuple(_cap_notches(pattern, seam))
        near = [n for n in found if "shoulder" in n.notch.name.lower()] or [
            n for n in found if abs(n.at - was) <= MARK_MM
        ]
        if not near:
            sleeves = listed(list(dict.fromkeys(r.piece for r in seam.b)))
            return pattern, (f" Move the mark at the top of {sleeves} along.",)
        mark = min(near, key=lambda n: abs(n.at - was))
        return _notch_moved(pattern, mark, -towards if mark.ref.reversed else towards), (
            f" The notch at the top of {mark.ref.piece} goes along, ",
            abs(by),
            ".",
        )
    return pattern, ()


def _cap_notches(pattern: Pattern, seam: Seam) -> Iterator[_CapNotch]:
    """Yield the notches of a cap, of a sleeve in one piece or in several."""
    run = 0.0
    for ref in seam.b:
        edge = pattern.edge(ref)
        for notch in edge.notches:
            yield _CapNotch(
                ref, notch, run + (edge.length - notch.at if ref.reversed else notch.at)
            )
        run += edge.length


def _notch_moved(pattern: Pattern, mark: _CapNotch, by: float) -> Pattern:
    edge = pattern.edge(mark.ref)
    at = min(max(0.0, mark.notch.at + by), edge.length)
    notches = [replace(n, at=at) if n is mark.notch else n for n in edge.notches]
    moved = edge.with_notches(notches)
    return pattern.with_piece(pattern.piece(mark.ref.piece).with_edge(moved))


def _joint(pattern: Pattern, seam: Seam) -> float:
    """Return where the armhole's two edges meet, mm along the seam's first side."""
    return next(s.at for s in side(pattern, seam.a).stations if s.kind is None)


def alike(pattern: Pattern, params: ForwardShoulder) -> tuple[ForwardShoulder, ...]:
    """Return the same for the shoulder seams of what goes with both pieces: their lining."""
    seam = pattern.seam(params.seam)
    own = seam.pieces
    others = set(pieces_alike(pattern, sorted(own)))
    found = []
    for each in pattern.seams:
        if each.pieces <= others:
            try:
                if not _facings(pattern, each):
                    _both(pattern, each)
            except ClothwrightError:
                continue
            found.append(replace(params, seam=each.name))
    return tuple(found)


CHANGE = Change(
    id="forward-shoulder",
    title="Forward shoulder",
    topic="bust, back and shoulder",
    why="On shoulders that come forward the seam lies behind the top of the arm. The seam moves, "
    "and the fit of neck and armhole stays.",
    source="plane geometry (docs/changes/forward-shoulder.md)",
    params=ForwardShoulder,
    apply=apply,
    alike=alike,
)
