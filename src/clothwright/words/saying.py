"""Lengths, angles and shares in the maker's words.  Rounding is for the eye only."""

import math
import re
from fractions import Fraction

from clothwright.errors import (
    AtLeast,
    AtMost,
    BadInput,
    Between,
    ClothwrightError,
    MissedBy,
    Said,
    Sentence,
    put,
)
from clothwright.units import Unit, parse_length

_STEP = {
    Unit.mm: Fraction(1, 10),
    Unit.cm: Fraction(1, 10),
    Unit.m: Fraction(1, 100),
    Unit.inch: Fraction(1, 16),
    Unit.foot: Fraction(1, 16),
    Unit.yard: Fraction(1, 8),
}


LITTLE_MM = 0.01
"""mm: less is float dust, and told as nothing."""
_TWIN = re.compile(r"(?<=\w)~(?=[\s\",.;:)]|$)")
_DUST = Fraction(1, 10**6)
_LENGTH = re.compile(r"((?<![\w.,/])\d[\d.,/]*(?: \d+/\d+)? (?:mm|cm|m|in|yd)\b)")


def show_length(
    mm: float, unit: Unit, *, nearest: Fraction | None = None, sign: bool = False
) -> str:
    """A length in millimetres as the maker reads it in her unit.

    Inches as mixed fractions to the nearest 1/16, feet as feet and inches, yards to 1/8,
    millimetres and centimetres to 0.1, metres to 0.01.  ``nearest`` is another step, counted in
    the unit (in inches when feet are shown).  Halfway goes away from zero; what is `AtMost` is
    rounded down, what is `AtLeast` up.  ``sign`` puts a plus before what is longer than nothing.

    >>> show_length(444.5, Unit.inch), show_length(444.5, Unit.cm), show_length(1700, Unit.foot)
    ('17 1/2 in', '44.5 cm', '5 ft 6 15/16 in')
    >>> show_length(15.5, Unit.inch, nearest=Fraction(1, 8), sign=True), show_length(-0.01, Unit.mm)
    ('+5/8 in', '0 mm')
    >>> show_length(AtMost(40.0), Unit.inch), show_length(AtLeast(40.0), Unit.inch)
    ('1 9/16 in', '1 5/8 in')
    >>> show_length(MissedBy(0.3), Unit.inch), show_length(MissedBy(0.3), Unit.cm)
    ('less than 1/16 in', 'less than 0.1 cm')
    >>> show_length(Between(110.6, 102.4), Unit.cm), show_length(110.6 - 102.4, Unit.cm)
    ('0.9 cm', '0.8 cm')
    """
    part = Unit.inch if unit is Unit.foot else unit
    step = _STEP[unit] if nearest is None else nearest
    count = _rounded(mm, part, step)
    if isinstance(mm, MissedBy | Between) and mm > 0.0 and not count:
        return f"less than {show_length(float(step * part.exact_mm), unit, nearest=nearest)}"
    size = abs(count)
    if unit is Unit.foot:
        text = _feet(size)
    else:
        text = f"{_decimal(size) if unit.is_metric else _mixed(size)} {unit.value}"
    return _signed(text, count, sign)


def show_angle_deg(angle_deg: float) -> str:
    """An angle to a tenth of a degree.

    >>> show_angle_deg(8.8203)
    '8.8°'
    """
    count = _to_step(angle_deg, Fraction(1, 10), "angle")
    return _signed(f"{_decimal(abs(count))}°", count, plus=False)


def show_fraction(share: float, *, sign: bool = False) -> str:
    """A share (0.03) in percent, to a tenth.

    >>> show_fraction(0.0325)
    '3.3 %'
    """
    count = _to_step(share * 100, Fraction(1, 10), "share")
    return _signed(f"{_decimal(abs(count))} %", count, sign)


