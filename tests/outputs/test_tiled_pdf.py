"""The file of full-size pages: layers, typeface, bytes, page map, joining marks."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path as FilePath

import pikepdf
import pypdfium2
import pytest

from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.outputs.marks import HALF_DIAMOND_MM, page_marks, page_square
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.sheet_pdf import SheetSetting, sheet_pdf
from clothwright.outputs.tiled_pdf import PrintSetting, plan_pages, tiled_pdf
from clothwright.outputs.trace import Trace
from clothwright.picture import DrawnRole, Fill, Picture, Stroke, Text
from tests.outputs.raster import by_pdfium, middle_of_line
from tests.outputs.specimens import cut, panel, ring

ROOT = FilePath(__file__).parents[2]


@pytest.fixture(scope="module")
def pages() -> bytes:
    return tiled_pdf(panel())


def words_of(pdf: bytes) -> list[str]:
    with pypdfium2.PdfDocument(pdf) as document:
        return [page.get_textpage().get_text_bounded() for page in document]


def test_page_sizes_and_order(pages: bytes) -> None:
    """A map first, then A1, A2 ...; each page is A4 to 0.001 mm and asks not to be scaled."""
    plan = plan_pages(panel(), PrintSetting())
    with pikepdf.open(io.BytesIO(pages)) as pdf:
        assert len(pdf.pages) == len(plan.tiles) + 1
        for page in pdf.pages:
            x0, y0, x1, y1 = (float(v) / 72 * 25.4 for v in page.mediabox)
            assert (x0, y0) == (0, 0)
            assert (x1, y1) == pytest.approx((210, 297), abs=1e-3)
            assert "/UserUnit" not in page
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        labels = [str(entry.P) for entry in list(pdf.Root.PageLabels.Nums)[1::2]]
        assert labels == ["Map", *(tile.name for tile in plan.tiles)]


def test_roles_are_named_layers(pages: bytes) -> None:
    """Each role drawn is a layer of that name, and every page marks its content with it."""
    drawn = {"page", "trim", "test", "label", "piece", "cut", "stitch", "grain", "notch"}
    with pikepdf.open(io.BytesIO(pages)) as pdf:
        assert {str(group.Name) for group in pdf.Root.OCProperties.OCGs} == drawn
        for page in pdf.pages:
            content = (
                b"".join(s.read_bytes() for s in page.Contents.wrap_in_array())
                if (isinstance(page.Contents, pikepdf.Array))
                else page.Contents.read_bytes()
            )
            used = set(re.findall(rb"/OC /(\w+) BDC", content))
            assert used
            assert used <= {str(name)[1:].encode() for name in page.Resources.Properties}
            assert len(re.findall(rb"\bBDC\b", content)) == len(re.findall(rb"\bEMC\b", content))


def test_a_layer_can_be_hidden() -> None:
    """With the layer of stitching lines switched off the line is gone, the cutting line is not."""
    picture = Picture(
        items=(
            cut(ring(0, 0, 160, 160)),
            Stroke(path=polyline(((150, 10), (150, 150))), role=DrawnRole.GRAIN),
        )
    )
    plan = plan_pages(picture, PrintSetting())
    content = tiled_pdf(picture)
    with pikepdf.open(io.BytesIO(content)) as pdf:
        hidden = [g for g in pdf.Root.OCProperties.OCGs if g.Name == "grain"]
        pdf.Root.OCProperties.D.OFF = pikepdf.Array(hidden)
        pdf.Root.OCProperties.D.ON = pikepdf.Array([])
        out = io.BytesIO()
        pdf.save(out)
    at = Vec(150, 83) - plan.tiles[0].low + Vec(12, 12)
    edge = Vec(160, 83) - plan.tiles[0].low + Vec(12, 12)
    for pdf_bytes, shown in ((content, True), (out.getvalue(), False)):
        page = by_pdfium(pdf_bytes)[1]
        assert (middle_of_line(page, at, (1, 0), least=0.6) is not None) is shown
        assert middle_of_line(page, edge, (1, 0), least=0.6) is not None


def test_every_typeface_is_embedded(pages: bytes) -> None:
    """Only subsets of our own face, each inside the file; nothing is left to the reader's."""
    seen = set()
    with pikepdf.open(io.BytesIO(pages)) as pdf:
        for page in pdf.pages:
            for font in page.Resources.get("/Font", pikepdf.Dictionary()).values():
                assert "/FontFile2" in font.FontDescriptor
                seen.add(str(font.BaseFont))
    assert seen
    assert all(re.fullmatch(r"/[A-Z]{6}\+BitstreamVeraSans-\w+", name) for name in seen)


