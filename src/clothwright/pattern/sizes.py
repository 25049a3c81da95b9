"""The sizes a pattern was bought in: the same pieces drawn for each, and what lies between them.

Pieces of two sizes correspond corner by corner and edge by edge: the same names in the same order.
Between two neighbouring sizes every point moves along a straight line; beyond the smallest and the
largest nothing is known, and nothing is made up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, CannotDo, did_you_mean, not_known
from clothwright.pattern.piece import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRange:
    """Pieces in several sizes. Raises BadInput when they do not correspond.

    names: smallest first; drawn: the size the pattern's own pieces are in; pieces: for each name in
    order the pieces in that size, the same ones in each. A piece that comes in one size only
    (a belt, a pocket) is not among them.
    """

    names: tuple[str, ...]
    drawn: str
    pieces: tuple[tuple[Piece, ...], ...]

    def __post_init__(self) -> None:
        """Refuse sizes whose pieces cannot be told to be the same."""
        _check_names(self.names, self.drawn)
        if len(self.pieces) != len(self.names):
            raise BadInput(
                what=f"{len(self.pieces)} sets of pieces for {len(self.names)} sizes",
                expected="one set of pieces for each size",
            )
        for size, set_ in zip(self.names, self.pieces, strict=True):
            wanted = [p.name for p in self.pieces[0]]
            if [p.name for p in set_] != wanted:
                raise BadInput(
                    where=f'size "{size}"',
                    what="it has pieces " + ", ".join(p.name for p in set_),
                    expected="the same pieces as the other sizes: " + ", ".join(wanted),
                )
            for first, piece in zip(self.pieces[0], set_, strict=True):
                _check_alike(first, piece, self.names[0], size)

    @property
    def piece_names(self) -> tuple[str, ...]:
        """Names of the pieces that come in every size."""
        return tuple(p.name for p in self.pieces[0])

    def each(self, piece: str) -> tuple[Piece, ...]:
        """Return one piece in every size, smallest first. Raises BadInput."""
        for k, found in enumerate(self.pieces[0]):
            if found.name == piece:
                return tuple(set_[k] for set_ in self.pieces)
        what = f'"{piece}" does not come in several sizes'
        raise not_known(what, piece, self.piece_names, "No piece does.")

    def without(self, piece: str) -> SizeRange | None:
        """Return the sizes without a piece; None when no piece is left in them."""
        left = tuple(tuple(p for p in set_ if p.name != piece) for set_ in self.pieces)
        return replace(self, pieces=left) if left[0] else None

    def position(self, size: str) -> float:
        """Return where a size stands in the range: 0 the first, 1 the second, 1.5 half-way on.

        size: a name; a number between two names that are numbers ("15" of 14 and 16: half-way);
        "14/16" for half-way between neighbours. Raises BadInput, CannotDo beyond the range.
        """
        wanted = size.strip()
        for k, name in enumerate(self.names):
            if name.casefold() == wanted.casefold():
                return float(k)
        low, slash, high = (part.strip() for part in wanted.partition("/"))
        if slash and low in self.names and high in self.names:
            a, b = sorted((self.names.index(low), self.names.index(high)))
            if b - a == 1:
                return (a + b) / 2
        return self._between(wanted)

    def _between(self, wanted: str) -> float:
        """Return the place of a number among sizes that are numbers."""
        numbers, number = [_number(n) for n in self.names], _number(wanted)
        known = ", ".join(self.names)
        if number is None or any(n is None for n in numbers):
            raise BadInput(
                what=f'there is no size "{wanted}".{did_you_mean(wanted, list(self.names))}',
                expected=f'one of {known}, or half-way between neighbours such as "'
                + "/".join(self.names[:2])
                + '"',
            )
        steps = [n for n in numbers if n is not None]
        if not steps[0] <= number <= steps[-1]:
            raise CannotDo(
                what=f"size {wanted} cannot be made",
                why=f"the pattern has sizes {known}, and beyond them nothing is known",
                nearest=f"size {self.names[0] if number < steps[0] else self.names[-1]}, "
                "and changes of your own from there",
            )
        k = max(i for i, n in enumerate(steps) if n <= number)
        if k == len(steps) - 1:
            return float(k)
        return k + (number - steps[k]) / (steps[k + 1] - steps[k])

    def words(self, at: float) -> str:
        """Return a place in the range in words: "14", or "half-way from 14 to 16".

        at: a number of sizes from the first, 0 up.
        """
        k = min(math.floor(at), len(self.names) - 1)
        share = at - k
        if share < 1e-9:
            return self.names[k]
        part = "half-way" if abs(share - 0.5) < 1e-9 else f"{share * 100:.0f} % of the way"
        return f"{part} from {self.names[k]} to {self.names[k + 1]}"


def _number(text: str) -> float | None:
    try:
        found = float(text.replace(",", "."))
    except ValueError:
        return None
    return found if math.isfinite(found) else None


def _check_names(names: Sequence[str], drawn: str) -> None:
    if len(names) < 2 or any(not n.strip() or n != n.strip() for n in names):
        raise BadInput(
            what="sizes: " + (", ".join(f'"{n}"' for n in names) or "none"),
            expected="at least two sizes, each with a plain name, smallest first",
        )
    if len({n.casefold() for n in names}) < len(names):
        raise BadInput(what="a size stands twice: " + ", ".join(names), expected="each size once")
    if drawn not in names:
        raise BadInput(
            what=f'the size drawn, "{drawn}", is not among {", ".join(names)}',
            expected="one of them",
        )
    numbers = [n for n in map(_number, names) if n is not None]
    if len(numbers) == len(names) and numbers != sorted(numbers):
        raise BadInput(what="sizes: " + ", ".join(names), expected="the smallest first")


def _check_alike(first: Piece, other: Piece, size: str, other_size: str) -> None:
    """Refuse two sizes of a piece whose edges, darts, levels and marks are not the same ones."""
    for what, of in (
        ("edges", lambda p: [e.name for e in p.edges]),
        ("notches", lambda p: [(e.name, n.kind.value, n.name) for e in p.edges for n in e.notches]),
        ("darts", lambda p: [(d.name, d.edge) for d in p.darts]),
        ("levels", lambda p: [lv.name for lv in p.levels]),
        ("grain lines", lambda p: p.grain is not None),
        (
            "marks",
            lambda p: [(m.name, "(a line)" if m.at is None else "(a point)") for m in p.marks],
        ),
    ):
        if of(first) != of(other):
            raise BadInput(
                where=f'piece "{first.name}"',
                what=f"sizes {size} and {other_size} have different {what}: "
                f"{_listed(of(first))} and {_listed(of(other))}",
                expected="the same in every size, named alike and in the same order",
            )


def _listed(found: object) -> str:
    if not isinstance(found, list):
        return "one" if found else "none"
    words = (" ".join(str(p) for p in x if p) if isinstance(x, tuple) else str(x) for x in found)
    return ", ".join(words) or "none"
