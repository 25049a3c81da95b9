"""The looks: complete, and legible without colour."""

from __future__ import annotations

import itertools
import re

import pytest

from clothwright.drawing.style import LOOKS, PRINT, TABLE, Look
from clothwright.picture.picture import DrawnRole

BESIDE_EACH_OTHER = (
    DrawnRole.CUT,
    DrawnRole.STITCH,
    DrawnRole.FOLD,
    DrawnRole.HEM,
    DrawnRole.GRAIN,
    DrawnRole.DART,
    DrawnRole.LEVEL,
    DrawnRole.BORDER,
    DrawnRole.FLAW,
    DrawnRole.FAULT,
    DrawnRole.LEFTOVER,
)


def grey(colour: str) -> float:
    """Lightness of #rrggbb as a copier sees it, 0 black to 1 white (ITU-R BT.709 weights)."""
    r, g, b = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_every_role_has_a_pen(look: Look) -> None:
    """Whatever is drawn has a width, a colour and a sound dash."""
    for role in DrawnRole:
        pen = look.pen(role)
        assert 0.1 <= pen.width <= 1.0
        assert len(pen.dash) % 2 == 0
        assert all(each > 0 for each in pen.dash)
        assert re.fullmatch(r"#[0-9a-f]{6}", look.ink(role))
        assert re.fullmatch(r"#[0-9a-f]{6}", look.fill(role) or "#000000")


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_lines_differ_without_colour(look: Look) -> None:
    """Lines that lie beside each other differ in dash, or in width by a quarter at least."""
    for one, other in itertools.combinations(BESIDE_EACH_OTHER, 2):
        a, b = look.pen(one), look.pen(other)
        apart = max(a.width, b.width) / min(a.width, b.width)
        assert a.dash != b.dash or apart >= 1.25, (one, other)


def test_areas_differ_without_colour() -> None:
    """A copier tells piece, cloth and border apart."""
    shades = [
        grey(TABLE.fill(role) or "")
        for role in (DrawnRole.PIECE, DrawnRole.CLOTH, DrawnRole.BORDER)
    ]
    assert all(abs(a - b) > 0.08 for a, b in itertools.combinations(shades, 2))


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_words_stand_out_from_what_they_lie_on(look: Look) -> None:
    """Contrast is 4.5 : 1 on paper, tissue and cloth (WCAG 2.2, 1.4.3), 3 for page names."""
    grounds = ["#ffffff"]
    grounds += [c for r in (DrawnRole.PIECE, DrawnRole.CLOTH) if (c := look.fill(r))]
    for role in (
        DrawnRole.LABEL,
        DrawnRole.MEASURE,
        DrawnRole.CUT,
        DrawnRole.STITCH,
        DrawnRole.GRAIN,
    ):
        for ground in grounds:
            assert contrast(look.ink(role), ground) >= 4.5, (role, ground)
    assert contrast(look.ink(DrawnRole.PAGE), "#ffffff") >= 3.0


def contrast(a: str, b: str) -> float:
    """WCAG 2.2 contrast ratio."""
    light, dark = sorted((_luminance(a), _luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def test_pattern_lines_are_darker_than_page_lines() -> None:
    """Nothing that belongs to the page can be taken for a line to cut or to sew along."""
    for role in (DrawnRole.CUT, DrawnRole.FOLD, DrawnRole.GRAIN, DrawnRole.NOTCH):
        assert PRINT.pen(role).width > PRINT.pen(DrawnRole.TEST).width
        assert grey(PRINT.pen(role).colour) < grey(PRINT.pen(DrawnRole.TRIM).colour)
    assert DrawnRole.PIECE not in PRINT.fills
