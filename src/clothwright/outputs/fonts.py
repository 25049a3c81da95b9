"""The typeface of our PDFs, which comes with reportlab, and how words are set in it.

Vera holds the western and most central European letters but not every sign a maker types: eighths,
primes and arrows are spelt out (``1⅝″`` becomes ``1 5/8 in``), an accent it lacks is left off, and
nothing is printed as an empty box.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

PLAIN = "ClothwrightPlain"
BOLD = "ClothwrightBold"
SLANTED = "ClothwrightSlanted"

_FILES = {PLAIN: "Vera.ttf", BOLD: "VeraBd.ttf", SLANTED: "VeraIt.ttf"}

_WITHIN_LENGTH = re.compile(r"(?<=\d) (?=\d+/\d|(?:mm|cm|m|in|yd|ft)\b)")
_SOFT_HYPHEN = "\u00ad"
_SPELT = {
    "″": " in",
    "′": " ft",
    "→": "->",
    "←": "<-",
    "↔": "<->",
    "⇒": "=>",
    "⁄": "/",
    "‑": "-",
    "‐": "-",
    "‒": "–",
    "―": "—",
    "✓": "v",
    "✔": "v",
    "✗": "x",
    "☐": "[ ]",
    "☑": "[x]",
    "▲": "^",
    "△": "^",
    "▼": "v",
    "▽": "v",
    "\t": " ",
}


@cache
def load() -> None:
    """Make the faces known to reportlab, once; what it packs stays bytes.

    Spelt in letters (base 85, for lines that lose the eighth bit) a file is a quarter larger.
    """
    rl_config.useA85 = 0
    for name, file in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, file))
    pdfmetrics.registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=SLANTED, boldItalic=BOLD)


@cache
def _known() -> frozenset[int]:
    load()
    return frozenset(pdfmetrics.getFont(PLAIN).face.charToGlyph)


def legible(words: str) -> str:
    """Return the words with every sign the face lacks spelt out; what cannot be becomes "?".

    >>> legible("1⅝″ Schößchen"), legible("½ → ⅜")
    ('1 5/8 in Schößchen', '½ -> 3/8')
    """
    composed = unicodedata.normalize("NFC", words)
    spelt = re.sub(r"(?<=\d)(?=[⅐-⅞])", " ", composed)
    known = _known()
    return "".join(
        each if ord(each) in known and each != _SOFT_HYPHEN else _spell(each, known)
        for each in spelt
    )


def _spell(sign: str, known: frozenset[int]) -> str:
    if sign in _SPELT:
        return _SPELT[sign]
    if unicodedata.category(sign) in ("Cf", "Mn"):
        return ""
    if unicodedata.category(sign) == "Zs":
        return " "
    plain = unicodedata.normalize("NFKD", sign).replace("⁄", "/")
    bare = "".join(each for each in plain if ord(each) in known)
    return bare or "?"


def unbroken(words: str) -> str:
    r"""Return the words with no place for a line to end inside a length.

    >>> unbroken("from 17 1/2 in to 43.5 cm").split(" ")
    ['from', '17\xa01/2\xa0in', 'to', '43.5\xa0cm']
    """
    return _WITHIN_LENGTH.sub("\u00a0", words)


def width(words: str, size: float, face: str = PLAIN) -> float:
    """Return the width of legible words, in the unit of `size`."""
    load()
    return float(pdfmetrics.stringWidth(words, face, size))


def wrapped(words: str, size: float, widest: float) -> tuple[str, ...]:
    """Break words into lines no wider than `widest`, pt (one word that is wider stays whole)."""
    lines: list[str] = []
    for kept in unbroken(" ".join(legible(words).split())).split(" "):
        word = kept.replace("\u00a0", " ")
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, size) <= widest:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def shortened(words: str, size: float, widest: float) -> str:
    """Return the words, cut with an ellipsis when they are wider than `widest` (pt)."""
    text = legible(words)
    if width(text, size) <= widest:
        return text
    while text and width(text + "…", size) > widest:
        text = text[:-1]
    return text.rstrip() + "…"
