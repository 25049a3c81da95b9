"""How pages lie together, as the maker says it: --tiles and --shift."""

from __future__ import annotations

import io

import pikepdf
import pytest

from clothwright.cli.app import run
from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.transform import translation
from clothwright.intake.answers import Answers
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


# --- the order of pages, pages that lie off their place -------------------------------------------


def in_order(data: bytes, order: list[int]) -> bytes:
    """Return a file with its pages (from 1) in another order."""
    file, out = pikepdf.open(io.BytesIO(data)), pikepdf.new()
    for number in order:
        out.pages.append(file.pages[number - 1])
    saved = io.BytesIO()
    out.save(saved)
    return saved.getvalue()


def rows_of(order: list[int], wide: int = 4) -> str:
    """Return where each page of the first file stands in the second, row by row."""
    places = [order.index(n) + 1 for n in range(1, len(order) + 1)]
    rows = [places[k : k + wide] for k in range(0, len(places), wide)]
    return " / ".join(" ".join(map(str, row)) for row in rows)


@pytest.mark.parametrize("kind", ["frame", "overlap"])
def test_pages_in_an_order_of_their_own(kind):
    """Pages that were shuffled lie right when their numbers are said row by row, and only then."""
    order = [7, 2, 14, 1, 9, 3, 16, 5, 11, 4, 13, 6, 8, 15, 10, 12]
    data = in_order(tiled(SHEET, kind), order)
    drawing = read_pdf(data, "skirt.pdf", Answers(tiles=rows_of(order)))
    assert worst(drawing, SHEET) < 0.2
    assert drawing.pages is not None
    assert drawing.pages.rows[0] == tuple(order.index(n) + 1 for n in (1, 2, 3, 4))
    assert drawing.pages.miss < 0.2
    wrong = read_pdf(data, "skirt.pdf", Answers(tiles="4x4", shift="186 mm, 273 mm"))
    assert wrong.pages is not None
    assert wrong.pages.loose > drawing.pages.loose + 10


def test_pages_by_columns():
    """ "4x4 by columns": the pages follow each other downward."""
    order = [4 * r + c + 1 for c in range(4) for r in range(4)]
    data = in_order(tiled(SHEET, "frame"), order)
    assert worst(read_pdf(data, "skirt.pdf", Answers(tiles="4x4 by columns")), SHEET) < 0.2


def off_its_place(data: bytes, page: int, by: tuple[float, float]) -> bytes:
    """Return a file with all that one page draws moved, mm to the right and up."""
    file = pikepdf.open(io.BytesIO(data))
    one = file.pages[page - 1]
    moved = f"q 1 0 0 1 {by[0] * 72 / 25.4} {by[1] * 72 / 25.4} cm\n".encode()
    one.contents_add(file.make_stream(moved), prepend=True)
    one.contents_add(file.make_stream(b"\nQ"))
    out = io.BytesIO()
    file.save(out)
    return out.getvalue()


def test_a_page_off_its_place_is_moved_back():
    """Page 6 was printed 3 mm to the right and 2 mm low: --moved puts it back within 0.2 mm."""
    data = off_its_place(tiled(SHEET, "overlap"), 6, (3.0, -2.0))
    step = f"{A4.x - 2 * MARGIN - OVERLAP} mm, {A4.y - 2 * MARGIN - OVERLAP} mm"
    wrong = read_pdf(data, "skirt.pdf", Answers(tiles="4x4", shift=step))
    said = Answers(tiles="4x4", shift=step, moved="6: -3 mm, 2 mm")
    right = read_pdf(data, "skirt.pdf", said)
    assert wrong.pages is not None
    assert right.pages is not None
    assert wrong.pages.loose + (wrong.pages.miss > 0.5) > right.pages.loose
    assert worst(right, SHEET) < 0.2


def test_how_the_pages_lie_is_told():
    """Sheets side by side without gaps, rows, the worst miss; what was left out."""
    pages = read_pdf(tiled(SHEET, "frame"), "skirt.pdf").pages
    assert pages is not None
    assert pages.rows == tuple(tuple(range(4 * r + 1, 4 * r + 5)) for r in range(4))
    first, second = pages.sheets[:2]
    assert first.high.x == pytest.approx(second.low.x)
    assert (first.low.y, first.high.y) == pytest.approx((second.low.y, second.high.y))
    assert pages.step is not None
    assert pages.step.is_near((A4.x - 2 * MARGIN, A4.y - 2 * MARGIN), 0.1)
    assert 0.0 <= pages.miss < 0.2
    assert pages.loose == 0
    whole = read_pdf(tiled(SHEET, "whole"), "skirt.pdf").pages
    assert whole is not None
    assert (whole.whole, len(whole.sheets)) == (True, 16)
    apart = read_pdf(tiled(SHEET, "frame"), "skirt.pdf", Answers(tiles="none")).pages
    assert apart is not None
    assert apart.apart


@pytest.mark.parametrize(
    ("tiles", "moved", "words"),
    [
        ("1 2 2", "", "page 2 stands in it twice"),
        ("1 2 / 99", "", "no page 99"),
        ("- -", "", "names no pages"),
        ("", "5", "which page"),
        ("", "5: 2 mm", "two lengths"),
        ("", "5: 2 mm, 900 mm", "off its place"),
        ("4x4", "77: 1 mm, 1 mm", "page 77 is not among"),
    ],
)
def test_what_cannot_be_said(tiles, moved, words):
    """Pages twice, pages that are not there, moves without a page: a sentence each."""
    with pytest.raises(BadInput, match=words):
        read_pdf(tiled(SHEET, "frame"), "skirt.pdf", Answers(tiles=tiles, moved=moved))
