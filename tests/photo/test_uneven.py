"""Paper that does not lie flat, cut edges, ruled tissue, a lens that sits aslant: all told.

A few small scenes of the second simulator; `python bench/photo.py --uneven` takes forty.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from clothwright.geometry.vec import Vec
from clothwright.photo import outline
from clothwright.photo.doubts import WORDS
from clothwright.photo.flatten import Flat, flatten
from clothwright.photo.lens import Lens, bent, straightened
from clothwright.photo.outline import Outlined, find_outline
from clothwright.photo.read import Photo
from clothwright.photo.trace import Fitted, Traced, fitted
from tests.photo.measure import doubted, off
from tests.photo.uneven import Camera, Lift, Staged, bend, photographs, pixel_of, rays_of, staged

SMALL, LARGER = (1500, 1125), (1700, 1275)
SPOT = Vec(*map(float, staged(9, medium="pen", fault="none", count=3).world.points[60]))
"""On the outline of the drawn piece below."""


@pytest.fixture(autouse=True, scope="module")
def no_inner_lines() -> Iterator[None]:
    """Lines inside a piece are not looked for: nothing here asks for them, and it takes long."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(outline, "inner_lines", lambda *_: ())
        yield


def flat_of(it: Staged) -> Flat:
    return flatten(photographs(it.world, it.cameras), bar_mm=it.bar_mm)


def laid_over(flat: Flat, it: Staged, at: Vec) -> Vec:
    """A place of the simulated table in the flat picture, by where the sheets lie in both."""
    here = np.array([complex(*m.at) for m in it.world.marked])
    there = np.array([complex(*flat.sheets[m.number].mean(axis=0)) for m in it.world.marked])
    turn = ((there - there.mean()) * (here - here.mean()).conj()).sum()
    spot = there.mean() + turn / abs(turn) * (complex(*at) - here.mean())
    return Vec(float(spot.real), float(spot.imag))


@pytest.fixture(scope="module")
def bumped() -> tuple[Staged, tuple[Photo, ...], Flat, Outlined]:
    """A drawn piece in three photos by a lens that sits aslant; 6 mm off the table at one place."""
    it = staged(9, size=LARGER, medium="pen", fault="none", count=3)
    cameras = tuple(replace(c, p=(0.003, -0.002)) for c in it.cameras)
    lift = Lift(bumps=((float(SPOT.x), float(SPOT.y), 6.0, 60.0),))
    it = replace(it, cameras=cameras, world=replace(it.world, lift=lift))
    photos = photographs(it.world, cameras)
    flat = flatten(photos, bar_mm=it.bar_mm)
    return it, photos, flat, find_outline(flat)


@pytest.fixture(scope="module")
def alone(bumped) -> Outlined:
    """The same piece by its first photo only."""
    it, photos, _, _ = bumped
    return find_outline(flatten(photos[:1], bar_mm=it.bar_mm))


def test_a_lens_that_sits_aslant_is_undone():
    """As OpenCV's documentation writes it: the simulator's own formula, and back within 1e-9."""
    cam = Camera(eye=(0.0, 0.0, 1000.0), k=(0.05, -0.02, 0.0), p=(0.0015, -0.001))
    lens = Lens(1.0, 0.05, -0.02, (0.0, 0.0), 0.0015, -0.001)
    rays = np.random.default_rng(3).uniform(-0.6, 0.6, (200, 2))
    assert np.abs(bent(lens, rays) - np.stack(bend(cam, *rays.T), axis=1)).max() < 1e-12
    assert np.abs(straightened(lens, bent(lens, rays)) - rays).max() < 1e-9


def test_the_simulated_rays_are_true():
    """A pixel's ray to the table, seen again, is the pixel within a hundredth."""
    cam = staged(2, size=SMALL).cameras[0]
    u, v = np.meshgrid(np.linspace(0, 1499, 9), np.linspace(0, 1124, 9))
    rays = rays_of(cam, u, v).reshape(-1, 3)
    eye = np.array(cam.eye)
    room = eye + rays * (-eye[2] / rays[:, 2:])
    assert np.abs(pixel_of(cam, room) - np.c_[u.ravel(), v.ravel()]).max() < 0.01


def test_a_lens_that_sits_aslant_is_found(bumped):
    """Its p1 and p2 come out, and the outline away from the bump is right."""
    it, _, flat, found = bumped
    lens = flat.solved.lenses[0]
    assert (lens.p1, lens.p2) == pytest.approx((0.003, -0.002), abs=0.0008)
    measured = off(found.path, it.world.outline, doubted(found))
    assert measured.clear < found.error_mm


