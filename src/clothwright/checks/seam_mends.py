"""What may mend a seam whose sides differ in length: which edge, at which end, one after the other.

A band, a facing, a collar follows the garment. Otherwise the longer side is shortened where the
notches say that it is off, or the shorter one lengthened; a dart there takes it up, which is tried
first where the seam runs across the body; or a piece is lengthened at a level. Which of them upsets
nothing else is tried by the workroom.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import CheckSettings
from clothwright.checks.companion_mends import laid_along
from clothwright.checks.corner_mends import corner_mends, is_front_edge
from clothwright.checks.dart_mends import changed_darts, fitted_darts, whole_darts
from clothwright.checks.length_mends import length_mends, stretches_off
from clothwright.geometry.vec import Vec
from clothwright.pattern.bands import band_side, fitted_together, is_band
from clothwright.pattern.buttons import button_rows, is_too_narrow
from clothwright.pattern.companions import companion_names
from clothwright.pattern.finding import Mend
from clothwright.pattern.measure import gain_of, net_length
from clothwright.pattern.parts import runs_up
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Walk, corner_index

MOST = 8
"""How many changes are tried at the most; our own figure: after each all checks are run."""

SHARED = 4
"""How many corners that spoil several seams are tried at the most before; our own figure."""

FAR_TIMES = 3.0
"""An end slides along a fold by no more than so many times what is off; our own figure."""

_NEAR_MM = 1.0
"""mm: an edge that ends so near to a stretch that is off ends in it; our own figure."""


class _Tip(NamedTuple):
    """One end of an edge in a run, and whether it is its end as the run goes."""

    ref: EdgeRef
    at_end: bool
    at: float


def seam_mends(
    pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings
) -> tuple[Mend, ...]:
    """Return what may make a seam's sides agree, likeliest first; empty where nothing does."""
    sides = [(seam.b, "b"), (seam.a, "a")] if walk.off > 0 else [(seam.a, "a"), (seam.b, "b")]
    follow = companion_names(pattern)
    follow |= {r.piece for r in seam.refs if is_band(pattern, r.piece)}
    sides.sort(key=lambda side: not all(r.piece in follow for r in side[0]))
    found: dict[str, Mend] = {}
    spots: set[tuple[str, int]] = set()
    for refs, letter in sides:
        tips = _tips(pattern, refs, stretches_off(walk, letter, settings))
        spots |= {corner_index(pattern, (tip.ref,), at_end=tip.at_end) for tip in tips}
        ways = [*_both_ends(pattern, seam, refs, tips)]
        ways += [m for tip in tips for m in _ways(pattern, seam, refs, tip, settings)]
        at_fold = list(_at_fold(pattern, seam, walk, tips, follow))
        ways = at_fold + ways if all(r.piece in follow for r in refs) else ways + at_fold
        for mend in ways:
            found.setdefault(f"{mend.change} {mend.params}", mend)
    off = (stretches_off(walk, "a", settings), stretches_off(walk, "b", settings))
    darts = tuple(fitted_darts(pattern, seam, off))
    more = (*darts, *length_mends(pattern, seam, walk, settings))
    ends = tuple(found.values())[:MOST]
    corners = [c for c in corner_mends(pattern, seam, settings) if c.at & spots]
    shared = tuple(c.mend for c in corners if c.agreed > 1)[:SHARED]
    level = not runs_up(pattern, seam)
    across = level and not any(r.piece in follow for r in seam.refs)
    single = (*more, *ends) if across else (*ends, *more)
    lacking = (*whole_darts(pattern, seam, settings.agree), *changed_darts(pattern, seam, off))
    alone = () if level and darts else tuple(c.mend for c in corners if c.agreed == 1)
    laid = tuple(laid_along(pattern, seam, settings.agree))
    return (*_bands(pattern, seam), *lacking, *laid, *shared, *single, *alone)[: 2 * MOST]


def _bands(pattern: Pattern, seam: Seam) -> Iterator[Mend]:
    """Yield the band that is to follow, fitted from notch to notch, with those sewn to it.

    None is cut to a front that has lost its button stand.
    """
    first, *others = fitted_together(pattern, seam) or ("",)
    rows = (row for n in seam.pieces for row in button_rows(pattern, pattern.piece(n)))
    if first and not any(is_too_narrow(pattern, row) for row in rows):
        for other in ("", *others[:1]):
            params = {"piece": band_side(pattern, seam)[0].piece, "seam": first}
            yield Mend(change="fit-band", params=params | ({"other": other} if other else {}))


def _tips(
    pattern: Pattern, refs: tuple[EdgeRef, ...], off: list[tuple[float, float]]
) -> list[_Tip]:
    """Return the ends of a run's edges that lie where it is off: the run's own ends first."""
    run, found = 0.0, []
    for ref in refs:
        length = net_length(pattern.piece(ref.piece), ref.edge)
        found += [_Tip(ref, False, run), _Tip(ref, True, run + length)]
        run += length

    def inside(at: float) -> bool:
        return not off or any(low - _NEAR_MM <= at <= high + _NEAR_MM for low, high in off)

    def likely(tip: _Tip) -> tuple[bool, bool, bool]:
        inner = _NEAR_MM < tip.at < run - _NEAR_MM
        return inner, not _at_hem(pattern, tip), not tip.at_end

    return sorted((t for t in found if inside(t.at)), key=likely)


