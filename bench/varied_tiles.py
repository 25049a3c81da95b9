"""Demo pieces in tiles of many kinds, drawn by lot: joined right, asked about, or neither.

python -m bench.varied_tiles [FIRST LAST]

For each lot a line: the kind, what came of it, how far the lines read lie from those drawn, mm,
piece by piece. "right" is within 0.2 mm with every name and dart; "asked" is wrong and told;
"silent" would be wrong and not told. The kinds: `tests/intake/pdf/varied_tiles.py`.
"""

from __future__ import annotations

import argparse
from collections import Counter
from dataclasses import asdict

from tests.intake.pdf.sheets import Sheet
from tests.intake.pdf.touching import three_pieces, three_sizes
from tests.intake.pdf.varied_tiles import (
    Varied,
    drawn_at_random,
    misfit_by_piece,
    pages_in,
    written,
)

from clothwright.intake.candidates import see
from clothwright.intake.drawing import Drawing
from clothwright.intake.in_sizes import of_size
from clothwright.intake.pages_told import pages_are_sure
from clothwright.intake.pdf.reader import read_pdf
from clothwright.units import Unit


def main() -> None:
    """Draw lots, write, read and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("first", type=int, nargs="?", default=0)
    parser.add_argument("last", type=int, nargs="?", default=47)
    given = parser.parse_args()
    sheets = [three_pieces(), three_pieces(), three_sizes("dash"), three_sizes("colour")]
    found: Counter[str] = Counter()
    for lot in range(given.first, given.last + 1):
        sheet, how = sheets[lot % 4], drawn_at_random(lot)
        drawing = read_pdf(written(pages_in(sheet, how), how), "tiles.pdf")
        came, away = _came(drawing, sheet)
        found[came] += 1
        how_read = drawing.pages.how if drawing.pages else "one page"
        print(f"{lot:4} {came:6} {away}; {_told(how)}; {how_read}", flush=True)
    print(", ".join(f"{kind} {n}" for kind, n in found.items()))


def _told(how: Varied) -> str:
    """Return what is not as it is by default."""
    plain = asdict(Varied())
    return " ".join(f"{k}={v}" for k, v in asdict(how).items() if v != plain[k] and k != "seed")


def _came(drawing: Drawing, sheet: Sheet) -> tuple[str, str]:
    """Return what came of a file, and how far lines lie off, in words."""
    try:
        away = misfit_by_piece(drawing, sheet)
        said = f"{away:.3f} mm"
    except AssertionError as error:
        away, said = float("inf"), str(error)
    own = of_size(drawing, drawing.sizes[0]) if drawing.sizes else drawing
    pieces = see(own, "", Unit.mm).candidates
    names = [words for words, _, _ in sheet.words if not words.startswith("Size")]
    sizes = len(sheet.words) - len(names)
    darts = sum(len(x.path.segments) == 2 for x in sheet.lines) / max(1, sizes)
    right = (
        away < 0.2
        and sorted(c.words.name for c in pieces) == sorted(names)
        and len(drawing.sizes) == sizes
        and sum(len(c.read.darts) for c in pieces) == darts
    )
    if right:
        return "right", said
    return ("silent" if drawing.pages and pages_are_sure(drawing.pages) else "asked"), said


if __name__ == "__main__":
    main()
