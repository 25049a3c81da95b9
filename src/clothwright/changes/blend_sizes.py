"""One size at the bust, another at the hip: go over from size to size along the edges."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.choose_size import sizes_of, with_sizes
from clothwright.errors import BadInput, CannotDo, not_known
from clothwright.pattern.grading import SizeStation, blended, graded
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class BlendSizes:
    """Parameters of `blend-sizes`."""

    at: str = param(
        "sizes",
        'the size at each level, such as "bust 14, hip 16"; a piece without these levels by its '
        'name: "bust 14, hip 16, belt 15"',
        label="Which size at which line",
    )
    pieces: tuple[str, ...] = param(
        "pieces",
        "left out: every piece that comes in several sizes",
        default=(),
        label="Only these pieces",
    )


def apply(pattern: Pattern, params: BlendSizes) -> Outcome:
    """Give pieces one size at one level and another at another, smoothly between.

    A piece that has only some of the levels follows those. Corners where edges meet stay together;
    whether partner edges still agree is for the walk to say. Raises BadInput for a level, size or
    piece that is not there; CannotDo beyond the range, for a piece with none of the levels, or
    when a piece was altered before.
    """
    sizes = sizes_of(pattern)
    names = params.pieces or sizes.piece_names
    wanted = _wanted(params.at, sizes)
    _known(wanted, sizes, names)
    changed = with_sizes(pattern, sizes, names, lambda each, name: _made(each, name, wanted))
    listed = ", ".join(f"{place} {sizes.words(at)}" for place, at in wanted.items())
    which = ", ".join(names) if len(names) < 3 or params.pieces else f"{len(names)} pieces"
    return Outcome(pattern=changed, said=(f"Sizes blended ({listed}): {which}.",))


def _wanted(text: str, sizes: SizeRange) -> dict[str, float]:
    """Return the place in the range for each level or piece named. Raises BadInput, CannotDo."""
    found: dict[str, float] = {}
    for part in text.split(","):
        words = part.replace("=", " ").split()
        if len(words) < 2:
            raise BadInput(
                what=f'"{part.strip()}" is not a level and a size',
                expected='a list such as "bust 14, hip 16"',
            )
        place = " ".join(words[:-1])
        if place in found:
            raise BadInput(what=f'"{place}" is named twice', expected="one size for each level")
        found[place] = sizes.position(words[-1])
    return found


def _known(wanted: dict[str, float], sizes: SizeRange, names: tuple[str, ...]) -> None:
    levels = {lv.name for name in names for lv in sizes.each(name)[0].levels}
    for place in wanted:
        if place not in levels and place not in sizes.piece_names:
            known = [*sorted(levels), *names]
            raise not_known(f'there is no level or piece "{place}"', place, known)


def _made(each: tuple[Piece, ...], name: str, wanted: dict[str, float]) -> Piece:
    if name in wanted:
        return graded(each, wanted[name])
    levels = [lv.name for lv in each[0].levels]
    stations = [SizeStation(level=lv, at=wanted[lv]) for lv in levels if lv in wanted]
    if not stations:
        raise CannotDo(
            what=f'the size of "{name}" is not known',
            why="it has none of the levels named"
            + (f" (its own are {', '.join(levels)})" if levels else ""),
            nearest=f'name it with its size ("{name} ..."), or choose the pieces that are blended',
        )
    return blended(each, stations)


CHANGE = Change(
    id="blend-sizes",
    title="Blend two sizes",
    topic="sizes",
    why="A figure that is one size at the bust and another at the hip is cut along both, and "
    "the line goes over from one to the other between them.",
    source="common practice",
    params=BlendSizes,
    apply=apply,
)
