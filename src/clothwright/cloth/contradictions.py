"""A print that contradicts itself: what is said of it makes no pattern of the plane.

A plane pattern is the same after every motion of its group, and after any two of them one behind
the other; its group is one of the plane groups (International Tables for Crystallography, volume A:
the two-dimensional space groups). So what two mirror lines, or a mirror line and a half turn, bring
about together has to be a motion of the repeat as well; and no motion turns a top over.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.cloth.motions import ground, half_turn_of, lines_of, mirror, turns_over
from clothwright.cloth.prints import Print
from clothwright.errors import BadInput, Sentence, joined, raise_all


class Contradiction(NamedTuple):
    """What of a print cannot be. what: two clauses that exclude each other; reading: what counts.

    expected, try_: as in `BadInput`. Lengths in mm.
    """

    what: Sentence
    reading: str
    expected: Sentence
    try_: str

    def warning(self, cloth: str) -> Sentence:
        """Return it as whole sentences on a cloth that has it, from an old workbook or by hand."""
        return joined(f'Of "{cloth}" too much is said: ', self.what, ". ", self.reading)

    def error(self, where: str) -> BadInput:
        """Return it as what is told of something typed."""
        return BadInput(where=where, what=self.what, expected=self.expected, try_=self.try_)


def refuse_new(design: Print, before: Print, where: str) -> None:
    """Nothing unless what is newly said of a print contradicts it. Raises BadInput or Mistakes.

    A repeat may be measured anew while its mirror lines are still where they were: that is told
    beside the cloth, and not refused.
    """
    if _kinds(design) != _kinds(before):
        known = contradictions(before)
        raise_all(c.error(where) for c in contradictions(design) if c not in known)


def _kinds(design: Print) -> tuple[object, ...]:
    return design.up, design.drop, design.axes_along, design.axes_across, design.half_turn


LINES = ("mirror lines across the cloth", "mirror lines along the cloth")
DROPS = {
    "straight": "where the print would come again sooner than after its repeat",
    "half-drop": "and between them a half-drop repeat has no mirror line",
    "brick": "and between them a brick repeat has no mirror line",
}
WAYS = ("along the cloth", "to a selvedge")


def contradictions(design: Print) -> tuple[Contradiction, ...]:
    """Return everything that what is said of a print's ground excludes of itself."""
    return (*_of_top(design), *_of_lines(design), *_of_half_turn(design))


def _of_top(design: Print) -> Iterator[Contradiction]:
    """Yield what turns the ground's top over. Lines of a border alone are not the ground's."""
    of_border = bool(design.borders) and design.repeat_along is None
    for line in (each for each in lines_of(design) if turns_over(each, design.up)):
        axis = line.signs.index(-1)
        if not (of_border and axis == 0):
            yield Contradiction(
                what=(
                    f"the print has a top that points {WAYS[axis]}, and {LINES[axis]}, in which "
                    "what points one way is seen pointing the other",
                ),
                reading="Its top counts, those lines do not.",
                expected=("a top, or those lines",),
                try_=f"leaving the {LINES[axis]} empty, or a print that has no top",
            )
    turn = half_turn_of(design)
    if turn is not None and turns_over(turn, design.up):
        yield Contradiction(
            what=("the print has a top, and is the same after half a turn, upside down",),
            reading="Its top counts, the half turn does not.",
            expected=("a top, or the half turn",),
            try_="leaving the half turn out, or a print that has no top",
        )


def _of_lines(design: Print) -> Iterator[Contradiction]:
    """Yield mirror lines between which the print would come again sooner than it is said to."""
    found = ground(design)
    for axis, phases in enumerate((design.axes_along, design.axes_across)):
        step = found.period[axis]
        for at in phases[1:] if step else ():
            if not found.alike(mirror(axis, phases[0]), mirror(axis, at)):
                yield Contradiction(
                    what=(
                        f"two of the {LINES[axis]} are ",
                        abs(at - phases[0]),
                        f" apart, {DROPS[design.drop]}",
                    ),
                    reading="Only the first of those lines counts.",
                    expected=((step or 0.0) / 2, " apart, or whole times that"),
                    try_="typing the first of those lines alone, or the repeat anew",
                )


def _of_half_turn(design: Print) -> Iterator[Contradiction]:
    """Yield a half turn where mirror lines leave room for none."""
    turn = half_turn_of(design)
    if turn is not None and not ground(design).takes(turn, lines_of(design)):
        yield Contradiction(
            what=("the place of the half turn does not go with the mirror lines",),
            reading="The mirror lines count, the half turn does not.",
            expected=("a place on a line, half way between two, or where two lines cross",),
            try_="leaving the half turn out: mirror lines both ways give one by themselves",
        )
