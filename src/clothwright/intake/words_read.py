"""What the words on a piece say: its name, how to cut it, its size, what its edges are called."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.intake.drawing import DrawnText
from clothwright.intake.labelled import COUNT, MATERIAL, NAME, SIZE, Labelled, fields_of, small

LEVELS = ("waist", "high hip", "hip", "bust", "chest", "biceps", "elbow", "knee", "underbust")
MATERIALS = {
    "lining": "lining",
    "interfacing": "interfacing",
    "interlining": "interlining",
    "shell": "shell",
    "fabric": "shell",
    "cloth": "shell",
    "self": "shell",
    "main": "shell",
}
"""Words for a material; an order to cut without one is for the shell."""
_CUT = re.compile(r"\bcut\s*:?\s*(\d{1,2}|one|two|three|four)\b", re.IGNORECASE)
_QUANTITY = re.compile(r"\s*(?:quantity|qty)\s*\.?\s*\d{1,2}\b", re.IGNORECASE)
_COUNTED = re.compile(r"[.:=\s](\d{1,2})\b")
"""How often to cut where a label says it ("Quantity: 2")."""
_SIZE = re.compile(r"\bsize\s*:?\s*(?!range\b)([\w/.-]{1,8})", re.IGNORECASE)
_COUNT = {"one": 1, "two": 2, "three": 3, "four": 4}
_GRAIN = re.compile(r"\bgrain\b|\bgrainline\b|straight of goods|lengthwise", re.IGNORECASE)
_FOLD = re.compile(r"\bon (the )?fold\b|\(fold\)|^fold$|\bfold edge\b", re.IGNORECASE)
_PLACE = re.compile(r"\b(place|lay|cut)\b.*\bfold\b|^(on (the )?)?fold$", re.IGNORECASE)
_AFTER = re.compile(r"\(.*?\)|\s*[·:;,=].*|\s+\d.*")
"""What may follow an edge's name in its words: an allowance, a turn-up, a remark."""
GENERIC = frozenset(
    (
        *("cut", "cutting", "stitch", "stitching", "outline", "outlines", "piece", "pieces"),
        *("pattern", "patterns", "seam", "seams", "line", "lines", "layer", "path", "paths"),
        *("shape", "drawing", "mark", "marks", "notch", "notches", "text", "page", "default"),
        *("group", "fold", "grain", "dart", "darts"),
    )
)
"""Names that layers and kinds of line have; they name no piece."""
LEVEL_DEG = 5.0
"""degrees: words turned less are level; a name is looked for among them first."""
REACH_MM = 6.0
"""mm: words this near to an edge, and their height more, are about it."""


class WordsRead(NamedTuple):
    """What was read. cut: an order to cut as `Answers.cut` says it. edges: words that may name one.

    folds: places of words that speak of a fold. on_fold: an order to cut on the fold was read.
    """

    name: str
    cut: str
    size: str
    said: str
    on_fold: bool
    edges: tuple[DrawnText, ...]
    folds: tuple[DrawnText, ...]
    grains: tuple[Vec, ...]
    levels: tuple[DrawnText, ...]


def words_read(texts: Sequence[DrawnText], label: str = "") -> WordsRead:
    """Return what the words inside an outline say. label: the outline's own name in the file."""
    fields = fields_of(texts)
    free = [f.text for f in fields if not f.kind or _CUT.search(f.words)]
    orders = [t for t in free if _CUT.search(t.words)]
    counts = [f.text for f in fields if f.kind == COUNT or _QUANTITY.match(f.text.words)]
    stuffs = [f for f in fields if f.kind == MATERIAL and f.words.lower() in MATERIALS]
    plain = [t for t in free if t not in orders and t not in counts and _is_plain(t.words)]
    said = [*(orders or counts), *(f.text for f in stuffs)] if orders or counts else []
    stuff = MATERIALS[stuffs[0].words.lower()] if stuffs else "shell"
    cuts = [c for t in orders or counts for c in _orders(t.words, stuff)]
    sizes = [f.words for f in fields if f.kind == SIZE]
    sizes += [m[1] for t in free if (m := _SIZE.search(t.words))]
    return WordsRead(
        name=_labelled_name(fields) or _own_name(label) or _name(plain, orders),
        cut=", ".join(dict.fromkeys(cuts)),
        size=sizes[0] if sizes else "",
        said="; ".join(dict.fromkeys(t.words for t in said)),
        on_fold=any("fold" in c.split() for c in cuts),
        edges=tuple(plain),
        folds=tuple(t for t in free if _FOLD.search(t.words) and t not in orders),
        grains=tuple(t.at for t in free if _GRAIN.search(t.words)),
        levels=tuple(t for t in plain if t.words.strip().lower() in LEVELS),
    )


