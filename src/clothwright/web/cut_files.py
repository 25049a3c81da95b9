"""The pieces as files for other programs, from the cut page: the kinds the command line makes."""

from __future__ import annotations

import io
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path as FilePath
from typing import NamedTuple

from starlette.responses import Response

from clothwright.web.page import Asked, Door, handed_over
from clothwright.workroom.cutting.printing import print_pieces


class PieceFile(NamedTuple):
    """One file offered. name: of the file. kind: as `print_pieces` calls it. words: of the link."""

    name: str
    kind: str
    media: str
    words: str


PIECE_FILES = (
    PieceFile(
        "pieces-sheet.pdf",
        "sheet",
        "application/pdf",
        "The pieces at full size on one large sheet (PDF)",
    ),
    PieceFile(
        "pieces-svg.zip",
        "drawings",
        "application/zip",
        "A drawing of each piece at full size (SVG, in a zip file)",
    ),
    PieceFile(
        "pieces.dxf",
        "dxf",
        "image/vnd.dxf",
        "The pieces for other programs and cutters (DXF, layers by name)",
    ),
    PieceFile(
        "pieces-numbered.dxf",
        "dxf-numbered",
        "image/vnd.dxf",
        "The same with numbers for layers, as ASTM D6673 has them (DXF; the table is from memory)",
    ),
)


def piece_doors() -> tuple[Door, ...]:
    """Return a door for each of these files."""
    return tuple(
        Door(path=f"/b/{{book}}/cut/{each.name}", answer=_answer(each)) for each in PIECE_FILES
    )


def _answer(wanted: PieceFile) -> Callable[[Asked], Response]:
    def answer(asked: Asked) -> Response:
        with tempfile.TemporaryDirectory() as folder:
            out = FilePath(folder)
            files = print_pieces(asked.book, out, kinds=(wanted.kind,))
            one = wanted.kind != "drawings"
            data = files[0].read_bytes() if one else _zipped(files)
        return handed_over(data, wanted.media, wanted.name)

    return answer


def _zipped(files: tuple[FilePath, ...]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as held:
        for file in files:
            held.write(file, file.name)
    return out.getvalue()
