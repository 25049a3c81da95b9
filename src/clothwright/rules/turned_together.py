"""Rules that turn copies together: which of them leave no way to turn them all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from clothwright.errors import BadInput, Sentence, joined
from clothwright.geometry.vec import turn_apart
from clothwright.lay.problem import Rule, SameTurn, asked_by
from clothwright.lay.turning import Turning, broken, turning_sets
from clothwright.rules.table import CuttingTable
from clothwright.words import listed


class AtOdds(NamedTuple):
    """A rule of the plan that leaves some copies no turn, and why."""

    number: int
    error: BadInput


def at_odds(
    table: CuttingTable, asked: Sequence[Rule], said: Mapping[int, Sentence]
) -> Iterator[AtOdds]:
    """Yield each rule of a plan that leaves the copies it turns together no turn.

    asked: the ids of those of the plan begin with their number in it; a nap comes first, then the
    earlier counts. said: those in words.
    """
    kept: list[SameTurn] = []
    told: set[int] = set()
    for rule in sorted((r for r in asked if isinstance(r, SameTurn)), key=_number):
        if _can_turn(table, [*kept, rule]):
            kept.append(rule)
        elif (by := _number(rule)) and by not in told:
            told.add(by)
            yield AtOdds(by, _odds(table, rule, _needed(table, kept, rule), said))


def _number(rule: SameTurn) -> int:
    """Return the number of the rule of the plan that asks it, 0 for a nap."""
    by = asked_by(rule.id)
    return int(by) if by.isdigit() else 0


def _needed(table: CuttingTable, kept: Sequence[SameTurn], rule: SameTurn) -> list[SameTurn]:
    """Return the fewest of the rules kept that leave a rule no turn, none where it has none."""
    needed = list(kept)
    for other in kept:
        fewer = [r for r in needed if r is not other]
        if not _can_turn(table, [*fewer, rule]):
            needed = fewer
    return needed


def _odds(
    table: CuttingTable, rule: SameTurn, needed: Sequence[SameTurn], said: Mapping[int, Sentence]
) -> BadInput:
    pieces = list(dict.fromkeys(table.lying[s].copy.piece.name for s in rule.shapes))
    if not needed:
        return BadInput(
            what=f'"{pieces[-1]}" would have to lie as "{pieces[0]}" does, and the plan turns them '
            "two ways on the cloth",
            expected="the grain of both the same way",
            try_=f'a rule that lays the grain of "{pieces[-1]}" as that of "{pieces[0]}" lies',
        )
    names = listed([f'"{n}"' for n in pieces])
    how = "as in a mirror" if rule.mirrored else "alike"
    others: Sentence = ()
    for by in dict.fromkeys(_number(r) for r in needed):
        words: Sentence = ("“", *said[by], "”") if by else ("the nap of the cloth",)
        others = joined(others, " and " if others else "", words)
    return BadInput(
        what=joined(
            f"for it {names} would have to be turned {how}, which does not go with ", others
        ),
        expected="rules that go together",
        try_="leaving one of these rules out",
    )


def _can_turn(table: CuttingTable, rules: Sequence[SameTurn]) -> bool:
    """Tell whether the copies that the last rule is about can be turned as all of them ask."""
    name = rules[-1].shapes[0]
    together = next(s for s in turning_sets(rules) if name in s)
    mine = (together[name].back.of(t) for t in table.lying[name].turns_deg)
    return any(_all_may(table, together, turn, rules) for turn in mine)


def _all_may(
    table: CuttingTable, together: Turning, turn_deg: float, rules: Sequence[Rule]
) -> bool:
    turns = {n: follows.of(turn_deg) for n, follows in together.items()}
    for name, turn in turns.items():
        lying = table.lying[name]
        if all(turn_apart(turn, t) > lying.tilt_deg + 1e-6 for t in lying.turns_deg):
            return False
    return not broken(rules, turns)
