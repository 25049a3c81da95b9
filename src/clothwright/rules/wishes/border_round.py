"""A border round a hem, or kept off the pieces that have it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from clothwright.errors import Sentence
from clothwright.pattern.parts import called
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.rise import rise_of
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.on_border import AGREE_MM, MAY_STRAIGHTEN_MM, OnBorder
from clothwright.rules.order import BORDER
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import listed

Ring = Sequence[tuple[Piece, Edge]]
Here = tuple[Cloth, Border]


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for every hem that a border runs round it."""
    for ring in seen.rings:
        here = _borders(seen, ring)
        if here:
            yield _round(seen, ring, here, usual=is_usual(seen, ring))


def plain_offers(seen: Showing) -> Iterator[Wish]:
    """Yield for the pieces of every hem that they stay plain."""
    for ring in seen.rings:
        here = _borders(seen, ring)
        if here:
            yield _plain(ring, here, usual=not is_usual(seen, ring))


def _borders(seen: Showing, ring: Ring) -> tuple[Here, ...]:
    """Return the borders of cloths that every piece may be cut from, the highest first."""
    mine = [{c.name for c in seen.cloths_of(p.name)} for p, _ in ring]
    found = [
        (c, b)
        for c in seen.cloths
        if all(c.name in names for names in mine)
        for b in c.print.borders
    ]
    return tuple(sorted(found, key=lambda here: -here[1].height))


def _round(seen: Showing, ring: Ring, here: Sequence[Here], *, usual: bool) -> Wish:
    one = len(here) == 1
    border = here[0][1].name if one else "border"
    words = f"{'the' if one else 'a'} {border} runs round the {hem_words(ring)}"
    return Wish(
        name=f"border round the {hem_words(ring)}",
        words=(words,),
        why=_why(ring),
        without=f"no border runs round the {hem_words(ring)}",
        settles=_settles(ring),
        seams=tuple(s.name for s in seen.sides if _joins(ring, {r.piece for r in (*s.a, *s.b)})),
        rank=BORDER,
        usual=usual,
        grants=tuple(
            Grant(
                how=() if one else (f"on the {b.name}",),
                rules=tuple(
                    OnBorder(piece=p.name, edge=e.name, border=b.name, above=lift(c, b, e))
                    for p, e in ring
                ),
            )
            for c, b in here
        ),
    )


def _plain(ring: Ring, here: Sequence[Here], *, usual: bool) -> Wish:
    names = list(dict.fromkeys(p.name for p, _ in ring))
    borders = listed([b.name for _, b in here])
    return Wish(
        name=f"plain {listed(names)}",
        words=(f"{listed(names)} stay plain" if len(names) > 1 else f"{names[0]} stays plain",),
        why=(f"None of the {borders} shows there by chance.",),
        without=f"the {borders} may show on {listed(names)}",
        settles=_settles(ring),
        rank=BORDER,
        usual=usual,
        grants=(
            Grant(rules=tuple(KeepOff(piece=n, border=b.name) for _, b in here for n in names)),
        ),
    )


def lift(cloth: Cloth, border: Border, hem: Edge) -> float:
    """Return how far above a border's lower line a hem lies so that its turn-up fits, mm."""
    margin = cloth.margin_lower if border.side == "lower" else cloth.margin_upper
    return max(0.0, hem.allowance + margin - border.base)


def hem_words(ring: Ring) -> str:
    """Return what a hem that goes round is called: "skirt hem", "hem"."""
    return f"{called([p.name for p, _ in ring])} hem".strip()


def _settles(ring: Ring) -> frozenset[tuple[str, str]]:
    return frozenset(("border", p.name) for p, _ in ring)


def _joins(ring: Ring, pieces: set[str]) -> bool:
    return pieces <= {p.name for p, _ in ring}


def _sleeve(seen: Showing, ring: Ring) -> bool:
    return ring[0][0] in seen.sleeves


def is_usual(seen: Showing, ring: Ring) -> bool:
    """Tell whether a border is usual here: the longest hem that is straight, and sleeves.

    Where no hem is straight, the longest.
    """
    straight = [r for r in seen.rings if _straight(r)]
    main = (straight or seen.rings)[0]
    return ring == main or (_straight(ring) and _sleeve(seen, ring))


def _straight(ring: Ring) -> bool:
    return all(rise_of(p, e).total <= MAY_STRAIGHTEN_MM for p, e in ring)


def _why(ring: Ring) -> Sentence:
    """Say whether the hem can follow a border."""
    rises = [rise_of(p, e) for p, e in ring]
    worst = max(rises, key=lambda r: r.total)
    if worst.total <= MAY_STRAIGHTEN_MM:
        return ("A straight hem follows a border all the way round.",)
    if worst.bow > AGREE_MM:
        return ("This hem is curved: it leaves a border by up to ", worst.total, ".")
    return ("This hem is straight, but slants by ", worst.total, " and leaves a border by as much.")
