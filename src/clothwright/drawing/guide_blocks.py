"""Parts of the guide that show pieces and cloths: the pieces, what to buy, what to cut."""

from __future__ import annotations

from clothwright.drawing.arrange import side_by_side
from clothwright.drawing.worked import piece_in
from clothwright.pattern.pattern import Pattern
from clothwright.picture.document import Block, Illustration, Para, Table
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import counted, show_length, to_buy

PRESHRINK = (
    "Wash or steam the cloth as you will wash the garment, and measure its length and width "
    "again, before you lay anything: a measured sample beats any table."
)


def pieces_blocks(pattern: Pattern, unit: Unit) -> tuple[Block, ...]:
    """Return the pieces as changed, drawn to scale on one sheet."""
    if not pattern.pieces:
        return (Para(words="No pieces yet."),)
    pictures = [piece_in(pattern, p, unit, fill=True) for p in pattern.pieces]
    sheet = side_by_side(pictures, widest=2600.0, title="The pieces as changed", gap=60.0)
    names = ", ".join(p.name for p in pattern.pieces)
    return (
        Para(words=f"{counted(len(pattern.pieces), 'piece')}: {names}."),
        Illustration(picture=sheet, alt=f"The pieces as changed, to scale: {names}."),
    )


def buying_blocks(laid: Laid, unit: Unit) -> tuple[Block, ...]:
    """Say what of each cloth is in hand and what is to buy, as shops cut it; lengths in `unit`."""
    rows = []
    for cloth in laid.laid_cloths:
        hand, wide = cloth.length, show_length(cloth.width, unit)
        if hand is None:
            rows.append((cloth.name, "to buy", to_buy(laid.buy[cloth.name], unit), wide))
        else:
            rows.append((cloth.name, "in hand", show_length(hand, unit), wide))
    return (
        Table(head=("cloth", "", "length", "width"), rows=tuple(rows), figures=(2, 3)),
        *(Para(words=f"{note} It is to be bought besides.") for note in laid.compiled.notes),
        Para(words=PRESHRINK),
        Para(
            words="Thread to match; what closes the garment (buttons, a zip) as your design asks."
        ),
    )


def cuts_table(pattern: Pattern) -> Table:
    """Return the table of cuts per material."""
    rows = []
    for material in sorted({c.material for p in pattern.pieces for c in p.cuts}):
        for piece in pattern.pieces:
            for cut in piece.cuts:
                if cut.material != material:
                    continue
                number = cut.count * (2 if cut.how == "pair" else 1)
                how = {"pair": "a pair, one turned over", "fold": "on the fold", "once": "single"}[
                    cut.how
                ]
                rows.append((material, piece.name, str(number), how))
    return Table(head=("material", "piece", "cut", "how"), rows=tuple(rows), figures=(2,))
