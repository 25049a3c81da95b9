"""A border round a hem, or kept off the pieces that have it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from clothwright.errors import Sentence, joined
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.parts import called
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.rise import centre_of, centre_point, inward, rise_of
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.on_border import (
    AGREE_MM,
    MAY_STRAIGHTEN_MM,
    STRAIGHT_MM,
    OnBorder,
    line_height,
    where_on,
)
from clothwright.rules.order import BORDER
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import listed

Ring = Sequence[tuple[Piece, Edge]]
Here = tuple[Cloth, Border]
ROUND_MM = 0.01
"""mm by which a length may miss a whole number and still count as it."""


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for every hem that a border runs round it."""
    for ring in seen.rings:
        here = _borders(seen, ring)
        if here and (ways := on_borders(seen, ring)):
            yield _round(seen, ring, ways, usual=is_usual(seen, ring))


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


def on_borders(seen: Showing, ring: Ring) -> tuple[tuple[Here, Grant], ...]:
    """Return each way a hem lies on a border that it may lie on: as her plans have it, if they do.

    The border that her chosen plan takes comes first, then the highest.
    """
    found: list[tuple[Here, tuple[OnBorder, ...]]] = []
    for here in _borders(seen, ring):
        own = _own(seen, ring, here[1])
        found += [(here, rules) for rules in own or _usual(ring, here)]
    hers = [rule for rule in seen.start if isinstance(rule, OnBorder)]
    found.sort(key=lambda each: not any(rule in hers for rule in each[1]))
    borders = [here[1].name for here, _ in found]

    def how(border: str, rules: tuple[OnBorder, ...]) -> Sentence:
        if borders.count(border) > 1:
            return joined(("on ",), where_on(rules[0]))
        return (f"on the {border}",) if len(found) > 1 else ()

    return tuple((at, Grant(rules=rules, how=how(at[1].name, rules))) for at, rules in found)


def _own(seen: Showing, ring: Ring, border: Border) -> list[tuple[OnBorder, ...]]:
    """Return how her plans lay a hem on a border; what one says of a piece goes for all of them."""
    found: list[tuple[OnBorder, ...]] = []
    for plan in seen.plans:
        on = [r for r in plan.rules if isinstance(r, OnBorder) and r.border == border.name]
        mine = {
            (p.name, e.name): r
            for p, e in ring
            for r in on
            if (r.piece, r.edge) == (p.name, e.name)
        }
        if mine:
            first = next(iter(mine.values()))
            found.append(
                tuple(
                    mine.get((p.name, e.name)) or replace(first, piece=p.name, edge=e.name)
                    for p, e in ring
                )
            )
    return list(dict.fromkeys(found))


def _usual(ring: Ring, here: Here) -> Iterator[tuple[OnBorder, ...]]:
    """Yield that a hem lies as low on a border as its turn-up lets it, if any of it then shows."""
    rises = [rise_of(p, e) for p, e in ring]
    bare = any(
        r.total > STRAIGHT_MM and not centre_of(p, e) for r, (p, e) in zip(rises, ring, strict=True)
    )
    rules = tuple(
        OnBorder(
            piece=p.name, edge=e.name, border=here[1].name, follows="best" if bare else "centre"
        )
        for p, e in ring
    )
    above = max(_lift(rule, p, e, here) for rule, (p, e) in zip(rules, ring, strict=True))
    if above < here[1].height:
        yield tuple(replace(rule, above=above) for rule in rules)


def _round(seen: Showing, ring: Ring, ways: Sequence[tuple[Here, Grant]], *, usual: bool) -> Wish:
    names = {border.name for (_, border), _ in ways}
    words = f"the {min(names)}" if len(names) == 1 else "a border"
    return Wish(
        name=f"border round the {hem_words(ring)}",
        words=(f"{words} runs round the {hem_words(ring)}",),
        why=_why(ring),
        without=f"no border runs round the {hem_words(ring)}",
        settles=settles(ring, "on"),
        seams=tuple(s.name for s in seen.sides if _joins(ring, s.pieces)),
        rank=BORDER,
        usual=usual,
        grants=tuple(grant for _, grant in ways),
    )


def _plain(ring: Ring, here: Sequence[Here], *, usual: bool) -> Wish:
    names = list(dict.fromkeys(p.name for p, _ in ring))
    borders = listed([b.name for _, b in here])
    return Wish(
        name=f"plain {listed(names)}",
        words=(f"{listed(names)} stay plain" if len(names) > 1 else f"{names[0]} stays plain",),
        why=(f"None of the {borders} shows there by chance.",),
        without=f"the {borders} may show on {listed(names)}",
        settles=settles(ring, "off"),
        rank=BORDER,
        usual=usual,
        grants=(
            Grant(rules=tuple(KeepOff(piece=n, border=b.name) for _, b in here for n in names)),
        ),
    )


def _lift(rule: OnBorder, piece: Piece, hem: Edge, here: Here) -> float:
    """Return how far above a border's lower line a hem lies so that all below it fits, mm.

    The lowest place of a curved hem counts, with its turn-up; in whole mm where that is below.
    """
    cloth, border = here
    margin = cloth.margin_lower if border.side == "lower" else cloth.margin_upper
    up, zero = inward(piece, hem), centre_point(piece, hem)
    low = min(up.dot(p - zero) for p in cutting_line(piece).outline.flatten())
    depth = line_height(rule, rise_of(piece, hem)) - low
    return max(0.0, float(math.ceil(depth + margin - border.base - ROUND_MM)))


def hem_words(ring: Ring) -> str:
    """Return what a hem that goes round is called: "skirt hem", "hem"."""
    return f"{called([p.name for p, _ in ring])} hem".strip()


def settles(ring: Ring, how: str) -> frozenset[tuple[str, str, str]]:
    """Return what a wish about a hem decides: whether its pieces are on a border or off."""
    return frozenset(("border", p.name, how) for p, _ in ring)


def _joins(ring: Ring, pieces: set[str]) -> bool:
    return pieces <= {p.name for p, _ in ring}


def is_usual(seen: Showing, ring: Ring) -> bool:
    """Tell whether a border is usual here: the longest hem that is straight, and sleeves.

    Where no hem is straight, the longest.
    """
    straight = [r for r in seen.rings if _straight(r)]
    main = (straight or seen.rings)[0]
    return ring == main or (_straight(ring) and ring[0][0] in seen.sleeves)


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
