"""Solve the lens, where each photo was taken and how each sheet lies, all together.

Unknown are the lens (focal length, middle, k1, p1, p2, and k2 from three photos up), a pose a photo
and a place on the table for every sheet but the first; the corners of all markers, seen in pixels,
are to be met as well as can be (bundle adjustment: B. Triggs et al., Bundle adjustment: a modern
synthesis, 2000). What is known beforehand of any camera goes in as one more measurement each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.errors import BadInput
from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.extra import library
from clothwright.photo.lens import Lens, Pose, on_table, seen_at, turn_of
from clothwright.photo.markers import MarkerSeen
from clothwright.photo.read import Photo
from clothwright.photo.sheet import marker_corners, sheet_words
from clothwright.words import listed

Places = NDArray[np.intp]

USUAL_FOCAL = 0.75
"""Focal length of a phone's main camera as a part of the long side, when the photo tells none."""
FOCAL_SD, TOLD_FOCAL_SD = 0.25, 0.06
"""How sure that is (logarithm), and how sure what a photo tells is (cropping, stabilising)."""
K1_SD, K2_SD, MIDDLE_SD, P_SD = 0.1, 0.06, 0.003, 0.0015
"""k1, k2, p1 and p2 of cameras are about so large (from memory); the middle is off by such a part
of the long side."""
LENS_NUMBERS = 7
CORNER_PX = 0.3
"""Pixels: a corner's place in a good photo is known about so well."""
BAD_PX, BAD_TIMES = 2.0, 4.0
K2_PHOTOS = 3
ROUNDS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """What was solved.

    lenses, poses: a photo each. sheets: number -> (x, y, turn in radians) of the sheet's lower
    left on the table, mm as printed (not yet scaled by the bar). rms_px: of the corners kept.
    dropped: markers left out. sheet_px: residual of each sheet, pixels. drifts: other
    solutions as likely, as (lenses, poses), from which the error is told.
    """

    lenses: tuple[Lens, ...]
    poses: tuple[Pose, ...]
    sheets: dict[int, tuple[float, float, float]]
    rms_px: float
    dropped: int
    sheet_px: dict[int, float]
    drifts: tuple[tuple[tuple[Lens, ...], tuple[Pose, ...]], ...]


@dataclass(frozen=True, slots=True)
class _Views:
    """All corners seen: photo, sheet, marker of each, its place on the sheet, its pixel."""

    photo: Places
    sheet: Places
    marker: Places
    local: Numbers
    pixel: Numbers

    def kept(self, which: Mask) -> _Views:
        return _Views(
            self.photo[which],
            self.sheet[which],
            self.marker[which],
            self.local[which],
            self.pixel[which],
        )


class _Start(NamedTuple):
    focal: float
    focal_sd: float
    side: float
    middle: tuple[float, float]


@dataclass(slots=True)
class _Guess:
    """The unknowns in their own shapes.

    lens: (log of focal over side, k1, k2, middle's shift, p1, p2).
    """

    lens: Numbers
    poses: dict[int, Numbers]
    sheets: dict[int, Numbers]


def solve(photos: Sequence[Photo], seen: Sequence[Sequence[MarkerSeen]]) -> Bundle:
    """Return the bundle of photos and the markers seen in each.

    Raises BadInput when the photos are not tied together by sheets that two of them show.
    """
    views = _views(seen)
    starts = tuple(_start(p) for p in photos)
    order = _order(photos, seen)
    guess = _first_guess(views, order, starts)
    for photo in order:
        _place(guess, views, photo, starts)
        now = views.kept(np.isin(views.photo, list(guess.poses)))
        guess = _solved(guess, now, starts, k2=False)[0]
    marker_of = views.photo * 10_000 + views.marker
    keep = np.ones(len(views.photo), dtype=bool)
    k2 = len(photos) >= K2_PHOTOS
    guess, jacobian = _solved(guess, views, starts, k2=k2)
    for _ in range(ROUNDS):
        off = np.hypot(*_misses(guess, views, starts).T)
        bad = (off > BAD_PX) & (off > BAD_TIMES * float(np.median(off[keep])))
        still = ~np.isin(marker_of, marker_of[bad])
        if bool((still == keep).all()):
            break
        _check_enough(views, still, [p.name for p in photos])
        keep = still
        guess, jacobian = _solved(guess, views.kept(keep), starts, k2=k2)
    return _bundle(guess, jacobian, views, keep, starts)


