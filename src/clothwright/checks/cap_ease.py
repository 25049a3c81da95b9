"""Is a sleeve cap longer than its armhole by a sound amount, in the right places?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.corner_mends import corner_mends
from clothwright.checks.notch_partners import notch_point
from clothwright.checks.weigh import each, length_band, skipped
from clothwright.pattern.cap import cap_bounds, cap_ease_of, cap_top
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.walk import Walk, mark_name, run_is, run_name, walk_seam
from clothwright.words import Sentence, counted

ID = "cap-ease"

_DUST_MM = 0.05

BACK_TIMES = 2.5
"""The back half takes 1.1 to 1.7 times the front's (1.3 to 1.6 against 1.0 to 1.3 cm, fitted trial
bodice, docs/sources.md); so much more than that is a slip. Our own figure."""

_PLAIN = (Severity.NOTE, Severity.SKIPPED)
"""What nothing has to mend."""

_WEIGHT = {"cap-shorter": Severity.FAULT, "cap-share-short": Severity.FAULT}
"""What is wrong whatever the cloth; the rest depends on it and is a notice."""


def cap_ease(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Measure every seam of kind "cap"; side b is the cap."""
    caps = tuple(s for s in pattern.seams if s.kind == "cap")
    yield from each(ID, caps, lambda s: Where(seam=s.name), lambda s: _mended(pattern, s, settings))


def _mended(pattern: Pattern, seam: Seam, settings: CheckSettings) -> Iterator[Finding]:
    """Yield what is found, each with what mends it.

    A corner that spoils another seam, too, is put back; else the cap is fitted to its armhole.
    """
    found = tuple(_cap(pattern, seam, settings))
    if all(f.severity in _PLAIN for f in found):
        yield from found
        return
    params: dict[str, object] = {"seam": seam.name}
    if not is_meant(seam):
        params["ease"] = (settings.cap_ease_min + settings.cap_ease_max) / 2
    shared = (c.mend for c in corner_mends(pattern, seam, settings) if c.agreed > 1)
    marks = _armhole_notches(pattern, seam, walk_seam(pattern, seam), settings)
    ways = (*shared, Mend(change="fit-cap", params=params), *marks)
    for f in found:
        yield f if f.severity in _PLAIN else replace(f, mend=ways[0], others=ways[1:])


def _armhole_notches(
    pattern: Pattern, seam: Seam, walk: Walk, settings: CheckSettings
) -> Iterator[Mend]:
    """Yield the notches of an armhole that may have slipped instead of the cap's: it is as long."""
    bounds = cap_bounds(walk, seam)
    if bounds is None or length_band(walk.off, settings):
        return
    top = cap_top(walk, *bounds)
    ends = (walk.pairs[i] for i in bounds)
    for pair in (*((top,) if top else ()), *ends):
        if pair.a.kind:
            notch = notch_point(pattern, seam.a, pair.a)
            yield Mend(change="match-notch", params={"seam": seam.name, "notch": notch})


def _cap(pattern: Pattern, seam: Seam, settings: CheckSettings) -> Iterator[Finding]:
    walk = walk_seam(pattern, seam)
    ease = cap_ease_of(walk, seam)
    yield from _whole(seam, walk, settings)
    if ease.under is not None:
        yield from _under(seam, walk, ease.under, settings)
    if ease.missing:
        what = f'Where the ease of seam "{seam.name}" lies'
        yield skipped(ID, _at(seam), ease.missing, what)
    elif ease.front is not None and ease.back is not None and ease.total >= -_DUST_MM:
        yield from _shares(seam, ease.front, ease.back, settings)


def _whole(seam: Seam, walk: Walk, settings: CheckSettings) -> Iterator[Finding]:
    """What the seam says is meant counts; a band for all sleeves only where it says nothing."""
    total = walk.b.length - walk.a.length
    armhole = run_name(seam.a)
    said: Sentence = (f"{run_is(seam.b)} ", abs(total), f" longer than its armhole {armhole}")
    if total < min(0.0, walk.meant.least) - _DUST_MM:
        words: Sentence = (
            f"{run_is(seam.b)} ", -total, f" shorter than its armhole {armhole}; a cap is never "
            "the shorter of the two", *_asked(walk), ".",
        )  # fmt: skip
        yield _finding("cap-shorter", seam, total, walk.meant.least, words)
    elif is_meant(seam):
        yield from _not_meant(seam, walk, said, settings)
    else:
        yield from _out_of_band(seam, total, said, settings)


def _asked(walk: Walk) -> Sentence:
    """Say how much longer a cap is meant to be; nothing where that is not said."""
    least = walk.meant.least
    return (", and this one is meant to be ", least, " longer") if least > 0.0 else ()


def is_meant(seam: Seam) -> bool:
    """Tell whether a seam says by how much its cap is meant to be the longer."""
    return bool(seam.ease or seam.eased_max) or seam.join != "eased"


