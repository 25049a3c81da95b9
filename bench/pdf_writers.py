"""Demo pieces as eight programs write them as PDF, tiles of which each draws only what touches it.

python -m bench.pdf_writers FOLDER [--python PYTHON] [--modules NODE_MODULES]

Three files by each program (darts whose legs end on the edge in all): tiles with frames and names,
each page with the shapes that touch it; the same without frames, three sizes by dashes; one sheet
in three sizes by colour. Printed: pieces and darts found, sizes, how far the lines read lie from
those drawn. matplotlib, pymupdf, typst and pydyf by a Python that has them; pdfkit, pdf-lib and
jsPDF by node with their modules; PDF::API2 by perl, Prawn by ruby, as far as they are there.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tests.intake.pdf.sheets import MM, Sheet
from tests.intake.pdf.touching import Tiling, misfit, pages_touching, three_pieces, three_sizes

from clothwright.intake.candidates import see
from clothwright.intake.in_sizes import of_size
from clothwright.intake.pdf.reader import read_pdf
from clothwright.units import Unit

HERE = Path(__file__).parent / "writers"
BY_PYTHON = ("matplotlib", "pymupdf", "typst", "pydyf")
BY_NODE = {"pdfkit": "pdfkit.js", "pdf-lib": "pdf_lib.js", "jsPDF": "jspdf.js"}
OTHERS = {"PDF::API2": ("perl", "pdf_api2.pl"), "Prawn": ("ruby", "prawn.rb")}


def as_data(pages: Sequence[Sheet]) -> list[dict[str, Any]]:
    """Return pages in points, y up, as the writers read them."""
    return [
        {
            "wide": sheet.width * MM,
            "tall": sheet.height * MM,
            "lines": [
                {
                    "start": [v * MM for v in line.path.start],
                    "steps": [
                        [v * MM for p in s.controls()[1:] for v in p] for s in line.path.segments
                    ],
                    "closed": line.path.start.distance(line.path.end) < 1e-6,
                    "width": line.width * MM,
                    "dash": [d * MM for d in line.dash],
                    "rgb": line.colour,
                }
                for line in sheet.lines
            ],
            "words": [
                {
                    "words": words,
                    "x": (at.x - 0.25 * size * len(words)) * MM,
                    "y": (at.y - 0.35 * size) * MM,
                    "size": size * MM,
                }
                for words, at, size in sheet.words
            ],
        }
        for sheet in pages
    ]


def command(program: str, python: str) -> list[str] | None:
    """Return how a program is called; None when it is not there."""
    if program in BY_PYTHON:
        return [python, str(HERE / "by_python.py"), program]
    by, script = ("node", BY_NODE[program]) if program in BY_NODE else OTHERS[program]
    return [by, str(HERE / script)] if shutil.which(by) else None


def main() -> None:
    """Write, read and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--python", default=sys.executable)
    parser.add_argument("--modules", default="")
    parser.add_argument("--only", default="")
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    plain, dashed, coloured = three_pieces(), three_sizes("dash"), three_sizes("colour")
    bare = Tiling(frame=False, margin=0.0, overlap=12.0, labels="")
    files = {
        "tiles": (plain, pages_touching(plain, Tiling())),
        "sizes": (dashed, pages_touching(dashed, bare)),
        "columns": (
            coloured,
            pages_touching(coloured, Tiling(order="columns", labels="3", cover=True)),
        ),
        "sheet": (plain, [plain]),
    }
    for program in (*BY_PYTHON, *BY_NODE, *OTHERS):
        if given.only and program != given.only:
            continue
        call = command(program, given.python)
        for name, (sheet, pages) in files.items():
            source, out = given.folder / f"{name}.json", given.folder / f"{program}-{name}.pdf"
            source.write_text(json.dumps(as_data(pages)), encoding="utf-8")
            if call is None:
                print(f"{program:12} {name:8} not there")
                continue
            env = {**os.environ, "NODE_PATH": given.modules}
            made = subprocess.run(  # noqa: PLW1510
                [*call, str(source), str(out)], env=env, capture_output=True, text=True, timeout=120
            )
            if made.returncode:
                print(f"{program:12} {name:8} not written: {made.stderr.strip()[-200:]}")
                continue
            print(f"{program:12} {name:8} {_read(out, sheet)}")


def _read(file: Path, sheet: Sheet) -> str:
    """Return what was found in a file, in a line."""
    drawing = read_pdf(file.read_bytes(), file.name)
    try:
        away = f"{misfit(drawing, sheet):.3f} mm"
    except AssertionError as error:
        away = str(error)
    own = of_size(drawing, drawing.sizes[0]) if drawing.sizes else drawing
    pieces = [
        f"{c.words.name or 'no name'} ({len(c.read.darts)} darts)"
        for c in see(own, "", Unit.mm).candidates
    ]
    return f"{away}; {', '.join(pieces)}; sizes {' '.join(drawing.sizes) or 'none'}"


if __name__ == "__main__":
    main()
