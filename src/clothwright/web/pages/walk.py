"""Does it still sew together? Findings beside both edges of the seam, and what mends them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from clothwright.checks import CHECKS
from clothwright.checks.walk import Walk, run_name, walk_seam
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Role as EdgeRole
from clothwright.units import Unit
from clothwright.web.page import Asked, Page
from clothwright.web.walk_cards import count_words, difference_words, finding_card, walked_drawings
from clothwright.words import show_length
from clothwright.workroom.walking.checking import findings_of

GROUPS = (
    (Severity.FAULT, "Faults", "bad", "to mend before cutting"),
    (Severity.NOTICE, "Notices", "notice", "small; look, then decide"),
    (Severity.SKIPPED, "Not looked at", "notice", "could not be checked, so not passed"),
    (Severity.NOTE, "Notes", "", "for your knowledge"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamLine:
    """One seam in the list."""

    name: str
    href: str
    a: str
    b: str
    length_a: str
    length_b: str
    ease: str
    difference: str
    status: str
    kind: str
    chosen: bool


def render(asked: Asked) -> Mapping[str, object]:
    """Return the findings in groups, every seam, and the chosen seam stretch by stretch."""
    shown = asked.opened.once("walk", asked.revision, lambda: _findings(asked))
    pattern, found = asked.replayed.pattern, findings_of(asked.book, asked.replayed)
    wanted, unit = asked.query.get("seam", ""), asked.book.unit
    known = [s.name for s in pattern.seams]
    chosen = wanted if wanted in known else (known[0] if known else "")
    return {
        **shown,
        "seams": tuple(_seam_line(pattern, s, found, unit, chosen=chosen) for s in pattern.seams),
        "seam": _one(asked, pattern.seam(chosen)) if chosen else None,
        "missing": wanted if wanted and wanted not in known else "",
        "loose": _loose(pattern),
    }


def _findings(asked: Asked) -> Mapping[str, object]:
    """Return every finding as a card, in groups, and the checks that agree."""
    pattern, found = asked.replayed.pattern, findings_of(asked.book, asked.replayed)
    codes = {f.code for f in found}
    groups = []
    for weight, title, kind, why in GROUPS:
        mine = tuple(
            finding_card(asked, found, n, kind) for n, f in enumerate(found) if f.severity is weight
        )
        if mine:
            groups.append({"title": title, "why": why, "cards": mine})
    faults = sum(1 for f in found if f.severity is Severity.FAULT)
    return {
        "groups": tuple(groups),
        "agree": tuple(
            c.title
            for c in CHECKS
            if not codes & set(c.codes) and (asked.book.body.taken or c.id != "wearing-ease")
        ),
        "unmeasured": not asked.book.body.taken,
        "verdict": _verdict(pattern, found, faults),
        "verdict_kind": "bad" if faults else "notice" if groups or not pattern.seams else "good",
    }


def _verdict(pattern: Pattern, found: tuple[Finding, ...], faults: int) -> str:
    if not pattern.pieces:
        return "There is nothing to walk yet: no pieces."
    if faults:
        rest = len(found) - faults
        more = f" {rest} more to look at." if rest else ""
        return f"{count_words(faults, 'fault')} to mend before you cut.{more}"
    if found:
        return f"No faults. {count_words(len(found), 'finding')} to look at."
    if not pattern.seams:
        return "No seams are named yet, so nothing could be walked."
    return f"All {len(pattern.seams)} seams agree, and so does everything else that was looked at."


def _seam_line(
    pattern: Pattern, seam: Seam, found: tuple[Finding, ...], unit: Unit, *, chosen: str
) -> SeamLine:
    walk = walk_seam(pattern, seam)
    mine = [f.severity for f in found if f.where.seam == seam.name]
    fault, notice = Severity.FAULT in mine, bool(mine)
    return SeamLine(
        name=seam.name,
        href="?" + urlencode({"seam": seam.name}),
        a=run_name(seam.a),
        b=run_name(seam.b),
        length_a=show_length(walk.a.length, unit),
        length_b=show_length(walk.b.length, unit),
        ease=_ease(walk, unit),
        difference=show_length(walk.off, unit, sign=True) if abs(walk.off) >= 0.05 else "0",
        status="fault" if fault else "notice" if notice else "agrees",
        kind="bad" if fault else "notice" if notice else "good",
        chosen=seam.name == chosen,
    )


def _ease(walk: Walk, unit: Unit) -> str:
    least, most = walk.meant
    if least == most:
        return show_length(least, unit) if least else "none"
    return f"{show_length(least, unit)} to {show_length(most, unit)}"


def _one(asked: Asked, seam: Seam) -> Mapping[str, object]:
    """Return the chosen seam: its drawing and its stretches from mark to mark."""
    pattern, unit = asked.replayed.pattern, asked.book.unit
    walk = walk_seam(pattern, seam)
    drawing, close, caption = walked_drawings(asked, pattern, seam)
    return {
        "name": seam.name,
        "words": f"{run_name(seam.a)} above, {run_name(seam.b)} below; "
        f"{difference_words(walk, unit)}, ease meant {_ease(walk, unit)}.",
        "drawing": drawing,
        "close": close,
        "caption": caption,
        "stretches": tuple(
            {
                "name": f"{s.start} to {s.end}",
                "a": show_length(s.a, unit),
                "b": show_length(s.b, unit),
                "by": show_length(s.b - s.a, unit, sign=True) if abs(s.b - s.a) >= 0.05 else "0",
            }
            for s in walk.sections
        ),
    }


def _loose(pattern: Pattern) -> tuple[str, ...]:
    """Return the edges meant for a seam that no seam in the list uses."""
    return tuple(
        f"{p.name}, {e.name}"
        for p in pattern.pieces
        for e in p.edges
        if e.role is EdgeRole.SEAM and not pattern.seams_of(p.name, e.name)
    )


PAGE = Page(
    name="walk",
    path="/b/{book}/walk",
    question="Does it still sew together?",
    render=render,
    modules=("walk.js",),
)