def _not_meant(
    seam: Seam, walk: Walk, said: Sentence, settings: CheckSettings
) -> Iterator[Finding]:
    total, most = walk.b.length - walk.a.length, settings.cap_ease_max
    limit = walk.meant.most if walk.off > 0 else walk.meant.least
    if length_band(walk.off, settings):
        meant: Sentence = (limit, f" is meant to be {seam.join}.") if limit else ("none is meant.",)
        yield _finding("cap-ease-not-meant", seam, total, limit, (*said, ", but ", *meant))
    elif seam.join == "eased" and total > most + _DUST_MM and not settings.stretches:
        words = (*said, ", as is meant; only soft wool eases by more than ", most, ".")
        yield replace(_finding("cap-ease-high", seam, total, most, words), severity=Severity.NOTE)


def _out_of_band(
    seam: Seam, total: float, said: Sentence, settings: CheckSettings
) -> Iterator[Finding]:
    least, most = 0.0 if settings.stretches else settings.cap_ease_min, settings.cap_ease_max
    if total < least - _DUST_MM:
        words: Sentence = (
            *said, "; a set-in sleeve of woven cloth wants at least ", least,
            ". If it is sewn in flat, say in the seam how much ease is meant.",
        )  # fmt: skip
        yield _finding("cap-ease-low", seam, total, least, words)
    elif total > most + _DUST_MM:
        words = (
            *said, "; more than ", most, " is hard to ease into woven cloth. If it is gathered, "
            "say so in the seam.",
        )  # fmt: skip
        yield _finding("cap-ease-high", seam, total, most, words)


def _under(
    seam: Seam, walk: Walk, under: tuple[float, float], settings: CheckSettings
) -> Iterator[Finding]:
    low_high = cap_bounds(walk, seam)
    if low_high is None:
        return
    for off, at in zip(under, low_high, strict=True):
        weight = length_band(off, settings)
        if weight:
            pair = walk.pairs[at]
            kind = "longer" if off > 0 else "shorter"
            yield Finding(
                code="cap-ease-under-arm",
                severity=weight,
                where=Where(
                    seam=seam.name, piece=pair.b.piece, edge=pair.b.edge, point=pair.b.name
                ),
                measured=off,
                expected=0.0,
                unit="mm",
                words=(
                    f"Between the underarm and {mark_name(pair.b)}, {run_is(seam.b)} ",
                    abs(off),
                    f" {kind} than the armhole; there is no ease under the arm.",
                ),
            )


def _shares(seam: Seam, front: float, back: float, settings: CheckSettings) -> Iterator[Finding]:
    for share, name in ((front, "front"), (back, "back")):
        if share < -settings.agree:
            words: Sentence = (
                f"Between its {name} notch and the shoulder, {run_is(seam.b)} ", -share,
                " shorter than the armhole.",
            )  # fmt: skip
            yield _finding("cap-share-short", seam, share, 0.0, words)
            return
    if front > back + settings.notice:
        words = (
            f"The ease of {run_name(seam.b)} is larger in front (", front,
            ") than at the back (", back, "); the back half takes the larger share.",
        )  # fmt: skip
        yield _finding("cap-ease-front-heavy", seam, front, back, words)
    elif back > BACK_TIMES * max(front, 0.0) + settings.notice:
        words = (
            f"Nearly all the ease of {run_name(seam.b)} lies at the back (", back,
            "; front: ", front, "): the mark that meets the shoulder has slipped, or belongs "
            "further back.",
        )  # fmt: skip
        yield _finding("cap-ease-back-heavy", seam, back, front, words)


def _finding(code: str, seam: Seam, measured: float, expected: float, words: Sentence) -> Finding:
    return Finding(
        code=code,
        severity=_WEIGHT.get(code, Severity.NOTICE),
        where=_at(seam),
        measured=measured,
        expected=expected,
        unit="mm",
        words=words,
    )


def _at(seam: Seam) -> Where:
    return Where(seam=seam.name, piece=seam.b[0].piece, edge=seam.b[0].edge)


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the sleeve caps."""
    del settings
    caps = sum(1 for s in pattern.seams if s.kind == "cap")
    return LookedAt(caps, counted(caps, "sleeve cap"))


CHECK = Check(
    id=ID,
    title="Has the sleeve cap the right ease, and in the right places?",
    why="A cap longer than its armhole gives room to the shoulder; too much puckers, too little "
    "binds, and under the arm there is nowhere for it to go.",
    source="Textbooks ask for 1 to 1 1/2 in in woven cloth, teachers and makers accept 1/2 to "
    "1 1/2 in; ease between the notches only, the larger share at the back (docs/sources.md, "
    "cap ease). A guide for seams that say nothing; what a seam says is meant counts.",
    codes=(
        "cap-shorter",
        "cap-ease-low",
        "cap-ease-high",
        "cap-ease-not-meant",
        "cap-ease-under-arm",
        "cap-share-short",
        "cap-ease-front-heavy",
        "cap-ease-back-heavy",
        f"{ID}-skipped",
    ),
    run=cap_ease,
    looked=looked,
)
