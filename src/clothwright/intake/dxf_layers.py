"""What numbers of layers mean in a pattern file: ASTM D6673's table, from memory.

The standard (withdrawn in 2019) was not at hand (docs/intake-dxf.md). Nothing of it is applied to a
file that only happens to have numbers for layers: it is an answer, proposed when a file looks so.
"""

from __future__ import annotations

from collections.abc import Iterable

from clothwright.errors import BadInput
from clothwright.intake.drawing import CUT, FOLD, GRAIN, INNER, NOTCH, STITCH

NUMBERED, NAMES = "numbered", "names"
MEANINGS = {
    "1": CUT,
    "4": NOTCH,
    "6": FOLD,
    "7": GRAIN,
    "8": INNER,
    "9": INNER,
    "10": INNER,
    "11": INNER,
    "13": INNER,
    "14": STITCH,
    "15": INNER,
    "80": NOTCH,
    "81": NOTCH,
    "82": NOTCH,
    "83": NOTCH,
}
"""Boundary, notches (V and slit; T, castle, check, U), mirror line, grain, lines and marks inside,
sew lines, words."""
CALLED = {"9": "stripe line", "10": "plaid line", "11": "cut-out", "13": "drill hole"}
"""What the marks of some layers are called."""
NOT_DRAWN = {
    "2": "turn points",
    "3": "curve points",
    "5": "grade reference lines",
    **dict.fromkeys(("84", "85", "86", "87"), "curves to check by"),
}
"""Layers whose entities are no lines of the piece."""
KNOWN = {*MEANINGS, *NOT_DRAWN, "12"}
_NO_LAYER = {"0", "DEFPOINTS"}


def looks_numbered(layers: Iterable[str], *, blocks: bool) -> bool:
    """Tell whether a file looks like one whose layers are numbered by meaning.

    layers: names of the layers that something is drawn on. blocks: some of it stands in blocks.
    Then a boundary (1) is there, and no layer but those of the table (and layer 0).
    """
    used = {x for x in layers if x.upper() not in _NO_LAYER}
    return blocks and "1" in used and used <= KNOWN


def layers_taken(said: str, layers: Iterable[str], *, blocks: bool) -> str:
    """Return how layers are taken: "numbered", "names", or "" where no layer is a number.

    said: the answer, "" when there is none. Raises BadInput.
    """
    plain = said.strip().lower()
    if plain not in ("", NUMBERED, NAMES):
        raise BadInput(
            where="--layers",
            what=f'"{said[:40]}" does not say what numbers of layers mean',
            expected=f"{NUMBERED} (they say what a line is) or {NAMES} (they say nothing)",
        )
    used = set(layers)
    if plain == NUMBERED and "1" not in used:
        raise BadInput(
            where="--layers",
            what="nothing is drawn on a layer 1, where the boundary of a piece would be",
            expected=f"{NAMES}, or no answer",
        )
    if not used & KNOWN:
        return ""
    return plain or (NUMBERED if looks_numbered(used, blocks=blocks) else NAMES)
