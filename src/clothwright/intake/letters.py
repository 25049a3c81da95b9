"""Words that a program set letter by letter, or in bits, put together again by their places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.intake.drawing import DrawnText

_WIDTHS = (
    ("ijl'|", 0.22),
    ("ftI .,:;!/()-", 0.29),
    ("r", 0.33),
    ("cksvxyzJ", 0.5),
    ("FTZ", 0.61),
    ("wCDHNRUABEKPSVXY&", 0.69),
    ("GOQ", 0.78),
    ("mMW%@", 0.86),
)
"""Widths of letters as shares of their size: plain faces, on average (our own estimate)."""
USUAL = 0.55
SPACE_EM = 0.2
"""Of the size of the type: a gap as wide is a space, where letters are not set apart on purpose."""
ABOUT_EM, STEP_EM = 0.13, 0.09
"""A space may be so much wider or narrower, where the gaps step up by the second."""
FAR_EM = 0.8
"""A wider gap parts two texts."""
APART_EM = 1.6
"""Letters set apart on purpose are no farther apart."""
WIDE_EM = 0.3
"""Letters with wider gaps between them are set wide."""
FACES = (1.0, 0.9, 0.8, 0.65, 0.5, 0.25, 0.0)
"""Shares of a letter's usual width by which another face sets letters; the rest is even."""
SURER_EM = 0.01
"""By as much must gaps be more alike before another face is thought of."""
CAPITAL_EM = 0.1
"""By as much more do faces differ in capitals: a lone one before small letters begins the word."""
FEWEST = 5
"""Letters from which on the face they were set by can be told."""
BIT = 3
"""Letters of a bit of a word, at most."""


def wide_em(words: str) -> float:
    """Return how wide words are as a share of the size of their letters, about."""
    return sum(next((w for letters, w in _WIDTHS if c in letters), USUAL) for c in words)


def ends_of(text: DrawnText) -> tuple[Vec, Vec]:
    """Return where a text begins and ends, mm, about."""
    half = unit_at(text.turn_deg) * (0.5 * wide_em(text.words) * text.height)
    return text.at - half, text.at + half


def joined_letters(texts: Sequence[DrawnText]) -> tuple[DrawnText, ...]:
    """Return the texts with bits that follow each other on one line put together.

    They come in the order in which their first bits came.
    """
    came = {id(text): k for k, text in enumerate(texts)}
    out: list[tuple[int, DrawnText]] = []
    for row in _rows(texts):
        for run in _with_wide_words(list(_runs(row))):
            words = _words(run)
            firsts = run if len(words) == len(run) else run[:1]
            out += [(came[id(first)], text) for first, text in zip(firsts, words, strict=True)]
    return tuple(text for _, text in sorted(out, key=lambda it: it[0]))


def _rows(texts: Sequence[DrawnText]) -> Iterator[list[DrawnText]]:
    """Yield texts of one size on one base line, in the order they are read."""
    cells: dict[tuple[int, int], list[list[DrawnText]]] = defaultdict(list)
    for text in texts:
        if text.height <= 0.0:
            yield [text]
            continue
        u = unit_at(text.turn_deg)
        aside = u.cross(text.at) / text.height
        key = (round(text.turn_deg / 2) % 180, round(aside))
        near = [r for k in (-1, 0, 1) for r in cells[key[0], key[1] + k]]
        row = next((r for r in near if _one_line(r[0], text)), None)
        if row is None:
            cells[key].append([text])
        else:
            row.append(text)
    for rows in cells.values():
        yield from (sorted(r, key=_start) for r in rows)


def _one_line(a: DrawnText, b: DrawnText) -> bool:
    if a.size != b.size or abs(a.height - b.height) > 0.05 * a.height:
        return False
    if abs(turn_between_deg(unit_at(a.turn_deg), unit_at(b.turn_deg))) > 1.0:
        return False
    return abs(unit_at(a.turn_deg).cross(b.at - a.at)) <= 0.12 * a.height


def _start(text: DrawnText) -> float:
    return unit_at(text.turn_deg).dot(text.at) - 0.5 * wide_em(text.words) * text.height


