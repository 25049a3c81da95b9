"""Text and numbers from outside, read once: lengths to millimetres, angles to degrees, shares."""

import re
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from clothwright.errors import BadInput, joined
from clothwright.units.amounts import Unreadable, exact, take_amount, take_sign, tidy
from clothwright.units.unit import LONGEST_MM, UNIT_OF_WORD, Unit, quoted, unit_hint

_UNIT = re.compile(r" ?(?:-(?=[a-z]))?([^\W\d_]+|[\"'])\.?")
_NEXT = re.compile(r", ?(?=.)| (?:and|&) | |(?<=')-|(?<=ft)-|")
_THOUSANDS = re.compile(r"[0-9]'[0-9]{3}")
_DEGREES = ("", "°", "deg", "deg.", "degs", "degree", "degrees")
_PERCENT = ("%", "percent", "per cent", "pct", "pct.")


class _Part(NamedTuple):
    """One amount with its unit, as in the "2 yd" of "2 yd 9 in"; None when no unit is written."""

    amount: Fraction
    unit: Unit | None


def parse_length(
    text: str | int | float, *, unit: Unit, where: str = "", least_mm: float | None = None
) -> float:
    """A length as the maker writes it, in millimetres.

    Fractions (``5/8``, ``17 1/2"``, ``17-1/2 in``, ``1⅝ in``), decimals with a point or a comma,
    several units from large to small (``2 yd 9 in``, ``5' 6"``), signs, and words for the units.
    ``unit`` is the one meant when none is written.  Reckoned exactly until the last step.
    ``least_mm`` refuses anything shorter, for lengths that cannot be negative or nothing.
    ``where`` names the place in the sentence of the ``BadInput`` that anything else raises.

    >>> parse_length('17 1/2"', unit=Unit.cm), parse_length("43,5", unit=Unit.cm)
    (444.5, 435.0)
    >>> parse_length("2 yd 9 in", unit=Unit.cm), parse_length(-0.5, unit=Unit.inch)
    (2057.4, -12.7)
    >>> parse_length("5/0 in", unit=Unit.cm, where="hem")
    Traceback (most recent call last):
    clothwright.errors.BadInput: Hem: "5/0 in" is not a length: it divides by zero; \
expected a length such as 43.5 cm (a number alone means centimetres).
    """
    try:
        value = _length_text(text, unit) if isinstance(text, str) else _number(text) * unit.exact_mm
        return _within(value, least_mm)
    except Unreadable as trouble:
        sample = "43.5 cm" if unit.is_metric else "17 1/2 in"
        expected = f"a length such as {sample} (a number alone means {unit.plural})"
        raise _refusal(text, "a length", trouble, expected, where) from None


def parse_angle_deg(text: str | int | float, *, where: str = "") -> float:
    """An angle in degrees, between -360 and 360: ``8.82``, ``22 1/2°``, ``45 deg``, ``-7,5``.

    >>> parse_angle_deg("22 1/2°"), parse_angle_deg("-7,5 deg"), parse_angle_deg(90)
    (22.5, -7.5, 90.0)
    """
    try:
        value, rest = _amount_and_rest(text)
        if rest not in _DEGREES:
            raise Unreadable(f"{quoted(rest)} is not degrees", "a number of degrees")
        if abs(value) > 360:
            raise Unreadable("it is more than a full turn")
        return float(value)
    except Unreadable as trouble:
        expected = "degrees between -360 and 360, such as 8.5° or 22 1/2°"
        raise _refusal(text, "an angle", trouble, expected, where) from None


