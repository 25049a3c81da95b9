"""What does it look like? The tokens: colours, type, spacing, line kinds, in use."""

from __future__ import annotations

from collections.abc import Mapping

from clothwright.picture.picture import DrawnRole
from clothwright.picture.samples import sample_area, sample_line
from clothwright.units import Unit
from clothwright.web.page import Asked, PageFile
from clothwright.web.svg import inline
from clothwright.web.tape import tape

COLOURS = (
    ("table", "the cutting table, under everything"),
    ("sheet", "the guide sheet: what is read"),
    ("ink", "words and lines"),
    ("soft-ink", "words of less weight"),
    ("rule", "thin lines between things"),
    ("tissue", "pattern pieces"),
    ("cloth", "cloth, and what lies flat"),
    ("chalk", "what can be pressed or followed"),
    ("on-photo", "lines over a photo"),
    ("photo-halo", "the dark edge round them"),
    ("traced", "the outline found in a photo"),
    ("tape", "the tape measure: where you are"),
    ("good", "fits, agrees"),
    ("notice", "look twice"),
    ("fault", "mend before cutting"),
)
"""Every colour token and what it is for."""

LINES = (
    (DrawnRole.CUT, "cutting line"),
    (DrawnRole.STITCH, "stitching line"),
    (DrawnRole.FOLD, "place on the fold"),
    (DrawnRole.HEM, "turn up here"),
    (DrawnRole.GRAIN, "grain"),
    (DrawnRole.DART, "dart leg"),
    (DrawnRole.LEVEL, "level line: waist, bust, hip"),
    (DrawnRole.SELVEDGE, "selvedge"),
    (DrawnRole.BORDER, "border of the print"),
    (DrawnRole.MOTIF, "repeat of the print"),
    (DrawnRole.MEASURE, "measure"),
    (DrawnRole.LEFTOVER, "what is left"),
    (DrawnRole.FAULT, "fault"),
)
AREAS = (
    (DrawnRole.PIECE, "piece"),
    (DrawnRole.CLOTH, "cloth"),
    (DrawnRole.BORDER, "border"),
    (DrawnRole.MOTIF, "motif"),
    (DrawnRole.LEFTOVER, "leftover"),
    (DrawnRole.FLAW, "flaw"),
    (DrawnRole.FAULT, "fault"),
)
ON_CLOTH = ("selvedge", "border", "motif", "measure", "leftover", "fault")
"""Lines that are drawn on cloth rather than on a piece."""
SPACES = ("1", "2", "3", "4", "5", "6")


def render(asked: Asked) -> Mapping[str, object]:  # noqa: ARG001
    """Return a sample of each token."""
    return {
        "colours": COLOURS,
        "lines": tuple(
            (r.value, words, inline(sample_line(r), alt="", margin=8.0)) for r, words in LINES
        ),
        "areas": tuple(
            (r.value, words, inline(sample_area(r), alt="", margin=3.0)) for r, words in AREAS
        ),
        "on_cloth": ON_CLOTH,
        "spaces": SPACES,
        "tape_cm": tape(Unit.cm, 4000.0),
        "tape_in": tape(Unit.inch, 4000.0),
    }


PAGE = PageFile(render=render)
