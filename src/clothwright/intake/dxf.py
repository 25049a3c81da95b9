"""Lines of a DXF file, by ezdxf: blocks, bulges, arcs, splines and words, in mm.

A file names its unit ($INSUNITS), or it does not (most of R12, or unit 0): then the size is asked.
Where layers are numbers, these may say what a line is (`dxf_layers`), and where blocks or layers
differ in a size they are sizes (`dxf_blocks`): proposed, or as it is answered.
"""

from __future__ import annotations

import io
import struct
from collections import Counter
from dataclasses import replace
from typing import Any

from ezdxf import recover
from ezdxf.lldxf.const import DXFError

from clothwright.errors import BadInput
from clothwright.intake import dxf_told
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing, Reader
from clothwright.intake.dxf_walk import UNIT_MM, DxfWalk

MOST_BYTES = 20_000_000
_FALLS = (
    DXFError,
    ValueError,
    KeyError,
    IndexError,
    TypeError,
    AttributeError,
    ArithmeticError,
    RecursionError,
    StopIteration,
    RuntimeError,
    AssertionError,
    UnicodeError,
    EOFError,
    struct.error,
)
"""What ezdxf raises for files that are broken (seen, with mutated files)."""

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


def read_dxf(data: bytes, name: str, answers: Answers = Answers()) -> Drawing:  # noqa: B008
    """Return the lines and words of a DXF file in mm, y up. Raises BadInput, never anything else.

    Curves come out within 0.01 mm; arcs and bulges as cubics; points as small rings. Entities on
    layers that are off or frozen are left out, and told; so is what ezdxf mended. answers.layers
    says whether numbers of layers have a meaning, answers.alike whether blocks and layers that are
    alike are sizes; unanswered both are proposed by the file's looks, or asked.
    """
    if len(data) > MOST_BYTES:
        raise BadInput(
            where=name,
            what=f"it has {len(data) / 1e6:.0f} MB",
            expected=f"at most {MOST_BYTES / 1e6:.0f} MB",
        )
    file, notes = _opened(data, name)
    walk = DxfWalk(file, name)
    try:
        groups = walk.all(answers.layers)
    except BadInput:
        raise
    except _FALLS as error:
        raise _broken(name, error) from None
    if not any(g.lines for g in groups):
        raise BadInput(
            where=name,
            what="there are no lines in it",
            expected="a DXF file with pieces drawn as lines",
            try_="saving it again; a file that was cut off may open as an empty one",
        )
    drawing = dxf_told.drawn(
        name,
        groups,
        answers.alike,
        notes=(*notes, *walk.notes(said=bool(answers.layers))),
        scale_known=walk.unit in UNIT_MM,
    )
    return replace(drawing, layers=walk.layers)


def _broken(name: str, error: BaseException) -> BadInput:
    said = (str(error).splitlines() or [""])[0][:80]
    return BadInput(
        where=name,
        what=f"it could not be read as a DXF file ({said or type(error).__name__})",
        expected="a whole DXF file",
        try_="saving it again, as text (ASCII) DXF",
    )


def _opened(data: bytes, name: str) -> tuple[Any, tuple[str, ...]]:
    """Return the file, and what was mended in it."""
    try:
        file, auditor = recover.read(io.BytesIO(data))
    except _FALLS as error:
        raise _broken(name, error) from None
    return file, _mended(auditor)


def _mended(auditor: Any) -> tuple[str, ...]:
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


READER = Reader(id="dxf", title="DXF drawing", suffixes=(".dxf",), read=read_dxf, read_as=read_dxf)
