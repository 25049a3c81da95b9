"""What is bought: lengths as shops cut them, bias and thread by the yard or metre, prices."""

import math
from fractions import Fraction

from clothwright.errors import BadInput
from clothwright.units import Unit
from clothwright.words.saying import show_length

_METRIC_STEP_MM = 50.0
_YARD_STEP_MM = 914.4 / 8
_DUST = 1e-6
"""Share of a step: a need this little over a step is rounding, not cloth."""


def shop_unit(unit: Unit) -> Unit:
    """Return the unit in which cloth is sold to who measures in `unit`: metres or yards.

    >>> shop_unit(Unit.inch), shop_unit(Unit.cm)
    (<Unit.yard: 'yd'>, <Unit.m: 'm'>)
    """
    return Unit.m if unit.is_metric else Unit.yard


def shop_step_mm(unit: Unit) -> float:
    """Return the step in which shops cut, mm: 0.05 m, or 1/8 yd.

    >>> shop_step_mm(Unit.cm), shop_step_mm(Unit.inch)
    (50.0, 114.3)
    """
    return _METRIC_STEP_MM if unit.is_metric else _YARD_STEP_MM


def step_of(unit: Unit, asked: float | None = None) -> float:
    """Return the step lengths are bought in, mm: 5 cm or 1/8 yd, or as asked. Raises BadInput.

    asked: mm; whole centimetres or whole eighths of a yard, because that is how they are shown.
    """
    least = 10.0 if unit.is_metric else shop_step_mm(unit)
    if asked is None:
        return shop_step_mm(unit)
    count = round(asked / least)
    if count < 1 or count > 1000 or abs(count * least - asked) > 1e-6:
        raise BadInput(
            where="--step",
            what=f"{show_length(asked, unit)} is no step that shops cut in",
            expected="whole centimetres" if unit.is_metric else "eighths of a yard",
            try_='--step "10 cm"' if unit.is_metric else '--step "1/4 yd"',
        )
    return asked


def to_buy_mm(need: float, unit: Unit, step: float | None = None) -> float:
    """Return a need (mm) rounded up to what shops cut, mm; `step` (mm) instead of the usual one.

    >>> to_buy_mm(1001.0, Unit.cm), to_buy_mm(1001.0, Unit.cm, 100.0)
    (1050.0, 1100.0)
    >>> round(to_buy_mm(1000.0, Unit.inch) / 914.4, 3)
    1.125
    """
    step = step or shop_step_mm(unit)
    return math.ceil(need / step - _DUST) * step


def to_buy(need: float, unit: Unit, step: float | None = None) -> str:
    """Return a need (mm) as it is asked for in a shop, rounded up to 1/8 yd or 0.05 m.

    Raises BadInput when the need is not a finite number.

    >>> to_buy(3380.0, Unit.inch), to_buy(3380.0, Unit.cm)
    ('3 3/4 yd', '3.4 m')
    """
    if not math.isfinite(need):
        return show_length(need, shop_unit(unit))
    return show_length(to_buy_mm(need, unit, step), shop_unit(unit))


def show_run(mm: float, unit: Unit, *, needed: bool = False) -> str:
    """Return a long narrow length (bias, thread, tape; mm) in yards or metres.

    To 1/8 yd or 0.1 m, from 3 of them on to whole ones. Rounded down, since it says what there
    is; with `needed` up, since it says what has to be there. Raises BadInput when it is not a
    finite number.

    >>> show_run(26670.0, Unit.inch), show_run(26670.0, Unit.cm), show_run(700.0, Unit.inch)
    ('29 yd', '26 m', '3/4 yd')
    >>> show_run(26670.0, Unit.inch, needed=True), show_run(0.0, Unit.cm)
    ('30 yd', '0 m')
    """
    shown = shop_unit(unit)
    if not math.isfinite(mm):
        return show_length(mm, shown)
    small = Fraction(1, 10) if shown is Unit.m else Fraction(1, 8)
    step = float((Fraction(1) if mm >= 3 * shown.in_mm else small) * shown.exact_mm)
    steps = math.ceil(mm / step - _DUST) if needed else math.floor(mm / step + _DUST)
    return show_length(steps * step, shown)


def show_price(amount: float, currency: str) -> str:
    """Return a price (amount in whole units) with its currency; where none is named, that is said.

    >>> show_price(14.17, "EUR"), show_price(9.5, ""), show_price(1200, "£")
    ('14.17 EUR', '9.50 in your currency', '£1200.00')
    """
    name = currency.strip()
    if len(name) == 1 and not name.isalpha():
        return f"{name}{amount:.2f}"
    return f"{amount:.2f} {name or 'in your currency'}"
