"""The reader of PDF files: pages, joined where they are tiles, as one drawing in mm."""

from __future__ import annotations

from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.dashes import straightened
from clothwright.intake.drawing import Drawing, DrawnLine, Reader
from clothwright.intake.fewer import with_fewer_curves
from clothwright.intake.painted_strokes import with_lines
from clothwright.intake.paper import is_ground, without_paper
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.file import read_pages
from clothwright.intake.pdf.laid_pages import Joined
from clothwright.intake.pdf.mended import with_cuts_mended
from clothwright.intake.pdf.said_tiles import said_tiles
from clothwright.intake.pdf.tiles import join
from clothwright.intake.pdf.words_once import words_once
from clothwright.intake.pen import PenLine
from clothwright.intake.told_by_pen import drawing_of, told_by

MOST_LINES = 60_000


def read_pdf(data: bytes, name: str, answers: Answers = Answers()) -> Drawing:  # noqa: B008
    """Return the lines and words of a PDF file in mm, y up. Raises BadInput.

    Layers that the file hides are left out, and told. Pages that are tiles of one drawing are
    joined (`tiles`), as the answers say if they do; others are laid side by side. `scale_known`
    is False when a test square says that the file is not true to size.
    """
    said = said_tiles(answers.tiles, answers.shift, answers.moved)
    read = read_pages(data, name)
    notes = [f"not read, {kind}: {n}" for kind, n in sorted(read.left_out.items())]
    if read.mended:
        notes.append("the file is damaged and was mended: look whether anything is missing")
    hidden = sum(not x.pen.shown for p in read.pages for x in p.lines)
    if hidden:
        notes.append(f"left out, lines on layers that the file hides: {hidden}")
    cleared = [without_paper(p.lines, p.paper) for p in read.pages]
    notes += dict.fromkeys(note for _, note in cleared if note)
    many = len(read.pages) > 1
    pages = tuple(
        _tidied(replace(p, lines=lines), many=many)
        for p, (lines, _) in zip(read.pages, cleared, strict=True)
    )
    if not any(p.lines for p in pages):
        raise BadInput(
            where=name,
            what="there are no lines in it, only "
            + ("pictures" if read.left_out["picture"] else "words or nothing"),
            expected="a file whose pieces are drawn as lines",
            try_="the photo reader, when the file is a scan",
        )
    joined = join(pages, said)
    notes += joined.notes
    return _drawing(name, joined, notes, answers.alike)


def _tidied(page: DrawnPage, *, many: bool) -> DrawnPage:
    """Return a page without what is hidden; of many pages, without any paper that is painted."""
    shown = [x for x in page.lines if x.pen.shown and not (many and is_ground(x, page.paper))]
    lines = [replace(x, path=straightened(x.path)) for x, _ in with_lines(shown)]
    lines = [replace(x, closed=x.closed and len(x.path.segments) > 1) for x in lines]
    return replace(page, lines=tuple(lines))


def _drawing(name: str, joined: Joined, notes: list[str], alike: str) -> Drawing:
    told = told_by(joined.lines, words_once(joined.texts), alike)
    notes += ([told.note] if told.note else []) + [*told.scale.notes]
    if len(told.lines) > MOST_LINES:
        raise BadInput(
            where=name,
            what=f"it holds {len(told.lines)} lines",
            expected=f"at most {MOST_LINES}",
            try_="a file without pictures and shading",
        )
    lines = [_line(line, size) for line, size in told.lines]
    return drawing_of(name, told, lines, notes=notes, pages=joined.pages)


def _line(line: PenLine, size: str) -> DrawnLine:
    path = with_cuts_mended(line.path, closed=line.closed)
    path = with_fewer_curves(path, closed=line.closed)
    return DrawnLine(path=path, closed=line.closed, size=size)


READER = Reader(
    id="pdf",
    title="PDF file with lines",
    suffixes=(".pdf",),
    read=read_pdf,
    read_as=read_pdf,
)
