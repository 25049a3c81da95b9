"""The order of work: every kind of seam has its operation, and hems hang only where they drop."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut
from clothwright.sewing import order_of_work
from clothwright.sewing.operation import side
from clothwright.units import Unit
from clothwright.words import say


def outfit() -> Pattern:
    """The coat and skirt as bought."""
    return next(d for d in DEMOS if d.name == "coat-and-skirt").make().bought


KINDS = ("plain", "cap", "facing", "lining", "closure", "hem")
"""What `Seam.kind` may say."""


@pytest.mark.parametrize("kind", KINDS)
def test_a_seam_of_any_kind_is_one_step(kind: str) -> None:
    """Whatever a workbook may call a seam, it is sewn once, and both its sides are named."""
    pattern = outfit()
    seam = replace(pattern.seams[0], kind=kind)
    steps = order_of_work(replace(pattern, seams=(seam,)))
    found = [s for s in steps if s.key == f"sew seam {seam.name}"]
    assert len(found) == 1
    words = say(found[0].words, Unit.cm)
    assert side(seam.a) in words
    assert side(seam.b) in words


def test_a_piece_sewn_to_itself_or_its_twin_is_named_once() -> None:
    """A sleeve is closed along its seam; the centre back joins the two of a pair."""
    pattern = outfit()
    words = [say(s.words, Unit.inch) for s in order_of_work(pattern)]
    assert "Sew the coat sleeve together: front seam to back seam." in words
    assert "Sew the two skirt back pieces together (centre)." in words


def hang(pattern: Pattern, name: str, *, called: str = "", material: str = "shell") -> bool:
    """Whether the hem of a piece is left to hang; the piece may be called otherwise."""
    piece = pattern.piece(name)
    one = replace(piece, name=called or name, cuts=(Cut(material=material, count=1, how="once"),))
    steps = order_of_work(replace(pattern, pieces=(one,), seams=()))
    hems = [s for s in steps if s.key.startswith("sew hem")]
    assert hems
    return any("hang" in str(s.more) for s in hems)


def test_only_long_outer_hems_hang() -> None:
    """A skirt's hem drops on the bias; a sleeve, a facing and a lining do not (common practice)."""
    pattern = outfit()
    assert hang(pattern, "skirt front")
    assert hang(pattern, "skirt front", called="coat back")
    assert not hang(pattern, "skirt front", called="coat sleeve")
    assert not hang(pattern, "skirt front", called="blouse front")
    assert not hang(pattern, "skirt front", called="coat front facing")
    assert not hang(pattern, "skirt front", material="lining")


def test_a_garment_is_not_named_twice() -> None:
    """A lining is sewn to a facing by the names of the pieces, without the word before them."""
    pattern = outfit()
    seam = next(s for s in pattern.seams if s.kind == "lining")
    steps = order_of_work(replace(pattern, seams=(seam,)))
    words = say(next(s for s in steps if s.key.startswith("sew seam")).words, Unit.inch)
    assert "lining lining" not in words
    assert words == f"Sew {side(seam.b)} to {side(seam.a)}."
