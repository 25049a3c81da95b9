"""Photos of one paper piece as files, as a page or a command gets them (simulated, demo data)."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache

from PIL import Image

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec
from tests.photo.scenes import Trial, trial
from tests.photo.simulator import draw_table, look

SIZE = (1600, 1200)
PRINTED = 0.99
"""The printer made all 1 % too small, so the bar is 198 mm long."""
BAR = "198 mm"


@cache
def front() -> Trial:
    """A coat front on white paper: a gap in its line, lettering across it, seen three times."""
    base = trial(7, size=SIZE)
    path = base.scene.outline
    gap, letters = path.point_at(path.length * 0.45), path.point_at(path.length * 0.1)
    scene = replace(
        base.scene,
        second=(),
        pen_mm=0.9,
        print_scale=PRINTED,
        gap_at=(gap.x, gap.y),
        words=(("DEMO", letters.x - 12.0, letters.y - 2.0, 7.0),),
    )
    shot = base.shots[0]
    shots = (
        shot,
        replace(shot, tilt_deg=9.0, tilt_to_deg=shot.tilt_to_deg + 120.0, seed=7),
        replace(shot, tilt_deg=14.0, tilt_to_deg=shot.tilt_to_deg + 230.0, seed=8),
    )
    return replace(base, scene=scene, shots=shots, bar_mm=200.0 * PRINTED)


@cache
def jpegs() -> tuple[bytes, ...]:
    """Return the photos as JPEG files."""
    it = front()
    table = draw_table(it.scene)
    return tuple(_jpeg(look(table, shot)) for shot in it.shots)


@cache
def without_sheets() -> bytes:
    """Return a photo of the same piece without any marker sheet."""
    it = front()
    return _jpeg(look(draw_table(replace(it.scene, sheets=())), it.shots[0]))


@cache
def of_another_table() -> bytes:
    """Return a photo with the same sheets lying otherwise, as if all had been moved."""
    it = trial(9, size=SIZE)
    return _jpeg(look(draw_table(it.scene), it.shots[0]))


POCKET = (120.0, 150.0)
"""mm: width and height of the pocket below."""


@cache
def with_a_pocket() -> bytes:
    """Return a photo of the front with a pocket drawn on it, round the middle of the table."""
    it = front()
    x, y = POCKET[0] / 2, POCKET[1] / 2
    pocket = polyline([(-x, -y), (x, -y), (x, y), (-x, y), (-x, -y)])
    scene = replace(it.scene, inner=(pocket,), words=(), gap_at=None)
    return _jpeg(look(draw_table(scene), it.shots[0]))


def _jpeg(pixels: object) -> bytes:
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "JPEG", quality=92)  # type: ignore[arg-type]
    return out.getvalue()


def truth() -> Path:
    """Return the true outline, mm."""
    return front().scene.outline


def letters_at() -> Vec:
    """Return where lettering crosses the true outline."""
    return truth().point_at(truth().length * 0.1)
