"""What becomes of the sizes of a pattern when pieces are added."""

from __future__ import annotations

from dataclasses import replace

from clothwright.pattern.sizes import SizeRange


def with_sizes(
    known: SizeRange | None, new: SizeRange | None, added: set[str]
) -> tuple[SizeRange | None, tuple[str, ...]]:
    """Return the sizes of a pattern after pieces were added, and what became of new ones, in words.

    added: names of the pieces added; what was known of their sizes is forgotten. Sizes of another
    range than the pattern's own are not kept.
    """
    for name in added:
        if known is not None and name in known.piece_names:
            known = known.without(name)
    if new is None or known is None:
        return new or known, ()
    if (known.names, known.drawn) != (new.names, new.drawn):
        words = (
            f"other sizes not kept: the workbook has {', '.join(known.names)} with {known.drawn} "
            f"shown, this drawing {', '.join(new.names)} with {new.drawn}"
        )
        return known, (words,)
    sets = (a + b for a, b in zip(known.pieces, new.pieces, strict=True))
    return replace(known, pieces=tuple(sets)), ()
