"""Folds and strain above the waist: what a fitter sees, the likely cause, and the correction.

Folds point to the place that is too tight; free folds lie across the place that is too long or too
wide (common practice). One fault, one change, then try again.
"""

from __future__ import annotations

from clothwright.workroom.toile.sign import Sign
from clothwright.workroom.toile.ways import (
    broad_back,
    bust,
    lower_neck,
    round_back,
    shoulder,
    slope,
    sway_back,
    upper_arm,
    upper_back,
)

USDA = "USDA, Fitting Dresses, 1946"
WSU = "Washington State University, Garment Fitting, 1962"
DRESSMAKER = "The New Dressmaker, 1921"
MANUAL = "a dressmaking manual of about 1911"
SERVICE = "Fashion Service, spring 1925"
SHOULDER, BACK, BUST, SLEEVE = "Shoulder and neck", "Back", "Bust", "Sleeve"
TIP, FOLD = "how far it is off at the shoulder tip", "the fold, pinned flat at its widest"

UPPER: tuple[Sign, ...] = (
    Sign(
        id="armhole-on-arm",
        group=SHOULDER,
        said="the armhole seam lies on the arm, the neck is pulled from its side",
        measure="how far the armhole seam is past the shoulder bone",
        cause="the shoulder is too long",
        correction="narrow the shoulder, on front and back alike",
        source=f"{USDA}; {WSU}",
        ways=shoulder(-1.0),
    ),
    Sign(
        id="shoulder-tight",
        group=SHOULDER,
        said="the shoulder is tight and the sleeve drags",
        measure="how far the armhole seam is short of the shoulder bone",
        cause="the shoulder is too short",
        correction="widen the shoulder, on front and back alike",
        source=WSU,
        ways=shoulder(1.0),
    ),
    Sign(
        id="folds-tip-to-centre",
        group=SHOULDER,
        said="folds run from the shoulder tip to the centre, the seam stands off near the neck",
        measure=TIP,
        cause="the shoulders are squarer than the pattern",
        correction="raise the shoulder tip, and the underarm by as much",
        source=WSU,
        ways=slope(1.0),
    ),
    Sign(
        id="folds-neck-to-underarm",
        group=SHOULDER,
        said="folds run from the neck to the underarm, folds lie below the armhole",
        measure=TIP,
        cause="the shoulders slope more than the pattern",
        correction="lower the shoulder tip, and the underarm by as much; or a shoulder pad",
        source=USDA,
        ways=slope(-1.0),
    ),
    Sign(
        id="wrinkles-neck-to-shoulder",
        group=SHOULDER,
        said="wrinkles in front, between shoulder and neck",
        measure=FOLD,
        cause="the body is hollow below the shoulder",
        correction="open the shoulder seam and stretch the front to the back in its inner half",
        source=DRESSMAKER,
    ),
    Sign(
        id="collar-stands-away",
        group=SHOULDER,
        said="the collar stands away from the neck",
        measure="how much longer the collar is, all round",
        cause="the collar is longer than the neck seam",
        correction="take it off at the ends of the collar, so that both lengths are equal",
        source=USDA,
    ),
    Sign(
        id="collar-rides-up",
        group=SHOULDER,
        said="the collar rides up at the back",
        measure="how far the neck has to come down at the centre back",
        cause="the neck line is too high, or the collar too straight",
        correction="lower the neck a little; a deeper seam at the back",
        source=USDA,
        ways=lower_neck,
    ),
    Sign(
        id="collar-shows-inner",
        group=SHOULDER,
        said="the inner edge of a flat collar shows",
        measure="how far it shows",
        cause="the neck was changed and the collar was not",
        correction="make the collar's neck edge as long as the neck, from centre to centre",
        source=USDA,
    ),
    Sign(
        id="wrinkles-across-back-neck",
        group=BACK,
        said="wrinkles lie across the back at the neck",
        measure=FOLD,
        cause="the upper back is too long, or the shoulder too sloped",
        correction="square the shoulder, or shorten the upper back",
        source=DRESSMAKER,
        ways=upper_back,
    ),
    Sign(
        id="sags-below-blades",
        group=BACK,
        said="the back sags below the shoulder blades",
        measure=FOLD,
        cause="a very upright figure, or a sway back",
        correction="fold the back out level at the centre, to nothing at the side",
        source=USDA,
        ways=sway_back,
    ),
    Sign(
        id="folds-to-side-back",
        group=BACK,
        said="folds run from the underarm up to the side of the back, the hem kicks out behind",
        measure="how far the back is too short at the shoulder blades",
        cause="a round back",
        correction="open the back level at the shoulder blades, with a dart at shoulder or neck",
        source=MANUAL,
        ways=round_back,
    ),
    Sign(
        id="strain-across-back",
        group=BACK,
        said="it strains across the shoulder blades",
        measure="how far it gapes over the whole back",
        cause="the back is broader than the pattern",
        correction="open the back from the shoulder to the armhole",
        source=DRESSMAKER,
        ways=broad_back,
    ),
    Sign(
        id="sags-under-bust",
        group=BUST,
        said="the front sags under the bust",
        measure=FOLD,
        cause="the bust is flat or low, so that the front is too long",
        correction="lift the front at the shoulder, more at the neck; or shorten above the bust",
        source=USDA,
    ),
    Sign(
        id="strain-across-bust",
        group=BUST,
        said="it strains across the bust and the front rises",
        measure="how far it gapes at the bust, over both fronts",
        cause="the bust is fuller than the pattern",
        correction="open the front through the bust point",
        source=SERVICE,
        ways=bust(1.0),
    ),
    Sign(
        id="loose-below-bust",
        group=BUST,
        said="it is loose over the bust and drops in folds",
        measure="the fold at the bust, over both fronts",
        cause="the bust is smaller than the pattern",
        correction="fold the front out through the bust point",
        source=MANUAL,
        ways=bust(-1.0),
    ),
    Sign(
        id="sleeve-will-not-reach",
        group=SLEEVE,
        said="the ears cannot be touched with the elbow bent",
        measure="how far it is too tight round the upper arm",
        cause="the sleeve is too short or too tight",
        correction="widen the upper arm, or lengthen the sleeve",
        source=USDA,
        ways=upper_arm,
    ),
)