def _check_enough(views: _Views, keep: Mask, names: Sequence[str]) -> None:
    """Raise BadInput, naming it, when a photo or a sheet is left without a marker."""
    for group in (views.photo, views.sheet):
        for one in np.unique(group).tolist():
            if not keep[group == one].any():
                raise BadInput(
                    where=names[one] if group is views.photo else f"sheet {sheet_names([one])}",
                    what="the sheets and photos do not agree with each other",
                    expected="flat sheets that lie still while all photos are taken",
                    try_="taking the photos again",
                )


def _views(seen: Sequence[Sequence[MarkerSeen]]) -> _Views:
    rows = []
    for photo, markers in enumerate(seen):
        for marker in markers:
            known = marker_corners(marker.number)
            if known is None:
                continue
            for at, pixel in zip(known.at, marker.corners, strict=True):
                rows.append((photo, known.sheet, marker.number, *at, *pixel))
    table = np.array(rows, dtype=np.float64)
    which = table[:, :3].astype(np.intp)
    return _Views(which[:, 0], which[:, 1], which[:, 2], table[:, 3:5], table[:, 5:7])


def _start(photo: Photo) -> _Start:
    side = float(max(photo.width, photo.height))
    middle = ((photo.width - 1) / 2, (photo.height - 1) / 2)
    if photo.focal_px:
        return _Start(photo.focal_px, TOLD_FOCAL_SD, side, middle)
    return _Start(USUAL_FOCAL * side, FOCAL_SD, side, middle)


def _order(photos: Sequence[Photo], seen: Sequence[Sequence[MarkerSeen]]) -> list[int]:
    """Return the photos in the order they are tied on; the one with most markers first."""
    shows = [{m.sheet for m in markers} for markers in seen]
    counts = [len(markers) for markers in seen]
    order = [max(range(len(photos)), key=lambda k: counts[k])]
    known = set(shows[order[0]])
    while len(order) < len(photos):
        rest = [k for k in range(len(photos)) if k not in order]
        tied = [k for k in rest if shows[k] & known]
        if not tied:
            names = " and ".join(photos[k].name for k in rest)
            raise BadInput(
                where=names,
                what="no marker sheet in it is also seen in the other photos",
                expected="photos that overlap: at least one sheet in common, better two",
                try_="one more photo from higher up that shows all sheets",
            )
        best = max(tied, key=lambda k: sum(m.sheet in known for m in seen[k]))
        order.append(best)
        known |= shows[best]
    return order


def _first_guess(views: _Views, order: Sequence[int], starts: Sequence[_Start]) -> _Guess:
    """The sheet with most markers in the first photo lies at (0, 0)."""
    mine = views.sheet[views.photo == order[0]]
    root = int(np.bincount(mine).argmax())
    start = starts[order[0]]
    lens = np.array([np.log(start.focal / start.side), *[0.0] * (LENS_NUMBERS - 1)])
    return _Guess(lens, {}, {root: np.zeros(3)})


