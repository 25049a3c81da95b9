"""Pictures in the page: the style sheet knows every role; the tape measure is true."""

from __future__ import annotations

import re
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from PIL import Image
from pypdfium2 import PdfDocument

from clothwright.drawing.style import TABLE
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.outputs.svg import svg
from clothwright.picture.picture import DrawnPhoto, DrawnRole, Picture
from clothwright.units import Unit
from clothwright.web.tape import tape

BOX = polyline((Vec(0, 0), Vec(100, 0), Vec(100, 50), Vec(0, 50), Vec(0, 0)))


def test_every_role_has_a_line_in_the_style_sheet() -> None:
    """A role that is drawn is never invisible: lines.css knows each of them."""
    from pathlib import Path

    import clothwright.web.svg as module

    css = (Path(module.__file__).parent / "static/css/lines.css").read_text()
    for role in DrawnRole:
        if role is not DrawnRole.LABEL:
            assert f".r-{role.value} .line" in css, role


@pytest.mark.parametrize(("unit", "step"), [(Unit.cm, 100.0), (Unit.inch, 6 * 25.4)])
def test_the_tape_is_true(unit: Unit, step: float) -> None:
    """The number 10 stands at 100 mm; the number 6 at six inches (25.4 mm each, exactly)."""
    found = re.findall(r'<text x="([\d.]+)"[^>]*>(\d+)<', str(tape(unit, 1000.0)))
    per = 10.0 if unit is Unit.cm else 25.4
    assert float(found[0][0]) == pytest.approx(step, abs=0.05)
    for x, n in found:
        assert float(x) == pytest.approx(int(n) * per, abs=0.05)


def test_a_photo_in_a_drawing_lies_the_same_in_a_browser_and_in_a_pdf(browser: Any) -> None:
    """Turned, cut off and repeated: Chromium's picture of the SVG is pypdfium2's of the PDF."""
    out = BytesIO()
    quarters = np.array([[[200, 0, 0], [0, 150, 0]], [[0, 0, 200], [240, 200, 0]]], np.uint8)
    Image.fromarray(quarters.repeat(40, 0).repeat(60, 1)).save(out, "PNG")
    clip = polyline(((0, 0), (200, 0), (260, 150), (40, 180), (0, 0)))
    spots = tuple(Vec(60.0 * k, 40.0 * j) for k in range(-4, 6) for j in range(-4, 8))
    photo = DrawnPhoto(
        file="x", wide=60.0, tall=40.0, spots=spots, clip=clip, move=rotation_deg(30.0)
    )
    picture = Picture(items=(photo,)).with_photos(lambda _: out.getvalue())
    part = PagePart(picture, TABLE)
    pdf = PdfDocument(pdf_of_pages([PdfPage(260.0, 180.0, "1", (part,))], "t"))
    printed = np.asarray(pdf[0].render(scale=96 / 72).to_pil()).astype(int)
    page = browser.new_page(viewport={"width": 1000, "height": 700})
    page.set_content(
        f"<style>body{{margin:0}}svg{{display:block}}</style>{svg(picture, margin=0.0)}"
    )
    shown = np.asarray(Image.open(BytesIO(page.screenshot())).convert("RGB")).astype(int)
    page.close()
    high, wide = printed.shape[:2]
    apart = np.abs(shown[:high, :wide] - printed).max(axis=2)
    assert (apart > 40).mean() < 0.03, "they differ along edges alone"
    assert (printed != 255).any(axis=2).mean() > 0.5
