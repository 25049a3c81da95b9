"""How the print meets along a seam, in sentences: in what way, where, and how far out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from clothwright.lay.meeting.values import WHOLE, MeetingKind, MeetingRun, SeamMark, SeamMeeting
from clothwright.units import Unit
from clothwright.words import begun, listed, show_difference, show_length

NEAR_MM = 5.0
"""mm: what begins or ends as near to a mark as this is said to begin or end there."""
SHORT_MM = 10.0
"""mm: shorter parts are not told one by one."""
MOST_TOLD = 3
"""Parts of one kind told one by one, at most: more cannot be kept in mind."""
ALL, HARDLY = 0.98, 0.02
"""Shares that count as all of it, and as none."""
DOES = {
    MeetingKind.RUNS_ON: "runs on {}",
    MeetingKind.MIRRORED: "is alike on both sides of it {}",
    MeetingKind.LEVEL: "is level {}",
    MeetingKind.UPRIGHT: "meets in its upright lines {}",
    MeetingKind.APART: "meets {}",
}
CHEVRON = "is mirrored as a chevron {}"
TURNED = "is turned by {:.0f}° from one piece to the other"
TURNED_HERE = "is turned too far to meet {}"
STOPS = "is on one side only {}"

Part = tuple[MeetingRun, ...]


def is_good(m: SeamMeeting) -> bool:
    """Tell whether the print meets along all of a seam."""
    return m.share >= ALL


def is_best(m: SeamMeeting) -> bool:
    """Tell whether a seam needs no other look: most of it meets, and no more of it can."""
    return m.as_good_as_can_be and m.kind in tuple(MeetingKind)[:4]


def met_kind(m: SeamMeeting) -> MeetingKind:
    """Return the best kind that holds for nearly all of what meets; APART for a mixture."""
    return _kind([r for r in m.runs if r.within])


def meeting_sentence(m: SeamMeeting, unit: Unit) -> str:
    """Say how the print meets along a seam, in whole sentences, lengths in `unit`."""
    first, *others = _clauses(m, unit)
    return " ".join((f"{begun(m.seam)}: {first}.", *(f"{begun(c)}." for c in others)))


def meeting_line(m: SeamMeeting, unit: Unit) -> str:
    """Say the same in one line that stands beside the seam's name."""
    return "; ".join(_clauses(m, unit)).removeprefix("the print ").removeprefix("is ")


def _subject(m: SeamMeeting) -> str:
    """Name what meets: the border where nothing else is printed along the seam."""
    return "border" if any(not r.printed for r in m.runs) else "print"


def _clauses(m: SeamMeeting, unit: Unit) -> list[str]:
    """Return what there is to say of a seam: of the print or the border, then what could be."""
    said, before = [], ""
    for subject, words in _told(m, unit):
        said.append(f"{'it' if subject == before else f'the {subject}'} {words}")
        before = subject
    return [*said, *_possible(m)]


def _told(m: SeamMeeting, unit: Unit) -> list[tuple[str, str]]:
    """Return what there is to say of a seam, each with its subject: "print" or "border"."""
    mine = _subject(m)
    found = [(mine, words) for words in (*_meets(m, unit), *_turned(m, unit))]
    found += [("border", words) for words in _stops(m, unit)]
    found += [(mine, words) for words in _apart(m, unit)]
    hardly = "hardly touches the seam and does not meet there"
    return found or [(mine, hardly if m.share < HARDLY else f"meets along {m.share:.0%} of it")]


def _meets(m: SeamMeeting, unit: Unit) -> Iterator[str]:
    """Say in what way and where what crosses the seam meets, the longest parts first."""
    parts = _parts(m, within=True)
    if is_good(m):
        said = [_filled(_does(met_kind(m), m.runs), "all along" if _subject(m) == "print" else "")]
        more = {k: share for k, share in m.shares.items() if k in WHOLE and HARDLY < share < ALL}
        said += [_filled(_does(k, m.runs), f"along {part:.0%} of it") for k, part in more.items()]
        yield listed(said)
        return
    said = []
    for kind in DOES:
        mine = [p for p in parts if _kind(p) is kind]
        if mine:
            does = _does(kind, [r for p in mine for r in p])
            said.append(_filled(does, _places(m, mine, unit)))
    if said:
        yield f"{listed(said)} ({m.share:.0%} of its length)"


def _does(kind: MeetingKind, runs: Sequence[MeetingRun]) -> str:
    """Return what the print does: mirrored lines are a chevron where most of them are bent."""
    mirrored = [r for r in runs if r.kind is MeetingKind.MIRRORED]
    bent = sum(r.length for r in mirrored if r.bent)
    chevron = kind is MeetingKind.MIRRORED and bent > sum(r.length for r in mirrored) / 2
    return CHEVRON if chevron else DOES[kind]


