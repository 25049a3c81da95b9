"""Remove an elbow dart into ease: the dart is not sewn, its seam is eased over the elbow."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart
from clothwright.changes.fullness import Fullness, eased_in
from clothwright.changes.partners import partners
from clothwright.errors import BadInput
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.units.params import param
from clothwright.words import Sentence

COTTON_MM = 13.0
WOOL_MM = 25.0
"""mm: what stable cotton and what wool take as ease over the elbow (common practice)."""
REACH_MM = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ElbowToEase:
    """The elbow dart, and how far to each side of it the ease is spread."""

    dart: str = param("dart", "the elbow dart that is not sewn any more", label="Which dart")
    reach: float = param(
        "length",
        "how far above and below the dart the ease is spread",
        default=REACH_MM,
        label="How far the ease is spread",
    )


def apply(pattern: Pattern, params: ElbowToEase) -> Outcome:
    """Drop the dart's legs and ease its seam by the dart's width between two new notches.

    The outline stays but for the cap, which runs straight across. Both sides of the seam get
    notches "elbow 1" and "elbow 2" (the next free numbers, if taken) that bound the ease. In a
    seam that is eased between notches already, the ease then lies between the outermost.
    Raises CannotDo when the darted edge is not sewn to another edge, or the notches would run off
    the seam.
    """
    piece, dart = find_dart(pattern, params.dart)
    if params.reach <= 0:
        raise BadInput(what="the reach is not more than nothing", expected=(60.0, ", for example"))
    after, ease = eased_in(pattern, piece, dart, Fullness(stem="elbow", reach=params.reach))
    said = _said(piece, dart, ease, params.reach)
    return Outcome(pattern=after, said=(*said, *partners(pattern, after)))


def _said(piece: Piece, dart: Dart, ease: float, reach: float) -> Sentence:
    warning: Sentence = ()
    if ease > WOOL_MM:
        warning = (" That is more than even wool takes (", WOOL_MM, "): sew a dart, or try it.")
    elif ease > COTTON_MM:
        warning = (
            " That is more than stable cotton takes (",
            COTTON_MM,
            "), and about what wool takes: try it in a scrap of the cloth first.",
        )
    return (
        f'Dart "{dart.name}" of {piece.name} is not sewn any more; {dart.edge} is eased by ',
        ease,
        " between two notches, ",
        reach,
        " above and below.",
        *warning,
    )


CHANGE = Change(
    id="elbow-to-ease",
    title="Remove an elbow dart into ease",
    topic="sleeves",
    why="In cloth that eases, the elbow's room needs no dart: the longer seam is shrunk onto the "
    "shorter between two notches.",
    source="period manuals gather or ease the elbow between notches; limits common practice "
    "(docs/changes/elbow-to-ease.md)",
    params=ElbowToEase,
    apply=apply,
)
