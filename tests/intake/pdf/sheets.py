"""Sheets of demo pieces, and seven programs that write them as PDF files."""

from __future__ import annotations

import io
import shutil
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path as FilePath
from xml.sax.saxutils import escape

import pytest

from clothwright.demo.three_sizes import nested_skirt
from clothwright.geometry.path import Path
from clothwright.geometry.path_data import path_text
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Piece

MM = 72 / 25.4
CHROMIUM = "/usr/bin/chromium"


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A line as it is to be drawn: mm from the lower left of the sheet, y up."""

    path: Path
    width: float = 0.6
    dash: tuple[float, ...] = ()
    colour: tuple[float, float, float] = (0.0, 0.0, 0.0)
    layer: str = ""


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A sheet with lines and words (middle, mm; height of type, mm)."""

    width: float
    height: float
    lines: tuple[Drawn, ...]
    words: tuple[tuple[str, Vec, float], ...] = ()


def outline_of(piece: Piece) -> Path:
    """Return the cutting line of a piece."""
    return cutting_line(piece).outline


def skirt_sheet() -> Sheet:
    """Front and back of the demo skirt on one sheet, with names and a grain line each."""
    lines: list[Drawn] = []
    words: list[tuple[str, Vec, float]] = []
    x = 30.0
    for piece in nested_skirt().pieces[:2]:
        path = outline_of(piece)
        low, high = path.bounds()
        move = translation(Vec(x, 30.0) - low)
        lines.append(Drawn(path=path.transformed(move)))
        assert piece.grain is not None
        grain = Path((Line(move.apply(piece.grain.start), move.apply(piece.grain.end)),))
        lines.append(Drawn(path=grain, width=0.35))
        words.append((piece.name, move.apply((low + high) / 2) + Vec(40.0, 0.0), 8.0))
        x += high.x - low.x + 40.0
    return Sheet(width=x + 30.0, height=840.0, lines=tuple(lines), words=tuple(words))


def nested_sheet(by: str) -> Sheet:
    """The skirt's front in three sizes, told apart by "layer", "dash" or "colour"."""
    sizes = nested_skirt().sizes
    assert sizes is not None
    looks = {
        "12": ((), (0.0, 0.0, 0.0)),
        "14": ((6.0, 3.0), (0.8, 0.1, 0.1)),
        "16": ((2.0, 2.0), (0.1, 0.2, 0.8)),
    }
    lines, words = [], []
    for k, (name, piece) in enumerate(zip(sizes.names, sizes.each("skirt front"), strict=True)):
        path = outline_of(piece).transformed(translation(Vec(60.0, 740.0)))
        dash, colour = looks[name]
        look = Drawn(
            path=path,
            layer=f"Size {name}" if by == "layer" else "",
            dash=dash if by == "dash" else (),
            colour=colour if by == "colour" else (0.0, 0.0, 0.0),
        )
        lines.append(look)
        if by != "layer":  # a legend: a stretch of the line, and the size beside it
            y = 790.0 + 12.0 * k
            lines.append(replace(look, path=Path((Line(Vec(320.0, y), Vec(360.0, y)),))))
            words.append((f"Size {name}", Vec(385.0, y), 6.0))
    words.append(("skirt front", Vec(170.0, 500.0), 8.0))
    return Sheet(width=420.0, height=840.0, lines=tuple(lines), words=tuple(words))


def svg_of(sheet: Sheet, *, groups: bool = True) -> str:
    """Return a sheet as SVG text."""
    down = translation(Vec(0.0, -sheet.height))  # path_text turns y over
    out = [
        '<svg xmlns="http://www.w3.org/2000/svg" '
        'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
        f'width="{sheet.width}mm" height="{sheet.height}mm" '
        f'viewBox="0 0 {sheet.width} {sheet.height}">'
    ]
    for line in sheet.lines:
        r, g, b = (round(255 * c) for c in line.colour)
        dash = f' stroke-dasharray="{" ".join(map(str, line.dash))}"' if line.dash else ""
        closed = " Z" if line.path.start.distance(line.path.end) < 1e-6 else ""
        path = (
            f'<path d="{path_text(line.path.transformed(down))}{closed}" fill="none" '
            f'stroke="rgb({r},{g},{b})" stroke-width="{line.width}"{dash}/>'
        )
        if line.layer and groups:
            path = f'<g inkscape:groupmode="layer" inkscape:label="{line.layer}">{path}</g>'
        out.append(path)
    for words, at, size in sheet.words:
        out.append(
            f'<text x="{at.x}" y="{sheet.height - at.y}" font-size="{size}" '
            f'font-family="DejaVu Sans, sans-serif" text-anchor="middle">{escape(words)}</text>'
        )
    return "\n".join((*out, "</svg>"))


# --- writers -------------------------------------------------------------------------------------


def by_reportlab(sheet: Sheet, folder: FilePath) -> bytes:
    """Write with reportlab; layers put round the lines afterwards by pikepdf."""
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(sheet.width * MM, sheet.height * MM))
    for line in sheet.lines:
        canvas.saveState()
        canvas.setStrokeColorRGB(*line.colour)
        canvas.setLineWidth(line.width * MM)
        if line.dash:
            canvas.setDash([d * MM for d in line.dash])
        canvas.drawPath(_reportlab_path(canvas, line.path), stroke=1, fill=0)
        canvas.restoreState()
    for words, at, size in sheet.words:
        canvas.setFont("Helvetica", size * MM)
        canvas.drawCentredString(at.x * MM, at.y * MM, words)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _reportlab_path(canvas, path: Path):
    p = canvas.beginPath()
    p.moveTo(path.start.x * MM, path.start.y * MM)
    for segment in path.segments:
        points = [c * MM for q in segment.controls()[1:] for c in (q.x, q.y)]
        if len(points) == 2:
            p.lineTo(*points)
        else:
            p.curveTo(*points)
    if path.start.distance(path.end) < 1e-6:
        p.close()
    return p