def _turned(m: SeamMeeting, unit: Unit) -> Iterator[str]:
    """Say where the print is turned; if all along, by how much."""
    if m.shares.get(MeetingKind.TURNED, 0.0) >= ALL:
        yield TURNED.format(m.turned_deg)
    else:
        yield from _filled_where(m, MeetingKind.TURNED, TURNED_HERE, unit)


def _stops(m: SeamMeeting, unit: Unit) -> Iterator[str]:
    """Say where a border is on one side only."""
    if m.shares.get(MeetingKind.STOPS, 0.0) >= ALL and _subject(m) == "print":
        yield _filled(STOPS, "")
    else:
        yield from _filled_where(m, MeetingKind.STOPS, STOPS, unit)


def _filled_where(m: SeamMeeting, kind: MeetingKind, words: str, unit: Unit) -> Iterator[str]:
    parts = _parts(m, kind=kind)
    if parts:
        yield _filled(words, _places(m, parts, unit))


def _places(m: SeamMeeting, parts: Sequence[Part], unit: Unit) -> str:
    """Say where the longest of some parts lie, in their order along the seam."""
    told = sorted(parts[:MOST_TOLD], key=lambda p: p[0].low)
    return listed([_where(m, p, unit) for p in told])


def _apart(m: SeamMeeting, unit: Unit) -> Iterator[str]:
    """Say how far out it is at most, where it does not meet."""
    if m.worst is None or is_good(m) or m.worst <= m.tolerance:
        return
    way = "vertically" if m.worst == m.level else "sideways" if m.worst == m.upright else ""
    out = f"is up to {show_difference(m.worst, unit)} apart {way}".strip()
    if _parts(m, within=True):
        yield f"{out} elsewhere"
    else:
        some = "does not meet at all" if m.share < HARDLY else "meets only here and there"
        yield f"{out} and {some}"


def _possible(m: SeamMeeting) -> Iterator[str]:
    """Say whether another place of the pieces would let more of the seam meet."""
    if is_good(m):
        return
    if m.as_good_as_can_be:
        turned = any(r.kind is MeetingKind.TURNED for r in m.runs)
        more = "more of it meet" if m.share >= HARDLY else "any of it meet"
        round_ = ", lying this way round," if turned else ""
        yield f"no other place of the pieces{round_} would let {more}"
    else:
        share = "all" if m.best.share >= ALL else f"{m.best.share:.0%}"
        yield f"with the pieces laid elsewhere, {share} of it could meet"


def _parts(
    m: SeamMeeting, *, within: bool | None = None, kind: MeetingKind | None = None
) -> list[Part]:
    """Return the parts worth telling, the longest first: within the tolerance, or of one kind."""
    parts: list[Part] = []
    for wanted, part in groupby(m.runs, key=lambda r: (within and r.within) or r.kind is kind):
        runs = tuple(part)
        if wanted and runs[-1].high - runs[0].low >= SHORT_MM:
            parts.append(runs)
    return sorted(parts, key=lambda p: p[0].low - p[-1].high)


def _kind(part: Sequence[MeetingRun]) -> MeetingKind:
    """Return the best kind of meeting that holds for nearly all of a part."""
    length = sum(r.length for r in part)
    for kind in DOES:
        counted = (kind,) if kind in WHOLE else (*WHOLE, kind)
        if sum(r.length for r in part if r.kind in counted) >= ALL * length:
            return kind
    return MeetingKind.APART


def _where(m: SeamMeeting, part: Part, unit: Unit) -> str:
    """Say where a part of a seam lies: "from the hem to the bust dart"."""
    low, high = part[0].low, part[-1].high
    inside = [k for k in m.marks if low + NEAR_MM < k.at < high - NEAR_MM]
    start, end = _nearest(m.marks, low), _nearest(m.marks, high)
    free = min(abs(start.at - low), abs(end.at - high)) > NEAR_MM
    if free and len(inside) == 1:
        before, after = inside[0].at - low, high - inside[0].at
        if abs(before - after) <= NEAR_MM:
            return f"for {show_length(min(before, after), unit)} either side of {inside[0].name}"
    to = _place(end, "it" if end is start else end.name, high, unit)
    return f"from {_place(start, start.name, low, unit)} to {to}"


def _nearest(marks: Sequence[SeamMark], at: float) -> SeamMark:
    return min(marks, key=lambda k: abs(k.at - at))


def _place(mark: SeamMark, name: str, at: float, unit: Unit) -> str:
    """Say a place of a seam by the mark nearest to it, seen from the seam's start."""
    if abs(mark.at - at) <= NEAR_MM:
        return mark.name
    return f"{show_length(abs(at - mark.at), unit)} {'before' if at < mark.at else 'beyond'} {name}"


def _filled(words: str, *parts: object) -> str:
    """Fill a sentence in; what has nothing to say leaves no gap."""
    return " ".join(words.format(*parts).split()).replace(" ,", ",")