def _place(guess: _Guess, views: _Views, photo: int, starts: Sequence[_Start]) -> None:
    """Give a photo its pose from the sheets whose place is known, then place its other sheets."""
    cv2 = library("cv2")
    here = views.photo == photo
    known = here & np.isin(views.sheet, list(guess.sheets))
    table = _on_table(guess, views.kept(known))
    lens = _lens(guess.lens, starts[photo])
    flat = np.concatenate([table, np.zeros((len(table), 1))], axis=1)
    camera = np.array(
        [[lens.focal, 0, lens.middle[0]], [0, lens.focal, lens.middle[1]], [0, 0, 1.0]]
    )
    bending = np.array([lens.k1, lens.k2, lens.p1, lens.p2])
    _, turn, shift = cv2.solvePnP(
        flat, views.pixel[known], camera, bending, flags=cv2.SOLVEPNP_IPPE
    )
    guess.poses[photo] = np.concatenate([turn.ravel(), shift.ravel()])
    pose = _pose(guess.poses[photo])
    for sheet in np.unique(views.sheet[here & ~known]):
        mine = here & (views.sheet == sheet)
        spots = on_table(lens, pose, views.pixel[mine])
        good = ~np.isnan(spots).any(axis=1)
        if good.sum() >= 4:
            guess.sheets[int(sheet)] = laid_onto(views.local[mine][good], spots[good])


def laid_onto(here: Numbers, there: Numbers) -> Numbers:
    """Return the (x, y, turn in radians) that brings points (n, 2) nearest to others."""
    a, b = here.mean(axis=0), there.mean(axis=0)
    p, q = here - a, there - b
    turn = np.arctan2((p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]).sum(), (p * q).sum())
    return np.array([*(b - laid(a, np.array([0.0, 0.0, turn]))), turn])


def laid(points: Numbers, at: Numbers) -> Numbers:
    """Return points (..., 2) turned and shifted. at: (..., 3): x, y, turn in radians."""
    cos, sin = np.cos(at[..., 2]), np.sin(at[..., 2])
    x, y = points[..., 0], points[..., 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y], axis=-1) + at[..., :2]


def _lens(numbers: Numbers, start: _Start) -> Lens:
    focal = float(np.exp(numbers[0])) * start.side
    middle = (
        start.middle[0] + float(numbers[3]) * start.side,
        start.middle[1] + float(numbers[4]) * start.side,
    )
    return Lens(focal, float(numbers[1]), float(numbers[2]), middle, *map(float, numbers[5:7]))


def _pose(numbers: Numbers) -> Pose:
    return Pose(turn_of(numbers[:3]), numbers[3:])


def _on_table(guess: _Guess, views: _Views) -> Numbers:
    spots = np.array([guess.sheets[int(s)] for s in views.sheet])
    return laid(views.local, spots)


def _misses(guess: _Guess, views: _Views, starts: Sequence[_Start]) -> Numbers:
    """Pixels (n, 2) from where corners should be seen to where they are."""
    table = _on_table(guess, views)
    out = np.zeros_like(table)
    for photo in np.unique(views.photo):
        mine = views.photo == photo
        lens = _lens(guess.lens, starts[photo])
        out[mine] = seen_at(lens, _pose(guess.poses[int(photo)]), table[mine]) - views.pixel[mine]
    return np.asarray(np.nan_to_num(out, nan=1e4), dtype=np.float64)


def _solved(
    guess: _Guess, views: _Views, starts: Sequence[_Start], *, k2: bool
) -> tuple[_Guess, Any]:
    """Return the best unknowns, and how the weighed misses depend on them there."""
    optimize = library("scipy.optimize")
    pack = _Pack(guess)
    told = [s for s in starts if s.focal_sd == TOLD_FOCAL_SD] or list(starts)
    wanted = float(np.mean([np.log(s.focal / s.side) for s in told]))
    known = (told[0].focal_sd, K1_SD, K2_SD if k2 else 1e-6, MIDDLE_SD, MIDDLE_SD, P_SD, P_SD)
    spread = np.array(known)
    prior = np.array([wanted, *[0.0] * (LENS_NUMBERS - 1)])

    def weighed(x: Numbers) -> Numbers:
        now = pack.opened(x)
        off = _misses(now, views, starts).ravel() / CORNER_PX
        return np.concatenate([off, (now.lens - prior) / spread])

    scale = pack.scales()
    found = optimize.least_squares(
        lambda y: weighed(y * scale),
        pack.closed(guess) / scale,
        loss="soft_l1",
        f_scale=4.0,
        max_nfev=40,
        xtol=1e-9,
        ftol=1e-7,
    )
    return pack.opened(found.x * scale), (found.jac / scale, pack)


