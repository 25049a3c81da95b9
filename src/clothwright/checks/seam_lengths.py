"""Do the edges that are sewn together agree in length, whole and from notch to notch?"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.notch_partners import notch_mends
from clothwright.checks.seam_mends import seam_mends
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.measure import seams_gaining
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.slipped import slipped, slips
from clothwright.pattern.walk import (
    Pair,
    Section,
    Walk,
    corner_index,
    mark_name,
    run_is,
    run_name,
    walk_seam,
)
from clothwright.words import Sentence, begun, counted, listed, seam_name

ID = "seam-lengths"

SAME_MM = 0.8
"""mm: sides that differ by less are called equally long: half of 1/16 in."""

MEANT = {
    "gathered": "for its gathers",
    "pleated": "for its pleats",
    "tucked": "for its tucks",
    "elasticated": "for its elastic",
}
"""What the longer side is longer for."""

FULL = 0.05
"""Share of what is gathered or drawn in by elastic by which it may differ: 11 mm in 220. Our own
figure; gathers of 1 1/2 and of twice the length are two kinds, of 1.5 and 1.55 times are not."""


def seam_lengths(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Walk every seam but the caps, which have a check of their own."""
    plain = tuple(s for s in pattern.seams if s.kind != "cap")
    yield from each(
        ID, plain, lambda seam: Where(seam=seam.name), lambda seam: _walked(pattern, seam, settings)
    )


def _walked(pattern: Pattern, seam: Seam, settings: CheckSettings) -> Iterator[Finding]:
    walk = walk_seam(pattern, seam)
    weight = length_band(walk.off, settings)
    if weight and abs(walk.off) > _full(seam):
        yield _whole(pattern, seam, walk, weight, settings)
    off = [s for s in walk.sections if length_band(s.off, settings) and abs(s.off) > _full(seam)]
    apart = sum(abs(s.off) for s in walk.sections) - abs(walk.off)
    if off and apart > settings.agree:
        yield _parts(pattern, seam, walk, off, settings)


def _full(seam: Seam) -> float:
    """Return how much more or less fullness nobody sees, mm: none where a seam is not full."""
    return FULL * abs(seam.ease) if seam.join in ("gathered", "elasticated") else 0.0


def _whole(
    pattern: Pattern, seam: Seam, walk: Walk, weight: Severity, settings: CheckSettings
) -> Finding:
    b_long = walk.off > 0
    refs = seam.b if b_long else seam.a
    mends = seam_mends(pattern, seam, walk, settings)
    edges = [str(m.params.get("edge", "")) for m in mends]
    ref = next((r for e in edges for r in refs if f"{r.piece}.{r.edge}" == e), refs[-1])
    length = walk.b.length if b_long else walk.a.length
    return Finding(
        code="seam-length",
        severity=weight,
        where=Where(seam=seam.name, piece=ref.piece, edge=ref.edge),
        measured=length,
        expected=length - abs(walk.off),
        unit="mm",
        words=(*difference_words(seam, walk), *_place_words(walk, settings), "."),
        mend=mends[0] if mends else None,
        others=mends[1:],
    )


def difference_words(seam: Seam, walk: Walk) -> Sentence:
    """Return how the two sides differ, the ease that is meant taken into account."""
    a, b = run_name(seam.a), run_name(seam.b)
    difference, off = walk.b.length - walk.a.length, walk.off
    if walk.meant.least == walk.meant.most == 0.0:
        long, short = (seam.b, a) if off > 0 else (seam.a, b)
        if a == b:
            return ("one side is ", abs(off), " longer than the other")
        return (f"{run_is(long)} ", abs(off), f" longer than {short}")
    turned = difference < 0
    said: Sentence = (
        f"{run_is(seam.b)} ",
        abs(difference),
        f" {'shorter' if turned else 'longer'} than {a}",
    )
    if abs(difference) < SAME_MM:
        said = (f"{run_is(seam.b)} as long as {a}",)
    limit = walk.meant.most if off > 0 else walk.meant.least
    if limit < 0:
        meant: Sentence = (" (meant: ", -limit, " shorter)")
    else:
        meant = (" (meant: ", limit, f" longer, {MEANT.get(seam.join, 'as ease')})")
    return (*said, ", ", abs(off), f" too {'long' if off > 0 else 'short'}", *meant)