def by_fpdf2(sheet: Sheet, folder: FilePath) -> bytes:
    """Write with fpdf2."""
    from fpdf import FPDF
    from fpdf.drawing import DeviceRGB, PaintedPath
    from fpdf.enums import PathPaintRule

    pdf = FPDF(unit="mm", format=(sheet.width, sheet.height))
    pdf.add_page()
    pdf.set_font("Helvetica", size=12)
    flip = Transform(1.0, 0.0, 0.0, -1.0, 0.0, sheet.height)
    with pdf.drawing_context() as gc:
        for line in sheet.lines:
            path = line.path.transformed(flip)
            made = PaintedPath()
            made.style.paint_rule = PathPaintRule.STROKE
            made.style.auto_close = False
            made.style.stroke_width = line.width
            made.style.stroke_color = DeviceRGB(*line.colour)
            if line.dash:
                made.style.stroke_dash_pattern = line.dash
            made.move_to(path.start.x, path.start.y)
            for segment in path.segments:
                points = [c for q in segment.controls()[1:] for c in (q.x, q.y)]
                (made.line_to if len(points) == 2 else made.curve_to)(*points)
            if path.start.distance(path.end) < 1e-6:
                made.close()
            gc.add_item(made)
    for words, at, size in sheet.words:
        pdf.set_font_size(size * MM)
        wide = pdf.get_string_width(words)
        pdf.text(at.x - wide / 2, sheet.height - at.y, words)
    return bytes(pdf.output())


def by_cairo(sheet: Sheet, folder: FilePath) -> bytes:
    """Write with cairo."""
    cairosvg = pytest.importorskip("cairosvg", exc_type=(ImportError, OSError))
    found = cairosvg.svg2pdf(bytestring=svg_of(sheet).encode())
    assert isinstance(found, bytes)
    return found


def by_rsvg(sheet: Sheet, folder: FilePath) -> bytes:
    """Write with rsvg-convert."""
    return _by(sheet, folder, "rsvg-convert", "-f", "pdf", "-o", "{out}", "{svg}")


def by_inkscape(sheet: Sheet, folder: FilePath) -> bytes:
    """Write with Inkscape."""
    return _by(sheet, folder, "inkscape", "--export-filename={out}", "{svg}")


def by_ghostscript(sheet: Sheet, folder: FilePath) -> bytes:
    """Write with reportlab, then have Ghostscript write it anew."""
    first = folder / "first.pdf"
    first.write_bytes(by_reportlab(sheet, folder))
    return _run(
        "gs", folder, "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-o{out}", str(first)
    )


def by_chromium(sheet: Sheet, folder: FilePath) -> bytes:
    """Print from Chromium."""
    size = f"{sheet.width}mm {sheet.height}mm"
    page = folder / "sheet.html"
    page.write_text(
        f"<style>@page{{size:{size};margin:0}}html,body{{margin:0}}svg{{display:block}}</style>"
        + svg_of(sheet),
        encoding="utf-8",
    )
    flags = ("--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer")
    return _run(CHROMIUM, folder, *flags, "--print-to-pdf={out}", page.as_uri())


def _by(sheet: Sheet, folder: FilePath, program: str, *arguments: str) -> bytes:
    svg = folder / "sheet.svg"
    svg.write_text(svg_of(sheet), encoding="utf-8")
    return _run(program, folder, *(a.replace("{svg}", str(svg)) for a in arguments))


def _run(program: str, folder: FilePath, *arguments: str) -> bytes:
    if shutil.which(program) is None:
        pytest.skip(f"{program} is not installed")
    out = folder / "out.pdf"
    whole = [program, *(a.replace("{out}", str(out)) for a in arguments)]
    subprocess.run(whole, check=True, capture_output=True, timeout=120)
    return out.read_bytes()


Writer = Callable[[Sheet, FilePath], bytes]
WRITERS: dict[str, Writer] = {
    "reportlab": by_reportlab,
    "fpdf2": by_fpdf2,
    "cairo": by_cairo,
    "rsvg": by_rsvg,
    "inkscape": by_inkscape,
    "ghostscript": by_ghostscript,
    "chromium": by_chromium,
}


def farthest(found: Path, wanted: Path, step: float = 2.0) -> float:
    """Return how far two lines lie apart at most, both ways, in mm."""
    return max(*_distances(found, wanted, step), *_distances(wanted, found, step))


@lru_cache(maxsize=64)
def walked(path: Path, step: float) -> tuple[Vec, ...]:
    """Points along a line, about so many mm apart, from its start to its end."""
    length = path.length
    count = max(2, int(length / step))
    return tuple(path.point_at(length * k / count) for k in range(count + 1))


def _distances(a: Path, b: Path, step: float) -> Iterator[float]:
    return (b.nearest(p)[1] for p in walked(a, step))