def _at_hem(pattern: Pattern, tip: _Tip) -> bool:
    """Tell whether a hem begins there: the end that is free, since others meet seams already."""
    name, index = corner_index(pattern, (tip.ref,), at_end=tip.at_end)
    edges = pattern.piece(name).edges
    return Role.HEM in (edges[index].role, edges[index - 1].role)


def _both_ends(
    pattern: Pattern, seam: Seam, refs: tuple[EdgeRef, ...], tips: list[_Tip]
) -> Iterator[Mend]:
    """Yield an edge altered at both its ends alike, where what begins there is sewn together.

    A wrist or a hem between the two edges of a sleeve seam: at one of them alone it would make the
    sleeve hang askew.
    """
    ends = {corner_index(pattern, (t.ref,), at_end=t.at_end) for t in tips}
    if len(refs) > 1 or len(ends) < 2 or is_band(pattern, refs[0].piece):
        return
    name, edge = refs[0].piece, refs[0].edge
    before, after = pattern.piece(name).neighbours(edge)
    if any(_meet(s, (name, before.name), (name, after.name)) for s in pattern.seams):
        params = {"seam": seam.name, "edge": f"{name}.{edge}", "at": "both"}
        yield Mend(change="match-edge", params=params)


def _meet(seam: Seam, one: tuple[str, str], other: tuple[str, str]) -> bool:
    """Tell whether two edges lie on the two sides of a seam."""
    a, b = ({(r.piece, r.edge) for r in run} for run in (seam.a, seam.b))
    return (one in a and other in b) or (one in b and other in a)


def _ways(
    pattern: Pattern, seam: Seam, refs: tuple[EdgeRef, ...], tip: _Tip, settings: CheckSettings
) -> Iterator[Mend]:
    """Yield how an end may be moved: the edge beside it swung, or all of that edge shifted.

    A hem that some plan lays along a border stays straight: it is only shifted; so is the end of a
    band, which is cut square. A front edge that is sewn to nothing is shifted first.
    """
    ref = tip.ref
    if gain_of(seam, ref) == 0:
        return
    first = next(r for r in refs if (r.piece, r.edge) == (ref.piece, ref.edge))
    at = "end" if tip.at_end == (ref.reversed == first.reversed) else "start"
    params = {"seam": seam.name, "edge": f"{ref.piece}.{ref.edge}", "at": at}
    name, index = corner_index(pattern, (ref,), at_end=tip.at_end)
    edges = pattern.piece(name).edges
    beside = next(e for e in (edges[index], edges[index - 1]) if e.name != ref.edge)
    if beside.role is Role.FOLD:
        return
    hems = {e for b in settings.borders for e in pattern.edges_now(b.piece, b.edge)}
    swung = Mend(change="match-edge", params=params)
    shifted = Mend(change="match-edge", params={**params, "neighbour": "parallel"})
    if (name, beside.name) in hems or is_band(pattern, name):
        yield shifted
    else:
        free = is_front_edge(pattern, pattern.piece(name), beside)
        yield from (shifted, swung) if free else (swung, shifted)


def _at_fold(
    pattern: Pattern, seam: Seam, walk: Walk, tips: list[_Tip], follow: set[str]
) -> Iterator[Mend]:
    """Yield how an end on the fold may be moved: up or down along it, or the fold with it.

    A curve keeps its proportions while its end slides. The fold moves for a straight edge, such as
    one with a pleat, and for a band or a collar, which is altered at the centre back only (a
    dressmaking manual of 1921; docs/sources.md, width changes).
    """
    for tip in tips:
        gain = gain_of(seam, tip.ref)
        name, index = corner_index(pattern, (tip.ref,), at_end=tip.at_end)
        piece = pattern.piece(name)
        beside = next(
            e for e in (piece.edges[index], piece.edges[index - 1]) if e.name != tip.ref.edge
        )
        if beside.role is not Role.FOLD or gain == 0:
            continue
        need, edge = -walk.off / gain, piece.edge(tip.ref.edge)
        own_end = tip.at_end != tip.ref.reversed
        slide = _slide(edge, need, piece.up, at_end=own_end)
        if slide is not None and abs(slide) <= FAR_TIMES * abs(need):
            corner = f"{name}.{edge.name} {'end' if own_end else 'start'}"
            params: dict[str, object] = {"corner": corner, "by": slide, "direction": "up"}
            yield Mend(change="move-edge", params=params)
        if edge.path.is_straight or name in follow:
            params = {"edge": f"{name}.{beside.name}", "by": need, "direction": "out"}
            yield Mend(change="move-edge", params=params)


def _slide(edge: Edge, need: float, up: Vec, *, at_end: bool) -> float | None:
    """Return how far up (mm) an end must slide for a curve, kept in proportion, to gain `need`."""
    chord = edge.path.end - edge.path.start if at_end else edge.path.start - edge.path.end
    size = chord.norm * (1 + need / edge.length)
    across = abs(chord.cross(up))
    if edge.path.is_straight or size <= across:
        return None
    along = math.sqrt(size * size - across * across)
    now = chord.dot(up)
    return (along if now > 0 else -along) - now