def _is_plain(words: str) -> bool:
    """Tell whether words may be a name: of letters, and about neither size nor grain."""
    letters = re.search(r"[^\W\d_]{2}", words)
    return bool(letters) and not _SIZE.search(words) and not _GRAIN.search(words)


def _labelled_name(fields: Sequence[Labelled]) -> str:
    return next((_tidy(small(f.words)) for f in fields if f.kind == NAME), "")


def _own_name(label: str) -> str:
    """Return an outline's own name without the label before it; "" where a kind of line is one."""
    if set(re.findall(r"[a-z]+", label.lower())) <= GENERIC:
        return ""
    return _labelled_name(fields_of([DrawnText(words=label, at=Vec(0.0, 0.0))])) or label


def _name(plain: Sequence[DrawnText], orders: Sequence[DrawnText]) -> str:
    """Return the words in the largest letters, if some are larger than the others; or before "cut".

    "Front: cut 2" names the front too.
    """
    level = [
        t
        for t in plain
        if t.words.strip().lower() not in LEVELS
        and not _FOLD.search(t.words)
        and not _PLACE.search(t.words)
    ]
    level = [t for t in level if abs(t.turn_deg) < LEVEL_DEG] or level
    if level:
        tall = max(t.height for t in level)
        largest = {_tidy(t.words): t for t in level if t.height > 0.99 * tall}
        if len(largest) == 1 and (len(level) == 1 or tall > 0):
            return next(iter(largest))
    for order in orders:
        before = re.split(r"[:,;.–-]|\bcut\b", order.words, maxsplit=1, flags=re.IGNORECASE)[0]
        if before.strip() and before.strip().lower() not in MATERIALS:
            return _tidy(before)
    return ""


def _tidy(words: str) -> str:
    return " ".join(words.replace(".", " ").split())[:60].strip()


def _orders(words: str, stuff: str) -> list[str]:
    """Read "cut 1 on fold", "cut 2 of lining", "Quantity: 2" as `Answers.cut` says them.

    stuff: the material where the words name none.
    """
    found = _CUT.search(words) or _COUNTED.search(words)
    if not found:
        return []
    count = _COUNT.get(found[1].lower()) or int(found[1])
    low = words.lower()
    material = next((MATERIALS[w] for w in re.findall(r"[a-z]+", low) if w in MATERIALS), stuff)
    if "fold" in low:
        how = "fold"
    elif re.search(r"\d\s+pairs?\b|\bone pair\b", low) or ("pair" in low and count % 2):
        how = "pair"
    elif count % 2 == 0:
        how, count = "pair", count // 2
    else:
        how = "once"
    return [f"{material} {how}" + (f" {count}" if count > 1 else "")] if count else []


def edge_names(parts: Sequence[Path], texts: Sequence[DrawnText], name: str) -> list[str]:
    """Return for each part of an outline what the words along it call it; "" where none do.

    Words that say an allowance with it come first: they are an edge's, and no point's beside it.
    """
    out = [""] * len(parts)
    found = []
    for text in texts:
        words = _AFTER.sub("", text.words).replace(".", " ").strip().lower()
        if _PLACE.search(text.words):
            words = "fold"
        if not words or words == name.lower() or len(words) > 24:
            continue
        near = [(part.nearest(text.at), k) for k, part in enumerate(parts)]
        (at, away), k = min(near, key=lambda x: x[0][1])
        along = parts[k].tangent_at(at)
        aslant = abs(turn_between_deg(unit_at(text.turn_deg), along)) % 180.0
        if away <= REACH_MM + text.height and min(aslant, 180.0 - aslant) < 25.0:
            found.append((_AFTER.search(text.words) is None, away, k, words))
    for *_, k, words in sorted(found):
        if not out[k] and words not in out:
            out[k] = words
    return out
