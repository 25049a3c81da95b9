"""Folds and strain from the waist down: what is seen, the likely cause, and the correction."""

from __future__ import annotations

from clothwright.workroom.toile.sign import Sign
from clothwright.workroom.toile.upper import DRESSMAKER, FOLD, USDA
from clothwright.workroom.toile.ways import abdomen, corner_up, girth, seat

CUTTING = "Hertzer, Garment Cutting in the Twentieth Century"
SKIRT, TROUSERS = "Skirt and waist", "Trousers"

LOWER: tuple[Sign, ...] = (
    Sign(
        id="skirt-rides-up",
        group=SKIRT,
        said="the skirt draws across the hips and rides up",
        measure="how far it gapes, all round the hip",
        cause="it is too narrow at the hip",
        correction="give at the side seams, tapering to nothing at the waist",
        source=USDA,
        at=("level",),
        ways=girth(1.0),
    ),
    Sign(
        id="skirt-swings-out",
        group=SKIRT,
        said="the skirt swings out in front",
        measure="how far the top has to go up at the centre front",
        cause="a prominent abdomen",
        correction="raise the top at the centre front, and give the waist back at the sides",
        source=DRESSMAKER,
        at=("point",),
        ways=abdomen,
    ),
    Sign(
        id="cross-grain-drops",
        group=SKIRT,
        said="the cross grain drops at the side of the hip",
        measure="how far it drops",
        cause="the waist is not level on the body",
        correction="lift the waist there, or lower it elsewhere",
        source=USDA,
        at=("point",),
        ways=corner_up,
    ),
    Sign(
        id="waist-loose",
        group=SKIRT,
        said="it is loose at the waist",
        measure="how much, all round the waist",
        cause="the waist is smaller than the pattern",
        correction="deeper seams, or darts at the side back",
        source=USDA,
        at=("level",),
        ways=girth(-1.0),
    ),
    Sign(
        id="drags-to-one-side",
        group=SKIRT,
        said="it drags to one side",
        measure="how far",
        cause="the waist marks were not matched when it was tacked",
        correction="tack it again by its marks; change nothing",
        source=DRESSMAKER,
    ),
    Sign(
        id="crease-from-inseam",
        group=TROUSERS,
        said="a crease runs from the inseam forward and up, more so in walking",
        measure="how much is wanted at the bottom of the inseam",
        cause="the slope of the leg",
        correction="add at the bottom of the inseam, and take it from the outside",
        source=CUTTING,
    ),
    Sign(
        id="wrinkles-across-seat",
        group=TROUSERS,
        said="they wrinkle across the back and work down",
        measure="how much too wide the front waist is",
        cause="the front waist is too wide",
        correction="take it from the front waist",
        source=CUTTING,
    ),
    Sign(
        id="folds-point-up-from-crotch",
        group=TROUSERS,
        said="folds run up from the crotch",
        measure="how much is wanted along the crotch",
        cause="the crotch is too short or too narrow",
        correction="lengthen the crotch at the centre back, or widen its point",
        source="a home sewing teacher's page (a weak source)",
        at=("edge", "point"),
        ways=seat(1.0),
    ),
    Sign(
        id="folds-under-seat",
        group=TROUSERS,
        said="folds lie under the seat",
        measure=FOLD,
        cause="the seat is flatter than the pattern",
        correction="fold the back out level at the seat, to nothing at the side",
        source="a home sewing teacher's page (a weak source); common practice",
        at=("edge",),
        ways=seat(-1.0),
    ),
)
