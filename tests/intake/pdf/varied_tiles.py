"""Sheets shared out over pages in many ways: what programs and makers do, each way a value.

Every way is a `Varied`; `pages_in` shares a sheet out, `written` makes the file of it. The pages
are cut, or hold each shape whole; framed by lines, a rectangle, corners, crosses, half diamonds or
not at all; upright or lying; in any order; turned, cropped, or in units of their own.
"""

from __future__ import annotations

import io
import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import pikepdf

from clothwright.geometry.path import Path, polyline, rectangle
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import Drawing
from tests.intake.pdf.sheets import MM, Drawn, Sheet, farthest
from tests.intake.pdf.tiled import marks, part_of
from tests.intake.pdf.touching import A4, by_hand, touches

CORNER_MM = 8.0
LEAST_OUTLINE_MM = 600.0
CONTENTS = ("whole", "cut", "all")
FRAMES = ("rect", "lines", "corners", "crosses", "halves", "none")
LABELS = ("", "B3", "3", "3 of 9")
ORDERS = ("rows", "columns", "shuffled")


@dataclass(frozen=True, kw_only=True)
class Varied:
    """A way to share a sheet out over pages.

    content: each page holds "whole" the shapes that touch it, "all" of them, or what is "cut" from
    them at its window. margin: of the window on the page; overlap: of two neighbours, mm. frame:
    what is drawn round the window, one of FRAMES; inner: round what no neighbour shows instead.
    blank: pages on which nothing is drawn stay in. turned: degrees of /Rotate, undone in what is
    drawn. cropped: the paper is larger than what is shown of it. unit: of the user, 1/72 inch.
    """

    content: str = "whole"
    margin: float = 10.0
    overlap: float = 0.0
    frame: str = "rect"
    inner: bool = False
    lying: bool = False
    blank: bool = True
    labels: str = ""
    order: str = "rows"
    turned: int = 0
    cropped: bool = False
    unit: float = 1.0
    seed: int = 0

    @property
    def paper(self) -> Vec:
        """The size of a page as it is shown, mm."""
        return Vec(A4.y, A4.x) if self.lying else A4

    @property
    def window(self) -> Vec:
        """What a page shows, mm."""
        return self.paper - Vec(2 * self.margin, 2 * self.margin)


def drawn_at_random(seed: int) -> Varied:
    """Return one of the many ways, the same for a seed."""
    pick = random.Random(seed)
    frame = pick.choice(FRAMES)
    overlap = pick.choice((0.0, 10.0, 20.0))
    return Varied(
        content=pick.choice(CONTENTS),
        margin=0.0 if frame == "none" and pick.random() < 0.5 else 10.0,
        overlap=overlap,
        frame=frame,
        inner=overlap > 0 and pick.random() < 0.3,
        lying=pick.random() < 0.3,
        blank=pick.random() < 0.5,
        labels=pick.choice(LABELS),
        order=pick.choice(ORDERS),
        turned=pick.choice((0, 0, 0, 90, 270)),
        cropped=pick.random() < 0.25,
        unit=pick.choice((1.0, 1.0, 1.0, 2.0)),
        seed=seed,
    )


