"""Edits of a plan and its workbook: rules out and in, changes added, pieces cut in two."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.rules.at_phase import AtPhase
from clothwright.rules.clear import Clear
from clothwright.rules.cut_from import CutFrom
from clothwright.rules.keep_off import KeepOff
from clothwright.rules.meets import Meets
from clothwright.rules.mirrored import Mirrored
from clothwright.rules.names import pieces_of
from clothwright.rules.on_border import OnBorder
from clothwright.rules.on_grain import OnGrain
from clothwright.rules.one_way import OneWay
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.workbook import Step, Workbook, replay


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """What is done to the plan and the workbook. gap: mm between cutting lines, None as it is.

    drop: numbers of the plan's rules (from 1). add: rules put in. steps: changes put at the end of
    the list; they hold for every plan. parts: (piece, its parts) where a step cuts a piece in two.
    """

    drop: tuple[int, ...] = ()
    add: tuple[PlacingRule, ...] = ()
    steps: tuple[Step, ...] = ()
    gap: float | None = None
    parts: tuple[tuple[str, tuple[str, str]], ...] = ()


def edited(book: Workbook, plan: Plan, edit: Edit, name: str) -> Workbook:
    """Return the workbook with an edit made: the plan changed becomes the plan `name`.

    The other plans stay, but for rules on a piece that a step cuts in two: they name its parts
    then. Changes and the gap hold for the whole workbook.
    """
    rules = tuple(r for i, r in enumerate(plan.rules, start=1) if i not in edit.drop) + edit.add
    plans = (*(p for p in book.plans if p.name != name), replace(plan, name=name, rules=rules))
    settings = book.settings if edit.gap is None else replace(book.settings, gap=edit.gap)
    out = replace(
        book, plans=plans, settings=settings, steps=book.steps + edit.steps, chosen_plan=name
    )
    if not edit.parts:
        return out
    before, after = replay(book).pattern, replay(out).pattern
    return replace(out, plans=tuple(_on_parts(p, edit, before, after) for p in plans))


def _on_parts(plan: Plan, edit: Edit, before: Pattern, after: Pattern) -> Plan:
    """Return a plan whose rules name the parts of pieces that are cut in two."""
    rules: list[PlacingRule] = list(plan.rules)
    for name, names in edit.parts:
        parts = [p for p in after.pieces if p.name in names]
        if parts:
            split = Split(piece=before.piece(name), parts=tuple(parts))
            rules = [r for rule in rules for r in split.rules(rule)]
    return replace(plan, rules=tuple(rules))


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A piece and the parts it was cut into, to name what rules speak of."""

    piece: Piece
    parts: tuple[Piece, ...]

    def rules(self, rule: PlacingRule) -> list[PlacingRule]:
        """Return the rule for the part or parts it holds for; none where its point is gone."""
        if self.piece.name not in pieces_of(rule):
            return [rule]
        match rule:
            case OnBorder():
                mine = [p for p in self.parts if any(e.name == rule.edge for e in p.edges)]
                return [replace(rule, piece=p.name) for p in mine]
            case OnGrain() | CutFrom() | KeepOff():
                return [replace(rule, piece=p.name) for p in self.parts]
            case OneWay():
                names = [n for n in rule.pieces if n != self.piece.name]
                return [replace(rule, pieces=(*names, *(p.name for p in self.parts)))]
        return self._at_points(rule)

    def _at_points(self, rule: PlacingRule) -> list[PlacingRule]:
        """Return a rule on points for the part that has them; a pinned piece is pinned no more."""
        if isinstance(rule, Meets):
            return self._meets(rule)
        if isinstance(rule, AtPhase | Mirrored | Clear):
            part = self._with(rule.point)
            return [] if part is None else [replace(rule, piece=part)]
        return []

    def _meets(self, rule: Meets) -> list[PlacingRule]:
        a: str | None = rule.piece_a
        b: str | None = rule.piece_b
        if a == self.piece.name:
            a = self._with(rule.point_a)
        if b == self.piece.name:
            b = self._with(rule.point_b)
        return [] if a is None or b is None else [replace(rule, piece_a=a, piece_b=b)]

    def _with(self, point: str) -> str | None:
        """Return the part on which a named point is where it was."""
        at = self.piece.points().get(point)
        for part in self.parts:
            now = part.points().get(point)
            if at is not None and now is not None and now.is_near(at, 0.01):
                return part.name
        return None


def together(edits: Sequence[Edit]) -> Edit:
    """Return several edits as one."""
    gaps = [e.gap for e in edits if e.gap is not None]
    return Edit(
        drop=tuple(sorted({n for e in edits for n in e.drop})),
        add=tuple(dict.fromkeys(r for e in edits for r in e.add)),
        steps=tuple(s for e in edits for s in e.steps),
        gap=min(gaps) if gaps else None,
        parts=tuple(p for e in edits for p in e.parts),
    )
