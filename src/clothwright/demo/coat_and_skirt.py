"""The outfit: a lined short coat and a panel skirt from one length with a woven border."""

from __future__ import annotations

from functools import cache

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.demo.body import WEARER, CoatStyle, SkirtStyle, Wearer
from clothwright.demo.coat import draft_coat_back, draft_coat_front
from clothwright.demo.coat_inside import (
    FacingStyle,
    draft_back_neck_facing,
    draft_front_facing,
    draft_lining_back,
    draft_lining_front,
    draft_lining_sleeve,
)
from clothwright.demo.draft import seam
from clothwright.demo.skirt import draft_skirt_back, draft_skirt_front, draft_waistband
from clothwright.demo.sleeve import armhole_of, draft_sleeve
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.units import INCH, Unit
from clothwright.workbook import Settings, Step, Workbook

BORDER = "woven border"


@cache
def coat_and_skirt() -> Workbook:
    """Return the workbook of the short coat and the skirt, with three plans to choose from."""
    return Workbook(
        title="Short coat and panel skirt",
        unit=Unit.inch,
        settings=Settings(currency="EUR"),
        bought=draft_outfit(WEARER, CoatStyle(), SkirtStyle()),
        steps=steps(),
        cloths=(bordered_cloth(), lining_cloth(), interfacing()),
        plans=plans(),
        chosen_plan="skirt and sleeves",
        notes="Demo data: pieces, measurements and cloth are our own invention.",
    )


def steps() -> tuple[Step, ...]:
    """Return what the maker changed, in her words: a slip of 3/8 in, and how it was mended."""
    return (
        Step(
            change="crop",
            params={"edges": "coat back.hem", "length": "20 in"},
            why="The coat is to end just above the hip.",
        ),
        Step(
            change="crop",
            params={"edges": "coat front.hem, front facing.hem", "length": "21 3/8 in"},
            why="Measured over the bust; the walk found the front 3/8 in longer at the side.",
        ),
        Step(
            change="match-edge",
            params={
                "seam": "coat side",
                "edge": "coat front.side",
                "at": "start",
                "neighbour": "parallel",
            },
            why="The front's hem goes up until its side is as long as the back's.",
        ),
        Step(
            change="match-edge",
            params={
                "seam": "front facing",
                "edge": "front facing.front edge",
                "at": "end",
                "neighbour": "parallel",
            },
            why="The facing follows the front.",
        ),
        Step(
            change="lengthen",
            params={
                "pieces": "lining front, lining back",
                "level": "waist",
                "by": "-2 in",
                "above": "-3/4 in",
            },
            why="The lining loses what the coat lost.",
        ),
        Step(
            change="straighten-sleeve",
            params={"dart": "coat sleeve.elbow dart"},
            why="The border needs a sleeve hem that is straight and square to the grain.",
        ),
        Step(
            change="straighten-sleeve",
            params={"dart": "lining sleeve.elbow dart"},
            why="The lining's sleeve goes with the coat's.",
        ),
        Step(
            change="lengthen",
            params={
                "pieces": "skirt front, skirt back",
                "level": "hip",
                "by": "-3/4 in",
                "above": "-5 in",
            },
            why="The hem is to clear the knee.",
        ),
    )


def draft_outfit(body: Wearer, coat: CoatStyle, skirt: SkirtStyle) -> Pattern:
    """Return every piece of the outfit and the seams that join them."""
    front, back = draft_coat_front(body, coat), draft_coat_back(body, coat)
    sleeve = draft_sleeve(body, coat, armhole_of(front, back))
    skirt_front, skirt_back = draft_skirt_front(body, skirt), draft_skirt_back(body, skirt)
    band = draft_waistband(skirt_front, skirt_back, skirt)
    facing = FacingStyle()
    inside = (
        draft_front_facing(body, coat, facing),
        draft_back_neck_facing(body, coat, facing),
        draft_lining_front(body, coat, facing),
        draft_lining_back(body, coat, facing),
        draft_lining_sleeve(body, coat),
    )
    return Pattern(
        pieces=(front, back, sleeve, *inside, skirt_front, skirt_back, band),
        seams=(*coat_seams(coat), *facing_seams(), *lining_seams(coat), *skirt_seams()),
    )


def coat_seams(style: CoatStyle) -> tuple[Seam, ...]:
    """Return the seams of the coat's shell."""
    return (
        seam("coat side", "coat front.side", "coat back.side reversed"),
        seam(
            "coat shoulder",
            "coat front.shoulder",
            "coat back.shoulder reversed",
            ease=style.back_ease,
        ),
        seam(
            "coat armhole",
            ("coat front.armhole", "coat back.armhole"),
            "coat sleeve.cap reversed",
            kind="cap",
            ease=style.cap_ease_front + style.cap_ease_back,
            ease_from="front",
            ease_to="back",
        ),
        seam("coat sleeve seam", "coat sleeve.front seam reversed", "coat sleeve.back seam"),
    )


