"""A print that would run two ways on one garment, or may: said beforehand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from clothwright.cloth.prints import Print
from clothwright.errors import Sentence
from clothwright.geometry.vec import turn_apart
from clothwright.lay.turning import turning_sets
from clothwright.pattern.parts import worn_together
from clothwright.rules.stating import Stated
from clothwright.rules.table import CuttingTable, Lying
from clothwright.rules.wishes.showing import bars_go_one_way, noun
from clothwright.words import begun, listed

END_FOR_END_DEG = 135.0
"""Degrees from which a piece counts as turned end for end, and not as turned to the side."""
SAME_MM = 1.0
"""mm: a check whose repeats differ by less looks the same on its side."""


def runs_two_ways(table: CuttingTable) -> Iterator[Sentence]:
    """Yield a sentence for each print that runs two ways on pieces that are sewn together.

    Pieces on the bias, bands and facings are left out: they are turned on purpose.
    """
    straight = {e.copy.piece.name: e for e in table.lying.values() if not e.slanting}
    for cloth in table.cloths:
        mine = [n for n, e in straight.items() if e.cloth.name == cloth.name]
        for group in worn_together(table.pattern, mine):
            along, across = _lying(group, straight)
            if along and across:
                yield from _said(
                    cloth.print, *(listed([f"the {n}" for n in of]) for of in (along, across))
                )


def order_is_open(found: Stated) -> Iterator[Sentence]:
    """Yield a sentence for each print whose bars a piece may show in the other order.

    So it is where bars go one way and pieces sewn together may lie end for end.
    """
    table = found.table
    sets = turning_sets(found.asked)
    for cloth in table.cloths:
        mine = [e for e in table.lying.values() if e.cloth.name == cloth.name]
        names = [e.copy.piece.name for e in mine]
        for group in worn_together(table.pattern, names) if bars_go_one_way(cloth.print) else ():
            there = [e for e in mine if e.copy.piece.name in group]
            turns = [t for e in there for t in e.turns_deg]
            tied = any({e.id for e in there} <= together.keys() for together in sets)
            pieces = begun(listed([f"the {n}" for n in group]))
            if not tied and any(turn_apart(a, turns[0]) >= END_FOR_END_DEG for a in turns):
                yield (f"{pieces} may lie end for end, and their bars run in the other order.",)


def looks_turned(design: Print) -> bool:
    """Tell whether a print without a top looks otherwise on a piece that lies the other way."""
    return design.up == "either" and any(_said(design, "", ""))


def _lying(group: Sequence[str], each: Mapping[str, Lying]) -> tuple[list[str], list[str]]:
    across = [n for n in group if each[n].crosswise]
    return [n for n in group if n not in across], across


def _said(design: Print, along: str, across: str) -> Iterator[Sentence]:
    up, round_ = design.repeat_across, design.repeat_along
    if noun(design) == "motifs":
        if up or round_:
            yield (f"Against {along} the motifs lie on their side on {across}.",)
    elif up and round_:
        if abs(up - round_) > SAME_MM:
            yield (f"Against {along} the check is turned on {across}: its bars run the other way.",)
    elif up:
        yield (f"The bars run up {along}, but round {across}.",)
    elif round_:
        yield (f"The bars run round {along}, but up {across}.",)
