"""Tiles of which each draws only the shapes that touch it, every shape whole; the page clips it.

Also a writer of PDF content by hand, so that a test can say exactly what stands in a file.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import pikepdf

from clothwright.demo.three_sizes import nested_skirt
from clothwright.geometry.box import Box
from clothwright.geometry.path import Path, polyline, rectangle
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import Drawing
from clothwright.intake.pdf.clip import clipped
from clothwright.intake.pen import PenLine
from tests.intake.pdf.sheets import MM, Drawn, Sheet, farthest, outline_of, walked
from tests.intake.pdf.tiled import PLAIN

A4 = Vec(210.0, 297.0)
LOOKS = {
    "12": ((), (0.0, 0.0, 0.0)),
    "14": ((6.0, 3.0), (0.8, 0.1, 0.1)),
    "16": ((2.0, 2.0), (0.1, 0.2, 0.8)),
}


def three_pieces() -> Sheet:
    """Skirt front, back and band: names, grain lines, darts with their legs on the edge."""
    lines: list[Drawn] = []
    words: list[tuple[str, Vec, float]] = []
    x = 25.0
    for piece in nested_skirt().pieces:
        path = outline_of(piece)
        low, high = path.bounds()
        if high.x - low.x > high.y - low.y:  # the band stands upright
            from clothwright.geometry.transform import Transform

            path = path.transformed(Transform(0.0, 1.0, -1.0, 0.0, 0.0, 0.0))
            low, high = path.bounds()
        move = translation(Vec(x, 25.0) - low)
        path = path.transformed(move)
        lines.append(Drawn(path=path))
        middle = move.apply((low + high) / 2)
        lines.append(
            Drawn(path=Path((Line(middle - Vec(8, 100), middle + Vec(-8, 110)),)), width=0.35)
        )
        words.append((piece.name, middle + Vec(12.0, 37.0), 6.0))
        if high.x - low.x > 150:
            lines.append(_dart(path, middle))
        x += high.x - low.x + 30.0
    return Sheet(width=x, height=830.0, lines=tuple(lines), words=tuple(words))


def _dart(outline: Path, middle: Vec) -> Drawn:
    """A dart whose legs end on the top edge."""
    tip = Vec(middle.x + 20.0, outline.bounds()[1].y - 110.0)
    legs = []
    for x in (tip.x - 11.0, tip.x + 11.0):
        near = outline.nearest(Vec(x, outline.bounds()[1].y))[0]
        legs.append(outline.point_at(near))
    return Drawn(path=polyline([legs[0], tip, legs[1]]), width=0.35)


def three_sizes(by: str, *, legend: bool = True) -> Sheet:
    """Front and back, each in three sizes inside one another, told apart "dash" or "colour"."""
    sizes = nested_skirt().sizes
    assert sizes is not None
    lines: list[Drawn] = []
    words: list[tuple[str, Vec, float]] = []
    x = 40.0
    for name in ("skirt front", "skirt back"):
        each = [outline_of(p) for p in sizes.each(name)]
        low = min((p.bounds()[0] for p in each), key=lambda v: v.x)
        high = max((p.bounds()[1] for p in each), key=lambda v: v.x)
        top = max(p.bounds()[1].y for p in each)
        bottom = min(p.bounds()[0].y for p in each)
        move = translation(Vec(x - low.x, 40.0 - bottom))
        for size, path in zip(sizes.names, each, strict=True):
            dash, colour = LOOKS[size]
            lines.append(
                Drawn(
                    path=path.transformed(move),
                    dash=dash if by == "dash" else (),
                    colour=colour if by == "colour" else (0.0, 0.0, 0.0),
                )
            )
        words.append((name, move.apply(Vec((low.x + high.x) / 2, (top + bottom) / 2)), 7.0))
        x += high.x - low.x + 60.0
    if legend:
        for k, size in enumerate(sizes.names):
            dash, colour = LOOKS[size]
            y = 800.0 + 12.0 * k
            lines.append(
                Drawn(
                    path=Path((Line(Vec(60.0, y), Vec(100.0, y)),)),
                    dash=dash if by == "dash" else (),
                    colour=colour if by == "colour" else (0.0, 0.0, 0.0),
                )
            )
            words.append((f"Size {size}", Vec(125.0, y), 6.0))
    return Sheet(width=x, height=840.0, lines=tuple(lines), words=tuple(words))


@dataclass(frozen=True, kw_only=True)
class Tiling:
    """How a sheet is shared out. margin: of the window on the page; overlap: of neighbours, mm.

    frame: drawn round the window. labels: "B3", "3" or "". order: "rows" or "columns". cover: a
    page before them with words and a test square. blank: pages that nothing touches stay in.
    """

    margin: float = 10.0
    overlap: float = 0.0
    frame: bool = True
    labels: str = "B3"
    order: str = "rows"
    cover: bool = False
    blank: bool = True


def touches(path: Path, low: Vec, high: Vec) -> bool:
    """Tell whether any point of a line lies in a box."""
    return any(low.x <= p.x <= high.x and low.y <= p.y <= high.y for p in walked(path, 1.0))


def pages_touching(sheet: Sheet, how: Tiling) -> list[Sheet]:
    """Return the pages of a sheet, each with the shapes that touch it, whole."""
    window = A4 - Vec(2 * how.margin, 2 * how.margin)
    step = window - Vec(how.overlap, how.overlap)
    wide = -int(-(sheet.width - how.overlap) // step.x)
    tall = -int(-(sheet.height - how.overlap) // step.y)
    cells = [(c, r) for r in range(tall) for c in range(wide)]
    if how.order == "columns":
        cells = [(c, r) for c in range(wide) for r in range(tall)]
    out = [_cover()] if how.cover else []
    n = 0
    for c, r in cells:
        low = Vec(c * step.x, sheet.height - window.y - r * step.y)
        here = [x for x in sheet.lines if touches(x.path, low, low + window)]
        words = [
            w
            for w in sheet.words
            if low.x < w[1].x < low.x + window.x and low.y < w[1].y < low.y + window.y
        ]
        if not here and not how.blank:
            continue
        n += 1
        move = Vec(how.margin, how.margin) - low
        lines = [replace(x, path=x.path.transformed(translation(move))) for x in here]
        texts = [(w, p + move, s) for w, p, s in words]
        if how.frame:
            corner = Vec(how.margin, how.margin)
            lines.append(Drawn(path=rectangle(corner, corner + window), width=0.2))
        if how.labels:
            label = f"{'ABCDEFGH'[r]}{c + 1}" if how.labels == "B3" else str(n)
            texts.append((label, Vec(how.margin + 8.0, how.margin + 8.0), 6.0))
        out.append(Sheet(width=A4.x, height=A4.y, lines=tuple(lines), words=tuple(texts)))
    return out


def _cover() -> Sheet:
    square = rectangle(Vec(40.0, 60.0), Vec(140.0, 160.0))
    return Sheet(
        width=A4.x,
        height=A4.y,
        lines=(Drawn(path=square),),
        words=(
            ("Demo skirt, print at full size", Vec(100.0, 250.0), 7.0),
            ("100 mm", Vec(90.0, 110.0), 6.0),
        ),
    )


def by_hand(pages: Sequence[Sheet], *, white: bool = False) -> bytes:
    """Write pages operator by operator. white: each page is painted white first."""
    out = pikepdf.new()
    for sheet in pages:
        out.add_blank_page(page_size=(sheet.width * MM, sheet.height * MM))
        page = out.pages[-1]
        page.Resources = pikepdf.Dictionary(
            Font=pikepdf.Dictionary(
                F=pikepdf.Dictionary(
                    Type=pikepdf.Name.Font,
                    Subtype=pikepdf.Name.Type1,
                    BaseFont=pikepdf.Name.Helvetica,
                )
            )
        )
        page.Contents = out.make_stream(_content(sheet, white=white).encode())
    saved = io.BytesIO()
    out.save(saved)
    return saved.getvalue()


def _content(sheet: Sheet, *, white: bool) -> str:
    out = [f"1 g 0 0 {sheet.width * MM:.3f} {sheet.height * MM:.3f} re f 0 g"] if white else []
    for line in sheet.lines:
        r, g, b = line.colour
        dash = " ".join(f"{d * MM:.3f}" for d in line.dash)
        out.append(f"q {line.width * MM:.3f} w {r} {g} {b} RG [{dash}] 0 d")
        out.append(f"{line.path.start.x * MM:.3f} {line.path.start.y * MM:.3f} m")
        for s in line.path.segments:
            numbers = " ".join(f"{v * MM:.3f}" for p in s.controls()[1:] for v in (p.x, p.y))
            out.append(f"{numbers} {'l' if isinstance(s, Line) else 'c'}")
        if line.width == 0.0:
            out.append("f Q")
            continue
        out.append("s Q" if line.path.start.distance(line.path.end) < 1e-6 else "S Q")
    for words, at, size in sheet.words:
        x, y = at.x * MM - 0.25 * size * MM * len(words), at.y * MM - 0.35 * size * MM
        out.append(f"BT /F {size * MM:.2f} Tf {x:.2f} {y:.2f} Td ({words}) Tj ET")
    return "\n".join(out)


def thin_areas(pages: Sequence[Sheet], made: str) -> list[Sheet]:
    """Return pages whose frame, the last line, is drawn as "strokes", thin "areas", or "open"."""
    out = []
    for page in pages:
        *others, frame = page.lines
        corners = [s.start for s in frame.path.segments]
        ring = [*corners, corners[0]]
        if made == "open":
            end = corners[0] + Vec(0.0, 0.05)
            parts = [Drawn(path=polyline([*corners, end]), width=0.2)]
        elif made == "strokes":
            parts = [Drawn(path=Path((Line(a, b),)), width=0.2) for a, b in pairwise(ring)]
        else:
            off = Vec(0.15, 0.15)
            parts = [
                Drawn(
                    path=rectangle(Vec(*map(min, a, b)) - off, Vec(*map(max, a, b)) + off),
                    width=0.0,
                )
                for a, b in pairwise(ring)
            ]
        out.append(replace(page, lines=(*others, *parts)))
    return out


def lines_left_out(page: Sheet) -> Sheet:
    """Return a page as some programs write it: lines are cut off at the paper, curves are not.

    A curve that follows lines beyond the paper begins where the last thing drawn has ended.
    """
    paper = Box(Vec(0.0, 0.0), Vec(page.width, page.height))
    lines: list[Drawn] = []
    for drawn in page.lines:
        parts: list[list[Segment]] = [[]]
        here = drawn.path.start
        for s in drawn.path.segments:
            if isinstance(s, Cubic):
                parts[-1].append(replace(s, p0=here))
                here = s.end
                continue
            pen = PenLine(path=Path((s,)), closed=False, pen=PLAIN)
            for cut in clipped(pen, paper):
                if cut.path.start.distance(here) > 1e-6:
                    parts.append([])
                parts[-1] += cut.path.segments
                here = cut.path.end
        lines += [replace(drawn, path=Path(tuple(p))) for p in parts if p]
    return replace(page, lines=tuple(lines))


def misfit(drawing: Drawing, sheet: Sheet) -> float:
    """Return how far the lines read lie from those drawn, mm; none may be gone.

    The samples of a legend are none of the drawing.
    """
    samples = any(words.startswith("Size") for words, _, _ in sheet.words)
    wanted = [x.path for x in sheet.lines if not (samples and x.path.length < 41.0)]
    found = [x.path for x in drawing.lines]
    large = [[p for p in ps if p.length > 600.0] for ps in (wanted, found)]
    low = [Vec(*(min(p.bounds()[0][k] for p in ps) for k in (0, 1))) for ps in large]
    move = translation(low[0] - low[1])
    here = [p.transformed(move) for p in found]
    return max(_nearest(w, here) for w in wanted)


def _nearest(wanted: Path, found: list[Path]) -> float:
    """Return how far a line lies from the one that was read of it, which is used up."""
    alike = [p for p in found if abs(p.length - wanted.length) < 1.0]
    assert alike, f"a line of {wanted.length:.0f} mm is gone"
    ends = min(alike, key=lambda p: p.bounds()[0].distance(wanted.bounds()[0]))
    found.remove(ends)
    return farthest(ends, wanted, 25.0)
