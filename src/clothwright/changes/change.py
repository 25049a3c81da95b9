"""What a change is: parameters, a function Pattern -> Outcome, and words about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from clothwright.pattern.pattern import Pattern
from clothwright.pattern.trail import UNMOVED, Trail
from clothwright.words import Sentence

P = TypeVar("P")

TOPICS = (
    "sizes",
    "lengths",
    "edges and seams",
    "darts",
    "bust, back and shoulder",
    "sleeves",
    "waist, hips and legs",
    "fullness and openings",
    "hems and allowances",
    "facings, linings and bands",
    "whole pieces",
)
"""What changes are about, in the order of the menu."""


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

    topic: what it is about, one of `TOPICS`. divides: where what it lists was cut in two, it means
    both parts alike. alike: the parameters by which the same is done to the companions of what it
    changes (`changes.alike`), none where it does not touch them; left out where each is of its own.
    """

    id: str
    title: str
    topic: str
    why: str
    source: str
    params: type[P]
    apply: Callable[[Pattern, P], Outcome]
    divides: bool = False
    alike: Callable[[Pattern, P], tuple[P, ...]] | None = None
