"""What do I cut from? Each cloth to scale, with handles on its print, and its figures to type."""

from __future__ import annotations

import json
from collections.abc import Mapping
from urllib.parse import urlencode

from markupsafe import Markup

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth import cloth_picture, shown_length
from clothwright.store.book.plain import length_text
from clothwright.units import Unit
from clothwright.web.cloth_pictures import PICTURES, photo_on
from clothwright.web.page import Asked, Page
from clothwright.web.svg import inline
from clothwright.words import show_fraction, show_length
from clothwright.workroom.cloth.holds import handles, holds
from clothwright.workroom.cloth.meanings import cloth_words, other_widths
from clothwright.workroom.cloth.spots import spots

LOOKS = ("plain", "border", "stripes along", "stripes across", "check", "figures")
DOWNS = (
    ("selvedge", "towards the selvedge"),
    ("middle", "towards the middle"),
    ("either", "either way up"),
)


def render(asked: Asked) -> Mapping[str, object]:
    """Return every cloth's name, and the chosen one: its drawing, its words, its figures."""
    cloths = asked.book.cloths
    names = [c.name for c in cloths]
    wanted = asked.query.get("cloth", "")
    chosen = next((c for c in cloths if c.name == wanted), cloths[0] if cloths else None)
    return {
        "cloths": tuple(_tab(c, chosen, asked.book.unit) for c in cloths),
        "missing": wanted if wanted and wanted not in names else "",
        "one": None if chosen is None else _one(chosen, asked.book.unit, asked.opened.name),
        "looks": LOOKS,
        "downs": DOWNS,
        "materials": sorted(_materials(asked) | {"shell"}),
    }


def _materials(asked: Asked) -> set[str]:
    pieces = asked.book.bought.pieces
    return {cut.material for p in pieces for cut in p.cuts} | {
        c.material for c in asked.book.cloths
    }


def _tab(cloth: Cloth, chosen: Cloth | None, unit: Unit) -> Mapping[str, object]:
    length = "to buy" if cloth.length is None else show_length(cloth.length, unit)
    return {
        "name": cloth.name,
        "href": "?" + urlencode({"cloth": cloth.name}),
        "words": f"{show_length(cloth.width, unit)} wide, {length}",
        "chosen": cloth is chosen,
    }


def _one(cloth: Cloth, unit: Unit, book: str) -> Mapping[str, object]:
    """Return everything about one cloth, as its template shows it."""
    on_it = holds(cloth, unit)
    size = f"{show_length(cloth.width, unit)} wide"
    if cloth.length is not None:
        size += f", {show_length(cloth.length, unit)} long"
    return {
        "name": cloth.name,
        "drawing": inline(
            cloth_picture(cloth, unit),
            alt=f"The cloth {cloth.name}, {size}, right side up; its handles follow",
            over=handles(cloth, on_it) + spots(cloth, unit),
            on_first=_photo(cloth, book),
            margin=20.0,
            to_scale=False,
            extra="cloth-pic has-photo" if cloth.print.picture else "cloth-pic",
        ),
        "holds": on_it,
        "long_mm": round(shown_length(cloth), 2),
        "wide_mm": cloth.width,
        "words": cloth_words(cloth, unit),
        "widths": other_widths(cloth, unit),
        "state": json.dumps(_state(cloth, unit)),
        **_fields(cloth, unit),
    }


def _photo(cloth: Cloth, book: str) -> Markup:
    """Return the cloth's photo, cut off at its edges."""
    long = shown_length(cloth)
    inside = photo_on(cloth, long, book)
    box = f'x="0" y="{-cloth.width:g}" width="{long:g}" height="{cloth.width:g}"'
    view = f'viewBox="0 {-cloth.width:g} {long:g} {cloth.width:g}"'
    return (
        Markup("<svg {} {}>{}</svg>").format(Markup(box), Markup(view), inside)
        if inside
        else inside
    )


