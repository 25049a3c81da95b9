"""A cloth's photo drawn as it lies: on piece, garment and lay, in SVG and PDF, embedded once.

Read back by pypdfium2 and pikepdf (general-purpose libraries); what colour a place must have is
reckoned with numpy alone.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import numpy as np
import pikepdf
import pypdfium2
import pytest
from PIL import Image
from shapely import Point, Polygon

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Figure, Print, PrintPicture
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.printed import printed_piece
from clothwright.drawing.style import TABLE
from clothwright.lay.compiled import Compiled
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.outputs.svg import svg
from clothwright.picture.document import Chapter, Document, Illustration
from clothwright.picture.inline import inline_svg
from clothwright.picture.picture import DrawnPhoto, Picture
from clothwright.rules.compile import compile_lay
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from tests.lay.panels import skirt

SIZE = (120.0, 100.0)
QUARTERS = {
    (0, 0): (200, 30, 30),
    (1, 0): (30, 160, 30),
    (0, 1): (30, 30, 200),
    (1, 1): (240, 200, 0),
}
"""The colour of each quarter of the photo: (right, upper)."""
DOTS = 2.0
PHOTO = PrintPicture(file="wool", width=SIZE[0], height=SIZE[1], along=10.0, across=20.0)
DESIGN = Print(
    repeat_along=SIZE[0],
    repeat_across=SIZE[1],
    drop="half-drop",
    picture=PHOTO,
    figures=(Figure(name="rose", x=40.0, y=40.0, radius=30.0),),
)
CLOTH = Cloth(name="c", width=1400.0, length=1500.0, print=DESIGN)


def photo(kind: str) -> bytes:
    """Return the photo: four quarters of a plain colour."""
    pixels = np.zeros((200, 240, 3), np.uint8)
    for (right, upper), colour in QUARTERS.items():
        pixels[(1 - upper) * 100 : (2 - upper) * 100, right * 120 : (right + 1) * 120] = colour
    out = BytesIO()
    Image.fromarray(pixels).save(out, kind, **({"quality": 95} if kind == "JPEG" else {}))
    return out.getvalue()


def colour_at(x: float, y: float) -> tuple[int, int, int] | None:
    """The colour of a place of the cloth, None within 3 mm of where two meet."""
    column = np.floor((y - 20.0) / SIZE[1])
    u = (x - 10.0 - (column % 2) * SIZE[0] / 2) % SIZE[0] / SIZE[0] * 2
    v = (y - 20.0) % SIZE[1] / SIZE[1] * 2
    near = min(abs(u - round(u)) * SIZE[0] / 2, abs(v - round(v)) * SIZE[1] / 2)
    return None if near < 3.0 else QUARTERS[(int(u), int(v))]


@pytest.fixture(scope="module")
def laid() -> tuple[Compiled, Lay]:
    """A skirt laid on the cloth of the photo."""
    compiled = compile_lay(skirt(), (CLOTH,), Plan(name="p", rules=()), gap=2.0)
    return compiled, solve(compiled.problem, seconds=30.0, rounds=1, seed=1)


def rendered(picture: Picture) -> np.ndarray:
    """Return a picture from the PDF made of it, y up, DOTS a mm."""
    low, high = picture.bounds()
    part = PagePart(picture, TABLE, origin=-low)
    page = PdfPage(high.x - low.x, high.y - low.y, "1", (part,))
    shot = pypdfium2.PdfDocument(pdf_of_pages([page], "t"))[0].render(scale=DOTS * 25.4 / 72)
    return np.asarray(shot.to_pil())[::-1]


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_piece_shows_the_photo_where_it_was_cut(laid: tuple[Compiled, Lay], kind: str) -> None:
    """Each place of each piece has the colour of the place of cloth it is cut from."""
    compiled, lay = laid
    for placement in lay.placements:
        drawn = printed_piece(compiled, placement)
        picture = Picture(items=tuple(i for i in drawn.items if isinstance(i, DrawnPhoto)))
        pixels = rendered(picture.with_photos(lambda _: photo(kind)))
        (one,) = picture.items
        assert isinstance(one, DrawnPhoto)
        low, _ = picture.bounds()
        window, seen = Polygon(placement.outline), 0
        x0, y0, x1, y1 = window.bounds
        for x, y in np.random.default_rng(5).uniform((x0, y0), (x1, y1), (300, 2)):
            colour, at = colour_at(x, y), one.move.apply((x, y)) - low
            inside = window.buffer(-3.0).contains(Point(x, y))
            if inside and colour is not None:
                there = pixels[int(at.y * DOTS), int(at.x * DOTS)]
                assert np.abs(there.astype(int) - colour).max() < 24
                seen += 1
        assert seen > 100


def test_a_photo_stands_in_a_file_once(laid: tuple[Compiled, Lay]) -> None:
    """Three pieces, dozens of copies: one picture in the SVG, one in the PDF."""
    compiled, lay = laid
    pieces = [printed_piece(compiled, p) for p in lay.placements]
    picture = Picture(title="all").plus(*pieces).with_photos(lambda _: photo("JPEG"))
    text = svg(picture, look=TABLE)
    assert text.count("data:image/jpeg;base64,") == 1
    assert text.count("<clipPath") == len(pieces)
    assert text.count("<use ") > 60
    low, high = picture.bounds()
    page = PdfPage(*(high - low), "1", (PagePart(picture, TABLE, origin=-low),))
    with pikepdf.open(BytesIO(pdf_of_pages([page, page], "t"))) as pdf:
        kept = [o for o in pdf.objects if isinstance(o, pikepdf.Stream)]
        assert sum(o.get("/Subtype") == "/Image" for o in kept) == 1


def test_a_lay_shows_the_photo_through_its_pieces(laid: tuple[Compiled, Lay]) -> None:
    """Beside the pieces the photo's own colour; on a piece that colour under tissue."""
    picture = lay_picture(*laid, "c", Unit.cm, positions=False).with_photos(lambda _: photo("PNG"))
    pixels = rendered(picture)
    low, _ = picture.bounds()
    tissue = np.array([0xF5, 0xE8, 0xC8])
    pieces = [Polygon(p.outline) for p in laid[1].placements]
    counts = [0, 0]
    for x, y in np.random.default_rng(5).uniform((20, 20), (1000, 1380), (150, 2)):
        colour = colour_at(x, y)
        if colour is None or any(p.exterior.distance(Point(x, y)) < 25 for p in pieces):
            continue
        on = any(p.contains(Point(x, y)) for p in pieces)
        there = pixels[int((y - low.y) * DOTS), int((x - low.x) * DOTS)].astype(int)
        hides = TABLE.hides(picture.items[0].role.PIECE) if on else 0.0
        expected = np.array(colour) * (1 - hides) + tissue * hides
        same = np.abs(there - expected).max() < 6
        assert same or on, "only on a piece something is written over it"
        counts[on] += int(same)
    assert counts[0] > 20
    assert counts[1] > 10


