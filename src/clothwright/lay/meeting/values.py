"""How the print meets along one seam, as values. Places are mm from the seam's start on side a."""

from __future__ import annotations

import enum
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

TOLERANCE_MM = 2.0
"""mm: what meets as near as this is seen as meeting. Common practice: a seam cannot be pinned and
stitched more truly than that by hand, and a bar of a check is rarely narrower."""
STRAIGHT_DEG = 10.0
"""degrees: lines bent at a seam by no more than this still run on. Side seams of a plain skirt
leave the grain by about five each (common practice for a slight flare)."""
AS_GOOD = 0.01
"""Share of a seam that is not worth another placing."""


class MeetingKind(enum.Enum):
    """How two edges meet at one place, or along most of a section.

    RUNS_ON: figures go on as if there were no seam. MIRRORED: they come out as in a mirror laid
    along the seam; lines at an angle are a chevron. LEVEL: bars across the body meet in height.
    UPRIGHT: bars up the body meet. APART: neither does. STOPS: one side has a border here, the
    other has none. TURNED: the design of one side is turned against the other's. PLAIN: nothing is
    printed here.
    """

    RUNS_ON = "runs on"
    MIRRORED = "mirrored"
    LEVEL = "level"
    UPRIGHT = "upright"
    APART = "apart"
    STOPS = "stops"
    TURNED = "turned"
    PLAIN = "plain"


WHOLE = (MeetingKind.RUNS_ON, MeetingKind.MIRRORED)
"""Kinds of meeting in which all of the design meets."""
ORDER = tuple(MeetingKind)
"""Kinds of meeting, the best first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamMark:
    """What a maker finds a place of a seam by: "the hem", "the front notch", "the bust dart"."""

    at: float
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetingRun:
    """A part of a seam, from `low` to `high`, along which the print meets in one way.

    within: what crosses the seam there meets within the tolerance. turned_deg: by how much side b
    is turned against side a, degrees, where it is TURNED or MIRRORED.
    """

    low: float
    high: float
    kind: MeetingKind
    within: bool
    turned_deg: float = 0.0

    @property
    def length(self) -> float:
        """How long it is, mm."""
        return self.high - self.low

    @property
    def bent(self) -> bool:
        """True where lines are mirrored at an angle: a chevron. Else they run straight on."""
        off = self.turned_deg % 180.0
        return self.kind is MeetingKind.MIRRORED and min(off, 180.0 - off) > STRAIGHT_DEG

    @property
    def printed(self) -> bool:
        """True where the design says anything."""
        return self.kind is not MeetingKind.PLAIN

    def between(self, low: float, high: float) -> MeetingRun | None:
        """Return what of it lies between two places, mm; None where nothing does."""
        part = replace(self, low=max(low, self.low), high=min(high, self.high))
        return part if part.length > 0.0 else None


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetingSection:
    """A section between two landmarks. kind: how most of it meets; share: of it, within."""

    start: SeamMark
    end: SeamMark
    kind: MeetingKind
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BestMeeting:
    """The best that the shape of a seam allows: one piece shifted on the cloth, not turned.

    share: the largest share that can lie within the tolerance; worst: mm, in that place.
    """

    share: float
    worst: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamMeeting:
    """How the print meets along one seam on one side of the body.

    shapes: the copies joined, side a then side b (the first `a_count` are side a's). worn: it is
    seen when the garment is worn. runs: the
    whole seam, part by part. worst, mean: mm by which what crosses the seam misses, where it is
    neither turned nor stops; level, upright: the largest miss in height and to the side, on the
    body; None where the design says nothing of it.
    """

    seam: str
    half: int
    shapes: tuple[str, ...]
    a_count: int
    worn: bool
    length: float
    tolerance: float
    marks: tuple[SeamMark, ...]
    sections: tuple[MeetingSection, ...]
    runs: tuple[MeetingRun, ...]
    worst: float | None
    mean: float | None
    level: float | None
    upright: float | None
    best: BestMeeting

    @property
    def printed(self) -> float:
        """Length of the seam of which the design says anything, mm."""
        return _total(r for r in self.runs if r.printed)

    @property
    def share(self) -> float:
        """Share of that length along which what crosses the seam meets within the tolerance."""
        return share_of(self.runs)

    @property
    def shares(self) -> dict[MeetingKind, float]:
        """Share of that length for every kind of meeting there is along it, the best first."""
        return {
            kind: _total(r for r in self.runs if r.kind is kind) / (self.printed or 1.0)
            for kind in ORDER
            if kind is not MeetingKind.PLAIN and any(r.kind is kind for r in self.runs)
        }

    @property
    def kind(self) -> MeetingKind:
        """How most of the seam meets."""
        return kind_of(self.runs)

    @property
    def stops_mm(self) -> float:
        """Length along which a border is on one side only, mm."""
        return _total(r for r in self.runs if r.kind is MeetingKind.STOPS)

    @property
    def turned_deg(self) -> float | None:
        """By how much the longest turned part is turned, degrees; None where nothing is."""
        turned = [r for r in self.runs if r.kind is MeetingKind.TURNED]
        return max(turned, key=lambda r: r.length).turned_deg if turned else None

    @property
    def as_good_as_can_be(self) -> bool:
        """True when no shift of one piece would let more of the seam meet."""
        return self.share >= self.best.share - AS_GOOD


def kind_of(runs: Sequence[MeetingRun]) -> MeetingKind:
    """Return how most of some parts of a seam meets: the best that holds for at least half.

    What runs on or is mirrored is level and upright as well.
    """
    known = [r for r in runs if r.printed]
    if not known:
        return MeetingKind.PLAIN
    half = _total(known) / 2
    for kind in ORDER[:4]:
        counted = (kind,) if kind in WHOLE else (*WHOLE, kind)
        if _total(r for r in known if r.kind in counted) >= half:
            return kind
    rest = [k for k in ORDER[4:] if any(r.kind is k for r in known)]
    return max(rest or [MeetingKind.APART], key=lambda k: _total(r for r in known if r.kind is k))


def share_of(runs: Sequence[MeetingRun]) -> float:
    """Return the share within the tolerance of all that is printed along parts of a seam."""
    return _total(r for r in runs if r.within) / (_total(r for r in runs if r.printed) or 1.0)


def worse_of_each(meetings: Iterable[SeamMeeting]) -> tuple[SeamMeeting, ...]:
    """Return the worse of both sides of the body for every seam that is worn outside, in order."""
    worse: dict[str, SeamMeeting] = {}
    for m in (each for each in meetings if each.worn):
        old = worse.get(m.seam)
        if old is None or (m.share, -(m.worst or 0.0)) < (old.share, -(old.worst or 0.0)):
            worse[m.seam] = m
    return tuple(worse.values())


def _total(runs: Iterable[MeetingRun]) -> float:
    return sum(r.length for r in runs)
