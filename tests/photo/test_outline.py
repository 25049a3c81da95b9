"""The outline of a simulated piece: within the promise, and what is doubtful told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.photo.correct import Correction, mended
from clothwright.photo.flatten import Flat, flatten
from clothwright.photo.outline import Outlined, find_outline
from tests.photo.measure import doubted, off
from tests.photo.scenes import Trial, photos, trial

SIZE = (2000, 1500)
BASE = trial(7, size=SIZE)
PATH = BASE.scene.outline
PLACE = PATH.length * 0.45
SHOT = BASE.shots[0]


def beside(along: float, inward: float) -> Vec:
    """A place so far along the true outline, and so far inside it."""
    p, t = PATH.point_at(along), PATH.tangent_at(along)
    return p + Vec(-t.y, t.x) * inward


def scene(**changes: object) -> Trial:
    plain = replace(BASE.scene, second=(), words=(), pen_mm=0.9, paper="white")
    return replace(BASE, scene=replace(plain, **changes), shots=(SHOT,))


def flat_of(**changes: object) -> Flat:
    return flatten(photos(scene(**changes)), bar_mm=BASE.bar_mm)


@pytest.fixture(scope="module")
def plain() -> tuple[Flat, Outlined]:
    """A white sheet with the piece drawn on it."""
    flat = flat_of()
    return flat, find_outline(flat)


def codes(found: Outlined) -> set[str]:
    return {d.code for d in found.doubts}


def test_a_drawn_outline_is_within_the_promise(plain):
    """rms under 0.3 mm, worst under the stated error and under 1 mm; few curves.

    One photo: its corners are asked about, and nothing else.
    """
    found = plain[1]
    measured = off(found.path, PATH)
    assert found.by_line
    assert measured.rms < 0.3
    assert measured.worst < min(1.0, found.error_mm)
    assert codes(found) == {"corner"}
    assert len(found.path.segments) < 45


def test_the_path_is_closed_and_runs_counter_clockwise(plain):
    """As every outline of the house."""
    found = plain[1]
    points = np.array(found.path.flatten(0.1))
    x, y = points.T
    assert found.path.start.distance(found.path.end) < 1e-6
    assert (x * np.roll(y, -1) - np.roll(x, -1) * y).sum() > 0


def test_the_grain_line_is_found(plain):
    """The straight line inside: its length within 2 mm, parallel to the true one."""
    found = plain[1]
    true = BASE.scene.inner[0].length
    assert found.inner[0].length == pytest.approx(true, abs=2.0)


def test_cut_tissue_under_a_shadow_is_found():
    """Tissue cut along the outline, a soft shadow across it, no line: by its edge."""
    found = find_outline(flat_of(paper="tissue", pen_mm=0.0))
    measured = off(found.path, PATH, doubted(found))
    assert not found.by_line
    assert measured.rms < 0.3
    assert measured.clear < found.error_mm


def test_a_gap_is_bridged_and_told():
    """6 mm of the line are missing: drawn straight across, with the place."""
    gap = PATH.point_at(PLACE)
    found = find_outline(flat_of(gap_at=(gap.x, gap.y)))
    assert "gap" in codes(found)
    assert off(found.path, PATH).worst < 1.0


@pytest.mark.parametrize("inward", [-7.0, 7.0])
def test_a_second_line_is_told(inward):
    """160 mm of another size, 7 mm outside or inside: the clicked piece, and a doubt."""
    line = polyline([beside(PLACE - 80 + k * 4, inward) for k in range(41)])
    found = find_outline(flat_of(second=(line,)))
    assert "second-line" in codes(found)
    assert off(found.path, PATH).worst < 1.0


def test_lettering_that_touches_is_told():
    """Letters across the line: the place is told, away from it the outline holds."""
    at = PATH.point_at(PLACE)
    found = find_outline(flat_of(words=(("Mm8", at.x - 12, at.y - 3, 9.0),)))
    assert "touch" in codes(found)
    assert off(found.path, PATH, doubted(found)).clear < found.error_mm


def test_a_crease_beside_the_line_is_told():
    """A fold 4 mm inside the line, for 80 mm."""
    ends = [beside(PLACE + k, 4) for k in (-40, 40)]
    found = find_outline(flat_of(crease=tuple((p.x, p.y) for p in ends)))
    assert codes(found) & {"crease", "touch"}
    assert off(found.path, PATH).worst < 1.0


def test_a_place_outside_the_piece_has_no_outline(plain):
    """A click on the table far from any paper is a sentence."""
    flat, _ = plain
    with pytest.raises(BadInput, match="No outline is found round this place"):
        find_outline(flat, (12.0, 12.0), by="line")


def test_a_click_inside_finds_the_same(plain):
    """The middle of the piece, given as a place, gives the same outline."""
    flat, first = plain
    low, high = first.path.bounds()
    again = find_outline(flat, tuple(low.lerp(high, 0.5)))
    assert off(again.path, first.path).worst < 0.01


def test_a_dragged_place_is_passed_through(plain):
    """The outline goes through the point, farther than 26 mm off nothing moves."""
    found = plain[1]
    at = found.path.point_at(200.0)
    to = at + Vec(1.5, -2.0)
    after = mended(found.path, [Correction(at, to)])
    assert after.path.nearest(to)[1] < 1e-6
    for k in range(0, int(found.path.length), 10):
        p = found.path.point_at(k)
        if p.distance(at) > 27.0:
            assert after.path.nearest(p)[1] < 1e-6
    assert after.path.start.distance(after.path.end) < 1e-6


def test_a_dragged_corner_takes_both_edges_along(plain):
    """A corner moved by 3 mm is still one corner, at the new place."""
    found = plain[1]
    corner = next(
        s.start
        for k, s in enumerate(found.path.segments)
        if abs(found.path.segments[k - 1].tangent(1.0).dot(s.tangent(0.0))) < 0.5
    )
    to = corner + Vec(2.0, 2.0)
    after = mended(found.path, [Correction(corner, to)])
    assert after.path.nearest(to)[1] < 1e-6
    assert after.path.nearest(corner)[1] > 0.5
