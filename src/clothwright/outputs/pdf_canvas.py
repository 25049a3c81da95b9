"""Pictures drawn into a PDF in true millimetres: pages, layers, letters, the same bytes each time.

reportlab draws; pikepdf then names the layers, because a layer holds in every reader and printer
only when its content is marked on the page itself.
"""

from __future__ import annotations

import hashlib
import io
import itertools
from collections.abc import Iterable
from functools import cache
from typing import Any, NamedTuple

import pikepdf
from reportlab.lib.colors import toColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen import canvas as pdfgen

from clothwright.drawing.style import Look
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.outputs import fonts
from clothwright.picture.picture import DrawnPhoto, DrawnRole, Fill, Item, Picture, Stroke, Text

POINT_MM = 25.4 / 72
"""mm in one point: PDF's unit is 1/72 in, exactly."""

JOIN_ROUND, CAP_BUTT, CAP_ROUND = 1, 0, 1
EVEN_ODD = 0


class PagePart(NamedTuple):
    """A picture on a page: where its (0, 0) lies and what of it is seen, mm from the lower left.

    scale: mm on paper per mm of the picture. clip: lower left and upper right in the picture's mm.
    """

    picture: Picture
    look: Look
    origin: Vec = Vec(0.0, 0.0)
    scale: float = 1.0
    clip: tuple[Vec, Vec] | None = None


class PdfPage(NamedTuple):
    """One page: its size in mm, its name (shown by the reader instead of a number), its parts."""

    width: float
    height: float
    name: str
    parts: tuple[PagePart, ...]


def pdf_of_pages(pages: Iterable[PdfPage], title: str) -> bytes:
    """Return a PDF of full-size pages: roles as layers, no scaling when printed, fixed bytes."""
    out = io.BytesIO()
    pdf = new_canvas(out, title)
    names: list[str] = []
    layers: list[set[DrawnRole]] = []
    for page in pages:
        pdf.setPageSize((page.width / POINT_MM, page.height / POINT_MM))
        for part in page.parts:
            _place(pdf, part)
        names.append(page.name)
        layers.append({item.role for part in page.parts for item in part.picture.items})
        pdf.showPage()
    pdf.save()
    return _with_layers(out.getvalue(), names, layers)


def new_canvas(out: io.BytesIO, title: str) -> Any:
    """Return an empty PDF whose bytes depend on nothing but what is drawn."""
    fonts.load()
    pdf = pdfgen.Canvas(out, invariant=1, pageCompression=1, initialFontName=fonts.PLAIN, lang="en")
    pdf.setTitle(title)
    pdf.setCreator("Clothwright")
    pdf.setAuthor("")
    pdf.setSubject("")
    pdf.setViewerPreference("PrintScaling", "None")
    return pdf


def _place(pdf: Any, part: PagePart) -> None:
    pdf.saveState()
    unit = part.scale / POINT_MM
    pdf.transform(unit, 0, 0, unit, part.origin.x / POINT_MM, part.origin.y / POINT_MM)
    if part.clip:
        low, high = part.clip
        window = pdf.beginPath()
        window.rect(low.x, low.y, high.x - low.x, high.y - low.y)
        pdf.clipPath(window, stroke=0, fill=0)
    draw(pdf, part.picture, part.look, scale=part.scale, layers=True)
    pdf.restoreState()


def draw(pdf: Any, picture: Picture, look: Look, *, scale: float, layers: bool) -> None:
    """Draw a picture where the canvas now counts in the picture's mm.

    scale: mm on paper per mm of the picture; lines keep their width on paper. layers: mark each
    run of one role as that role's layer (only for `pdf_of_pages`, which names the layers).
    """
    for role, run in itertools.groupby(picture.items, key=lambda item: item.role):
        if layers:
            pdf._code.append(f"/OC /{role.value} BDC")
        for item in run:
            _draw_item(pdf, item, look, scale)
        if layers:
            pdf._code.append("EMC")


def _draw_item(pdf: Any, item: Item, look: Look, scale: float) -> None:
    if isinstance(item, Text):
        _draw_text(pdf, item, look)
    elif isinstance(item, Fill):
        _draw_fill(pdf, item, look)
    elif isinstance(item, DrawnPhoto):
        _draw_photo(pdf, item)
    else:
        _draw_stroke(pdf, item, look, scale)


