"""How pages lie together, as the maker says it: --tiles and --shift."""

from __future__ import annotations

import io

import pikepdf
import pytest

from clothwright.cli.app import run
from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.transform import translation
from clothwright.intake import Answers
from clothwright.intake.pdf.reader import read_pdf
from clothwright.intake.pdf.said_tiles import said_tiles
from tests.intake.pdf.sheets import Sheet, farthest, skirt_sheet
from tests.intake.pdf.tiled import A4, MARGIN, OVERLAP, tiled

SHEET = skirt_sheet()


def outlines(lines) -> list[Path]:
    """The large lines, moved so that the lowest and leftmost of them begin at 0."""
    paths = [x.path for x in lines if x.path.length > 600.0]
    low = [min(p.bounds()[0][k] for p in paths) for k in (0, 1)]
    return [p.transformed(translation((-low[0], -low[1]))) for p in paths]


def worst(drawing, sheet: Sheet) -> float:
    """How far the outlines read lie from those drawn, mm."""
    found = outlines(drawing.lines)
    return max(min(farthest(p, w, 8.0) for p in found) for w in outlines(sheet.lines))


@pytest.mark.parametrize(
    ("kind", "shift"),
    [
        ("frame", ""),
        ("crosses", ""),
        ("overlap", ""),
        ("overlap", f"{A4.x - 2 * MARGIN - OVERLAP} mm, {A4.y - 2 * MARGIN - OVERLAP} mm"),
    ],
)
def test_tiles_as_said(kind, shift):
    """Said to be 4 across and 4 down, and how far apart: the outlines are within 0.2 mm."""
    data = tiled(SHEET, kind)
    drawing = read_pdf(data, "skirt.pdf", Answers(tiles="4x4", shift=shift))
    assert worst(drawing, SHEET) < 0.2
    assert any("4 across and 4 down" in n for n in drawing.notes)


def test_a_wrong_shift_shows_in_the_miss():
    """A shift that is 3 mm too short: lines that run on no longer meet, and no outline closes."""
    right = read_pdf(tiled(SHEET, "overlap"), "skirt.pdf")
    step = f"{A4.x - 2 * MARGIN - OVERLAP - 3} mm, {A4.y - 2 * MARGIN - OVERLAP} mm"
    wrong = read_pdf(tiled(SHEET, "overlap"), "skirt.pdf", Answers(tiles="4x4", shift=step))
    assert sum(x.closed for x in right.lines) == 2
    assert sum(x.closed for x in wrong.lines) < 2


def test_pages_each_by_itself():
    """--tiles none: what is drawn on every page stays a drawing of its own."""
    drawing = read_pdf(tiled(SHEET, "frame"), "skirt.pdf", Answers(tiles="none"))
    assert any("side by side" in n for n in drawing.notes)


@pytest.mark.parametrize("kind", ["frame", "crosses", "halves", "overlap"])
def test_a_cover_is_left_out_and_told(kind):
    """A page before the tiles that carries no part of the drawing, and a blank one after."""
    out, cover = pikepdf.open(io.BytesIO(tiled(SHEET, kind))), pikepdf.new()
    cover.add_blank_page(page_size=(595, 842))
    out.pages.insert(0, cover.pages[0])
    out.pages.append(cover.pages[0])
    data = io.BytesIO()
    out.save(data)
    drawing = read_pdf(data.getvalue(), "skirt.pdf")
    assert worst(drawing, SHEET) < 0.2
    assert any(n.startswith("left out, pages") and "1, 18" in n for n in drawing.notes)


@pytest.mark.parametrize("tiles", ["3", "0x2", "axb", "3x", "3x2x1", "999x999"])
def test_no_such_tiles(tiles):
    """What is no number of pages is told with its option."""
    with pytest.raises(BadInput, match=r"--tiles: .*3x2"):
        said_tiles(tiles, "")


def test_too_few_pages():
    """More tiles than the file has pages is told with both counts."""
    with pytest.raises(BadInput, match="20 pages, the file has 16"):
        read_pdf(tiled(SHEET, "frame"), "skirt.pdf", Answers(tiles="5x4"))


def test_a_shift_alone_says_nothing():
    """--shift needs --tiles."""
    with pytest.raises(BadInput, match="--tiles"):
        said_tiles("", "190 mm, 277 mm")


def test_lengths_of_a_shift():
    """Two lengths with units; a comma may be a decimal one."""
    step = said_tiles("3x2", "7 1/2 in, 10 in").step
    assert step is not None
    assert step.is_near((190.5, 254.0), 1e-9)
    step = said_tiles("3x2", "19,05 cm, 254 mm").step
    assert step is not None
    assert step.is_near((190.5, 254.0), 1e-9)
    with pytest.raises(BadInput, match="two lengths"):
        said_tiles("3x2", "190 mm")


def test_from_a_pdf_on_the_command_line(tmp_path, capsys):
    """clothwright add takes a tiled PDF, says how it was joined, and --tiles corrects it."""
    book, file = tmp_path / "book", tmp_path / "skirt.pdf"
    file.write_bytes(tiled(SHEET, "overlap"))
    assert run(["new", str(book)]) == 0
    assert run(["add", str(book), str(file), "--allowance", "5/8 in", "--tiles", "4x4"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "4 across and 4 down" in said
    assert "skirt front" in said
    assert "skirt back" in said
