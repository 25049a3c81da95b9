"""The waistcoat on a balanced check: level at the side, mirrored in front, pockets that vanish."""

from __future__ import annotations

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print
from clothwright.demo.body import WEARER, Wearer
from clothwright.demo.draft import seam
from clothwright.demo.waistcoat import (
    WaistcoatStyle,
    draft_pocket,
    draft_waistcoat_back,
    draft_waistcoat_front,
)
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.workbook import Settings, Workbook


def checked_waistcoat() -> Workbook:
    """Return the workbook of the waistcoat: matched, or as it falls to see what matching costs."""
    return Workbook(
        title="Checked waistcoat",
        unit=Unit.cm,
        settings=Settings(currency="EUR"),
        bought=draft_waistcoat(WEARER, WaistcoatStyle()),
        cloths=(check_cloth(), waistcoat_lining()),
        plans=plans(),
        chosen_plan="matched",
        notes="Demo data: pieces, measurements and cloth are our own invention.",
    )


def draft_waistcoat(body: Wearer, style: WaistcoatStyle) -> Pattern:
    """Return the pieces of the waistcoat and their seams."""
    return Pattern(
        pieces=(
            draft_waistcoat_front(body, style),
            draft_waistcoat_back(body, style),
            draft_pocket(style),
        ),
        seams=(
            seam("side", "front.side", "back.side reversed"),
            seam("shoulder", "front.shoulder", "back.shoulder reversed"),
        ),
    )


def check_cloth() -> Cloth:
    """Return the check: 60 mm along, 48 mm across, even both ways; still to be bought."""
    return Cloth(
        name="check",
        width=910.0,
        margin_lower=12.0,
        margin_upper=12.0,
        price_per_m=24.0,
        print=Print(
            repeat_along=60.0,
            repeat_across=48.0,
            origin_along=10.0,
            origin_across=22.0,
            axes_along=(0.0, 30.0),
            axes_across=(0.0, 24.0),
            look="check",
        ),
        note="demo data",
    )


def waistcoat_lining() -> Cloth:
    """Return the lining, still to be bought."""
    return Cloth(name="lining", width=1370.0, material="lining", price_per_m=9.5, note="demo data")


def plans() -> tuple[Plan, ...]:
    """Return the matched plan, and the one that asks nothing of the check."""
    return (
        Plan(
            name="matched",
            why="Bars meet at the side seam, centre back and centre front lie on a bar, "
            "and the pockets take up the check of the front.",
            rules=(
                AtPhase(piece="back", point="centre back", across=0.0),
                AtPhase(piece="front", point="button 1", across=0.0),
                Mirrored(piece="front", point="button 1", way="across"),
                Meets(
                    piece_a="front",
                    point_a="side hem",
                    piece_b="back",
                    point_b="side hem",
                    match="level",
                ),
                Meets(
                    piece_a="front",
                    point_a="pocket corner",
                    piece_b="pocket",
                    point_b="upper corner",
                    match="both",
                ),
            ),
        ),
        Plan(name="as it falls", why="Nothing is matched: what matching costs in cloth."),
    )
