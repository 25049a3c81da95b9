"""A placing rule in the maker's words."""

from __future__ import annotations

from clothwright.cloth.plan import (
    AtPhase,
    Clear,
    CutFrom,
    Folded,
    KeepOff,
    Meets,
    Mirrored,
    OnBorder,
    OneWay,
    OnGrain,
    Pin,
    PlacingRule,
)
from clothwright.units import Unit
from clothwright.words import show_length

MATCHES = {"level": "in height", "upright": "to the side", "both": "in height and to the side"}
GRAINS = {"along": "along the grain", "across": "across the grain", "bias": "on the bias"}


def rule_words(rule: PlacingRule, unit: Unit) -> str:  # noqa: PLR0911 (one return a kind)
    """Return what a rule asks, as a sentence without its full stop.

    >>> from clothwright.cloth.plan import KeepOff
    >>> rule_words(KeepOff(piece="collar", border="scroll"), Unit.cm)
    'collar keeps off the scroll'
    """
    match rule:
        case OnBorder():
            above = f", {show_length(rule.above, unit)} above its lower line" if rule.above else ""
            turned = ", upside down" if rule.upside_down else ""
            return f"{rule.piece}, {rule.edge}, lies along the {rule.border}{above}{turned}"
        case AtPhase():
            return f"{rule.piece}, {rule.point}, lies {_phase(rule, unit)}"
        case Meets():
            two = f"{rule.piece_a}, {rule.point_a}, and {rule.piece_b}, {rule.point_b}"
            return f"the print meets {MATCHES[rule.match]} at {two}"
        case Mirrored():
            return f"the two of {rule.piece} mirror each other's print at {rule.point}"
        case Clear():
            return (
                f"{rule.piece}, {rule.point}, keeps clear of every {rule.figure}{_by(rule, unit)}"
            )
        case KeepOff():
            return f"{rule.piece} keeps off the {rule.border}{_by(rule, unit)}"
        case OneWay():
            return f"all tops one way: {', '.join(rule.pieces) or 'every piece'}"
        case OnGrain():
            tilt = f", tilted by up to {rule.tilt_deg:g}°" if rule.tilt_deg else ""
            return f"{rule.piece} lies {GRAINS[rule.grain]}{tilt}"
        case CutFrom():
            return f"{rule.piece} is cut from {rule.cloth} instead of {rule.material}"
        case Pin():
            return f"{rule.piece} {rule.copy} is pinned on {rule.cloth}"
        case Folded():
            depth = f", {show_length(rule.depth, unit)} deep" if rule.depth else ""
            return f"{rule.cloth} is laid double, {rule.way}{depth}"


def _by(rule: Clear | KeepOff, unit: Unit) -> str:
    return f" by {show_length(rule.by, unit)}" if rule.by else ""


def _phase(rule: AtPhase, unit: Unit) -> str:
    parts = ((rule.along, "along"), (rule.across, "across"))
    told = [
        (f"{show_length(mm, unit)} into" if mm else "at the start of")
        + f" the repeat {way} the cloth"
        for mm, way in parts
        if mm is not None
    ]
    return " and ".join(told) or "anywhere in the repeat"
