"""How far a found outline lies from the true one, after the best shift and turn, no scaling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.photo.outline import Outlined

STEP_MM = 0.25
DOUBT_MM = 15.0


@dataclass(frozen=True, kw_only=True)
class Off:
    """rms and worst, mm, over the whole outline; clear: worst away from doubtful places."""

    rms: float
    worst: float
    clear: float
    worst_at: tuple[float, float]


def doubted(found: Outlined) -> list[Vec]:
    """Places of doubts at which something was seen; not the corners that are asked about unseen."""
    return [p for d in found.doubts if d.code != "corner" for p in d.places]


def dense(path: Path) -> np.ndarray:
    """Points every quarter of a mm."""
    points = np.array(path.flatten(0.01))
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    at = np.arange(0.0, along[-1], STEP_MM)
    return np.stack([np.interp(at, along, points[:, k]) for k in (0, 1)], axis=1)


def off(found: Path, true: Path, doubts: Sequence[Vec] = ()) -> Off:
    """Compare both ways: every point of each with the nearest of the other."""
    here, there = dense(found), dense(true)
    moved = _fitted(here, there)
    to_true, to_found = cKDTree(there).query(moved)[0], cKDTree(moved).query(there)
    doubtful = np.zeros(len(here), dtype=bool)
    for at in doubts:
        doubtful |= np.hypot(here[:, 0] - at.x, here[:, 1] - at.y) < DOUBT_MM
    clear = np.concatenate([to_true[~doubtful], to_found[0][~doubtful[to_found[1]]], [0.0]])
    worst = max(float(to_true.max()), float(to_found[0].max()))
    spot = here[int(to_true.argmax())]
    both = np.concatenate([to_true, to_found[0]])
    return Off(
        rms=float(np.sqrt((both**2).mean())),
        worst=worst,
        clear=float(clear.max()),
        worst_at=(float(spot[0]), float(spot[1])),
    )


def _fitted(here: np.ndarray, there: np.ndarray) -> np.ndarray:
    """Closest points, again and again, from the best of 36 turns."""
    tree = cKDTree(there)
    middle = here.mean(axis=0)
    starts = []
    for turn in np.radians(np.arange(0, 360, 10)):
        c, s = np.cos(turn), np.sin(turn)
        moved = (here - middle) @ np.array([[c, s], [-s, c]]) + there.mean(axis=0)
        starts.append((tree.query(moved[::40])[0].mean(), moved))
    moved = min(starts, key=lambda pair: pair[0])[1]
    for _ in range(80):
        part = moved[::8]
        near = there[tree.query(part)[1]]
        u, _, v = np.linalg.svd((part - part.mean(axis=0)).T @ (near - near.mean(axis=0)))
        turn = u @ np.diag([1.0, np.sign(np.linalg.det(u @ v))]) @ v
        moved = (moved - part.mean(axis=0)) @ turn + near.mean(axis=0)
    return moved
