"""The table of figures in docs/intake-pdf.md, read by the tests that measure them."""

from __future__ import annotations

import re
from pathlib import Path as FilePath

DOCS = FilePath(__file__).parents[3] / "docs" / "intake-pdf.md"
NAMES = {
    "reportlab": "reportlab",
    "fpdf2": "fpdf2",
    "cairo": "cairo (CairoSVG)",
    "rsvg": "rsvg-convert",
    "inkscape": "Inkscape",
    "ghostscript": "Ghostscript, written anew",
    "chromium": "Chromium, printed",
}
OTHER_VERSIONS_MM = 0.01
"""mm: a program of another version may round a little otherwise than the one in the table."""


def table() -> dict[str, list[float]]:
    """Return the figures of the docs' table by writer, mm."""
    rows = re.findall(r"^\| (.+?) \|(.+)\|$", DOCS.read_text(encoding="utf-8"), re.MULTILINE)
    known = {v: k for k, v in NAMES.items()}
    return {
        known[name]: [float(n) for n in re.findall(r"(?:^|\|)\s*([0-9.]+)", cells)]
        for name, cells in rows
        if name in known
    }
