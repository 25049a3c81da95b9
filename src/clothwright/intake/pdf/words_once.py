"""Words at the edge of two pages: each once, and whole where one page has only some letters."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from clothwright.geometry.vec import turn_between_deg, unit_at
from clothwright.intake.drawing import DrawnText
from clothwright.intake.letters import BIT, wide_em

WORDS_MM, LETTERS_MM, LETTERS_EM = 3.0, 0.5, 0.1
"""The same words lie no farther apart; bits of words by the larger of the other two."""
PART_EM, PART_SHARE = 0.3, 0.3
"""Letters are those of longer words where they stand by these (of their size, of how far from the
middle) at their place in them: the widths of letters are estimates."""
ASIDE_EM = 0.35
"""Middles of words with and without long letters lie off each other."""


def words_once(texts: Sequence[DrawnText]) -> tuple[DrawnText, ...]:
    """Return texts without those that are another, or a part of one, at the same place.

    A page may carry only the letters that lie on it, the next one all of them. They come in the
    order they came in.
    """
    kept: dict[int, DrawnText] = {}
    rows: dict[tuple[int, int], list[DrawnText]] = defaultdict(list)
    for k, text in sorted(enumerate(texts), key=lambda it: -len(it[1].words)):
        turn, row = _row(text)
        near = (t for i in (-1, 0, 1) for j in (-1, 0, 1) for t in rows[turn + i, row + j])
        if not any(_is_in(text, other) for other in near):
            kept[k] = text
            rows[turn, row].append(text)
    return tuple(kept[k] for k in sorted(kept))


def _row(text: DrawnText) -> tuple[int, int]:
    """Return the direction and the line of writing of a text, about."""
    along = unit_at(text.turn_deg)
    return round(text.turn_deg / 2), round(along.cross(text.at) / (2 * WORDS_MM + text.height))


def _is_in(text: DrawnText, whole: DrawnText) -> bool:
    """Tell whether a text is another one, no shorter, or some letters of it, at the same place."""
    along, em = unit_at(whole.turn_deg), whole.height
    away = text.at - whole.at
    slack = WORDS_MM if len(text.words) > BIT else max(LETTERS_MM, LETTERS_EM * em)
    if abs(along.cross(away)) > max(slack, ASIDE_EM * em) or text.size != whole.size:
        return False
    if abs(turn_between_deg(along, unit_at(text.turn_deg))) > 1.0:
        return False
    if text.words == whole.words:
        return abs(along.dot(away)) <= slack
    if not 0.5 * em <= text.height <= 2.0 * em:
        return False
    return any(
        abs(along.dot(away) - at) <= slack + PART_EM * em + PART_SHARE * abs(at)
        for at in (p * em for p in _places(text.words, whole.words))
    )


def _places(words: str, whole: str) -> list[float]:
    """Return how far the middle of words lies from that of others they stand in, in their size."""
    found = [k for k in range(len(whole)) if whole.startswith(words, k)]
    half = 0.5 * (wide_em(words) - wide_em(whole))
    return [wide_em(whole[:k]) + half for k in found]
