"""Paper pieces found in simulated photos beside marker sheets (seeded; the truth is known)."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from clothwright.cli.app import run
from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.photo.flatten import Flat, flatten
from clothwright.photo.outline import Outlined, find_outline
from clothwright.photo.photographed import corrected, photographed
from clothwright.photo.read import Photo, read_photo
from clothwright.store import create, load
from clothwright.workbook import Workbook
from clothwright.workroom.pieces.adding import pieces_of
from tests.intake.mutations import damaged, outcomes
from tests.photo.measure import doubted, off
from tests.photo.scenes import Trial, photos, trial

SMALL = (2400, 1800)
"""Photos of 4 MP: half the pixels each way of what the bench takes."""
SEEDS = (0, 1, 3, 4)


@cache
def scene(seed: int) -> tuple[Trial, tuple[Photo, ...], Flat, Outlined]:
    """Return a scene, its photos, and what was made of them."""
    it = trial(seed, size=SMALL)
    taken = tuple(photos(it))
    flat = flatten(taken, bar_mm=it.bar_mm)
    return it, taken, flat, find_outline(flat)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_outline_is_found(seed: int) -> None:
    """Within 1 mm RMS over 600 mm, and the error stated covers the worst place not doubted."""
    it, _, _, found = scene(seed)
    how = off(found.path, it.scene.outline, doubted(found))
    assert how.rms < 1.0
    assert how.clear < 2.0
    assert how.clear <= found.error_mm


@pytest.mark.parametrize("seed", SEEDS[:2])
def test_the_scale_comes_from_the_bar(seed: int) -> None:
    """A bar said to be 1 % longer makes everything 1 % larger."""
    it, taken, _, found = scene(seed)
    larger = find_outline(flatten(taken, bar_mm=it.bar_mm * 1.01))
    assert larger.path.length / found.path.length == pytest.approx(1.01, abs=0.002)


def test_no_sheet_in_the_photo_is_said() -> None:
    """A photo of a table without sheets: a sentence, not an outline."""
    grey = np.full((900, 1200, 3), 128, dtype=np.uint8)
    with pytest.raises(BadInput, match="sheet"):
        flatten((Photo(pixels=grey, focal_px=None, name="table.jpg"),))


def test_a_mirrored_photo_is_said() -> None:
    """A selfie camera turns the photo over: it is not read as it is."""
    _, taken, _, _ = scene(SEEDS[0])
    mirrored = tuple(
        Photo(pixels=np.ascontiguousarray(p.pixels[:, ::-1]), focal_px=p.focal_px, name=p.name)
        for p in taken
    )
    with pytest.raises(BadInput, match=r"mirror|turned over|sheet"):
        flatten(mirrored)


def test_the_outline_is_pulled_through_a_point() -> None:
    """What was dragged goes through the point; the rest stays."""
    _, taken, _, _ = scene(SEEDS[1])
    found = photographed(taken)
    at = found.outline.path.point_at(found.outline.path.length / 3)
    to = at + Vec(2.0, 1.0)
    path = corrected(found, [(at, to)]).outline.path
    assert path.nearest(to)[1] < 0.3
    far = found.outline.path.point_at(found.outline.path.length * 0.8)
    assert path.nearest(far)[1] < 0.05


def jpeg(photo: Photo) -> bytes:
    """Return a photo as a JPEG file."""
    out = io.BytesIO()
    Image.fromarray(photo.pixels).save(out, "JPEG", quality=92)
    return out.getvalue()


def test_from_photos_to_a_piece_on_the_command_line(tmp_path: Path, capsys) -> None:
    """add WORKBOOK a.jpg b.jpg --bar: a piece of the right size, a picture to check it by."""
    it, taken, _, _ = scene(SEEDS[0])
    files = []
    for k, photo in enumerate(taken):
        files.append(str(tmp_path / f"photo {k}.jpg"))
        Path(files[-1]).write_bytes(jpeg(photo))
    create(tmp_path / "w", Workbook(title="mine"))
    shown = tmp_path / "shown.png"
    code = run(
        [
            "add",
            str(tmp_path / "w"),
            *files,
            "--bar",
            f"{it.bar_mm:.1f} mm",
            "--name",
            "piece",
            "--allowance",
            "none",
            "--show",
            str(shown),
        ]
    )
    assert code == 0
    piece = load(tmp_path / "w").bought.piece("piece")
    assert piece.outline.length == pytest.approx(it.scene.outline.length, rel=0.005)
    assert shown.read_bytes().startswith(b"\x89PNG")
    assert "very likely lies within" in " ".join(capsys.readouterr().out.split())


def test_one_photo_is_read_like_any_file(tmp_path: Path) -> None:
    """As the intake page does: the bar taken to be 200 mm, and that is told."""
    _, taken, _, _ = scene(SEEDS[2])
    file = tmp_path / "piece.jpg"
    file.write_bytes(jpeg(taken[0]))
    edit, notes = pieces_of(Workbook(title="x"), file, Answers(allowance="none"))
    assert len(edit.pieces) == 1
    assert any("very likely lies within" in n for n in notes)


def test_two_hundred_broken_photos() -> None:
    """JPEG and PNG files cut off, with flipped bits and huge counts: pixels or a sentence each."""
    rng = np.random.default_rng(5)
    pixels = rng.integers(0, 255, (260, 340, 3), dtype=np.uint8)
    seeds = []
    for kind in ("JPEG", "PNG"):
        out = io.BytesIO()
        Image.fromarray(pixels).save(out, kind)
        seeds.append(out.getvalue())
    said = outcomes(read_photo, list(damaged(seeds, 200)), "photo.jpg")
    assert len(said) == 200
    assert sum(bool(o.said) for o in said) > 20