def say(sentence: Said, unit: Unit, *, nearest: Fraction | None = None) -> str:
    """The sentence as text, each of its lengths shown in ``unit``; a little is never told as 0.

    >>> say(("Shortened ", "front", " by ", 25.4), Unit.inch)
    'Shortened front by 1 in'
    >>> say(("Now make it ", 0.3, " shorter"), Unit.cm), say(("It has ", 0.0), Unit.cm)
    ('Now make it less than 0.1 cm shorter', 'It has 0 cm')
    >>> say('Front, side~ and "armhole~"', Unit.cm)  # of an unfolded piece
    'Front, side (other half) and "armhole (other half)"'
    """
    return _TWIN.sub(" (other half)", put(sentence, lambda mm: _heard(mm, unit, nearest)))


def _heard(mm: float, unit: Unit, nearest: Fraction | None = None) -> str:
    little = not isinstance(mm, AtMost | AtLeast | Between) and mm >= LITTLE_MM
    return show_length(MissedBy(mm) if little else mm, unit, nearest=nearest)


def with_lengths(example: str) -> Sentence:
    """An example of what may be typed as a sentence, so that it is shown in her unit.

    >>> say(with_lengths("B is 38 cm down from A"), Unit.inch)
    'B is 14 15/16 in down from A'
    >>> say(with_lengths('"allowance 5/8 in included", or none'), Unit.cm)
    '"allowance 1.6 cm included", or none'
    """
    parts = _LENGTH.split(example)
    return tuple(
        parse_length(part, unit=Unit.mm) if k % 2 else part for k, part in enumerate(parts) if part
    )


def told(error: ClothwrightError, unit: Unit) -> str:
    """Return what an error says, its lengths in ``unit``.

    >>> told(BadInput(what=("the hem would be ", 508.0, " deep")), Unit.inch)
    'The hem would be 20 in deep.'
    """
    return error.told(lambda mm: _heard(mm, unit))


def show_size(wide: float, tall: float, unit: Unit) -> str:
    """A width and a height (mm) in her unit.

    >>> show_size(25.4, 508.0, Unit.inch)
    '1 in × 20 in'
    """
    return f"{show_length(wide, unit)} × {show_length(tall, unit)}"


def show_number(mm: float, unit: Unit) -> str:
    """A length (mm) without its unit, for a field that has the unit written beside it.

    >>> show_number(444.5, Unit.inch), show_number(435.0, Unit.cm)
    ('17 1/2', '43.5')
    """
    part = Unit.inch if unit is Unit.foot else unit
    return show_length(mm, part).removesuffix(f" {part.value}")


def _rounded(mm: float, unit: Unit, step: Fraction) -> Fraction:
    if step <= 0:
        raise BadInput(what=f"lengths cannot be shown to the nearest {step}", expected="1/16 or so")
    if isinstance(mm, Between):
        longer, shorter = (_rounded(part, unit, step) for part in mm.parts)
        return longer - shorter
    return _to_step(mm, step * unit.exact_mm, "length") / unit.exact_mm


def _to_step(value: float, step: Fraction, kind: str) -> Fraction:
    """The multiple of ``step`` closest to the value, below it for `AtMost`, above for `AtLeast`.

    Float dust below 1e-9 does not decide ties, dust below 1e-6 of a step costs none.
    """
    if not math.isfinite(value):
        raise BadInput(what=f"this {kind} came out as {value}, which is not a number")
    steps = Fraction(repr(round(float(value), 9))) / step
    if isinstance(value, AtMost):
        return math.floor(steps + _DUST) * step
    if isinstance(value, AtLeast):
        return math.ceil(steps - _DUST) * step
    whole = math.floor(abs(steps) + Fraction(1, 2))
    return (whole if steps > 0 else -whole) * step


def _signed(text: str, count: Fraction, plus: bool) -> str:
    if count < 0:
        return "-" + text
    return "+" + text if plus and count > 0 else text


def _mixed(size: Fraction) -> str:
    whole, part = divmod(size, 1)
    if not part:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


def _decimal(size: Fraction) -> str:
    """At most six decimals, none of them an idle zero at the end."""
    text = f"{float(size):.6f}".rstrip("0").rstrip(".")
    return text or "0"


def _feet(inches: Fraction) -> str:
    feet, rest = divmod(inches, 12)
    if not feet:
        return f"{_mixed(rest)} in"
    return f"{feet} ft {_mixed(rest)} in" if rest else f"{feet} ft"
