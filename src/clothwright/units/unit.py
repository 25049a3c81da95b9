"""The units of length a maker measures in, and the words she writes them with."""

from enum import StrEnum
from fractions import Fraction

from clothwright.errors import BadInput, did_you_mean, one_of

LONGEST_MM = 1_000_000.0
"""One kilometre: longer than any bolt of cloth, so a longer length is a slip of the hand."""


class Unit(StrEnum):
    """A unit of length; its value is the short form used in files and on screen.

    The factors are exact: since the international yard and pound agreement of 1959 a yard is
    0.9144 m, hence 1 in = 25.4 mm and 1 ft = 304.8 mm, with nothing left over.

    >>> Unit("in") is Unit.inch, Unit.inch.in_mm, Unit.foot.in_mm, Unit.yard.in_mm
    (True, 25.4, 304.8, 914.4)
    """

    mm = "mm"
    cm = "cm"
    m = "m"
    inch = "in"
    foot = "ft"
    yard = "yd"

    @property
    def exact_mm(self) -> Fraction:
        """How many mm one of it is, exactly."""
        return _EXACT_MM[self]

    @property
    def in_mm(self) -> float:
        """How many mm one of it is, as the nearest float."""
        return float(_EXACT_MM[self])

    @property
    def is_metric(self) -> bool:
        """True for mm, cm and m: shown with decimals, not with fractions."""
        return self in (Unit.mm, Unit.cm, Unit.m)

    @property
    def plural(self) -> str:
        """Its long name for more than one: "inches"."""
        return _PLURAL[self]


_EXACT_MM = {
    Unit.mm: Fraction(1),
    Unit.cm: Fraction(10),
    Unit.m: Fraction(1000),
    Unit.inch: Fraction(254, 10),
    Unit.foot: Fraction(3048, 10),
    Unit.yard: Fraction(9144, 10),
}
_PLURAL = {
    Unit.mm: "millimetres",
    Unit.cm: "centimetres",
    Unit.m: "metres",
    Unit.inch: "inches",
    Unit.foot: "feet",
    Unit.yard: "yards",
}
_WORDS = {
    Unit.mm: "mm mms millimetre millimetres millimeter millimeters",
    Unit.cm: "cm cms centimetre centimetres centimeter centimeters",
    Unit.m: "m metre metres meter meters",
    Unit.inch: 'in ins inch inches "',
    Unit.foot: "ft foot feet '",
    Unit.yard: "yd yds yard yards",
}
UNIT_OF_WORD = {word: unit for unit, words in _WORDS.items() for word in words.split()}
"""Every word and mark that names a unit, in small letters."""


INCH, YARD = Unit.inch.in_mm, Unit.yard.in_mm
"""mm in one of them."""


def parse_unit(text: object, *, where: str = "") -> Unit:
    """The unit named by a word such as ``in``, ``Inches`` or ``cm``; ``BadInput`` for others.

    >>> parse_unit(" Inches ")
    <Unit.inch: 'in'>
    """
    word = text.strip().rstrip(".").casefold() if isinstance(text, str) else ""
    if word in UNIT_OF_WORD:
        return UNIT_OF_WORD[word]
    raise BadInput(
        what=f"{quoted(text)} is not a unit of length.{unit_hint(word)}",
        where=where,
        expected=one_of(unit.value for unit in Unit),
    )


def unit_hint(word: str) -> str:
    """What a mistyped unit word may have meant, as a question to add to a sentence."""
    known = [each for each in UNIT_OF_WORD if len(each) > 3] if len(word) > 2 else []
    return did_you_mean(word, known)


def quoted(value: object) -> str:
    """What was typed, in quotation marks, short and printable enough to stand in a sentence.

    >>> quoted("43,5 cm")
    '"43,5 cm"'
    """
    if isinstance(value, int) and abs(value) >= 10**30:
        return "a huge number"
    spaced = " ".join(str(value).split())
    text = "".join(letter if letter.isprintable() else "\ufffd" for letter in spaced)
    return f'"{text[:40]}…"' if len(text) > 40 else f'"{text}"'