def _draw_stroke(pdf: Any, stroke: Stroke, look: Look, scale: float) -> None:
    pen = look.pen(stroke.role)
    pdf.setStrokeColor(_colour(pen.colour))
    pdf.setLineWidth(pen.width / scale)
    pdf.setLineJoin(JOIN_ROUND)
    pdf.setLineCap(CAP_BUTT if pen.dash else CAP_ROUND)
    pdf.setDash([each / scale for each in pen.dash], 0)
    outline = pdf.beginPath()
    _trace(outline, stroke.path, closed=stroke.closed)
    pdf.drawPath(outline, stroke=1, fill=0)


@cache
def _colour(said: str) -> Any:
    """Read a colour once, not for every line that has it."""
    return toColor(said)


def _draw_fill(pdf: Any, fill: Fill, look: Look) -> None:
    colour = look.fill(fill.role)
    if colour is None:
        return
    pdf.setFillColor(_colour(colour))
    outline = pdf.beginPath()
    for ring in (fill.path, *fill.holes):
        _trace(outline, ring, closed=True)
    if (hides := look.hides(fill.role)) < 1.0:
        pdf.saveState()
        pdf.setFillAlpha(hides)
    pdf.drawPath(outline, stroke=0, fill=1, fillMode=EVEN_ODD)
    if hides < 1.0:
        pdf.restoreState()


def _draw_photo(pdf: Any, photo: DrawnPhoto) -> None:
    """Draw every copy of a photo through its path; what is in the file stands in the PDF once."""
    if not photo.data:
        return
    name = f"photo-{hashlib.sha256(photo.data).hexdigest()[:16]}"
    if not pdf.hasForm(name):
        pdf.beginForm(name, 0, 0, 1, 1)
        pdf.drawImage(ImageReader(io.BytesIO(photo.data)), 0, 0, 1, 1)
        pdf.endForm()
    pdf.saveState()
    outline = pdf.beginPath()
    _trace(outline, photo.clip, closed=True)
    pdf.clipPath(outline, stroke=0, fill=0)
    pdf.transform(*photo.move)
    for spot in photo.spots:
        pdf.saveState()
        pdf.transform(photo.wide, 0, 0, photo.tall, *spot)
        pdf.doForm(name)
        pdf.restoreState()
    pdf.restoreState()


def _draw_text(pdf: Any, text: Text, look: Look) -> None:
    words = fonts.legible(text.words)
    pdf.saveState()
    pdf.setFillColor(_colour(look.ink(text.role)))
    pdf.setFont(fonts.PLAIN, text.size)
    pdf.translate(text.at.x, text.at.y)
    if text.angle_deg:
        pdf.rotate(text.angle_deg)
    shift = {"start": 0.0, "middle": -0.5, "end": -1.0}[text.anchor]
    pdf.drawString(shift * fonts.width(words, text.size), 0, words)
    pdf.restoreState()


def _trace(outline: Any, path: Path, *, closed: bool) -> None:
    outline.moveTo(path.start.x, path.start.y)
    for segment in path.segments:
        if isinstance(segment, Line):
            outline.lineTo(segment.p1.x, segment.p1.y)
        else:
            outline.curveTo(*segment.p1, *segment.p2, *segment.p3)
    if closed:
        outline.close()


def _with_layers(content: bytes, names: list[str], layers: list[set[DrawnRole]]) -> bytes:
    """Name the layers and the pages of a PDF whose content is marked by role."""
    used = [role for role in DrawnRole if any(role in page for page in layers)]
    with pikepdf.open(io.BytesIO(content)) as pdf:
        groups = {
            role: pdf.make_indirect(
                pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=pikepdf.String(role.value))
            )
            for role in used
        }
        for page, roles in zip(pdf.pages, layers, strict=True):
            marked = {f"/{role.value}": groups[role] for role in used if role in roles}
            page.obj.Resources.Properties = pikepdf.Dictionary(marked)
        every = pikepdf.Array(list(groups.values()))
        shown = pikepdf.Dictionary(Order=every, ON=every, OFF=pikepdf.Array([]))
        pdf.Root.OCProperties = pikepdf.Dictionary(OCGs=every, D=shown)
        labels: list[Any] = []
        for number, name in enumerate(names):
            labels += [number, pikepdf.Dictionary(P=pikepdf.String(name))]
        pdf.Root.PageLabels = pikepdf.Dictionary(Nums=pikepdf.Array(labels))
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True)
    return out.getvalue()
