"""From photos to a drawing, a picture to correct it on, and a piece in the workbook."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.outlines import outlines
from clothwright.photo.doubts import WORDS, PhotoDoubt
from clothwright.photo.photographed import (
    Photographed,
    bar_length,
    corrected,
    is_photo,
    photographed,
    picture_png,
)
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.pieces.adding import outline_drawing, pieces_of
from tests.intake.proposing import propose
from tests.photo.measure import off
from tests.photo.scenes import photos, trial

TRIAL = trial(7, size=(2000, 1500))


@pytest.fixture(scope="module")
def found() -> Photographed:
    """A front in one photo."""
    taken = photos(replace(TRIAL, shots=TRIAL.shots[:1]))
    return photographed(taken, bar_mm=TRIAL.bar_mm, name="coat front")


def test_the_drawing_is_read_like_any_other(found):
    """The drawing has the outline in mm within 0.01 mm, its name, and lines inside."""
    drawing = outline_drawing(found, Unit.cm)
    assert drawing.scale_known
    main = outlines(drawing.lines).outlines[0]
    assert main.label == "coat front"
    assert off(main.path, found.outline.path).worst < 0.01


def test_pieces_are_proposed_from_it(found):
    """One piece, its stitching line about an allowance inside, the true size."""
    drawing = outline_drawing(found, Unit.cm)
    draft = propose(drawing, Answers(allowance="none"), unit=Unit.cm)
    assert [p.name for p in draft.pieces] == ["coat front"]
    length = sum(e.length for e in draft.pieces[0].edges)
    assert length == pytest.approx(TRIAL.scene.outline.length, rel=0.004)
    assert any("very likely lies within" in n for n in draft.notes)


def test_doubts_stand_in_the_notes_with_their_places(found):
    """In the maker's unit, from the left and from below."""
    doubt = PhotoDoubt("gap", found.outline.path.start, WORDS["gap"])
    doubtful = replace(found, outline=replace(found.outline, doubts=(doubt,)))
    notes = outline_drawing(doubtful, Unit.inch).notes
    assert any(n.startswith("the line has a gap here") and "from the left" in n for n in notes)


def test_the_picture_shows_the_outline(found):
    """The PNG is red along the outline, and the same picture without it is not."""
    with_line, without = (
        np.asarray(Image.open(io.BytesIO(picture_png(found, over=o)))).astype(int)
        for o in (True, False)
    )
    rows, columns = found.picture.shape[:2]
    share = with_line.shape[1] / columns
    points = np.array(found.outline.path.flatten(0.5)) * found.px_per_mm * share
    x = points[:, 0].astype(int)
    y = (rows * share - points[:, 1]).astype(int)
    red = with_line[y, x, 0] - with_line[y, x, 1]
    assert np.median(red) > 100
    assert np.median(without[y, x, 0] - without[y, x, 1]) < 30


def test_the_picture_lies_under_the_outline(found):
    """Along the outline the flat picture is dark, 4 mm beside it it is not."""
    grey = found.picture.mean(axis=2)
    at = [found.outline.path.point_at(k) for k in range(20, int(found.outline.path.length), 20)]
    on, beside = [], []
    for p in at:
        column, row = int(p.x * found.px_per_mm), int(len(grey) - p.y * found.px_per_mm)
        on.append(grey[row - 1 : row + 2, column - 1 : column + 2].min())
        beside.append(grey[row - 8 : row + 9, column - 8 : column + 9].max())
    assert np.median(on) < 0.7 * np.median(beside)


def test_a_correction_is_taken_over(found):
    """A place is pulled; one outside the picture is refused in a sentence."""
    at = found.outline.path.point_at(300.0)
    to = (at.x + 1.0, at.y + 1.0)
    after = corrected(found, [((at.x, at.y), to)])
    assert after.outline.path.nearest(to)[1] < 1e-6
    with pytest.raises(BadInput, match="out of the picture"):
        corrected(found, [((at.x, at.y), (-5.0, 0.0))])


def test_names_and_bars_are_read(tmp_path):
    """Endings of photos; the bar in any unit; a file that is not there."""
    assert is_photo("IMG_1.HEIC")
    assert not is_photo("a.svg")
    assert bar_length("") == 200.0
    assert bar_length("7 7/8 in") == pytest.approx(200.025)
    with pytest.raises(BadInput, match="cannot be read"):
        pieces_of(Workbook(title="coat"), tmp_path / "none.jpg", Answers())
