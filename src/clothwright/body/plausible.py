"""Slips of the tape: does one measurement go with the others?

Held against the summary of a published survey of 260 physically active adult women in the United
States (Heinz, Peterson, Johnson and Kerk, "Exploring Relationships in Body Dimensions", Journal of
Statistics Education 11(2), 2003): means, standard deviations and five correlations, no data.
A warning is a question, never a refusal. Bodies vary.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from clothwright.body.body import Body
from clothwright.body.measures import MEASURES, measure_of
from clothwright.errors import BadInput
from clothwright.units import Unit, parse_length
from clothwright.words import Sentence, begun, listed

WHO = (
    "260 physically active adult women in the United States, measured for a study published in "
    "2003; nobody else. Bodies vary: a warning here asks you to look at the tape once more, and "
    "you may know better."
)


class Summary(NamedTuple):
    """Mean and standard deviation of a girth, mm."""

    mean: float
    sd: float


SUMMARY: dict[str, Summary] = {
    "bust": Summary(860.6, 61.7),
    "waist": Summary(698.0, 75.9),
    "hip": Summary(956.5, 69.4),
    "upper-arm": Summary(281.0, 27.1),
    "wrist": Summary(150.6, 8.5),
    "height": Summary(1648.7, 65.4),
}
"""Their chest is our bust, their flexed biceps our upper arm: near enough for a warning."""

GIVEN = {
    ("bust", "waist"): 0.859,
    ("waist", "hip"): 0.812,
    ("bust", "hip"): 0.744,
    ("bust", "upper-arm"): 0.816,
    ("upper-arm", "wrist"): 0.683,
}

TIED = ("bust", "waist", "hip", "upper-arm", "wrist")

ODD = 3.0
"""So many conditional standard deviations off is a warning."""
ODD_HEIGHT = 5.0
"""Nothing is known of what goes with a height: only far off is a warning."""
BEYOND = 3.0
"""When all the other girths are so many deviations from the mean, or more, the survey knows no
bodies like this and nothing is said."""
LIKELY = 2.0
"""So few off, and an explanation is worth trying."""


class Try(NamedTuple):
    """What may have been meant: text, mm, and the slip in words."""

    text: str
    mm: float
    slip: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """One measurement that does not go with the others, or that no body has.

    expected: mm, the mean given the others; spread: mm, the standard deviation then; None for one
    that is no body's whatever the others are, and for which nothing is known.
    """

    measure: str
    measured: float
    expected: float | None
    spread: float | None
    tries: tuple[Try, ...]
    words: Sentence


def correlations() -> np.ndarray:
    """Return the correlations of TIED, 5 × 5.

    The summary gives five. The others are filled in as if two girths were tied only through those
    given (chest to wrist through the upper arm), which is the least that can be assumed.
    """
    known = np.eye(len(TIED))

    def put(a: str, b: str, r: float) -> None:
        i, j = TIED.index(a), TIED.index(b)
        known[i, j] = known[j, i] = r

    for (a, b), r in GIVEN.items():
        put(a, b, r)
    arm, wrist = GIVEN["bust", "upper-arm"], GIVEN["upper-arm", "wrist"]
    for girth, r in (("waist", GIVEN["bust", "waist"]), ("hip", GIVEN["bust", "hip"])):
        put(girth, "upper-arm", r * arm)
        put(girth, "wrist", r * arm * wrist)
    put("bust", "wrist", arm * wrist)
    return known


_TIES = correlations()


def expected(measure: str, others: Mapping[str, float]) -> Summary | None:
    """Return mean and spread (mm) of a measurement, given others (mm); None where nothing is known.

    The conditional mean and deviation of a normal distribution. A girth alone, and a body far from
    those that were measured, cannot be compared with anything.
    """
    if measure == "height":
        return SUMMARY[measure]
    given = [m for m in TIED if m in others and m != measure]
    if measure not in TIED or not given or _is_beyond(given, others):
        return None
    own = SUMMARY[measure]
    k, at = TIED.index(measure), [TIED.index(m) for m in given]
    weights = np.linalg.solve(_TIES[np.ix_(at, at)], _TIES[at, k])
    z = np.array([(others[m] - SUMMARY[m].mean) / SUMMARY[m].sd for m in given])
    spread = math.sqrt(max(1.0 - float(weights @ _TIES[at, k]), 1e-6))
    return Summary(own.mean + own.sd * float(weights @ z), own.sd * spread)


def _is_beyond(given: list[str], others: Mapping[str, float]) -> bool:
    return all(abs(others[m] - SUMMARY[m].mean) > BEYOND * SUMMARY[m].sd for m in given)


def doubts(body: Body) -> tuple[Doubt, ...]:
    """Return what looks like a slip, in the order of MEASURES; nothing for a usual set."""
    taken = body.figures()
    wild = [m.id for m in MEASURES if m.id in taken and not m.fits(taken[m.id])]
    wild += [m for m in _same_slip(body, wild) if m not in wild]
    sound = {m: mm for m, mm in taken.items() if m not in wild}
    found = {m: _wild(m, body, sound) for m in wild}
    if body.compare:
        found |= _at_odds(body, sound)
    return tuple(found[m.id] for m in MEASURES if m.id in found)


def _same_slip(body: Body, wild: list[str]) -> list[str]:
    """Return what was typed in the wrong unit too, when most of what is in that unit must be.

    70 in of waist beside 86 in of bust and 96 in of hip: a waist could be so large, but all three
    are meant in centimetres.
    """
    texts = dict(body.taken)
    slips = {m: next(_other_unit(f.text), None) for m, f in texts.items()}
    meant = [m for m in wild if (s := slips[m]) is not None and measure_of(m).fits(s.mm)]
    units = {_unit_of(texts[m].text) for m in meant}
    alike = [m for m, f in texts.items() if _unit_of(f.text) in units]
    if len(meant) < 2 or len(units) != 1 or len(meant) * 2 <= len(alike):
        return []
    return [m for m in alike if (s := slips[m]) is not None and measure_of(m).fits(s.mm)]


def _off(measure: str, mm: float, others: Mapping[str, float]) -> float:
    """Return by how many conditional deviations a figure is off; 0 where nothing is known."""
    usual = expected(measure, others)
    return 0.0 if usual is None else (mm - usual.mean) / usual.sd


def _without(taken: Mapping[str, float], measure: str) -> dict[str, float]:
    return {m: mm for m, mm in taken.items() if m != measure}


def _at_odds(body: Body, sound: Mapping[str, float]) -> dict[str, Doubt]:
    """Take out, one after the other, the figure that is most at odds with the rest."""
    left = dict(sound)
    found: dict[str, Doubt] = {}
    while True:
        off = {m: abs(_off(m, mm, left)) for m, mm in left.items()}
        odd = [m for m, z in off.items() if z > (ODD_HEIGHT if m == "height" else ODD)]
        if not odd:
            return found
        worst = min(odd, key=lambda m: (_discord(_without(left, m)), -off[m]))
        rest = _without(left, worst)
        found[worst] = _odd(worst, body, rest)
        left = rest


def _discord(taken: Mapping[str, float]) -> float:
    """Return how badly a set goes together: its largest deviation, in conditional deviations."""
    return max((abs(_off(m, mm, taken)) for m, mm in taken.items()), default=0.0)


def _tries(measure: str, body: Body, rest: Mapping[str, float]) -> tuple[Try, ...]:
    """Return the slips that would explain a figure, the likeliest two."""
    text, known = dict(body.taken)[measure].text, measure_of(measure)
    most = 2 if body.compare and expected(measure, rest) is not None else 1

    def fits(mm: float) -> bool:
        usual = not body.compare or abs(_off(measure, mm, rest)) <= LIKELY
        return known.fits(mm) and usual

    seen: dict[float, Try] = {}
    for each in (*_other_unit(text), *_swapped(text), *_halves(measure, text)):
        if fits(each.mm):
            seen.setdefault(round(each.mm, 3), each)
    return tuple(seen.values())[:most]


_WITH_UNIT = re.compile(r"(.*?)\s*(cm|mm|inches|inch|in|\")", re.IGNORECASE)


def _unit_of(text: str) -> str:
    """Return the unit behind a figure: "cm", "mm", "in", or "" for any other."""
    found = _WITH_UNIT.fullmatch(text)
    unit = found[2].lower() if found else ""
    return "in" if unit in ('"', "inch", "inches") else unit


def _other_unit(text: str) -> Iterator[Try]:
    words = {"cm": ("in", "inches"), "in": ("cm", "centimetres"), "mm": ("cm", "centimetres")}
    found, now = _WITH_UNIT.fullmatch(text), _unit_of(text)
    if found is None or not now:
        return
    unit, name = words[now]
    meant = f"{found[1]} {unit}"
    mm = _read(meant)
    if mm is not None:
        yield Try(meant, mm, f"the figure was meant in {name}")


def _swapped(text: str) -> Iterator[Try]:
    number = re.match(r"\D*(\d[\d.,]*)", text)
    if number is None:
        return
    start, letters = number.start(1), list(number[1])
    places = [k for k, c in enumerate(letters) if c.isdigit()]
    for a, b in pairwise(places):
        if letters[a] == letters[b]:
            continue
        other = letters.copy()
        other[a], other[b] = other[b], other[a]
        meant = text[:start] + "".join(other) + text[number.end(1) :]
        mm = _read(meant)
        if mm is not None:
            yield Try(meant, mm, "two digits changed places")


def _halves(measure: str, text: str) -> Iterator[Try]:
    mm = _read(text)
    if mm is None or measure in ("height", "back-waist", "shoulder", "arm-length", "waist-to-hip"):
        return
    unit = Unit.inch if _unit_of(text) == "in" else Unit.cm
    for factor, slip in (
        (2.0, "only half of it was measured"),
        (0.5, "the tape lay double, or it was doubled already"),
    ):
        count = round(mm * factor / unit.in_mm, 3)
        yield Try(f"{count:g} {unit.value}", count * unit.in_mm, slip)


def _read(text: str) -> float | None:
    try:
        return parse_length(text, unit=Unit.mm)
    except BadInput:
        return None


def _wild(measure: str, body: Body, rest: Mapping[str, float]) -> Doubt:
    """Return the warning on a figure that no body has."""
    mm, known = dict(body.taken)[measure].mm, measure_of(measure)
    tries = _tries(measure, body, rest)
    if known.fits(mm):
        what: Sentence = (" is very large, and others in that unit are no measurements of a body.",)
    else:
        what = (" is no such measurement; expected ", known.least, " to ", known.most, ".")
    words: Sentence = (f"{_first(known.name)}: ", mm, *what, *_try_words(tries, ""))
    usual = expected(measure, rest) if body.compare else None
    return Doubt(
        measure=measure,
        measured=mm,
        expected=None if usual is None else usual.mean,
        spread=None if usual is None else usual.sd,
        tries=tries,
        words=words,
    )


def _odd(measure: str, body: Body, rest: Mapping[str, float]) -> Doubt:
    """Return the warning on a figure at odds with the rest of the set."""
    mm, name = dict(body.taken)[measure].mm, measure_of(measure).name
    usual = expected(measure, rest) or SUMMARY[measure]
    tries = _tries(measure, body, rest)
    by = [m for m in TIED if m in rest] if measure in TIED else []
    beside = " beside your " + listed([measure_of(m).name for m in by]) if by else ""
    words: Sentence = (
        f"{_first(name)}: you measured ", mm, f";{beside} about ", usual.mean,
        " would be expected.", *_try_words(tries, " Measure once more. If it is the same, keep it: "
        "bodies vary."),
    )  # fmt: skip
    return Doubt(
        measure=measure,
        measured=mm,
        expected=usual.mean,
        spread=usual.sd,
        tries=tries,
        words=words,
    )


def _try_words(tries: tuple[Try, ...], otherwise: str) -> Sentence:
    if not tries:
        return (otherwise,) if otherwise else ()
    said = " or ".join(f"{t.text} ({t.slip})" for t in tries)
    return (f" Try {said}?{otherwise}",)


def _first(name: str) -> str:
    return begun(name)
