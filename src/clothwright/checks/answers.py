"""Which questions are answered no: by a check's own findings, or by what another check found.

A seam's notches are missed, a facing is too short: that is found while seams are measured, and the
question whether notches meet, or whether facings fit, is answered by it too.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from clothwright.checks.check import Check
from clothwright.pattern.companions import companion_names
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.walk import walk_seam

Answers = Callable[[Pattern, Finding], bool]
"""Tells whether a finding of another check answers a question no."""


def is_answered_no(check: Check, pattern: Pattern, found: Sequence[Finding]) -> bool:
    """Tell whether any finding, of whichever check, answers a check's question no.

    What is only noted counts against the question of its own check alone.
    """
    own = {f"{check.id}-skipped", *check.codes}
    also = _ALSO.get(check.id)
    heavy = (f for f in found if f.severity in (Severity.FAULT, Severity.NOTICE))
    return any(f.code in own for f in found) or (
        also is not None and any(also(pattern, f) for f in heavy)
    )


def _of(*codes: str) -> Answers:
    """Answer no by codes alone."""
    return lambda _, f: f.code in codes


def _seam(pattern: Pattern, f: Finding) -> Seam | None:
    return next((s for s in pattern.seams if s.name == f.where.seam), None)


def _notches_miss(pattern: Pattern, f: Finding) -> bool:
    """Tell whether notches that meet by name or kind lie apart: parts of a seam differ."""
    seam = _seam(pattern, f)
    if f.code != "seam-section-length" or seam is None:
        return False
    return any(pair.a.kind and pair.b.kind for pair in walk_seam(pattern, seam).pairs)


def _companion_is_off(pattern: Pattern, f: Finding) -> bool:
    """Tell whether a seam of a facing, a lining or a band is off, or a pocket on its place."""
    mine = companion_names(pattern)
    if f.code in ("patch-not-its-place", "patch-not-its-shape"):
        return f.where.piece in mine
    seam = _seam(pattern, f)
    off = f.code in ("seam-length", "seam-section-length", "levels-apart")
    return off and seam is not None and bool(mine & seam.pieces)


def _fullness_is_off(pattern: Pattern, f: Finding) -> bool:
    """Tell whether fullness lies where it is not meant: in a cap, or between wrong notches."""
    seam = _seam(pattern, f)
    if f.code == "seam-section-length":
        return seam is not None and seam.join != "eased"
    return f.code in (
        *("cap-ease-under-arm", "cap-share-short", "cap-ease-front-heavy", "cap-ease-back-heavy"),
        "ease-notch-missing",
    )


def _cap_is_off(pattern: Pattern, f: Finding) -> bool:
    """Tell whether the notches between which a cap is eased are missing or out of place."""
    seam = _seam(pattern, f)
    codes = ("ease-notch-missing", "notch-order", "notch-off-edge", "notch-without-partner")
    return f.code in codes and seam is not None and seam.kind == "cap"


def _grain_is_off(pattern: Pattern, f: Finding) -> bool:
    """Tell whether a finding is about the grain, or comes from a grain line that leans."""
    del pattern
    turned = any(m.change == "turn-grain" for m in f.mends)
    codes = ("grain-off-fold", "grain-off-centre", "grain-off-cap", "grain-off-facing")
    return turned or f.code in (*codes, "grain-lies-across", "grain-off-beside")


def _grain_is_off_beside(pattern: Pattern, f: Finding) -> bool:
    """Tell whether the grain is off of a piece that is sewn to a cap or a facing."""
    faced = (s for s in pattern.seams if s.kind in ("facing", "cap"))
    return _grain_is_off(pattern, f) and any(f.where.piece in s.pieces for s in faced)


_ALSO: dict[str, Answers] = {
    "seam-lengths": _of("cap-shorter", "cap-share-short", "cap-ease-not-meant"),
    "notch-partners": _notches_miss,
    "levels-across-seams": _of("level-outside"),
    "fullness-places": _fullness_is_off,
    "cap-ease": _cap_is_off,
    "fair-lines": _of(
        *("corner-not-fair", "corner-not-square", "line-steps"),
        *("dart-cap-not-true", "fold-not-straight"),
    ),
    "darts-inside": _of("darts-overlap"),
    "cut-counts": _of("fold-cut-single", "cut-on-missing-fold"),
    "companions-follow": _companion_is_off,
    "grain-and-fold": _grain_is_off,
    "grain-across-seams": _grain_is_off_beside,
    "wearing-ease": _of("neck-too-small"),
}
"""For a check by its id, which findings of others answer its question no."""
