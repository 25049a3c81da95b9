"""Darts, before anything crosses them."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.pattern.pattern import Pattern
from clothwright.sewing.operation import Operation, SewStep


def _steps(pattern: Pattern) -> Iterator[SewStep]:
    for piece in pattern.pieces:
        for dart in piece.darts:
            yield SewStep(
                key=f"sew dart {piece.name}.{dart.name}",
                words=(
                    f"Sew the {dart.name} of the {piece.name}, from its open end to its point.",
                ),
                more=("Press over a tailor's ham before sewing the seams that cross it.",),
            )


OPERATION = Operation(id="darts", steps=_steps)
