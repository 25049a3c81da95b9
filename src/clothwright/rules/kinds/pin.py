"""One copy where the maker laid it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import RuleKind, Turns
from clothwright.rules.table import CuttingTable
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin(PlacingRule):
    """One copy stays where the maker laid it (see lay.problem for the frame).

    x, y: mm; turn_deg: counter-clockwise.
    """

    piece: str = param("piece", "the piece")
    copy: int = param("count", "which copy, from 1", least=1)
    cloth: str = param("cloth", "the cloth it lies on")
    x: float = param("length", "how far along the selvedge")
    y: float = param("length", "how far from the lower selvedge")
    turn_deg: float = param("angle", "how far it is turned")
    flipped: bool = param("flag", "turned over", default=False)


def said(rule: Pin) -> Sentence:
    """Return the rule in words."""
    return (f"{rule.piece} {rule.copy} is pinned on {rule.cloth}",)


def _holds(rule: Pin, copy: Copy) -> bool:
    return (copy.piece.name, copy.copy) == (rule.piece, rule.copy)


def turns(rule: Pin, copy: Copy, cloth: Cloth) -> Turns | None:
    """Return the turn it is pinned at."""
    return Turns((rule.turn_deg,)) if _holds(rule, copy) and cloth.name == rule.cloth else None


def asks(rule: Pin, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the place. Raises WrongRule when the piece is cut from no cloth."""
    for each in at.of(rule.piece):
        if _holds(rule, each.copy) and rule.cloth in [c.name for c in each.cloths]:
            yield put.Pinned(
                id=f"pin {each.id}",
                shape=each.id,
                region=rule.cloth,
                x=rule.x,
                y=rule.y,
                turn_deg=rule.turn_deg,
                flipped=rule.flipped,
            )


RULE = RuleKind(
    id="pin",
    params=Pin,
    said=said,
    elsewhere="Pins are set by dragging on the cut page.",
    asks=asks,
    places=True,
    turns=turns,
    rank=0,
    turned_by="turn_deg",
    divides=False,
    dropped=lambda r: (
        f"let {r.piece} {r.copy} lie elsewhere than where you pinned it",
        "it lies on another part of the cloth",
    ),
)
