"""A piece on another grain, or tilted."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence
from clothwright.lay.copies import Copy
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Form, RuleKind, Turns, named
from clothwright.units.params import param

TURNS = {
    "along": (0.0, 180.0),
    "across": (90.0, 270.0),
    "bias": (45.0, 135.0, 225.0, 315.0),
}
GRAINS = {"along": "along the grain", "across": "across the grain", "bias": "on the bias"}


@dataclass(frozen=True, slots=True, kw_only=True)
class OnGrain(PlacingRule):
    """A piece lies "along", "across" or on the "bias", tilted by up to `tilt_deg` from it."""

    piece: str = param("piece", "", label="Which piece")
    grain: str = param(
        "choice",
        "",
        choices={
            "along": "along the selvedge, the usual grain",
            "across": "across, from selvedge to selvedge",
            "bias": "on the true bias",
        },
        label="It lies",
    )
    tilt_deg: float = param(
        "angle",
        "0 to 45; left empty: exactly so",
        default=0.0,
        label="Tilted by up to, in degrees",
        least=0.0,
        most=45.0,
    )


def said(rule: OnGrain) -> Sentence:
    """Return the rule in words."""
    tilt = f", tilted by up to {rule.tilt_deg:g}°" if rule.tilt_deg else ""
    return (f"{rule.piece} lies {GRAINS[rule.grain]}{tilt}",)


def turns(rule: OnGrain, copy: Copy, _: Cloth) -> Turns | None:
    """Return the turns of the grain, and how far from them."""
    if copy.piece.name != rule.piece:
        return None
    return Turns(TURNS[rule.grain], rule.tilt_deg)


RULE = RuleKind(
    id="on-grain",
    params=OnGrain,
    said=said,
    forms=(
        Form(
            id="on-grain",
            title="A piece on another grain, or tilted",
            help="Off the grain cloth hangs otherwise; a little tilt may save length.",
            asks=named("piece", "grain", "tilt_deg"),
        ),
    ),
    turns=turns,
    rank=2,
    turned_by="grain",
    against=lambda a, b: a.piece == b.piece and a.grain != b.grain,
)
