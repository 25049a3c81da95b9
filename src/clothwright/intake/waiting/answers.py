"""The questions about an outline that waits: what the fields of each form say."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, one_of
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import NONE
from clothwright.intake.candidates import scale_of
from clothwright.intake.drafting import cuts_of
from clothwright.intake.edges import DRAWN
from clothwright.intake.nested import FATES
from clothwright.intake.waiting import edges
from clothwright.intake.waiting.said import Waiting, with_answers
from clothwright.intake.waiting.seen import Outline
from clothwright.units import Unit, is_count, parse_angle_deg, parse_length

FREE = ("notches", "darts", "levels", "fold")

Fields = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answering:
    """One question being answered: the fields of its form, the drawing, the outline it is about.

    unit: of lengths typed without one. sizes: those in the drawing.
    """

    fields: Fields
    unit: Unit
    one: Waiting
    outline: Outline
    sizes: tuple[str, ...]

    def text(self, name: str) -> str:
        """Return a field without spaces round it, "" when it was not sent."""
        return self.fields.get(name, "").strip()

    def length(self, name: str, where: str, least: float = 0.0) -> str:
        """Return a length as typed. least: mm. Raises BadInput when it is none."""
        text = self.text(name)
        parse_length(text, unit=self.unit, where=where, least_mm=least)
        return text

    def one_of(self, name: str, known: tuple[str, ...]) -> str:
        """Return a field that has one of these values. Raises BadInput."""
        value = self.fields.get(name, "")
        if value not in known:
            raise BadInput(
                where=name,
                what=f'"{value[:40]}" is no answer',
                expected=one_of(known),
            )
        return value

    def answered(self, **values: str | tuple[str, ...]) -> Waiting:
        """Return the drawing with these answers about the outline. Raises BadInput."""
        return with_answers(self.one, self.outline.number, **values)


def _take(it: Answering) -> Waiting:
    return it.answered(take=it.one_of("take", ("yes", "no")))


def _name(it: Answering) -> Waiting:
    name = " ".join(it.text("name").split())
    if not name or "." in name or len(name) > 60:
        raise BadInput(
            where="name",
            what="the piece has no name" if not name else f'"{name[:60]}" cannot be a name',
            expected="some letters, without a dot",
        )
    return it.answered(name=name, replace="yes" if it.text("replace") else "")


def _size(it: Answering) -> Waiting:
    """The unit it was drawn in, how tall the first outline really is, or that it is as it is."""
    scale, unit = it.text("scale"), it.unit
    if scale == "true":
        return replace(it.one, true_size="yes")
    if scale == "measured":
        real = it.length("tall", "the measured length", least=1.0)
        if it.outline.candidate is None:
            raise BadInput(what="this drawing has its own size", expected="no answer")
        tall = it.outline.candidate.outline.path.bounds().size.y
        scale = f"{real} is {tall / scale_of(it.one.scale, unit):.6f}"
    elif scale:
        scale_of(scale, unit)
    return edges.with_scale(it.one, scale)


def _begin(it: Answering) -> Waiting:
    """The pattern size to begin with; corners that were pressed are found anew."""
    size = it.one_of("begin", it.sizes)
    return replace(edges.with_scale(it.one, it.one.scale), size=size)


def _allowance(it: Answering) -> Waiting:
    how = it.one_of("how", (DRAWN, "included", NONE))
    allowance = it.length("amount", "allowance") if how == "included" else how
    add = it.length("add", "allowance to add") if how == NONE and it.text("add") else ""
    return edges.with_allowance(it.one, it.outline, allowance, add)


def _corners(it: Answering) -> Waiting:
    text = it.text("corners")
    if text and not is_count(text):
        parse_angle_deg(text, where="corners")
    return it.answered(corners=text, edges=())


def _corner(it: Answering) -> Waiting:
    return edges.with_corner(it.one, it.outline, place_of(it.text("at"), "corner"))


def place_of(text: str, where: str) -> Vec:
    """Read the place that a page sends of a press: "x,y", mm. Raises BadInput."""
    found = re.fullmatch(r"(-?\d{1,6}(?:\.\d{1,6})?),(-?\d{1,6}(?:\.\d{1,6})?)", text)
    if not found:
        raise BadInput(where=where, what="it says no place", expected="a press on the drawing")
    return Vec(float(found[1]), float(found[2]))


def _edges(it: Answering) -> Waiting:
    fields = it.fields
    count = sum(1 for k in fields if re.fullmatch(r"edge\.\d{1,3}", k))
    names = [fields.get(f"edge.{n}", "") for n in range(count)]
    fold = fields.get("fold", "")
    if is_count(fold):
        fold = " ".join(names[int(fold)].split()) if int(fold) < count else NONE
    widths = {
        n: it.length(f"width.{n}", f"allowance of {names[n]}")
        for n in range(count)
        if it.text(f"width.{n}")
    }
    return edges.with_edges(it.one, it.outline, names, fold, widths)


def _grain(it: Answering) -> Waiting:
    value = it.one_of("grain", (DRAWN, "up", "angle"))
    if value == "angle":
        value = it.text("angle")
        parse_angle_deg(value, where="grain")
    return it.answered(grain=value)


def _cut(it: Answering) -> Waiting:
    rows = []
    for n in range(4):
        material = " ".join(it.text(f"material.{n}").split())
        count = it.text(f"count.{n}") or "1"
        if material:
            rows.append(f"{material} {it.text(f'how.{n}')}" + (f" {count}" if count != "1" else ""))
    if not rows:
        raise BadInput(where="cut", what="no material is named", expected="shell, for example")
    cuts_of(", ".join(rows), folded=False)
    return it.answered(cut=", ".join(rows))


def _found(it: Answering) -> Waiting:
    return it.answered(**{it.one_of("which", FREE): it.one_of("value", ("found", NONE))})


def _nested(it: Answering) -> Waiting:
    """Which closed line is the piece's own, and what the others inside are."""
    count = len(it.outline.whole.nested) if it.outline.whole else 0
    chosen = it.one_of("outline", tuple(str(n) for n in range(1, count + 2)))
    fates = [
        f"{n}={fate}"
        for n in range(1, count + 1)
        if (fate := it.text(f"inside.{n}")) in FATES[:2] and str(n + 1) != chosen
    ]
    return edges.with_nested(it.one, it.outline.number, chosen, ", ".join(fates))


def _marks(it: Answering) -> Waiting:
    kept = sorted(int(k[5:]) for k in it.fields if re.fullmatch(r"keep\.\d{1,3}", k))
    return it.answered(marks=",".join(map(str, kept)) if kept else NONE)


def _all(it: Answering) -> Waiting:
    """Everything as it is proposed for this outline."""
    outline = it.outline
    values: dict[str, str | tuple[str, ...]] = {"take": "yes", "name": outline.name}
    for q in outline.asked:
        values[q.id] = tuple(q.default.split(",")) if q.id == "edges" else q.default
    if "edges" in values:
        _, _, parts, _ = edges.settled(outline)
        values["corners"] = edges.corners_text([p.start for p in parts])
    return it.answered(**values)


ANSWERS: Mapping[str, Callable[[Answering], Waiting]] = {
    "take": _take,
    "name": _name,
    "size": _size,
    "begin": _begin,
    "allowance": _allowance,
    "corners": _corners,
    "corner": _corner,
    "edges": _edges,
    "grain": _grain,
    "cut": _cut,
    "found": _found,
    "marks": _marks,
    "nested": _nested,
    "all": _all,
}
"""What can be answered about an outline, by name. Each raises BadInput, some CannotDo."""
