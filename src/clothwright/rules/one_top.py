"""All tops one way: what of a cloth turns together, and which rules keep a piece from it.

A nap or a shading is seen on every piece, whatever its grain: the tops of all that is cut of one
cloth point to one way of it, an end or a selvedge. A piece may lean from there as far as a print
lets it (`standing.WITHIN_DEG`): on the bias it still counts. Pieces of one grain turn
exactly alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.meanings import WAYS
from clothwright.errors import BadInput, Sentence, joined
from clothwright.geometry.vec import turn_apart
from clothwright.lay import problem as put
from clothwright.rules.standing import WITHIN_DEG, Numbered, way_words
from clothwright.rules.table import CuttingTable, Lying
from clothwright.units.params import Wrong


@dataclass(frozen=True, slots=True, kw_only=True)
class OneTopped:
    """Every copy in the turns that are left, the rules on shapes, and (rule's number, wrong)."""

    table: CuttingTable
    asked: tuple[put.Rule, ...]
    wrong: tuple[tuple[int, Wrong], ...]


class TopsAsked(NamedTuple):
    """Who asks that tops point one way, a rule by its number or a nap (0), and of which shapes."""

    number: int
    cloth: Cloth
    shapes: tuple[str, ...]

    @property
    def tag(self) -> str:
        """Return how the ids of its rules on shapes begin."""
        return f"{self.number} one-way" if self.number else "nap"


def one_topped(
    table: CuttingTable, rules: Sequence[Numbered], turners: Mapping[str, int]
) -> OneTopped:
    """Return the copies with all tops one way, wherever a nap or a rule asks it.

    turners: by a shape's name, the number of the rule that turns it, 0 for none. Where copies have
    no way of the cloth in common, the rules that ask it and that turn them are wrong.
    """
    lying = dict(table.lying)
    asked: list[put.Rule] = []
    wrong: list[tuple[int, Wrong]] = []
    for cloth in table.cloths:
        for together in _overlapping(_asking(cloth, table, rules)):
            names = {n for a in together for n in a.shapes}
            there = [each for n, each in lying.items() if n in names]
            mine = [each for each in there if each.cloth.name == cloth.name] or there
            way = max(WAYS, key=lambda w: sum(bool(_towards(each, w)) for each in mine))
            if not all(_towards(each, way) for each in mine):
                wrong += _no_one_way(mine, way, together, rules, turners)
                continue
            free = len({(each.turns_deg, len(each.cloths)) for each in there}) == 1
            if not free or len(there[0].cloths) > 1:
                lying |= {e.id: replace(e, turns_deg=_towards(e, way)) for e in mine}
                asked += [r for a in together for r in _upright(a, way)]
            asked += [r for a in together for r in _alike(a, lying)]
    return OneTopped(table=replace(table, lying=lying), asked=tuple(asked), wrong=tuple(wrong))


def _towards(each: Lying, way: float) -> tuple[float, ...]:
    """Return the turns of a copy in which its top points to one way of the cloth (degrees)."""
    return tuple(t for t in each.turns_deg if turn_apart(t, way) <= WITHIN_DEG + 1e-6)


def _common(a: Lying, b: Lying) -> bool:
    return any(_towards(a, w) and _towards(b, w) for w in WAYS)


def _asking(cloth: Cloth, table: CuttingTable, rules: Sequence[Numbered]) -> Iterator[TopsAsked]:
    """Yield who asks it on a cloth: its nap of every piece that no rule lets lie otherwise."""
    there = [e for e in table.lying.values() if cloth.name in [c.name for c in e.cloths]]
    wanted = [(n, kind.tops(r)) for n, (r, kind) in rules if kind.tops is not None]
    if cloth.nap:
        outside = {name for _, tops in wanted for name in tops.outside}
        yield TopsAsked(0, cloth, tuple(e.id for e in there if e.copy.piece.name not in outside))
    for number, tops in wanted:
        yield TopsAsked(number, cloth, tuple(e.id for e in there if tops.of(e.copy.piece.name)))


def _overlapping(asking: Iterator[TopsAsked]) -> list[list[TopsAsked]]:
    """Return them put together where they speak of one shape; those of a single shape are gone."""
    found: list[list[TopsAsked]] = []
    for one in (a for a in asking if len(a.shapes) > 1):
        same = [f for f in found if any(set(a.shapes) & set(one.shapes) for a in f)]
        found = [f for f in found if f not in same]
        found.append([*(a for f in same for a in f), one])
    return found


def _upright(asking: TopsAsked, way: float) -> Iterator[put.Rule]:
    for name in asking.shapes:
        yield put.Upright(
            id=f"{asking.tag} up {asking.cloth.name} {name}",
            shape=name,
            region=asking.cloth.name,
            up_deg=way,
            within_deg=WITHIN_DEG,
            of="tops",
        )


def _alike(asking: TopsAsked, lying: Mapping[str, Lying]) -> Iterator[put.Rule]:
    """Yield one turn for the shapes that may take the same ones, where there are several."""
    groups: dict[tuple[float, ...], list[str]] = {}
    for name in asking.shapes:
        groups.setdefault(lying[name].turns_deg, []).append(name)
    several = [g for turns, g in groups.items() if len(turns) > 1 and len(g) > 1]
    for k, group in enumerate(several):
        yield put.SameTurn(id=f"{asking.tag} {asking.cloth.name} {k}", shapes=tuple(group))


# --- in words -------------------------------------------------------------------------------------


def _no_one_way(
    mine: Sequence[Lying],
    way: float,
    together: Sequence[TopsAsked],
    rules: Sequence[Numbered],
    turners: Mapping[str, int],
) -> Iterator[tuple[int, Wrong]]:
    """Yield what is wrong with each rule that has a part in it, with the names of the others."""
    by_number = dict(rules)
    off = [each for each in mine if not _towards(each, way)]
    crossed = [a for a in mine if any(not _common(a, b) for b in mine)] or mine
    turning = {turners[each.id] for each in crossed} - {0}
    asking = {a.number for a in together} - {0}
    cloth = together[0].cloth
    other = next(each for each in mine if _towards(each, way))
    lie = (
        f'"{off[0].copy.piece.name}" would lie with its top {way_words(off[0])}, and '
        f'"{other.copy.piece.name}" {way_words(other)}'
    )
    because = f', but all tops on "{cloth.name}" point one way'
    if any(not a.number for a in together):
        because += ", for it has a nap"
    for number in sorted(turning | asking):
        others: Sentence = ()
        for rule, kind in (by_number[n] for n in sorted((turning | asking) - {number})):
            others = joined(others, " and “" if others else " (by “", kind.said(rule), "”")
        error = BadInput(
            what=joined(lie, others, ")" if others else "", because),
            expected="all tops towards one end of the cloth or one selvedge, or on the bias to it",
            try_="turning them alike, or saying in a rule “all tops one way” which "
            "pieces may lie otherwise",
        )
        yield number, Wrong(by_number[number][1].turned_by, error)