def parse_fraction(
    text: str | int | float, *, where: str = "", least: float = -1.0, most: float = 1.0
) -> float:
    """A share of something, such as a shrinkage: ``3 %``, ``3 per cent``, ``0.03``, ``1/32``.

    Returned as a plain fraction (0.03), between ``least`` and ``most``.  A number of one or more
    with no percent sign could mean either and is refused.

    >>> parse_fraction("3 %"), parse_fraction("0,03"), parse_fraction("1/32")
    (0.03, 0.03, 0.03125)
    """
    try:
        value, rest = _amount_and_rest(text)
        if rest in _PERCENT:
            value /= 100
        elif rest:
            raise Unreadable(f"{quoted(rest)} is not a percent sign", "a number with % after it")
        elif abs(value) >= 1:
            percent = f"{text} %" if abs(value) <= 100 else ""
            raise Unreadable("it may mean a number of percent or of wholes", percent)
        if not least <= value <= most:
            percent = f"{text} %" if not rest and least <= value / 100 <= most else ""
            raise Unreadable("it is out of bounds", percent)
        return float(value)
    except Unreadable as trouble:
        bounds = f"between {least * 100:g} % and {most * 100:g} %"
        raise _refusal(text, "a share", trouble, f"a share {bounds}, such as 3 %", where) from None


def is_count(text: str) -> bool:
    """Whether a text is a whole number that `int` reads: plain figures, nine at most.

    >>> is_count("12"), is_count("²"), is_count("9" * 5000)
    (True, False, False)
    """
    return text.isascii() and text.isdigit() and len(text) < 10


def _refusal(value: object, kind: str, trouble: Unreadable, expected: str, where: str) -> BadInput:
    return BadInput(
        what=joined(f"{quoted(value)} is not {kind}: ", trouble.why),
        where=where,
        expected=expected,
        try_=trouble.instead,
    )


def _number(value: object) -> Fraction:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return exact(value)
    raise Unreadable("it is neither text nor a number")


def _within(mm: Fraction, least_mm: float | None) -> float:
    if abs(mm) > LONGEST_MM:
        raise Unreadable("it is more than a kilometre")
    if least_mm is not None and mm < least_mm:
        raise Unreadable(("it should be at least ", least_mm))
    return float(mm)


def _amount_and_rest(text: str | int | float) -> tuple[Fraction, str]:
    if not isinstance(text, str):
        return _number(text), ""
    sign, plain = take_sign(tidy(text))
    value, end = take_amount(plain)
    return sign * value, plain[end:].strip()


@lru_cache(maxsize=8192)
def _length_text(text: str, unit: Unit) -> Fraction:
    sign, plain = take_sign(tidy(text))
    if _THOUSANDS.search(plain):
        raise Unreadable("the mark in it may mean thousands or feet", "the number without it")
    parts = _parts(plain)
    if len(parts) == 1:
        return sign * parts[0].amount * (parts[0].unit or unit).exact_mm
    return sign * _sum_of([part._replace(unit=_named(parts, at)) for at, part in enumerate(parts)])


def _named(parts: list[_Part], at: int) -> Unit:
    """The unit of one part of several; after feet, a last number below twelve means inches."""
    amount, unit = parts[at]
    if unit:
        return unit
    if at == len(parts) - 1 and parts[at - 1].unit is Unit.foot and amount < 12:
        return Unit.inch
    raise Unreadable("one of its numbers has no unit", "a unit after each number")


def _sum_of(parts: list[_Part]) -> Fraction:
    total, last = Fraction(0), None
    for amount, unit in parts:
        if unit and last and last.is_metric is not unit.is_metric:
            raise Unreadable(f"{last.plural} and {unit.plural} stand together", "one of them")
        if unit and last and last.exact_mm <= unit.exact_mm:
            raise Unreadable(
                f"{unit.plural} stand after {last.plural}", "the larger unit first, each unit once"
            )
        total += amount * unit.exact_mm if unit else 0
        last = unit
    return total


def _parts(plain: str) -> list[_Part]:
    parts: list[_Part] = []
    at = 0
    while at < len(plain) or not parts:
        amount, at = take_amount(plain, at)
        unit, at = _take_unit(plain, at)
        parts.append(_Part(amount, unit))
        gap = _NEXT.match(plain, at)
        at = gap.end() if gap else at
    return parts


def _take_unit(plain: str, at: int) -> tuple[Unit | None, int]:
    found = _UNIT.match(plain, at)
    if not found:
        return None, at
    word = found[1]
    if word not in UNIT_OF_WORD:
        raise Unreadable(f"{quoted(word)} is not a unit of length.{unit_hint(word)}")
    return UNIT_OF_WORD[word], found.end()
