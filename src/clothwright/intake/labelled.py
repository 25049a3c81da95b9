"""Words behind a label: "Piece name: FRONT", "Size: 10", "Quantity: 2", "Material: lining".

Files made for pattern programs label what they say (ASTM D6673 has such lines; the list is from
memory), and people write so, too. Each label says what the words behind it are; a name without its
label is what the piece is called.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from clothwright.intake.drawing import DrawnText

NAME, SIZE, COUNT, MATERIAL, REMARK, OTHER = "name", "size", "count", "material", "remark", "other"
LABELS = {
    NAME: (
        r"(?:pattern\s+)?piece(?:\s+(?:name|title))?(?:\s+(?:no\.?|number)?\s*\d{1,3})?",
        r"(?:part|block)\s+name",
        r"(?:part|name)",
    ),
    SIZE: (r"size(?:\s+name)?",),
    COUNT: (r"(?:cut\s+)?(?:quantity|qty)\.?", r"(?:number\s+of\s+)?(?:copies|pieces)", r"count"),
    MATERIAL: (r"(?:material|fabric|cloth)(?:\s+(?:type|name))?",),
    REMARK: (r"(?:annotation|remark|note|text|description)s?",),
    OTHER: (
        r"(?:sample|base)\s+size",
        r"size\s+range",
        r"(?:piece|part|style|pattern)\s+(?:no\.?|number|id|code)",
        r"(?:style|model|pattern|collection|season|company)(?:\s+name)?",
        r"(?:creation\s+|revision\s+)?(?:date|time)",
        r"(?:author|designer|drawn\s+by|version|revision|category|units?|grade\s+rule\s+table)",
    ),
}
"""What a label looks like, by what the words behind it are; OTHER: nothing that is asked about."""
_LABEL = re.compile(
    r"(?<!\w)(?:"
    + "|".join(
        f"(?P<{kind}>{'|'.join(forms)})"
        for kind, forms in sorted(LABELS.items(), key=lambda x: x[0] != OTHER)
    )
    + r")\s*[:=]\s*",
    re.IGNORECASE,
)
_BETWEEN = " ,;|/-"


class Labelled(NamedTuple):
    """What a text says. words: behind the label; text: with it. kind: "" where there is none."""

    kind: str
    words: str
    text: DrawnText


def fields_of(texts: Iterable[DrawnText]) -> tuple[Labelled, ...]:
    """Return what texts say, label by label; several labels in one line are as many fields.

    A remark is words without a label.
    """
    return tuple(field for text in texts for field in _fields(text))


def is_label(words: str) -> bool:
    """Tell whether words are a label: "size", "piece name"."""
    return _LABEL.fullmatch(f"{words.strip()}:") is not None


def _fields(text: DrawnText) -> Iterator[Labelled]:
    found = list(_LABEL.finditer(text.words))
    before = text.words[: found[0].start()].strip(_BETWEEN) if found else text.words
    if before:
        yield Labelled("", before, replace(text, words=before))
    ends = [*(m.start() for m in found), len(text.words)][1:]
    for label, end in zip(found, ends, strict=True):
        words = text.words[label.end() : end].strip(_BETWEEN)
        whole = text.words[label.start() : end].strip(_BETWEEN)
        kind = str(label.lastgroup)
        if words and kind == REMARK:
            yield Labelled("", words, replace(text, words=words))
        elif words:
            yield Labelled(kind, words, replace(text, words=whole))


def small(name: str) -> str:
    """Return a name that a program wrote in capitals in small letters; others as they are.

    >>> small("FRONT PANEL"), small("Front"), small("CB")
    ('front panel', 'Front', 'CB')
    """
    return name.lower() if name.isupper() and len(name) > 3 else name
