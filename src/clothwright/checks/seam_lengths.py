"""Do the edges that are sewn together agree in length, whole and from notch to notch?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Section, Walk, corner_index, run_name, walk_seam
from clothwright.words import Sentence

ID = "seam-lengths"


def seam_lengths(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Walk every seam but the caps, which have a check of their own."""
    plain = tuple(s for s in pattern.seams if s.kind != "cap")
    yield from each(
        ID, plain, lambda seam: Where(seam=seam.name), lambda seam: _walked(pattern, seam, settings)
    )


def _walked(pattern: Pattern, seam: Seam, settings: CheckSettings) -> Iterator[Finding]:
    walk = walk_seam(pattern, seam)
    weight = length_band(walk.off, settings)
    if weight:
        yield _whole(pattern, seam, walk, weight, settings)
    off = [s for s in walk.sections if length_band(s.off, settings)]
    apart = sum(abs(s.off) for s in walk.sections) - abs(walk.off)
    if off and apart > settings.agree:
        yield _parts(seam, off, settings)


def _whole(
    pattern: Pattern, seam: Seam, walk: Walk, weight: Severity, settings: CheckSettings
) -> Finding:
    b_long = walk.off > 0
    at_end = _which_end(pattern, seam, walk, settings)
    refs = seam.b if b_long else seam.a
    ref = refs[-1 if at_end is not False else 0]
    length = walk.b.length if b_long else walk.a.length
    return Finding(
        code="seam-length",
        severity=weight,
        where=Where(seam=seam.name, piece=ref.piece, edge=ref.edge),
        measured=length,
        expected=length - abs(walk.off),
        unit="mm",
        words=(*difference_words(seam, walk), *_place_words(walk, settings), "."),
        mend=None if at_end is None else _mend(pattern, seam, refs, settings, at_end=at_end),
    )


def _mend(
    pattern: Pattern,
    seam: Seam,
    refs: tuple[EdgeRef, ...],
    settings: CheckSettings,
    *,
    at_end: bool,
) -> Mend | None:
    """Return the change that shortens the longer side at that end, unless a fold holds it there.

    A hem that some plan lays along a border stays straight: all of it moves.
    """
    name, index = corner_index(pattern, refs, at_end=at_end)
    edges = pattern.piece(name).edges
    if Role.FOLD in (edges[index].role, edges[index - 1].role):
        return None
    ref = refs[-1 if at_end else 0]
    first = next(r for r in refs if (r.piece, r.edge) == (ref.piece, ref.edge))
    at = "end" if at_end == (ref.reversed == first.reversed) else "start"
    edge = f"{ref.piece}.{ref.edge}"
    params = {"seam": seam.name, "edge": edge, "at": at}
    hems = {e for b in settings.borders for e in pattern.edges_now(b.piece, b.edge)}
    if any((name, e.name) in hems for e in (edges[index], edges[index - 1]) if e.name != ref.edge):
        params["neighbour"] = "parallel"
    return Mend(change="match-edge", params=params)


def difference_words(seam: Seam, walk: Walk) -> Sentence:
    """Return how the two sides differ, the ease that is meant taken into account."""
    a, b = run_name(seam.a), run_name(seam.b)
    difference, off = walk.b.length - walk.a.length, walk.off
    if walk.meant.least == walk.meant.most == 0.0:
        long, short = (b, a) if off > 0 else (a, b)
        if long == short:
            long, short = "one side", "the other"
        return (f"{long} is ", abs(off), f" longer than {short}")
    turned = difference < 0
    said: Sentence = (f"{b} is ", abs(difference), f" {'shorter' if turned else 'longer'} than {a}")
    limit = walk.meant.most if off > 0 else walk.meant.least
    if limit < 0:
        meant: Sentence = (" (meant: ", -limit, " shorter)")
    else:
        meant = (" (meant: ", limit, " longer, as ease)")
    return (*said, ", ", abs(off), f" too {'long' if off > 0 else 'short'}", *meant)


def _place_words(walk: Walk, settings: CheckSettings) -> Sentence:
    """Return between which marks the difference lies, when the notches can tell."""
    off = [s for s in walk.sections if length_band(s.off, settings)]
    if len(walk.sections) < 2 or len(off) != 1:
        return ()
    return (f"; the difference lies between {off[0].start} and {off[0].end}",)


def _parts(seam: Seam, off: list[Section], settings: CheckSettings) -> Finding:
    worst = max(off, key=lambda s: abs(s.off))
    words: list[str | float] = []
    for section in off:
        long, short = (seam.b, seam.a) if section.off > 0 else (seam.a, seam.b)
        words += [f"{'; between' if words else 'Between'} {section.start} and {section.end} "]
        words += [f"{run_name(long)} is ", abs(section.off), f" longer than {run_name(short)}"]
    shifted = _shifted(off)
    if shifted:
        words += [f": {shifted} sits ", abs(worst.off), " off its partner"]
    b_long = worst.off > 0
    ref = (seam.b if b_long else seam.a)[0]
    weight = length_band(worst.off, settings)
    return Finding(
        code="seam-section-length",
        severity=weight or Severity.NOTICE,
        where=Where(seam=seam.name, piece=ref.piece, edge=ref.edge, point=shifted),
        measured=worst.b if b_long else worst.a,
        expected=(worst.b if b_long else worst.a) - abs(worst.off),
        unit="mm",
        words=(*words, "."),
    )


def _shifted(off: list[Section]) -> str:
    """Return the one mark whose place explains both differences, or nothing."""
    if len(off) == 2 and off[0].end == off[1].start and abs(off[0].off + off[1].off) < 0.5:
        return off[0].end
    return ""


def _which_end(pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings) -> bool | None:
    """Return True to mend at the seam's end, False at its start, None where neither would do.

    The sections tell; without notches the end at a hem is taken, since the other ends of a seam
    meet seams that are already right.
    """
    off = [i for i, s in enumerate(walk.sections) if length_band(s.off, settings)]
    last = len(walk.sections) - 1
    if last > 0 and len(off) == 1:
        return True if off[0] == last else False if off[0] == 0 else None
    return _at_hem(pattern, seam, at_end=True) or not _at_hem(pattern, seam, at_end=False)


def _at_hem(pattern: Pattern, seam: Seam, *, at_end: bool) -> bool:
    for refs in (seam.a, seam.b):
        name, index = corner_index(pattern, refs, at_end=at_end)
        edges = pattern.piece(name).edges
        if Role.HEM in (edges[index].role, edges[index - 1].role):
            return True
    return False


CHECK = Check(
    id=ID,
    title="Do edges that are sewn together agree in length?",
    why="Stitching lines, not cutting lines, are what is sewn. A seam that differs by more than a "
    "pencil line is eased, stretched or puckered by whoever sews it, and the hem shows it.",
    source="Bands from fitting teachers' practice, 1/16 in and 1/8 in (docs/sources.md, "
    "walking seams).",
    codes=("seam-length", "seam-section-length", "seam-lengths-skipped"),
    run=seam_lengths,
)
