"""Typed amounts as exact fractions: ``17 1/2``, ``17-1/2``, ``1⅝``, ``43,5``, ``.5``.

This is the part that lengths, angles and shares have in common.  It knows no unit.
"""

import math
import re
import unicodedata
from fractions import Fraction

from clothwright.errors import Said
from clothwright.units.unit import quoted

LONGEST_TEXT = 120

_ALIKE = {
    "'": "′’‘‛ʹʼ´`＇",
    '"': "″”“„‟ʺ˝＂〃",
    "/": "⁄∕／",
    "-": "−–‐‑‒—﹣－",
    "+": "＋",
    "%": "％﹪٪",
    "°": "º˚",
    "": "\u200b\u200c\u200d\u200e\u200f\u2060\ufeff\u00ad",
}
_TO_PLAIN = {ord(odd): plain for plain, odds in _ALIKE.items() for odd in odds}
_TO_PLAIN |= {0xFF10 + digit: str(digit) for digit in range(10)}
_TO_PLAIN |= {ord("㎜"): "mm", ord("㎝"): "cm", ord("，"): ",", ord("．"): "."}
_RAISED = re.compile("[⁰¹²³⁴-⁹]+(?=[⁄/])")
_LOWERED = re.compile("(?<=[⁄/])[₀-₉]+")

_AMOUNT = re.compile(
    r"(?P<whole>[0-9]+)(?: and | & | |-)(?P<part>[0-9]+) ?/ ?(?P<parts>[0-9]+)"
    r"|(?P<top>[0-9]+) ?/ ?(?P<low>[0-9]+)"
    r"|[0-9]+[.,][0-9]+|[.,][0-9]+|[0-9]+\.?"
)
_MORE_NUMBER = re.compile(r" ?[0-9./,]+")
_SIGN = re.compile(r"([+-]) ?")


class Unreadable(Exception):  # noqa: N818
    """Why an amount cannot be read, and what to write instead; made into ``BadInput`` outside."""

    def __init__(self, why: Said, instead: str = "") -> None:
        super().__init__(why)
        self.why, self.instead = why, instead


def tidy(text: str) -> str:
    """The text in plain small letters: typographic quotes, dashes, spaces and fractions replaced.

    >>> tidy("−1⅝ ″")
    '-1 5/8 "'
    """
    if len(text) > LONGEST_TEXT:
        raise Unreadable("it is far too long")
    return spelled(text).casefold()


def spelled(text: str) -> str:
    """The text as `tidy` makes it, big and small letters kept.

    >>> spelled("A  38½ ″")
    'A 38 1/2 "'
    """
    plain = _RAISED.sub(lambda found: " " + _digits(found[0]), text)
    plain = _LOWERED.sub(lambda found: _digits(found[0]), plain)
    out = ""
    for letter in plain:
        if unicodedata.decomposition(letter).startswith("<fraction>"):
            halves = unicodedata.normalize("NFKC", letter)
            spaced = halves if halves.endswith("\u2044") else halves + " "
            out += f" {spaced}" if out[-1:].isalnum() else spaced
        else:
            out += letter
    plain = " ".join(out.translate(_TO_PLAIN).split())
    return plain.replace("''", '"')


def take_sign(text: str) -> tuple[int, str]:
    """Minus one or plus one, and the text after the sign, if there is one."""
    found = _SIGN.match(text)
    if not found:
        return 1, text
    return (-1 if found[1] == "-" else 1), text[found.end() :]


def take_amount(text: str, start: int = 0) -> tuple[Fraction, int]:
    """The unsigned amount that begins at ``start`` of a tidy text, and where it ends."""
    found = _AMOUNT.match(text, start)
    if not found:
        raise _no_number(text, start)
    more = _MORE_NUMBER.match(text, found.end())
    if more:
        raise _run_on(found[0], more[0])
    return _value(found), found.end()


def exact(value: int | float) -> Fraction:
    """A number from a file as the decimal it was written as, in the unit it was written in."""
    if isinstance(value, int):
        return Fraction(int(value))
    if not math.isfinite(value):
        raise Unreadable("it is not a finite number")
    return Fraction(repr(float(value)))


def _digits(odd: str) -> str:
    return "".join(str(unicodedata.digit(each)) for each in odd)


def _value(found: re.Match[str]) -> Fraction:
    if found["whole"]:
        return _mixed(found["whole"], found["part"], found["parts"])
    if found["top"]:
        return _divided(found["top"], found["low"])
    return _decimal(found[0])


def _no_number(text: str, start: int) -> Unreadable:
    """The reason when no number begins where one should."""
    rest = text[start:]
    if not any(each in "0123456789" for each in text):
        return Unreadable("there is no number in it" if text else "nothing is written")
    if start == 0:
        return Unreadable("it does not begin with a number")
    if rest.startswith("-"):
        return Unreadable(
            "a minus or a dash stands inside it",
            "a mixed number such as 17 1/2, or the difference worked out",
        )
    return Unreadable(f"what follows the number, {quoted(rest)}, is not a unit")


def _mixed(whole: str, top: str, low: str) -> Fraction:
    part = _divided(top, low)
    if part >= 1:
        raise Unreadable(
            f"after a whole number the fraction should be less than one, and {top}/{low} is not",
            str(int(whole) + part) if part.denominator == 1 else f"{top}/{low} alone",
        )
    return int(whole) + part


def _divided(top: str, low: str) -> Fraction:
    if int(low) == 0:
        raise Unreadable("it divides by zero")
    return Fraction(int(top), int(low))


def _decimal(written: str) -> Fraction:
    whole, comma, part = written.partition(",")
    if comma and len(part) == 3 and 1 <= len(whole) <= 3 and int(whole) > 0:
        raise Unreadable(
            f"{written} may mean {whole}.{part} or {whole}{part}",
            f"{whole}.{part} or {whole}{part}",
        )
    return Fraction(written.replace(",", ".").rstrip("."))


def _run_on(amount: str, more: str) -> Unreadable:
    """The reason for a number that goes on after it should have ended."""
    rest = more.strip()
    if rest == ",":
        return Unreadable("a comma ends the number", amount)
    if more.startswith(" ") and rest[0] in "0123456789":
        thousands = len(rest) == 3 and rest.isdigit() and amount.isdigit()
        return Unreadable(
            f"{amount} and {rest} stand side by side",
            amount + rest if thousands else "one number, or a unit after each, such as 2 yd 9 in",
        )
    if "/" in amount + rest:
        return Unreadable(
            f"{amount}{rest} is not one whole number over another", "a fraction such as 5/8"
        )
    return Unreadable(
        f"{amount}{rest} has more than one decimal mark",
        "the number without marks between thousands",
    )
