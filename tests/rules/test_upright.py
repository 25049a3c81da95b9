"""Whatever rules, folds, pairs and pins say: no piece is cut against its print, or it is refused.

The check is this file's own: the piece's cutting line, in the piece's own coordinates, is brought
onto the outline that the lay states by the best turn, mirror image and shift (Kabsch 1976, numpy),
and the piece's grain arrow goes along. Nothing of the lay's turns, frames or rules is asked.
"""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.errors import ClothwrightError
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.fold_search import solve_folded
from clothwright.lay.result import Lay, Placement
from clothwright.lay.solve import solve
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Grain, Piece
from clothwright.pattern.refs import parse_edge
from clothwright.pattern.whole import unfolded
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.kinds.clear import Clear
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.figure_centred import FigureCentred
from clothwright.rules.kinds.figure_whole import FigureWhole
from clothwright.rules.kinds.folded import Folded, asked_folds
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import PlacingRule, Plan
from tests.few_rounds import LONG_S
from tests.lay.panels import panel

EXAMPLES = int(os.environ.get("UP_EXAMPLES", "40"))
"""Set UP_EXAMPLES=300 for the long run."""

TOWARDS = {"end": (1, 0), "start": (-1, 0), "upper": (0, 1), "lower": (0, -1)}
BORDER_TOWARDS = {
    ("lower", "selvedge"): (0, 1), ("lower", "middle"): (0, -1),
    ("upper", "selvedge"): (0, -1), ("upper", "middle"): (0, 1),
}  # fmt: skip
AXES = ("along", "across")
FOLDS = ("lengthwise", "partial", "crosswise")
PIECES = ("front", "back", "sleeve")


def pattern() -> Pattern:
    """A front on the fold, a pair of backs, a sleeve that is drawn lying and grained aslant."""
    front = panel("front", 160.0, 300.0, "fold", fold="left", flare=30.0)
    back = panel("back", 150.0, 300.0, "pair", flare=20.0)
    sleeve = panel("sleeve", 220.0, 120.0, "once", flare=40.0)
    sleeve = replace(sleeve, grain=Grain(start=Vec(150.0, 40.0), end=Vec(60.0, 90.0)))
    side = Seam(name="side", a=(parse_edge("front.right"),), b=(parse_edge("back.left reversed"),))
    return Pattern(pieces=(front, back, sleeve), seams=(side,))


@st.composite
def cloths(draw: st.DrawFn) -> tuple[Cloth, ...]:
    """One printed cloth, or two that the same pieces may be cut from."""
    found = []
    for name in ("one", "two")[: draw(st.sampled_from([1, 1, 1, 2]))]:
        borders = tuple(
            Border(name=f"{side} border", side=side, base=20.0,
                   height=draw(st.sampled_from([80.0, 200.0])),
                   down=draw(st.sampled_from(["selvedge", "middle", "either"])))
            for side in draw(st.sampled_from([(), (), ("lower",), ("upper",), ("lower", "upper")]))
        )  # fmt: skip
        design = Print(
            repeat_along=60.0, repeat_across=50.0, axes_along=(0.0,), axes_across=(0.0,),
            up=draw(st.sampled_from(["either", "end", "start", "upper", "lower"])),
            borders=borders, figures=(Figure(name="rose", x=20.0, y=300.0, radius=5.0),),
        )  # fmt: skip
        found.append(
            Cloth(name=name, width=draw(st.sampled_from([700.0, 1000.0])), length=6000.0,
                  nap=draw(st.integers(0, 3)) == 0, print=design)
        )  # fmt: skip
    return tuple(found)


@st.composite
def rules(draw: st.DrawFn, on: tuple[Cloth, ...]) -> PlacingRule:
    """A rule of any kind."""
    piece = draw(st.sampled_from(PIECES))
    border = draw(st.sampled_from([b.name for c in on for b in c.print.borders] or [""]))
    if border and draw(st.booleans()):
        if draw(st.booleans()):
            return MayRunInto(piece=piece, border=border)
        return draw(
            st.sampled_from([
                OnBorder(piece=piece, edge=draw(st.sampled_from(["hem", "top"])), border=border,
                         above=draw(st.sampled_from([0.0, 30.0])), upside_down=draw(st.booleans())),
                KeepOff(piece=piece, border=border, by=5.0),
            ])
        )  # fmt: skip
    return draw(
        st.sampled_from([
            OnGrain(piece=piece, grain=draw(st.sampled_from(["along", "across", "bias"])),
                    tilt_deg=draw(st.sampled_from([0.0, 0.0, 5.0, 45.0]))),
            Pin(piece=piece, copy=draw(st.integers(1, 2)), cloth=draw(st.sampled_from(on)).name,
                x=500.0, y=350.0, turn_deg=draw(st.sampled_from([0.0, 3.0, 45.0, 90.0, 180.0])),
                flipped=draw(st.booleans())),
            Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left"),
            Mirrored(piece="back", point="lower right", way=draw(st.sampled_from(AXES))),
            AtPhase(piece=piece, point="hem start", along=10.0),
            Clear(piece=piece, point="hem start", figure="rose"),
            FigureCentred(piece=piece, point="hem start", figure="rose"),
            FigureWhole(piece=piece, figure="rose"),
            Chevron(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left",
                    bias=draw(st.booleans())),
            OneWay(pieces=draw(st.sampled_from([(), ("front", "back"), ("back", "sleeve")])),
                   outside=draw(st.sampled_from([(), (), ("sleeve",)]))),
            CutFrom(piece=piece, material="shell", cloth=on[-1].name),
            Folded(cloth=on[0].name, way=draw(st.sampled_from(FOLDS))),
        ])
    )  # fmt: skip


