"""Where the picture of a cloth comes again: edge to edge, after whole repeats of the print."""

from __future__ import annotations

import numpy as np
import pytest

from clothwright.cloth.motions import ground
from clothwright.cloth.prints import Border, Print, PrintPicture, picture_spots


def test_a_picture_of_one_repeat_covers_the_cloth():
    """Copies begin a repeat apart, the first at or before 0, the last before the end."""
    design = Print(
        repeat_along=60.0,
        repeat_across=50.0,
        picture=PrintPicture(file="x.png", width=60.0, height=50.0, along=20.0, across=10.0),
    )
    spots = picture_spots(design, (0.0, 0.0), (200.0, 100.0))
    assert sorted({x for x, _ in spots}) == [-40.0, 20.0, 80.0, 140.0]
    assert sorted({y for _, y in spots}) == [-40.0, 10.0, 60.0]


def test_a_picture_of_three_repeats_comes_again_after_three():
    """The step is as many whole repeats as the picture shows."""
    picture = PrintPicture(file="x.png", width=185.0, height=90.0)
    spots = picture_spots(Print(repeat_along=60.0, picture=picture), (0.0, 0.0), (400.0, 90.0))
    assert [x for x, _ in spots] == [-180.0, 0.0, 180.0, 360.0]


def test_a_border_comes_once_across():
    """With a border the picture is not repeated across; along, the border's own repeat counts."""
    border = Border(name="b", side="lower", base=10.0, height=40.0, repeat=30.0)
    picture = PrintPicture(file="x.png", width=30.0, height=50.0)
    design = Print(borders=(border,), repeat_across=20.0, picture=picture)
    assert picture_spots(design, (0.0, 0.0), (60.0, 200.0)) == ((0.0, 0.0), (30.0, 0.0))


@pytest.mark.parametrize("drop", ["straight", "half-drop", "brick"])
@pytest.mark.parametrize(("wide", "tall"), [(60.0, 50.0), (120.0, 50.0), (60.0, 150.0)])
def test_copies_fill_the_cloth_once_as_the_print_drops(drop: str, wide: float, tall: float):
    """Every place lies in one copy, and in it at a place where the print is the same."""
    picture = PrintPicture(file="x.png", width=wide, height=tall, along=7.0, across=-3.0)
    design = Print(repeat_along=60.0, repeat_across=50.0, drop=drop, picture=picture)
    spots = np.array(picture_spots(design, (0.0, 0.0), (400.0, 300.0)))
    for place in np.random.default_rng(7).uniform((0, 0), (400, 300), (200, 2)):
        (held,) = [
            s for s in spots if (s <= place).all() and (place < s + np.array((wide, tall))).all()
        ]
        shown = held - (7.0, -3.0)
        apart = ground(design).apart(shown[None, :])
        assert np.abs(apart).max() < 1e-9


def test_without_repeat_it_lies_once_and_without_picture_nowhere():
    """No repeat: one place. No picture: none. Too small to be seen: none."""
    picture = PrintPicture(file="x.png", width=30.0, height=50.0, along=5.0, across=6.0)
    assert picture_spots(Print(picture=picture), (0.0, 0.0), (900.0, 900.0)) == ((5.0, 6.0),)
    assert picture_spots(Print(repeat_along=30.0), (0.0, 0.0), (900.0, 900.0)) == ()
    small = PrintPicture(file="x.png", width=0.5, height=0.5)
    tiny = Print(repeat_along=0.5, repeat_across=0.5, picture=small)
    assert picture_spots(tiny, (0.0, 0.0), (900.0, 900.0)) == ()


def test_the_picture_shrinks_with_the_print():
    """What is lost in washing is lost in the picture too."""
    picture = PrintPicture(file="x.png", width=100.0, height=50.0, along=20.0, across=10.0)
    shrunk = Print(picture=picture).shrunk(0.9, 0.8).picture
    assert shrunk == PrintPicture(file="x.png", width=90.0, height=40.0, along=18.0, across=8.0)
