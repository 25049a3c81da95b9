"""What ezdxf mended while it read a damaged file, told in plain words."""

from __future__ import annotations

from collections import Counter
from typing import Any

TAKEN_OUT = "lines or words that could not be read, taken out"
_BLOCKS = "blocks that are missing or contain themselves"
_LETTERS = "letters or numbers that could not be read"
_SHAPES = "shapes with impossible figures"
_FRAME = "parts of the file's frame"
_LINKS = "links and looks inside the file"
KINDS = {
    **dict.fromkeys((11, 13, 16), TAKEN_OUT),
    **dict.fromkeys((103, 104, 115, 119), _BLOCKS),
    **dict.fromkeys((111, 116, 117, 203, 214), _LETTERS),
}
"""By the number of ezdxf's `AuditError`; the rest by their hundreds."""


def mended(auditor: Any) -> tuple[str, ...]:
    """Return a sentence on what was mended, with counts and kinds; () when nothing was."""
    found = [*auditor.fixes, *auditor.errors]
    if not found:
        return ()
    counts = Counter(_kind(int(entry.code)) for entry in found)
    listed = ", ".join(f"{kind} ({n})" for kind, n in counts.most_common())
    things = "1 thing was" if len(found) == 1 else f"{len(found)} things were"
    return (f"the file is damaged and {things} mended: {listed}. Look whether anything is missing",)


def _kind(code: int) -> str:
    return KINDS.get(code) or (_FRAME if code < 100 else _SHAPES if code >= 210 else _LINKS)