def test_words_can_be_searched(pages: bytes) -> None:
    """Fractions are spelt out, umlauts kept; page names and the advice can be found."""
    words = words_of(pages)
    assert "1 5/8 in" in "".join(words)
    assert "Größe" in "".join(words)
    assert "B1" in words[0]
    assert "100 mm" in words[0]
    assert "4 in" in words[0]
    assert "Cut away from yourself" in words[0]
    for page in words[1:]:
        assert "100 mm" in page
        assert "100 %" in page


def test_same_input_same_bytes(pages: bytes) -> None:
    """The file depends on picture and setting alone: no clock, no chance, no order of hashes."""
    assert tiled_pdf(panel()) == pages
    code = (
        "import hashlib, sys; from clothwright.outputs.tiled_pdf import tiled_pdf;"
        "from tests.outputs.specimens import panel;"
        "print(hashlib.sha256(tiled_pdf(panel())).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": f"{ROOT / 'src'}:{ROOT}"},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "77")
    }
    assert len(found) == 1


def test_another_setting_other_bytes(pages: bytes) -> None:
    """And the comparison above can fail."""
    assert tiled_pdf(panel(), PrintSetting(overlap=6.0)) != pages


def test_the_map_shows_the_printed_pages_only() -> None:
    """An L leaves pages out; the map names just those that follow."""
    points = ((0, 0), (500, 0), (500, 90), (90, 90), (90, 700), (0, 700), (0, 0))
    picture = Picture(items=(cut(polyline(points)),), title="L")
    plan = plan_pages(picture, PrintSetting())
    assert len(plan.tiles) < plan.grid.rows * plan.grid.columns
    content = tiled_pdf(picture)
    shown = set(re.findall(r"\b[A-Z]\d\b", words_of(content)[0])) - {"A4"}
    assert shown | {"A4"} == {tile.name for tile in plan.tiles} | {"A4"}
    assert f"{len(plan.tiles)} pages" in words_of(content)[0]


def test_pages_name_their_pieces() -> None:
    """Each page says which pieces it shows, and the map which pages each piece takes."""
    front, back = cut(ring(0, 0, 150, 200)), cut(ring(250, 0, 330, 200))
    picture = Picture(
        title="Two", items=(replace(front, group="front"), replace(back, group="back"))
    )
    words = words_of(tiled_pdf(picture))
    assert "front" in words[1]
    assert "back" not in words[1]
    assert "back" in words[2]
    assert "front" not in words[2]
    assert "front: A1" in words[0]
    assert "back: A2" in words[0]


def test_joined_edges_meet_one_way_only() -> None:
    """Each shared edge has its own number on both pages; half-diamonds make whole ones in place."""
    plan = plan_pages(panel(), PrintSetting())
    assert len({joint.number for joint in plan.joints}) == len(plan.joints)
    for joint in plan.joints:
        halves = []
        for tile in (joint.under, joint.over):
            marks = page_marks(tile, (joint,))
            numbers = [t.words for t in marks.items if isinstance(t, Text)]
            assert numbers.count(str(joint.number)) == 2
            halves.append([f.path for f in marks.items if isinstance(f, Fill)])
        for below, above in zip(*halves, strict=True):
            base = set(below.flatten()) & set(above.flatten())
            assert len(base) == 2, "both halves stand on the same stretch of the joined edge"
            tips = [next(p for p in half.flatten() if p not in base) for half in (below, above)]
            assert tips[0].distance(tips[1]) == pytest.approx(2 * HALF_DIAMOND_MM)


