"""A piece before and after a change: the new one, the old cutting line behind its lines."""

from __future__ import annotations

from dataclasses import replace

from clothwright.drawing.piece import piece_picture
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Piece
from clothwright.picture.picture import DrawnRole, Picture, Stroke
from clothwright.units import Unit


def before_after(before: Piece | None, after: Piece | None, unit: Unit) -> Picture:
    """Return both states of a piece in the piece's own frame, mm, without words.

    The old cutting line is the one stroke of role LEFTOVER, above the new piece's inside and below
    its lines. before: None for a piece that is new. after: None for one that is gone; then only
    the old line is drawn. With neither the picture is empty.
    """
    now = piece_picture(after, unit, words=False, fill=True) if after else Picture(items=())
    if before is None:
        return now
    old = Stroke(
        path=cutting_line(before).outline, role=DrawnRole.LEFTOVER, closed=True, group=before.name
    )
    title = after.name if after else before.name
    return replace(now, items=(*now.items[:1], old, *now.items[1:]), title=title)
