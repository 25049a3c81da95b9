"""Is there room for the wearer? Finished girths against her measurements and wearing ease."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from clothwright.body.ease import LEVELS, NEAR_MM, Ease, ease_at
from clothwright.body.measures import measure_of
from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, skipped
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.girth import Girth, finished_girths
from clothwright.pattern.pattern import Pattern
from clothwright.words import Between, Sentence, counted, listed

ID = "wearing-ease"


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelEase:
    """The ease of a garment at one level: finished girth less body, mm, and what is asked for."""

    girth: Girth
    body: float
    asked: Ease

    @property
    def ease(self) -> float:
        """Finished girth less body girth, mm; less than 0: smaller than the wearer."""
        return self.girth.mm - self.body

    @property
    def least(self) -> float:
        """The ease that is asked for at the least, mm."""
        return self.asked.least

    @property
    def too_small(self) -> bool:
        """Tell whether it is smaller than the wearer, by more than is counted."""
        return self.ease < -NEAR_MM

    @property
    def too_little(self) -> bool:
        """Tell whether there is less ease than is asked for, by more than is counted."""
        return self.ease < self.least - NEAR_MM

    @property
    def _nearly(self) -> bool:
        """Tell whether it reads as less than is asked for, and is still counted as enough."""
        return self.ease < self.least and not self.too_little

    @property
    def words(self) -> Sentence:
        """The ease as a sentence."""
        girth = self.girth
        said: Sentence = (f"{girth.level.capitalize()}: ", girth.mm, " finished, ")
        if self.too_small:
            return (*said, -self.ease, " less than the body.")
        it = self.asked
        if not it.least:
            return (*said, max(self.ease, 0.0), " more than the body.")
        most: Sentence = (" to ", it.usual) if it.usual > it.least else ()
        asked: Sentence = (it.least, *most, f" is asked for in woven cloth ({it.source}).")
        near: Sentence = (" So little less counts as enough.",) if self._nearly else ()
        return (*said, max(self.ease, 0.0), " more than the body; at least ", *asked, *near)


def rooms_of(pattern: Pattern, body: Mapping[str, float]) -> tuple[LevelEase, ...]:
    """Return the ease at each level of a pattern that was measured on the wearer.

    body: her measurements, mm, by their ids.
    """
    return _rooms(_girths(pattern, body), body)


def _rooms(girths: tuple[Girth, ...], body: Mapping[str, float]) -> tuple[LevelEase, ...]:
    """Return the ease at each girth that can be told."""
    found = ((g, ease_at(g.level, lower=g.lower)) for g in girths)
    return tuple(
        LevelEase(girth=g, body=body[asked.measure], asked=asked)
        for g, asked in found
        if asked is not None and not g.missing
    )


def _girths(pattern: Pattern, body: Mapping[str, float]) -> tuple[Girth, ...]:
    levels = tuple(lv for lv, measure in LEVELS.items() if measure in body)
    return finished_girths(pattern, levels) if levels else ()


def wearing_ease(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare each finished girth with the wearer's; nothing when nobody was measured."""
    body = dict(settings.body)
    yield from each(
        ID, _girths(pattern, body), _at, lambda g: _room(g, body[LEVELS[g.level]], settings)
    )


def _room(girth: Girth, body: float, settings: CheckSettings) -> Iterator[Finding]:
    least = ease_at(girth.level, lower=girth.lower)
    if least is None:
        return
    name = measure_of(least.measure).name
    if girth.missing:
        what = f"The finished girth at the {girth.level}"
        yield skipped(ID, _at(girth), girth.missing, what)
        return
    ease, near = girth.mm - body, max(settings.agree, NEAR_MM)
    said: Sentence = (
        f"{listed(girth.pieces)} at the {girth.level}: ", girth.mm, " finished, and your ", name,
        " is ", body,
    )  # fmt: skip
    if ease < -near:
        weight = Severity.NOTICE if settings.stretches else Severity.FAULT
        stretch = (
            "the cloth stretches, so this may be meant."
            if settings.stretches
            else "unless the cloth stretches it cannot be closed."
        )
        words: Sentence = (
            *said,
            "; that is ",
            Between(body, girth.mm),
            f" less than the body: {stretch}",
        )
        yield _finding("ease-below-body", weight, girth, words, measured=ease, expected=0.0)
    elif ease < least.least - near and not settings.stretches:
        words = (
            *said, "; that leaves ", Between(girth.mm, body), " to move in, and woven cloth wants "
            "at least ", least.least, f" there ({least.source}; a guide).",
        )  # fmt: skip
        yield _finding(
            "ease-below-least",
            Severity.NOTICE,
            girth,
            words,
            measured=ease,
            expected=least.least,
        )


def _finding(
    code: str, weight: Severity, girth: Girth, words: Sentence, *, measured: float, expected: float
) -> Finding:
    return Finding(
        code=code,
        severity=weight,
        where=_at(girth),
        measured=measured,
        expected=expected,
        unit="mm",
        words=words,
    )


def _at(girth: Girth) -> Where:
    return Where(piece=girth.pieces[0], point=f"{girth.level} line")


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the girths that were compared with the wearer; name measures that met nothing."""
    body = dict(settings.body)
    found = _girths(pattern, body)
    girths, met = len(_rooms(found, body)), {g.level for g in found}
    bare = [lv for lv, measure in LEVELS.items() if measure in body and lv not in met]
    never = "you were measured there, and nothing of the pattern could be held against it."
    unlooked = (f"Room at the {listed(bare)}: {never}",) if bare else ()
    return LookedAt(girths, counted(girths, "girth") if met or not bare else "", unlooked)


CHECK = Check(
    id=ID,
    title="Is there room for the wearer?",
    why="A garment needs to be larger than its wearer, so that she can breathe, sit and reach; "
    "smaller than she is, it cannot be closed at all.",
    source="Least ease by a university's costume text (bust 1 1/2, waist of a dress 3/4, of a "
    "skirt 1/2, hip 2, thigh 1 in) and by a textbook draft (biceps 2 in): docs/sources.md, ease. "
    "Guides for woven cloth; ease = finished girth less body girth.",
    codes=("ease-below-body", "ease-below-least", f"{ID}-skipped"),
    run=wearing_ease,
    looked=looked,
    of_body=True,
)
