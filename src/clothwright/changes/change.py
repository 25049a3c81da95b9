"""What a change is: parameters, a function Pattern -> Outcome, and words about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from clothwright.pattern.pattern import Pattern
from clothwright.pattern.trail import UNMOVED, Trail
from clothwright.words import Sentence

P = TypeVar("P")


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """The changed pattern, and the sentence for the record (floats are lengths in mm).

    trail: what the change renamed, divided or joined, for all that names it.
    """

    pattern: Pattern
    said: Sentence
    trail: Trail = UNMOVED


@dataclass(frozen=True, slots=True, kw_only=True)
class Change(Generic[P]):
    """One kind of change. params: a frozen dataclass whose fields `units.params.param` declares.

    divides: where what it lists was cut in two, it means both parts alike.
    """

    id: str
    title: str
    why: str
    source: str
    params: type[P]
    apply: Callable[[Pattern, P], Outcome]
    divides: bool = False
