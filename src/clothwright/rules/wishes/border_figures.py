"""The figures of a border: centred, mirrored and meeting round a hem."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from clothwright.pattern.parts import is_pair, points_on
from clothwright.pattern.pattern import Seam
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.rise import centre_of
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.order import BORDER
from clothwright.rules.plan import PlacingRule
from clothwright.rules.wishes.border_round import Ring, hem_words, is_usual, on_borders, settles
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Wish


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for every hem that can lie on a border with a repeat that its figures meet.

    They are on it only where the hem is: each way brings the border along.
    """
    for ring in seen.rings:
        names = {p.name for p, _ in ring}
        sides = [s for s in seen.sides if s.pieces <= names]
        rules = (*_middles(seen, ring), *_meetings(seen, sides))
        ways = [g for at, g in on_borders(seen, ring) if _comes_again(*at)]
        if rules and ways:
            yield Wish(
                name=f"border motifs round the {hem_words(ring)}",
                words=(f"the motifs of the border meet round the {hem_words(ring)}",),
                why=("They run on at the sides, and left and right are alike about the middle.",),
                without=f"the motifs of the border fall as they may round the {hem_words(ring)}",
                seams=tuple(s.name for s in sides),
                rank=BORDER,
                usual=is_usual(seen, ring),
                settles=settles(ring, "on"),
                grants=tuple(replace(g, rules=(*g.rules, *rules), lies="across") for g in ways),
            )


def _comes_again(cloth: Cloth, border: Border) -> bool:
    return bool(border.repeat or cloth.print.repeat_along)


def _middles(seen: Showing, ring: Ring) -> Iterator[PlacingRule]:
    """Yield a figure on the middle of each piece on the fold, and mirrored pairs."""
    for piece, hem in ring:
        design = seen.print_of(piece.name)
        if not design.axes_along:
            continue
        if is_pair(piece):
            yield Mirrored(piece=piece.name, point=_inner(piece, hem), way="along")
        elif piece.fold is not None:
            point = points_on(piece, piece.fold.path)[0]
            yield AtPhase(piece=piece.name, point=point, along=design.axes_along[0])


def _inner(piece: Piece, hem: Edge) -> str:
    """Return the end of a hem at the middle of the body, by the corner's name if it has one."""
    end = centre_of(piece, hem) or "start"
    i = piece.index(hem.name)
    following = piece.edges[(i + 1) % len(piece.edges)]
    return (hem.corner if end == "start" else following.corner) or f"{hem.name} {end}"


def _meetings(seen: Showing, sides: Sequence[Seam]) -> Iterator[PlacingRule]:
    for seam in sides:
        (a, at_a), (b, at_b) = seen.met(seam)[0]
        yield Meets(piece_a=a, point_a=at_a, piece_b=b, point_b=at_b, match="upright")
