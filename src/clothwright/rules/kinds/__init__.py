"""The placing rules there are, one file each."""

from __future__ import annotations

from typing import Any

from clothwright.rules.kinds import (
    at_phase,
    chevron,
    clear,
    cut_from,
    figure_centred,
    figure_whole,
    folded,
    keep_off,
    may_run_into,
    meets,
    meets_dart,
    mirrored,
    on_border,
    on_grain,
    one_way,
    pin,
)
from clothwright.rules.rule import RuleKind

RULES: tuple[RuleKind[Any], ...] = (
    on_border.RULE,
    meets.RULE,
    meets_dart.RULE,
    at_phase.RULE,
    mirrored.RULE,
    chevron.RULE,
    figure_centred.RULE,
    figure_whole.RULE,
    clear.RULE,
    keep_off.RULE,
    may_run_into.RULE,
    one_way.RULE,
    on_grain.RULE,
    cut_from.RULE,
    folded.RULE,
    pin.RULE,
)
"""The menu, in the order shown: borders, meeting, mirroring, figures, grain, cloths, folds."""