def facing_seams() -> tuple[Seam, ...]:
    """Return the seams that join the facings to the shell and to each other."""
    return (
        seam(
            "front facing",
            ("coat front.neck", "coat front.front edge"),
            ("front facing.neck", "front facing.front edge"),
            kind="facing",
        ),
        seam("back neck facing", "coat back.neck", "back neck facing.neck", kind="facing"),
        seam("facing shoulder", "front facing.shoulder", "back neck facing.shoulder reversed"),
    )


def lining_seams(style: CoatStyle) -> tuple[Seam, ...]:
    """Return the seams of the lining, and those that join it to the facings."""
    return (
        seam(
            "lining to front facing",
            "front facing.inner",
            "lining front.inner reversed",
            kind="lining",
        ),
        seam(
            "lining to neck facing",
            "back neck facing.inner",
            "lining back.inner reversed",
            kind="lining",
        ),
        seam("lining side", "lining front.side", "lining back.side reversed"),
        seam(
            "lining shoulder",
            "lining front.shoulder",
            "lining back.shoulder reversed",
            ease=style.back_ease,
        ),
        seam(
            "lining armhole",
            ("lining front.armhole", "lining back.armhole"),
            "lining sleeve.cap reversed",
            kind="cap",
            ease=style.cap_ease_front + style.cap_ease_back,
            ease_from="front",
            ease_to="back",
        ),
        seam("lining sleeve seam", "lining sleeve.front seam reversed", "lining sleeve.back seam"),
    )


def skirt_seams() -> tuple[Seam, ...]:
    """Return the seams of the skirt."""
    return (
        seam("skirt side", "skirt front.side", "skirt back.side reversed"),
        seam("skirt centre back", "skirt back.centre", "skirt back.centre"),
        seam(
            "waist left",
            ("skirt front.waist reversed", "skirt back.waist reversed"),
            "waistband.left half",
        ),
        seam("waist right", ("skirt back.waist", "skirt front.waist"), "waistband.right half"),
    )


def bordered_cloth() -> Cloth:
    """Return the length that cannot be bought again: 2 1/4 yd with a border on one selvedge."""
    return Cloth(
        name="bordered wool",
        width=57 * INCH,
        length=2.25 * 36 * INCH,
        margin_lower=12.0,
        margin_upper=12.0,
        margin_start=8.0,
        margin_end=8.0,
        print=Print(
            borders=(Border(name=BORDER, side="lower", base=82.0, height=150.0, repeat=56.0),),
            origin_along=20.0,
            axes_along=(0.0, 28.0),
            look="border",
        ),
        note="demo data: the only length there is",
    )


def lining_cloth() -> Cloth:
    """Return the lining, still to be bought."""
    return Cloth(
        name="lining",
        width=1370.0,
        material="lining",
        margin_lower=10.0,
        margin_upper=10.0,
        price_per_m=9.5,
        note="demo data",
    )


def interfacing() -> Cloth:
    """Return the interfacing, still to be bought."""
    return Cloth(
        name="interfacing",
        width=900.0,
        material="interfacing",
        margin_lower=0.0,
        margin_upper=0.0,
        price_per_m=6.0,
        note="demo data",
    )


def plans() -> tuple[Plan, ...]:
    """Return the three answers to where the border goes."""
    return (
        Plan(
            name="skirt only",
            why="The border runs round the skirt; the coat stays plain.",
            rules=_skirt_rules(),
        ),
        Plan(
            name="skirt and sleeves",
            why="The border runs round the skirt and round both sleeve hems.",
            rules=(*_skirt_rules(), *_sleeve_rules()),
        ),
        Plan(
            name="skirt, sleeves and coat",
            why="The border runs round every hem: skirt, sleeves and coat.",
            rules=(*_skirt_rules(), *_sleeve_rules(), *_coat_rules()),
        ),
    )


def _skirt_rules() -> tuple[PlacingRule, ...]:
    return (
        OnBorder(piece="skirt front", edge="hem", border=BORDER),
        OnBorder(piece="skirt back", edge="hem", border=BORDER),
        AtPhase(piece="skirt front", point="centre front", along=0.0),
        Meets(
            piece_a="skirt front",
            point_a="side hem",
            piece_b="skirt back",
            point_b="side hem",
            match="upright",
        ),
        Mirrored(piece="skirt back", point="centre hem"),
        OnGrain(piece="waistband", grain="along"),
    )


def _sleeve_rules() -> tuple[PlacingRule, ...]:
    return (
        OnBorder(piece="coat sleeve", edge="hem", border=BORDER),
        Mirrored(piece="coat sleeve", point="front wrist"),
    )


def _coat_rules() -> tuple[PlacingRule, ...]:
    return (
        OnBorder(piece="coat front", edge="hem", border=BORDER),
        OnBorder(piece="coat back", edge="hem", border=BORDER),
        AtPhase(piece="coat back", point="centre back", along=0.0),
        Meets(
            piece_a="coat front",
            point_a="side hem",
            piece_b="coat back",
            point_b="side hem",
            match="upright",
        ),
        Mirrored(piece="coat front", point="side hem"),
    )