def pages_in(sheet: Sheet, how: Varied) -> list[Sheet]:
    """Return the pages of a sheet, upright, true to size."""
    step = how.window - Vec(how.overlap, how.overlap)
    wide = -int(-(sheet.width - how.overlap) // step.x)
    tall = -int(-(sheet.height - how.overlap) // step.y)
    cells = [(c, r) for r in range(tall) for c in range(wide)]
    if how.order == "columns":
        cells = [(c, r) for c in range(wide) for r in range(tall)]
    made = []
    for c, r in cells:
        low = Vec(c * step.x, sheet.height - how.window.y - r * step.y)
        shown = _shown(sheet, low, how)
        if shown.lines or how.blank:
            made.append((c, r, shown))
    out = [_marked(shown, how, c, r, f"{k}", len(made)) for k, (c, r, shown) in enumerate(made, 1)]
    if how.order == "shuffled":
        random.Random(how.seed).shuffle(out)
    return out


def _shown(sheet: Sheet, low: Vec, how: Varied) -> Sheet:
    """Return what the page shows whose window has its lower left corner at a place of the sheet."""
    part = part_of(sheet, low, how.window)
    if how.content != "cut":
        here = [
            x for x in sheet.lines if how.content == "all" or touches(x.path, low, low + how.window)
        ]
        move = translation(low * -1.0)
        part = replace(part, lines=tuple(replace(x, path=x.path.transformed(move)) for x in here))
    return _moved(part, Vec(how.margin, how.margin), how.paper)


def _moved(sheet: Sheet, by: Vec, size: Vec) -> Sheet:
    move = translation(by)
    return Sheet(
        width=size.x,
        height=size.y,
        lines=tuple(replace(x, path=x.path.transformed(move)) for x in sheet.lines),
        words=tuple((w, p + by, s) for w, p, s in sheet.words),
    )


def _marked(page: Sheet, how: Varied, c: int, r: int, number: str, count: int) -> Sheet:
    off = how.overlap / 2 if how.inner else 0.0
    corner = Vec(how.margin + off, how.margin + off)
    size = how.window - Vec(2 * off, 2 * off)
    lines = tuple(
        replace(x, path=x.path.transformed(translation(corner))) for x in _frame(how.frame, size)
    )
    label = {"B3": f"{'ABCDEFGH'[r]}{c + 1}", "3": number, "3 of 9": f"page {number} of {count}"}
    words = ((label[how.labels], corner + Vec(14.0, 8.0), 5.0),) if how.labels else ()
    return replace(page, lines=(*page.lines, *lines), words=(*page.words, *words))


def _frame(kind: str, size: Vec) -> tuple[Drawn, ...]:
    """Return what is drawn round a window that begins at nought."""
    ring = [Vec(0, 0), Vec(size.x, 0), size, Vec(0, size.y), Vec(0, 0)]
    if kind == "none":
        return ()
    if kind == "rect":
        return (Drawn(path=rectangle(Vec(0, 0), size), width=0.2),)
    if kind == "lines":
        return tuple(Drawn(path=Path((Line(a, b),)), width=0.2) for a, b in pairwise(ring))
    if kind == "corners":
        ways = ((1, 1), (-1, 1), (-1, -1), (1, -1))
        return tuple(
            Drawn(
                path=polyline(
                    [p + Vec(CORNER_MM * x, 0), p, p + Vec(0, CORNER_MM * y)],
                ),
                width=0.2,
            )
            for p, (x, y) in zip(ring, ways, strict=False)
        )
    return marks(kind, size, 0, 0)[0]


def written(pages: Sequence[Sheet], how: Varied) -> bytes:
    """Return the file: turned, cropped and in the unit that is asked for; shown it is the same."""
    file = pikepdf.open(io.BytesIO(by_hand(pages)))
    for page in file.pages:
        _turned(file, page, how)
    out = io.BytesIO()
    file.save(out)
    return out.getvalue()


def _turned(file: pikepdf.Pdf, page: pikepdf.Page, how: Varied) -> None:
    x, y = how.paper * MM
    box, move = [0.0, 0.0, x, y], (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    if how.turned == 90:  # shown a quarter clockwise: drawn a quarter the other way
        box, move = [0.0, 0.0, y, x], (0.0, 1.0, -1.0, 0.0, y, 0.0)
    elif how.turned == 270:
        box, move = [0.0, 0.0, y, x], (0.0, -1.0, 1.0, 0.0, 0.0, x)
    move = tuple(v / how.unit for v in move)
    box = [v / how.unit for v in box]
    page.contents_add(
        file.make_stream(("q " + " ".join(f"{v:.6f}" for v in move) + " cm\n").encode()),
        prepend=True,
    )
    page.contents_add(file.make_stream(b"\nQ"))
    page.MediaBox = pikepdf.Array(box)
    if how.turned:
        page.Rotate = how.turned
    if how.unit != 1.0:
        page.UserUnit = how.unit
    if how.cropped:
        page.CropBox = pikepdf.Array(box)
        page.MediaBox = pikepdf.Array([box[0] - 30, box[1] - 40, box[2] + 50, box[3] + 20])


def misfit_by_piece(drawing: Drawing, sheet: Sheet) -> float:
    """Return how far lines read lie from those drawn, mm, each piece wherever it came to lie.

    Outlines are longer than 600 mm. The samples of a legend are none of the drawing.
    """
    samples = any(words.startswith("Size") for words, _, _ in sheet.words)
    wanted = [x.path for x in sheet.lines if not (samples and x.path.length < 41.0)]
    found = [x.path for x in drawing.lines]
    outlines = [p for p in wanted if p.length > LEAST_OUTLINE_MM]
    worst = 0.0
    for outline in outlines:
        inner = [p for p in wanted if p not in outlines and _holder(p, outlines) is outline]
        own = _taken(found, outline, Vec(0.0, 0.0), anywhere=True)
        by = outline.bounds()[0] - own.bounds()[0]
        pairs = [(own, outline), *((_taken(found, p, by), p) for p in inner)]
        worst = max(worst, *(farthest(p.transformed(translation(by)), q, 25.0) for p, q in pairs))
    return worst


def _taken(found: list[Path], wanted: Path, by: Vec, *, anywhere: bool = False) -> Path:
    """Take the line that was read of one: of its length and size, the nearest to its place."""
    low, high = wanted.bounds()
    alike = [
        p
        for p in found
        if abs(p.length - wanted.length) < 1.0
        and (p.bounds()[1] - p.bounds()[0]).distance(high - low) < 1.0
    ]
    assert alike, f"a line of {wanted.length:.0f} mm is gone"
    best = alike[0] if anywhere else min(alike, key=lambda p: (p.bounds()[0] + by).distance(low))
    found.remove(best)
    return best


def _holder(line: Path, outlines: Sequence[Path]) -> Path:
    """Return the smallest outline whose box holds a line, within 4 mm."""
    low, high = line.bounds()
    holding = []
    for outline in outlines:
        a, b = outline.bounds()
        if a.x < low.x + 4 and a.y < low.y + 4 and b.x > high.x - 4 and b.y > high.y - 4:
            holding.append(outline)
    return min(holding, key=lambda p: p.length)
