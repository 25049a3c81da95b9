"""Space buttons and buttonholes anew, evenly between the lowest and the highest of their row."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.errors import CannotDo, joined
from clothwright.geometry.transform import translation
from clothwright.pattern.buttons import ROW_MM, ButtonRow, button_marks, button_rows
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.whole import moved_mark
from clothwright.units.params import param
from clothwright.words import Sentence, counted

SAME_MM = 1e-3
"""mm: a mark that would move by less stays."""
LINES = {"own": "from the lowest to the highest", "centre": "the centre that is marked"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceButtons:
    """Parameters of `space-buttons`."""

    pieces: tuple[str, ...] = param(
        "pieces", "the pieces whose buttons are spaced, such as both fronts", label="Which pieces"
    )
    line: str = param("choice", "", default="own", choices=LINES, label="On which line")


def apply(pattern: Pattern, params: SpaceButtons) -> Outcome:
    """Space the marks of every row evenly; the lowest and the highest stay, and so do their names.

    Those in between lie on the straight line from the one to the other; on the centre, all go
    across to it. Buttons and buttonholes are rows of their own.

    Raises CannotDo for a piece without a row of three or more (on the centre: without one within
    1 in of it); BadInput for an unknown piece.
    """
    onto = _own if params.line == "own" else _centred
    said: list[Sentence] = []
    for name in params.pieces:
        piece = pattern.piece(name)
        rows = [row for row in map(onto, button_rows(pattern, piece)) if row and len(row.at) > 2]
        if not rows:
            raise CannotDo(
                what=f'the buttons of "{name}" cannot be spaced',
                why="no three of them lie in a row",
                nearest="a piece with more buttons",
            )
        for row in rows:
            spaced = _spaced(pattern.piece(name), row)
            said.append(_said(row, moved=spaced != pattern.piece(name)))
            pattern = pattern.with_piece(spaced)
    apart = (part for one in said for part in (" ", one))
    return Outcome(pattern=pattern, said=joined(*apart)[1:])


def _own(row: ButtonRow) -> ButtonRow:
    return row


def _centred(row: ButtonRow) -> ButtonRow | None:
    """Return a row as it lies on the centre; None where none is known, or it is one of two rows."""
    if not row.known or abs(row.middle_out) > ROW_MM:
        return None
    at = tuple(p - row.across * out for p, out in zip(row.at, row.out, strict=True))
    return replace(row, at=at)


def _spaced(piece: Piece, row: ButtonRow) -> Piece:
    """Return the piece with the marks of a row at equal distances, from its first to its last."""
    last, now = len(row.at) - 1, {mark.name: at for mark, at in button_marks(piece)}
    wanted = {
        name: row.at[0].lerp(row.at[-1], k / last) - now[name] for k, name in enumerate(row.names)
    }
    own = {mark.name for mark, _ in button_marks(piece)}

    def moved(mark: Mark) -> Mark:
        by = wanted.get(mark.name) if mark.name in own else None
        if by is None or by.norm <= SAME_MM:
            return mark
        return moved_mark(mark, translation(by))

    marks = tuple(moved(m) for m in piece.marks)
    return piece if marks == piece.marks else replace(piece, marks=marks)


def _said(row: ButtonRow, *, moved: bool) -> Sentence:
    what = counted(len(row.at), "buttonhole" if row.holes else "button")
    if not moved:
        return (f"Left the {what} of {row.piece.name} as they are, evenly spaced.",)
    gap = row.at[0].distance(row.at[-1]) / (len(row.at) - 1)
    return (f"Spaced the {what} of {row.piece.name} evenly, ", gap, " from one to the next.")


CHANGE = Change(
    id="space-buttons",
    title="Space buttons anew",
    topic="fullness and openings",
    why="Where a front was lengthened between two buttons, one space is wider than the others and "
    "gapes.",
    source="plane geometry; even spaces between the highest and the lowest are common practice",
    params=SpaceButtons,
    apply=apply,
)