def _gap(a: DrawnText, b: DrawnText) -> float:
    """Return the room between two texts of one line, as a share of their size."""
    return (_start(b) - _start(a)) / a.height - wide_em(a.words)


def _runs(row: Sequence[DrawnText]) -> Iterator[list[DrawnText]]:
    run = [row[0]]
    for a, b in pairwise(row):
        bits = min(len(a.words), len(b.words)) <= BIT
        far = APART_EM if len(a.words) == len(b.words) == 1 else FAR_EM
        gap = _gap(a, b)
        if (bits and -0.35 <= gap <= far) or abs(gap) < 0.1:
            run.append(b)
        else:
            yield run
            run = [b]
    yield run


def _with_wide_words(runs: Sequence[list[DrawnText]]) -> list[list[DrawnText]]:
    """Put words of letters set wide together: between two of them a space and two gaps lie."""
    out = [list(runs[0])]
    for run in runs[1:]:
        usual = max(map(_usual, (out[-1], run)))
        alone = all(len(t.words) == 1 for t in (*out[-1], *run))
        near = _gap(out[-1][-1], run[0]) <= 2 * usual + APART_EM / 2
        if alone and near and usual > WIDE_EM:
            out[-1] += run
        else:
            out.append(list(run))
    return out


def _usual(run: Sequence[DrawnText]) -> float:
    """Return the usual gap of letters set one by one; 0 where there are too few to tell."""
    return median(_gap(a, b) for a, b in pairwise(run)) if len(run) > 2 else 0.0


def _even_gaps(run: Sequence[DrawnText]) -> list[float]:
    """Return the gaps of a run, by those widths of letters that make them most alike.

    Letters set one by one may stand at the widths of another face than the one they are seen in:
    a narrower one, or one in which all are as wide.
    """
    gaps = [_gap(a, b) for a, b in pairwise(run)]
    if len(run) < FEWEST or any(len(t.words) > 1 for t in run):
        return gaps
    wide = [wide_em(t.words) for t in run[:-1]]
    if run[0].words.isupper() and run[1].words.islower():
        gaps[0] -= CAPITAL_EM
    ways = [[g + w * (1.0 - part) for g, w in zip(gaps, wide, strict=True)] for part in FACES]
    return min(ways, key=lambda way: _spread(way) + (0.0 if way is ways[0] else SURER_EM))


def _least_space(gaps: Sequence[float], usual: float) -> float:
    """Return the gap from which on gaps are spaces: where the widest step between gaps is."""
    steps = [(b - a, (a + b) / 2) for a, b in pairwise(sorted(gaps))]
    near = (s for s in steps if abs(s[1] - usual - SPACE_EM) <= ABOUT_EM)
    step, at = max(near, default=(0.0, 0.0))
    return at if step > STEP_EM else usual + SPACE_EM


def _spread(gaps: Sequence[float]) -> float:
    """Return how far gaps lie from the usual one, most of them: spaces are few, and wider."""
    usual = median(gaps)
    off = sorted(abs(g - usual) for g in gaps)
    return sum(off[: max(2, (3 * len(off)) // 4)]) / max(2, (3 * len(off)) // 4)


def _words(run: Sequence[DrawnText]) -> list[DrawnText]:
    """Return a run as one text; letters set apart on purpose by the usual gap between them."""
    if len(run) == 1:
        return list(run)
    gaps = _even_gaps(run)
    lone = [g for g, (a, b) in zip(gaps, pairwise(run), strict=True) if len(a.words + b.words) < 4]
    usual = median(lone) if len(lone) > 2 else 0.0
    if usual <= 0.0 and max(gaps) > FAR_EM:
        return list(run)
    words, space = run[0].words, _least_space(gaps, usual)
    for gap, text in zip(gaps, run[1:], strict=True):
        words += (" " if gap > space else "") + text.words
    first, last = run[0], run[-1]
    u = unit_at(first.turn_deg)
    long = _start(last) + wide_em(last.words) * last.height - _start(first)
    at = first.at + u * (0.5 * long - 0.5 * wide_em(first.words) * first.height)
    return [replace(first, words=words, at=Vec(*at))]
