"""Blocks of a DXF file that are one piece in several sizes: told by their words or their names.

"Size: 10" in a block is sure. A name that differs from another's in a size alone ("FRONT-10",
"FRONT 12") says so where the blocks are alike as sizes are; where numbers are so small that they
may count pieces, it is asked.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.box import Box, box_of_all
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import PIECES, SIZES
from clothwright.intake.drawing import CUT, DrawnLine, DrawnText
from clothwright.intake.in_sizes import over
from clothwright.intake.labelled import NAME, SIZE, fields_of, small
from clothwright.intake.pen import DrawnPen
from clothwright.intake.size_names import in_order, size_in, sized_names, without_size
from clothwright.words import listed

GROWS = 1.35
"""A size is no more times as wide or tall as the one before: a child's sizes grow by less."""
SAME_MM = 0.2
"""mm: blocks whose boxes differ by less are copies, not sizes."""
COVERS = 0.1
"""Share of the smaller of two pieces' boxes that lies on the other's: the pieces lie on each other.
"""
ROOM_MM = 30.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockUse:
    """What one use of a block draws, or what stands in none (name ""). zero: its own 0,0. All mm.

    base: what it is called without its size; None where it is a size of nothing.
    """

    name: str = ""
    zero: Vec = Vec(0.0, 0.0)  # noqa: RUF009
    lines: tuple[tuple[DrawnLine, DrawnPen], ...] = ()
    texts: tuple[DrawnText, ...] = ()
    base: str | None = None

    @property
    def box(self) -> Box:
        """The box round all its lines."""
        return box_of_all(x.path.bounds() for x, _ in self.lines)

    def moved(self, by: Vec) -> BlockUse:
        """Return it elsewhere."""
        move = translation(by)
        return replace(
            self,
            zero=self.zero + by,
            lines=tuple((replace(x, path=x.path.transformed(move)), p) for x, p in self.lines),
            texts=tuple(replace(t, at=t.at + by) for t in self.texts),
        )


class BlocksRead(NamedTuple):
    """Groups with sizes on their lines and words. sizes: all, () where there are none.

    unsure: names of blocks that may be sizes of one piece or pieces of their own.
    """

    groups: tuple[BlockUse, ...]
    sizes: tuple[str, ...] = ()
    unsure: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


class _Known(NamedTuple):
    """What a block is a size of. how sure: said (by its words), sure (by its name)."""

    base: str
    size: str
    said: bool
    sure: bool


def blocks_in_sizes(groups: Sequence[BlockUse], said: str) -> BlocksRead:
    """Return what blocks are sizes of. said: "sizes" or "pieces" as answered, "" if not."""
    known = _kept(groups, _known(groups)) if said != PIECES else {}
    unsure = tuple(groups[k].name for k, it in known.items() if not it.sure)
    if not known or (unsure and said != SIZES):
        return BlocksRead(tuple(groups), unsure=unsure)
    made = [_sized(g, known.get(k)) for k, g in enumerate(groups)]
    sizes = in_order(it.size for it in known.values())
    note = f"blocks taken for sizes of one piece: {', '.join(sizes)} (--alike {PIECES} if not)"
    single = [g.name for k, g in enumerate(groups) if k not in known and _said_size(g)]
    notes = [f"{listed(single)}: drawn in one size only, taken for all"] if single else []
    return BlocksRead(tuple(_nested(made)), sizes, (), (note, *notes))


def laid_apart(groups: Sequence[BlockUse]) -> tuple[tuple[BlockUse, ...], tuple[str, ...]]:
    """Return groups with pieces that lie on each other laid in a row, and a note if they were."""
    own = {k: _row_of(g, k) for k, g in enumerate(groups) if _is_piece(g)}
    if not any(_lie_on_each_other(groups[j], groups[k], own[j] == own[k]) for j, k in _pairs(own)):
        return tuple(groups), ()
    shift: dict[str, Vec] = {}
    at = min(groups[k].box[0].x for k in own)
    for row in dict.fromkeys(own.values()):
        boxes = [groups[k].box for k in own if own[k] == row]
        low = Vec(min(b[0].x for b in boxes), min(b[0].y for b in boxes))
        shift[row] = Vec(at - low.x, 0.0)
        at += max(b[1].x for b in boxes) - low.x + ROOM_MM
    moved = (g.moved(shift[own[k]]) if k in own else g for k, g in enumerate(groups))
    return tuple(moved), ("pieces that lie on each other in the file were laid in a row",)


