"""What is eased, gathered or folded in a seam: how much a fold takes, and how it is said."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.specimens import seam, skirt

from clothwright.pattern.fullness import (
    depth,
    difference,
    fuller,
    fullness,
    fullness_to_do,
    planned_words,
    taken,
)
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Notch
from clothwright.pattern.pleats import folds_of
from clothwright.pattern.walk import ease_bounds, mark_names, side
from clothwright.pattern.ways_round import turned
from clothwright.units import Unit
from clothwright.words import say

CM = 10.0

PLEATS = [
    # (pleated width S, pleats n, depth d, cloth P, in cm, where they lie)
    ("W37 normal pleats", 50.0, 20, 2.5, 150.0, "end"),
    ("W38 one box pleat", 60.0, 1, 12.0, 108.0, "box"),
    ("W39 one inverted pleat", 66.0, 1, 6.5, 92.0, "inverted"),
    ("W40", 80.0, 20, 3.0, 200.0, "end"),
    ("W41", 48.0, 12, 4.0, 144.0, "start"),
    ("W42", 168.0, 56, 3.0, 504.0, "end"),
    ("W49", 59.5, 17, 2.5, 144.5, ""),
]
"""National Instructional Media Institute, Dress Making (pleats), as worked there."""


@pytest.mark.parametrize(("name", "s", "n", "d", "p", "to"), PLEATS, ids=[p[0] for p in PLEATS])
def test_a_pleat_takes_twice_its_depth_a_box_pleat_four_times(
    name: str, s: float, n: int, d: float, p: float, to: str
) -> None:
    """Cloth P = S + 2·d·n; a box or an inverted pleat is two (worked examples of a textbook)."""
    one = seam(name, "a.b", "c.d", join="pleated", ease=(p - s) * CM, folds=n, fold_to=to)
    assert depth(one) == pytest.approx(d * CM)
    assert taken(one) * n + s * CM == pytest.approx(p * CM)


def test_a_tuck_takes_twice_its_depth() -> None:
    """16 tucks of 0.2 in 34.4 of cloth leave 28 (W54, worked in the same book)."""
    one = seam("t", "a.b", "c.d", join="tucked", ease=6.4 * CM, folds=16)
    assert depth(one) == pytest.approx(0.2 * CM)


def test_what_is_not_folded_has_no_depth() -> None:
    """Gathers are not counted, and pleats whose number is not told have no depth."""
    assert depth(seam("g", "a.b", "c.d", join="gathered", ease=100.0)) == 0.0
    assert depth(seam("p", "a.b", "c.d", join="pleated", ease=100.0)) == 0.0


def gathered() -> Pattern:
    """The skirt of the specimens, its back 40 mm longer in the side between two notches."""
    pattern = skirt()
    back = pattern.piece("skirt back")
    edge = back.edge("side")
    notches = (Notch(at=100.0, name="hip"), Notch(at=200.0), Notch(at=300.0))
    return pattern.with_piece(back.with_edge(replace(edge, notches=notches)))


WORDS = [
    ({}, ""),
    ({"ease": 12.0}, "1.2 cm longer: eased in"),
    ({"ease": 8.0, "eased_max": 14.0}, "0.8 cm to 1.4 cm longer: eased in"),
    ({"ease": -6.0, "join": "stretched"}, "0.6 cm shorter: stretched to fit"),
    ({"ease": 40.0, "join": "gathered"}, "4 cm longer: gathered"),
    (
        {"ease": 40.0, "join": "gathered", "ease_from": "hip", "ease_to": "notch 3"},
        '4 cm longer: gathered between notch "hip" and notch 3',
    ),
    (
        {"ease": 120.0, "join": "pleated", "folds": 3, "fold_to": "end"},
        '12 cm longer: laid in 3 pleats, each 2 cm deep, towards "waist side"',
    ),
    (
        {"ease": 120.0, "join": "pleated", "folds": 1, "fold_to": "inverted"},
        "12 cm longer: laid in 1 inverted pleat, 3 cm deep",
    ),
    ({"ease": 20.0, "join": "tucked"}, "2 cm longer: taken up in tucks"),
    (
        {"ease": 100.0, "join": "elasticated"},
        "10 cm longer: drawn in by elastic, to a finished length of 62.4 cm",
    ),
]


@pytest.mark.parametrize(("how", "words"), WORDS, ids=[w or "as it is" for _, w in WORDS])
def test_it_is_said_in_whole_words(how: dict[str, object], words: str) -> None:
    """By how much, what is done, how deep, which way, between which marks, to which length."""
    pattern = gathered()
    one = replace(seam("side", "skirt front.side", "skirt back.side"), **how)
    said = fullness(pattern, one)
    text = say((*difference(one), ": ", *said), Unit.cm) if said else ""
    assert text.lstrip() == words
    assert bool(fullness_to_do(pattern, one)) is bool(words)


def test_the_side_that_is_worked_is_the_longer_and_of_a_stretched_one_the_shorter() -> None:
    """By the sign of the ease, which is that of b less a."""
    plain = seam("s", "skirt front.side", "skirt back.side", ease=5.0)
    assert fuller(plain) == plain.b
    assert fuller(replace(plain, ease=-5.0)) == plain.a
    assert fuller(replace(plain, ease=-5.0, join="stretched")) == plain.b
    assert planned_words(replace(plain, join="pleated", folds=4)) == "in 4 pleats"


def test_a_notch_without_a_name_bounds_the_ease_by_its_number() -> None:
    """Counted along the side from the seam's start, however the edge is drawn."""
    pattern = gathered()
    one = seam(
        "s", "skirt front.side", "skirt back.side", ease=40.0, ease_from="hip", ease_to="notch 3"
    )
    run = side(pattern, one.b)
    assert mark_names(run) == ("hip", "notch 2", "notch 3")
    assert ease_bounds(one, run) == pytest.approx((100.0, 300.0))
    back = seam(
        "s", "skirt front.side", "skirt back.side reversed", ease_from="notch 1", ease_to="hip"
    )
    run = side(pattern, back.b)
    assert ease_bounds(back, run) == pytest.approx((run.length - 300.0, run.length - 100.0))


def test_a_seam_sewn_from_its_other_end_is_eased_at_the_same_place_of_the_piece() -> None:
    """From a notch to the seam's own end, folds towards that end: both stay where they are on b."""
    pattern = gathered()
    sides = ("skirt front.side", "skirt back.side")
    one = seam("s", *sides, ease=40.0, join="pleated", folds=2, fold_to="end", ease_from="hip")
    other = turned(one)
    whole = side(pattern, one.b).length
    assert ease_bounds(one, side(pattern, one.b)) == pytest.approx((100.0, whole))
    assert ease_bounds(other, side(pattern, other.b)) == pytest.approx((0.0, whole - 100.0))
    places = [
        [(f.start, f.end, f.to_end) for fs in folds_of(pattern, x).values() for f in fs]
        for x in (one, other)
    ]
    assert len(places[0]) == 2
    assert np.allclose(*places)
    shorter = replace(one, ease=-40.0)
    assert turned(shorter).fold_to == "end"
    assert turned(other) == one
