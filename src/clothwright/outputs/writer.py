"""What a writer says of itself, so that doors and pages of help can be made from the list."""

from __future__ import annotations

from typing import Literal, NamedTuple

Takes = Literal["picture", "document", "table"]


class Writer(NamedTuple):
    """One kind of file we write.

    id: kebab-case, used on the command line, never changed once shipped. suffix: of the file's
    name. media: its type, as the web calls it. takes: what it is made from. purpose: what the
    maker uses it for, in one sentence.
    """

    id: str
    title: str
    suffix: str
    media: str
    takes: Takes
    purpose: str


class OutFile(NamedTuple):
    """A file to be written: name (with folders, relative, / between them) and content."""

    name: str
    content: bytes