def test_white_paper_cut_out_on_a_dark_table_is_followed_by_its_edge():
    """Its edge is no line, however dark the table; what white spreads is taken off."""
    it = staged(0, size=LARGER, medium="white cut", fault="none", count=1)
    found = find_outline(flat_of(it))
    assert not found.by_line
    measured = off(found.path, it.world.outline)
    assert measured.rms < 0.35
    assert measured.worst < found.error_mm


@pytest.fixture(scope="module")
def sizes() -> Callable[[float], tuple[Flat, Outlined]]:
    """Give sizes(dash_mm): tissue with one pen line and three more sizes, by one photo."""
    it = staged(3, size=SMALL, medium="tissue sizes", fault="none", count=1)

    @cache
    def made(dash_mm: float) -> tuple[Flat, Outlined]:
        flat = flat_of(replace(it, world=replace(it.world, dash_mm=dash_mm)))
        return flat, find_outline(flat)

    return made


def farthest(found: Outlined, codes: Container[str] = WORDS) -> float:
    """How far the place of an outline lies that is farthest from all doubts of these kinds, mm."""
    doubts = [p for d in found.doubts if d.code in codes for p in d.places]
    places = [found.path.point_at(float(s)) for s in np.arange(0, found.path.length, 10.0)]
    return max(min(p.distance(d) for d in doubts) for p in places)


def test_several_sizes_on_tissue_are_doubted_all_the_way(sizes):
    """Which of four lines is meant nobody can tell: no place is more than 30 mm from a doubt."""
    assert farthest(sizes(0.0)[1]) < 30.0


@pytest.mark.parametrize("dash_mm", [0.0, 6.0])
def test_a_second_line_is_one_question(sizes, dash_mm):
    """Drawn through or dashed, and broken at corners: one question on each side of the outline."""
    codes = [d.code for d in sizes(dash_mm)[1].doubts]
    assert codes.count("second-line") == 2
    assert len(codes) <= 4


def test_paper_that_stands_off_is_told_where_two_photos_disagree(bumped):
    """A bump of 6 mm on the outline: said there, and nowhere else."""
    it, _, flat, found = bumped
    lifted = [p for d in found.doubts if d.code == "lifted" for p in d.places]
    spot = laid_over(flat, it, SPOT)
    assert min(spot.distance(at) for at in lifted) < 25.0
    assert max(spot.distance(at) for at in lifted) < 120.0


def test_one_photo_states_more_than_three_from_three_sides(bumped, alone):
    """One photo cannot tell whether paper stands off: its stated error says so."""
    found = bumped[-1]
    assert alone.error_mm > 1.2 * found.error_mm
    assert all(d.code != "lifted" for d in alone.doubts)


def test_corners_that_may_curl_are_asked_about_where_one_photo_only_shows_them(bumped, alone):
    """Height needs two views (parallax): one question about all corners that point outward."""
    found = bumped[-1]
    (asked,) = (d for d in alone.doubts if d.code == "corner")
    points = np.array(alone.path.flatten(0.01))
    for far in (points[:, 0].argmin(), points[:, 0].argmax()):
        assert min(p.distance(Vec(*points[far])) for p in asked.places) < 60.0
    assert all(d.code != "corner" for d in found.doubts)


def test_a_stretch_whose_end_is_not_seen_is_closed():
    """Of a square's one side only the beginning is trusted: still a closed square."""
    steps = np.arange(0.0, 200.0, 0.5)
    corners = np.array([(0.0, 0.0), (200.0, 0.0), (200.0, 200.0), (0.0, 200.0), (0.0, 0.0)])
    points = np.vstack([a + steps[:, None] / 200.0 * (b - a) for a, b in pairwise(corners)])
    good = np.ones(len(points), dtype=bool)
    good[20:400] = False
    path = fitted(Traced(points, np.ones(len(points)), good)).path
    low, high = path.bounds()
    assert (low.x, low.y, high.x, high.y) == pytest.approx((0.0, 0.0, 200.0, 200.0), abs=0.1)


def test_paper_followed_by_its_edge_says_that_lines_are_drawn_on_it(sizes, monkeypatch):
    """Sizes on tissue, and the edge is taken: doubted all the way; not when she said the edge."""
    flat, _ = sizes(0.0)
    once: list[Fitted] = []

    def fitted_once(trace: Traced) -> Fitted:  # the same edge both times, and it takes long
        once.extend([] if once else [fitted(trace)])
        return once[0]

    monkeypatch.setattr(outline, "fitted", fitted_once)
    chosen = find_outline(flat, by="edge")
    assert not chosen.by_line
    assert all(d.code != "drawn" for d in chosen.doubts)
    monkeypatch.setattr(outline, "inside_line", lambda *_args, **_how: None)
    found = find_outline(flat)
    assert any(d.code == "drawn" for d in found.doubts)
    assert farthest(found, ("drawn", "second-line")) < 40.0
