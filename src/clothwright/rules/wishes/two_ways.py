"""A print that would run two ways on one garment: said beforehand, for it is seen at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.cloth.prints import Print
from clothwright.errors import Sentence
from clothwright.pattern.parts import facing_names, held_together, is_strip
from clothwright.rules.table import CuttingTable, Lying
from clothwright.rules.wishes.showing import noun
from clothwright.words import listed

SAME_MM = 1.0
"""mm: a check whose repeats differ by less looks the same on its side."""


def runs_two_ways(table: CuttingTable) -> Iterator[Sentence]:
    """Yield a sentence for each print that runs two ways on pieces that are sewn together.

    Pieces on the bias, bands and facings are left out: they are turned on purpose.
    """
    inside = facing_names(table.pattern)
    shown = {
        e.copy.piece.name: e
        for e in table.lying.values()
        if not e.slanting and e.copy.piece.name not in inside and not is_strip(e.copy.piece)
    }
    for cloth in table.cloths:
        mine = [n for n, e in shown.items() if e.cloth.name == cloth.name]
        for group in held_together(table.pattern, mine, kinds=("plain", "cap")):
            along, across = _lying(group, shown)
            if along and across:
                yield from _said(
                    cloth.print, *(listed([f"the {n}" for n in of]) for of in (along, across))
                )


def _lying(group: Sequence[str], shown: dict[str, Lying]) -> tuple[list[str], list[str]]:
    across = [n for n in group if shown[n].crosswise]
    return [n for n in group if n not in across], across


def _the(names: Sequence[str]) -> str:
    return listed([f"the {n}" for n in names])


def _said(design: Print, along: str, across: str) -> Iterator[Sentence]:
    up, round_ = design.repeat_across, design.repeat_along
    if noun(design) == "motifs":
        if up or round_:
            yield (f"Against {along} the motifs lie on their side on {across}.",)
    elif up and round_:
        if abs(up - round_) > SAME_MM:
            yield (f"Against {along} the check lies on its side on {across}.",)
    elif up:
        yield (f"The bars run up {along}, but round {across}.",)
    elif round_:
        yield (f"The bars run round {along}, but up {across}.",)
