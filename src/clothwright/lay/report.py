"""A lay as plain data (JSON): the documented form that other programs rely on."""

from __future__ import annotations

from collections.abc import Mapping

from clothwright.cloth.cloth import Cloth
from clothwright.lay.compiled import Compiled
from clothwright.lay.judge import residuals
from clothwright.lay.match import SeamMatch
from clothwright.lay.problem import Ring
from clothwright.lay.result import Lay

FORMAT = "clothwright-lay/1"
"""Name and version of the form; the number rises when a reader would have to change."""


def lay_report(
    compiled: Compiled, lay: Lay, *, plan: str, matches: tuple[SeamMatch, ...] = ()
) -> dict[str, object]:
    """Return the lay as plain data. Lengths in mm, x along the selvedge from the cut end."""
    left = residuals(compiled.problem, lay)
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
            }
            for rule in compiled.problem.rules
        ],
        "fits": lay.fits,
        "short_by_mm": None if lay.short_by is None else round(lay.short_by, 4),
        "seams": [_seam(m) for m in matches],
        "notes": list(compiled.notes),
    }


_KINDS = {
    "OnLine": "on-line",
    "AtPhase": "at-phase",
    "SamePhase": "same-phase",
    "MirrorPhase": "mirror-phase",
    "KeepClear": "keep-clear",
    "KeepWhole": "keep-whole",
    "AtFigure": "at-figure",
    "KeepOff": "keep-off",
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


def _seam(match: SeamMatch) -> Mapping[str, object]:
    return {
        "seam": match.seam,
        "half": match.half,
        "shapes": list(match.shapes),
        "alike": match.alike,
        "worst_mm": round(match.worst, 3) if match.alike else None,
        "level_mm": _rounded(match.level),
        "upright_mm": _rounded(match.upright),
        "mean_mm": round(match.mean, 3) if match.alike else None,
        "notches": [
            {"name": s.notch, "at_mm": round(s.at, 2), "differs_mm": round(s.worst, 3)}
            for s in match.spots
            if s.notch
        ],
    }
