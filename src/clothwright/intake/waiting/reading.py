"""How a waiting file is read, answered: how its pages lie, what its layers mean, what are sizes."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.intake.answers import NONE, PIECES, SIZES, Answers
from clothwright.intake.dxf_layers import NAMES, NUMBERED
from clothwright.intake.pdf.said_tiles import said_tiles
from clothwright.intake.waiting.answers import Fields
from clothwright.intake.waiting.said import Waiting
from clothwright.intake.waiting.seen import Outline, SeenDrawing
from clothwright.units import Unit, parse_length

SAME_MM = 3.0
"""mm: an outline whose box moves by less when a file is read anew is the same one."""
WAYS = ("found", "grid", "rows", NONE)


def read_anew(before: SeenDrawing, after: SeenDrawing) -> Waiting:
    """Return a drawing that was read in another way. Raises BadInput when it cannot be read so.

    What was answered about the outlines is kept when they are still the same ones.
    """
    if after.drawing is None:
        raise BadInput(what=after.trouble.rstrip(".") or "it cannot be read that way")
    same = len(before.outlines) == len(after.outlines) and all(
        _same(a, b) for a, b in zip(before.outlines, after.outlines, strict=True)
    )
    one = after.waiting
    size = one.size if one.size in after.sizes else ""
    return replace(one, said=one.said if same else {}, size=size)


def _same(a: Outline, b: Outline) -> bool:
    """Tell whether two outlines lie at one place: corners that were pressed hold for both."""
    if a.candidate is None or b.candidate is None:
        return False
    one, other = a.candidate.outline.path.bounds(), b.candidate.outline.path.bounds()
    return one.is_near(other, SAME_MM)


def _pages(fields: Fields, how: Answers, unit: Unit) -> Answers:
    way = fields.get("way", "")
    if way not in WAYS:
        raise BadInput(where="pages", what="no way was chosen", expected="one of those shown")
    if way in ("found", NONE):
        return replace(how, tiles="" if way == "found" else NONE, shift="", moved="")
    if way == "grid":
        across, down = fields.get("across", "").strip(), fields.get("down", "").strip()
        tiles = f"{across}x{down}" + (" by columns" if fields.get("order") == "columns" else "")
    else:
        tiles = " / ".join(r.strip() for r in fields.get("rows", "").splitlines() if r.strip())
        tiles = f"{tiles} /" if tiles and not re.search(r"[\s/]", tiles) else tiles
    given = [fields.get(k, "").strip() for k in ("shift-across", "shift-down")]
    if any(given) and not all(given):
        raise BadInput(
            where="from a page to the next",
            what="only one length is typed",
            expected="both, across and down, or neither",
        )
    shift = ", ".join(_typed(text, unit, least=1.0) for text in given) if all(given) else ""
    said_tiles(tiles, shift)
    return replace(how, tiles=tiles, shift=shift)


def _move(fields: Fields, how: Answers, unit: Unit) -> Answers:
    page = _page(fields)
    right, up = (_typed(fields.get(k, "") or "0", unit) for k in ("right", "up"))
    kept = [p for p in _moves(how) if p[0] != page]
    return replace(how, moved="; ".join(f"{n}: {m}" for n, m in (*kept, (page, f"{right}, {up}"))))


def _back(fields: Fields, how: Answers, unit: Unit) -> Answers:
    del unit
    page = _page(fields)
    return replace(how, moved="; ".join(f"{n}: {m}" for n, m in _moves(how) if n != page))


def _layers(fields: Fields, how: Answers, unit: Unit) -> Answers:
    del unit
    return replace(how, layers=_chosen(fields, "layers", (NUMBERED, NAMES)))


def _alike(fields: Fields, how: Answers, unit: Unit) -> Answers:
    del unit
    return replace(how, alike=_chosen(fields, "alike", (SIZES, PIECES)))


def _chosen(fields: Fields, name: str, choices: tuple[str, str]) -> str:
    value = fields.get(name, "")
    if value not in choices:
        raise BadInput(where=name, what="no answer was chosen", expected="one of those shown")
    return value


def _page(fields: Fields) -> str:
    page = fields.get("page", "")
    if not re.fullmatch(r"[0-9]{1,4}", page):
        raise BadInput(where="page", what=f'"{page[:20]}" is no page', expected="its number")
    return page


def _moves(how: Answers) -> list[tuple[str, str]]:
    parts = (p.partition(":") for p in how.moved.split(";") if p.strip())
    return [(n.strip(), m.strip()) for n, _, m in parts]


def _typed(text: str, unit: Unit, least: float | None = None) -> str:
    """Return a length as it was typed, its unit behind it. Raises BadInput."""
    parse_length(text, unit=unit, where="length", least_mm=least)
    plain = text.strip()
    return plain if re.search(r"[^\W\d_]|[\"'″′]", plain) else f"{plain} {unit.value}"


READING: Mapping[str, Callable[[Fields, Answers, Unit], Answers]] = {
    "pages": _pages,
    "move": _move,
    "back": _back,
    "layers": _layers,
    "alike": _alike,
}
"""What can be answered about how a file is read, by fields of a form. Each raises BadInput."""
