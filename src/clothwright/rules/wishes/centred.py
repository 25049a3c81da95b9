"""What is printed lies evenly about the middle of a piece, or of a pair."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.cloth.prints import Print
from clothwright.errors import Sentence
from clothwright.pattern.parts import centre_line, front_or_back, is_pair, points_on
from clothwright.pattern.piece import Piece
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.order import CENTRE_BACK, CENTRE_FRONT, FRONT_ARMHOLE
from clothwright.rules.plan import PlacingRule
from clothwright.rules.wishes.showing import Showing, noun
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import seam_name

MOST_AXES = 2
"""A repeat has two mirror lines, half of it apart; either may lie on the middle."""
WHY = {
    "front": "The middle of the front is looked at first.",
    "back": "The middle of the back is looked at next after that of the front.",
    "sleeve": "Both sleeves then look alike from the front.",
    "": "What is uneven about the middle is seen at once.",
}
RANKS = {"front": CENTRE_FRONT, "back": CENTRE_BACK, "": CENTRE_BACK}


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each piece with a middle, and each pair with a centre seam, that it is even."""
    for piece in seen.body:
        design = seen.print_of(piece.name)
        line, twins = centre_line(seen.pattern, piece), seen.twin_seam(piece.name)
        if not _even(design) or seen.on_bias(piece.name):
            continue
        if line is not None and (points := points_on(piece, line)):
            yield _middle(piece, points[0], design)
        elif twins is not None:
            yield _mirrored(piece, seen.met(twins)[0][0][1], twins.name)


def sleeve_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each sleeve that it is even about the top of its cap."""
    for sleeve in seen.sleeves:
        design = seen.print_of(sleeve.name)
        if _even(design) and (top := _top(seen, sleeve)):
            yield _middle(sleeve, top, design, sleeve=True)


def _middle(piece: Piece, point: str, design: Print, sleeve: bool = False) -> Wish:
    pair = is_pair(piece) and not sleeve
    mirrored = (Mirrored(piece=piece.name, point=point, way="across"),) if pair else ()
    what = noun(design)

    def rules(axis: float) -> tuple[PlacingRule, ...]:
        return (AtPhase(piece=piece.name, point=point, across=axis), *mirrored)

    axes = design.axes_across[:MOST_AXES]
    both = f", and left and right {piece.name} mirror each other" if pair else ""
    return Wish(
        name=f"middle of the {piece.name}",
        words=(f"the {what} lie evenly either side of the middle of the {piece.name}{both}",),
        why=(WHY["sleeve" if sleeve else front_or_back(piece)],),
        without=f"the {what} may lie to one side on the {piece.name}",
        rank=FRONT_ARMHOLE if sleeve else RANKS[front_or_back(piece)],
        usual=True,
        settles=frozenset({("middle", piece.name)}),
        grants=tuple(
            Grant(rules=rules(a), how=_axis_words(a) if len(axes) > 1 else (), lies="along")
            for a in axes
        ),
    )


def _axis_words(axis: float) -> Sentence:
    if not axis:
        return ("on the mirror line at the start of the repeat",)
    return ("on the mirror line ", axis, " into the repeat")


def _mirrored(piece: Piece, point: str, seam: str) -> Wish:
    return Wish(
        name=f"mirrored {piece.name}",
        words=(f"left and right {piece.name} mirror each other at the {seam_name(seam)}",),
        why=("Slanting with the seam, what is printed comes out as chevrons.",),
        without=f"left and right {piece.name} show the print at different places",
        rank=RANKS[front_or_back(piece)],
        usual=True,
        seams=(seam,),
        settles=frozenset({("middle", piece.name)}),
        grants=(
            Grant(rules=(Mirrored(piece=piece.name, point=point, way="across"),), lies="along"),
        ),
    )


def _even(design: Print) -> bool:
    """Tell whether a print has bars or columns that are the same to the left and to the right."""
    return bool(design.axes_across and design.repeat_across)


def _top(seen: Showing, sleeve: Piece) -> str:
    """Return the notch at the top of a cap, "" where there is none."""
    caps = [r.edge for s in seen.pattern.seams if s.kind == "cap" for r in s.b]
    found = [n for n in sleeve.named_points() if any(n.startswith(f"{e} notch") for e in caps)]
    return max(found, key=lambda n: sleeve.up.dot(sleeve.point(n)), default="")
