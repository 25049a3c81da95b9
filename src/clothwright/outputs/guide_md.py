"""A guide as Markdown with its pictures beside it as SVG."""

from __future__ import annotations

import re
import unicodedata

from clothwright.drawing.style import TABLE
from clothwright.outputs.svg import svg
from clothwright.outputs.writer import OutFile
from clothwright.picture.document import Block, Caution, Document, Illustration, Para, Points, Table

FOLDER = "pictures"


def guide_md(document: Document, stem: str = "guide") -> tuple[OutFile, ...]:
    """Return the guide's text first, then its pictures, named so that the text finds them.

    stem: name of the text file without its ending; pictures lie in the folder "pictures" beside
    it and begin with the same name.
    """
    pictures = _named_pictures(document, stem)
    lines = [f"# {_inline(document.title)}", ""]
    if document.subtitle:
        lines += [f"*{_inline(document.subtitle)}*", ""]
    lines += _blocks(document.blocks, pictures)
    for depth, section in document.walk():
        lines += [f"{'#' * min(depth + 1, 6)} {_inline(section.title)}", ""]
        lines += _blocks(section.blocks, pictures)
    text = "\n".join(lines).rstrip("\n") + "\n"
    drawings = tuple(
        OutFile(
            name, svg(f.picture, look=TABLE, width=f.width, margin=1.0, alt=f.alt).encode("utf-8")
        )
        for name, f in pictures
    )
    return (OutFile(f"{stem}.md", text.encode("utf-8")), *drawings)


Named = tuple[tuple[str, Illustration], ...]


def _named_pictures(document: Document, stem: str) -> Named:
    figures = [
        block
        for block in document.every_block()
        if isinstance(block, Illustration) and block.picture.items
    ]
    return tuple(
        (f"{FOLDER}/{_plain(stem)}-{i:02d}-{_plain(f.picture.title or f.caption)}.svg", f)
        for i, f in enumerate(figures, start=1)
    )


def _plain(words: str) -> str:
    """Words as a part of a file's name: small Latin letters, digits and hyphens."""
    letters = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", letters.casefold()).strip("-")[:40] or "picture"


def _blocks(blocks: tuple[Block, ...], pictures: Named) -> list[str]:
    lines: list[str] = []
    for block in blocks:
        lines += _block(block, pictures)
        lines.append("")
    return lines


def _block(block: Block, pictures: Named) -> list[str]:
    if isinstance(block, Para):
        return [_inline(block.words)]
    if isinstance(block, Caution):
        return [f"> **Take care.** {_inline(block.words)}"]
    if isinstance(block, Points):
        return _points(block)
    if isinstance(block, Table):
        return _table(block)
    name = next((name for name, figure in pictures if figure is block), "")
    lines = [f"![{_inline(block.alt)}]({name})" if name else f"*{_inline(block.alt)}*"]
    return [*lines, "", f"*{_inline(block.caption)}*"] if block.caption else lines


def _points(points: Points) -> list[str]:
    box = "[ ] " if points.tick else ""
    return [
        f"{f'{i}.' if points.numbered else '-'} {box}{_inline(item)}"
        for i, item in enumerate(points.items, start=1)
    ]


def _table(table: Table) -> list[str]:
    rule = ("---:" if i in table.figures else "---" for i in range(len(table.head)))
    rows = [f"| {' | '.join(_cell(cell) for cell in row)} |" for row in (table.head, *table.rows)]
    lines = [rows[0], f"| {' | '.join(rule)} |", *rows[1:]]
    return [f"*{_inline(table.caption)}*", "", *lines] if table.caption else lines


def _cell(words: str) -> str:
    return _inline(words).replace("|", "\\|")


def _inline(words: str) -> str:
    """Words that mean themselves in Markdown, on one line."""
    one_line = " ".join(words.split())
    escaped = re.sub(r"([\\`*_\[\]<>])", r"\\\1", one_line)
    return re.sub(r"^(\d*)([#+.)-])(?= )", r"\1\\\2", escaped)
