"""The example on each change's page is one that works."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from clothwright.changes import CHANGES
from clothwright.changes.change import Change
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Level, Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from tests.contract.changes_table import buttoned, old_lining, two_darts, yoked
from tests.garments.parts import band
from tests.specimens import seam, skirt, sleeve

PAGES = Path(__file__).parents[2] / "docs" / "changes"


def wardrobe() -> Pattern:
    """Bodice, lining, skirt, sleeve, a front with two darts, a back with a yoke in one pattern."""
    bust, cut = replace(two_darts().piece("front"), name="darted front"), yoked()
    back = (cut.piece("yoke"), cut.piece("lower back"))
    lining = old_lining().piece("lining front")
    more = Pattern(pieces=(bust, *back, lining), seams=(cut.seam("back joining"),))
    parts = (buttoned(), replace(skirt(), pieces=skirt_pieces()), sleeve(), more)
    hole = seam("armhole", "front.armhole, back.armhole", "sleeve.cap reversed", kind="cap")
    waist = seam("waist", "darted front.hem", "waistband.lower")
    return Pattern(
        pieces=(*(p for part in parts for p in part.pieces), band("waistband", 200.0, 40.0)),
        seams=(*(s for part in parts for s in part.seams), hole, flounce(), waist),
        sizes=skirt_sizes(),
    )


def flounce() -> Seam:
    """A seam with pleats: a sleeve's hem on its cap, for the pages alone."""
    return seam("flounce", "sleeve.cap", "sleeve.hem", ease=40.0, join="pleated", folds=2)


def skirt_sizes() -> SizeRange:
    """The skirt in sizes 12 to 16: a 14 with a waist level, one 3 % smaller, one 3 % larger."""
    own = skirt_pieces()
    sets = [
        tuple(_scaled(p, factor) for p in own) if factor != 1 else own for factor in (0.97, 1, 1.03)
    ]
    return SizeRange(names=("12", "14", "16"), drawn="14", pieces=tuple(sets))


def skirt_pieces() -> tuple[Piece, ...]:
    """The skirt's pieces with a level at the waist."""
    waist = Level(name="waist", at=Vec(100.0, 600.0))
    return tuple(replace(p, levels=(waist, *p.levels)) for p in skirt().pieces)


def _scaled(piece: Piece, factor: float) -> Piece:
    grow = Transform(factor, 0.0, 0.0, factor, 0.0, 0.0)
    edges = tuple(
        replace(
            e,
            path=e.path.transformed(grow),
            notches=tuple(replace(n, at=n.at * factor) for n in e.notches),
        )
        for e in piece.edges
    )
    darts = tuple(
        replace(d, a=d.a * factor, b=d.b * factor, point=d.point * factor) for d in piece.darts
    )
    levels = tuple(replace(lv, at=lv.at * factor) for lv in piece.levels)
    return replace(piece, edges=edges, darts=darts, levels=levels)


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_the_example_on_the_page_works(change: Change[Any]) -> None:
    """Each page shows the change as a workbook holds it; read from there, it can be done."""
    text = (PAGES / f"{change.id}.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```toml\n(.*?)```", text, re.DOTALL)
    assert blocks, f"{change.id}.md shows no example"
    for block in blocks:
        for table in tomllib.loads(block)["change"]:
            assert table.pop("kind") == change.id
            params = read_params(change.params, table, unit=Unit.inch, where="example")
            outcome = change.apply(wardrobe(), params)
            assert say(outcome.said, Unit.inch).endswith(".")


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_the_page_names_every_parameter(change: Change[Any]) -> None:
    """No parameter is missing from the page."""
    text = (PAGES / f"{change.id}.md").read_text(encoding="utf-8")
    missing = [name for name in change.params.__dataclass_fields__ if f"`{name}`" not in text]
    assert missing == []
