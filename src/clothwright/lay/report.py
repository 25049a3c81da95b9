"""A lay as plain data (JSON): the documented form that other programs rely on."""

from __future__ import annotations

from collections.abc import Mapping

from clothwright.cloth.cloth import Cloth
from clothwright.lay.compiled import Compiled
from clothwright.lay.judge import residuals
from clothwright.lay.meeting.values import SeamMark, SeamMeeting
from clothwright.lay.problem import Ring
from clothwright.lay.result import Lay

FORMAT = "clothwright-lay/2"
"""Name and version of the form; the number rises when a reader would have to change."""


def lay_report(
    compiled: Compiled, lay: Lay, *, plan: str, meetings: tuple[SeamMeeting, ...] = ()
) -> dict[str, object]:
    """Return the lay as plain data. Lengths in mm, x along the selvedge from the cut end."""
    asked = compiled.as_asked
    left = residuals(asked, lay)
    gave_way = {rule.id for rule in compiled.meant.values()}
    shapes = {s.id: s for s in compiled.problem.shapes}
    return {
        "format": FORMAT,
        "plan": plan,
        "seed": lay.seed,
        "seconds": round(lay.seconds, 3),
        "rounds": lay.rounds,
        "stopped": lay.stopped,
        "gap_mm": compiled.problem.gap,
        "cloths": [_cloth(compiled.cloth(r.name), compiled) for r in compiled.problem.regions],
        "placements": [
            {
                "piece": shapes[p.shape].piece,
                "copy": shapes[p.shape].copy,
                "shape": p.shape,
                "material": compiled.copy(p.shape).material,
                "cloth": p.region,
                "turn_deg": p.turn_deg,
                "flipped": p.flipped,
                "x_mm": p.x,
                "y_mm": p.y,
                "outline": _ring(p.outline),
            }
            for p in lay.placements
        ],
        "unplaced": dict(lay.unplaced),
        "used_mm": {name: round(used, 4) for name, used in lay.used.items()},
        "rules": [
            {
                "id": rule.id,
                "kind": _KINDS[type(rule).__name__],
                "residual": None if left.get(rule.id) is None else round(left[rule.id], 6),
                "gave_way": rule.id in gave_way,
            }
            for rule in asked.rules
        ],
        "fits": lay.fits,
        "short_by_mm": None if lay.short_by is None else round(lay.short_by, 4),
        "seams": [_seam(m) for m in meetings],
        "notes": list(compiled.notes),
    }


_KINDS = {
    "OnLine": "on-line",
    "AtPhase": "at-phase",
    "SamePhase": "same-phase",
    "MirrorPhase": "mirror-phase",
    "SamePlace": "same-place",
    "KeepClear": "keep-clear",
    "KeepWhole": "keep-whole",
    "AtFigure": "at-figure",
    "KeepOff": "keep-off",
    "Upright": "upright",
    "SameTurn": "same-turn",
    "Pinned": "pinned",
    "CutTogether": "cut-together",
}


def _ring(ring: Ring) -> list[list[float]]:
    return [[round(x, 5), round(y, 5)] for x, y in ring]


def _cloth(cloth: Cloth, compiled: Compiled) -> Mapping[str, object]:
    region = next(r for r in compiled.problem.regions if r.name == cloth.name)
    usable = _rectangle(
        region.margin_start,
        region.margin_lower,
        None if cloth.length is None else cloth.length - region.margin_end,
        cloth.width - region.margin_upper,
    )
    outline = region.outline or _rectangle(0.0, 0.0, cloth.length, cloth.width)
    return {
        "name": cloth.name,
        "width_mm": cloth.width,
        "length_mm": cloth.length,
        "outline": None if outline is None else _ring(outline),
        "usable": None if usable is None else _ring(usable),
        "margins_mm": {
            "lower": region.margin_lower,
            "upper": region.margin_upper,
            "start": region.margin_start,
            "end": region.margin_end,
        },
        "keep_out": [_ring(k) for k in region.keep_out],
    }


def _rectangle(x0: float, y0: float, x1: float | None, y1: float) -> Ring | None:
    return None if x1 is None else ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _seam(m: SeamMeeting) -> Mapping[str, object]:
    return {
        "seam": m.seam,
        "half": m.half,
        "shapes": list(m.shapes),
        "worn": m.worn,
        "length_mm": round(m.length, 2),
        "tolerance_mm": m.tolerance,
        "kind": m.kind.value,
        "share": round(m.share, 4),
        "shares": {kind.value: round(share, 4) for kind, share in m.shares.items()},
        "turned_deg": _rounded(m.turned_deg),
        "stops_mm": round(m.stops_mm, 2),
        "worst_mm": _rounded(m.worst),
        "mean_mm": _rounded(m.mean),
        "level_mm": _rounded(m.level),
        "upright_mm": _rounded(m.upright),
        "best": {"share": round(m.best.share, 4), "worst_mm": round(m.best.worst, 3)},
        "marks": [_mark(mark) for mark in m.marks],
        "sections": [
            {
                "start": _mark(s.start),
                "end": _mark(s.end),
                "kind": s.kind.value,
                "share": round(s.share, 4),
            }
            for s in m.sections
        ],
        "runs": [
            {
                "from_mm": round(r.low, 2),
                "to_mm": round(r.high, 2),
                "kind": r.kind.value,
                "within": r.within,
            }
            for r in m.runs
        ],
    }


def _mark(mark: SeamMark) -> Mapping[str, object]:
    return {"name": mark.name, "at_mm": round(mark.at, 2)}
