"""Lines that lie in no outline: what they look like and where, so that nothing is lost unseen."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.dart_lines import DART_DEG, DART_MM, REACH_MM
from clothwright.intake.dash_rows import DASH_MM
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.notch_marks import ends_of, is_straight
from clothwright.units import Unit
from clothwright.words import counted, show_length

MOST_SAID = 6
"""Lines that are described; more are only counted."""
MOST_PAIRED = 60
MANY = 20
"""So many short lines are told together: they may be dashes."""
Box = tuple[Vec, Vec]


def left_out_words(lines: Sequence[DrawnLine], around: Sequence[DrawnLine], unit: Unit) -> str:
    """Say what lines (mm) look like and where each lies, the longest first; "" when there are none.

    around: all that is drawn besides; places are told from the left and the bottom of it all.
    """
    if not lines:
        return ""
    corner = _box([*lines, *around])[0]
    dashes = [x for x in lines if is_straight(x) and x.path.length <= DASH_MM]
    many = set(map(id, dashes)) if len(dashes) >= MANY else set()
    others = _groups([x for x in lines if id(x) not in many])
    groups = sorted(
        [*others, *([dashes] if many else [])], key=lambda g: -sum(x.path.length for x in g)
    )
    said = [f"{_look(g, unit)}, {_place(g, corner, unit)}" for g in groups[:MOST_SAID]]
    more = sum(map(len, groups[MOST_SAID:]))
    said += [counted(more, "more line")] if more else []
    return f"left out, in no outline, {counted(len(lines), 'line')}: " + "; ".join(said)


def _groups(lines: Sequence[DrawnLine]) -> list[list[DrawnLine]]:
    """Return the lines, two that meet in a point like a dart's legs together."""
    out: list[list[DrawnLine]] = []
    free = sorted(lines, key=lambda x: -x.path.length)
    while free:
        one = free.pop(0)
        other = next((x for x in free[:MOST_PAIRED] if _like_dart(one, x)), None)
        if other is not None:
            free = [x for x in free if x is not other]
        out.append([one, other] if other is not None else [one])
    return out


def _like_dart(one: DrawnLine, other: DrawnLine) -> bool:
    if not all(is_straight(x) and DART_MM[0] <= x.path.length <= DART_MM[1] for x in (one, other)):
        return False
    for a, p in (ends_of(one), ends_of(one)[::-1]):
        for q, b in (ends_of(other), ends_of(other)[::-1]):
            turn = abs(turn_between_deg(a - p, b - q))
            if p.distance(q) <= REACH_MM and 1.0 < turn <= DART_DEG:
                return True
    return False


def _look(group: Sequence[DrawnLine], unit: Unit) -> str:
    line = group[0]
    long = show_length(line.path.length, unit)
    if len(group) >= MANY:
        return f"{len(group)} short lines, which may be the dashes of an outline"
    if len(group) > 1:
        return f"two lines that meet in a point like a dart, {long} long"
    s = line.path.segments
    if not line.closed and len(s) == 2 and all(x.length >= DART_MM[0] for x in s):
        turn = abs(turn_between_deg(s[0].start - s[0].end, s[1].end - s[1].start))
        if turn <= DART_DEG:
            return f"a line bent to a point like a dart, {show_length(s[0].length, unit)} long"
    if line.closed:
        low, high = line.path.bounds()
        wide, tall = (show_length(x, unit) for x in high - low)
        return f"a closed line {wide} wide and {tall} tall"
    return f"a {'straight' if line.path.is_straight else 'bent'} line {long} long"


def _place(group: Sequence[DrawnLine], corner: Vec, unit: Unit) -> str:
    low, high = _box(group)
    at = low.lerp(high, 0.5) - corner
    right, up = (show_length(x, unit) for x in at)
    return f"{right} from the left and {up} from the bottom of the drawing"


def _box(lines: Sequence[DrawnLine]) -> Box:
    boxes = [x.path.bounds() for x in lines]
    low = Vec(min(b[0].x for b in boxes), min(b[0].y for b in boxes))
    return low, Vec(max(b[1].x for b in boxes), max(b[1].y for b in boxes))
