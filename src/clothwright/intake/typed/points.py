"""Where a point lies: moved from another, between two, or so far from each of two."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.intake.typed.lines import (
    LENGTH,
    Lengths,
    LineReading,
    Note,
    TypedLength,
    as_typed,
    clauses,
    closest_word,
    found_in,
    not_inches,
)
from clothwright.intake.typed.moves import (
    WAYS,
    MoveRow,
    check_whole,
    ending_with_moves,
    moves_before_from,
    only_moves,
)
from clothwright.units import Unit
from clothwright.words import show_length

STEPS = {"up": Vec(0, 1), "down": Vec(0, -1), "left": Vec(-1, 0), "right": Vec(1, 0)}
_I = re.IGNORECASE


def _re(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, _I)


_ABOVE = _re(rf"(?P<a>{LENGTH}) (?:straight )?(?P<way>above|over|below|under|beneath) (?P<p>.+)")
_FROM = _re(r"from (?P<base>.+)")
_HALFWAY = _re(
    r"(?:at |in )?(?:the )?(?:halfway|half way|midway|half|middle)"
    r" (?:of |between |from )?(?P<p>.+?) (?:and|to) (?P<q>.+)"
)
_ALONG = _re(rf"(?P<a>{LENGTH}) from (?P<p>.+?) (?:towards|toward) (?P<q>.+)")
_ALONG_2 = _re(rf"(?:from )?(?P<p>.+?),? (?P<a>{LENGTH}) (?:towards|toward) (?P<q>.+)")
_FAR = _re(rf"(?P<a>{LENGTH}) from (?P<p>.+?)(?: and (?P<b>{LENGTH}) from (?P<q>.+))?")
_SIDE = _re(
    r"(?:(?:on|to|at) )?(?:the )?(?P<way>left|right|upper|lower|above|below|top|bottom|in|out|"
    r"inside|outside)(?: side| one)?(?: of (?:it|them|that line))?"
)
_SIDES = {
    "upper": "up",
    "above": "up",
    "top": "up",
    "lower": "down",
    "below": "down",
    "bottom": "down",
    "inside": "in",
    "outside": "out",
}
_LEVEL = _re(
    r"level with (?P<p>.+?),? (?:and )?(?:straight )?(?:above|below|over|under|beneath) (?P<q>.+)"
)
_LEVEL_2 = _re(r"(?:straight )?(?:above|below|over|under|beneath) (?P<q>.+) level with (?P<p>.+)")
_START = _re(r"(?:the |my )?(?:start|starting point|beginning|first point)|here")

SHOWN = (
    '"38 cm down from A, 4,5 cm right", "12 cm from A towards B", "halfway between A and B" or '
    '"61,2 cm from A and 35 cm from B, on the right"'
)
WORDS = (
    *(w for words in WAYS.values() for w in words),
    *("from", "towards", "halfway", "between", "middle", "above", "below", "level", "with"),
    *("and", "then", "the", "start", "straight", "right", "left", "side", "square", "point"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PointGiven:
    """How a point is given. kind: start, at, halfway, along, far or level; names, measures: of it.

    moves: what it is then moved by, (measure, way). side: for "far", which of the two places.
    """

    name: str
    note: Note
    kind: str
    names: tuple[str, ...] = ()
    measures: tuple[TypedLength, ...] = ()
    moves: tuple[tuple[TypedLength, str], ...] = ()
    side: str = ""

    @property
    def all_measures(self) -> tuple[TypedLength, ...]:
        """Every length the point was given by."""
        return (*self.measures, *(m for m, _ in self.moves))


@dataclass(slots=True)
class _PointReading(LineReading):
    """A phrase about a point while it is read."""

    def spot(self, kind: str, *names: str) -> PointGiven:
        """Return a way of giving a point, by points known by now. Raises BadInput."""
        return PointGiven(name="", note=self.note, kind=kind, names=tuple(map(self.point, names)))

    def moves(self, run: MoveRow) -> tuple[tuple[TypedLength, str], ...]:
        """Return the moves of a run, their lengths read."""
        out = []
        for move in run.moves:
            if move.inch:
                not_inches(self.note, move.amount)
            out.append((self.measure(move.amount), move.way))
        return tuple(out)


def spot_of(
    name: str, rest: str, note: Note, unit: Unit, known: Mapping[str, object], *, first: int = 0
) -> PointGiven:
    """Read where a point lies. Raises BadInput. first: lengths counted before."""
    read = _PointReading(note, unit, known, first)
    if _START.fullmatch(rest.strip()):
        return PointGiven(name=name, note=note, kind="start")
    parts = clauses(re.sub(r"^at ", "", rest, flags=_I))
    far = _far(read, parts)
    if far is not None:
        return replace(far, name=name)
    parts = _rejoined(parts)
    base = _base(read, parts[0]) if parts else None
    if base is None:
        raise _unread(note, rest, known)
    for clause in parts[1:]:
        text = re.sub(r"^(?:and then|and|then) ", "", clause, flags=_I)
        run = only_moves(text)
        if run is None:
            raise _unread(note, clause, known)
        base = replace(base, moves=(*base.moves, *read.moves(run)))
    return replace(base, name=name)


def _rejoined(parts: list[str]) -> list[str]:
    """Return the clauses with "from A" and what follows it as one."""
    if len(parts) > 1 and _FROM.fullmatch(parts[0]) and only_moves(parts[1]):
        return [f"{parts[0]} {parts[1]}", *parts[2:]]
    if len(parts) > 1 and parts[0].lower().startswith("level with"):
        return [f"{parts[0]} {parts[1]}", *parts[2:]]
    return parts


def _base(read: _PointReading, text: str) -> PointGiven | None:
    """Read the first clause: a place, and the moves that stand with it. None: not understood."""
    if m := _LEVEL.fullmatch(text) or _LEVEL_2.fullmatch(text):
        return read.spot("level", m["p"], m["q"])
    if m := _ABOVE.fullmatch(text):
        way = "up" if m["way"].lower() in ("above", "over") else "down"
        return replace(read.spot("at", m["p"]), moves=((read.measure(m["a"]), way),))
    if found := moves_before_from(text):
        moves = read.moves(found[0])
        base = _place(read, found[1])
        return base and replace(base, moves=moves)
    m = _FROM.fullmatch(text)
    if m and (split := ending_with_moves(m["base"], read.known)):
        base = _place(read, split[0])
        return base and replace(base, moves=read.moves(split[1]))
    if m:
        if not found_in(read.known, m["base"]):
            check_whole(read.note, m["base"])
        return _place(read, m["base"])
    return _place(read, text, bare=False)


def _place(read: _PointReading, text: str, *, bare: bool = True) -> PointGiven | None:
    """Read a place without moves: a point, halfway, or along a line."""
    if m := _HALFWAY.fullmatch(text):
        return read.spot("halfway", m["p"], m["q"])
    if m := _ALONG.fullmatch(text) or _ALONG_2.fullmatch(text):
        return replace(read.spot("along", m["p"], m["q"]), measures=(read.measure(m["a"]),))
    return read.spot("at", text) if bare else None


def _far(read: _PointReading, parts: Sequence[str]) -> PointGiven | None:
    """Read "61,2 cm from A and 35 cm from B, on the right"; None when it is not that."""
    found: list[tuple[str, str]] = []
    side, runs = "", list[MoveRow]()
    for clause in parts:
        text = re.sub(r"^and ", "", clause, flags=_I)
        m = _FAR.fullmatch(text)
        if m and len(found) < 2 and not _ALONG.fullmatch(text):
            found += [(m["a"], m["p"])] + ([(m["b"], m["q"])] if m["b"] else [])
        elif (s := _SIDE.fullmatch(text)) and found:
            side = _SIDES.get(s["way"].lower(), s["way"].lower())
        elif found and (run := only_moves(text)):
            runs.append(run)
        else:
            if len(found) == 2:
                check_whole(read.note, text)
            return None
    if not found:
        return None
    if len(found) != 2:
        raise read.note.fault(
            f'"{found[0][0]} from {found[0][1]}" says how far, and not which way',
            "a way (up, down, in, out, left, right), or the distance from a second point too",
            f'"{found[0][0]} down from {found[0][1]}"',
        )
    return replace(
        read.spot("far", *(p for _, p in found)),
        measures=tuple(read.measure(a) for a, _ in found),
        side=side,
        moves=tuple(m for run in runs for m in read.moves(run)),
    )


def _unread(note: Note, text: str, known: Mapping[str, object]) -> BadInput:
    """Return what to say of a phrase that says no place."""
    lone = re.fullmatch(rf"(?:from .+ )?(?P<a>{LENGTH})(?: (?:from|of) (?P<p>.+))?", text, _I)
    if lone:
        inch = re.search(r"\bin\.?$", lone["a"], _I)
        more = '; the "in" was read as inches' if inch else ""
        return note.fault(
            f'"{lone["a"]}" says how far, and not which way{more}',
            "up, down, left, right, in or out after each length",
            f'"{lone["a"]} {"inwards" if inch else "down"}"',
        )
    hint = closest_word(text, WORDS, known)
    if not hint:
        check_whole(note, text)
    return note.fault(f'"{text[:60]}" does not say where a point lies.{hint}', SHOWN)


def placed(
    spot: PointGiven, at: Mapping[str, Vec], inward: str, unit: Unit, mm: Lengths = as_typed
) -> Vec:
    """Return where a point lies, mm, y up. inward: "left" or "right", "" when not said. BadInput.

    Two distances: the crossing of the two circles; source: the law of cosines, Euclid II 12, 13.
    """
    p = [at[n] for n in spot.names]
    if spot.kind == "start":
        here = Vec(0.0, 0.0)
    elif spot.kind == "at":
        here = p[0]
    elif spot.kind == "halfway":
        here = p[0].lerp(p[1], 0.5)
    elif spot.kind == "level":
        here = Vec(p[1].x, p[0].y)
    elif spot.kind == "along":
        if p[0].is_near(p[1], 0.01):
            raise spot.note.fault(
                f"{spot.names[0]} and {spot.names[1]} are at one place", "two points apart"
            )
        here = p[0] + (p[1] - p[0]).unit * mm(spot.measures[0])
    else:
        here = _crossing(spot, p, inward, unit, mm)
    for measure, way in spot.moves:
        here += STEPS[side_of(way, inward, spot.note)] * mm(measure)
    return here


def side_of(way: str, inward: str, note: Note) -> str:
    """Return a way on the page; "in" is towards the centre. Raises BadInput."""
    if way not in ("in", "out"):
        return way
    if not inward:
        raise note.fault(
            f'"{way}" cannot be followed: nothing says on which side the centre lies',
            "a line above such as: centre on the left",
            "left or right instead of in or out",
        )
    return inward if way == "in" else {"left": "right", "right": "left"}[inward]


def _crossing(spot: PointGiven, p: Sequence[Vec], inward: str, unit: Unit, mm: Lengths) -> Vec:
    far_a, far_b = (mm(m) for m in spot.measures)
    a, b = p
    gap = a.distance(b)
    n_a, n_b = spot.names
    if gap < 0.01:
        raise spot.note.fault(f"{n_a} and {n_b} are at one place", "two points apart")
    along = (far_a**2 - far_b**2 + gap**2) / (2 * gap)
    high_2 = far_a**2 - along**2
    if high_2 < 0:
        apart = show_length(gap, unit)
        long = far_a + far_b < gap
        more, less = (show_length(f(far_a, far_b), unit) for f in (max, min))
        why = f"and {more} is more than {less} and {apart} together"
        why = "so the two distances do not reach each other" if long else why
        raise spot.note.fault(
            f"{n_a} and {n_b} are {apart} apart, {why}",
            f"two distances that make a triangle with {apart}",
            f"measuring {n_a} to {n_b} again, and both distances",
        )
    u = (b - a).unit
    foot, high = a + u * along, math.sqrt(high_2)
    one, two = foot + u.perp * high, foot - u.perp * high
    if not spot.side:
        if high < 0.5:
            return foot
        raise spot.note.fault(
            "two places are so far from both points",
            '"on the right", "on the left", "above" or "below" at the end',
        )
    step = STEPS[side_of(spot.side, inward, spot.note)]
    lead = (one - two).dot(step)
    if abs(lead) < 0.02 * high:
        other = "above or below" if step.y == 0 else "left or right"
        raise spot.note.fault(
            f"both places lie equally far {spot.side}, as {n_a} and {n_b} stand", other
        )
    return one if lead > 0 else two
