"""The raw parallel of a path made clean: no loops, nothing that runs backwards."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

from clothwright.errors import CannotDo
from clothwright.geometry.intersect import Crossing, self_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Segment
from clothwright.geometry.tolerance import CURVE_MM, JOIN_MM
from clothwright.geometry.turning import goes_one_way
from clothwright.geometry.vec import Vec


class RawPiece(NamedTuple):
    """A piece of the raw parallel; `sound` is False where it runs backwards or only bridges."""

    segment: Segment
    sound: bool


def with_end(segment: Segment, end: Vec) -> Segment:
    """Return the segment with its last point moved, the handle carried along."""
    return Path((segment,)).with_ends(end=end).segments[0]


def with_start(segment: Segment, start: Vec) -> Segment:
    """Return the segment with its first point moved, the handle carried along."""
    return Path((segment,)).with_ends(start=start).segments[0]


def cleaned(parts: list[RawPiece], path: Path, distance: float) -> Path:
    """Cut off loops, then what still runs backwards. Distances in mm. Raises CannotDo."""
    if all(p.sound for p in parts):
        raw = [p.segment for p in parts]
        if raw and goes_one_way(raw):
            return Path(tuple(raw))
    while parts:
        chain = Path(tuple(p.segment for p in parts))
        loops = self_crossings(chain)
        if not loops:
            break
        parts = _unlooped(parts, chain, loops, path, abs(distance) - 2 * CURVE_MM)
    runs = [_clear(run, path, abs(distance) - 2 * CURVE_MM) for run in _sound_runs(parts)]
    kept = [run for run in runs if run is not None]
    if not kept:
        raise CannotDo(
            what=("a line ", abs(distance), " beside this curve cannot be drawn"),
            why="the whole curve bends more tightly than that",
            nearest="a smaller distance, or the two neighbours drawn on until they meet",
        )
    return max(kept, key=lambda run: run.length)


def _clear(run: Path, path: Path, least: float) -> Path | None:
    """The longest stretch of a run that keeps `least` mm from the path; None if none does."""
    whole = run.length
    fine = [0.02 * 2**k for k in range(24) if 0.02 * 2**k < whole / 2]
    ats = sorted({whole * i / 32 for i in range(33)} | set(fine) | {whole - f for f in fine})

    def is_clear(at: float) -> bool:
        return path.nearest(run.point_at(at))[1] >= least

    stretches: list[tuple[float, float]] = []
    begin = 0.0 if is_clear(0.0) else None
    for before, at in pairwise(ats):
        clear = is_clear(at)
        if clear and begin is None:
            begin = _boundary(is_clear, at, before)
        elif not clear and begin is not None:
            stretches.append((begin, _boundary(is_clear, before, at)))
            begin = None
    if begin is not None:
        stretches.append((begin, whole))
    low, high = max(stretches, key=lambda s: s[1] - s[0], default=(0.0, 0.0))
    return run.between(low, high) if high - low > JOIN_MM else None


def _boundary(is_clear: Callable[[float], bool], clear: float, other: float) -> float:
    """The last clear place on the way from a clear one to one that is not."""
    for _ in range(30):
        middle = (clear + other) / 2
        if is_clear(middle):
            clear = middle
        else:
            other = middle
    return clear


def _unlooped(
    parts: list[RawPiece], chain: Path, loops: tuple[Crossing, ...], path: Path, least: float
) -> list[RawPiece]:
    """The parts without one loop.

    The first crossing that keeps its distance from the path is where the true parallel passes;
    of the loop and the two tails that meet there, what comes nearer than `least` goes. When both
    keep their distance (a path with a narrow neck) an open path keeps its tails and a closed one
    its longer part.
    """
    clear = (c for c in loops if path.nearest(c.point)[1] >= least)
    at_a, at_b, point = next(clear, loops[0])
    inner = _part_of(parts, (at_a, at_b), point)
    tails = (
        _part_of(parts, (0.0, at_a), point),
        _part_of(parts, (at_b, chain.length), point),
    )
    if not _keeps_away(inner, path, least):
        return [*tails[0], *tails[1]]
    if not all(_keeps_away(tail, path, least) for tail in tails):
        return inner
    closed = chain.start.is_near(chain.end, JOIN_MM)
    return inner if closed and 2 * (at_b - at_a) > chain.length else [*tails[0], *tails[1]]


def _part_of(parts: list[RawPiece], stretch: tuple[float, float], point: Vec) -> list[RawPiece]:
    """The parts between two distances along the chain, ending exactly in the point at a cut."""
    low, high = stretch
    kept: list[RawPiece] = []
    run = 0.0
    for part in parts:
        segment, length = part.segment, part.segment.length
        start, end = max(low - run, 0.0), min(high - run, length)
        run += length
        if end - start <= JOIN_MM:
            continue
        if end < length - 1e-9:
            segment = segment.split(segment.t_at(end))[0]
        if start > 1e-9:
            segment = segment.split(segment.t_at(start))[1]
        kept.append(RawPiece(segment, part.sound))
    if kept and low > 0.0:
        kept[0] = RawPiece(with_start(kept[0].segment, point), kept[0].sound)
    if kept and high < run:
        kept[-1] = RawPiece(with_end(kept[-1].segment, point), kept[-1].sound)
    return kept


def _keeps_away(parts: list[RawPiece], path: Path, least: float) -> bool:
    """Tell whether a stretch runs forwards and its middle and ends keep their distance."""
    if not parts:
        return True
    places = [part.segment.point(0.5) for part in parts]
    places += [parts[0].segment.start, parts[-1].segment.end]
    return all(p.sound for p in parts) and all(path.nearest(p)[1] >= least for p in places)


def _sound_runs(parts: list[RawPiece]) -> list[Path]:
    """Stretches that run forwards; what is left out between two may be too small to see."""
    runs: list[list[Segment]] = [[]]
    lost = 0.0
    for part in parts:
        if not part.sound:
            lost += part.segment.length
            continue
        segment = part.segment
        if lost > CURVE_MM:
            runs.append([])
        elif runs[-1]:
            segment = with_start(segment, runs[-1][-1].end)
        runs[-1].append(segment)
        lost = 0.0
    return [Path(tuple(run)) for run in runs if run]
