"""Scenes for tests and bench, drawn from a seed: which piece, how the sheets lie, which photos."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.photo.read import Photo
from clothwright.workbook import replay
from tests.photo.simulator import Laid, Scene, Shot, draw_table, look

PIECES = ("coat front", "coat back", "coat sleeve", "skirt front", "lining front", "lining back")


@dataclass(frozen=True, kw_only=True)
class Trial:
    """A scene, its photos' cameras, and what the maker says of the bar (200 mm when true)."""

    scene: Scene
    shots: tuple[Shot, ...]
    bar_mm: float
    words: str


@cache
def piece_outline(name: str) -> Path:
    """Return the cutting line of a demo piece as one closed path about (0, 0)."""
    piece = replay(coat_and_skirt()).pattern.piece(name)
    path = join_all(tuple(e.path for e in cutting_line(piece).edges))
    low, high = path.bounds()
    return path.transformed(translation(low.lerp(high, 0.5) * -1.0))


def trial(seed: int, *, long: bool = False, size: tuple[int, int] = (4000, 3000)) -> Trial:
    """Return a random trial: a piece of about 600 mm, or one of 1.2 m with overlapping photos."""
    rng = np.random.default_rng(1000 + seed)
    name = str(rng.choice(PIECES)) if not long else "skirt front"
    path = piece_outline(name)
    if long:
        path = path.transformed(Transform(1.25, 0, 0, 1.92))
    path = path.transformed(rotation_deg(90.0 + rng.uniform(-6, 6)))
    low, high = path.bounds()
    wide, tall = high.x - low.x, high.y - low.y
    scale = 1.0 + rng.normal(0, 0.003)
    scene = Scene(
        outline=path,
        inner=_inner(path, rng),
        second=_second(path, rng) if rng.random() < 0.25 else (),
        words=(("DEMO DATA", low.x + 0.45 * wide, 12.0, 9.0), ("cut 2", -30.0, -22.0, 6.0)),
        sheets=_sheets(rng, wide, tall, long=long),
        half=(wide / 2 + 330.0, tall / 2 + 330.0),
        print_scale=scale,
        paper="tissue" if rng.random() < 0.4 else "white",
        pen_mm=0.0 if rng.random() < 0.15 else float(rng.uniform(0.6, 1.2)),
        pen_grey=float(rng.uniform(45, 95)),
        seed=seed,
    )
    lens = Shot(
        size=size,
        focal=float(rng.uniform(0.66, 0.8)),
        k1=float(rng.uniform(-0.03, 0.07)),
        k2=float(rng.uniform(-0.04, 0.02)),
        centre_off=(float(rng.normal(0, 0.002)), float(rng.normal(0, 0.002))),
        blur_px=float(rng.uniform(0.6, 1.1)) * max(size) / 4000,
        noise=float(rng.uniform(2.0, 5.0)),
        fall_off=float(rng.uniform(0.1, 0.4)),
        shadow=float(rng.uniform(0.0, 0.3)),
    )
    bar = round((200.0 * scale + rng.normal(0, 0.12)) * 4) / 4
    words = f"{name}, {scene.paper}, " + (f"pen {scene.pen_mm:.1f}" if scene.pen_mm else "cut edge")
    return Trial(
        scene=scene, shots=_shots(rng, lens, wide, tall, long=long), bar_mm=bar, words=words
    )


def _inner(path: Path, rng: np.random.Generator) -> tuple[Path, ...]:
    """A grain line with an arrow head."""
    low, high = path.bounds()
    x0, x1 = low.x + 0.2 * (high.x - low.x), low.x + 0.75 * (high.x - low.x)
    y = float(rng.uniform(-0.1, 0.05)) * (high.y - low.y)
    head = polyline([(x1 - 8, y + 4), (x1, y), (x1 - 8, y - 4)])
    return (polyline([(x0, y), (x1, y)]), head)


def _second(path: Path, rng: np.random.Generator) -> tuple[Path, ...]:
    """A part of a larger size's line, 6 to 10 mm outside."""
    at = float(rng.uniform(0, path.length * 0.6))
    part = path.between(at, at + 220.0)
    points = []
    for k in range(45):
        p, t = part.point_at(k * 5.0), part.tangent_at(k * 5.0)
        points.append(p + Vec(t.y, -t.x) * (6.0 + k * 0.08))
    return (polyline(points),)


def _sheets(rng: np.random.Generator, wide: float, tall: float, *, long: bool) -> tuple[Laid, ...]:
    """Sheets along both long sides of a piece that lies across, dropped not quite straight."""
    across = [-0.28, 0.28] if not long else [-0.39, -0.13, 0.13, 0.39]
    laid = []
    for side in (1, -1):
        for share in across:
            turn = 90.0 + float(rng.normal(0, 5)) + (180.0 if rng.random() < 0.3 else 0.0)
            y = side * (tall / 2 + 150.0 + abs(rng.normal(0, 5)))
            at = (share * max(wide, 620.0) + float(rng.normal(0, 10)), float(y))
            laid.append(Laid(sheet=len(laid), at=at, turn_deg=turn))
    return tuple(laid)


def _shots(
    rng: np.random.Generator, lens: Shot, wide: float, tall: float, *, long: bool
) -> tuple[Shot, ...]:
    """One to four photos of the whole for a small piece, four or five along a long one."""
    field = 1.0 / lens.focal
    shots = []
    if not long:
        need = max((wide + 190) / field, (tall + 640) / (field * 0.75))
        return tuple(
            replace(
                lens,
                over=(float(rng.normal(0, 20)), float(rng.normal(0, 20))),
                height=float(need * rng.uniform(1.05, 1.2)),
                tilt_deg=float(rng.uniform(4, 20)),
                tilt_to_deg=float(rng.uniform(0, 360)),
                roll_deg=float(rng.normal(0, 4)),
                seed=100 + k,
            )
            for k in range(int(rng.integers(1, 5)))
        )
    near = (tall + 640) / (field * 0.75) * 1.08
    for k, share in enumerate((-0.3, 0.0, 0.3)):
        shots.append(
            replace(
                lens,
                over=(share * wide, float(rng.normal(0, 15))),
                height=float(near * rng.uniform(1.0, 1.1)),
                tilt_deg=float(rng.uniform(4, 14)),
                tilt_to_deg=float(rng.uniform(0, 360)),
                roll_deg=float(rng.normal(0, 3)),
                seed=200 + k,
            )
        )
    high = (wide + 240) / field * 1.08
    shots.append(replace(lens, height=float(high), tilt_deg=15.0, tilt_to_deg=80.0, seed=300))
    return tuple(shots)


def photos(it: Trial) -> tuple[Photo, ...]:
    """Return the trial's photos."""
    table = draw_table(it.scene)
    return tuple(
        Photo(pixels=look(table, shot), focal_px=None, name=f"photo {k}.jpg")
        for k, shot in enumerate(it.shots, start=1)
    )


def longest_side(path: Path) -> float:
    """Return the diagonal of the box that holds a path, mm."""
    low, high = path.bounds()
    return math.hypot(high.x - low.x, high.y - low.y)
