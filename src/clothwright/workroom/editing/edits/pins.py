"""Edits of where single copies of pieces are pinned on the cloth."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.errors import BadInput
from clothwright.rules.kinds.pin import Pin
from clothwright.store import Opened
from clothwright.store.history.record import Key
from clothwright.words import Sentence
from clothwright.workroom.editing.edit import Desk, PlanEdit
from clothwright.workroom.editing.edits.rules import once, pins


@dataclass(frozen=True, slots=True, kw_only=True)
class PinShape(PlanEdit):
    """Pin one copy of a piece where it lies, or was dragged to; x, y in millimetres.

    x, y: mm in the cloth's frame, of the place where the copy's own zero comes to lie after
    `turn_deg` (counter-clockwise) and `flipped`, as in a lay's placements.
    """

    piece: str
    copy: int
    cloth: str
    x: float
    y: float
    turn_deg: float = 0.0
    flipped: bool = False

    def do(self, desk: Desk) -> Desk:
        """Pin it, in the place of an earlier pin of this copy. Raises BadInput."""
        plan = desk.plan(self.plan)
        if self.copy < 1:
            raise BadInput(where="pin", what=f"there is no copy {self.copy}", expected="1 or more")
        pin = Pin(
            piece=self.piece,
            copy=self.copy,
            cloth=desk.book.cloth(self.cloth).name,
            x=self.x,
            y=self.y,
            turn_deg=self.turn_deg,
            flipped=self.flipped,
        )
        return desk.with_plan(replace(plan, rules=once(plan.rules, pin)))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which copy, and on which cloth."""
        plan = was.plan(self.plan).name
        return (f'Plan "{plan}": pinned {_copy(self.piece, self.copy)} on "{self.cloth}"',)

    def leans(self, at: Opened) -> tuple[Key, ...]:
        """Lean on the plan, the cloth and the piece."""
        there: tuple[Key, ...] = (("cloth", self.cloth, "name"), ("piece", self.piece, "name"))
        return (*PlanEdit.leans(self, at), *there)


@dataclass(frozen=True, slots=True, kw_only=True)
class UnpinShape(PlanEdit):
    """Let a pinned copy go."""

    piece: str
    copy: int

    def do(self, desk: Desk) -> Desk:
        """Take its pin out, if there is one."""
        plan = desk.plan(self.plan)
        rules = tuple(r for r in plan.rules if not pins(r, self.piece, self.copy))
        return desk if rules == plan.rules else desk.with_plan(replace(plan, rules=rules))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which copy."""
        plan = was.plan(self.plan).name
        return (f'Plan "{plan}": unpinned {_copy(self.piece, self.copy)}',)


def _copy(piece: str, copy: int) -> str:
    return piece if copy == 1 else f"{piece}, copy {copy},"
