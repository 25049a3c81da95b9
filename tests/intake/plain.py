"""A drawing of shapes and words, written as SVG and as PDF: the same lines by both ways."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, replace

import pikepdf
from pikepdf import Dictionary, Name, Stream

from clothwright.intake.drawing import Drawing
from clothwright.intake.pdf.reader import read_pdf
from clothwright.intake.svg import read_svg

MM = 72 / 25.4
WAYS = ("svg", "pdf")


@dataclass(frozen=True, kw_only=True)
class Shape:
    """Rings of points, mm from the lower left, y up. stroke, fill: "#rrggbb", "" for none."""

    rings: tuple[tuple[tuple[float, float], ...], ...]
    closed: bool = False
    stroke: str = "#000000"
    fill: str = ""
    width: float = 0.5


@dataclass(frozen=True, kw_only=True)
class Word:
    """Words that begin at a place, mm, in letters so high."""

    text: str
    at: tuple[float, float]
    size: float = 6.0


def line(*points: tuple[float, float], **look: object) -> Shape:
    """Return an open line."""
    return Shape(rings=(points,), **look)  # type: ignore[arg-type]


def area(*points: tuple[float, float], **look: object) -> Shape:
    """Return a closed line."""
    return Shape(rings=(points,), closed=True, **look)  # type: ignore[arg-type]


def box(x: float, y: float, wide: float, tall: float, **look: object) -> Shape:
    """Return a rectangle."""
    return area((x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall), **look)


@dataclass(frozen=True, kw_only=True)
class Plain:
    """A sheet of shapes and words, mm."""

    shapes: tuple[Shape, ...]
    words: tuple[Word, ...] = ()
    wide: float = 400.0
    tall: float = 500.0

    def read(self, way: str) -> Drawing:
        """Return what the reader makes of it, written one way."""
        if way == "svg":
            return read_svg(self.svg(), "d.svg")
        return read_pdf(self.pdf(), "d.pdf")

    def and_(self, *shapes: Shape, words: Sequence[Word] = ()) -> Plain:
        """Return the sheet with more on it."""
        return replace(self, shapes=(*self.shapes, *shapes), words=(*self.words, *words))

    def svg(self) -> bytes:
        """Return it as SVG."""
        rows = []
        for s in self.shapes:
            rings = (" L ".join(f"{x:.4f} {self.tall - y:.4f}" for x, y in r) for r in s.rings)
            d = " ".join(f"M {r}{' Z' if s.closed else ''}" for r in rings)
            rows.append(
                f'<path d="{d}" fill="{s.fill or "none"}" stroke="{s.stroke or "none"}" '
                f'stroke-width="{s.width}"/>'
            )
        rows += [
            f'<text x="{w.at[0]}" y="{self.tall - w.at[1]}" font-size="{w.size}" '
            f'font-family="Helvetica">{w.text}</text>'
            for w in self.words
        ]
        head = f'width="{self.wide}mm" height="{self.tall}mm" viewBox="0 0 {self.wide} {self.tall}"'
        body = "".join(rows)
        return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>'.encode()

    def pdf(self) -> bytes:
        """Return it as PDF of one page."""
        rows = []
        for s in self.shapes:
            rows.append("q")
            rows += [f"{_rgb(s.stroke)} RG"] if s.stroke else []
            rows += [f"{_rgb(s.fill)} rg"] if s.fill else []
            rows.append(f"{s.width * MM:.4f} w")
            for r in s.rings:
                steps = zip(r, "m" + "l" * len(r), strict=False)
                rows += [f"{x * MM:.5f} {y * MM:.5f} {step}" for (x, y), step in steps]
                rows += ["h"] if s.closed else []
            rows += [("B*" if s.stroke else "f*") if s.fill else "S", "Q"]
        for w in self.words:
            x, y = w.at
            at = f"{w.size * MM:.4f} Tf {x * MM:.4f} {y * MM:.4f} Td"
            rows.append(f"BT /F1 {at} ({w.text}) Tj ET")
        pdf = pikepdf.new()
        pdf.add_blank_page(page_size=(self.wide * MM, self.tall * MM))
        page = pdf.pages[0].obj
        font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
        page.Resources = Dictionary(Font=Dictionary(F1=font))
        page.Contents = Stream(pdf, "\n".join(rows).encode("latin-1"))
        out = io.BytesIO()
        pdf.save(out)
        return out.getvalue()


def _rgb(colour: str) -> str:
    return " ".join(f"{int(colour[k : k + 2], 16) / 255:.4f}" for k in (1, 3, 5))