@st.composite
def outfits(draw: st.DrawFn) -> tuple[tuple[Cloth, ...], Plan]:
    on = draw(cloths())
    return on, Plan(name="p", rules=tuple(draw(st.lists(rules(on), max_size=4, unique=True))))


def laid(on: tuple[Cloth, ...], plan: Plan) -> tuple[Compiled, Lay]:
    """Built from pattern, cloth and plan as the program does, laid with few rounds."""
    compiled = compile_lay(pattern(), on, plan)
    if folds := asked_folds(plan):
        return compiled, solve_folded(compiled, folds, seconds=LONG_S, rounds=1).lay
    return compiled, solve(compiled.problem, seconds=LONG_S, rounds=2)


def top_of(piece: Piece, place: Placement) -> np.ndarray:
    """Where the grain arrow of a piece points as it lies: its outline's motion, found anew."""
    ring = cutting_line(unfolded(piece)).outline.flatten(0.05)
    own = np.array([p for k, p in enumerate(ring) if p.distance(ring[k - 1]) > 1e-3])
    there = np.array(place.outline)
    fits = []
    for a in (np.roll(w, -k, axis=0) for w in (own, own[::-1]) for k in range(len(own))):
        middles = a.mean(axis=0), there.mean(axis=0)
        u, _, vt = np.linalg.svd((a - middles[0]).T @ (there - middles[1]))
        move = u @ vt
        fits.append((float(np.abs((a - middles[0]) @ move + middles[1] - there).max()), move))
    off, move = min(fits, key=lambda each: each[0])
    assert off < 0.01
    arrow = np.subtract(piece.grain.end, piece.grain.start)
    return arrow @ move / np.hypot(*arrow)


def against(piece: Piece, lies: tuple[Placement, np.ndarray], cloth: Cloth,
            named: set[tuple[str, str]]) -> list[str]:  # fmt: skip
    """What of a cloth's print a piece lies against, or lies on unasked."""
    place, top = lies
    low, high = (f(y for _, y in place.outline) for f in (min, max))
    found = []
    if cloth.print.up != "either" and apart(top, TOWARDS[cloth.print.up]) > 45.1:
        found.append(f"{place.shape} against {cloth.name}")
    for b in cloth.print.borders:
        band = sorted(
            (y if b.side == "lower" else cloth.width - y) for y in (20.0, 20.0 + b.height)
        )
        if min(high, band[1]) - max(low, band[0]) <= 0.1:
            continue
        if (piece.name, b.name) not in named:
            found.append(f"{place.shape} on {b.name} unasked")
        if b.down != "either" and apart(top, BORDER_TOWARDS[b.side, b.down]) > 45.1:
            found.append(f"{place.shape} against {b.name}")
    return found


def scattered(tops: dict[Placement, np.ndarray], pieces: dict[str, str], on: tuple[Cloth, ...],
              plan: Plan) -> list[str]:  # fmt: skip
    """Where the tops that a nap or a rule has one way point to no end and no selvedge together."""
    asked = [r for r in plan.rules if isinstance(r, OneWay)]
    free = {name for r in asked for name in r.outside}
    bound = [(c, set(PIECES) - free) for c in on if c.nap]
    bound += [(c, set(r.pieces or PIECES) - set(r.outside)) for r in asked for c in on]
    found = []
    for cloth, names in bound:
        mine = [t for p, t in tops.items() if p.region == cloth.name and pieces[p.shape] in names]
        if not any(all(apart(t, way) <= 45.1 for t in mine) for way in TOWARDS.values()):
            found.append(f"{names} on {cloth.name} two ways")
    return found


def apart(a: np.ndarray, b: tuple[int, int]) -> float:
    return float(np.degrees(np.arccos(np.clip(a @ np.array(b), -1.0, 1.0))))


@settings(
    max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)
@given(outfits())
def test_no_piece_is_laid_against_its_print(asked: tuple[tuple[Cloth, ...], Plan]) -> None:
    """Ground and border tops by rules of every kind, folds, pairs and pins: upright, or refused.

    All tops one way, by a nap or a rule, hold whatever the grain of the pieces.
    """
    on, plan = asked
    try:
        compiled, lay = laid(on, plan)
    except ClothwrightError as error:
        event("refused")
        refused = str(error)
    else:
        refused = ""
    if refused:
        assert any(words in refused for words in ('lan "p"', "Rule ", "cannot be folded"))
        return
    event("laid" if lay.placements else "nothing has a place")
    named = {(r.piece, r.border) for r in plan.rules if isinstance(r, OnBorder | MayRunInto)}
    by_name = {c.name: c for c in on}
    pieces = {p.shape: compiled.copy(p.shape).piece for p in lay.placements}
    tops = {p: top_of(pieces[p.shape], p) for p in lay.placements}
    found = [
        words
        for place, top in tops.items()
        for words in against(pieces[place.shape], (place, top), by_name[place.region], named)
    ]
    found += scattered(tops, {n: p.name for n, p in pieces.items()}, on, plan)
    assert found == []
