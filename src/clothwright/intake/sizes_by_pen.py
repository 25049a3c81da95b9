"""Sizes nested in one drawing, told apart by layer, dash, colour or width of their lines.

A name comes from the layer, or from a legend: a short straight stretch of the line with the size
written beside it. Without either there is nothing to call a size by, and nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from clothwright.geometry.box import Box, box_of_all
from clothwright.intake.drawing import DrawnText
from clothwright.intake.drawn_once import drawn_once
from clothwright.intake.pen import (
    ALIKE_DASHES,
    COLOUR_STEPS,
    DrawnPen,
    PenLine,
    dashes_apart,
    rgb,
)
from clothwright.intake.size_names import in_order, size_in, sized_names
from clothwright.intake.unnamed_sizes import unnamed_sizes

SAMPLE_MM = (8.0, 120.0)
"""mm: how long a stretch of a line in a legend is."""
BESIDE_MM = 60.0
"""mm: how far from its end the size is written."""

Key = tuple[Any, ...]
KINDS: tuple[tuple[str, Callable[[DrawnPen], Key], float], ...] = (
    ("layer", lambda pen: (pen.layer,), 0.0),
    ("dashes", lambda pen: pen.dash, 0.1),
    ("colour", lambda pen: rgb(pen.colour), COLOUR_STEPS),
    ("width", lambda pen: (pen.width,), 0.015),
)
"""What may tell sizes apart, in the order tried; how much it may differ within one size."""


class SizedLines(NamedTuple):
    """The size of each line ("" for all sizes; None for a line of the legend), and all sizes.

    by: what told them apart, in words. unnamed: how many there may be that nothing names.
    """

    sizes: tuple[str | None, ...]
    names: tuple[str, ...]
    by: str
    unnamed: int = 0


def told_apart(lines: Sequence[PenLine], texts: Sequence[DrawnText]) -> SizedLines:
    """Tell the sizes of a drawing apart; no names when it holds one size, or none that is named."""
    legend = legend_of(lines, texts)
    for by, key_of, within in KINDS:
        keys = _keys([key_of(line.pen) for line in lines], within)
        if by == "dashes":
            keys = _as_in_legend(keys, [keys[k] for k in legend])
        names = _by_layer(keys) if by == "layer" else _by_legend(keys, legend)
        samples = {} if by == "layer" else legend
        if len(names) < 2 or not _drawn(lines, keys, names, samples):
            continue
        sizes = [None if k in samples else names.get(key, "") for k, key in enumerate(keys)]
        return SizedLines(_once_for_all(lines, sizes), in_order(names.values()), by)
    return _by_order(lines)


def _once_for_all(lines: Sequence[PenLine], sizes: Sequence[str | None]) -> tuple[str | None, ...]:
    """Return sizes of lines, "" for those that are drawn once for all."""
    once = set(drawn_once(lines, sizes))
    return tuple("" if k in once else size for k, size in enumerate(sizes))


def _by_order(lines: Sequence[PenLine]) -> SizedLines:
    """Return the sizes that nothing names, called 1, 2, 3 from the smallest, to be asked."""
    for by, key_of, within in KINDS:
        keys = _keys([key_of(line.pen) for line in lines], within)
        if order := unnamed_sizes(lines, keys) if len(set(keys)) > 1 else []:
            names = {key: str(n) for n, key in enumerate(order, start=1)}
            sizes = _once_for_all(lines, [names.get(key, "") for key in keys])
            return SizedLines(sizes, tuple(names.values()), by, len(order))
    return SizedLines(("",) * len(lines), (), "")


def _keys(values: Sequence[Key], within: float) -> list[Key]:
    """Return each value, or the first one that it is as good as the same as."""
    known: dict[Key, Key] = {}
    for value in values:
        if value not in known:
            first = (k for k in dict.fromkeys(known.values()) if _same(k, value, within))
            known[value] = next(first, value)
    return [known[value] for value in values]


def _same(one: Key, other: Key, within: float) -> bool:
    if len(one) != len(other):
        return False
    return all(
        p == q
        or (isinstance(p, float | int) and isinstance(q, float | int) and abs(p - q) <= within)
        for p, q in zip(one, other, strict=True)
    )


def _by_layer(keys: Sequence[Key]) -> dict[Key, str]:
    layers = [str(k[0]) for k in dict.fromkeys(keys)]
    found: dict[Key, str] = {(layer,): size for layer in layers if (size := size_in(layer))}
    others = sized_names(layers).items()
    return found or {(layer,): sized.size for layer, sized in others if sized.sure}


def _by_legend(keys: Sequence[Key], legend: Mapping[int, str]) -> dict[Key, str]:
    found: dict[Key, str] = {}
    twice: set[Key] = set()
    for k, words in legend.items():
        if keys[k] in found and found[keys[k]] != words:
            twice.add(keys[k])
        found[keys[k]] = words
    names = {k: w for k, w in found.items() if k not in twice}
    return names if len(set(names.values())) == len(names) else {}


def _as_in_legend(keys: Sequence[Key], legend: Sequence[Key]) -> list[Key]:
    """Return dashes as those of the legend that they are most like, if they are like any."""
    near: dict[Key, Key] = {}
    for key in dict.fromkeys(keys):
        best = min(legend, key=lambda known: dashes_apart(key, known), default=key)
        near[key] = best if dashes_apart(key, best) <= ALIKE_DASHES else key
    return [near[key] for key in keys]


def legend_of(lines: Sequence[PenLine], texts: Sequence[DrawnText]) -> dict[int, str]:
    """Return the lines of a legend, and the size written beside each."""
    sizes = [(t, size) for t in texts if (size := size_in(t.words))]
    found: dict[int, str] = {}
    for k, line in enumerate(lines):
        if line.pen.filled or not line.path.is_straight:
            continue
        if not SAMPLE_MM[0] <= line.path.length <= SAMPLE_MM[1]:
            continue
        near = [(_beside(line, t), size) for t, size in sizes]
        best = min((x for x in near if x[0] is not None), default=None, key=lambda x: x[0] or 0.0)
        if best is not None:
            found[k] = best[1]
    return found


def _beside(line: PenLine, text: DrawnText) -> float | None:
    """Return how far words stand from a line's end, if they stand in its run; else None."""
    a, b = line.path.start, line.path.end
    along = (b - a).unit
    ahead = along.dot(text.at - a)
    aside = abs(along.cross(text.at - a))
    away = max(-ahead, ahead - line.path.length)
    if aside > max(4.0, 0.9 * text.height) or not 0.0 <= away <= BESIDE_MM:
        return None
    return away + aside


def _drawn(
    lines: Sequence[PenLine],
    keys: Sequence[Key],
    names: Mapping[Key, str],
    samples: Mapping[int, str],
) -> bool:
    """Tell whether at least two named sizes draw something as large as a piece, in lines or parts.

    samples: the lines of the legend, which draw nothing.
    """
    boxes: dict[Key, list[Box]] = {}
    for k, (line, key) in enumerate(zip(lines, keys, strict=True)):
        if key in names and k not in samples:
            boxes.setdefault(key, []).append(line.path.bounds())
    return sum(box_of_all(some).size.norm > 2 * SAMPLE_MM[1] for some in boxes.values()) > 1
