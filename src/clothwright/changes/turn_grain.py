"""Turn a grain line to where it belongs: along the middle of its piece, or along an edge."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.errors import BadInput, CannotDo, one_of
from clothwright.pattern.middle import middle_name, to_middle_deg, to_yarns_deg, with_grain_turned
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import parse_edge
from clothwright.pattern.walk import run_name
from clothwright.units.params import param
from clothwright.words import show_angle_deg

SAME_DEG = 1e-6
"""degrees: a smaller turn is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnGrain:
    """Parameters of `turn-grain`."""

    piece: str = param("piece", "the piece whose grain line is turned", label="Which piece")
    edge: str = param(
        "edge",
        "an edge of the piece that tells the way, from its one end straight to its other; left "
        "out, the fold or the middle of the piece does",
        default="",
        label="By which edge",
    )


def apply(pattern: Pattern, params: TurnGrain) -> Outcome:
    """Turn a grain line about its own middle, as little as can be, onto a line of its piece.

    It then runs along that line or square to it; by the middle of a whole piece, or on the bias to
    it. The lines of waist, hip and the like are square to the grain and turn with it. The piece
    itself stays as it is.

    Raises CannotDo where there is no grain line, or nothing shows where the middle is; BadInput for
    unknown names, or an edge of another piece.
    """
    piece = pattern.piece(params.piece)
    turn = _turn_deg(pattern, piece, params.edge)
    if piece.grain is None or abs(turn) <= SAME_DEG:
        return Outcome(pattern=pattern, said=(f"Left the grain line of {piece.name} as it is.",))
    along = run_name((parse_edge(params.edge),)) if params.edge else f"its {middle_name(piece)}"
    levels = "; its level lines turned with it" if piece.levels else ""
    said = (
        f"Turned the grain line of {piece.name} by {show_angle_deg(abs(turn))}, to run with "
        f"{along}{levels}.",
    )
    return Outcome(pattern=pattern.with_piece(with_grain_turned(piece, turn)), said=said)


def _turn_deg(pattern: Pattern, piece: Piece, edge: str) -> float:
    """Return the turn, degrees, counter-clockwise positive. Raises BadInput, CannotDo."""
    if piece.grain is None:
        raise CannotDo(
            what=f'the grain line of "{piece.name}" cannot be turned',
            why="it has none",
            nearest="the grain line drawn first, where the piece is read",
        )
    if edge:
        ref = parse_edge(edge)
        path = pattern.edge(ref).path
        if ref.piece != piece.name:
            raise BadInput(
                where="edge",
                what=f"{run_name((ref,))} is no edge of {piece.name}",
                expected=one_of([e.name for e in piece.edges]),
            )
        return to_yarns_deg(piece.up, path.end - path.start, 90.0)
    turn = to_middle_deg(piece)
    if turn is None:
        raise CannotDo(
            what=f'the grain line of "{piece.name}" cannot be turned to the middle',
            why="it has no fold, is not its own mirror image and has no centre line marked",
            nearest="one of its edges named",
        )
    return turn


CHANGE = Change(
    id="turn-grain",
    title="Turn the grain line",
    topic="whole pieces",
    why="A grain line that slipped when a piece was traced or straightened lets the cloth hang and "
    "stretch another way on one half than on the other.",
    source="common practice: the grain runs along the fold or the centre line",
    params=TurnGrain,
    apply=apply,
)
