"""A plan's rules on shapes in their order of importance: what gives way, and how that is said."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import MissedBy, Sentence, joined
from clothwright.lay.copies import points_of
from clothwright.lay.counting import GaveWay
from clothwright.lay.phases import because, settle
from clothwright.lay.problem import LayProblem, Rule, Shape, asked_by
from clothwright.rules.around_cut import CUT, LIES
from clothwright.rules.rule import Foreseen
from clothwright.rules.table import CuttingTable, Landmark
from clothwright.words import is_met


@dataclass(frozen=True, slots=True, kw_only=True)
class Settling:
    """What a plan asks, as far as its rules go together.

    table: every copy in the turns that are left. gave_way: by the number of a rule of the plan, how
    it is missed. meant: as in `lay.phases.Settled`.
    """

    table: CuttingTable
    asked: tuple[Rule, ...]
    gave_way: Mapping[int, Foreseen]
    meant: Mapping[str, Rule]


def settled(
    table: CuttingTable,
    asked: Sequence[Rule],
    landmarks: Sequence[Landmark],
    said: Mapping[int, Sentence],
) -> Settling:
    """Return the rules on shapes, the later ones as near as the earlier leave.

    asked: their ids begin with the number of the plan's rule. said: those rules in words.
    """
    own: dict[str, dict[str, tuple[float, float]]] = {}
    for mark in landmarks:
        own.setdefault(mark.shape, {})[mark.name] = mark.at
    shapes = tuple(
        Shape(
            id=each.id,
            piece=each.copy.piece.name,
            copy=each.copy.copy,
            outline=(),
            turns_deg=each.turns_deg,
            flips=(each.copy.turned_over,),
            points={**points_of(each.copy), **own.get(each.id, {})},
        )
        for each in table.lying.values()
    )
    problem = LayProblem(regions=(), shapes=shapes, rules=tuple(asked))
    found = settle(problem)
    turns = {s.id: s.turns_deg for s in found.problem.shapes}
    lying = {n: replace(each, turns_deg=turns[n]) for n, each in table.lying.items()}
    return Settling(
        table=replace(table, lying=lying),
        asked=found.problem.rules,
        gave_way=dict(_told(problem, found.rests, said)),
        meant=found.meant,
    )


def _told(
    problem: LayProblem, rests: Sequence[GaveWay], said: Mapping[int, Sentence]
) -> Iterator[tuple[int, Foreseen]]:
    """Yield for each rule that is seen to give way the worst of it, and what comes before it."""
    worst: dict[int, GaveWay] = {}
    for rest in rests:
        number = _number(rest.rule)
        if not is_met(rest.mm) and (number not in worst or rest.mm > worst[number].mm):
            worst[number] = rest
    for number, rest in worst.items():
        before = list(dict.fromkeys(map(asked_by, because(problem, rest))))
        words = {CUT: LIES, **{str(n): s for n, s in said.items()}}
        quoted = (p for n in before for p in ("; “" if n != before[0] else "“", words[n], "”"))
        later = "" if before == [CUT] else " Move it up to have it first."
        yield number, Foreseen(words=_sentence(said[number], rest, joined(*quoted), later))


def _sentence(rule: Sentence, rest: GaveWay, reasons: Sentence, later: str) -> Sentence:
    if rest.sure:
        first = joined("“", rule, "” cannot be had exactly: the best any lay can do misses by ")
    else:
        first = joined("“", rule, "” was not found exactly: the nearest place found misses by ")
    mm = MissedBy(rest.mm)
    if not reasons:
        return (*first, mm, ".")
    before = (*first, mm, " while this comes before it: ")
    return joined(before, reasons, ".", later)


def _number(rule: str) -> int:
    return int(asked_by(rule))
