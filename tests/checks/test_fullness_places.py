"""Gathers are spread between their notches, whatever the sections are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import DEFAULTS
from clothwright.checks.fullness_places import fullness_places
from clothwright.geometry.path import polyline
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Notch, Piece
from tests.checks.specimens import seam


def strip(name: str, *sections: float) -> Piece:
    """A strip whose lower edge has a notch between every two sections, named by number."""
    long = sum(sections)
    at = ((0, 0), (long, 0), (long, 80), (0, 80), (0, 0))
    edges = [
        Edge(name=n, path=polyline((p, q)))
        for n, p, q in zip(("low", "right", "top", "left"), at, at[1:], strict=False)
    ]
    notches = tuple(Notch(at=sum(sections[:k]), name=f"mark {k}") for k in range(1, len(sections)))
    return Piece(name=name, edges=(replace(edges[0], notches=notches), *edges[1:]))


def sewn(plain: tuple[float, ...], full: tuple[float, ...], **more: object) -> Pattern:
    band, skirt = strip("band", *plain), strip("skirt", *full)
    ease = sum(full) - sum(plain)
    joined = seam("waist", "band.low", "skirt.low", **{"join": "gathered", "ease": ease, **more})
    return Pattern(pieces=(band, skirt), seams=(joined,))


@pytest.mark.parametrize(
    ("plain", "full", "told"),
    [
        ((200, 200), (300, 300), False),
        ((200, 200), (330, 270), False),  # a little more in front
        ((200, 200), (400, 200), True),  # all in front
        ((200, 200), (200, 400), True),
        ((100, 300), (130, 470), False),  # 30 of 200 on a quarter: half its share would be 25
        ((100, 300), (120, 480), True),
        ((200, 200), (204, 200), False),  # 4 mm in all: not seen
        ((200, 200), (195, 189), False),  # stretched a little, evenly enough
        ((200, 200), (170, 200), True),
        ((400,), (600,), False),  # no mark, nothing to compare
    ],
)
def test_sections_take_their_share(
    plain: tuple[float, ...], full: tuple[float, ...], told: bool
) -> None:
    """Evenly in the zone (common practice): between half and twice the share is passed."""
    found = list(fullness_places(sewn(plain, full), DEFAULTS))
    assert [f.code for f in found] == (["fullness-in-one-place"] if told else [])


def test_a_named_section_takes_it_all() -> None:
    """Said to lie between two notches it is looked at only there."""
    p = sewn((100, 100, 100), (100, 180, 100), ease_from="mark 1", ease_to="mark 2")
    assert list(fullness_places(p, DEFAULTS)) == []


def test_pleats_lie_where_they_are_marked() -> None:
    """Folded fullness is not spread."""
    p = sewn((200, 200), (320, 200), join="pleated", folds=2)
    assert list(fullness_places(p, DEFAULTS)) == []
