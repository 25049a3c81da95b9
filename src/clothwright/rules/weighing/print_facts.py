"""How the print of a laid plan meets, so that plans can be weighed by it: how much, where, how."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.lay.meeting.say import is_good, meeting_line, met_kind
from clothwright.lay.meeting.values import MeetingKind, SeamMeeting, worse_of_each
from clothwright.rules.weighing.fact import Fact
from clothwright.units import Unit
from clothwright.words import Sentence, listed, show_difference

WHOLLY = {
    MeetingKind.RUNS_ON: "print runs on at",
    MeetingKind.MIRRORED: "print alike on both sides of",
    MeetingKind.LEVEL: "print level at",
    MeetingKind.UPRIGHT: "upright lines meet at",
    MeetingKind.APART: "print meets at",
}
IN_PART = {
    MeetingKind.RUNS_ON: " runs on",
    MeetingKind.MIRRORED: " alike on both sides",
    MeetingKind.LEVEL: " level",
    MeetingKind.UPRIGHT: " in line",
    MeetingKind.APART: "",
}
PARTLY, APART = "print meets in part at", "print apart at"
BROKEN = {MeetingKind.TURNED: "print turned at", MeetingKind.STOPS: "border stops at"}
BROKEN_HERE = {MeetingKind.TURNED: "is turned", MeetingKind.STOPS: "stops"}
LABELS = (*WHOLLY.values(), PARTLY, APART, *BROKEN.values())
TWO_CLOTHS = "two cloths meet there"
"""Why the print is not compared at a seam."""
SOME = 0.02
"""A smaller share of a seam counts as none of it."""


def print_facts(meetings: Sequence[SeamMeeting], unit: Unit) -> Iterator[Fact]:
    """Yield along how much of its seams the print meets, at which in which way, then each seam.

    The worse side of the body stands for a seam. Lengths in `unit`.
    """
    seams = worse_of_each(meetings)
    if not seams:
        return
    yield Fact(label="print meets along", words=met_words(meetings), short=True)
    rows = [_weighed(m, unit) for m in seams]
    for label in LABELS:
        names = [words for own, words in rows if own == label]
        if names:
            yield Fact(label=label, words=listed(names), short=True)
    for m in sorted(seams, key=lambda m: m.share):
        yield Fact(label=f"print at the {m.seam}", words=meeting_line(m, unit))


def missing_mm(meetings: Sequence[SeamMeeting]) -> float:
    """Return how much of the seams that the print crosses does not meet, mm in all."""
    return sum(m.printed * (1.0 - m.share) for m in worse_of_each(meetings))


def print_cost(before: Sequence[SeamMeeting], after: Sequence[SeamMeeting]) -> list[Sentence]:
    """Say at which seams less of the print meets than did, and where it stops or is turned."""
    was = {m.seam: m for m in worse_of_each(before)}
    out: list[Sentence] = []
    for m in worse_of_each(after):
        old = was.get(m.seam)
        if m.share >= (1.0 if old is None else old.share) - SOME:
            continue
        if m.kind in BROKEN:
            out.append((f"the print {BROKEN_HERE[m.kind]} at the {m.seam}",))
        else:
            instead = "" if old is None else f" instead of {old.share:.0%}"
            out.append((f"at the {m.seam} the print meets along {m.share:.0%} of it{instead}",))
    return out


def met_words(meetings: Sequence[SeamMeeting]) -> str:
    """Say along how much of its seams the print meets, "" where it crosses none."""
    seams = worse_of_each(meetings)
    if not seams:
        return ""
    printed = sum(m.printed for m in seams)
    share = sum(m.printed * m.share for m in seams) / printed
    best = sum(m.printed * m.best.share for m in seams) / printed
    if all(is_good(m) for m in seams):
        return "all the seams it crosses"
    words = f"{share:.0%} of the seams it crosses"
    if f"{share:.0%}" == f"{best:.0%}":
        return f"{words}, as much as can be"
    return f"{words}; up to {best:.0%} if each were placed for itself"


def _weighed(m: SeamMeeting, unit: Unit) -> tuple[str, str]:
    """Return under which label a seam stands, and its name with what counts there."""
    if is_good(m):
        return WHOLLY[met_kind(m)], m.seam
    if m.share >= SOME:
        return PARTLY, f"{m.seam} ({m.share:.0%}{IN_PART[met_kind(m)]})"
    if m.worst is None and m.kind is MeetingKind.TURNED:
        return BROKEN[m.kind], f"{m.seam} (by {m.turned_deg:.0f}°)"
    if m.worst is None:
        return BROKEN[MeetingKind.STOPS], m.seam
    return APART, f"{m.seam} (up to {show_difference(m.worst, unit)})"
