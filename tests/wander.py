"""Twelve pieces through 25 changes in whatever order, with everything looked at on the way.

python -m tests.wander 200        so many seeds, what goes wrong in any of them
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from random import Random

from clothwright.checks import outline, run_checks
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.errors import ClothwrightError
from clothwright.geometry.intersect import self_crossings
from clothwright.pattern.finding import Finding
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Workbook, replay
from tests.any_change import any_step
from tests.words.walker import strays

PIECES, CHANGES_DONE, TRIES = 12, 25, 400


def start() -> Workbook:
    """Twelve pieces: the coat, its lining, the skirt, and a waistcoat's front, none changed."""
    coat, waistcoat = coat_and_skirt(), checked_waistcoat().bought
    names = {p.name for p in coat.bought.pieces}
    front = next(p for p in waistcoat.pieces if p.name not in names)
    pattern = replace(coat.bought, pieces=(*coat.bought.pieces, front))
    return replace(coat, bought=pattern, steps=(), plans=())


def wander(seed: int) -> Iterator[str]:
    """Yield what goes wrong on one way through, in words; nothing when all is well."""
    rng = Random(seed)
    book = start()
    states = [book.bought]
    for _ in range(TRIES):
        step = any_step(states[-1], rng)
        tried = replace(book, steps=(*book.steps, step))
        try:
            done = replay(tried)
        except Exception as error:  # noqa: BLE001  (what is looked for)
            yield f"{step}: {error!r}"
            continue
        told = done.told[-1]
        words = told.error or say(told.said, Unit.inch)
        if not any(f'"{typed}"' in words for typed in step.params.values()):
            yield from (f"{words}: {each}" for each in strays(words, book.unit, done.pattern))
        if told.error or done.pattern is states[-1]:
            continue
        yield from (f"{step.change}: {each}" for each in wrong_with(done.pattern, states[-1]))
        book, states = tried, [*states, done.pattern]
        if len(book.steps) == CHANGES_DONE:
            break
    else:
        yield f"only {len(book.steps)} changes could be done"
    while book.steps:
        book, states = replace(book, steps=book.steps[:-1]), states[:-1]
        if replay(book).pattern != states[-1]:
            yield f"taking back change {len(states)} does not bring the pieces back"
    if states[-1] is not book.bought:
        yield "the pieces as bought are others"


def wrong_with(after: Pattern, before: Pattern) -> Iterator[str]:
    """Yield what a change has broken without a word of it."""
    found = run_checks(after)
    kept = {id(p) for p in before.pieces}
    for piece in after.pieces:
        if id(piece) not in kept:
            yield from (f"{piece.name}: {each}" for each in _broken(piece, found))


def _broken(piece: Piece, found: tuple[Finding, ...]) -> Iterator[str]:
    told = any(f.where.piece == piece.name and f.code in outline.CHECK.codes for f in found)
    if not told and (self_crossings(piece.outline) or _cut_crosses(piece)):
        yield "its outline crosses itself and the walk is silent"
    for edge in piece.edges:
        at = [n.at for n in edge.notches]
        if at != sorted(at) or any(not -1e-6 <= x <= edge.length + 1e-6 for x in at):
            yield f"a notch of {edge.name} lies off it"


def _cut_crosses(piece: Piece) -> bool:
    try:
        return bool(self_crossings(cutting_line(piece).outline))
    except ClothwrightError:
        return True


if __name__ == "__main__":
    for n in range(int(sys.argv[1])):
        for line in wander(n):
            print(f"seed {n}: {line}")
