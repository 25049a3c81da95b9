"""What is said of a print makes a pattern of the plane, or is refused and told.

Held against patterns painted here point by point: a motif copied by what is said, again and again.
Where what is said is one of the plane groups (International Tables for Crystallography, volume A,
the two-dimensional space groups pm, cm, pmm, pmg, cmm), copying comes to an end within the repeat;
where it is none, copies go on falling between those that are there.
"""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.contradictions import contradictions, refuse_new
from clothwright.cloth.meanings import cloth_words
from clothwright.cloth.motions import ground
from clothwright.cloth.prints import Border, Print
from clothwright.errors import BadInput
from clothwright.units import Unit

P, Q = 64.0, 48.0
PLAIN = Print(repeat_along=P, repeat_across=Q)
TWO_TOPS = replace(PLAIN, up="end", axes_along=(0.0,))


def most_copies(design: Print) -> int:
    """How many like motifs come to lie in one plain repeat, copied by all that is said; to 100.

    Each copy is a place and the signs of its sides, so that a mirrored one is not a like one.
    """
    moves = [((-1, 1), (2 * a, 0.0)) for a in design.axes_along]
    moves += [((1, -1), (0.0, 2 * a)) for a in design.axes_across]
    if design.half_turn is not None:
        moves.append(((-1, -1), (2 * design.half_turn[0], 2 * design.half_turn[1])))
    steps = {
        "straight": [(P, 0), (0, Q)],
        "half-drop": [(P, 0), (P / 2, Q)],
        "brick": [(P, Q / 2), (0, Q)],
    }
    moves += [((1, 1), step) for step in steps[design.drop]]
    rows = (2 * P, 2 * Q)
    found = {(3.0, 5.0, 1, 1)}
    new = set(found)
    while new and len(found) <= 100:
        new = {
            ((sx * x + tx) % rows[0], (sy * y + ty) % rows[1], sx * a, sy * b)
            for (x, y, a, b), ((sx, sy), (tx, ty)) in itertools.product(new, moves)
        } - found
        found |= new
    return sum(1 for *_, a, b in found if (a, b) == (1, 1)) // 4


SAID = [
    replace(PLAIN, drop=drop, **{axis: lines})
    for drop in ("straight", "half-drop", "brick")
    for axis, size in (("axes_along", P), ("axes_across", Q))
    for lines in ((0.0,), (5.0, 5.0 + size / 2), (5.0, 5.0 + size), (5.0, 5.0 + size / 4))
]
TURNED = [
    replace(PLAIN, drop=drop, half_turn=turn, **lines)
    for drop in ("straight", "half-drop", "brick")
    for lines in ({}, {"axes_along": (0.0,)}, {"axes_along": (0.0,), "axes_across": (0.0,)})
    for turn in (
        (0.0, 0.0),
        (P / 4, 0.0),
        (P / 4, Q / 2),
        (P / 2, Q / 4),
        (P / 4, Q / 4),
        (P / 8, 0.0),
    )
]


@pytest.mark.parametrize(
    "design", SAID + TURNED, ids=lambda d: f"{d.drop} {d.axes_along} {d.axes_across} {d.half_turn}"
)
def test_what_makes_no_pattern_is_found(design):
    """Told exactly where copying brings more like motifs into a repeat than its lattice has."""
    assert bool(contradictions(design)) == (most_copies(design) > 1)


@pytest.mark.parametrize("up", ["either", "end", "start", "upper", "lower"])
@pytest.mark.parametrize(
    "said", [{"axes_along": (4.0,)}, {"axes_across": (4.0,)}, {"half_turn": (4.0, 4.0)}], ids=str
)
def test_what_is_turned_over_has_no_top(up, said):
    """An arrow with its tip towards the top is moved by what is said: does a tip come down?"""
    design = replace(PLAIN, up=up, **said)
    tip = {"end": (1, 0), "start": (-1, 0), "upper": (0, 1), "lower": (0, -1)}.get(up, (0, 0))
    signs = {"axes_along": (-1, 1), "axes_across": (1, -1), "half_turn": (-1, -1)}[next(iter(said))]
    falls = tuple(s * t for s, t in zip(signs, tip, strict=True)) == (-tip[0], -tip[1]) and any(tip)
    assert bool(contradictions(design)) == falls
    ways = {op.signs for op in ground(design).operations}
    assert (signs in ways) is not falls


def test_a_border_may_mirror_beside_a_ground_with_a_top():
    """Lines across the cloth that only its border can have are no contradiction to the ground."""
    band = Border(name="b", side="lower", base=10.0, height=80.0, repeat=56.0)
    design = Print(borders=(band,), axes_along=(0.0, 28.0), up="end")
    assert contradictions(design) == ()


def test_something_new_is_refused_and_something_old_is_told():
    """A sentence with both, what to expect and to try; what an old workbook holds may stay."""
    with pytest.raises(BadInput) as caught:
        refuse_new(TWO_TOPS, PLAIN, 'cloth "linen"')
    words = str(caught.value)
    assert words.startswith('Cloth "linen": the print has a top that points along the cloth, and')
    assert "expected a top, or those lines" in words
    assert "try leaving the mirror lines across the cloth empty" in words
    refuse_new(replace(TWO_TOPS, repeat_along=70.0), TWO_TOPS, "")
    told = " ".join(cloth_words(Cloth(name="linen", width=1400.0, print=TWO_TOPS), Unit.cm))
    assert "Its top counts, those lines do not." in told


def test_lines_are_told_in_her_unit():
    """A brick repeat is mirrored every whole repeat only: how far apart hers are, and should be."""
    brick = replace(PLAIN, drop="brick", axes_along=(0.0, 32.0))
    cloth = Cloth(name="linen", width=1400.0, print=brick)
    told = [w for u in (Unit.cm, Unit.inch) for w in cloth_words(cloth, u) if "too much" in w]
    assert "3.2 cm apart, and between them a brick repeat has no mirror line" in told[0]
    assert "1 1/4 in apart" in told[1]