def test_without_the_file_the_print_is_drawn(laid: tuple[Compiled, Lay]) -> None:
    """No photo at hand: no picture in the files, and lines and motifs are there as ever."""
    compiled, lay = laid
    plain = replace(CLOTH, print=replace(DESIGN, picture=None))
    without = compile_lay(skirt(), (plain,), Plan(name="p", rules=()), gap=2.0)
    for placement in lay.placements:
        with_, drawn = printed_piece(compiled, placement), printed_piece(without, placement)
        rest = tuple(i for i in with_.items if not isinstance(i, DrawnPhoto))
        assert len(rest) == len(with_.items) - 1
        assert rest == drawn.items
        assert svg(with_.with_photos(lambda _: b""), look=TABLE) == svg(drawn, look=TABLE)


def test_a_page_fetches_the_photo(laid: tuple[Compiled, Lay]) -> None:
    """Where the page says it is; without an address it is not drawn; ids are of their own."""
    compiled, lay = laid
    one, two, *_ = (printed_piece(compiled, p) for p in lay.placements)
    texts = [inline_svg(p, alt="", photos=lambda ph: f"/b/x/{ph.file}") for p in (one, two)]
    assert all(t.count('<image id="photo-') == 1 and 'href="/b/x/wool"' in t for t in texts)
    texts.append(inline_svg(one, alt="", photos=lambda ph: f"/b/x/{ph.file}", key="two"))
    ids = [{w.split('"')[0] for w in t.split('id="')[1:]} for t in texts]
    assert not ids[0] & ids[1]
    assert not ids[0] & ids[2], "the same drawing shown twice has another key"
    assert "<image" not in inline_svg(one, alt="")


def test_a_guide_gets_its_photos(laid: tuple[Compiled, Lay]) -> None:
    """A guide's pictures get the file wherever they stand."""
    compiled, lay = laid
    picture = printed_piece(compiled, lay.placements[0])
    figure = Illustration(picture=picture, alt="a piece")
    inner = Chapter(title="b", blocks=(figure,))
    document = Document(title="t", sections=(Chapter(title="a", sections=(inner,)),))
    (block,) = document.with_photos(lambda name: name.encode()).every_block()
    assert isinstance(block, Illustration)
    assert [i.data for i in block.picture.items if isinstance(i, DrawnPhoto)] == [b"wool"]
