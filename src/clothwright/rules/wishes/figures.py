"""A figure in the middle, kept whole, and clear of the bust."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.pattern.parts import bust_point, front_or_back
from clothwright.pattern.piece import Piece
from clothwright.rules.kinds.clear import Clear
from clothwright.rules.kinds.figure_centred import FigureCentred
from clothwright.rules.kinds.figure_whole import FigureWhole
from clothwright.rules.order import CENTRE_BACK, CENTRE_FRONT
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Grant, Wish

CLEAR_MM = 30.0
"""mm from a figure's edge to the point of the bust (common practice: docs/sources.md, prints)."""


def clear_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each piece with the point of the bust that no figure lies on it."""
    for piece in seen.body:
        point = bust_point(piece)
        for figure in seen.large_figures(piece.name) if point else ():
            if not seen.leaves_clear(piece.name, figure, CLEAR_MM):
                continue
            yield Wish(
                name=f"bust of the {piece.name} clear of the {figure.name}",
                words=(f"no {figure.name} lies on the point of the bust",),
                why=("A motif there is what is complained of most.",),
                without=f"a {figure.name} may lie on the point of the bust",
                rank=CENTRE_FRONT,
                usual=True,
                grants=(
                    Grant(
                        rules=(
                            Clear(piece=piece.name, point=point, figure=figure.name, by=CLEAR_MM),
                        )
                    ),
                ),
            )


def whole_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each piece round the body that no large figure on it is cut.

    A choice and no duty: pieces are small and shaped, and some leave it (docs/sources.md, prints).
    """
    for piece in seen.body:
        for figure in seen.large_figures(piece.name):
            yield Wish(
                name=f"whole {figure.name} on the {piece.name}",
                words=(f"no {figure.name} on the {piece.name} is cut by a seam, a hem or a dart",),
                why=("It may take more cloth, and large motifs do not fit everywhere.",),
                without=f"a {figure.name} may be cut by a seam of the {piece.name}",
                rank=_rank(piece),
                grants=(Grant(rules=(FigureWhole(piece=piece.name, figure=figure.name),)),),
            )


def middle_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each piece with a middle that a large figure lies on it, high up or low down."""
    for piece in seen.body:
        points = seen.on_middle(piece)
        for figure in seen.large_figures(piece.name) if points else ():
            ways = (
                FigureCentred(piece=piece.name, point=p, figure=figure.name)
                for p in _high(piece, points)
            )
            yield Wish(
                name=f"{figure.name} in the middle of the {piece.name}",
                words=(f"a {figure.name} lies on the middle of the {piece.name}",),
                why=("Showing first, it is put where she wants it and not where it falls.",),
                without=f"no {figure.name} need lie on the middle of the {piece.name}",
                rank=_rank(piece),
                grants=tuple(Grant(rules=(w,), how=(f"at {w.point}",)) for w in ways),
            )


def _rank(piece: Piece) -> int:
    return CENTRE_BACK if front_or_back(piece) == "back" else CENTRE_FRONT


def _high(piece: Piece, points: Sequence[str]) -> Sequence[str]:
    """Return up to three places on a middle line, nearest to the bust line first."""
    bust = next((v.at for v in piece.levels if "bust" in v.name.lower()), piece.point(points[0]))
    far = {n: abs(piece.up.dot(piece.point(n) - bust)) for n in points}
    return sorted({round(far[n]): n for n in reversed(points)}.values(), key=lambda n: far[n])[:3]
