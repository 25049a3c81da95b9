"""A pocket that takes up the print it lies on, or is cut on the bias on purpose."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.pattern.patches import PatchPlace
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.order import POCKET
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Grant, Wish


def offers(seen: Showing) -> Iterator[Wish]:
    """Yield for each patch that it vanishes in the print, and that it lies across it instead."""
    for patch in seen.patches:
        design = seen.print_of(patch.piece)
        if not (design.repeat_along or design.repeat_across):
            continue
        yield Wish(
            name=f"matched {patch.piece}",
            words=(f"the {patch.piece} takes up the print of the {patch.on}",),
            why=("It lies flat on it, so that every step is seen.",),
            without=f"the print jumps at the edge of the {patch.piece}",
            rank=POCKET,
            usual=True,
            settles=frozenset({("patch", patch.piece, "matched")}),
            seams=(patch.name,),
            grants=tuple(_matched(patch)),
        )
        if not design.figures:
            yield Wish(
                name=f"{patch.piece} on the bias",
                words=(f"the {patch.piece} is cut on the bias",),
                why=("Where matching costs too much cloth, that is what is done instead.",),
                without=f"the {patch.piece} is cut along the grain",
                rank=POCKET,
                settles=frozenset({("patch", patch.piece, "bias")}),
                grants=(Grant(rules=(OnGrain(piece=patch.piece, grain="bias"),)),),
            )


def _matched(patch: PatchPlace) -> Iterator[Grant]:
    """Yield how it is matched: with its grain as that of the piece it is sewn on lies."""
    meets = Meets(
        piece_a=patch.on,
        point_a=patch.on_point,
        piece_b=patch.piece,
        point_b=patch.point,
        match="both",
    )
    yield Grant(rules=(meets,), lies="along")
    for grain in ("across", "bias"):
        yield Grant(rules=(OnGrain(piece=patch.piece, grain=grain), meets), lies=grain)