def test_marks_stay_inside_the_margins() -> None:
    """Joining marks and squares lie on the tile, so at least the margin from the paper's edge."""
    plan = plan_pages(panel(), PrintSetting(margin=10.0))
    for tile in plan.tiles:
        square = page_square(tile, plan.grid.overlap, Trace(panel()), title="x", page_of="1 of 2")
        for item in page_marks(tile, plan.joints).plus(square).items:
            if isinstance(item, Text):
                continue
            low, high = item.path.bounds()
            assert low.x >= tile.low.x - 1e-9
            assert low.y >= tile.low.y - 1e-9
            assert high.x <= tile.high.x + 1e-9
            assert high.y <= tile.high.y + 1e-9


def test_one_page_has_nothing_to_join() -> None:
    """A small piece takes the map and one page without joining lines."""
    small = Picture(items=(cut(ring(0, 0, 80, 60)),), title="Pocket")
    content = tiled_pdf(small)
    words = words_of(content)
    assert len(words) == 2
    assert "Nothing to join" in words[0]
    assert "lay" not in words[1]


def test_nothing_to_print_is_told() -> None:
    """An empty picture is refused with a sentence, for pages and for the sheet."""
    for write in (tiled_pdf, sheet_pdf):
        with pytest.raises(BadInput, match="nothing to print"):
            write(Picture(title="Front"))


@pytest.mark.parametrize(
    "paper", ["A5", "Legal", "A3 landscape", "A0", "130 x 900 mm", "roll 36 in"]
)
def test_other_papers(paper: str) -> None:
    """Every paper that is large enough gets its map and its pages."""
    picture = panel()
    setting = PrintSetting(paper=parse_paper(paper), margin=10.0 if "130" not in paper else 9.5)
    if paper.startswith("130"):
        with pytest.raises(BadInput, match="test square"):
            tiled_pdf(picture, setting)
        return
    words = words_of(tiled_pdf(picture, setting))
    front = 2 if paper == "A5" else 1
    plan = plan_pages(picture, setting)
    assert len(words) == len(plan.tiles) + front
    assert "Joining the pages" in words[0]
    assert all(re.search(rf"\b{tile.name}\b", words[front - 1]) for tile in plan.tiles)


def test_advice_needs_no_large_sheet() -> None:
    """The first page of a pattern on A0 fits A4 and Letter: plotted advice costs money."""
    with pikepdf.open(io.BytesIO(tiled_pdf(panel(), PrintSetting(paper=parse_paper("A0"))))) as pdf:
        sizes = [tuple(float(v) / 72 * 25.4 for v in list(page.mediabox)[2:]) for page in pdf.pages]
    assert sizes[0] == pytest.approx((210.0, 279.0), abs=1e-3)
    assert sizes[1] == pytest.approx((841.0, 1189.0), abs=1e-3)


def test_one_large_sheet() -> None:
    """The sheet is just large enough for the piece, the margins and the strip with the square."""
    with pikepdf.open(io.BytesIO(sheet_pdf(panel()))) as pdf:
        assert len(pdf.pages) == 1
        _, _, x, y = (float(v) / 72 * 25.4 for v in pdf.pages[0].mediabox)
    low, high = panel().bounds()
    assert x == pytest.approx(high.x - low.x + 30, abs=1e-3)
    assert y == pytest.approx(high.y - low.y + 30 + 108, abs=1e-3)


def test_a_long_sheet_is_split() -> None:
    """No page is longer than 5080 mm (14,400 points); a longer piece goes on on the next page."""
    long = Picture(items=(cut(ring(0, 0, 600, 7000)),), title="Curtain")
    with pikepdf.open(io.BytesIO(sheet_pdf(long))) as pdf:
        assert len(pdf.pages) == 2
        for page in pdf.pages:
            assert max(float(v) for v in page.mediabox) <= 14400.0 + 1e-6
            assert "/UserUnit" not in page


def test_a_roll_limits_the_width() -> None:
    """On a 914 mm roll a 1500 mm wide drawing takes two strips."""
    wide = Picture(items=(cut(ring(0, 0, 1500, 700)),), title="Skirt")
    with pikepdf.open(io.BytesIO(sheet_pdf(wide, SheetSetting(widest=914.0)))) as pdf:
        assert len(pdf.pages) == 2
        assert all(float(p.mediabox[2]) / 72 * 25.4 <= 914.0 + 1e-3 for p in pdf.pages)
