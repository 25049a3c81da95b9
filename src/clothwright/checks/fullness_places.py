"""Does what is gathered or eased lie spread out, or all of it in one place?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import FOLDED, Pattern, Seam
from clothwright.pattern.walk import Section, run_name, walk_seam
from clothwright.words import Sentence, counted, listed

ID = "fullness-places"

TWICE = 2.0
"""A section that takes more than so many times its share of the fullness, or less than half of it,
is uneven; our own figure."""

LONG_MM = 200.0
"""mm: fullness over more than this wants a mark that parts it (our own figure)."""

_ONE = "seam whose fullness lies in several sections"

SEEN_MM = 6.0
"""mm: a section that is off its share by no more is not seen; twice the notice band."""


def fullness_places(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at every seam with fullness that marks part into sections. A cap has its own check."""
    del settings
    full = tuple(s for s in pattern.seams if is_full(s))
    yield from each(ID, full, lambda s: Where(seam=s.name), lambda s: _seam(pattern, s))


def is_full(seam: Seam) -> bool:
    """Tell whether a seam has fullness that is to be spread; folds lie where they are marked."""
    return seam.kind != "cap" and seam.join not in FOLDED and bool(seam.ease or seam.eased_max)


def sections_of(pattern: Pattern, seam: Seam) -> tuple[Section, ...]:
    """Return the sections of a seam in which its fullness is meant to lie."""
    walk = walk_seam(pattern, seam)
    return tuple(s for s in walk.sections if s.meant.least or s.meant.most)


def _seam(pattern: Pattern, seam: Seam) -> Iterator[Finding]:
    inside = sections_of(pattern, seam)
    length, gain = sum(s.a for s in inside), sum(s.b - s.a for s in inside)
    if len(inside) < 2 or not length:
        return
    shares = [(s, s.b - s.a, gain * s.a / length) for s in inside]
    off = [share for share in shares if _is_off(*share[1:])]
    if not off:
        return
    section, has, due = max(off, key=lambda o: (abs(o[1] - o[2]), abs(o[1])))
    yield Finding(
        code="fullness-in-one-place",
        severity=Severity.NOTICE,
        where=Where(seam=seam.name, piece=seam.b[0].piece, edge=seam.b[0].edge),
        measured=has,
        expected=due,
        unit="mm",
        words=_words(seam, section, has, due, gain),
    )


def _is_off(has: float, due: float) -> bool:
    """Tell whether a section takes far more or less than its share, mm of either sign."""
    low, high = sorted((due / TWICE, due * TWICE))
    return not low <= has <= high and abs(has - due) > SEEN_MM


def _words(seam: Seam, section: Section, has: float, due: float, gain: float) -> Sentence:
    how = {"gathered": "gathered", "stretched": "stretched"}.get(seam.join, "taken up")
    return (
        "Of the ", abs(gain), f" that {run_name(seam.b)} has to be {how}, ", abs(has),
        f" lie between {section.start} and {section.end}; spread evenly it would be ", abs(due),
        ". Where it is meant to lie there, say in the seam between which notches.",
    )  # fmt: skip


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the seams whose fullness marks part; name those with much of it and no mark."""
    del settings
    full = [(s, sections_of(pattern, s)) for s in pattern.seams if is_full(s)]
    parted = sum(1 for _, sections in full if len(sections) > 1)
    bare = [s.name for s, found in full if len(found) == 1 and found[0].a > LONG_MM]
    unlooked = (f"Where the fullness of {listed(bare)} lies: no notch parts it.",) if bare else ()
    return LookedAt(parted, counted(parted, _ONE, _ONE.replace("seam", "seams")), unlooked)


CHECK = Check(
    id=ID,
    title="Does the fullness lie evenly, or where it is meant?",
    why="Two sides can differ by just what is to be gathered, and all of it lie in front.",
    source="The zone of gathers is marked by notches on both edges, and shared out evenly in it "
    "(common practice; trade facts, gathers). The figures are our own.",
    codes=("fullness-in-one-place", f"{ID}-skipped"),
    run=fullness_places,
    looked=looked,
)
