"""Three nested sizes over many pages, and tiles that another program has written anew."""

from __future__ import annotations

import io
import shutil
import subprocess

import pikepdf
import pytest

from clothwright.geometry.transform import Transform, translation
from clothwright.intake.pdf.reader import read_pdf
from tests.intake.pdf.sheets import farthest, nested_sheet, skirt_sheet
from tests.intake.pdf.tiled import tiled


@pytest.mark.parametrize("by", ["dash", "colour"])
@pytest.mark.parametrize("kind", ["whole", "frame", "crosses", "halves", "overlap"])
def test_nested_sizes_over_many_pages(kind, by):
    """Each size within 0.2 mm after joining, and under its own name."""
    sheet = nested_sheet(by)
    drawing = read_pdf(tiled(sheet, kind), "front.pdf")
    assert drawing.sizes == ("12", "14", "16")
    wanted = [x.path for x in sheet.lines if x.path.length > 600.0]
    by_size = {
        s: [x for x in drawing.lines if x.size == s and x.path.length > 600.0]
        for s in drawing.sizes
    }
    assert [len(x) for x in by_size.values()] == [1, 1, 1]
    found = [x[0].path for x in by_size.values()]
    move = translation(wanted[0].bounds()[0] - found[0].bounds()[0])
    for one, other in zip(found, wanted, strict=True):
        assert farthest(one.transformed(move), other, 8.0) < 0.2


@pytest.mark.parametrize("kind", ["frame", "crosses", "halves", "overlap"])
def test_tiles_written_anew(kind, tmp_path):
    """Ghostscript rounds every number; the pages still join within 0.2 mm."""
    if shutil.which("gs") is None:
        pytest.skip("gs is not installed")
    first, out = tmp_path / "first.pdf", tmp_path / "out.pdf"
    first.write_bytes(tiled(skirt_sheet(), kind))
    command = ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", f"-o{out}", str(first)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    _as_drawn(out.read_bytes())


@pytest.mark.parametrize("kind", ["whole", "frame", "overlap"])
def test_tiles_on_turned_pages(kind):
    """Every page turned by Rotate: the drawing is turned with them, and joins as before."""
    file = pikepdf.open(io.BytesIO(tiled(skirt_sheet(), kind)))
    for page in file.pages:
        page.obj.Rotate = 90
    out = io.BytesIO()
    file.save(out)
    _as_drawn(out.getvalue(), turned=True)


def _as_drawn(data: bytes, *, turned: bool = False) -> None:
    drawing = read_pdf(data, "skirt.pdf")
    turn = Transform(0.0, -1.0, 1.0, 0.0, 0.0, 0.0) if turned else Transform()
    wanted = [x.path.transformed(turn) for x in skirt_sheet().lines if x.path.length > 600.0]
    found = [x.path for x in drawing.lines if x.path.length > 600.0]
    assert len(found) == 2, drawing.notes
    low = [
        type(wanted[0].start)(*(min(p.bounds()[0][k] for p in paths) for k in (0, 1)))
        for paths in (wanted, found)
    ]
    move = translation(low[0] - low[1])
    for w in wanted:
        assert min(farthest(p.transformed(move), w, 8.0) for p in found) < 0.2
