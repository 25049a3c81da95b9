"""The toile on paper: the walk as one document, for the page, to print, and as text."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from clothwright.drawing.walk_table import WalkTable
from clothwright.picture.document import (
    Block,
    Caution,
    Chapter,
    Document,
    Illustration,
    Para,
    Points,
    Table,
)
from clothwright.workbook import Replay, Workbook, replay
from clothwright.workroom.cutting.documents import document_files
from clothwright.workroom.cutting.printing import written
from clothwright.workroom.toile.told import toile_chapters
from clothwright.workroom.walking.checking import seam_table
from clothwright.workroom.walking.findings import AllFound, FindingShown, all_found

STEM = "toile-on-paper"
SEAM_MM = 110.0
"""Width of a seam's two sides laid along each other."""
PIECE_MM = 70.0
"""Width, and height, of pieces with their places marked."""
PAPER = (
    "Checked on paper: it cannot see the body, the cloth or the hand. Make a trial garment before "
    "you cut cloth that cannot be replaced."
)


def toile_document(book: Workbook, done: Replay, found: AllFound) -> Document:
    """Return the toile on paper, in the workbook's unit.

    done: the changes as applied; found: what the checks found on the pieces then.
    """
    return Document(
        title=f"{book.title}: the toile on paper",
        subtitle="What the walk found on the pieces as changed, what matters most first",
        blocks=(Para(words=found.verdict.words), Caution(words=PAPER)),
        sections=(
            *(
                Chapter(
                    title=f"{group.title}: {group.why}",
                    sections=tuple(_finding(f) for f in group.found),
                )
                for group in found.groups
            ),
            *_looked_at(found, seam_table(book, done)),
            *toile_chapters(book, done),
        ),
    )


def toile_of(book: Workbook, done: Replay) -> Document:
    """Return the toile on paper of a workbook. done: its changes as applied."""
    return toile_document(book, done, all_found(book, done))


def write_toile(book: Workbook, out: Path, paper: str = "") -> tuple[Path, ...]:
    """Write the toile on paper as text with pictures and as PDF; return the files.

    Raises BadInput for a paper or a folder that cannot be.
    """
    return written(out, document_files(toile_of(book, replay(book)), book, STEM, paper))


def _finding(f: FindingShown) -> Chapter:
    return Chapter(title=f"{f.number}. {f.place}", blocks=tuple(_blocks(f)))


def _blocks(f: FindingShown) -> Iterator[Block]:
    yield Para(words=f.words)
    after = f.mending.after if f.mending and not f.mending.trouble else ""
    other = f.mending.or_else if f.mending else ""
    yield from (Para(words=w) for w in (f"{f.told.answer} {after}".strip(), other) if w)
    if f.walked is not None:
        it = f.walked
        caption = f"Above: {it.above}. Below: {it.below}. {it.caption}"
        yield Illustration(picture=it.picture, alt=it.words, width=SEAM_MM, caption=caption)
    if f.marked is not None:
        picture, words = f.marked
        size = picture.bounds().size
        width = min(PIECE_MM, PIECE_MM * size.x / size.y)
        yield Illustration(picture=picture, alt=words, width=width, caption=f"Where: {words}.")


def _looked_at(found: AllFound, seams: WalkTable) -> Iterator[Chapter]:
    blocks: list[Block] = []
    if found.verdict.agree:
        blocks.append(Points(items=found.verdict.agree))
    if seams.lines:
        blocks.append(_seams(seams))
    if blocks:
        yield Chapter(title="What was looked at", blocks=tuple(blocks))
    if found.verdict.unlooked:
        yield Chapter(
            title="What was not looked at", blocks=(Points(items=found.verdict.unlooked),)
        )


def _seams(seams: WalkTable) -> Table:
    return Table(
        head=("seam", "first side", "second side", "ease", "difference", "status"),
        rows=tuple(
            (s.name, s.length_a, s.length_b, s.ease, s.difference, s.status) for s in seams.lines
        ),
        caption="Every seam walked; the difference is what is left after the ease.",
        figures=(1, 2, 3, 4),
    )
