"""What a guide says, before it is a file: headings, words, lists, tables, pictures, cautions.

A document knows no file format. The writers turn the same value into Markdown or PDF.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwright.picture.picture import PhotoFiles, Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Para:
    """A paragraph of plain words."""

    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """A list; numbered when the order matters, with boxes to tick when `tick` is set."""

    items: tuple[str, ...]
    numbered: bool = False
    tick: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table of words: a head row and rows of the same length.

    figures: the columns that hold figures and are set to the right, counted from 0.
    Raises ValueError when a row has not as many cells as the head.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    figures: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        """Check that the table is whole."""
        for i, row in enumerate(self.rows):
            if len(row) != len(self.head):
                raise ValueError(
                    f"row {i} of table {self.caption!r} has {len(row)} cells, "
                    f"its head {len(self.head)}"
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class Illustration:
    """A picture to be shown `width` mm wide on the page, or as wide as the page when that is less.

    alt: what the picture shows, for a reader who cannot see it. Lines keep their width on paper
    however much the picture is reduced; texts are reduced with it.
    """

    picture: Picture
    alt: str
    width: float = 170.0
    caption: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A warning the maker should not miss; it is set apart from the text."""

    words: str


Block = Para | Points | Table | Illustration | Caution


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """A heading, what stands under it, and the sections inside it."""

    title: str
    blocks: tuple[Block, ...] = ()
    sections: tuple[Chapter, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A whole guide: title, a line under it, blocks before the first heading, sections."""

    title: str
    subtitle: str = ""
    blocks: tuple[Block, ...] = ()
    sections: tuple[Chapter, ...] = ()

    def walk(self) -> Iterator[tuple[int, Chapter]]:
        """Every section in reading order with its depth: 1 for the outermost."""
        yield from _walk(self.sections, 1)

    def with_photos(self, photos: PhotoFiles) -> Document:
        """Return the document whose pictures' photos have what is in their files."""
        blocks, sections = _with_photos(self.blocks, photos), self.sections
        return replace(self, blocks=blocks, sections=tuple(_chapter(c, photos) for c in sections))

    def every_block(self) -> Iterator[Block]:
        """Every block in reading order."""
        yield from self.blocks
        for _, section in self.walk():
            yield from section.blocks


def _chapter(chapter: Chapter, photos: PhotoFiles) -> Chapter:
    sections = tuple(_chapter(c, photos) for c in chapter.sections)
    return replace(chapter, blocks=_with_photos(chapter.blocks, photos), sections=sections)


def _with_photos(blocks: tuple[Block, ...], photos: PhotoFiles) -> tuple[Block, ...]:
    return tuple(
        replace(b, picture=b.picture.with_photos(photos)) if isinstance(b, Illustration) else b
        for b in blocks
    )


def _walk(sections: tuple[Chapter, ...], depth: int) -> Iterator[tuple[int, Chapter]]:
    for section in sections:
        yield depth, section
        yield from _walk(section.sections, depth + 1)