def _fields(cloth: Cloth, unit: Unit) -> Mapping[str, object]:
    """Return the texts of the form's fields."""

    def text(mm: float | None) -> str:
        return "" if mm is None else length_text(mm, unit)

    design = cloth.print
    return {
        "material": cloth.material,
        "length": "to buy" if cloth.length is None else text(cloth.length),
        "sizes": (("width", "Width, selvedge to selvedge", text(cloth.width)),),
        "margins": tuple(
            (f"margin_{side}", words, text(getattr(cloth, f"margin_{side}")))
            for side, words in (
                ("lower", "Lower selvedge"),
                ("upper", "Upper selvedge"),
                ("start", "Cut end, left"),
                ("end", "Cut end, right"),
            )
        ),
        "shrinks": (
            ("shrink_along", "Along the selvedge", show_fraction(cloth.shrink_along)),
            ("shrink_across", "Across", show_fraction(cloth.shrink_across)),
        ),
        "nap": cloth.nap,
        "price": "" if cloth.price_per_m is None else f"{cloth.price_per_m:g}",
        "note": cloth.note,
        "repeats": (
            ("repeat_along", "Repeat along", text(design.repeat_along)),
            ("repeat_across", "Repeat across", text(design.repeat_across)),
        ),
        "origins": (
            ("origin_along", "Begins, from the cut end", text(design.origin_along)),
            ("origin_across", "Begins, from the lower selvedge", text(design.origin_across)),
        ),
        "axes": (
            ("axes_along", "Mirror lines across the cloth", _list(design.axes_along, unit)),
            ("axes_across", "Mirror lines along the cloth", _list(design.axes_across, unit)),
        ),
        "one_way": design.one_way,
        "look": design.look,
        "borders": tuple(
            {
                "name": b.name,
                "side": b.side,
                "down": b.down,
                "base": text(b.base),
                "height": text(b.height),
                "repeat": text(b.repeat),
            }
            for b in design.borders
        ),
        "figures": tuple(
            {"name": f.name, "x": text(f.x), "y": text(f.y), "radius": text(f.radius)}
            for f in design.figures
        ),
        "flaws": tuple(
            {
                "name": f.name,
                "margin": text(f.margin),
                "ring": "\n".join(f"{text(x)} by {text(y)}" for x, y in f.ring),
            }
            for f in cloth.flaws
        ),
    }


def _list(values: tuple[float, ...], unit: Unit) -> str:
    return "; ".join(length_text(v, unit) for v in values)


def _state(cloth: Cloth, unit: Unit) -> Mapping[str, object]:
    """Return what the script needs to send a whole list of borders, figures or flaws anew."""
    fields = _fields(cloth, unit)

    def bare(rows: object) -> list[dict[str, object]]:
        if not isinstance(rows, tuple):
            return []
        return [{k: v for k, v in row.items() if v != ""} for row in rows]

    def t(mm: float) -> str:
        return length_text(mm, unit)

    middle = cloth.width / 2
    return {
        "cloth": cloth.name,
        "unit": unit.value,
        "border": bare(fields["borders"]),
        "figure": bare(fields["figures"]),
        "flaw": [
            {"name": f.name, "margin": t(f.margin), "ring": [[t(x), t(y)] for x, y in f.ring]}
            for f in cloth.flaws
        ],
        "fresh": {
            "border": {
                "name": "border",
                "side": "lower",
                "base": "1 in" if not unit.is_metric else "2.5 cm",
                "height": "4 in" if not unit.is_metric else "10 cm",
            },
            "figure": {"name": "figure", "x": t(middle), "y": t(middle), "radius": t(50.8)},
            "flaw": {
                "name": "flaw",
                "ring": [
                    [t(middle + dx), t(middle + dy)]
                    for dx, dy in ((0.0, 0.0), (50.8, 0.0), (50.8, 50.8), (0.0, 50.8))
                ],
            },
        },
    }


PAGE = Page(
    name="cloth",
    path="/b/{book}/cloth",
    question="What do I cut from?",
    render=render,
    doors=(PICTURES,),
    modules=("cloth.js", "flaws.js"),
)
