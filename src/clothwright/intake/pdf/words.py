"""The words on a page, with place, height and direction, by pdfium."""

from __future__ import annotations

import ctypes
import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock
from typing import Any

import pypdfium2
from pypdfium2 import raw

from clothwright.geometry.box import Box, box_of_all
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText

MOST_LETTERS = 200_000
MOST_WORDS = 400
TOUCH_EM, SPACE_EM = 0.1, (0.2, 0.75)
"""Of the size of the type: letters of one word may overlap by the first; a space is as wide as the
second."""
FAR_EM = 1.3
"""A wider gap parts two texts."""
LONE = 0.6
"""Share of lone letters from which on they are set apart."""
GAP = "\u2005"
"""A space that is no letter, but room between two."""
FEW = 2.2
"""Letters of a bit on average: bits of fewer are letters whose gaps were taken for spaces."""
_SPLIT = re.compile(r"(?<!\S)(?:[b-np-wyz]|[A-Z](?= [a-z]))(?!\S)")
"""A letter that is no word by itself: where one stands alone, room was taken for a space."""
POINTS_MM = 25.4 / 72
ONE_AT_A_TIME = Lock()
"""pdfium may be used by one thread at a time only."""


def words_of(page: Any, move: Transform) -> tuple[DrawnText, ...]:
    """Return the texts of a page of pypdfium2. move: from its coordinates to mm as shown.

    Letters that follow each other on one base line are one text.
    """
    text = page.get_textpage()
    try:
        return tuple(_texts(text, move))
    finally:
        text.close()


def _texts(text: Any, move: Transform) -> Iterator[DrawnText]:
    count = min(text.count_chars(), MOST_LETTERS)
    run: list[tuple[str, Vec, Vec]] = []
    turn, size, last, broken = 0.0, 0.0, 0, False
    for k in range(count):
        letter = chr(raw.FPDFText_GetUnicode(text, k) or 32)
        if letter in "\r\n":
            broken = True
            continue
        found = _box(text, k)
        if letter == " " and raw.FPDFText_IsGenerated(text, k) == 1:
            letter = GAP
        if found is None:
            if run and not broken:
                run.append((letter, run[-1][1], run[-1][2]))
            continue
        low, high = found
        now, em = raw.FPDFText_GetCharAngle(text, k), raw.FPDFText_GetFontSize(text, k)
        if broken and run:
            gap = _gap(text, last, k, run[-1], found) / max(em, 1e-6)
            if not -TOUCH_EM <= gap <= SPACE_EM[1]:
                yield from _joined(run, turn, size, move)
                run = []
            elif gap >= SPACE_EM[0]:
                run.append((GAP, run[-1][1], run[-1][2]))
        last, broken = k, False
        if run and (abs(now - turn) > 0.02 or _far(run, low, high, em)):
            yield from _joined(run, turn, size, move)
            run = []
        if not run:
            turn, size = max(now, 0.0), em
        run.append((letter, low, high))
    if run:
        yield from _joined(run, turn, size, move)


def _box(text: Any, k: int) -> Box | None:
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    if not raw.FPDFText_GetCharBox(text, k, left, right, bottom, top):
        return None
    return Box(Vec(left.value, bottom.value), Vec(right.value, top.value))


def _gap(text: Any, a: int, b: int, before: tuple[str, Vec, Vec], box: Box) -> float:
    """Return how much room is between two letters of one base line; infinite off it.

    Where few letters stand on a page, pdfium may take each for a line of its own.
    """
    turn = raw.FPDFText_GetCharAngle(text, b)
    along = Vec(math.cos(turn), math.sin(turn))
    em = raw.FPDFText_GetFontSize(text, b)
    places = []
    for k in (a, b):
        x, y = ctypes.c_double(), ctypes.c_double()
        if not raw.FPDFText_GetCharOrigin(text, k, x, y):
            return math.inf
        places.append(Vec(x.value, y.value))
    alike = abs(raw.FPDFText_GetFontSize(text, a) - em) < 0.05 * em
    if not alike or abs(along.cross(places[1] - places[0])) > TOUCH_EM * em:
        return math.inf
    first = Box(*before[1:]).corners
    return min(map(along.dot, box.corners)) - max(map(along.dot, first))


def _far(run: list[tuple[str, Vec, Vec]], low: Vec, high: Vec, em: float) -> bool:
    """Tell whether a letter stands too far from the one before to belong to the same words."""
    tall = max(em, *(max(h.y - w.y, h.x - w.x) for _, w, h in run[-8:]), 1.0)
    before = run[-1]
    beside = max(low.x - before[2].x, before[1].x - high.x)
    above = max(low.y - before[2].y, before[1].y - high.y)
    return max(beside, above) > FAR_EM * tall or len(run) > MOST_WORDS


def _joined(
    run: list[tuple[str, Vec, Vec]], turn: float, size: float, move: Transform
) -> Iterator[DrawnText]:
    """Yield letters as one text; those that stand apart from each other each on its own.

    They are put together by their places later (`letters.joined_letters`).
    """
    words = " ".join("".join(letter for letter, _, _ in run).split())
    tall = max(max(p.y for _, _, p in run) - min(p.y for _, p, _ in run), 0.0)
    height = size if size > 1.5 else tall  # a size of 1 is scaled by the text's own matrix
    bits = words.split(" ")
    made = sum(letter == GAP for letter, _, _ in run)
    lone = len(bits) > 1 and sum(len(b) == 1 for b in bits) >= (LONE if made else 1) * len(bits)
    lone = lone or (made > 1 and sum(map(len, bits)) < FEW * len(bits))
    lone = lone or (made > 0 and _SPLIT.search(words) is not None)
    along = Vec(math.cos(turn), math.sin(turn))
    middle = _middle(run)
    for part in [[x] for x in run if x[0].strip()] if lone else [run]:
        at = middle + along * along.dot(_middle(part) - middle)
        scale = abs(move.determinant) ** 0.5
        yield DrawnText(
            words=part[0][0] if lone else words,
            at=move.apply(at),
            height=height * scale,
            turn_deg=move.apply_direction(along).angle_deg,
        )


def _middle(run: list[tuple[str, Vec, Vec]]) -> Vec:
    return box_of_all(Box(low, high) for _, low, high in run).middle


@contextmanager
def open_words(data: bytes) -> Iterator[Any]:
    """Open a file for its words; None when pdfium cannot. Hold `ONE_AT_A_TIME` meanwhile."""
    try:
        words = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError:
        yield None
        return
    try:
        yield words
    finally:
        words.close()
