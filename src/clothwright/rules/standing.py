"""How a copy stands on its print: never against a top, and off every border it is not named for.

A copy's top is its grain arrow. It may be turned up to 45 degrees from where the print's top
points: on the bias a figure still stands, beyond that it lies on its side (docs/lay.md).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.meanings import WAYS
from clothwright.cloth.prints import Border
from clothwright.errors import BadInput, Sentence, joined
from clothwright.geometry.vec import turn_apart
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy
from clothwright.rules.known import stance
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import RuleKind, Turns
from clothwright.rules.table import CuttingTable, Lying
from clothwright.units.params import Wrong
from clothwright.words import listed

WITHIN_DEG = 45.0
HEAD_DEG = 135.0
"""Degrees from upright at which a figure stands on its head rather than lies on its side."""

Numbered = tuple[int, tuple[PlacingRule, RuleKind[Any]]]
"""A rule of the plan with its number (from 1) and its kind."""


class Top(NamedTuple):
    """A print with a top under a copy: which way, its name, and whose rule lays the copy on it.

    number: of that rule, 0 for none.
    """

    up_deg: float
    what: str
    number: int = 0

    def apart(self, turn_deg: float) -> float:
        """Return how far a turn is from upright, 0 to 180 degrees."""
        return turn_apart(turn_deg, self.up_deg)

    def bars(self, turn_deg: float) -> bool:
        """Tell whether the print would not stand upright on a copy turned by so many degrees."""
        return self.apart(turn_deg) > WITHIN_DEG + 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class StoodUp:
    """How one copy may lie by its rules and its prints.

    turner: the number of the rule that turns it, 0 for none. wrong: (rule's number, what is wrong).
    """

    lying: Lying
    turner: int = 0
    wrong: tuple[tuple[int, Wrong], ...] = ()


def standing(copy: Copy, cloths: tuple[Cloth, ...], rules: Sequence[Numbered]) -> StoodUp:
    """Return the turns that rules and prints leave a copy, and the cloths it stands upright on.

    cloths: those it may be cut from. Of the first that leaves it a turn, those count; the others
    stay where one of these stands upright on them too. Where none leaves one, the rules that turn
    it and lay it on a border are wrong, each with the names of the others.
    """
    turning = _turning(copy, cloths, rules)
    turner, asked = turning[0][1:] if turning else (0, None)
    otherwise = _turned_otherwise(turning, rules)
    if asked is not None and otherwise:
        wrong = _two_ways(copy, (turner, *otherwise), rules)
        return StoodUp(lying=_lying(copy, cloths, asked), turner=turner, wrong=tuple(wrong))
    for cloth in cloths:
        up_deg = cloth.print.up_deg
        turns = asked or Turns((0.0, 180.0) if up_deg is None else (up_deg,))
        good = _upright(turns.turns_deg, _tops(copy, cloth, rules))
        if good:
            there = tuple(c for c in cloths if _upright(good, _tops(copy, c, rules)))
            lying = _lying(copy, there, turns._replace(turns_deg=good))
            return StoodUp(lying=lying, turner=turner)
    lying = _lying(copy, cloths, asked or Turns((0.0, 180.0)))
    return StoodUp(lying=lying, turner=turner, wrong=tuple(_wrong(lying, turner, rules)))


def _lying(copy: Copy, cloths: tuple[Cloth, ...], turns: Turns) -> Lying:
    return Lying(copy=copy, cloths=cloths, turns_deg=turns.turns_deg, tilt_deg=turns.tilt_deg)


def implied(table: CuttingTable, rules: Sequence[PlacingRule]) -> Iterator[put.Rule]:
    """Yield what every copy is asked by the prints it may be cut from, without any rule."""
    ways = {(s.piece, s.border): s.way for s in map(stance, rules) if s is not None}
    for each in table.lying.values():
        for cloth in each.cloths:
            if cloth.print.up_deg is not None:
                yield put.Upright(
                    id=f"up {cloth.name} {each.id}",
                    shape=each.id,
                    region=cloth.name,
                    up_deg=cloth.print.up_deg,
                    within_deg=WITHIN_DEG,
                )
            for border in cloth.print.borders:
                way = ways.get((each.copy.piece.name, border.name), "")
                yield from _by_border(each, cloth, border, way)


def _by_border(each: Lying, cloth: Cloth, border: Border, way: str) -> Iterator[put.Rule]:
    low, high = border.span(cloth.width)
    if not way:
        yield put.KeepOff(
            id=f"off {border.name} {each.id}",
            shape=each.id,
            region=cloth.name,
            low=low,
            high=high,
        )
    elif way != "off" and border.up_deg is not None:
        yield put.Upright(
            id=f"up {border.name} {each.id}",
            shape=each.id,
            region=cloth.name,
            up_deg=border.up_deg,
            within_deg=WITHIN_DEG,
            low=low,
            high=high,
        )


# --- turns and tops -------------------------------------------------------------------------------


class Turning(NamedTuple):
    """A rule that turns a copy: the rank of its kind, its number in the plan, and how."""

    rank: int
    number: int
    turns: Turns


def _turning(copy: Copy, cloths: Sequence[Cloth], rules: Sequence[Numbered]) -> list[Turning]:
    """Return every rule that turns a copy; the first decides."""
    said = [
        Turning(kind.rank, number, turns)
        for number, (rule, kind) in rules
        if kind.turns is not None
        for turns in [next(filter(None, (kind.turns(rule, copy, c) for c in cloths)), None)]
        if turns is not None
    ]
    return sorted(said, key=lambda each: each.rank)


def _turned_otherwise(turning: Sequence[Turning], rules: Sequence[Numbered]) -> tuple[int, ...]:
    """Return the numbers of the rules of other kinds that leave no turn of the one that decides.

    A piece that is pinned lies as it was laid by hand, whatever else turns it. Rules of one kind
    know themselves which of them contradict.
    """
    if not turning or not turning[0].rank:
        return ()
    first, *others = turning
    kinds = {number: kind.id for number, (_, kind) in rules}
    return tuple(
        each.number
        for each in others
        if kinds[each.number] != kinds[first.number] and not _in_common(first.turns, each.turns)
    )


def _in_common(a: Turns, b: Turns) -> bool:
    room = a.tilt_deg + b.tilt_deg + 1e-6
    return any(turn_apart(x, y) <= room for x in a.turns_deg for y in b.turns_deg)


def _tops(copy: Copy, cloth: Cloth, rules: Sequence[Numbered]) -> tuple[Top, ...]:
    """Return what has a top of what a copy is laid on: the ground, the borders of its rules."""
    tops = []
    if cloth.print.up_deg is not None:
        tops.append(Top(cloth.print.up_deg, f'the print of "{cloth.name}"'))
    for number, (rule, _) in rules:
        on = stance(rule)
        if on is None or on.way != "on" or on.piece != copy.piece.name:
            continue
        tops += [
            Top(border.up_deg, f'the border "{border.name}"', number)
            for border in cloth.print.borders
            if border.name == on.border and border.up_deg is not None
        ]
    return tuple(tops)


def _upright(turns_deg: Sequence[float], tops: Sequence[Top]) -> tuple[float, ...]:
    return tuple(t for t in turns_deg if not any(top.bars(t) for top in tops))


# --- in words -------------------------------------------------------------------------------------


def _wrong(lying: Lying, turner: int, rules: Sequence[Numbered]) -> Iterator[tuple[int, Wrong]]:
    """Yield what is wrong with each rule that has a part in it."""
    tops = [
        top
        for top in _tops(lying.copy, lying.cloth, rules)
        if any(top.bars(t) for t in lying.turns_deg)
    ]
    by_number = dict(rules)
    involved = dict.fromkeys(n for n in (turner, *(top.number for top in tops)) if n)
    lays = f'"{lying.copy.piece.name}" would lie with its top {way_words(lying)}'
    for number in involved:
        others = [by_number[n] for n in involved if n != number]
        names: Sentence = ()
        for rule, kind in others:
            names = joined(names, " and “" if names else " (by “", kind.said(rule), "”")
        names = joined(names, ")" if names else "")
        error = BadInput(
            what=joined(
                lays, ", but ", _stand(tops), names, f": the print would {_fallen(tops, lying)}"
            ),
            expected="both tops one way, or on the bias to each other",
            try_="leaving this rule out, or a print without a top on the cloth page",
        )
        yield number, Wrong(by_number[number][1].turned_by, error)


def _stand(tops: Sequence[Top]) -> str:
    """Say which way every print stands that has a top, each print once."""
    ways: dict[float, dict[str, None]] = {}
    for top in tops:
        ways.setdefault(top.up_deg, {})[top.what] = None
    return listed(
        [
            f"{listed(list(prints))} "
            + ("stands with its top " if len(prints) == 1 else "stand with their tops ")
            + _way(up_deg)
            for up_deg, prints in ways.items()
        ]
    )


def _two_ways(
    copy: Copy, numbers: Sequence[int], rules: Sequence[Numbered]
) -> Iterator[tuple[int, Wrong]]:
    """Yield what is wrong with each of the rules that turn one piece in different ways."""
    by_number = dict(rules)
    for number in numbers:
        others = [n for n in numbers if n != number] if number == numbers[0] else numbers[:1]
        names: Sentence = ()
        for other in others:
            rule, kind = by_number[other]
            names = joined(names, " and “" if names else "“", kind.said(rule), "”")
        error = BadInput(
            what=joined(
                f'"{copy.piece.name}" would have to lie two ways, for it is turned by ',
                names,
                " too",
            ),
            expected="one of the two, or both the same way",
        )
        yield number, Wrong(by_number[number][1].turned_by, error)


def way_words(lying: Lying) -> str:
    """Say where the top of a copy may point."""
    return listed(list(dict.fromkeys(_way(t) for t in lying.turns_deg)), "or")


def _way(turn_deg: float) -> str:
    """Say where a top points: "towards the upper selvedge"."""
    return WAYS.get(turn_deg % 360.0, "slantwise")


def _fallen(tops: Sequence[Top], lying: Lying) -> str:
    least = max(min(top.apart(t) for t in lying.turns_deg) for top in tops)
    return "stand on its head" if least >= HEAD_DEG else "lie on its side"
