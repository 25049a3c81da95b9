"""Make a dart wider or narrower until the seam it lies in agrees. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart
from clothwright.changes.intake import check_clear
from clothwright.changes.legs import narrowed
from clothwright.changes.match_edge import SAME_MM, needed, ref_in
from clothwright.changes.redraw import refuse_crossing
from clothwright.errors import CannotDo
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, seam_name

WIDEST = 1.0
"""Times its own length: a dart wider than this at the edge is no dart. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FitDart:
    """Parameters of `fit-dart`."""

    dart: str = param("dart", "the dart that takes up the difference", label="Which dart")
    seam: str = param("seam", "the seam whose two sides shall agree", label="Which seam")


def apply(pattern: Pattern, params: FitDart) -> Outcome:
    """Change a dart's width, its point kept, until both sides of its seam are equally long.

    Both legs move along the seam line by half, are made equal and the cap is folded and cut again.
    Stitching lengths count, darts folded out; the seam's ease is kept. What lies beside the dart
    stays on the cloth. Raises CannotDo where too little of the dart would be left, or it would
    become too wide; BadInput for unknown names, and a dart that is not in the seam.
    """
    piece, dart = find_dart(pattern, params.dart)
    seam = pattern.seam(params.seam)
    ref = ref_in(pattern, seam, EdgeRef(piece.name, dart.edge))
    need = needed(pattern, seam, ref)
    if abs(need) <= SAME_MM:
        said: Sentence = (
            f'Left dart "{dart.name}" of {piece.name} as wide as it is: {seam_name(seam.name)} '
            "agrees already.",
        )
        return Outcome(pattern=pattern, said=said)
    new = fitted(pattern, piece, dart, seam)
    before, after = dart_intake(piece, dart), dart_intake(new, new.dart(dart.name))
    said = (
        f'Made dart "{dart.name}" of {piece.name} {"narrower" if need > 0 else "wider"}, from ',
        before,
        " to ",
        after,
        f", so that {seam_name(seam.name)} agrees.",
    )
    return Outcome(pattern=pattern.with_piece(new), said=said)


def fitted(pattern: Pattern, piece: Piece, dart: Dart, seam: Seam) -> Piece:
    """Return a piece of the pattern with a dart of the width that makes a seam agree.

    Raises CannotDo.
    """
    ref = EdgeRef(piece.name, dart.edge)
    by, new = 0.0, piece
    for _ in range(9):  # making the legs equal moves the seam line beside them a little
        off = needed(pattern.with_piece(new), seam, ref)
        if abs(off) <= SAME_MM / 10:
            break
        by += off
        new = _narrower(piece, dart, by)
    return new


def _narrower(piece: Piece, dart: Dart, by: float) -> Piece:
    """Return the piece with a dart `by` mm narrower (a minus: wider). Raises CannotDo."""
    edge = piece.edge(dart.edge)
    leg = edge.path.point_at(dart.a).distance(dart.point)
    what = (f'dart "{dart.name}" of "{piece.name}" cannot be made ', -by, " wider")
    room = min(WIDEST * leg - dart_intake(piece, dart), 2 * dart.a, 2 * (edge.length - dart.b))
    if -by > room:
        raise CannotDo(
            what=what,
            why="there is no room for it beside its mouth",
            nearest=("at most ", AtMost(max(0.0, room)), " more, or the edge changed at its end"),
        )
    new = narrowed(piece, dart.name, by)
    check_clear(new, dart.name)
    refuse_crossing(new, what)
    return new


CHANGE = Change(
    id="fit-dart",
    title="Fit a dart to its seam",
    topic="darts",
    why="Where a dart was made wider or narrower, the seam it opens into no longer agrees with "
    "what it is sewn to: a band, a skirt, another piece. The dart takes up the difference.",
    source="docs/sources.md: walking seams, darts folded out; plane geometry",
    params=FitDart,
    apply=apply,
)
