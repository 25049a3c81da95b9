"""Every figure and bar that is printed on a piece is in the SVG of garment and lay, none beside.

Source: the outside look of this folder, which shares no code with `drawing`: the SVG is read as a
stranger would, where figures and bars ought to be is reckoned from the words of the file format.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

import pytest
from shapely import Polygon

from clothwright.drawing.printed import printed_piece
from clothwright.drawing.style import TABLE
from clothwright.outputs.svg import svg
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.workroom.cutting.lay_files import cloth_pictures, picture_file, worn_pictures
from tests.outfits import OUTFITS
from tests.outfits.drawn import Count, compare, parts, stitching, to_cloth
from tests.outfits.placing import scattered


def drawn(laid: Laid, kind: str, texts: Sequence[str] = ()) -> Count:
    """Look at every piece of the pictures of a kind: "garment", "lay", "piece"; or of these."""
    report = json.loads(json.dumps(laid.report))
    placed = {p["shape"]: p for p in report["placements"]}
    count = Count()
    for text in texts or pictures(laid, kind):
        for part in parts(text, "cloth"):
            if part.shape == "cloth":
                cloth = laid.compiled.cloths[0]
                compare(part, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], cloth, count)
                continue
            placement = placed[part.shape]
            own = (
                stitching(laid.pattern.piece(placement["piece"]), placement)
                if kind == "garment"
                else Polygon(placement["outline"])
            )
            onto = to_cloth(part.outline, own)
            assert onto is not None, part.shape
            compare(part, onto, laid.compiled.cloth(str(placement["cloth"])), count)
    return count


def pictures(laid: Laid, kind: str) -> list[str]:
    """Return the SVGs of a kind as they are written."""
    if kind == "piece":
        printed = [printed_piece(laid.compiled, p) for p in laid.lay.placements]
        return [svg(picture, look=TABLE) for picture in printed]
    found = worn_pictures(laid) if kind == "garment" else cloth_pictures(laid, Unit.mm)
    return [picture_file(picture, "svg", {}).decode() for picture in found.values()]


CASES = [(name, "garment") for name in OUTFITS] + [
    ("two borders", "lay"),
    ("large figure", "lay"),
    ("brick blouse", "piece"),
]


@pytest.mark.parametrize(("name", "kind"), CASES)
def test_every_figure_and_bar_is_drawn_where_it_is_printed(name: str, kind: str) -> None:
    """Laid by chance, so that figures, bars and borders are cut off anywhere."""
    laid = scattered(OUTFITS[name](), 2)
    found = drawn(laid, kind)
    design = laid.compiled.cloths[0].print
    assert found.wrong == []
    if kind == "piece":
        assert found.pieces == len(laid.lay.placements)
    assert (found.figures > 0) == bool(design.figures or (design.borders and kind == "lay"))
    assert (found.bars_mm > 1000.0) == bool(design.repeat_along or design.repeat_across)
    assert (found.upright > 0) == (design.up != "either" or (name, kind) == ("two borders", "lay"))


@pytest.mark.parametrize(("change", "said"), [("figures", "figure"), ("origin_along", "bars")])
def test_a_print_that_is_not_the_one_drawn_is_found_out(change: str, said: str) -> None:
    """Drawn with a figure 3 mm aside, or with its bars 2 mm on: the look says so."""
    laid = scattered(OUTFITS["one-way vest"](), 2)
    [cloth] = laid.compiled.cloths
    design = cloth.print
    moved = {
        "figures": replace(design, figures=(replace(design.figures[0], x=43.0),)),
        "origin_along": replace(design, origin_along=design.origin_along + 2.0, axes_across=()),
    }[change]
    other = replace(laid.compiled, cloths=(replace(cloth, print=moved),))
    text = svg(printed_piece(other, laid.lay.placements[0]), look=TABLE)
    found = drawn(laid, "piece", [text])
    assert any(said in line for line in found.wrong)
