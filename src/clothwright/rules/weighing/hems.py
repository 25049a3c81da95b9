"""How the edges that a plan lays along a border run against it in a lay, measured there."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.errors import Sentence
from clothwright.geometry.vec import Vec
from clothwright.lay.copies import Copy
from clothwright.lay.lying import moved_points
from clothwright.lay.result import Placement
from clothwright.pattern.rise import Rise, inward, rise_seen
from clothwright.rules.following import followed_plan
from clothwright.rules.kinds.on_border import AGREE_MM, OnBorder, against_line, border_of
from clothwright.rules.weighing.laid import Laid


def hems_against_borders(laid: Laid) -> Iterator[Sentence]:
    """Yield a sentence for each edge that leaves its border by more than the eye forgives."""
    told: set[Sentence] = set()
    for rule in followed_plan(laid.plan, laid.pattern).rules:
        if not isinstance(rule, OnBorder):
            continue
        for place in laid.lay.placements:
            copy = laid.compiled.copy(place.shape)
            rise = _rise(laid, rule, copy, place)
            if rise is None or max(-rise.low, rise.high) <= AGREE_MM:
                continue
            words = against_line(copy.piece, copy.piece.edge(rule.edge), rise)
            if words not in told:
                told.add(words)
                yield words


def _rise(laid: Laid, rule: OnBorder, copy: Copy, place: Placement) -> Rise | None:
    """Return how the rule's edge of a copy runs above the border's line, as it lies, mm."""
    cloth = laid.compiled.cloth(place.region)
    border = border_of(rule, cloth)
    if border is None or copy.piece.name != rule.piece:
        return None
    line = border.line(cloth.width, rule.above)

    def across(p: Vec) -> float:
        q = copy.frame_point(p)
        ((_, y),) = moved_points([(q.x, q.y)], place.x, place.y, place.turn_deg, place.flipped)
        return y

    edge = copy.piece.edge(rule.edge)
    foot = edge.path.start
    up = 1.0 if across(foot + inward(copy.piece, edge)) > across(foot) else -1.0

    def height(p: Vec) -> float:
        return up * (across(p) - line)

    return rise_seen(copy.piece, edge, height)
