"""What the blocks, lines and words of a DXF file say together: sizes, by blocks or by pens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.intake.answers import PIECES, SIZES, UNSURE
from clothwright.intake.dash_rows import with_rows
from clothwright.intake.drawing import Drawing
from clothwright.intake.dxf_blocks import BlockUse, blocks_in_sizes, laid_apart
from clothwright.intake.labelled import small
from clothwright.intake.pen import LineRead, PenLine
from clothwright.intake.size_names import sized_names, surely_sizes
from clothwright.intake.told_by_pen import ToldLines, drawing_of, told_by


def drawn(
    name: str, groups: Sequence[BlockUse], alike: str, *, notes: Sequence[str], scale_known: bool
) -> Drawing:
    """Return the drawing that what stands in blocks and outside them makes, mm.

    alike: what she has answered blocks or layers that are alike to be, "" if nothing. BadInput.
    """
    if alike not in ("", SIZES, PIECES):
        raise BadInput(
            where="--alike",
            what=f'"{alike[:40]}" does not say what is alike',
            expected=f"{SIZES} (of one piece) or {PIECES} (each of its own)",
        )
    read = blocks_in_sizes(groups, alike)
    laid, moved = laid_apart(read.groups)
    said = (*notes, *read.notes, *moved)
    by_pen = not read.sizes and not read.unsure and alike != PIECES
    made, told = _told(name, laid, said, by_layer=by_pen, scale_known=scale_known)
    if read.sizes:
        names = tuple(dict.fromkeys(g.name for g in laid if g.base is not None))
        return replace(made, sizes=read.sizes, alike=SIZES, alike_names=names)
    if read.unsure:
        return replace(made, alike=UNSURE, alike_names=read.unsure)
    if told.by != "layer":
        return replace(made, alike=alike if alike == PIECES else "")
    if alike != SIZES and not surely_sizes(made.sizes):
        plain, _ = _told(name, laid, said, by_layer=False, scale_known=scale_known)
        names = _with_outlines(made)
        return replace(plain, alike=UNSURE, alike_names=names) if len(names) > 1 else plain
    return replace(made, alike=SIZES, alike_names=made.sizes)


def _with_outlines(drawing: Drawing) -> tuple[str, ...]:
    """Return the sizes that draw something about as long as the longest line of all."""
    longest = dict.fromkeys(drawing.sizes, 0.0)
    for x in drawing.lines:
        if x.size:
            longest[x.size] = max(longest[x.size], x.path.length)
    most = max(longest.values())
    return tuple(s for s in drawing.sizes if longest[s] > most / 2)


def _told(
    name: str,
    groups: Sequence[BlockUse],
    notes: Sequence[str],
    *,
    by_layer: bool,
    scale_known: bool,
) -> tuple[Drawing, ToldLines]:
    """Return the drawing of all groups; by_layer: names of layers may say sizes."""
    drawn = [both for g in groups for both in g.lines]
    bases = sized_names(pen.layer for _, pen in drawn) if by_layer else {}
    lines = []
    for line, pen in drawn:
        named = bases.get(pen.layer)
        sized = named is not None and named.sure and not line.label
        called = replace(line, label=small(named.base)) if named and sized else line
        kept = pen if by_layer else replace(pen, layer="")
        lines.append((called, PenLine(path=line.path, closed=line.closed, pen=kept)))
    texts = [t for g in groups for t in g.texts]
    rows = with_rows([LineRead(pen, k) for k, (_, pen) in enumerate(lines)])
    lines = [(replace(lines[k][0], path=x.path, closed=x.closed), x) for x, k in rows]
    own = {id(pen): line for line, pen in lines}
    told = told_by([pen for _, pen in lines], texts)._replace(alike="", alike_names=(), alike_by="")
    made = [replace(own[id(x)], size=own[id(x)].size or size) for x, size in told.lines]
    said = (*notes, *(told.scale.notes if told.scale.square else ()), told.note)
    return drawing_of(name, told, made, notes=said, scale_known=scale_known), told
