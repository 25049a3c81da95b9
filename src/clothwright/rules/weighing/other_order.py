"""Pieces of a lay on which uneven bars run in the other order, for they lie end for end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from clothwright.geometry.vec import turn_apart
from clothwright.pattern.parts import worn_together
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.wishes.showing import bars_go_one_way
from clothwright.rules.wishes.two_ways import END_FOR_END_DEG
from clothwright.words import listed


def other_order(laid: Laid) -> Iterator[str]:
    """Yield a sentence for the pieces that lie end for end against most of those sewn to them."""
    for cloth in laid.cloths:
        if not bars_go_one_way(cloth.print):
            continue
        tops: dict[str, dict[str, float]] = {}
        for p in laid.lay.placements:
            if p.region == cloth.name:
                piece = laid.compiled.copy(p.shape).piece.name
                tops.setdefault(piece, {})[p.shape] = p.turn_deg
        for group in worn_together(laid.pattern, tops):
            if turned := _turned(group, tops):
                which = "it lies" if len(turned) == 1 else "they lie"
                words = f"The bars run in the other order on {listed(turned)}: {which} end for end"
                yield f"{words} against the other pieces."


def _turned(group: Sequence[str], tops: Mapping[str, Mapping[str, float]]) -> list[str]:
    """Return the pieces, or single copies, whose tops point against those of most copies."""
    turns = [turn for name in group for turn in tops[name].values()]
    most = max(turns, key=lambda way: sum(turn_apart(way, turn) < 90.0 for turn in turns))
    out: list[str] = []
    for name in group:
        off = [n for n, turn in tops[name].items() if turn_apart(turn, most) >= END_FOR_END_DEG]
        out += [f"the {name}"] if len(off) == len(tops[name]) else [f"the {n}" for n in off]
    return out
