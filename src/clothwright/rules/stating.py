"""What a plan states: how every copy may lie, every rule per copy, and what is wrong with it.

Before anything is searched each rule is looked at: the names it has for pieces, edges, points,
borders and cloths, and what it asks of their print. Every mistake of a plan is found in one go,
without an outline of any piece.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from clothwright.cloth.cloth import Cloth, after_washing
from clothwright.cloth.prints import Border
from clothwright.errors import BadInput, Sentence, joined
from clothwright.lay.copies import copies_to_cut
from clothwright.lay.cut_piece import CutPiece
from clothwright.lay.problem import Rule
from clothwright.pattern.pattern import Pattern
from clothwright.rules.around_cut import NOTHING_CUT, AroundCut, around_cut, without_odd
from clothwright.rules.following import followed, why_gone
from clothwright.rules.known import contradict, kind_of
from clothwright.rules.names import wrong_names
from clothwright.rules.offers import Outfit
from clothwright.rules.one_top import OneTopped, one_topped
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.rule import Foreseen, Home, RuleKind
from clothwright.rules.settling import settled
from clothwright.rules.standing import Numbered, StoodUp, implied, standing
from clothwright.rules.table import CuttingTable, Landmark, WrongRule
from clothwright.rules.turned_together import at_odds
from clothwright.units.params import Wrong


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistaken:
    """A rule that cannot be: its number in the plan (from 1), and what is wrong with it."""

    number: int
    wrong: tuple[Wrong, ...]


def mistakes_of(plan: Plan, pattern: Pattern, cloths: Sequence[Cloth]) -> tuple[BadInput, ...]:
    """Return everything that is wrong with a plan's rules for these pieces and cloths."""
    return placed(plan, asking(pattern, cloths, plan).mistaken)


def mistaken_rules(plan: Plan, pattern: Pattern, cloths: Sequence[Cloth]) -> tuple[Mistaken, ...]:
    """Return the rules that cannot be, each mistake with the field it is about."""
    return asking(pattern, cloths, plan).mistaken


def outfit_of(pattern: Pattern, cloths: Sequence[Cloth], plan: Plan) -> Outfit:
    """Return what a rule of a plan can name, and which pieces have a cloth, or one with a print."""
    good = [
        (r, kind_of(r))
        for rule in plan.rules
        if not _unknown(rule)
        for r in followed(rule, pattern, plan.rules)
        if not _names(r, pattern, cloths)
    ]
    homes = {
        p.name: [c for cut in p.cuts for c in _homes(good, cloths, p.name, cut.material)]
        for p in pattern.pieces
    }
    return Outfit(
        pattern=pattern,
        cloths=tuple(cloths),
        laid=tuple(p for p in pattern.pieces if homes[p.name]),
        printed=tuple(p for p in pattern.pieces if any(c.print.has_design for c in homes[p.name])),
    )


def placed(plan: Plan, mistaken: Iterable[Mistaken]) -> tuple[BadInput, ...]:
    """Return the mistakes of a plan's rules, each with the plan and the rule it is in."""
    return tuple(
        w.error.at(f'plan "{plan.name}", rule {m.number}') for m in mistaken for w in m.wrong
    )


# --- what a plan states ---------------------------------------------------------------------------

