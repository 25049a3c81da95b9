"""Demo data for the intake: our own demo pieces as drawings that say nothing of themselves."""

from __future__ import annotations

import re
from pathlib import Path

from clothwright.demo.workbooks import DEMOS
from clothwright.pattern.piece import Piece
from clothwright.store import piece_to_svg


def demo_piece(name: str, demo: str = "coat-and-skirt") -> Piece:
    """Return a piece of a demo workbook (demo data)."""
    return next(d for d in DEMOS if d.name == demo).make().bought.piece(name)


def bare(piece: Piece) -> bytes:
    """Return a piece's drawing without our annotation: only lines and words are left."""
    text = re.sub(r"<g data-cut[^>]*/>", "", piece_to_svg(piece))
    return re.sub(r' data-[\w-]+="[^"]*"', "", text).encode()


def bare_file(folder: Path, name: str) -> Path:
    """Write a demo piece's bare drawing into a folder."""
    file = folder / f"{name}.svg"
    file.write_bytes(bare(demo_piece(name)))
    return file
