"""Measured diagonals against the drawing, and which single measurement would explain the misses."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.typed.lines import LENGTH, Lengths, Note, TypedLength, as_typed, known_name
from clothwright.intake.typed.lines import length_in as length_of
from clothwright.intake.typed.points import PointGiven, placed
from clothwright.units import Unit
from clothwright.words import show_length

TAPE_MM = 3.0
"""mm: a check may miss by this much; what a tape on tissue gives (our own figure)."""
STEP_MM = 0.01
MOST_MEASURES = 120
"""Measures looked at for a slip; with more, only the points are named."""
MOST_NAMED = 3

_I = re.IGNORECASE
_LONG = rf"(?: is| =|:|,)? (?P<a>{LENGTH})(?: long)?(?:,? within (?P<w>{LENGTH}))?"
_BETWEEN = re.compile(
    rf"check (?:from )?(?P<p>.+?) to (?P<q>.+?){_LONG}",
    _I,
)
_EDGE = re.compile(
    rf"check (?:edge |along )?(?P<e>.+?){_LONG}",
    _I,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLine:
    """A measured distance: between two points, or along an edge. within: mm it may miss by."""

    note: Note
    ends: tuple[str, ...]
    edge: str
    mm: float
    within: float

    @property
    def what(self) -> str:
        """What was measured, in words."""
        return f"{self.ends[0]} to {self.ends[1]}" if self.ends else self.edge


class Checked(NamedTuple):
    """A check and what the drawing gives, mm. words: as it is told."""

    check: CheckLine
    drawn: float
    words: str

    @property
    def agrees(self) -> bool:
        """Tell whether it misses by no more than it may."""
        return abs(self.drawn - self.check.mm) <= self.check.within + 1e-9


def check_of(
    note: Note,
    unit: Unit,
    points: Mapping[str, object],
    edges: Mapping[str, object],
    within: float,
) -> CheckLine:
    """Read "check A to C 72,3 cm" or "check side 61 cm, within 5 mm". Raises BadInput."""
    m = _BETWEEN.fullmatch(note.text)
    ends: tuple[str, ...] = ()
    edge = ""
    if m:
        ends = (known_name(note, points, m["p"]), known_name(note, points, m["q"]))
        if ends[0] == ends[1]:
            raise note.fault("both ends are the same point", "two points")
    else:
        m = _EDGE.fullmatch(note.text)
        if not m:
            raise note.fault(
                "it does not say what was measured and how long it is",
                'for example "check A to C 72,3 cm", or an edge: "check side 61 cm"',
            )
        edge = known_name(note, edges, m["e"], "edge")
    return CheckLine(
        note=note,
        ends=ends,
        edge=edge,
        mm=length_of(note, m["a"], unit, least=0.0),
        within=length_of(note, m["w"], unit, least=0.0) if m["w"] else within,
    )


Drawn = Callable[[CheckLine, Lengths], float]
"""What the drawing gives for a check, when measures count as said."""


def places(
    spots: Sequence[PointGiven], inward: str, unit: Unit, mm: Lengths = as_typed
) -> dict[str, Vec]:
    """Return where every point lies, in the order they were given. Raises BadInput."""
    at: dict[str, Vec] = {}
    for spot in spots:
        at[spot.name] = placed(spot, at, inward, unit, mm)
    return at


def told(check: CheckLine, drawn: float, unit: Unit) -> Checked:
    """Return a check with the words that tell its difference (mm)."""
    miss = drawn - check.mm
    measured = show_length(check.mm, unit)
    if _fine(abs(miss), unit).startswith("0 "):
        words = f"{check.what}: {measured}, as measured"
    else:
        more = "more" if miss > 0 else "less"
        words = f"{check.what}: {_fine(abs(miss), unit)} {more} than the {measured} measured"
    return Checked(check, drawn, words)


def misses(
    checked: Sequence[Checked],
    spots: Sequence[PointGiven],
    others: Sequence[Owner],
    drawn: Drawn,
    unit: Unit,
) -> tuple[BadInput, ...]:
    """Return a sentence for every check that misses by more than it may.

    spots: the points. others: further measures that a length hangs on, the depths of curves.
    """
    wrong = [c for c in checked if not c.agrees]
    if not wrong:
        return ()
    own = [Owner(s.name, s.note, m) for s in spots for m in s.all_measures]
    found = explaining(checked, (*own, *others), drawn)
    why = _likely(wrong, found, spots, unit)
    out = []
    for c in wrong:
        miss = c.drawn - c.check.mm
        out.append(
            c.check.note.fault(
                f"measured {show_length(c.check.mm, unit)}, drawn {show_length(c.drawn, unit)}: "
                f"{_fine(abs(miss), unit)} {'more' if miss > 0 else 'less'}. {why}",
                f"a difference of at most {_fine(c.check.within, unit)}",
                "measuring this again",
            )
        )
    return tuple(out)


def _fine(mm: float, unit: Unit) -> str:
    """Return a difference as it is told: millimetres while it is small."""
    return show_length(mm, Unit.mm if unit.is_metric and mm < 20 else unit)


class Owner(NamedTuple):
    """A measure and what was measured with it: a point, or the curve of an edge."""

    name: str
    note: Note
    measure: TypedLength


class Cure(NamedTuple):
    """A measure that, read otherwise, makes every check agree. mm: what it would be.

    worst: the largest miss left, as part of what is allowed. swapped: only digits changed places.
    """

    owner: Owner
    mm: float
    worst: float
    swapped: bool


def explaining(checked: Sequence[Checked], own: Sequence[Owner], drawn: Drawn) -> tuple[Cure, ...]:
    """Return the single measures that would explain all misses, the likeliest first.

    Each measure alone is moved so that the misses become least (Gauss-Newton in one unknown).
    """
    if len(own) > MOST_MEASURES:
        return ()
    found = [cure for o in own if (cure := _cure(o, checked, drawn))]
    found.sort(key=lambda c: (not c.swapped, c.worst > 0.5, c.worst))
    return tuple(found)


def _cure(owner: Owner, checked: Sequence[Checked], drawn: Drawn) -> Cure | None:
    measure = owner.measure

    def off(by: float) -> list[float]:
        def mm(m: TypedLength) -> float:
            return m.mm + by if m.key == measure.key else m.mm

        return [drawn(c.check, mm) - c.check.mm for c in checked]

    by = 0.0
    try:
        for turn in range(8):
            now = off(by)
            slope = [(b - a) / STEP_MM for a, b in zip(now, off(by + STEP_MM), strict=True)]
            steep = sum(s * s for s in slope)
            if steep < 1e-8:
                if turn:
                    break
                if all(abs(s) < 1e-9 for s in slope):
                    return None
            step = -sum(s * r for s, r in zip(slope, now, strict=True)) / max(steep, 1e-6)
            by += max(-500.0, min(500.0, step))
            if abs(step) < 1e-4:
                break
        left = off(by)
    except BadInput:
        return None
    allowed = [max(c.check.within, 0.1) for c in checked]
    worst = max(abs(r) / a for r, a in zip(left, allowed, strict=True))
    mm = measure.mm + by
    if worst > 1.0 or mm <= 0.0 or mm > 10 * measure.mm + 100.0:
        return None
    for other in other_orders(measure):
        if abs(other - mm) < 4 * max(allowed) and _agree(off(other - measure.mm), allowed):
            return Cure(owner, other, worst, swapped=True)
    return Cure(owner, mm, worst, swapped=False)


def _agree(left: Sequence[float], allowed: Sequence[float]) -> bool:
    return all(abs(r) <= a for r, a in zip(left, allowed, strict=True))


def other_orders(measure: TypedLength) -> tuple[float, ...]:
    """Return the lengths a measure would have with its digits in another order, mm.

    >>> other_orders(TypedLength("42 cm", 420.0, (1, 1)))
    (240.0,)
    """
    digits = re.match(r"\d{1,3}(?:[.,]\d{1,2})?", measure.text)
    text = digits[0].replace(",", ".") if digits else ""
    if len(text) < 2 or float(text) == 0:
        return ()
    unit, point = measure.mm / float(text), text.find(".")
    plain = text.replace(".", "")
    found = set()
    for order in set(permutations(plain)) - {tuple(plain)}:
        other = "".join(order)
        found.add(float(other if point < 0 else f"{other[:point]}.{other[point:]}") * unit)
    return tuple(sorted(round(x, 6) for x in found))


def _likely(
    wrong: Sequence[Checked], found: Sequence[Cure], spots: Sequence[PointGiven], unit: Unit
) -> str:
    """Say which points are likely wrong."""
    lone = len(wrong) == 1
    if found:
        best: dict[str, Cure] = {}
        for cure in found:
            best.setdefault(cure.owner.name, cure)
        said = [
            f'{n} (line {c.owner.note.number}: "{c.owner.measure.text}" would fit as '
            f"{show_length(c.mm, unit)}{', its digits changed about' if c.swapped else ''})"
            for n, c in list(best.items())[:MOST_NAMED]
        ]
        if len(best) == 1:
            one = "One curve" if " of " in found[0].owner.name else "One point"
            words = f"{one} explains {'it' if lone else 'all misses'}: {said[0]}"
        else:
            words = "Likely wrong is one of " + ", or ".join(said)
        return words + ("; or this check was misread" if lone else "")
    named = [set(_behind(c.check.ends, spots)) for c in wrong if c.check.ends]
    common = [s.name for s in spots if named and all(s.name in n for n in named)]
    more = f"; all the misses hang on {', '.join(common[:6])}" if common else ""
    return f"No single measurement explains {'it' if lone else 'all misses'}{more}"


SENSED_MM = 0.2
"""mm: a check that changes by less than this for 1 mm of a length says nothing of it."""


def unchecked(
    checked: Sequence[Checked], spots: Sequence[PointGiven], drawn: Drawn
) -> tuple[str, ...]:
    """Return the points with a length that no check hangs on: a slip in it would not be seen."""
    out: list[str] = []
    if not checked or sum(len(s.all_measures) for s in spots) > MOST_MEASURES:
        return ()
    for owner in (Owner(s.name, s.note, m) for s in spots for m in s.all_measures):

        def mm(m: TypedLength, key: tuple[int, int] = owner.measure.key) -> float:
            return m.mm + 1.0 if m.key == key else m.mm

        try:
            moved = any(abs(drawn(c.check, mm) - c.drawn) > SENSED_MM for c in checked)
        except BadInput:
            moved = True
        if not moved and owner.name not in out:
            out.append(owner.name)
    return tuple(out)


def _behind(ends: Sequence[str], spots: Sequence[PointGiven]) -> tuple[str, ...]:
    """Return the points that decide where these lie, themselves among them; not the start."""
    by = {s.name: s for s in spots}
    out: list[str] = []
    left = list(ends)
    while left:
        name = left.pop()
        if name in by and name not in out and by[name].kind != "start":
            out.append(name)
            left += by[name].names
    return tuple(out)


def drawn_by(
    spots: Sequence[PointGiven],
    inward: str,
    unit: Unit,
    line: Callable[[str, Mapping[str, Vec], Lengths], Path],
) -> Drawn:
    """Return what gives a check's length when measures count otherwise. line: an edge's path."""

    def drawn(check: CheckLine, mm: Lengths) -> float:
        at = places(spots, inward, unit, mm)
        if check.ends:
            return at[check.ends[0]].distance(at[check.ends[1]])
        return line(check.edge, at, mm).length

    return drawn