Known = tuple[PlacingRule, RuleKind[Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanAsks:
    """The copies as they may lie, the rules on their shapes, what is wrong, what has no cloth.

    landmarks: places on shapes that the rules speak of beside the named ones. said: by the number
    of the rule, its words; foreseen: what is known of it before anything is laid. cut: what is cut;
    unkept: rules that it does not keep itself; left_out: rules that it leaves out, in words.
    """

    table: CuttingTable
    asked: tuple[Rule, ...]
    landmarks: tuple[Landmark, ...]
    said: Mapping[int, Sentence]
    foreseen: Mapping[int, tuple[Foreseen, ...]]
    mistaken: tuple[Mistaken, ...]
    notes: tuple[str, ...]
    cut: AroundCut = NOTHING_CUT
    unkept: Sequence[Rule] = ()
    left_out: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated(PlanAsks):
    """The same with the rules settled in their order.

    gave_way: of what is foreseen, how a rule is missed for which the ones before it leave no place.
    meant: by the id of what is asked instead, the rule that gave way.
    """

    gave_way: Mapping[int, Foreseen]
    meant: Mapping[str, Rule]


def stated(
    pattern: Pattern, cloths: Sequence[Cloth], plan: Plan, cut: Sequence[CutPiece] = ()
) -> Stated:
    """Return what a plan asks of these pieces and cloths, settled, and what of it cannot be.

    cut: what is cut already, which stays.
    """
    one = _asking_around(pattern, cloths, plan, cut)
    together = settled(one.table, one.asked, one.landmarks, one.said)
    seen = dict(one.foreseen)
    for number, missed in together.gave_way.items():
        seen[number] = (*seen.get(number, ()), missed)
    return Stated(
        table=together.table,
        asked=together.asked,
        landmarks=one.landmarks,
        said=one.said,
        foreseen=seen,
        gave_way=together.gave_way,
        meant=together.meant,
        mistaken=one.mistaken,
        notes=one.notes,
        cut=one.cut,
        unkept=one.unkept,
        left_out=one.left_out,
    )


def _asking_around(
    pattern: Pattern, cloths: Sequence[Cloth], plan: Plan, cut: Sequence[CutPiece]
) -> PlanAsks:
    """Return what a plan asks around what is cut, without the rules that only this leaves out."""
    found = asking(pattern, cloths, plan, cut)
    if not (cut and found.mistaken):
        return found
    alone = {m.number for m in asking(pattern, cloths, plan).mistaken}
    out: dict[int, Sentence] = {}
    while more := [m for m in found.mistaken if m.number not in alone]:
        out |= {m.number: _left_out(plan, m) for m in more}
        found = asking(pattern, cloths, plan, cut, without=out)
    return replace(found, left_out=tuple(out.values()))


def _left_out(plan: Plan, rule: Mistaken) -> Sentence:
    said = kind_of(plan.rules[rule.number - 1]).said(plan.rules[rule.number - 1])
    why = rule.wrong[0].error.what
    return joined("“", said, "” is left out, for with what is cut already it cannot be: ", why, ".")


def asking(
    pattern: Pattern,
    cloths: Sequence[Cloth],
    plan: Plan,
    cut: Sequence[CutPiece] = (),
    without: Container[int] = (),
) -> PlanAsks:
    """Return what a plan asks of these pieces and cloths, and what of it cannot be.

    cut: what is cut already, which stays. without: the numbers of rules that are left out.
    """
    washed = tuple(after_washing(c) for c in cloths)
    wrong: dict[int, tuple[Wrong, ...]] = {}
    good: list[Numbered] = []
    notes: list[str] = []
    for number, rule in enumerate(plan.rules, start=1):
        if number in without:
            continue
        now = (rule,) if _unknown(rule) else followed(rule, pattern, plan.rules)
        faults = tuple(dict.fromkeys(w for r in now for w in _names(r, pattern, washed)))
        if faults:
            wrong[number] = faults
        else:
            good += [(number, (r, kind_of(r))) for r in now]
        if not now:
            notes.append(f"rule {number} is left out: {why_gone(rule, pattern)}")
    for number, earlier in _contradicting(good, [b for c in washed for b in c.print.borders]):
        wrong.setdefault(number, (Wrong("", earlier),))
    stood, homeless, ground = _stood(pattern, washed, good, cut)
    table = stood.table
    for number, error in stood.wrong:
        wrong.setdefault(number, (error,))
    of_prints = tuple(implied(table, [rule for _, (rule, _) in good]))
    placing = _asked(table, [each for each in good if each[1][1].places])
    table = replace(table, placed=(*of_prints, *(r for _, r in placing.asked)))
    others = _asked(table, [each for each in good if not each[1][1].places])
    wrong |= {number: (error,) for number, error in (*placing.wrong, *others.wrong)}
    found = [r for _, r in sorted((*placing.asked, *others.asked), key=lambda each: each[0])]
    asked = [r for r in found if not isinstance(r, Landmark)]
    landmarks = [r for r in found if isinstance(r, Landmark)]
    seen = placing.foreseen | others.foreseen
    said = {number: kind.said(rule) for number, (rule, kind) in good}
    for number, odds in at_odds(table, (*stood.asked, *asked), said):
        wrong.setdefault(number, (Wrong("", odds),))
    asked += (*of_prints, *stood.asked)
    unkept = ground.unkept(table, landmarks, asked)
    pins = (ground.pin(name) for name in ground.known)
    return PlanAsks(
        table=table,
        asked=(*pins, *(r for r in asked if r not in unkept)),
        landmarks=tuple(landmarks),
        said=said,
        foreseen=seen,
        mistaken=tuple(Mistaken(number=n, wrong=wrong[n]) for n in sorted(wrong)),
        notes=(*homeless, *notes),
        cut=ground,
        unkept=unkept,
    )


class _Asked(NamedTuple):
    """What rules ask of shapes, what is known of them beforehand, what is wrong, by number."""

    asked: list[tuple[int, Rule | Landmark]]
    foreseen: dict[int, tuple[Foreseen, ...]]
    wrong: list[tuple[int, Wrong]]


def _asked(table: CuttingTable, rules: Sequence[Numbered]) -> _Asked:
    found = _Asked([], {}, [])
    for number, (rule, kind) in rules:
        try:
            mine = list(kind.asks(rule, table))
            seen = (*found.foreseen.get(number, ()), *kind.foreseen(rule, table))
        except WrongRule as error:
            found.wrong.append((number, Wrong(error.field, error)))
            continue
        found.foreseen[number] = seen
        found.asked.extend(
            (number, r if isinstance(r, Landmark) else replace(r, id=f"{number} {r.id}"))
            for r in mine
        )
    return found


def _contradicting(
    rules: Sequence[Numbered], borders: Sequence[Border]
) -> Iterator[tuple[int, BadInput]]:
    """Yield each rule that cannot hold together with one before it, and the sentence."""
    for n, (number, (rule, _)) in enumerate(rules):
        for _, (other, its) in rules[:n]:
            if contradict(rule, other, borders):
                words = joined("it contradicts another rule of the plan, “", its.said(other), "”")
                yield number, BadInput(what=words, expected="one of the two")


def _names(rule: PlacingRule, pattern: Pattern, cloths: Sequence[Cloth]) -> tuple[Wrong, ...]:
    """Return what is wrong with the kind of a rule, or the names it has."""
    return _unknown(rule) or tuple(wrong_names(rule, pattern, cloths))


def _unknown(rule: PlacingRule) -> tuple[Wrong, ...]:
    try:
        kind_of(rule)
    except BadInput as error:
        return (Wrong("kind", error),)
    return ()


def _stood(
    pattern: Pattern, cloths: tuple[Cloth, ...], rules: Sequence[Numbered], cut: Sequence[CutPiece]
) -> tuple[OneTopped, tuple[str, ...], AroundCut]:
    """Return every copy as it may lie, with the rules that turn a top over, and what has no cloth.

    A rule that is wrong may be there more than once, the worst first. What is cut lies as it does.
    """

    def home(piece: str, material: str) -> tuple[str, ...]:
        return tuple(c.name for c in _homes(known, cloths, piece, material))

    known = [rule for _, rule in rules]
    copies, homes, notes = copies_to_cut(pattern, home)
    copies, ground = around_cut(pattern, copies, homes, cloths, cut)
    by_name = {c.name: c for c in cloths}
    stands = [
        StoodUp(lying=ground.lying(c, cloths))
        if c.id in ground.at
        else standing(c, tuple(by_name[n] for n in homes[c.id]), rules)
        for c in copies
    ]
    lying = {each.lying.id: each.lying for each in stands}
    table = CuttingTable(pattern=pattern, cloths=cloths, lying=without_odd(lying, ground))
    found = one_topped(table, rules, {each.lying.id: each.turner for each in stands})
    whole = replace(found.table, lying={**lying, **found.table.lying})
    wrong = (*(w for e in stands for w in e.wrong), *found.wrong)
    return replace(found, table=whole, wrong=wrong), notes, ground


def _homes(
    rules: Sequence[Known], cloths: Sequence[Cloth], piece: str, material: str
) -> tuple[Cloth, ...]:
    """Return the cloths a piece may be cut from; of rules that disagree, the first one counts."""
    found = tuple(c for c in cloths if c.material == material)
    for rule, kind in reversed(rules):
        if kind.home is not None:
            found = kind.home(rule, Home(piece, material), found, tuple(cloths))
    return found
