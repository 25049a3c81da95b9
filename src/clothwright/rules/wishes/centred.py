"""What is printed lies evenly about the middle of a piece, or of a pair."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from clothwright.cloth.prints import Print
from clothwright.errors import Sentence
from clothwright.pattern.parts import front_or_back, is_pair
from clothwright.pattern.pattern import Seam
from clothwright.pattern.piece import Piece
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.order import CENTRE_BACK, CENTRE_FRONT, FRONT_ARMHOLE
from clothwright.rules.plan import PlacingRule
from clothwright.rules.wishes.showing import ACROSS, Axes, Showing, noun
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import seam_name

MOST = 2
"""A repeat has two mirror lines, half of it apart; either may lie on the middle."""
WHY = {
    "front": "The middle of the front is looked at first.",
    "back": "The middle of the back is looked at next after that of the front.",
    "": "What is uneven about the middle is seen at once.",
}
ALIKE = "Both sleeves then look alike from the front."
RANKS = {"front": CENTRE_FRONT, "back": CENTRE_BACK, "": CENTRE_BACK}


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each piece with a middle, and each pair with a centre seam, that it is even."""
    for piece in seen.body:
        points, twins = seen.on_middle(piece), seen.twin_seam(piece.name)
        meets = [s.name for s in (twins, seen.opens.get(piece.name)) if s is not None]
        even = bool(_even_ways(seen, piece.name))
        if points and (even or twins is None):
            yield from _middle(seen, piece, points[0], seams=tuple(meets))
        elif twins is not None:
            yield from _at_seam(seen, piece, twins)


def sleeve_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each sleeve that it is even about the top of its cap."""
    for sleeve in seen.sleeves:
        top = _top(seen, sleeve)
        if top and _even_ways(seen, sleeve.name):
            wishes = _middle(seen, sleeve, top, pair=False)
            yield from (replace(w, why=(ALIKE,), rank=FRONT_ARMHOLE) for w in wishes)


def _middle(
    seen: Showing, piece: Piece, point: str, *, pair: bool = True, seams: tuple[str, ...] = ()
) -> Iterator[Wish]:
    """Yield that a piece is even about a point; of bars nothing mirrors, that one lies there."""
    design, pair = seen.print_of(piece.name), pair and is_pair(piece)
    what, named = noun(design), f"the middle of the {piece.name}"
    if even := _even_ways(seen, piece.name):
        words, also = f"the {what} lie evenly either side of {named}", "mirror each other"
    else:
        words, also = f"a bar, or the middle between two, lies on {named}", "show the same one"
    places = even or (_uneven_ways(seen, piece.name) if what == "bars" else {})
    if places:
        yield Wish(
            name=f"middle of the {piece.name}",
            words=(words + (f", and left and right {piece.name} {also}" if pair else ""),),
            why=(WHY[front_or_back(piece)],),
            without=f"the {what} may lie to one side on the {piece.name}",
            rank=RANKS[front_or_back(piece)],
            usual=True,
            seams=seams,
            settles=frozenset({("middle", piece.name, "even")}),
            grants=tuple(
                Grant(
                    rules=(
                        _at(piece.name, point, axes, phase),
                        *(_alike(design, piece.name, point, axes, even=bool(even)) if pair else ()),
                    ),
                    how=_how(phase, even=bool(even)) if len(phases) > 1 else (),
                    lies=axes.lies,
                )
                for axes, phases in places.items()
                for phase in phases
            ),
        )


def _at_seam(seen: Showing, piece: Piece, seam: Seam) -> Iterator[Wish]:
    """Yield that a pair is mirrored in its centre seam, or runs on there where nothing mirrors."""
    point, where = seen.met(seam)[0][0][1], seam_name(seam.name)
    two, name = f"left and right {piece.name}", piece.name
    if even := _even_ways(seen, name):
        words = f"{two} mirror each other at the {where}"
        why: Sentence = ("Slanting with the seam, what is printed comes out as chevrons.",)
    else:
        words = f"the print runs on from {two} at the {where}"
        why = ("No half of this print mirrors the other: it goes one way round.",)
    grants = tuple(
        Grant(
            rules=(
                Mirrored(piece=name, point=point, way=axes.width)
                if even
                else _one(name, point, "both"),
            ),
            lies=axes.lies,
        )
        for axes in even or _uneven_ways(seen, name)
    )
    if grants:
        yield Wish(
            name=f"{'mirrored' if even else 'middle of the'} {name}",
            words=(words,),
            why=why,
            without=f"{two} show the print at different places",
            rank=RANKS[front_or_back(piece)],
            usual=True,
            seams=(seam.name,),
            settles=frozenset({("middle", name, "even")}),
            grants=grants,
        )


# --- where, and in what words ---------------------------------------------------------------------

Places = Mapping[Axes, Sequence[float]]
"""The phases that may lie on a middle, for each way in which a piece may lie."""


def _even_ways(seen: Showing, piece: str) -> Places:
    """Return the mirror lines of the ground; across, on a border, else those of the border."""
    design, ways = seen.print_of(piece), seen.ways_to_lie(piece)
    lines = {"along": design.axes_along, "across": design.axes_across}
    found = {
        a: lines[a.width][:MOST] for a in ways if design.ground_repeat(a.width) and lines[a.width]
    }
    if found and ACROSS in ways and design.repeat("along") and design.axes_along:
        found.setdefault(ACROSS, design.axes_along[:MOST])
    return found


def _uneven_ways(seen: Showing, piece: str) -> Places:
    """Return where a repeat begins and its middle: what is counted from is a bar."""
    design = seen.print_of(piece)
    repeats = {a: design.ground_repeat(a.width) for a in seen.ways_to_lie(piece)}
    return {a: (0.0, repeat / 2) for a, repeat in repeats.items() if repeat}


def _at(piece: str, point: str, axes: Axes, phase: float) -> AtPhase:
    if axes.width == "along":
        return AtPhase(piece=piece, point=point, along=phase)
    return AtPhase(piece=piece, point=point, across=phase)


def _alike(
    design: Print, piece: str, point: str, axes: Axes, *, even: bool
) -> tuple[PlacingRule, ...]:
    """Return what makes left and right alike, where they lie at one phase to the side."""
    if even:
        return (Mirrored(piece=piece, point=point, way=axes.width),)
    level = design.ground_repeat(axes.height)
    return (_one(piece, point, "level"),) if level else ()


def _one(piece: str, point: str, match: str) -> Meets:
    return Meets(piece_a=piece, point_a=point, piece_b=piece, point_b=point, match=match)


def _how(phase: float, *, even: bool) -> Sentence:
    if not even:
        return ("with the middle of the repeat" if phase else "with the start of the repeat",)
    if not phase:
        return ("on the mirror line at the start of the repeat",)
    return ("on the mirror line ", phase, " past the start")


def _top(seen: Showing, sleeve: Piece) -> str:
    """Return the notch at the top of a cap, "" where there is none."""
    caps = [r.edge for s in seen.pattern.seams if s.kind == "cap" for r in s.b]
    found = [n for n in sleeve.named_points() if any(n.startswith(f"{e} notch") for e in caps)]
    return max(found, key=lambda n: sleeve.up.dot(sleeve.point(n)), default="")
