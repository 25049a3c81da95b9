"""Lengths and shares as text that is read back exactly: what a file or a form holds."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

from clothwright.errors import BadInput
from clothwright.units import Unit

DECIMALS = 6
"""Decimals to which what was computed is written down, of a mm, a cm or an inch."""


def length_text(mm: float, unit: Unit) -> str:
    """Return text that `parse_length` reads back as exactly this length, short where possible.

    >>> length_text(15.875, Unit.inch), length_text(435.0, Unit.cm)
    ('5/8 in', '43.5 cm')

    A length under a millionth of a millionth of a mm is written as nothing. Raises BadInput for
    one that is not finite.
    """
    if not math.isfinite(mm):
        raise BadInput(what=f"a length came out as {mm}", expected="a finite length")
    if abs(mm) < 1e-12:
        return f"0 {unit.value}"
    exact = Fraction(mm) / unit.exact_mm
    if not unit.is_metric:
        rough = exact.limit_denominator(64)
        if float(rough * unit.exact_mm) == mm:
            return f"{_fraction_text(rough)} {unit.value}"
    for digits in range(7):
        text = f"{float(exact):.{digits}f}"
        if float(Fraction(text) * unit.exact_mm) == mm:
            return f"{text} {unit.value}"
    return f"{format(Decimal(repr(mm)), 'f').removesuffix('.0')} mm"


def computed_text(mm: float, unit: Unit) -> str:
    """Return a length that was computed as text in her unit, to a millionth of it.

    >>> computed_text(1.0272497458158796, Unit.cm), computed_text(12.7, Unit.inch)
    ('0.102725 cm', '1/2 in')
    """
    rounded = Fraction(f"{float(Fraction(mm) / unit.exact_mm):.{DECIMALS}f}")
    return length_text(float(rounded * unit.exact_mm), unit)


def _fraction_text(value: Fraction) -> str:
    whole, rest = divmod(abs(value), 1)
    parts = [str(whole)] if whole or not rest else []
    parts += [f"{rest.numerator}/{rest.denominator}"] if rest else []
    return ("-" if value < 0 else "") + " ".join(parts)


def share_text(share: float) -> str:
    """Return a share as text that is read back as exactly this share. Raises BadInput.

    >>> share_text(0.035)
    '3.5 %'
    """
    if not math.isfinite(share):
        raise BadInput(what=f"a share came out as {share}", expected="a finite share")
    text = format(Decimal(repr(float(share))) * 100, "f")
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} %"
