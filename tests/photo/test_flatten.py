"""Photos of a simulated table come out flat, with an error that holds, or a sentence why not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from clothwright.errors import BadInput
from clothwright.photo.flatten import flatten
from clothwright.photo.lens import Lens, Pose, bent, on_table, seen_at, straightened, turn_of
from clothwright.photo.read import Photo
from tests.photo.scenes import Trial, photos, trial
from tests.photo.simulator import Laid, Shot, draw_table, look

SIZE = (1600, 1200)


@pytest.fixture(scope="module")
def it() -> Trial:
    """A trial of a piece of 600 mm in two photos."""
    base = trial(1, size=SIZE)
    return replace(base, shots=base.shots[:2])


@pytest.fixture(scope="module")
def taken(it: Trial) -> tuple[Photo, ...]:
    return photos(it)


def sheet_middles(flat) -> tuple[list[int], np.ndarray]:
    numbers = sorted(flat.sheets)
    return numbers, np.array([flat.sheets[n].mean(axis=0) for n in numbers])


def off_truth(flat, laid: tuple[Laid, ...]) -> float:
    """How far the sheets' middles are off after the best shift and turn, mm."""
    numbers, here = sheet_middles(flat)
    at = {s.sheet: s.at for s in laid}
    there = np.array([at[n] for n in numbers])
    p, q = here - here.mean(axis=0), there - there.mean(axis=0)
    u, _, v = np.linalg.svd(p.T @ q)
    return float(np.hypot(*(p @ (u @ v) - q).T).max())


def test_the_lens_is_undone():
    """Bent and straightened again: the same ray within 1e-9, far out too, bulging or pinching."""
    rays = np.random.default_rng(1).uniform(-0.6, 0.6, (200, 2))
    for k1, k2 in ((0.08, -0.02), (-0.06, 0.01), (0.0, 0.0)):
        lens = Lens(2900.0, k1, k2, (1999.5, 1499.5))
        assert np.abs(straightened(lens, bent(lens, rays)) - rays).max() < 1e-9


def test_the_table_seen_and_found_again():
    """A point of the table, its pixel, the point again: within 1e-6 mm."""
    pose = Pose(turn_of(np.array([np.pi - 0.2, 0.1, 0.05])), np.array([10.0, 20.0, 900.0]))
    lens = Lens(1000.0, 0.05, -0.01, (800.0, 600.0))
    table = np.random.default_rng(2).uniform(-400, 400, (100, 2))
    assert np.abs(on_table(lens, pose, seen_at(lens, pose, table)) - table).max() < 1e-6


def test_sheets_come_out_where_they_lie(it, taken):
    """Their middles within 0.5 mm and within the stated error, the bar as measured."""
    flat = flatten(taken, bar_mm=it.bar_mm)
    assert set(flat.sheets) == {s.sheet for s in it.scene.sheets}
    assert off_truth(flat, it.scene.sheets) < min(0.5, flat.error_mm)
    assert flat.error_mm < 1.5
    assert flat.doubts == ()


def test_the_picture_is_where_it_says(it, taken):
    """In the flat picture each sheet's markers are black at their corners' inner side."""
    flat = flatten(taken, bar_mm=it.bar_mm)
    for corners in flat.sheets.values():
        inward = corners + 0.02 * (corners.mean(axis=0) - corners)
        outward = corners - 0.03 * (corners.mean(axis=0) - corners)
        for spots, dark in ((inward, True), (outward, False)):
            columns, rows = np.round(flat.ground.to_pixels(spots)).astype(int).T
            assert ((flat.image[rows, columns].mean(axis=1) < 90) == dark).all()


def test_the_bar_scales_all(it, taken):
    """A bar of 198 mm makes everything 1 % smaller than one of 200 mm."""
    spans = []
    for bar in (198.0, 200.0):
        _, at = sheet_middles(flatten(taken[:1], bar_mm=bar))
        spans.append(np.hypot(*(at[0] - at[-1])))
    assert spans[0] / spans[1] == pytest.approx(0.99, abs=1e-9)