def _place_words(walk: Walk, settings: CheckSettings) -> Sentence:
    """Return between which marks the difference lies, when the notches can tell."""
    off = [s for s in walk.sections if length_band(s.off, settings)]
    if len(walk.sections) < 2 or len(off) != 1:
        return ()
    return (f"; the difference lies between {off[0].start} and {off[0].end}",)


def _parts(
    pattern: Pattern, seam: Seam, walk: Walk, off: list[Section], settings: CheckSettings
) -> Finding:
    worst = max(off, key=lambda s: abs(s.off))
    moved = slipped(walk, settings.agree)
    names = list(dict.fromkeys(mark_name(p.b if p.b.kind else p.a) for p in moved))
    b_long = worst.off > 0
    ref = (seam.b if b_long else seam.a)[0]
    weight = length_band(worst.off, settings)
    first = _off_beside(pattern, seam, settings) if moved else None
    mends = notch_mends(pattern, seam, moved) if moved and first is None else ()
    return Finding(
        code="seam-section-length",
        severity=weight or Severity.NOTICE,
        where=Where(
            seam=seam.name,
            piece=ref.piece,
            edge=ref.edge,
            point=(moved[0].b.name or moved[0].a.name) if len(names) == 1 else "",
        ),
        measured=worst.b if b_long else worst.a,
        expected=(worst.b if b_long else worst.a) - abs(worst.off),
        unit="mm",
        words=(
            *_slipped_words(walk, moved, names),
            *_sections_words(seam, off, bool(moved)),
            ".",
            *_first_words(first),
        ),
        mend=mends[0] if mends else None,
        others=mends[1:],
    )


def _off_beside(pattern: Pattern, seam: Seam, settings: CheckSettings) -> Seam | None:
    """Return a seam that is off and meets this one at an end: what moved that moved the notches."""
    for refs, at_end in itertools.product((seam.a, seam.b), (False, True)):
        name, index = corner_index(pattern, refs, at_end=at_end)
        edges = pattern.piece(name).edges
        for edge in (edges[index], edges[index - 1]):
            for beside in seams_gaining(pattern, EdgeRef(name, edge.name)):
                off = length_band(walk_seam(pattern, beside).off, settings)
                if beside.name != seam.name and off is Severity.FAULT:
                    return beside
    return None


def _first_words(first: Seam | None) -> Sentence:
    """Say which seam is to be seen to before a notch is moved."""
    if first is None:
        return ()
    name = seam_name(first.name)
    return (f" Mend the length of {name} first: what was changed there may have moved it.",)


def _slipped_words(walk: Walk, moved: tuple[Pair, ...], names: list[str]) -> Sentence:
    """Say which marks lie off their partners, before what that comes to; nothing without any."""
    if not moved:
        return ()
    sit, partner = ("sits", "its partner") if len(names) == 1 else ("sit", "their partners")
    by = abs(slips(walk)[walk.pairs.index(moved[0])])
    return (f"{begun(listed(names))} {sit} ", by, f" off {partner}: ")


def _sections_words(seam: Seam, off: list[Section], later: bool) -> Sentence:
    """Say of every section which side is the longer. later: it goes on with a sentence."""
    words: list[str | float] = []
    for section in off:
        long, short = (seam.b, seam.a) if section.off > 0 else (seam.a, seam.b)
        between = "; between" if words else "between" if later else "Between"
        words += [f"{between} {section.start} and {section.end}, {run_is(long)} "]
        words += [abs(section.off), f" longer than {run_name(short)}"]
    return tuple(words)


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the seams, and their sections from mark to mark."""
    del settings
    plain = [s for s in pattern.seams if s.kind != "cap"]
    sections = sum(len(walk_seam(pattern, s).sections) for s in plain)
    parted = f", {counted(sections, 'section')} from mark to mark" if sections else ""
    return LookedAt(len(plain), counted(len(plain), "seam") + parted)


CHECK = Check(
    id=ID,
    title="Do edges that are sewn together agree in length?",
    why="Stitching lines, not cutting lines, are what is sewn. A seam that differs by more than a "
    "pencil line is eased, stretched or puckered by whoever sews it, and the hem shows it.",
    source="Bands from fitting teachers' practice, 1/16 in and 1/8 in (docs/sources.md, "
    "walking seams).",
    codes=("seam-length", "seam-section-length", "seam-lengths-skipped"),
    run=seam_lengths,
    looked=looked,
)
