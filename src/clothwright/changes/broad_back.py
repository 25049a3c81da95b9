"""Broad or narrow back: wider between the armholes, which swing about their notches."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import apart, swing
from clothwright.changes.intake import in_order
from clothwright.changes.partners import partners
from clothwright.changes.pivot_dart import Mouth, with_spread
from clothwright.changes.rejoin import rejoined
from clothwright.changes.shoulder_width import widened
from clothwright.changes.slash import Opening, cut_in_two
from clothwright.changes.upper import Upper, shoulders_of, upper_of
from clothwright.errors import CannotDo
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import IDENTITY
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Piece
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name

MOST_MM = 25.0
"""mm on the half: beyond it another size is better (common practice)."""
DEEP_MM = 80.0
"""mm: a new back shoulder dart is so long (textbook: 1.3 cm wide, 8 cm long)."""
EASED_MM = 13.0
"""mm: what a firm cotton shoulder takes as ease (1/2 in, common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BroadBack:
    """Parameters of `broad-back`; lengths in mm."""

    piece: str = param("piece", "the back, drawn as one half", label="Which back")
    by: float = param(
        "length",
        "on this half; a minus makes it narrower",
        label="How much wider",
    )
    into: str = param(
        "choice",
        "",
        default="",
        choices={
            "": "the shoulder dart, where there is one, else ease",
            "dart": "a shoulder dart",
            "ease": "ease in the shoulder seam",
        },
        label="What takes up the longer shoulder",
    )


def apply(pattern: Pattern, params: BroadBack) -> Outcome:
    """Cut the back from the shoulder down and across to the armhole; swing the part outside it.

    The shoulder opens by `by` mm, which a dart or ease takes up; armhole and neck keep their
    lengths. Raises CannotDo, BadInput. Source: plane geometry (docs/changes/broad-back.md).
    """
    piece = pattern.piece(params.piece)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {piece.name} as wide.",))
    upper = upper_of(pattern, piece)
    shoulders_of(pattern, piece)
    shoulder = upper.shoulder.name
    darts = piece.darts_on(shoulder)
    if params.into == "dart" or (darts and not params.into):
        dart = darts[0] if darts else None
        after = _darted(upper, dart, params.by)
        changed = pattern.with_piece(after)
        said = _said_dart(after, shoulder, dart)
    else:
        changed = pattern.with_piece(widened(upper, params.by))
        changed, said = _eased(changed, upper, params.by)
    lead: Sentence = (
        f"Made {piece.name} ",
        abs(params.by),
        f" {'wider' if params.by > 0 else 'narrower'} between armhole and centre, armhole and neck "
        "as long as before; ",
    )
    lot: Sentence = ()
    if abs(params.by) > MOST_MM:
        lot = (" That is a lot for one correction (", MOST_MM, " by custom): try another size.")
    changed, trued = own_corners.trued(pattern, changed)
    said = (*lead, *said, *trued, *partners(pattern, changed), *lot)
    return Outcome(pattern=changed, said=said)


def _darted(upper: Upper, dart: Dart | None, by: float) -> Piece:
    """Swing the part outside the shoulder's dart, or its middle, until that opens by so much."""
    piece, shoulder = upper.piece, upper.shoulder
    at = shoulder.length / 2
    own = (dart.a, dart.b) if dart else (at, at)
    pivot = dart.point if dart else shoulder.path.point_at(at)
    mouth = Mouth(
        piece=piece, opening=Opening(shoulder.name, *own), pivot=pivot, dart=dart, short=0.0
    )
    outer, inner = mouth.ends if upper.rising else mouth.ends[::-1]
    hinge = upper.armhole.path.point_at(upper.pitch)
    to = _outer_now(upper, (inner, outer), hinge, by)
    corner = outer + piece.up * piece.up.dot(hinge - outer)
    hole = Opening(upper.armhole.name, upper.pitch, upper.pitch)
    turn = swing(hinge, outer - hinge, to - hinge)
    moves = (IDENTITY, turn) if upper.rising else (turn, IDENTITY)
    slash = cut_in_two(mouth.without_dart, mouth.opening, hole, (corner,))
    found = rejoined(slash, moves, bridged=True)
    after = with_spread(found.piece, mouth, found.openings[0], DEEP_MM, upper.to_neck)
    return in_order(after, piece)


def _outer_now(upper: Upper, legs: tuple[Vec, Vec], hinge: Vec, by: float) -> Vec:
    """Return where the outer leg ends when the mouth is `by` mm wider. Raises CannotDo."""
    inner, outer = legs
    wide = inner.distance(outer)
    side = outer if wide > 0.0 else upper.tip
    now = max(0.0, wide + by)
    found = apart((inner, hinge), (now, outer.distance(hinge)), side)
    if found is None or wide + by < -JOIN_MM:
        raise CannotDo(
            what=(
                f'"{upper.piece.name}" cannot be made ',
                abs(by),
                " narrower" if by < 0 else " wider",
            ),
            why=("its shoulder dart is only ", wide, " wide")
            if by < 0
            else "the armhole's notch lies too near the shoulder",
            nearest=("at most ", AtMost(wide), ", or ease instead of a dart")
            if by < 0
            else "a smaller amount",
        )
    return found


def _eased(pattern: Pattern, upper: Upper, by: float) -> tuple[Pattern, Sentence]:
    """Mean the shoulder's seam to be eased by so much more; less than none is not meant."""
    name, edge = upper.piece.name, upper.shoulder.name
    said: list[str | float] = [f"{edge_name(name, edge)} is "]
    said += [abs(by), " longer" if by > 0 else " shorter"]
    for seam in pattern.seams_of(name, edge):
        back = any((r.piece, r.edge) == (name, edge) for r in seam.b)
        ease = (seam.ease if back else -seam.ease) + by
        if ease < 0.0:
            return pattern, (*said, ".")
        pattern = pattern.with_seam(_with_ease(seam, ease if back else -ease, by))
        warned = " now; that is more than firm cloth takes: sew a dart instead."
        much = seam.join == "eased" and ease > EASED_MM
        said += [f" and {seam.join} by ", ease, warned if much else " now."]
        return pattern, tuple(said)
    return pattern, (*said, ".")


def _with_ease(seam: Seam, ease: float, by: float) -> Seam:
    most = seam.eased_max + by if seam.eased_max else 0.0
    return replace(seam, ease=ease, eased_max=most)


def _said_dart(piece: Piece, edge: str, before: Dart | None) -> Sentence:
    if not piece.darts_on(edge):
        return (f'the dart "{before.name}" is gone.' if before else "no dart is left.",)
    dart = piece.darts_on(edge)[0]
    kind = "dart" if before else "the new dart"
    return (f'{kind} "{dart.name}" in the shoulder is ', dart_intake(piece, dart), " wide now.")


CHANGE = Change(
    id="broad-back",
    title="Broad or narrow back",
    topic="bust, back and shoulder",
    why="A back that strains between the armholes when the arms go forward, or stands off, is "
    "changed from the blades up; neck and armhole fit already and stay.",
    source="which lines are cut: a sewing company's manual of about 1911; amounts: plane geometry "
    "(docs/changes/broad-back.md)",
    params=BroadBack,
    apply=apply,
)