class _Pack:
    """The unknowns as one list of numbers, the root sheet left out."""

    def __init__(self, guess: _Guess) -> None:
        self.photos = sorted(guess.poses)
        self.sheets = list(guess.sheets)
        self.root = self.sheets.pop(0)

    def closed(self, guess: _Guess) -> Numbers:
        parts = [guess.lens, *(guess.poses[p] for p in self.photos)]
        return np.concatenate([*parts, *(guess.sheets[s] for s in self.sheets)])

    def scales(self) -> Numbers:
        pose, sheet = [1e-3, 1e-3, 1e-3, 1.0, 1.0, 1.0], [1.0, 1.0, 1e-2]
        lens = [1e-2, 1e-2, 1e-2, 1e-3, 1e-3, 1e-3, 1e-3]
        return np.array(lens + pose * len(self.photos) + sheet * len(self.sheets))

    def opened(self, x: Numbers) -> _Guess:
        poses, at = {}, LENS_NUMBERS
        for photo in self.photos:
            poses[photo] = x[at : at + 6]
            at += 6
        sheets = {self.root: np.zeros(3)}
        for sheet in self.sheets:
            sheets[sheet] = x[at : at + 3]
            at += 3
        return _Guess(x[:LENS_NUMBERS], poses, sheets)


DRIFTS = 60


def _bundle(
    guess: _Guess,
    jacobian: tuple[Numbers, _Pack],
    views: _Views,
    keep: Mask,
    starts: Sequence[_Start],
) -> Bundle:
    off = _misses(guess, views, starts)
    size = (off**2).sum(axis=1)
    rms = float(np.sqrt(size[keep].mean()))
    photos = sorted(guess.poses)
    drifts = []
    for drifted in _drifted(guess, jacobian, rms):
        lenses = tuple(_lens(drifted.lens, starts[p]) for p in photos)
        drifts.append((lenses, tuple(_pose(drifted.poses[p]) for p in photos)))
    by_sheet = {int(s): float(np.sqrt(size[views.sheet == s].mean())) for s in guess.sheets}
    return Bundle(
        lenses=tuple(_lens(guess.lens, starts[p]) for p in photos),
        poses=tuple(_pose(guess.poses[p]) for p in photos),
        sheets={s: (float(v[0]), float(v[1]), float(v[2])) for s, v in guess.sheets.items()},
        rms_px=rms,
        dropped=len(np.unique((views.photo * 10_000 + views.marker)[~keep])),
        sheet_px=by_sheet,
        drifts=tuple(drifts),
    )


def _drifted(guess: _Guess, jacobian: tuple[Numbers, _Pack], rms: float) -> list[_Guess]:
    """Return other solutions as likely as the measured misses make them, drawn at random.

    The misses of one photo's corners go together (blur, light), so they count for more than
    their number says.
    """
    slopes, pack = jacobian
    sigma = max(rms / np.sqrt(2.0), 0.08) / CORNER_PX * TOGETHER
    scale = pack.scales()
    lead = len(slopes) - LENS_NUMBERS
    weighed = np.concatenate([slopes[:lead] / sigma, slopes[lead:]]) * scale
    values, vectors = np.linalg.eigh(weighed.T @ weighed)
    root = vectors / np.sqrt(np.maximum(values, 1e-12 * float(values.max())))
    rng = np.random.default_rng(20)
    x = pack.closed(guess)
    return [pack.opened(x + scale * (root @ rng.standard_normal(len(x)))) for _ in range(DRIFTS)]


TOGETHER = 1.6


def sheet_names(sheets: Sequence[int]) -> str:
    """Return sheets by their numbers in words: "one, two and five"."""
    return listed([sheet_words(s) for s in sorted(sheets)])