def test_wrong_photos_are_told(it, taken):
    """No sheet, mirrored, a bar that cannot be, no photo: each a sentence."""
    first = taken[0]
    mirrored = replace(first, pixels=np.ascontiguousarray(first.pixels[:, ::-1]))
    blank = replace(first, pixels=np.full_like(first.pixels, 128))
    with pytest.raises(BadInput, match="mirrored"):
        flatten([mirrored])
    with pytest.raises(BadInput, match="no marker sheet is seen"):
        flatten([blank])
    with pytest.raises(BadInput, match="far from the 200 mm"):
        flatten([first], bar_mm=20.0)
    with pytest.raises(BadInput, match="0 photos"):
        flatten([])


def test_the_same_sheet_twice_is_told(it):
    """Two prints of sheet one on the table would be taken for one."""
    twice = tuple(replace(s, sheet=0) for s in it.scene.sheets)
    with pytest.raises(BadInput, match="sheet one is seen 4 times"):
        flatten(photos(replace(it, scene=replace(it.scene, sheets=twice), shots=it.shots[:1])))


def test_photos_without_a_common_sheet_are_told(it):
    """Two photos, each of other sheets: nothing ties them together."""
    left, right = (
        replace(it.scene, sheets=tuple(s for s in it.scene.sheets if s.sheet % 2 == k))
        for k in (0, 1)
    )
    first, second = (
        photos(replace(it, scene=scene, shots=it.shots[:1]))[0] for scene in (left, right)
    )
    with pytest.raises(BadInput, match="no marker sheet in it is also seen"):
        flatten([first, replace(second, name="second.jpg")])


def test_doubts_about_photos_are_told(it):
    """Blurred; one sheet only; a sheet that was moved between two photos."""
    one = replace(it.scene, sheets=it.scene.sheets[:1])
    blurred = photos(replace(it, shots=(replace(it.shots[0], blur_px=3.0),)))
    assert any("blurred" in d for d in flatten(blurred).doubts)
    alone = flatten(photos(replace(it, scene=one, shots=it.shots[:1])))
    assert any("only one marker sheet" in d for d in alone.doubts)
    moved = tuple(
        replace(s, at=(s.at[0] + 6.0, s.at[1])) if s.sheet == 3 else s for s in it.scene.sheets
    )
    second = photos(replace(it, scene=replace(it.scene, sheets=moved), shots=it.shots[1:2]))
    both = [*photos(replace(it, shots=it.shots[:1])), *second]
    assert any("moved" in d or "did not agree" in d for d in flatten(both).doubts)


def test_far_from_the_only_sheet_the_error_grows(it):
    """The stated error beside one sheet is smaller than half a metre away from it."""
    one = replace(it.scene, sheets=it.scene.sheets[:1])
    flat = flatten(photos(replace(it, scene=one, shots=it.shots[:1])))
    box = next(iter(flat.sheets.values()))
    assert flat.error_over(np.vstack([box, box + 500.0])) > 2 * flat.error_over(box)


def test_a_long_table_in_overlapping_photos():
    """1.2 m: eight sheets in two photos that share some; the places within 1 mm."""
    base = trial(2, long=True, size=SIZE)
    shots = (base.shots[0], base.shots[2], base.shots[3])
    flat = flatten(photos(replace(base, shots=shots)), bar_mm=base.bar_mm)
    assert len(flat.sheets) == 8
    assert off_truth(flat, base.scene.sheets) < 1.0


def test_the_simulated_camera_is_true():
    """The simulator's own straight-down camera sees a marker in its true size."""
    scene = replace(trial(1, size=SIZE).scene, sheets=(Laid(sheet=0, at=(0.0, 0.0)),))
    shot = Shot(size=SIZE, height=800.0, tilt_deg=0.0, k1=0.0, k2=0.0, focal=0.8, noise=0.0)
    flat = flatten(
        [Photo(pixels=look(draw_table(scene), shot), focal_px=0.8 * 1600, name="a")],
        bar_mm=200.0,
    )
    lens, pose = flat.solved.lenses[0], flat.solved.poses[0]
    scale = np.hypot(*(np.diff(seen_at(lens, pose, np.array([[0.0, 0.0], [48.0, 0.0]])), axis=0)).T)
    assert scale[0] == pytest.approx(48.0 / 800.0 * 1280.0 / scene.print_scale**-1, rel=0.004)
