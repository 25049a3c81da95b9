"""What no change mends: what to do then, said with the finding, so that none is left alone."""

from __future__ import annotations

from clothwright.checks import CHECKS
from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Pattern
from clothwright.words import listed

LINE = "The line is drawn anew by hand, or what was changed there last is put back."
MARK = "What is marked there is drawn anew by hand, or what was changed there last is put back."
GRAIN = "Only you can tell which grain is meant: draw that line anew by hand, or leave it so."
SEAM = "Lay the edges along each other and see which of them was changed."
DART = "The dart is drawn anew by hand there, or left out."
YOURS = "Which way is the right one is for you to choose."

REASONS = {
    "seam-ways": SEAM,
    "seam-lengths": SEAM,
    "notch-partners": SEAM,
    "levels-across-seams": SEAM,
    "fullness-places": SEAM,
    "cap-ease": SEAM,
    "darts": DART,
    "darts-inside": DART,
    "mating-allowances": "Set both allowances by hand.",
    "adjoining-hems": "Set both hems by hand.",
    "hem-fullness": YOURS,
    "cut-counts": "How many are cut is for you to say.",
    "companions-follow": "Change it as the piece was changed that it goes with.",
    "patches-fit": MARK,
    "buttons": MARK,
    "openings": YOURS,
    "bands": MARK,
    "grain-and-fold": "It is drawn anew by hand: only you can tell how the piece is meant to lie.",
    "grain-across-seams": GRAIN,
    "hem-for-border": GRAIN,
    "wearing-ease": "Where room is let in is for you to choose.",
    "head-opening": YOURS,
}
"""By the check: what a finding of it needs where no change mends it; of others it is the line."""

OTHERWISE = {
    "cutting-line-impossible": "Make the allowance narrower there.",
    "stand-too-narrow": "Mark the buttons farther in, or have the front cut with a wider stand.",
    "patch-not-its-shape": LINE,
    "lap-too-short": LINE,
    "slit-off-edge": MARK,
}
"""By the code, where it is not as for the others of its check."""

_CHECK = {code: check.id for check in CHECKS for code in check.codes}


def unmended(f: Finding, pattern: Pattern) -> str:
    """Say that no change mends a finding, and what to do or to look at then."""
    reason = OTHERWISE.get(f.code) or REASONS.get(_CHECK.get(f.code, ""), LINE)
    return f"No one change mends it. {_look_at(f, pattern) if reason is SEAM else reason}"


def _look_at(f: Finding, pattern: Pattern) -> str:
    seam = next((s for s in pattern.seams if s.name == f.where.seam), None)
    if seam is None:
        return SEAM
    pieces = list(dict.fromkeys(r.piece for r in seam.refs))
    if len(pieces) == 1:
        return f"Look at what was changed last on {pieces[0]}."
    return f"Lay {listed(pieces)} along each other there and see which of them was changed."
