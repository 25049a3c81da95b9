"""What the walk comes to: one sentence, what was looked at, and what could not be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clothwright.checks import DEFAULTS, Check, CheckSettings, LookedAt, looked_at
from clothwright.checks.answers import is_answered_no
from clothwright.drawing.walk_table import loose_edges
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.words import counted, listed
from clothwright.workbook import Workbook


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What the checks come to. words: the whole of it in a sentence; kind: "bad", "notice", "good".

    agree: the questions that no finding answers no, with how much was looked at for each; none as
    long as no seam is named.
    unlooked: what could not be looked at, a sentence each: an answer without it would be a false
    all-clear.
    """

    words: str
    kind: str
    agree: tuple[str, ...]
    unlooked: tuple[str, ...]


def verdict(
    pattern: Pattern,
    found: Sequence[Finding],
    nobody: str = "",
    settings: CheckSettings = DEFAULTS,
) -> Verdict:
    """Return what the checks come to on the pieces as changed.

    nobody: why the room left for the wearer was not looked at, a sentence; "" when it was.
    settings: what the checks were run with.
    """
    faults = sum(1 for f in found if f.severity is Severity.FAULT)
    every = looked_at(pattern, settings)
    room = (f"“{c.title}” {nobody}" for c, what in every if c.of_body and nobody and what.words)
    looked = every if pattern.seams else ()
    clean = [(c, what) for c, what in looked if not is_answered_no(c, pattern, found)]
    absent = [what.words for c, what in looked if not what.count and not (c.of_body and nobody)]
    return Verdict(
        words=_words(pattern, len(found), faults),
        kind="bad" if faults else "notice" if found or not pattern.seams else "good",
        agree=tuple(f"{c.title} Yes: {what.words}." for c, what in clean if what.count),
        unlooked=(*room, *_nothing_there(absent), *_unlooked(looked), *_without_partner(pattern)),
    )


def _nothing_there(absent: Sequence[str]) -> Iterator[str]:
    """Say of what there is nothing, so that nothing of it can agree."""
    none = [words for words in absent if words]
    if none:
        yield f"There are {listed(none)} here."


def _unlooked(looked: Sequence[tuple[Check, LookedAt]]) -> Iterator[str]:
    return (words for _, what in looked for words in what.unlooked)


def unmeasured(book: Workbook) -> str:
    """Say why the room left for the wearer is not looked at in a workbook; "" when it is."""
    return "" if book.body.taken else "Nobody has been measured."


def _words(pattern: Pattern, found: int, faults: int) -> str:
    if not pattern.pieces:
        return "There is nothing to walk yet: no pieces."
    if faults:
        more = f" {found - faults} more to look at." if found > faults else ""
        return f"{counted(faults, 'fault')} to mend before you cut.{more}"
    if found:
        return f"No faults. {counted(found, 'finding')} to look at."
    if not pattern.seams:
        return "No seams are named yet, so nothing could be walked."
    return f"All {len(pattern.seams)} seams agree, and so does everything else that was looked at."


def _without_partner(pattern: Pattern) -> tuple[str, ...]:
    """Say which edges meant for a seam are in none."""
    loose = loose_edges(pattern)
    if not loose:
        return ()
    have = "has" if len(loose) == 1 else "have"
    return (
        f"{counted(len(loose), 'edge')} {have} no partner: {'; '.join(loose)}. Right for an edge "
        "that is faced, bound, folded or sewn down on top; otherwise name its seam.",
    )
