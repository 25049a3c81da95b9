"""What the declared fields of a placing rule name: looked up, and followed where it has gone.

`units.params.param` says of each field what it names; a field "point_a" speaks of the piece in
"piece_a".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, did_you_mean, one_of
from clothwright.pattern.names import Ref, is_there
from clothwright.pattern.past import missing_of
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import TWIN
from clothwright.rules.plan import PlacingRule
from clothwright.units.kinds import Kind
from clothwright.units.params import Wrong, declared

R = TypeVar("R", bound=PlacingRule)

OWN = {"own edge": "edge", "own point": "point"}
"""The kinds of fields that name a part of a piece that another field names, and what that is."""


def kinds_in(rule: PlacingRule) -> dict[str, Kind]:
    """Return what each field of a rule is, by its name: "piece", "own edge", "length", ..."""
    return {name: it.kind for name, it in declared(rule).items()}


def piece_field(name: str) -> str:
    """Return the field with the piece that an edge or a point belongs to.

    >>> piece_field("point_a"), piece_field("edge")
    ('piece_a', 'piece')
    """
    _, dash, end = name.partition("_")
    return f"piece{dash}{end}"


def pieces_of(rule: PlacingRule) -> frozenset[str]:
    """Return the pieces a rule names."""
    found: set[str] = set()
    for name, kind in kinds_in(rule).items():
        if kind in ("piece", "pieces"):
            value = getattr(rule, name)
            found |= {value} if kind == "piece" else set(value)
    return frozenset(found)


def pieces_in(rules: Iterable[PlacingRule]) -> frozenset[str]:
    """Return the pieces that any of some rules names."""
    return frozenset(name for rule in rules for name in pieces_of(rule))


def refs_of(rule: PlacingRule) -> Iterator[tuple[str, Ref]]:
    """Yield each piece, edge and point a rule names, with the field that names it."""
    kinds = kinds_in(rule)
    owners = {piece_field(n): (n, OWN[kind]) for n, kind in kinds.items() if kind in OWN}
    for name, kind in kinds.items():
        value = getattr(rule, name)
        if kind == "pieces":
            yield from ((name, Ref("piece", piece, "")) for piece in value)
        elif kind == "piece" and name in owners:
            own, of = owners[name]
            yield own, Ref(of, value, getattr(rule, own))
        elif kind == "piece":
            yield name, Ref("piece", value, "")


def with_cloth(rule: R, old: Cloth, new: Cloth) -> R:
    """Return a rule that says what a cloth, its borders and its figures are called now.

    A border or a figure is known again by its place among the others, when there are as many.
    """
    names = {
        "cloth": {old.name: new.name},
        "border": _now([b.name for b in old.print.borders], [b.name for b in new.print.borders]),
        "figure": _now([f.name for f in old.print.figures], [f.name for f in new.print.figures]),
    }
    said = {n: names.get(kind, {}).get(getattr(rule, n)) for n, kind in kinds_in(rule).items()}
    other = {n: now for n, now in said.items() if now not in (None, getattr(rule, n))}
    return replace(rule, **other) if other else rule


def _now(old: Sequence[str], new: Sequence[str]) -> dict[str, str]:
    if len(old) != len(new):
        return {}
    return {a: b for a, b in zip(old, new, strict=True) if a not in new}


def without_piece(rule: R, piece: str) -> tuple[R, ...]:
    """Return what is left of a rule when a piece is gone: itself, with a shorter list, or none."""
    if piece not in pieces_of(rule):
        return (rule,)
    kinds = kinds_in(rule)
    lists = [n for n, kind in kinds.items() if kind == "pieces"]
    shorter = {n: tuple(p for p in getattr(rule, n) if p != piece) for n in lists}
    if "piece" in kinds.values() or not all(shorter.values()):
        return ()
    return (replace(rule, **shorter),)


# --- looked up ------------------------------------------------------------------------------------


def wrong_names(rule: PlacingRule, pattern: Pattern, cloths: Sequence[Cloth]) -> Iterator[Wrong]:
    """Yield a mistake for each field that names what is not there, with the nearest known name."""
    fields = declared(rule)
    unknown: set[str] = set()
    for name, kind in kinds_in(rule).items():
        value = getattr(rule, name)
        try:
            if kind == "choice":
                fields[name].refuse(value)
            elif kind in ("piece", "pieces"):
                for each in (value,) if kind == "piece" else value:
                    pattern.piece(each)
            elif kind in OF_PIECE and piece_field(name) not in unknown:
                OF_PIECE[kind](pattern.piece(getattr(rule, piece_field(name))), value)
            elif kind in OF_CLOTH:
                OF_CLOTH[kind](cloths, value)
        except BadInput as error:
            unknown.add(name)
            yield Wrong(name, _unmade(rule, name, pattern) or error)


def _unmade(rule: PlacingRule, field: str, pattern: Pattern) -> BadInput | None:
    """Return which change had to do with what a field names in vain; None where none had."""
    for name, ref in refs_of(rule):
        if field in (name, piece_field(name)):
            whole = ref if name == field else Ref("piece", ref.piece, "")
            lost = missing_of(pattern, whole, pattern.past, (whole,))
            if lost is not None and not is_there(pattern, whole):
                return BadInput(what=f"{lost.words}: {lost.why}", try_=", or ".join(lost.ways))
    return None


def _edge(piece: Piece, name: str) -> None:
    piece.edge(name)


def _point(piece: Piece, name: str) -> None:
    known = list(piece.points())
    if piece.fold is not None:
        known += [n + TWIN for n in known]
    if name not in known:
        raise BadInput(
            what=f'"{piece.name}" has no point "{name}".{did_you_mean(name, known)}',
            expected="a corner, a notch, an inner point, or EDGE start, middle or end",
        )


def _among(known: Sequence[str], name: str, what: str, none: str) -> None:
    """Raise BadInput for a name that is not known. none: what is said when nothing is."""
    if name not in known:
        raise BadInput(what=f"{what}.{did_you_mean(name, known)}", expected=one_of(known) or none)


def _material(piece: Piece, name: str) -> None:
    known = [c.material for c in piece.cuts]
    _among(known, name, f'"{piece.name}" is not cut from {name}', "(it is cut from nothing)")


def _border(cloths: Sequence[Cloth], name: str) -> None:
    known = [b.name for c in cloths for b in c.print.borders]
    _among(known, name, f'no cloth has a border "{name}"', "(no cloth has a border)")


def _figure(cloths: Sequence[Cloth], name: str) -> None:
    known = [f.name for c in cloths for f in c.print.figures]
    _among(known, name, f'no cloth has a figure "{name}"', "(no cloth has a figure)")


def _cloth(cloths: Sequence[Cloth], name: str) -> None:
    known = [c.name for c in cloths]
    _among(known, name, f'there is no cloth "{name}"', "(there is no cloth yet)")


OF_PIECE: Mapping[Kind, Callable[[Piece, Any], None]] = {
    "own edge": _edge,
    "own point": _point,
    "material": _material,
}
OF_CLOTH: Mapping[Kind, Callable[[Sequence[Cloth], Any], None]] = {
    "border": _border,
    "figure": _figure,
    "cloth": _cloth,
}