def _pairs(own: Mapping[int, str]) -> Iterator[tuple[int, int]]:
    return ((j, k) for j in own for k in own if j < k)


def _is_piece(group: BlockUse) -> bool:
    return group.base is not None or any(x.kind == CUT for x, _ in group.lines)


def _row_of(group: BlockUse, number: int) -> str:
    return f"{number} {group.name}" if group.base is None else group.base


def _size_of(group: BlockUse) -> str:
    return group.lines[0][0].size


def _lie_on_each_other(one: BlockUse, other: BlockUse, same: bool) -> bool:
    sized = one.base is not None and other.base is not None
    if same or (sized and _size_of(one) != _size_of(other)):
        return False
    (a, b), (c, d) = one.box, other.box
    wide, tall = min(b.x, d.x) - max(a.x, c.x), min(b.y, d.y) - max(a.y, c.y)
    areas = [(q.x - p.x) * (q.y - p.y) for p, q in ((a, b), (c, d))]
    return wide > 0 and tall > 0 and wide * tall > COVERS * min(areas)


def _said_size(group: BlockUse) -> str:
    fields = fields_of(group.texts) if group.name and group.lines else ()
    return next((size_in(f.words) or f.words for f in fields if f.kind == SIZE), "")


def _known(groups: Sequence[BlockUse]) -> dict[int, _Known]:
    """Return of which thing each block may be which size."""
    by_name = sized_names(g.name for g in groups if g.name and g.lines)
    out = {}
    for k, group in enumerate(groups):
        if size := _said_size(group):
            names = (f.words for f in fields_of(group.texts) if f.kind == NAME)
            base = without_size(next(names, group.name), size)
            out[k] = _Known(small(base), size, True, True)
        elif group.lines and (named := by_name.get(group.name)):
            out[k] = _Known(small(named.base), named.size, False, named.sure)
    return out


def _kept(groups: Sequence[BlockUse], known: Mapping[int, _Known]) -> dict[int, _Known]:
    """Return those of which there are two sizes or more, alike where nothing but names say it."""
    bases: dict[str, list[int]] = defaultdict(list)
    for k, it in known.items():
        bases[it.base].append(k)
    out: dict[int, _Known] = {}
    for some in bases.values():
        many = len({known[k].size for k in some}) > 1
        if many and (all(known[k].said for k in some) or _alike(groups, known, some)):
            out |= {k: known[k] for k in some}
    return out


def _alike(groups: Sequence[BlockUse], known: Mapping[int, _Known], some: Sequence[int]) -> bool:
    """Tell whether blocks grow from one to the next as sizes do."""
    order = in_order(known[k].size for k in some)
    boxes = [groups[k].box for k in sorted(some, key=lambda k: order.index(known[k].size))]
    dims = [(high.x - low.x, high.y - low.y) for low, high in boxes]
    pairs = [pair for one, other in pairwise(dims) for pair in zip(one, other, strict=True)]
    grows = all(max(p) <= GROWS * min(p) + 1.0 for p in pairs)
    return grows and any(abs(a - b) > SAME_MM for a, b in pairs)


def _sized(group: BlockUse, known: _Known | None) -> BlockUse:
    """Return a group with its lines and words in its size, called as it is without that."""
    if known is None:
        return group
    lines = tuple(
        (replace(x, size=known.size, label=known.base if x.label == group.name else x.label), pen)
        for x, pen in group.lines
    )
    texts = tuple(replace(t, size=known.size) for t in group.texts)
    return replace(group, lines=lines, texts=texts, base=known.base)


def _nested(groups: Sequence[BlockUse]) -> Iterator[BlockUse]:
    """Yield groups; sizes that lie beside the first of them are laid on it by their own zero."""
    first: dict[str, BlockUse] = {}
    for group in groups:
        like = group if group.base is None else first.setdefault(group.base, group)
        moved = group if like is group else group.moved(like.zero - group.zero)
        yield moved if not over(like.box, group.box) and over(like.box, moved.box) else group
