"""Printed cloths drawn by ourselves, seeded, and photographed: the truth is known. Demo data."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from clothwright.photo.read import Photo


@dataclass(frozen=True, kw_only=True)
class Design:
    """A cloth, mm. kind: border, stripes, check, figures, drop, mirrored, plain."""

    kind: str
    along: float = 0.0
    across: float = 0.0
    base: float = 0.0
    height: float = 0.0
    side: str = "lower"


@dataclass(frozen=True, kw_only=True)
class Shot:
    """A photo, the corners of the part measured on the cloth, and its size in mm."""

    photo: Photo
    corners: tuple[tuple[float, float], ...]
    width: float
    height: float


def cloth(design: Design, width: float, height: float, scale: float, seed: int) -> np.ndarray:
    """Return a picture of a cloth from straight above, scale px a mm, the lower selvedge below."""
    rng = np.random.default_rng(seed)
    w, h = round(width * scale), round(height * scale)
    x = (np.arange(w) + 0.5)[None, :] / scale
    y = (h - np.arange(h) - 0.5)[:, None] / scale
    ground = np.array(rng.uniform(110, 220, 3))
    ink = np.clip(ground + rng.choice([-1, 1]) * rng.uniform(50, 90, 3), 10, 250)
    cover = np.broadcast_to(_cover(design, x, y, height, rng), (h, w))
    image = ground[None, None, :] * (1 - cover[:, :, None]) + ink[None, None, :] * cover[:, :, None]
    weave = 1.0 + 0.02 * np.sin(2 * np.pi * x / 0.9) * np.sin(2 * np.pi * y / 0.9)
    image *= weave[:, :, None]
    return np.clip(image, 0, 255).astype(np.uint8)


def _soft(distance: np.ndarray, soft: float = 0.4) -> np.ndarray:
    return 1.0 / (1.0 + np.exp(np.clip(-distance / soft, -40, 40)))


def _cover(design: Design, x: np.ndarray, y: np.ndarray, height: float, rng) -> np.ndarray:
    if design.kind == "plain":
        return np.zeros((1, 1))
    if design.kind == "border":
        above = y - design.base if design.side == "lower" else height - y - design.base
        band = _soft(above) * _soft(design.height - above)
        return band * (0.55 + 0.45 * _motif(x, above - design.height / 2, design.along, rng))
    if design.kind == "stripes":
        return _soft(design.across * 0.2 - np.abs(_mod(y, design.across))) * np.ones_like(x)
    if design.kind == "check":
        a = _soft(design.along * 0.15 - np.abs(_mod(x, design.along)))
        b = _soft(design.across * 0.15 - np.abs(_mod(y, design.across)))
        return np.clip(0.6 * a + 0.6 * b, 0, 1)
    radius = 0.28 * min(design.along, design.across)
    shift = 0.0
    if design.kind == "drop":
        shift = design.across / 2 * (np.floor(x / design.along + 0.5) % 2)
    u, v = _mod(x, design.along), _mod(y + shift, design.across)
    lean = 0.0 if design.kind == "mirrored" else 0.6
    inside = radius - np.sqrt((u + lean * v) ** 2 + (1.3 * v) ** 2)
    spot = _soft(radius * 0.4 - np.sqrt((u - lean * radius) ** 2 + (v - 0.8 * radius) ** 2))
    return np.clip(_soft(inside) + 0.7 * spot, 0, 1)


def _mod(value: np.ndarray, step: float) -> np.ndarray:
    return (value / step - np.floor(value / step + 0.5)) * step


def _motif(x: np.ndarray, v: np.ndarray, along: float, rng) -> np.ndarray:
    u = _mod(x, along)
    leaf = _soft(along * 0.3 - np.sqrt(u**2 + (0.8 * v) ** 2))
    dot = _soft(along * 0.1 - np.sqrt((u - along * 0.35) ** 2 + (v - along * 0.2) ** 2))
    return np.clip(leaf + dot, 0, 1)


def photographed(design: Design, seed: int, *, tilt: float = 1.0, pixels: int = 1800) -> Shot:
    """Return a photo of a cloth: in perspective, unevenly lit, a little unsharp, noisy."""
    rng = np.random.default_rng(seed + 1000)
    width, height = rng.uniform(430, 620), rng.uniform(330, 460)
    scale = pixels / width / 1.25
    flat = cloth(design, width, height, scale, seed)
    h, w = flat.shape[:2]
    room = 0.12 * np.array([w, h])
    source = np.array([(0, h), (w, h), (w, 0), (0, 0)], dtype=np.float32) - 0.5
    size = (round(w + 2 * room[0]), round(h + 2 * room[1]))
    shake = rng.uniform(-0.06, 0.06, (4, 2)) * tilt * np.array([w, h])
    target = (source + room + shake).astype(np.float32)
    matrix = cv2.getPerspectiveTransform(source, target)
    photo = cv2.warpPerspective(flat, matrix, size, borderValue=(96, 84, 70))
    gy, gx = np.mgrid[0 : size[1], 0 : size[0]] / max(size)
    lean = rng.uniform(-0.35, 0.35, 2)
    light = 1.0 + lean[0] * (gx - 0.5) + lean[1] * (gy - 0.4)
    photo = photo * light[:, :, None]
    photo = cv2.GaussianBlur(photo, (0, 0), rng.uniform(0.6, 1.2))
    photo = photo + rng.normal(0, 4, photo.shape)
    pixels_ = np.clip(photo, 0, 255).astype(np.uint8)
    corners = tuple((float(p[0]), float(p[1])) for p in target)
    return Shot(
        photo=Photo(pixels=pixels_, focal_px=None, name="cloth.jpg"),
        corners=corners,
        width=float(width),
        height=float(height),
    )


def designs(count: int) -> list[tuple[int, Design]]:
    """Return designs of every kind with known figures, the same every time."""
    rng = np.random.default_rng(7)
    kinds = ("border", "stripes", "check", "figures", "mirrored", "drop")
    out = []
    for k in range(count):
        kind = kinds[k % len(kinds)]
        out.append(
            (
                k,
                Design(
                    kind=kind,
                    along=float(rng.uniform(28, 90)),
                    across=float(rng.uniform(24, 80)),
                    base=float(rng.uniform(15, 45)),
                    height=float(rng.uniform(40, 100)),
                    side="lower" if k % 4 else "upper",
                ),
            )
        )
    return out
