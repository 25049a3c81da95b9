"""What a writer hands over when it writes several files, or one that has a name of its own."""

from __future__ import annotations

from typing import NamedTuple


class OutFile(NamedTuple):
    """A file to be written: name (with folders, relative, / between them) and content."""

    name: str
    content: bytes
