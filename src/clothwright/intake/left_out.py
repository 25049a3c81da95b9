"""Lines that lie in no outline: what they look like and where, so that nothing is lost unseen."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.geometry.box import box_of_all
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.dart_lines import DART_DEG, DART_MM, REACH_MM
from clothwright.intake.dash_rows import DASH_MM
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.notch_marks import is_straight
from clothwright.units import Unit
from clothwright.words import counted, show_length

MOST_SAID = 6
"""Lines that are described; more are only counted."""
MOST_PAIRED = 60
MANY = 20
"""So many short lines are told together: they may be dashes."""


def left_out_words(lines: Sequence[DrawnLine], around: Sequence[DrawnLine], unit: Unit) -> str:
    """Say what lines (mm) look like and where each lies, the longest first; "" when there are none.

    around: all that is drawn besides; places are told from the left and the bottom of it all.
    """
    if not lines:
        return ""
    corner = box_of_all(x.path.bounds() for x in (*lines, *around)).low
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
    for a, p in (one.path.ends, one.path.ends[::-1]):
        for q, b in (other.path.ends, other.path.ends[::-1]):
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
        wide, tall = (show_length(x, unit) for x in line.path.bounds().size)
        return f"a closed line {wide} wide and {tall} tall"
    return f"a {'straight' if line.path.is_straight else 'bent'} line {long} long"


def _place(group: Sequence[DrawnLine], corner: Vec, unit: Unit) -> str:
    middle = box_of_all(x.path.bounds() for x in group).middle
    right, up = (show_length(x, unit) for x in middle - corner)
    return f"{right} from the left and {up} from the bottom of the drawing"
